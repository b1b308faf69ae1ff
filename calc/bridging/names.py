"""What speakers and channel layouts are called in a sentence."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from calc.answers.figures import listed
from calc.bridging.mapping import Output, Section

# One of them, and several, by the word that links and files have for them.
_NAMES: Mapping[str, tuple[str, str]] = {
    "tweeter": ("tweeter", "tweeters"),
    "midrange": ("midrange speaker", "midrange speakers"),
    "mid-bass": ("mid-bass speaker", "mid-bass speakers"),
    "full-range": ("coaxial", "coaxials"),
    "woofer": ("sub", "subs"),
}
# The same as a choice in a form.
KINDS = tuple((word, several) for word, (_, several) in _NAMES.items())


def speakers_of(section: Section) -> str:
    """Return what the speakers of a group are called.

    >>> speakers_of(
    ...     Section(name="woofer", load_ohm=4, rated_w=240, sensitivity_db=88, speakers=1))
    'sub'
    """
    one, several = _NAMES.get(section.name, (section.name, section.name))
    return one if section.speakers == 1 else several


def layout_words(grouping: Sequence[Output]) -> str:
    """Say which channels are separate and which are bridged.

    >>> layout_words([(1,), (2,), (3, 4)]), layout_words([(1, 2), (3, 4)]), layout_words([(1,)])
    ('1 and 2 separate, 3 and 4 bridged', '1 and 2 bridged, 3 and 4 bridged', 'channel 1')
    """
    if len(grouping) == 1 and len(grouping[0]) == 1:
        return f"channel {grouping[0][0]}"
    clauses = []
    for is_pair, outputs in groupby(grouping, key=lambda output: len(output) == 2):
        if is_pair:
            clauses += [f"{first} and {second} bridged" for first, second in outputs]
        else:
            clauses.append(f"{listed([str(channel) for (channel,) in outputs])} separate")
    return ", ".join(clauses)


def outputs_words(outputs: Sequence[Output]) -> str:
    """Say which channels some outputs are.

    >>> outputs_words([(1,), (2,)]), outputs_words([(3, 4)]), outputs_words([(1, 2), (3, 4)])
    ('1 and 2', '3 and 4 bridged', '1 with 2 and 3 with 4 bridged')
    """
    if len(outputs[0]) == 1:
        return listed([str(channel) for output in outputs for channel in output])
    return f"{pairs_words(outputs)} bridged"


def pairs_words(outputs: Sequence[Output]) -> str:
    """Name bridged pairs.

    >>> pairs_words([(3, 4)]), pairs_words([(1, 2), (3, 4)])
    ('3 and 4', '1 with 2 and 3 with 4')
    """
    between = "and" if len(outputs) == 1 else "with"
    return listed([f"{first} {between} {second}" for first, second in outputs])

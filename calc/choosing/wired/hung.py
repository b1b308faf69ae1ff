"""What hangs on the outputs of a plan's amplifiers: outputs and loads for the drawing."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from calc.answers.figures import quantity
from calc.choosing.layouts.channels import Channel
from calc.choosing.layouts.feed import Feed
from calc.choosing.places import Place
from calc.choosing.plan import Plan
from calc.choosing.wired.figures import Figures
from calc.choosing.wired.system import Load, Output, Part
from calc.physics.coils import LETTERS
from calc.system.speakers import Speaker

_OF_A_SET = (Part("tweeter"), Part("mid-bass"))
_KINDS = {"full-range": "coaxial", "woofer": "subwoofer"}


def output_of(one: Place, plan: Plan, key: str, figures: Figures) -> Output:
    """Return an output with its loads; `key` makes the names of its loads."""
    channel = one.channel
    farad = channel.capacitor_farad
    loads = tuple(_loads(one, plan, key, figures))

    def pins(ends: Sequence[str]) -> tuple[str, ...]:
        return tuple(pin for end in ends for pin in _pins(loads, end))

    return Output(
        terminals=terminals_of(channel.output.split("+")),
        plus=channel.plus,
        minus=channel.minus,
        loads=loads,
        plus_to=pins(channel.plus_to),
        minus_to=pins(channel.minus_to),
        links=tuple(pins(link) for link in channel.links),
        cable=figures.speaker(one.ends[0]),
        capacitor="" if farad is None else quantity(farad * 1e6, "µF", 3),
    )


def terminals_of(numbers: Sequence[str]) -> tuple[str, ...]:
    """Return the terminals of channels, from the top.

    >>> terminals_of(["3", "4"])
    ('3+', '3-', '4+', '4-')
    """
    return tuple(f"{number}{sign}" for number in numbers for sign in "+-")


def _loads(one: Place, plan: Plan, key: str, figures: Figures) -> Iterator[Load]:
    """Yield the loads of an output, in the order of the channel table."""
    channel, feed = one.channel, one.feed
    members = feed.members if feed.branches else (feed,) * len(channel.loads)
    count = len(channel.loads)
    for at, (load, member) in enumerate(zip(channel.loads, members, strict=True), start=1):
        parts = _parts(plan, member, one)
        name = one.name
        note = _note(member.speaker, bool(parts))
        if feed.branches:
            name = one.ends[at - 1]
            note += f", {figures.speaker(name)}" if at > 1 else ""
        elif count > 1:
            name = f"{name} {at}"
        made = Load(
            key=f"{key}-{at}",
            kind="set" if parts else "speaker",
            name=name,
            note=note,
            parts=parts,
            is_reversed=channel.polarity == "reversed",
        )
        if load.coils > 1 and not parts:
            coils = tuple(f"{at}{letter}" for letter in LETTERS[: load.coils])
            words = _coil_words(channel, load.coils, count)
            made = replace(made, kind="coils", coils=coils, words=words)
        elif count > 1 and not feed.branches:
            how = "parallel" if "|" in (channel.wiring or "") else "in series"
            made = replace(made, note=f"{made.note}, {how}")
        yield made


def _parts(plan: Plan, feed: Feed, one: Place) -> tuple[Part, ...]:
    """Return the speakers behind a passive crossover, the highest band first; none without."""
    if feed.speaker.has_network:
        return _OF_A_SET
    rows = [plan.job.speakers[row] for row in reversed(feed.rows)]
    names = {speaker.name for speaker in rows}
    networks = plan.job.system.networks
    if not any({network.above, network.below} & names for network in networks):
        return ()
    return tuple(Part(speaker.section, _is_turned(plan, one, speaker)) for speaker in rows)


def _is_turned(plan: Plan, one: Place, speaker: Speaker) -> bool:
    """Tell whether a speaker is joined to its crossover the other way round."""
    split = plan.split.result if plan.split is not None else None
    for section in split.sections if split is not None else ():
        if section.name == speaker.name and one.channel.through[0] in section.section.channels:
            is_reversed = one.channel.polarity == "reversed"
            return section.polarity.is_reversed != is_reversed
    return False


def _note(speaker: Speaker, is_set: bool) -> str:
    ohm = quantity(speaker.coil_ohm, "Ω")
    if speaker.coils > 1:
        return f"{speaker.coils} × {ohm}"
    if is_set:
        is_said = "component" in speaker.name or not speaker.has_network
        return ohm if is_said else f"component set, {ohm}"
    word = _KINDS.get(speaker.section, speaker.section)
    return ohm if word.split("-")[0] in speaker.name else f"{word}, {ohm}"


def _coil_words(channel: Channel, coils: int, count: int) -> tuple[str, ...]:
    """Say how the coils of one speaker are joined, where this is plain to say."""
    words = f"{coils} coils"
    wiring = channel.wiring
    if wiring is None:
        return words, "ask: wiring"
    if count > 1 or ("|" in wiring and "+" in wiring):
        return (words,)
    return words, "parallel" if "|" in wiring else "in series"


def _pins(loads: Sequence[Load], terminal: str) -> Iterator[str]:
    """Yield the pins of a terminal: `2a+` of the second speaker's first coil, `+` of each one."""
    for load in loads if len(terminal) == 1 else (loads[int(terminal[0]) - 1],):
        yield f"{load.key}.{terminal if load.coils else terminal[-1]}"

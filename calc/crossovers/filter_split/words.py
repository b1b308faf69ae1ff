"""What `filter-split` says in words: the sentence, and why something cannot be had."""

from calc.answers.figures import capital, listed, quantity
from calc.crossovers.filter_split.solve import Result
from calc.crossovers.filter_words import slope_words
from calc.crossovers.splitting.model import Box, Control, Edge, SectionKind
from calc.crossovers.splitting.problem import MadeEdge

BOX_WORDS: dict[Box, str] = {
    "head-unit": "head unit",
    "amplifier": "amplifier",
    "passive": "passive crossover",
}
# Without their high-pass these are gone within seconds.
_PLURALS: dict[SectionKind, str] = {
    "tweeter": "tweeters",
    "midrange": "midranges",
    "mid-bass": "mid-bass speakers",
    "full-range": "coaxials",
    "woofer": "subs",
}
FRAGILE: tuple[SectionKind, ...] = ("tweeter", "midrange")


def channel_words(channels: frozenset[int]) -> str:
    """Return channels as a row writes them.

    >>> channel_words(frozenset((2, 1)))
    '1/2'
    """
    return "/".join(map(str, sorted(channels)))


def channels_said(channels: frozenset[int]) -> str:
    """Return channels as they are said.

    >>> channels_said(frozenset((2, 1)))
    '1 and 2'
    """
    return listed(list(map(str, sorted(channels))))


def edge_words(edge: Edge) -> str:
    """Say what filter a speaker needs."""
    kind = "a high-pass" if edge.kind == "high-pass" else "a low-pass"
    return f"{kind} at {range_words(edge)}, at least {slope_words(edge.least_order)}"


def range_words(edge: Edge) -> str:
    """Return the range that a filter's frequency has to lie in."""
    low, high = edge.window_hz
    return f"{quantity(low)} to {quantity(high, 'Hz')}"


def sentence(result: Result) -> str:
    """Return the sentence that opens the answer."""
    bad, spoilt = result.bad, result.spoilt
    for made in bad:
        if made.state == "unprotected":
            return _unprotected(result, made)
    if bad:
        name = result.shown[bad[0].edge.section]
        return (
            f"These filters are not enough: the {name} needs {edge_words(bad[0].edge)}"
            f"{_has(bad[0])}{_because(result, bad[0])}."
        )
    if spoilt:
        return f"These filters don’t suit the speakers: {spoilt_words(result, spoilt[0])}."
    if result.gaps:
        low, high = result.gaps[0]
        return (
            f"These speakers do not meet: the {result.shown[low]} stops below where the "
            f"{result.shown[high]} can start. Change one of them."
        )
    return " ".join(_by_box(result))


def _unprotected(result: Result, made: MadeEdge) -> str:
    name = result.shown[made.edge.section]
    needs = f"It needs {edge_words(made.edge)}{_because(result, made)}."
    there = "nothing"
    if made.corner_hz is not None:
        at = quantity(made.corner_hz, "Hz", 3)
        there = f"a filter at {at}, {slope_words(made.order)}, does not"
    if result.system.sections[made.edge.section].kind in FRAGILE:
        verb = "protects" if there == "nothing" else "protect"
        return f"Don’t connect it yet: {there} {verb} the {name}. {needs}"
    if there == "nothing":
        return f"Nothing keeps the deep bass from the {name}: loud music can damage it. {needs}"
    there = capital(there)
    return f"{there} keep the deep bass from the {name}: loud music can damage it. {needs}"


def _has(made: MadeEdge) -> str:
    if made.corner_hz is None:
        return ""
    return f"; the nearest is {quantity(made.corner_hz, 'Hz')} at {slope_words(made.order)}"


def _because(result: Result, made: MadeEdge) -> str:
    reason = conflict(result, made)
    return f". {capital(reason)}" if reason else ""


def conflict(result: Result, made: MadeEdge) -> str:
    """Say why a filter that could do it does not; empty where there is none."""
    section = result.system.sections[made.edge.section]
    for control in result.system.controls:
        acts = control.kind == made.edge.kind and section.channels <= control.channels
        if acts and _could(control, made):
            unit = BOX_WORDS[control.box]
            if control.switch:
                return f"the {unit} has one, but its switch does not allow both filters at once"
            return (
                f"the {unit} has one, but channels {channels_said(control.channels)} share one "
                "setting, which is needed for something else"
            )
    return ""


def _could(control: Control, made: MadeEdge) -> bool:
    low, high = made.edge.window_hz
    is_steep = max(control.orders) >= made.edge.least_order
    return is_steep and any(low <= corner <= high for corner in control.corners_hz())


def spoilt_words(result: Result, made: MadeEdge) -> str:
    """Say which filter takes away what a speaker has to play, and why it is there."""
    name = result.shown[made.edge.section]
    section = result.system.sections[made.edge.section]
    loss = "too much bass" if made.edge.kind == "high-pass" else "too much treble"
    for control, setting in zip(result.system.controls, result.split.settings, strict=True):
        acts = control.kind == made.edge.kind and section.channels <= control.channels
        if setting is not None and acts:
            unit = BOX_WORDS[control.box]
            if not control.can_be_off:
                return (
                    f"the {unit}’s {control.kind} cannot be switched off and takes {loss} from the "
                    f"{name}"
                )
            return (
                f"channels {channels_said(control.channels)} share one {control.kind} setting in "
                "the "
                f"{unit}, and it takes {loss} from the {name}"
            )
    return f"the passive crossover takes {loss} from the {name}"


def _by_box(result: Result) -> list[str]:
    """Say what to set, what to switch off, and what the passive crossover does."""
    set_, off = [], []
    boxes: tuple[Box, ...] = ("amplifier", "head-unit")
    for box in boxes:
        settings = result.settings_of(box)
        on = [
            f"{control.kind} at {quantity(setting[0], 'Hz')} on {channels_said(control.channels)}"
            for control, setting in settings
            if setting is not None
        ]
        if on:
            set_.append(f"the {BOX_WORDS[box]} to {listed(on)}")
        elif settings:
            off.append(f"turn the {BOX_WORDS[box]}’s filters off")
    words = [f"Set {', and '.join(set_)}."] if set_ else []
    if result.system.networks:
        off.append(f"the passive crossover looks after the {_passive_words(result)}")
    if off:
        rest = "; ".join(off)
        words.append(f"{capital(rest)}.")
    return words or ["No filter is needed."]


def _passive_words(result: Result) -> str:
    """Return the speakers that a passive crossover protects, or else those that it filters."""
    sections = result.system.sections
    fed = [
        (made.edge.section, made.edge.kind)
        for made in result.split.edges
        if any(box == "passive" for box, _ in made.filters)
    ]
    high = [at for at, kind in fed if kind == "high-pass"] or [at for at, _ in fed]
    return listed(list(dict.fromkeys(_PLURALS[sections[at].kind] for at in high)))


def polarity_words(result: Result, at: int) -> str:
    """Say which way round a speaker is connected, and what is to be tried."""
    polarity = result.polarities[at]
    section = result.system.sections[at]
    words = "reversed: + to −" if polarity.is_reversed else "normal: + to +"
    if polarity.is_reversed and len(section.channels) > 1 and not section.is_bridged:
        words += ", left and right alike"
    if polarity.is_marked:
        return f"{words}, as marked on the crossover"
    if polarity.at_hz is None:
        return f"{words}; try both ways" if polarity.try_both else words
    at_hz = quantity(polarity.at_hz, "Hz", 3)
    worth = _worth(polarity.worth_db, polarity.cancels, at_hz)
    if polarity.try_both:
        return f"{words}; try both ways and keep whichever is louder at {at_hz}{worth}"
    return words + worth


def _worth(worth_db: float | None, cancels: str, at_hz: str) -> str:
    """Say what a polarity is worth on paper."""
    if cancels == "as drawn":
        return f". On paper they cancel at {at_hz} this way round: reversed is probably louder"
    if cancels == "other":
        return f". On paper they cancel at {at_hz} the other way round"
    if worth_db is None or round(worth_db, 1) == 0:
        return ""
    way = "louder" if worth_db > 0 else "quieter"
    return f". On paper {quantity(abs(worth_db), 'dB', 2)} {way} there than the other way round"


def subsonic_words(result: Result) -> list[tuple[int, str]]:
    """Say of each ported sub what its subsonic filter does, or would do."""
    notes = []
    for made in result.split.edges:
        tuning = made.edge.subsonic_hz
        if tuning is None:
            continue
        below = f"below its tuning of {quantity(tuning, 'Hz')} the port no longer controls the cone"
        if made.state == "made":
            words = (
                f"its subsonic filter at {quantity(made.corner_hz, 'Hz')} protects it: {below}. "
                "Keep "
                "bass boost off."
            )
        else:
            words = (
                "no high-pass here goes down to its tuning, so leave its high-pass off: a higher "
                "one "
                f"would take the bass away. But {below}; a subsonic filter would protect it. "
                "Keep bass "
                "boost off, and turn down for very deep bass."
            )
        notes.append((made.edge.section, words))
    return notes

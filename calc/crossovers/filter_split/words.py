"""What `filter-split` says in words: the sentence, and why something cannot be had."""

from calc.answers.figures import listed, quantity
from calc.crossovers.filter_split.solve import Result
from calc.crossovers.filter_words import slope_words
from calc.crossovers.splitting.model import Box, Control, Edge, SectionKind
from calc.crossovers.splitting.problem import MadeEdge

BOX_WORDS: dict[Box, str] = {
    "head-unit": "head unit",
    "amplifier": "amplifier",
    "passive": "passive network",
}
# Without their high-pass these are gone within seconds.
FRAGILE: tuple[SectionKind, ...] = ("tweeter", "midrange")


def channel_words(channels: frozenset[int]) -> str:
    """Return channels as a row writes them.

    >>> channel_words(frozenset((2, 1)))
    '1/2'
    """
    return "/".join(map(str, sorted(channels)))


def edge_words(edge: Edge, short: bool = False) -> str:
    """Say what an edge needs."""
    low, high = edge.window_hz
    between = f"between {quantity(low, 'Hz')} and {quantity(high, 'Hz')}"
    if short:
        return between
    kind = "a high-pass" if edge.kind == "high-pass" else "a low-pass"
    return f"{kind} {between} of at least {slope_words(edge.least_order)}"


def sentence(result: Result) -> str:
    """Return the sentence that opens the answer."""
    bad, spoilt = result.bad, result.spoilt
    for made in bad:
        if made.state == "unprotected":
            return f"Not with these units: {_unprotected(result, made)}"
    if bad:
        name = result.names[bad[0].edge.section]
        return (
            f"Not with these units: the {name} needs {edge_words(bad[0].edge)}{_has(bad[0])}"
            f"{_because(result, bad[0])}."
        )
    if spoilt:
        return f"Not with these units: {spoilt_words(result, spoilt[0])}."
    if result.gaps:
        low, high = result.gaps[0]
        return (
            f"These speakers do not meet: the {result.names[low]} ends below where the "
            f"{result.names[high]} may begin."
        )
    return "It works: " + "; ".join(_by_box(result)) + "."


def _unprotected(result: Result, made: MadeEdge) -> str:
    name = result.names[made.edge.section]
    needs = f"It needs {edge_words(made.edge)}{_because(result, made)}."
    there = "nothing"
    if made.corner_hz is not None:
        corner = quantity(made.corner_hz, "Hz", 3)
        there = f"what there is ({corner}, {slope_words(made.order)}) does not"
    if result.system.sections[made.edge.section].kind in FRAGILE:
        verb = "protects" if there == "nothing" else "protect"
        return f"{there} {verb} the {name}. {needs} Do not connect it."
    verb = "keeps" if there == "nothing" else "keep"
    return (
        f"{there} {verb} the bass from the {name}, which may be damaged when it plays loud. {needs}"
    )


def _has(made: MadeEdge) -> str:
    if made.corner_hz is None:
        return ""
    return f"; the nearest is {quantity(made.corner_hz, 'Hz')}, {slope_words(made.order)}"


def _because(result: Result, made: MadeEdge) -> str:
    reason = conflict(result, made)
    return f": {reason}" if reason else ""


def conflict(result: Result, made: MadeEdge) -> str:
    """Say why a filter that could make an edge does not; empty where there is none."""
    section = result.system.sections[made.edge.section]
    for control in result.system.controls:
        acts = control.kind == made.edge.kind and section.channels <= control.channels
        if acts and _could(control, made):
            unit = BOX_WORDS[control.box]
            if control.switch:
                return f"the {unit} has one, but not together with its other filter on one switch"
            return (
                f"the {unit} has one, but its one setting for {channel_words(control.channels)} "
                "is needed for something else"
            )
    return ""


def _could(control: Control, made: MadeEdge) -> bool:
    low, high = made.edge.window_hz
    is_steep = max(control.orders) >= made.edge.least_order
    return is_steep and any(low <= corner <= high for corner in control.corners_hz())


def spoilt_words(result: Result, made: MadeEdge) -> str:
    """Say which filter cuts into the band of a section, and why it is there."""
    name = result.names[made.edge.section]
    section = result.system.sections[made.edge.section]
    for control, setting in zip(result.system.controls, result.split.settings, strict=True):
        acts = control.kind == made.edge.kind and section.channels <= control.channels
        if setting is not None and acts:
            unit = BOX_WORDS[control.box]
            if not control.can_be_off:
                return f"the {unit}’s {control.kind} cannot be off and cuts into the {name}’s band"
            return (
                f"the {unit}’s {control.kind} has one setting for "
                f"{channel_words(control.channels)}; another section needs it, and it cuts into "
                f"the band of the {name}"
            )
    return f"the passive network cuts into the band of the {name}"


def _by_box(result: Result) -> list[str]:
    """Say what each box does."""
    words = []
    boxes: tuple[Box, ...] = ("amplifier", "head-unit")
    for box in boxes:
        settings = result.settings_of(box)
        on = [
            f"{control.kind} {quantity(setting[0], 'Hz')} on {channel_words(control.channels)}"
            for control, setting in settings
            if setting is not None
        ]
        if on:
            words.append(f"the {BOX_WORDS[box]} makes {listed(on)}")
        elif settings:
            words.append(f"leave the {BOX_WORDS[box]}’s filters off")
    if result.system.networks:
        words.append("the passive network does the rest")
    return words or ["no filter is needed"]


def polarity_words(result: Result, at: int) -> str:
    """Say how a section is joined, and what is to be tried."""
    polarity = result.polarities[at]
    section = result.system.sections[at]
    words = "reversed: + to −" if polarity.is_reversed else "normal: + to +"
    if polarity.is_reversed and len(section.channels) > 1 and not section.is_bridged:
        words += ", left and right alike"
    if polarity.is_marked:
        return f"{words}, by the crossover’s marks"
    if polarity.at_hz is None:
        return f"{words}; try both ways" if polarity.try_both else words
    at_hz = quantity(polarity.at_hz, "Hz", 3)
    worth = _worth(polarity.worth_db, polarity.cancels, at_hz)
    if polarity.try_both:
        return f"{words}; try both ways and keep the louder at {at_hz}{worth}"
    return words + worth


def _worth(worth_db: float | None, cancels: str, at_hz: str) -> str:
    """Say what a polarity is worth on paper."""
    if cancels == "as drawn":
        return f". On paper the two cancel at {at_hz} as drawn: reversed will most likely be louder"
    if cancels == "other":
        return f". On paper the two would cancel at {at_hz} the other way round"
    if worth_db is None or round(worth_db, 1) == 0:
        return ""
    way = "louder" if worth_db > 0 else "quieter"
    return f". On paper {quantity(abs(worth_db), 'dB', 2)} {way} there than the other way round"


def subsonic_words(result: Result) -> list[tuple[int, str]]:
    """Say of each subwoofer whose box is ported what its subsonic filter does, or would."""
    notes = []
    for made in result.split.edges:
        tuning = made.edge.subsonic_hz
        if tuning is None:
            continue
        below = f"below its tuning of {quantity(tuning, 'Hz')} the port no longer controls the cone"
        if made.state == "made":
            words = (
                f"the subsonic filter at {quantity(made.corner_hz, 'Hz')} holds it: {below}. Keep "
                "bass boost off."
            )
        else:
            words = (
                "no high-pass here can be set at or under its tuning, so it is left off, which "
                f"keeps the bass that the box is for; but {below}, and a subsonic filter would "
                "hold it. Keep bass boost off and the volume sensible with deep bass."
            )
        notes.append((made.edge.section, words))
    return notes

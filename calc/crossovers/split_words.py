"""What `filter-split` says in words: the sentence, and why something cannot be had."""

from calc.answers.figures import listed, quantity
from calc.crossovers.fields import slope_words
from calc.crossovers.split import Control
from calc.crossovers.split_plan import BOX_WORDS, Plan, channel_words, edge_words
from calc.crossovers.split_problem import MadeEdge

# Without their high-pass these are gone within seconds.
FRAGILE = ("tweeter", "midrange")


def sentence(
    plan: Plan,
    bad: list[MadeEdge],
    spoilt: list[MadeEdge],
    apart: tuple[tuple[int, int], ...],
) -> str:
    """Return the sentence that opens the answer.

    bad, spoilt : edges that are unprotected or missing; that a filter cuts off
    apart : pairs of sections that do not meet
    """
    for one in bad:
        if one.state == "unprotected":
            return f"Not with these units: {_unprotected(plan, one)}"
    if bad:
        name = plan.names[bad[0].edge.section]
        return (
            f"Not with these units: the {name} needs {edge_words(bad[0].edge)}{_has(bad[0])}"
            f"{_because(plan, bad[0])}."
        )
    if spoilt:
        return f"Not with these units: {spoilt_words(plan, spoilt[0])}."
    if apart:
        low, high = apart[0]
        return (
            f"These speakers do not meet: the {plan.names[low]} ends below where the "
            f"{plan.names[high]} may begin."
        )
    return "It works: " + "; ".join(_by_box(plan)) + "."


def _unprotected(plan: Plan, one: MadeEdge) -> str:
    name = plan.names[one.edge.section]
    needs = f"It needs {edge_words(one.edge)}{_because(plan, one)}."
    there = "nothing"
    if one.corner_hz is not None:
        there = (
            f"what there is ({quantity(one.corner_hz, 'Hz', 3)}, {slope_words(one.order)}) does not"
        )
    if plan.system.sections[one.edge.section].kind in FRAGILE:
        verb = "protects" if there == "nothing" else "protect"
        return f"{there} {verb} the {name}. {needs} Do not connect it."
    verb = "keeps" if there == "nothing" else "keep"
    return (
        f"{there} {verb} the bass from the {name}, which may be damaged when it plays loud. {needs}"
    )


def _has(one: MadeEdge) -> str:
    if one.corner_hz is None:
        return ""
    return f"; the nearest is {quantity(one.corner_hz, 'Hz')}, {slope_words(one.order)}"


def _because(plan: Plan, one: MadeEdge) -> str:
    why = conflict(plan, one)
    return f": {why}" if why else ""


def conflict(plan: Plan, one: MadeEdge) -> str:
    """Say why a filter that could make an edge does not; empty where there is none."""
    section = plan.system.sections[one.edge.section]
    for control in plan.system.controls:
        acts = control.kind == one.edge.kind and section.channels <= control.channels
        if acts and _could(control, one):
            unit = BOX_WORDS[control.box]
            if control.switch:
                return f"the {unit} has one, but not together with its other filter on one switch"
            return (
                f"the {unit} has one, but its one setting for {channel_words(control.channels)} "
                "is needed for something else"
            )
    return ""


def _could(control: Control, one: MadeEdge) -> bool:
    low, high = one.edge.window_hz
    is_steep = max(control.orders) >= one.edge.least_order
    return is_steep and any(end >= low and start <= high for start, end in control.ranges_hz())


def spoilt_words(plan: Plan, one: MadeEdge) -> str:
    """Say which filter cuts into the band of a section, and why it is there."""
    name = plan.names[one.edge.section]
    section = plan.system.sections[one.edge.section]
    for control, setting in zip(plan.system.controls, plan.split.settings, strict=True):
        acts = control.kind == one.edge.kind and section.channels <= control.channels
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


def _by_box(plan: Plan) -> list[str]:
    """Say what each box does."""
    told = []
    for box in ("amplifier", "head-unit"):
        own = plan.settings_of(box)
        on = [
            f"{control.kind} {quantity(setting[0], 'Hz')} on {channel_words(control.channels)}"
            for control, setting in own
            if setting is not None
        ]
        if on:
            in_words = listed(on)
            told.append(f"the {BOX_WORDS[box]} makes {in_words}")
        elif own:
            told.append(f"leave the {BOX_WORDS[box]}’s filters off")
    if plan.system.networks:
        told.append("the passive network does the rest")
    return told or ["no filter is needed"]


def polarity_words(plan: Plan, at: int) -> str:
    """Say how a section is joined, and what is to be tried."""
    one = plan.polarities[at]
    section = plan.system.sections[at]
    told = "reversed: + to −" if one.is_reversed else "normal: + to +"
    if one.is_reversed and len(section.channels) > 1 and not section.is_bridged:
        told += ", left and right alike"
    if one.is_marked:
        return f"{told}, by the crossover’s marks"
    if one.at_hz is None:
        return f"{told}; try both ways" if one.try_both else told
    at_hz = quantity(one.at_hz, "Hz", 3)
    worth = _worth(one.worth_db, one.cancels, at_hz)
    if one.try_both:
        return f"{told}; try both ways and keep the louder at {at_hz}{worth}"
    return told + worth


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


def subsonic_words(plan: Plan) -> list[tuple[int, str]]:
    """Say of each subwoofer whose box is ported what its subsonic filter does, or would."""
    told = []
    for one in plan.split.edges:
        tuning = one.edge.subsonic_hz
        if tuning is None:
            continue
        below = f"below its tuning of {quantity(tuning, 'Hz')} the port no longer controls the cone"
        if one.state == "made":
            words = (
                f"the subsonic filter at {quantity(one.corner_hz, 'Hz')} holds it: {below}. Keep "
                "bass boost off."
            )
        else:
            words = (
                "no high-pass here can be set at or under its tuning, so it is left off, which "
                f"keeps the bass that the box is for; but {below}, and a subsonic filter would "
                "hold it. Keep bass boost off and the volume sensible with deep bass."
            )
        told.append((one.edge.section, words))
    return told

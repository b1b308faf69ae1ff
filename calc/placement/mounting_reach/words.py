"""What the answer of `mounting-reach` says in words: sentence, verdict, what to change."""

import math
from collections.abc import Sequence
from dataclasses import replace

from calc.answers.figures import capital, listed, quantity
from calc.answers.sheet import Verdict
from calc.physics.floor_plan import SIDES, Bay
from calc.placement.mounting_reach.inputs import Inputs
from calc.placement.mounting_reach.solve import Outcome, Result
from calc.placement.placing import Relaxed
from calc.placement.reach import Reach

REACH_KEYS = {
    Reach.IN_PLACE: "in-place",
    Reach.SEAT_SLID: "seat-slid",
    Reach.SEAT_OUT: "seat-out",
    Reach.NEVER: "never",
}
REACH_WORDS = {
    Reach.IN_PLACE: "in place",
    Reach.SEAT_SLID: "seat slid",
    Reach.SEAT_OUT: "seat out",
    Reach.NEVER: "never",
}
_COUNTS = {1: "It fits", 2: "Both fit", 3: "All three fit", 4: "All four fit"}
_TOO_SMALL = {"width": "too narrow", "depth": "too shallow", "height": "too low"}
_GAVE_UP = "There are too many arrangements to try them all"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the design fits with its controls in reach, or what is missing to tell."""
    return verdict_of(result.design)


def whole_mm(length_mm: float) -> int:
    """Return a length that is missing, in whole millimetres, never too few."""
    return math.ceil(length_mm - 1e-6)


def relaxed_words(change: Relaxed, bay: Bay) -> str:
    """Say one change that would make it fit, to follow “with”."""
    if change.height_mm:
        higher = quantity(whole_mm(change.height_mm), "mm")
        return f"{relaxed_words(replace(change, height_mm=0), bay)}, and {higher} more height"
    which = change.which
    match change.kind:
        case "keep-out":
            return f"obstacle k{which} out of the way"
        case "edge":
            is_seat = bay.edges[SIDES.index(which)] == "seat"
            return f"no seat at the {which} edge" if is_seat else f"the {which} edge open"
        case "amplifier":
            return f"the {which} left out"
        case _:
            return f"{quantity(whole_mm(change.by_mm or 0), 'mm')} more {change.kind}"


def relax_list(outcome: Outcome) -> list[tuple[Relaxed, str]]:
    """Return what would make it fit, each with its words."""
    return [(change, relaxed_words(change, outcome.problem.bay)) for change in outcome.relaxed]


def _no_place(outcome: Outcome) -> tuple[str, str]:
    """Say what stops it, to follow a colon, and what else would make it fit, a sentence."""
    ways = relax_list(outcome)
    if outcome.short_mm:
        low = f"the space is {quantity(whole_mm(outcome.short_mm), 'mm')} too low"
        if outcome.solution.fits is False:
            return f"{low}, and too small as well", _also(outcome, [])
        return low, _also(outcome, [words for change, words in ways if change.kind != "height"])
    if not ways:
        words = "no single change that was tried is enough"
        return words, "Try a smaller amplifier or another place."
    first, words = ways[0]
    rest = [words for _, words in ways[1:]]
    if first.kind in _TOO_SMALL and not first.height_mm:
        missing = quantity(whole_mm(first.by_mm or 0), "mm")
        return f"the space is {missing} {_TOO_SMALL[first.kind]}", _also(outcome, rest)
    return "the space is too small", _also(outcome, [words, *rest]).replace("also ", "", 1)


def _also(outcome: Outcome, ways: Sequence[str]) -> str:
    """Say what else would make it fit; where nothing would, what to try."""
    if not ways:
        return "Try a smaller amplifier or another place."
    they = "It" if len(outcome.problem.amplifiers) == 1 else "They"
    return f"{they} would also fit with {', or with '.join(ways)}."


def sentence_of(outcome: Outcome) -> str:
    """Say the answer in a sentence or two that can be read aloud."""
    count = len(outcome.problem.amplifiers)
    they = "it is" if count == 1 else "they are"
    if outcome.feasible is False:
        why, cure = _no_place(outcome)
        return f"{'It doesn’t' if count == 1 else 'They don’t'} fit: {why}. {cure}".strip()
    if outcome.solution.fits is None:
        return f"{_GAVE_UP}, so whether {'it fits' if count == 1 else 'they fit'} is not known."
    start, reached = _COUNTS[count], _reach_words(outcome, they)
    if outcome.feasible is None:
        start += " on the plan, but the height of the space is not known"
        return f"{start}. {capital(reached)}."
    if any(outcome.pressed_mm):
        slid = quantity(whole_mm(max(outcome.pressed_mm)), "mm")
        start += f", but only while the seat stays slid by {slid}"
        return f"{start}. {capital(reached)}."
    if any(outcome.airless_mm):
        start += f", but the heatsink fins get air only while {_slid_for_air(outcome)}"
        return f"{start}. {capital(reached)}."
    if not outcome.with_controls:
        return f"{start}. No controls were entered."
    is_whole = outcome.worst in (Reach.IN_PLACE, Reach.SEAT_SLID)
    return f"{start}, {'and' if is_whole else 'but'} {reached}."


def _slid_for_air(outcome: Outcome) -> str:
    return f"the seat is slid by {quantity(whole_mm(max(outcome.airless_mm)), 'mm')}"


def _reach_words(outcome: Outcome, they: str) -> str:
    """Say how the controls are reached, as the end of a sentence."""
    if not outcome.with_controls:
        return "no controls were entered"
    parts = []
    for reach, words in (
        (Reach.IN_PLACE, f"once {they} in"),
        (Reach.SEAT_SLID, "with the seat slid"),
        (Reach.SEAT_OUT, "only with the seat out"),
    ):
        names = outcome.with_reach(reach)
        if len(names) == len(outcome.with_controls):
            return f"you can reach the controls {words}"
        if names:
            own = "in place" if reach == Reach.IN_PLACE else words
            parts.append(f"{listed(names)} {own}")
    never = outcome.with_reach(Reach.NEVER)
    if len(never) == len(outcome.with_controls):
        return f"you can’t reach the controls once {they} in"
    unknown = [
        stand.amplifier.name
        for stand, reached_how in zip(outcome.placements, outcome.reaches, strict=True)
        if reached_how is None
    ]
    if len(unknown) == len(outcome.with_controls):
        return "whether you can reach the controls is not known"
    parts += [f"{listed(never)} not at all"] if never else []
    parts += [f"{listed(unknown)} not known"] if unknown else []
    start = "you can’t reach all the controls" if never else "you can reach the controls"
    return f"{start}: {'; '.join(parts)}"


def is_sealed(bay: Bay) -> bool:
    """Tell whether no edge is open and no seat: nothing says how a hand gets in."""
    return all(edge == "wall" for edge in (*bay.edges, bay.top))


def verdict_of(outcome: Outcome) -> Verdict:
    """Return the verdict with the figure or the gap that decides it."""
    if outcome.feasible is False:
        why, cure = _no_place(outcome)
        return Verdict("unsuitable", f"{capital(why)}. {cure}".strip())
    if outcome.solution.fits is None:
        return Verdict("not known", f"{_GAVE_UP}. Enter fewer amplifiers or obstacles.")
    never = outcome.with_reach(Reach.NEVER)
    if never:
        more = [relaxed_words(change, outcome.problem.bay) for change in outcome.for_controls]
        cure = (
            f"With {' or '.join(more)}, you could reach all of them in place."
            if more
            else "Turn it, choose another place, or take one with a remote level control."
        )
        reason = f"You can’t reach the controls of {listed(never)} in this space. {cure}"
        return Verdict("unsuitable", reason)
    return _unknown_of(outcome) or Verdict("suitable", _fitting(outcome))


def _unknown_of(outcome: Outcome) -> Verdict | None:
    """Return what is not known of something that fits, None if nothing is."""
    if outcome.short_mm is None:
        reason = "Measure the height of the space and enter it."
    elif any(outcome.pressed_mm):
        slid = quantity(whole_mm(max(outcome.pressed_mm)), "mm")
        reason = (
            f"The seat would have to stay slid by {slid} for good. Ask the customer whether it "
            "can, or choose another place."
        )
    elif outcome.worst is None:
        reason = "Measure the height above the controls on top and enter it."
    elif outcome.worst == Reach.SEAT_OUT:
        reason = (
            "You can reach the controls only with the seat out. Ask a qualified workshop whether "
            "it can come out, or choose another place."
        )
    elif outcome.with_controls and is_sealed(outcome.problem.bay):
        reason = "Every edge is a wall. Enter the edge or the top that opens for a hand."
    else:
        return None
    return Verdict("not known", reason)


def _fitting(outcome: Outcome) -> str:
    clear = "Plugs, cable bends and cooling air all have clearance."
    if any(outcome.airless_mm):
        clear = (
            "Plugs and cable bends have clearance; the heatsink fins have it only while "
            f"{_slid_for_air(outcome)}."
        )
    if outcome.with_controls and outcome.worst == Reach.SEAT_SLID:
        clear += " You can reach the controls with the seat slid."
    return clear

"""What the answer of `mounting-reach` says in words: sentence, verdict, what to change."""

import math
from collections.abc import Sequence
from dataclasses import replace

from calc.answers.figures import listed, quantity
from calc.answers.sheet import Verdict
from calc.physics.floor_plan import SIDES, Bay, Placement
from calc.placement.mounting_reach.inputs import Inputs
from calc.placement.mounting_reach.solve import Outcome, Result
from calc.placement.placing import Problem, Relaxed
from calc.placement.reach import Reach, over_edge

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


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the design fits with its controls in reach, or what is missing to tell."""
    return verdict_of(result.design)


def whole_mm(length_mm: float) -> int:
    """Return a length that is missing, in whole millimetres, never too few."""
    return math.ceil(length_mm - 1e-6)


def relaxed_words(change: Relaxed, bay: Bay) -> str:
    """Say one change that would make it fit."""
    if change.height_mm:
        higher = quantity(whole_mm(change.height_mm), "mm")
        return f"{relaxed_words(replace(change, height_mm=0), bay)}, and {higher} more height"
    which = change.which
    match change.kind:
        case "keep-out":
            return f"k{which} out of the way"
        case "edge":
            is_seat = bay.edges[SIDES.index(which)] == "seat"
            return f"no seat at the {which} edge" if is_seat else f"the {which} edge open"
        case "amplifier":
            return f"without {which}"
        case _:
            return f"{quantity(whole_mm(change.by_mm or 0), 'mm')} more {change.kind}"


def relax_list(outcome: Outcome) -> list[tuple[Relaxed, str]]:
    """Return what would make it fit, each with its words."""
    return [(change, relaxed_words(change, outcome.problem.bay)) for change in outcome.relaxed]


def _no_place(outcome: Outcome) -> str:
    """Say why it does not fit, to follow a colon."""
    ways = [words for _, words in relax_list(outcome)]
    if outcome.short_mm:
        low = f"the bay is {quantity(whole_mm(outcome.short_mm), 'mm')} too low"
        return low + (", and too small as well" if outcome.solution.fits is False else "")
    if not ways:
        return "there is no place, and no single change that was tried is enough"
    return f"{ways[0]} would do" if len(ways) == 1 else f"one of these would do: {'; '.join(ways)}"


def sentence_of(outcome: Outcome) -> str:
    """Say the answer in a sentence or two that can be read aloud."""
    count = len(outcome.problem.amplifiers)
    if outcome.feasible is False:
        joint = ". O" if len(relax_list(outcome)) > 1 and not outcome.short_mm else ": o"
        text = f"{'It does' if count == 1 else 'They do'} not fit: {_no_place(outcome)}."
        return text.replace(": one of", f"{joint}ne of", 1)
    if outcome.solution.fits is None:
        return "The search was given up: whether it fits is not known."
    start, spare_mm2 = _COUNTS[count], outcome.spare_mm2 or 0.0
    if outcome.feasible is None:
        start += " on the plan, and whether the height is enough is not known"
    elif spare_mm2 >= 1000:
        start += f", with {quantity(spare_mm2 / 1e6, 'm²', 2)} of floor to spare"
    if any(outcome.pressed_mm):
        slid = quantity(whole_mm(max(outcome.pressed_mm)), "mm")
        start += f", only while the seat stays slid by {slid}"
    elif any(outcome.airless_mm):
        start += f", with the air at the fins free only while {_slid_for_air(outcome)}"
    return f"{start}; {_reach_sentence(outcome)}"


def _slid_for_air(outcome: Outcome) -> str:
    return f"the seat is slid by {quantity(whole_mm(max(outcome.airless_mm)), 'mm')}"


def _reach_sentence(outcome: Outcome) -> str:
    if not outcome.with_controls:
        return "no controls are named."
    parts = []
    for reach, words in (
        (Reach.IN_PLACE, "as it stands"),
        (Reach.SEAT_SLID, "with the seat slid"),
        (Reach.SEAT_OUT, "only with the seat out"),
    ):
        names = outcome.with_reach(reach)
        if len(names) == len(outcome.with_controls):
            return f"the controls are reached {words}."
        if names:
            parts.append(f"the controls of {listed(names)} {words}")
    reached = f"a hand reaches {listed(parts)}" if parts else ""
    never = outcome.with_reach(Reach.NEVER)
    out = f"no hand gets to the controls of {listed(never)}" if never else ""
    unknown = [
        stand.amplifier.name
        for stand, reached_how in zip(outcome.placements, outcome.reaches, strict=True)
        if reached_how is None
    ]
    open_ = f"whether the controls of {listed(unknown)} are reached is not known" if unknown else ""
    return "; ".join([words for words in (reached, out, open_) if words]) + "."


def is_sealed(bay: Bay) -> bool:
    """Tell whether no edge is open and no seat: nothing says how a hand gets in."""
    return all(edge == "wall" for edge in (*bay.edges, bay.top))


def verdict_of(outcome: Outcome) -> Verdict:
    """Return the verdict with the figure or the gap that decides it."""
    if outcome.feasible is False:
        ways = relax_list(outcome)
        first = f"{ways[0][1]} would do" if ways and not outcome.short_mm else _no_place(outcome)
        return Verdict("unsuitable", first)
    if outcome.solution.fits is None:
        return Verdict("not known", "the search was given up before it was through")
    never = outcome.with_reach(Reach.NEVER)
    if never:
        more = [relaxed_words(change, outcome.problem.bay) for change in outcome.for_controls]
        return Verdict(
            "unsuitable",
            f"as it stands no hand gets to the controls of {listed(never)}"
            + (f"; with {' or '.join(more)} all are reached in place" if more else ""),
        )
    return _unknown_of(outcome) or Verdict("suitable", _fitting(outcome))


def _unknown_of(outcome: Outcome) -> Verdict | None:
    """Return what is not known of something that fits, None if nothing is."""
    if outcome.short_mm is None:
        reason = "the height of the bay is missing"
    elif any(outcome.pressed_mm):
        slid = quantity(whole_mm(max(outcome.pressed_mm)), "mm")
        reason = f"the seat would have to stay slid by {slid} for good; whether it may is missing"
    elif outcome.worst is None:
        reason = "the height above controls on top is missing"
    elif outcome.worst == Reach.SEAT_OUT:
        reason = (
            "the controls are reached only with the seat out; whether it may come out is missing"
        )
    elif outcome.with_controls and is_sealed(outcome.problem.bay):
        reason = "every edge is a wall: how a hand gets in is missing"
    else:
        return None
    return Verdict("not known", reason)


def _fitting(outcome: Outcome) -> str:
    reached = "with the seat slid" if outcome.worst == Reach.SEAT_SLID else "in place"
    room = "everything has its room"
    if any(outcome.airless_mm):
        room = f"plugs have their room, the air at the fins its own while {_slid_for_air(outcome)}"
    return f"{room}, and the controls are reached {reached}" if outcome.with_controls else room


def consequences(outcome: Outcome) -> list[str]:
    """Return what follows from where things stand, as cautions."""
    out_of_reach = [*outcome.with_reach(Reach.SEAT_OUT), *outcome.with_reach(Reach.NEVER)]
    cautions = []
    if out_of_reach:
        cautions.append(
            f"{listed(out_of_reach)}: set gain, filters and level before fitting, with the "
            "amplifier connected and laid where you reach it, and note them; not with a seat’s "
            "plugs apart and the ignition on. Take one with a remote level control, and leave the "
            "filters to a head unit that has them; a tweeter on a channel of its own keeps its "
            "capacitor or high-pass all the same."
        )
    if outcome.with_reach(Reach.SEAT_SLID):
        cautions.append(
            "Controls that are reached with the seat slid: try it with your own hand; rails and "
            "covers stand in the way."
        )
    return [
        *cautions,
        *_seat_cautions(outcome),
        *_plug_cautions(outcome),
        *_outside(outcome.problem),
    ]


def _outside(problem: Problem) -> list[str]:
    """Return what lies outside the bay, which may be a slip of the pen."""
    floor, cautions = problem.bay.floor, []
    away = [
        f"k{at}"
        for at, keep_out in enumerate(problem.bay.keep_outs, 1)
        if not keep_out.overlaps(floor)
    ]
    if away:
        cautions.append(f"Outside the bay: {listed(away)} in the way. Is the place right?")
    leads = [
        lead
        for lead, (x, y) in (problem.entries or {}).items()
        if not (0 <= x <= floor.width_mm and 0 <= y <= floor.depth_mm)
    ]
    if leads:
        cautions.append(
            f"The {listed(leads)} lead{'s come' if leads[1:] else ' comes'} in outside the bay: is "
            "the place right? The lengths inside count from there."
        )
    return cautions


def _seat_cautions(outcome: Outcome) -> list[str]:
    """Return what the seat would press, and what its springs may touch."""
    bay, cautions = outcome.problem.bay, []
    plugs, air = (
        _names_where(outcome.placements, reaching)
        for reaching in (outcome.pressed_mm, outcome.airless_mm)
    )
    if plugs:
        cautions.append(
            f"Plugs of {listed(plugs)} lie where the seat travels. "
            "A seat slid onto a power cable can cut its insulation and start a fire. Choose "
            "another place. Put nothing into the seat’s rails and do not change its travel: it "
            "must latch in every position."
        )
    if air:
        cautions.append(
            f"With the seat back the air at the fins of {listed(air)} is shut off, and it gets "
            "hotter there. See that air gets to it from another side, or choose another place."
        )
    if bay.top == "seat":
        cautions.append(
            "A seat sinks: cover the positive terminals, and keep some 20\u202fmm below its lowest "
            "spring, with somebody on it (common practice, no source). Nothing touches it from "
            "below."
        )
    return cautions


def _names_where(stands: Sequence[Placement], reaching_mm: Sequence[float]) -> list[str]:
    return [stand.amplifier.name for stand, mm in zip(stands, reaching_mm, strict=True) if mm]


def _plug_cautions(outcome: Outcome) -> list[str]:
    """Return which plugs look into the same gap, and which stand out over an open edge."""
    bay, rooms, stands = outcome.problem.bay, outcome.problem.rooms, outcome.placements
    plugs = [[strip for strip in stand.strips(rooms) if strip.kind == "plugs"] for stand in stands]
    cautions = [
        f"Plugs of {stands[i].amplifier.name} and of {stands[j].amplifier.name} look into the same "
        "gap. Air may be shared, plugs may not: see that they do not touch, or give more room."
        for j in range(len(stands))
        for i in range(j)
        if any(plug.where.overlaps(other.where) for plug in plugs[i] for other in plugs[j])
    ]
    edges = {
        SIDES[stand.side_of(strip.face)]
        for stand, strips in zip(stands, plugs, strict=True)
        for strip in strips
        if bay.edges[stand.side_of(strip.face)] == "open"
        and over_edge(stand, bay, strip.face, strip.room_mm)
    }
    if edges:
        sides = listed([side for side in SIDES if side in edges])
        cautions.append(
            f"Plugs stand out over an open edge ({sides}): guard them from feet, bags and doors."
        )
    return cautions

"""What `mounting-reach` warns of, and what it leaves to be tried in the vehicle."""

from collections.abc import Sequence

from calc.answers.cautions import AIRBAGS, BOLT_DOWN, COVER_POSITIVE, DRILLING, SEAT_TRAVEL
from calc.answers.figures import listed
from calc.physics.floor_plan import LEADS, SIDES, Placement
from calc.placement.mounting_reach.inputs import Inputs
from calc.placement.mounting_reach.solve import Outcome, Result
from calc.placement.placing import Problem
from calc.placement.reach import Reach, over_edge

_ALWAYS = (AIRBAGS, DRILLING, BOLT_DOWN)
_ON_A_WALL = (
    "On a wall, mount it with the terminals facing sideways or down, so that water cannot run "
    "along a cable into them, and with the heatsink fins upright, so that air rises through them."
)
_NOT_COVERED = (
    "Whether your arm gets that far: only the clearance in front of the controls counts. Try it "
    "in the vehicle, with the amplifier or its paper template.",
    "Shapes that are not rectangles, sloping floors and what a carpet hides; standing an amplifier "
    "on edge, and stacking.",
    "Board, feet and a gap below: add them to the height.",
    "Whether the space stays dry, and how warm it gets: see “Will it stay cool?”.",
    "How the seat moves besides sliding: height, tilt, folding, and how far it sinks.",
    "Whether the panel carries the weight, and what is behind it.",
)


def cautions_of(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Return the hazards of where things are, then those of every mounting job."""
    designs = [result.design, *([result.other] if result.other else [])]
    own = [words for design in designs for words in _hazards(design)]
    wall = _wall(result.design) if inputs.size.on_wall else []
    return (*dict.fromkeys([*own, *wall]), *_ALWAYS)


def not_covered(result: Result) -> tuple[str, ...]:
    """Return what a reader must try or check in the vehicle."""
    designs = [result.design, *([result.other] if result.other else [])]
    own = [words for design in designs for words in (*_to_try(design), *_outside(design.problem))]
    return (*dict.fromkeys(own), *_NOT_COVERED)


def _hazards(outcome: Outcome) -> list[str]:
    cautions = []
    out_of_reach = [*outcome.with_reach(Reach.SEAT_OUT), *outcome.with_reach(Reach.NEVER)]
    if out_of_reach:
        cautions.append(
            f"{listed(out_of_reach)}: set gain, filters and levels before fitting, and write them "
            "down. Never switch the ignition on with a seat unplugged: it stores an airbag fault. "
            "A tweeter on its own channel keeps its high-pass or its capacitor."
        )
    pressed = _names_where(outcome.placements, outcome.pressed_mm)
    if pressed:
        cautions.append(f"The plugs of {listed(pressed)} are in the seat’s travel. {SEAT_TRAVEL}")
    airless = _names_where(outcome.placements, outcome.airless_mm)
    if airless:
        cautions.append(
            f"With the seat back, the heatsink fins of {listed(airless)} get no air and the "
            "amplifier overheats. Let air in from another side, or choose another place."
        )
    if outcome.problem.bay.top == "seat":
        cautions.append(COVER_POSITIVE)
    edges = _edges_with_plugs(outcome)
    if edges:
        cautions.append(
            f"Plugs stick out over an open edge ({listed(edges)}): guard them from feet, bags and "
            "doors."
        )
    return cautions


def _to_try(outcome: Outcome) -> list[str]:
    """Return what only a try in the vehicle settles."""
    tries = []
    if outcome.with_reach(Reach.SEAT_SLID):
        tries.append("Whether rails and covers leave your hand past when the seat is slid: try it.")
    rooms, stands = outcome.problem.rooms, outcome.placements
    plugs = [[strip for strip in stand.strips(rooms) if strip.kind == "plugs"] for stand in stands]
    tries += [
        f"Whether the plugs of {stands[i].amplifier.name} and {stands[j].amplifier.name} touch: "
        "they face the same gap. Check, or enter more clearance."
        for j in range(len(stands))
        for i in range(j)
        if any(plug.where.overlaps(other.where) for plug in plugs[i] for other in plugs[j])
    ]
    return tries


def _outside(problem: Problem) -> list[str]:
    """Return what lies outside the space, which may be a slip of the pen."""
    floor, slips = problem.bay.floor, []
    away = [
        f"k{at}"
        for at, keep_out in enumerate(problem.bay.keep_outs, 1)
        if not keep_out.overlaps(floor)
    ]
    if away:
        verb = "is" if len(away) == 1 else "are"
        slips.append(
            f"{listed(away)} {verb} outside the space and plays no part: check the figures."
            if len(away) == 1
            else f"{listed(away)} {verb} outside the space and play no part: check the figures."
        )
    leads = [
        lead
        for lead, (x, y) in (problem.entries or {}).items()
        if not (0 <= x <= floor.width_mm and 0 <= y <= floor.depth_mm)
    ]
    if leads:
        slips.append(
            f"A lead comes in outside the space ({listed(leads)}): check the figures. Lengths are "
            "measured from there."
        )
    return slips


def _names_where(stands: Sequence[Placement], reaching_mm: Sequence[float]) -> list[str]:
    return [stand.amplifier.name for stand, mm in zip(stands, reaching_mm, strict=True) if mm]


def _edges_with_plugs(outcome: Outcome) -> list[str]:
    """Return the open edges over which plugs stick out."""
    bay, rooms = outcome.problem.bay, outcome.problem.rooms
    edges = {
        SIDES[stand.side_of(strip.face)]
        for stand in outcome.placements
        for strip in stand.strips(rooms)
        if strip.kind == "plugs"
        and bay.edges[stand.side_of(strip.face)] == "open"
        and over_edge(stand, bay, strip.face, strip.room_mm)
    }
    return [side for side in SIDES if side in edges]


def _wall(design: Outcome) -> list[str]:
    """Return what to mind on an upright wall, and whose terminals face up."""
    up = [
        stand.amplifier.name
        for stand in design.placements
        if any(stand.side_of(face) == 2 and stand.amplifier.face(face) & {*LEADS} for face in SIDES)
    ]
    return [f"The plugs of {listed(up)} face up. {_ON_A_WALL}"] if up else [_ON_A_WALL]

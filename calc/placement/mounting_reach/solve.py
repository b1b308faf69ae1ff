"""Whether amplifiers fit in a bay, and how their controls are reached."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calc.physics.fixing import total_height
from calc.physics.floor_plan import FACES, LEADS, Bay, Lead, Placement
from calc.placement import placing
from calc.placement.mounting_reach.inputs import AmplifierRow, Inputs
from calc.placement.options import Place
from calc.placement.placing import Problem, Relaxed, Solution
from calc.placement.reach import Reach, airless, face_reach, pressed, reach_of
from calc.placement.runs import Leg, runs


@dataclass(frozen=True)
class Outcome:
    """A design in the bay: its best placement, and what there is to say about it.

    reaches : how each amplifier's controls are reached, in place where it has none; None: not
        known
    pressed_mm, airless_mm : how far each one's plugs, and the air of its fins, reach into the
        place of a seat
    short_mm : by how much the bay is too low for the worst; None where that is not known
    relaxed : what would make it fit
    for_controls : more room with which all controls are reached in place
    """

    problem: Problem
    solution: Solution
    reaches: tuple[Reach | None, ...]
    pressed_mm: tuple[float, ...]
    airless_mm: tuple[float, ...]
    short_mm: float | None
    relaxed: tuple[Relaxed, ...]
    for_controls: tuple[Relaxed, ...]

    @property
    def placements(self) -> tuple[Placement, ...]:
        """Where everything stands, on the plan."""
        return self.solution.placements

    @property
    def feasible(self) -> bool | None:
        """Whether everything fits, with its height; None where that is not known."""
        if self.solution.fits is False or self.short_mm:
            return False
        return None if self.solution.fits is None or self.short_mm is None else True

    @property
    def lead_mm(self) -> float | None:
        """All leads inside the bay together [mm], unless it does not fit."""
        return None if self.feasible is False else self.solution.lead_mm

    @property
    def spare_mm2(self) -> float | None:
        """Floor that nothing takes [mm²], unless it does not fit."""
        return None if self.feasible is False else self.solution.spare_mm2

    @property
    def reach_is_proven(self) -> bool | None:
        """Whether no placement has its controls better in reach; None if it does not fit."""
        return None if self.feasible is False else self.solution.best_reach

    @property
    def worst(self) -> Reach | None:
        """The worst reach of all controls that are there; None where one is not known."""
        reaches = [
            reach
            for placement, reach in zip(self.placements, self.reaches, strict=False)
            if placement.amplifier.control_faces
        ]
        if Reach.NEVER in reaches:
            return Reach.NEVER
        if None in reaches:
            return None
        return max((reach for reach in reaches if reach is not None), default=Reach.IN_PLACE)

    @property
    def with_controls(self) -> list[Placement]:
        """Those that have controls."""
        return [placement for placement in self.placements if placement.amplifier.control_faces]

    def with_reach(self, reach: Reach) -> list[str]:
        """Return the names of those with controls that are reached like this."""
        return [
            placement.amplifier.name
            for placement, reached in zip(self.placements, self.reaches, strict=False)
            if placement.amplifier.control_faces and reached == reach
        ]

    @property
    def face_reaches(self) -> list[dict[str, Reach | None]]:
        """For each amplifier, how each of its control faces is reached."""
        bay, rooms, stands = self.problem.bay, self.problem.rooms, self.placements
        return [
            {
                face: face_reach(stand, bay, rooms, [*stands[:at], *stands[at + 1 :]], face)
                for face in stand.amplifier.control_faces
            }
            for at, stand in enumerate(stands)
        ]

    @property
    def heights_mm(self) -> list[float]:
        """The height of each amplifier, with what is plugged in on top [mm]."""
        rooms = self.problem.rooms
        return [total_height(amplifier, rooms) for amplifier in self.problem.amplifiers]


@dataclass(frozen=True)
class LeadInBay:
    """A lead from where it comes in to the face of an amplifier, along and across."""

    amplifier: str
    lead: Lead
    face: str
    length_mm: float

    @property
    def length_m(self) -> float:
        """Its length [m]."""
        return self.length_mm / 1000


@dataclass(frozen=True, kw_only=True)
class Result:
    """The design and perhaps another in the same bay, and the leads of the first.

    runs : along the vehicle, with their slack
    leads : inside the bay; none where the design does not fit
    """

    design: Outcome
    other: Outcome | None
    runs: tuple[Leg, ...]
    leads: tuple[LeadInBay, ...]


def solve(inputs: Inputs) -> Result:
    """Place the amplifiers, and the others instead of them if there are any."""
    design, other = _outcome(_problem(inputs, inputs.amplifiers)), None
    if inputs.other_amplifiers:
        other = _outcome(_problem(inputs, inputs.other_amplifiers))
    return Result(
        design=design,
        other=other,
        runs=tuple(runs([row.leg for row in inputs.way_points], slack=inputs.slack)),
        leads=() if design.feasible is False else tuple(_leads(design, _entries(inputs))),
    )


def _entries(inputs: Inputs) -> dict[Lead, Place]:
    return {row.lead: (row.x_mm, row.y_mm) for row in inputs.entries}


def _problem(inputs: Inputs, rows: tuple[AmplifierRow, ...]) -> Problem:
    size = inputs.size
    bay = Bay(
        width_mm=size.bay_width_mm,
        depth_mm=size.bay_depth_mm,
        height_mm=size.bay_height_mm,
        edges=inputs.edges.around,
        top=inputs.edges.top_edge,
        seat_travel_mm=size.seat_travel_mm,
        keep_outs=tuple(row.rectangle for row in inputs.keep_outs),
    )
    return Problem(
        bay=bay,
        amplifiers=tuple(row.amplifier for row in rows),
        rooms=inputs.rooms.rooms,
        entries=_entries(inputs),
    )


def _outcome(problem: Problem) -> Outcome:
    """Solve a problem and look at its answer."""
    solution = placing.solve(problem)
    stands = solution.placements
    reaches = tuple(
        reach_of(stand, problem.bay, problem.rooms, [*stands[:at], *stands[at + 1 :]])
        for at, stand in enumerate(stands)
    )
    missing = problem.height_missing
    known = [height for height in missing if height is not None]
    short = None if len(known) < len(missing) and not any(known) else max(known, default=0.0)
    for_controls: list[Relaxed] = []
    if any(reach not in (None, Reach.IN_PLACE) for reach in reaches):
        for_controls = placing.more_for_controls(problem)
    relaxed: list[Relaxed] = []
    if solution.fits is not None:
        relaxed = placing.ways_out(problem, fits_on_plan=solution.fits)
    return Outcome(
        problem=problem,
        solution=solution,
        reaches=reaches,
        pressed_mm=tuple(pressed(stand, problem.bay, problem.rooms) for stand in stands),
        airless_mm=tuple(airless(stand, problem.bay, problem.rooms) for stand in stands),
        short_mm=short,
        relaxed=tuple(relaxed),
        for_controls=tuple(for_controls),
    )


def _leads(outcome: Outcome, entries: Mapping[Lead, Place]) -> Iterator[LeadInBay]:
    """Yield the leads inside the bay, to the middle of each face that has one."""
    for stand in outcome.placements:
        for lead in LEADS:
            if lead not in entries:
                continue
            for face in FACES:
                if lead in stand.amplifier.face(face):
                    x, y = stand.middle(face)
                    length = abs(x - entries[lead][0]) + abs(y - entries[lead][1])
                    yield LeadInBay(stand.amplifier.name, lead, face, length)

"""What the answer of `mounting-reach` says in words: sentence, verdict, what to change."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.core.figures import listed, quantity
from calc.core.sheet import Verdict
from calc.placement.parts import SIDES, Bay, Placement
from calc.placement.reach import Reach, pressed, reach_of
from calc.placement.solve import Problem, Relaxed, Solution, more_room, relaxations, solve

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
_COUNTS_NOT = {1: "It does", 2: "The two do", 3: "The three do", 4: "The four do"}


@dataclass(frozen=True)
class Outcome:
    """A design in the bay: its best placement, and what there is to say about it.

    reaches : how each amplifier's controls are reached; None: not known, or no controls
    short_mm : by how much the bay is too low for the worst; None where that is not known
    relaxed : what would make it fit
    for_controls : more room with which all controls are reached in place
    """

    problem: Problem
    solution: Solution
    reaches: tuple[Reach | None, ...]
    pressed_mm: tuple[float, ...]
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
    def worst(self) -> Reach | None:
        """The worst reach of all controls that are there; None where one is not known."""
        found = [
            reach
            for one, reach in zip(self.placements, self.reaches, strict=False)
            if one.amplifier.control_faces
        ]
        if Reach.NEVER in found:
            return Reach.NEVER
        if None in found:
            return None
        return max((one for one in found if one is not None), default=Reach.IN_PLACE)

    def with_reach(self, reach: Reach) -> list[str]:
        """Return the names of those with controls that are reached like this."""
        return [
            one.amplifier.name
            for one, found in zip(self.placements, self.reaches, strict=False)
            if one.amplifier.control_faces and found == reach
        ]


def outcome_of(problem: Problem) -> Outcome:
    """Solve a problem and look at its answer."""
    solution = solve(problem)
    stands = solution.placements
    reaches = tuple(
        reach_of(one, problem.bay, problem.rooms, [*stands[:at], *stands[at + 1 :]])
        for at, one in enumerate(stands)
    )
    missing = problem.height_missing
    known = [one for one in missing if one is not None]
    short = None if len(known) < len(missing) and not any(known) else max(known, default=0.0)
    for_controls: Sequence[Relaxed] = ()
    if any(one not in (None, Reach.IN_PLACE) for one in reaches):
        for_controls = more_room(problem, Reach.IN_PLACE)
    return Outcome(
        problem=problem,
        solution=solution,
        reaches=reaches,
        pressed_mm=tuple(pressed(one, problem.bay, problem.rooms) for one in stands),
        short_mm=short,
        relaxed=tuple(relaxations(problem)) if solution.fits is False else (),
        for_controls=tuple(for_controls),
    )


def whole_mm(length_mm: float) -> int:
    """Return a length that is missing, in whole millimetres, never too few."""
    return math.ceil(length_mm - 1e-6)


def relaxed_words(one: Relaxed, bay: Bay) -> str:
    """Say one thing that would make it fit."""
    match one.kind:
        case "keep-out":
            return f"without k{one.which} in the way"
        case "edge":
            is_seat = bay.edges[SIDES.index(one.which)] == "seat"
            return f"with the {one.which} edge open" + (
                ", the seat out for good" if is_seat else ""
            )
        case "amplifier":
            return f"without {one.which}"
        case _:
            return f"{quantity(whole_mm(one.by_mm or 0), 'mm')} more {one.kind}"


def relax_list(outcome: Outcome) -> list[tuple[Relaxed, str]]:
    """Return what would make it fit, each with its words, the height first."""
    found = list(outcome.relaxed)
    if outcome.short_mm:
        found.insert(0, Relaxed("height", by_mm=outcome.short_mm))
    return [(one, relaxed_words(one, outcome.problem.bay)) for one in found]


def sentence_of(outcome: Outcome) -> str:
    """Say the answer in a sentence or two that can be read aloud."""
    count = len(outcome.problem.amplifiers)
    if outcome.feasible is False:
        ways = [words for _, words in relax_list(outcome)]
        helps = "or ".join([", ".join([*ways[:-1], ""]), ways[-1]]) if ways[1:] else "".join(ways)
        if outcome.short_mm and outcome.solution.fits is False:
            return (
                f"{_COUNTS_NOT[count]} not fit: {ways[0]} is missing, and on the plan too there is "
                "no place."
            )
        return f"{_COUNTS_NOT[count]} not fit" + (
            f"; this would do: {helps}." if ways else ", and no one change that was tried helps."
        )
    if outcome.solution.fits is None:
        return "The search was too long: whether it fits is not known."
    start = _COUNTS[count] + (" on the plan" if outcome.feasible is None else "")
    if any(outcome.pressed_mm):
        slid = quantity(whole_mm(max(outcome.pressed_mm)), "mm")
        start += f" only while the seat stays slid by {slid}"
    return f"{start}; {_reach_sentence(outcome)}"


def _reach_sentence(outcome: Outcome) -> str:
    with_controls = [one for one in outcome.placements if one.amplifier.control_faces]
    if not with_controls:
        return "no controls are named."
    parts = []
    for reach, words in (
        (Reach.IN_PLACE, "as it stands"),
        (Reach.SEAT_SLID, "with the seat slid"),
        (Reach.SEAT_OUT, "with the seat out"),
    ):
        names = outcome.with_reach(reach)
        if len(names) == len(with_controls):
            return f"the controls are reached {words}."
        if names:
            parts.append(f"the controls of {listed(names)} {words}")
    reached = f"a hand reaches {listed(parts)}" if parts else ""
    never = outcome.with_reach(Reach.NEVER)
    out = f"no hand gets to the controls of {listed(never)}" if never else ""
    unknown = [
        one.amplifier.name
        for one, found in zip(outcome.placements, outcome.reaches, strict=True)
        if found is None
    ]
    open_ = f"whether those of {listed(unknown)} are reached is not known" if unknown else ""
    return "; ".join([one for one in (reached, out, open_) if one]) + "."


def verdict_of(outcome: Outcome) -> Verdict:
    """Return the verdict with the figure or the gap that decides it."""
    ways = relax_list(outcome)
    if outcome.feasible is False:
        return Verdict(
            "unsuitable",
            f"{ways[0][1]} would do" if ways and not _is_both(outcome) else "there is no place",
        )
    if outcome.solution.fits is None:
        return Verdict("not known", "the search was given up before it was through")
    never = outcome.with_reach(Reach.NEVER)
    if never:
        more = [relaxed_words(one, outcome.problem.bay) for one in outcome.for_controls]
        return Verdict(
            "unsuitable",
            f"no hand gets to the controls of {listed(never)}"
            + (f"; with {' or '.join(more)} all are reached in place" if more else ""),
        )
    if outcome.short_mm is None:
        return Verdict("not known", "the height of the bay is missing")
    if any(outcome.pressed_mm):
        return Verdict(
            "not known",
            "the seat in its place would press on plugs or stop the air; it would have to stay "
            f"slid by {quantity(whole_mm(max(outcome.pressed_mm)), 'mm')}, and whether it may is "
            "missing",
        )
    if outcome.worst is None:
        return Verdict("not known", "the height above controls on top is missing")
    if outcome.worst == Reach.SEAT_OUT:
        return Verdict("not known", "whether the seat may come out for the controls is missing")
    reached = "with the seat slid" if outcome.worst == Reach.SEAT_SLID else "in place"
    has_controls = any(one.amplifier.control_faces for one in outcome.placements)
    return Verdict(
        "suitable",
        f"everything has its room, and the controls are reached {reached}"
        if has_controls
        else "everything has its room",
    )


def _is_both(outcome: Outcome) -> bool:
    return bool(outcome.short_mm) and outcome.solution.fits is False


def consequences(outcome: Outcome) -> list[str]:
    """Return what follows from controls that are hard to reach, as cautions."""
    found = []
    out_of_reach = [*outcome.with_reach(Reach.SEAT_OUT), *outcome.with_reach(Reach.NEVER)]
    if out_of_reach:
        found.append(
            f"{listed(out_of_reach)}: set gain, filters and level before fitting, or with the seat "
            "out, and note the settings. Choose an amplifier with a remote level control, and "
            "leave the filters to a head unit that has them: those stay in reach."
        )
    if outcome.with_reach(Reach.SEAT_SLID):
        found.append(
            "Controls that are reached with the seat slid: try it with the seat’s own rails and "
            "cover in place; the hand comes past them."
        )
    if any(outcome.pressed_mm):
        found.append(
            "Plugs lie where the seat travels. A seat that is slid back onto a power cable can cut "
            "its insulation and start a fire: block its travel there, or choose another place."
        )
    return found

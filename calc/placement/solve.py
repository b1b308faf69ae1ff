"""The whole question of a bay: does it fit, where, and what would have to give.

First whether it fits at all, then how well the controls can be reached, then how short the
leads can be.  Whether it fits is always proven; the others stop after a number of steps and
then say so.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from calc.placement.options import Option, Place, loosest, micro, options_of
from calc.placement.parts import SIDES, Amplifier, Bay, Holding, Placement, Rooms
from calc.placement.reach import Reach, top_height
from calc.placement.relations import Box
from calc.placement.search import Node, Search, TooLong, set_at
from calc.placement.shorten import Stand, shortened

MOST = 4  # amplifiers
# Parts of the search to look at.  Whether it fits takes some thousands at most.
_FIT_STEPS, _REACH_STEPS, _LEAD_STEPS, _RELAX_STEPS = 200_000, 10_000, 500, 12_000
# More room is looked for within these, one after the other: a smaller bay is searched faster.
_GROWTHS_MM = (100.0, 300.0, 1000.0)

Kind = Literal["width", "depth", "height", "keep-out", "edge", "amplifier"]


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Amplifiers to stand in a bay.

    entries : where each kind of lead comes into the bay, as (x, y) [mm]

    Raises ValueError for none or more than four.
    """

    bay: Bay
    amplifiers: tuple[Amplifier, ...]
    rooms: Rooms = field(default_factory=Rooms)
    entries: Mapping[Holding, Place] | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.amplifiers) <= MOST:
            raise ValueError(f"1 to {MOST} amplifiers")

    @property
    def height_missing(self) -> list[float | None]:
        """How much height each amplifier wants, with what is plugged in on top [mm]."""
        return [
            top_height(one, self.bay, self.rooms.lasting(one.face("top")))
            for one in self.amplifiers
        ]

    def options(self) -> list[list[Option]]:
        """Return every way each amplifier may stand."""
        entries = self.entries or {}
        return [options_of(one, self.bay, self.rooms, entries) for one in self.amplifiers]

    @property
    def boxes(self) -> list[Box]:
        """The keep-outs [µm]."""
        return [
            (
                micro(one.x_mm),
                micro(one.y_mm),
                micro(one.x_mm + one.width_mm),
                micro(one.y_mm + one.depth_mm),
            )
            for one in self.bay.keep_outs
            if one.width_mm > 0 < one.depth_mm
        ]

    @property
    def alike(self) -> list[tuple[int, int]]:
        """Pairs of neighbours among amplifiers that differ in nothing but their names."""
        found = []
        for at, one in enumerate(self.amplifiers):
            before = [i for i in range(at) if self.amplifiers[i].is_like(one)]
            if before:
                found.append((before[-1], at))
        return found

    def search(
        self,
        offers: Sequence[Sequence[Option]],
        steps: int = 0,
        growth: tuple[int, int] | None = None,
    ) -> Search:
        """Return a search among offers."""
        return Search(offers, self.boxes, self.alike, steps, growth)

    def enlarged(self, axis: int, by_mm: float) -> "Problem":
        """Return the same in a bay that is wider (axis 0) or deeper (1)."""
        side = "width_mm" if axis == 0 else "depth_mm"
        bay = replace(self.bay, **{side: getattr(self.bay, side) + by_mm})
        return replace(self, bay=bay)


@dataclass(frozen=True)
class Relaxed:
    """One thing that would make it fit: `by_mm` of more width, depth or height, or the name
    or number of what would have to go.
    """

    kind: Kind
    by_mm: float | None = None
    which: str = ""


@dataclass(frozen=True)
class Solution:
    """Where everything stands.

    fits : on the plan; None where the search was too long to tell
    placements : in the order of the amplifiers, empty if they do not fit
    lead_mm : of all leads inside the bay together; None where no entry is given
    spare_mm2 : floor that nothing takes
    best_reach, shortest : that nothing better exists has been proven
    """

    fits: bool | None
    placements: tuple[Placement, ...] = ()
    lead_mm: float | None = None
    spare_mm2: float | None = None
    best_reach: bool = False
    shortest: bool = False


def solve(problem: Problem) -> Solution:
    """Return the best placement, or that there is none; heights are not looked at.

    >>> one = Amplifier(name="a", width_mm=300, depth_mm=200, height_mm=50,
    ...                 holds={"front": frozenset({"controls"})})
    >>> found = solve(Problem(bay=Bay(width_mm=200, depth_mm=320), amplifiers=(one,)))
    >>> found.placements[0].quarters  # turned, the controls would face a wall: never
    1
    """
    offers = problem.options()
    try:
        fit = problem.search([loosest(own) for own in offers], _FIT_STEPS).best()
    except TooLong:
        return Solution(fits=None)
    if fit is None:
        return Solution(fits=False)
    search = problem.search(offers, _REACH_STEPS)
    best: Node | None = fit
    is_best = True
    try:
        best = search.best()
    except TooLong:
        is_best = False
        search.offers = [loosest(own) for own in offers]
    if best is None:
        raise AssertionError("what fits at all fits in its best way")
    floor = (micro(problem.bay.width_mm), micro(problem.bay.depth_mm))
    stand = shortened(search, best, floor, _LEAD_STEPS)
    return Solution(
        fits=True,
        placements=_placements(problem, stand),
        lead_mm=stand.length / 1000 if problem.entries else None,
        spare_mm2=stand.spare / 1e6,
        best_reach=is_best,
        shortest=stand.is_shortest and is_best,
    )


def _placements(problem: Problem, stand: Stand) -> tuple[Placement, ...]:
    return tuple(
        Placement(one, corner[0] / 1000, corner[1] / 1000, option.quarters)
        for one, option, corner in zip(
            problem.amplifiers, stand.options, stand.corners, strict=True
        )
    )


@dataclass
class Purse:
    """Steps to spend on several searches; each spends what it needs."""

    steps: int = _RELAX_STEPS

    def best(self, search: Search) -> Node | None:
        """Return what a search finds; raises TooLong when the purse is empty."""
        search.most_steps = self.steps
        try:
            return search.best()
        finally:
            self.steps = max(0, self.steps - search.steps)


def growth(problem: Problem, axis: int, purse: Purse, reach: Reach | None = None) -> float | None:
    """Return how much wider (axis 0) or deeper (1) the bay must be for all to fit [mm].

    reach : ask too that the controls are reached no worse than this, plugs clear of a seat

    None where no growth up to a metre helps.  Raises TooLong.
    """
    for by_mm in _GROWTHS_MM:
        larger = problem.enlarged(axis, by_mm)
        offers = larger.options()
        if reach is None:
            offers = [loosest(own) for own in offers]
        else:
            offers = [[one for one in own if one.gives_up_no_more(reach)] for own in offers]
        found = purse.best(larger.search(offers, growth=(axis, micro(by_mm))))
        if found is not None:
            return found.bound / 1000
    return None


def fits(problem: Problem, purse: Purse) -> bool:
    """Tell whether all fit on the plan.  Raises TooLong."""
    offers = [loosest(own) for own in problem.options()]
    return purse.best(problem.search(offers)) is not None


def relaxations(problem: Problem, reach: Reach | None = None) -> list[Relaxed]:
    """Return what would make it fit on the plan, each for itself, as far as found in time.

    reach : as in `growth`; then only more room is looked for
    """
    purse, found = Purse(), []
    try:
        for relaxed in _relaxations(problem, purse, reach):
            found.append(relaxed)
    except TooLong:
        pass
    return found


def _relaxations(problem: Problem, purse: Purse, reach: Reach | None) -> Iterator[Relaxed]:
    bay = problem.bay
    kinds: tuple[tuple[Kind, int], ...] = (("depth", 1), ("width", 0))
    for kind, axis in kinds:
        more = growth(problem, axis, purse, reach)
        if more:
            yield Relaxed(kind, by_mm=more)
    if reach is not None:
        return
    for at in range(len(bay.keep_outs)):
        rest = (*bay.keep_outs[:at], *bay.keep_outs[at + 1 :])
        if fits(replace(problem, bay=replace(bay, keep_outs=rest)), purse):
            yield Relaxed("keep-out", which=str(at + 1))
    for at, side in enumerate(SIDES):
        if bay.edges[at] != "open":
            opened = replace(bay, edges=set_at(bay.edges, at, "open"))
            if fits(replace(problem, bay=opened), purse):
                yield Relaxed("edge", which=side)
    for at, one in enumerate(problem.amplifiers):
        others = (*problem.amplifiers[:at], *problem.amplifiers[at + 1 :])
        if others and fits(replace(problem, amplifiers=others), purse):
            yield Relaxed("amplifier", which=one.name)

"""The whole question of a bay: does it fit, where, and what would have to give.

First whether it fits at all, then how well the controls can be reached, then how short the
leads can be.  Whether it fits is proven, with so many steps that only contrived bays run out of
them; the others stop after fewer, and each then says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from calc.physics.floor_plan import SIDES, Amplifier, Bay, Lead, Placement, Rooms, micro
from calc.placement.options import Option, Place, loosest, options_of
from calc.placement.reach import Reach, top_height
from calc.placement.relations import Box
from calc.placement.search import Node, Search, TooLong
from calc.placement.shorten import Stand, shortened

MOST = 4  # amplifiers
# Parts of the search to look at.  Whether it fits took 64,000 at most in tests with bodies that
# were nearly alike, and some hundreds as a rule.
_FIT_STEPS, _REACH_STEPS, _ALIKE_STEPS, _LEAD_STEPS = 200_000, 4_000, 1_000, 500
_GROWTH_STEPS, _FITS_STEPS = 2_000, 3_000
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
    entries: Mapping[Lead, Place] | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.amplifiers) <= MOST:
            raise ValueError(f"1 to {MOST} amplifiers")

    @property
    def height_missing(self) -> list[float | None]:
        """How much height each amplifier wants, with what is plugged in on top [mm]."""
        return [
            top_height(amplifier, self.bay, self.rooms.lasting(amplifier.face("top")))
            for amplifier in self.amplifiers
        ]

    @property
    def bodies_mm2(self) -> float:
        """The floor that the bodies alone take [mm²]."""
        return sum(amplifier.width_mm * amplifier.depth_mm for amplifier in self.amplifiers)

    def options(self) -> list[list[Option]]:
        """Return every way each amplifier may stand."""
        entries = self.entries or {}
        return [
            options_of(amplifier, self.bay, self.rooms, entries) for amplifier in self.amplifiers
        ]

    @property
    def boxes(self) -> list[Box]:
        """The keep-outs [µm]."""
        return [
            keep_out.box
            for keep_out in self.bay.keep_outs
            if keep_out.width_mm > 0 < keep_out.depth_mm
        ]

    @property
    def alike(self) -> list[tuple[int, int]]:
        """Pairs of neighbours among amplifiers that differ in nothing but their names."""
        pairs = []
        for at, amplifier in enumerate(self.amplifiers):
            before = [i for i in range(at) if self.amplifiers[i].is_like(amplifier)]
            if before:
                pairs.append((before[-1], at))
        return pairs

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
    """One change that would make it fit: `by_mm` of more width, depth or height, or the name
    or number of what would have to go; with it `height_mm` of more height, if that is missing
    too.
    """

    kind: Kind
    by_mm: float | None = None
    which: str = ""
    height_mm: float = 0.0


@dataclass(frozen=True)
class Solution:
    """Where everything stands.

    fits : on the plan; None where the search was too long to tell
    placements : in the order of the amplifiers, empty if they do not fit
    lead_mm : of all leads inside the bay together; None where no entry of one is given
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

    >>> deep = Amplifier(name="a", width_mm=300, depth_mm=200, height_mm=50,
    ...                  holds={"front": frozenset({"controls"})})
    >>> solution = solve(Problem(bay=Bay(width_mm=200, depth_mm=320), amplifiers=(deep,)))
    >>> solution.placements[0].quarters  # turned, the controls would face a wall: never
    1
    """
    if problem.bodies_mm2 > problem.bay.width_mm * problem.bay.depth_mm * (1 + 1e-9):
        return Solution(fits=False)  # certain without a search
    offers = problem.options()
    try:
        fit = problem.search([loosest(options) for options in offers], _FIT_STEPS).best()
    except TooLong:
        return Solution(fits=None)
    if fit is None:
        return Solution(fits=False)
    search, best, is_best = _well_reached(problem, offers, fit)
    floor = (micro(problem.bay.width_mm), micro(problem.bay.depth_mm))
    stand = shortened(search, best, floor, _LEAD_STEPS)
    return Solution(
        fits=True,
        placements=_placements(problem, stand),
        lead_mm=stand.length / 1000 if any(option.pulls[0] for option in stand.options) else None,
        spare_mm2=stand.spare / 1e6,
        best_reach=is_best,
        shortest=stand.is_shortest and is_best,
    )


def _well_reached(
    problem: Problem, offers: Sequence[Sequence[Option]], fit: Node
) -> tuple[Search, Node, bool]:
    """Return a search, the placement it found with the controls best in reach, and whether
    that is proven.

    Where the proof takes too long, the best reach that all can have alike is taken.
    """
    search = problem.search(offers, _REACH_STEPS)
    best = _found_in_time(search)
    if best is not None:
        return search, best, True
    for reach in Reach:
        alike = [
            [replace(option, cost=0) for option in options if option.gives_up_no_more(reach)]
            for options in offers
        ]
        search = problem.search(alike, _ALIKE_STEPS)
        best = _found_in_time(search)
        if best is not None:
            return search, best, False
    return problem.search([loosest(options) for options in offers], _ALIKE_STEPS), fit, False


def _found_in_time(search: Search) -> Node | None:
    """Return what a search finds; None, too, where it is given up."""
    try:
        return search.best()
    except TooLong:
        return None


def _placements(problem: Problem, stand: Stand) -> tuple[Placement, ...]:
    return tuple(
        Placement(amplifier, corner[0] / 1000, corner[1] / 1000, option.quarters)
        for amplifier, option, corner in zip(
            problem.amplifiers, stand.options, stand.corners, strict=True
        )
    )


def growth(
    problem: Problem, axis: int, reach: Reach | None = None, steps: int = _GROWTH_STEPS
) -> float | None:
    """Return how much wider (axis 0) or deeper (1) the bay must be for all to fit [mm].

    reach : ask too that the controls are reached no worse than this, plugs clear of a seat

    steps : parts of the search to look at

    None where no growth up to a metre helps, or that was not found in time.
    """
    for by_mm in _GROWTHS_MM:
        larger = problem.enlarged(axis, by_mm)
        offers = larger.options()
        if reach is None:
            offers = [loosest(options) for options in offers]
        else:
            offers = [
                [option for option in options if option.gives_up_no_more(reach)]
                for options in offers
            ]
        search = larger.search(offers, steps, growth=(axis, micro(by_mm)))
        try:
            best = search.best()
        except TooLong:
            return None
        if best is not None:
            return best.bound / 1000
        steps -= search.steps
    return None


@dataclass
class Purse:
    """Steps to spend on several searches; each spends what it needs."""

    steps: int = _FITS_STEPS

    def fits(self, problem: Problem) -> bool:
        """Tell whether all fit on the plan; no, too, where that was not found in time."""
        search = problem.search([loosest(options) for options in problem.options()], self.steps)
        best = _found_in_time(search)
        self.steps = max(0, self.steps - search.steps)
        return best is not None


def more_room(problem: Problem, reach: Reach | None = None) -> list[Relaxed]:
    """Return how much more depth, and how much more width, would do, each for itself."""
    kinds: tuple[tuple[Kind, int], ...] = (("depth", 1), ("width", 0))
    growths = [(kind, growth(problem, axis, reach)) for kind, axis in kinds]
    return [Relaxed(kind, by_mm=by_mm) for kind, by_mm in growths if by_mm]


def more_for_controls(problem: Problem) -> list[Relaxed]:
    """Return how much more height, depth or width puts all controls in reach in place."""
    missing = [
        top_height(amplifier, problem.bay, problem.rooms.reaching(amplifier.face("top")))
        for amplifier in problem.amplifiers
        if "controls" in amplifier.face("top")
    ]
    higher = max((height for height in missing if height), default=0.0)
    if not higher:
        return more_room(problem, Reach.IN_PLACE)
    bay = replace(problem.bay, height_mm=(problem.bay.height_mm or 0) + higher)
    offers = [
        [option for option in options if option.gives_up_no_more(Reach.IN_PLACE)]
        for options in replace(problem, bay=bay).options()
    ]
    is_enough = _found_in_time(problem.search(offers, _FITS_STEPS)) is not None
    return [Relaxed("height", by_mm=higher)] if is_enough else []


def ways_out(problem: Problem, *, fits_on_plan: bool) -> list[Relaxed]:
    """Return what would make it fit, heights included, each change for itself."""
    missing = [height or 0.0 for height in problem.height_missing]
    without = [max([*missing[:at], *missing[at + 1 :]], default=0.0) for at in range(len(missing))]
    short = max(missing)
    names = [amplifier.name for amplifier in problem.amplifiers]
    if fits_on_plan:
        changes = [
            Relaxed("amplifier", which=name)
            for name, rest in zip(names, without, strict=True)
            if rest == 0 and len(names) > 1
        ]
        return [Relaxed("height", by_mm=short), *changes] if short else []
    return [
        replace(change, height_mm=without[names.index(change.which)])
        if change.kind == "amplifier"
        else replace(change, height_mm=short)
        for change in relaxations(problem)
    ]


def relaxations(problem: Problem) -> list[Relaxed]:
    """Return what would make it fit on the plan, each for itself, as far as found in time."""
    bay, purse = problem.bay, Purse()
    changes = more_room(problem)
    for at, amplifier in enumerate(problem.amplifiers):
        others = (*problem.amplifiers[:at], *problem.amplifiers[at + 1 :])
        if others and purse.fits(replace(problem, amplifiers=others)):
            changes.append(Relaxed("amplifier", which=amplifier.name))
    for at in range(len(bay.keep_outs)):
        rest = (*bay.keep_outs[:at], *bay.keep_outs[at + 1 :])
        if purse.fits(replace(problem, bay=replace(bay, keep_outs=rest))):
            changes.append(Relaxed("keep-out", which=str(at + 1)))
    for at, side in enumerate(SIDES):
        if bay.edges[at] != "open":
            opened = bay.opened_at(at)
            if purse.fits(replace(problem, bay=opened)):
                changes.append(Relaxed("edge", which=side))
    order: tuple[Kind, ...] = ("depth", "width", "keep-out", "edge", "amplifier")
    return sorted(changes, key=lambda change: order.index(change.kind))

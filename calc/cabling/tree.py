"""A tree of runs from the battery: its shape, its currents, and where fuses sit.

A run leads from one place to another; loads draw at places.  The root is the one place that
no run leads to: the battery.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.cabling.sizing import Offer, Rules, choose
from calc.physics.conductors import Material
from calc.physics.permitted_current import carries, smallest_fuse


@dataclass(frozen=True, kw_only=True)
class Run:
    """A cable from one place to another, `length_m` long, one way.

    earth_m : length of the earth lead at its end, of the same size, whose drop counts too [m]
    least_mm2 : no thinner size is taken, where one is settled already [mm²]
    """

    start: str
    end: str
    length_m: float
    earth_m: float = 0.0
    least_mm2: float = 0.0

    @property
    def drop_m(self) -> float:
        """The length that the drop is reckoned over [m]."""
        return self.length_m + self.earth_m


@dataclass(frozen=True, kw_only=True)
class Load:
    """What draws at a place: at the chosen duty, and at full power for fuse and heat [A].

    power_a : at full power and the supply's own voltage, ΣP/(η·V) [A]; full_a where none is given
    most_a : at the chosen duty at most, where the amplifier's class is not known [A]
    own_fuses_a : the sum of the amplifier's own fuses [A]; None where they are not known
    is_later : it is planned for later: cables and blocks are made for it, fuses are not yet
    """

    at: str
    ampere: float
    full_a: float
    most_a: float | None = None
    power_a: float | None = None
    own_fuses_a: float | None = None
    is_later: bool = False


class NotATree(ValueError):
    """The runs are no tree, or a load hangs on none; `field` is `runs` or `loads`."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


def tree_problems(runs: Sequence[Run], loads_at: Sequence[str]) -> list[tuple[str, str]]:
    """Return all that keeps runs and loads from being a tree: (`runs` or `loads`, message)."""
    problems = []
    for run in runs:
        if not run.length_m > 0:
            problems.append(("runs", f"The run to {run.end} has no length. Enter it in metres."))
        if run.start == run.end:
            problems.append(
                ("runs", f"A run goes from {run.start} to itself. Enter where it ends.")
            )
    ends = [run.end for run in runs]
    for place in dict.fromkeys(ends):
        if ends.count(place) > 1:
            problems.append(("runs", f"Two runs end at {place}. Only one run can feed a place."))
    roots = list(dict.fromkeys(run.start for run in runs if run.start not in ends))
    if not runs:
        problems.append(("runs", "There is no run. Add one that starts at the battery."))
    elif not roots:
        problems.append(("runs", "The runs form a ring. One of them must start at the battery."))
    if len(roots) > 1:
        parts = " and ".join(roots[:2])
        problems.append(
            ("runs", f"No run feeds {parts}, so part of the runs has no battery. Connect them.")
        )
    reached = set(roots)
    for _ in runs:
        reached |= {run.end for run in runs if run.start in reached}
    ring = next((run.end for run in runs if run.end not in reached), None)
    if roots and ring is not None:
        problems.append(("runs", f"The runs around {ring} form a ring. Leave one out."))
    problems += [
        ("loads", f"No run ends at {place}, where an amplifier is. Add the run.")
        for place in dict.fromkeys(loads_at)
        if place not in ends
    ]
    return problems


@dataclass(frozen=True, kw_only=True)
class Tree:
    """Runs that form a tree, and loads at its places.

    main_fuse_a : the fuse of runs that feed every load [A], where it is not the smallest
        listed one that carries their full current
    today_fuse_a : the same with the loads alone that are there today [A]

    Raises `NotATree` for a run without length or from a place to itself, a place fed
    twice, a ring, an island, or a load that no run leads to.
    """

    runs: tuple[Run, ...]
    loads: tuple[Load, ...]
    main_fuse_a: float | None = None
    today_fuse_a: float | None = None

    def __post_init__(self) -> None:
        for field, message in tree_problems(self.runs, [load.at for load in self.loads]):
            raise NotATree(field, message)

    @cached_property
    def root(self) -> str:
        """The place that no run leads to."""
        ends = {run.end for run in self.runs}
        return next(run.start for run in self.runs if run.start not in ends)

    @cached_property
    def children(self) -> tuple[tuple[int, ...], ...]:
        """For each run, the indices of the runs that begin where it ends."""
        return tuple(
            tuple(at for at, other in enumerate(self.runs) if other.start == run.end)
            for run in self.runs
        )

    @cached_property
    def trunks(self) -> tuple[int, ...]:
        """The indices of the runs that begin at the root."""
        return tuple(at for at, run in enumerate(self.runs) if run.start == self.root)

    @cached_property
    def outward(self) -> tuple[int, ...]:
        """The indices of the runs in an order that never puts a run before its feeder."""
        order: list[int] = []
        waiting = list(reversed(self.trunks))
        while waiting:
            at = waiting.pop()
            order.append(at)
            waiting += reversed(self.children[at])
        return tuple(order)

    @cached_property
    def paths(self) -> tuple[tuple[int, ...], ...]:
        """For each load, the indices of the runs from the root to it."""
        feeding = {run.end: at for at, run in enumerate(self.runs)}
        paths = []
        for load in self.loads:
            path: list[int] = []
            place = load.at
            while place != self.root:
                path.insert(0, feeding[place])
                place = self.runs[feeding[place]].start
            paths.append(tuple(path))
        return tuple(paths)

    @cached_property
    def currents(self) -> tuple[float, ...]:
        """The current of each run at the chosen duty [A]."""
        return self._summed([load.ampere for load in self.loads])

    @cached_property
    def full_currents(self) -> tuple[float, ...]:
        """The current of each run at full power [A]."""
        return self._summed([load.full_a for load in self.loads])

    @cached_property
    def ratings(self) -> tuple[float | None, ...]:
        """The fuse that each run would have at its start [A]; None beyond the list."""
        is_stated = self.main_fuse_a is not None
        return tuple(
            self.main_fuse_a if is_stated and self._feeds_all(at) else smallest_fuse(full)
            for at, full in enumerate(self.full_currents)
        )

    @cached_property
    def must_carry(self) -> tuple[float, ...]:
        """What each run must carry [A]: its full current, and its fuse where one is listed."""
        return tuple(
            max(full, rating or 0.0)
            for full, rating in zip(self.full_currents, self.ratings, strict=True)
        )

    @cached_property
    def today_currents(self) -> tuple[float, ...]:
        """The current of each run at full power, without what is planned for later [A]."""
        return self._summed([0.0 if load.is_later else load.full_a for load in self.loads])

    def feeds_today(self, at: int) -> bool:
        """Tell whether a run feeds a load that is there today, or none at all."""
        fed = [load for load, path in zip(self.loads, self.paths, strict=True) if at in path]
        return not fed or any(not load.is_later for load in fed)

    def today_rating(self, at: int) -> float | None:
        """Return the fuse that a run would have at its start today [A]; None for a later one."""
        if not self.has_later:
            return self.ratings[at]
        if not self.feeds_today(at):
            return None
        whole = self.ratings[at]
        if self.today_fuse_a is not None and self._feeds_all(at):
            rating: float | None = self.today_fuse_a
        else:
            rating = smallest_fuse(self.today_currents[at])
        return whole if rating is None or whole is None else min(rating, whole)

    @property
    def has_later(self) -> bool:
        """Whether a load is planned for later."""
        return any(load.is_later for load in self.loads)

    def _feeds_all(self, at: int) -> bool:
        return bool(self.loads) and all(at in path for path in self.paths)

    def _summed(self, each: Sequence[float]) -> tuple[float, ...]:
        return tuple(
            sum(of_load for of_load, path in zip(each, self.paths, strict=True) if at in path)
            for at in range(len(self.runs))
        )

    @cached_property
    def at_full_power(self) -> "Tree":
        """The same tree with every load at full power, as the drop counts it."""
        loads = tuple(
            replace(load, ampere=load.full_a if load.power_a is None else load.power_a)
            for load in self.loads
        )
        return replace(self, loads=loads)

    @property
    def total_a(self) -> float:
        """The current of all loads at the chosen duty [A]."""
        return sum(load.ampere for load in self.loads)


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Sizes and fuses for runs, and the drop at each load.

    offers, fuses_a : for each run its size, and the fuse at its start [A] or None
    fitted_a : the fuse that is put in there today [A]: smaller, or none, where a load is planned
        for later
    drops_v : for each load its drop from the battery and back [V]
    conductor_kg : mass of the positive conductors [kg]
    """

    runs: tuple[Run, ...]
    currents: tuple[float, ...]
    offers: tuple[Offer, ...]
    fuses_a: tuple[float | None, ...]
    drops_v: tuple[float, ...]
    conductor_kg: float
    fitted_a: tuple[float | None, ...]


def fuses(tree: Tree, offers: Sequence[Offer]) -> tuple[float | None, ...]:
    """Return the fuse at each run's start [A], None where the one before protects it.

    A fuse sits at the battery, and wherever a cable may carry less than the fuse before it
    lets through.  Each is the smallest listed rating for the run's full current, or the main
    fuse of the tree.
    """
    at_start: list[float | None] = [None] * len(tree.runs)
    protecting: dict[int, float | None] = dict.fromkeys(tree.trunks)
    for at in tree.outward:
        before = protecting[at]
        if before is None or not carries(offers[at].permitted_a, before):
            at_start[at] = before = tree.ratings[at]
        protecting |= dict.fromkeys(tree.children[at], before)
    return tuple(at_start)


def drops(tree: Tree, offers: Sequence[Offer], rules: Rules) -> tuple[float, ...]:
    """Return the drop from the battery to each load and back [V]."""
    of_run = [
        rules.run_drop(offer, ampere=ampere, length_m=run.drop_m)
        for run, offer, ampere in zip(tree.runs, offers, tree.currents, strict=True)
    ]
    body = rules.body_drop(tree.total_a)
    return tuple(body + sum(of_run[at] for at in path) for path in tree.paths)


def upper_drops(tree: Tree, plan: Plan, rules: Rules) -> tuple[float, ...] | None:
    """Return what class AB amplifiers would lose on a plan [V], where a class is not known."""
    if all(load.most_a is None for load in tree.loads):
        return None
    heavier = tuple(
        replace(load, ampere=load.ampere if load.most_a is None else load.most_a)
        for load in tree.loads
    )
    return drops(replace(tree, loads=heavier), plan.offers, rules)


def conductor_mass(runs: Sequence[Run], offers: Sequence[Offer], material: Material) -> float:
    """Return the mass of the runs' conductors, one way [kg]."""
    return sum(
        run.length_m * offer.size.kg_per_m(material)
        for run, offer in zip(runs, offers, strict=True)
    )


def plan_of(tree: Tree, offers: Sequence[Offer], rules: Rules) -> Plan:
    """Return what follows from the sizes of a tree's runs."""
    fuses_a = fuses(tree, offers)
    fitted_a = tuple(
        None if fuse_a is None else tree.today_rating(at) for at, fuse_a in enumerate(fuses_a)
    )
    return Plan(
        runs=tree.runs,
        currents=tree.currents,
        offers=tuple(offers),
        fuses_a=fuses_a,
        fitted_a=fitted_a if tree.has_later else fuses_a,
        drops_v=drops(tree, offers, rules),
        conductor_kg=conductor_mass(tree.runs, offers, rules.material),
    )


def separate_runs(tree: Tree) -> tuple[Run, ...]:
    """Return a run of its own from the root to each load, as long as the way in the tree."""
    return tuple(
        Run(
            start=tree.root,
            end=load.at,
            length_m=sum(tree.runs[at].length_m for at in path),
            earth_m=sum(tree.runs[at].earth_m for at in path),
        )
        for load, path in zip(tree.loads, tree.paths, strict=True)
    )


def separate(tree: Tree, rules: Rules) -> Plan | None:
    """Return the plan with a cable of its own from the battery to each load.

    Each run is as long as the way through the tree.  None when a run has no size.
    """
    runs = separate_runs(tree)
    offers, ratings, drops_v = [], [], []
    for load, run in zip(tree.loads, runs, strict=True):
        chosen = choose(
            rules,
            ampere=load.ampere,
            full_a=load.full_a,
            length_m=run.drop_m,
            total_a=tree.total_a,
            fuse_a=tree.main_fuse_a if len(tree.loads) == 1 else None,
        )
        if chosen.offer is None:
            return None
        offers.append(chosen.offer)
        ratings.append(chosen.fuse_a)
        drops_v.append(
            rules.run_drop(chosen.offer, ampere=load.ampere, length_m=run.drop_m)
            + rules.body_drop(tree.total_a)
        )
    return Plan(
        runs=runs,
        currents=tuple(load.ampere for load in tree.loads),
        offers=tuple(offers),
        fuses_a=tuple(ratings),
        fitted_a=tuple(
            None if load.is_later else rating
            for load, rating in zip(tree.loads, ratings, strict=True)
        ),
        drops_v=tuple(drops_v),
        conductor_kg=conductor_mass(runs, offers, rules.material),
    )

"""The power runs of a job: sizes where lengths and powers are known, and what is missing."""

from dataclasses import dataclass

from calc.cabling.bought import Bought, bought
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.rows import Amplifier, Route
from calc.cabling.optimum import least_conductor
from calc.cabling.sizing import Offer
from calc.cabling.tree import Load, Plan, Run, Tree
from calc.cabling.tree_feed import Fed, bound_fuse_a, load_of, main_fuse_of, today_fuse_a
from calc.physics.main_fuse import MainFuse

USUAL_EARTH_M = 0.5  # common practice, no source: where the earth lead is not measured yet
_UNMEASURED_M = 1.0  # stands for a length in the shape of a tree, never in a figure


@dataclass(frozen=True, kw_only=True)
class Power:
    """The runs from the battery.

    plan : least sizes and fuses; None where they cannot be told
    fuses_a : the fuse at each run's start today [A], None where there is none or it is not known
    main_fuse : of a run that feeds every amplifier
    unknown_powers : the amplifiers whose power is not known
    unmeasured : where the runs end whose length is not known
    """

    tree: Tree
    plan: Plan | None
    kit: Bought
    fuses_a: tuple[float | None, ...]
    main_fuse: MainFuse
    unknown_powers: tuple[str, ...]
    unmeasured: tuple[str, ...]

    @property
    def is_refused(self) -> bool:
        """Whether lengths and powers are known, and the rules have no size for them."""
        return self.plan is None and not self.unknown_powers and not self.unmeasured

    def blocks(self) -> dict[str, list[int]]:
        """Return the places where several runs begin away from the battery, and these runs."""
        starts: dict[str, list[int]] = {}
        for at, run in enumerate(self.tree.runs):
            starts.setdefault(run.start, []).append(at)
        return {
            place: runs
            for place, runs in starts.items()
            if len(runs) > 1 and place != self.tree.root
        }

    def needs_fuse(self, at: int) -> bool:
        """Tell whether a run has a fuse at its start: also each way out of a block."""
        at_block = any(at in runs for runs in self.blocks().values())
        if self.plan is None:
            return at in self.tree.trunks or at_block
        return self.plan.fuses_a[at] is not None or at_block

    @property
    def is_today(self) -> tuple[bool, ...]:
        """Whether each run feeds an amplifier that is put in now."""
        return tuple(self.tree.feeds_today(at) for at in range(len(self.tree.runs)))


def size_name(offer: Offer | None) -> str | None:
    """Return the name of a size on offer; None where there is none."""
    return None if offer is None else offer.size.name


def least_name(power: Power, at: int) -> str | None:
    """Return the name of a run's least size; None where it cannot be told."""
    return None if power.plan is None else size_name(power.plan.offers[at])


def power_runs(routes: tuple[Route, ...], job: Job | None = None) -> tuple[Run, ...]:
    """Return the power routes as runs; with the job, each with its amplifier's earth lead."""
    runs = []
    for route in routes:
        if route.what != "power":
            continue
        earth = None
        if job is not None and job.rules.return_by == "body":
            earth = job.earth_of(route.end)
        length = USUAL_EARTH_M if earth and earth.length_m is None else earth and earth.length_m
        runs.append(
            Run(
                start=route.start,
                end=route.end,
                length_m=route.length_m or _UNMEASURED_M,
                earth_m=length or 0.0,
                least_mm2=route.least_mm2 or 0.0,
            )
        )
    return tuple(runs)


def power_of(inputs: Fed, job: Job) -> Power | None:
    """Return the power runs with what feeds the amplifiers that they reach; None without any."""
    runs = power_runs(job.routes, job)
    reached = {run.end for run in runs}
    fed = [amplifier for amplifier in job.amplifiers if amplifier.name in reached]
    if not runs or not fed:
        return None
    loads = tuple(_load(inputs, amplifier) for amplifier in fed)
    unknown_powers = tuple(amplifier.name for amplifier in fed if amplifier.total_power_w is None)
    unmeasured = tuple(route.end for route in job.of("power") if route.length_m is None)
    main_fuse = main_fuse_of(inputs.draw, job.rules, loads)
    tree = Tree(
        runs=runs,
        loads=loads,
        main_fuse_a=bound_fuse_a(main_fuse),
        today_fuse_a=today_fuse_a(inputs.draw, job.rules, loads),
    )
    is_open = bool(unknown_powers or unmeasured)
    plan = None if is_open else least_conductor(tree, job.rules)
    is_refused = not is_open and plan is None
    return Power(
        tree=tree,
        plan=plan,
        kit=bought(tree, job.rules, plan),
        # A fuse follows the current alone, but none is named for a cable that nothing offers.
        fuses_a=(None,) * len(runs)
        if unknown_powers or is_refused
        else tuple(map(tree.today_rating, range(len(runs)))),
        main_fuse=main_fuse,
        unknown_powers=unknown_powers,
        unmeasured=unmeasured,
    )


def _load(inputs: Fed, amplifier: Amplifier) -> Load:
    if amplifier.total_power_w is None:
        return Load(at=amplifier.name, ampere=0.0, full_a=0.0, most_a=0.0, is_later=amplifier.later)
    return load_of(inputs, amplifier, at=amplifier.name, power_w=amplifier.total_power_w)

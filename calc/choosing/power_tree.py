"""The power tree of a plan: main run, distribution block, a branch and an earth for each amplifier.

It is made of the answer of `power-cable` for one amplifier, of `cable-tree` for several, and of
nothing else: sizes, fuses and drops are theirs.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.cabling import cable_tree, power_cable
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.power import PowerQuestion, branch_of
from calc.choosing.questions.sets import TreeLoad


@dataclass(frozen=True, kw_only=True)
class Cable:
    """A size of cable, None where none is told: the least, and the one that is bought."""

    size: str | None
    size_mm2: float | None
    kit_size: str | None
    kit_mm2: float | None
    permitted_a: float | None

    @property
    def laid(self) -> str | None:
        """The size that is laid: as it is bought, else the least."""
        return self.kit_size or self.size


@dataclass(frozen=True, kw_only=True)
class PowerRun:
    """A piece of the positive cable.

    length_m : as it is laid, one way and without slack [m]; None: not measured yet
    full_a : the current at full power [A]
    fuse_a : the fuse at its start today [A]; None for a run that is planned for later
    fuse_later_a : the same once all that is planned is there [A]
    """

    start: str
    end: str
    cable: Cable
    length_m: float | None
    full_a: float
    fuse_a: float | None
    fuse_later_a: float | None


@dataclass(frozen=True, kw_only=True)
class Earth:
    """The earth lead of an amplifier, of the size of its positive; all meet at one point.

    length_m : without slack [m]; None: not measured yet
    """

    amplifier: str
    cable: Cable
    length_m: float | None


@dataclass(frozen=True, kw_only=True)
class Fed:
    """An amplifier at the end of the tree.

    branch : from the block; None where the main run leads to it
    drop_v, kit_drop_v : from the battery and back at the plan's duty with the least sizes, and at
        full power with those that are bought [V]
    """

    amplifier: str
    is_later: bool
    branch: PowerRun | None
    earth: Earth | None
    drop_v: float | None
    kit_drop_v: float | None


@dataclass(frozen=True, kw_only=True)
class PowerTree:
    """From the battery to every amplifier.

    main : from the battery to the block, or to the only amplifier
    fed : the amplifiers in their order
    power_a : the current at full power and the supply's own voltage, ΣP/(η·V) [A]
    """

    main: PowerRun
    fed: tuple[Fed, ...]
    power_a: float

    @property
    def kit_drop_v(self) -> float | None:
        """The most that an amplifier loses at full power with the cables as they are bought [V]."""
        drops = [each.kit_drop_v for each in self.fed if each.kit_drop_v is not None]
        return max(drops) if len(drops) == len(self.fed) else None

    @property
    def branches(self) -> tuple[PowerRun, ...]:
        """The runs out of the distribution block; none for one amplifier."""
        return tuple(each.branch for each in self.fed if each.branch is not None)

    @property
    def earths(self) -> tuple[Earth, ...]:
        """The earth leads; none where a cable leads back."""
        return tuple(each.earth for each in self.fed if each.earth is not None)

    @property
    def has_block(self) -> bool:
        """Whether the main run is split."""
        return bool(self.branches)


def tree_of(job: Job, loads: Sequence[TreeLoad], question: PowerQuestion) -> PowerTree | None:
    """Return the tree that an answer gives; None where no size can be told.

    question : as `power_question` asks it about these amplifiers
    """
    result = question.result
    if isinstance(result, power_cable.Result):
        return _one(job, loads[0], result)
    return None if result is None else _several(job, loads, result)


def _one(job: Job, load: TreeLoad, result: power_cable.Result) -> PowerTree | None:
    least, kit = result.chosen.offer, result.kit
    if least is None:
        return None
    cable = _cable(least, kit)
    fuse_a = result.chosen.fuse_a
    main = PowerRun(
        start="battery",
        end=load.name,
        cable=cable,
        length_m=job.system.leads.power_m,
        full_a=result.full_a,
        fuse_a=fuse_a,
        fuse_later_a=fuse_a,
    )
    fed = Fed(
        amplifier=load.name,
        is_later=False,
        branch=None,
        earth=_earth(job, load, cable),
        drop_v=result.drop_v,
        kit_drop_v=result.kit_drop_v,
    )
    return PowerTree(main=main, fed=(fed,), power_a=result.demand.full_a)


def _several(job: Job, loads: Sequence[TreeLoad], result: cable_tree.Result) -> PowerTree | None:
    plan, tree, leads = result.plan, result.tree, job.system.leads
    if plan is None:
        return None
    runs = []
    for at, run in enumerate(tree.runs):
        runs.append(
            PowerRun(
                start=run.start,
                end=run.end,
                cable=_cable(plan.offers[at], result.kit.offers[at]),
                length_m=leads.power_m if at in tree.trunks else branch_of(job),
                full_a=tree.full_currents[at],
                # Every way out of a block has its own fuse, also where the one before would do.
                fuse_a=tree.today_rating(at),
                fuse_later_a=tree.ratings[at],
            )
        )
    main, *branches = runs
    kit_drops = result.kit.full_drops_v or (None,) * len(loads)
    fed = tuple(
        Fed(
            amplifier=branch.end,
            is_later=load.is_later,
            branch=branch,
            earth=_earth(job, load, branch.cable, branch.end),
            drop_v=drop_v,
            kit_drop_v=kit_drop_v,
        )
        for load, branch, drop_v, kit_drop_v in zip(
            loads, branches, plan.drops_v, kit_drops, strict=True
        )
    )
    return PowerTree(main=main, fed=fed, power_a=tree.at_full_power.total_a)


def _cable(least: power_cable.Offer, kit: power_cable.Offer | None) -> Cable:
    """Return a cable of the least size, and as it is bought."""
    return Cable(
        size=least.size.name,
        size_mm2=least.size.area_mm2,
        kit_size=None if kit is None else kit.size.name,
        kit_mm2=None if kit is None else kit.size.area_mm2,
        permitted_a=(kit or least).permitted_a,
    )


def _earth(job: Job, load: TreeLoad, cable: Cable, name: str = "") -> Earth | None:
    if job.system.leads.return_ == "cable":
        return None
    length_m = job.system.leads.earth_m
    return Earth(amplifier=name or load.name, cable=cable, length_m=length_m)

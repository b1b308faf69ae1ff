"""The power runs of a job: sizes where lengths and powers are known, and what is missing."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.cabling.bought import Bought, bought
from calc.cabling.kit_job import Job, Route
from calc.cabling.optimum import least_conductor
from calc.cabling.tree import Load, Plan, Run, Tree
from calc.cabling.tree_inputs import load_of, main_fuse_note, settled_fuse_a
from calc.cabling.words import NO_TABLE

USUAL_EARTH_M = 0.5  # common practice, no source: where the earth lead is not measured yet
_UNMEASURED_M = 1.0  # stands for a length in the shape of a tree, never in a figure
_NOTHING_FITS = "no choice of sizes feeds the amplifiers within the rules"


@dataclass(frozen=True, kw_only=True)
class Power:
    """The runs from the battery.

    plan : least sizes and fuses; None where they cannot be told
    why : the reason then
    fuses_a : the fuse at each run's start [A], None where there is none or it is not known
    note : what the main fuse follows
    """

    tree: Tree
    plan: Plan | None
    kit: Bought
    fuses_a: tuple[float | None, ...]
    why: str
    note: str | None

    @property
    def is_refused(self) -> bool:
        """Whether lengths and powers are known, and the rules have no size for them."""
        return self.why in (_NOTHING_FITS, NO_TABLE)

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


def power_runs(routes: tuple[Route, ...], job: Job | None = None) -> tuple[Run, ...]:
    """Return the power routes as runs; with the job, each with its amplifier's earth lead."""
    found = []
    for route in routes:
        if route.what != "power":
            continue
        earth = None
        if job is not None and job.rules.return_by == "body":
            earth = job.earth_of(route.end)
        length = USUAL_EARTH_M if earth and earth.length_m is None else earth and earth.length_m
        found.append(
            Run(
                start=route.start,
                end=route.end,
                length_m=route.length_m or _UNMEASURED_M,
                earth_m=length or 0.0,
            )
        )
    return tuple(found)


def power_of(given: Mapping[str, Any], job: Job) -> Power | None:
    """Return the power runs with what feeds the amplifiers that they reach; None without any."""
    runs = power_runs(job.routes, job)
    reached = {run.end for run in runs}
    fed = [one for one in job.amplifiers if one.name in reached]
    if not runs or not fed:
        return None
    loads = tuple(
        Load(at=one.name, ampere=0.0, full_a=0.0, most_a=0.0)
        if one.power_w is None
        else load_of(given, one.name, one.power_w)
        for one in fed
    )
    lacking = [f"the power of {one.name} is not known" for one in fed if one.power_w is None]
    tree = Tree(runs=runs, loads=loads, main_fuse_a=settled_fuse_a(given, loads))
    unmeasured = [one.end for one in job.of("power") if one.length_m is None]
    why = "; ".join([*lacking, *(f"measure the run to {end}" for end in unmeasured)])
    plan = None if why else least_conductor(tree, job.rules)
    if not why and plan is None:
        why = NO_TABLE if job.rules.widest_a is None else _NOTHING_FITS
    return Power(
        tree=tree,
        plan=plan,
        kit=bought(tree, job.rules, plan),
        # A fuse follows the current alone, but none is named for a cable that nothing offers.
        fuses_a=tree.ratings
        if not lacking and why not in (_NOTHING_FITS, NO_TABLE)
        else (None,) * len(runs),
        why=why,
        note=None if lacking or plan is None else main_fuse_note(given, tree),
    )

"""Sizes and fuses for a tree of runs, and for a run of its own to each load."""

from dataclasses import dataclass, replace
from functools import cached_property

from calc.cabling.bought import Bought, bought
from calc.cabling.cable_tree.inputs import Inputs
from calc.cabling.optimum import Shortfall, least_conductor, shortfalls
from calc.cabling.sizing import Rules, rules_of
from calc.cabling.tree import Plan, Tree, drops, separate, upper_drops
from calc.cabling.tree_feed import bound_fuse_a, load_of, main_fuse_of, today_fuse_a
from calc.parts.own_draw import draw_of
from calc.physics.amplifier_draw import Duty
from calc.physics.main_fuse import MainFuse


@dataclass(frozen=True, kw_only=True)
class Result:
    """A tree and what is chosen for it.

    plan : least sizes on the tree; None where no choice of sizes does it
    in_the_way : why there is no plan
    upper_drops_v : what each load loses as class AB [V], where the class is not known
    kit : what is bought for the plan
    main_fuse : of a run that feeds every load
    """

    tree: Tree
    rules: Rules
    plan: Plan | None
    in_the_way: tuple[Shortfall, ...]
    upper_drops_v: tuple[float, ...] | None
    kit: Bought
    main_fuse: MainFuse

    @cached_property
    def apart(self) -> Plan | None:
        """The same with a run of its own for each load; a search never asks for it."""
        return separate(self.tree, self.rules)


def solve(inputs: Inputs) -> Result:
    """Size the tree, and separate runs beside it."""
    rules = rules_of(inputs.cable, inputs.way)
    loads = tuple(load_of(inputs, row, at=row.at, power_w=row.power_w) for row in inputs.loads)
    main_fuse = main_fuse_of(inputs.draw, rules, loads)
    tree = Tree(
        runs=tuple(row.run_of(inputs.way.return_by) for row in inputs.runs),
        loads=loads,
        main_fuse_a=bound_fuse_a(main_fuse),
        today_fuse_a=today_fuse_a(inputs.draw, rules, loads),
    )
    plan = least_conductor(tree, rules)
    return Result(
        tree=tree,
        rules=rules,
        plan=plan,
        in_the_way=() if plan is not None else tuple(shortfalls(tree, rules)),
        upper_drops_v=None if plan is None else upper_drops(tree, plan, rules),
        kit=bought(tree, rules, plan),
        main_fuse=main_fuse,
    )


def drops_at(inputs: Inputs, result: Result, duty: Duty) -> tuple[float, ...] | None:
    """Return what each load loses with the plan's sizes at another duty [V]."""
    if result.plan is None:
        return None
    loads = tuple(
        replace(
            load,
            ampere=draw_of(inputs.draw, row)
            .demand(power_w=row.power_w, supply_v=inputs.supply_v)
            .current(duty),
        )
        for load, row in zip(result.tree.loads, inputs.loads, strict=True)
    )
    return drops(replace(result.tree, loads=loads), result.plan.offers, result.rules)

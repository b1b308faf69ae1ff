"""What is said of a tree of runs, of a trunk with branches and of a whole job's alike."""

from calc.answers.figures import quantity
from calc.cabling.fuse_words import fuse_note
from calc.cabling.sizing import Rules
from calc.cabling.tree import Plan, Tree
from calc.cabling.tree_feed import Fed
from calc.parts.draw import Draw
from calc.physics.main_fuse import MainFuse


def main_fuse_note(inputs: Fed, tree: Tree, fuse: MainFuse) -> str | None:
    """Say what the main fuse follows; None unless one run feeds every load."""
    if len(tree.trunks) != 1 or not tree.loads:
        return None
    full_a = sum(load.full_a for load in tree.loads)
    return fuse_note(inputs.draw, fuse, supply_v=inputs.supply_v, full_a=full_a)


def dead_ends(tree: Tree) -> tuple[str, ...]:
    """Warn of runs that no load hangs on."""
    feeding = {at for path in tree.paths for at in path}
    idle = [run.end for at, run in enumerate(tree.runs) if at not in feeding]
    if not idle:
        return ()
    return (
        f"No load hangs on the run to {', '.join(idle)}: it is sized for nothing but its fuse. "
        "Give the load, or leave the run out.",
    )


def class_is_missing(tree: Tree, rules: Rules, upper_drops_v: tuple[float, ...]) -> str:
    """Say what class AB would lose at the load that loses the most."""
    worst = max(range(len(upper_drops_v)), key=lambda at: upper_drops_v[at])
    return (
        f"the class of the amplifiers is missing: class AB would lose "
        f"{quantity(upper_drops_v[worst], 'V', 3)} of {quantity(rules.max_drop_v, 'V')} at "
        f"{tree.loads[worst].at}; every fuse protects what lies behind it."
    )


def own_fuses_caution(draw: Draw, plan: Plan | None) -> tuple[str, ...]:
    """Warn where the amplifiers' own fuses let more through than the fuses at the battery."""
    total = draw.by_fuses_a
    if total is None or plan is None:
        return ()
    ends = {run.end for run in plan.runs}
    at_battery = sum(
        fuse_a or 0.0
        for run, fuse_a in zip(plan.runs, plan.fuses_a, strict=True)
        if run.start not in ends
    )
    if total <= at_battery:
        return ()
    return (
        f"The amplifiers’ own fuses come to {quantity(total, 'A')}, more than the "
        f"{quantity(at_battery, 'A')} at the battery: they may draw more than their power ratings "
        "say. Ask for the rated current, and size for that.",
    )

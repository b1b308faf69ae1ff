"""What is said of a tree of runs, of a main run with branches and of a whole job's alike."""

from dataclasses import replace

from calc.answers.figures import quantity
from calc.cabling.fuse_words import fuse_note
from calc.cabling.sizing import Rules
from calc.cabling.tree import Plan, Tree
from calc.cabling.tree_feed import Fed, fuses_total_a
from calc.parts.draw import Draw
from calc.physics.main_fuse import MainFuse


def main_fuse_note(inputs: Fed, tree: Tree, fuse: MainFuse) -> str | None:
    """Say what the main fuse follows; None unless one run feeds every load."""
    if len(tree.trunks) != 1 or not tree.loads:
        return None
    full_a = sum(load.full_a for load in tree.loads)
    draw, total = inputs.draw, fuses_total_a(inputs.draw, tree.loads)
    if total is not None:
        draw = replace(draw, amp_fuses_a=(total,))
    note = fuse_note(draw, fuse, supply_v=inputs.supply_v, full_a=full_a)
    if not tree.has_later or note is None:
        return note
    return f"once every planned amplifier is in: {note}; until then the smaller fuse listed"


def fuse_words(fitted_a: float | None, fuse_a: float | None) -> str:
    """Say which fuse a run has at its start: today, and once all that is planned is there."""
    if fuse_a is None:
        return "the fuse before it"
    if fitted_a is None:
        return f"none yet, later {quantity(fuse_a, 'A')}"
    if fitted_a != fuse_a:
        return f"{quantity(fitted_a, 'A')}, later {quantity(fuse_a, 'A')}"
    return quantity(fuse_a, "A")


def dead_ends(tree: Tree) -> tuple[str, ...]:
    """Warn of runs to which no amplifier is connected."""
    feeding = {at for path in tree.paths for at in path}
    idle = [run.end for at, run in enumerate(tree.runs) if at not in feeding]
    if not idle:
        return ()
    return (
        f"No amplifier is connected to the run to {', '.join(idle)}, so its size means nothing. "
        "Add the amplifier, or leave the run out.",
    )


def class_is_missing(tree: Tree, rules: Rules, upper_drops_v: tuple[float, ...]) -> str:
    """Say what class AB would lose at the load that loses the most."""
    worst = max(range(len(upper_drops_v)), key=lambda at: upper_drops_v[at])
    return (
        "The amplifiers’ class is not given. Class AB would drop "
        f"{quantity(upper_drops_v[worst], 'V', 3)} at {tree.loads[worst].at}, limit "
        f"{quantity(rules.max_drop_v, 'V')}. Enter the class, or size for full power."
    )


def own_fuses_caution(draw: Draw, tree: Tree, plan: Plan | None) -> tuple[str, ...]:
    """Warn where the amplifiers' own fuses let more through than the fuses at the battery."""
    total = fuses_total_a(draw, tree.loads)
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
        f"The amplifiers’ own fuses add up to {quantity(total, 'A')}, more than the "
        f"{quantity(at_battery, 'A')} at the battery: they can draw more than their RMS power "
        "suggests. Ask for the rated currents and size the cable for those.",
    )

"""What the calculator of trunk and branches says: figures, tables and words."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from calc.answers.figures import quantity
from calc.answers.sheet import Column, Figure, Quantity, Table, Verdict
from calc.cabling.bought import Bought
from calc.cabling.given import demand_of, rules_of
from calc.cabling.optimum import Shortfall
from calc.cabling.sizing import Offer, Rules
from calc.cabling.tree import Plan, Run, Tree, drops, separate_runs
from calc.cabling.words import DUTY_WORDS, MATERIAL_SHORT, NO_TABLE
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES
from calc.physics.amplifier_draw import Duty

_SPOKEN_RUNS = 5  # more are no sentence


def run_results(rules: Rules, tree: Tree, plan: Plan | None) -> list[dict[str, Any]]:
    """Return the runs with their sizes and fuses, None where there is no plan."""
    if plan:
        return _plan_runs(rules, plan)
    return [
        _run_data(rules, run, ampere, None, None)
        for run, ampere in zip(tree.runs, tree.currents, strict=True)
    ]


def _run_data(
    rules: Rules, run: Run, ampere: float, offer: Offer | None, fuse_a: float | None
) -> dict[str, Any]:
    kit = rules.kit_offer(offer)
    return {
        "from": run.start,
        "to": run.end,
        "length_m": run.length_m,
        "current_a": ampere,
        "size": offer and offer.size.name,
        "size_mm2": offer and offer.size.area_mm2,
        "fuse_a": fuse_a,
        "permitted_a": offer and offer.permitted_a,
        "kit_size": kit and kit.size.name,
        "kit_mm2": kit and kit.size.area_mm2,
        "kit_permitted_a": kit and kit.permitted_a,
    }


def _plan_runs(rules: Rules, plan: Plan) -> list[dict[str, Any]]:
    return [
        _run_data(rules, run, ampere, offer, fuse_a)
        for run, ampere, offer, fuse_a in zip(
            plan.runs, plan.currents, plan.offers, plan.fuses_a, strict=True
        )
    ]


def separate_results(rules: Rules, tree: Tree, apart: Plan | None) -> list[dict[str, Any]]:
    """Return the separate runs with their sizes and fuses, None where there is no plan."""
    if apart:
        return _plan_runs(rules, apart)
    return [
        _run_data(rules, run, load.ampere, None, None)
        for run, load in zip(separate_runs(tree), tree.loads, strict=True)
    ]


def load_results(given: Mapping[str, Any], plan: Plan | None) -> list[dict[str, Any]]:
    """Return the loads with their drops, None where there is no plan."""
    drops = plan.drops_v if plan else [None] * len(given["loads"])
    return [
        {"at": row["at"], "power_w": row["power_w"], "drop_v": drop}
        for row, drop in zip(given["loads"], drops, strict=True)
    ]


def tree_sentence(
    given: Mapping[str, Any], tree: Tree, plan: Plan | None, apart: Plan | None
) -> str:
    """Return the answer in one sentence."""
    if plan is None:
        return "No choice of sizes feeds these loads within the rules."
    runs = [
        f"{plan.offers[at].size.words} to {tree.runs[at].end}"
        + (f" behind {quantity(plan.fuses_a[at], 'A')}" if plan.fuses_a[at] else "")
        for at in tree.outward
    ]
    if len(runs) > _SPOKEN_RUNS:
        runs = [*runs[: len(tree.trunks)], f"and so on, {len(runs)} runs in all"]
    told = (
        f"Sized for {DUTY_WORDS[given['duty']]}: from the {tree.root} take at least "
        f"{', '.join(runs)}"
    )
    if not apart:
        return f"{told}: {quantity(plan.conductor_kg, 'kg', 3)} of conductor."
    return (
        f"{told}; that is {quantity(plan.conductor_kg, 'kg', 3)} of "
        f"{MATERIAL_SHORT[given['material']]}, separate runs would take "
        f"{quantity(apart.conductor_kg, 'kg', 3)}."
    )


def tree_verdict(
    tree: Tree,
    rules: Rules,
    plan: Plan | None,
    in_the_way: list[Shortfall],
    bounds: tuple[float, ...] | None,
    place: str,
) -> Verdict:
    """Judge a plan; `bounds` are the drops of class AB where the class is not known.

    place : the air that the permitted currents hold for
    """
    if plan is None:
        if rules.offers[-1].permitted_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict(
            "unsuitable", "; ".join(shortfall_words(tree, rules, one) for one in in_the_way) + "."
        )
    if bounds and not rules.keeps(max(bounds)):
        return Verdict("not known", class_is_missing(tree, rules, bounds))
    worst = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
    return Verdict(
        "suitable",
        f"at most {quantity(plan.drops_v[worst], 'V', 3)} of {quantity(rules.max_drop_v, 'V')} is "
        f"lost, at {tree.loads[worst].at}; every fuse protects what lies behind it, counted "
        f"{place}.",
    )


def shortfall_words(tree: Tree, rules: Rules, one: Shortfall) -> str:
    """Say what stands in the way of a plan, and what helps."""
    thickest = rules.offers[-1]
    if one.kind == "drop":
        return (
            f"{tree.loads[one.index].at} loses {quantity(one.figure, 'V', 3)} even with "
            f"{thickest.size.words} throughout; shorten the run, permit more, or feed it separately"
        )
    run = tree.runs[one.index]
    if thickest.permitted_a is None:
        return f"{run.start} to {run.end}: no table for this insulation"
    what = "no listed fuse fits" if one.kind == "fuse" else "no size carries them"
    return (
        f"{run.start} to {run.end}: {quantity(one.figure, 'A', 3)} at full power, {what}; "
        "feed them by two runs"
    )


def tree_figures(plan: Plan | None, apart: Plan | None) -> tuple[Figure, ...]:
    """Return the key figures."""
    if plan is None and apart is None:
        return ()
    return (
        Figure("Conductor, trunk and branches", Quantity(plan and plan.conductor_kg, "kg")),
        Figure("Conductor, separate runs", Quantity(apart and apart.conductor_kg, "kg")),
        Figure("Most lost on the way", Quantity(plan and max(plan.drops_v), "V")),
    )


def runs_table(caption: str, plan: Plan, kit: Bought | None = None) -> Table:
    """Return a plan's runs as a table, with what is bought where that is told."""
    bought = kit.offers if kit else (None,) * len(plan.runs)
    return Table(
        caption=caption,
        columns=(
            Column("From"),
            Column("To"),
            Column("Length", "m"),
            Column("Current", "A"),
            Column("Least size"),
            *((Column("To buy"),) if kit else ()),
            Column("May carry", "A"),
            Column("Fuse at its start"),
        ),
        rows=tuple(
            (
                run.start,
                run.end,
                Quantity(run.length_m),
                Quantity(ampere),
                offer.size.words,
                *((sold.size.words if sold else "none",) if kit else ()),
                Quantity(offer.permitted_a),
                quantity(fuse_a, "A") if fuse_a else "the one before",
            )
            for run, ampere, offer, sold, fuse_a in zip(
                plan.runs, plan.currents, plan.offers, bought, plan.fuses_a, strict=True
            )
        ),
    )


def loads_table(
    given: Mapping[str, Any], tree: Tree, plan: Plan | None, apart: Plan | None
) -> Table:
    """Return what each load loses by either plan, and on the tree at the other duties."""
    others = [duty for duty in DUTY_SHARES if duty != given["duty"]]
    told = [one.drops_v if one else [None] * len(given["loads"]) for one in (plan, apart)]
    told += [_at_duty(given, tree, plan, duty) for duty in others]
    return Table(
        caption=f"What each load loses at {DUTY_WORDS[given['duty']]}, and beside it at the others",
        columns=(
            Column("At"),
            Column("Power", "W"),
            Column("Trunk and branches", "V", decimals=2),
            Column("Separate runs", "V", decimals=2),
            *(Column(f"The first, {DUTY_WORDS[duty]}", "V", decimals=2) for duty in others),
        ),
        rows=tuple(
            (row["at"], Quantity(row["power_w"]), *map(Quantity, lost))
            for row, *lost in zip(given["loads"], *told, strict=True)
        ),
    )


def _at_duty(
    given: Mapping[str, Any], tree: Tree, plan: Plan | None, duty: Duty
) -> Sequence[float | None]:
    """Return what each load loses with a plan's sizes at another duty [V]."""
    if plan is None:
        return [None] * len(tree.loads)
    loads = tuple(
        replace(load, ampere=demand_of(given, row["power_w"]).current(duty))
        for load, row in zip(tree.loads, given["loads"], strict=True)
    )
    return drops(replace(tree, loads=loads), plan.offers, rules_of(given))


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


def class_ab_drops(
    given: Mapping[str, Any], tree: Tree, plan: Plan | None
) -> tuple[float, ...] | None:
    """Return what class AB amplifiers would lose on this plan, where the class is not known."""
    if plan is None or any(load.most_a is None for load in tree.loads):
        return None
    heavier = tuple(replace(load, ampere=load.most_a) for load in tree.loads)
    return drops(replace(tree, loads=heavier), plan.offers, rules_of(given))


def class_is_missing(tree: Tree, rules: Rules, bounds: tuple[float, ...]) -> str:
    """Say what class AB would lose at the load that loses the most."""
    worst = max(range(len(bounds)), key=lambda at: bounds[at])
    return (
        f"the class of the amplifiers is missing: class AB would lose "
        f"{quantity(bounds[worst], 'V', 3)} of {quantity(rules.max_drop_v, 'V')} at "
        f"{tree.loads[worst].at}; every fuse protects what lies behind it."
    )


def own_fuses_caution(given: Mapping[str, Any], plan: Plan | None) -> tuple[str, ...]:
    """Warn where the amplifiers' own fuses let more through than the fuses at the battery."""
    if not given["amp_fuses_a"] or plan is None:
        return ()
    ends = {run.end for run in plan.runs}
    at_battery = sum(
        fuse_a or 0.0
        for run, fuse_a in zip(plan.runs, plan.fuses_a, strict=True)
        if run.start not in ends
    )
    total = sum(given["amp_fuses_a"])
    if total <= at_battery:
        return ()
    return (
        f"The amplifiers’ own fuses come to {quantity(total, 'A')}, more than the "
        f"{quantity(at_battery, 'A')} at the battery: they may draw more than their power ratings "
        "say. Ask for the rated current, and size for that.",
    )


def tree_steps(
    given: Mapping[str, Any], tree: Tree, rules: Rules, plan: Plan | None
) -> tuple[str, ...]:
    """Say how it was worked out."""
    demand = demand_of(given, sum(row["power_w"] for row in given["loads"]), 0.0)
    part = ""
    if given["duty"] != "full":
        part = f" and {quantity(tree.total_a, 'A')} at {DUTY_WORDS[given['duty']]}"
    steps = [
        f"All loads together draw {quantity(demand.full_a, 'A')} at full power{part}; each run "
        "carries the sum of what hangs on it.",
        "Each run takes a size that may carry the smallest listed fuse for its own full current; "
        "that does not depend on other runs.",
        "Then the permitted drop is spent along the ways: of all choices of standard sizes that "
        "keep every load’s drop, the one with the least conductor is taken (an exact search).",
        "A fuse sits at the battery, and wherever a cable may carry less than the fuse before "
        "it lets through.",
    ]
    if plan is not None:
        far = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
        parts = " + ".join(
            quantity(
                rules.run_drop(
                    plan.offers[at], ampere=plan.currents[at], length_m=plan.runs[at].drop_m
                ),
                "V",
                3,
            )
            for at in tree.paths[far]
        )
        steps.append(
            f"{tree.loads[far].at}: {parts} along the way, and "
            f"{quantity(rules.body_drop(tree.total_a), 'V', 3)} in the body = "
            f"{quantity(plan.drops_v[far], 'V', 3)}."
        )
    return tuple(steps)

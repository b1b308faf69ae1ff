"""What the answer of `cable-tree` says: sentence, verdict, steps."""

from calc.answers.figures import quantity
from calc.answers.sheet import Verdict
from calc.cabling.cable_tree.inputs import Inputs
from calc.cabling.cable_tree.solve import Result
from calc.cabling.optimum import Shortfall
from calc.cabling.sizing import Rules
from calc.cabling.tree import Tree
from calc.cabling.tree_words import class_is_missing
from calc.cabling.words import DUTY_WORDS, MATERIAL_SHORT, NO_TABLE, place_words

_SPOKEN_RUNS = 5  # more are no sentence


def sentence(inputs: Inputs, result: Result) -> str:
    """Return the answer in one sentence."""
    tree, plan, apart = result.tree, result.plan, result.apart
    if plan is None:
        return "No choice of sizes feeds these loads within the rules."
    runs = [
        f"{plan.offers[at].size.words} to {tree.runs[at].end}"
        + (f" behind {quantity(plan.fitted_a[at], 'A')}" if plan.fitted_a[at] else "")
        for at in tree.outward
    ]
    if len(runs) > _SPOKEN_RUNS:
        runs = [*runs[: len(tree.trunks)], f"and so on, {len(runs)} runs in all"]
    start = (
        f"Sized for {DUTY_WORDS[inputs.duty]}: from the {tree.root} take at least {', '.join(runs)}"
    )
    if not apart:
        return f"{start}: {quantity(plan.conductor_kg, 'kg', 3)} of conductor."
    return (
        f"{start}; that is {quantity(plan.conductor_kg, 'kg', 3)} of "
        f"{MATERIAL_SHORT[inputs.cable.material]}, separate runs would take "
        f"{quantity(apart.conductor_kg, 'kg', 3)}."
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the plan: whether every load keeps its drop behind fuses that protect."""
    tree, rules, plan = result.tree, result.rules, result.plan
    if plan is None:
        if rules.offers[-1].permitted_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict("unsuitable", "; ".join(blocked_by(result)) + ".")
    if result.upper_drops_v and not rules.keeps(max(result.upper_drops_v)):
        return Verdict("not known", class_is_missing(tree, rules, result.upper_drops_v))
    worst = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
    return Verdict(
        "suitable",
        f"at most {quantity(plan.drops_v[worst], 'V', 3)} of {quantity(rules.max_drop_v, 'V')} is "
        f"lost, at {tree.loads[worst].at}; every fuse protects what lies behind it, counted "
        f"{place_words(inputs.cable)}.",
    )


def blocked_by(result: Result) -> list[str]:
    """Say what stands in the way of a plan, and what helps."""
    return [
        _shortfall_words(result.tree, result.rules, shortfall) for shortfall in result.in_the_way
    ]


def _shortfall_words(tree: Tree, rules: Rules, shortfall: Shortfall) -> str:
    """Say what stands in the way of a plan, and what helps."""
    thickest = rules.offers[-1]
    if shortfall.kind == "drop":
        return (
            f"{tree.loads[shortfall.index].at} loses {quantity(shortfall.figure, 'V', 3)} even "
            f"with {thickest.size.words} throughout; shorten the run, permit more, or feed it "
            "separately"
        )
    run = tree.runs[shortfall.index]
    if thickest.permitted_a is None:
        return f"{run.start} to {run.end}: no table for this insulation"
    what = "no listed fuse fits" if shortfall.kind == "fuse" else "no size carries them"
    return (
        f"{run.start} to {run.end}: {quantity(shortfall.figure, 'A', 3)} at full power, {what}; "
        "feed them by two runs"
    )


def steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    tree, rules, plan = result.tree, result.rules, result.plan
    full_a = tree.at_full_power.total_a
    part = ""
    if inputs.duty != "full":
        part = f" and {quantity(tree.total_a, 'A')} at {DUTY_WORDS[inputs.duty]}"
    lines = [
        f"All loads together draw {quantity(full_a, 'A')} at full power{part}; each run "
        "carries the sum of what hangs on it.",
        "Each run takes a size that may carry the smallest listed fuse for its own full current; "
        "that does not depend on other runs.",
        "Then the permitted drop is spent along the ways: of all choices of standard sizes that "
        "keep every load’s drop, the one with the least conductor is taken (an exact search).",
        "A fuse sits at the battery, and wherever a cable may carry less than the fuse before "
        "it lets through.",
    ]
    if tree.has_later:
        lines.append(
            "What is planned for later counts in every cable, holder and block. The fuses are "
            "those for today; change them when it is put in."
        )
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
        lines.append(
            f"{tree.loads[far].at}: {parts} along the way, and "
            f"{quantity(rules.body_drop(tree.total_a), 'V', 3)} in the body = "
            f"{quantity(plan.drops_v[far], 'V', 3)}."
        )
    return tuple(lines)

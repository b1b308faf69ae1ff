"""What the answer of `cable-tree` says: sentence, verdict, steps."""

from calc.answers.figures import quantity
from calc.answers.sheet import Verdict
from calc.cabling.cable_tree.inputs import Inputs
from calc.cabling.cable_tree.solve import Result
from calc.cabling.optimum import Shortfall
from calc.cabling.sizing import Rules
from calc.cabling.tree import Plan, Tree
from calc.cabling.tree_words import class_is_missing
from calc.cabling.words import DUTY_WORDS, NO_TABLE, as_sentence, place_words

_SPOKEN_RUNS = 5  # more are no sentence
_EVEN = 0.01  # a difference that nobody weighs


def sentence(inputs: Inputs, result: Result) -> str:
    """Return the answer in a sentence or two, with the condition that it holds for."""
    tree, plan, apart = result.tree, result.plan, result.apart
    if plan is None:
        return "No cable in this list can feed these amplifiers safely."
    runs = [_run_words(result, plan, at) for at in tree.outward]
    if len(runs) > _SPOKEN_RUNS:
        runs = [*runs[: len(tree.trunks)], f"and so on, {len(runs)} runs in all"]
    start = f"Sized for {DUTY_WORDS[inputs.duty]}: {'; '.join(runs)}."
    return f"{start} {_beside(inputs, plan, apart)}" if apart else start


def _run_words(result: Result, plan: Plan, at: int) -> str:
    """Say what is bought for a run, and its fuse."""
    tree, kit = result.tree, result.kit.offers[at]
    run, fuse_a, size = tree.runs[at], plan.fitted_a[at], (kit or plan.offers[at]).size.words
    if at in tree.trunks:
        fused = f", fused at {quantity(fuse_a, 'A')}," if fuse_a else ""
        return f"run {size} from the {tree.root}{fused} to {run.end}"
    fused = f" ({quantity(fuse_a, 'A')})" if fuse_a else ""
    return f"then {size}{fused} to {run.end}"


def _beside(inputs: Inputs, plan: Plan, apart: Plan) -> str:
    """Say what separate runs would take instead."""
    metal = "copper" if inputs.cable.material == "copper" else "metal"
    share = apart.conductor_kg / plan.conductor_kg - 1
    if abs(share) < _EVEN:
        return f"Separate runs would use about as much {metal}."
    word = "more" if share > 0 else "less"
    return f"Separate runs would use {quantity(100 * abs(share), '%', 2)} {word} {metal}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the plan: whether every load keeps its drop behind fuses that protect."""
    tree, rules, plan = result.tree, result.rules, result.plan
    if plan is None:
        if rules.offers[-1].permitted_a is None:
            return Verdict("not known", as_sentence(NO_TABLE))
        return Verdict("unsuitable", ". ".join(blocked_by(result)) + ".")
    if result.upper_drops_v and not rules.keeps(max(result.upper_drops_v)):
        return Verdict("not known", class_is_missing(tree, rules, result.upper_drops_v))
    worst = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
    return Verdict(
        "suitable",
        f"The worst drop is {quantity(plan.drops_v[worst], 'V', 3)} in the minimum sizes, at "
        f"{tree.loads[worst].at}; the limit is {quantity(rules.max_drop_v, 'V')}. Every fuse "
        f"protects its cable, rated {place_words(inputs.cable)}.",
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
            f"Even {thickest.size.words} all the way drops {quantity(shortfall.figure, 'V', 3)} at "
            f"{tree.loads[shortfall.index].at}; shorten the run, allow a larger drop, or give it "
            "a cable of its own"
        )
    run = tree.runs[shortfall.index]
    if thickest.permitted_a is None:
        return f"{run.start} to {run.end}: no current ratings for this insulation"
    what = (
        "no cable is rated for its fuse"
        if shortfall.kind == "fuse"
        else "no cable is rated for that"
    )
    return (
        f"{run.start} to {run.end}: {quantity(shortfall.figure, 'A', 3)} at full power, {what}; "
        "split it over two runs"
    )


def steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    tree, rules, plan = result.tree, result.rules, result.plan
    full_a = tree.at_full_power.total_a
    part = ""
    if inputs.duty != "full":
        part = f" and {quantity(tree.total_a, 'A')} at {DUTY_WORDS[inputs.duty]}"
    lines = [
        f"All amplifiers together draw {quantity(full_a, 'A')} at full power{part}; each run "
        "carries the current of everything connected beyond it.",
        "Each run is rated for the smallest fuse that carries its own full current.",
        "Then every combination of standard sizes that keeps each amplifier’s drop within the "
        "limit is compared, and the one with the least metal is taken (an exact search).",
        "A fuse goes at the battery, and wherever a cable is rated for less than the fuse before "
        "it.",
        "Size to buy: the next one that shops stock, for branches too, so none is below 8 AWG or "
        "10 mm². A branch in its minimum size is just as safe behind its own fuse.",
    ]
    if tree.has_later:
        lines.append(
            "Cables, fuse holders and the block are sized for what is planned too. The fuses are "
            "those for today; change them when the amplifier goes in."
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
            f"Drop at {tree.loads[far].at}: {parts} in the cable and "
            f"{quantity(rules.body_drop(tree.total_a), 'V', 3)} in the vehicle body = "
            f"{quantity(plan.drops_v[far], 'V', 3)}."
        )
    return tuple(lines)

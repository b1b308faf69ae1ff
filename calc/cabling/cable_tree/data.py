"""The results of `cable-tree` in the contract."""

from calc.cabling.cable_tree.inputs import Inputs
from calc.cabling.cable_tree.solve import Result
from calc.cabling.cable_tree.words import blocked_by
from calc.cabling.sizing import Offer, Rules
from calc.cabling.tree import Plan, Run, Tree, separate_runs
from calc.cabling.tree_feed import fuses_total_a
from calc.cabling.tree_words import main_fuse_note


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    tree, plan, apart, nothing = result.tree, result.plan, result.apart, (None,) * len(inputs.loads)
    return {
        "runs": _run_results(result.rules, tree, plan),
        "loads": [
            load | {"drop_ab_v": drop_ab_v, "kit_drop_v": kit_drop_v}
            for load, drop_ab_v, kit_drop_v in zip(
                _load_results(inputs, plan),
                result.upper_drops_v or nothing,
                result.kit.full_drops_v or nothing,
                strict=True,
            )
        ],
        "main_fuse_a": main_fuse_a(tree, plan),
        "fuse_note": main_fuse_note(inputs, tree, result.main_fuse) if plan else None,
        "current_by_fuses_a": fuses_total_a(inputs.draw, tree.loads),
        "copper_kg": plan.conductor_kg if plan else None,
        "separate": {
            "runs": _separate_results(result.rules, tree, apart),
            "loads": _load_results(inputs, apart),
            "copper_kg": apart.conductor_kg if apart else None,
        },
        "blocked_by": blocked_by(result),
    }


def main_fuse_a(tree: Tree, plan: Plan | None) -> float | None:
    """Return the fuse at the battery [A]; None unless one run leaves it, or without a plan."""
    if plan is None or len(tree.trunks) != 1:
        return None
    return plan.fitted_a[tree.trunks[0]]


def _run_results(rules: Rules, tree: Tree, plan: Plan | None) -> list[dict[str, object]]:
    """Return the runs with their sizes and fuses, None where there is no plan."""
    if plan:
        return _plan_runs(rules, plan)
    return [
        _run_data(rules, run, ampere, None, None, None)
        for run, ampere in zip(tree.runs, tree.currents, strict=True)
    ]


def _run_data(
    rules: Rules,
    run: Run,
    ampere: float,
    offer: Offer | None,
    fitted_a: float | None,
    fuse_a: float | None,
) -> dict[str, object]:
    """Return a run as data.

    fitted_a, fuse_a : its fuse today, and with what is planned for later [A]
    """
    kit = rules.kit_offer(offer)
    return {
        "from": run.start,
        "to": run.end,
        "length_m": run.length_m,
        "current_a": ampere,
        "size": offer and offer.size.name,
        "size_mm2": offer and offer.size.area_mm2,
        "fuse_a": fitted_a,
        "fuse_later_a": fuse_a,
        "permitted_a": offer and offer.permitted_a,
        "kit_size": kit and kit.size.name,
        "kit_mm2": kit and kit.size.area_mm2,
        "kit_permitted_a": kit and kit.permitted_a,
    }


def _plan_runs(rules: Rules, plan: Plan) -> list[dict[str, object]]:
    return [
        _run_data(rules, run, ampere, offer, fitted_a, fuse_a)
        for run, ampere, offer, fitted_a, fuse_a in zip(
            plan.runs, plan.currents, plan.offers, plan.fitted_a, plan.fuses_a, strict=True
        )
    ]


def _separate_results(rules: Rules, tree: Tree, apart: Plan | None) -> list[dict[str, object]]:
    """Return the separate runs with their sizes and fuses, None where there is no plan."""
    if apart:
        return _plan_runs(rules, apart)
    return [
        _run_data(rules, run, load.ampere, None, None, None)
        for run, load in zip(separate_runs(tree), tree.loads, strict=True)
    ]


def _load_results(inputs: Inputs, plan: Plan | None) -> list[dict[str, object]]:
    """Return the loads with their drops, None where there is no plan."""
    drops_v = plan.drops_v if plan else (None,) * len(inputs.loads)
    return [
        {"at": row.at, "power_w": row.power_w, "drop_v": drop_v, "later": row.later}
        for row, drop_v in zip(inputs.loads, drops_v, strict=True)
    ]

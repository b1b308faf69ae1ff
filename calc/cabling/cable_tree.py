"""The calculator `cable-tree`: one trunk with branches, sized for the least conductor."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed
from calc.answers.sheet import Sheet
from calc.cabling.bought import Bought, bought
from calc.cabling.drawings import tree_drawing
from calc.cabling.fields import CABLE_FIELDS, CABLE_GROUPS, DEMAND_FIELDS
from calc.cabling.given import place_unknown, place_words, rules_of
from calc.cabling.optimum import least_conductor, shortfalls
from calc.cabling.tree import Plan, separate
from calc.cabling.tree_inputs import LOADS, RUNS, check, main_fuse_note, tree_of
from calc.cabling.tree_words import (
    class_ab_drops,
    dead_ends,
    load_results,
    loads_table,
    own_fuses_caution,
    run_results,
    runs_table,
    separate_results,
    shortfall_words,
    tree_figures,
    tree_sentence,
    tree_steps,
    tree_verdict,
)
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD,
    DUTIES,
    FUSES,
    KIT_FUSE,
    KIT_METAL,
    LEAST_SIZE,
    PERMITTED,
    RESISTANCE,
)


def cable_tree(given: Mapping[str, Any]) -> Sheet:
    """Compute `cable-tree`."""
    tree, rules = tree_of(given), rules_of(given)
    plan, apart = least_conductor(tree, rules), separate(tree, rules)
    in_the_way = shortfalls(tree, rules)
    bounds, kit = class_ab_drops(given, tree, plan), bought(tree, rules, plan)
    return Sheet(
        sentence=tree_sentence(given, tree, plan, apart),
        verdict=tree_verdict(tree, rules, plan, in_the_way, bounds, place_words(given)),
        results={
            "runs": run_results(rules, tree, plan),
            "loads": [
                one | {"drop_ab_v": bound, "kit_drop_v": kit_drop_v}
                for one, bound, kit_drop_v in zip(
                    load_results(given, plan),
                    bounds or [None] * len(given["loads"]),
                    kit.full_drops_v or [None] * len(given["loads"]),
                    strict=True,
                )
            ],
            "fuse_note": main_fuse_note(given, tree) if plan else None,
            "current_by_fuses_a": sum(given["amp_fuses_a"]) if given["amp_fuses_a"] else None,
            "copper_kg": plan.conductor_kg if plan else None,
            "separate": {
                "runs": separate_results(rules, tree, apart),
                "loads": load_results(given, apart),
                "copper_kg": apart.conductor_kg if apart else None,
            },
            "blocked_by": [shortfall_words(tree, rules, one) for one in in_the_way],
        },
        figures=tree_figures(plan, apart),
        drawings=(tree_drawing("Trunk and branches", tree, plan),) if plan else (),
        tables=(
            *((runs_table("Trunk and branches: least conductor", plan, kit),) if plan else ()),
            *((loads_table(given, tree, plan, apart),) if plan or apart else ()),
            *(
                (runs_table("The same with a run of its own for each load", apart),)
                if apart
                else ()
            ),
        ),
        cautions=(
            *dead_ends(tree),
            *own_fuses_caution(given, plan),
            *_not_sold(plan, kit),
            *((CLAD,) if given["material"] != "copper" else (KIT_METAL,)),
            KIT_FUSE,
            "Branches are bought in the same sizes as the trunk, none below 8 AWG or 10 mm²; the "
            "least size does too, behind its own fuse.",
            "A branch without a fuse of its own is protected by the one before it. Whoever "
            "later lays a thinner cable there must add a fuse.",
            *CABLE_CAUTIONS,
        ),
        steps=tree_steps(given, tree, rules, plan),
        unknowns=(
            *place_unknown(given),
            "Where the places are in the vehicle, and whether a distribution block fits there.",
            "The class of the amplifiers, unless it is given: class AB draws more at part power.",
            "Temperature, bundle and engine space count for every run alike.",
            "Offcuts, sheaths and joints: the mass is that of the positive conductors.",
        ),
        sources=(
            RESISTANCE,
            PERMITTED,
            LEAST_SIZE,
            FUSES,
            DUTIES,
            "Density: 8,890 kg/m³, IEC 60028; copper-clad aluminium by ASTM B566 (from memory).",
        ),
    )


def _not_sold(plan: Plan | None, kit: Bought) -> tuple[str, ...]:
    """Say so where a run is thicker than any size in which cable is usually bought."""
    if plan is None or None not in kit.offers:
        return ()
    ends = [run.end for run, offer in zip(plan.runs, kit.offers, strict=True) if offer is None]
    return (
        f"No size in which cable is usually bought does it for the run to {listed(ends)}: order "
        "the least size by the metre.",
    )


# Twelve runs: a trunk, a chain of blocks and loads on all of them.
_HEAVIEST = {
    "runs": ";".join(
        [
            "battery,a,3", "a,b,1.1", "b,c,0.9", "c,d,1.3", "d,e,0.7", "e,f,1.7",
            "a,1,0.5", "b,2,0.8", "c,3,0.6", "d,4,1.2", "e,5,0.4", "f,6,0.9",
        ]
    ),
    "loads": "1,120;2,90;3,210;4,75;5,160;6,140",
    "max_drop_v": "0.7",
    "sizes": "awg",
}  # fmt: skip

CABLE_TREE = Calculator(
    name="cable-tree",
    title="Trunk and branches",
    question="One big cable to the back and branches there, or a run for each amplifier?",
    fields=(RUNS, LOADS, *DEMAND_FIELDS, *CABLE_FIELDS),
    groups=(
        ("The runs", ("runs", "loads")),
        (
            "The amplifiers",
            (
                "efficiency_percent",
                "supply_v",
                "duty",
                "amplifier_class",
                "idle_w",
                "regulated_min_v",
                "amp_fuses_a",
                "maker_fuse_a",
            ),
        ),
        *CABLE_GROUPS,
    ),
    compute=cable_tree,
    check=check,
    heaviest=_HEAVIEST,
)

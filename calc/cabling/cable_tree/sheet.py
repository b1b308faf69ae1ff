"""What the answer of `cable-tree` holds."""

from calc.answers.calculator import Calculator
from calc.answers.figures import listed
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.cabling.bought import Bought
from calc.cabling.cable_tree.data import data
from calc.cabling.cable_tree.inputs import CHECKS, FORM, ORDER, Inputs
from calc.cabling.cable_tree.solve import Result, solve
from calc.cabling.cable_tree.tables import loads_table, runs_table
from calc.cabling.cable_tree.words import judge, sentence, steps
from calc.cabling.tree import Plan
from calc.cabling.tree_drawing import tree_drawing
from calc.cabling.tree_words import dead_ends, own_fuses_caution
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD_KIT,
    KIT,
    RULES_WIN,
    RUN_SOURCES,
    five,
    place_unknown,
)

_FUSED_BRANCHES = (
    "A branch without a fuse of its own relies on the fuse before it: whoever fits a thinner cable "
    "there later must add a fuse. Write that on the block."
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    plan, apart = result.plan, result.apart
    return Sheet(
        sentence=sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(plan, apart),
        drawings=(tree_drawing("Main power run and branches", result.tree, plan),) if plan else (),
        tables=(
            *(
                (runs_table("runs", "Main power run and branches: least metal", plan, result.kit),)
                if plan
                else ()
            ),
            *((loads_table(inputs, result),) if plan or apart else ()),
            *(
                (
                    runs_table(
                        "separate", "The same job with a separate run to each amplifier", apart
                    ),
                )
                if apart
                else ()
            ),
        ),
        cautions=five(
            dead_ends(result.tree),
            own_fuses_caution(inputs.draw, result.tree, plan),
            (KIT if inputs.cable.material == "copper" else CLAD_KIT, *CABLE_CAUTIONS),
            (_FUSED_BRANCHES,),
        ),
        steps=steps(inputs, result),
        unknowns=(
            *_not_sold(plan, result.kit),
            *place_unknown(inputs.cable),
            "Where everything goes in the vehicle, and whether a distribution block fits there.",
            "The amplifiers’ class, unless it is given: class AB draws more below full power.",
            "Runs that differ in air temperature or bundling: all are treated alike.",
            "Offcuts, insulation and connections: the mass is that of the positive conductors.",
            RULES_WIN,
        ),
        sources=RUN_SOURCES,
    )


def _mass(plan: Plan | None) -> Quantity:
    return Quantity(plan.conductor_kg if plan else None, "kg")


def _figures(plan: Plan | None, apart: Plan | None) -> tuple[Figure, ...]:
    if plan is None and apart is None:
        return ()
    return (
        Figure("Metal, main run and branches", _mass(plan)),
        Figure("Metal, separate runs", _mass(apart)),
        Figure(
            "Worst voltage drop, minimum sizes", Quantity(max(plan.drops_v) if plan else None, "V")
        ),
    )


def _not_sold(plan: Plan | None, kit: Bought) -> tuple[str, ...]:
    """Say so where a run is thicker than any size in which cable is usually bought."""
    if plan is None or None not in kit.offers:
        return ()
    ends = [run.end for run, offer in zip(plan.runs, kit.offers, strict=True) if offer is None]
    return (
        f"A stocked size for the run to {listed(ends)}: it needs more than shops usually sell, so "
        "order the minimum size by the metre.",
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
    title="One main run or several",
    question="One big cable to the back and branches there, or a cable for each amplifier?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
    heaviest=_HEAVIEST,
)

"""What the answer of `wire-facts` holds."""

from calc.answers.calculator import Calculator
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet
from calc.cabling.wire_facts.drawing import discs
from calc.cabling.wire_facts.inputs import FORM, WAYS, Inputs
from calc.cabling.wire_facts.solve import Result, solve
from calc.cabling.wire_facts.tables import materials_table, neighbours_table
from calc.cabling.wire_facts.words import (
    STANDARD_MM2,
    cable_name,
    current_unknown,
    judge_claim,
    sentence,
    steps,
)
from calc.cabling.words import (
    CLAD,
    CURRENT_RATINGS,
    FUSE_RULE,
    RESISTANCE,
    RULES_WIN,
    place_unknown,
)
from calc.physics.conductors import awg_area_mm2, metric_size, round_diameter_mm


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    size = result.size
    return Sheet(
        sentence=sentence(inputs, result),
        verdict=judge_claim(inputs, result),
        results=data(inputs, result),
        figures=(
            Figure("Size", Quantity(size.area_mm2, "mm²")),
            Figure(
                "Diameter, as a solid wire",
                Quantity(result.diameter_mm, "mm"),
            ),
            Figure("Resistance", Quantity(1000 * result.ohm_per_m, "mΩ/m")),
            Figure("Current rating", Quantity(result.permitted_a, "A")),
            Figure("Largest fuse", Quantity(result.fuse_a, "A")),
        ),
        drawings=(_drawing(inputs, result),),
        tables=(materials_table(inputs, size), neighbours_table(inputs, size)),
        cautions=(
            FUSE_RULE,
            *((CLAD,) if inputs.material != "copper" else ()),
            "A live strand burns and shorts: measure strands only on the cut end of a cable that "
            "is "
            "connected to nothing.",
            RULES_WIN,
        ),
        steps=steps(inputs, result),
        unknowns=(
            "What the strands are made of. Scrape one with a knife: copper-clad aluminium is "
            "silver "
            "inside, tinned copper is copper-coloured inside.",
            "How tightly the strands are twisted: we allow 2 % for it; fine rope-lay cable can "
            "reach "
            "6 %.",
            *place_unknown(inputs.limits),
            *(current_unknown(inputs) if result.permitted_a is None else ()),
        ),
        sources=(*CURRENT_RATINGS, "fuse-ratings", "fuse-size-boats", *RESISTANCE, "strand-lay"),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "diameter_mm": result.diameter_mm,
        "area_mm2": result.size.area_mm2,
        "mohm_per_m": 1000 * result.ohm_per_m,
        "permitted_a": result.permitted_a,
        "largest_fuse_a": result.fuse_a,
        "nearest_awg": result.gauge,
        "kg_per_m": result.size.kg_per_m(inputs.material),
        "same_as_copper_mm2": result.same_as_copper_mm2,
        "share_of_sold_percent": result.share_of_sold_percent,
    }


def _drawing(inputs: Inputs, result: Result) -> Drawing:
    size = result.size
    rows = [(cable_name(inputs, size), result.diameter_mm)]
    beside = inputs.sold_as_awg or result.gauge
    if beside and f"{beside} AWG" != size.name:
        rows.append((f"{beside} AWG", round_diameter_mm(area_mm2=awg_area_mm2(beside))))
    metric = min(STANDARD_MM2, key=lambda area_mm2: abs(area_mm2 - size.area_mm2))
    if inputs.mm2 != metric:
        rows.append((metric_size(metric).name, round_diameter_mm(area_mm2=metric)))
    return discs("The cable beside the nearest standard sizes", rows)


WIRE_FACTS = Calculator(
    name="wire-facts",
    title="Is this cable what it says?",
    question="What size is this cable really, and what is it rated for?",
    inputs=Inputs,
    groups=FORM,
    alternatives=WAYS,
    solve=solve,
    present=present,
)

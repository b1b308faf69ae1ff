"""What the answer of `cable-chart` holds."""

from calc.answers.calculator import Calculator
from calc.answers.figures import THIN_SPACE, quantity, rounded
from calc.answers.sheet import Column, Quantity, Sheet, Table, Verdict
from calc.cabling.cable_chart.inputs import CLAD_OPTIONS, FORM, ORDER, Inputs
from calc.cabling.cable_chart.solve import Chart, ChartRow, Result, solve
from calc.cabling.sizing import Limit, RunChoice
from calc.cabling.words import (
    DUTY_WORDS,
    FUSE,
    NO_TABLE,
    RULES_WIN,
    RUN_SOURCES,
    as_sentence,
    place_unknown,
    place_words,
)
from calc.physics.conductors import Material
from calc.physics.permitted_current import INSULATION_C

_MARKS: dict[Limit, str] = {"drop": "d", "heat": "h", "fuse": "f"}
_METALS: dict[Material, str] = {
    "copper": "Copper",
    **dict(CLAD_OPTIONS),
}


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer: four charts from the same function as a single run."""
    return Sheet(
        sentence=(
            "Power down the side, cable length along the top: read off the smallest safe cable and "
            f"its fuse. Sized for {DUTY_WORDS[inputs.duty]} with a drop of at most "
            f"{quantity(inputs.way.max_drop_v, 'V')}, {place_words(inputs.limits)}."
        ),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        tables=tuple(_table(inputs, chart) for chart in result.charts),
        cautions=(FUSE, RULES_WIN),
        steps=(
            "Each square is the answer of the power cable calculator for the same figures.",
            f"Full current: power ÷ ({rounded(inputs.efficiency_percent)} % × "
            f"{quantity(inputs.supply_v, 'V')}). The fuse is the smallest that carries it, and "
            "every "
            "cable is rated for its fuse.",
        ),
        unknowns=(
            *place_unknown(inputs.limits),
            "Poor connections, undersized cable, regulated amplifiers and an amplifier’s own "
            "fuses: "
            "use the power cable calculator for that run.",
        ),
        sources=RUN_SOURCES,
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether every cell has a size."""
    offered, every = result.offered, len(result.cells)
    if not offered and inputs.limits.insulation_c != INSULATION_C:
        return Verdict("not known", as_sentence(NO_TABLE))
    if offered < every:
        return Verdict(
            "unsuitable",
            f"{every - offered} of {every} squares have no cable that is safe. Split the power "
            "over "
            "several runs.",
        )
    return Verdict(
        "suitable", f"Every square of the {every} has a cable and a fuse that protects it."
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "charts": [
            {
                "material": chart.material,
                "sizes": chart.system,
                "cells": [
                    _cell_data(row, length_m, cell, drop_v)
                    for row in chart.rows
                    for length_m, cell, drop_v in zip(
                        inputs.lengths_m, row.cells, row.drops_v, strict=True
                    )
                ],
            }
            for chart in result.charts
        ]
    }


def _cell_data(
    row: ChartRow, length_m: float, cell: RunChoice, drop_v: float | None
) -> dict[str, object]:
    return {
        "power_w": row.power_w,
        "length_m": length_m,
        "size": cell.offer and cell.offer.size.name,
        "size_mm2": cell.offer and cell.offer.size.area_mm2,
        "fuse_a": cell.fuse_a,
        "limited_by": cell.limited_by,
        "drop_v": drop_v,
    }


def _table(inputs: Inputs, chart: Chart) -> Table:
    unit = "mm²" if chart.system == "metric" else "AWG"
    return Table(
        name=f"{chart.material}-{chart.system}",
        caption=f"{_METALS[chart.material]}, {unit}",
        columns=(
            Column("Power", "W"),
            Column("Fuse", "A"),
            *(Column(quantity(length_m, "m")) for length_m in inputs.lengths_m),
        ),
        rows=tuple(
            (Quantity(row.power_w), Quantity(row.fuse_a), *(_cell_text(cell) for cell in row.cells))
            for row in chart.rows
        ),
        note="d, h, f: voltage drop, heat at full power or the fuse decides. –: no size is enough. "
        f"Current ratings: 33 CFR 183.425 (boats), {place_words(inputs.limits)}, cable marked "
        "105 °C, laid alone unless set otherwise; ratings of CCA and of metric sizes are our own "
        "working. Nothing thinner than 16 AWG or 1.5 mm². Buy the next of 8, 4, 2, 1/0 AWG or 10, "
        "20, 35, 50 mm².",
    )


def _cell_text(cell: RunChoice) -> str:
    if cell.offer is None:
        return "–"
    size = cell.offer.size.name.removesuffix(" mm²").removesuffix(" AWG")
    return f"{size}{THIN_SPACE}{_MARKS[cell.limited_by]}"


CABLE_CHART = Calculator(
    name="cable-chart",
    title="Cable chart",
    question="Which cable and which fuse, by power and length?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    solve=solve,
    judge=judge,
    present=present,
)

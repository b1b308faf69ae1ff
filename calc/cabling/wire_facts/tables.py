"""The tables of `wire-facts`: its metal and others, the sizes around it."""

from calc.answers.figures import quantity
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.cabling.wire_facts.inputs import Inputs
from calc.cabling.wire_facts.solve import permitted_a
from calc.cabling.words import MATERIAL_WORDS
from calc.physics.conductors import (
    METRIC_SIZES,
    RESISTIVITY_RATIO,
    Size,
    awg_size,
    nearest_awg,
    round_diameter_mm,
)
from calc.physics.permitted_current import PERMITTED_A, largest_fuse


def materials_table(inputs: Inputs, size: Size) -> Table:
    """Return the same size in each metal."""
    rows: list[tuple[Cell, ...]] = []
    for material, words in MATERIAL_WORDS.items():
        may_carry_a = permitted_a(inputs, size, material)
        per_m = size.ohm_per_m(material=material, conductor_c=inputs.conductor_c)
        rows.append(
            (
                words,
                Quantity(1000 * per_m),
                Quantity(may_carry_a),
                Quantity(largest_fuse(may_carry_a)),
                Quantity(size.area_mm2 / RESISTIVITY_RATIO[material]),
                Quantity(1000 * size.kg_per_m(material)),
            )
        )
    return Table(
        name="materials",
        caption=f"The same size in each metal: {quantity(size.area_mm2, 'mm²', 3)}",
        columns=(
            Column("Metal"),
            Column("Resistance", "mΩ/m"),
            Column("Current rating", "A"),
            Column("Largest fuse", "A"),
            Column("Equal to copper", "mm²"),
            Column("Mass", "g/m"),
        ),
        rows=tuple(rows),
        marked=list(MATERIAL_WORDS).index(inputs.material),
    )


def neighbours_table(inputs: Inputs, size: Size) -> Table:
    """Return the metric and AWG sizes around a cable, by area."""
    around = [metric for metric in METRIC_SIZES if 0.3 < metric.area_mm2 / size.area_mm2 < 3]
    gauge = nearest_awg(area_mm2=size.area_mm2)
    if gauge:
        around += [awg_size(awg) for awg in _gauges_around(gauge)]
    # A size that reads like a standard one stands in its place.
    by_name = {neighbour.name: neighbour for neighbour in around} | {size.name: size}
    ordered = sorted(by_name.values(), key=lambda neighbour: neighbour.area_mm2)
    rows: list[tuple[Cell, ...]] = []
    for neighbour in ordered:
        is_gauge = neighbour.name.endswith("AWG")
        may_carry_a = None
        if not is_gauge or neighbour.name.removesuffix(" AWG") in PERMITTED_A:
            may_carry_a = inputs.limits.permitted_a(neighbour, inputs.material)
        per_m = neighbour.ohm_per_m(material=inputs.material, conductor_c=inputs.conductor_c)
        rows.append(
            (
                neighbour.name,
                Quantity(neighbour.area_mm2),
                Quantity(round_diameter_mm(area_mm2=neighbour.area_mm2)),
                Quantity(1000 * per_m),
                Quantity(may_carry_a),
                Quantity(largest_fuse(may_carry_a)),
            )
        )
    return Table(
        name="neighbours",
        caption=f"Nearby sizes, {MATERIAL_WORDS[inputs.material]}",
        columns=(
            Column("Size"),
            Column("Area", "mm²"),
            Column("Diameter, solid", "mm"),
            Column("Resistance", "mΩ/m"),
            Column("Current rating", "A"),
            Column("Largest fuse", "A"),
        ),
        rows=tuple(rows),
        marked=ordered.index(size),
        note="A stranded conductor is about 15 % thicker than a solid one, and the insulation "
        "comes "
        "on top.",
    )


def _gauges_around(gauge: str) -> list[str]:
    order = [f"{n}/0" for n in (4, 3, 2, 1)] + [str(n) for n in range(1, 41)]
    at = order.index(gauge)
    return order[max(0, at - 3) : at + 4]

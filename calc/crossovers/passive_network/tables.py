"""Drawings and tables of `passive-network`."""

import math
from collections.abc import Callable

from calc.answers.drawing import DASHES
from calc.answers.figures import quantity
from calc.answers.plots import LEVELS, Curve, plot
from calc.answers.sheet import Cell, Column, Drawing, Quantity, Table
from calc.crossovers.circuits import circuit_drawing
from calc.crossovers.filter_words import FREQUENCY_COLUMN
from calc.crossovers.passive_network.inputs import Inputs
from calc.crossovers.passive_network.solve import Result, Stress, stresses
from calc.physics.filter_sums import THIRD_OCTAVES_HZ, grid_hz
from calc.physics.filters import Filter, level_db
from calc.physics.ladder import Component

_PER_OCTAVE = 6


def value_words(part: Component) -> str:
    """Return a part's value as the trade writes it."""
    if part.part == "inductor":
        return quantity(part.value * 1e3, "mH", 3)
    return quantity(part.value * 1e6, "µF", 3)


def named_parts(result: Result) -> list[tuple[str, Component]]:
    """Return the ladder’s parts as bought, with their names in the drawing."""
    return [
        (branch.name, part)
        for branch, part in zip(result.built.branches, result.bought, strict=False)
    ]


def network_drawing(result: Result) -> Drawing:
    """Draw the circuit with the parts to buy."""
    values = {name: value_words(part) for name, part in named_parts(result)}
    if result.pad is not None and result.pad.shunt_ohm is not None:
        values |= {
            "R1": quantity(result.pad.series_ohm, "Ω"),
            "R2": quantity(result.pad.shunt_ohm, "Ω"),
        }
    if result.levelled is not None:
        values |= {
            "R3": quantity(result.levelled.ohm, "Ω"),
            "C0": quantity(result.levelled.farad * 1e6, "µF", 3),
        }
    return circuit_drawing("The passive crossover with stock values", result.built, values)


def level_drawing(inputs: Inputs, result: Result) -> Drawing:
    """Draw the level at the driver, as meant and as built."""
    grid = grid_hz(inputs.frequency_hz, per_octave=_PER_OCTAVE)
    ideal = _meant(inputs)
    side = inputs.side == "high-pass"
    # Where an ideal slope is some 10 dB down, there is room beside it.
    away = math.sqrt(10) ** (1 / inputs.order)
    name_hz = inputs.frequency_hz * (1 / away if side else away)

    def points(level: Callable[[float], float]) -> tuple[tuple[float, float], ...]:
        return tuple((hz, level(hz)) for hz in grid)

    return plot(
        "Level at the speaker",
        "Level in decibels over frequency from 20 Hz to 20 kHz: the ideal filter dashed, the "
        "crossover as drawn on the speaker as entered heavy. The table gives the values.",
        (
            LEVELS.showing(
                Curve(
                    name="ideal",
                    points=points(lambda hz: level_db(ideal.response(hz))),
                    dash=DASHES[1],
                    name_at=(name_hz, level_db(ideal.response(name_hz))),
                    name_side="left" if side else "right",
                ),
                Curve(
                    name="as built",
                    points=points(lambda hz: level_db(result.built.response(hz))),
                    is_heavy=True,
                    name_at=(inputs.frequency_hz * (3 if side else 1 / 3), result.passband_db - 5),
                ),
            ),
        ),
        name="level",
    )  # fmt: skip


def parts_table(result: Result) -> Table:
    """Return the parts with exact and preferred values."""
    rows: list[tuple[Cell, ...]] = []
    for name, part in named_parts(result):
        ideal = result.exact[part.position - 1]
        scale, unit = (1e3, "mH") if part.part == "inductor" else (1e6, "µF")
        rows.append(
            (
                name,
                part.part,
                "in series" if part.place == "series" else "across",
                Quantity(ideal.value * scale, unit),
                Quantity(part.value * scale, unit),
                Quantity(100 * (part.value / ideal.value - 1), "%"),
            )
        )
    if result.pad is not None and result.pad.shunt_ohm is not None:
        rows += [
            ("R1", "resistor", "in series", "–", Quantity(result.pad.series_ohm, "Ω"), "–"),
            ("R2", "resistor", "across", "–", Quantity(result.pad.shunt_ohm, "Ω"), "–"),
        ]
    if result.levelled is not None:
        farad = Quantity(result.levelled.farad * 1e6, "µF")
        rows += [
            ("R3", "resistor", "across, with C0", "–", Quantity(result.levelled.ohm, "Ω"), "–"),
            ("C0", "capacitor", "across, with R3", "–", farad, "–"),
        ]
    return Table(
        name="parts",
        caption="Parts, from the amplifier to the speaker",
        columns=(
            Column("Name"),
            Column("Part"),
            Column("Place"),
            Column("Exact"),
            Column("Stock value"),
            Column("Difference", decimals=1),
        ),
        rows=tuple(rows),
    )


def levels_table(inputs: Inputs, result: Result) -> Table:
    """Return level and load at the third-octave frequencies."""
    ideal = _meant(inputs)
    rows = [
        (
            Quantity(float(hz)),
            Quantity(level_db(ideal.response(hz))),
            Quantity(level_db(result.nominal.response(hz))),
            Quantity(level_db(result.built.response(hz))),
            Quantity(abs(result.built.input_impedance(hz))),
        )
        for hz in THIRD_OCTAVES_HZ
    ]
    return Table(
        name="levels",
        caption="Level at the speaker, and load on the amplifier",
        columns=(
            FREQUENCY_COLUMN,
            Column("Ideal", "dB", decimals=2),
            Column("Stock values, plain resistor", "dB", decimals=2),
            Column("As built, on the speaker", "dB", decimals=2),
            Column("Load on the amplifier", "Ω"),
        ),
        rows=tuple(rows),
    )


def ratings_tables(inputs: Inputs, result: Result) -> tuple[Table, ...]:
    """Return what each part must stand, with a sine of the given power at any frequency."""
    if inputs.power_w is None:
        return ()
    return (
        Table(
            name="ratings",
            caption=f"Ratings of the parts at {quantity(inputs.power_w, 'W')} into "
            f"{quantity(inputs.ohm, 'Ω')}",
            columns=(Column("Name"), Column("Rating"), Column("At least")),
            rows=tuple(
                _stress_row(stress)
                for stress in stresses(result.built, power_w=inputs.power_w, ohm=inputs.ohm)
            ),
            note="For a full-power test tone at the worst frequency from 20 Hz to 20 kHz, which "
            "is more "
            "than music needs. Choose the next rating up.",
        ),
    )


def _stress_row(stress: Stress) -> tuple[Cell, ...]:
    if stress.peak_v is not None:
        return stress.name, "peak voltage", Quantity(stress.peak_v, "V")
    if stress.heat_w is not None:
        return stress.name, "power", Quantity(stress.heat_w, "W")
    return stress.name, "current", Quantity(stress.current_a, "A")


def _meant(inputs: Inputs) -> Filter:
    """Return the filter that the network is to be."""
    return Filter(
        kind=inputs.side,
        family=inputs.family,
        order=inputs.order,
        frequency_hz=inputs.frequency_hz,
    )

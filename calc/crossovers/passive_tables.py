"""Drawings and tables of `passive-network`."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from calc.answers.drawing import DASHES
from calc.answers.figures import quantity
from calc.answers.plots import LEVELS, Curve, plot
from calc.answers.sheet import Column, Drawing, Quantity, Table
from calc.crossovers.circuits import circuit_drawing
from calc.crossovers.fields import FREQUENCY_COLUMN, filter_of
from calc.crossovers.passive_design import Design
from calc.physics.filter_sums import THIRD_OCTAVES_HZ, grid_hz
from calc.physics.filters import level_db
from calc.physics.ladder import Component

_PER_OCTAVE = 6


def value_words(one: Component) -> str:
    """Return a part's value as the trade writes it."""
    if one.part == "inductor":
        return quantity(one.value * 1e3, "mH", 3)
    return quantity(one.value * 1e6, "µF", 3)


def named_parts(design: Design) -> list[tuple[str, Component]]:
    """Return the ladder’s parts as bought, with their names in the drawing."""
    return [
        (branch.name, one)
        for branch, one in zip(design.built.branches, design.bought, strict=False)
    ]


def network_drawing(design: Design) -> Drawing:
    """Draw the circuit with the parts to buy."""
    values = {name: value_words(one) for name, one in named_parts(design)}
    if design.pad is not None and design.pad.shunt_ohm is not None:
        values |= {
            "R1": quantity(design.pad.series_ohm, "Ω"),
            "R2": quantity(design.pad.shunt_ohm, "Ω"),
        }
    if design.levelled is not None:
        values |= {
            "R3": quantity(design.levelled.ohm, "Ω"),
            "C0": quantity(design.levelled.farad * 1e6, "µF", 3),
        }
    return circuit_drawing("The network with the parts to buy", design.built, values)


def level_drawing(given: Mapping[str, Any], design: Design, passband_db: float) -> Drawing:
    """Draw the level at the driver, as meant and as built."""
    grid = grid_hz(given["frequency_hz"], per_octave=_PER_OCTAVE)
    ideal = filter_of(given["side"], given["family"], given["order"], given["frequency_hz"])
    side = given["side"] == "high-pass"
    # Where an ideal slope is some 10 dB down, there is room beside it.
    away = math.sqrt(10) ** (1 / given["order"])
    name_hz = given["frequency_hz"] * (1 / away if side else away)

    def curve(name: str, level: Callable[[float], float], **how: Any) -> Curve:
        return Curve(name=name, points=tuple((one, level(one)) for one in grid), **how)

    return plot(
        "Level at the driver",
        "Level in decibels over frequency from 20 Hz to 20 kHz: dashed the filter as meant, heavy "
        "the circuit as drawn with the driver as given. The table gives the values.",
        (
            LEVELS.showing(
                curve(
                    "as meant",
                    lambda one: level_db(ideal.response(one)),
                    dash=DASHES[1],
                    name_at=(name_hz, level_db(ideal.response(name_hz))),
                    name_side="left" if side else "right",
                ),
                curve(
                    "as built", lambda one: level_db(design.built.response(one)), is_heavy=True,
                    name_at=(given["frequency_hz"] * (3 if side else 1 / 3), passband_db - 5),
                ),
            ),
        ),
    )  # fmt: skip


def parts_table(design: Design) -> Table:
    """Return the parts with exact and preferred values."""
    rows = []
    for name, one in named_parts(design):
        ideal = design.exact[one.position - 1]
        scale, unit = (1e3, "mH") if one.part == "inductor" else (1e6, "µF")
        rows.append(
            (
                name,
                one.part,
                "in series" if one.place == "series" else "across",
                Quantity(ideal.value * scale, unit),
                Quantity(one.value * scale, unit),
                Quantity(100 * (one.value / ideal.value - 1), "%"),
            )
        )
    if design.pad is not None and design.pad.shunt_ohm is not None:
        rows += [
            ("R1", "resistor", "in series", "–", Quantity(design.pad.series_ohm, "Ω"), "–"),
            ("R2", "resistor", "across", "–", Quantity(design.pad.shunt_ohm, "Ω"), "–"),
        ]
    if design.levelled is not None:
        farad = Quantity(design.levelled.farad * 1e6, "µF")
        rows += [
            ("R3", "resistor", "with C0 across", "–", Quantity(design.levelled.ohm, "Ω"), "–"),
            ("C0", "capacitor", "with R3 across", "–", farad, "–"),
        ]
    return Table(
        caption="Parts, from the amplifier to the driver",
        columns=(
            Column("Name"),
            Column("Part"),
            Column("Place"),
            Column("Exact"),
            Column("Preferred"),
            Column("Off by", decimals=1),
        ),
        rows=tuple(rows),
    )


def levels_table(given: Mapping[str, Any], design: Design) -> Table:
    """Return level and load at the third-octave frequencies."""
    ideal = filter_of(given["side"], given["family"], given["order"], given["frequency_hz"])
    rows = [
        (
            Quantity(float(one)),
            Quantity(level_db(ideal.response(one))),
            Quantity(level_db(design.nominal.response(one))),
            Quantity(level_db(design.built.response(one))),
            Quantity(abs(design.built.input_impedance(one))),
        )
        for one in THIRD_OCTAVES_HZ
    ]
    return Table(
        caption="Level at the driver, and load on the amplifier",
        columns=(
            FREQUENCY_COLUMN,
            Column("As meant", "dB", decimals=2),
            Column("Preferred parts, plain load", "dB", decimals=2),
            Column("As built, with the driver", "dB", decimals=2),
            Column("Load on the amplifier", "Ω"),
        ),
        rows=tuple(rows),
    )


def ratings_tables(given: Mapping[str, Any], design: Design) -> tuple[Table, ...]:
    """Return what each part must stand, with a sine of the given power at any frequency."""
    if given["power_w"] is None:
        return ()
    volts = math.sqrt(given["power_w"] * given["ohm"])
    grid = grid_hz(per_octave=_PER_OCTAVE)
    flows = [(one, design.built.currents(one)) for one in grid]
    rows = []
    for branch in design.built.branches:
        if branch.name == "driver":
            continue
        most = max(abs(current[branch.name]) for _, current in flows) * volts
        if branch.name[0] == "C":
            across = max(
                abs(current[branch.name] * branch.part.impedance(one)) for one, current in flows
            )
            must = Quantity(across * volts * math.sqrt(2), "V")
            rows.append((branch.name, "peak voltage", must))
        elif branch.name[0] == "L":
            rows.append((branch.name, "current", Quantity(most, "A")))
        else:
            heat = most**2 * branch.part.impedance(1000.0).real
            rows.append((branch.name, "power", Quantity(heat, "W")))
    return (
        Table(
            caption=f"What the parts must stand at {quantity(given['power_w'], 'W')} into "
            f"{quantity(given['ohm'], 'Ω')}",
            columns=(Column("Name"), Column("What"), Column("At most")),
            rows=tuple(rows),
            note="A sine of full power at the worst frequency between 20 Hz and 20 kHz: more than "
            "music asks for. Choose the next higher rating.",
        ),
    )

"""The calculator `cable-chart`: power × distance → size, on one sheet for the wall."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import THIN_SPACE, quantity, rounded
from calc.answers.sheet import Column, Quantity, Sheet, Table, Verdict
from calc.cabling.fields import (
    AMPLIFIER_CLASS,
    BODY_MOHM,
    BUNDLE,
    CONDUCTOR_C,
    CONNECTIONS_MOHM,
    DUTY,
    EFFICIENCY,
    ENGINE_C,
    ENGINE_SPACE,
    INSULATION_C,
    MAX_DROP_V,
    RETURN,
    SUPPLY_V,
)
from calc.cabling.given import demand_of, fuse_current, place_unknown, place_words, rules_of
from calc.cabling.sizing import RunChoice, choose, total_drop
from calc.cabling.words import (
    DUTIES,
    DUTY_WORDS,
    FUSE_PLACE,
    FUSE_RULE,
    FUSES,
    NO_TABLE,
    PERMITTED,
    RESISTANCE,
    RULES_WIN,
)
from calc.inputs.fields import Choice, Number, Numbers, behind_more
from calc.physics.conductors import Material, System
from calc.physics.permitted_current import smallest_fuse

MOST_POWERS, MOST_LENGTHS = 14, 8
_MARKS = {"drop": "d", "heat": "h", "fuse": "f"}
_CLAD_WORDS = {"cca10": "copper-clad aluminium, 10 %", "cca15": "copper-clad aluminium, 15 %"}
# Fields of a single run that the chart answers for none: as a single run has them at first.
_FIXED = {"idle_w": 0.0, "regulated_min_v": None, "amp_fuses_a": None, "maker_fuse_a": None}


def cable_chart(given: Mapping[str, Any]) -> Sheet:
    """Compute `cable-chart`: four charts from the same function as a single run."""
    charts = [
        (material, system, _cells(given, material, system))
        for material in ("copper", given["clad"])
        for system in ("metric", "awg")
    ]
    offered = sum(1 for *_, rows in charts for row in rows for cell in row if cell.offer)
    every = sum(len(row) for *_, rows in charts for row in rows)
    return Sheet(
        sentence=(
            f"Power down the side, distance across: the size that loses at most "
            f"{quantity(given['max_drop_v'], 'V')} at {DUTY_WORDS[given['duty']]}, with its fuse; "
            + f"the cable counted {place_words(given)}."
        ),
        verdict=_verdict(given, offered, every),
        results={
            "charts": [
                {
                    "material": material,
                    "sizes": system,
                    "cells": [
                        _cell_data(given, material, system, power, length, cell)
                        for power, row in zip(given["powers_w"], rows, strict=True)
                        for length, cell in zip(given["lengths_m"], row, strict=True)
                    ],
                }
                for material, system, rows in charts
            ]
        },
        tables=tuple(_chart(given, material, system, rows) for material, system, rows in charts),
        cautions=(FUSE_PLACE, FUSE_RULE, RULES_WIN),
        steps=(
            "Every cell is the answer of the calculator for one run with the same figures.",
            f"Full current: power ÷ ({rounded(given['efficiency_percent'])} % × "
            f"{quantity(given['supply_v'], 'V')}). The fuse is the smallest listed rating that "
            "carries it, and no cable may carry less than its fuse.",
        ),
        unknowns=(
            *place_unknown(given),
            "Joints, measured strands, a regulated supply, an amplifier’s own fuses: work out the "
            "single run.",
        ),
        sources=(RESISTANCE, PERMITTED, FUSES, DUTIES),
    )


def _settings(given: Mapping[str, Any], material: Material, system: System) -> dict[str, Any]:
    return {**given, **_FIXED, "material": material, "sizes": system}


def _cells(given: Mapping[str, Any], material: Material, system: System) -> list[list[RunChoice]]:
    settings = _settings(given, material, system)
    rules = rules_of(settings)
    rows = []
    for power in given["powers_w"]:
        ampere = demand_of(settings, power).current(given["duty"])
        full = fuse_current(settings, power)
        rows.append(
            [
                choose(rules, ampere=ampere, full_a=full, length_m=length)
                for length in given["lengths_m"]
            ]
        )
    return rows


def _cell_data(
    given: Mapping[str, Any],
    material: Material,
    system: System,
    power_w: float,
    length_m: float,
    cell: RunChoice,
) -> dict[str, Any]:
    settings = _settings(given, material, system)
    ampere = demand_of(settings, power_w).current(given["duty"])
    drop = None
    if cell.offer:
        drop = total_drop(rules_of(settings), cell.offer, ampere=ampere, length_m=length_m)
    return {
        "power_w": power_w,
        "length_m": length_m,
        "size": cell.offer and cell.offer.size.name,
        "size_mm2": cell.offer and cell.offer.size.area_mm2,
        "fuse_a": cell.fuse_a,
        "limited_by": cell.limited_by,
        "drop_v": drop,
    }


def _chart(
    given: Mapping[str, Any], material: Material, system: System, rows: list[list[RunChoice]]
) -> Table:
    name = "Copper" if material == "copper" else _CLAD_WORDS[material].capitalize()
    unit = "mm²" if system == "metric" else "AWG"
    return Table(
        caption=f"{name}, {unit}",
        columns=(
            Column("Power", "W"),
            Column("Fuse", "A"),
            *(Column(quantity(length, "m")) for length in given["lengths_m"]),
        ),
        rows=tuple(
            (
                Quantity(power),
                Quantity(smallest_fuse(fuse_current(_settings(given, material, system), power))),
                *(_cell_text(cell) for cell in row),
            )
            for power, row in zip(given["powers_w"], rows, strict=True)
        ),
        note="d: the drop decides; h: the heat of full power; f: the fuse. –: no size does it. May "
        f"carry: 33 CFR 183.425 (boats), {place_words(given)}, cable marked 105 °C, laid alone "
        "unless said otherwise; copper-clad aluminium derived. Nothing thinner than 16 AWG or "
        "1.5 mm². Bought: the next of 8, 4, 2, 1/0 AWG or 10, 20, 35, 50 mm².",
    )


def _cell_text(cell: RunChoice) -> str:
    if cell.offer is None:
        return "–"
    size = cell.offer.size.name.removesuffix(" mm²").removesuffix(" AWG")
    return f"{size}{THIN_SPACE}{_MARKS[cell.limited_by]}"


def _verdict(given: Mapping[str, Any], offered: int, every: int) -> Verdict:
    if not offered and given["insulation_c"] != INSULATION_C.read(INSULATION_C.default):
        return Verdict("not known", f"{NO_TABLE}.")
    if offered < every:
        return Verdict(
            "unsuitable",
            f"{every - offered} of {every} cells have no size: divide the power over several runs.",
        )
    return Verdict("suitable", f"all {every} cells have a size and a fuse that protects it.")


CABLE_CHART = Calculator(
    name="cable-chart",
    title="Power and distance",
    question="So many watts, so many metres: which cable, which fuse?",
    fields=(
        MAX_DROP_V,
        EFFICIENCY,
        replace(AMPLIFIER_CLASS, default="ab", optional=False, more=False),
        DUTY,
        behind_more(SUPPLY_V),
        RETURN,
        Choice(
            key="clad", label="Grade of copper-clad aluminium", default="cca15", more=True,
            options=tuple(_CLAD_WORDS.items()),
        ),
        ENGINE_SPACE,
        ENGINE_C,
        CONDUCTOR_C,
        INSULATION_C,
        BUNDLE,
        BODY_MOHM,
        CONNECTIONS_MOHM,
        Numbers(
            key="powers_w", label="Powers of the rows", more=True, most=MOST_POWERS,
            default="100;150;200;250;300;400;500;600;800;1000;1200;1500",
            each=Number(key="power_w", label="Power", default="200", low=1, high=20_000),
        ),
        Numbers(
            key="lengths_m", label="Distances of the columns, one way", more=True,
            most=MOST_LENGTHS, default="1;2;3;4;5;6;7",
            each=Number(key="length_m", label="Length", default="5", low=0.05, high=100),
        ),
    ),
    groups=(
        ("What the chart holds for", ("max_drop_v", "duty", "efficiency_percent",
                                      "amplifier_class", "return", "supply_v", "body_mohm",
                                      "connections_mohm", "powers_w", "lengths_m")),
        ("The cable", ("engine_space", "engine_c", "insulation_c", "clad", "conductor_c",
                       "bundle")),
    ),
    compute=cable_chart,
)  # fmt: skip

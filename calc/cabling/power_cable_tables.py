"""The tables of the calculator `power-cable`: every size, the three duties, two estimates."""

from collections.abc import Mapping
from typing import Any

from calc.answers.figures import quantity
from calc.answers.sheet import Column, Quantity, Table
from calc.cabling.given import place_words
from calc.cabling.one_run import OneRun
from calc.cabling.sizing import Offer, choose, total_drop
from calc.cabling.words import DUTY_WORDS, fuse_words, other_number
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES
from calc.physics.amplifier_draw import drop_loss
from calc.physics.permitted_current import carries, largest_fuse


def _judged(run: OneRun, one: Offer) -> str:
    """Say in a word or two what speaks against a size."""
    against, fuse_a = [], run.fuse.rating_a
    drop = total_drop(run.rules, one, ampere=run.ampere, length_m=run.length_m)
    if not run.rules.keeps(drop):
        against.append("drop")
    if one.permitted_a is None:
        against.append("no table")
    elif not carries(one.permitted_a, run.full_a):
        against.append("heat")
    elif fuse_a is None or not carries(one.permitted_a, fuse_a):
        against.append("fuse")
    return ", ".join(against) or "fits"


def sizes_table(given: Mapping[str, Any], run: OneRun) -> Table:
    """Return every size with its drop and what it may carry."""
    rules, demand, length = run.rules, run.demand, run.length_m
    beside = "heavy" if given["duty"] == "full" else "full"
    rows = [
        (
            one.size.words,
            other_number(one.size),
            _judged(run, one),
            Quantity(total_drop(rules, one, ampere=run.ampere, length_m=length)),
            Quantity(total_drop(rules, one, ampere=demand.current(beside), length_m=length)),
            Quantity(one.permitted_a),
            Quantity(largest_fuse(one.permitted_a)),
            Quantity(1000 * one.ohm_per_m),
        )
        for one in rules.offers
    ]
    return Table(
        caption=f"Every size over {quantity(length, 'm')}: the drop, and what it may carry",
        columns=(
            Column("Size"),
            Column("Or", "AWG" if given["sizes"] == "metric" else "mm²"),
            Column("Fit"),
            Column(f"Drop, {DUTY_WORDS[given['duty']]}", "V", decimals=2),
            Column(f"Drop, {DUTY_WORDS[beside]}", "V", decimals=2),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
            Column("Resistance", "mΩ/m"),
        ),
        rows=tuple(rows),
        marked=None if run.chosen.offer is None else rules.offers.index(run.chosen.offer),
        note=f"Resistance at {quantity(given['conductor_c'], '°C')}; may carry: "
        f"{place_words(given)}. Metric sizes carry what lies between the table’s gauges "
        "(interpolated).",
    )


def duties_table(given: Mapping[str, Any], run: OneRun) -> Table:
    """Return current, drop, heat and size at full power and at music's two duties."""
    unknown, demand = given["amplifier_class"] is None, run.demand
    missing = "none" if run.rules.widest_a is not None else "not known"
    rows = []
    for duty in DUTY_SHARES:
        ampere = demand.current(duty)
        own = run.for_current(ampere)
        drop = run.drop(run.chosen.offer, ampere)
        loss = None if drop is None else 100 * drop_loss(drop_v=drop, supply_v=given["supply_v"])
        rows.append(
            (
                DUTY_WORDS[duty],
                Quantity(ampere),
                *((Quantity(demand.most_current(duty)),) if unknown else ()),
                Quantity(drop),
                Quantity(loss),
                Quantity(demand.most_heat_w(duty)),
                own.offer.size.words if own.offer else missing,
            )
        )
    return Table(
        caption="At three duties: current, drop with the cable offered, heat, and the size for it",
        columns=(
            Column("Duty"),
            Column("Current", "A"),
            *((Column("Class AB, at most", "A"),) if unknown else ()),
            Column("Drop", "V", decimals=2),
            Column("Output lost", "%"),
            Column("Heat in the amplifier, at most", "W"),
            Column("Size for this duty"),
        ),
        rows=tuple(rows),
        marked=list(DUTY_SHARES).index(given["duty"]),
        note="Cable is sized for full power: test tones and compressed music near clipping come "
        "near it. The sizes for music are told beside it.",
    )


def estimates_table(given: Mapping[str, Any], run: OneRun) -> tuple[Table, ...]:
    """Return what follows from the power beside what follows from the amplifier's fuses."""
    if not given["amp_fuses_a"]:
        return ()
    rows = []
    for words, current in (
        ("from the power", run.full_a),
        ("from the amplifier’s own fuses", sum(given["amp_fuses_a"])),
    ):
        found = choose(run.rules, ampere=run.ampere, full_a=current, length_m=run.length_m)
        size = found.offer.size.words if found.offer else "none"
        rows.append((words, Quantity(current), fuse_words(found.fuse_a), size))
    return (
        Table(
            caption="Two estimates of the full current, and what each asks for",
            columns=(
                Column("Estimate"),
                Column("Current", "A"),
                Column("Fuse"),
                Column("Size"),
            ),
            rows=tuple(rows),
            marked=0,
        ),
    )

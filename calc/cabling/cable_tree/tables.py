"""The tables of `cable-tree`: runs, and what loads lose."""

from collections.abc import Sequence

from calc.answers.sheet import Column, Quantity, Table
from calc.cabling.bought import Bought
from calc.cabling.cable_tree.inputs import Inputs
from calc.cabling.cable_tree.solve import Result, drops_at
from calc.cabling.tree import Plan
from calc.cabling.tree_words import fuse_words
from calc.cabling.words import DUTY_WORDS
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES


def runs_table(name: str, caption: str, plan: Plan, kit: Bought | None = None) -> Table:
    """Return a plan's runs as a table, with what is bought where that is known."""
    bought = kit.offers if kit else (None,) * len(plan.runs)
    return Table(
        name=name,
        caption=caption,
        columns=(
            Column("From"),
            Column("To"),
            Column("Length", "m"),
            Column("Current", "A"),
            Column("Minimum size"),
            *((Column("Size to buy"),) if kit else ()),
            Column("Current rating", "A"),
            Column("Fuse at the start"),
        ),
        rows=tuple(
            (
                run.start,
                run.end,
                Quantity(run.length_m),
                Quantity(ampere),
                offer.size.words,
                *((sold.size.words if sold else "none",) if kit else ()),
                Quantity(offer.permitted_a),
                fuse_words(fitted_a, fuse_a),
            )
            for run, ampere, offer, sold, fitted_a, fuse_a in zip(
                plan.runs,
                plan.currents,
                plan.offers,
                bought,
                plan.fitted_a,
                plan.fuses_a,
                strict=True,
            )
        ),
    )


def loads_table(inputs: Inputs, result: Result) -> Table:
    """Return what each load loses by either plan, and on the tree at the other duties."""
    others = [duty for duty in DUTY_SHARES if duty != inputs.duty]
    nothing = (None,) * len(inputs.loads)
    columns: list[Sequence[float | None]] = [
        *(plan.drops_v if plan else nothing for plan in (result.plan, result.apart)),
        *(drops_at(inputs, result, duty) or nothing for duty in others),
    ]
    return Table(
        name="loads",
        caption=f"Voltage drop at each amplifier: {DUTY_WORDS[inputs.duty]}, then the others",
        columns=(
            Column("Amplifier"),
            Column("Power", "W"),
            Column("Main run", "V", decimals=2),
            Column("Separate runs", "V", decimals=2),
            *(Column(f"Main run, {DUTY_WORDS[duty]}", "V", decimals=2) for duty in others),
        ),
        rows=tuple(
            (row.at, Quantity(row.power_w), *(Quantity(drops_v[at]) for drops_v in columns))
            for at, row in enumerate(inputs.loads)
        ),
    )

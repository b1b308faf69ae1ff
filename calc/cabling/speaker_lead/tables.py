"""The tables of `speaker-lead`: other sizes, other lengths and loads."""

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.cabling.speaker_lead.inputs import Inputs
from calc.cabling.speaker_lead.solve import LEAD_SIZES, Result, resistance
from calc.cabling.words import MATERIAL_WORDS, both_names
from calc.physics.conductors import Size
from calc.physics.speaker_leads import lead_damping, lead_loss, lead_loss_db


def sizes_table(inputs: Inputs, result: Result) -> Table:
    """Return what other sizes lose over the same length."""
    offered = sorted({*LEAD_SIZES, result.size}, key=lambda size: size.area_mm2)
    rows: list[tuple[Cell, ...]] = []
    for size in offered:
        ohm = resistance(inputs, size)
        rows.append(
            (
                both_names(size),
                Quantity(1000 * ohm),
                Quantity(lead_loss_db(load_ohm=inputs.load_ohm, ohm=ohm)),
                Quantity(100 * lead_loss(load_ohm=inputs.load_ohm, ohm=ohm)),
                Quantity(lead_damping(load_ohm=inputs.load_ohm, ohm=ohm)),
            )
        )
    note = ""
    if result.enough is not None:
        note = f"The smallest within {quantity(inputs.max_loss_db, 'dB')} is {result.enough.words}."
    return Table(
        name="sizes",
        caption=f"Other sizes over {quantity(inputs.length_m, 'm')} into "
        f"{quantity(inputs.load_ohm, 'Ω')}",
        columns=(
            Column("Size"),
            Column("Out and back", "mΩ"),
            Column("Loss", "dB", decimals=2),
            Column("Power lost", "%", decimals=1),
            Column("Damping factor"),
        ),
        rows=tuple(rows),
        marked=offered.index(result.size),
        note=note,
    )


def lengths_table(inputs: Inputs, size: Size) -> Table:
    """Return what the size loses by length and load."""
    lengths = sorted({1.0, 2.0, 3.0, 5.0, 7.0, 10.0, inputs.length_m})
    loads = sorted({2.0, 4.0, 8.0, inputs.load_ohm})
    return Table(
        name="lengths",
        caption=f"Loss by length and load: {size.words}, {MATERIAL_WORDS[inputs.material]}",
        columns=(
            Column("Length", "m"),
            *(Column(f"{rounded(load)} Ω", "dB", decimals=2) for load in loads),
        ),
        rows=tuple(
            (
                Quantity(length),
                *(
                    Quantity(lead_loss_db(load_ohm=load, ohm=resistance(inputs, size, length)))
                    for load in loads
                ),
            )
            for length in lengths
        ),
        marked=lengths.index(inputs.length_m),
    )

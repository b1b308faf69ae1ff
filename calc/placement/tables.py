"""Tables of this chapter's running text."""

from calc.answers.sheet import Column, Quantity, Table
from calc.physics.fixing import CRASH_G, bend_room, crash_pull

# Outer diameters of common sheathed cables, and how far plugs and ring terminals stick out
# [mm]: from memory, measure your own.
_CABLES = (
    ("power, 4 mm²", 5.0, 12.0),
    ("power, 10 mm² (7 AWG)", 7.5, 15.0),
    ("power, 20 mm² (4 AWG)", 11.0, 18.0),
    ("power, 50 mm² (1/0 AWG)", 16.0, 22.0),
    ("speaker, 2 × 1.5 mm²", 5.5, 15.0),
    ("RCA lead with plugs", 6.0, 35.0),
)


def bend_rooms() -> Table:
    """Clearance for a plug and its bend, by cable and by how tight the bend is."""
    return Table(
        sources=("cable-bends", "cable-diameters"),
        caption="Clearance for a plug and the bend of its cable",
        columns=(
            Column("Cable", wide=True),
            Column("Outer diameter", "mm"),
            Column("Plug or terminal", "mm"),
            Column("Tight bend (4 diameters)", "mm"),
            Column("Easy bend (6 diameters)", "mm"),
        ),
        rows=tuple(
            (
                name,
                Quantity(cable),
                Quantity(plug),
                Quantity(bend_room(cable_mm=cable, plug_mm=plug, times=4)),
                Quantity(bend_room(cable_mm=cable, plug_mm=plug, times=6)),
            )
            for name, cable, plug in _CABLES
        ),
        note="Measure your own cable and plug.",
    )


def crash_pulls() -> Table:
    """What the fixings must hold, by weight."""
    return Table(
        sources=("twenty-times",),
        caption="What the fixings must hold",
        columns=(
            Column("Amplifier and board", "kg"),
            Column("Fixings must hold", "N"),
            Column("As if this hung on them", "kg"),
        ),
        rows=tuple(
            (Quantity(mass), Quantity(round(pull, -1)), Quantity(CRASH_G * mass))
            for mass in (1.0, 2.0, 3.0, 5.0, 8.0)
            for pull in (crash_pull(mass_kg=mass),)
        ),
        note="Twenty times the weight.",
    )

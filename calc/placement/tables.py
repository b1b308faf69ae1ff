"""Tables of this chapter's running text."""

from calc.answers.sheet import Column, Quantity, Table
from calc.physics.fixing import bend_room, crash_pull

# Outer diameters of common sheathed cables [mm] and how far lug or plug stands out [mm]: from
# memory; measure your own.
_CABLES = (
    ("power, 4 mm²", 5.0, 12.0),
    ("power, 10 mm² (7 AWG)", 7.5, 15.0),
    ("power, 20 mm² (4 AWG)", 11.0, 18.0),
    ("power, 50 mm² (1/0 AWG)", 16.0, 22.0),
    ("speaker, 2 × 1.5 mm²", 5.5, 15.0),
    ("signal, coaxial pair with plugs", 6.0, 35.0),
)


def bend_rooms() -> Table:
    """Room for a plug and its bend, by cable and by how tight the bend may be."""
    return Table(
        caption="Room that a plug and its bend take",
        columns=(
            Column("Cable", wide=True),
            Column("Outer diameter", "mm"),
            Column("Plug or lug", "mm"),
            Column("Bend of 4 diameters", "mm"),
            Column("Of 6 diameters", "mm"),
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
        note="Diameters and plugs from memory: measure yours. Bends of 4 to 6 times the outer "
        "diameter: common practice, no source.",
    )


def crash_pulls() -> Table:
    """What the fixing should hold, by mass."""
    return Table(
        caption="What the fixing should hold",
        columns=(Column("Mass", "kg"), Column("Weight", "N"), Column("In a crash", "N")),
        rows=tuple(
            (Quantity(mass), Quantity(crash_pull(mass_kg=mass) / 20), Quantity(round(pull, -1)))
            for mass in (1.0, 2.0, 3.0, 5.0, 8.0)
            for pull in (crash_pull(mass_kg=mass),)
        ),
        note="Twenty times the weight forwards, as in luggage tests: about 20 g (from memory).",
    )

"""Reference tables of the coil chapter."""

from calc.answers.figures import rounded
from calc.answers.sheet import Column, Quantity, Table
from calc.coils.model import Driver, Survey

COMMON_OHMS = (1.0, 2.0, 4.0, 8.0)


def standard_combinations(coils: str) -> Table:
    """Return the even loads of one to four like woofers with `coils` coils each.

    For every even load the circuit with the fewest joints.
    """
    each = int(coils)
    if each not in (1, 2):
        raise ValueError("coils must be 1 or 2")
    rows = []
    for drivers in range(1, 5):
        for ohm in COMMON_OHMS:
            even = [one for one in Survey((Driver(each, ohm),) * drivers).ranked(0.01) if one.even]
            simplest: dict[float, str] = {}
            for one in even:
                simplest.setdefault(one.load_ohm, one.circuit.notation)
            loads = " · ".join(rounded(load, 3) for load in sorted(simplest))
            rows.append((drivers, Quantity(ohm), loads))
    kind = "single-coil" if each == 1 else "twin-coil"
    return Table(
        caption=f"Loads that {kind} woofers can come to with every coil working alike",
        columns=(Column("Woofers"), Column("Each coil", "Ω"), Column("Even loads", "Ω")),
        rows=tuple(rows),
    )


def how_to_wire(drivers: str, coils: str) -> Table:
    """Return the even circuits of like woofers, loads as multiples of one coil's impedance."""
    survey = Survey((Driver(int(coils), 4.0),) * int(drivers))
    simplest: dict[float, str] = {}
    for one in survey.ranked(0.01):
        if one.even:
            simplest.setdefault(one.load_ohm, one.circuit.notation)
    rows = tuple(
        (notation, *(Quantity(load / 4 * ohm) for ohm in COMMON_OHMS))
        for load, notation in sorted(simplest.items())
    )
    return Table(
        caption=f"Even circuits of {drivers} woofer{'s' if drivers != '1' else ''} with {coils} "
        f"coil{'s' if coils != '1' else ''} each: load in Ω for coils of 1, 2, 4 and 8 Ω",
        columns=(
            Column("Circuit", code=True),
            *(Column(f"{ohm:g} Ω coils") for ohm in COMMON_OHMS),
        ),
        rows=rows,
    )

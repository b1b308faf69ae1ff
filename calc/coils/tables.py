"""Reference tables of the coil chapter."""

from calc.answers.figures import rounded
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.coils.survey import Survey
from calc.physics.coils import Driver

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
            simplest = _simplest_even(Survey((Driver(each, ohm),) * drivers))
            loads = " · ".join(rounded(load, 3) for load in sorted(simplest))
            rows.append((drivers, Quantity(ohm), loads))
    kind = "single-coil" if each == 1 else "twin-coil"
    return Table(
        caption=f"Loads that {kind} woofers can come to with every coil working alike",
        columns=(Column("Woofers"), Column("Each coil", "Ω"), Column("Even loads", "Ω")),
        rows=tuple(rows),
    )


def _simplest_even(survey: Survey) -> dict[float, str]:
    """Return the even circuit with the fewest joints by each load [Ω] that even ones come to."""
    simplest: dict[float, str] = {}
    for arrangement in survey.ranked(0.01):
        if arrangement.even:
            simplest.setdefault(arrangement.load_ohm, arrangement.circuit.notation)
    return simplest


def _loads_row(notation: str, times: float) -> tuple[Cell, ...]:
    """Return a circuit with its loads, which are so many times the impedance of a coil."""
    return (notation, *(Quantity(times * ohm) for ohm in COMMON_OHMS))


def how_to_wire(drivers: str, coils: str) -> Table:
    """Return the even circuits of like woofers, loads as multiples of one coil's impedance."""
    survey = Survey((Driver(int(coils), 4.0),) * int(drivers))
    simplest = _simplest_even(survey)
    rows = tuple(_loads_row(notation, load / 4) for load, notation in sorted(simplest.items()))
    return Table(
        caption=f"Even circuits of {drivers} woofer{'s' if drivers != '1' else ''} with {coils} "
        f"coil{'s' if coils != '1' else ''} each: load in Ω for coils of 1, 2, 4 and 8 Ω",
        columns=(
            Column("Circuit", code=True),
            *(Column(f"{ohm:g} Ω coils") for ohm in COMMON_OHMS),
        ),
        rows=rows,
    )

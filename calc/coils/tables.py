"""Reference tables of the voice coil chapter."""

from calc.answers.figures import capital, rounded
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.coils.survey import Survey
from calc.coils.words import wiring_words
from calc.physics.coils import Circuit, Driver

COMMON_OHMS = (1.0, 2.0, 4.0, 8.0)
_NUMBERS = ("No", "One", "Two", "Three", "Four")


def standard_combinations(coils: str) -> Table:
    """Return the balanced loads of one to four like subs with `coils` coils each."""
    each = int(coils)
    if each not in (1, 2):
        raise ValueError("coils must be 1 or 2")
    rows = []
    for drivers in range(1, 5):
        for ohm in COMMON_OHMS:
            circuits = Survey((Driver(each, ohm),) * drivers).simplest_even()
            loads = " · ".join(rounded(float(circuit.load), 3) for circuit in circuits)
            rows.append((drivers, Quantity(ohm), loads))
    kind = "single-voice-coil (SVC)" if each == 1 else "dual-voice-coil (DVC)"
    return Table(
        caption=f"Balanced loads of {kind} subs",
        columns=(Column("Subs"), Column("Each coil", "Ω"), Column("Balanced loads", "Ω")),
        rows=tuple(rows),
    )


def _loads_row(circuit: Circuit, times: float) -> tuple[Cell, ...]:
    """Return a wiring with its loads, which are so many times the impedance of a coil."""
    words = wiring_words(circuit) or circuit.notation
    loads = (Quantity(times * ohm) for ohm in COMMON_OHMS)
    return (capital(words), *loads, circuit.notation)


def _subs(subs: int, coils: int) -> str:
    """Name so many subs by their number of coils."""
    return f"{_NUMBERS[subs]} {'DVC' if coils == 2 else 'SVC'} sub{'s' if subs > 1 else ''}"


def how_to_wire(drivers: str, coils: str) -> Table:
    """Return the balanced wirings of like subs, with their loads for the usual coils."""
    survey = Survey((Driver(int(coils), 4.0),) * int(drivers))
    rows = tuple(_loads_row(circuit, float(circuit.load) / 4) for circuit in survey.simplest_even())
    return Table(
        caption=f"{_subs(int(drivers), int(coils))}: balanced loads in Ω",
        columns=(
            Column("Wire", wide=True),
            *(Column(f"{ohm:g} Ω coils") for ohm in COMMON_OHMS),
            Column("Code", code=True),
        ),
        rows=rows,
    )

"""The circuit that was meant: in the notation, or by its place in the list of circuits."""

from collections.abc import Sequence
from itertools import islice

from calc.coils.notation import NotationError, read_notation
from calc.coils.survey import survey_of
from calc.physics.coils import Circuit, Driver, coil_names


def is_place(text: str) -> bool:
    """Tell whether a text is a place in the list.

    >>> is_place("12"), is_place("1a")
    (True, False)
    """
    return text.isascii() and text.isdigit() and len(text) <= 3


def intended_circuit(text: str, drivers: Sequence[Driver], *, min_load_ohm: float) -> Circuit:
    """Return the circuit that a text means.

    min_load_ohm : by which the list is in order [Ω]

    Raises NotationError.
    """
    if not is_place(text):
        return read_notation(text, coil_names(drivers))
    ranked = survey_of(tuple(drivers)).ranked(min_load_ohm)
    arrangement = next(islice(ranked, int(text), None), None)
    if arrangement is None:
        raise NotationError(f"the list of wiring options has no place {text}")
    return arrangement.circuit

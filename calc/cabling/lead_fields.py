"""Fields of a single cable: its AWG number, and the temperature that it is measured at."""

from typing import Annotated

from calc.inputs.declared import like
from calc.inputs.fields import Pattern
from calc.parts.cable_kind import CableKind
from calc.physics.conductors import gauge_number

CoolConductor = Annotated[float, like(CableKind, "conductor_c", presets=(20, 50))]


def is_gauge(text: str) -> bool:
    """Tell whether a text names a gauge."""
    try:
        gauge_number(text)
    except ValueError:
        return False
    return True


def gauge(label: str, *, empty: str, hint: str = "", start: str | None = None) -> Pattern:
    """Return a field for a gauge."""
    return Pattern(
        label,
        empty=empty,
        hint=hint,
        start=start,
        longest=4,
        is_good=is_gauge,
        notation="an AWG number: 1 to 40, or 1/0, 2/0, 3/0, 4/0",
        examples=("4", "1/0", "18", "7"),
    )

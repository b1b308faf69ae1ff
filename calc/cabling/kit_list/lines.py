"""What a line of the kit list holds."""

from dataclasses import dataclass

MEASURE_IT = "measure it"


@dataclass(frozen=True, kw_only=True)
class Item:
    """One line of the kit list.

    quantity, size : None where a figure is missing; the reason says which
    kit_size : of power and earth cable, the size in which it is bought
    length_m : None for what has none, or is not measured yet
    """

    item: str
    quantity: int | None
    size: str | None
    length_m: float | None
    reason: str
    kit_size: str | None = None


def piece(item: str, quantity: int | None, size: str | None, reason: str) -> Item:
    """Return a line for something without a length."""
    return Item(item=item, quantity=quantity, size=size, length_m=None, reason=reason)


def measured(reason: str, length_m: float | None) -> str:
    """Return a reason that asks for a length that is missing."""
    return reason if length_m is not None else f"{reason}; {MEASURE_IT}"

"""What a line of the kit list holds."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass

from calc.answers.kit import KitLine, Unit

MEASURE_IT = "measure it"


@dataclass(frozen=True, kw_only=True)
class Item:
    """One line of the kit list.

    quantity, size : None where a figure is missing; the reason says which
    kit_size : of power and earth cable, the size in which it is bought
    length_m : None for what has none, or is not measured yet
    reason : why it is needed, and what decides its size
    note : where it goes, in few words
    unit : `m` for what is sold by the metre
    has_length : it is cut or bought to a length
    """

    item: str
    quantity: int | None
    size: str | None
    length_m: float | None
    reason: str
    note: str
    kit_size: str | None = None
    unit: Unit = "piece"
    has_length: bool = False

    @property
    def is_open(self) -> bool:
        """Whether a figure is missing without which it cannot be ordered."""
        lacks_length = self.has_length and self.length_m is None
        return self.quantity is None or self.size is None or lacks_length


def piece(item: str, quantity: int | None, size: str | None, reason: str, note: str) -> Item:
    """Return a line for something without a length."""
    return Item(item=item, quantity=quantity, size=size, length_m=None, reason=reason, note=note)


def by_metre(
    item: str,
    size: str | None,
    length_m: float | None,
    reason: str,
    note: str,
    *,
    quantity: int = 1,
    kit_size: str | None = None,
) -> Item:
    """Return a line for something that is sold by the metre."""
    return Item(
        item=item,
        quantity=quantity,
        size=size,
        kit_size=kit_size,
        length_m=length_m,
        reason=measured(reason, length_m),
        note=note,
        unit="m",
        has_length=True,
    )


def measured(reason: str, length_m: float | None) -> str:
    """Return a reason that asks for a length that is missing."""
    return reason if length_m is not None else f"{reason}; {MEASURE_IT}"


def kit_lines(items: Iterable[Item]) -> tuple[KitLine, ...]:
    """Return the lines numbered, each with the size in which it is bought."""
    return tuple(
        KitLine(
            number=number,
            item=item.item,
            quantity=item.quantity,
            unit=item.unit,
            size=item.kit_size or item.size,
            length_m=item.length_m,
            note=f"{item.note}: {MEASURE_IT}" if _lacks_length(item) else item.note,
            is_open=item.is_open,
        )
        for number, item in enumerate(items, start=1)
    )


def _lacks_length(item: Item) -> bool:
    return item.has_length and item.length_m is None


def line_data(item: Item, line: KitLine) -> dict[str, object]:
    """Return a line as the results of the contract have it."""
    return {
        "number": line.number,
        **{key: value for key, value in asdict(item).items() if key != "has_length"},
        "is_open": line.is_open,
    }

"""A list of what is to be bought, line by line, as a shop prices it."""

from dataclasses import dataclass
from typing import Literal

Unit = Literal["piece", "m"]


@dataclass(frozen=True, kw_only=True)
class KitLine:
    """One line of a kit list; a figure that is not known is None.

    number : its place on the list, from 1
    quantity : how many pieces; of what is sold by the metre, how many lengths
    unit : `m` for what is priced by the metre, `piece` for all else
    size : what is asked for at the counter
    length_m : of each piece or length [m]; None too for what has none
    note : where it goes, in few words
    is_open : a figure is missing, and the line cannot be ordered yet
    """

    number: int
    item: str
    quantity: int | None
    unit: Unit
    size: str | None
    length_m: float | None
    note: str
    is_open: bool

    @property
    def amount(self) -> float | None:
        """What a price is multiplied by: pieces, or metres in all [m]; None where not known.

        >>> line = dict(number=1, item="lead", size="1 mm²", note="", is_open=False)
        >>> KitLine(quantity=2, unit="m", length_m=3.5, **line).amount
        7.0
        >>> KitLine(quantity=2, unit="piece", length_m=3.5, **line).amount
        2
        """
        if self.quantity is None or self.unit == "piece":
            return self.quantity
        return None if self.length_m is None else self.quantity * self.length_m

    @property
    def article(self) -> str:
        """What tells the article from others: a price typed once holds wherever it stands."""
        length = ""
        if self.unit == "piece" and self.length_m is not None:
            length = f"{self.length_m:.2f}"
        return "|".join((self.item, self.size or "", self.unit, length))

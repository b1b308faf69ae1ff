"""A kit list as CSV: a line for each article, with the shop's own prices where it gave them."""

import csv
import io
import re
from collections.abc import Mapping, Sequence

from calc.answers.kit import KitLine
from calc.renderers.data import harmless

HEADS = (
    "No.", "Item", "Size", "Quantity", "Sold by", "Length of each (m)", "To be priced", "Note",
    "Open", "Price", "Sum",
)  # fmt: skip
_PRICE = re.compile(r"[0-9]{1,7}(?:[.,][0-9]{1,4})?")
_SOLD_BY = {"piece": "piece", "m": "metre"}


def price_of(text: object) -> float | None:
    """Return a price that was typed; None for what is none.

    >>> price_of("4,50"), price_of(" 12 "), price_of("-3"), price_of("1e9"), price_of(None)
    (4.5, 12.0, None, None, None)
    """
    typed = text.strip() if isinstance(text, str) else ""
    return float(typed.replace(",", ".")) if _PRICE.fullmatch(typed) else None


def kit_csv(lines: Sequence[KitLine], prices: Mapping[str, object] | None = None) -> str:
    """Write the list: parted by commas, decimal points, a head, a last line with the sum.

    prices : what was typed, by a line's article; hostile until it was read
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    total, unpriced = 0.0, 0
    for line in lines:
        price = price_of((prices or {}).get(line.article))
        cost = None if price is None or line.amount is None else round(price * line.amount, 2)
        total += cost or 0.0
        unpriced += cost is None
        cells = (
            line.number,
            line.item,
            line.size,
            line.quantity,
            _SOLD_BY[line.unit],
            _number(line.length_m),
            _number(line.amount),
            line.note,
            "yes" if line.is_open else "",
            _number(price),
            None if cost is None else f"{cost:.2f}",
        )
        writer.writerow([harmless("" if cell is None else cell) for cell in cells])
    without = f"{unpriced} without a price" if unpriced else ""
    sum_line = ["", "Sum", *[""] * 5, without, "", "", f"{total:.2f}" if prices else ""]
    writer.writerow(sum_line)
    return out.getvalue()


def _number(value: float | None) -> float | int | None:
    """Return a figure as a spreadsheet takes it; to the millimetre, or the smallest coin."""
    if value is None or isinstance(value, int):
        return value
    cut = round(value, 4)
    return int(cut) if cut.is_integer() else cut

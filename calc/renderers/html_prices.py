"""The shop's own prices on a kit list: typed on the page, kept on the device, summed there."""

from xml.etree.ElementTree import Element

from calc.answers.kit import KitLine
from calc.answers.markup import element, group

_UNITS = {"piece": "each", "m": "per m"}
UNPRICED = (
    "Enter your own price on each line; the total is shown here. Prices stay on this device "
    "and are not in links."
)


def price_box(line: KitLine) -> Element:
    """Return the control for the price of a line's article, and the place for what it comes to."""
    amount = line.amount
    return group(
        element(
            "input",
            type="text",
            inputmode="decimal",
            size="6",
            class_="reading price",
            data_price=line.article,
            data_amount=None if amount is None else f"{amount:.6g}",
            aria_label=f"Your price, {line.item}, {_UNITS[line.unit]}",
            autocomplete="off",
        ),
        element("small", _UNITS[line.unit], class_="price__unit", aria_hidden="true"),
        element("span", class_="price__sum figure"),
    )


def prices_foot() -> Element:
    """Return what stands below a list with prices: their sum, and the list as a file."""
    return element(
        "div",
        element("p", UNPRICED, class_="prices__sum"),
        element(
            "button",
            "Kit list as CSV",
            type="button",
            class_="button button--quiet",
            data_hand_over="kit-csv",
        ),
        class_="prices",
    )

"""What a page takes away: made, or told why not."""

from collections.abc import Callable, Sequence
from typing import Literal
from xml.etree.ElementTree import Element

from calc.answers.kit import KitLine
from calc.answers.markup import element, group, markup


def made(what: str, make: Callable[[], dict[str, object]]) -> dict[str, object]:
    """Return what is taken away; where it cannot be made, say so and why."""
    try:
        return make()
    except MemoryError:
        reason = "there is not enough memory"
    except ValueError as error:
        reason = str(error)
    return {"kind": "failed", "text": f"The {what} was not made: {reason}."}


def kit_file(lines: Sequence[KitLine], prices: object) -> dict[str, object]:
    """Return a kit list as a file for a spreadsheet.

    prices : what was typed on the page, by article; anything else is none
    """
    # Imported here: few readers save one.
    from calc.renderers.kit_csv import kit_csv

    def make() -> dict[str, object]:
        if not lines:
            raise ValueError("there is no kit list yet")
        text = kit_csv(lines, prices if isinstance(prices, dict) else None)
        return {"kind": "handed-over", "text": text, "name": "kit-list.csv"}

    return made("file", make)


def qr(text: str, what: str) -> dict[str, object]:
    """Return the QR code of a text as a drawing; `what` names what it holds."""
    # Imported here so that the command line works without the QR library.
    from calc.renderers.qr import qr_svg

    return made(
        "QR code",
        lambda: {"kind": "handed-over", "text": markup(qr_svg(text, what)), "name": "link.svg"},
    )


_CAPTIONS = {
    "link": ("Link to this plan", "Too long for a code: open the plan from its system file."),
    "file": ("The system file", "Too long for a code: keep the system file with this sheet."),
}


def code_on_paper(text: str, what: Literal["link", "file"]) -> Element:
    """Return what stands in the corner of a printed sheet: the code, or why there is none."""
    from calc.renderers.qr import qr_on_paper

    caption, too_long = _CAPTIONS[what]
    try:
        code = qr_on_paper(text, what)
    except ValueError:
        return group(element("p", too_long))
    return group(code, element("p", caption))


def qr_for_paper(link: str) -> dict[str, object]:
    """Return the corner of a printed sheet for a link."""
    text = markup(code_on_paper(link, "link"))
    return {"kind": "handed-over", "text": text, "name": "link.svg"}

"""Pieces of an answer in HTML: figures, verdicts, tables, drawings, boxes for readings."""

from xml.etree.ElementTree import Element

from calc.answers.figures import THIN_SPACE, rounded
from calc.answers.kit import KitLine
from calc.answers.markup import element, group
from calc.answers.sheet import (
    Box,
    Cell,
    Column,
    Drawing,
    Press,
    Quantity,
    Span,
    Table,
    Verdict,
)
from calc.renderers.html_prices import price_box, prices_foot
from calc.renderers.html_signs import state_sign, verdict_class
from calc.renderers.text import IN_TABLES, heading_text, written

_LONG = 20  # rows; a longer table scrolls on the screen and has two columns on paper


def figure(cell: Cell, places: int | None = None, figures: int | None = IN_TABLES) -> Element:
    """Return a cell's content: numbers in tabular figures, units in smaller weight.

    places : a fixed number of decimals for a single number
    figures : significant figures of the others; None for as many as a sentence has
    """
    match cell:
        case None:
            return element("span", "not known", class_="missing")
        case Quantity(value, unit):
            if value is None:
                return element("span", "not known", class_="missing")
            return _number(written(value, places, figures), unit)
        case Span(low, high, unit):
            return group(
                _number(rounded(low, figures), ""), " to ", _number(rounded(high, figures), unit)
            )
        case Verdict():
            return verdict(cell)
        case Box():
            return reading_box(cell)
        case KitLine():
            return price_box(cell)
        case Press():
            return press(cell)
        case str():
            return group(cell)
        case _:
            return _number(written(cell, places, figures), "")


def _number(text: str, unit: str) -> Element:
    tail = element("span", THIN_SPACE + unit, class_="unit") if unit else None
    return element("span", text, tail, class_="figure")


def reading_box(box: Box) -> Element:
    """Return the control for a reading, and the place for what is wrong with it."""
    shared = {"data_reading": box.key, "aria_label": box.label, "autocomplete": "off"}
    if box.choices:
        options = [
            element("option", word, value=word, selected=word == box.text)
            for word in ("", *box.choices)
        ]
        control = element("select", options, class_="reading", **shared)
    else:
        control = element(
            "input",
            type="text",
            inputmode="text" if box.takes_words else "decimal",
            value=box.text,
            size="7",
            pattern=box.pattern or None,
            data_judged_late=box.judged_late,
            class_="reading",
            **shared,
        )
    unit = (
        element("small", box.unit, class_="reading__unit", aria_hidden="true") if box.unit else None
    )
    return group(control, unit, element("span", class_="reading__error", hidden=True))


def press(way: Press) -> Element:
    """Return the button that puts a text into a field of the form."""
    return element(
        "button",
        way.words,
        type="button",
        class_="link-button",
        data_action="set-field",
        data_set_field=way.field,
        data_set_text=way.text,
    )


def verdict(judged: Verdict) -> Element:
    """Return the word, its shape and the reason."""
    return element(
        "span",
        state_sign(judged.state),
        " ",
        element("strong", judged.word or judged.state),
        ": ",
        judged.reason,
        class_=verdict_class(judged),
    )


def table(made: Table) -> Element:
    """Return a table in a box that scrolls sideways when the page is narrow.

    One with sentences in it has its cells below one another there, each with its name.
    """
    has_words = made.cards or any(column.wide for column in made.columns)
    kinds = ["figures-table"]
    kinds += ["figures-table--stacked"] if made.stacked else []
    kinds += ["figures-table--cards"] if has_words and not made.stacked else []
    box = ["table-box"]
    box += ["table-box--long"] if len(made.rows) > _LONG else []
    box += ["table-box--words"] if has_words else []

    def head(column: Column) -> Element:
        unit = element("span", f" {column.unit}", class_="unit") if column.unit else None
        kind = "pressed" if column.pressed else None
        return element("th", column.label, unit, scope="col", class_=kind)

    def body_cell(index: int, cell: Cell) -> Element:
        is_number = isinstance(cell, int | float | Quantity | Span)
        column = made.columns[index]
        code = "code" if column.code else "words" if column.wide else None
        kind = "number" if is_number else "none" if cell == "–" else code
        kind = f"pressed {kind or ''}".strip() if column.pressed else kind
        name = heading_text(column) if made.stacked or has_words else None
        return element("td", figure(cell, column.decimals), class_=kind, data_head=name)

    rows = [
        element(
            "tr",
            [(body_cell(at, cell), " ") for at, cell in enumerate(row)],
            class_="marked" if number == made.marked else None,
        )
        for number, row in enumerate(made.rows)
    ]
    return group(
        element(
            "div",
            element(
                "table",
                element("caption", made.caption),
                element("thead", element("tr", [(head(c), " ") for c in made.columns])),
                element("tbody", rows),
                class_=" ".join(kinds),
            ),
            class_=" ".join(box),
            role="region",
            tabindex="0",
            aria_label=made.caption,
        ),
        element("p", made.note, class_="table-note") if made.note else None,
        prices_foot()
        if any(isinstance(cell, KitLine) for row in made.rows for cell in row)
        else None,
    )


def drawing(picture: Drawing, identity: str) -> Element:
    """Return the picture with title and description tied to it by ids."""
    title_id, description_id = f"{identity}-title", f"{identity}-text"
    svg = element(
        "svg",
        element("title", picture.title, id=title_id),
        element("desc", picture.description, id=description_id),
        # Read out, its letters would come one by one after the description that says it all.
        element("g", list(picture.svg), aria_hidden="true"),
        role="img",
        aria_labelledby=f"{title_id} {description_id}",
        class_="drawing__picture",
        focusable="false",
    )
    for name, value in picture.svg.items():
        svg.set(name, value)
    box = element(
        "div", svg, class_="drawing__box", tabindex="0", role="group", aria_label=picture.title
    )
    kind = "drawing drawing--true-size" if picture.true_size else "drawing"
    return element("figure", box, element("figcaption", picture.title), class_=kind)

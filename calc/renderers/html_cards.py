"""Rows of a table as cards that fold to a line.

Each row holds a control for every column of the field: what it asks for in sight, the rest behind
“I know more”.  Scripts read the controls by their columns' keys, in the field's order.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc.answers.arrangement import Adder, Asked, Cards
from calc.answers.markup import element, group
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Choice, Text
from calc.inputs.rows import NOT_PRINTED, Rows
from calc.renderers.html_cells import Cell, box, claimed, folded, know_row, usual_words
from calc.renderers.html_rows import padded, row_texts

# How many of one kind, as a line says it.
_COUNTS = "|one|one pair|three|two pairs|five|three pairs|seven|four pairs"
_SINGLES = "|one|two|three|four|five|six|seven|eight"
_STEPS = (("less", "−"), ("more", "+"))


@dataclass(frozen=True)
class Row:
    """One row of a field: its texts by column, where its ids begin, what is an example's."""

    field: Rows
    texts: dict[str, str]
    identity: str
    invented: frozenset[str] = frozenset()

    def column(self, key: str) -> Field | None:
        """Return a column; None where the field has none of this name."""
        return next((column for column in self.field.columns if column.key == key), None)

    def cell(self, key: str, **attributes: object) -> Cell:
        """Return a column's cell."""
        column = next(column for column in self.field.columns if column.key == key)
        shared: dict[str, object] = {"data_cell": key, "data_label": column.label}
        shared["data_example"] = key in self.invented
        if isinstance(column, Text):
            shared["data_names"] = column.names or None
            shared["data_refers"] = column.refers or None
        may = column.optional and self.column(NOT_PRINTED) is not None
        identity = f"{self.identity}-{key}"
        return Cell(column, self.texts[key], identity, {**shared, **attributes}, may)


def rows_of(identity: str, field: Rows, raw: Raw, example: Raw = "") -> Iterator[Row]:
    """Yield the rows of a field, each with ids of its own.

    example : the rows of an example that still stands, whose figures are marked
    """
    theirs = list(_texts(field, example))
    for at, texts in enumerate(_texts(field, raw), 1):
        other = theirs[at - 1] if at <= len(theirs) else {}
        same = frozenset(key for key, text in texts.items() if text and text == other.get(key))
        yield Row(field, texts, f"{identity}-r{at}", same)


def _texts(field: Rows, raw: Raw) -> Iterator[dict[str, str]]:
    keys = [column.key for column in field.columns]
    for cells in row_texts(field, raw):
        yield dict(zip(keys, padded(field, [cell.strip(" ") for cell in cells]), strict=True))


def blank(identity: str, field: Rows, at: int = 0) -> Row:
    """Return a row in which nothing is said; its usual values stand as hints."""
    texts = {column.key: column.default if claimed(column) else "" for column in field.columns}
    return Row(field, texts, f"{identity}-r{at}")


def frame(identity: str, field: Rows, *children: object, **attributes: object) -> Element:
    """Return the table's frame, which is what scripts and messages know of it."""
    box = element(
        "div",
        class_="rows rows--arranged",
        id=identity,
        tabindex="-1",
        role="group",
        aria_label=field.label,
        data_columns=" ".join(column.key for column in field.columns),
        data_most=field.most,
        **attributes,
    )
    for child in children:
        if isinstance(child, Element):
            box.extend(child if child.tag == "group" else [child])
    return element(
        "div",
        element("p", class_="error", id=f"{identity}-error", hidden=True),
        box,
        class_="field--rows",
        data_field=field.key,
    )


def cards_box(identity: str, field: Rows, raw: Raw, cards: Cards, example: Raw = "") -> Element:
    """Return the rows as cards, with the buttons that add them."""
    adders = element(
        "div",
        [_adder(adder) for adder in cards.adders],
        class_="adds",
        role="group",
        aria_label=f"Add {field.label.lower()}",
    )
    return frame(
        identity,
        field,
        group([_card(row, cards) for row in rows_of(identity, field, raw, example)]),
        element("p", class_="undone", hidden=True),
        adders,
        element("template", _card(blank(identity, field), cards)),
    )


def _adder(adder: Adder) -> Element:
    return element(
        "button",
        element("strong", adder.label),
        element("small", adder.note),
        type="button",
        class_="add",
        data_action="add-card",
        data_ways=json.dumps([[dict(row) for row in way] for way in adder.ways]),
    )


def _kind_words(row: Row, cards: Cards) -> str:
    """Return the kind of a row in the words of its choice, for one without a name."""
    column = row.column(cards.kind) if cards.kind else None
    if not isinstance(column, Choice):
        return ""
    return dict(column.options).get(row.texts[cards.kind], "")


def _card(row: Row, cards: Cards) -> Element:
    asked = [column for each in cards.asked for column in each.columns]
    rest = [
        column.key
        for column in row.field.columns
        if column.key not in (*asked, *cards.offered, cards.counted) and not column.hidden
    ]
    name = row.texts[cards.name] or _kind_words(row, cards)
    kept = (cards.name, cards.counted, *(key for key, _ in cards.only_for.values()))
    more = [
        know_row(
            _usual_of(row.cell(key, data_kept=key in kept), row, cards),
            in_row=True,
            data_when=_when(cards, key),
        )
        for key in rest
    ]
    return element(
        "div",
        element(
            "div",
            element(
                "p",
                element("strong", name, data_title=True),
                element("span", class_="card__said"),
                class_="card__line",
            ),
            element(
                "button", "Change", type="button", class_="link-button", data_action="open-card"
            ),
            class_="card__head card__head--closed",
        ),
        element(
            "div",
            element(
                "div",
                element("p", name, class_="card__name", data_title=True),
                _stepper(cards, row),
                element(
                    "button", "Remove", type="button", class_="link-button", data_action="drop-card"
                ),
                class_="card__head",
            ),
            paste_button(cards.pastes),
            element("div", [asked_box(row, each) for each in cards.asked], class_="pairs"),
            [_choice(row, key, _when(cards, key)) for key in cards.offered if row.column(key)],
            folded(f"I know more ({len(rest)})", more),
            class_="card__body",
        ),
        unseen_cells(row),
        class_="card",
        data_row=True,
        data_title_of=cards.name,
        data_kind_of=cards.kind or None,
        role="group",
    )


def paste_button(about: str) -> Element | None:
    """Return the button that reads a pasted text into a row; None where none is read.

    about : what the text is read as
    """
    if not about:
        return None
    button = element(
        "button",
        "Paste the spec sheet",
        type="button",
        class_="button button--quiet",
        data_action="paste",
        data_about=about,
    )
    return element("div", button)


def unseen_cells(row: Row) -> list[Element]:
    """Return the cells that other controls set."""
    return [
        element(
            "input",
            type="hidden",
            value=row.texts[column.key],
            data_cell=column.key,
            data_brought=True,
        )
        for column in row.field.columns
        if column.hidden
    ]


def _usual_of(cell: Cell, row: Row, cards: Cards) -> Cell:
    """Return a cell with what is usual for the row's kind; a script follows a change of it."""
    by_kind = cards.usual_for.get(cell.field.key)
    if by_kind is None:
        return cell
    words = by_kind.get(row.texts[cards.kind], "")
    cell.attributes["data_usual_for"] = json.dumps({"": cards.kind, **by_kind}, ensure_ascii=False)
    return replace(cell, field=replace(cell.field, usual=words))


def _when(cards: Cards, key: str) -> str | None:
    return "=".join(cards.only_for[key]) if key in cards.only_for else None


def _stepper(cards: Cards, row: Row) -> Element:
    is_single = bool(cards.kind) and row.texts[cards.kind] in cards.singles
    cell = row.cell(cards.counted, data_words=_SINGLES if is_single else _COUNTS, data_kept=True)
    less, more = (
        element(
            "button",
            sign,
            type="button",
            class_="step-by",
            data_action=f"count-{way}",
            aria_label=f"One {way}",
        )
        for way, sign in _STEPS
    )
    control = element(
        "input",
        type="hidden",
        value=cell.text,
        data_default="1",
        id=cell.identity,
        **cell.attributes,
    )
    count = element("span", cell.text, class_="figure", data_count=True, aria_live="polite")
    return element("span", less, control, count, more, class_="stepper")


def asked_box(row: Row, asked: Asked) -> Element:
    """Return one answer of a row: its label, its hint, and its controls."""
    first, last = asked.columns[0], asked.columns[-1]
    identity = f"{row.identity}-{last}"
    hint_id, error_id = f"{identity}-hint", f"{identity}-wrong"
    usual = usual_words(row.cell(last).field).lstrip(", ")
    hint = asked.hint or (f"usual {usual}" if usual else "")
    described = f"{hint_id} {error_id}" if hint else error_id
    told: dict[str, object] = {"aria_describedby": described, "data_asked": asked.label}
    told["data_needed"] = asked.needed
    if asked.as_one:
        controls = _as_one(row, asked, identity, told)
    elif first != last:
        short = row.cell(first, aria_label=row.cell(first).label)
        sign = element("span", asked.sign, class_="times", aria_hidden="true")
        controls = group(box(short, is_short=True), sign, box(row.cell(last, **told)))
    else:
        controls = group(box(row.cell(last, **told)))
    # Of two boxes the first alone has a usual value in it; its word says whose it is.
    origin = element("span", class_="origin", data_first=row.cell(first).label.lower())
    return element(
        "div",
        element("p", class_="error", id=error_id, data_wrong=" ".join(asked.columns), hidden=True),
        element("label", asked.label, for_=identity),
        element("p", hint, class_="hint", id=hint_id) if hint else None,
        element("div", element("span", controls, origin, class_="entry")),
        element("span", class_="read-from", data_read=" ".join(asked.columns), hidden=True),
        class_="field",
    )


def _as_one(row: Row, asked: Asked, identity: str, told: dict[str, object]) -> Element:
    """Return a box whose text stands for two columns, and the two that scripts fill from it."""
    first, last = (row.cell(key) for key in asked.columns)
    both = first.text not in ("", first.field.default)
    text = f"{first.text} {asked.sign} {last.text}" if both else last.text
    hidden = [
        element(
            "input",
            type="hidden",
            value=cell.text,
            data_cell=cell.field.key,
            data_default=cell.field.default if cell is first else None,
        )
        for cell in (first, last)
    ]
    return group(
        element(
            "input",
            type="text",
            inputmode="text",
            enterkeyhint="next",
            value=text,
            placeholder=" ",
            autocomplete="off",
            size="6",
            id=identity,
            data_pair=asked.sign,
            data_unit=last.field.unit or None,
            data_example=asked.columns[-1] in row.invented,
            **told,
        ),
        element("span", last.field.unit, class_="affix", aria_hidden="true"),
        hidden,
    )


def _choice(row: Row, key: str, when: str | None) -> Element:
    """Return a choice as buttons, offered and not asked."""
    cell = row.cell(key)
    field = cell.field
    assert isinstance(field, Choice)
    return element(
        "div",
        element("p", cell.label, class_="label", id=f"{cell.identity}-label"),
        choice_buttons(field, cell.text, cell.attributes),
        class_="field",
        role="group",
        aria_labelledby=f"{cell.identity}-label",
        data_when=when,
    )


def choice_buttons(
    field: Choice, text: str, attributes: dict[str, object], *, style: str = "preset preset--words"
) -> Element:
    """Return a choice as buttons, with the hidden control that holds what is chosen."""
    return element(
        "div",
        element("input", type="hidden", value=text, **attributes),
        [
            element(
                "button",
                shown,
                type="button",
                class_=style,
                data_choose=word,
                aria_pressed="true" if word == text else "false",
            )
            for word, shown in field.options
        ],
        class_="choices",
    )

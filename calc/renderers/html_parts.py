"""A long form in numbered parts, what is left of it behind “I know more”."""

from collections.abc import Mapping
from dataclasses import replace
from xml.etree.ElementTree import Element

from calc.answers.arrangement import Cards, Columns, FieldCard, Part, keys_of
from calc.answers.calculator import AnyCalculator
from calc.answers.markup import element
from calc.answers.sheet import Verdict
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Choice, Document
from calc.inputs.rows import Readings, Rows
from calc.renderers.html import field_id
from calc.renderers.html_cards import cards_box, choice_buttons
from calc.renderers.html_cells import Cell, box, folded, hint_words, know_row
from calc.renderers.html_columns import columns_box
from calc.renderers.html_files import document
from calc.renderers.html_pieces import verdict
from calc.renderers.html_rows import gathered, rows_box

_FEW = 3  # options that stand beside one another as buttons


def parts_of_form(
    calculator: AnyCalculator, raw: Mapping[str, Raw], marks: Mapping[str, Verdict] | None
) -> list[Element]:
    """Return the parts in their order, and where one has it the rest of the form."""
    parts = []
    for at, part in enumerate(calculator.parts, 1):
        parts.append(_part(calculator, raw, part, at))
        if part.has_rest:
            parts.append(_rest(calculator, raw, marks))
    readings = [field for field in calculator.fields if isinstance(field, Readings)]
    return [*parts, *(_readings(calculator, field) for field in readings)]


def _part(calculator: AnyCalculator, raw: Mapping[str, Raw], part: Part, number: int) -> Element:
    heading = f"{calculator.name}--part-{part.name}"
    return element(
        "section",
        element(
            "h3",
            element("span", str(number), class_="part__number"),
            f" {part.heading}",
            element("span", part.note, class_="part__aside") if part.note else None,
            class_="part__head",
            id=heading,
        ),
        element("p", part.hint, class_="hint") if part.hint else None,
        [_held(calculator, raw, each) for each in part.holds],
        _examples(calculator) if part.has_examples else None,
        class_=f"part part--{part.name}",
        aria_labelledby=heading,
    )


def _held(
    calculator: AnyCalculator, raw: Mapping[str, Raw], held: Cards | Columns | FieldCard
) -> Element:
    if isinstance(held, FieldCard):
        return _field_card(calculator, raw, held)
    field = calculator.form.by_key[held.key]
    assert isinstance(field, Rows)
    identity = field_id(calculator.name, field.key)
    start = calculator.example_in(raw)
    example = start.texts.get(field.key, "") if start else ""
    if isinstance(held, Cards):
        return cards_box(identity, field, raw[field.key], held, example)
    return columns_box(identity, field, raw[field.key], held, example)


def _is_example(calculator: AnyCalculator, raw: Mapping[str, Raw], key: str) -> bool:
    """Tell whether a field's text is that of an example that still stands."""
    start = calculator.example_in(raw)
    return start is not None and bool(raw[key]) and start.texts.get(key) == raw[key]


def _as_opened(calculator: AnyCalculator, key: str) -> Field:
    """Return a field whose default is what the form opens with: that was not typed."""
    field = calculator.form.by_key[key]
    if isinstance(field, Rows | Document):
        return field
    default = calculator.opens.get(key, field.default)
    return replace(field, default=default, example=None, start=None)


def _examples(calculator: AnyCalculator) -> Element | None:
    """Return the ways to begin with something else than an empty form."""
    if not calculator.starts and calculator.write_file is None:
        return None
    buttons = [
        element("button", start.label, type="button", class_="link-button", data_start=at)
        for at, start in enumerate(calculator.starts)
    ]
    return element(
        "div",
        element("p", "Or open an example (all its figures are invented):", class_="hint"),
        element("div", buttons, class_="quiet-links"),
        class_="starts",
        role="group",
        aria_label="Examples",
    )


# ——— Cards of fields ———


def _field_card(calculator: AnyCalculator, raw: Mapping[str, Raw], card: FieldCard) -> Element:
    fields = [_as_opened(calculator, key) for key in card.keys]
    title = card.title.rstrip("?")
    opens = card.opens
    return element(
        "div",
        element(
            "div",
            element(
                "p",
                element("strong", title, data_title=True),
                element("span", card.when_left, class_="card__said"),
                class_="card__line",
            ),
            element(
                "button",
                opens,
                type="button",
                class_="link-button",
                data_action="open-card",
                data_opens=opens,
                aria_label=f"{opens}: {title}",
            ),
            class_="card__head card__head--closed",
        ),
        element(
            "div",
            [
                _lone(calculator, field, raw, card.labels.get(field.key))
                if len(fields) > 1
                else _alone(calculator, field, raw, card.title)
                for field in fields
            ],
            class_="card__body card__body--fields",
        ),
        class_=f"card card--fields{f' card--for-{card.only_for}' if card.only_for else ''}",
        data_left=card.when_left or None,
        role="group",
        aria_label=card.title,
    )


def _alone(calculator: AnyCalculator, field: Field, raw: Mapping[str, Raw], title: str) -> Element:
    """Return the only field of a card, under the card's title."""
    if isinstance(field, Document):
        return _document(calculator.name, field, raw[field.key])
    return _lone(calculator, field, raw, title, style="add")


def _document(calculator: str, field: Document, raw: Raw) -> Element:
    identity = field_id(calculator, field.key)
    return element(
        "div",
        element("label", field.label, for_=identity),
        element("p", field.hint, class_="hint", id=f"{identity}-hint"),
        element("p", class_="error", id=f"{identity}-error", hidden=True),
        document(identity, field, raw),
        class_="field",
        data_field=field.key,
    )


def _lone(
    calculator: AnyCalculator,
    field: Field,
    raw: Mapping[str, Raw],
    label: str | None,
    style: str = "preset preset--words",
) -> Element:
    """Return a field with its label above it; a few options are buttons."""
    identity = field_id(calculator.name, field.key)
    said = label or field.label
    given = raw[field.key]
    text = given if isinstance(given, str) else ""
    is_example = _is_example(calculator, raw, field.key)
    error = element("p", class_="error", id=f"{identity}-error", hidden=True)
    if isinstance(field, Choice) and len(field.options) <= _FEW:
        attributes: dict[str, object] = {"name": field.key, "id": identity, "data_asked": said}
        attributes["data_example"] = is_example
        return element(
            "div",
            error,
            element("p", said, class_="label", id=f"{identity}-label"),
            choice_buttons(field, text, attributes, style=style),
            class_="field",
            data_field=field.key,
            role="group",
            aria_labelledby=f"{identity}-label",
        )
    described = f"{identity}-error"
    cell = Cell(
        field,
        text,
        identity,
        {
            "name": field.key,
            "aria_describedby": described,
            "data_asked": said,
            "data_example": is_example,
        },
    )
    return element(
        "div",
        error,
        element("label", said, for_=identity),
        element(
            "div",
            element("span", box(cell), element("span", class_="origin"), class_="entry"),
        ),
        class_="field",
        data_field=field.key,
    )


# ——— The rest ———


def _rest(
    calculator: AnyCalculator, raw: Mapping[str, Raw], marks: Mapping[str, Verdict] | None
) -> Element:
    """Return the fields that stand in no part, group by group, in the order of the job."""
    placed = keys_of(calculator.parts)
    groups = []
    count = 0
    for heading, keys in calculator.headings:
        left = [
            _as_opened(calculator, key)
            for key in keys
            if key not in placed and not isinstance(calculator.form.by_key[key], Readings)
        ]
        if not left:
            continue
        count += len(left)
        lines = [_line(calculator, field, raw) for field in left]
        groups.append(
            element(
                "fieldset",
                element("legend", heading),
                _mark(heading, marks),
                folded(f"Figures of this step ({len(left)})", lines, class_="know step"),
            )
        )
    return element(
        "section",
        folded(f"I know more about the car and what I want ({count})", groups, class_="know all"),
        class_="part part--rest",
    )


def _readings(calculator: AnyCalculator, field: Readings) -> Element:
    """Return the place of the readings in the form; it is seen once there are any."""
    return element(
        "div",
        element("p", class_="error", hidden=True),
        gathered(field_id(calculator.name, field.key), field.label),
        class_="field field--readings",
        data_field=field.key,
    )


def _mark(heading: str, marks: Mapping[str, Verdict] | None) -> Element | None:
    if not marks or heading not in marks:
        return None
    return element("p", verdict(marks[heading]), class_="mark", data_mark=heading)


def _line(calculator: AnyCalculator, field: Field, raw: Mapping[str, Raw]) -> Element:
    identity = field_id(calculator.name, field.key)
    if isinstance(field, Rows):
        return element(
            "div",
            element("p", field.label, class_="label", id=f"{identity}-label"),
            element("p", hint_words(field), class_="hint", id=f"{identity}-hint"),
            element("p", class_="error", id=f"{identity}-error", hidden=True),
            rows_box(identity, field, raw[field.key]),
            data_example_rows=_is_example(calculator, raw, field.key),
            class_="field know__wide",
            data_field=field.key,
        )
    if isinstance(field, Document):
        return _document(calculator.name, field, raw[field.key])
    given = raw[field.key]
    text = given if isinstance(given, str) else ""
    if field.hidden:
        held = element("input", type="hidden", name=field.key, value=text, id=identity)
        return element("div", element("p", class_="error", hidden=True), held, data_field=field.key)
    is_example = _is_example(calculator, raw, field.key)
    cell = Cell(field, text, identity, {"name": field.key, "data_example": is_example})
    return know_row(cell, error=True, data_field=field.key)

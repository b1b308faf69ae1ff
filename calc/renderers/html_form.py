"""The HTML form of a calculator, made from its fields, and the card around it."""

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.answers.calculator import AnyCalculator
from calc.answers.figures import exact, rounded
from calc.answers.markup import element
from calc.answers.sheet import Verdict
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Document, Number
from calc.inputs.rows import Readings, Rows
from calc.renderers.html import field_id
from calc.renderers.html_entry import entry
from calc.renderers.html_files import document, file_bar
from calc.renderers.html_parts import parts_of_form
from calc.renderers.html_pieces import verdict
from calc.renderers.html_rows import gathered, rows_box


def form(
    calculator: AnyCalculator, texts: Mapping[str, Raw], marks: Mapping[str, Verdict] | None = None
) -> Element:
    """Return the form filled with these texts, defaults elsewhere; nothing is checked here.

    marks : an answer's verdicts on groups, by their heading
    """

    raw = calculator.form.filled(texts)
    if calculator.parts:
        return _arranged(calculator, raw, marks)

    def filled(key: str) -> Element:
        box = field_box(calculator.name, calculator.form.by_key[key], raw[key])
        for at, keys in enumerate(calculator.alternatives):
            if key in keys:
                box.set("data-alternative", str(at))
        return box

    sets = []
    folds = calculator.is_whole_job
    for at, (heading, keys) in enumerate(calculator.headings):
        more = [key for key in keys if calculator.form.by_key[key].more]
        boxes = [filled(key) for key in keys if key not in more]
        rest = _more([filled(key) for key in more])
        sets.append(
            element(
                "fieldset",
                element("legend", heading),
                _mark(heading, marks),
                _folded([*boxes, rest], len(keys), is_open=at == 0) if folds else [*boxes, rest],
            )
        )
    return element(
        "form",
        file_bar(calculator),
        _of_an_example(calculator),
        _starts(calculator),
        sets,
        element(
            "div",
            element("button", "Work it out", type="submit", class_="button"),
            element(
                "button",
                "Back to the example",
                type="button",
                class_="button button--quiet",
                data_action="reset",
            ),
            class_="form-end",
        ),
        class_="inputs",
        novalidate=True,
        autocomplete="off",
        aria_label=f"Inputs: {calculator.title}",
    )


def _of_an_example(calculator: AnyCalculator) -> Element | None:
    """Say once whose the figures are that a form shows first, where an example's are among them."""
    if not any("invented" in field.source for field in calculator.fields):
        return None
    return element(
        "p", "The form opens with an invented example: enter your own figures.", class_="hint"
    )


def _arranged(
    calculator: AnyCalculator, raw: Mapping[str, Raw], marks: Mapping[str, Verdict] | None
) -> Element:
    """Return the form of a calculator that has its fields in parts."""
    example = calculator.example_in(raw)
    return element(
        "form",
        _example_mark(example.label if example else None),
        element(
            "div",
            element(
                "p",
                element("strong", "Your system"),
                element("span", class_="your-system__said card__said"),
                class_="card__line",
            ),
            element(
                "button",
                "Change",
                type="button",
                class_="link-button",
                data_action="open-parts",
                aria_label="Change: your system",
            ),
            class_="your-system card__head",
        ),
        parts_of_form(calculator, raw, marks),
        element(
            "div",
            file_bar(calculator),
            element("button", "Work it out", type="submit", class_="button button--quiet"),
            element(
                "button",
                "Empty the form",
                type="button",
                class_="button button--quiet",
                data_action="reset",
            ),
            class_="form-end",
        ),
        class_="inputs plan__body",
        data_example=example.texts["example"] if example else None,
        data_example_label=example.label if example else None,
        novalidate=True,
        autocomplete="off",
        aria_label=f"Inputs: {calculator.title}",
    )


def _example_mark(label: str | None) -> Element:
    """Return the place that tells an example, and asks what becomes of it once one types in it."""
    words = f"Example “{label}”: all its figures are invented." if label else ""
    return element(
        "div",
        element("p", words) if label else None,
        class_="example-mark",
        hidden=not label,
        role="group",
        aria_label="Example",
    )


def _folded(boxes: Sequence[Element | None], count: int, *, is_open: bool) -> Element:
    """Return the fields of a step of a long form, folded until they are wanted."""
    summary = element("summary", f"Figures of this step ({count})")
    return element("details", summary, boxes, class_="step", open=is_open)


def _mark(heading: str, marks: Mapping[str, Verdict] | None) -> Element | None:
    """Return the place of a group's verdict, in calculators that judge their groups."""
    if not marks or heading not in marks:
        return None
    return element("p", verdict(marks[heading]), class_="mark", data_mark=heading)


def _starts(calculator: AnyCalculator) -> Element | None:
    if not calculator.starts:
        return None
    title = f"{calculator.name}--starts"
    buttons = [
        element(
            "button",
            start.label,
            type="button",
            class_="button button--quiet",
            data_start=at,
        )
        for at, start in enumerate(calculator.starts)
    ]
    return element(
        "div",
        element(
            "p",
            "Start from an example (invented figures; enter your own)",
            class_="label",
            id=title,
        ),
        element("div", buttons, class_="starts__buttons"),
        class_="starts",
        role="group",
        aria_labelledby=title,
    )


def _more(boxes: list[Element]) -> Element | None:
    if not boxes:
        return None
    summary = element("summary", f"More inputs ({len(boxes)})")
    return element("details", summary, boxes, class_="more")


def field_box(calculator: str, field: Field, raw: Raw) -> Element:
    """Return label, hint, error place and control, in this order."""
    identity = field_id(calculator, field.key)
    unit = f" ({field.unit})" if field.unit else ""
    parts = [field.hint] if field.hint else []
    if isinstance(field, Number):
        parts.append(field.range_text() + ".")
    if isinstance(field, Readings):
        pass
    elif field.optional and isinstance(field, Rows):
        parts.append("Remove all rows if there are none.")
    elif field.optional:
        parts.append(
            "Leave empty if not known."
            if field.empty == "not known"
            else f"Leave empty for: {field.empty}."
        )
    label = element("label", field.label + unit, for_=identity)
    if isinstance(field, Rows):
        label = element("p", field.label, class_="label", id=f"{identity}-label")
    return element(
        "div",
        label,
        element("p", " ".join(parts), class_="hint", id=f"{identity}-hint"),
        element("p", class_="error", id=f"{identity}-error", hidden=True),
        _control(identity, field, raw),
        class_="field",
        data_field=field.key,
    )


def _control(identity: str, field: Field, raw: Raw) -> Element:
    if isinstance(field, Readings):
        return gathered(identity, field.label)
    if isinstance(field, Rows):
        return rows_box(identity, field, raw)
    if isinstance(field, Document):
        return document(identity, field, raw)
    described = f"{identity}-hint {identity}-error"
    text = raw if isinstance(raw, str) else ""
    control = entry(field, text, id=identity, name=field.key, aria_describedby=described)
    presets = None
    if isinstance(field, Number) and field.presets:
        buttons = [
            element(
                "button",
                rounded(value),
                type="button",
                class_="preset",
                data_set=exact(value),
                aria_label=f"{field.label}: {rounded(value)} {field.unit}",
            )
            for value in field.presets
        ]
        presets = element("span", buttons, class_="presets")
    affix = None
    if field.unit:
        affix = element("span", field.unit, class_="affix", aria_hidden="true")
    return element(
        "div", element("span", control, affix, class_="entry"), presets, class_="entry-row"
    )

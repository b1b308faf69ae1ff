"""The HTML form of a calculator, made from its fields, and the card around it."""

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.figures import exact, rounded
from calc.answers.markup import element
from calc.answers.sheet import Verdict
from calc.inputs.field_base import Field, Raw
from calc.inputs.fields import Document, Number
from calc.inputs.rows import Readings, Rows
from calc.renderers.html import answer_tree, field_id, verdict
from calc.renderers.html_entry import entry
from calc.renderers.html_files import document, exchange_bar, file_bar
from calc.renderers.html_rows import rows_box


def form(
    calculator: AnyCalculator, texts: Mapping[str, Raw], marks: Mapping[str, Verdict] | None = None
) -> Element:
    """Return the form filled with these texts, defaults elsewhere; nothing is checked here.

    marks : an answer's verdicts on groups, by their heading
    """

    raw = calculator.form.filled(texts)

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
        element("p", "Start from (invented figures; put in your own)", class_="label", id=title),
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
        parts.append("Remove all rows where there is none.")
    elif field.optional:
        parts.append(
            "Leave empty if not known."
            if field.empty == "not known"
            else f"Empty means {field.empty}."
        )
    if field.source:
        parts.append(f"Start value: {field.source}.")
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
        return _gathered(identity)
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


def _gathered(identity: str) -> Element:
    """Return what stands in the form for readings, whose boxes are in the answer."""
    return element(
        "button",
        "Clear all readings",
        type="button",
        id=identity,
        class_="button button--quiet",
        data_action="clear-readings",
    )


_HAND_OVER = (
    ("text", "Copy as text"),
    ("link", "Copy link"),
    ("qr", "QR code"),
    ("print", "Print"),
    ("json", "Data (JSON)"),
    ("csv", "Table (CSV)"),
)


def card(answer: Answer, *, exchanges: bool = False) -> Element:
    """Return the whole calculator as the page first shows it: form and worked example.

    exchanges : it can take its inputs from the system that the device keeps, and give back
    """
    calculator = answer.calculator
    heading = f"{calculator.name}--title"
    answer_id = f"{calculator.name}--answer"
    return element(
        "section",
        element("h2", calculator.title, id=heading, class_="calculator__title"),
        element("p", calculator.question, class_="calculator__question"),
        element(
            "noscript",
            element(
                "p", "The example is worked out. To change its figures, this page needs JavaScript."
            ),
            data_search_exclude=True,
        ),
        # The search finds the calculator by its title and question.  What it leaves out must hold
        # no element of the same tag: at the end of the first it would go on reading.
        element(
            "article",
            element(
                "div",
                exchange_bar() if exchanges else None,
                element(
                    "p",
                    element("a", "To the answer", href=f"#{answer_id}", class_="jump"),
                    class_="to-answer",
                ),
                form(calculator, {}, answer.sheet.marks),
                class_="calculator__form",
            ),
            _answer_side(answer, answer_id),
            class_="calculator__body",
            data_search_exclude=True,
        ),
        # Last in the card, so that it can stay at the window's lower edge all along it.
        element(
            "div",
            element("p", class_="aside", hidden=True),
            element("p", class_="status", role="status", aria_live="polite"),
            class_="foot",
            data_search_exclude=True,
        ),
        class_="calculator",
        id=calculator.name,
        data_calculator=calculator.name,
        data_streams=calculator.stream is not None,
        aria_labelledby=heading,
    )


def _stock_button() -> Element:
    """Return the button that puts the planned amplifier into the list on the device."""
    word = "Add the amplifier to my stock list"
    return element(
        "button", word, type="button", class_="button button--quiet", data_action="stock"
    )


def _answer_side(answer: Answer, identity: str) -> Element:
    """Return the side of the card that holds the answer, and what it can be taken away as."""
    buttons = [
        element("button", word, type="button", class_="button button--quiet", data_hand_over=kind)
        for kind, word in _HAND_OVER
    ]
    keys = {field.key for field in answer.calculator.fields}
    if {"amplifier", "shelf"} <= keys:
        buttons.append(_stock_button())
    stays = [
        element("p", field.stays, class_="hint hand-over__stays")
        for field in answer.calculator.fields
        if isinstance(field, Document) and field.stays
    ]
    return element(
        "div",
        element("div", class_="notices", hidden=True),
        element("div", class_="error-summary", tabindex="-1", role="alert", hidden=True),
        element("p", "This answer belongs to the earlier inputs.", class_="earlier", hidden=True),
        element("div", answer_tree(answer), class_="answer", id=identity, tabindex="-1"),
        element(
            "div",
            buttons,
            class_="hand-over",
            role="group",
            aria_label="Take this answer with you",
        ),
        stays,
        element("div", class_="qr", hidden=True),
        class_="calculator__answer",
    )

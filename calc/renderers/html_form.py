"""The HTML form of a calculator, made from its fields, and the card around it."""

from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer, Calculator
from calc.answers.figures import exact, rounded
from calc.answers.markup import element, group
from calc.answers.sheet import Verdict
from calc.inputs.fields import (
    Choice,
    Document,
    Field,
    Number,
    Numbers,
    Raw,
    Readings,
    Rows,
    Text,
    Whole,
    Words,
)
from calc.renderers.html import answer_tree, field_id, verdict
from calc.renderers.html_files import document, exchange_bar, file_bar


def form(
    calculator: Calculator, given: Mapping[str, Raw], marks: Mapping[str, Verdict] | None = None
) -> Element:
    """Return the form filled with `given`, defaults elsewhere; nothing is checked here.

    marks : an answer's verdicts on groups, by their heading
    """

    raw = calculator.form.filled(given)

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


def _starts(calculator: Calculator) -> Element | None:
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


def field_box(calculator: str, one: Field, raw: Raw) -> Element:
    """Return label, hint, error place and control, in this order."""
    identity = field_id(calculator, one.key)
    unit = f" ({one.unit})" if one.unit else ""
    parts = [one.hint] if one.hint else []
    if isinstance(one, Number):
        parts.append(one.range_text() + ".")
    if isinstance(one, Readings):
        pass
    elif one.optional and isinstance(one, Rows):
        parts.append("Remove all rows where there is none.")
    elif one.optional:
        parts.append(
            "Leave empty if not known." if one.empty == "not known" else f"Empty means {one.empty}."
        )
    if one.source:
        parts.append(f"Start value: {one.source}.")
    label = element("label", one.label + unit, for_=identity)
    if isinstance(one, Rows):
        label = element("p", one.label, class_="label", id=f"{identity}-label")
    return element(
        "div",
        label,
        element("p", " ".join(parts), class_="hint", id=f"{identity}-hint"),
        element("p", class_="error", id=f"{identity}-error", hidden=True),
        _control(identity, one, raw),
        class_="field",
        data_field=one.key,
    )


def _control(identity: str, one: Field, raw: Raw) -> Element:
    if isinstance(one, Readings):
        return _gathered(identity)
    if isinstance(one, Rows):
        return _rows(identity, one, raw)
    if isinstance(one, Document):
        return document(identity, one, raw)
    described = f"{identity}-hint {identity}-error"
    text = raw if isinstance(raw, str) else ""
    control = _entry(one, text, id=identity, name=one.key, aria_describedby=described)
    presets = None
    if isinstance(one, Number) and one.presets:
        buttons = [
            element(
                "button",
                rounded(value),
                type="button",
                class_="preset",
                data_set=exact(value),
                aria_label=f"{one.label}: {rounded(value)} {one.unit}",
            )
            for value in one.presets
        ]
        presets = element("span", buttons, class_="presets")
    affix = None
    if one.unit:
        affix = element("span", one.unit, class_="affix", aria_hidden="true")
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


def _entry(one: Field, text: str, **attributes: object) -> Element:
    if isinstance(one, Choice):
        chosen = text.strip(" ")
        offered = [*one.options, *([("", "–")] if one.optional else [])]
        words = [word for word, _ in offered]
        options = [
            element("option", shown, value=word, selected=word == chosen) for word, shown in offered
        ]
        if chosen not in words:  # a link's wrong word stays in sight, to be corrected
            options.insert(0, element("option", text or "–", value=text, selected=True))
        return element("select", options, **attributes)
    mode = "numeric" if isinstance(one, Whole) else "decimal"
    if isinstance(one, Text | Numbers):
        attributes["class_"] = "entry--wide"
    return element(
        "input",
        type="text",
        inputmode=mode if isinstance(one, Number) else None,
        value=text,
        autocomplete="off",
        size="6" if isinstance(one, Number) else "16",
        **attributes,
    )


def _rows(identity: str, one: Rows, raw: Raw) -> Element:
    counted = one.count_of is not None and isinstance(raw, str) and "," not in raw
    if isinstance(raw, str):
        rows = [row.split(",") for row in raw.split(";")] if raw and not counted else []
    else:
        rows = [list(row) for row in raw]
    rows = rows[: one.most]  # the message tells of more; the form need not hold them
    blank = [column.default for column in one.columns]
    heads = [
        (element("th", f"{c.label} ({c.unit})" if c.unit else c.label, scope="col"), " ")
        for c in one.columns
    ]
    table = element(
        "div",
        element(
            "div",
            element(
                "table",
                element(
                    "thead",
                    element("tr", element("th", one.row_name, scope="col"), heads, element("td")),
                ),
                element("tbody", [_row(one, at, row, len(rows)) for at, row in enumerate(rows, 1)]),
            ),
            class_="table-box",
        ),
        element(
            "button",
            f"Add {'an' if one.row_name[0] in 'aeiou' else 'a'} {one.row_name}",
            type="button",
            class_="button button--quiet",
            data_action="add-row",
            disabled=len(rows) >= one.most,
        ),
        element("template", _row(one, 0, blank, 0)),
        class_="rows__table",
        hidden=counted,
    )
    count = None
    if one.count_of is not None:
        count = group(
            element(
                "span",
                _entry(
                    one.count_of,
                    raw if counted else "",
                    class_="rows__count",
                    aria_label=one.count_of.label,
                ),
                class_="entry",
                hidden=not counted,
            ),
            element(
                "label",
                element("input", type="checkbox", data_action="differ", checked=not counted),
                f" the {one.row_name}s differ",
                class_="tick",
            ),
        )
    return element(
        "div",
        count,
        table,
        class_="rows rows--many" if len(one.columns) > 4 else "rows",
        id=identity,
        tabindex="-1",
        role="group",
        aria_labelledby=f"{identity}-label",
        aria_describedby=f"{identity}-hint {identity}-error",
        data_least=0 if one.optional else 1,
        data_most=one.most,
    )


def _row(one: Rows, number: int, cells: list[str], last: int) -> Element:
    # What an older row lacks has its default, as when it is read; else it is empty and told of.
    lacking = len(one.columns) - len(cells)
    is_older = 0 < lacking <= one.added
    more = [column.default for column in one.columns[-lacking:]] if is_older else []
    padded = [*cells, *more, *[""] * len(one.columns)]
    return element(
        "tr",
        element("th", str(number), scope="row", data_name=one.row_name),
        [
            element(
                "td",
                _entry(
                    column,
                    text.strip(" "),
                    data_cell=column.key,
                    data_label=column.label,
                    data_numbered=isinstance(column, Text) and column.numbered,
                    data_names=(isinstance(column, Text) and column.names) or None,
                    data_refers=(isinstance(column, Text) and column.refers) or None,
                    aria_label=f"{column.label}, {one.row_name} {number}",
                ),
                data_head=f"{column.label} ({column.unit})" if column.unit else column.label,
                class_="cell--wide" if isinstance(column, Words) else None,
            )
            for column, text in zip(one.columns, padded, strict=False)
        ],
        element(
            "td",
            _movers(one, number, last) if one.ordered else None,
            element(
                "button",
                "Remove",
                type="button",
                class_="button button--quiet",
                data_action="remove-row",
                aria_label=f"Remove {one.row_name} {number}",
            ),
        ),
        data_row_name=one.row_name,
    )


def _movers(one: Rows, number: int, last: int) -> list[Element]:
    """Return the buttons that move a row; at the table's ends one of them rests."""
    return [
        element(
            "button",
            sign,
            type="button",
            class_="button button--quiet",
            data_action=f"row-{way}",
            aria_label=f"Move {one.row_name} {number} {way}",
            disabled=number == end,
        )
        for way, sign, end in (("up", "↑", 1), ("down", "↓", last))
    ]


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
    buttons = [
        element("button", word, type="button", class_="button button--quiet", data_hand_over=kind)
        for kind, word in _HAND_OVER
    ]
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
            element(
                "div",
                element("div", class_="notices", hidden=True),
                element("div", class_="error-summary", tabindex="-1", role="alert", hidden=True),
                element(
                    "p", "This answer belongs to the earlier inputs.", class_="earlier", hidden=True
                ),
                element("div", answer_tree(answer), class_="answer", id=answer_id, tabindex="-1"),
                element(
                    "div",
                    buttons,
                    class_="hand-over",
                    role="group",
                    aria_label="Take this answer with you",
                ),
                element("div", class_="qr", hidden=True),
                class_="calculator__answer",
            ),
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

"""The HTML renderer of a sheet.  It knows words, figures and shapes, not the trade."""

from xml.etree.ElementTree import Element

from calc.answers.calculator import Answer
from calc.answers.figures import THIN_SPACE, rounded
from calc.answers.kit import KitLine
from calc.answers.markup import element, group, markup
from calc.answers.sheet import (
    Box,
    Cell,
    Column,
    Drawing,
    Figure,
    Onward,
    Part,
    Press,
    Progress,
    Quantity,
    Sheet,
    Sound,
    Span,
    Table,
    Verdict,
)
from calc.renderers.html_candidates import candidates, next_step
from calc.renderers.html_prices import price_box, prices_foot
from calc.renderers.html_signs import sign, state_sign, verdict_class
from calc.renderers.text import IN_TABLES, heading_text, input_lines, written

_LONG = 20  # rows; a longer table scrolls on the screen and has two columns on paper
_CAUTION_SHAPE = ("M12 2L1 21h22z", "M12 9v6M12 17.5v1")


def field_id(calculator: str, key: str) -> str:
    """Return the id from which hint and error take theirs."""
    return f"{calculator}--{key}"


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


def sound_box(sound: Sound) -> Element:
    """Return the buttons that play and save a sound; nothing plays before one is pressed."""
    return element(
        "div",
        element("p", sound.title, class_="sound__title"),
        element(
            "div",
            element("button", "Play", type="button", class_="button", data_sound="play"),
            element(
                "button",
                "Save as a WAV file",
                type="button",
                class_="button button--quiet",
                data_sound="save",
            ),
            class_="sound__buttons",
        ),
        class_="sound",
        role="group",
        aria_label=sound.title,
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
        list(picture.svg),
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


def onward_list(ways: tuple[Onward, ...]) -> Element | None:
    """Return the ways on as links; pages stand beside one another below the site's root."""
    if not ways:
        return None
    return element(
        "div",
        element("p", "Go on with these figures", class_="onward__title"),
        element(
            "ul",
            [
                (
                    element(
                        "li",
                        element(
                            "a",
                            way.label,
                            href="../" + way.link,
                        ),
                    ),
                    "\n",
                )
                for way in ways
            ],
        ),
        class_="onward",
    )


def caution_box(cautions: tuple[str, ...]) -> Element | None:
    """Return the cautions with a warning sign and the word."""
    if not cautions:
        return None
    return element(
        "div",
        element(
            "p", sign(*_CAUTION_SHAPE), " Caution", class_="caution__word caution__word--drawn"
        ),
        element("ul", [(element("li", line), "\n") for line in cautions]),
        class_="caution",
    )


def fold(title: str, lines: tuple[str, ...], ordered: bool = False) -> Element | None:
    """Return lines folded away under a title; print opens them by style."""
    if not lines:
        return None
    items = [(element("li", line), "\n") for line in lines]
    return element(
        "details",
        element("summary", title),
        element("ol" if ordered else "ul", items),
        class_="fold",
    )


def key_figures(figures: tuple[Figure, ...]) -> Element | None:
    """Return the key figures as a list of terms, large."""
    if not figures:
        return None
    pairs = [
        (
            element(
                "div",
                element("dt", entry.label),
                " ",
                element("dd", figure(entry.value, entry.decimals, figures=None)),
            ),
            "\n",
        )
        for entry in figures
    ]
    return element("dl", pairs, class_="key-figures")


def progress_bar(progress: Progress) -> Element:
    """Return how far an answer has come, with the button that stops it or goes on."""
    word, action = ("Go on", "go-on") if progress.is_stopped else ("Stop", "stop")
    return element(
        "div",
        element("progress", value=progress.done, max=progress.total, aria_label="Checked so far"),
        element("span", f"{progress.done} of {progress.total} checked", class_="progress__words"),
        element("button", word, type="button", class_="button button--quiet", data_action=action),
        class_="progress",
    )


def sheet_part(part: Part, identity: str) -> Element:
    """Return a part of a long answer under its heading."""
    return element(
        "section",
        element("h3", part.title, id=identity, class_="part__title", tabindex="-1"),
        element("p", verdict(part.verdict)) if part.verdict else None,
        element("p", part.sentence) if part.sentence else None,
        key_figures(part.figures),
        [drawing(each, f"{identity}-d{at}") for at, each in enumerate(part.drawings)],
        [table(each) for each in part.tables],
        class_="part",
        aria_labelledby=identity,
    )


def part_id(identity: str, at: int) -> str:
    """Return the id of a part's heading."""
    return f"{identity}-p{at}"


def contents(parts: tuple[Part, ...], identity: str) -> Element | None:
    """Return the parts of a long answer as links, each with its verdict."""
    if not parts:
        return None
    lines = []
    for at, part in enumerate(parts):
        way = element("a", part.title, href="#" + part_id(identity, at), class_="jump")
        state_words = None
        if part.verdict:
            state_words = group(state_sign(part.verdict.state), " ", part.verdict.state)
        state = (
            element("span", state_words, class_=verdict_class(part.verdict))
            if part.verdict
            else None
        )
        lines.append((element("li", way, " ", state), "\n"))
    return element("ul", lines, class_="contents", aria_label="Steps of this answer")


def sheet_body(sheet: Sheet, identity: str) -> Element:
    """Return a sheet without its inputs, as examples in running text show it."""
    return group(
        element("p", sheet.sentence, class_="sentence"),
        element("p", element("code", sheet.notation), class_="notation")
        if sheet.notation
        else None,
        element("p", [press(way) for way in sheet.ways], class_="ways") if sheet.ways else None,
        progress_bar(sheet.progress) if sheet.progress else None,
        element("p", verdict(sheet.verdict)) if sheet.verdict else None,
        candidates(sheet.candidates),
        next_step(sheet.next_step),
        key_figures(sheet.figures),
        sound_box(sheet.sound) if sheet.sound else None,
        [drawing(picture, f"{identity}-d{at}") for at, picture in enumerate(sheet.drawings)],
        contents(sheet.parts, identity),
        [table(rows) for rows in sheet.tables],
        [sheet_part(part, part_id(identity, at)) for at, part in enumerate(sheet.parts)],
        onward_list(sheet.onward),
        caution_box(sheet.cautions),
        fold("How it was worked out", sheet.steps, ordered=True),
        fold("What this does not know", sheet.unknowns),
        fold("Sources", sheet.sources),
    )


def answer_tree(answer: Answer) -> Element:
    """Return the answer as the page shows it: inputs (for print), then the sheet.

    The many inputs of a whole job come last, as an appendix.
    """
    inputs = element(
        "div",
        element("p", "Inputs", class_="inputs-listed__title"),
        element("ul", [(element("li", line.strip()), "\n") for line in input_lines(answer)]),
        class_="inputs-listed",
    )
    body = sheet_body(answer.sheet, f"{answer.calculator.name}-answer")
    parts = (body, inputs) if answer.calculator.is_whole_job else (inputs, body)
    return element("div", *parts, class_="sheet")


def answer_html(answer: Answer) -> str:
    """Write the fragment that the page shows beside the form and `--html` prints."""
    return markup(answer_tree(answer))

"""What was read from a text, as the page shows it: to accept, to strike, to answer."""

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.answers.figures import THIN_SPACE, capital
from calc.answers.markup import element, group
from calc.inputs.field_base import Refused
from calc.reading.record import (
    MOST_TOLD,
    Figure,
    Kind,
    Question,
    Reading,
    columns_of,
    gaps,
    joined,
)


def proposal(reading: Reading, current: Mapping[str, str]) -> Element:
    """Return the text with what was read marked in it, a note for each figure, and the rest.

    current : what is typed already, by key; a figure that differs from it is struck at first
    """
    notes: list[Figure | Question] = [*reading.figures, *reading.questions]
    notes.sort(key=lambda note: (note.span.start, note.span.end))
    lines = [
        _figure_line(number, reading, note, current)
        if isinstance(note, Figure)
        else _question_line(number, note)
        for number, note in enumerate(notes, start=1)
    ]
    return group(
        element("p", _marked(reading, notes), class_="paste__text"),
        element("ol", lines, class_="proposals") if lines else None,
        element("p", "No figures were recognised in this text.", class_="paste__more")
        if not lines
        else None,
        _more("Refused:", [f"“{each.words}”: {each.reason}." for each in reading.refused]),
        _more(
            "Not understood, not used:",
            [f"“{reading.brief(span)}”" for span in reading.left],
        ),
    )


def _more(head: str, lines: list[str]) -> Element | None:
    if not lines:
        return None
    told = lines[:MOST_TOLD]
    rest = [f"and {len(lines) - len(told)} more"] if len(lines) > len(told) else []
    return element(
        "div",
        element("p", element("strong", head)),
        element("ul", [element("li", line) for line in [*told, *rest]]),
        class_="paste__more",
    )


def _marked(reading: Reading, notes: list[Figure | Question]) -> list[Element | str]:
    """Return the text as it was pasted: read, refused and left pieces marked."""
    read = joined([note.span for note in notes])
    refused = [
        piece
        for span in joined([each.span for each in reading.refused])
        for piece in gaps(read, span.start, span.end)
    ]
    taken = joined([*read, *refused])
    left = [piece for span in joined(reading.left) for piece in gaps(taken, span.start, span.end)]
    pieces = [(span, "read") for span in read]
    pieces += [(span, "refused") for span in refused]
    pieces += [(span, "left") for span in left]
    pieces.sort(key=lambda piece: piece[0].start)
    shown: list[Element | str] = []
    at = 0
    for span, style in pieces:
        numbers = [
            str(number)
            for number, note in enumerate(notes, start=1)
            if style == "read" and span.start <= note.span.start < span.end
        ]
        shown.append(_shown(reading.text[at : span.start]))
        tag = {"read": "span", "refused": "s", "left": "span"}[style]
        sign = element("sup", ", ".join(numbers)) if numbers else None
        words = _shown(reading.text[span.start : span.end])
        shown.append(element(tag, words, sign, class_=f"paste__{style}"))
        at = span.end
    shown.append(_shown(reading.text[at:]))
    return shown


def _shown(text: str) -> str:
    """Return text as a page can hold it: what no reader sees is a blank."""
    return "".join(c if c.isprintable() or c == "\n" else " " for c in text)


def _what(kind: Kind, key: str, value: str) -> list[Element | str]:
    """Return a figure in words: label, number and unit."""
    column = columns_of(kind)[key]
    number = element("span", column.say(column.read(value)) or value, class_="figure")
    unit = element("span", THIN_SPACE + column.unit, class_="unit") if column.unit else None
    return [f"{capital(column.label)} ", element("strong", number, unit)]


def _figure_line(
    number: int, reading: Reading, figure: Figure, current: Mapping[str, str]
) -> Element:
    typed = current.get(figure.key, "").strip()
    differs = bool(typed) and typed != "?" and not _same(reading.kind, figure, typed)
    what: list[Element | str] = list(_what(reading.kind, figure.key, figure.value))
    if differs:
        what = [
            f"{capital(columns_of(reading.kind)[figure.key].label)}: yours ",
            element("strong", typed, class_="figure"),
            ", text ",
            element("strong", figure.value, class_="figure"),
        ]
    name = "".join(part if isinstance(part, str) else "".join(part.itertext()) for part in what)
    return element(
        "li",
        element("span", str(number), class_="note"),
        element(
            "span",
            element("span", what, class_="what"),
            element("q", figure.words),
            element("span", f"follows from {figure.follows}", class_="follows")
            if figure.follows
            else None,
        ),
        element(
            "button",
            "Take" if differs else "Strike",
            type="button",
            class_="button button--quiet",
            data_strike=True,
            aria_label=f"{'Take' if differs else 'Strike'} {name}",
            data_name=name,
        ),
        class_="struck" if differs else None,
        data_note=number,
        data_figures=json.dumps({figure.key: figure.value}),
        data_words=figure.words,
    )


def _same(kind: Kind, figure: Figure, typed: str) -> bool:
    """Tell whether what is typed is the figure that was read, however it is written."""
    column = columns_of(kind)[figure.key]
    try:
        return bool(column.read(typed) == column.read(figure.value))
    except Refused:
        return False


def _question_line(number: int, question: Question) -> Element:
    return element(
        "li",
        element("span", str(number), class_="note"),
        element(
            "span",
            element("span", question.asks, class_="what"),
            element("q", question.words),
            element(
                "span",
                [
                    element(
                        "button",
                        label,
                        type="button",
                        class_="preset preset--words",
                        aria_pressed="false",
                        data_choice=json.dumps(dict(values)),
                    )
                    for label, values in question.choices
                ],
                class_="ask",
                role="group",
                aria_label=question.asks,
            ),
        ),
        class_="open",
        data_note=number,
        data_words=question.words,
    )

"""Replies to what a page asks: answers, refusals, and forms that were filled."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.markup import element, group, markup
from calc.answers.sheet import Verdict
from calc.app.contents import query_of
from calc.inputs import links
from calc.inputs.errors import InputError, refuse, shown
from calc.inputs.field_base import Raw
from calc.renderers.html import answer_html
from calc.renderers.html_errors import errors_html
from calc.renderers.html_form import form
from calc.renderers.html_pieces import verdict


def failed(reason: str) -> dict[str, object]:
    """Return that nothing was made that a page can show, and why."""
    return {"kind": "failed", "text": reason}


def checked(inputs: object) -> dict[str, Raw]:
    """Return the inputs if they have the shape that a form sends."""

    def is_rows(raw: object) -> bool:
        return isinstance(raw, list) and all(
            isinstance(row, list) and all(isinstance(cell, str) for cell in row) for row in raw
        )

    if not isinstance(inputs, dict):
        raise refuse("inputs", type(inputs).__name__, "Inputs: enter fields with texts.")
    for key, raw in inputs.items():
        if not isinstance(raw, str) and not is_rows(raw):
            message = f"{shown(key)}: ‘{shown(raw)}’ is not text. Enter a text, or rows of texts."
            raise refuse(shown(key), raw, message)
    return inputs


def _kept_as(answer: Answer, query: str) -> str:
    """Return the name under which a device keeps the readings of an answer's system.

    A stock list is in no query: the amplifier that was found in it tells one plan from another.
    """
    amplifier = answer.sheet.results.get("amplifier")
    return f"{query} {amplifier}" if isinstance(amplifier, str) else query


def answer_reply(answer: Answer) -> dict[str, object]:
    """Return an answer as a page shows it."""
    query = query_of(answer)
    return {
        "kind": "answer",
        "html": answer_html(answer),
        "sentence": answer.sheet.sentence,
        "query": query,
        "kept_as": _kept_as(answer, query),
        "marks": {heading: markup(verdict(mark)) for heading, mark in answer.sheet.marks.items()},
    }


def refusal(error: InputError, calculator: AnyCalculator) -> dict[str, object]:
    """Return what is wrong with the inputs, as data and in words."""
    return {
        "kind": "refused",
        "errors": [wrong.as_data() for wrong in error.errors],
        "more_errors": error.more,
        "html": errors_html(error, calculator),
    }


def with_form(calculator: AnyCalculator, asked: links.Opened) -> dict[str, object]:
    """Return the reply to inputs that fill the form, and the form; their answer or its errors."""
    asked = replace(asked, texts={**calculator.opens, **asked.texts})
    marks: Mapping[str, Verdict] = {}
    more = calculator.stream is not None
    try:
        if calculator.stream is None:
            answer = calculator.answer(asked.texts, asked.errors)
        else:
            # The page goes on from here step by step.
            values = calculator.form.read(asked.texts, asked.errors)
            stream = calculator.stream(calculator.build(values))
            answer = Answer(calculator, values, stream.sheet())
        reply, marks = answer_reply(answer), answer.sheet.marks
    except InputError as error:
        reply = refusal(error, calculator)
    shown_notices = markup(group([element("p", notice) for notice in asked.notices]))
    if more and reply["kind"] == "answer":
        reply = {**reply, "more": True}
    return {**reply, "form": markup(form(calculator, asked.texts, marks)), "notices": shown_notices}

"""What the web page asks for: one function from message text to answer text.

The worker calls `respond` with a request as JSON and posts back what it returns.

Requests (all with `calculator`):
    {"kind": "answer", "inputs": {key: text or rows}}
    {"kind": "open", "query": text, "kept": …}         a link's inputs; empty for the example; what
                                                       no link holds, from those kept, if any
    {"kind": "fill", "inputs": …}                      inputs that the device kept
    {"kind": "file", "text": text}                     a file's inputs
    {"kind": "take", "system": …, "about": number}     inputs from the system that the device keeps
    {"kind": "give", "system": …, "about": number, "inputs": …}    back to it
    {"kind": "stream", "inputs": …, "first": true | false, "stop": true | false}  the next step of a
                                                       long answer, or where it stops
    {"kind": "start", "start": number, "inputs": …}    a starting point, over the inputs
    {"kind": "hand-over", "inputs": …, "as": "text" | "json" | "csv" | "file"}
    {"kind": "qr", "link": text}
    {"kind": "qr-file", "inputs": …}                   of a calculator that writes a file
    {"kind": "sound", "inputs": …}                     of a calculator that makes one

Replies (their types: `build/web/messages.ts`):
    {"kind": "answer", "html", "sentence", "query", "kept_as", "marks"}
        "kept_as": the name that readings are kept under; of a long one "more": it goes on
    {"kind": "refused", "errors": [{"field", "row", "column", "given", "message"}], "more_errors":
     number of those left out, "html"}
        both with "form" and "notices" where a form was filled, and "abouts" and "about" where
        the system filled it
    {"kind": "handed-over", "text", "name"}
    {"kind": "sound", "wav", "name"}                   the file in base 64
    {"kind": "told", "text"}                           nothing was taken or given; why
    {"kind": "given", "system", "text"}                the fields with what was given back
    {"kind": "failed", "text"}                         nothing was made to be taken away, or no
                                                       reply that a page can show; why
"""

import json
from base64 import b64encode
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

from calc.answers.calculator import Answer, AnyCalculator, Stream
from calc.answers.markup import element, group, markup
from calc.answers.sheet import Verdict
from calc.app.contents import CALCULATORS, PAGES, page_of, query_of
from calc.choosing import exchange
from calc.choosing.plan import AnyQuestion
from calc.inputs import links
from calc.inputs.errors import InputError, refuse, shown
from calc.inputs.field_base import Raw, Value
from calc.inputs.rows import Readings
from calc.renderers.data import answer_csv, answer_json
from calc.renderers.html import answer_html, verdict
from calc.renderers.html_errors import errors_html
from calc.renderers.html_form import form
from calc.renderers.text import answer_text

LARGEST_REPLY = 2_000_000  # bytes; a page that is given more stands still
_TOO_LARGE = (
    "The answer is larger than 2 MB and is not shown. Ask for less: fewer rows, or a shorter list."
)
HAND_OVERS = {
    "text": (answer_text, "txt"),
    "json": (answer_json, "json"),
    "csv": (answer_csv, "csv"),
}


def respond(request_text: str) -> str:
    """Answer one request; bad input is answered in words, never raised."""
    try:
        request = json.loads(request_text)
    except RecursionError:
        return json.dumps(_failed("What was asked lies too deep within itself to be read."))
    reply = _reply(CALCULATORS[request["calculator"]], request)
    # Escaped to ASCII: half a surrogate pair in a link must not stop the way back.
    text = json.dumps(reply)
    # A sound is as long as its field permits, and is not shown: the page hands it on as a file.
    if len(text) > LARGEST_REPLY and reply["kind"] != "sound":
        return json.dumps(_failed(_TOO_LARGE))
    return text


def _failed(reason: str) -> dict[str, object]:
    return {"kind": "failed", "text": reason}


def _reply(calculator: AnyCalculator, request: dict[str, object]) -> dict[str, object]:
    match request["kind"]:
        case "answer":
            reply = _answered(calculator, request["inputs"])
        case "open":
            reply = _opened(calculator, str(request["query"]), request.get("kept", {}))
        case "fill":
            reply = _filled(calculator, request["inputs"])
        case "file":
            reply = _from_file(calculator, str(request["text"]))
        case "take":
            reply = _taken(calculator, request["system"], request["about"])
        case "give":
            reply = _given_back(calculator, request["system"], request["about"], request["inputs"])
        case "stream":
            stops = bool(request.get("stop"))
            reply = _streamed(calculator, request["inputs"], bool(request["first"]), stops=stops)
        case "start":
            reply = _started(calculator, request["start"], request["inputs"])
        case "hand-over":
            reply = _handed_over(calculator, request["inputs"], str(request["as"]))
        case "sound":
            reply = _sounded(calculator, request["inputs"])
        case "qr":
            reply = _qr(str(request["link"]), "link")
        case "qr-file":
            reply = _qr_of_file(calculator, request["inputs"])
        case kind:
            raise ValueError(f"no such request: {kind!r}")
    return reply


def _checked(inputs: object) -> dict[str, Raw]:
    """Return the inputs if they have the shape that a form sends."""

    def is_rows(raw: object) -> bool:
        return isinstance(raw, list) and all(
            isinstance(row, list) and all(isinstance(cell, str) for cell in row) for row in raw
        )

    if not isinstance(inputs, dict):
        raise refuse("inputs", type(inputs).__name__, "Inputs: give fields with texts.")
    for key, raw in inputs.items():
        if not isinstance(raw, str) and not is_rows(raw):
            message = f"{shown(key)}: ‘{shown(raw)}’ is not text. Give a text, or rows of texts."
            raise refuse(shown(key), raw, message)
    return inputs


def _kept_as(answer: Answer, query: str) -> str:
    """Return the name under which a device keeps the readings of an answer's system.

    A shelf list is in no query: the amplifier that was found in it tells one plan from another.
    """
    amplifier = answer.sheet.results.get("amplifier")
    return f"{query} {amplifier}" if isinstance(amplifier, str) else query


def _answer_reply(answer: Answer) -> dict[str, object]:
    query = query_of(answer)
    return {
        "kind": "answer",
        "html": answer_html(answer),
        "sentence": answer.sheet.sentence,
        "query": query,
        "kept_as": _kept_as(answer, query),
        "marks": {heading: markup(verdict(mark)) for heading, mark in answer.sheet.marks.items()},
    }


def _refusal(error: InputError, calculator: AnyCalculator) -> dict[str, object]:
    return {
        "kind": "refused",
        "errors": [wrong.as_data() for wrong in error.errors],
        "more_errors": error.more,
        "html": errors_html(error, calculator),
    }


# The long answer that is being worked out, by its inputs: a page has one at a time.
@lru_cache(maxsize=1)
def _stream(name: str, inputs: str) -> tuple[dict[str, Value], Stream]:
    calculator = CALCULATORS[name]
    values = calculator.form.read(json.loads(inputs))
    assert calculator.stream is not None
    return values, calculator.stream(calculator.build(values))


def _streamed(
    calculator: AnyCalculator, inputs: object, is_first: bool, *, stops: bool = False
) -> dict[str, object]:
    """Return the answer as far as it is known; the first time without any search."""
    try:
        values, stream = _stream(calculator.name, json.dumps(_checked(inputs)))
    except InputError as error:
        return _refusal(error, calculator)
    if not is_first and not stream.done and not stops:
        stream.advance()
    reply = _answer_reply(Answer(calculator, values, stream.sheet(stopped=stops)))
    return {**reply, "more": not stream.done and not stops}


def _answered(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    try:
        return _answer_reply(calculator.answer(_checked(inputs)))
    except InputError as error:
        return _refusal(error, calculator)


def _opened(calculator: AnyCalculator, query: str, kept: object) -> dict[str, object]:
    asked = links.opened(calculator.name, calculator.form, query, PAGES[page_of(calculator.name)])
    try:
        texts = _checked(kept)
    except InputError:
        texts = {}  # spoilt in the browser's storage: nobody typed it
    # Readings are a system's own, and go into no other.
    every = calculator.fields
    private = [field for field in every if field.private and not isinstance(field, Readings)]
    from_device = {field.key: texts[field.key] for field in private if field.key in texts}
    if query.strip("?"):
        # The sender's list is in no link, and an invented one must not stand in for it.
        unsent = {field.key: "" for field in private if field.optional}
        from_device = {**unsent, **from_device}
    asked = replace(asked, texts={**from_device, **asked.texts})
    return _with_form(calculator, asked)


def _started(calculator: AnyCalculator, start: object, inputs: object) -> dict[str, object]:
    if not isinstance(start, int) or start not in range(len(calculator.starts)):
        raise ValueError(f"no such starting point: {start!r}")
    try:
        texts = {**_checked(inputs), **calculator.starts[start].texts}
    except InputError as error:
        return _refusal(error, calculator)
    fields = calculator.form.by_key
    stays = {key: raw for key, raw in texts.items() if not isinstance(fields.get(key), Readings)}
    return _with_form(calculator, links.Opened(stays))


def _filled(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    """Fill the form with inputs that were kept, perhaps by an older handbook."""
    try:
        texts = _checked(inputs)
    except InputError as error:
        return _refusal(error, calculator)
    known = {key: raw for key, raw in texts.items() if key in calculator.form.by_key}
    return _with_form(calculator, links.Opened(known))


def _from_file(calculator: AnyCalculator, text: str) -> dict[str, object]:
    """Fill the form with a file of the kind that the command line reads first."""
    try:
        texts, wrong = calculator.files[0](text)
    except InputError as error:
        return _refusal(error, calculator)
    return _with_form(calculator, links.Opened(texts, errors=tuple(wrong)))


def _asked(
    calculator: AnyCalculator, kept: object
) -> tuple[exchange.Kept, tuple[AnyQuestion, ...]] | str:
    """Return the kept system with what its plan asks of the calculator, or why there is nothing."""
    try:
        system = exchange.read_kept(_checked(kept))
    except InputError as error:
        return f"The system on this device cannot be used: {error.errors[0].message}"
    questions = exchange.questions_for(calculator.name, system)
    if questions:
        return system, questions
    if not system.amplifiers:
        return "The system has no amplifier yet: choose one, or enter it in the plan."
    return "The plan of the system has nothing for this calculator."


def _place(about: object, count: int) -> int:
    """Return which of several is asked about; the first where that is none of them."""
    return about if isinstance(about, int) and about in range(count) else 0


def _taken(calculator: AnyCalculator, kept: object, about: object) -> dict[str, object]:
    asked = _asked(calculator, kept)
    if isinstance(asked, str):
        return {"kind": "told", "text": asked}
    _, questions = asked
    at = _place(about, len(questions))
    question = questions[at]
    if question.missing:
        return {"kind": "told", "text": f"The system lacks: {', '.join(question.missing)}."}
    reply = _with_form(calculator, links.Opened(question.texts))
    lines = [element("li", line) for line in exchange.sources_of(question)]
    whose = f" ({question.about})" if question.about else ""
    head = f"Taken from the system{whose}: where each figure is from"
    notes = element("details", element("summary", head), element("ul", lines), class_="fold")
    return {
        **reply,
        "notices": markup(notes),
        "abouts": [other.about for other in questions],
        "about": at,
    }


def _given_back(
    calculator: AnyCalculator, kept: object, about: object, inputs: object
) -> dict[str, object]:
    asked = _asked(calculator, kept)
    if isinstance(asked, str):
        return {"kind": "told", "text": asked}
    system, questions = asked
    question = questions[_place(about, len(questions))]
    try:
        values = calculator.form.read(_checked(inputs))
        returned = exchange.give_back(question, values, system)
        exchange.read_kept({**_checked(kept), **returned.system})
    except InputError as error:
        return _refusal(error, calculator)
    parts = []
    if returned.changed:
        parts.append(f"Given to the system: {'; '.join(returned.changed)}.")
    if returned.kept_out:
        kept_out = ", ".join(returned.kept_out)
        parts.append(f"Not given, the system works these out: {kept_out}.")
    text = " ".join(parts) or "Nothing has changed: the system has these figures already."
    return {"kind": "given", "system": dict(returned.system), "text": text}


def _with_form(calculator: AnyCalculator, asked: links.Opened) -> dict[str, object]:
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
        reply, marks = _answer_reply(answer), answer.sheet.marks
    except InputError as error:
        reply = _refusal(error, calculator)
    shown_notices = markup(group([element("p", notice) for notice in asked.notices]))
    if more and reply["kind"] == "answer":
        reply = {**reply, "more": True}
    return {**reply, "form": markup(form(calculator, asked.texts, marks)), "notices": shown_notices}


def _made(what: str, make: Callable[[], dict[str, object]]) -> dict[str, object]:
    """Return what is taken away; where it cannot be made, say so and why."""
    try:
        return make()
    except MemoryError:
        reason = "there is not enough memory"
    except ValueError as error:
        reason = str(error)
    return {"kind": "failed", "text": f"The {what} was not made: {reason}."}


def _handed_over(calculator: AnyCalculator, inputs: object, shape: str) -> dict[str, object]:
    try:
        answer = calculator.answer(_checked(inputs))
    except InputError as error:
        return _refusal(error, calculator)
    if shape == "file" and calculator.write_file is not None:
        write_file = calculator.write_file
        return _made(
            "file",
            lambda: {
                "kind": "handed-over",
                "text": write_file(answer.inputs),
                "name": "system.toml",
            },
        )
    write, ending = HAND_OVERS[shape]
    name = f"{calculator.name}.{ending}"
    return _made(
        "text" if shape == "text" else "file",
        lambda: {"kind": "handed-over", "text": write(answer), "name": name},
    )


def _sounded(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    try:
        sound = calculator.answer(_checked(inputs)).sheet.sound
    except InputError as error:
        return _refusal(error, calculator)
    if sound is None:
        raise ValueError(f"{calculator.name} makes no sound")

    def make() -> dict[str, object]:
        return {"kind": "sound", "wav": b64encode(sound.wav()).decode("ascii"), "name": sound.name}

    return _made("sound", make)


def _qr_of_file(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    try:
        values = calculator.form.read(_checked(inputs))
    except InputError as error:
        return _refusal(error, calculator)
    if calculator.write_brief is None:
        raise ValueError(f"{calculator.name} writes no file")
    return _qr(calculator.write_brief(values), "file")


def _qr(text: str, what: str) -> dict[str, object]:
    # Imported here so that the command line works without the QR library.
    from calc.renderers.qr import qr_svg

    return _made(
        "QR code",
        lambda: {"kind": "handed-over", "text": markup(qr_svg(text, what)), "name": "link.svg"},
    )

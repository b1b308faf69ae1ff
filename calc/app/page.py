"""What the web page asks for: one function from message text to answer text.

The worker calls `respond` with a request as JSON and posts back what it returns.

Requests (all with `calculator`):
    {"kind": "answer", "inputs": {key: text or rows}}
    {"kind": "open", "query": text, "kept": …, "among": [name, …]}
                                                       a link's inputs; empty for the example; what
                                                       no link holds, from those kept, if any;
                                                       `among`: the page's calculators, if several
    {"kind": "fill", "inputs": …}                      inputs that the device kept
    {"kind": "file", "text": text}                     a file's inputs
    {"kind": "take", "system": …, "about": number}     inputs from the system that the device keeps
    {"kind": "give", "system": …, "about": number, "inputs": …}    back to it
    {"kind": "stream", "inputs": …, "first": true | false, "stop": true | false}  the next step of a
                                                       long answer, or where it stops
    {"kind": "start", "start": number, "inputs": …}    a starting point, over the inputs
    {"kind": "hand-over", "inputs": …, "as": "text" | "json" | "csv" | "kit-csv" | "file" |
     "template", "prices": {article: text}}            prices with a kit list alone
    {"kind": "qr", "link": text}
    {"kind": "qr-paper", "link": text}                 for the corner of a printed sheet
    {"kind": "qr-file", "inputs": …}                   of a calculator that writes a file
    {"kind": "sound", "inputs": …, "from": 0}          of a calculator that makes one, in parts
    {"kind": "read", "about": "amplifier" | "speaker", "text": text, "current": {key: text}}
                                                       a pasted spec sheet, and what is typed
    {"kind": "spreadsheet", …}, {"kind": "stock", …}   the stock list: see `calc/app/stock.py`

Replies (their types: `build/web/messages.ts`):
    {"kind": "answer", "html", "sentence", "query", "kept_as", "marks"}
        "kept_as": the name that readings are kept under; of a long one "more": it goes on
    {"kind": "refused", "errors": [{"field", "row", "column", "given", "message"}], "more_errors":
     number of those left out, "html"}
        both with "form" and "notices" where a form was filled, and "abouts" and "about" where
        the system filled it
    {"kind": "handed-over", "text", "name"}
    {"kind": "sound", "wav", "size", "name"}           a part of the file in base 64, and its size
    {"kind": "proposal", "html", "figures"}            what was read, to be taken or struck
    {"kind": "told", "text"}                           nothing was taken or given; why
    {"kind": "given", "system", "text"}                the fields with what was given back
    {"kind": "stocked", "shelf", "is_there", "text"}   the stock list with an amplifier put into it;
                                                       None where it is as it was
    {"kind": "failed", "text"}                         nothing was made to be taken away, or no
                                                       reply that a page can show; why
"""

import json
from base64 import b64encode
from dataclasses import replace
from functools import lru_cache

from calc.answers.calculator import Answer, AnyCalculator, Stream
from calc.app import stock
from calc.app.away import kit_file, made, qr, qr_for_paper
from calc.app.contents import CALCULATORS
from calc.app.exchanging import given_back, taken
from calc.app.pasted import proposed
from calc.app.replies import answer_reply, checked, failed, refusal, with_form
from calc.inputs import links
from calc.inputs.errors import InputError
from calc.inputs.field_base import Value
from calc.inputs.fields import Document
from calc.inputs.rows import Readings
from calc.renderers.data import answer_csv, answer_json
from calc.renderers.text import answer_text

LARGEST_REPLY = 2_000_000  # bytes; a page that is given more stands still
_PART = 1_200_000  # bytes of a sound in one reply; in base 64 they are a third more
_TOO_LARGE = "The answer is larger than 2 MB and is not shown. Enter fewer rows or a shorter list."
_OLD_LINK = (
    "This link is from the first edition. Its figures were kept; the others are an invented "
    "example’s, and marked. Check every figure, then copy a new link."
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
        return json.dumps(failed("The request is nested too deeply to be read."))
    reply = _reply(CALCULATORS[request["calculator"]], request)
    # Escaped to ASCII: half a surrogate pair in a link must not stop the way back.
    text = json.dumps(reply)
    if len(text) > LARGEST_REPLY:
        return json.dumps(failed(_TOO_LARGE))
    return text


def _reply(calculator: AnyCalculator, request: dict[str, object]) -> dict[str, object]:
    match request["kind"]:
        case "answer":
            reply = _answered(calculator, request["inputs"])
        case "open":
            reply = _opened(calculator, request)
        case "fill":
            reply = _filled(calculator, request["inputs"])
        case "file":
            reply = _from_file(calculator, str(request["text"]))
        case "take":
            reply = taken(calculator, request["system"], request["about"])
        case "give":
            reply = given_back(calculator, request["system"], request["about"], request["inputs"])
        case "stream":
            stops = bool(request.get("stop"))
            reply = _streamed(calculator, request["inputs"], bool(request["first"]), stops=stops)
        case "start":
            reply = _started(calculator, request["start"], request["inputs"])
        case "hand-over":
            shape = str(request["as"])
            reply = _handed_over(calculator, request["inputs"], shape, request.get("prices"))
        case "read":
            reply = proposed(request)
        case "sound":
            reply = _sounded(calculator, request["inputs"], int(str(request.get("from", 0))))
        case "spreadsheet":
            reply = stock.spreadsheet(request["data"])
        case "stock":
            replace_it = bool(request["replace"])
            reply = stock.stocked(request["shelf"], request["amplifiers"], replace=replace_it)
        case "qr":
            reply = qr(str(request["link"]), "link")
        case "qr-paper":
            reply = qr_for_paper(str(request["link"]))
        case "qr-file":
            reply = _qr_of_file(calculator, request["inputs"])
        case kind:
            raise ValueError(f"no such request: {kind!r}")
    return reply


# The long answer that is being worked out, by its inputs: a page has one at a time.
@lru_cache(maxsize=1)
def _stream(name: str, inputs: str) -> tuple[dict[str, Value], Stream]:
    calculator = CALCULATORS[name]
    values = calculator.form.read(json.loads(inputs))
    assert calculator.stream is not None
    return values, calculator.stream(calculator.build(values))


def forget_stream() -> None:
    """Forget the last answer that came in steps."""
    _stream.cache_clear()


def _streamed(
    calculator: AnyCalculator, inputs: object, is_first: bool, *, stops: bool = False
) -> dict[str, object]:
    """Return the answer as far as it is known; the first time without any search."""
    try:
        values, stream = _stream(calculator.name, json.dumps(checked(inputs)))
    except InputError as error:
        return refusal(error, calculator)
    if not is_first and not stream.done and not stops:
        stream.advance()
    reply = answer_reply(Answer(calculator, values, stream.sheet(stopped=stops)))
    return {**reply, "more": not stream.done and not stops}


def _answered(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    try:
        return answer_reply(_whole_answer(calculator, inputs))
    except InputError as error:
        return refusal(error, calculator)


def _opened(calculator: AnyCalculator, request: dict[str, object]) -> dict[str, object]:
    name, query = calculator.name, str(request["query"])
    asked = links.opened(name, calculator.form, query, _names(request.get("among"), name))
    try:
        texts = checked(request.get("kept", {}))
    except InputError:
        texts = {}  # spoilt in the browser's storage: nobody typed it
    # Readings are a system's own, and go into no other.
    every = calculator.fields
    private = [field for field in every if field.private and not isinstance(field, Readings)]
    from_device = {field.key: texts[field.key] for field in private if field.key in texts}
    if calculator.opens and query.strip("?") and asked.version != links.LINK_VERSION:
        texts_then = {field.key: field.default for field in calculator.fields if not field.private}
        asked = replace(
            asked, texts={**texts_then, **asked.texts}, notices=(_OLD_LINK, *asked.notices)
        )
    if query.strip("?"):
        # The sender's list is in no link, and an invented one must not stand in for it.
        unsent = {field.key: "" for field in private if field.optional}
        from_device = {**unsent, **from_device}
    unsent_words = tuple(
        field.not_sent
        for field in private
        if isinstance(field, Document) and query.strip("?") and not from_device.get(field.key)
    )
    asked = replace(
        asked,
        texts={**from_device, **asked.texts},
        notices=(*asked.notices, *(words for words in unsent_words if words)),
    )
    return with_form(calculator, asked)


def _names(among: object, name: str) -> tuple[str, ...]:
    """Return the calculators of the page: a calculator's own page holds it alone."""
    named = among if isinstance(among, list) else []
    names = tuple(other for other in named if isinstance(other, str) and other in CALCULATORS)
    return names if name in names else (name,)


def _started(calculator: AnyCalculator, start: object, inputs: object) -> dict[str, object]:
    if not isinstance(start, int) or start not in range(len(calculator.starts)):
        raise ValueError(f"no such starting point: {start!r}")
    try:
        own = checked(inputs)
        # A stock list of one's own stays.
        mine = {field.key for field in calculator.fields if field.private and own.get(field.key)}
        begun = calculator.starts[start].texts
        texts = {**own, **{key: text for key, text in begun.items() if key not in mine}}
    except InputError as error:
        return refusal(error, calculator)
    fields = calculator.form.by_key
    stays = {key: raw for key, raw in texts.items() if not isinstance(fields.get(key), Readings)}
    return with_form(calculator, links.Opened(stays))


def _filled(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    """Fill the form with inputs that were kept, perhaps by an older handbook."""
    try:
        texts = checked(inputs)
    except InputError as error:
        return refusal(error, calculator)
    known = {key: raw for key, raw in texts.items() if key in calculator.form.by_key}
    return with_form(calculator, links.Opened(known))


def _from_file(calculator: AnyCalculator, text: str) -> dict[str, object]:
    """Fill the form with a file of the kind that the command line reads first."""
    try:
        texts, wrong = calculator.files[0](text)
    except InputError as error:
        return refusal(error, calculator)
    notices = calculator.notices_of_file(text) if calculator.notices_of_file else ()
    return with_form(calculator, links.Opened(texts, notices, errors=tuple(wrong)))


def _whole_answer(calculator: AnyCalculator, inputs: object) -> Answer:
    """Return the answer; one that comes in steps from where the page has got to with it."""
    if calculator.stream is None:
        return calculator.answer(checked(inputs))
    values, stream = _stream(calculator.name, json.dumps(checked(inputs)))
    while not stream.done:
        stream.advance()
    return Answer(calculator, values, stream.sheet())


def _handed_over(
    calculator: AnyCalculator, inputs: object, shape: str, prices: object = None
) -> dict[str, object]:
    if shape == "template":
        return stock.template_of(calculator.fields)
    try:
        answer = _whole_answer(calculator, inputs)
    except InputError as error:
        return refusal(error, calculator)
    if shape == "kit-csv":
        return kit_file(answer.sheet.kit, prices)
    if shape == "file" and calculator.write_file is not None:
        write_file = calculator.write_file
        return made(
            "file",
            lambda: {
                "kind": "handed-over",
                "text": write_file(answer.inputs),
                "name": "system.toml",
            },
        )
    write, ending = HAND_OVERS[shape]
    name = f"{calculator.name}.{ending}"
    return made(
        "text" if shape == "text" else "file",
        lambda: {"kind": "handed-over", "text": write(answer), "name": name},
    )


def _sounded(calculator: AnyCalculator, inputs: object, begin: int) -> dict[str, object]:
    try:
        sound = calculator.answer(checked(inputs)).sheet.sound
    except InputError as error:
        return refusal(error, calculator)
    if sound is None:
        raise ValueError(f"{calculator.name} makes no sound")

    def make() -> dict[str, object]:
        whole = sound.wav()
        part = whole[max(begin, 0) :][:_PART]
        wav = b64encode(part).decode("ascii")
        return {"kind": "sound", "wav": wav, "size": len(whole), "name": sound.name}

    return made("sound", make)


def _qr_of_file(calculator: AnyCalculator, inputs: object) -> dict[str, object]:
    try:
        values = calculator.form.read(checked(inputs))
    except InputError as error:
        return refusal(error, calculator)
    if calculator.write_brief is None:
        raise ValueError(f"{calculator.name} writes no file")
    return qr(calculator.write_brief(values), "file")

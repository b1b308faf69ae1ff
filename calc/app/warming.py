"""Everything that the page's Python may need, done once before its memory is saved."""

import gc
import io
import json
import zipfile
from base64 import b64encode

from calc.answers.calculator import AnyCalculator
from calc.answers.figures import rounded
from calc.app.contents import CALCULATORS
from calc.app.page import HAND_OVERS, forget_stream, respond
from calc.choosing.checks.layout import forget_words
from calc.choosing.fit_plan.solve import forget_plan
from calc.exercises.making import forget_problems
from calc.inputs.fields import Document
from calc.inputs.links import own_page
from calc.inputs.rows import Rows
from calc.placement.options import forget_places
from calc.system.system import SYSTEM_FIELDS
from calc.system.usual import amplifier_of

_PASTED = (
    ("amplifier", "4 x 60 W RMS at 4 Ω, 300 x 50 x 200 mm; fuse 2 x 25 A; max. 500 W"),
    ("speaker", "Subwoofer, 2 x 2 Ω, 300 W RMS, 600 W max"),
)


def warm_up() -> None:
    """Answer every calculator, so that whatever is imported late is imported now, and what
    is kept from one answer to the next is there already.  A sound is not made: it would take
    more memory than all else, and imports nothing late.
    """
    # What takes most memory for a while comes first, while little else is there yet.
    heaviest_first = sorted(CALCULATORS.items(), key=lambda each: each[1].stream is None)
    for name, calculator in heaviest_first:
        for request in _requests(name, calculator):
            respond(json.dumps({**request, "calculator": name}))
        # Of the last answers the saved memory needs nothing.
        forget_stream()
        forget_plan()
        forget_places()
        forget_problems()
        rounded.cache_clear()
        amplifier_of.cache_clear()
        forget_words()
        gc.collect()


def _requests(name: str, calculator: AnyCalculator) -> list[dict[str, object]]:
    requests: list[dict[str, object]] = [
        {"kind": "open", "query": ""},
        {"kind": "answer", "inputs": {"no-such-field": "\x00\ud800"}},
        {"kind": "answer", "inputs": calculator.heaviest},
        {"kind": "qr", "link": own_page(name)},
    ]
    for at in range(len(calculator.starts)):
        requests.append({"kind": "start", "start": at, "inputs": {}})
    for shape in HAND_OVERS:
        requests.append({"kind": "hand-over", "inputs": {}, "as": shape})
    if name == "kit-list":
        requests.append({"kind": "hand-over", "inputs": {}, "as": "kit-csv", "prices": {}})
    if calculator.stream:
        requests += [{"kind": "stream", "inputs": {}, "first": at == 0} for at in range(9)]
    requests += [
        {"kind": "take", "system": {}, "about": 0},
        {"kind": "give", "system": {}, "about": 0, "inputs": {}},
    ]
    if any(isinstance(field, Document) for field in calculator.fields):
        requests += [
            {"kind": "hand-over", "inputs": {}, "as": "template"},
            {"kind": "spreadsheet", "data": _spreadsheet()},
            {"kind": "stock", "shelf": "Model\nA", "amplifiers": [_row()], "replace": False},
        ]
    if calculator.files:
        requests += [
            {"kind": "file", "text": "x = "},
            {"kind": "hand-over", "inputs": {}, "as": "file"},
            {"kind": "qr-file", "inputs": {}},
        ]
        for about, text in _PASTED:
            typed = {"name": "A"}
            requests.append({"kind": "read", "about": about, "text": text, "current": typed})
    return requests


def _spreadsheet() -> str:
    """Return a spreadsheet with a single cell, in base 64."""
    out = io.BytesIO()
    sheet = "<worksheet><row><c t='inlineStr'><is><t>name</t></is></c></row></worksheet>"
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", sheet)
    return b64encode(out.getvalue()).decode("ascii")


def _row() -> list[str]:
    """Return an amplifier of which only the name is known, as a form has it."""
    field = SYSTEM_FIELDS[-1]
    assert isinstance(field, Rows)
    return ["B", *(column.default for column in field.columns[1:])]

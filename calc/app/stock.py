"""What the page asks about the stock list that a device keeps.

    {"kind": "spreadsheet", "data": the file in base 64}    its first sheet as text
    {"kind": "stock", "shelf": text, "amplifiers": rows, "replace": true | false}
                                                            an amplifier put into the list

Both are told in words when they cannot be done: what comes from a file or a browser's storage is
hostile until it was read.
"""

from base64 import b64decode

from calc.inputs.errors import InputError
from calc.inputs.field_base import Refused
from calc.inputs.fields import Document
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.system import SYSTEM_FIELDS

_NAME = [column.key for column in COLUMNS].index("name")


def _told(reason: str) -> dict[str, object]:
    return {"kind": "told", "text": reason}


def spreadsheet(data: object) -> dict[str, object]:
    """Return a spreadsheet as the text of a list, or why it is none."""
    # Imported here: few readers open one.
    from calc.system.files.spreadsheet import read_spreadsheet

    try:
        text = read_spreadsheet(b64decode(str(data).encode("ascii", "replace")))
    except InputError as error:
        return {"kind": "failed", "text": error.errors[0].message}
    except ValueError:
        return {"kind": "failed", "text": "The file could not be handed over. Open it again."}
    return {"kind": "handed-over", "text": text, "name": "shelf.csv"}


def stocked(shelf: object, rows: object, *, replace: bool) -> dict[str, object]:
    """Return the stock list with an amplifier in it, or why it is as it was.

    shelf : its text; empty where there is none yet
    rows : amplifiers as the form of a plan has them; of several the planned one is taken
    replace : whether one of the same name is replaced
    """
    from calc.system.files.shelf_changes import with_amplifier

    field = SYSTEM_FIELDS[-1]
    cells = _cells(rows)
    try:
        amplifiers: tuple[Amplifier, ...] = field.read(cells)
    except Refused as refused:
        return _told(f"Not added to the stock list: {refused.parts[0].message}")
    if not amplifiers:
        return _told("There is no amplifier to add yet.")
    planned = [at for at, each in enumerate(amplifiers) if each.role == "planned"]
    if len(amplifiers) > 1 and not planned:
        return _told("None of these is planned yet. Each has its own button, below its figures.")
    at = planned[0] if planned else 0
    amplifier = amplifiers[at]
    if not cells[at][_NAME].strip():
        return _told("Enter the amplifier’s name first: the stock list needs it.")
    try:
        changed = with_amplifier(str(shelf), amplifier, replace=replace)
    except InputError as error:
        first = error.errors[0].message
        return _told(f"Your stock list cannot be read and was not changed: {first}")
    return {
        "kind": "stocked",
        "shelf": changed.text,
        "is_there": changed.is_there,
        "text": changed.words,
    }


def _cells(rows: object) -> list[list[str]]:
    """Return rows as a field reads them; what has another shape is nothing."""
    if not isinstance(rows, list):
        return []
    return [[str(cell) for cell in row] for row in rows if isinstance(row, list)]


def template_of(fields: tuple[object, ...]) -> dict[str, object]:
    """Return the template of a calculator's list."""
    template = next(
        (field.template for field in fields if isinstance(field, Document) and field.template), ""
    )
    return {"kind": "handed-over", "text": template, "name": "stock-list-template.csv"}

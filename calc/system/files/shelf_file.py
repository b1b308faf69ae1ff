"""A shelf list: one's own amplifiers, as CSV or TOML."""

import csv
import io
from collections import Counter
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from calc.inputs.declared import build, values_of
from calc.inputs.errors import MOST_ERRORS, FieldError, InputError, refuse, shown
from calc.inputs.field_base import Refused
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.system_file import (
    LONGEST_FILE,
    parsed,
    quoted,
    row_cells,
    toml_value,
    without_mark,
)

MOST_AMPLIFIERS = 2000
_BY_KEY = {column.key: column for column in COLUMNS}
# What a plan's form holds besides: each of a list is held against the system.
_UNSEEN = {"not_printed": None, "role": "candidate"}
# Before the name of a column that only its owner reads.  Others are errors: a name that is
# misspelt would pass for a figure that is not known.
_OWN = "x_"
_LONGEST_NAME = 40  # of a column that is held against ours


def read_shelf(text: str) -> tuple[Amplifier, ...]:
    """Return the amplifiers of a shelf list; an empty cell is not known.

    Raises InputError with every wrong cell, named by row and column.
    """
    text = without_mark(text)
    if len(text) > LONGEST_FILE:
        raise refuse("shelf", text, f"The shelf list is longer than {LONGEST_FILE} characters.")
    rows = _toml_rows(text) if _is_toml(text) else _csv_rows(text)
    if not rows:
        raise refuse("shelf", "", "The shelf list is empty. Give a row for each amplifier.")
    if len(rows) > MOST_AMPLIFIERS:
        raise refuse("shelf", len(rows), f"{len(rows)} rows. Give at most {MOST_AMPLIFIERS}.")
    errors: list[FieldError] = []
    shelf = []
    names: dict[str, int] = {}
    for at, cells in rows:
        amplifier: dict[str, object] = {}
        for key, cell in zip(_BY_KEY, cells, strict=True):
            try:
                amplifier[key] = _BY_KEY[key].read(cell)
            except Refused as refused:
                errors.append(_cell_error(at, key, cell, str(refused)))
        name = amplifier.get("name")
        if isinstance(name, str) and name in names:
            twice = f"it stands in row {names[name]} already. Give each a name of its own."
            errors.append(_cell_error(at, "name", name, twice))
        elif isinstance(name, str):
            names[name] = at
        shelf.append(amplifier)
    if errors:
        raise InputError(errors)
    return tuple(build(Amplifier, {**_UNSEEN, **amplifier}) for amplifier in shelf)


def _cell_error(row: int, key: str, cell: str, message: str) -> FieldError:
    label = _BY_KEY[key].label
    return FieldError("shelf", shown(cell), f"Row {row}, {label}: {message}", row=row, column=key)


def _is_toml(text: str) -> bool:
    """Tell the two kinds apart: a table's head in brackets at the start of a line is TOML."""
    return any(line.lstrip().startswith("[[amplifiers]]") for line in text.splitlines())


def _toml_rows(text: str) -> list[tuple[int, list[str]]]:
    data = parsed(text, "shelf list")
    errors = [
        FieldError(shown(name), "", f"{shown(name)}: there is no such part. There is amplifiers.")
        for name in data
        if name not in ("amplifiers", "version", "title", "note")
    ]
    rows = []
    value = data.get("amplifiers")
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        raise refuse("amplifiers", "", "Give a row [[amplifiers]] for each amplifier.")
    for at, row in enumerate(value, start=1):
        used = {key: cell for key, cell in row.items() if not key.startswith(_OWN)}
        cells, wrong = row_cells(COLUMNS, used, "shelf", at)
        rows.append((at, cells))
        errors += wrong
    if errors:
        raise InputError(errors)
    return rows


def _csv_rows(text: str) -> list[tuple[int, list[str]]]:
    """Read the rows below a head of column names; the number counts the file's rows.

    The separator is a comma, or a semicolon or a tab where the head has one.
    """
    first = text.split("\n", 1)[0]
    separator = max(",;\t", key=first.count)
    try:
        table = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise refuse("shelf", "", f"The shelf list is not CSV: {shown(error)}.") from error
    if not table:
        return []
    head = [_key_of(name) for name in table[0]]
    errors = _head_errors(head)
    if "name" not in head:
        errors.append(FieldError("shelf", "", "There is no column ‘name’. Give each a name."))
    rows = []
    for at, cells in enumerate(table[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(head):
            message = f"Row {at}: {len(cells)} cells where the head has {len(head)}."
            errors.append(FieldError("shelf", shown(separator.join(cells)), message, row=at))
            continue
        row = dict(zip(head, (cell.strip() for cell in cells), strict=False))
        rows.append((at, [row.get(key, "") for key in _BY_KEY]))
    if errors:
        raise InputError(errors)
    return rows


def _head_errors(head: Sequence[str]) -> list[FieldError]:
    """Return what is wrong with the names of the columns."""
    names = dict.fromkeys(head)
    unknown = [name for name in names if name not in _BY_KEY and not name.startswith(_OWN)]
    errors = [
        # Likely names are looked for as long as what is told is read.
        _column_error(name, _no_column(name, guess=at < MOST_ERRORS))
        for at, name in enumerate(unknown)
    ]
    return errors + [
        _column_error(name, f"The column ‘{shown(name)}’ is there twice.")
        for name, times in sorted(Counter(head).items())
        if times > 1
    ]


def _column_error(name: str, message: str) -> FieldError:
    return FieldError("shelf", shown(name), message, column=shown(name))


def _key_of(name: str) -> str:
    """Return a column's name as it stands in the head, in small letters if it is one of ours."""
    plain = name.strip()
    return plain.lower() if plain.lower() in _BY_KEY else plain


def _no_column(name: str, *, guess: bool) -> str:
    plain = name.lower().replace(" ", "_")
    likely = get_close_matches(plain, _BY_KEY, 1) if guess and len(plain) < _LONGEST_NAME else []
    meant = f" Is ‘{likely[0]}’ meant?" if likely else ""
    return (
        f"There is no column ‘{shown(name)}’.{meant} The table of the page names all; a column of "
        f"your own is passed over where its name begins with {_OWN}."
    )


def write_shelf(amplifiers: Iterable[Amplifier]) -> str:
    """Write amplifiers as CSV with every column; reading it gives the same figures."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_BY_KEY)
    for amplifier in amplifiers:
        cells = values_of(amplifier)
        writer.writerow(column.write(cells[key]) for key, column in _BY_KEY.items())
    return out.getvalue()


def write_shelf_toml(amplifiers: Iterable[Amplifier]) -> str:
    """Write amplifiers as TOML; what is not known is left out."""
    lines = ["# A shelf list of the handbook. What is left out is not known."]
    for amplifier in amplifiers:
        cells = values_of(amplifier)
        lines += ["", "[[amplifiers]]", f"name = {quoted(amplifier.name)}"]
        lines += [
            f"{key} = {toml_value(column, cells[key])}"
            for key, column in _BY_KEY.items()
            if key != "name" and cells[key] is not None
        ]
    return "\n".join(lines) + "\n"

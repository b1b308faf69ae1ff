"""A stock list: one's own amplifiers, as CSV or TOML."""

import csv
import io
from collections.abc import Iterable

from calc.inputs.declared import build, values_of
from calc.inputs.errors import FieldError, InputError, refuse, shown
from calc.inputs.field_base import Field, Refused
from calc.inputs.rows import LOOKED_FOR, NOT_PRINTED
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.shelf_heads import OWN
from calc.system.files.shelf_table import Row, Table, read_table
from calc.system.files.system_file import (
    LONGEST_FILE,
    parsed,
    quoted,
    row_cells,
    toml_value,
    without_mark,
)

MOST_AMPLIFIERS = 2000
_MOST_KEYS = 300  # lines and figures of one amplifier
_BY_KEY = {column.key: column for column in COLUMNS}


class ShelfList(tuple[Amplifier, ...]):
    """The amplifiers of a list.

    notes : what its reader took for what, in words
    own : the columns that were passed over: of each its name, and its cells by amplifiers' names
    """

    notes: tuple[str, ...] = ()
    own: tuple[tuple[str, dict[str, str]], ...] = ()


def notes_on(shelf: Iterable[Amplifier] | None) -> tuple[str, ...]:
    """Return what the reader of a list took for what; nothing where none was read."""
    return shelf.notes if isinstance(shelf, ShelfList) else ()


def read_shelf(text: str) -> ShelfList:
    """Return the amplifiers of a stock list; an empty cell is not known.

    Raises InputError with every wrong cell, named by row and column.
    """
    text = without_mark(text)
    if len(text) > LONGEST_FILE:
        raise refuse(
            "shelf",
            text,
            f"The stock list is longer than {LONGEST_FILE} characters. Split it in two.",
        )
    if any(line.lstrip().startswith("[[speakers]]") for line in text.splitlines()):
        raise refuse(
            "shelf",
            "",
            "This is a system file, not a stock list. Open it with “Open a system file”.",
        )
    table = Table(_toml_rows(text)) if is_toml(text) else read_table(text)
    rows = table.rows
    if not rows:
        raise refuse("shelf", "", "The stock list is empty. Enter a row for each amplifier.")
    if len(rows) > MOST_AMPLIFIERS:
        raise refuse(
            "shelf",
            len(rows),
            f"{len(rows)} rows are too many. Enter no more than {MOST_AMPLIFIERS}.",
        )
    errors: list[FieldError] = []
    shelf = []
    names: dict[str, int] = {}
    for row in rows:
        at, amplifier = row.at, dict[str, object]()
        wrong = {key: (raw, message) for key, raw, message in row.wrong}
        for key, column in _BY_KEY.items():
            cell = row.cells.get(key, "")
            try:
                amplifier[key] = column.read("" if _is_looked_for(column, cell) else cell)
            except Refused as refused:
                wrong.setdefault(key, (cell, str(refused)))
        errors += [_cell_error(at, key, *wrong[key]) for key in _BY_KEY if key in wrong]
        name = amplifier.get("name")
        if isinstance(name, str) and name in names:
            twice = f"row {names[name]} has the same name. Give each amplifier its own name."
            errors.append(_cell_error(at, "name", name, twice))
        elif isinstance(name, str):
            names[name] = at
        told = [key for key, cell in row.cells.items() if _is_looked_for(_BY_KEY[key], cell)]
        # Besides the figures, what a plan's form holds: each is held against the system.
        shelf.append({**amplifier, NOT_PRINTED: "+".join(told) or None, "role": "candidate"})
    if errors:
        raise InputError(errors)
    read = ShelfList(build(Amplifier, amplifier) for amplifier in shelf)
    read.notes = (*table.notes, *(notice for each in read for notice in each.filter_notices))
    read.own = tuple(
        (name, {each.name: cell for each, cell in zip(read, cells, strict=True) if cell})
        for name, cells in table.own
    )
    return read


def _is_looked_for(column: Field, cell: str) -> bool:
    """Tell whether a cell says that its figure was looked for and stands nowhere."""
    return column.optional and cell.strip() == LOOKED_FOR


def _cell_error(row: int, key: str, cell: str, message: str) -> FieldError:
    label = _BY_KEY[key].label
    return FieldError("shelf", shown(cell), f"Row {row}, {label}: {message}", row=row, column=key)


def is_toml(text: str) -> bool:
    """Tell the two kinds apart: a table's head in brackets at the start of a line is TOML."""
    return any(line.lstrip().startswith("[[amplifiers]]") for line in text.splitlines())


def _toml_rows(text: str) -> list[Row]:
    rows_of_it = min(text.count("[[amplifiers]]"), MOST_AMPLIFIERS + 1)
    data = parsed(text, "stock list", most=_MOST_KEYS * rows_of_it)
    errors = [
        FieldError(
            shown(name),
            "",
            f"There is no part called {shown(name)} in a stock list. Use amplifiers.",
        )
        for name in data
        if name not in ("amplifiers", "version", "title", "note")
    ]
    rows = []
    value = data.get("amplifiers")
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        raise refuse("amplifiers", "", "Enter a row [[amplifiers]] for each amplifier.")
    for at, row in enumerate(value, start=1):
        used = {key: cell for key, cell in row.items() if not key.startswith(OWN)}
        cells, wrong = row_cells(COLUMNS, used, "shelf", at)
        rows.append(Row(at, dict(zip(_BY_KEY, cells, strict=True))))
        errors += wrong
    if errors:
        raise InputError(errors)
    return rows


def cells_of(amplifier: Amplifier) -> dict[str, str]:
    """Return an amplifier's cells by column, as a list has them; empty is not known.

    What was looked for and stands nowhere has its sign.
    """
    values = values_of(amplifier)
    looked_for = (amplifier.not_printed or "").split("+")
    return {
        key: LOOKED_FOR if values[key] is None and key in looked_for else column.write(values[key])
        for key, column in _BY_KEY.items()
    }


def write_shelf(amplifiers: Iterable[Amplifier]) -> str:
    """Write amplifiers as CSV with every column; reading it gives the same figures."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_BY_KEY)
    writer.writerows(cells_of(amplifier).values() for amplifier in amplifiers)
    return out.getvalue()


def write_shelf_toml(amplifiers: Iterable[Amplifier]) -> str:
    """Write amplifiers as TOML; what is not known is left out."""
    lines = ["# A stock list of the handbook. Figures that are left out are not known."]
    for amplifier in amplifiers:
        values = values_of(amplifier)
        lines += ["", "[[amplifiers]]", f"name = {quoted(amplifier.name)}"]
        for key, cell in cells_of(amplifier).items():
            if key != "name" and cell:
                is_figure = cell != LOOKED_FOR
                text = toml_value(_BY_KEY[key], values[key]) if is_figure else quoted(cell)
                lines.append(f"{key} = {text}")
    return "\n".join(lines) + "\n"

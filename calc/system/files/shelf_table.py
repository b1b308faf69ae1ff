"""A stock list as a table: separator, title above the head, heads, and cells of more figures."""

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice

from calc.inputs.errors import FieldError, InputError, refuse, shown
from calc.inputs.field_base import Refused
from calc.inputs.fields import Number, YesNo
from calc.inputs.rows import LOOKED_FOR
from calc.system.files.shelf_cells import (
    CURRENCIES,
    Marks,
    cell_text,
    counted,
    decimal_of,
    sizes,
    span,
    tidied,
    yes_marks,
)
from calc.system.files.shelf_heads import BRAND, BY_KEY, OWN, SIZES, Head, head_of, unknown

_SEPARATORS = ",;\t"
_MOST_ABOVE = 12  # rows above the head: a title, a date, a blank line
_MOST_HEADS = 200  # that are looked into
_MOST_COLUMNS = 1000
_YES_NO = ("yes", "no", "y", "n", "x", "-")


@dataclass(frozen=True)
class Row:
    """A row of a list: its number, texts by column, and what is wrong with its cells.

    wrong : of each the column, what stands there, and why it is refused
    """

    at: int
    cells: dict[str, str]
    wrong: list[tuple[str, str, str]] = field(default_factory=list)


@dataclass(frozen=True)
class Table:
    """What a list holds.

    notes : what was taken for what, in words
    own : the columns that were passed over, by name, each with the cells of the rows
    """

    rows: list[Row]
    notes: tuple[str, ...] = ()
    own: tuple[tuple[str, list[str]], ...] = ()


def read_table(text: str) -> Table:
    """Return the rows of a list that is parted by commas, semicolons or tabs.

    Raises InputError for what is wrong with its heads or the number of its cells.
    """
    separator, above = _layout(text)
    try:
        table = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as error:
        raise refuse(
            "shelf",
            "",
            f"The stock list is not CSV ({shown(error)}). Save it again as CSV or .xlsx.",
        ) from error
    while above < len(table) and not _is_filled(table[above]):
        above += 1
    if above >= len(table):
        return Table([])
    if _width(table[above]) > _MOST_COLUMNS:
        many = f"The stock list has more than {_MOST_COLUMNS} columns. Remove those not needed."
        raise refuse("shelf", "", many)
    rows = [(at, row) for at, row in enumerate(table[above + 1 :], start=above + 2)]
    rows = [(at, row) for at, row in rows if _is_filled(row)]
    heads = _heads(table[above], [row for _, row in rows])
    errors = list(_head_errors(heads))
    errors += [
        _too_long(at, row, len(heads), separator)
        for at, row in rows
        if _is_filled(row[len(heads) :])
    ]
    if errors:
        raise InputError(errors)
    marks = _marks(heads, [row for _, row in rows])
    read = [_row(at, row, heads, marks) for at, row in rows]
    _mixed_currencies(heads, rows, read)
    own = tuple(
        (head.name, ["".join(row[at : at + 1]) for _, row in rows])
        for at, head in enumerate(heads)
        if head.name and not head.keys
    )
    return Table(read, tuple(_notes(heads, table[:above])), own)


def has_head(text: str) -> bool:
    """Tell whether a text has a table's head: columns of ours side by side, the name among them.

    >>> has_head("Model;RMS 4Ω\\nAlder;60\\n"), has_head("ALDER 4\\n4 x 60 W RMS @ 4 Ω")
    (True, False)
    """
    sample = "\n".join(text.split("\n", _MOST_ABOVE)[:_MOST_ABOVE])
    for separator in _SEPARATORS:
        try:
            rows = list(csv.reader(io.StringIO(sample, newline=""), delimiter=separator))
        except csv.Error:
            continue
        if any(sum(map(bool, row)) > 1 and _has_name(row) for row in rows):
            return True
    return False


def _is_filled(row: Sequence[str]) -> bool:
    return any(cell.strip() for cell in row)


def _layout(text: str) -> tuple[str, int]:
    """Return the separator, and how many rows stand above the head.

    The head is the first row with a column for the name; without one, the first row.
    """
    sample = "\n".join(text.split("\n", _MOST_ABOVE)[:_MOST_ABOVE])
    first = sample.lstrip("\r\n").split("\n", 1)[0]
    by_count = sorted(_SEPARATORS, key=first.count, reverse=True)
    for separator in by_count:
        try:
            rows = list(islice(csv.reader(io.StringIO(sample), delimiter=separator), _MOST_ABOVE))
        except csv.Error:
            continue
        for above, row in enumerate(rows):
            if _has_name(row):
                is_title = all(sum(map(bool, each)) <= 2 for each in rows[:above])
                return separator, above if is_title else 0
    return by_count[0], 0


def _has_name(row: Sequence[str]) -> bool:
    """Tell whether a row looks like the head: a column for the name, and another one of ours."""
    heads = [head_of(cell, row, guess=False) for cell in row[:_MOST_HEADS] if cell.strip()]
    keys = [key for head in heads for key in head.keys]
    return "name" in keys and (len(keys) > 1 or len(heads) == 1)


def _heads(names: Sequence[str], rows: Sequence[Sequence[str]]) -> list[Head]:
    """Return the columns; one without a name that holds nothing is no column."""
    names = names[: _width(names)]
    heads = []
    for at, name in enumerate(names):
        if not name.strip() and not any(_is_filled(row[at : at + 1]) for row in rows):
            heads.append(Head(""))
        elif at < _MOST_HEADS:
            heads.append(head_of(name, names[:_MOST_HEADS]))
        else:
            heads.append(Head(name.strip(), problem=unknown(name.strip(), guess=False)))
    return heads


def _width(row: Sequence[str]) -> int:
    """Return how many cells a row has up to its last filled one."""
    return next((at for at in range(len(row), 0, -1) if row[at - 1].strip()), 0)


def _too_long(at: int, row: Sequence[str], count: int, separator: str) -> FieldError:
    message = (
        f"Row {at}: {len(row)} cells, but the head row has {count}. Enter one cell per column."
    )
    return FieldError("shelf", shown(separator.join(row)), message, row=at)


def _head_errors(heads: Sequence[Head]) -> Iterator[FieldError]:
    """Yield what is wrong with the columns: unknown ones, and two for one figure."""
    told = set()
    for head in heads:
        if head.problem and head.name not in told:
            told.add(head.name)
            yield _column_error(head.name, head.problem)
    by_key: dict[str, list[str]] = {}
    for head in heads:
        for key in head.keys or ((head.name,) if head.problem else ()):
            by_key.setdefault(key, []).append(head.name)
    for key, names in sorted(by_key.items()):
        if len(names) > 1 and len(set(names)) == 1:
            yield _column_error(
                names[0], f"The column ‘{shown(names[0])}’ appears twice. Remove one."
            )
        elif len(names) > 1:
            message = (
                f"‘{shown(names[0])}’ and ‘{shown(names[1])}’ both mean {key}. Put {OWN} "
                "before the name of one to skip it."
            )
            yield _column_error(names[1], message)
    if "name" not in by_key:
        yield FieldError(
            "shelf", "", "There is no column ‘name’. Add one, and give each amplifier a name."
        )


def _column_error(name: str, message: str) -> FieldError:
    return FieldError("shelf", shown(name), message, column=shown(name))


def _marks(heads: Sequence[Head], rows: Sequence[Sequence[str]]) -> Marks:
    """Return how the list writes its figures, told by all its cells."""
    figures: list[str] = []
    crosses, dashes = set(), set()
    for at, head in enumerate(heads):
        cells = [row[at] for row in rows if row[at:]]
        kinds = {type(BY_KEY[key]) for key in head.keys if key in BY_KEY}
        if any(issubclass(kind, Number) for kind in kinds):
            figures += cells
        for key in head.keys if YesNo in kinds else ():
            is_cross, is_dash = yes_marks(cells)
            crosses |= {key} if is_cross else set()
            dashes |= {key} if is_dash else set()
    is_ours = all(head.is_plain or not head.keys for head in heads)
    return Marks(decimal_of(figures), is_ours, frozenset(crosses), frozenset(dashes))


def _row(at: int, cells: Sequence[str], heads: Sequence[Head], marks: Marks) -> Row:
    """Return a row's texts by column."""
    row = Row(at, {})
    brand = ""
    for head, cell in zip(heads, cells, strict=False):
        raw = cell.strip()
        if head.keys == (BRAND,):
            brand = raw
        elif head.keys and raw == LOOKED_FOR:
            row.cells.update({key: LOOKED_FOR for key in head.keys if key != "name"})
        elif head.keys and raw:
            try:
                row.cells.update(_texts(head, raw, marks, row.cells))
            except Refused as refused:
                row.wrong.append((head.keys[0], raw, str(refused)))
    name = row.cells.get("name", "")
    if brand and name and not name.lower().startswith(brand.lower()):
        row.cells["name"] = f"{brand} {name}"
    _count_channels(row, marks)
    return row


def _texts(head: Head, raw: str, marks: Marks, so_far: dict[str, str]) -> dict[str, str]:
    """Return what a cell gives its columns."""
    if len(head.keys) == 1:
        key = head.keys[0]
        return {key: cell_text(BY_KEY[key], raw, head.unit, marks)}
    if set(head.keys) == set(SIZES.values()):
        found = sizes(raw, head.unit, marks)
        if not found:
            raise Refused(f"‘{shown(raw)}’ is not three sizes. Enter them as ‘250 x 180 x 52 mm’.")
        return dict(zip(head.keys, found, strict=True))
    text = tidied(raw).lower()
    if text in _YES_NO:
        return {}  # there is one or there is none: no figure
    ends = span(text, "v", head.unit, marks)
    if not ends:
        raise Refused(f"‘{shown(raw)}’ is not a range. Enter both ends, as ‘0.2-6 V’.")
    return {key: BY_KEY[key].write(end) for key, end in zip(head.keys, ends, strict=True)}


def _count_channels(row: Row, marks: Marks) -> None:
    """Read `4 x 60 W` as 60 W for each of four channels, where the row has no other number."""
    for key in ("power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "rated_bridged_w"):
        cell = row.cells.get(key, "")
        found = counted(cell)
        if found is None:
            continue
        count, each = found
        channels = row.cells.get("channels", "").replace(LOOKED_FOR, "")
        of_channels = 2 * count if key == "rated_bridged_w" else count
        if not channels and key == "power_4ohm_w":
            channels = row.cells["channels"] = str(count)
        if channels == str(of_channels):
            row.cells[key] = cell_text(BY_KEY[key], each, "", marks)
        else:
            has = f"has {channels}" if channels else "does not give their number"
            what = "pairs" if key == "rated_bridged_w" else "channels"
            message = (
                f"‘{shown(cell)}’ is for {count} {what}, and the row {has}. Enter the power of one."
            )
            row.wrong.append((key, cell, message))
            row.cells[key] = ""


def _mixed_currencies(
    heads: Sequence[Head], rows: Sequence[tuple[int, list[str]]], read: Sequence[Row]
) -> None:
    """Refuse prices in another currency than the first: they would be ranked as one."""
    at = next((at for at, head in enumerate(heads) if head.keys == ("price",)), None)
    if at is None:
        return
    first = ""
    for (_, cells), row in zip(rows, read, strict=True):
        cell = cells[at].lower() if cells[at:] else ""
        sign = next((name for word, name in CURRENCIES.items() if word in cell), "")
        first = first or sign
        if sign and sign != first:
            message = (
                f"‘{shown(cell)}’ is in a different currency from the rows above. Use one currency."
            )
            row.wrong.append(("price", cell, message))
            row.cells.pop("price", None)


def _notes(heads: Sequence[Head], above: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield what was taken for what, once for each column that is not named as ours."""
    title = [cell.strip() for row in above for cell in row if cell.strip()]
    title = [cell for cell in title if not cell.lower().startswith("sep=")]
    if title:
        yield f"Skipped above the head row of the stock list: ‘{shown(' '.join(title))}’."
    taken = [
        f"‘{shown(head.name)}’ as {head.words}" for head in heads if head.keys and not head.is_plain
    ]
    if taken:
        yield f"Stock-list columns recognised by their names: {'; '.join(taken)}."
    passed = [head.name for head in heads if head.is_passed and head.name]
    if passed:
        yield f"Columns skipped: {', '.join(f'‘{shown(name)}’' for name in passed)}."

"""Amplifiers that are put into a stock list, which keeps its other rows and its owner's columns."""

import csv
import io
from dataclasses import dataclass

from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.shelf_file import (
    MOST_AMPLIFIERS,
    ShelfList,
    cells_of,
    is_toml,
    read_shelf,
    write_shelf_toml,
)
from calc.system.files.system_file import without_mark


@dataclass(frozen=True)
class Changed:
    """A stock list after an amplifier was put into it, or why it is as it was.

    text : the list; None where nothing was changed
    is_there : another amplifier of this name stands in it, with other figures
    words : what happened, in words
    """

    text: str | None
    is_there: bool
    words: str


def with_amplifier(text: str, amplifier: Amplifier, *, replace: bool = False) -> Changed:
    """Put an amplifier into a stock list, which may be empty.

    One of the same name is replaced only when that is said.  Columns that are passed over keep
    their cells.

    Raises InputError for a list that cannot be read.
    """
    shelf = read_shelf(text) if text.strip() else ShelfList()
    at = next((at for at, other in enumerate(shelf) if other.name == amplifier.name), None)
    name = f"‘{amplifier.name}’"
    if at is not None and cells_of(shelf[at]) == cells_of(amplifier):
        return Changed(None, False, f"{name} is already in your stock list, with these figures.")
    if at is not None and not replace:
        words = f"Your stock list already has a {name}, with other figures."
        return Changed(None, True, words)
    if at is None and len(shelf) >= MOST_AMPLIFIERS:
        return Changed(
            None, False, f"The stock list is full: it holds {MOST_AMPLIFIERS}. Remove one first."
        )
    amplifiers = list(shelf)
    if at is None:
        amplifiers.append(amplifier)
    else:
        amplifiers[at] = amplifier
    made = (
        _added_toml(text, amplifiers, at) if is_toml(text) else write_briefly(amplifiers, shelf.own)
    )
    read_shelf(made)
    number = len(amplifiers)
    count = f"it has {number} amplifier{'' if number == 1 else 's'} now"
    if at is not None:
        return Changed(made, False, f"{name} was replaced in your stock list.")
    return Changed(made, False, f"{name} was added to your stock list; {count}.")


def _added_toml(text: str, amplifiers: list[Amplifier], at: int | None) -> str:
    """Return a list in TOML with the last amplifier added; one that is replaced writes it anew."""
    if at is not None:
        return write_shelf_toml(amplifiers)
    added = write_shelf_toml(amplifiers[-1:]).partition("[[amplifiers]]")
    return f"{without_mark(text).rstrip()}\n\n{added[1]}{added[2]}"


def write_briefly(
    amplifiers: list[Amplifier], own: tuple[tuple[str, dict[str, str]], ...] = ()
) -> str:
    """Write amplifiers as CSV with the columns that are filled, and those that are passed over.

    own : of each column that is passed over, its name and its cells by the amplifiers' names
    """
    rows = [cells_of(amplifier) for amplifier in amplifiers]
    keys = [column.key for column in COLUMNS if any(row[column.key] for row in rows)]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*keys, *(name for name, _ in own)])
    for amplifier, row in zip(amplifiers, rows, strict=True):
        kept = [by_name.get(amplifier.name, "") for _, by_name in own]
        writer.writerow([*(row[key] for key in keys), *kept])
    return out.getvalue()

"""A stock list made of pasted texts: one amplifier after the other, parted by lines of hyphens."""

import csv
import io
import re
from collections.abc import Iterator, Mapping

from calc.inputs.errors import refuse, shown
from calc.reading.amplifier import read_amplifier
from calc.reading.record import MOST_TOLD, Reading, columns_of
from calc.system.amplifier import COLUMNS

LONGEST_TEXTS = 400_000  # characters of all texts together
_PARTED = re.compile(r"^[ \t]*-{3,}[ \t]*$", re.MULTILINE)


def shelf_of_texts(text: str) -> tuple[str, tuple[str, ...]]:
    """Return texts as the CSV of a stock list, and in words what was read of each and what was not.

    Texts are parted by a line of three hyphens or more.  One without a name is called after its
    place.  Raises InputError for what is too long, and where nothing is there to be read.

    >>> shelf_of_texts("ALDER 4\\n4 x 60 W RMS @ 4 Ω\\n---\\nBIRCH 4\\n4 x 75 W RMS @ 4 Ω")[0]
    'name,channels,power_4ohm_w\\nALDER 4,4,60\\nBIRCH 4,4,75\\n'
    """
    if len(text) > LONGEST_TEXTS:
        message = f"The texts have {len(text)} characters; up to {LONGEST_TEXTS} are read."
        raise refuse("shelf", "", message)
    pieces = [piece for piece in _PARTED.split(text) if piece.strip()]
    if not pieces:
        raise refuse("shelf", "", "There is no text to read. Paste the words of a spec sheet.")
    readings = [read_amplifier(piece.strip("\n")) for piece in pieces]
    rows: list[Mapping[str, str]] = [
        {"name": f"Amplifier {at}", **reading.values} for at, reading in enumerate(readings, 1)
    ]
    keys = [column.key for column in COLUMNS if any(column.key in row for row in rows)]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(keys)
    writer.writerows([row.get(key, "") for key in keys] for row in rows)
    told = [
        line
        for row, reading in zip(rows, readings, strict=True)
        for line in _told(row["name"], reading)
    ]
    return out.getvalue(), tuple(told)


def _told(name: str, reading: Reading) -> Iterator[str]:
    """Yield in lines what was read, refused, left open and not understood."""
    columns = columns_of(reading.kind)
    yield f"{shown(name)}:"
    lines = [
        f"  read: {columns[one.key].label} {one.value}"
        + (f" {columns[one.key].unit}" if columns[one.key].unit else "")
        + f", from ‘{shown(one.words)}’"
        + (f", follows from {one.follows}" if one.follows else "")
        for one in reading.figures
    ]
    lines += [f"  refused: ‘{shown(one.words)}’: {one.reason}" for one in reading.refused]
    lines += [
        f"  left open: ‘{shown(one.words)}’: {one.asks} Enter it in a list."
        for one in reading.questions
    ]
    lines += [f"  not understood: ‘{shown(reading.words(span))}’" for span in reading.left]
    yield from lines[:MOST_TOLD]
    if len(lines) > MOST_TOLD:
        yield f"  and {len(lines) - MOST_TOLD} more"

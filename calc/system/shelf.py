"""The field of a stock list; the Lantern Van's shelf is invented."""

from collections.abc import Sequence
from typing import Annotated

from calc.inputs.declared import values_of
from calc.inputs.fields import Document
from calc.system import example_van
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.shelf_file import MOST_AMPLIFIERS, read_shelf, write_shelf
from calc.system.files.shelf_template import TEMPLATE

ROWS = tuple(column.key for column in COLUMNS)


def _data(amplifiers: Sequence[Amplifier]) -> list[dict[str, object]]:
    rows = [values_of(amplifier) for amplifier in amplifiers]
    return [{column.key: column.as_json(row[column.key]) for column in COLUMNS} for row in rows]


def _says(amplifiers: Sequence[Amplifier]) -> str:
    return f"{len(amplifiers)} amplifier{'' if len(amplifiers) == 1 else 's'}"


def _field(example: str | None) -> Document:
    is_choice = example is not None
    return Document(
        "Stock list",
        example=example,
        empty="no list yet",
        hint="Your own amplifiers, one per row: a spreadsheet (.xlsx), CSV or TOML, pasted or "
        "opened as a file. It stays on this device and is not in links.",
        reader=read_shelf,
        writer=write_shelf,
        data=_data,
        says=_says,
        template=TEMPLATE,
        stays="The stock list is not in the link; it stays on this device. Send it as a file."
        if is_choice
        else "",
        not_sent="Links don’t hold stock lists. Open yours as a file, or paste it."
        if is_choice
        else "",
        columns=COLUMNS,
        notation=f"CSV or TOML with up to {MOST_AMPLIFIERS} amplifiers; its columns are "
        f"{', '.join(ROWS)}",
    )


# A list of one's own; None where there is none yet.
Shelf = Annotated[tuple[Amplifier, ...] | None, _field(None)]
ExampleShelf = Annotated[tuple[Amplifier, ...] | None, _field(example_van.SHELF)]

"""The field of a shelf list, and the Lantern Van's shelf; its amplifiers are invented."""

from calc.system import example_van
from calc.choosing.columns import COLUMNS
from calc.choosing.shelf_file import MOST_AMPLIFIERS, read_shelf, write_shelf
from calc.inputs.fields import Document

ROWS = tuple(one.key for one in COLUMNS)


def shelf_field(default: str) -> Document:
    """Return the field of a shelf list; an empty one is no list yet."""
    return Document(
        key="shelf",
        label="Shelf list",
        default=default,
        optional=True,
        empty="no list yet",
        hint="Your own amplifiers, a row for each, as a file or pasted. It stays on this device "
        "and is in no link.",
        source="invented, the Lantern Van" if default else "",
        reader=read_shelf,
        writer=write_shelf,
        data=lambda rows: [{one.key: one.as_json(row[one.key]) for one in COLUMNS} for row in rows],
        says=lambda rows: f"{len(rows)} amplifier{'' if len(rows) == 1 else 's'}",
        columns=COLUMNS,
        notation=f"CSV or TOML with up to {MOST_AMPLIFIERS} amplifiers; its columns are "
        f"{', '.join(ROWS)}",
    )


SHELF = shelf_field(example_van.SHELF)

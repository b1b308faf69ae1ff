"""The tables of the file formats, made from the fields themselves."""

from calc.answers.figures import capital
from calc.answers.sheet import Column, Table
from calc.choosing.usual_words import range_words, value_words
from calc.inputs.field_base import Field
from calc.inputs.rows import Rows, absent_cell
from calc.system.amplifier import COLUMNS
from calc.system.files.system_file import absent
from calc.system.system import STEPS
from calc.system.usual import TABLE


def _permitted(field: Field) -> str:
    text = field.permitted()
    return f"{capital(text)}."


def shelf_columns() -> Table:
    """Return every column of a stock list."""
    return Table(
        caption="Columns of a stock list",
        columns=(Column("Column", code=True), Column("Meaning"), Column("Allowed", wide=True)),
        rows=tuple((column.key, column.label, _permitted(column)) for column in COLUMNS),
        note="Only the name is required; an empty cell means not known. The unit is the last "
        "part of a column’s name.",
        stacked=True,
    )


def system_fields() -> Table:
    """Return every figure of a system file, in the steps of the job."""
    rows: list[tuple[str, str, str, str]] = []
    for step in STEPS:
        for field in step.fields:
            if field.key == "amplifier":
                words = "The columns of a stock list."
                rows.append(("[amplifier]", field.label, words, "not known"))
            elif isinstance(field, Rows):
                rows += [_column_row(field, column) for column in field.columns]
            else:
                left_out = absent(field) or ("not known" if field.optional else "required")
                name = f"[{step.name}] {field.key}"
                rows.append((name, field.label, _permitted(field), left_out))
    return Table(
        caption="Figures of a system file, version 2",
        columns=(
            Column("Part and name", code=True),
            Column("Meaning"),
            Column("Allowed", wide=True),
            Column("If left out"),
        ),
        rows=tuple(rows),
        note="Write yes and no as true and false; put text in quotation marks.",
        stacked=True,
    )


def _column_row(table: Rows, column: Field) -> tuple[str, str, str, str]:
    """Return the row of a column of a system's table; a usual figure stands in it as it is."""
    left_out = absent_cell(column) if column.key in ("coils", "order", "off") else ""
    if not left_out:
        left_out = "not known" if column.optional else "required"
    name = f"[[{table.key}]] {column.key}"
    return name, f"{table.label}: {column.label}", _permitted(column), left_out


def usual_figures() -> Table:
    """Return every usual figure with its range."""
    return Table(
        sources=("usual-figures",),
        caption="Usual figures",
        columns=(
            Column("Figure"), Column("Applies to", wide=True), Column("Usual"),
            Column("Usual range"),
        ),
        rows=tuple(
            (capital(usual.what), usual.when or "all", value_words(usual), range_words(usual))
            for usual in TABLE
        ),
        note="Power per channel at 4 Ω and a speaker’s ohms have no usual figure: enter them.",
        stacked=True,
    )  # fmt: skip

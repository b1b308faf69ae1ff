"""The tables of the file formats, made from the fields themselves."""

from calc.answers.sheet import Column, Table
from calc.choosing.columns import COLUMNS
from calc.choosing.fields import STEPS
from calc.choosing.system_file import absent
from calc.inputs.fields import Field, Rows


def _permitted(one: Field) -> str:
    text = one.permitted()
    return f"{text[0].upper()}{text[1:]}."


def shelf_columns() -> Table:
    """Return every column of a shelf list."""
    return Table(
        caption="Columns of a shelf list",
        columns=(Column("Column", code=True), Column("Meaning"), Column("Permitted", wide=True)),
        rows=tuple((one.key, one.label, _permitted(one)) for one in COLUMNS),
        note="Only the name must be given; an empty cell is not known. The unit is the last part "
        "of a column’s name.",
        stacked=True,
    )


def system_fields() -> Table:
    """Return every figure of a system file, in the steps of the job."""
    rows: list[tuple[str, str, str, str]] = []
    for step in STEPS:
        for one in step.fields:
            if isinstance(one, Rows):
                head = f"[{one.key}]" if one.most == 1 else f"[[{one.key}]]"
                if one.key == "amplifier":
                    rows.append((head, one.label, "The columns of a shelf list.", "not known"))
                    continue
                rows += [
                    (
                        f"{head} {column.key}",
                        f"{one.label}: {column.label}",
                        _permitted(column),
                        column.default
                        if column.key in ("coils", "order", "off")
                        else "not known"
                        if column.optional
                        else "must be given",
                    )
                    for column in one.columns
                ]
            else:
                left_out = absent(one) or ("not known" if one.optional else "must be given")
                rows.append((f"[{step.name}] {one.key}", one.label, _permitted(one), left_out))
    return Table(
        caption="Figures of a system file, version 1",
        columns=(
            Column("Part and name", code=True),
            Column("Meaning"),
            Column("Permitted", wide=True),
            Column("Left out"),
        ),
        rows=tuple(rows),
        note="Yes and no are true and false; a text stands in quotation marks.",
        stacked=True,
    )

"""The field of a table: rows of cells, each column a field of its own."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from string import ascii_uppercase
from typing import Any

from calc.inputs.errors import shown
from calc.inputs.field_base import Field, Raw, Refused, Value, Wrong
from calc.inputs.fields import Pattern, Text, Whole

# The column that names what was looked for and stands nowhere, and the sign for it in a cell.
NOT_PRINTED, LOOKED_FOR = "not_printed", "?"


def absent_cell(column: Field) -> str:
    """Return a cell that is left out: the usual figure where there is one, else not known."""
    return column.default if column.start is None and column.example is None else ""


def not_printed_field() -> Pattern:
    """Return the field of the column `not_printed`: keys of other columns, joined by `+`."""
    return Pattern(
        "not printed",
        is_good=lambda text: all(part.isidentifier() for part in text.split("+")),
        longest=600,
        notation="names of columns, joined by ‘+’",
        examples=("power_2ohm_w", "power_2ohm_w+fuses_a"),
        hidden=True,
    )


@dataclass(frozen=True, kw_only=True)
class Rows(Field):
    """A table: rows parted by `;`, cells by `,`; each column is a field of its own.

    The value is a tuple of rows.  Declared beside `tuple[Row, ...]`, its columns are the fields
    of `Row`, and each row is one.  With `count_of`, a single whole number is read as a count (and
    is then the value, an int).  `ordered` rows can be moved up and down in the form.  `added` of
    the last columns came later: a row of an older link may lack them, and has their defaults.

    Where there is a column `not_printed`, a `?` in a cell that may be empty says that the figure
    was looked for and stands nowhere: the cell is then not known, and named there.
    """

    columns: tuple[Field, ...] = ()
    make_row: Callable[[Mapping[str, Value]], Any] = dict
    cells_of: Callable[[Any], Mapping[str, Value]] = dict
    most: int = 12
    count_of: Whole | None = None
    row_name: str = "row"
    ordered: bool = False
    added: int = 0

    kind = "rows"

    def read(self, raw: Raw) -> Value:
        if isinstance(raw, str):
            text = raw.strip(" ")
            if self.count_of is not None and "," not in text and ";" not in text:
                return self.count_of.read(text)
            cells = [row.split(",") for row in text.split(";")] if text else []
        else:
            cells = [list(row) for row in raw]
        if not cells and self.optional:
            return ()
        if not 1 <= len(cells) <= self.most:
            raise Refused(
                f"{_counted(len(cells), 'row')} cannot be used. Enter {self.permitted()}."
            )
        rows, wrong = [], []
        for number, row in enumerate(cells, start=1):
            try:
                rows.append(self._read_row(row, number))
            except Refused as refused:
                wrong += [
                    replace(part, row=number, message=f"Row {number}: {part.message}")
                    for part in refused.parts
                ]
        if wrong:
            raise Refused(" ".join(part.message for part in wrong), wrong)
        return tuple(rows)

    def _read_row(self, cells: Sequence[str], number: int) -> Any:
        lacking = len(self.columns) - len(cells)
        if 0 < lacking <= self.added:
            cells = [*cells, *map(absent_cell, self.columns[-lacking:])]
        if len(cells) != len(self.columns):
            names = ", ".join(column.key for column in self.columns)
            empty = any(column.optional for column in self.columns)
            message = (
                f"{_counted(len(cells), 'value')} where {len(self.columns)} are needed. "
                f"Enter {names}"
                + ("; leave a value empty where it is not known." if empty else ".")
            )
            raise Refused(message, [Wrong(message, given=shown(",".join(cells)))])
        row, wrong = {}, []
        looked_for = self._looked_for(cells)
        for column, cell in zip(self.columns, cells, strict=True):
            try:
                if isinstance(column, Text) and column.lettered and not cell.strip(" "):
                    cell = f"{column.lettered} {ascii_uppercase[(number - 1) % 26]}"
                row[column.key] = column.read("" if column.key in looked_for else cell)
            except Refused as refused:
                message = f"{column.label}: {refused}"
                wrong.append(Wrong(message, column=column.key, given=shown(cell)))
        if wrong:
            raise Refused(" ".join(part.message for part in wrong), wrong)
        if looked_for:
            told = (row[NOT_PRINTED] or "").split("+")
            row[NOT_PRINTED] = "+".join(dict.fromkeys([*filter(None, told), *looked_for]))
        return self.make_row(row)

    def _looked_for(self, cells: Sequence[str]) -> list[str]:
        """Return the keys of the cells that say that their figure stands nowhere."""
        if not any(column.key == NOT_PRINTED for column in self.columns):
            return []
        return [
            column.key
            for column, cell in zip(self.columns, cells, strict=True)
            if column.optional and cell.strip(" ") == LOOKED_FOR and column.key != NOT_PRINTED
        ]

    def taken(self, value: Value) -> Value:
        if isinstance(value, int) and self.count_of is not None:
            return self.count_of.taken(value)
        if not value and self.optional:
            return ()
        rows = value or ()
        if not 1 <= len(rows) <= self.most:
            raise Refused(f"{_counted(len(rows), 'row')} cannot be used. Enter {self.permitted()}.")
        made = []
        for number, row in enumerate(rows, start=1):
            cells = self._cells(row)
            values = {}
            for column in self.columns:
                try:
                    # What a row does not say at all is usual; None in it is not known.
                    is_said = column.key in cells or column.key not in self._later
                    said = cells.get(column.key) if is_said else column.read(absent_cell(column))
                    values[column.key] = column.taken(said)
                except Refused as refused:
                    raise Refused(f"Row {number}: {column.label}: {refused}") from refused
            made.append(self.make_row(values))
        return tuple(made)

    @property
    def _later(self) -> frozenset[str]:
        """The keys of the columns that came later, which a row may lack."""
        return frozenset(column.key for column in self.columns[len(self.columns) - self.added :])

    def write(self, value: Value) -> str:
        if isinstance(value, int):
            return str(value)
        return ";".join(",".join(self._written(self._cells(row))) for row in value)

    def _written(self, row: Mapping[str, Value]) -> list[str]:
        looked_for = set((row.get(NOT_PRINTED) or "").split("+"))
        texts = {
            column.key: absent_cell(column)
            if column.key in self._later and column.key not in row
            else column.write(row.get(column.key))
            for column in self.columns
        }
        if NOT_PRINTED in texts:
            signs = {key for key in looked_for if key in texts and not texts[key]} - {NOT_PRINTED}
            texts |= dict.fromkeys(signs, LOOKED_FOR)
            texts[NOT_PRINTED] = "+".join(
                key for key in (row.get(NOT_PRINTED) or "").split("+") if key not in signs
            )
        cells = list(texts.values())
        for column in self.columns[: -self.added - 1 : -1]:  # those that may lack, from the last
            if cells[-1] != absent_cell(column):
                break
            cells.pop()
        return cells

    def _cells(self, row: Any) -> Mapping[str, Value]:
        """Return a row's cells by key, of a row from code too that is a mapping."""
        return row if isinstance(row, Mapping) else self.cells_of(row)

    def as_json(self, value: Value) -> Any:
        if isinstance(value, int):
            return value
        rows = [self.cells_of(row) for row in value]
        return [
            {column.key: column.as_json(row[column.key]) for column in self.columns} for row in rows
        ]

    def permitted(self) -> str:
        cells = ", ".join(column.key for column in self.columns)
        rows = f"1 to {self.most} rows of {cells}; rows separated by ‘;’"
        if self.count_of is None:
            return rows
        return f"{self.count_of.permitted()}, or {rows}"


@dataclass(frozen=True, kw_only=True)
class Readings(Rows):
    """Readings (step, reading), typed into the boxes of the answer and not into the form."""

    private: bool = True
    optional: bool = True

    kind = "readings"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")

"""The fields of a calculator: each knows how to read what a person or a link gives.

A raw value is text; for rows it may also be a list of lists of text, as a form has it.
Everything raw is hostile until one of these `read` methods has returned.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from calc.answers.figures import MINUS, THIN_SPACE, exact, rounded
from calc.inputs.errors import InputError, shown
from calc.inputs.field_base import Field, Raw, Refused, Value, Wrong

_NUMBER = re.compile(r"-?[0-9]{1,30}(?:[.,][0-9]{1,30})?")


@dataclass(frozen=True, kw_only=True)
class Number(Field):
    """A real number within a range; `presets` are the trade's usual values."""

    low: float
    high: float
    presets: tuple[float, ...] = ()

    kind = "number"

    def read_text(self, text: str) -> float:
        if not _NUMBER.fullmatch(text):
            raise Refused(f"‘{shown(text)}’ is not a number. Give {self.permitted()}.")
        value = float(text.replace(",", ".")) + 0.0
        if not self.low <= value <= self.high:
            raise Refused(f"{shown(text)} is out of range. Give {self.permitted()}.")
        return value

    def taken_value(self, value: Value) -> float:
        number = float(value) + 0.0
        if not self.low <= number <= self.high:
            # It was worked out: nobody typed all its digits.
            text = exact(number) if number.is_integer() else rounded(number)
            raise Refused(f"{text} is out of range. Give {self.permitted()}.")
        return number

    def write(self, value: Value) -> str:
        return "" if value is None else exact(float(value))

    def say(self, value: Value) -> str:
        return self.write(value).replace("-", MINUS)

    def range_text(self) -> str:
        """Return the range with its unit."""
        unit = THIN_SPACE + self.unit if self.unit else ""
        return f"{rounded(self.low, 12)} to {rounded(self.high, 12)}{unit}"

    def permitted(self) -> str:
        return f"a number from {self.range_text()}"


@dataclass(frozen=True, kw_only=True)
class Whole(Number):
    """A whole number within a range."""

    kind = "whole number"

    def read_text(self, text: str) -> int:
        value = super().read_text(text)
        if not value.is_integer():
            raise Refused(f"{shown(text)} is not whole. Give {self.permitted()}.")
        return int(value)

    def taken_value(self, value: Value) -> int:
        return int(super().taken_value(value))

    def write(self, value: Value) -> str:
        return "" if value is None else str(value)

    def permitted(self) -> str:
        return super().permitted().replace("a number", "a whole number", 1)


@dataclass(frozen=True, kw_only=True)
class Numbers(Field):
    """A list of numbers, parted by `;`; its value is a tuple."""

    each: Number
    most: int = 200

    kind = "list of numbers"

    def read_text(self, text: str) -> tuple[float, ...]:
        parts = text.split(";")
        if len(parts) > self.most:
            raise Refused(f"{len(parts)} numbers. Give {self.permitted()}.")
        values, wrong = [], []
        for part in parts:
            try:
                values.append(self.each.read(part))
            except Refused as refused:
                wrong.append(str(refused))
        if wrong:
            raise Refused(f"{wrong[0]} Several are parted by ‘;’.")
        return tuple(values)

    def write(self, value: Value) -> str:
        return ";".join(self.each.write(one) for one in value or ())

    def say(self, value: Value) -> str:
        return "; ".join(self.each.write(one) for one in value or ())

    def as_json(self, value: Value) -> Any:
        return None if value is None else list(value)

    def permitted(self) -> str:
        return f"1 to {self.most} numbers from {self.each.range_text()}, parted by ‘;’"


@dataclass(frozen=True, kw_only=True)
class Choice(Field):
    """One of a few words; `options` pairs each word with what the form shows."""

    options: tuple[tuple[str, str], ...]

    kind = "choice"

    def read_text(self, text: str) -> Value:
        if text not in dict(self.options):
            raise Refused(f"‘{shown(text)}’ is not one of the choices. Give {self.permitted()}.")
        return text

    def permitted(self) -> str:
        words = [word for word, _ in self.options]
        return " or ".join([", ".join(words[:-1]), words[-1]] if words[1:] else words)


@dataclass(frozen=True, kw_only=True)
class YesNo(Choice):
    """A yes or a no; its value is a bool."""

    options: tuple[tuple[str, str], ...] = (("yes", "yes"), ("no", "no"))

    kind = "yes/no"

    def read_text(self, text: str) -> bool:
        return bool(super().read_text(text) == "yes")

    def write(self, value: Value) -> str:
        return "" if value is None else "yes" if value else "no"


@dataclass(frozen=True, kw_only=True)
class Words(Choice):
    """Any of a few words, joined by `+`, or `none`; its value is a tuple in their order.

    The form offers every combination, those of few words first.
    """

    words: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        sets = [
            own for size in range(len(self.words) + 1) for own in combinations(self.words, size)
        ]
        offered = tuple((self.write(own), self.say(own)) for own in sets)
        object.__setattr__(self, "options", offered)
        super().__post_init__()

    def read_text(self, text: str) -> tuple[str, ...]:
        given = [] if text == "none" else [part.strip(" ") for part in text.split("+")]
        if not set(given) <= set(self.words):
            raise Refused(f"‘{shown(text)}’ is not permitted. Give {self.permitted()}.")
        return tuple(word for word in self.words if word in given)

    def write(self, value: Value) -> str:
        return "" if value is None else "+".join(value) or "none"

    def say(self, value: Value) -> str:
        return "" if value is None else " + ".join(value) or "none"

    def as_json(self, value: Value) -> Any:
        return None if value is None else self.write(value)

    def permitted(self) -> str:
        return f"none, or any of {', '.join(self.words)}, joined by ‘+’"


@dataclass(frozen=True, kw_only=True)
class Text(Field):
    """Free text of limited length, without the separators that rows need.

    `numbered` in a column: a row that is added to the form gets its number behind the default,
    so that it differs from the others.  A column `names` things of a kind, or `refers` to them:
    a name that is changed in the form is changed where it is referred to.
    """

    longest: int = 60
    numbered: bool = False
    names: str = ""
    refers: str = ""

    def read_text(self, text: str) -> str:
        if len(text) > self.longest or not text.isprintable() or set(text) & set(",;"):
            raise Refused(f"‘{shown(text)}’ is not permitted. Give {self.permitted()}.")
        return text

    def permitted(self) -> str:
        return f"up to {self.longest} printable characters, no comma or semicolon"


@dataclass(frozen=True, kw_only=True)
class Pattern(Text):
    """A text in a notation of its own, such as `1/2` or `50-500`.

    `is_good` tells whether a text follows the notation, `notation` says what is permitted
    (to follow the word “Give”), `examples` are texts that are good.
    """

    is_good: Callable[[str], bool]
    notation: str
    examples: tuple[str, ...]

    def read_text(self, text: str) -> str:
        if len(text) > self.longest or not self.is_good(text):
            raise Refused(f"‘{shown(text)}’ is not permitted. Give {self.permitted()}.")
        return text

    def permitted(self) -> str:
        return self.notation


@dataclass(frozen=True, kw_only=True)
class Rows(Field):
    """A table: rows parted by `;`, cells by `,`; each column is a field of its own.

    The value is a tuple of rows.  Declared beside `tuple[Row, ...]`, its columns are the fields
    of `Row`, and each row is one.  With `count_of`, a single whole number is read as a count (and
    is then the value, an int).  `ordered` rows can be moved up and down in the form.  `added` of
    the last columns came later: a row of an older link may lack them, and has their defaults.
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
            raise Refused(f"{_counted(len(cells), 'row')}. Give {self.permitted()}.")
        rows, wrong = [], []
        for number, row in enumerate(cells, start=1):
            try:
                rows.append(self._read_row(row))
            except Refused as refused:
                wrong += [
                    replace(part, row=number, message=f"Row {number}: {part.message}")
                    for part in refused.parts
                ]
        if wrong:
            raise Refused(" ".join(part.message for part in wrong), wrong)
        return tuple(rows)

    def _read_row(self, cells: Sequence[str]) -> Any:
        lacking = len(self.columns) - len(cells)
        if 0 < lacking <= self.added:
            cells = [*cells, *(column.default for column in self.columns[-lacking:])]
        if len(cells) != len(self.columns):
            names = ", ".join(column.key for column in self.columns)
            empty = any(column.optional for column in self.columns)
            told = (
                f"{_counted(len(cells), 'value')} where {len(self.columns)} belong. Give {names}"
                + ("; leave a value empty where it is not known." if empty else ".")
            )
            raise Refused(told, [Wrong(told, given=shown(",".join(cells)))])
        row, wrong = {}, []
        for column, cell in zip(self.columns, cells, strict=True):
            try:
                row[column.key] = column.read(cell)
            except Refused as refused:
                told = f"{column.label}: {refused}"
                wrong.append(Wrong(told, column=column.key, given=shown(cell)))
        if wrong:
            raise Refused(" ".join(part.message for part in wrong), wrong)
        return self.make_row(row)

    def taken(self, value: Value) -> Value:
        if isinstance(value, int) and self.count_of is not None:
            return self.count_of.taken(value)
        if not value and self.optional:
            return ()
        rows = value or ()
        if not 1 <= len(rows) <= self.most:
            raise Refused(f"{_counted(len(rows), 'row')}. Give {self.permitted()}.")
        made = []
        for number, row in enumerate(rows, start=1):
            cells = self._cells(row)
            values = {}
            for column in self.columns:
                try:
                    values[column.key] = column.taken(cells.get(column.key))
                except Refused as refused:
                    raise Refused(f"Row {number}: {column.label}: {refused}") from refused
            made.append(self.make_row(values))
        return tuple(made)

    def write(self, value: Value) -> str:
        if isinstance(value, int):
            return str(value)
        rows = [self._cells(row) for row in value]
        return ";".join(
            ",".join(column.write(row.get(column.key)) for column in self.columns) for row in rows
        )

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
        rows = f"1 to {self.most} rows of {cells}; rows parted by ‘;’"
        if self.count_of is None:
            return rows
        return f"{self.count_of.permitted()}, or {rows}"


@dataclass(frozen=True, kw_only=True)
class Readings(Rows):
    """Readings (step, reading), typed into the boxes of the answer and not into the form."""

    private: bool = True
    optional: bool = True

    kind = "readings"


@dataclass(frozen=True, kw_only=True)
class Document(Field):
    """A file's text, such as a list in CSV: typed or pasted, or taken from a file.

    reader : returns the value of a text; raises InputError with what is wrong in it
    writer : returns the text of a value
    data : returns the value as plain data for JSON
    says : says in a few words what the value holds
    notation : what is permitted, to follow the word “Give”
    columns : what a row of it holds, where it is a table
    """

    reader: Callable[[str], Value]
    writer: Callable[[Value], str]
    data: Callable[[Value], Any]
    says: Callable[[Value], str]
    notation: str
    columns: tuple[Field, ...] = ()
    ending: str = "csv"
    private: bool = True

    kind = "file"

    def read(self, raw: Raw) -> Value:
        if not isinstance(raw, str):
            raise Refused(f"Give {self.permitted()}.")
        if not raw.strip():
            if self.optional:
                return None
            raise Refused(f"Nothing is given. Give {self.permitted()}.")
        return self.read_text(raw)

    def read_text(self, text: str) -> Value:
        try:
            return self.reader(text)
        except InputError as error:
            parts = [Wrong(one.message, one.row, one.column, one.given) for one in error.errors]
            told = " ".join(part.message for part in parts)
            raise Refused(told, parts, error.more) from error

    def write(self, value: Value) -> str:
        return "" if value is None else self.writer(value)

    def say(self, value: Value) -> str:
        return "" if value is None else self.says(value)

    def as_json(self, value: Value) -> Any:
        return None if value is None else self.data(value)

    def permitted(self) -> str:
        return self.notation


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


def unknown_at(one: Field, *, key: str, label: str) -> Field:
    """Return the field under another name, with nothing in it and nothing that must be."""
    return replace(one, key=key, label=label, default="", source="", optional=True, more=False)

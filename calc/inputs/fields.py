"""The fields of a calculator: each knows how to read what a person or a link gives.

A raw value is text; for rows it may also be a list of lists of text, as a form has it.
Everything raw is hostile until one of these `read` methods has returned.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
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
            raise Refused(f"‘{shown(text)}’ is not a number. Enter {self.permitted()}.")
        value = float(text.replace(",", ".")) + 0.0
        if not self.low <= value <= self.high:
            raise Refused(f"{shown(text)} is out of range. Enter {self.permitted()}.")
        return value

    def taken_value(self, value: Value) -> float:
        number = float(value) + 0.0
        if not self.low <= number <= self.high:
            # It was worked out: nobody typed all its digits.
            text = exact(number) if number.is_integer() else rounded(number)
            raise Refused(f"{text} is out of range. Enter {self.permitted()}.")
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
            raise Refused(f"{shown(text)} is not whole. Enter {self.permitted()}.")
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
            raise Refused(f"{len(parts)} numbers are too many. Enter {self.permitted()}.")
        values, wrong = [], []
        for part in parts:
            try:
                values.append(self.each.read(part))
            except Refused as refused:
                wrong.append(str(refused))
        if wrong:
            raise Refused(f"{wrong[0]} Separate several with ‘;’.")
        return tuple(values)

    def write(self, value: Value) -> str:
        return ";".join(self.each.write(number) for number in value or ())

    def say(self, value: Value) -> str:
        return "; ".join(self.each.write(number) for number in value or ())

    def as_json(self, value: Value) -> Any:
        return None if value is None else list(value)

    def permitted(self) -> str:
        return f"1 to {self.most} numbers from {self.each.range_text()}, separated by ‘;’"


@dataclass(frozen=True, kw_only=True)
class Choice(Field):
    """One of a few words; `options` pairs each word with what the form shows."""

    options: tuple[tuple[str, str], ...]

    kind = "choice"

    def read_text(self, text: str) -> Value:
        if text not in dict(self.options):
            raise Refused(f"‘{shown(text)}’ is not one of the choices. Enter {self.permitted()}.")
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
            words for size in range(len(self.words) + 1) for words in combinations(self.words, size)
        ]
        offered = tuple((self.write(words), self.say(words)) for words in sets)
        object.__setattr__(self, "options", offered)
        super().__post_init__()

    def read_text(self, text: str) -> tuple[str, ...]:
        words = [] if text == "none" else [part.strip(" ") for part in text.split("+")]
        if not set(words) <= set(self.words):
            raise Refused(f"‘{shown(text)}’ cannot be used here. Enter {self.permitted()}.")
        return tuple(word for word in self.words if word in words)

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
    a name that is changed in the form is changed where it is referred to.  An empty cell of a
    `lettered` column is that word with the row's letter.
    """

    longest: int = 60
    lettered: str = ""
    numbered: bool = False
    names: str = ""
    refers: str = ""

    def read_text(self, text: str) -> str:
        if len(text) > self.longest or not text.isprintable() or set(text) & set(",;"):
            raise Refused(f"‘{shown(text)}’ cannot be used here. Enter {self.permitted()}.")
        return text

    def permitted(self) -> str:
        return f"up to {self.longest} printable characters, no comma or semicolon"


@dataclass(frozen=True, kw_only=True)
class Pattern(Text):
    """A text in a notation of its own, such as `1/2` or `50-500`.

    `is_good` tells whether a text follows the notation, `notation` says what is permitted
    (to follow the word “Enter”), `examples` are texts that are good.  `also` holds other ways to
    write a text, in small letters, with the text that they stand for.
    """

    is_good: Callable[[str], bool]
    notation: str
    examples: tuple[str, ...]
    also: tuple[tuple[str, str], ...] = ()

    def read_text(self, text: str) -> str:
        text = dict(self.also).get(text.lower(), text)
        if len(text) > self.longest or not self.is_good(text):
            raise Refused(f"‘{shown(text)}’ cannot be used here. Enter {self.permitted()}.")
        return text

    def permitted(self) -> str:
        return self.notation


@dataclass(frozen=True, kw_only=True)
class Document(Field):
    """A file's text, such as a list in CSV: typed or pasted, or taken from a file.

    reader : returns the value of a text; raises InputError with what is wrong in it
    writer : returns the text of a value
    data : returns the value as plain data for JSON
    says : says in a few words what the value holds
    notation : what is permitted, to follow the word “Enter”
    columns : what a row of it holds, where it is a table
    template : a text to start from; empty for none
    stays : says, beside a link, that the file is not in it
    not_sent : says it to one who opens such a link
    """

    reader: Callable[[str], Value]
    writer: Callable[[Value], str]
    data: Callable[[Value], Any]
    says: Callable[[Value], str]
    notation: str
    columns: tuple[Field, ...] = ()
    ending: str = "csv"
    template: str = ""
    stays: str = ""
    not_sent: str = ""
    private: bool = True

    kind = "file"

    def read(self, raw: Raw) -> Value:
        if not isinstance(raw, str):
            raise Refused(f"Enter {self.permitted()}.")
        if not raw.strip():
            if self.optional:
                return None
            raise Refused(f"This is empty. Enter {self.permitted()}.")
        return self.read_text(raw)

    def read_text(self, text: str) -> Value:
        try:
            return self.reader(text)
        except InputError as error:
            parts = [
                Wrong(wrong.message, wrong.row, wrong.column, wrong.given) for wrong in error.errors
            ]
            message = " ".join(part.message for part in parts)
            raise Refused(message, parts, error.more) from error

    def write(self, value: Value) -> str:
        return "" if value is None else self.writer(value)

    def say(self, value: Value) -> str:
        return "" if value is None else self.says(value)

    def as_json(self, value: Value) -> Any:
        return None if value is None else self.data(value)

    def permitted(self) -> str:
        return self.notation

"""What all fields share, and how a field refuses what it is given.

A raw value is text; for rows it may also be a list of lists of text, as a form has it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from calc.answers.figures import unit_of

Raw = str | Sequence[Sequence[str]]
Value = Any  # float, int, str, bool, None, or a tuple of rows (mappings)


@dataclass(frozen=True)
class Wrong:
    """One thing wrong in what a field was given.

    row, column : where it is, in a table; the row's number counts from 1
    given : what stands there, shortened; None for all that the field was given
    """

    message: str
    row: int | None = None
    column: str | None = None
    given: str | None = None


class Refused(ValueError):
    """What was given is not permitted; the message says what is.

    `parts` are the things that are wrong, each told by itself; `more` is the number of those
    that are not told.
    """

    def __init__(self, message: str, parts: Sequence[Wrong] = (), more: int = 0) -> None:
        super().__init__(message)
        self.parts = tuple(parts) or (Wrong(message),)
        self.more = more


@dataclass(frozen=True, kw_only=True)
class Field:
    """What all fields share.

    A field is declared beside an attribute's type (see `calc.inputs.declared`), which gives it
    its `key` and its `default`: the text of what the attribute is without being given.  `as_key`
    is the key where Python forbids it as an attribute's name.  Three values are told apart:

    - the attribute's own default is the usual value, with its `source`; a plan may take it and
      says so
    - `example` is an invented figure that the form shows first; no plan ever takes it
    - `start` is what the form shows first; nothing is claimed, and no plan takes it

    `default` is written as a person would type it and is read by the field itself, so that a
    field with a forbidden default cannot be declared.  `more` moves the field behind the form's
    “more” control; a number that `is_plain` has no unit; `empty` is what an optional field says
    when nothing is given, `usual` the figure that a plan then takes, in words.  What is `hidden`
    stands in the form unseen: controls set it.  What is `private` stays on the device: a link
    does not hold it.
    """

    label: str = field(kw_only=False)
    key: str = ""
    default: str = ""
    hint: str = ""
    optional: bool = False
    more: bool = False
    source: str = ""
    empty: str = "not known"
    usual: str = ""
    private: bool = False
    as_key: str = ""
    is_plain: bool = False
    hidden: bool = False
    example: Value = None
    start: Value = None

    kind = "text"

    def __post_init__(self) -> None:
        if self.key:
            self.read(self.default)

    @property
    def unit(self) -> str:
        """The unit's sign, from the key's last part."""
        return unit_of(self.key)

    def read(self, raw: Raw) -> Value:
        """Return the value, or raise `Refused`."""
        if not isinstance(raw, str):
            raise Refused(f"Enter {self.permitted()}.")
        text = raw.strip(" ")
        if not text:
            if self.optional:
                return None
            raise Refused(f"Enter {self.permitted()}.")
        return self.read_text(text)

    def read_text(self, text: str) -> Value:
        """Return the value of a text that is not empty, or raise `Refused`."""
        raise NotImplementedError

    def taken(self, value: Value) -> Value:
        """Return a value from code as `read` would have it, or raise `Refused`.

        None is what is not known.
        """
        if value is None and not self.optional:
            raise Refused(f"Enter {self.permitted()}.")
        return None if value is None else self.taken_value(value)

    def taken_value(self, value: Value) -> Value:
        """Return a value that is not None, or raise `Refused`."""
        return self.read(self.write(value))

    def write(self, value: Value) -> str:
        """Return the text of a value as a link holds it."""
        return "" if value is None else str(value)

    def say(self, value: Value) -> str:
        """Return the text of a value as a person reads it, without the unit."""
        return self.write(value)

    def as_json(self, value: Value) -> Any:
        """Return the value as the JSON result shows it."""
        return value

    def permitted(self) -> str:
        """Say what is permitted, to follow the word “Enter”."""
        raise NotImplementedError

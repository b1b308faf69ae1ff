"""The one kind of error for input: which field, what was given, what is permitted."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

LONGEST_SHOWN = 40
MOST_ERRORS = 100  # that are told; of the rest only the number is


def shown(value: object) -> str:
    """Return what was given, short and printable, to be quoted in a message.

    Escaping for HTML is the renderer's work; here only control characters, lone
    surrogates and sheer length are dealt with.

    >>> shown("4\\x00"), shown("9" * 500)[-3:], len(shown("9" * 500))
    ('4\\\\x00', '99…', 41)
    """
    text = _as_text(value)
    cut = text[:LONGEST_SHOWN] + ("…" if len(text) > LONGEST_SHOWN else "")
    if cut.isprintable():
        return cut
    return "".join(
        character if character.isprintable() else ascii(character)[1:-1] for character in cut
    )


def _as_text(value: object) -> str:
    """Return the text of anything: a file may hold what Python does not write out."""
    try:
        return str(value)
    except (ValueError, RecursionError):
        # A whole number of thousands of digits, or lists that lie deep within one another.
        return "a number of too many digits" if isinstance(value, int) else "too much to show"


@dataclass(frozen=True)
class FieldError:
    """One wrong input: `field` is its key, `given` is already shortened.

    row, column : where in a table it is: the row's number from 1, and the column's key
    """

    field: str
    given: str
    message: str
    row: int | None = None
    column: str | None = None

    def as_data(self) -> dict[str, Any]:
        """Return it as JSON has it."""
        return {
            "field": self.field,
            "row": self.row,
            "column": self.column,
            "given": self.given,
            "message": self.message,
        }


class InputError(Exception):
    """Raised once with every wrong input of a request.

    Of very many a hundred are `errors`: the first of each field, then the first of all; `more`
    is the number of the others.

    >>> raise InputError([FieldError("load_ohm", "x", "Load: a number, please.")])
    Traceback (most recent call last):
    calc.inputs.errors.InputError: Load: a number, please.
    """

    def __init__(self, errors: Sequence[FieldError], more: int = 0) -> None:
        self.errors = tuple(_told(errors))
        self.more = more + len(errors) - len(self.errors)
        super().__init__(" ".join(error.message for error in self.errors))


def _told(errors: Sequence[FieldError]) -> list[FieldError]:
    """Return those that are told, in their order: a long table hides no other field's."""
    if len(errors) <= MOST_ERRORS:
        return list(errors)
    first: dict[str, int] = {}
    for at, error in enumerate(errors):
        first.setdefault(error.field, at)
    places = dict.fromkeys([*list(first.values())[:MOST_ERRORS], *range(MOST_ERRORS)])
    return [errors[at] for at in sorted(list(places)[:MOST_ERRORS])]


def refuse(field: str, value: object, message: str) -> InputError:
    """Return an `InputError` for a single field."""
    return InputError([FieldError(field, shown(value), message)])


def and_more(number: int) -> str:
    """Say how many are left out; empty when none are.

    >>> and_more(3), and_more(0)
    ('And 3 more.', '')
    """
    return f"And {number} more." if number else ""

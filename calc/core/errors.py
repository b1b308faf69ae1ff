"""The one kind of error for input: which field, what was given, what is permitted."""

from dataclasses import dataclass

LONGEST_SHOWN = 40


def shown(given: object) -> str:
    """Return what was given, short and printable, to be quoted in a message.

    Escaping for HTML is the renderer's work; here only control characters, lone
    surrogates and sheer length are dealt with.

    >>> shown("4\\x00"), shown("9" * 500)[-3:], len(shown("9" * 500))
    ('4\\\\x00', '99…', 41)
    """
    text = str(given)
    cut = text[:LONGEST_SHOWN] + ("…" if len(text) > LONGEST_SHOWN else "")
    return "".join(
        character if character.isprintable() else ascii(character)[1:-1] for character in cut
    )


@dataclass(frozen=True)
class FieldError:
    """One wrong input: `field` is its key, `given` is already shortened."""

    field: str
    given: str
    message: str


class InputError(Exception):
    """Raised once with every wrong input of a request.

    >>> raise InputError([FieldError("load_ohm", "x", "Load: a number, please.")])
    Traceback (most recent call last):
    calc.core.errors.InputError: Load: a number, please.
    """

    def __init__(self, errors: list[FieldError] | tuple[FieldError, ...]) -> None:
        self.errors = tuple(errors)
        super().__init__(" ".join(error.message for error in self.errors))


def refuse(field: str, given: object, message: str) -> InputError:
    """Return an `InputError` for a single field."""
    return InputError([FieldError(field, shown(given), message)])

"""What is wrong with several fields together, found by functions that name them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from inspect import Parameter, signature

from calc.answers.figures import exact, rounded
from calc.inputs.errors import FieldError, shown
from calc.inputs.field_base import Value

# Its keyword parameters are the keys of the fields that it looks at; one with a default is given
# where that field could be read, and needs not be.
Check = Callable[..., Iterable["Problem"]]
_GIVEN, _VERBATIM = "{given}", "{{given}}"


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing that is wrong with several fields together.

    field : the key of the field that is to be changed
    given : what stands there: a number unrounded, or a text
    words : what is wrong and what is permitted; `{given}` stands for what is given, and what a
        person typed is put in by `verbatim`
    row, column : where in a table it is: the row's number from 1, and the column's key
<<<<<<< HEAD
<<<<<<< HEAD
    label : what is said in front; empty for the field's own label
    in_full : what is given is a list that is told in full, however long
=======
    names_field : the words are a sentence of their own, which names the field: no label before it
>>>>>>> h/coils
=======
    label : said in place of the field's own
>>>>>>> h/cabling
    """

    field: str
    given: float | str
    words: str
    row: int | None = None
    column: str | None = None
<<<<<<< HEAD
<<<<<<< HEAD
    label: str = ""
    in_full: bool = False
=======
    names_field: bool = False
>>>>>>> h/coils
=======
    label: str = ""
>>>>>>> h/cabling

    def error(self, label: str) -> FieldError:
        """Return it as told to one who typed the figure.

        >>> Problem(field="idle_w", given=90.25, words="with {given} W …").error("Idle").message
        'Idle: with 90.25 W …'
        """
        text = self.given if isinstance(self.given, str) else exact(self.given)
<<<<<<< HEAD
<<<<<<< HEAD
        message = f"{self.label or label}: {self._said(text)}"
        cut = text if self.in_full else shown(text)
        return FieldError(self.field, cut, message, self.row, self.column)
=======
        return FieldError(self.field, shown(text), self._said(text, label), self.row, self.column)
>>>>>>> h/coils
=======
        message = f"{self.label or label}: {self._said(text)}"
        return FieldError(self.field, shown(text), message, self.row, self.column)
>>>>>>> h/cabling

    def rounded_words(self, label: str) -> str:
        """Return it as told where the figure was worked out and not typed."""
        text = self.given if isinstance(self.given, str) else rounded(self.given)
<<<<<<< HEAD
<<<<<<< HEAD
=======
>>>>>>> h/cabling
        return f"{self.label or label}: {self._said(text)}"

    def _said(self, text: str) -> str:
        parts = self.words.split(_VERBATIM)
        return _GIVEN.join(part.replace(_GIVEN, shown(text)) for part in parts)


def verbatim(text: str) -> str:
    """Return a text that a person typed, to stand in a problem's words as it is.

    >>> words = verbatim("{given}") + " is {given}"
    >>> Problem(field="name", given="a", words=words).error("Name").message
    'Name: {given} is a'
    """
    return text.replace(_GIVEN, _VERBATIM)
=======
        return self._said(text, label)

    def _said(self, text: str, label: str) -> str:
        words = self.words.replace("{given}", shown(text))
        return words if self.names_field else f"{label}: {words}"
>>>>>>> h/coils


def keys_of(check: Check) -> tuple[str, ...]:
    """Return the keys of the fields that a check looks at."""
    return tuple(signature(check).parameters)


def problems(checks: Iterable[Check], values: Mapping[str, Value]) -> list[Problem]:
    """Return what is wrong with values together, where all that a check needs could be read."""
    found: list[Problem] = []
    for check in checks:
        if values.keys() >= set(_needed_by(check)):
            found += check(**{key: values[key] for key in keys_of(check) if key in values})
    return found


def _needed_by(check: Check) -> list[str]:
    parameters = signature(check).parameters
    return [key for key, parameter in parameters.items() if parameter.default is Parameter.empty]

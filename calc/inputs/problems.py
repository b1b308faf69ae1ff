"""What is wrong with several fields together, found by functions that name them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
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
    label : what is said in front; empty for the field's own label
    in_full : what is given is a list that is told in full, however long
    names_field : the words are a sentence of their own, which names the field: no label before it
    """

    field: str
    given: float | str
    words: str
    row: int | None = None
    column: str | None = None
    label: str = ""
    in_full: bool = False
    names_field: bool = False

    def error(self, label: str) -> FieldError:
        """Return it as told to one who typed the figure.

        >>> Problem(field="idle_w", given=90.25, words="with {given} W …").error("Idle").message
        'Idle: with 90.25 W …'
        >>> words = "The least, {given} V, …"
        >>> Problem(field="low_v", given="5", words=words, names_field=True).error("Input").message
        'The least, 5 V, …'
        """
        text = self.given if isinstance(self.given, str) else exact(self.given)
        cut = text if self.in_full else shown(text)
        return FieldError(self.field, cut, self._said(text, label), self.row, self.column)

    def rounded_words(self, label: str) -> str:
        """Return it as told where the figure was worked out and not typed."""
        text = self.given if isinstance(self.given, str) else rounded(self.given)
        return self._said(text, label)

    def _said(self, text: str, label: str) -> str:
        parts = self.words.split(_VERBATIM)
        words = _GIVEN.join(part.replace(_GIVEN, shown(text)) for part in parts)
        return words if self.names_field else f"{self.label or label}: {words}"


def verbatim(text: str) -> str:
    """Return a text that a person typed, to stand in a problem's words as it is.

    >>> words = verbatim("{given}") + " is {given}"
    >>> Problem(field="name", given="a", words=words).error("Name").message
    'Name: {given} is a'
    """
    return text.replace(_GIVEN, _VERBATIM)


@cache
def keys_of(check: Check) -> tuple[str, ...]:
    """Return the keys of the fields that a check looks at."""
    return tuple(signature(check).parameters)


def problems(checks: Iterable[Check], values: Mapping[str, Value]) -> list[Problem]:
    """Return what is wrong with values together, where all that a check needs could be read."""
    wrong: list[Problem] = []
    for check in checks:
        if values.keys() >= set(_needed_by(check)):
            wrong += check(**{key: values[key] for key in keys_of(check) if key in values})
    return wrong


@cache
def _needed_by(check: Check) -> tuple[str, ...]:
    parameters = signature(check).parameters.items()
    return tuple(key for key, parameter in parameters if parameter.default is Parameter.empty)

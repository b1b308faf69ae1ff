"""What is wrong with several fields together, found by functions that name them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from inspect import signature

from calc.answers.figures import exact, rounded
from calc.inputs.errors import FieldError, shown
from calc.inputs.field_base import Value

# Its keyword parameters are the keys of the fields that it looks at.
Check = Callable[..., Iterable["Problem"]]


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing that is wrong with several fields together.

    field : the key of the field that is to be changed
    given : what stands there: a number unrounded, or a text
    words : what is wrong and what is permitted; `{given}` stands for what is given
    row, column : where in a table it is: the row's number from 1, and the column's key
    label : said in place of the field's own
    """

    field: str
    given: float | str
    words: str
    row: int | None = None
    column: str | None = None
    label: str = ""

    def error(self, label: str) -> FieldError:
        """Return it as told to one who typed the figure.

        >>> Problem(field="idle_w", given=90.25, words="with {given} W …").error("Idle").message
        'Idle: with 90.25 W …'
        """
        text = self.given if isinstance(self.given, str) else exact(self.given)
        message = f"{self.label or label}: {self._said(text)}"
        return FieldError(self.field, shown(text), message, self.row, self.column)

    def rounded_words(self, label: str) -> str:
        """Return it as told where the figure was worked out and not typed."""
        text = self.given if isinstance(self.given, str) else rounded(self.given)
        return f"{self.label or label}: {self._said(text)}"

    def _said(self, text: str) -> str:
        return self.words.replace("{given}", shown(text))


def keys_of(check: Check) -> tuple[str, ...]:
    """Return the keys of the fields that a check looks at."""
    return tuple(signature(check).parameters)


def problems(checks: Iterable[Check], values: Mapping[str, Value]) -> list[Problem]:
    """Return what is wrong with values together, where all that a check needs could be read."""
    found: list[Problem] = []
    for check in checks:
        keys = keys_of(check)
        if values.keys() >= set(keys):
            found += check(**{key: values[key] for key in keys})
    return found

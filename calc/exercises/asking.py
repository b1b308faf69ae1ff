"""Asking a calculator: the only place where an exercise's answers come from."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Literal

from calc.answers.calculator import AnyCalculator
from calc.answers.figures import exact, quantity, unit_of
from calc.answers.sheet import Sheet

Tells = Literal["steps", "sentence", "nothing"]


@dataclass(frozen=True)
class Ask:
    """A calculator, and what it is asked; two of the same name and texts are one.

    tells : what of its answer stands in the worked steps
    want : the path of the result that the work goes on with; the steps end where it is reached
    """

    name: str
    texts: tuple[tuple[str, str], ...]
    calculator: AnyCalculator = field(compare=False)
    tells: Tells = field(default="steps", compare=False)
    want: str = field(default="", compare=False)

    @property
    def sheet(self) -> Sheet:
        """Its answer."""
        return _answered(self)

    def steps(self, answer: str = "") -> tuple[str, ...]:
        """Return what the worked steps tell of it, up to the answer or to what it was asked for."""
        if self.tells == "nothing":
            return ()
        if self.tells == "sentence":
            return (self.sheet.sentence,)
        if not answer and self.want:
            answer = quantity(self.number(self.want), unit_of(self.want))
        return until(self.sheet.steps, answer) if answer else self.sheet.steps

    def value(self, path: str) -> Any:
        """Return a result by its path."""
        return at(self.sheet.results, path)

    def number(self, path: str) -> float:
        """Return a result that is a number; raises ValueError where it does not exist."""
        value = self.value(path)
        if not isinstance(value, int | float) or isinstance(value, bool):
            raise ValueError(f"{self.name} has no number ‘{path}’")
        return float(value)


def ask(
    calculator: AnyCalculator, /, *, tells: Tells = "steps", want: str = "", **inputs: object
) -> Ask:
    """Return the question to a calculator; None as an input is “not known”."""
    return ask_with(calculator, inputs, tells=tells, want=want)


def ask_with(
    calculator: AnyCalculator,
    inputs: Mapping[str, object],
    *,
    tells: Tells = "steps",
    want: str = "",
) -> Ask:
    """Return the question to a calculator with inputs by their keys."""
    texts = tuple((key, _text(value)) for key, value in inputs.items())
    return Ask(calculator.name, texts, calculator, tells, want)


def until(steps: Sequence[str], figure: str) -> tuple[str, ...]:
    """Return steps up to the first that comes to a figure; all of them where none does.

    >>> until(("4 Ω ÷ 2 = 2 Ω.", "2 × 75 W = 150 W.", "V = 24.5 V."), "150 W")
    ('4 Ω ÷ 2 = 2 Ω.', '2 × 75 W = 150 W.')
    """
    comes_to = re.compile(rf"[=:] {re.escape(figure)}(?!\w)")
    ends = (at for at, step in enumerate(steps, 1) if comes_to.search(step))
    return tuple(steps[: next(ends, len(steps))])


def _text(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return exact(float(value))
        case _:
            return str(value)


def at(results: Mapping[str, Any], path: str) -> Any:
    """Return what stands at a path of keys and places, such as `duties.1.margin_idle_a`.

    >>> at({"loads": [{"ohm": 2}, {"ohm": 4}]}, "loads.1.ohm")
    4
    """
    found: Any = results
    for step in path.split("."):
        is_list = isinstance(found, Sequence) and not isinstance(found, str)
        found = found[int(step)] if is_list else found[step]
    return found


@lru_cache(maxsize=64)
def _answered(asked: Ask) -> Sheet:
    return asked.calculator.answer(dict(asked.texts)).sheet


def forget_answers() -> None:
    """Forget what calculators answered: the page's saved memory needs none of it."""
    _answered.cache_clear()

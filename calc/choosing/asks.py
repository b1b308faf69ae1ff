"""What a plan asks of a chapter's calculator: its inputs, each with where it came from."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.answers.calculator import Answer, Calculator
from calc.answers.figures import listed, rounded
from calc.answers.sheet import Verdict
from calc.inputs.errors import InputError
from calc.inputs.fields import Rows

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Traced:
    """A text for a field, and where it came from.

    path : the system's field that it is a copy of, such as ("speakers", 2, "coil_ohm"); None for
        what is worked out, or comes from elsewhere
    """

    text: str
    origin: str
    path: Path | None = None


@dataclass(frozen=True)
class Doubt:
    """Figures that are not known and for which usual ones were taken.

    told : the figures in words, with what was taken
    worst, best : inputs that take the place of the usual ones where the figures are as bad or as
        good as they may be; None where no figure tells how bad or good that is
    """

    told: tuple[str, ...]
    worst: Mapping[str, str] | None = None
    best: Mapping[str, str] | None = None


@dataclass(frozen=True, kw_only=True)
class Ask:
    """A calculator with inputs from a plan.

    whom : what the inputs are about, where a plan asks more than once; else empty
    unknown : what is not known and would be needed; without it nothing is asked
    doubt : what is not known and was taken as usual; a verdict that rests on it is *not known*
    """

    calculator: Calculator
    inputs: Mapping[str, Traced]
    whom: str = ""
    unknown: tuple[str, ...] = ()
    doubt: Doubt | None = None

    @property
    def given(self) -> dict[str, str]:
        """The inputs as the calculator reads them."""
        return {key: one.text for key, one in self.inputs.items()}

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """The labels of what is needed and not known."""
        fields = self.calculator.form.by_key
        lacking = [
            fields[key].label
            for key, one in self.inputs.items()
            if not one.text and not fields[key].optional
        ]
        return (*self.unknown, *lacking)

    @cached_property
    def reply(self) -> Answer | InputError | None:
        """The answer, what is wrong with the inputs together, or None when some are missing."""
        if self.missing:
            return None
        try:
            return self.calculator.answer(self.given)
        except InputError as error:
            return error

    @property
    def answer(self) -> Answer | None:
        """The answer; None when there is none."""
        return self.reply if isinstance(self.reply, Answer) else None

    @cached_property
    def verdict(self) -> Verdict:
        """The answer's verdict; *not known* when there is no answer, or when it may be another
        with the figures that were taken as usual.
        """
        found = self._plain_verdict()
        if self.doubt is None:
            return found
        if found.state == "not known":
            besides = f"{found.reason.rstrip('.')}; missing besides: {listed(self.doubt.told)}"
            return Verdict("not known", besides)
        other = self.doubt.worst if found.state == "suitable" else self.doubt.best
        if other is not None and self._with(other)._plain_verdict().state == found.state:
            return found
        return Verdict("not known", f"missing: {listed(self.doubt.told)}")

    def _with(self, texts: Mapping[str, str]) -> "Ask":
        inputs = {key: replace(self.inputs[key], text=text) for key, text in texts.items()}
        return replace(self, inputs={**self.inputs, **inputs})

    def _plain_verdict(self) -> Verdict:
        if self.reply is None:
            return Verdict("not known", f"missing: {', '.join(self.missing).lower()}.")
        if isinstance(self.reply, InputError):
            return Verdict("not known", _short(self.reply.errors[0].message))
        found = self.reply.sheet.verdict
        return found or Verdict("suitable", self.reply.sheet.sentence)


def _short(message: str) -> str:
    """Return a message with its long numbers rounded: they are worked out, not typed."""
    return re.sub(r"\d+\.\d+", lambda found: rounded(float(found[0])), message)


def rows_text(calculator: Calculator, key: str, rows: Sequence[Mapping[str, str]]) -> str:
    """Return rows as a field reads them, from texts by column; a missing column is empty."""
    field = calculator.form.by_key[key]
    assert isinstance(field, Rows)
    return ";".join(",".join(row.get(column.key, "") for column in field.columns) for row in rows)

"""What a plan asks of a chapter's calculator: figures by key, each with where it is from."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Generic

from calc.answers.calculator import Answer, Calculator, Inputs, Result
from calc.answers.figures import listed
from calc.answers.sheet import State, Verdict
from calc.inputs.field_base import Refused, Value
from calc.inputs.problems import problems

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Known:
    """A figure, and where it is from.

    value : None where it is not known
    words : where it is from, to be read
    path : the system's field that it is a copy of, such as ("speakers", 2, "coil_ohm"); None for
        what is worked out, or comes from elsewhere
    """

    value: Value
    words: str
    path: Path | None = None


def worked_out(words: str, **figures: Value) -> dict[str, Known]:
    """Return figures that the plan worked out, all from the same place."""
    return {key: Known(value, words) for key, value in figures.items()}


@dataclass(frozen=True)
class Unsure:
    """Figures that are not known and for which usual ones were taken.

    gaps : the figures in words, with what was taken
    worst, best : figures that take the place of the usual ones where they are as bad or as good
        as they may be at all; None where no figure tells how bad or good that is
    likely : as bad as they usually are; None where no figure tells how bad that is
    keys : the columns of the amplifier or fields of the system, to ask for
    """

    gaps: tuple[str, ...]
    worst: Mapping[str, Value] | None = None
    best: Mapping[str, Value] | None = None
    likely: Mapping[str, Value] | None = None
    keys: tuple[str, ...] = ()

    def at_each_end(self, change: Callable[[Mapping[str, Value]], Mapping[str, Value]]) -> "Unsure":
        """Return the same with other figures at each end that there is."""
        ends = (self.worst, self.best, self.likely)
        worst, best, likely = (None if end is None else change(end) for end in ends)
        return replace(self, worst=worst, best=best, likely=likely)


def together(*parts: Unsure | None) -> Unsure | None:
    """Return what is not known together: each is as bad as it may be at once."""
    open_ones = [part for part in parts if part is not None]
    if not open_ones:
        return None
    return Unsure(
        tuple(gap for part in open_ones for gap in part.gaps),
        _all([part.worst for part in open_ones]),
        _all([part.best for part in open_ones]),
        _all([part.likely for part in open_ones]),
        tuple(key for part in open_ones for key in part.keys),
    )


def _all(ends: Sequence[Mapping[str, Value] | None]) -> Mapping[str, Value] | None:
    """Return all ends as one; None where one of them is not known."""
    every: dict[str, Value] = {}
    for end in ends:
        if end is None:
            return None
        every |= end
    return every


@dataclass(frozen=True, kw_only=True)
class Question(Generic[Inputs, Result]):
    """A calculator with figures from a plan.

    about : what the figures are about, where a plan asks more than once; else empty
    unknown : what is not known and would be needed; without it nothing is asked
    unsure : what is not known and was taken as usual; a verdict that rests on it is *not known*
    no_part : fields that play no part here, or are the reader's; they stand as the form first has
        them
    """

    calculator: Calculator[Inputs, Result]
    figures: Mapping[str, Known]
    about: str = ""
    unknown: tuple[str, ...] = ()
    unsure: Unsure | None = None
    no_part: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        known = {*self.figures, *self.calculator.usual, *self.no_part}
        lacking = self.calculator.form.by_key.keys() - known
        if lacking or not self.figures.keys() <= self.calculator.form.by_key.keys():
            keys = lacking or self.figures.keys() - self.calculator.form.by_key.keys()
            raise LookupError(f"{self.calculator.name}: nothing gives {', '.join(sorted(keys))}")

    def of_part(self, name: str, at: int) -> "Question[Inputs, Result]":
        """Return the question as one about an amplifier among several: its name and its number."""
        figures = {
            key: replace(known, path=("amplifier", at, *known.path[2:]))
            if known.path is not None and known.path[0] == "amplifier"
            else known
            for key, known in self.figures.items()
        }
        about = f"{name}: {self.about}" if self.about else name
        return replace(self, figures=figures, about=about)

    @property
    def texts(self) -> dict[str, str]:
        """The figures as the calculator's form holds them."""
        fields = self.calculator.form.by_key
        return {key: fields[key].write(known.value) for key, known in self.figures.items()}

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """The labels of what is needed and not known."""
        fields = self.calculator.form.by_key
        lacking = [
            fields[key].label
            for key, known in self.figures.items()
            if known.value is None and not fields[key].optional
        ]
        return (*self.unknown, *lacking)

    @cached_property
    def _read(self) -> dict[str, Value] | str:
        """The values of all fields, or what is wrong with them."""
        values: dict[str, Value] = {}
        wrong = ""
        for field in self.calculator.fields:
            known = self.figures.get(field.key)
            if known is None:
                values[field.key] = field.read(field.default)
                continue
            try:
                values[field.key] = field.taken(known.value)
            except Refused as refused:
                wrong = wrong or f"{field.label}: {refused}"
        if wrong:
            return wrong
        form = self.calculator.form
        if form.alternatives:
            errors = form.alternative_errors(self.texts, values)
            if errors:
                return errors[0].message
        wrong_together = problems(self.calculator.checks, values)
        if not wrong_together:
            return values
        first = wrong_together[0]
        return first.rounded_words(form.by_key[first.field].label)

    @property
    def values(self) -> dict[str, Value] | None:
        """The values of all fields; None where some are missing or wrong."""
        return None if self.missing or isinstance(self._read, str) else self._read

    @cached_property
    def _solved(self) -> tuple[Inputs, Result] | None:
        if self.values is None:
            return None
        inputs = self.calculator.build(self.values)
        return inputs, self._named(self.calculator.solve(inputs))

    def _named(self, result: Result) -> Result:
        """Return a result with the names that the reader has for what it is about."""
        return result

    @property
    def inputs(self) -> Inputs | None:
        """The typed inputs; None where some are missing or wrong."""
        return None if self._solved is None else self._solved[0]

    @property
    def result(self) -> Result | None:
        """What follows from them; None where some are missing or wrong."""
        return None if self._solved is None else self._solved[1]

    @cached_property
    def answer(self) -> Answer | None:
        """The whole answer with its sheet; None where figures are missing or wrong."""
        if self._solved is None or self.values is None:
            return None
        return Answer(self.calculator, self.values, self.calculator.present(*self._solved))

    @cached_property
    def verdict(self) -> Verdict:
        """The answer's verdict, weakened by what was taken as usual.

        *Suitable* stays where the worst figures give the same, and is *likely* where those do
        that are usually the worst; *unsuitable* stays where the best figures give the same.
        """
        plain = self._plain_verdict
        if self.unsure is None:
            return plain
        if plain.state == "not known":
            besides = f"{plain.reason.rstrip('.')}; also missing: {listed(self.unsure.gaps)}"
            return Verdict("not known", besides)
        if plain.state == "unsuitable":
            if self._stays(self.unsure.best, plain.state):
                return plain
        elif self._stays(self.unsure.worst, plain.state):
            return plain
        elif self._stays(self.unsure.likely, plain.state):
            return Verdict("likely", f"{plain.reason.rstrip('.')}, with the usual figures.")
        return Verdict("not known", f"missing: {listed(self.unsure.gaps)}")

    def _stays(self, values: Mapping[str, Value] | None, state: State) -> bool:
        return values is not None and self._with(values)._plain_verdict.state == state

    def _with(self, values: Mapping[str, Value]) -> "Question[Inputs, Result]":
        changed = {key: replace(self.figures[key], value=value) for key, value in values.items()}
        return replace(self, figures={**self.figures, **changed})

    @cached_property
    def _plain_verdict(self) -> Verdict:
        if self.missing:
            return Verdict("not known", f"missing: {', '.join(self.missing).lower()}.")
        if isinstance(self._read, str):
            return Verdict("not known", self._read)
        if self.calculator.judge is not None and self._solved is not None:
            return self.calculator.judge(*self._solved)
        return Verdict("suitable", self.answer.sheet.sentence if self.answer else "")

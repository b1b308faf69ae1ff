"""A calculator: a name, inputs declared once, and three pure functions; used everywhere."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Generic, Protocol, TypeVar

from calc.answers.arrangement import Part
from calc.answers.arrangement import keys_of as keys_in_parts
from calc.answers.sheet import Sheet, Verdict
from calc.inputs.declared import build, fields_of
from calc.inputs.errors import FieldError
from calc.inputs.field_base import Field, Raw, Value
from calc.inputs.form import Form
from calc.inputs.links import LINK_VERSION, VERSION_KEY
from calc.inputs.problems import Check, keys_of, problems
from calc.inputs.rows import Rows

Inputs = TypeVar("Inputs")
Result = TypeVar("Result")
ReadFile = Callable[[str], tuple[Mapping[str, Raw], Sequence[FieldError]]]
WriteFile = Callable[[Mapping[str, Value]], str]
MOST_PLAIN = 5  # fields of a group that are always in sight
_MOST_GROUPS = 6  # of a form that answers one question


class Stream(Protocol):
    """An answer that is worked out in steps; its last sheet is that of the whole answer."""

    @property
    def done(self) -> bool:
        """Whether the answer is whole."""

    def advance(self) -> None:
        """Do a step's work."""

    def sheet(self, *, stopped: bool = False) -> Sheet:
        """Return the answer as far as it is known, to be gone on with or `stopped` there."""


@dataclass(frozen=True)
class Answer:
    """The inputs as read, by the keys of their fields, and the sheet that follows from them."""

    calculator: "AnyCalculator"
    inputs: Mapping[str, Value]
    sheet: Sheet

    @property
    def changed(self) -> dict[str, str]:
        """The inputs that differ from what the page opens with, as a link writes them."""
        opens = self.calculator.opens
        changed = self.calculator.form.write(self.inputs, opens)
        return {VERSION_KEY: LINK_VERSION, **changed} if opens and changed else changed


@dataclass(frozen=True)
class Start:
    """A starting point that the form offers: a name, and the inputs that it sets."""

    label: str
    texts: Mapping[str, str]


@dataclass(frozen=True)
class Group:
    """A run of fields under a heading; those of `more` stand behind the form's “more” control."""

    heading: str
    keys: tuple[str, ...]
    more: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Calculator(Generic[Inputs, Result]):
    """One question that figures answer: `Inputs` are what is asked, `Result` what is worked out.

    question : in the reader's words
    inputs : the dataclass of what is asked (see `calc.inputs.declared`)
    groups : every field once, five of a group in sight at most
    order : of the fields in data and links; empty for the order of declaration
    checks : look at what depends on several fields; their parameters are the fields' keys
    alternatives : groups of fields of which one is given, or none where `none_is_allowed`
    solve : works the result out; no words, no labels, no sheet
    judge : the verdict on it; None where there is nothing to judge
    present : the sheet, verdict and the contract's results included
    files : read the files that the command line may name, in this order, each into texts and
        what is wrong with the file; `write_file` writes inputs as the first of them,
        `write_brief` as short as can be; `notices_of_file` says what is to be known of one that
        was read
    stream : works a long answer out in steps
    starts : offered above the form
    opens : texts that the page opens with where these are not the defaults, which are its example;
        its links are told against them, with a version before
    parts : what of the form stands in numbered parts; the rest of `groups` stands behind them
    usual_words : what is usual where nothing is given, the figure first, by a field’s key or by
        those of a table and its column (`speakers.lead_m`); such a figure is never a default
    heaviest : an input that takes long: it is rehearsed when the page's Python is made, and
        measured
    """

    name: str
    title: str
    question: str
    inputs: type[Inputs]
    groups: tuple[Group, ...]
    solve: Callable[[Inputs], Result]
    present: Callable[[Inputs, Result], Sheet]
    judge: Callable[[Inputs, Result], Verdict] | None = None
    order: tuple[str, ...] = ()
    checks: tuple[Check, ...] = ()
    alternatives: tuple[tuple[str, ...], ...] = ()
    none_is_allowed: bool = False
    starts: tuple[Start, ...] = ()
    opens: Mapping[str, str] = field(default_factory=dict)
    parts: tuple[Part, ...] = ()
    files: tuple[ReadFile, ...] = ()
    write_file: WriteFile | None = None
    write_brief: WriteFile | None = None
    notices_of_file: Callable[[str], tuple[str, ...]] | None = None
    stream: Callable[[Inputs], Stream] | None = None
    usual_words: Mapping[str, str] = field(default_factory=dict)
    heaviest: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        declared = fields_of(self.inputs)
        grouped = [key for group in self.groups for key in (*group.keys, *group.more)]
        if sorted(grouped) != sorted(declared):
            raise ValueError(f"{self.name}: the groups must hold every field once")
        if self.order and sorted(self.order) != sorted(declared):
            raise ValueError(f"{self.name}: the order must hold every field once")
        if not keys_in_parts(self.parts) <= declared.keys():
            raise ValueError(f"{self.name}: a part asks for a field that is none")
        for group in self.groups:
            if len(group.keys) > MOST_PLAIN:
                raise ValueError(f"{self.name}: more than five fields in ‘{group.heading}’")
        for check in self.checks:
            if not set(keys_of(check)) <= declared.keys():
                raise ValueError(f"{self.name}: {check.__name__} asks for a field that is none")

    @cached_property
    def fields(self) -> tuple[Field, ...]:
        """The fields, in the order of data and links."""
        declared = fields_of(self.inputs)
        behind = {key for group in self.groups for key in group.more}
        return tuple(
            _with_usual(replace(declared[key], more=key in behind), self.usual_words)
            for key in self.order or declared
        )

    def example_in(self, raw: Mapping[str, Raw]) -> Start | None:
        """Return the starting point whose figures still stand, by the field `example`."""
        name = raw.get("example")
        named = (start for start in self.starts if name and start.texts.get("example") == name)
        return next(named, None)

    @property
    def headings(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The form's headings, each with the keys that stand under it."""
        return tuple((group.heading, (*group.keys, *group.more)) for group in self.groups)

    @property
    def is_whole_job(self) -> bool:
        """Whether it asks for so much that its form is folded, and its inputs come last."""
        return len(self.groups) > _MOST_GROUPS

    @cached_property
    def form(self) -> Form:
        """The fields as one form."""
        return Form(self.fields, self._errors, self.alternatives, self.none_is_allowed)

    def _errors(self, values: Mapping[str, Value]) -> Iterable[FieldError]:
        labels = fields_of(self.inputs)
        return [
            problem.error(labels[problem.field].label) for problem in problems(self.checks, values)
        ]

    @cached_property
    def usual(self) -> Mapping[str, Value]:
        """The values of the fields that need not be given: usual ones, or not known.

        An invented figure, and one that the form only starts with, must be given.
        """
        shown = {field.key: field for field in self.fields}
        return {
            key: field.read(field.default)
            for key, field in shown.items()
            if field.example is None and field.start is None
        }

    def build(self, values: Mapping[str, Value]) -> Inputs:
        """Return read values as inputs."""
        return build(self.inputs, values)

    def compute(self, values: Mapping[str, Value]) -> Sheet:
        """Return the sheet of read values."""
        inputs = self.build(values)
        return self.present(inputs, self.solve(inputs))

    def answer(self, texts: Mapping[str, Raw], earlier: Iterable[FieldError] = ()) -> Answer:
        """Read texts and compute; raises `InputError` with every wrong field.

        earlier : what was found wrong on the way to the fields
        """
        values = self.form.read(texts, earlier)
        return Answer(self, values, self.compute(values))


def _with_usual(field: Field, words: Mapping[str, str]) -> Field:
    """Return a field with the words for what is usual; of a table, its columns."""
    if field.key in words:
        field = replace(field, usual=words[field.key])
    if isinstance(field, Rows):
        columns = [
            replace(column, usual=words.get(f"{field.key}.{column.key}", column.usual))
            for column in field.columns
        ]
        return replace(field, columns=tuple(columns))
    return field


AnyCalculator = Calculator[Any, Any]

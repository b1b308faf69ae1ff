"""A calculator: a name, fields and a function.  Declared once, used everywhere."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from calc.answers.sheet import Sheet
from calc.inputs.errors import FieldError
from calc.inputs.field_base import Field, Raw, Value
from calc.inputs.form import Check, Form

ReadFile = Callable[[str], tuple[Mapping[str, Raw], Sequence[FieldError]]]


class Stream(Protocol):
    """An answer that is worked out in steps; its last sheet is that of `compute`."""

    @property
    def done(self) -> bool:
        """Whether the answer is whole."""

    def advance(self) -> None:
        """Do a step's work."""

    def sheet(self, *, stopped: bool = False) -> Sheet:
        """Return the answer as far as it is known, to be gone on with or `stopped` there."""


_MOST_GROUPS = 6  # of a form that answers one question
WriteFile = Callable[[Mapping[str, Value]], str]


@dataclass(frozen=True)
class Answer:
    """The inputs as read and the sheet that follows from them."""

    calculator: "Calculator"
    inputs: Mapping[str, Value]
    sheet: Sheet

    @property
    def changed(self) -> dict[str, str]:
        """The inputs that differ from the defaults, as a link writes them."""
        return self.calculator.form.write(self.inputs)


@dataclass(frozen=True)
class Start:
    """A starting point that the form offers: a name, and the inputs that it sets."""

    label: str
    given: Mapping[str, str]


@dataclass(frozen=True, kw_only=True)
class Calculator:
    """One question that figures answer.

    `question` is in the reader's words; `groups` gives headings to runs of fields, each
    a heading with the keys that stand under it (five at most, the rest is `more`);
    `check` looks at what depends on several fields, `alternatives` are groups of fields of
    which one is given, or none where `none_is_allowed` (see `Form`); `compute` takes the read
    values by key and is a pure function.  `files` read the files that the command line may name,
    in this order, each into inputs and what is wrong with the file; `write_file` writes the read
    values as the first of them, `write_brief` as short as can be.  `stream` works a long answer
    out in steps.  `starts` are offered above the form.  `heaviest` is an input that takes long:
    it is rehearsed when the page's Python is made, and measured.
    """

    name: str
    title: str
    question: str
    fields: tuple[Field, ...]
    groups: tuple[tuple[str, tuple[str, ...]], ...]
    compute: Callable[[Mapping[str, Any]], Sheet]
    check: Check = lambda _: ()
    alternatives: tuple[tuple[str, ...], ...] = ()
    none_is_allowed: bool = False
    starts: tuple[Start, ...] = ()
    files: tuple[ReadFile, ...] = ()
    write_file: WriteFile | None = None
    write_brief: WriteFile | None = None
    stream: Callable[[Mapping[str, Any]], Stream] | None = None
    heaviest: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        grouped = [key for _, keys in self.groups for key in keys]
        if sorted(grouped) != sorted(one.key for one in self.fields):
            raise ValueError(f"{self.name}: the groups must hold every field once")
        for heading, keys in self.groups:
            plain = [key for key in keys if not self.form.by_key[key].more]
            if len(plain) > 5:
                raise ValueError(f"{self.name}: more than five fields in ‘{heading}’")

    @property
    def headings(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The form's headings, each with the keys that stand under it."""
        return self.groups

    @property
    def is_whole_job(self) -> bool:
        """Whether it asks for so much that its form is folded, and its inputs come last."""
        return len(self.groups) > _MOST_GROUPS

    @property
    def form(self) -> Form:
        """The fields as one form."""
        return Form(self.fields, self.check, self.alternatives, self.none_is_allowed)

    def answer(self, given: Mapping[str, Raw], earlier: Iterable[FieldError] = ()) -> Answer:
        """Read what is given and compute; raises `InputError` with every wrong field.

        earlier : what was found wrong on the way to the fields
        """
        inputs = self.form.read(given, earlier)
        return Answer(self, inputs, self.compute(inputs))

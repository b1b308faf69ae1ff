"""What a template writes: a question with its answer from calculators, and the usual mistakes."""

from collections.abc import Callable
from dataclasses import dataclass

from calc.exercises.asking import Ask
from calc.exercises.draws import Draws

TOLERANCE = 0.02  # of a figure that somebody rounds to three digits on the way
NEARLY = 0.05  # rounded too early


@dataclass(frozen=True)
class Slip:
    """A wrong figure, and the mistake that leads to it: words to follow a colon."""

    value: float
    mistake: str


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A question that a figure answers.

    asks : the calculators, in the order of the work; the last one has the answer
    result : the path of the answer in its results
    times : what a person writes is the result times this
    slips : wrong figures; those too near to the answer, or to one another, are left out
    work, closing : steps of our own, before and after those of the calculators
    is_shown : the calculators' own steps stand in the key
    """

    question: str
    asks: tuple[Ask, ...]
    result: str
    unit: str
    slips: tuple[Slip, ...]
    times: float = 1.0
    work: tuple[str, ...] = ()
    closing: tuple[str, ...] = ()
    is_shown: bool = True
    tolerance: float = TOLERANCE

    @property
    def value(self) -> float:
        """The answer, as the last calculator gives it."""
        return self.asks[-1].number(self.result) * self.times


@dataclass(frozen=True)
class Option:
    """An answer to be picked; one that is wrong has the mistake that leads to it."""

    words: str
    mistake: str = ""


@dataclass(frozen=True, kw_only=True)
class Statement:
    """A question with four answers in words, of which exactly one is right."""

    question: str
    asks: tuple[Ask, ...]
    options: tuple[Option, ...]
    work: tuple[str, ...] = ()
    closing: tuple[str, ...] = ()
    is_shown: bool = True

    def __post_init__(self) -> None:
        if sum(not option.mistake for option in self.options) != 1:
            raise ValueError(f"one option is right, and one only: {self.question}")
        if len({option.words for option in self.options}) != len(self.options):
            raise ValueError(f"two options are the same: {self.question}")


Draft = Figure | Statement
# None where what was drawn makes no good problem: it is drawn again.
Template = Callable[[Draws], Draft | None]


def judged_options(
    words: tuple[str, ...], is_right: tuple[bool, ...], mistakes: tuple[str, ...]
) -> tuple[Option, ...] | None:
    """Return options as calculators judged them; None unless exactly one is right."""
    if sum(is_right) != 1:
        return None
    return tuple(
        Option(each, "" if right else mistake)
        for each, right, mistake in zip(words, is_right, mistakes, strict=True)
    )

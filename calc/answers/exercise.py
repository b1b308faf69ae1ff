"""A problem of an exercise sheet as it is shown: for pupils with a box, for the key without."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # a sheet is made of what stands here
    from calc.answers.sheet import Box, Verdict


@dataclass(frozen=True, kw_only=True)
class Solution:
    """The answer in words, the steps that lead to it, and wrong answers with their mistakes."""

    answer: str
    steps: tuple[str, ...]
    wrong: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """A problem, and what is known of its answer.

    options : to pick from, in the order of their letters
    unit : of the answer, where that is a figure
    box : where the answer is typed; None where it is written by hand or told
    judged : the verdict on what was typed
    solution : what is shown after it was answered, and in the key
    lines : room on paper for working it out
    """

    number: int
    question: str
    options: tuple[str, ...] = ()
    unit: str = ""
    box: "Box | None" = None
    judged: "Verdict | None" = None
    solution: Solution | None = None
    lines: int = 0


LETTERS = "ABCD"


def lettered(options: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """Return options, each with its letter.

    >>> lettered(("2 Ω", "4 Ω"))
    (('A', '2 Ω'), ('B', '4 Ω'))
    """
    return tuple(zip(LETTERS, options, strict=False))

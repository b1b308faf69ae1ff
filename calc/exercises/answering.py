"""What somebody answered, beside what is right: right, a mistake that has a name, or neither."""

from dataclasses import dataclass

from calc.exercises.drafts import NEARLY
from calc.exercises.making import Problem


@dataclass(frozen=True)
class Judgement:
    """Whether an answer is right, and what is to be said of it."""

    is_right: bool
    words: str


_ROUNDED = "close: did you round on the way? Keep three digits until the end"
_UNKNOWN = "compare your steps with those below"


def judgement(problem: Problem, text: str) -> Judgement:
    """Judge an answer: a letter, or a number with a point or a comma."""
    is_letter = text.isalpha()
    if problem.options:
        return _of_letter(problem, text.upper()) if is_letter else Judgement(False, "pick a letter")
    if is_letter or problem.value is None:
        return Judgement(False, "write a figure")
    return _of_figure(problem, problem.value, float(text.replace(",", ".")))


def _of_letter(problem: Problem, letter: str) -> Judgement:
    if letter == problem.letter:
        return Judgement(True, problem.right)
    return Judgement(False, dict(problem.wrong).get(letter, "there is no such letter"))


def _of_figure(problem: Problem, right: float, given: float) -> Judgement:
    if is_about(given, right, problem.tolerance):
        return Judgement(True, problem.right)
    for slip in problem.slips:
        if is_about(given, slip.value, problem.tolerance):
            return Judgement(False, slip.mistake)
    if is_about(given, right, NEARLY):
        return Judgement(False, _ROUNDED)
    return Judgement(False, _UNKNOWN)


def is_about(given: float, figure: float, tolerance: float) -> bool:
    """Tell whether a figure is another one, but for what rounding may change.

    >>> is_about(24.5, 24.4949, 0.02), is_about(-24.5, 24.4949, 0.02)
    (True, False)
    """
    return abs(given - figure) <= tolerance * abs(figure) * (1 + 1e-9)

"""What the sheet looks up in a plan: amplifiers, results, kit; and how outputs are written."""

from collections.abc import Iterator
from typing import TypeVar

from calc.answers.kit import KitLine
from calc.bridging.mapping import Output
from calc.choosing.plan import Plan

Result = TypeVar("Result")


def amplifiers_of(plan: Plan) -> tuple[str, ...]:
    """Return the names of the amplifiers of a plan, in their order."""
    return tuple(part.name for part in plan.candidate.parts)


def found(plan: Plan, kind: type[Result]) -> Iterator[Result]:
    """Yield the results of one calculator, known by their class, in the order of the job."""
    for question in plan.questions:
        if isinstance(question.result, kind):
            yield question.result


def kit_lines(plan: Plan) -> tuple[KitLine, ...]:
    """Return what is to be bought; empty where there is no kit list."""
    answers = (question.answer for question in plan.questions)
    return next((answer.sheet.kit for answer in answers if answer and answer.sheet.kit), ())


def kit_missing(plan: Plan) -> list[str]:
    """Return what the kit list still lacks, in words."""
    for question in plan.questions:
        if question.calculator.name == "kit-list" and question.answer is not None:
            lacking = question.answer.sheet.results["missing"]
            return [str(what) for what in lacking] if isinstance(lacking, list) else []
    return []


def spaced(terminal: str) -> str:
    """Write a terminal as it is read: the sign parted from the number.

    >>> spaced("3+"), spaced("1a-")
    ('3\\u202f+', '1a\\u202f−')
    """
    return f"{terminal[:-1]}\u202f{'+' if terminal.endswith('+') else '−'}"


def outputs_text(own: Output) -> str:
    """Write an output's own channels: `1`, or `3 + 4` for a bridged pair."""
    return "\u202f+\u202f".join(map(str, own))

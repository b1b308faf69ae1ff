"""The problems of a sheet, and how their answers are judged."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.exercises.answering import Judgement, judgement
from calc.exercises.exercises.inputs import Inputs
from calc.exercises.making import Problem, problems_of


@dataclass(frozen=True, kw_only=True)
class Result:
    """The problems, and what was answered, by the problems' keys.

    texts : as typed; judgements : what is said of it
    """

    problems: tuple[Problem, ...]
    texts: Mapping[str, str]
    judgements: Mapping[str, Judgement]

    @property
    def right(self) -> int:
        """How many were answered rightly."""
        return sum(each.is_right for each in self.judgements.values())


def solve(inputs: Inputs) -> Result:
    """Make the problems and judge the answers; those of another sheet are left out."""
    problems = problems_of(inputs.chapter, inputs.level, inputs.problems, inputs.code)
    given = {row.step: row.reading for row in inputs.answers}
    texts = {each.key: given[each.key] for each in problems if each.key in given}
    judgements = {
        each.key: judgement(each, texts[each.key]) for each in problems if each.key in texts
    }
    return Result(problems=problems, texts=texts, judgements=judgements)

"""Every amplifier of a shelf held against a system, with the full search for each."""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.choosing.amplifier_choice.inputs import Inputs
from calc.choosing.candidates import Candidate, ranking
from calc.choosing.layouts.feeds import Job
from calc.choosing.remedies import advised
from calc.choosing.search import Judge


@dataclass(frozen=True)
class Result:
    """The candidates in the shelf's order, and best first."""

    candidates: tuple[Candidate, ...]
    ranked: tuple[Candidate, ...]

    @property
    def fitting(self) -> tuple[Candidate, ...]:
        """Those that can be recommended, best first."""
        return tuple(candidate for candidate in self.ranked if candidate.is_recommended)


def ranked(candidates: Sequence[Candidate]) -> Result:
    """Return candidates that were judged as a result."""
    return Result(tuple(candidates), tuple(ranking(candidates)))


def solve(inputs: Inputs) -> Result:
    """Judge every amplifier of the shelf."""
    return ranked([advised(judge) for judge in judges(inputs)])


def judges(inputs: Inputs) -> list[Judge]:
    """Return a judge for each amplifier of the shelf; none before there is a speaker to drive."""
    job = Job(inputs.system)
    if not job.speakers:
        return []
    return [Judge(job, amplifier, inputs.weights) for amplifier in inputs.shelf or ()]

"""Every amplifier of a shelf held against a system, with the full search for each."""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.choosing.amplifier_choice.inputs import Inputs
from calc.choosing.candidates import Candidate, rank, ranking
from calc.choosing.layouts.feeds import Job
from calc.choosing.remedies import with_ways
from calc.choosing.search import Judge, Known
from calc.choosing.sets import sets_of


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


MOST_ADVISED = 5


def to_be_advised(candidates: Sequence[Candidate]) -> list[int]:
    """Return where those stand that are told what would make them work: the best that do not."""
    order = sorted(range(len(candidates)), key=lambda at: rank(candidates[at]))
    return [at for at in order if candidates[at].state == "unsuitable"][:MOST_ADVISED]


def solve(inputs: Inputs) -> Result:
    """Judge every amplifier of the shelf."""
    every = judges(inputs)
    candidates = [judge.best_of_many() for judge in every]
    for at in to_be_advised(candidates):
        candidates[at] = with_ways(every[at], candidates[at], most=1)
    return ranked(candidates)


def judges(inputs: Inputs) -> list[Judge]:
    """Return a judge for each amplifier of the shelf, then for each set of them that may do.

    None before there is a speaker to drive.
    """
    job = Job(inputs.system)
    if not job.speakers:
        return []
    shelf = inputs.shelf or ()
    known: Known = {}
    alone = [Judge(job, amplifier, inputs.weights, known) for amplifier in shelf]
    promise = {id(each): judge.most_points for each, judge in zip(shelf, alone, strict=True)}
    sets = sets_of(job, shelf, promise)
    return [*alone, *(Judge(job, amplifiers, inputs.weights, known) for amplifiers in sets)]

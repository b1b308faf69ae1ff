"""The plan of a whole job: of its amplifiers, or of the best of those that are compared."""

from dataclasses import dataclass, replace
from functools import lru_cache

from calc.choosing.candidates import Candidate, Weights, ranking
from calc.choosing.compared import Compared, compared
from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.choosing.readings import with_readings
from calc.choosing.remedies import advised, tips_of, with_ways
from calc.choosing.search import Judge
from calc.choosing.sets import sets_of
from calc.system.amplifier import Amplifier


@dataclass(frozen=True)
class Result:
    """The job, its plan, and the amplifiers that were held against it.

    plan : None while there is no amplifier, or no speaker
    candidates : those of the form in its order, each by itself; those of a stock list where the
        form has none
    sets : two or three of them installed together, best first, where that does better
    layouts : the best few arrangements of what is planned, best first
    is_listed : the candidates are a stock list's
    is_planned : amplifiers are chosen; else the best of the candidates is planned
    """

    job: Job
    plan: Plan | None
    candidates: tuple[Candidate, ...] = ()
    sets: tuple[Candidate, ...] = ()
    layouts: tuple[Compared, ...] = ()
    is_listed: bool = False
    is_planned: bool = False


def solve(inputs: Inputs) -> Result:
    """Plan the job with the amplifiers that are chosen, else with the best that there are.

    An amplifier without its power at 4 Ω is not judged beside one that has it: a card that is
    still being filled.

    Raises InputError with each reading that does not fit the plan's steps.
    """
    result = _planned(replace(inputs, readings=()))
    if result.plan is None:
        return result
    return replace(result, plan=with_readings(result.plan, inputs.readings))


# Readings are typed one after the other: the plan that they belong to is not made anew for each.
@lru_cache(maxsize=1)
def _planned(inputs: Inputs) -> Result:
    """Plan the job; nothing has been read yet."""
    job = Job(inputs.planned.system)
    rows = inputs.planned.amplifier
    is_listed = not rows
    amplifiers = rows or inputs.shelf or ()
    if not amplifiers or not job.speakers:
        return Result(job, None)
    chosen = tuple(row for row in rows if row.role == "planned")
    later = tuple(row for row in rows if row.role == "later")

    def held(*together: Amplifier) -> Candidate:
        return _held(job, together, inputs.weights, is_listed=is_listed)

    judged = tuple(held(amplifier) for amplifier in amplifiers if amplifier.role != "later")
    sets: list[Candidate] = []
    if len(chosen) > 1:
        best = held(*chosen)
        sets = [best]
    elif chosen:
        best = next(each for each in judged if each.parts[0].given is chosen[0])
    else:
        best = ranking(judged)[0]
        if is_wanting(best):
            judges = [Judge(job, each, inputs.weights) for each in sets_of(job, amplifiers)]
            sets = ranking([judge.best() for judge in judges])[:MOST_SETS]
            best = ranking([best, *sets])[0]
    judge = Judge(job, best.installed.given, inputs.weights)
    if best.state == "unsuitable" and not best.ways:
        best = with_ways(judge, best)
    return Result(
        job,
        replace(plan_of(job, best, later), tips=tips_of(judge, best)),
        judged,
        tuple(sets),
        compared(judge),
        is_listed,
        bool(chosen),
    )


def _held(
    job: Job, together: tuple[Amplifier, ...], weights: Weights, *, is_listed: bool
) -> Candidate:
    """Return the best plan of amplifiers; of a list's, without what would make each work."""
    judge = Judge(job, together, weights)
    return judge.best() if is_listed else advised(judge)


MOST_SETS = 3


def is_wanting(best: Candidate) -> bool:
    """Tell whether a second amplifier may do better: one fails, gives something up, or is weak."""
    return (
        not best.is_recommended or best.given_up > 0 or any(check.is_weak for check in best.checks)
    )

"""The plan of a whole job: of its amplifier, or of the best of those that are compared."""

from dataclasses import dataclass, replace
from functools import lru_cache

from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.choosing.readings import with_readings
from calc.choosing.remedies import advised
from calc.choosing.search import Candidate, Judge, ranking


@dataclass(frozen=True)
class Result:
    """The job, its plan, and the amplifiers that were held against it.

    plan : None while there is no amplifier, or no speaker
    candidates : those of the form in its order; those of a stock list where the form has none
    is_listed : the candidates are a stock list's
    is_planned : an amplifier is chosen; else the best of the candidates is planned
    """

    job: Job
    plan: Plan | None
    candidates: tuple[Candidate, ...] = ()
    is_listed: bool = False
    is_planned: bool = False


def solve(inputs: Inputs) -> Result:
    """Plan the job with the amplifier that is chosen, else with the best one there is.

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
    listed = not inputs.planned.amplifier
    amplifiers = inputs.planned.amplifier or inputs.shelf or ()
    if not amplifiers or not job.speakers:
        return Result(job, None)
    judged = tuple(advised(Judge(job, amplifier, inputs.weights)) for amplifier in amplifiers)
    chosen = [each for each in judged if each.given.role == "planned"]
    is_planned = bool(chosen) and not listed
    best = ranking(chosen if is_planned else judged)[0]
    return Result(job, plan_of(job, best), judged, listed, is_planned)

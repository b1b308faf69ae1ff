"""The plan of a whole job: of its amplifier, or of the best one of a shelf."""

from dataclasses import dataclass, replace
from functools import lru_cache

from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.choosing.readings import with_readings
from calc.choosing.remedies import advised
from calc.choosing.search import Judge, ranking


@dataclass(frozen=True)
class Result:
    """The job, and its plan; None while there is no amplifier."""

    job: Job
    plan: Plan | None


def solve(inputs: Inputs) -> Result:
    """Plan the job with the amplifier that is given, else with the best one of the shelf.

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
    amplifiers = inputs.planned.amplifier or inputs.shelf or ()
    if not amplifiers:
        return Result(job, None)
    judged = [advised(Judge(job, amplifier, inputs.weights)) for amplifier in amplifiers]
    return Result(job, plan_of(job, ranking(judged)[0]))

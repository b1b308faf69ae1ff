"""The plan of a whole job: of its amplifier, or of the best one of a shelf."""

from dataclasses import dataclass

from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.choosing.remedies import advised
from calc.choosing.search import Judge, ranking


@dataclass(frozen=True)
class Result:
    """The job, and its plan; None while there is no amplifier."""

    job: Job
    plan: Plan | None


def solve(inputs: Inputs) -> Result:
    """Plan the job with the amplifier that is given, else with the best one of the shelf."""
    job = Job(inputs.planned.system)
    amplifiers = inputs.planned.amplifier or inputs.shelf or ()
    if not amplifiers:
        return Result(job, None)
    judged = [advised(Judge(job, amplifier, inputs.weights)) for amplifier in amplifiers]
    return Result(job, plan_of(job, ranking(judged)[0]))

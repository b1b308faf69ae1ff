"""Readings that are typed on the plan's own sheet, judged as the commissioning sheet does."""

from collections.abc import Sequence
from dataclasses import replace

from calc.choosing.plan import AnyQuestion, Plan
from calc.choosing.questions.question import Known
from calc.inputs.errors import InputError
from calc.inputs.problems import problems
from calc.setup.commissioning import COMMISSIONING, ReadingRow

_WORDS = "measured in the steps of this sheet"


def with_readings(plan: Plan, readings: Sequence[ReadingRow]) -> Plan:
    """Return a plan whose sheet of readings holds what was read so far, and judges it.

    Nothing else is asked anew.  Without a sheet there is no step to read at: then the readings
    wait, and nothing is judged.

    Raises InputError with each reading that does not fit its step.
    """
    if not readings:
        return plan
    steps = {
        name: tuple(_read(question, tuple(readings)) for question in asked)
        for name, asked in plan.steps.items()
    }
    return replace(plan, steps=steps)


def _read(question: AnyQuestion, readings: tuple[ReadingRow, ...]) -> AnyQuestion:
    if question.calculator is not COMMISSIONING or question.values is None:
        return question
    values = {**question.values, "readings": readings}
    wrong = problems(COMMISSIONING.checks, values)
    if wrong:
        label = COMMISSIONING.form.by_key["readings"].label
        raise InputError([problem.error(label) for problem in wrong])
    return replace(question, figures={**question.figures, "readings": Known(readings, _WORDS)})

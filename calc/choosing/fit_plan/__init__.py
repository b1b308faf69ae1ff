"""The calculator `fit-plan`: the whole job on one sheet."""

from calc.answers.calculator import Calculator
from calc.choosing.examples import STARTS
from calc.choosing.files import from_shelf
from calc.choosing.fit_plan.inputs import FORM, Inputs
from calc.choosing.fit_plan.sheet import judge, present
from calc.choosing.fit_plan.solve import Result, solve
from calc.choosing.layouts.feeds import amplifiers_go_together, speakers_go_together
from calc.choosing.start import TO_PLAN, USUAL_WORDS
from calc.system.files.system_file import (
    empty_system,
    notices_of,
    read_system,
    write_briefly,
    write_system,
)

__all__ = ["FIT_PLAN", "Inputs", "Result", "judge", "present", "solve"]

FIT_PLAN = Calculator(
    name="fit-plan",
    title="The whole job",
    question="These speakers, this car, this amplifier: how does it all go together, and what "
    "do I need?",
    inputs=Inputs,
    groups=FORM,
    checks=(speakers_go_together, amplifiers_go_together),
    solve=solve,
    judge=judge,
    present=present,
    parts=TO_PLAN,
    usual_words=USUAL_WORDS,
    files=(read_system, from_shelf),
    write_file=write_system,
    notices_of_file=notices_of,
    write_brief=write_briefly,
    starts=STARTS,
    opens=empty_system(),
)

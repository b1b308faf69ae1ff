"""The calculator `amplifier-choice`: a stock list held against a whole system."""

from calc.answers.calculator import Calculator
from calc.choosing.amplifier_choice.inputs import FORM, Inputs
from calc.choosing.amplifier_choice.sheet import judge, present
from calc.choosing.amplifier_choice.solve import Result, solve
from calc.choosing.amplifier_choice.stream import ChoiceStream
from calc.choosing.examples import STARTS, with_list
from calc.choosing.files import from_shelf, from_system
from calc.choosing.layouts.feeds import speakers_go_together
from calc.choosing.start import TO_CHOOSE, USUAL_WORDS
from calc.system.files.system_file import empty_system, notices_of, write_briefly, write_system

__all__ = ["AMPLIFIER_CHOICE", "ChoiceStream", "Inputs", "Result", "judge", "present", "solve"]

AMPLIFIER_CHOICE = Calculator(
    name="amplifier-choice",
    title="Which amplifier?",
    question="Which amplifier on my stock list suits these speakers in this car, and why not "
    "the others?",
    inputs=Inputs,
    groups=FORM,
    checks=(speakers_go_together,),
    solve=solve,
    judge=judge,
    present=present,
    parts=TO_CHOOSE,
    usual_words=USUAL_WORDS,
    files=(from_system, from_shelf),
    write_file=write_system,
    notices_of_file=notices_of,
    write_brief=write_briefly,
    stream=ChoiceStream,
    starts=tuple(map(with_list, STARTS)),
    opens={
        **{key: text for key, text in empty_system().items() if key != "amplifier"},
        "shelf": "",
    },
)

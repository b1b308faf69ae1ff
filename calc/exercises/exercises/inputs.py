"""What `exercises` asks."""

import re
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.exercises.making import Chapter, Level
from calc.inputs.fields import Choice, Pattern, Text, Whole, YesNo
from calc.inputs.rows import Readings

MOST_PROBLEMS = 20
LONGEST_CODE = 40
CHAPTERS: tuple[tuple[Chapter, str], ...] = (
    ("bridging", "bridging"),
    ("coil-wiring", "voice coils"),
    ("crossovers", "crossovers"),
    ("cables", "cables"),
    ("mounting", "mounting"),
    ("set-up", "set-up"),
    ("plan", "the whole job"),
)
LEVELS: tuple[tuple[Level, str], ...] = (
    ("recall", "recall: pick one of four"),
    ("calculate", "work out: write a figure"),
    ("plan", "plan: several steps"),
)
NUMBER = r"-?[0-9]{1,7}(?:[.,][0-9]{1,6})?"
_ANSWER = re.compile(f"{NUMBER}|[A-Da-d]")


@dataclass(frozen=True, kw_only=True)
class AnswerRow:
    """What was answered to a problem."""

    step: Annotated[str, Text("Problem", start="1", longest=40)]
    reading: Annotated[
        str,
        Pattern(
            "Answer",
            start="0",
            is_good=lambda text: _ANSWER.fullmatch(text) is not None,
            notation="a number of at most seven digits, or a letter from A to D",
            examples=("12.6", "A", "d", "-3", "150"),
        ),
    ]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A sheet, and what was answered so far."""

    chapter: Annotated[Chapter, Choice("Chapter", start="bridging", options=CHAPTERS)]
    level: Annotated[Level, Choice("Level", start="calculate", options=LEVELS)]
    problems: Annotated[
        int, Whole("Number of problems", low=1, high=MOST_PROBLEMS, start=8, presets=(4, 8, 12))
    ]
    code: Annotated[
        str,
        Text(
            "Class code",
            start="4711",
            longest=LONGEST_CODE,
            hint="A word or a number. Everybody who types the same one gets the same sheet.",
        ),
    ]
    key: Annotated[
        bool,
        YesNo(
            "Answer key",
            start=False,
            hint="The trainer’s sheet: answers, steps and the usual mistakes. Print it apart.",
        ),
    ]
    answers: Annotated[
        tuple[AnswerRow, ...],
        Readings(
            "Answers",
            as_key="readings",
            most=100,
            row_name="answer",
            hint="They are typed into the boxes of the sheet, stay on this device and are not in "
            "the link.",
        ),
    ] = ()


FORM = (
    Group("The sheet", ("chapter", "level", "problems", "code", "key")),
    Group("Your answers", ("readings",)),
)

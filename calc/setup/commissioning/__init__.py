"""The calculator `commissioning`: the sheet of readings for this system, and their judgement."""

from calc.setup.commissioning.inputs import (
    MOST_OUTPUTS,
    Inputs,
    OutputRow,
    Path,
    ReadingRow,
    ReadingRows,
)
from calc.setup.commissioning.sheet import COMMISSIONING, judge
from calc.setup.commissioning.solve import Result, solve
from calc.setup.ways import Mode

__all__ = [
    "COMMISSIONING",
    "MOST_OUTPUTS",
    "Inputs",
    "Mode",
    "OutputRow",
    "Path",
    "ReadingRow",
    "ReadingRows",
    "Result",
    "judge",
    "solve",
]

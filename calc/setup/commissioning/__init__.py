"""The calculator `commissioning`: the sheet of readings for this system, and their judgement."""

from calc.setup.commissioning.inputs import (
    MOST_OUTPUTS,
    Inputs,
    OutputRow,
    Path,
    ReadingRow,
    ReadingRows,
)
from calc.setup.commissioning.sheet import COMMISSIONING, ReadingLine, judge, reading_lines
from calc.setup.commissioning.solve import Result, solve
from calc.setup.ways import Mode

__all__ = [
    "COMMISSIONING",
    "MOST_OUTPUTS",
    "Inputs",
    "Mode",
    "OutputRow",
    "Path",
    "ReadingLine",
    "ReadingRow",
    "ReadingRows",
    "Result",
    "judge",
    "reading_lines",
    "solve",
]

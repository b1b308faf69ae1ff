"""The calculator `filter-split`: which box makes which edge, and at what setting."""

from calc.crossovers.filter_split.inputs import FilterRow, Inputs, PassiveRow, SectionRow
from calc.crossovers.filter_split.knobs import SHORT, Knob, knobs_of
from calc.crossovers.filter_split.notation import channels_of
from calc.crossovers.filter_split.sheet import FILTER_SPLIT, judge
from calc.crossovers.filter_split.solve import (
    BoxSetting,
    Capacitor,
    Result,
    SplitSection,
    section_names,
    shown_names,
    solve,
)
from calc.crossovers.filter_split.words import FRAGILE
from calc.crossovers.splitting.model import Box
from calc.crossovers.splitting.problem import MadeEdge

__all__ = [
    "FILTER_SPLIT",
    "FRAGILE",
    "SHORT",
    "Box",
    "BoxSetting",
    "Capacitor",
    "FilterRow",
    "Inputs",
    "Knob",
    "MadeEdge",
    "PassiveRow",
    "Result",
    "SectionRow",
    "SplitSection",
    "channels_of",
    "judge",
    "knobs_of",
    "section_names",
    "shown_names",
    "solve",
]

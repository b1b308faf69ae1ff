"""The calculator `mounting-reach`: does it fit, and can a hand get to the controls."""

from calc.parts.bay import Entry, KeepOut
from calc.placement.mounting_reach.inputs import AmplifierRow, Inputs, WayPoint
from calc.placement.mounting_reach.sheet import MOUNTING_REACH
from calc.placement.mounting_reach.solve import LeadInBay, Outcome, Result, solve
from calc.placement.mounting_reach.words import REACH_KEYS, REACH_WORDS, judge, relax_list
from calc.placement.placing import Relaxed
from calc.placement.reach import Reach

__all__ = [
    "MOUNTING_REACH",
    "REACH_KEYS",
    "REACH_WORDS",
    "AmplifierRow",
    "Entry",
    "Inputs",
    "KeepOut",
    "LeadInBay",
    "Outcome",
    "Reach",
    "Relaxed",
    "Result",
    "WayPoint",
    "judge",
    "relax_list",
    "solve",
]

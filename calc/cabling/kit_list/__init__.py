"""The calculator `kit-list`: every lead, terminal, fuse and holder that a job needs."""

from calc.cabling.kit_list.inputs import Inputs, Leads
from calc.cabling.kit_list.job import SpeakerLead
from calc.cabling.kit_list.rows import Amplifier, DifferingLoad, Part, Route
from calc.cabling.kit_list.sheet import KIT_LIST
from calc.cabling.kit_list.solve import Result, solve
from calc.cabling.kit_list.words import judge

__all__ = [
    "KIT_LIST",
    "Amplifier",
    "DifferingLoad",
    "Inputs",
    "Leads",
    "Part",
    "Result",
    "Route",
    "SpeakerLead",
    "judge",
    "solve",
]

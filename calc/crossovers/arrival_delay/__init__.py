"""The calculator `arrival-delay`: how long each section waits for the farthest."""

from calc.crossovers.arrival_delay.inputs import Inputs, SectionRow
from calc.crossovers.arrival_delay.sheet import ARRIVAL_DELAY
from calc.crossovers.arrival_delay.solve import Arrival, Result, solve

__all__ = ["ARRIVAL_DELAY", "Arrival", "Inputs", "Result", "SectionRow", "solve"]

"""The calculator `wire-facts`: what a cable is, by gauge, by area, or by its strands."""

from calc.cabling.wire_facts.inputs import Inputs
from calc.cabling.wire_facts.sheet import WIRE_FACTS
from calc.cabling.wire_facts.solve import Result, solve

__all__ = ["WIRE_FACTS", "Inputs", "Result", "solve"]

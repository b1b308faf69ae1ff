"""The calculator `bridged-output`: what a bridged pair gives into a load."""

from calc.bridging.bridged_output.inputs import Inputs
from calc.bridging.bridged_output.sheet import BRIDGED_OUTPUT, judge
from calc.bridging.bridged_output.solve import Result, solve

__all__ = ["BRIDGED_OUTPUT", "Inputs", "Result", "judge", "solve"]

"""The calculator `turn-on`: how the amplifier turns on in this vehicle."""

from calc.setup.turn_on.inputs import Inputs
from calc.setup.turn_on.sheet import TURN_ON, judge
from calc.setup.turn_on.solve import Result, solve
from calc.setup.ways import Mode

__all__ = ["TURN_ON", "Inputs", "Mode", "Result", "judge", "solve"]

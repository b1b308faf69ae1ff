"""The calculator `gain-voltage`: what the meter shows when the gain is set."""

from calc.setup.gain_voltage.inputs import Inputs
from calc.setup.gain_voltage.sheet import GAIN_VOLTAGE, judge
from calc.setup.gain_voltage.solve import Result, solve

__all__ = ["GAIN_VOLTAGE", "Inputs", "Result", "judge", "solve"]

"""The calculator `level-pad`: two resistors that make a speaker quieter."""

from calc.crossovers.level_pad.inputs import Inputs
from calc.crossovers.level_pad.sheet import LEVEL_PAD
from calc.crossovers.level_pad.solve import Result, solve

__all__ = ["LEVEL_PAD", "Inputs", "Result", "solve"]

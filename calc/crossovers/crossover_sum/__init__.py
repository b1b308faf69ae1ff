"""The calculator `crossover-sum`: how a low and a high section add up."""

from calc.crossovers.crossover_sum.inputs import Inputs
from calc.crossovers.crossover_sum.sheet import CROSSOVER_SUM, judge
from calc.crossovers.crossover_sum.solve import Result, solve

__all__ = ["CROSSOVER_SUM", "Inputs", "Result", "judge", "solve"]

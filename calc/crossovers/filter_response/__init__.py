"""The calculator `filter-response`: what one filter, or two stacked, do to the signal."""

from calc.crossovers.filter_response.inputs import Inputs
from calc.crossovers.filter_response.sheet import FILTER_RESPONSE
from calc.crossovers.filter_response.solve import Result, solve

__all__ = ["FILTER_RESPONSE", "Inputs", "Result", "solve"]

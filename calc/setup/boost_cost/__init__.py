"""The calculator `boost-cost`: what a bass boost asks of the amplifier."""

from calc.setup.boost_cost.inputs import Inputs
from calc.setup.boost_cost.sheet import BOOST_COST, judge
from calc.setup.boost_cost.solve import Result, solve

__all__ = ["BOOST_COST", "Inputs", "Result", "judge", "solve"]

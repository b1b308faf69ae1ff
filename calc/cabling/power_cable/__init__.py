"""The calculator `power-cable`: one run from the battery to one place."""

from calc.cabling.power_cable.inputs import Inputs
from calc.cabling.power_cable.sheet import POWER_CABLE
from calc.cabling.power_cable.solve import Result, solve
from calc.cabling.power_cable.words import judge
from calc.cabling.sizing import Offer

__all__ = ["POWER_CABLE", "Inputs", "Offer", "Result", "judge", "solve"]

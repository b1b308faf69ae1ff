"""The calculator `bay-heat`: how warm a closed bay gets."""

from calc.placement.bay_heat.inputs import Inputs
from calc.placement.bay_heat.sheet import BAY_HEAT, judge
from calc.placement.bay_heat.solve import DutyHeat, Heat, Result, Rises, solve

__all__ = ["BAY_HEAT", "DutyHeat", "Heat", "Inputs", "Result", "Rises", "judge", "solve"]

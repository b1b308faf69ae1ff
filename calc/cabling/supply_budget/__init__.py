"""The calculator `supply-budget`: will the alternator and the battery carry it?"""

from calc.cabling.supply_budget.inputs import Inputs
from calc.cabling.supply_budget.sheet import SUPPLY_BUDGET
from calc.cabling.supply_budget.solve import Left, Result, solve
from calc.cabling.supply_budget.words import judge

__all__ = ["SUPPLY_BUDGET", "Inputs", "Left", "Result", "judge", "solve"]

"""The calculators of choosing and planning, in the order of their pages."""

from calc.choosing.amplifier_choice import AMPLIFIER_CHOICE
from calc.choosing.fit_plan import FIT_PLAN

CHOICE = (AMPLIFIER_CHOICE,)
PLAN = (FIT_PLAN,)

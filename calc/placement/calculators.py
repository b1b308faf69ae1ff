"""The calculators of this chapter, in the order of its page."""

from calc.placement.bay_heat import BAY_HEAT
from calc.placement.footprint import FOOTPRINT
from calc.placement.mounting_reach import MOUNTING_REACH

CALCULATORS = (MOUNTING_REACH, BAY_HEAT)
TEMPLATE = (FOOTPRINT,)

"""The calculators of the coil chapter."""

from calc.coils.coil_wiring import COIL_WIRING
from calc.coils.meter_check import METER_CHECK

CALCULATORS = (COIL_WIRING, METER_CHECK)

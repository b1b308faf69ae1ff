"""The calculator `coil-wiring`: every circuit of the coils, the best one drawn."""

from calc.coils.coil_wiring.inputs import Inputs
from calc.coils.coil_wiring.sheet import COIL_WIRING, judge
from calc.coils.coil_wiring.solve import Result, solve
from calc.coils.survey import survey_of
from calc.parts.drivers import DriverRow, Drivers

__all__ = [
    "COIL_WIRING",
    "DriverRow",
    "Drivers",
    "Inputs",
    "Result",
    "judge",
    "solve",
    "survey_of",
]

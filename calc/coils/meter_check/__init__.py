"""The calculator `meter-check`: what a reading across the amplifier leads can mean."""

from calc.coils.meter_check.inputs import Inputs
from calc.coils.meter_check.sheet import METER_CHECK, judge
from calc.coils.meter_check.solve import Result, solve
from calc.parts.drivers import DriverRow, Drivers

__all__ = ["METER_CHECK", "DriverRow", "Drivers", "Inputs", "Result", "judge", "solve"]

"""The calculator `footprint`: an amplifier with its clearances, a paper template in true size."""

from calc.placement.footprint.inputs import Inputs
from calc.placement.footprint.sheet import FOOTPRINT
from calc.placement.footprint.solve import Result, solve
from calc.placement.footprint.tiles import Tile

__all__ = ["FOOTPRINT", "Inputs", "Result", "Tile", "solve"]

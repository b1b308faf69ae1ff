"""The calculator `passive-network`: coils and capacitors for one speaker."""

from calc.crossovers.passive_network.inputs import ImpedancePoint, Inputs
from calc.crossovers.passive_network.sheet import PASSIVE_NETWORK
from calc.crossovers.passive_network.solve import Result, solve

__all__ = ["PASSIVE_NETWORK", "ImpedancePoint", "Inputs", "Result", "solve"]

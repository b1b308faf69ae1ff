"""The calculators of the bridging chapter."""

from calc.bridging.bridged_output import BRIDGED_OUTPUT
from calc.bridging.channel_map import CHANNEL_MAP

CALCULATORS = (BRIDGED_OUTPUT, CHANNEL_MAP)

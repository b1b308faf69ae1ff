"""The calculators of the crossover chapter, in the order of the page."""

from calc.crossovers.arrival_delay import ARRIVAL_DELAY
from calc.crossovers.crossover_sum import CROSSOVER_SUM
from calc.crossovers.filter_response import FILTER_RESPONSE
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.crossovers.level_pad import LEVEL_PAD
from calc.crossovers.passive_network import PASSIVE_NETWORK

CALCULATORS = (
    FILTER_SPLIT,
    FILTER_RESPONSE,
    CROSSOVER_SUM,
    PASSIVE_NETWORK,
    LEVEL_PAD,
    ARRIVAL_DELAY,
)

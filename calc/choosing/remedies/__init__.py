"""What would make an amplifier work that does not: changes tried, each judged anew."""

from calc.choosing.remedies.case import Case, Change, Kind
from calc.choosing.remedies.tips import tips_of
from calc.choosing.remedies.ways import MOST_WAYS, Way, advised, ways_of, with_ways

__all__ = [
    "MOST_WAYS",
    "Case",
    "Change",
    "Kind",
    "Way",
    "advised",
    "tips_of",
    "ways_of",
    "with_ways",
]

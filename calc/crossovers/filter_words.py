"""Words that the calculators of this chapter share."""

from calc.answers.figures import THIN_SPACE, quantity
from calc.answers.sheet import Column, Quantity
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filters import Filter

# Our own limit: Butterworth filters of even order rise by 3.01 dB, and are in use.
MOST_RIPPLE_DB = 3.1
SOURCES = ("filter-types", "third-octaves")
DRIVERS_DIFFER = (
    "How the speakers themselves change level and phase: the curves show the filters alone. "
    "Where a speaker rolls off near the crossover frequency, its roll-off adds to the filter’s."
)
TEST_TONE = (
    "Never play a tone or music through a tweeter before its high-pass is fitted and checked: it "
    "can burn out in seconds."
)
OPEN_CROSSOVER = (
    "A passive crossover with a speaker unplugged can short the amplifier: never play it without "
    "its speakers."
)
FREQUENCY_COLUMN = Column("Frequency", "Hz")


def slope_words(order: int) -> str:
    """Return an order as the trade says it.

    >>> slope_words(4).replace(THIN_SPACE, " ")
    '24 dB/oct'
    """
    return f"{6 * order}{THIN_SPACE}dB/oct"


def filter_words(made: Filter) -> str:
    """Return a filter in words."""
    return (
        f"{FAMILY_WORDS[made.family]} {made.kind} at {quantity(made.frequency_hz, 'Hz')}, "
        f"{slope_words(made.order)}"
    )


def level_cell(level_db: float | None) -> Quantity | str:
    """Return a level as a table shows it; what is wholly cancelled has none."""
    return "none" if level_db is None else Quantity(level_db)

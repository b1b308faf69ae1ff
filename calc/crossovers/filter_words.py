"""Words that the calculators of this chapter share."""

from calc.answers.figures import THIN_SPACE, quantity
from calc.answers.sheet import Column, Quantity
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filters import Filter

# Our own limit: Butterworth filters of even order rise by 3.01 dB, and are in use.
MOST_RIPPLE_DB = 3.1
SOURCES = (
    "Filter families: Butterworth 1930; Linkwitz 1976 (a squared Butterworth); Bessel "
    "(Thomson 1949), here with −3 dB at the corner.",
    "Frequencies of lines and tables: ISO 266.",
)
DRIVERS_DIFFER = (
    "How the loudspeakers themselves change level and phase: the curves show the filters "
    "alone. Where a driver’s own roll-off lies near a corner, both add."
)
TEST_TONE = (
    "Never send a test tone or music to a tweeter before its high-pass is in place and "
    "checked: one wrong setting destroys it within seconds."
)
FREQUENCY_COLUMN = Column("Frequency", "Hz")


def slope_words(order: int) -> str:
    """Return an order as the trade says it."""
    return f"{6 * order}{THIN_SPACE}dB per octave"


def filter_words(made: Filter) -> str:
    """Return a filter in words."""
    return (
        f"{FAMILY_WORDS[made.family]} {made.kind} at {quantity(made.frequency_hz, 'Hz')}, "
        f"{slope_words(made.order)}"
    )


def level_cell(level_db: float | None) -> Quantity | str:
    """Return a level as a table shows it; what is wholly cancelled has none."""
    return "none" if level_db is None else Quantity(level_db)

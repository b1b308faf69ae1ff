"""What exercises on crossovers share: filter types, slopes, two filters summed."""

from calc.answers.figures import quantity as q
from calc.crossovers.crossover_sum import CROSSOVER_SUM
from calc.exercises.asking import Ask, ask

TYPES = {"butterworth": "Butterworth", "linkwitz-riley": "Linkwitz–Riley"}
BASS_HZ = (60, 70, 80, 90, 100, 120)
TREBLE_HZ = (2500, 3000, 3500, 4000, 5000)


def slope(order: int) -> str:
    """Write the slope of an order."""
    return f"{6 * order} dB/oct"


def filter_words(family: str, order: int, kind: str, hertz: float) -> str:
    """Say which filter it is."""
    return f"{a_type(family)} {kind} at {q(hertz, 'Hz')}, {slope(order)}"


def a_type(family: str) -> str:
    """Return a filter type with its article."""
    return f"a {TYPES[family]}"


def summed(
    family: str, order: int, hertz: float, *, polarity: str = "normal", late_ms: float = 0.0
) -> Ask:
    """Ask how two like filters of one frequency add up there; the high side comes late."""
    return ask(
        CROSSOVER_SUM, low_family=family, low_order=order, low_frequency_hz=hertz,
        high_family=family, high_order=order, high_frequency_hz=hertz, high_polarity=polarity,
        high_delay_ms=late_ms, points_hz=hertz,
    )  # fmt: skip

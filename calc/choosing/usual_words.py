"""A usual figure and its range, in words."""

from collections.abc import Sequence

from calc.answers.figures import rounded
from calc.system.usual import Usual

_SLOPE = "dB per octave"


def value_words(usual: Usual) -> str:
    """Return a usual figure with its unit."""
    if isinstance(usual.value, tuple):
        return " + ".join(usual.value) or "none"
    if isinstance(usual.value, bool):
        return "yes" if usual.value else "no"
    if usual.value == "off":
        return "none"
    if isinstance(usual.value, str):
        unit = _SLOPE if usual.key == "filter_db_per_octave" else usual.unit
        text = usual.value.replace("-", "–")
        return f"{text}\u202f{unit}" if unit else text
    return _measured((usual.value,), usual)


def range_words(usual: Usual) -> str:
    """Return the usual range with its unit; a dash where there is none to tell."""
    if usual.low is None or usual.high is None:
        return "–"
    return _measured((usual.low, usual.high), usual)


def _measured(values: Sequence[float], usual: Usual) -> str:
    """Return one figure or a range with the unit; a standby or remote current in milliamperes."""
    unit = usual.unit
    if usual.key in ("quiescent_a", "trigger_a"):
        values, unit = [1000 * value for value in values], "mA"
    text = "–".join(map(rounded, values))
    return f"{text}\u202f{unit}" if unit else text

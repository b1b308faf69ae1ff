"""Preferred values of parts: IEC 60063."""

import math
from typing import Literal

from calc.physics import published

Series = Literal["E6", "E12", "E24"]

# IEC 60063 (from memory).
_NAMES: tuple[Series, ...] = ("E6", "E12", "E24")
SERIES: dict[Series, tuple[float, ...]] = {
    name: published.figures("preferred-values", "preferred_values", name) for name in _NAMES
}


def nearest(value: float, series: Series) -> float:
    """Return the preferred value whose ratio to `value` is nearest to 1, in the same unit.

    Raises ValueError for a value that is not above 0.

    >>> nearest(4.15e-6, "E12"), nearest(0.95, "E6"), nearest(3.99, "E24")
    (3.9e-06, 1.0, 3.9)
    """
    if not value > 0:
        raise ValueError("a part's value is above 0")
    decade = math.floor(math.log10(value))
    candidates = [
        # from text, so that 3.9 × 10⁻⁶ is the number that people write
        float(f"{digits}e{exponent}")
        for exponent in (decade - 1, decade, decade + 1)
        for digits in SERIES[series]
    ]
    return min(candidates, key=lambda candidate: abs(math.log(candidate / value)))

"""Sections that play together: level, polarity and delay of each, and their sum."""

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from calc.physics.filters import (
    Filter,
    cascade,
    level_db,
    phase_deg,
)
from calc.physics.levels import ratio

LOWEST_HZ, HIGHEST_HZ = 20.0, 20_000.0
# ISO 266: the nominal third-octave frequencies within hearing.
THIRD_OCTAVES_HZ = (
    20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
    1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
)  # fmt: skip
DEEPEST_DB = -60.0  # a sum that falls lower is not called a ripple but a hole
# Below this part of what goes in, a sum is nothing but the last bits of its parts.
_CANCELLED = 1e-10


@dataclass(frozen=True, kw_only=True)
class Voice:
    """One section's way from the signal to the ear: filters, then level, polarity, delay.

    gain_db : level against the others [dB]
    is_reversed : whether + and − are exchanged
    delay_s : later than the others by [s]
    """

    filters: tuple[Filter, ...]
    gain_db: float = 0.0
    is_reversed: bool = False
    delay_s: float = 0.0

    def response(self, frequency_hz: float) -> complex:
        """Return the complex response [1] at a frequency [Hz]."""
        turn = cmath.exp(-2j * math.pi * frequency_hz * self.delay_s)
        sign = -1 if self.is_reversed else 1
        return sign * ratio(self.gain_db) * turn * cascade(self.filters, frequency_hz)

    def turned(self) -> "Voice":
        """Return the voice with + and − exchanged."""
        return replace(self, is_reversed=not self.is_reversed)


def sum_db(parts: Sequence[complex]) -> float | None:
    """Return the level [dB] of voices that sound together; None when they cancel wholly.

    >>> sum_db([0.5, 0.5]), sum_db([0.5, -0.5]), sum_db([0.5 ** 0.5, 0.5 ** 0.5])
    (0.0, None, 3.010299957)
    """
    total = sum(parts)
    if abs(total) <= _CANCELLED * sum(abs(part) for part in parts):
        return None
    return level_db(total)


def phase_difference_deg(low: complex, high: complex) -> float:
    """Return the phase [°] of the low section less that of the high one, in (−180, 180].

    >>> phase_difference_deg(-1j, 1j)
    180.0
    """
    return phase_deg(low * high.conjugate() / (abs(low) * abs(high)))


def grid_hz(*more_hz: float, per_octave: int = 24) -> tuple[float, ...]:
    """Return frequencies from 20 Hz to 20 kHz, evenly spaced to the ear, with more among them.

    >>> len(grid_hz()), grid_hz(80.0)[0], 80.0 in grid_hz(80.0)
    (240, 20.0, True)
    """
    steps = round(math.log2(HIGHEST_HZ / LOWEST_HZ) * per_octave)
    ratio = (HIGHEST_HZ / LOWEST_HZ) ** (1 / steps)
    even = {LOWEST_HZ * ratio**step for step in range(steps)} | {HIGHEST_HZ}
    return tuple(sorted(even | {hz for hz in more_hz if LOWEST_HZ <= hz <= HIGHEST_HZ}))


def ripple_db(
    voices: Sequence[Voice], frequencies_hz: Sequence[float], *, deepest_db: float = DEEPEST_DB
) -> float | None:
    """Return highest less lowest level [dB] of the sum; None when it has a hole.

    A hole is a level below `deepest_db` [dB].
    """
    responses = ([voice.response(at_hz) for voice in voices] for at_hz in frequencies_hz)
    return ripple_of(responses, deepest_db=deepest_db)


def ripple_of(parts: Iterable[Sequence[complex]], *, deepest_db: float) -> float | None:
    """Return highest less lowest level [dB] of sums; None when one is a hole, or there is none.

    parts : for each frequency the responses that are summed there
    deepest_db : a level below it is a hole, and so is whole cancellation [dB]

    >>> ripple_of([[0.5, 0.5], [0.5, 0.5]], deepest_db=-60)
    0.0
    >>> ripple_of([[0.5, -0.5]], deepest_db=-60) is None
    True
    """
    levels = []
    for summed in parts:
        level = sum_db(summed)
        if level is None or level < deepest_db:
            return None
        levels.append(level)
    return max(levels) - min(levels) if levels else None


def summing_rule(family: str, order: int) -> tuple[bool, bool] | None:
    """Return what like filters at one corner do: (reverse one?, flat?); None without a rule.

    Not flat means +3.01 dB at the corner.  For odd orders of Butterworth both polarities
    are flat.  Bessel filters follow no such rule.

    Source: Linkwitz 1976; Garde 1980.

    >>> summing_rule("linkwitz-riley", 4), summing_rule("butterworth", 2)
    ((False, True), (True, False))
    """
    if family == "bessel":
        return None
    if family == "linkwitz-riley":
        return order % 4 == 2, True
    if order % 2:
        return False, True
    return order % 4 == 2, False

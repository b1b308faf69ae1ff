"""The highest and lowest level of two sections together, found between the points of a grid."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from calc.physics.filter_sums import DEEPEST_DB, HIGHEST_HZ, LOWEST_HZ, Voice, grid_hz, sum_db
from calc.physics.filters import wrapped_deg

_HOLE_DB = -400.0  # stands for a sum that is nothing
_REFINED = 6  # the deepest dips and highest humps that are looked at closely
_TURNS = 16  # turns of the phase that are looked at between two points of the grid
_GOLDEN = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True)
class Extremes:
    """Lowest and highest level [dB] of a sum, and where the lowest is [Hz].

    `lowest_db` is None where it is below `DEEPEST_DB`: a hole.
    """

    lowest_db: float | None
    highest_db: float
    lowest_hz: float

    @property
    def ripple_db(self) -> float | None:
        """Highest less lowest level [dB]; None with a hole."""
        return None if self.lowest_db is None else self.highest_db - self.lowest_db


def extremes(low: Voice, high: Voice) -> Extremes:
    """Return the extremes of two voices' sum from 20 Hz to 20 kHz.

    A grid of 1/24 octave is refined where a delay turns the phase between its points, and
    then around the deepest dips and the highest humps (golden section).

    >>> from calc.physics.filters import Filter
    >>> low, high = (Voice(filters=(Filter(
    ...     kind=kind, family="butterworth", order=2, frequency_hz=80),))
    ...     for kind in ("low-pass", "high-pass"))
    >>> extremes(low, high).ripple_db, round(extremes(low, high.turned()).ripple_db, 2)
    (None, 3.01)
    """
    kept: dict[float, float] = {}

    def level(frequency: float) -> float:
        if frequency not in kept:
            summed = sum_db([low.response(frequency), high.response(frequency)])
            kept[frequency] = _HOLE_DB if summed is None else summed
        return kept[frequency]

    corners = [part.frequency_hz for voice in (low, high) for part in voice.filters]
    grid = sorted(
        {*grid_hz(*corners, math.sqrt(corners[0] * corners[-1])), *_turning_points(low, high)}
    )
    levels = [level(frequency) for frequency in grid]
    inner = range(1, len(grid) - 1)
    dips = [at for at in inner if levels[at] <= min(levels[at - 1], levels[at + 1])]
    humps = [at for at in inner if levels[at] >= max(levels[at - 1], levels[at + 1])]
    for at in sorted(dips, key=lambda at: levels[at])[:_REFINED]:
        level(least_between(level, grid[at - 1], grid[at + 1]))
    for at in sorted(humps, key=lambda at: -levels[at])[:_REFINED]:
        level(least_between(lambda frequency: -level(frequency), grid[at - 1], grid[at + 1]))
    lowest_hz = min(kept, key=lambda frequency: kept[frequency])
    lowest = kept[lowest_hz]
    return Extremes(None if lowest < DEEPEST_DB else lowest, max(kept.values()), lowest_hz)


def least_between(value: Callable[[float], float], left: float, right: float) -> float:
    """Return where a function with one dip is least, by golden section.

    >>> round(least_between(lambda x: (x - 3) ** 2, 1, 8), 6)
    3.0
    """
    inner, outer = right - _GOLDEN * (right - left), left + _GOLDEN * (right - left)
    for _ in range(40):
        if value(inner) <= value(outer):
            right, outer = outer, inner
            inner = right - _GOLDEN * (right - left)
        else:
            left, inner = inner, outer
            outer = left + _GOLDEN * (right - left)
    return (left + right) / 2


def _turning_points(low: Voice, high: Voice) -> list[float]:
    """Return frequencies [Hz] where a delay brings the voices into or out of phase."""
    late = low.delay_s - high.delay_s
    if abs(late) < 1e-9:
        return []
    grid = grid_hz()
    crossings = []
    phase = [_phase_turns(low, high, frequency) for frequency in grid]
    for at, (start, end) in enumerate(pairwise(grid)):
        # Half turns by the filters alone are small from point to point, and not ambiguous.
        filters = wrapped_deg(180 * (phase[at + 1] - phase[at] + 2 * late * (end - start))) / 180
        change = filters - 2 * late * (end - start)
        first, last = sorted((phase[at], phase[at] + change))
        crossed = range(math.ceil(first), math.floor(last) + 1)
        step = max(1, len(crossed) // _TURNS)
        crossings += [
            start + (end - start) * (turn - phase[at]) / change
            for turn in crossed[::step]
            if change
        ]
    return [frequency for frequency in crossings if LOWEST_HZ <= frequency <= HIGHEST_HZ]


def _phase_turns(low: Voice, high: Voice, frequency_hz: float) -> float:
    """Return the phase of low less high in half turns, within (−1, 1]."""
    product = low.response(frequency_hz) * high.response(frequency_hz).conjugate()
    return math.atan2(product.imag, product.real) / math.pi

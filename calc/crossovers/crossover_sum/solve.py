"""How a low and a high section add up."""

from dataclasses import dataclass

from calc.crossovers.crossover_sum.inputs import Inputs
from calc.physics.filter_sums import DEEPEST_DB, Voice, phase_difference_deg, sum_db
from calc.physics.filters import level_db
from calc.physics.ripple import extremes


@dataclass(frozen=True, kw_only=True)
class Point:
    """Levels [dB] and phases at a frequency [Hz]; `level_db` is None where all cancels."""

    frequency_hz: float
    level_db: float | None
    low_db: float
    high_db: float
    phase_difference_deg: float


@dataclass(frozen=True, kw_only=True)
class Result:
    """The two sections and their sum.

    ripple_db, ripple_turned_db : as joined, and with one side turned round; None with a hole
    corner_hz : where the two meet, between the corners [Hz]
    lowest_hz : where the sum is lowest [Hz]
    """

    low: Voice
    high: Voice
    ripple_db: float | None
    ripple_turned_db: float | None
    corner_hz: float
    lowest_hz: float
    points: tuple[Point, ...]

    @property
    def is_gap(self) -> bool:
        """Whether the hole is there because neither section plays, not because they cancel."""
        voices = (self.low, self.high)
        levels = [level_db(voice.response(self.lowest_hz)) for voice in voices]
        return max(levels) < DEEPEST_DB + 6

    @property
    def turning_is_better(self) -> bool:
        """Whether the sum is flatter with one side turned round."""
        now, turned = self.ripple_db, self.ripple_turned_db
        return turned is not None and (now is None or turned < now - 0.05)


def solve(inputs: Inputs) -> Result:
    """Work out the sum, and that with one side turned round."""
    low, high = inputs.low.voice, inputs.high.voice
    now, turned = extremes(low, high), extremes(low, high.turned())
    corners = inputs.low.low_frequency_hz * inputs.high.high_frequency_hz
    return Result(
        low=low,
        high=high,
        ripple_db=now.ripple_db,
        ripple_turned_db=turned.ripple_db,
        corner_hz=corners**0.5,
        lowest_hz=now.lowest_hz,
        points=tuple(_point(low, high, frequency) for frequency in inputs.points_hz),
    )


def _point(low_voice: Voice, high_voice: Voice, frequency_hz: float) -> Point:
    low, high = low_voice.response(frequency_hz), high_voice.response(frequency_hz)
    return Point(
        frequency_hz=frequency_hz,
        level_db=sum_db([low, high]),
        low_db=level_db(low),
        high_db=level_db(high),
        phase_difference_deg=phase_difference_deg(low, high),
    )

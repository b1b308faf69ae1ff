"""A bass boost: a peaking filter, the power that it asks for, and the room for it."""

import math
from dataclasses import dataclass

from calc.physics.levels import level_db


@dataclass(frozen=True, kw_only=True)
class Boost:
    """A peaking filter with its centre [Hz], its gain there [dB] and its Q.

    H = (s² + s·A·ω/Q + ω²) / (s² + s·ω/(A·Q) + ω²) with A = 10^(gain/40): nothing far away, the
    gain at the centre, half of the decibels at the two frequencies that lie f/Q apart.
    """

    frequency_hz: float
    gain_db: float
    q: float

    def response(self, frequency_hz: float) -> complex:
        """Return the ratio of output to input at a frequency [Hz].

        >>> abs(Boost(frequency_hz=45, gain_db=20, q=1).response(45))
        10.0
        """
        part = 1j * frequency_hz / self.frequency_hz
        lift = 10 ** (self.gain_db / 40)
        square = 1 + part * part
        return (square + part * lift / self.q) / (square + part / (lift * self.q))

    def level_db(self, frequency_hz: float) -> float:
        """Return the level at a frequency [dB].

        >>> round(Boost(frequency_hz=45, gain_db=6, q=1).level_db(45), 6)
        6.0
        """
        return level_db(abs(self.response(frequency_hz)))

    def half_gain_hz(self) -> tuple[float, float]:
        """Return the two frequencies with half of the decibels [Hz].

        |H| = A where |ω² − ω0²| = ω·ω0/Q, whatever A is.

        >>> [round(hertz, 2) for hertz in Boost(frequency_hz=45, gain_db=6, q=1).half_gain_hz()]
        [27.81, 72.81]
        """
        half = 1 / (2 * self.q)
        middle = math.sqrt(1 + half * half)
        return self.frequency_hz * (middle - half), self.frequency_hz * (middle + half)

    @property
    def octaves(self) -> float:
        """How many octaves the two frequencies with half of the decibels lie apart.

        >>> round(Boost(frequency_hz=45, gain_db=6, q=1).octaves, 2)
        1.39
        """
        low, high = self.half_gain_hz()
        return math.log2(high / low)


def lower_by(*, boost_db: float, headroom_db: float) -> float:
    """Return by how much the input must be lowered for a boost [dB], never below nought.

    headroom_db : room that was left below full power before the boost [dB]

    >>> lower_by(boost_db=6, headroom_db=0), lower_by(boost_db=6, headroom_db=2.5)
    (6, 3.5)
    >>> lower_by(boost_db=3, headroom_db=4)
    0.0
    """
    return max(boost_db - headroom_db, 0.0)

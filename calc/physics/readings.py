"""Judging a meter's reading against what is expected."""

from dataclasses import dataclass
from typing import Literal

from calc.physics.coils import meter_range
from calc.physics.levels import ratio

Place = Literal["within", "below", "above"]

NETWORK_OHM = 0.5  # a passive network's inductor in series, at most; from memory
GAIN_TOLERANCE_DB = 0.5
METER_SHARE = 0.03  # by which a multimeter's AC volts may read high (common practice, no source)


@dataclass(frozen=True, kw_only=True)
class Expected:
    """The bounds between which a reading is right; None where there is no bound.

    open_is_right : the meter shows “over range” where nothing conducts, as it should
    meter_share : by which a reading may stand above `high` and still be at it, for the meter [1]
    """

    low: float | None = None
    high: float | None = None
    open_is_right: bool = False
    meter_share: float = 0.0

    @property
    def is_known(self) -> bool:
        """Whether there is anything to judge by."""
        return self.low is not None or self.high is not None

    def place(self, reading: float) -> Place:
        """Return where a reading lies; on a bound is within.

        >>> Expected(low=3, high=3.8).place(3.8), Expected(high=0.5).place(0.6)
        ('within', 'above')
        """
        if self.low is not None and reading < self.low:
            return "below"
        if self.high is not None and reading > self.high * (1 + self.meter_share):
            return "above"
        return "within"

    def is_at_most(self, reading: float) -> bool:
        """Tell whether a reading within stands at the upper bound, as near as the meter tells."""
        return self.high is not None and reading > self.high and self.place(reading) == "within"


def coil_resistance(*, load_ohm: float, lead_ohm: float, has_network: bool) -> Expected:
    """Return what a meter shows at the amplifier's end of a speaker's leads [Ω].

    The coil has 0.75 to 0.95 of the nominal load at DC, the leads their own on top, and an
    inductor of a passive network up to half an ohm.

    >>> coil_resistance(load_ohm=4, lead_ohm=0.1, has_network=False)
    Expected(low=3.1, high=3.9, open_is_right=False, meter_share=0.0)
    """
    low, high = meter_range(load_ohm)
    more = NETWORK_OHM if has_network else 0.0
    return Expected(low=low + lead_ohm, high=high + lead_ohm + more)


def gain_window(target_v: float, *, ceiling_v: float) -> Expected:
    """Return the readings that are near enough to the gain's target [V].

    Half a decibel either way, and never beyond the ceiling: what stands above that by no more
    than the meter may read high is at the ceiling.

    >>> window = gain_window(10, ceiling_v=20)
    >>> round(window.low, 3), round(window.high, 3), window.place(10.7)
    (9.441, 10.593, 'above')
    >>> window = gain_window(10, ceiling_v=10)
    >>> round(window.low, 3), window.high, window.place(10.3), window.place(10.4)
    (9.441, 10, 'within', 'above')
    """
    low, high = (target_v * ratio(db) for db in (-GAIN_TOLERANCE_DB, GAIN_TOLERANCE_DB))
    if high < ceiling_v:
        return Expected(low=low, high=high)
    return Expected(low=low, high=ceiling_v, meter_share=METER_SHARE)

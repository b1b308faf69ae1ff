"""Judging a meter's reading against what is expected."""

from dataclasses import dataclass
from typing import Literal

from calc.physics.coils import meter_range
from calc.physics.levels import ratio

Place = Literal["within", "below", "above"]

NETWORK_OHM = 0.5  # a passive network's inductor in series, at most; from memory
GAIN_TOLERANCE_DB = 0.5


@dataclass(frozen=True, kw_only=True)
class Expected:
    """The bounds between which a reading is right; None where there is no bound.

    open_is_right : the meter shows “over range” where nothing conducts, as it should
    """

    low: float | None = None
    high: float | None = None
    open_is_right: bool = False

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
        if self.high is not None and reading > self.high:
            return "above"
        return "within"


def coil_resistance(*, load_ohm: float, lead_ohm: float, has_network: bool) -> Expected:
    """Return what a meter shows at the amplifier's end of a speaker's leads [Ω].

    The coil has 0.75 to 0.95 of the nominal load at DC, the leads their own on top, and an
    inductor of a passive network up to half an ohm.

    >>> coil_resistance(load_ohm=4, lead_ohm=0.1, has_network=False)
    Expected(low=3.1, high=3.9, open_is_right=False)
    """
    low, high = meter_range(load_ohm)
    more = NETWORK_OHM if has_network else 0.0
    return Expected(low=low + lead_ohm, high=high + lead_ohm + more)


def gain_window(target_v: float) -> Expected:
    """Return the readings that are near enough to the gain's target [V].

    >>> window = gain_window(10)
    >>> round(window.low, 3), round(window.high, 3)
    (9.441, 10.593)
    """
    return Expected(
        low=target_v * ratio(-GAIN_TOLERANCE_DB), high=target_v * ratio(GAIN_TOLERANCE_DB)
    )

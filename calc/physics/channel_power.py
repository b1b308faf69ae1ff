"""Formulas of bridging: what a channel gives, what a bridged pair gives, how loud it is.

SI units; physical arguments by keyword.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calc.physics.levels import level_at_db, level_db, voltage

CTA_2006_V = 14.4


@dataclass(frozen=True)
class Power:
    """A power [W]: either known (`best`), or only bounded by `low` and `high`.

    All three are None when nothing can be said.
    """

    best: float | None
    low: float | None
    high: float | None

    def __post_init__(self) -> None:
        if self.best is not None and not self.low == self.best == self.high:
            raise ValueError("a known power is its own bound")

    @classmethod
    def known(cls, watts: float) -> "Power":
        """Return a power that is known."""
        return cls(watts, watts, watts)

    @classmethod
    def unknown(cls) -> "Power":
        """Return a power of which nothing can be said."""
        return cls(None, None, None)

    def times(self, factor: float) -> "Power":
        """Return the power scaled by a factor."""
        if self.low is None or self.high is None:
            return self
        best = None if self.best is None else self.best * factor
        return Power(best, self.low * factor, self.high * factor)


@dataclass(frozen=True, kw_only=True)
class Channel:
    """One channel of an amplifier, from its rating plate.

    power_4ohm_w, power_2ohm_w, power_8ohm_w : rated continuous power into 4, 2 and 8 Ω,
        all channels driven [W]; None where the plate does not say
    min_load_ohm : the lowest load permitted on the channel [Ω]
    rated_bridged_w : rated continuous power of a bridged pair into 4 Ω [W]
    """

    power_4ohm_w: float
    power_2ohm_w: float | None = None
    power_8ohm_w: float | None = None
    min_load_ohm: float = 2.0
    rated_bridged_w: float | None = None

    @property
    def rated(self) -> tuple[tuple[float, float], ...]:
        """The rated points (load [Ω], power [W]) in order of load."""
        points = ((2.0, self.power_2ohm_w), (4.0, self.power_4ohm_w), (8.0, self.power_8ohm_w))
        return tuple((load, power) for load, power in points if power is not None)

    def takes(self, *, load_ohm: float) -> bool:
        """Tell whether the load [Ω] is permitted; a hair below counts as equal."""
        return load_ohm >= self.min_load_ohm * (1 - 1e-9)

    def power(self, *, load_ohm: float) -> Power:
        """Return the continuous power [W] into a load [Ω].

        Between two rated loads log P runs straight over log R; above the highest rated
        load the voltage stays, P = V²/R.  Below the lowest rated load nothing is
        extrapolated: from 2 Ω up the two limits are those of an amplifier that cannot
        give more power than at 4 Ω, and of one whose voltage does not sag; below 2 Ω
        nothing can be said.

        Raises ValueError for a load below the channel's lowest.
        Source: V²/R, Ohm's law; interpolation, common practice, no source.

        >>> round(Channel(power_4ohm_w=50, power_2ohm_w=75).power(load_ohm=8).best, 2)
        25.0
        >>> Channel(power_4ohm_w=50).power(load_ohm=2)
        Power(best=None, low=50, high=100.0)
        """
        if not self.takes(load_ohm=load_ohm):
            raise ValueError("load below the channel's lowest")
        points = self.rated
        top_load, top_power = points[-1]
        if load_ohm >= top_load:
            return Power.known(top_power * top_load / load_ohm)
        for (low_r, low_p), (high_r, high_p) in pairwise(points):
            if low_r * (1 - 1e-9) <= load_ohm <= high_r:
                share = math.log(load_ohm / low_r) / math.log(high_r / low_r)
                return Power.known(low_p * (high_p / low_p) ** share)
        if load_ohm >= 2.0 * (1 - 1e-9) and points[0][0] > 2.0:
            # The plate gives no 2 Ω figure: power-limited … stiff supply.
            return Power(None, self.power_4ohm_w, self.power_4ohm_w * 4.0 / load_ohm)
        return Power.unknown()


def supply_factor(
    *,
    supply_v: float,
    rated_v: float = CTA_2006_V,
    regulated: bool = False,
    regulated_min_v: float | None = None,
) -> float:
    """Return what the supply voltage makes of the rated power [1].

    Unregulated: (V/V_rated)².  Regulated: flat down to the stated lowest voltage
    `regulated_min_v` [V]; below it the supply is out of regulation and the power falls
    as (V/V_min)² (derived: the rails then follow the supply again).

    Source: P = V²/R at a rail voltage proportional to the supply.

    >>> round(supply_factor(supply_v=12.0), 4)
    0.6944
    >>> supply_factor(supply_v=12.0, regulated=True)
    1.0
    """
    if not regulated:
        return (supply_v / rated_v) ** 2
    if regulated_min_v is None or supply_v >= regulated_min_v:
        return 1.0
    return (supply_v / regulated_min_v) ** 2


def bridged_power(channel: Channel, *, load_ohm: float) -> Power:
    """Return what two channels in bridge give into a load [Ω]: 2·P_ch(R/2) [W].

    Each channel drives one end of the load and sees half of it.

    >>> bridged_power(Channel(power_4ohm_w=50, power_2ohm_w=75), load_ohm=4).best
    150.0
    """
    return channel.power(load_ohm=load_ohm / 2).times(2)


def rated_or_bridged_power(channel: Channel, *, load_ohm: float) -> Power:
    """Return what a bridged pair gives into a load [Ω]: its rating, where it has one for it.

    The rating of a bridged pair is one at 4 Ω; it wins there over the estimate.

    >>> plate = Channel(power_4ohm_w=50, power_2ohm_w=75, rated_bridged_w=140)
    >>> [rated_or_bridged_power(plate, load_ohm=load).best for load in (4, 8)]
    [140, 100.0]
    """
    estimate = bridged_power(channel, load_ohm=load_ohm)
    if channel.rated_bridged_w is not None and abs(load_ohm - 4) < 1e-9:
        return Power.known(channel.rated_bridged_w)
    return estimate


def level_at_1m(*, sensitivity_db: float, power_w: float, load_ohm: float, alike: int = 1) -> float:
    """Return the level [dB] 1 m away, L = S + 20·lg(V/2.83 V) + 20·lg n.

    sensitivity_db : level of one speaker at 2.83 V and 1 m [dB]
    power_w, load_ohm : what one output gives into its whole load [W, Ω]
    alike : speakers alike on the output, at equal voltage and close together

    >>> round(level_at_1m(sensitivity_db=90, power_w=50, load_ohm=4), 2)
    103.97
    """
    volts = voltage(power_w=power_w, load_ohm=load_ohm)
    return level_at_db(volts=volts, sensitivity_db=sensitivity_db) + level_db(alike)


def groupings(channels: int) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Yield every way to use the channels: singles, and pairs (1, 2), (3, 4), … bridged.

    >>> [grouping_name(one) for one in groupings(4)]
    ['1|2|3|4', '1|2|3+4', '1+2|3|4', '1+2|3+4']
    """
    if channels <= 0:
        yield ()
        return
    last_pair = channels - channels % 2
    if channels % 2:
        for head in groupings(channels - 1):
            yield (*head, (channels,))
        return
    for head in groupings(channels - 2):
        yield (*head, (last_pair - 1,), (last_pair,))
        yield (*head, (last_pair - 1, last_pair))


def output_name(output: tuple[int, ...]) -> str:
    """Name an output by its channels.

    >>> output_name((3, 4))
    '3+4'
    """
    return "+".join(str(channel) for channel in output)


def grouping_name(grouping: tuple[tuple[int, ...], ...]) -> str:
    """Name a grouping by its outputs, parted by bars."""
    return "|".join(output_name(output) for output in grouping)

"""What an amplifier draws and heats: at full power and at the duties of programmes.

Powers in W, voltages in V, currents in A; efficiencies as shares of 1.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from calc.physics import published

Duty = Literal["full", "heavy", "normal"]
AmplifierClass = Literal["ab", "d"]

# Average power over full power.  A sine; heavy programme: common practice, no source;
# normal programme: the pink-noise share of IEC 60065 / IEC 62368-1 (from memory).
_ONE_PART_OF = published.named("permitted-currents", "duties", "one_part_of")
_DUTIES: tuple[Duty, ...] = ("full", "heavy", "normal")
DUTIES: dict[Duty, float] = {duty: 1 / _ONE_PART_OF[duty] for duty in _DUTIES}


def class_ab_share(duty: Duty) -> float:
    """Return the share of its full input that a class AB amplifier draws at a duty [1].

    The current of an ideal class AB stage goes with the amplitude, the root of the power.

    >>> round(class_ab_share("heavy"), 3), class_ab_share("full")
    (0.577, 1.0)
    """
    return math.sqrt(DUTIES[duty])


def amplifier_heat(*, power_w: float, efficiency: float, duty: Duty) -> float:
    """Return the heat at a duty [W] with the efficiency as at rated power: P·(1/η − 1).

    efficiency : share of 1

    >>> round(amplifier_heat(power_w=250, efficiency=0.6, duty="heavy"), 1)
    55.6
    """
    return DUTIES[duty] * power_w * (1 / efficiency - 1)


def class_ab_heat(*, power_w: float, efficiency: float, duty: Duty) -> float:
    """Return the heat at a duty [W] of a class AB amplifier, whose efficiency falls.

    What goes in, less what comes out: heat = P·(√duty/η − duty).

    >>> round(class_ab_heat(power_w=250, efficiency=0.6, duty="heavy"), 1)
    157.2
    """
    return power_w * (class_ab_share(duty) / efficiency - DUTIES[duty])


@dataclass(frozen=True, kw_only=True)
class Demand:
    """Amplifiers that draw from one cable.

    power_w : their continuous output power, all channels together [W]
    efficiency : at rated power, share of 1
    supply_v : voltage at which they draw [V]
    amplifier_class : `ab`, `d`, or None where it is not known
    idle_w : what they draw without a signal, all together [W]

    Raises ValueError for an efficiency outside 0 to 1, a voltage that is not above 0 or
    powers below 0.
    """

    power_w: float
    efficiency: float
    supply_v: float
    amplifier_class: AmplifierClass | None = None
    idle_w: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.efficiency <= 1 or not self.supply_v > 0:
            raise ValueError("an efficiency lies between 0 and 1, a voltage above 0")
        if not (self.power_w >= 0 and self.idle_w >= 0):
            raise ValueError("powers are not below 0")

    @property
    def full_a(self) -> float:
        """The current at full power [A]: P/(η·V).

        >>> round(Demand(power_w=250, efficiency=0.6, supply_v=14.4).full_a, 2)
        28.94
        """
        return self.power_w / (self.efficiency * self.supply_v)

    @property
    def idle_a(self) -> float:
        """The current without a signal [A]."""
        return self.idle_w / self.supply_v

    def current(self, duty: Duty) -> float:
        """Return the current at a duty [A].

        Class D, and a class that is not known: the efficiency stays, the idle power comes
        on top.  Class AB: the efficiency falls with the root of the duty, never less than
        the idle current.

        >>> ab = Demand(power_w=250, efficiency=0.6, supply_v=14.4, amplifier_class="ab")
        >>> round(ab.current("normal") / ab.full_a, 3), ab.current("full") == ab.full_a
        (0.354, True)
        """
        if duty == "full":
            return self.full_a
        if self.amplifier_class == "ab":
            return max(class_ab_share(duty) * self.full_a, self.idle_a)
        return DUTIES[duty] * self.full_a + self.idle_a

    def upper_current(self, duty: Duty) -> float | None:
        """Return the class AB current as the upper bound [A] where the class is not known.

        >>> unknown = Demand(power_w=250, efficiency=0.6, supply_v=14.4)
        >>> round(unknown.upper_current("heavy"), 2)
        16.71
        """
        if self.amplifier_class is not None:
            return None
        if duty == "full":
            return self.full_a
        return max(class_ab_share(duty) * self.full_a, self.current(duty))

    def most_current(self, duty: Duty) -> float:
        """Return the current at a duty [A], the upper bound where the class is not known."""
        upper = self.upper_current(duty)
        return self.current(duty) if upper is None else upper

    def most_heat_w(self, duty: Duty) -> float:
        """Return the heat at a duty [W], the upper bound where the class is not known."""
        return self.most_current(duty) * self.supply_v - DUTIES[duty] * self.power_w

    def heat_w(self, duty: Duty) -> float:
        """Return the heat that the amplifiers give off at a duty [W]: input less output.

        >>> round(Demand(power_w=250, efficiency=0.6, supply_v=14.4).heat_w("full"), 1)
        166.7
        """
        return self.current(duty) * self.supply_v - DUTIES[duty] * self.power_w


def longest_idle_w(*, power_w: float, efficiency: float) -> float:
    """Return the idle power above which a part duty would draw more than full power [W]."""
    return (1 - DUTIES["heavy"]) * power_w / efficiency


def drop_loss(*, drop_v: float, supply_v: float) -> float:
    """Return the share of its output that an unregulated amplifier loses by a drop.

    Its output goes with the square of its supply: 1 − (1 − drop/supply)²; a drop of the
    whole supply and more loses all of it.

    >>> round(drop_loss(drop_v=0.5, supply_v=14.4), 4)
    0.0682
    """
    return 1 - max(0.0, 1 - drop_v / supply_v) ** 2


def joint_efficiency(powers_w: Sequence[float], percents: Sequence[float]) -> float:
    """Return the efficiency with which the sum of the powers draws the sum of the currents.

    powers_w : of each [W]
    percents : the efficiency of each [%]; what is returned is in the same unit

    Source: energy balance.  Class D beside class AB: 300 W and 200 W draw 375 W and 400 W.

    >>> round(joint_efficiency([300, 200], [80, 50]), 2)
    64.52
    """
    drawn = sum(power / percent for power, percent in zip(powers_w, percents, strict=True))
    return sum(powers_w) / drawn

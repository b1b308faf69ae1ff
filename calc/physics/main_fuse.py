"""The main fuse: by the power, by the amplifier's maker, within its own fuses.

Currents in A.
"""

from dataclasses import dataclass
from typing import Literal

from calc.physics.permitted_current import carries, largest_fuse, smallest_fuse

FuseBy = Literal["power", "own-fuses", "maker", "maker-too-large"]


@dataclass(frozen=True, kw_only=True)
class MainFuse:
    """A fuse at the battery and what it follows.

    rating_a : its rating [A]; None beyond the list
    by : `power`, `own-fuses`, `maker`; `maker-too-large` where no cable on offer carries the
        rating that the maker states, and the power decides
    by_power_a : the smallest listed rating at or above the full-power current [A]
    """

    rating_a: float | None
    by: FuseBy
    by_power_a: float | None


def main_fuse(
    *,
    full_a: float,
    own_a: float | None = None,
    maker_a: float | None = None,
    widest_a: float | None = None,
) -> MainFuse:
    """Return the fuse for an amplifier's cable.

    full_a : its current at full power, ΣP/(η·V) [A]
    own_a : the sum of its own fuses [A]
    maker_a : the fuse that its maker states [A]
    widest_a : the most that a cable on offer may carry [A]; None: not known, no limit

    The maker's value, where a cable carries it; else the smallest listed rating at or above
    the full-power current; where that exceeds the sum of the own fuses, the largest listed
    rating within it.

    >>> main_fuse(full_a=28.9).rating_a, main_fuse(full_a=28.9, own_a=25).rating_a
    (30.0, 25.0)
    >>> main_fuse(full_a=28.9, own_a=25, maker_a=40).rating_a
    40
    """
    by_power = smallest_fuse(full_a)
    by: FuseBy = "power"
    if maker_a is not None:
        if widest_a is None or carries(widest_a, maker_a):
            return MainFuse(rating_a=maker_a, by="maker", by_power_a=by_power)
        by = "maker-too-large"
    within = largest_fuse(own_a)
    if by_power is not None and within is not None and within < by_power:
        return MainFuse(rating_a=within, by="own-fuses", by_power_a=by_power)
    return MainFuse(rating_a=by_power, by=by, by_power_a=by_power)

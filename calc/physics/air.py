"""What amplifiers heat, and how much warmer that makes the air of a closed bay."""

import math
from typing import Literal

Duty = Literal["full", "heavy", "normal"]

# Average power over full power.  A sine; heavy programme: common practice, no source; normal
# programme: the pink-noise share of IEC 60065 / IEC 62368-1 (from memory).
DUTIES: dict[Duty, float] = {"full": 1.0, "heavy": 1 / 3, "normal": 1 / 8}
# One film of natural convection [W/m²K], as heat-transfer handbooks have it (from memory).
FILM_LOW, FILM_HIGH = 5.0, 10.0


def amplifier_heat(*, power_w: float, efficiency: float, duty: Duty) -> float:
    """Return the heat at a duty [W] with the efficiency as at rated power: P·(1/η − 1).

    efficiency : share of 1

    >>> round(amplifier_heat(power_w=250, efficiency=0.6, duty="heavy"), 1)
    55.6
    """
    return DUTIES[duty] * power_w * (1 / efficiency - 1)


def class_ab_heat(*, power_w: float, efficiency: float, duty: Duty) -> float:
    """Return the heat at a duty [W] of a class AB amplifier, whose efficiency falls.

    The current of an ideal class AB stage goes with the amplitude, the root of the power:
    heat = P·(√duty/η − duty).

    >>> round(class_ab_heat(power_w=250, efficiency=0.6, duty="heavy"), 1)
    157.2
    """
    share = DUTIES[duty]
    return power_w * (math.sqrt(share) / efficiency - share)


def air_rise(*, heat_w: float, area_m2: float, film: float) -> float:
    """Return how much warmer a closed bay's air gets than the cabin's [K]: ΔT = P/(U·A).

    area_m2 : outer surface of the bay
    film : natural convection at one face of the wall [W/m²K]; there are two in series, and
        the wall between them is left out: U = film/2

    >>> round(air_rise(heat_w=55.6, area_m2=1.0, film=7.0), 1)
    15.9
    """
    return heat_w / (film / 2 * area_m2)


def area_for(*, heat_w: float, rise_k: float, film: float) -> float:
    """Return the surface at which the air gets no more than `rise_k` warmer [m²]."""
    return heat_w / (film / 2 * rise_k)


def box_surface(*, width_m: float, depth_m: float, height_m: float) -> float:
    """Return the outer surface of a box with all six sides [m²].

    >>> round(box_surface(width_m=1, depth_m=0.5, height_m=0.2), 6)
    1.6
    """
    return 2 * (width_m * depth_m + width_m * height_m + depth_m * height_m)

"""Sound on its way: distance against time."""

import math


def sound_speed(*, air_c: float) -> float:
    """Return the speed of sound [m/s] in air of a temperature [°C].

    c = 331.3·√(1 + T/273.15), dry air as an ideal gas.

    >>> round(sound_speed(air_c=20), 1)
    343.2
    """
    return 331.3 * math.sqrt(1 + air_c / 273.15)


def flight_s(*, distance_m: float, air_c: float) -> float:
    """Return how long sound takes [s] over a distance [m].

    >>> round(flight_s(distance_m=1, air_c=20) * 1000, 3)
    2.914
    """
    return distance_m / sound_speed(air_c=air_c)


def delays_s(*, distances_m: tuple[float, ...], air_c: float) -> tuple[float, ...]:
    """Return the delay [s] for each distance [m] with which all arrive with the farthest.

    >>> [round(one * 1000, 2) for one in delays_s(distances_m=(0.7, 1.4), air_c=20)]
    [2.04, 0.0]
    """
    flights = [flight_s(distance_m=distance, air_c=air_c) for distance in distances_m]
    return tuple(max(flights) - flight for flight in flights)

"""The frequencies that a hand finds on a dial: nominal ones of ISO 266."""

import math

from calc.physics.filter_sums import THIRD_OCTAVES_HZ

_TINY = 1e-9
_MARKS_HZ = (10.0, 12.5, 16.0, *map(float, THIRD_OCTAVES_HZ), 25_000.0)


def marks_between(*, low_hz: float, high_hz: float) -> tuple[float, ...]:
    """Return the marks between two frequencies, ends included [Hz].

    low_hz, high_hz : the ends [Hz]
    Source: ISO 266.

    >>> marks_between(low_hz=70, high_hz=125), marks_between(low_hz=82, high_hz=99)
    ((80.0, 100.0, 125.0), ())
    """
    low, high = low_hz * (1 - _TINY), high_hz * (1 + _TINY)
    return tuple(mark for mark in _MARKS_HZ if low <= mark <= high)


def usual_hz(*, low_hz: float, high_hz: float, aim_hz: float) -> float:
    """Return the mark in a window that is nearest to an aim, by its ratio to it [Hz].

    low_hz, high_hz : the window's ends [Hz]
    aim_hz : the aim [Hz]

    Where no mark lies in the window, the aim to two figures, or the nearer end.

    >>> usual_hz(low_hz=2500, high_hz=4500, aim_hz=3354)
    3150.0
    >>> usual_hz(low_hz=82, high_hz=99, aim_hz=90)
    90.0
    """
    marks = marks_between(low_hz=low_hz, high_hz=high_hz)
    if marks:
        return min(marks, key=lambda mark: round(abs(math.log(mark / aim_hz)), 9))
    return min(max(float(f"{aim_hz:.2g}"), low_hz), high_hz)


def dial_marks(*, low_hz: float, high_hz: float) -> tuple[float, ...]:
    """Return what a dial can be set to: its ends and the marks between [Hz].

    low_hz, high_hz : its ends [Hz]

    >>> dial_marks(low_hz=50, high_hz=130)
    (50, 63.0, 80.0, 100.0, 125.0, 130)
    """
    within = low_hz * (1 + _TINY), high_hz * (1 - _TINY)
    marks = marks_between(low_hz=low_hz, high_hz=high_hz)
    return (low_hz, *(mark for mark in marks if within[0] < mark < within[1]), high_hz)

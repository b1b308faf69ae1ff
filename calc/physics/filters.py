"""Filters as complex responses: families, orders, corner frequencies, cascades.

A low-pass prototype has its corner at 1 rad/s and no zeros: H(s) = Π −p/(s − p).  With
x = f/f_c a low-pass is H(jx), a high-pass H(1/(jx)).  Nothing is rounded, except that
what lies below a billionth of a decibel or degree is taken for nothing.
"""

import cmath
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

Family = Literal["butterworth", "linkwitz-riley", "bessel"]
Kind = Literal["high-pass", "low-pass"]

KINDS: tuple[Kind, ...] = ("high-pass", "low-pass")
FAMILIES: tuple[Family, ...] = ("butterworth", "linkwitz-riley", "bessel")
MOST_ORDER = 8
HALF_POWER_DB = 10 * math.log10(0.5)  # −3.0103 dB
HALF_VOLTAGE_DB = 20 * math.log10(0.5)  # −6.0206 dB
# Below this a level says nothing: the filter has stopped everything.
SILENCE_DB = -1000.0
_STEADY = 9  # decimals


def has_order(family: Family, order: int) -> bool:
    """Tell whether a family has the order: 1 to 8; a Linkwitz–Riley filter is a square.

    >>> has_order("butterworth", 3), has_order("linkwitz-riley", 3)
    (True, False)
    """
    if family not in FAMILIES:
        return False
    return 1 <= order <= MOST_ORDER and (family != "linkwitz-riley" or order % 2 == 0)


@lru_cache(maxsize=64)
def poles(family: Family, order: int) -> tuple[complex, ...]:
    """Return the poles of the low-pass prototype, corner at 1 rad/s.

    family : `butterworth` and `bessel` fall to half power there, `linkwitz-riley` (the
        square of a Butterworth of half the order) to half voltage
    order : 1 to 8; even for `linkwitz-riley`

    Raises ValueError for an order that the family does not have.
    Source: Butterworth 1930; Linkwitz 1976; Thomson 1949 (reverse Bessel polynomials).

    >>> [f"{one:.4f}" for one in poles("butterworth", 2)]
    ['-0.7071+0.7071j', '-0.7071-0.7071j']
    """
    if not has_order(family, order):
        raise ValueError(f"no {family} filter of order {order}")
    if family == "linkwitz-riley":
        return poles("butterworth", order // 2) * 2
    if family == "butterworth":
        return tuple(
            cmath.exp(1j * math.pi * (2 * at + order + 1) / (2 * order)) for at in range(order)
        )
    return _bessel_poles(order)


def _bessel_poles(order: int) -> tuple[complex, ...]:
    """Return the roots of the reverse Bessel polynomial, scaled to half power at 1 rad/s."""
    factorial = math.factorial
    # θ_n(s) = Σ (2n − k)! / (2^(n−k) k! (n − k)!) s^k; scaled so that the roots' product is 1
    raw = [
        factorial(2 * order - k) / (2 ** (order - k) * factorial(k) * factorial(order - k))
        for k in range(order + 1)
    ]
    scale = raw[0] ** (1 / order)
    roots = _roots([value * scale**k / raw[0] for k, value in enumerate(raw)])
    # The corner is where the scaled prototype falls to half power.
    low, high = 0.0, 100.0
    for _ in range(200):
        middle = (low + high) / 2
        level = abs(_value(roots, 1j * middle)) ** 2
        low, high = (middle, high) if level > 0.5 else (low, middle)
    return tuple(pole / low for pole in roots)


def _roots(rising: list[float]) -> list[complex]:
    """Return the roots of Σ a_k s^k (leading 1) by simultaneous iteration (Durand, Kerner)."""
    order = len(rising) - 1
    roots = [complex(-0.6, 0.8) ** at * -1.1 for at in range(order)]

    def value(at: complex) -> complex:
        total = 0j
        for coefficient in reversed(rising):
            total = total * at + coefficient
        return total

    for _ in range(200):
        for at, pole in enumerate(roots):
            apart = math.prod((pole - other for other in roots if other is not pole), start=1 + 0j)
            roots[at] = pole - value(pole) / apart
    return sorted(roots, key=lambda value: (round(value.real, 6), -round(value.imag, 6)))


def _value(of: Iterable[complex], s: complex) -> complex:
    value = 1 + 0j
    for pole in of:
        value *= -pole / (s - pole)
    return value


@dataclass(frozen=True, kw_only=True)
class Filter:
    """A high-pass or low-pass filter.

    frequency_hz : the corner [Hz], half power (half voltage for `linkwitz-riley`)

    >>> one = Filter(kind="low-pass", family="butterworth", order=2, frequency_hz=80)
    >>> round(level_db(one.response(80)), 2), round(level_db(one.response(160)), 2)
    (-3.01, -12.3)
    """

    kind: Kind
    family: Family
    order: int
    frequency_hz: float

    def __post_init__(self) -> None:
        poles(self.family, self.order)
        if not self.frequency_hz > 0:
            raise ValueError("a corner frequency is above 0")

    def response(self, frequency_hz: float) -> complex:
        """Return output over input as a complex number [1] at a frequency [Hz]."""
        s = 1j * frequency_hz / self.frequency_hz
        return _value(poles(self.family, self.order), s if self.kind == "low-pass" else 1 / s)

    def delay_s(self, frequency_hz: float) -> float:
        """Return the group delay −dφ/dω [s]: each pole p adds Re 1/(jω − p)."""
        s = 1j * frequency_hz / self.frequency_hz
        scaled = poles(self.family, self.order)
        if self.kind == "high-pass":
            scaled = tuple(1 / pole for pole in scaled)
        turn = 2 * math.pi * self.frequency_hz
        return sum((1 / (s - pole)).real for pole in scaled) / turn


def cascade(filters: Iterable[Filter], frequency_hz: float) -> complex:
    """Return the response [1] of filters one after the other at a frequency [Hz].

    >>> half = Filter(kind="high-pass", family="butterworth", order=2, frequency_hz=100)
    >>> whole = Filter(kind="high-pass", family="linkwitz-riley", order=4, frequency_hz=100)
    >>> abs(cascade([half, half], 70) - cascade([whole], 70)) < 1e-12
    True
    """
    value = 1 + 0j
    for part in filters:
        value *= part.response(frequency_hz)
    return value


def cascade_delay_s(filters: Iterable[Filter], frequency_hz: float) -> float:
    """Return the group delay [s] of filters one after the other: delays add."""
    return sum(part.delay_s(frequency_hz) for part in filters)


def level_db(response: complex) -> float:
    """Return 20 lg |H| [dB], not below `SILENCE_DB`.

    >>> level_db(0.5), level_db(0)
    (-6.020599913, -1000.0)
    """
    size = abs(response)
    if size < 1e-50:
        return SILENCE_DB
    return round(20 * math.log10(size), _STEADY) + 0.0


def phase_deg(response: complex) -> float:
    """Return the phase [°] within (−180, 180].

    >>> phase_deg(-1), phase_deg(1j), phase_deg(complex(-1, -1e-18))
    (180.0, 90.0, 180.0)
    """
    return wrapped_deg(math.degrees(cmath.phase(response)))


def wrapped_deg(degrees: float) -> float:
    """Return an angle [°] brought within (−180, 180].

    >>> wrapped_deg(540), wrapped_deg(-190), wrapped_deg(-180)
    (180.0, 170.0, 180.0)
    """
    steady = round(degrees, _STEADY)
    return round(180.0 - (180.0 - steady) % 360.0, _STEADY) + 0.0


def falling_hz(
    level_at: Callable[[float], float], level: float, *, inside_hz: float, outside_hz: float
) -> float | None:
    """Return where a level [dB] first falls below `level` on the way out of the band [Hz].

    level_at : level [dB] by frequency [Hz]
    inside_hz, outside_hz : where the way begins and where it ends

    None when the way does not begin above the level, or never gets below it.
    """
    steps = 400
    ratio = (outside_hz / inside_hz) ** (1 / steps)
    if level_at(inside_hz) < level:
        return None
    inner = inside_hz
    for step in range(1, steps + 1):
        outer = inside_hz * ratio**step
        if level_at(outer) < level:
            for _ in range(60):
                middle = math.sqrt(inner * outer)
                inner, outer = (middle, outer) if level_at(middle) >= level else (inner, middle)
            return inner
        inner = outer
    return None

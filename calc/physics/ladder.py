"""Passive crossovers: coils and capacitors between one output and one speaker.

The network is a ladder between an output (a voltage source) and a resistive load.  Its
values follow from the filter's polynomial by continued fractions (Cauer): one procedure
for every family and order instead of a list of coefficients.
"""

import math
from dataclasses import dataclass
from typing import Literal

from calc.physics.filters import Family, Kind, poles

Part = Literal["inductor", "capacitor"]
Place = Literal["series", "shunt"]

MOST_PASSIVE_ORDER = 4


@dataclass(frozen=True)
class Component:
    """One part of a ladder; position 1 is nearest the amplifier.

    value : inductance [H] or capacitance [F]
    """

    part: Part
    place: Place
    position: int
    value: float


def polynomial(family: Family, order: int) -> tuple[float, ...]:
    """Return the prototype's denominator Σ a_k s^k, rising, with a_0 = 1.

    >>> [round(one, 4) for one in polynomial("butterworth", 3)]
    [1.0, 2.0, 2.0, 1.0]
    """
    product = [1 + 0j]
    for pole in poles(family, order):
        shifted = [0j, *product]
        product = [
            coefficient - pole * other
            for coefficient, other in zip(shifted, [*product, 0j], strict=True)
        ]
    return tuple((coefficient / product[0]).real for coefficient in product)


def prototype_values(family: Family, order: int) -> tuple[float, ...]:
    """Return the low-pass ladder's values for 1 Ω and 1 rad/s, from the source to the load.

    They alternate inductor (series), capacitor (shunt).  With m and n the even and odd
    part of the polynomial, the ladder seen from the load has the admittance m/n.

    Source: continued fraction of a singly terminated ladder (Cauer 1926).

    >>> [round(one, 4) for one in prototype_values("butterworth", 3)]
    [1.5, 1.3333, 0.5]
    """
    rising = polynomial(family, order)
    # Highest power first; the part of the highest power is divided by the other.
    high = [rising[k] for k in range(order, -1, -2)]
    low = [rising[k] for k in range(order - 1, -1, -2)]
    values = []
    while low:
        quotient = high[0] / low[0]
        values.append(quotient)
        padded = [*low, *[0.0] * (len(high) - len(low))]
        rest = [
            coefficient - quotient * other for coefficient, other in zip(high, padded, strict=True)
        ][1:]
        high, low = low, rest[: len(high) - 1]
    return tuple(reversed(values))


def components(
    *, kind: Kind, family: Family, order: int, frequency_hz: float, ohm: float
) -> tuple[Component, ...]:
    """Return the ladder for a corner and a load, nearest the amplifier first.

    frequency_hz : the corner [Hz]
    ohm : the load [Ω]

    Raises ValueError for an order above 4, or one that the family does not have.
    Source: impedance scaling of `prototype_values`; a high-pass by s → 1/s.

    >>> [(one.place, round(one.value * 1e6, 1)) for one in components(
    ...     kind="high-pass", family="butterworth", order=2, frequency_hz=3000, ohm=4)]
    [('series', 9.4), ('shunt', 300.1)]
    """
    if order > MOST_PASSIVE_ORDER:
        raise ValueError("passive crossovers are offered up to order 4")
    turn = 2 * math.pi * frequency_hz
    parts = []
    for position, value in enumerate(prototype_values(family, order), start=1):
        in_series = position % 2 == 1
        place: Place = "series" if in_series else "shunt"
        if (kind == "low-pass") == in_series:
            value = value if kind == "low-pass" else 1 / value
            parts.append(Component("inductor", place, position, value * ohm / turn))
        else:
            value = value if kind == "low-pass" else 1 / value
            parts.append(Component("capacitor", place, position, value / (ohm * turn)))
    return tuple(parts)


def protection_farad(*, ohm: float, corner_hz: float) -> float:
    """Return the protection capacitor of a tweeter [F].

    ohm : the tweeter's impedance [Ω]
    corner_hz : where it is crossed [Hz]

    C = 1/(2π·R·f_c/2): its own corner lies an octave below (common practice, no source).

    >>> round(protection_farad(ohm=4, corner_hz=3200) * 1e6, 1)
    24.9
    """
    return 1 / (2 * math.pi * ohm * corner_hz / 2)

"""Coils of loudspeakers in series and in parallel: loads, shares of power, joins, DC readings.

Loads are exact fractions, so that equal circuits come to equal loads.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

LETTERS = "abcdefgh"
MOST_COILS = 8
# DC resistance of a coil over its nominal impedance (common practice, no source).
METER_LOW, METER_HIGH = 0.75, 0.95


@dataclass(frozen=True)
class Driver:
    """A loudspeaker drive unit: how many coils, and the impedance of each [Ω]."""

    coils: int
    coil_ohm: float


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A network whose coils have names: a coil, or circuits in series or in parallel.

    name : the coil's name, such as ``1a``, for a single coil
    load : load [Ω]
    """

    kind: str
    name: str = ""
    parts: tuple["Circuit", ...] = ()
    load: Fraction

    def coils(self) -> tuple["Circuit", ...]:
        """Return the coils in the order in which the circuit is drawn."""
        if self.kind == "coil":
            return (self,)
        return tuple(coil for part in self.parts for coil in part.coils())

    @property
    def notation(self) -> str:
        """The circuit in one line: ``+`` for series, ``|`` for parallel."""
        if self.kind == "coil":
            return self.name
        sign = "+" if self.kind == "series" else "|"
        return sign.join(
            part.notation if part.kind == "coil" else f"({part.notation})" for part in self.parts
        )

    def shares(self) -> dict[str, Fraction]:
        """Return each coil's share of the power, by name [1]."""
        if self.kind == "coil":
            return {self.name: Fraction(1)}
        shares = {}
        for part in self.parts:
            ratio = part.load / self.load if self.kind == "series" else self.load / part.load
            shares.update({name: ratio * share for name, share in part.shares().items()})
        return shares

    def nets(self, *, is_reversed: bool = False) -> dict[str, list[str]]:
        """Return the joined terminals: ``amp+``, ``amp-``, then ``n1``, ``n2``, …

        is_reversed : the amplifier's + goes to the circuit's −
        """
        nets: dict[str, list[str]] = {"amp+": [], "amp-": []}

        def connect(circuit: Circuit, upper: str, lower: str) -> None:
            if circuit.kind == "coil":
                nets[upper].append(f"{circuit.name}+")
                nets[lower].append(f"{circuit.name}-")
            elif circuit.kind == "parallel":
                for part in circuit.parts:
                    connect(part, upper, lower)
            else:
                above = upper
                for part in circuit.parts[:-1]:
                    below = f"n{len(nets) - 1}"
                    nets[below] = []
                    connect(part, above, below)
                    above = below
                connect(circuit.parts[-1], above, lower)

        connect(self, "amp+", "amp-")
        nets = {name: sorted(terminals) for name, terminals in nets.items()}
        if is_reversed:
            nets["amp+"], nets["amp-"] = nets["amp-"], nets["amp+"]
        return nets


def in_series(parts: Sequence[Circuit]) -> Circuit:
    """Return circuits in series: loads add."""
    load = sum((part.load for part in parts), Fraction(0))
    return Circuit(kind="series", parts=tuple(parts), load=load)


def in_parallel(parts: Sequence[Circuit]) -> Circuit:
    """Return circuits in parallel: conductances add.  A short takes everything."""
    if any(part.load == 0 for part in parts):
        load = Fraction(0)
    else:
        load = 1 / sum((1 / part.load for part in parts), Fraction(0))
    return Circuit(kind="parallel", parts=tuple(parts), load=load)


def not_below(load: Fraction | float, limit_ohm: float) -> bool:
    """Tell whether a load is permitted; a limit typed with a few digits counts as met.

    >>> not_below(Fraction(8, 3), 2.666666667)
    True
    """
    return float(load) >= limit_ohm * (1 - 1e-9)


def coil_names(drivers: Sequence[Driver]) -> Mapping[str, Fraction]:
    """Return the impedance [Ω] of every coil by its name, driver by driver."""
    return {
        f"{number}{LETTERS[at]}": Fraction(Decimal(repr(driver.coil_ohm)))
        for number, driver in enumerate(drivers, start=1)
        for at in range(driver.coils)
    }


def meter_range(load: Fraction | float) -> tuple[float, float]:
    """Return the DC reading [Ω] to expect of a load, without leads: 0.75 to 0.95 of it.

    Common practice, no source; IEC 60268-5 allows a lowest impedance of 0.8 × rated (from
    memory).

    >>> meter_range(Fraction(4))
    (3.0, 3.8)
    """
    return METER_LOW * float(load), METER_HIGH * float(load)

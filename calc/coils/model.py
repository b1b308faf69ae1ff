"""Coil wiring: drivers, every arrangement of their coils, and how each is judged.

Imports nothing of the project but the chapter's own `networks` and `pairings`.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property, lru_cache
from heapq import nsmallest

from calc.coils.networks import Network, networks
from calc.coils.pairings import CoilClass, Counting, representatives

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

    def nets(self) -> dict[str, list[str]]:
        """Return the joined terminals: ``amp+``, ``amp-``, then ``n1``, ``n2``, …"""
        found: dict[str, list[str]] = {"amp+": [], "amp-": []}

        def connect(circuit: Circuit, upper: str, lower: str) -> None:
            if circuit.kind == "coil":
                found[upper].append(f"{circuit.name}+")
                found[lower].append(f"{circuit.name}-")
            elif circuit.kind == "parallel":
                for part in circuit.parts:
                    connect(part, upper, lower)
            else:
                above = upper
                for part in circuit.parts[:-1]:
                    below = f"n{len(found) - 1}"
                    found[below] = []
                    connect(part, above, below)
                    above = below
                connect(circuit.parts[-1], above, lower)

        connect(self, "amp+", "amp-")
        return {name: sorted(terminals) for name, terminals in found.items()}


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


@dataclass(frozen=True, kw_only=True)
class Arrangement:
    """One circuit of all the coils, judged.

    even : each driver's coils carry equal power in the same sense, and like drivers carry
        equal power
    joints : terminals on the two amplifier nets, plus one less than the terminals on each
        other net
    """

    circuit: Circuit
    even: bool
    joints: int

    @property
    def load_ohm(self) -> float:
        """Load [Ω]."""
        return float(self.circuit.load)

    @cached_property
    def _shares(self) -> dict[str, Fraction]:
        return self.circuit.shares()

    def driver_share_percent(self) -> list[float]:
        """Return each driver's share of the power [%], by number."""
        total: Counter[str] = Counter()
        for name, share in self._shares.items():
            total[name[0]] += share
        return [float(100 * total[number]) for number in sorted(total)]

    def share_percent(self) -> dict[str, float]:
        """Return each coil's share of the power [%], by coil name, driver by driver."""
        return {name: float(100 * self._shares[name]) for name in sorted(self._shares)}


@dataclass(frozen=True)
class LoadCount:
    """How many networks come to a load [Ω], and how many of these are even."""

    load: Fraction
    networks: int
    even: int


@dataclass(frozen=True)
class Survey:
    """Every network of the given drivers.

    Raises ValueError for more than four drivers or eight coils.

    >>> survey = Survey((Driver(2, 4.0), Driver(2, 4.0)))
    >>> survey.networks_total, [float(one.load) for one in survey.distinct_loads][:3]
    (16, [1.0, 1.6, 2.4])
    """

    drivers: tuple[Driver, ...]

    def __post_init__(self) -> None:
        if not 1 <= sum(one.coils for one in self.drivers) <= MOST_COILS:
            raise ValueError("one to eight coils in all")

    @cached_property
    def _kinds(self) -> dict[Driver, list[int]]:
        """Like drivers together: their numbers, by kind, in order of first appearance."""
        kinds: dict[Driver, list[int]] = defaultdict(list)
        for number, driver in enumerate(self.drivers, start=1):
            kinds[driver].append(number)
        return dict(kinds)

    @cached_property
    def _classes(self) -> tuple[CoilClass, ...]:
        return tuple(CoilClass(len(who), kind.coils) for kind, who in self._kinds.items())

    @cached_property
    def shapes(self) -> list[Network]:
        """Every network with like coils not told apart."""
        ohms = tuple(Fraction(Decimal(repr(kind.coil_ohm))) for kind in self._kinds)
        content = tuple(one.drivers * one.coils_each for one in self._classes)
        return networks(ohms, content)

    @cached_property
    def _counts(self) -> tuple[int, ...]:
        if not any(one.is_open for one in self._classes):
            return (1,) * len(self.shapes)
        return _ways(self._classes)

    @property
    def networks_total(self) -> int:
        """The number of distinct networks."""
        return sum(self._counts)

    @cached_property
    def distinct_loads(self) -> tuple[LoadCount, ...]:
        """The loads that can be had, lowest first, each with its number of networks."""
        all_of, even_of = Counter[Fraction](), Counter[Fraction]()
        for shape, number in zip(self.shapes, self._counts, strict=True):
            all_of[shape.load] += number
            if shape.currents is not None:
                even_of[shape.load] += number
        return tuple(LoadCount(load, all_of[load], even_of[load]) for load in sorted(all_of))

    def ranked(self, min_load_ohm: float) -> Iterator[Arrangement]:
        """Yield the arrangements, best first.

        Fitting and even ones first; then the lowest load that is not below the limit (loads
        below it come last, the nearest first); then the fewest joints.
        """
        joints_without_inner = 2 * sum(driver.coils for driver in self.drivers)

        def order(item: tuple[int, Network]) -> tuple[object, ...]:
            at, shape = item
            fits = not_below(shape.load, min_load_ohm)
            good = fits and shape.currents is not None
            # Loads that differ do so by far more than a float resolves (their denominators
            # are small), and floats sort several times faster.
            load = float(shape.load) if fits else -float(shape.load)
            return (not good, not fits, load, -shape.inner, at)

        for _, shape in sorted(enumerate(self.shapes), key=order):
            joints = joints_without_inner - shape.inner
            for blocks in representatives(shape, self._classes):
                yield Arrangement(
                    circuit=self._named(shape, blocks),
                    even=shape.currents is not None,
                    joints=joints,
                )

    def nearest(self, load_ohm: float, most: int) -> list[Circuit]:
        """Return one circuit for each of the `most` loads nearest to a load, by ratio."""
        by_load: dict[Fraction, Network] = {}
        for shape in self.shapes:
            known = by_load.setdefault(shape.load, shape)
            if (shape.currents is not None, shape.inner) > (
                known.currents is not None,
                known.inner,
            ):
                by_load[shape.load] = shape
        loads = nsmallest(
            most, by_load, key=lambda load: (abs(math.log(float(load) / load_ohm)), load)
        )
        return [
            self._named(by_load[load], representatives(by_load[load], self._classes)[0])
            for load in loads
        ]

    def _named(self, shape: Network, blocks: Sequence[int]) -> Circuit:
        numbers = list(self._kinds.values())
        used: Counter[int] = Counter()
        owners = iter(
            [numbers[leaf][block] for leaf, block in zip(shape.leaves(), blocks, strict=True)]
        )

        def named(network: Network) -> Circuit:
            if network.kind == "coil":
                driver = next(owners)
                letter = LETTERS[used[driver]]
                used[driver] += 1
                return Circuit(kind="coil", name=f"{driver}{letter}", load=network.load)
            return Circuit(
                kind=network.kind,
                load=network.load,
                parts=tuple(named(part) for part in network.parts),
            )

        return named(shape)


def not_below(load: Fraction, limit_ohm: float) -> bool:
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


def meter_range(load: Fraction) -> tuple[float, float]:
    """Return the DC reading [Ω] to expect of a load, without leads: 0.75 to 0.95 of it.

    Common practice, no source; IEC 60268-5 allows a lowest impedance of 0.8 × rated (from
    memory).

    >>> meter_range(Fraction(4))
    (3.0, 3.8)
    """
    return METER_LOW * float(load), METER_HIGH * float(load)


@lru_cache(maxsize=8)
def _ways(classes: tuple[CoilClass, ...]) -> tuple[int, ...]:
    """Return the number of ways to pair up each shape's coils, in the shapes' order.

    Neither depends on impedances, so another impedance need not be counted anew.
    """
    content = tuple(one.drivers * one.coils_each for one in classes)
    counting = Counting(classes)
    shapes = networks((Fraction(1),) * len(classes), content)
    return tuple(counting.ways(shape) for shape in shapes)


@lru_cache(maxsize=1)
def survey_of(drivers: tuple[Driver, ...]) -> Survey:
    """Return the survey of the drivers; that of the last drivers asked for is kept, since
    four unlike drivers take seconds and the next question is mostly about the same ones.
    """
    return Survey(drivers)

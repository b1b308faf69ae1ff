"""Coil wiring: every arrangement of the drivers' coils, and how each is judged.

Imports of the chapter only `networks` and `pairings`.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property, lru_cache
from heapq import nsmallest
from itertools import filterfalse

from calc.coils.networks import Network, Ratio, networks
from calc.coils.pairings import CoilClass, Counting, representatives
from calc.physics.coils import LETTERS, MOST_COILS, Circuit, Driver, not_below
from calc.physics.levels import current


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
        total: dict[str, Fraction] = defaultdict(Fraction)
        for name, share in self._shares.items():
            total[name[0]] += share
        return [float(100 * total[number]) for number in sorted(total)]

    def coil_power_w(self, power_w: float) -> dict[str, float]:
        """Return the power of each coil [W], by coil name, of a power of the whole circuit."""
        return {name: power_w * share / 100 for name, share in self.share_percent().items()}

    def coil_current_a(self, power_w: float) -> dict[str, float]:
        """Return the current of each coil [A], by coil name, at a power of the whole circuit."""
        ohms = {coil.name: float(coil.load) for coil in self.circuit.coils()}
        return {
            name: current(power_w=watts, load_ohm=ohms[name])
            for name, watts in self.coil_power_w(power_w).items()
        }

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
    >>> survey.networks_total, [float(count.load) for count in survey.distinct_loads][:3]
    (16, [1.0, 1.6, 2.4])
    """

    drivers: tuple[Driver, ...]

    def __post_init__(self) -> None:
        if not 1 <= sum(driver.coils for driver in self.drivers) <= MOST_COILS:
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
        content = tuple(kind.coils_in_all for kind in self._classes)
        return networks(ohms, content)

    @cached_property
    def _counts(self) -> tuple[int, ...]:
        if not any(kind.is_open for kind in self._classes):
            return (1,) * len(self.shapes)
        return _ways(self._classes)

    @property
    def networks_total(self) -> int:
        """The number of distinct networks."""
        return sum(self._counts)

    @property
    def loads_total(self) -> int:
        """The number of different loads."""
        return len(self.distinct_loads)

    @property
    def load_range_ohm(self) -> tuple[float, float]:
        """The lowest and the highest load [Ω]."""
        return float(self.distinct_loads[0].load), float(self.distinct_loads[-1].load)

    @cached_property
    def distinct_loads(self) -> tuple[LoadCount, ...]:
        """The loads that can be had, lowest first, each with its number of networks."""
        all_of, even_of = defaultdict[Ratio, int](int), defaultdict[Ratio, int](int)
        for shape, number in zip(self.shapes, self._counts, strict=True):
            load = shape.numerator, shape.denominator
            all_of[load] += number
            if shape.carried is not None:
                even_of[load] += number
        return tuple(
            LoadCount(Fraction(*load), all_of[load], even_of[load])
            for load in sorted(all_of, key=lambda load: load[0] / load[1])
        )

    def ranked(self, min_load_ohm: float) -> Iterator[Arrangement]:
        """Yield the arrangements, best first.

        Fitting and even ones first; then the lowest load that is not below the limit (loads
        below it come last, the nearest first); then the fewest joints.
        """
        joints_without_inner = 2 * sum(driver.coils for driver in self.drivers)
        for shape in self._shapes_ranked(min_load_ohm):
            joints = joints_without_inner - shape.inner
            for blocks in representatives(shape, self._classes):
                yield Arrangement(
                    circuit=self._named(shape, blocks),
                    even=shape.carried is not None,
                    joints=joints,
                )

    def _shapes_ranked(self, min_load_ohm: float) -> Iterator[Network]:
        """Yield the networks, best first; those that come later are looked at when asked for."""

        # Loads that differ do so by far more than a float resolves (their denominators are
        # small), and floats sort several times faster.
        def load(shape: Network) -> float:
            return shape.numerator / shape.denominator

        def fits(shape: Network) -> bool:
            return not_below(load(shape), min_load_ohm)

        def order(shape: Network) -> tuple[float, int]:
            return load(shape), -shape.inner

        even = [shape for shape in self.shapes if shape.carried is not None]
        yield from sorted(filter(fits, even), key=order)
        uneven = [shape for shape in self.shapes if shape.carried is None]
        yield from sorted(filter(fits, uneven), key=order)
        yield from sorted(
            filterfalse(fits, self.shapes), key=lambda shape: (-load(shape), -shape.inner)
        )

    @cached_property
    def _simplest(self) -> dict[Ratio, Network]:
        """For each load the network with the fewest joints, a balanced one where there is one."""
        by_load: dict[Ratio, Network] = {}
        for shape in self.shapes:
            known = by_load.setdefault((shape.numerator, shape.denominator), shape)
            if (shape.carried is not None, shape.inner) > (
                known.carried is not None,
                known.inner,
            ):
                by_load[shape.numerator, shape.denominator] = shape
        return by_load

    def simplest_even(self) -> list[Circuit]:
        """Return the balanced circuit with the fewest joints for each load that there is,
        lowest load first.

        >>> survey = Survey((Driver(2, 4.0),))
        >>> [(circuit.load, circuit.notation) for circuit in survey.simplest_even()]
        [(Fraction(2, 1), '1a|1b'), (Fraction(8, 1), '1a+1b')]
        """
        even = [shape for shape in self._simplest.values() if shape.carried is not None]
        even.sort(key=lambda shape: shape.numerator / shape.denominator)
        return list(map(self._first_of, even))

    def nearest(self, load_ohm: float, most: int) -> list[Circuit]:
        """Return one circuit for each of the `most` loads nearest to a load, by ratio."""

        def distance(load: Ratio) -> tuple[float, float]:
            ohm = load[0] / load[1]
            return abs(math.log(ohm / load_ohm)), ohm

        loads = nsmallest(most, self._simplest, key=distance)
        return [self._first_of(self._simplest[load]) for load in loads]

    def _first_of(self, shape: Network) -> Circuit:
        """Return the first circuit of a network."""
        return self._named(shape, representatives(shape, self._classes)[0])

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


@lru_cache(maxsize=8)
def _ways(classes: tuple[CoilClass, ...]) -> tuple[int, ...]:
    """Return the number of ways to pair up each shape's coils, in the shapes' order.

    Neither depends on impedances, so another impedance need not be counted anew.
    """
    content = tuple(kind.coils_in_all for kind in classes)
    counting = Counting(classes)
    shapes = networks((Fraction(1),) * len(classes), content)
    return tuple(counting.ways(shape) for shape in shapes)


@lru_cache(maxsize=1)
def survey_of(drivers: tuple[Driver, ...]) -> Survey:
    """Return the survey of the drivers; that of the last drivers asked for is kept, since
    four unlike drivers take seconds and the next question is mostly about the same ones.
    """
    return Survey(drivers)

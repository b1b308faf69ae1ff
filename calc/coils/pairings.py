"""Which coil belongs to which driver: the ways to pair a network's coils up.

Two ways are one when swapping like drivers, like coils of a driver, or equal parts of the
network turns one into the other.  They are counted by Burnside's lemma from the cycles
of the network's symmetries, and listed by walking the orbits.

Imports only `networks`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, reduce
from itertools import combinations, product
from math import factorial

from calc.coils.networks import Network

Blocks = tuple[int, ...]  # which driver of its class each coil belongs to, by first use
Monomial = tuple[tuple[int, int, int], ...]  # (class, cycle length, how often), sorted
# How many of the network's symmetries permute the coils in cycles of each kind.
Symmetries = Mapping[Monomial, int]


@dataclass(frozen=True)
class CoilClass:
    """Like drivers: how many, and how many coils each has."""

    drivers: int
    coils_each: int

    @property
    def coils_in_all(self) -> int:
        """How many coils they have together."""
        return self.drivers * self.coils_each

    @property
    def is_open(self) -> bool:
        """Whether there is more than one way to pair the coils up."""
        return self.drivers > 1 and self.coils_each > 1


class Counting:
    """Counts the distinct ways to give a network's coils to drivers.

    Parts that networks share are looked at once.

    >>> from fractions import Fraction
    >>> from calc.coils.networks import networks
    >>> counting = Counting([CoilClass(drivers=4, coils_each=2)])
    >>> sum(counting.ways(n) for n in networks((Fraction(4),), (8,)))
    6910
    """

    def __init__(self, classes: Sequence[CoilClass]) -> None:
        self._sizes = {at: kind.coils_each for at, kind in enumerate(classes) if kind.is_open}
        self._known: dict[Network, Symmetries] = {}
        self._fixed: dict[Monomial, int] = {}

    def ways(self, network: Network) -> int:
        """Return the number of ways, by Burnside's lemma."""
        symmetries = self._symmetries(network)
        fixed = sum(times * self._fixed_by(monomial) for monomial, times in symmetries.items())
        return fixed // sum(symmetries.values())

    def _fixed_by(self, monomial: Monomial) -> int:
        if monomial not in self._fixed:
            fixed = 1
            for at, size in self._sizes.items():
                lengths = tuple(
                    length for which, length, times in monomial if which == at for _ in range(times)
                )
                fixed *= _fixed_splits(lengths, size)
            self._fixed[monomial] = fixed
        return self._fixed[monomial]

    def _symmetries(self, network: Network) -> Symmetries:
        if network not in self._known:
            self._known[network] = self._computed(network)
        return self._known[network]

    def _computed(self, network: Network) -> Symmetries:
        if network.kind == "coil":
            return {((network.coil, 1, 1),) if network.coil in self._sizes else (): 1}
        parts = Counter(network.parts).items()
        return reduce(
            _multiplied, (_wreath(self._symmetries(part), times) for part, times in parts)
        )


def _wreath(inner: Symmetries, times: int) -> Symmetries:
    """Return the symmetries of `times` equal parts: each part's own, and their exchange.

    Parts exchanged in a cycle of length l count once for each choice of the l − 1
    symmetries along the way; the coils' cycles then grow l times as long.
    """
    if times == 1:
        return inner
    of_part = sum(inner.values())
    total: Counter[Monomial] = Counter()
    for cycles in _integer_partitions(times, times):
        ways = factorial(times)
        factors: list[Symmetries] = []
        for length, often in Counter(cycles).items():
            ways //= length**often * factorial(often)
            ways *= of_part ** ((length - 1) * often)
            stretched = {
                tuple((which, cycle * length, n) for which, cycle, n in monomial): number
                for monomial, number in inner.items()
            }
            factors += [stretched] * often
        for monomial, number in reduce(_multiplied, factors).items():
            total[monomial] += number * ways
    return total


def _multiplied(left: Symmetries, right: Symmetries) -> Symmetries:
    total: Counter[Monomial] = Counter()
    for (first, p), (second, q) in product(left.items(), right.items()):
        powers: Counter[tuple[int, int]] = Counter()
        for which, length, times in (*first, *second):
            powers[which, length] += times
        total[tuple(sorted([(*key, times) for key, times in powers.items()]))] += p * q
    return total


def _integer_partitions(total: int, largest: int) -> Iterator[tuple[int, ...]]:
    if total == 0:
        yield ()
    for first in range(min(total, largest), 0, -1):
        for rest in _integer_partitions(total - first, first):
            yield (first, *rest)


@cache
def _fixed_splits(lengths: tuple[int, ...], size: int) -> int:
    """Return how many splits into blocks of `size` a permutation of this kind leaves alone."""
    permutation: list[int] = []
    for length in lengths:
        start = len(permutation)
        permutation += [start + (at + 1) % length for at in range(length)]
    return sum(_moved(blocks, permutation) == blocks for blocks in _splits(sum(lengths), size))


@cache
def _splits(coils: int, size: int) -> tuple[Blocks, ...]:
    """Return every split of coils into blocks, blocks numbered by first use.

    >>> _splits(4, 2)
    ((0, 0, 1, 1), (0, 1, 0, 1), (0, 1, 1, 0))
    """

    def fill(left: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], ...]]:
        if not left:
            yield ()
            return
        for others in combinations(left[1:], size - 1):
            block = (left[0], *others)
            for rest in fill(tuple(coil for coil in left if coil not in block)):
                yield (block, *rest)

    made = []
    for split in fill(tuple(range(coils))):
        made.append(tuple(next(at for at, b in enumerate(split) if c in b) for c in range(coils)))
    return tuple(made)


def _moved(blocks: Blocks, permutation: Sequence[int]) -> Blocks:
    names: dict[int, int] = {}
    return tuple(names.setdefault(blocks[source], len(names)) for source in permutation)


def representatives(network: Network, classes: Sequence[CoilClass]) -> list[Blocks]:
    """Return one split of each kind: for each coil of the network, its driver's number
    within its class.  The least of its kind is taken, so the list is the same everywhere.
    """
    leaves = network.leaves()
    per_class = [_splits(kind.coils_in_all, kind.coils_each) for kind in classes]
    moves = list(_swaps(network, 0))
    seen: set[Blocks] = set()
    least = []
    for chosen in product(*per_class):
        dealt = [iter(blocks) for blocks in chosen]
        start = tuple(next(dealt[leaf]) for leaf in leaves)
        if start in seen:
            continue
        orbit = {start}
        edge = [start]
        while edge:
            state = edge.pop()
            for move in moves:
                if len(classes) == 1:  # the common case, and the one with most splits
                    moved = _moved(state, move)
                else:
                    moved = _renumbered([state[source] for source in move], leaves)
                if moved not in orbit:
                    orbit.add(moved)
                    edge.append(moved)
        seen |= orbit
        least.append(min(orbit))
    return sorted(least)


def _renumbered(blocks: Sequence[int], leaves: Sequence[int]) -> Blocks:
    names: dict[tuple[int, int], int] = {}
    used: Counter[int] = Counter()
    out = []
    for block, leaf in zip(blocks, leaves, strict=True):
        if (leaf, block) not in names:
            names[leaf, block] = used[leaf]
            used[leaf] += 1
        out.append(names[leaf, block])
    return tuple(out)


def _swaps(network: Network, start: int, total: int | None = None) -> Iterator[list[int]]:
    """Yield the swaps of equal neighbours that make all symmetries of the network."""
    size = len(network.leaves())
    total = size if total is None else total
    at = start
    previous: tuple[Network, int] | None = None
    for part in network.parts:
        width = len(part.leaves())
        if previous is not None and previous[0] is part:
            move = list(range(total))
            first = previous[1]
            move[first:at], move[at : at + width] = move[at : at + width], move[first:at]
            yield move
        yield from _swaps(part, at, total)
        previous = (part, at)
        at += width

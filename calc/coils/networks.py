"""Every series–parallel network of coils, with loads as exact fractions.

A coil here is of a *class*: coils of like drivers (as many coils, of the same impedance)
are of one class.  Which coil of a class belongs to which driver is a second question, and
`pairings` answers it.  The load of a network, and whether coils of a class work alike, is
settled by the classes alone: that keeps eight like coils at 522 networks instead of the
6,910 that tell drivers apart.

Imports nothing of the project.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, reduce
from itertools import combinations_with_replacement, product
from math import gcd
from operator import le, sub
from typing import Literal

Content = tuple[int, ...]  # how many coils of each class
Ratio = tuple[int, int]  # numerator and denominator: a tenth of the time of a Fraction
# What each coil of a class carries; None: no coil of it here.
Carried = tuple[Ratio | None, ...]


@dataclass(slots=True, eq=False)  # frozen, a hundred thousand would take half a second longer
class Network:
    """A coil, or networks in series or in parallel.

    coil : class of the coil, for a single coil
    numerator, denominator : of the load [Ω], in lowest terms
    inner : nodes inside, the two ends not counted
    carried : per class, the current that each of its coils carries, or None for the whole if
        the coils of some class do not carry the same; at 1 A through a coil or a series
        network, at 1 V across a parallel one: what its parts have in common

    Identity is the object's: equal shapes are made once.
    """

    kind: Literal["coil", "series", "parallel"]
    coil: int
    parts: tuple["Network", ...]
    numerator: int
    denominator: int
    inner: int
    carried: Carried | None

    @property
    def load(self) -> Fraction:
        """Load [Ω]."""
        return Fraction(self.numerator, self.denominator)

    def leaves(self) -> tuple[int, ...]:
        """Return the classes of the coils, in the order in which the network is drawn."""
        if self.kind == "coil":
            return (self.coil,)
        return tuple(leaf for part in self.parts for leaf in part.leaves())


def networks(ohms: tuple[Fraction, ...], content: Content) -> list[Network]:
    """Return every network of the given coils, one for each distinct shape.

    ohms : impedance of a coil, per class [Ω]
    content : how many coils, per class

    Numbers for n like coils: 1, 2, 4, 10, 24, 66, 180, 522 (OEIS A000084).

    >>> [len(networks((Fraction(4),), (n,))) for n in range(1, 7)]
    [1, 2, 4, 10, 24, 66]
    """
    maker = _Maker(ohms)
    if sum(content) == 1:
        return maker.coils(content)
    return maker.joined("series", content) + maker.joined("parallel", content)


# Parts to be joined with others, as the joining sees them: the parts; numerator and denominator
# of what joining adds up (the load [Ω] in series, the conductance [S] in parallel); nodes inside
# the parts; what the coils carry at 1 A through all in series, at 1 V across all in parallel.
# A tuple, for making an object takes twice as long.
_Run = tuple[tuple[Network, ...], int, int, int, Carried | None]


class _Maker:
    """Makes networks from small to large and keeps each list for the larger ones."""

    def __init__(self, ohms: tuple[Fraction, ...]) -> None:
        self._ohms = ohms
        self._made: dict[tuple[str, Content], list[Network]] = {}
        self._runs_made: dict[tuple[str, Content, int], list[_Run]] = {}

    def coils(self, content: Content) -> list[Network]:
        """Return the one network that is a single coil."""
        key = ("coil", content)
        if key not in self._made:
            at = content.index(1)
            carried = tuple((1, 1) if number else None for number in content)
            ohm = self._ohms[at]
            self._made[key] = [Network("coil", at, (), ohm.numerator, ohm.denominator, 0, carried)]
        return self._made[key]

    def joined(self, kind: Literal["series", "parallel"], content: Content) -> list[Network]:
        """Return all networks of the content whose outermost joining is of the kind."""
        key = (kind, content)
        if key not in self._made:
            self._made[key] = [
                network for groups in _splits(content) for network in self._of_groups(kind, groups)
            ]
        return self._made[key]

    def _of_groups(
        self, kind: Literal["series", "parallel"], groups: tuple[tuple[Content, int], ...]
    ) -> list[Network]:
        """Return the networks with one run of parts out of each group."""
        first, *others = groups
        joined: Iterable[_Run] = self._runs(kind, *first)
        for group in others:
            joined = _all_joined(joined, self._runs(kind, *group))
        made = []
        for parts, over, under, inner, carried in joined:
            common = gcd(over, under)
            over, under = over // common, under // common
            if kind == "series":
                inner += len(parts) - 1
            else:
                over, under = under, over
            made.append(Network(kind, -1, parts, over, under, inner, carried))
        return made

    def _runs(
        self, kind: Literal["series", "parallel"], content: Content, times: int
    ) -> list[_Run]:
        """Return every choice of so many parts of a content: of the other kind, or coils."""
        key = (kind, content, times)
        if key not in self._runs_made:
            if sum(content) == 1:
                made = self.coils(content)
            else:
                made = self.joined("parallel" if kind == "series" else "series", content)
            runs = [_as_part(kind, part) for part in made]
            if times > 1:
                runs = [_in_one(chosen) for chosen in combinations_with_replacement(runs, times)]
            self._runs_made[key] = runs
        return self._runs_made[key]


def _as_part(kind: str, part: Network) -> _Run:
    """Return a part as a joining of the kind sees it: at 1 A through it, or 1 V across it."""
    over, under = part.numerator, part.denominator
    if kind == "series":
        # A parallel part at 1 A has its load in volts across it, 1 A / 1 V times as many.
        carried = part.carried if part.kind == "coil" else _times(part.carried, over, under)
        return (part,), over, under, part.inner, carried
    return (part,), under, over, part.inner, _times(part.carried, under, over)


def _times(carried: Carried | None, over: int, under: int) -> Carried | None:
    if carried is None:
        return None
    return tuple(
        [None if one is None else _lowest(one[0] * over, one[1] * under) for one in carried]
    )


def _lowest(over: int, under: int) -> Ratio:
    common = gcd(over, under)
    return over // common, under // common


def _in_one(chosen: Sequence[_Run]) -> _Run:
    """Return runs one after the other as one."""
    return reduce(lambda left, right: next(_all_joined([left], [right])), chosen)


def _all_joined(left: Iterable[_Run], right: Sequence[_Run]) -> Iterator[_Run]:
    """Yield each run of the one list with each of the other."""
    for parts, over, under, inner, carried in left:
        for others, more, by, within, theirs in right:
            yield (
                parts + others,
                over * by + more * under,
                under * by,
                inner + within,
                None if carried is None or theirs is None else _common(carried, theirs),
            )


def _common(one: Carried, other: Carried) -> Carried | None:
    """Return what the coils of two parts carry; None if those of a class differ."""
    for left, right in zip(one, other, strict=True):
        if left != right and left is not None and right is not None:
            return None
    return tuple([left or right for left, right in zip(one, other, strict=True)])


@lru_cache(maxsize=256)
def _splits(content: Content) -> tuple[tuple[tuple[Content, int], ...], ...]:
    """Return every way to split a content into two or more parts, like parts counted.

    >>> _splits((3,))
    ((((1,), 3),), (((2,), 1), ((1,), 1)))
    """
    parts = [part for part in product(*(range(n + 1) for n in content)) if any(part)]

    def fill(left: Content, fitting: list[Content]) -> Iterator[list[Content]]:
        """Yield what fills the rest, of those parts alone of which each fits into it."""
        for at, part in enumerate(fitting):
            rest = tuple(map(sub, left, part))
            if not any(rest):
                yield [part]
            elif rest >= part:  # what comes later is no smaller, and would not fit into less
                still = [later for later in fitting[at:] if all(map(le, later, rest))]
                for others in fill(rest, still):
                    yield [*others, part]

    return tuple(
        tuple(sorted(Counter(chosen).items(), reverse=True))
        for chosen in fill(content, parts)
        if len(chosen) > 1
    )

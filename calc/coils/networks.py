"""Every series–parallel network of coils, with loads as exact fractions.

A coil here is of a *class*: coils of like drivers (as many coils, of the same impedance)
are of one class.  Which coil of a class belongs to which driver is a second question, and
`pairings` answers it.  The load of a network, and whether coils of a class work alike, is
settled by the classes alone: that keeps eight like coils at 522 networks instead of the
6,910 that tell drivers apart.

Imports nothing of the project.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import combinations_with_replacement, product
from typing import Literal

Content = tuple[int, ...]  # how many coils of each class
# Common current of a class's coils, as a share of the network's; None: no coil of it here.
Currents = tuple[Fraction | None, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """A coil, or networks in series or in parallel.

    coil : class of the coil, for a single coil
    load, conductance : load [Ω] and its inverse [S]
    inner : nodes inside, the two ends not counted
    currents : per class, the current that each of its coils carries, or None for the whole
        if the coils of some class do not carry the same

    Identity is the object's: equal shapes are made once.
    """

    kind: Literal["coil", "series", "parallel"]
    coil: int
    parts: tuple["Network", ...]
    load: Fraction
    conductance: Fraction
    inner: int
    currents: Currents | None

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
    if sum(content) == 1:
        return _Maker(ohms).coils(content)
    maker = _Maker(ohms)
    return maker.joined("series", content) + maker.joined("parallel", content)


class _Maker:
    """Makes networks from small to large and keeps each list for the larger ones."""

    def __init__(self, ohms: tuple[Fraction, ...]) -> None:
        self._ohms = ohms
        self._made: dict[tuple[str, Content], list[Network]] = {}

    def coils(self, content: Content) -> list[Network]:
        """Return the one network that is a single coil."""
        index = content.index(1)
        currents = tuple(Fraction(1) if at == index else None for at in range(len(content)))
        ohm = self._ohms[index]
        return [Network("coil", index, (), ohm, 1 / ohm, 0, currents)]

    def joined(self, kind: Literal["series", "parallel"], content: Content) -> list[Network]:
        """Return all networks of the content whose outermost joining is of the kind."""
        key = (kind, content)
        if key not in self._made:
            join = _series if kind == "series" else _parallel
            self._made[key] = [
                join(parts) for groups in _splits(content) for parts in self._choices(kind, groups)
            ]
        return self._made[key]

    def _choices(
        self, kind: str, groups: tuple[tuple[Content, int], ...]
    ) -> Iterator[tuple[Network, ...]]:
        """Yield every choice of parts: of the other kind, or single coils."""
        other: Literal["series", "parallel"] = "parallel" if kind == "series" else "series"
        options = []
        for part, times in groups:
            made = self.coils(part) if sum(part) == 1 else self.joined(other, part)
            options.append(list(combinations_with_replacement(made, times)))
        for chosen in product(*options):
            yield tuple(part for run in chosen for part in run)


def _series(parts: tuple[Network, ...]) -> Network:
    load = sum([part.load for part in parts], Fraction(0))
    inner = sum([part.inner for part in parts]) + len(parts) - 1
    currents = _common([part.currents for part in parts])
    return Network("series", -1, parts, load, 1 / load, inner, currents)


def _parallel(parts: tuple[Network, ...]) -> Network:
    conductance = sum([part.conductance for part in parts], Fraction(0))
    inner = sum([part.inner for part in parts])
    scaled: list[Currents | None] = []
    for part in parts:
        if part.currents is None:
            scaled = [None]
            break
        share = part.conductance / conductance
        scaled.append(
            tuple([None if current is None else current * share for current in part.currents])
        )
    return Network("parallel", -1, parts, 1 / conductance, conductance, inner, _common(scaled))


def _common(all_currents: list[Currents | None]) -> Currents | None:
    """Merge the currents of parts that carry the same current; None if a class differs."""
    merged: list[Fraction | None] | None = None
    for currents in all_currents:
        if currents is None:
            return None
        if merged is None:
            merged = list(currents)
            continue
        for at, current in enumerate(currents):
            if current is None:
                continue
            if merged[at] is None:
                merged[at] = current
            elif merged[at] != current:
                return None
    return tuple(merged or ())


@lru_cache(maxsize=256)
def _splits(content: Content) -> tuple[tuple[tuple[Content, int], ...], ...]:
    """Return every way to split a content into two or more parts, like parts counted.

    >>> _splits((3,))
    ((((1,), 3),), (((2,), 1), ((1,), 1)))
    """
    parts = [part for part in product(*(range(n + 1) for n in content)) if any(part)]

    def fill(left: Content, start: int) -> Iterator[list[Content]]:
        if not any(left):
            yield []
        for at in range(start, len(parts)):
            rest = tuple(have - take for have, take in zip(left, parts[at], strict=True))
            if min(rest) >= 0:
                for others in fill(rest, at):
                    yield [*others, parts[at]]

    return tuple(
        tuple(sorted(Counter(chosen).items(), reverse=True))
        for chosen in fill(content, 0)
        if len(chosen) > 1
    )

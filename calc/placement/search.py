"""The exact search: placements for up to four amplifiers, or the proof that there is none.

Two parts on a plan keep clear of one another when one lies right of, left of, behind or in
front of the other: four relations, each a difference constraint.  The search takes on the
amplifiers one by one in each way they may stand, puts all of them as far to the front left as
the relations so far allow (each then touches a neighbour or an edge: the normal pattern of
packing), looks for two that are still in each other's way, and branches into the four
relations that part them.  Where no branch is left, there is no placement: that is the proof.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from calc.placement.options import Option, Point
from calc.placement.relations import (
    FIXED,
    Box,
    Corners,
    Relation,
    Way,
    can_part,
    narrowed,
    ways_apart,
    ways_past,
)

Axes = tuple[Corners, Corners]  # the x's, the y's


class TooLong(Exception):
    """The search was given up after its number of steps: nothing is proven."""


class Node(NamedTuple):
    """A part of all placements: who stands how, and what parts them, along x and along y.

    low, high : the least and the greatest corners; of who is not taken on yet they say nothing
    bound : what every placement in it gives up at least
    clear : a bit for each box (see `ways_apart`) that can no longer be overlapped
    """

    options: tuple[Option | None, ...]
    relations: tuple[tuple[Relation, ...], tuple[Relation, ...]]
    low: Axes
    high: Axes
    bound: int = 0
    clear: int = 0

    @property
    def taken(self) -> list[Option]:
        """Who is taken on."""
        return [option for option in self.options if option]

    def corners(self) -> list[Point]:
        """The least corners."""
        return list(zip(*self.low, strict=True))


@dataclass
class Search:
    """One problem.

    offers : the ways to stand of each amplifier, those that cost least first
    keep_outs : boxes [µm]
    alike : pairs of amplifiers that differ in nothing, of which the first is kept left
    most_steps : parts to look at before giving up
    growth : an axis, and by how much the bay has been enlarged along it [µm]: the search is
        then for the placement that needs the least of this, not for the least cost
    steps : parts looked at so far
    """

    offers: Sequence[Sequence[Option]]
    keep_outs: Sequence[Box] = ()
    alike: Sequence[tuple[int, int]] = ()
    most_steps: int = 100_000
    growth: tuple[int, int] | None = None
    steps: int = 0
    _rest: dict[frozenset[int], int] = field(default_factory=dict)
    _parted: dict[tuple[int, int], bool] = field(default_factory=dict)

    def best(self) -> Node | None:
        """Return the placement of least cost (or growth), None if there is none.

        Raises TooLong.
        """
        if not all(self.offers):
            return None
        order = self.order
        for at in range(len(order) - 1, -1, -1) if self.growth is None else [0]:
            best = self._best_of(order[at:])
            if best is None:
                return None
            # What the last ones give up among themselves bounds what they give up with others.
            self._rest[frozenset(order[at:])] = best.bound
        return best

    @property
    def order(self) -> list[int]:
        """In which order the amplifiers are taken on: the largest first."""
        return sorted(
            range(len(self.offers)),
            key=lambda at: -self.offers[at][0].width * self.offers[at][0].depth,
        )

    def _best_of(self, order: Sequence[int]) -> Node | None:
        """Return the best placement of some amplifiers, always looking where least is lost."""
        none = (0,) * len(self.offers)
        start = Node((None,) * len(none), ((), ()), (none, none), (none, none))
        number = count()
        queue = [(0, 0, 0, next(number), start)]
        while queue:
            node = heappop(queue)[-1]
            self.tick()
            parts = self.parts(node, order)
            if parts is None:
                return node
            for part in parts:
                decided = len(part.relations[0]) + len(part.relations[1])
                rank = (part.bound, -len(part.taken), -decided, next(number), part)
                heappush(queue, rank)
        return None

    def tick(self) -> None:
        """Count a step; raises TooLong."""
        self.steps += 1
        if self.steps > self.most_steps:
            raise TooLong

    def parts(
        self, node: Node, order: Sequence[int], corners: Sequence[Point] | None = None
    ) -> list[Node] | None:
        """Return the parts into which a node falls; None if nothing is left to decide.

        corners : where they stand, if not at the least corners
        """
        ways = self._fewest_ways(node, corners or node.corners())
        if ways is not None:
            return list(self._parted_by(node, ways))
        for at in order:
            if node.options[at] is None:
                return list(self._with_options(node, at, order))
        return None

    def _with_options(self, node: Node, at: int, order: Sequence[int]) -> Iterator[Node]:
        for option in self.offers[at]:
            low, high = (
                (set_at(axes[0], at, corner[0]), set_at(axes[1], at, corner[1]))
                for axes, corner in ((node.low, option.low), (node.high, option.high))
            )
            options = set_at(node.options, at, option)
            taken = node._replace(options=options, low=low, high=high)
            bound = self._bound(taken, order)
            part = None if bound is None else taken._replace(bound=bound)
            for pair in self.alike:
                if part and at in pair and all(part.options[other] for other in pair):
                    part = self._with_relation(part, Relation(0, *pair, 0))
            if part:
                yield part

    def _bound(self, node: Node, order: Sequence[int]) -> int | None:
        """Return what a node gives up at least; None if nothing is left in it."""
        taken = node.taken
        if not all(
            self._can_part(option, other) for at, option in enumerate(taken) for other in taken[:at]
        ):
            return None
        if self.growth is not None:
            return self._growth(node)
        cost = sum(option.cost for option in taken)
        left = [at for at in order if node.options[at] is None]
        alone = cost
        for at in left:
            least = next(
                (
                    option.cost
                    for option in self.offers[at]
                    if all(self._can_part(option, other) for other in taken)
                ),
                None,
            )
            if least is None:
                return None
            alone += least
        return max(alone, cost + self._rest.get(frozenset(left), 0))

    def _growth(self, node: Node) -> int:
        """Return how much of the enlargement those taken on need [µm]."""
        axis, more = self.growth or (0, 0)
        return max(
            0,
            *(
                node.low[axis][at] + more - option.far[axis]
                for at, option in enumerate(node.options)
                if option
            ),
            0,
        )

    def _can_part(self, option: Option, other: Option) -> bool:
        key = (id(option), id(other))
        known = self._parted.get(key)
        if known is None:
            known = self._parted[key] = can_part(option, other)
        return known

    def _fewest_ways(self, node: Node, corners: Sequence[Point]) -> list[Way] | None:
        """Return the ways to part two that are in each other's way: of all such pairs those
        with the fewest ways that may be open.  None if no two are.
        """
        best: list[Way] | None = None
        bit = 1
        for at, option in enumerate(node.options):
            if option is None:
                bit <<= 2 * (len(self.keep_outs) + at)
                continue
            for box in self.keep_outs:
                if node.clear & (3 * bit) != 3 * bit:
                    for ways in ways_past(option, at, corners[at], box, bit):
                        still = [way for way in ways if self._may_be(node, way[0])]
                        if best is None or len(still) < len(best):
                            best = still
                bit <<= 2
            for before in range(at):
                other = node.options[before]
                if other and node.clear & (3 * bit) != 3 * bit:
                    for ways in ways_apart(
                        other, before, corners[before], option, at, corners[at], bit
                    ):
                        still = [way for way in ways if self._may_be(node, way[0])]
                        if best is None or len(still) < len(best):
                            best = still
                bit <<= 2
            if best is not None and not best:
                return best
        return best

    def _may_be(self, node: Node, way: Relation) -> bool:
        """Tell whether the least and greatest corners leave a relation open."""
        axis, behind, ahead, gap = way
        if ahead == FIXED:
            return node.low[axis][behind] <= -gap
        floor = gap if behind == FIXED else node.low[axis][behind] + gap
        return floor <= node.high[axis][ahead]

    def _parted_by(self, node: Node, ways: Sequence[Way]) -> Iterator[Node]:
        """Take a node apart by these ways; each part leaves out what those before hold."""
        rest: Node | None = node
        for relation, clear in ways:
            if rest is None:
                return
            part = self._with_relation(rest, relation, clear)
            if part is not None:
                yield part
                rest = self._with_relation(rest, relation.opposite)

    def _with_relation(self, node: Node, relation: Relation, clear: int = 0) -> Node | None:
        axis = relation.axis
        among = (*node.relations[axis], relation)
        corners = narrowed(among, node.low[axis], node.high[axis])
        if corners is None:
            return None
        lows, highs = corners
        if axis == 0:
            relations, low, high = (
                (among, node.relations[1]),
                (lows, node.low[1]),
                (highs, node.high[1]),
            )
        else:
            relations, low, high = (
                (node.relations[0], among),
                (node.low[0], lows),
                (node.high[0], highs),
            )
        part = Node(node.options, relations, low, high, node.bound, node.clear | clear)
        return part if self.growth is None else part._replace(bound=self._growth(part))


def set_at[T](parts: tuple[T, ...], at: int, part: T) -> tuple[T, ...]:
    """Return the parts with one of them changed."""
    return (*parts[:at], part, *parts[at + 1 :])

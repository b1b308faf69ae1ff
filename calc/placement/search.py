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
from typing import NamedTuple, TypeVar

from calc.placement.options import Option
from calc.placement.relations import (
    FIXED,
    Box,
    Clash,
    Corners,
    Relation,
    Way,
    can_part,
    clashes_between,
    clashes_with,
    narrowed,
    still_open,
)

T = TypeVar("T")
Axes = tuple[Corners, Corners]  # the x's, the y's
# Of one and another before it, or a keep-out (FIXED).
Clashes = tuple[int, int, Sequence[Clash]]


class TooLong(Exception):
    """The search was given up after its number of steps: nothing is proven."""


class Node(NamedTuple):
    """A part of all placements: who stands how, and what parts them, along x and along y.

    low, high : the least and the greatest corners, the bay's own 0 behind them; of who is not
        taken on yet they say nothing
    bound : what every placement in it gives up at least
    clear : a bit for each box (see `clashes_with`) that can no longer be overlapped
    clashes : how those taken on can be in each other's way, and in that of keep-outs
    """

    options: tuple[Option | None, ...]
    relations: tuple[tuple[Relation, ...], tuple[Relation, ...]]
    low: Axes
    high: Axes
    bound: int = 0
    clear: int = 0
    clashes: tuple[Clashes, ...] = ()

    @property
    def taken(self) -> list[Option]:
        """Who is taken on."""
        return [option for option in self.options if option]


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
    # By the place of an option in the memory, which `offers` keeps.
    _parted: dict[tuple[int, int], bool] = field(default_factory=dict)
    _past: dict[tuple[int, int], list[Clash]] = field(default_factory=dict)
    _apart: dict[tuple[int, int, int, int], list[Clash]] = field(default_factory=dict)

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

    @property
    def nobody(self) -> Node:
        """The whole of all placements: none is taken on."""
        none = (0,) * (len(self.offers) + 1)
        return Node((None,) * len(self.offers), ((), ()), (none, none), (none, none))

    def _best_of(self, order: Sequence[int]) -> Node | None:
        """Return the best placement of some amplifiers, always looking where least is lost."""
        start = self.nobody
        number = count()
        queue = [(0, 0, 0, next(number), start)]
        while queue:
            node = heappop(queue)[-1]
            self.tick()
            parts = self.parts(node, order)
            if parts is None:
                return node
            for part in parts:
                left = part.options.count(None)
                decided = len(part.relations[0]) + len(part.relations[1])
                heappush(queue, (part.bound, left, -decided, next(number), part))
        return None

    def tick(self) -> None:
        """Count a step; raises TooLong."""
        self.steps += 1
        if self.steps > self.most_steps:
            raise TooLong

    def parts(
        self, node: Node, order: Sequence[int], corners: Axes | None = None
    ) -> list[Node] | None:
        """Return the parts into which a node falls; None if nothing is left to decide.

        corners : where they stand, if not at the least corners
        """
        ways = self._fewest_ways(node, corners or node.low)
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
            if bound is None:
                continue
            part: Node | None = taken._replace(bound=bound, clashes=self._clashes(options))
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

    def _fewest_ways(self, node: Node, corners: Axes) -> list[Way] | None:
        """Return the ways to part two that are in each other's way: of all such pairs those
        with the fewest ways that may be open.  None if no two are.
        """
        best: list[Way] | None = None
        xs, ys = corners
        for at, before, clashes in node.clashes:
            dx, dy = xs[at] - xs[before], ys[at] - ys[before]
            for clears, x_from, x_to, y_from, y_to, ways in clashes:
                if x_from < dx < x_to and y_from < dy < y_to and node.clear & clears != clears:
                    left = still_open(ways, node.low, node.high)
                    if not left:
                        return left
                    if best is None or len(left) < len(best):
                        best = left
        return best

    def _clashes(self, options: Sequence[Option | None]) -> tuple[Clashes, ...]:
        """Return who of these can be in the way of whom."""
        found: list[Clashes] = []
        for at, option in enumerate(options):
            if option is None:
                continue
            found.append((at, FIXED, self._with_keep_outs(option, at)))
            for before in range(at):
                other = options[before]
                if other is not None:
                    found.append((at, before, self._between(other, before, option, at)))
        return tuple(one for one in found if one[2])

    def _bit(self, at: int, number: int) -> int:
        """Return the bit of the boxes that one shares with a keep-out, or with one before it."""
        return 1 << 2 * (at * len(self.keep_outs) + at * (at - 1) // 2 + number)

    def _with_keep_outs(self, option: Option, at: int) -> Sequence[Clash]:
        """Return how an option can be in the way of keep-outs; worked out once."""
        key = (at, id(option))
        known = self._past.get(key)
        if known is None:
            known = self._past[key] = [
                clash
                for number, box in enumerate(self.keep_outs)
                for clash in clashes_with(option, at, box, self._bit(at, number))
                if clash.can_be(option.low, option.high)
            ]
        return known

    def _between(self, other: Option, before: int, option: Option, at: int) -> Sequence[Clash]:
        """Return how two options can be in each other's way; worked out once."""
        key = (before, id(other), at, id(option))
        known = self._apart.get(key)
        if known is None:
            bit = self._bit(at, len(self.keep_outs) + before)
            least = (option.low[0] - other.high[0], option.low[1] - other.high[1])
            most = (option.high[0] - other.low[0], option.high[1] - other.low[1])
            known = self._apart[key] = [
                clash
                for clash in clashes_between(other, before, option, at, bit)
                if clash.can_be(least, most)
            ]
        return known

    def _parted_by(self, node: Node, ways: Sequence[Way]) -> Iterator[Node]:
        """Take a node apart by these ways; each part leaves out what those before hold."""
        rest: Node | None = node
        for relation, clear in ways:
            if rest is None:
                return
            part = self._with_relation(rest, relation, clear)
            if part is not None:
                yield part
                if relation is not ways[-1][0]:
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
        cleared = node.clear | clear
        part = Node(node.options, relations, low, high, node.bound, cleared, node.clashes)
        if self.growth is None or axis != self.growth[0]:
            return part
        return part._replace(bound=self._growth(part))


def set_at(parts: tuple[T, ...], at: int, part: T) -> tuple[T, ...]:
    """Return the parts with one of them changed."""
    return (*parts[:at], part, *parts[at + 1 :])

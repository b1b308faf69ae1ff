"""How two parts on a plan keep clear of one another: difference constraints on corners.

Each part of the search knows the least and the greatest corner of every amplifier that is
taken on.  A relation says x_ahead ≥ x_behind + gap, along one axis.  Lengths in µm.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import NamedTuple

from calc.placement.options import Option, Point

Box = tuple[int, int, int, int]  # x from, y from, x to, y to
FIXED = -1  # stands for the bay itself in a relation: the last of the corners, which lies at 0
_STOPPED = 10_000  # outweighs every pull


class Relation(NamedTuple):
    """Along an axis (0: x, 1: y) `ahead` lies at least `gap` beyond `behind`."""

    axis: int
    behind: int
    ahead: int
    gap: int

    @property
    def opposite(self) -> "Relation":
        """What holds where this does not: x_ahead ≤ x_behind + gap − 1 µm."""
        return Relation(self.axis, self.ahead, self.behind, 1 - self.gap)


Corners = tuple[int, ...]  # of each amplifier, and of the bay
Way = tuple[Relation, int]  # and a bit for each box that it clears


def narrowed(
    relations: Sequence[Relation], low: Corners, high: Corners
) -> tuple[Corners, Corners] | None:
    """Return least and greatest corners along the relations' axis, None if there are none.

    The last relation may be a new one, for which the corners were not narrowed yet.

    >>> narrowed([Relation(0, 0, 1, 30)], (0, 0, 0), (50, 50, 0))
    ((0, 30, 0), (20, 50, 0))
    >>> narrowed([Relation(0, FIXED, 0, 60)], (0, 0, 0), (50, 50, 0)) is None
    True
    """
    lows, highs = list(low), list(high)
    for _ in range(len(lows) + 1):
        steady = True
        for _, behind, ahead, gap in reversed(relations):
            floor = lows[behind] + gap
            if floor > lows[ahead]:
                if floor > highs[ahead]:
                    return None
                lows[ahead] = floor
                steady = False
            roof = highs[ahead] - gap
            if roof < highs[behind]:
                if roof < lows[behind]:
                    return None
                highs[behind] = roof
                steady = False
        if steady:
            return tuple(lows), tuple(highs)
    return None


def still_open(ways: Iterable[Way], low: Sequence[Corners], high: Sequence[Corners]) -> list[Way]:
    """Return the ways that the least and greatest corners, along x and along y, leave open."""
    left = []
    for way in ways:
        axis, behind, ahead, gap = way[0]
        if low[axis][behind] + gap <= high[axis][ahead]:
            left.append(way)
    return left


class Clash(NamedTuple):
    """Where two are in each other's way, and the ways to part them.

    They are where the corner of the one, as seen from the other's (or the bay's), lies between
    these [µm].

    clears : the bit of the box that is shared; once it is cleared, they clash no more
    """

    clears: int
    x_from: int
    x_to: int
    y_from: int
    y_to: int
    ways: tuple[Way, ...]

    def can_be(self, low: Point, high: Point) -> bool:
        """Tell whether the corner can lie there, if it lies between these (they included)."""
        return (
            self.x_from < high[0]
            and low[0] < self.x_to
            and self.y_from < high[1]
            and low[1] < self.y_to
        )


def clashes_with(option: Option, at: int, box: Box, bit: int) -> tuple[Clash, Clash]:
    """Return how an option and a keep-out can be in each other's way.

    Its two boxes are the body with the rooms left and right of it, and the body with those in
    front and behind.

    bit : stands for the first of these boxes, twice this for the second
    """
    front, right, back, left = option.room
    x_from, y_from, x_to, y_to = box
    x_from, y_from = x_from - option.width, y_from - option.depth
    return (
        Clash(
            *(3 * bit, x_from - right, x_to + left, y_from, y_to),
            (
                (Relation(0, FIXED, at, x_to + left), 3 * bit),
                (Relation(0, at, FIXED, right - x_from), 3 * bit),
                (Relation(1, FIXED, at, y_to), bit if front else 3 * bit),
                (Relation(1, at, FIXED, -y_from), bit if back else 3 * bit),
            ),
        ),
        Clash(
            *(3 * bit, x_from, x_to, y_from - back, y_to + front),
            (
                (Relation(0, FIXED, at, x_to), 2 * bit if left else 3 * bit),
                (Relation(0, at, FIXED, -x_from), 2 * bit if right else 3 * bit),
                (Relation(1, FIXED, at, y_to + front), 3 * bit),
                (Relation(1, at, FIXED, back - y_from), 3 * bit),
            ),
        ),
    )


def rooms_between(option: Option, other: Option) -> tuple[int, int, int, int]:
    """Return the room between two when the other is right, left, behind, in front.

    Rooms may share air: the larger of the two counts.
    """
    return (
        max(option.room[1], other.room[3]),
        max(option.room[3], other.room[1]),
        max(option.room[2], other.room[0]),
        max(option.room[0], other.room[2]),
    )


def clashes_between(option: Option, i: int, other: Option, j: int, bit: int) -> tuple[Clash, Clash]:
    """Return how two options can be in each other's way; the other as seen from the first.

    Four ways for each of the two boxes that they may share, as with a keep-out.
    """
    right, left, behind, before = rooms_between(option, other)
    return (
        Clash(
            *(3 * bit, -other.width - left, option.width + right, -other.depth, option.depth),
            (
                (Relation(0, i, j, option.width + right), 3 * bit),
                (Relation(0, j, i, other.width + left), 3 * bit),
                (Relation(1, i, j, option.depth), bit if behind else 3 * bit),
                (Relation(1, j, i, other.depth), bit if before else 3 * bit),
            ),
        ),
        Clash(
            *(3 * bit, -other.width, option.width, -other.depth - before, option.depth + behind),
            (
                (Relation(0, i, j, option.width), 2 * bit if right else 3 * bit),
                (Relation(0, j, i, other.width), 2 * bit if left else 3 * bit),
                (Relation(1, i, j, option.depth + behind), 3 * bit),
                (Relation(1, j, i, other.depth + before), 3 * bit),
            ),
        ),
    )


def can_part(option: Option, other: Option) -> bool:
    """Tell whether two options could stand in one bay, keep-outs left out."""
    right, left, behind, before = rooms_between(option, other)
    to_right = other.high[0] - option.low[0] - option.width
    to_left = option.high[0] - other.low[0] - other.width
    to_back = other.high[1] - option.low[1] - option.depth
    to_front = option.high[1] - other.low[1] - other.depth
    return (
        max(to_right - right, to_left - left) >= 0
        or max(to_back - behind, to_front - before) >= 0
        or (max(to_right, to_left) >= 0 and max(to_back, to_front) >= 0)
    )


def drawn_to_leads(
    relations: Sequence[Relation],
    low: Corners,
    high: Corners,
    pulls: Sequence[Sequence[int]],
) -> tuple[Corners, int]:
    """Return the corners along one axis for the shortest leads, and those leads' length.

    Minimises Σ|x_i − pull| under the relations, starting from the least corners.  The sum is
    L♮-convex, so that it is enough to raise sets of corners together, always the set on which
    it falls most, as far as it goes on falling so (Murota, Discrete Convex Analysis, 2003,
    10.3: steepest descent).

    pulls : for each corner but the bay's, the places its leads pull it to, the least first

    >>> drawn_to_leads([Relation(0, 0, 1, 30)], (0, 30, 0), (70, 100, 0), [[40], [40]])
    ((10, 40, 0), 30)
    """
    at = list(low)
    among = [between for between in relations if between.behind != FIXED != between.ahead]
    bound = {i for between in among for i in (between.behind, between.ahead)}
    for i, places in enumerate(pulls):
        if places and i not in bound:  # nobody drags it: the least of the best places
            at[i] = max(low[i], min(high[i], places[(len(places) - 1) // 2]))
    while bound:
        # How much the sum rises with each one's next step.
        rising = {
            i: 2 * bisect_right(pulls[i], at[i]) - len(pulls[i]) if at[i] < high[i] else _STOPPED
            for i in bound
        }
        best, chosen = 0, frozenset[int]()
        falling = [i for i in bound if rising[i] < 0]
        for size in range(1, len(falling) + 1):
            for start in combinations(falling, size):
                group = _dragged(start, among, at)
                gain = sum([rising[i] for i in group])
                if gain < best:
                    best, chosen = gain, group
        if not chosen:
            break
        step = min(
            [high[i] - at[i] for i in chosen]
            + [pull - at[i] for i in chosen for pull in pulls[i] if pull > at[i]]
            + [
                at[between.ahead] - at[between.behind] - between.gap
                for between in among
                if between.behind in chosen and between.ahead not in chosen
            ]
        )
        for i in chosen:
            at[i] += step
    length = sum([abs(at[i] - pull) for i, places in enumerate(pulls) for pull in places])
    return tuple(at), length


def _dragged(start: Sequence[int], among: Sequence[Relation], at: Sequence[int]) -> frozenset[int]:
    """Return what must move along with `start`: whoever it touches, and so on."""
    group = set(start)
    grown = True
    while grown:
        grown = False
        for relation in among:
            if (
                relation.behind in group
                and relation.ahead not in group
                and at[relation.ahead] - at[relation.behind] <= relation.gap
            ):
                group.add(relation.ahead)
                grown = True
    return frozenset(group)

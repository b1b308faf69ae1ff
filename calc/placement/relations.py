"""How two parts on a plan keep clear of one another: difference constraints on corners.

Each part of the search knows the least and the greatest corner of every amplifier that is
taken on.  A relation says x_ahead ≥ x_behind + gap, along one axis.  Lengths in µm.
"""

from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

from calc.placement.options import Option, Point

Box = tuple[int, int, int, int]  # x from, y from, x to, y to
FIXED = -1  # stands for the bay itself in a relation
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


Corners = tuple[int, ...]
Way = tuple[Relation, int]  # and a bit for each box that it clears


def narrowed(
    relations: Sequence[Relation], low: Corners, high: Corners
) -> tuple[Corners, Corners] | None:
    """Return least and greatest corners along the relations' axis, None if there are none.

    >>> narrowed([Relation(0, 0, 1, 30)], (0, 0), (50, 50))
    ((0, 30), (20, 50))
    """
    lows, highs = list(low), list(high)
    for _ in range(len(lows) + 2):
        steady = True
        for _, behind, ahead, gap in relations:
            if ahead == FIXED:
                roof = -gap
            else:
                floor = gap if behind == FIXED else lows[behind] + gap
                if floor > lows[ahead]:
                    lows[ahead] = floor
                    steady = False
                    if floor > highs[ahead]:
                        return None
                if behind == FIXED:
                    continue
                roof = highs[ahead] - gap
            if roof < highs[behind]:
                highs[behind] = roof
                steady = False
                if lows[behind] > roof:
                    return None
        if steady:
            return tuple(lows), tuple(highs)
    return None


def ways_past(one: Option, at: int, corner: Point, box: Box, bit: int) -> list[list[Way]]:
    """Return how to part an option from a keep-out where it stands in its way.

    Four ways for each of its boxes that overlaps: the body with the rooms left and right of
    it, and the body with those in front and behind.

    bit : stands for the first of these boxes, twice this for the second
    """
    (x, y), (front, right, back, left) = corner, one.room
    wide, deep = x + one.width, y + one.depth
    if not (
        x - left < box[2] and wide + right > box[0] and y - front < box[3] and deep + back > box[1]
    ):
        return []
    found = []
    if y < box[3] and deep > box[1]:
        found.append(
            [
                (Relation(0, FIXED, at, box[2] + left), 3 * bit),
                (Relation(0, at, FIXED, one.width + right - box[0]), 3 * bit),
                (Relation(1, FIXED, at, box[3]), bit if front else 3 * bit),
                (Relation(1, at, FIXED, one.depth - box[1]), bit if back else 3 * bit),
            ]
        )
    if x < box[2] and wide > box[0]:
        found.append(
            [
                (Relation(0, FIXED, at, box[2]), 2 * bit if left else 3 * bit),
                (Relation(0, at, FIXED, one.width - box[0]), 2 * bit if right else 3 * bit),
                (Relation(1, FIXED, at, box[3] + front), 3 * bit),
                (Relation(1, at, FIXED, one.depth + back - box[1]), 3 * bit),
            ]
        )
    return found


def rooms_between(one: Option, other: Option) -> tuple[int, int, int, int]:
    """Return the room between two when the other is right, left, behind, in front.

    Rooms may share air: the larger of the two counts.
    """
    return (
        max(one.room[1], other.room[3]),
        max(one.room[3], other.room[1]),
        max(one.room[2], other.room[0]),
        max(one.room[0], other.room[2]),
    )


def ways_apart(
    one: Option, i: int, corner: Point, other: Option, j: int, far: Point, bit: int
) -> list[list[Way]]:
    """Return how to part two options where they stand in each other's way.

    Four ways for each box that they share, as with a keep-out.
    """
    dx, dy = far[0] - corner[0], far[1] - corner[1]
    right, left, behind, before = rooms_between(one, other)
    found: list[list[Way]] = []
    if not (
        -other.width - left < dx < one.width + right
        and -other.depth - before < dy < one.depth + behind
    ):
        return found
    if -other.depth < dy < one.depth:
        found.append(
            [
                (Relation(0, i, j, one.width + right), 3 * bit),
                (Relation(0, j, i, other.width + left), 3 * bit),
                (Relation(1, i, j, one.depth), bit if behind else 3 * bit),
                (Relation(1, j, i, other.depth), bit if before else 3 * bit),
            ]
        )
    if -other.width < dx < one.width:
        found.append(
            [
                (Relation(0, i, j, one.width), 2 * bit if right else 3 * bit),
                (Relation(0, j, i, other.width), 2 * bit if left else 3 * bit),
                (Relation(1, i, j, one.depth + behind), 3 * bit),
                (Relation(1, j, i, other.depth + before), 3 * bit),
            ]
        )
    return found


def can_part(one: Option, other: Option) -> bool:
    """Tell whether two options could stand in one bay, keep-outs left out."""
    right, left, behind, before = rooms_between(one, other)
    to_right = other.high[0] - one.low[0] - one.width
    to_left = one.high[0] - other.low[0] - other.width
    to_back = other.high[1] - one.low[1] - one.depth
    to_front = one.high[1] - other.low[1] - other.depth
    return (
        max(to_right - right, to_left - left) >= 0
        or max(to_back - behind, to_front - before) >= 0
        or (max(to_right, to_left) >= 0 and max(to_back, to_front) >= 0)
    )


def settled(
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

    pulls : for each corner, the places its leads pull it to

    >>> settled([Relation(0, 0, 1, 30)], (0, 30), (70, 100), [[40], [40]])
    ((10, 40), 30)
    """
    at = list(low)
    count = len(at)
    among = [one for one in relations if one.behind != FIXED != one.ahead]
    while True:
        rising = [
            sum(1 if pull <= at[one] else -1 for pull in pulls[one])
            if at[one] < high[one]
            else _STOPPED
            for one in range(count)
        ]
        best, chosen = 0, frozenset[int]()
        falling = [one for one in range(count) if rising[one] < 0]
        for size in range(1, len(falling) + 1):
            for start in combinations(falling, size):
                group = _dragged(start, among, at)
                gain = sum(rising[one] for one in group)
                if gain < best:
                    best, chosen = gain, group
        if not chosen:
            length = sum(abs(at[one] - pull) for one in range(count) for pull in pulls[one])
            return tuple(at), length
        step = min(
            [high[one] - at[one] for one in chosen]
            + [pull - at[one] for one in chosen for pull in pulls[one] if pull > at[one]]
            + [
                at[one.ahead] - at[one.behind] - one.gap
                for one in among
                if one.behind in chosen and one.ahead not in chosen
            ]
        )
        for one in chosen:
            at[one] += step


def _dragged(start: Sequence[int], among: Sequence[Relation], at: Sequence[int]) -> frozenset[int]:
    """Return what must move along with `start`: whoever it touches, and so on."""
    group = set(start)
    grown = True
    while grown:
        grown = False
        for one in among:
            if (
                one.behind in group
                and one.ahead not in group
                and at[one.ahead] - at[one.behind] <= one.gap
            ):
                group.add(one.ahead)
                grown = True
    return frozenset(group)

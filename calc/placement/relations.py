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


def ways_past(option: Option, at: int, corner: Point, box: Box, bit: int) -> list[list[Way]]:
    """Return how to part an option from a keep-out where it stands in its way.

    Four ways for each of its boxes that overlaps: the body with the rooms left and right of
    it, and the body with those in front and behind.

    bit : stands for the first of these boxes, twice this for the second
    """
    (x, y), (front, right, back, left) = corner, option.room
    wide, deep = x + option.width, y + option.depth
    if not (
        x - left < box[2] and wide + right > box[0] and y - front < box[3] and deep + back > box[1]
    ):
        return []
    ways = []
    if y < box[3] and deep > box[1]:
        ways.append(
            [
                (Relation(0, FIXED, at, box[2] + left), 3 * bit),
                (Relation(0, at, FIXED, option.width + right - box[0]), 3 * bit),
                (Relation(1, FIXED, at, box[3]), bit if front else 3 * bit),
                (Relation(1, at, FIXED, option.depth - box[1]), bit if back else 3 * bit),
            ]
        )
    if x < box[2] and wide > box[0]:
        ways.append(
            [
                (Relation(0, FIXED, at, box[2]), 2 * bit if left else 3 * bit),
                (Relation(0, at, FIXED, option.width - box[0]), 2 * bit if right else 3 * bit),
                (Relation(1, FIXED, at, box[3] + front), 3 * bit),
                (Relation(1, at, FIXED, option.depth + back - box[1]), 3 * bit),
            ]
        )
    return ways


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


def ways_apart(
    option: Option, i: int, corner: Point, other: Option, j: int, far: Point, bit: int
) -> list[list[Way]]:
    """Return how to part two options where they stand in each other's way.

    Four ways for each box that they share, as with a keep-out.
    """
    dx, dy = far[0] - corner[0], far[1] - corner[1]
    right, left, behind, before = rooms_between(option, other)
    ways: list[list[Way]] = []
    if not (
        -other.width - left < dx < option.width + right
        and -other.depth - before < dy < option.depth + behind
    ):
        return ways
    if -other.depth < dy < option.depth:
        ways.append(
            [
                (Relation(0, i, j, option.width + right), 3 * bit),
                (Relation(0, j, i, other.width + left), 3 * bit),
                (Relation(1, i, j, option.depth), bit if behind else 3 * bit),
                (Relation(1, j, i, other.depth), bit if before else 3 * bit),
            ]
        )
    if -other.width < dx < option.width:
        ways.append(
            [
                (Relation(0, i, j, option.width), 2 * bit if right else 3 * bit),
                (Relation(0, j, i, other.width), 2 * bit if left else 3 * bit),
                (Relation(1, i, j, option.depth + behind), 3 * bit),
                (Relation(1, j, i, other.depth + before), 3 * bit),
            ]
        )
    return ways


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

    pulls : for each corner, the places its leads pull it to

    >>> drawn_to_leads([Relation(0, 0, 1, 30)], (0, 30), (70, 100), [[40], [40]])
    ((10, 40), 30)
    """
    at = list(low)
    count = len(at)
    among = [between for between in relations if between.behind != FIXED != between.ahead]
    while True:
        rising = [
            sum(1 if pull <= at[i] else -1 for pull in pulls[i]) if at[i] < high[i] else _STOPPED
            for i in range(count)
        ]
        best, chosen = 0, frozenset[int]()
        falling = [i for i in range(count) if rising[i] < 0]
        for size in range(1, len(falling) + 1):
            for start in combinations(falling, size):
                group = _dragged(start, among, at)
                gain = sum(rising[i] for i in group)
                if gain < best:
                    best, chosen = gain, group
        if not chosen:
            length = sum(abs(at[i] - pull) for i in range(count) for pull in pulls[i])
            return tuple(at), length
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

"""Of the placements that give up least, one with short leads and then much spare floor."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from calc.placement.options import Option, Point
from calc.placement.relations import Corners, settled
from calc.placement.search import Node, Search, TooLong


@dataclass(frozen=True)
class Stand:
    """A finished placement: options and corners by amplifier, leads and spare floor.

    length : of all leads inside the bay [µm]
    spare : floor that no body, room or keep-out takes [µm²]
    is_shortest : no placement that gives up as little has shorter leads
    """

    options: tuple[Option, ...]
    corners: tuple[Point, ...]
    length: int
    spare: int
    is_shortest: bool = False

    @property
    def rank(self) -> tuple[int, int]:
        """What is compared: the smaller is the better."""
        return self.length, -self.spare


def shortened(search: Search, found: Node, floor: tuple[int, int], most_steps: int) -> Stand:
    """Return the best stand that gives up no more than what was found.

    floor : width and depth of the bay [µm]
    most_steps : parts to look at; after that the best so far is returned, and says so
    """
    order = search.order
    least = {
        at: min(_alone(one) for one in search.offers[at] if one.cost <= found.bound) for at in order
    }
    best = _stand(search, found, floor, found.corners())
    has_leads = any(one.pulls[0] for own in search.offers for one in own)
    none = (0,) * len(search.offers)
    start = Node((None,) * len(none), ((), ()), (none, none), (none, none))
    stack = [_settled(start, least, None)]
    walk = Search(search.offers, search.keep_outs, search.alike, most_steps)
    try:
        while stack:
            one = stack.pop()
            if one.length > best.length or (has_leads and one.length == best.length == 0):
                continue
            walk.tick()
            parts = walk.parts(one.node, order, one.corners)
            if parts is None:
                stand = _stand(search, one.node, floor, one.corners)
                best = min(best, stand, key=lambda two: two.rank)
                continue
            deeper = [_settled(part, least, one) for part in parts if part.bound <= found.bound]
            # The most promising part is looked at first: it lies on top.
            stack += sorted(
                (part for part in deeper if part.length <= best.length),
                key=lambda part: -part.length,
            )
    except TooLong:
        return best
    return Stand(best.options, best.corners, best.length, best.spare, is_shortest=True)


def _alone(option: Option) -> int:
    """Return the length of an option's leads where nothing else is in the way [µm]."""
    return sum(
        settled((), (option.low[axis],), (option.high[axis],), (option.pulls[axis],))[1]
        for axis in (0, 1)
    )


class Settled(NamedTuple):
    """A node with its amplifiers where their leads are shortest.

    length : of the leads of those taken on, and the least of the others' [µm]
    axes : along x and along y the corners, and the leads' length
    """

    length: int
    node: Node
    axes: tuple[tuple[Corners, int], tuple[Corners, int]]

    @property
    def corners(self) -> list[Point]:
        """Where those taken on stand."""
        return list(zip(self.axes[0][0], self.axes[1][0], strict=True))


def _settled(node: Node, least: Mapping[int, int], before: Settled | None) -> Settled:
    """Settle a node; where it differs from the one before in one axis only, the other stays."""
    found = []
    for axis in (0, 1):
        if (
            before is not None
            and node.options is before.node.options
            and node.relations[axis] is before.node.relations[axis]
        ):
            found.append(before.axes[axis])
            continue
        pulls = [one.pulls[axis] if one else () for one in node.options]
        found.append(settled(node.relations[axis], node.low[axis], node.high[axis], pulls))
    left = sum(least[at] for at, one in enumerate(node.options) if one is None)
    return Settled(found[0][1] + found[1][1] + left, node, (found[0], found[1]))


def _stand(search: Search, node: Node, floor: tuple[int, int], corners: Sequence[Point]) -> Stand:
    """Return a node as finished, with its amplifiers at these corners."""
    options = tuple(node.taken)
    length = sum(
        abs(corner[axis] - pull)
        for one, corner in zip(options, corners, strict=True)
        for axis in (0, 1)
        for pull in one.pulls[axis]
    )
    spare = spare_floor(search, options, corners, floor)
    return Stand(options, tuple(corners), length, spare)


def spare_floor(
    search: Search, options: Sequence[Option], corners: Sequence[Point], floor: tuple[int, int]
) -> int:
    """Return the floor that no body, room or keep-out takes [µm²]."""
    boxes = list(search.keep_outs)
    for one, (x, y) in zip(options, corners, strict=True):
        front, right, back, left = one.room
        boxes.append((x - left, y, x + one.width + right, y + one.depth))
        boxes.append((x, y - front, x + one.width, y + one.depth + back))
    across = sorted({0, floor[0], *(edge for box in boxes for edge in (box[0], box[2]))})
    taken = 0
    for start, end in pairwise(across):
        if start < 0 or end > floor[0]:
            continue
        spans = sorted((box[1], box[3]) for box in boxes if box[0] <= start and end <= box[2])
        reached = 0
        for low, high in spans:
            covered = min(high, floor[1]) - max(low, reached)
            if covered > 0:
                taken += covered * (end - start)
                reached = min(high, floor[1])
    return floor[0] * floor[1] - taken

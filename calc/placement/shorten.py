"""Of the placements that give up least, one with short leads and then much spare floor."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from calc.placement.options import Option, Point
from calc.placement.relations import Corners, drawn_to_leads
from calc.placement.search import Axes, Node, Search, TooLong


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


def shortened(search: Search, reached: Node, floor: tuple[int, int], most_steps: int) -> Stand:
    """Return the best stand that gives up no more than what was found.

    floor : width and depth of the bay [µm]
    most_steps : parts to look at; after that the best so far is returned, and says so
    """
    order = search.order
    least = {
        at: min(_alone(option) for option in search.offers[at] if option.cost <= reached.bound)
        for at in order
    }
    best = _stand(search, reached, floor, reached.low)
    has_leads = any(option.pulls[0] for options in search.offers for option in options)
    stack = [_drawn(search.nobody, least, None)]
    walk = Search(search.offers, search.keep_outs, search.alike, most_steps)
    try:
        while stack:
            drawn = stack.pop()
            if drawn.length > best.length or (has_leads and drawn.length == best.length == 0):
                continue
            walk.tick()
            parts = walk.parts(drawn.node, order, drawn.corners)
            if parts is None:
                stand = _stand(search, drawn.node, floor, drawn.corners)
                best = min(best, stand, key=lambda two: two.rank)
                continue
            deeper = [_drawn(part, least, drawn) for part in parts if part.bound <= reached.bound]
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
        drawn_to_leads((), (option.low[axis],), (option.high[axis],), (option.pulls[axis],))[1]
        for axis in (0, 1)
    )


class Drawn(NamedTuple):
    """A node with its amplifiers where their leads are shortest.

    length : of the leads of those taken on, and the least of the others' [µm]
    axes : along x and along y the corners, and the leads' length
    """

    length: int
    node: Node
    axes: tuple[tuple[Corners, int], tuple[Corners, int]]

    @property
    def corners(self) -> Axes:
        """Where those taken on stand."""
        return self.axes[0][0], self.axes[1][0]


def _drawn(node: Node, least: Mapping[int, int], before: Drawn | None) -> Drawn:
    """Draw a node to its leads; where it differs from that before in one axis, the other stays."""
    axes = []
    for axis in (0, 1):
        if (
            before is not None
            and node.options is before.node.options
            and node.relations[axis] is before.node.relations[axis]
        ):
            axes.append(before.axes[axis])
            continue
        pulls = [option.pulls[axis] if option else () for option in node.options]
        axes.append(drawn_to_leads(node.relations[axis], node.low[axis], node.high[axis], pulls))
    left = sum(least[at] for at, option in enumerate(node.options) if option is None)
    return Drawn(axes[0][1] + axes[1][1] + left, node, (axes[0], axes[1]))


def _stand(search: Search, node: Node, floor: tuple[int, int], axes: Axes) -> Stand:
    """Return a node as finished, with its amplifiers at these corners."""
    options, corners = tuple(node.taken), tuple(zip(*axes, strict=True))[:-1]
    length = sum(
        abs(corner[axis] - pull)
        for option, corner in zip(options, corners, strict=True)
        for axis in (0, 1)
        for pull in option.pulls[axis]
    )
    spare = spare_floor(search, options, corners, floor)
    return Stand(options, corners, length, spare)


def spare_floor(
    search: Search, options: Sequence[Option], corners: Sequence[Point], floor: tuple[int, int]
) -> int:
    """Return the floor that no body, room or keep-out takes [µm²]."""
    boxes = list(search.keep_outs)
    for option, (x, y) in zip(options, corners, strict=True):
        front, right, back, left = option.room
        boxes.append((x - left, y, x + option.width + right, y + option.depth))
        boxes.append((x, y - front, x + option.width, y + option.depth + back))
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

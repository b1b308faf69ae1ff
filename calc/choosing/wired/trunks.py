"""The way of one net along an upright line: its wires, and a dot at every branch."""

from collections.abc import Sequence
from itertools import pairwise
from math import copysign
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
Path: TypeAlias = tuple[Point, ...]

_NEAR = 4.0  # a bend that is nearer to a dot looks like a second join
_STEP = 6.0  # from a pin: no upright line of another net is so near


def trunk(x: float, ends: Sequence[Path]) -> tuple[list[Path], list[Point]]:
    """Return the wires and dots that join ends along the upright line at x.

    ends : each a way from its pin to where it is level with its branch; mostly the pin alone

    >>> trunk(5, [((0, 1),), ((9, 1),)])
    ([((0, 1), (9, 1))], [])
    >>> trunk(5, [((0, 1),), ((9, 1),), ((9, 4),)])
    ([((0, 1), (5, 1)), ((9, 1), (5, 1)), ((9, 4), (5, 4), (5, 1))], [(5, 1)])

    Ends on both sides that are nearly level meet on one level, which the lower takes by its pin.

    >>> wires, dots = trunk(50, [((0, 9),), ((90, 1),), ((90, 8),)])
    >>> wires[0], dots
    (((0, 9), (6.0, 9), (6.0, 8), (50, 8)), [(50, 8)])
    """
    near: dict[Point, list[Point]] = {}

    def join(one: Point, other: Point) -> None:
        if one != other:
            near.setdefault(one, []).append(other)
            near.setdefault(other, []).append(one)

    if len(ends) > 2:
        ends = _levelled(x, ends)
    levels = sorted({end[-1][1] for end in ends})
    if len(levels) == 1 and len(ends) == 2:
        return [(*ends[0], *reversed(ends[1]))], []
    for upper, lower in pairwise(levels):
        join((x, upper), (x, lower))
    for end in ends:
        join(end[-1], (x, end[-1][1]))
    dots = [point for point in near if len(near[point]) > 2]
    pins = {end[-1]: end for end in ends}
    wires: list[Path] = []
    done: set[frozenset[Point]] = set()
    for start in [*pins, *dots]:
        for step in near[start]:
            if frozenset((start, step)) in done:
                continue
            way = [start]
            following: Point | None = step
            while following is not None:
                done.add(frozenset((way[-1], following)))
                way.append(following)
                following = _onward(near, way, pins)
            head, tail = pins.get(way[0], (way[0],)), pins.get(way[-1], (way[-1],))
            wires.append(_straightened((*head[:-1], *way, *reversed(tail[:-1]))))
    return wires, dots


def _levelled(x: float, ends: Sequence[Path]) -> list[Path]:
    """Return the ends, each led to the height of one a little above it on the other side."""
    tips = [end[-1] for end in ends]
    made: list[Path] = []
    for end in ends:
        across, height = end[-1]
        above = [
            level
            for other, level in tips
            if other != across and 0 < height - level < _NEAR and (across, level) not in tips
        ]
        if above and abs(x - across) > 2 * _STEP:
            step = across + copysign(_STEP, x - across)
            made.append((*end, (step, height), (step, min(above))))
        else:
            made.append(end)
    return made


def _onward(
    near: dict[Point, list[Point]], way: list[Point], pins: dict[Point, Path]
) -> Point | None:
    """Return the next corner; None at a dot or pin."""
    here = way[-1]
    if len(near[here]) != 2 or here in pins:
        return None
    return next(point for point in near[here] if point != way[-2])


def _straightened(way: Path) -> Path:
    """Return the way without points in the middle of a straight piece."""
    kept: list[Point] = []
    for point in way:
        if kept and point == kept[-1]:
            continue
        while len(kept) > 1 and any(
            kept[-2][axis] == kept[-1][axis] == point[axis] for axis in (0, 1)
        ):
            kept.pop()
        kept.append(point)
    return tuple(kept)

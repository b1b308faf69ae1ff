"""Which net takes which upright lane: no two wires on one another, and the fewest crossings."""

from collections.abc import Sequence
from dataclasses import dataclass

_NEAR = 6.0  # a wire this near to a bend looks joined to it
_ON = 8.0  # level pieces this near look like one wire
_CROSSING, _AT_A_BEND, _OVERLAP = 1, 50, 200
_EXACT_UP_TO = 9


@dataclass(frozen=True)
class Net:
    """A net by the heights of its ends: at the left column and at the right one."""

    left: tuple[float, ...]
    right: tuple[float, ...]

    @property
    def heights(self) -> tuple[float, ...]:
        """The heights of all its ends."""
        return (*self.left, *self.right)

    @property
    def is_straight(self) -> bool:
        """Whether it needs no lane."""
        return max(self.heights) - min(self.heights) < 0.5


def _crossed(net: Net, levels: Sequence[float]) -> int:
    """Return what it costs that level pieces cross the lane of a net."""
    low, high = min(net.heights), max(net.heights)
    cost = 0
    for level in levels:
        if low - _NEAR < level < high + _NEAR:
            inside = low + _NEAR < level < high - _NEAR
            at_a_bend = any(abs(level - bend) < _NEAR for bend in net.heights)
            cost += _CROSSING if inside and not at_a_bend else _AT_A_BEND
    return cost


def _pair(first: Net, second: Net) -> int:
    """Return what it costs that the first one's lane is left of the second one's."""
    cost = _crossed(first, second.left) + _crossed(second, first.right)
    on = [1 for left in second.left for right in first.right if abs(left - right) < _ON]
    return cost + _OVERLAP * len(on)


def near_levels(nets: Sequence[Net]) -> int:
    """Return how often an end at the left is nearly level with another net's end at the right.

    Where none is, every order of the lanes keeps all wires apart.
    """
    return sum(
        abs(left - right) < _ON
        for net in nets
        for other in nets
        if net is not other
        for left in net.left
        for right in other.right
    )


def ordered(nets: Sequence[Net], last: int | None = None) -> tuple[list[int], int]:
    """Return the bent nets by number, the leftmost first, and what the order costs.

    last : the net that must be the rightmost one

    >>> ordered([Net((10.0,), (10.0,)), Net((40.0,), (70.0,)), Net((90.0,), (120.0,))])
    ([1, 2], 0)
    >>> ordered([Net((40.0,), (70.0,)), Net((50.0,), (80.0,))])
    ([1, 0], 0)
    """
    bent = [at for at, net in enumerate(nets) if not net.is_straight and at != last]
    cost = {(a, b): _pair(nets[a], nets[b]) for a in bent for b in bent if a != b}
    order = _exact(bent, cost) if len(bent) <= _EXACT_UP_TO else _improved(nets, bent, cost)
    if last is not None and not nets[last].is_straight:
        for a in bent:
            cost[a, last] = _pair(nets[a], nets[last])
        order = [*order, last]
    total = _total(order, cost)
    for net in nets:
        if net.is_straight:
            total += sum(_crossed(nets[at], net.heights[:1]) for at in order)
    return order, total


def _total(order: Sequence[int], cost: dict[tuple[int, int], int]) -> int:
    return sum(cost[a, b] for at, a in enumerate(order) for b in order[at + 1 :])


def _exact(bent: Sequence[int], cost: dict[tuple[int, int], int]) -> list[int]:
    """Return the cheapest of all orders: of each set of nets the cheapest order, by its size."""
    best: dict[int, tuple[int, list[int]]] = {0: (0, [])}
    for chosen in range(1, 1 << len(bent)):
        ways = []
        for at, net in enumerate(bent):
            if chosen >> at & 1:
                before, order = best[chosen ^ 1 << at]
                ways.append((before + sum(cost[other, net] for other in order), [*order, net]))
        best[chosen] = min(ways)
    return best[(1 << len(bent)) - 1][1]


def _improved(
    nets: Sequence[Net], bent: Sequence[int], cost: dict[tuple[int, int], int]
) -> list[int]:
    """Return a good order of many: the deepest end leftmost, then each where it costs least."""
    order = sorted(bent, key=lambda at: -max(nets[at].heights))
    found = _total(order, cost)
    while True:
        ways = []
        for net in order:
            rest = [other for other in order if other != net]
            for place in range(len(order)):
                other = [*rest[:place], net, *rest[place:]]
                ways.append((_total(other, cost), other))
        if min(ways)[0] >= found:
            return order
        found, order = min(ways)

"""What filters that act on one edge of a band make together."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from calc.physics.filters import Kind

# Filters whose corners lie closer than this ratio act together; the rest is out of reach.
STACKING_RATIO = 2.0
_TINY = 1e-9


class Stack(NamedTuple):
    """What filters on an edge make together.

    corner_hz, order : of those that act together; None and 0 without a filter
    number : how many they are
    spread : how far apart their corners lie [octaves]
    """

    corner_hz: float | None
    order: int
    number: int
    spread: float


def stacked(kind: Kind, filters: Sequence[tuple[float, int]]) -> Stack:
    """Return what filters on an edge make together.

    filters : (corner [Hz], order) of each

    Where their slope's straight line meets 0 dB is the corner: the mean of the corners'
    logarithms, weighted with the orders.  For equal Butterworth filters this is the
    Linkwitz–Riley corner.

    >>> tuple(stacked("high-pass", [(80.0, 2), (80.0, 2)]))
    (80.0, 4, 2, 0.0)
    >>> tuple(stacked("high-pass", [(5000.0, 2), (250.0, 2)]))
    (5000.0, 2, 1, 0.0)
    """
    if len(filters) < 2:
        return Stack(*filters[0], 1, 0.0) if filters else Stack(None, 0, 0, 0.0)
    # A search asks this some ten thousand times: no more calls than needed.
    if kind == "high-pass":
        limit = max(filters)[0] / STACKING_RATIO * (1 - _TINY)
        within = [made for made in filters if made[0] >= limit]
    else:
        limit = min(filters)[0] * STACKING_RATIO * (1 + _TINY)
        within = [made for made in filters if made[0] <= limit]
    if len(within) == 1:
        return Stack(*within[0], 1, 0.0)
    low, high = min(within)[0], max(within)[0]
    if high / low - 1 < _TINY:
        return Stack(within[0][0], sum([order for _, order in within]), len(within), 0.0)
    whole, logs = 0, 0.0
    for corner, order in within:
        whole += order
        logs += order * math.log(corner)
    return Stack(math.exp(logs / whole), whole, len(within), math.log2(high / low))

"""Who filters what: sections of loudspeakers, the edges of their bands, and the boxes' filters.

Each section has two edges.  An edge that is needed has a window in which its corner may
lie, a wanted corner and a wanted order; it is needed to protect the section, or to hand
the band over to its neighbour.  `split_problem` holds the edges against the boxes,
`split_search` chooses.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from calc.physics.filter_sums import HIGHEST_HZ, LOWEST_HZ
from calc.physics.filters import Family, Kind, has_order

SectionKind = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]
Box = Literal["head-unit", "amplifier", "passive"]

# From which place to which place in the order of pitch a kind reaches.
REACH = {"woofer": (0, 0), "mid-bass": (1, 1), "midrange": (2, 2), "tweeter": (3, 3)}
REACH["full-range"] = (1, 3)
# Filters whose corners lie closer than this ratio act together; the rest is out of reach.
STACKING_RATIO = 2.0
# A setting farther than this ratio from every window that it acts on is not tried.
FAR_RATIO = 4.0
# Our own choice: 6 dB per octave too much or too few count like a quarter of an octave, and
# corners of a stack that differ count with all of their distance: alike they are one known
# filter, apart they are a blunter one.
OCTAVES_PER_ORDER = 0.25
TINY = 1e-9


@dataclass(frozen=True, kw_only=True)
class Section:
    """One loudspeaker, or one on each side, on the amplifier's channels.

    lowest_hz : safe lowest frequency [Hz]; None only for a woofer that needs no protection
    order : order of the filter that protects it, at least
    top_hz : highest frequency at which it plays well [Hz]; None: as high as one hears
    wanted_hz : wanted corner at its lower edge [Hz]; None: the usual one in what is permitted
    gain_db : its level against the others [dB]
    is_bridged : whether its two channels are one output
    tuning_hz : tuning [Hz] of a woofer's ported box; None for a sealed one, or where not known
    distance_m : how far from the listener [m]; None where not known
    """

    kind: SectionKind
    channels: frozenset[int]
    lowest_hz: float | None
    order: int
    top_hz: float | None
    wanted_hz: float | None = None
    gain_db: float = 0.0
    is_bridged: bool = False
    tuning_hz: float | None = None
    distance_m: float | None = None

    def __post_init__(self) -> None:
        if self.wanted_hz is not None and self.wanted_hz < (self.lowest_hz or 0):
            raise ValueError("a wanted corner is not below the safe lowest frequency")

    @property
    def channel_words(self) -> str:
        """The channels as they are written: `1/2`, or `3+4` for a bridged pair."""
        return ("+" if self.is_bridged else "/").join(str(one) for one in sorted(self.channels))


@dataclass(frozen=True, kw_only=True)
class Control:
    """One filter of a box, with one setting for all its channels.

    steps_hz : the corners that can be chosen [Hz], or
    range_hz : lowest and highest corner of a control that turns without steps [Hz]
    times : factors of a range switch
    orders : the orders that can be chosen
    switch : controls of one box with the same word here work one at a time; empty: alone
    can_be_off : whether it can be switched off
    """

    box: Box
    channels: frozenset[int]
    kind: Kind
    family: Family
    orders: tuple[int, ...]
    steps_hz: tuple[float, ...] = ()
    range_hz: tuple[float, float] | None = None
    times: tuple[float, ...] = (1.0,)
    switch: str = ""
    can_be_off: bool = True

    def __post_init__(self) -> None:
        if bool(self.steps_hz) == (self.range_hz is not None):
            raise ValueError("a control has either steps or a range")
        if not self.times or not all(0 < low <= high for low, high in self.ranges_hz()):
            raise ValueError("corners and factors are above 0, and a range rises")
        if not all(has_order(self.family, one) for one in self.orders) or not self.orders:
            raise ValueError("a control has orders of its family")
        if self.switch and not self.can_be_off:
            raise ValueError("a control that works one at a time can be off")

    def ranges_hz(self) -> tuple[tuple[float, float], ...]:
        """Return what can be set, one range [Hz] for each factor or step."""
        if self.range_hz is None:
            return tuple((one * by, one * by) for by in self.times for one in self.steps_hz)
        low, high = self.range_hz
        return tuple((low * by, high * by) for by in self.times)


@dataclass(frozen=True, kw_only=True)
class Passive:
    """A passive network between two sections on the same channels, or one side of it."""

    channels: frozenset[int]
    family: Family
    order: int
    frequency_hz: float
    side: Literal["both", "high-pass", "low-pass"] = "both"


@dataclass(frozen=True, kw_only=True)
class Edge:
    """One end of a section's band.

    section : index of the section
    window_hz : lowest and highest corner that do [Hz]
    wanted_hz, wanted_order : what is aimed at
    least_order : the lowest order that does
    is_needed : False where no filter is asked for; a corner outside the window then spoils
    protects : whether the section can be harmed without it
    is_shared : whether another section is on the same channels
    subsonic_hz : the tuning [Hz] of a ported box, which a high-pass at or a little below it saves
        from what its port no longer holds: good to have, never needed; None elsewhere
    """

    section: int
    kind: Kind
    window_hz: tuple[float, float]
    wanted_hz: float
    wanted_order: int
    least_order: int
    is_needed: bool
    protects: bool
    is_shared: bool = False
    subsonic_hz: float | None = None

    def is_subsonic(self, corner_hz: float) -> bool:
        """Tell whether a corner [Hz] makes a subsonic filter: from an octave below the tuning."""
        top = self.subsonic_hz
        return top is not None and top / 2 * (1 - TINY) <= corner_hz <= top * (1 + TINY)

    def holds(self, corner_hz: float, order: int) -> bool:
        """Tell whether a corner [Hz] of an order does."""
        low, high = self.window_hz
        inside = low * (1 - TINY) <= corner_hz <= high * (1 + TINY)
        return inside and order >= self.least_order

    def deviation(self, corner_hz: float | None, order: int, spread: float = 0.0) -> float:
        """Return how far a corner [Hz] of an order is from what is wanted [octaves].

        corner_hz : None stands for no filter: the band then reaches to the end of hearing
        spread : how far apart the corners of a stack lie [octaves]
        """
        end = LOWEST_HZ if self.kind == "high-pass" else HIGHEST_HZ
        if not self.is_needed:
            if corner_hz is None:
                # Good to have: an octave, so that it is switched on wherever that costs nothing.
                return 0.0 if self.subsonic_hz is None else 1.0
            if self.is_subsonic(corner_hz):
                blunt = OCTAVES_PER_ORDER * max(0, self.wanted_order - order)
                return abs(math.log2(corner_hz / self.wanted_hz)) / 2 + min(blunt, 0.5)
            low, high = self.window_hz
            if self.subsonic_hz is not None and corner_hz <= high:
                return 1.0 + abs(math.log2(corner_hz / self.wanted_hz))
            beyond = corner_hz / high if self.kind == "high-pass" else low / corner_hz
            return max(0.0, math.log2(beyond))
        if corner_hz is None:
            return abs(math.log2(end / self.wanted_hz))
        octaves = abs(math.log2(corner_hz / self.wanted_hz))
        return octaves + spread + OCTAVES_PER_ORDER * abs(order - self.wanted_order)

    def is_silenced(self, corner_hz: float) -> bool:
        """Tell whether a corner [Hz] takes two octaves or more of a shared channel's band away."""
        low, high = self.window_hz
        if not self.is_shared:
            return False
        if self.kind == "high-pass":
            return corner_hz > high * FAR_RATIO
        return corner_hz < low / FAR_RATIO

    def is_far(self, corner_hz: float) -> bool:
        """Tell whether a corner [Hz] lies two octaves or more outside the window."""
        low, high = self.window_hz
        return not low / FAR_RATIO < corner_hz < high * FAR_RATIO


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
    # The search asks this some ten thousand times: no more calls than needed.
    if kind == "high-pass":
        limit = max(filters)[0] / STACKING_RATIO * (1 - TINY)
        near = [one for one in filters if one[0] >= limit]
    else:
        limit = min(filters)[0] * STACKING_RATIO * (1 + TINY)
        near = [one for one in filters if one[0] <= limit]
    if len(near) == 1:
        return Stack(*near[0], 1, 0.0)
    low, high = min(near)[0], max(near)[0]
    if high / low - 1 < TINY:
        return Stack(near[0][0], sum([one[1] for one in near]), len(near), 0.0)
    order, logs = 0, 0.0
    for corner, own in near:
        order += own
        logs += own * math.log(corner)
    return Stack(math.exp(logs / order), order, len(near), math.log2(high / low))

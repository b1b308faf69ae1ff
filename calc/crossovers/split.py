"""Who filters what: sections of loudspeakers, the edges of their bands, and the boxes' filters.

Each section has two edges.  An edge that is needed has a window in which its corner may
lie, a wanted corner and a wanted order; it is needed to protect the section, or to hand
the band over to its neighbour.  `split_problem` holds the edges against the boxes,
`split_search` chooses.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import Literal, NamedTuple

from calc.crossovers.prototypes import Family, Filter, Kind, has_order
from calc.crossovers.sums import HIGHEST_HZ, LOWEST_HZ

SectionKind = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]
Box = Literal["head-unit", "amplifier", "passive"]

# From which place to which place in the order of pitch a kind reaches.
REACH = {"woofer": (0, 0), "mid-bass": (1, 1), "midrange": (2, 2), "tweeter": (3, 3)}
REACH["full-range"] = (1, 3)
# A filter that acts on an edge without being asked for does no harm beyond these.
HARMLESS_HIGH_PASS_HZ, HARMLESS_LOW_PASS_HZ = 30.0, 16_000.0
# Filters whose corners lie closer than this ratio act together; the rest is out of reach.
STACKING_RATIO = 2.0
# A setting farther than this ratio from every window that it acts on is not tried.
FAR_RATIO = 4.0
# Our own choice: 6 dB per octave too much or too few count like a quarter of an octave, and
# corners of a stack that differ count with all of their distance: alike they are one known
# filter, apart they are a blunter one.
OCTAVES_PER_ORDER = 0.25
_TINY = 1e-9


@dataclass(frozen=True, kw_only=True)
class Section:
    """One loudspeaker, or one on each side, on the amplifier's channels.

    lowest_hz : safe lowest frequency [Hz]; None only for a woofer that needs no protection
    order : order of the filter that protects it, at least
    top_hz : highest frequency at which it plays well [Hz]; None: as high as one hears
    wanted_hz : wanted corner at its lower edge [Hz]; None: the middle of what is permitted
    gain_db : its level against the others [dB]
    is_bridged : whether its two channels are one output
    """

    kind: SectionKind
    channels: frozenset[int]
    lowest_hz: float | None
    order: int
    top_hz: float | None
    wanted_hz: float | None = None
    gain_db: float = 0.0
    is_bridged: bool = False

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

    def holds(self, corner_hz: float, order: int) -> bool:
        """Tell whether a corner [Hz] of an order does."""
        low, high = self.window_hz
        inside = low * (1 - _TINY) <= corner_hz <= high * (1 + _TINY)
        return inside and order >= self.least_order

    def deviation(self, corner_hz: float | None, order: int, spread: float = 0.0) -> float:
        """Return how far a corner [Hz] of an order is from what is wanted [octaves].

        corner_hz : None stands for no filter: the band then reaches to the end of hearing
        spread : how far apart the corners of a stack lie [octaves]
        """
        end = LOWEST_HZ if self.kind == "high-pass" else HIGHEST_HZ
        if not self.is_needed:
            if corner_hz is None:
                return 0.0
            low, high = self.window_hz
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


def sections_below(sections: Sequence[Section], at: int) -> list[int]:
    """Return the sections that take over below the one at `at`."""
    own_low = REACH[sections[at].kind][0]
    found = [
        (REACH[one.kind][1], other)
        for other, one in enumerate(sections)
        if other != at and REACH[one.kind][1] < own_low
    ]
    full = [other for other, one in enumerate(sections) if one.kind == "full-range"]
    if sections[at].kind == "tweeter" and full and not any(rank > 0 for rank, _ in found):
        return full  # a tweeter that is added to a full-range pair
    highest = max((rank for rank, _ in found), default=None)
    return [other for rank, other in found if rank == highest]


def edges_of(sections: Sequence[Section]) -> tuple[Edge, ...]:
    """Return both edges of every section, the lower one first."""
    below = [sections_below(sections, at) for at in range(len(sections))]
    lower = [_lower_edge(sections, at, below[at]) for at in range(len(sections))]
    edges = []
    for at in range(len(sections)):
        above = [other for other, under in enumerate(below) if at in under]
        shared = any(
            one.channels == sections[at].channels
            for other, one in enumerate(sections)
            if other != at
        )
        own = (lower[at], _upper_edge(sections, at, above, lower))
        edges += [replace(one, is_shared=shared) for one in own]
    return tuple(edges)


def gaps(sections: Sequence[Section]) -> tuple[tuple[int, int], ...]:
    """Return pairs (lower, upper) of sections that do not meet: a hole in the band."""
    return tuple(
        (under, at)
        for at, section in enumerate(sections)
        for under in sections_below(sections, at)
        if sections[under].top_hz is not None
        and section.lowest_hz is not None
        and (sections[under].top_hz or 0) < section.lowest_hz * (1 - _TINY)
    )


def window_hz(sections: Sequence[Section], at: int) -> tuple[float, float] | None:
    """Return where the lower edge of a section may lie [Hz]; None when nothing protects it.

    From its safe lowest frequency to the top of what plays below; an octave, where
    nothing plays below or the two do not meet.
    """
    lowest = sections[at].lowest_hz
    if lowest is None:
        return None
    tops = [sections[one].top_hz for one in sections_below(sections, at)]
    high = min((top for top in tops if top is not None), default=2 * lowest)
    return lowest, high if high >= lowest else 2 * lowest


def _lower_edge(sections: Sequence[Section], at: int, below: list[int]) -> Edge:
    section = sections[at]
    window = window_hz(sections, at)
    if window is None:
        return Edge(
            section=at, kind="high-pass", window_hz=(0.0, HARMLESS_HIGH_PASS_HZ),
            wanted_hz=LOWEST_HZ, wanted_order=0, least_order=0, is_needed=False, protects=False,
        )  # fmt: skip
    low, high = window
    # Two figures are what a dial can be set to.  Where the two do not meet, and where nothing
    # plays below, as low as is safe.
    tops = [sections[one].top_hz for one in below]
    below = below if all(top is None or top >= low for top in tops) else []
    middle = min(max(float(f"{math.sqrt(low * high):.2g}"), low), high) if below else low
    wanted = section.wanted_hz or middle
    return Edge(
        section=at, kind="high-pass", window_hz=(low, max(high, wanted)), wanted_hz=wanted,
        wanted_order=section.order, least_order=section.order, is_needed=True, protects=True,
    )  # fmt: skip


def _upper_edge(
    sections: Sequence[Section], at: int, above: list[int], lower: Sequence[Edge]
) -> Edge:
    section = sections[at]
    # With nothing above there is nobody to hand over to; a woofer is cut all the same.
    if section.top_hz is None or not (above or section.kind == "woofer"):
        return Edge(
            section=at,
            kind="low-pass",
            window_hz=(section.top_hz or HARMLESS_LOW_PASS_HZ, math.inf),
            wanted_hz=HIGHEST_HZ, wanted_order=0, least_order=0, is_needed=False, protects=False,
        )  # fmt: skip
    top, low = section.top_hz, section.top_hz / 2
    wanted, order = top, section.order
    starts = [sections[one].lowest_hz for one in above]
    reached = [one for one in starts if one is not None and one <= top]
    if reached:
        first = min(above, key=lambda one: (lower[one].wanted_hz, lower[one].wanted_order))
        low, order = min(reached), lower[first].wanted_order
        wanted = min(max(lower[first].wanted_hz, low), top)
    return Edge(
        section=at, kind="low-pass", window_hz=(low, top), wanted_hz=wanted,
        wanted_order=order, least_order=1, is_needed=True, protects=False,
    )  # fmt: skip


def passive_filters(
    sections: Sequence[Section], networks: Iterable[Passive]
) -> tuple[tuple[Filter, ...], ...]:
    """Return each section's passive filters.

    A network stands between two neighbours in pitch on its channels; several stand in the
    order of their corners, where these are nearest to the wanted ones.  One side alone (a
    capacitor or a coil) belongs to the section whose edge is wanted nearest.

    Raises ValueError for a network without such a pair.
    """
    found: list[list[Filter]] = [[] for _ in sections]
    edges = edges_of(sections)
    lower = [edge for edge in edges if edge.kind == "high-pass"]
    listed = list(networks)
    for channels in dict.fromkeys(one.channels for one in listed):
        on_channels = [one for one in listed if one.channels == channels]
        rising = sorted(
            (one for one in on_channels if one.side == "both"), key=lambda one: one.frequency_hz
        )
        own = [at for at, one in enumerate(sections) if one.channels == channels]
        own.sort(key=lambda at: REACH[sections[at].kind])
        if not own or len(rising) >= len(own):
            raise ValueError("a passive network stands between two sections on its channels")
        for network in on_channels:
            if network.side != "both":
                at = _nearest(edges, own, network)
                found[at].append(_part(network, network.side))
        pairs = min(
            combinations(pairwise(own), len(rising)),
            key=lambda pairs: sum(
                abs(math.log(network.frequency_hz / lower[pair[1]].wanted_hz))
                for network, pair in zip(rising, pairs, strict=True)
            ),
        )
        for network, (below, above) in zip(rising, pairs, strict=True):
            found[below].append(_part(network, "low-pass"))
            found[above].append(_part(network, "high-pass"))
    return tuple(tuple(one) for one in found)


def _nearest(edges: Sequence[Edge], own: Sequence[int], network: Passive) -> int:
    """Return the section whose edge on the network's side is wanted nearest to its corner."""
    fitting = [one for one in edges if one.section in own and one.kind == network.side]
    return min(fitting, key=lambda one: abs(math.log(network.frequency_hz / one.wanted_hz))).section


def _part(network: Passive, kind: Kind) -> Filter:
    return Filter(
        kind=kind,
        family=network.family,
        order=network.order,
        frequency_hz=network.frequency_hz,
    )


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
        limit = max(filters)[0] / STACKING_RATIO * (1 - _TINY)
        near = [one for one in filters if one[0] >= limit]
    else:
        limit = min(filters)[0] * STACKING_RATIO * (1 + _TINY)
        near = [one for one in filters if one[0] <= limit]
    if len(near) == 1:
        return Stack(*near[0], 1, 0.0)
    low, high = min(near)[0], max(near)[0]
    if high / low - 1 < _TINY:
        return Stack(near[0][0], sum([one[1] for one in near]), len(near), 0.0)
    order, logs = 0, 0.0
    for corner, own in near:
        order += own
        logs += own * math.log(corner)
    return Stack(math.exp(logs / order), order, len(near), math.log2(high / low))

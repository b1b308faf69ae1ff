"""The edges of every section's band: where a corner may lie, which one is aimed at, who makes it
already.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

from calc.crossovers.splitting.model import REACH, TINY, Edge, Passive, Section
from calc.physics.dial_marks import marks_between, usual_hz
from calc.physics.filter_sums import HIGHEST_HZ, LOWEST_HZ
from calc.physics.filters import Filter, Kind

# A low-pass that acts on an edge without being asked for does no harm from here on.
HARMLESS_LOW_PASS_HZ = 16_000.0
# A subwoofer gets no musical high-pass.  One that cannot be switched off does no harm up to a
# third of an octave above the safe lowest frequency, which is 25 Hz where none is given (common
# practice, no source).
SUB_LOWEST_HZ, SUB_MARGIN = 25.0, 1.26
# Doors and subwoofer hand over here unless something speaks against it (common practice, no
# source).
HAND_OVER_HZ = 80.0


def sections_below(sections: Sequence[Section], at: int) -> list[int]:
    """Return the sections that take over below the one at `at`."""
    lowest = REACH[sections[at].kind][0]
    lower = [
        (REACH[section.kind][1], other)
        for other, section in enumerate(sections)
        if other != at and REACH[section.kind][1] < lowest
    ]
    full = [other for other, section in enumerate(sections) if section.kind == "full-range"]
    if sections[at].kind == "tweeter" and full and not any(rank > 0 for rank, _ in lower):
        return full  # a tweeter that is added to a full-range pair
    highest = max((rank for rank, _ in lower), default=None)
    return [other for rank, other in lower if rank == highest]


def edges_of(sections: Sequence[Section]) -> tuple[Edge, ...]:
    """Return both edges of every section, the lower one first."""
    below = [sections_below(sections, at) for at in range(len(sections))]
    lower = [_lower_edge(sections, at, below[at]) for at in range(len(sections))]
    edges = []
    for at in range(len(sections)):
        above = [other for other, under in enumerate(below) if at in under]
        shared = any(
            section.channels == sections[at].channels
            for other, section in enumerate(sections)
            if other != at
        )
        both = (lower[at], _upper_edge(sections, at, above, lower))
        edges += [replace(edge, is_shared=shared) for edge in both]
    return tuple(edges)


def gaps(sections: Sequence[Section]) -> tuple[tuple[int, int], ...]:
    """Return pairs (lower, upper) of sections that do not meet: a hole in the band."""
    return tuple(
        (under, at)
        for at, section in enumerate(sections)
        for under in sections_below(sections, at)
        if sections[under].top_hz is not None
        and section.lowest_hz is not None
        and (sections[under].top_hz or 0) < section.lowest_hz * (1 - TINY)
    )


def window_hz(sections: Sequence[Section], at: int) -> tuple[float, float] | None:
    """Return where the lower edge of a section may lie [Hz]; None when nothing protects it.

    From its safe lowest frequency to the top of what plays below; an octave, where
    nothing plays below or the two do not meet.
    """
    lowest = sections[at].lowest_hz
    if lowest is None:
        return None
    tops = [sections[under].top_hz for under in sections_below(sections, at)]
    high = min((top for top in tops if top is not None), default=2 * lowest)
    return lowest, high if high >= lowest else 2 * lowest


def _subsonic_edge(section: Section, at: int) -> Edge:
    """Return a subwoofer's lower edge: no filter, or a subsonic one at or below the tuning."""
    tuning = section.tuning_hz
    limit = SUB_MARGIN * (tuning or section.lowest_hz or SUB_LOWEST_HZ)
    return Edge(
        section=at, kind="high-pass", window_hz=(0.0, limit),
        wanted_hz=LOWEST_HZ if tuning is None else marks_between(low_hz=10.0, high_hz=tuning)[-1],
        wanted_order=0 if tuning is None else section.order, least_order=0, is_needed=False,
        protects=False, subsonic_hz=tuning,
    )  # fmt: skip


def _lower_edge(sections: Sequence[Section], at: int, below: list[int]) -> Edge:
    section = sections[at]
    window = None if section.kind == "woofer" else window_hz(sections, at)
    if window is None:
        return _subsonic_edge(section, at)
    low, high = window
    # Where the two do not meet, and where nothing plays below, as low as is safe.
    tops = [sections[under].top_hz for under in below]
    below = below if all(top is None or top >= low for top in tops) else []
    aim = math.sqrt(low * high) if below else low
    if below and all(sections[under].kind == "woofer" for under in below):
        aim = HAND_OVER_HZ
    wanted = section.wanted_hz or usual_hz(low_hz=low, high_hz=high, aim_hz=aim)
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
    wanted, order = usual_hz(low_hz=low, high_hz=top, aim_hz=top), section.order
    starts = [sections[over].lowest_hz for over in above]
    reached = [start for start in starts if start is not None and start <= top]
    if reached:
        first = min(above, key=lambda over: (lower[over].wanted_hz, lower[over].wanted_order))
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
    filters: list[list[Filter]] = [[] for _ in sections]
    edges = edges_of(sections)
    lower = [edge for edge in edges if edge.kind == "high-pass"]
    listed = list(networks)
    for channels in dict.fromkeys(network.channels for network in listed):
        on_channels = [network for network in listed if network.channels == channels]
        rising = sorted(
            (network for network in on_channels if network.side == "both"),
            key=lambda network: network.frequency_hz,
        )
        fed = [at for at, section in enumerate(sections) if section.channels == channels]
        fed.sort(key=lambda at: REACH[sections[at].kind])
        if not fed or len(rising) >= len(fed):
            raise ValueError(
                "a passive crossover stands between two speaker groups on its channels"
            )
        for network in on_channels:
            if network.side != "both":
                at = _nearest(edges, fed, network)
                filters[at].append(_part(network, network.side))
        pairs = min(
            combinations(pairwise(fed), len(rising)),
            key=lambda pairs: sum(
                abs(math.log(network.frequency_hz / lower[pair[1]].wanted_hz))
                for network, pair in zip(rising, pairs, strict=True)
            ),
        )
        for network, (below, above) in zip(rising, pairs, strict=True):
            filters[below].append(_part(network, "low-pass"))
            filters[above].append(_part(network, "high-pass"))
    return tuple(map(tuple, filters))


def _nearest(edges: Sequence[Edge], fed: Sequence[int], network: Passive) -> int:
    """Return the section whose edge on the network's side is wanted nearest to its corner."""
    fitting = [edge for edge in edges if edge.section in fed and edge.kind == network.side]
    nearest = min(fitting, key=lambda edge: abs(math.log(network.frequency_hz / edge.wanted_hz)))
    return nearest.section


def _part(network: Passive, kind: Kind) -> Filter:
    return Filter(
        kind=kind,
        family=network.family,
        order=network.order,
        frequency_hz=network.frequency_hz,
    )

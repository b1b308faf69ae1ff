"""Sections of loudspeakers, the edges of their bands, and the boxes' filters."""

import math
from dataclasses import dataclass
from typing import Literal

from calc.physics.filter_sums import HIGHEST_HZ, LOWEST_HZ
from calc.physics.filters import Family, Kind, has_order

SectionKind = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]
Box = Literal["head-unit", "amplifier", "passive"]

# From which place to which place in the order of pitch a kind reaches.
REACH: dict[SectionKind, tuple[int, int]] = {
    "woofer": (0, 0),
    "mid-bass": (1, 1),
    "midrange": (2, 2),
    "tweeter": (3, 3),
    "full-range": (1, 3),
}
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
            raise ValueError("a wanted cut-off lies at the safe lowest frequency or above")

    @property
    def channel_words(self) -> str:
        """The channels as they are written: `1/2`, or `3+4` for a bridged pair."""
        return ("+" if self.is_bridged else "/").join(map(str, sorted(self.channels)))


@dataclass(frozen=True, kw_only=True)
class Control:
    """One filter of a box, with one setting for all its channels.

    steps_hz : the corners that its knob is set to [Hz]
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
    steps_hz: tuple[float, ...]
    times: tuple[float, ...] = (1.0,)
    switch: str = ""
    can_be_off: bool = True

    def __post_init__(self) -> None:
        if not self.steps_hz or not self.times or min(*self.steps_hz, *self.times) <= 0:
            raise ValueError("a control has corners and factors, and all are above 0")
        if not all(has_order(self.family, order) for order in self.orders) or not self.orders:
            raise ValueError("a control has orders of its family")
        if self.switch and not self.can_be_off:
            raise ValueError("a control that works one at a time can be off")

    def corners_hz(self) -> tuple[float, ...]:
        """Return what can be set [Hz]: every step, for each factor in turn."""
        return tuple(step * factor for factor in self.times for step in self.steps_hz)


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

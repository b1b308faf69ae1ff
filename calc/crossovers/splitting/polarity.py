"""Which way round each section is joined: decided here once, for wiring, test, settings and sum.

The filters decide between an active tweeter and what plays below it: 12 dB per octave on both
sides of one frequency ask for one side reversed, 24 dB for none.  A passive network is joined by
its maker's marks, never reversed.  Between subwoofer and doors the car decides, so that the
subwoofer is drawn normal and tried both ways.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from operator import itemgetter, mul
from typing import Literal

from calc.crossovers.splitting.model import REACH, Section
from calc.crossovers.splitting.problem import Split
from calc.physics.delays import sound_speed
from calc.physics.filter_sums import LOWEST_HZ, Voice, grid_hz, ripple_of, sum_db

Way = Literal["as drawn", "other", ""]
_PER_OCTAVE = 8
_AIR_C = 20.0
_CANCELLED_DB = -15.0  # our own limit: deeper below what both could reach, a sum is a hole


@dataclass(frozen=True, kw_only=True)
class Polarity:
    """How a section is joined.

    is_reversed : + of the output to − of the speaker
    is_marked : a passive network's marks are followed
    is_turned_inside : its passive network is taken to turn it, as the maker's marks then have it;
        outside it is joined normal all the same
    try_both : both ways are to be tried, and the one that is louder at `at_hz` kept
    at_hz : where it meets the section that it is compared with [Hz]; None where with none
    worth_db : how much louder the two are there as drawn than the other way round [dB]; None where
        nothing is compared, and where one of the ways cancels
    cancels : the way that cancels at `at_hz`: `as drawn`, `other`; empty where neither does
    """

    is_reversed: bool = False
    is_marked: bool = False
    is_turned_inside: bool = False
    try_both: bool = False
    at_hz: float | None = None
    worth_db: float | None = None
    cancels: Way = ""

    @property
    def is_turned(self) -> bool:
        """Whether the sum sees it turned round, outside or inside its network."""
        return self.is_reversed != self.is_turned_inside

    @property
    def word(self) -> Literal["normal", "reversed"]:
        """`normal` or `reversed`."""
        return "reversed" if self.is_reversed else "normal"


@dataclass(frozen=True)
class _Chain:
    """The sections that make up the sum, the lowest first, with what they play."""

    sections: Sequence[Section]
    split: Split
    voices: Sequence[Voice]
    members: tuple[int, ...]
    network_of: Mapping[int, int]

    @property
    def woofers(self) -> tuple[int, ...]:
        return tuple(at for at in self.members if self.sections[at].kind == "woofer")

    @property
    def upper(self) -> tuple[int, ...]:
        return tuple(at for at in self.members if at not in self.woofers)

    def levelled(self) -> "_Chain":
        """Return the chain with its subwoofers as loud as the loudest of the rest."""
        gains = [self.voices[at].gain_db for at in self.upper]
        voices = [
            replace(voice, gain_db=max(gains)) if gains and at in self.woofers else voice
            for at, voice in enumerate(self.voices)
        ]
        return replace(self, voices=voices)

    def corner_hz(self, section: int, kind: str) -> float | None:
        return next(
            made.corner_hz
            for made in self.split.edges
            if made.edge.section == section and made.edge.kind == kind
        )

    def meeting_hz(self, low: int, high: int) -> float | None:
        """Return where two neighbours meet [Hz]: between the corners of the one and the other."""
        corners = [self.corner_hz(low, "low-pass"), self.corner_hz(high, "high-pass")]
        known = [corner for corner in corners if corner is not None]
        return math.prod(known) ** (1 / len(known)) if known else None

    def ripples_db(
        self, members: Sequence[int], ways: Sequence[Mapping[int, int]]
    ) -> list[float | None]:
        """Return highest less lowest level [dB] of the sum for each way; None where it cancels.

        The band begins an octave above the lowest corner, for below that the roll-off is meant.

        ways : the sign of each member
        """
        corners = [self.corner_hz(at, "high-pass") for at in members]
        known = [corner for corner in corners if corner is not None]
        start = LOWEST_HZ if len(known) < len(corners) else 2 * min(known)
        more = [made.frequency_hz for at in members for made in self.voices[at].filters]
        band = [hz for hz in grid_hz(*more, per_octave=_PER_OCTAVE) if hz >= start]
        responses = [[self.voices[at].response(hz) for at in members] for hz in band]
        turns = [[way[at] for at in members] for way in ways]
        return [
            ripple_of((list(map(mul, signs, parts)) for parts in responses), deepest_db=-math.inf)
            for signs in turns
        ]


def polarities_of(
    sections: Sequence[Section],
    split: Split,
    voices: Sequence[Voice],
    summed: tuple[int, ...],
    partner_of: Mapping[int, int],
    network_of: Mapping[int, int],
    *,
    has_delays: bool,
) -> tuple[tuple[Polarity, ...], float | None]:
    """Return the polarity of every section, and the ripple of the sum [dB], None with a hole.

    voices : of the sections, none of them reversed
    summed : the sections that make up the sum; `partner_of` names for each other section the one
        that plays its band
    network_of : for each section on a passive network the lowest section of that network
    has_delays : whether a box makes up for what the speakers' distances differ by

    The ripple is that with the subwoofer's better way round, which is kept when both are tried, and
    with the subwoofer as loud as the rest, to which it is set by ear.
    """
    members = tuple(sorted(summed, key=lambda at: (REACH[sections[at].kind], at)))
    chain = _Chain(sections, split, voices, members, network_of)
    signs = dict.fromkeys(members, 1) | _best_signs(chain)
    joined = {at: _plain(at, signs[at], network_of) for at in members}
    joined |= _compared(chain, signs, has_delays)
    for at in range(len(sections)):
        if at not in joined:
            joined[at] = _like(joined[partner_of[at]], at, sections[at], network_of)
    every = [joined[at] for at in range(len(sections))]
    ways = [signs]
    if chain.woofers:
        ways.append(signs | dict.fromkeys(chain.woofers, -1))
    ripples = chain.levelled().ripples_db(members, ways)
    return tuple(every), min((ripple for ripple in ripples if ripple is not None), default=None)


def _plain(at: int, sign: int, network_of: Mapping[int, int]) -> Polarity:
    is_marked = at in network_of
    return Polarity(
        is_reversed=sign == -1 and not is_marked,
        is_marked=is_marked,
        is_turned_inside=sign == -1 and is_marked,
    )


def _like(partner: Polarity, at: int, section: Section, network_of: Mapping[int, int]) -> Polarity:
    """Return the polarity of a section that plays the band of another one."""
    if at in network_of:
        return Polarity(is_marked=True)
    if partner.is_marked:  # it has no marks of its own
        return Polarity()
    return partner if section.kind != "woofer" else replace(partner, is_reversed=False)


def _best_signs(chain: _Chain) -> dict[int, int]:
    """Return the sign of every section above the subwoofer with which these sum flattest.

    Fixed is the lowest of each network, by whose marks all of it is joined; where there is no
    network, the lowest of all.  Among equals the fewest are turned.
    """
    fixed = {chain.network_of[at] for at in chain.upper if at in chain.network_of}
    fixed = fixed or set(chain.upper[:1])
    free = [at for at in chain.upper if at not in fixed]
    plain = dict.fromkeys(chain.upper, 1)
    if not free:
        return plain
    ways = [
        plain | dict(zip(free, choice, strict=True))
        for choice in product((1, -1), repeat=len(free))
    ]
    ripples = zip(chain.ripples_db(chain.upper, ways), ways, strict=True)
    flat = [
        (round(ripple, 6), list(way.values()).count(-1), way)
        for ripple, way in ripples
        if ripple is not None
    ]
    return min(flat, key=itemgetter(0, 1))[2] if flat else plain


def _compared(chain: _Chain, signs: Mapping[int, int], has_delays: bool) -> dict[int, Polarity]:
    """Return the sections that are compared with a neighbour, with what comes of it.

    Of two neighbours the upper one is tried both ways, unless a network holds it; of subwoofer and
    doors the subwoofer is.
    """
    compared = {}
    for low, high in pairwise(chain.members):
        same = low in chain.network_of and chain.network_of.get(low) == chain.network_of.get(high)
        at_hz = chain.meeting_hz(low, high)
        if same or at_hz is None:
            continue
        is_sub = chain.sections[low].kind == "woofer"
        turned = low if is_sub or high in chain.network_of else high
        if turned in chain.network_of:
            continue
        worth, cancels = _worth(chain, signs, low, high, at_hz)
        is_open = is_sub or not (
            has_delays or _are_near(chain.sections[low], chain.sections[high], at_hz)
        )
        compared[turned] = Polarity(
            is_reversed=signs[turned] == -1,
            try_both=is_open,
            at_hz=at_hz,
            worth_db=worth,
            cancels=cancels,
        )
    return compared


def _are_near(section: Section, other: Section, at_hz: float) -> bool:
    """Tell whether two paths differ by no more than an eighth of a wave: c/(8·f)."""
    if section.distance_m is None or other.distance_m is None:
        return False
    apart = abs(section.distance_m - other.distance_m)
    return apart <= sound_speed(air_c=_AIR_C) / (8 * at_hz)


def _worth(
    chain: _Chain, signs: Mapping[int, int], low: int, high: int, at_hz: float
) -> tuple[float | None, Way]:
    below, above = (signs[at] * chain.voices[at].response(at_hz) for at in (low, high))
    loudest = sum_db([abs(below) + abs(above)])
    levels = [sum_db([below, above]), sum_db([below, -above])]
    gone = [
        level is None or (loudest is not None and level - loudest < _CANCELLED_DB)
        for level in levels
    ]  # fmt: skip
    if any(gone):
        return None, "as drawn" if gone[0] else "other"
    drawn, other = levels
    assert drawn is not None and other is not None
    return drawn - other, ""

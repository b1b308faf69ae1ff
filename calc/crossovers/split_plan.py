"""A split with what follows from it: names, voices, polarities, the summed response."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from calc.core.figures import quantity
from calc.crossovers.fields import slope_words
from calc.crossovers.prototypes import Filter
from calc.crossovers.split import REACH, Control, Edge, Section, gaps
from calc.crossovers.split_fields import System
from calc.crossovers.split_problem import Problem, Setting, Split
from calc.crossovers.split_search import best_split
from calc.crossovers.sums import LOWEST_HZ, Voice, grid_hz, sum_db

BOX_WORDS = {"head-unit": "head unit", "amplifier": "amplifier", "passive": "passive network"}
_PER_OCTAVE = 8


@dataclass(frozen=True)
class Plan:
    """The best split of a system.

    names : of the sections, told apart by number where a kind is there twice
    voices : of the sections, with the polarity that sums best
    summed : the sections that make up the sum; others play the same band as one of them
    reversed : the sections whose leads are exchanged, all sections of a passive network alike
    ripple_db : of the sum [dB]; None when it has a hole
    capacitor_hz : the corner [Hz] of each active tweeter that gets a protection capacitor
    """

    system: System
    split: Split
    names: tuple[str, ...]
    voices: tuple[Voice, ...]
    summed: tuple[int, ...]
    reversed: tuple[int, ...]
    ripple_db: float | None
    capacitor_hz: Mapping[int, float]

    @property
    def is_ready(self) -> bool:
        """Whether nothing is missing and all sections meet."""
        return self.split.is_complete and not gaps(self.system.sections)

    def settings_of(self, box: str) -> list[tuple[Control, Setting]]:
        """Return the filters of a box with their settings, in the order of the rows."""
        pairs = zip(self.system.controls, self.split.settings, strict=True)
        return [(control, setting) for control, setting in pairs if control.box == box]

    def level_db(self, frequency_hz: float) -> float | None:
        """Return the level [dB] of the sum at a frequency [Hz]."""
        return sum_db([self.voices[at].response(frequency_hz) for at in self.summed])


def channel_words(channels: frozenset[int]) -> str:
    """Return channels as a row writes them.

    >>> channel_words(frozenset((2, 1)))
    '1/2'
    """
    return "/".join(str(one) for one in sorted(channels))


def edge_words(edge: Edge, short: bool = False) -> str:
    """Say what an edge needs."""
    low, high = edge.window_hz
    between = f"between {quantity(low, 'Hz')} and {quantity(high, 'Hz')}"
    if short:
        return between
    kind = "a high-pass" if edge.kind == "high-pass" else "a low-pass"
    return f"{kind} {between} of at least {slope_words(edge.least_order)}"


def capacitor_farad(ohm: float, corner_hz: float) -> float:
    """Return the protection capacitor [F] for a tweeter [Ω] that is crossed at a corner [Hz].

    C = 1/(2π·R·f_c/2): its own corner lies an octave below (common practice, no source).

    >>> round(capacitor_farad(4, 3200) * 1e6, 1)
    24.9
    """
    return 1 / (2 * math.pi * ohm * corner_hz / 2)


def plan_of(system: System, *, with_capacitor: bool) -> Plan:
    """Return the best split of a system, with polarities chosen."""
    split = best_split(Problem(system.sections, system.controls, system.networks))
    capacitors = _active_tweeters(system, split) if with_capacitor else {}
    voices = tuple(
        Voice(
            filters=_filters(split, at, capacitors.get(at)),
            gain_db=section.gain_db,
        )
        for at, section in enumerate(system.sections)
    )
    summed = _summed(system.sections)
    groups = _network_groups(system)
    ripple, signs = _best_polarity(split, voices, summed, groups, system)
    # What plays the same band as a section of the sum goes with it.
    for at in range(len(voices)):
        signs.setdefault(at, signs[_partner(system.sections, at, summed)])
    return Plan(
        system=system,
        split=split,
        names=section_names([one.kind for one in system.sections]),
        voices=tuple(
            replace(voice, is_reversed=signs[at] == -1) for at, voice in enumerate(voices)
        ),
        summed=summed,
        # Within a network its maker has seen to the polarity: its lowest section counts for all.
        reversed=tuple(at for at in range(len(voices)) if signs[groups.get(at, at)] == -1),
        ripple_db=ripple,
        capacitor_hz=capacitors,
    )


def _network_groups(system: System) -> dict[int, int]:
    """Return for each section on a passive network the lowest section of that network."""
    found = {}
    for channels in {one.channels for one in system.networks}:
        own = [at for at, one in enumerate(system.sections) if one.channels == channels]
        lowest = min(own, key=lambda at: REACH[system.sections[at].kind])
        found |= dict.fromkeys(own, lowest)
    return found


def _overlap(one: Section, other: Section) -> bool:
    return REACH[one.kind][0] <= REACH[other.kind][1] and REACH[other.kind][0] <= REACH[one.kind][1]


def _partner(sections: tuple[Section, ...], at: int, summed: tuple[int, ...]) -> int:
    """Return the section of the sum that plays the lowest part of the same band."""
    own = [one for one in summed if _overlap(sections[one], sections[at])]
    return min(own, key=lambda one: REACH[sections[one].kind])


def section_names(kinds: Sequence[str]) -> tuple[str, ...]:
    """Return a name for each section: its kind, with a number where that is there twice.

    >>> section_names(["tweeter", "woofer", "woofer"])
    ('tweeter', 'woofer 1', 'woofer 2')
    """
    return tuple(
        f"{kind} {kinds[: at + 1].count(kind)}" if kinds.count(kind) > 1 else kind
        for at, kind in enumerate(kinds)
    )


def _active_tweeters(system: System, split: Split) -> dict[int, float]:
    """Return the corners [Hz] of tweeters whose high-pass is made, and not by a network."""
    return {
        one.edge.section: one.corner_hz
        for one in split.edges
        if one.edge.kind == "high-pass"
        and one.state == "made"
        and one.corner_hz is not None
        and system.sections[one.edge.section].kind == "tweeter"
        and all(box != "passive" for box, _ in one.filters)
    }


def _filters(split: Split, section: int, capacitor_hz: float | None) -> tuple[Filter, ...]:
    own = [made for one in split.edges if one.edge.section == section for _, made in one.filters]
    if capacitor_hz is not None:
        own.append(
            Filter(kind="high-pass", family="butterworth", order=1, frequency_hz=capacitor_hz / 2)
        )
    return tuple(own)


def _summed(sections: tuple[Section, ...]) -> tuple[int, ...]:
    """Return the sections that make up one chain: no two in the same part of the band."""
    taken: list[int] = []
    for at, section in enumerate(sections):
        if not any(_overlap(sections[one], section) for one in taken):
            taken.append(at)
    return tuple(taken)


def _best_polarity(
    split: Split,
    voices: tuple[Voice, ...],
    summed: tuple[int, ...],
    groups: Mapping[int, int],
    system: System,
) -> tuple[float | None, dict[int, int]]:
    """Return the ripple [dB] of the flattest sum, and the sign of each of its sections.

    The band begins an octave above the lowest corner, for below that the roll-off is meant.
    Among equal sums networks stay as their makers marked them, then the fewest speakers
    are reversed.
    """
    corners = [
        one.corner_hz
        for one in split.edges
        if one.edge.kind == "high-pass" and one.edge.section in summed
    ]
    start = LOWEST_HZ if None in corners else 2 * min(one for one in corners if one is not None)
    own = [one.frequency_hz for at in summed for one in voices[at].filters]
    grid = [one for one in grid_hz(*own, per_octave=_PER_OCTAVE) if one >= start]
    parts = [[voices[at].response(one) for one in grid] for at in summed]
    best: tuple[tuple[float, int, int], dict[int, int]] | None = None
    for signs in product((1, -1), repeat=len(summed)):
        levels = [
            sum_db([sign * part[at] for sign, part in zip(signs, parts, strict=True)])
            for at in range(len(grid))
        ]
        known = [one for one in levels if one is not None]
        if not known or len(known) < len(levels):
            continue
        by_section = dict(zip(summed, signs, strict=True))
        turned = [at for at in summed if by_section.get(groups.get(at, at), 1) == -1]
        key = (
            round(max(known) - min(known), 6),
            sum(at in groups for at in turned),
            sum(
                1 if system.sections[at].is_bridged else len(system.sections[at].channels)
                for at in turned
            ),
        )
        if best is None or key < best[0]:
            best = (key, by_section)
    if best is None:
        return None, dict.fromkeys(summed, 1)
    return best[0][0], best[1]

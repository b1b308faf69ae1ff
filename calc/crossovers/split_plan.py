"""A split with what follows from it: names, voices, polarities, the summed response."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answers.figures import quantity
from calc.crossovers.fields import slope_words
from calc.crossovers.split import REACH, Control, Edge, Section
from calc.crossovers.split_edges import edges_of, gaps
from calc.crossovers.split_fields import System
from calc.crossovers.split_hand import by_hand
from calc.crossovers.split_polarity import Polarity, polarities_of
from calc.crossovers.split_problem import Problem, Setting, Split
from calc.crossovers.split_search import best_split
from calc.physics.filter_sums import Voice, sum_db
from calc.physics.filters import Filter

BOX_WORDS = {"head-unit": "head unit", "amplifier": "amplifier", "passive": "passive network"}


@dataclass(frozen=True)
class Plan:
    """The best split of a system.

    names : of the sections, told apart by number where a kind is there twice
    voices : of the sections, with their polarity
    polarities : of the sections
    summed : the sections that make up the sum; others play the same band as one of them
    ripple_db : of the sum with the subwoofer's better way round [dB]; None when it has a hole
    capacitor_hz : the corner [Hz] of each active tweeter that gets a protection capacitor
    """

    system: System
    split: Split
    names: tuple[str, ...]
    voices: tuple[Voice, ...]
    polarities: tuple[Polarity, ...]
    summed: tuple[int, ...]
    ripple_db: float | None
    capacitor_hz: Mapping[int, float]

    @property
    def reversed(self) -> tuple[int, ...]:
        """The sections that are joined the other way round."""
        return tuple(at for at, one in enumerate(self.polarities) if one.is_reversed)

    @property
    def unprotected(self) -> tuple[int, ...]:
        """The sections that nothing protects, in their order."""
        found = {one.edge.section for one in self.split.edges if one.state == "unprotected"}
        return tuple(sorted(found))

    @property
    def is_ready(self) -> bool:
        """Whether nothing is missing and all sections meet."""
        return self.split.is_complete and not gaps(self.system.sections)

    def settings_of(self, box: str) -> list[tuple[Control, Setting]]:
        """Return the filters of a box with their settings, in the order of the rows."""
        pairs = zip(self.system.controls, self.split.settings, strict=True)
        return [(control, setting) for control, setting in pairs if control.box == box]

    def level_db(self, frequency_hz: float) -> float | None:
        """Return the level [dB] of the sum at a frequency [Hz], joined as drawn."""
        return sum_db([self.voices[at].response(frequency_hz) for at in self.summed])

    @property
    def subwoofers(self) -> tuple[int, ...]:
        """The sections of the sum that are to be tried both ways because the car decides."""
        kinds = [one.kind for one in self.system.sections]
        tried = [at for at in self.summed if kinds[at] == "woofer" and self.polarities[at].try_both]
        return tuple(tried)

    def other_level_db(self, frequency_hz: float) -> float | None:
        """Return the level [dB] of the sum with the subwoofer joined the other way round."""
        parts = [
            (-1 if at in self.subwoofers else 1) * self.voices[at].response(frequency_hz)
            for at in self.summed
        ]
        return sum_db(parts)


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


def plan_of(system: System, *, with_capacitor: bool, has_delays: bool = False) -> Plan:
    """Return the best split of a system at corners that a hand can set, polarities decided.

    has_delays : whether a box makes up for what the speakers' distances differ by
    """
    edges = edges_of(system.sections)
    controls = tuple(by_hand(one, system.sections, edges) for one in system.controls)
    system = replace(system, controls=controls)
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
    others = [at for at in range(len(voices)) if at not in summed]
    polarities, ripple = polarities_of(
        system.sections,
        split,
        voices,
        summed,
        {at: _partner(system.sections, at, summed) for at in others},
        _network_groups(system),
        has_delays=has_delays,
    )
    return Plan(
        system=system,
        split=split,
        names=section_names([one.kind for one in system.sections]),
        voices=tuple(
            replace(voice, is_reversed=one.is_turned)
            for voice, one in zip(voices, polarities, strict=True)
        ),
        polarities=polarities,
        summed=summed,
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

"""The best split of a system, with what follows from it: names, polarities, the summed response.

A search asks for the split alone, so that polarities and sum are worked out when they are read.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.crossovers.filter_split.inputs import Inputs, Side
from calc.crossovers.filter_split.system import System, system_of
from calc.crossovers.splitting.edges import gaps
from calc.crossovers.splitting.model import Box, Control, Section
from calc.crossovers.splitting.polarity import Polarity, polarities_of
from calc.crossovers.splitting.problem import MadeEdge, Problem, Setting, Split, dial_of
from calc.crossovers.splitting.search import best_split
from calc.physics.filter_sums import Voice, sum_db
from calc.physics.filters import Family, Filter
from calc.physics.ladder import protection_farad
from calc.physics.preferred_values import nearest


@dataclass(frozen=True, kw_only=True)
class BoxSetting:
    """A filter of a box, and what it is set to.

    frequency_hz, order : None where it is off
    times, dial_hz : the factor of its range switch, and what its dial then shows [Hz]; None where
        it is off, and of a passive network
    """

    box: Box
    channels: frozenset[int]
    kind: Side
    family: Family
    frequency_hz: float | None
    order: int | None
    times: float | None = None
    dial_hz: float | None = None


@dataclass(frozen=True, kw_only=True)
class Capacitor:
    """The protection capacitor of an active tweeter, exact and as it is bought [F].

    section : index of the tweeter
    corner_hz : of the capacitor itself [Hz]
    """

    section: int
    corner_hz: float
    exact_farad: float
    preferred_farad: float


@dataclass(frozen=True, kw_only=True)
class SplitSection:
    """All that belongs to one section: what a channel table is made of.

    row : its number, from 1
    filters : (box, filter) of each that acts on it, those of its lower edge first
    """

    section: Section
    name: str
    row: int
    polarity: Polarity
    is_protected: bool
    filters: tuple[tuple[Box, Filter], ...]
    capacitor: Capacitor | None


@dataclass(frozen=True, kw_only=True)
class Joined:
    """What the sections play, each with its polarity.

    ripple_db : of the sum with the subwoofer's better way round [dB]; None when it has a hole
    """

    voices: tuple[Voice, ...]
    polarities: tuple[Polarity, ...]
    ripple_db: float | None


@dataclass(frozen=True, kw_only=True)
class Result:
    """The best split of a system.

    names : of the sections as data have them, told apart by number where a kind is there twice
    gaps : pairs (lower, upper) of sections that do not meet
    capacitors : of the active tweeters, where they get some
    has_delays : whether a box makes up for what the speakers' distances differ by
    called : the sections' names as the reader has them; none: they are called by their kinds
    """

    system: System
    split: Split
    names: tuple[str, ...]
    gaps: tuple[tuple[int, int], ...]
    capacitors: tuple[Capacitor, ...]
    has_delays: bool
    called: tuple[str, ...] = ()

    @cached_property
    def shown(self) -> tuple[str, ...]:
        """The sections' names as they are shown."""
        return self.called or shown_names([section.kind for section in self.system.sections])

    @property
    def bad(self) -> list[MadeEdge]:
        """The edges that are unprotected or missing."""
        return [made for made in self.split.edges if made.state in ("unprotected", "missing")]

    @property
    def spoilt(self) -> list[MadeEdge]:
        """The edges that a filter cuts off."""
        return [made for made in self.split.edges if made.state == "spoilt"]

    @property
    def stacks(self) -> list[MadeEdge]:
        """The edges that several filters make together."""
        return [made for made in self.split.edges if made.number > 1]

    @property
    def unprotected(self) -> tuple[int, ...]:
        """The sections that nothing protects, in their order."""
        edges = self.split.edges
        return tuple(sorted({made.edge.section for made in edges if made.state == "unprotected"}))

    @property
    def is_ready(self) -> bool:
        """Whether nothing is missing and all sections meet."""
        return self.split.is_complete and not self.gaps

    def settings_of(self, box: Box) -> list[tuple[Control, Setting]]:
        """Return the filters of a box with their settings, in the order of the rows."""
        pairs = zip(self.system.controls, self.split.settings, strict=True)
        return [(control, setting) for control, setting in pairs if control.box == box]

    @property
    def settings(self) -> tuple[BoxSetting, ...]:
        """What every filter is set to, in the order of the rows, passive networks last."""
        pairs = zip(self.system.controls, self.split.settings, strict=True)
        return (
            *(_box_setting(control, setting) for control, setting in pairs),
            *(
                BoxSetting(
                    box="passive",
                    channels=network.channels,
                    kind=network.side,
                    family=network.family,
                    frequency_hz=network.frequency_hz,
                    order=network.order,
                )
                for network in self.system.networks
            ),
        )

    @cached_property
    def sections(self) -> tuple[SplitSection, ...]:
        """The sections with all that belongs to each, in the order of the rows."""
        capacitors = {capacitor.section: capacitor for capacitor in self.capacitors}
        return tuple(
            SplitSection(
                section=section,
                name=self.names[at],
                row=at + 1,
                polarity=self.polarities[at],
                is_protected=at not in self.unprotected,
                filters=tuple(_filters_on(self.split, at)),
                capacitor=capacitors.get(at),
            )
            for at, section in enumerate(self.system.sections)
        )

    # ---- polarities and sum

    @cached_property
    def _joined(self) -> Joined:
        system = self.system
        capacitors = {capacitor.section: capacitor for capacitor in self.capacitors}
        voices = tuple(
            Voice(
                filters=tuple(_filters_of(self.split, at, capacitors.get(at))),
                gain_db=section.gain_db,
            )
            for at, section in enumerate(system.sections)
        )
        others = [at for at in range(len(voices)) if at not in system.summed]
        polarities, ripple_db = polarities_of(
            system.sections,
            self.split,
            voices,
            system.summed,
            {at: system.partner_of(at) for at in others},
            system.network_groups,
            has_delays=self.has_delays,
        )
        return Joined(
            voices=tuple(
                replace(voice, is_reversed=polarity.is_turned)
                for voice, polarity in zip(voices, polarities, strict=True)
            ),
            polarities=polarities,
            ripple_db=ripple_db,
        )

    @property
    def voices(self) -> tuple[Voice, ...]:
        """What each section plays, with its polarity."""
        return self._joined.voices

    @property
    def polarities(self) -> tuple[Polarity, ...]:
        """How each section is joined."""
        return self._joined.polarities

    @property
    def ripple_db(self) -> float | None:
        """Of the sum [dB]; None where it has a hole, and where there is no sum."""
        is_sum = self.is_ready and len(self.system.summed) > 1
        return self._joined.ripple_db if is_sum else None

    @property
    def is_summed(self) -> bool:
        """Whether there is a sum without a hole."""
        return self.split.is_complete and self._joined.ripple_db is not None

    @property
    def reversed(self) -> tuple[int, ...]:
        """The sections that are joined the other way round."""
        return tuple(at for at, polarity in enumerate(self.polarities) if polarity.is_reversed)

    def level_db(self, frequency_hz: float) -> float | None:
        """Return the level [dB] of the sum at a frequency [Hz], joined as drawn."""
        return sum_db([self.voices[at].response(frequency_hz) for at in self.system.summed])

    @property
    def subwoofers(self) -> tuple[int, ...]:
        """The sections of the sum that are to be tried both ways because the car decides."""
        kinds = [section.kind for section in self.system.sections]
        return tuple(
            at
            for at in self.system.summed
            if kinds[at] == "woofer" and self.polarities[at].try_both
        )

    def other_level_db(self, frequency_hz: float) -> float | None:
        """Return the level [dB] of the sum with the subwoofer joined the other way round."""
        turned = self.subwoofers
        parts = [
            (-1 if at in turned else 1) * self.voices[at].response(frequency_hz)
            for at in self.system.summed
        ]
        return sum_db(parts)


def solve(inputs: Inputs) -> Result:
    """Search the settings of all filters for the best, at corners that a hand can set."""
    system = system_of(inputs)
    split = best_split(Problem(system.sections, system.controls, system.networks))
    return Result(
        system=system,
        split=split,
        names=section_names([section.kind for section in system.sections]),
        gaps=gaps(system.sections),
        capacitors=_capacitors(inputs, system, split),
        has_delays=inputs.delays,
    )


def section_names(kinds: Sequence[str]) -> tuple[str, ...]:
    """Return a name for each section: its kind, with a number where that is there twice.

    >>> section_names(["tweeter", "woofer", "woofer"])
    ('tweeter', 'woofer 1', 'woofer 2')
    """
    return tuple(
        f"{kind} {kinds[: at + 1].count(kind)}" if kinds.count(kind) > 1 else kind
        for at, kind in enumerate(kinds)
    )


_SHOWN: Mapping[str, str] = {"full-range": "coaxial", "woofer": "sub"}


def shown_names(kinds: Sequence[str]) -> tuple[str, ...]:
    """Return the name of each section that a reader sees.

    >>> shown_names(["tweeter", "woofer", "woofer"])
    ('tweeter', 'sub 1', 'sub 2')
    """
    return section_names([_SHOWN.get(kind, kind) for kind in kinds])


def _box_setting(control: Control, setting: Setting) -> BoxSetting:
    times, dial_hz = dial_of(control, setting)
    return BoxSetting(
        box=control.box,
        channels=control.channels,
        kind=control.kind,
        family=control.family,
        frequency_hz=None if setting is None else setting[0],
        order=None if setting is None else setting[1],
        times=times,
        dial_hz=dial_hz,
    )


def _capacitors(inputs: Inputs, system: System, split: Split) -> tuple[Capacitor, ...]:
    """Return the capacitors of tweeters whose high-pass is made, and not by a network."""
    if not inputs.tweeter_capacitor:
        return ()
    capacitors = []
    for made in split.edges:
        is_tweeter = system.sections[made.edge.section].kind == "tweeter"
        is_active = made.edge.kind == "high-pass" and made.state == "made"
        is_active = is_active and all(box != "passive" for box, _ in made.filters)
        if is_tweeter and is_active and made.corner_hz is not None:
            exact = protection_farad(ohm=inputs.tweeter_ohm, corner_hz=made.corner_hz)
            capacitors.append(
                Capacitor(
                    section=made.edge.section,
                    corner_hz=made.corner_hz / 2,
                    exact_farad=exact,
                    preferred_farad=nearest(exact, "E12"),
                )
            )
    return tuple(capacitors)


def _filters_on(split: Split, section: int) -> list[tuple[Box, Filter]]:
    edges = [made for made in split.edges if made.edge.section == section]
    return [pair for made in edges for pair in made.filters]


def _filters_of(split: Split, section: int, capacitor: Capacitor | None) -> list[Filter]:
    filters = [made for _, made in _filters_on(split, section)]
    if capacitor is not None:
        corner_hz = capacitor.corner_hz
        filters.append(
            Filter(kind="high-pass", family="butterworth", order=1, frequency_hz=corner_hz)
        )
    return filters

"""What the rows of `filter-split` describe, with the corners that a hand can set."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from calc.crossovers.filter_split.inputs import FilterRow, Inputs
from calc.crossovers.filter_split.notation import channels_of
from calc.crossovers.splitting.edges import edges_of
from calc.crossovers.splitting.hand import hand_steps_hz
from calc.crossovers.splitting.model import REACH, Box, Control, Edge, Passive, Section


@dataclass(frozen=True, kw_only=True)
class System:
    """Sections, and what filters them, with the corners that a hand can set."""

    sections: tuple[Section, ...]
    controls: tuple[Control, ...]
    networks: tuple[Passive, ...]

    @cached_property
    def network_groups(self) -> Mapping[int, int]:
        """For each section on a passive network the lowest section of that network."""
        groups: dict[int, int] = {}
        for channels in {network.channels for network in self.networks}:
            fed = [at for at, section in enumerate(self.sections) if section.channels == channels]
            lowest = min(fed, key=lambda at: REACH[self.sections[at].kind])
            groups |= dict.fromkeys(fed, lowest)
        return groups

    @cached_property
    def summed(self) -> tuple[int, ...]:
        """The sections that make up one chain: no two in the same part of the band."""
        chain: list[int] = []
        for at, section in enumerate(self.sections):
            if not any(_overlap(self.sections[taken], section) for taken in chain):
                chain.append(at)
        return tuple(chain)

    def partner_of(self, at: int) -> int:
        """Return the section of the sum that plays the lowest part of the same band."""
        partners = [
            other for other in self.summed if _overlap(self.sections[other], self.sections[at])
        ]
        return min(partners, key=lambda other: REACH[self.sections[other].kind])


def system_of(inputs: Inputs) -> System:
    """Return the sections and boxes that the rows describe."""
    sections = tuple(row.as_section() for row in inputs.sections)
    edges = edges_of(sections)
    boxes: tuple[tuple[Box, tuple[FilterRow, ...]], ...] = (
        ("head-unit", inputs.head_unit),
        ("amplifier", inputs.amplifier),
    )
    return System(
        sections=sections,
        controls=tuple(_control(box, row, sections, edges) for box, rows in boxes for row in rows),
        networks=tuple(row.as_passive() for row in inputs.passive),
    )


def _control(
    box: Box, row: FilterRow, sections: tuple[Section, ...], edges: tuple[Edge, ...]
) -> Control:
    channels, ends = channels_of(row.channels), row.range_hz
    return Control(
        box=box,
        channels=channels,
        kind=row.kind,
        family=row.family,
        orders=row.rising_orders,
        steps_hz=row.steps_hz
        if ends is None
        else hand_steps_hz(
            ends,
            kind=row.kind,
            channels=channels,
            times=row.factors,
            sections=sections,
            edges=edges,
        ),
        times=row.factors,
        switch=row.switch or "",
        can_be_off=row.off,
    )


def _overlap(section: Section, other: Section) -> bool:
    (low, high), (other_low, other_high) = REACH[section.kind], REACH[other.kind]
    return low <= other_high and other_low <= high

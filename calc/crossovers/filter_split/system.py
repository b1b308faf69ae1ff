"""The system that is split: its sections, what filters them, and which of them are summed."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from calc.crossovers.splitting.model import REACH, Control, Passive, Section


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


def _overlap(section: Section, other: Section) -> bool:
    (low, high), (other_low, other_high) = REACH[section.kind], REACH[other.kind]
    return low <= other_high and other_low <= high

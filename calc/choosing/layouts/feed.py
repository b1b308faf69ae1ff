"""Speakers that hang on the same outputs of an amplifier."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.system.speakers import SectionWord, Speaker


@dataclass(frozen=True, kw_only=True)
class Feed:
    """Speakers that hang on the same outputs: a row, or two with a passive network between.

    rows : the speakers' rows by number, the lowest band first; the first one's load, rating and
        sensitivity are those that the amplifier sees, the power to reach is the highest wished for
    section : the word of `channel-map`
    front_first : a key that sorts the pairs at the front before those at the rear
    branches : two pairs that are joined left with left; then `speaker` stands for both together
    short : its name where there is room for eighteen characters
    """

    rows: tuple[int, ...]
    section: SectionWord
    speaker: Speaker
    front_first: tuple[bool, str] = (False, "")
    branches: "tuple[Feed, ...]" = ()
    short: str = ""

    @property
    def members(self) -> "tuple[Feed, ...]":
        """The pairs that are joined; itself where none are."""
        return self.branches or (self,)

    def share_of(self, member: "Feed") -> float:
        """Return the part of an output's power that a member's speaker on it gets [0 … 1].

        Both are at one voltage, so that power goes as 1/R.
        """
        return self.speaker.coil_ohm / member.speaker.coil_ohm if self.branches else 1.0

    @property
    def name(self) -> str:
        """The name of its lowest speakers."""
        return self.speaker.name

    def called(self, short: Mapping[str, str]) -> "Feed":
        """Return the same with short names, by the names."""
        branches = tuple(branch.called(short) for branch in self.branches)
        return replace(self, short=short[self.name], branches=branches)

    @property
    def count(self) -> int:
        """How many speakers of the lowest band."""
        return self.speaker.count

    @property
    def need_w(self) -> float | None:
        """The power [W] that one speaker must reach; None where none is wished for."""
        return self.speaker.need_w

    @property
    def may_join(self) -> bool:
        """Whether left and right may be one: below some 100 Hz one hardly hears from where."""
        return self.section == "woofer"

    @property
    def least_outputs(self) -> int:
        """The fewest outputs that keep left and right apart."""
        return 1 if self.may_join or self.count == 1 else 2

    def distance_m(self, speakers: Sequence[Speaker]) -> float | None:
        """Return how far it is [m]: of its highest band, by which one hears where it comes from.

        None where no distance is given.  Common practice, no source.
        """
        distances = [speakers[row].distance_m for row in reversed(self.rows)]
        return next((far for far in distances if far is not None), None)

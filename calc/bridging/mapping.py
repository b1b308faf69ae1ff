"""Sections on outputs: loads, powers, levels, and which plan of them is better."""

from dataclasses import dataclass
from functools import cached_property

from calc.physics.channel_power import Power, grouping_name, level_at_1m
from calc.physics.levels import level_db

# Power over rating between these suits (common practice, no source): above 2 even a
# clean signal can overload, below 0.5 clipping sets in long before the speaker is full.
MATCH_LOW, MATCH_HIGH = 0.5, 2.0

Output = tuple[int, ...]


@dataclass(frozen=True, kw_only=True)
class Section:
    """Speakers that play the same band.

    load_ohm, rated_w, sensitivity_db : per speaker [Ω, W, dB at 2.83 V and 1 m]
    speakers : how many of it, spread equally over the section's outputs
    settled : the outputs that it is to have; any when there are none
    """

    name: str
    load_ohm: float
    rated_w: float
    sensitivity_db: float
    speakers: int
    settled: tuple[Output, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Use:
    """A section on its outputs; load, power and level are those of one output.

    in_series : whether several speakers on one output are in series; else they are in parallel
    """

    section: Section
    outputs: tuple[Output, ...]
    load_ohm: float
    power: Power
    in_series: bool = False

    @property
    def channels(self) -> frozenset[int]:
        """The channels that its outputs take."""
        return frozenset(channel for output in self.outputs for channel in output)

    @property
    def per_output(self) -> int:
        """Speakers on each output."""
        return self.section.speakers // len(self.outputs)

    @property
    def level_db(self) -> float | None:
        """Level [dB] at 1 m of one output with its speakers; None without a power.

        n speakers in series share its voltage: each is 20·lg n quieter, and the n of them add as
        much again.
        """
        if self.power.best is None:
            return None
        return level_at_1m(
            sensitivity_db=self.section.sensitivity_db,
            power_w=self.power.best,
            load_ohm=self.load_ohm,
            alike=1 if self.in_series else self.per_output,
        )

    @property
    def total_db(self) -> float | None:
        """Level [dB] at 1 m of all its outputs: n alike at equal voltage add 20·lg n."""
        if self.level_db is None:
            return None
        return self.level_db + level_db(len(self.outputs))

    @property
    def match(self) -> float | None:
        """Power per speaker over its rating [1]; None without a power."""
        if self.power.best is None:
            return None
        return self.power.best / self.per_output / self.section.rated_w

    @property
    def joins_left_and_right(self) -> bool:
        """Whether several speakers that are not woofers all hang on one output (mono)."""
        return self.section.name != "woofer" and self.section.speakers > len(self.outputs) == 1

    def _matches(self) -> tuple[float, float] | None:
        """Lowest and highest power per speaker over its rating; None without bounds."""
        if self.power.low is None or self.power.high is None:
            return None
        rated = self.section.rated_w * self.per_output
        return self.power.low / rated, self.power.high / rated

    @property
    def suits(self) -> bool:
        """Whether the match lies in the usual range, at both bounds if the power has bounds."""
        matches = self._matches()
        return matches is not None and matches[0] >= MATCH_LOW and matches[1] <= MATCH_HIGH

    @property
    def may_suit(self) -> bool:
        """Whether the match can lie in the usual range; for a known power the same as `suits`."""
        matches = self._matches()
        return matches is not None and matches[1] >= MATCH_LOW and matches[0] <= MATCH_HIGH

    @property
    def cannot_suit(self) -> bool:
        """Whether the match lies outside the usual range whatever the missing rating is.

        A channel that limits its current may give half of the lower bound.
        """
        matches = self._matches()
        if matches is None:
            return False
        least = matches[0] if self.power.best is not None else matches[0] / 2
        return matches[1] < MATCH_LOW or least > MATCH_HIGH


@dataclass(frozen=True, kw_only=True)
class Plan:
    """A grouping of the channels with every section on outputs of it."""

    grouping: tuple[Output, ...]
    uses: tuple[Use, ...]

    @property
    def name(self) -> str:
        """The grouping's name, such as ``1|2|3+4``."""
        return grouping_name(self.grouping)

    @property
    def spare(self) -> tuple[int, ...]:
        """Channels that no section uses."""
        used = set().union(*(use.channels for use in self.uses))
        return tuple(c for output in self.grouping for c in output if c not in used)

    @property
    def weakest(self) -> Use | None:
        """The use with the lowest level, the first of equals; None if one is unknown."""
        levels = [use.level_db for use in self.uses]
        if any(level is None for level in levels):
            return None
        return min(self.uses, key=lambda use: use.level_db or 0.0)

    @property
    def may_do(self) -> bool:
        """Whether no section is mono and none is sure to get a power that does not suit it."""
        return not any(use.joins_left_and_right or use.cannot_suit for use in self.uses)

    @property
    def quietest(self) -> Use | None:
        """The use that plays least loud with all its outputs, the first of equals; None if a
        level is unknown.
        """
        if self.weakest is None:
            return None
        return min(self.uses, key=lambda use: use.total_db or 0.0)

    def trim_db(self, use: Use) -> float | None:
        """Return how far the use must be turned down [dB, ≤ 0] to meet the weakest."""
        if self.weakest is None or use.level_db is None or self.weakest.level_db is None:
            return None
        return self.weakest.level_db - use.level_db

    @cached_property
    def order(self) -> tuple[object, ...]:
        """Sort key, best first: left and right kept apart, fitting matches, known powers,
        then what plays louder.

        Sections count with all their outputs, the quietest first, then the next; levels are
        compared to a tenth of a decibel, so that the last bit decides nothing.  Then fewer
        bridged pairs, fewer spare channels, and pairs bridged from the end.
        """
        joined = sum(use.joins_left_and_right for use in self.uses)
        unknown = sum(use.power.best is None for use in self.uses)
        misfits = sum(not use.may_suit for use in self.uses)
        levels = [use.total_db for use in self.uses if use.total_db is not None]
        bridges = sum(len(output) == 2 for output in self.grouping)
        quiet_first = () if unknown else tuple(-round(level, 1) for level in sorted(levels))
        widths = tuple(len(output) for output in self.grouping)
        return (joined, misfits, unknown, quiet_first, bridges, len(self.spare), widths)

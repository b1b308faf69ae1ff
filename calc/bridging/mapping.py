"""Which section goes on which outputs: every grouping that carries all the sections."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from calc.physics.channel_power import (
    Channel,
    Power,
    grouping_name,
    groupings,
    level_at_1m,
    rated_or_bridged_power,
)
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

    @property
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


def plans(
    sections: tuple[Section, ...], channel: Channel, *, channels: int, supply_factor: float
) -> tuple[Plan, ...]:
    """Return the best plan of every grouping that carries all the sections, best first.

    channel : rating of one channel
    channels : how many the amplifier has
    supply_factor : what the supply voltage makes of rated power [1]
    """
    bank = Bank(channel=channel, supply_factor=supply_factor, count=channels)
    best = []
    for grouping in bank.groupings():
        carrying = [
            Plan(grouping=grouping, uses=uses)
            for uses in _uses(sections, [_Outputs(bank, True)], grouping, _first)
        ]
        if carrying:
            best.append(min(carrying, key=lambda plan: plan.order))
    return tuple(sorted(best, key=lambda plan: plan.order))


@dataclass(frozen=True, kw_only=True)
class Bank:
    """Channels that are alike: those of one amplifier.

    channel : rating of one of them
    supply_factor : what the supply voltage makes of rated power [1]
    first, count : the number of the first of them, odd, and how many there are; several
        amplifiers are numbered through, so that no pair lies on two of them
    """

    channel: Channel
    supply_factor: float
    count: int
    first: int = 1

    def groupings(self) -> list[tuple[Output, ...]]:
        """Return every way to use its channels."""
        away = self.first - 1
        return [
            tuple(tuple(channel + away for channel in output) for output in grouping)
            for grouping in groupings(self.count)
        ]

    @property
    def numbers(self) -> range:
        """The numbers of its channels."""
        return range(self.first, self.first + self.count)

    @property
    def kind(self) -> tuple[Channel, float]:
        """What makes two banks alike."""
        return self.channel, self.supply_factor


def assignments(
    sections: tuple[Section, ...], banks: Sequence[Bank], *, series: bool = False
) -> tuple[Plan, ...]:
    """Return every plan of every grouping, best first: each spread on each choice of outputs.

    A section lies on one bank; a woofer’s may lie on several that are alike.

    series : whether several speakers on one output may be in series where parallel is refused, as
        in `plans`; else only what is in parallel is found

    `plans` has the best of each grouping on the first outputs that are free, which is all that
    loads and powers depend on; filters depend on which outputs they are as well.
    """
    outputs = [_Outputs(bank, series) for bank in banks]
    every = [
        Plan(grouping=grouping, uses=uses)
        for grouping in (sum(parts, ()) for parts in product(*(bank.groupings() for bank in banks)))
        for uses in _uses(sections, outputs, grouping, choices_of)
    ]
    return tuple(sorted(every, key=lambda plan: plan.order))


_Choose = Callable[[list[Output], int], Iterable[tuple[Output, ...]]]


def _first(outputs: list[Output], count: int) -> Iterator[tuple[Output, ...]]:
    """Yield the first outputs alone."""
    yield tuple(outputs[:count])


def choices_of(outputs: list[Output], count: int) -> Iterator[tuple[Output, ...]]:
    """Yield every choice of outputs for a section; left and right lie on one pair if they can.

    Both channels of a pair are alike, so half a pair is its first channel that is free.

    >>> list(choices_of([(1,), (2,), (3,), (4,)], 2))
    [((1,), (2,)), ((3,), (4,))]
    >>> list(choices_of([(2,), (3,), (4,)], 1))
    [((2,),), ((3,),)]
    """
    pairs: dict[int, list[Output]] = {}
    for output in outputs:
        pairs.setdefault((output[0] - 1) // 2, []).append(output)
    whole = [tuple(pair) for pair in pairs.values() if len(pair) == 2]
    if count == 1 or len(outputs[0]) == 2:
        yield from combinations([pair[0] for pair in pairs.values()], count)
    elif count // 2 > len(whole) or (count % 2 and len(pairs) <= count // 2):
        yield from combinations(outputs, count)
    else:
        for chosen in combinations(whole, count // 2):
            taken = tuple(output for pair in chosen for output in pair)
            if not count % 2:
                yield taken
                continue
            for pair in pairs.values():
                if pair[0] not in taken:
                    yield tuple(sorted((*taken, pair[0])))


@dataclass(frozen=True)
class _Outputs:
    """What a bank's outputs take and give.

    series : whether several speakers on one output may be in series
    """

    bank: Bank
    series: bool

    def load_of(self, section: Section, alike: int, width: int) -> tuple[float, bool] | None:
        """Return the load [Ω] of `alike` speakers on one output, and whether they are in series.

        In parallel, unless that is refused; None where series does not help either.
        """
        loads = [(section.load_ohm / alike, False)]
        if self.series and alike > 1:
            loads.append((section.load_ohm * alike, True))
        return next(
            (load for load in loads if self.bank.channel.takes(load_ohm=load[0] / width)),
            None,
        )

    def power(self, *, load_ohm: float, width: int) -> Power:
        """Return the power [W] of a channel (width 1) or a bridged pair (2)."""
        channel = self.bank.channel
        rated = (
            rated_or_bridged_power(channel, load_ohm=load_ohm)
            if width == 2
            else channel.power(load_ohm=load_ohm)
        )
        return rated.times(self.bank.supply_factor)


def _uses(
    sections: tuple[Section, ...],
    banks: Sequence[_Outputs],
    free: tuple[Output, ...],
    choose: _Choose,
) -> Iterator[tuple[Use, ...]]:
    """Yield every way to give each section outputs of one kind, in the order of the rows."""
    if not sections:
        yield ()
        return
    section, rest = sections[0], sections[1:]
    reserved = {number for section in rest for output in section.settled for number in output}
    unreserved = [output for output in free if not reserved & set(output)]
    for use in _uses_of(section, banks, unreserved, choose):
        left = tuple(output for output in free if output not in use.outputs)
        for others in _uses(rest, banks, left, choose):
            yield (use, *others)


def _uses_of(
    section: Section, banks: Sequence[_Outputs], free: Sequence[Output], choose: _Choose
) -> Iterator[Use]:
    """Yield every use of free outputs of one width, on one bank or on several that are alike."""
    for group in _groups(section, banks):
        numbers = {number for one in group for number in one.bank.numbers}
        for width in (1, 2):
            outputs = [out for out in free if len(out) == width and out[0] in numbers]
            for count in range(len(group), min(len(outputs), section.speakers) + 1):
                if section.speakers % count:
                    continue
                load = group[0].load_of(section, section.speakers // count, width)
                if load is None:
                    continue
                power = group[0].power(load_ohm=load[0], width=width)
                for chosen in _settled(section, outputs, count) or choose(outputs, count):
                    if len(chosen) != count or not _covers(chosen, group):
                        continue
                    yield Use(
                        section=section,
                        outputs=chosen,
                        load_ohm=load[0],
                        power=power,
                        in_series=load[1],
                    )


def _groups(section: Section, banks: Sequence[_Outputs]) -> Iterator[tuple[_Outputs, ...]]:
    """Yield the banks that a section may lie on together: each alone, for a woofer alike ones."""
    most = section.speakers if section.name == "woofer" else 1
    for size in range(1, min(most, len(banks)) + 1):
        for group in combinations(banks, size):
            if all(one.bank.kind == group[0].bank.kind for one in group):
                yield group


def _covers(chosen: Sequence[Output], group: Sequence[_Outputs]) -> bool:
    """Tell whether each bank of a group has one of the outputs."""
    return len(group) == 1 or all(
        any(output[0] in one.bank.numbers for output in chosen) for one in group
    )


def _settled(section: Section, outputs: list[Output], count: int) -> list[tuple[Output, ...]]:
    """Return the settled outputs as the only choice, an empty one if they are not to be had."""
    if not section.settled:
        return []
    fits = len(section.settled) == count and set(section.settled) <= set(outputs)
    return [section.settled] if fits else [()]

"""Which section goes on which outputs: every grouping that carries all the sections."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from typing import NamedTuple

from calc.bridging.mapping import Output, Plan, Section, Use
from calc.physics.channel_power import Channel, Power, groupings, rated_or_bridged_power


def plans(
    sections: tuple[Section, ...], channel: Channel, *, channels: int, supply_factor: float
) -> tuple[Plan, ...]:
    """Return the best plan of every grouping that carries all the sections, best first.

    channel : rating of one channel
    channels : how many the amplifier has
    supply_factor : what the supply voltage makes of rated power [1]
    """
    bank = Bank(channel=channel, supply_factor=supply_factor, count=channels)
    spreads = [_spreads(section, [_Outputs(bank, True)]) for section in sections]
    best = []
    for grouping in bank.groupings():
        carrying = [
            Plan(grouping=grouping, uses=uses)
            for uses in _uses(sections, spreads, grouping, _first)
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
    sections: tuple[Section, ...],
    banks: Sequence[Bank],
    *,
    series: bool = False,
    mono: bool = True,
) -> Iterator[Plan]:
    """Yield every plan of every grouping: each spread on each choice of outputs.

    A section lies on one bank; a woofer’s may lie on several that are alike, and so may left and
    right where each has a bridged pair.

    series : whether several speakers on one output may be in series where parallel is refused, as
        in `plans`; else only what is in parallel is found
    mono : whether left and right that are no woofers may be on one output

    `plans` has the best of each grouping on the first outputs that are free, which is all that
    loads and powers depend on; filters depend on which outputs they are as well.
    """
    outputs = [_Outputs(bank, series, mono) for bank in banks]
    spreads = [_spreads(section, outputs) for section in sections]
    for parts in product(*(bank.groupings() for bank in banks)):
        grouping = sum(parts, ())
        for uses in _uses(sections, spreads, grouping, choices_of):
            yield Plan(grouping=grouping, uses=uses)


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
    mono : whether left and right that are no woofers may be on one output
    """

    bank: Bank
    series: bool
    mono: bool = True

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


class _Spread(NamedTuple):
    """A way to spread a section, whichever outputs are free.

    group, numbers : the banks that it lies on, and the numbers of their channels
    width : of each output, in channels
    counts : of outputs that may be, each with load [Ω], whether that is in series, and power
    """

    group: tuple[_Outputs, ...]
    numbers: frozenset[int]
    width: int
    counts: tuple[tuple[int, float, bool, Power], ...]


def _spreads(section: Section, banks: Sequence[_Outputs]) -> list[_Spread]:
    """Return every way to spread a section on one bank, or on several that are alike."""
    spreads = []
    for group in _groups(section, banks):
        numbers = frozenset(number for one in group for number in one.bank.numbers)
        is_across = len(group) > 1 and section.name != "woofer"
        least = len(group)
        if section.speakers > 1 and section.name != "woofer" and not group[0].mono:
            least = max(least, 2)
        for width in (2,) if is_across else (1, 2):
            counts = []
            for count in range(least, section.speakers + 1):
                if section.speakers % count:
                    continue
                load = group[0].load_of(section, section.speakers // count, width)
                if load is not None:
                    load_ohm, in_series = load
                    power = group[0].power(load_ohm=load_ohm, width=width)
                    counts.append((count, load_ohm, in_series, power))
            spreads.append(_Spread(group, numbers, width, tuple(counts)))
    return spreads


def _uses(
    sections: tuple[Section, ...],
    spreads: Sequence[Sequence[_Spread]],
    free: tuple[Output, ...],
    choose: _Choose,
) -> Iterator[tuple[Use, ...]]:
    """Yield every way to give each section outputs of one kind, in the order of the rows."""
    if not sections:
        yield ()
        return
    if len(free) < len(sections):
        return  # each needs one at least
    section, rest = sections[0], sections[1:]
    reserved = {number for section in rest for output in section.settled for number in output}
    unreserved = [output for output in free if not reserved & set(output)] if reserved else free
    for use in _uses_of(section, spreads[0], unreserved, choose):
        left = tuple(output for output in free if output not in use.outputs)
        for others in _uses(rest, spreads[1:], left, choose):
            yield (use, *others)


def _uses_of(
    section: Section, spreads: Sequence[_Spread], free: Sequence[Output], choose: _Choose
) -> Iterator[Use]:
    """Yield every use of free outputs of one width, on one bank or on several that are alike."""
    for group, numbers, width, counts in spreads:
        outputs = [out for out in free if len(out) == width and out[0] in numbers]
        for count, load_ohm, in_series, power in counts:
            if count > len(outputs):
                break
            for chosen in _settled(section, outputs, count) or choose(outputs, count):
                if len(chosen) != count or not _covers(chosen, group):
                    continue
                yield Use(
                    section=section,
                    outputs=chosen,
                    load_ohm=load_ohm,
                    power=power,
                    in_series=in_series,
                )


def _groups(section: Section, banks: Sequence[_Outputs]) -> Iterator[tuple[_Outputs, ...]]:
    """Yield the banks that a section may lie on together: each alone, then several alike."""
    for size in range(1, min(section.speakers, len(banks)) + 1):
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

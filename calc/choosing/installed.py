"""Amplifiers that are installed together, numbered through, and seen as one where that is enough.

Each begins at an odd number, so that no pair of channels lies on two of them: of a four-channel and
a mono the channels are 1 to 4, and 5.
"""

import re
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.bridging.mapping import Output
from calc.crossovers.filter_split import channels_of
from calc.physics.amplifier_draw import joint_efficiency
from calc.system.amplifier import NO_FILTERS, Amplifier, filter_cell
from calc.system.plain_filters import USUAL_CHANNELS
from calc.system.usual import Assumed, amplifier_of

MOST_INSTALLED = 3
NEEDED = ("channels", "power_4ohm_w", "min_channel_ohm")  # without these no layout is known
_FILTER_COLUMNS = ("high_pass_hz", "low_pass_hz", "filter_db_per_octave")


@dataclass(frozen=True, kw_only=True)
class Part:
    """One of the amplifiers installed.

    amplifier : with usual figures where none are told; `given` is as it was told
    taken : the usual figures that were taken
    at : its number among those installed, from 0
    first : the number of its first channel
    """

    amplifier: Amplifier
    given: Amplifier
    taken: tuple[Assumed, ...]
    at: int
    first: int

    @property
    def name(self) -> str:
        """The amplifier's name."""
        return self.amplifier.name

    @property
    def count(self) -> int:
        """How many channels it has; the usual count where that is not known."""
        return self.amplifier.channels or USUAL_CHANNELS

    @cached_property
    def numbers(self) -> range:
        """The numbers of its channels."""
        return range(self.first, self.first + self.count)

    @cached_property
    def kinds_of_pairs(self) -> tuple[Hashable, ...]:
        """What each pair of its channels is: those that are equal can be exchanged."""
        return tuple(_kinds_of_pairs(self.count, _cells(self.amplifier)))

    def has(self, output: Output) -> bool:
        """Tell whether an output is one of its own."""
        return output[0] in self.numbers

    def own(self, output: Output) -> Output:
        """Return an output as the amplifier itself numbers it."""
        return tuple(channel - self.first + 1 for channel in output)


@dataclass(frozen=True)
class Installed:
    """One to three amplifiers that are installed together."""

    parts: tuple[Part, ...]

    @property
    def is_single(self) -> bool:
        """Whether there is one alone."""
        return len(self.parts) == 1

    @property
    def name(self) -> str:
        """Their names, joined."""
        return " + ".join(part.name for part in self.parts)

    @property
    def given(self) -> tuple[Amplifier, ...]:
        """The amplifiers as they were told."""
        return tuple(part.given for part in self.parts)

    @cached_property
    def amplifier(self) -> Amplifier:
        """What they are together, with usual figures where none are told.

        Its filters are those of all, its fuses and its draw their sums where all are known; it
        has a feature that one of them is enough for, such as a level control, where one has it.
        """
        return _together([part.amplifier for part in self.parts], self.parts)

    @cached_property
    def told(self) -> Amplifier:
        """What they are together, as they were told."""
        return _together([part.given for part in self.parts], self.parts)

    @cached_property
    def missing_plate(self) -> tuple[str, ...]:
        """The figures of any plate that nobody told, without which no layout is known."""
        every = (key for part in self.parts for key in missing_plate(part.amplifier))
        return tuple(dict.fromkeys(every))

    @cached_property
    def missing_filters(self) -> tuple[str, ...]:
        """The columns of filters that nobody told, of any of them."""
        if self.is_single:
            return self.parts[0].given.own_filters.missing
        lacking = any(part.given.own_filters.missing for part in self.parts)
        return _FILTER_COLUMNS if lacking else ()

    def joined(self, amplifiers: Sequence[Amplifier]) -> Amplifier:
        """Return what others would be together, one in the place of each."""
        return _together(amplifiers, self.parts)

    def drawing(self, powers_w: Sequence[float | None]) -> Amplifier:
        """Return what they are together where they give these powers [W].

        Where the efficiency of each is told, that of all is what gives the same current.
        """
        percents = [part.amplifier.efficiency_percent for part in self.parts]
        known = [
            (watts, percent)
            for watts, percent in zip(powers_w, percents, strict=True)
            if watts is not None and percent is not None
        ]
        if self.is_single or len(known) < len(percents) or not any(w for w, _ in known):
            return self.amplifier
        percent = joint_efficiency(*zip(*known, strict=True))
        return replace(self.amplifier, efficiency_percent=round(percent, 6))

    def part_of(self, output: Output) -> Part:
        """Return the amplifier that an output belongs to."""
        return next(part for part in self.parts if part.has(output))


def missing_plate(amplifier: Amplifier) -> list[str]:
    """Return the figures of the plate without which no layout is known."""
    return [key for key in NEEDED if getattr(amplifier, key) is None]


def installed(amplifiers: Amplifier | Sequence[Amplifier]) -> Installed:
    """Return amplifiers as they are installed, numbered through in their order.

    >>> both = installed([Amplifier(name="A", channels=4), Amplifier(name="B", channels=1)])
    >>> both.name, both.parts[1].first, both.parts[1].own((5,))
    ('A + B', 5, (1,))
    """
    every = (amplifiers,) if isinstance(amplifiers, Amplifier) else tuple(amplifiers)
    parts: list[Part] = []
    first = 1
    for at, given in enumerate(every):
        given = _told_apart(given, [part.name for part in parts])
        amplifier, taken = amplifier_of(given)
        taken = tuple(replace(one, path=(one.path[0], at, *one.path[2:])) for one in taken)
        part = Part(amplifier=amplifier, given=given, taken=taken, at=at, first=first)
        parts.append(part)
        first += part.count + part.count % 2
    return Installed(tuple(parts))


def _told_apart(given: Amplifier, names: Sequence[str]) -> Amplifier:
    """Return an amplifier with a number behind its name where another has the same."""
    number = sum(given.name == re.sub(r" \([2-9]\)$", "", name) for name in names) + 1
    return given if number == 1 else replace(given, name=f"{given.name} ({number})")


def _together(amplifiers: Sequence[Amplifier], parts: Sequence[Part]) -> Amplifier:
    if len(amplifiers) == 1:
        return amplifiers[0]
    last = parts[-1]
    classes = {amplifier.amplifier_class for amplifier in amplifiers}
    percents = {amplifier.efficiency_percent for amplifier in amplifiers}
    bridge = {amplifier.may_bridge for amplifier in amplifiers}
    boosts = [amplifier.boost_db for amplifier in amplifiers]
    return Amplifier(
        name=" + ".join(amplifier.name for amplifier in amplifiers),
        channels=last.first + last.count - 1,
        amplifier_class=classes.pop() if len(classes) == 1 else None,
        efficiency_percent=percents.pop() if len(percents) == 1 else None,
        idle_w=_sum([amplifier.idle_w for amplifier in amplifiers]),
        quiescent_a=_sum([amplifier.quiescent_a for amplifier in amplifiers]),
        fuses_a=_fuses(amplifiers),
        trigger=_all([amplifier.trigger for amplifier in amplifiers]),
        signal_sensing=_all([amplifier.signal_sensing for amplifier in amplifiers]),
        supply_sensing=_all([amplifier.supply_sensing for amplifier in amplifiers]),
        level_control=_any([amplifier.level_control for amplifier in amplifiers]),
        boost_db=None if None in boosts else max(boost or 0.0 for boost in boosts),
        cover=_all([amplifier.cover for amplifier in amplifiers]),
        terminals=next(
            (each.terminals for each in amplifiers if each.terminals != "screw"), "screw"
        ),
        limit_c=min((each.limit_c for each in amplifiers if each.limit_c is not None), default=None)
        if all(each.limit_c is not None for each in amplifiers)
        else None,
        may_be_bridged=bridge.pop() if len(bridge) == 1 else None,
        filters=_filters(amplifiers, parts),
        price=_sum([amplifier.price for amplifier in amplifiers]),
        not_printed=_not_printed(amplifiers),
        regulated_min_v=None,
    )


def _sum(figures: Sequence[float | None]) -> float | None:
    known = [figure for figure in figures if figure is not None]
    return sum(known) if len(known) == len(figures) else None


def _all(answers: Sequence[bool | None]) -> bool | None:
    return False if False in answers else None if None in answers else True


def _any(answers: Sequence[bool | None]) -> bool | None:
    return True if True in answers else None if None in answers else False


def _fuses(amplifiers: Sequence[Amplifier]) -> str | None:
    told = [amplifier.fuses_a for amplifier in amplifiers]
    return None if None in told else "/".join(fuse for fuse in told if fuse)


def _not_printed(amplifiers: Sequence[Amplifier]) -> str | None:
    """Return the columns that were looked for on every one of them."""
    looked = [set(filter(None, (each.not_printed or "").split("+"))) for each in amplifiers]
    return "+".join(sorted(set.intersection(*looked))) or None


_CHANNELS, _SWITCH = 0, 6  # where a filter has them among its cells


def _cells(amplifier: Amplifier) -> list[list[str]]:
    """Return an amplifier's filters, each as the cells of its row."""
    rows = amplifier.own_filters.rows
    return [row.split(",") for row in rows.split(";")] if rows else []


def _kinds_of_pairs(count: int, filters: Sequence[Sequence[str]]) -> Iterator[Hashable]:
    """Yield what tells each pair of so many channels from the others: its filters.

    A filter or a switch that is also another pair's makes a pair like no other.
    """
    for first in range(1, count + 1, 2):
        pair = set(range(first, min(first + 2, count + 1)))
        own = [each for each in filters if channels_of(each[_CHANNELS]) & pair]
        switches = {each[_SWITCH] for each in own} - {""}
        is_apart = all(channels_of(each[_CHANNELS]) <= pair for each in own) and not any(
            each[_SWITCH] in switches for each in filters if each not in own
        )
        yield len(pair), tuple(map(_within_its_pair, own)) if is_apart else first


def _within_its_pair(cells: Sequence[str]) -> tuple[Hashable, ...]:
    """Return a filter without the names of its channels and of its switch."""
    places = frozenset((channel - 1) % 2 for channel in channels_of(cells[_CHANNELS]))
    is_bridge = "+" in cells[_CHANNELS]
    return places, is_bridge, bool(cells[_SWITCH]), *cells[1:_SWITCH], *cells[_SWITCH + 1 :]


def _filters(amplifiers: Sequence[Amplifier], parts: Sequence[Part]) -> str:
    """Return the filters of all as one cell, their channels numbered through."""
    rows = []
    for amplifier, part in zip(amplifiers, parts, strict=True):
        for cells in _cells(amplifier):
            mark = "/" if "/" in cells[_CHANNELS] else "+"
            cells[_CHANNELS] = mark.join(
                str(int(channel) + part.first - 1) for channel in cells[_CHANNELS].split(mark)
            )
            if cells[_SWITCH]:  # a shared switch is one amplifier's own
                cells[_SWITCH] = f"{cells[_SWITCH][:6]}{part.at + 1}"
            rows.append(",".join(cells))
    return filter_cell(";".join(rows)) if rows else NO_FILTERS

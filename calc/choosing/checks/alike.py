"""Outputs that stand for others: pairs of channels that have the same filters are all the same.

Of an amplifier of eight channels, two pairs of speakers can be put on any two of four pairs of
channels; whether the filters do has to be worked out once.
"""

from collections.abc import Hashable, Sequence
from itertools import chain

from calc.bridging.mapping import Output
from calc.choosing.installed import Installed, Part

_OWN_CHANNELS, _OWN_SWITCH = 0, 6  # where a row of filters has them


def alike(
    assignment: Sequence[Sequence[Output]], together: Installed
) -> tuple[tuple[Output, ...], ...]:
    """Return the outputs of each feed, with those pairs of channels that are first of their like.

    >>> from calc.choosing.installed import installed
    >>> from calc.system.amplifier import Amplifier
    >>> six = installed(Amplifier(name="A", channels=6, high_pass_hz="50-500"))
    >>> alike([[(5,), (6,)], [(1, 2)]], six)
    (((1,), (2,)), ((3, 4),))
    """
    stands_for: dict[int, int] = {}
    free: dict[Hashable, list[int]] = {}
    for part in together.parts:
        for pair, kind in enumerate(_kinds(part)):
            free.setdefault((part.at, kind), []).append(part.first + 2 * pair)
    first_of = {first: kind for kind, firsts in free.items() for first in firsts}
    for output in chain(*assignment):
        first = _first(output[0])
        if first not in stands_for:
            stands_for[first] = free[first_of[first]].pop(0)
    return tuple(
        tuple(
            tuple(channel - _first(channel) + stands_for[_first(channel)] for channel in output)
            for output in outputs
        )
        for outputs in assignment
    )


def _first(channel: int) -> int:
    """Return the first channel of its pair: every amplifier begins at an odd number."""
    return channel - (channel - 1) % 2


def _kinds(part: Part) -> list[Hashable]:
    """Return what each pair of channels is: those that are equal can be exchanged."""
    pairs = [range(first, min(first + 2, part.count + 1)) for first in range(1, part.count + 1, 2)]
    rows = part.amplifier.own_filters.rows
    filters = [row.split(",") for row in rows.split(";")] if rows else []
    kinds: list[Hashable] = []
    for pair in pairs:
        own = [each for each in filters if _numbers(each[_OWN_CHANNELS]) & set(pair)]
        switches = {each[_OWN_SWITCH] for each in own} - {""}
        others = [each for each in filters if each not in own]
        is_apart = all(_numbers(each[_OWN_CHANNELS]) <= set(pair) for each in own) and not any(
            each[_OWN_SWITCH] in switches for each in others
        )
        if is_apart:
            kinds.append((len(pair), tuple(map(_relative, own))))
        else:  # a filter or a switch that is also another pair's
            kinds.append((len(pair), pair[0]))
    return kinds


def _numbers(channels: str) -> set[int]:
    return {int(number) for number in channels.replace("+", "/").split("/")}


def _relative(row: Sequence[str]) -> tuple[Hashable, ...]:
    """Return a filter without the names of its channels and of its switch."""
    places = tuple(sorted((number - 1) % 2 for number in _numbers(row[_OWN_CHANNELS])))
    return (places, "+" in row[_OWN_CHANNELS], bool(row[_OWN_SWITCH]), *row[1:6], *row[7:])

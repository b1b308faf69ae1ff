"""Outputs that stand for others: pairs of channels that have the same filters are all the same.

Of an amplifier of eight channels, two pairs of speakers can be put on any two of four pairs of
channels; whether the filters do has to be worked out once.
"""

from collections.abc import Hashable, Sequence
from itertools import chain

from calc.bridging.mapping import Output
from calc.choosing.installed import Installed


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
        for pair, kind in enumerate(part.kinds_of_pairs):
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

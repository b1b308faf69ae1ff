"""Choices that a text decides: the same ones on every machine and in every year.

Numbers come from SHA-256 of the text and a counter, eight bytes each, in whole-number arithmetic;
a number that would favour the first of the choices is passed over.
"""

import hashlib
from collections.abc import Sequence
from typing import TypeVar

Thing = TypeVar("Thing")

_BYTES = 8
_ALL = 1 << 8 * _BYTES


class Draws:
    """The choices that follow from a seed, one after the other.

    >>> Draws("4711").pick(("a", "b", "c")) == Draws("4711").pick(("a", "b", "c"))
    True
    """

    def __init__(self, seed: str) -> None:
        self._seed = seed.encode()
        self._count = 0

    def _number(self) -> int:
        counter = self._count.to_bytes(_BYTES, "big")
        self._count += 1
        digest = hashlib.sha256(counter + self._seed).digest()
        return int.from_bytes(digest[:_BYTES], "big")

    def below(self, many: int) -> int:
        """Return a number from 0 to `many` less one, each as likely as the others."""
        while True:
            number = self._number()
            if number < _ALL - _ALL % many:
                return number % many

    def pick(self, choices: Sequence[Thing]) -> Thing:
        """Return one of the choices."""
        return choices[self.below(len(choices))]

    def shuffled(self, things: Sequence[Thing]) -> tuple[Thing, ...]:
        """Return the things in an order of their own.

        >>> sorted(Draws("4711").shuffled(range(5)))
        [0, 1, 2, 3, 4]
        """
        left = list(things)
        return tuple(left.pop(self.below(len(left))) for _ in range(len(left)))

    def several(self, choices: Sequence[Thing], many: int) -> tuple[Thing, ...]:
        """Return as many different choices, in an order of their own."""
        return self.shuffled(choices)[:many]

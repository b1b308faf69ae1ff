"""Reading a circuit's one-line notation: `+` joins in series, `|` in parallel."""

import re
from collections.abc import Mapping
from fractions import Fraction

from calc.answers.figures import listed
from calc.physics.coils import Circuit, in_parallel, in_series

_TOKEN = re.compile(r"\s*([0-9][a-h]|[+|()])")


class NotationError(ValueError):
    """The notation cannot be read; the message says where and what is permitted."""


def read_notation(text: str, coils: Mapping[str, Fraction]) -> Circuit:
    """Return the circuit that a notation describes.

    coils : impedance [Ω] of each coil by name; each must appear exactly once

    Raises NotationError.

    >>> four = Fraction(4)
    >>> read_notation("(1a+1b)|(2a+2b)", dict.fromkeys(["1a", "1b", "2a", "2b"], four)).load
    Fraction(4, 1)
    """
    tokens = _tokens(text)
    circuit, rest = _joined(tokens, coils, depth=0)
    if rest:
        raise NotationError(f"‘{rest[0]}’ is in the wrong place")
    names = [coil.name for coil in circuit.coils()]
    twice = sorted({name for name in names if names.count(name) > 1})
    missing = [name for name in coils if name not in names]
    if twice:
        raise NotationError(f"coil {twice[0]} is named twice")
    if missing:
        plural = len(missing) > 1
        raise NotationError(
            f"coil{'s' if plural else ''} {listed(missing)} {'are' if plural else 'is'} missing"
        )
    return circuit


def check_spelling(text: str) -> None:
    """Raise NotationError for a text with signs that no notation has."""
    _tokens(text)


def _tokens(text: str) -> list[str]:
    tokens, at = [], 0
    text = text.strip(" ")
    while at < len(text):
        token = _TOKEN.match(text, at)
        if not token:
            raise NotationError("use only coil names such as 1a, the signs + and |, and brackets")
        tokens.append(token.group(1))
        at = token.end()
    return tokens


def _joined(
    tokens: list[str], coils: Mapping[str, Fraction], depth: int
) -> tuple[Circuit, list[str]]:
    if depth > len(coils):
        raise NotationError("there are more brackets than coils")
    part, rest = _part(tokens, coils, depth)
    parts, sign = [part], ""
    while rest and rest[0] in "+|":
        if sign and rest[0] != sign:
            raise NotationError("+ and | are side by side; put brackets around one of them")
        sign = rest[0]
        part, rest = _part(rest[1:], coils, depth)
        parts.append(part)
    if not sign:
        return part, rest
    return (in_series(parts) if sign == "+" else in_parallel(parts)), rest


def _part(
    tokens: list[str], coils: Mapping[str, Fraction], depth: int
) -> tuple[Circuit, list[str]]:
    if not tokens:
        raise NotationError("it ends where a coil should be")
    head, rest = tokens[0], tokens[1:]
    if head == "(":
        inner, rest = _joined(rest, coils, depth + 1)
        if not rest or rest[0] != ")":
            raise NotationError("a bracket is not closed")
        return inner, rest[1:]
    if head not in coils:
        if head in "+|)":
            raise NotationError(f"‘{head}’ is where a coil should be")
        raise NotationError(f"there is no coil {head}; there are {', '.join(coils)}")
    return Circuit(kind="coil", name=head, load=coils[head]), rest

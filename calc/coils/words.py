"""Wiring in words: what is wired in series, what in parallel, and who takes which power.

A driver is called a sub, and a coil has its name from the notation, such as `1a`.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from fractions import Fraction

from calc.answers.figures import listed, quantity
from calc.coils.survey import Arrangement
from calc.physics.coils import Circuit

SOURCES = ("coil-resistance", "rated-impedance", "coil-rating", "network-count")
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
_PARTS = ("", "", "half", "third", "quarter", "fifth", "sixth", "seventh", "eighth")
_MOST_STEPS = 3  # in one sentence; of more, the notation is read sooner
_LONGEST = 170  # characters, likewise
_MOST_SHARES = 3  # different shares of coils in a sentence; the table has them all


def wiring_words(circuit: Circuit) -> str | None:
    """Say how a circuit is wired, to follow “Wire”; None where that takes too many words.

    >>> from calc.coils.notation import read_notation
    >>> four = dict.fromkeys(["1a", "1b", "2a", "2b"], Fraction(4))
    >>> wiring_words(read_notation("(1a+1b)|(2a+2b)", four))
    'each sub’s two coils in series, then the two subs in parallel'
    >>> wiring_words(read_notation("1a|1b|2a|2b", four))
    'all four coils in parallel'
    """
    by_sub = _coils_by_sub(circuit)
    if circuit.kind == "coil":
        return "the one coil on its own"
    if _is_flat(circuit):
        return _all_at_once(circuit, by_sub)
    subs = {number: _part_of(circuit, names) for number, names in by_sub.items()}
    units = {number: part for number, part in subs.items() if part is not None}
    inside, noun = "", "coil"
    if len(units) == len(by_sub) > 1:
        inside, noun = _inside(units), "sub"
        circuit = _with_subs_as_one(circuit, units)
    joined = _joined(circuit, noun)
    if joined is None:
        return None
    steps = [inside, *joined] if inside else joined
    text = ", then ".join(steps)
    return text if len(steps) <= _MOST_STEPS and len(text) <= _LONGEST else None


def _coils_by_sub(circuit: Circuit) -> dict[str, list[str]]:
    by_sub: dict[str, list[str]] = defaultdict(list)
    for name in sorted(coil.name for coil in circuit.coils()):
        by_sub[name[0]].append(name)
    return dict(by_sub)


def _is_flat(circuit: Circuit) -> bool:
    return all(part.kind == "coil" for part in circuit.parts)


def _in(kind: str) -> str:
    return f"in {kind}"


def _all_at_once(circuit: Circuit, by_sub: Mapping[str, Sequence[str]]) -> str:
    coils = _NUMBERS[len(circuit.parts)]
    if len(by_sub) == 1:
        return f"the sub’s {coils} coils {_in(circuit.kind)}"
    if len(by_sub) == len(circuit.parts):
        return f"the {coils} subs {_in(circuit.kind)}"
    return f"all {coils} coils {_in(circuit.kind)}"


def _part_of(circuit: Circuit, names: Sequence[str]) -> Circuit | None:
    """Return the part that joins these coils at once and no others; None if there is none."""
    for part in circuit.parts:
        if sorted(coil.name for coil in part.coils()) == list(names):
            return part if _is_flat(part) else None
        within = _part_of(part, names)
        if within is not None:
            return within
    return None


def _inside(units: Mapping[str, Circuit]) -> str:
    """Say how the coils of each sub are joined; empty where each sub has one coil."""
    ways = {(unit.kind, len(unit.parts)) for unit in units.values()}
    if len(ways) == 1:
        kind, coils = ways.pop()
        return f"each sub’s {_NUMBERS[coils]} coils {_in(kind)}" if coils else ""
    return listed(
        [
            f"sub {number}’s {_NUMBERS[len(unit.parts)]} coils {_in(unit.kind)}"
            for number, unit in units.items()
            if unit.parts
        ]
    )


def _with_subs_as_one(circuit: Circuit, units: Mapping[str, Circuit]) -> Circuit:
    """Return the circuit with each sub in the place of its coils."""
    for number, unit in units.items():
        if unit is circuit:
            return Circuit(kind="coil", name=number, load=circuit.load)
    parts = tuple(_with_subs_as_one(part, units) for part in circuit.parts)
    return Circuit(kind=circuit.kind, parts=parts, load=circuit.load)


def _joined(circuit: Circuit, noun: str) -> list[str] | None:
    """Return the steps in which the parts are joined, inner ones first; None for too many."""
    single = [part.name for part in circuit.parts if part.kind == "coil"]
    groups = [part for part in circuit.parts if part.kind != "coil"]
    if not groups:
        return [f"the {_NUMBERS[len(single)]} {noun}s {_in(circuit.kind)}"]
    if all(map(_is_flat, groups)):
        inner = listed([f"{_named(noun, group.parts)} {_in(group.kind)}" for group in groups])
        are_pairs = all(len(group.parts) == 2 for group in groups)
        word = "pair" if are_pairs else "group"
        return [inner, _last(circuit, len(groups), word, noun, single)]
    if len(groups) > 1:
        return None
    steps = _joined(groups[0], noun)
    return None if steps is None else [*steps, _last(circuit, 1, "", noun, single)]


def _named(noun: str, parts: Sequence[Circuit]) -> str:
    names = [part.name for part in parts]
    return f"{noun}{'s' if names[1:] else ''} {listed(names)}"


def _last(circuit: Circuit, groups: int, word: str, noun: str, single: Sequence[str]) -> str:
    """Say how groups are joined with one another and with what stands by itself."""
    rest = f"{noun}{'s' if single[1:] else ''} {listed(single)}"
    if groups == 1:
        return f"{f'this {word}' if word else 'all that'} {_in(circuit.kind)} with {rest}"
    together = f"the {_NUMBERS[groups]} {word}s"
    return f"{f'{together} and {rest}' if single else together} {_in(circuit.kind)}"


# ---- who takes which power


def share_words(arrangement: Arrangement) -> str:
    """Say who takes which part of the power, as a clause of its own.

    >>> from calc.coils.notation import read_notation
    >>> coils = {"1a": Fraction(4), "1b": Fraction(4), "2a": Fraction(8)}
    >>> circuit = read_notation("(1a+1b)|2a", coils)
    >>> share_words(Arrangement(circuit=circuit, even=True, joints=5))
    'each sub takes half the power; coil 2a alone takes half, 1a and 1b a quarter each'
    """
    shares = arrangement.circuit.shares()
    by_sub = _coils_by_sub(arrangement.circuit)
    subs = {
        number: sum((shares[name] for name in names), Fraction(0))
        for number, names in by_sub.items()
    }
    if len(shares) == 1:
        return "the one coil takes all the power"
    if len({*shares.values()}) == len({*subs.values()}) == 1:
        return "every coil gets the same power"
    clauses = [_subs(subs)] if len(subs) > 1 else []
    if len(shares) > len(subs):
        clauses.append(_coils(shares, by_sub))
    return "; ".join(clauses)


def _alike(shares: Mapping[str, Fraction]) -> list[tuple[str, list[str]]]:
    """Return the names with each share in words, the largest first.

    All in per cent where there is no word for one of them, so that they can be compared.
    """
    names: dict[Fraction, list[str]] = defaultdict(list)
    for name in sorted(shares):
        names[shares[name]].append(name)
    has_words = all(share.denominator < len(_PARTS) for share in names)
    return [
        (part_words(share) if has_words else _percent(share), names[share])
        for share in sorted(names, reverse=True)
    ]


def _subs(shares: Mapping[str, Fraction]) -> str:
    groups = _alike(shares)
    if len(groups) == 1:
        return f"each sub takes {_of_the_power(groups[0][0])}"
    clauses: list[str] = []
    for part, names in groups:
        head = f"sub{'s' if names[1:] else ''} {listed(names)}"
        each = " each" if names[1:] else ""
        if clauses:
            clauses.append(f"{head} {part}{each}")
        else:
            clauses.append(f"{head} {'take' if each else 'takes'} {_of_the_power(part)}{each}")
    return listed(clauses)


def _coils(shares: Mapping[str, Fraction], by_sub: Mapping[str, Sequence[str]]) -> str:
    groups = _alike(shares)
    if len(groups) == 1:
        return f"every coil takes {groups[0][0]}"
    if len(groups) > _MOST_SHARES:
        return "the table lists what each coil takes"
    clauses: list[str] = []
    for part, names in groups:
        each = " each" if names[1:] else ""
        if clauses:
            clauses.append(f"{listed(names)} {part}{each}")
        elif each:
            clauses.append(f"coils {listed(names)} take {part} each")
        else:
            alone = " alone" if len(by_sub[names[0][0]]) == 1 else ""
            clauses.append(f"coil {names[0]}{alone} takes {part}")
    return ", ".join(clauses)


def part_words(share: Fraction) -> str:
    """Write a part of a whole in words where people have a word for it, else in per cent.

    >>> part_words(Fraction(1, 2)), part_words(Fraction(2, 3)), part_words(Fraction(4, 11))
    ('half', 'two thirds', '36.4\\u202f%')
    """
    top, bottom = share.numerator, share.denominator
    if not 1 < bottom < len(_PARTS):
        return _percent(share)
    if top > 1:
        return f"{_NUMBERS[top]} {_PARTS[bottom]}s"
    return "half" if bottom == 2 else f"{'an' if bottom == 8 else 'a'} {_PARTS[bottom]}"


def _percent(share: Fraction) -> str:
    return quantity(float(100 * share), "%", 3)


def _of_the_power(part: str) -> str:
    return f"{part} the power" if part == "half" else f"{part} of the power"

"""Which circuits coils make, held against two counts made here anew."""

import ast
import re
from collections import Counter
from fractions import Fraction
from functools import cache
from itertools import combinations_with_replacement, pairwise, permutations, product
from math import factorial, prod

import pytest

from calc.app.contents import CALCULATORS

# A set of drivers is written ((coils, ohm), …), as the rows of the field are.


def wired(drivers, limit):
    text = ";".join(f"{coils},{ohm}" for coils, ohm in drivers)
    return CALCULATORS["coil-wiring"].answer({"drivers": text, "limit": str(limit)}).sheet.results


A000084 = [1, 2, 4, 10, 24, 66, 180, 522]  # OEIS: series–parallel networks of n like elements
A006351 = [1, 2, 8, 52, 472, 5504, 78416, 1320064]  # OEIS, from memory: the same, labelled

# ---- a count of one's own: every labelled circuit, coils that may be swapped run together ----

LETTERS = "abcdefgh"


def coil_ohms(drivers):
    return {
        f"{number}{letter}": Fraction(str(ohm))
        for number, (coils, ohm) in enumerate(drivers, start=1)
        for letter in LETTERS[:coils]
    }


def partitions(items):
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for others in partitions(rest):
        yield [(first,), *others]
        for at, block in enumerate(others):
            yield [*others[:at], (first, *block), *others[at + 1 :]]


@cache
def labelled(names, sign):
    """All circuits of the named coils whose outermost joining is `sign`."""
    other = "|" if sign == "+" else "+"
    return [
        (sign, frozenset(parts))
        for blocks in partitions(names)
        if len(blocks) > 1
        for parts in product(
            *(
                block if len(block) == 1 else labelled(tuple(sorted(block)), other)
                for block in blocks
            )
        )
    ]


def all_labelled(names):
    return list(names) if len(names) == 1 else labelled(names, "+") + labelled(names, "|")


def renamed(tree, names):
    if isinstance(tree, str):
        return names.get(tree, tree)
    return tree[0], frozenset(renamed(part, names) for part in tree[1])


def swaps(drivers):
    """Swaps of like coils and of like drivers, from which all permitted ones follow."""
    for number, (coils, _) in enumerate(drivers, start=1):
        for one, two in pairwise(LETTERS[:coils]):
            yield {f"{number}{one}": f"{number}{two}", f"{number}{two}": f"{number}{one}"}
    for kind in set(drivers):
        own = [number for number, one in enumerate(drivers, start=1) if one == kind]
        for one, two in pairwise(own):
            yield {
                f"{a}{letter}": f"{b}{letter}"
                for letter in LETTERS[: kind[0]]
                for a, b in ((one, two), (two, one))
            }


def orbits(drivers):
    """Return for every labelled circuit the number of the distinct circuit that it is."""
    moves, found, number = list(swaps(drivers)), {}, 0
    for tree in all_labelled(tuple(coil_ohms(drivers))):
        if tree in found:
            continue
        found[tree], edge = number, [tree]
        while edge:
            at = edge.pop()
            for move in moves:
                moved = renamed(at, move)
                if moved not in found:
                    found[moved] = number
                    edge.append(moved)
        number += 1
    return found


def load_of(tree, ohms):
    if isinstance(tree, str):
        return ohms[tree]
    loads = [load_of(part, ohms) for part in tree[1]]
    return sum(loads) if tree[0] == "+" else 1 / sum(1 / one for one in loads)


def powers_of(tree, ohms, volts=Fraction(1)):
    """Each coil's power with so many volts across the whole."""
    if isinstance(tree, str):
        return {tree: volts**2 / ohms[tree]}
    whole, powers = load_of(tree, ohms), {}
    for part in tree[1]:
        own = volts if tree[0] == "|" else volts * load_of(part, ohms) / whole
        powers |= powers_of(part, ohms, own)
    return powers


def is_even(powers, drivers):
    """Whether a driver's coils carry equal power, and like drivers do: the definition."""
    of_driver = {
        number: [power for name, power in powers.items() if name[0] == str(number)]
        for number in range(1, len(drivers) + 1)
    }
    coils_alike = all(len(set(own)) == 1 for own in of_driver.values())
    drivers_alike = all(
        len({sum(of_driver[n]) for n, one in enumerate(drivers, 1) if one == kind}) == 1
        for kind in set(drivers)
    )
    return coils_alike and drivers_alike


def joints_of(tree):
    """Two for each coil, less one for each place where series parts meet."""
    if isinstance(tree, str):
        return 2
    inner = len(tree[1]) - 1 if tree[0] == "+" else 0
    return sum(joints_of(part) for part in tree[1]) - inner


def parsed(notation):
    """Read a notation by Python's own grammar."""

    def tree(node):
        if isinstance(node, ast.Name):
            return node.id[1:]
        sign = {ast.Add: "+", ast.BitOr: "|"}[type(node.op)]
        parts = []
        for side in (tree(node.left), tree(node.right)):
            parts += side[1] if not isinstance(side, str) and side[0] == sign else [side]
        return sign, frozenset(parts)

    return tree(ast.parse(re.sub(r"([1-4][a-h])", r"c\1", notation), mode="eval").body)


def check_against_own_count(drivers):
    ohms, number_of = coil_ohms(drivers), orbits(drivers)
    one_of_each = {number: tree for tree, number in number_of.items()}
    found = wired(drivers, limit=1000)
    assert found["networks_total"] == len(one_of_each)
    even_of = {
        number: is_even(powers_of(tree, ohms), drivers) for number, tree in one_of_each.items()
    }
    load = {number: load_of(tree, ohms) for number, tree in one_of_each.items()}
    networks, even = Counter(load.values()), Counter(load[n] for n in load if even_of[n])
    assert found["distinct_loads"] == [
        {"load_ohm": float(one), "networks": networks[one], "even": even[one]}
        for one in sorted(networks)
    ]
    listed = [number_of[parsed(one["notation"])] for one in found["arrangements"]]
    assert len(set(listed)) == len(listed) == min(len(one_of_each), 1000)
    for number, one in zip(listed, found["arrangements"], strict=True):
        assert one["load_ohm"] == float(load[number])
        assert one["even"] == even_of[number]
        assert one["joints"] == joints_of(one_of_each[number])


KINDS = [(coils, ohm) for coils in range(1, 6) for ohm in (4, 8)]
SMALL_SETS = [
    drivers
    for count in range(1, 5)
    for drivers in combinations_with_replacement(KINDS, count)
    if sum(coils for coils, _ in drivers) <= 5
]


@pytest.mark.parametrize("coils", range(1, 6))
def test_all_sets_of_up_to_five_coils_make_the_circuits_counted_here(coils):
    sets = [one for one in SMALL_SETS if sum(number for number, _ in one) == coils]
    assert sets
    for drivers in sets:
        check_against_own_count(drivers)


@pytest.mark.parametrize(
    "drivers",
    [
        ((2, 4),) * 3,
        ((2, 2), (2, 2), (2, 4)),
        ((3, 6),) * 2,
        ((2, 4), (2, 4), (1, 4), (1, 4)),
        ((3, 3.3), (2, 4.7), (1, 8)),
        ((4, 2), (2, 4)),
    ],
)
def test_sets_of_six_coils_make_the_circuits_counted_here(drivers):
    check_against_own_count(drivers)


def test_a_set_of_seven_coils_makes_the_circuits_counted_here(is_long):
    check_against_own_count(((2, 4), (2, 4), (2, 4), (1, 8)) if is_long else ((3, 4), (4, 4)))


# ---- the number alone, by Pólya's theory, for all sets of eight coils ------------------------
# W: a coil or a circuit of one kind.  A set of one or more of them is a coil or a circuit of
# either kind but that the coil counts once: 1 + 2W − p₁ = exp(Σ ψₖW / k), ψₖ: p_i → p_ik.


def times(one, other, most):
    out = Counter()
    for (a, x), (b, y) in product(one.items(), other.items()):
        if sum(a) + sum(b) <= most:
            out[tuple(sorted(a + b))] += x * y
    return out


@cache
def cycle_index(most):
    """Coefficients by cycle lengths, for circuits of up to `most` coils."""
    whole = Counter({(1,): Fraction(1)})
    for size in range(2, most + 1):
        logarithm = Counter()
        for k in range(1, size + 1):
            for cycles, value in whole.items():
                logarithm[tuple(k * one for one in cycles)] += value / k
        power, total = Counter({(): Fraction(1)}), Counter()
        for n in range(1, size + 1):
            power = times(power, logarithm, size)
            for cycles, value in power.items():
                total[cycles] += value / factorial(n)
        whole += Counter({key: one for key, one in total.items() if sum(key) == size})
    return {key: one if key == (1,) else 2 * one for key, one in whole.items()}


def fixed_circuits(cycles):
    """How many labelled circuits a permutation with these cycle lengths leaves alone."""
    ways = prod(k**n * factorial(n) for k, n in Counter(cycles).items())
    return cycle_index(8).get(tuple(sorted(cycles)), 0) * ways


def cycle_lengths(image):
    left, lengths = set(image), []
    while left:
        at, length = left.pop(), 1
        start = at
        while (at := image[at]) != start:
            left.remove(at)
            length += 1
        lengths.append(length)
    return tuple(sorted(lengths))


def kind_cycles(drivers, coils):
    """How often each kind of cycles occurs among the swaps of like drivers and their coils."""
    inner = list(permutations(range(coils)))
    return Counter(
        cycle_lengths(
            {(d, c): (order[d], turned[d][c]) for d in range(drivers) for c in range(coils)}
        )
        for order in permutations(range(drivers))
        for turned in product(inner, repeat=drivers)
    )


def polya_count(drivers):
    total = Counter({(): 1})
    for (coils, _), number in Counter(drivers).items():
        total = times(total, kind_cycles(number, coils), 8)
    fixed = sum(often * fixed_circuits(cycles) for cycles, often in total.items())
    return fixed / total.total()


def test_the_count_by_cycles_agrees_with_the_published_ones():
    assert [len(all_labelled(tuple("abcdef"[:n]))) for n in range(1, 7)] == A006351[:6]
    labelled_counts = [fixed_circuits((1,) * n) for n in range(1, 9)]
    assert labelled_counts == A006351
    assert [polya_count([(n, 4)]) for n in range(1, 9)] == A000084


@pytest.mark.parametrize(
    "drivers",
    [
        ((2, 4),) * 4,
        ((2, 4), (2, 4), (2, 8), (2, 8)),
        ((2, 4), (2, 4), (2, 4), (2, 8)),
        ((4, 4),) * 2,
        ((4, 4), (4, 8)),
        ((8, 4),),
        ((5, 4), (1, 4), (1, 4), (1, 4)),
        ((3, 2), (3, 2), (2, 2)),
        ((3, 2), (3, 2), (1, 2)),
        ((7, 1), (1, 3)),
        ((6, 4), (2, 4)),
    ],
)
def test_sets_of_many_coils_make_as_many_circuits_as_the_count_by_cycles(drivers):
    assert wired(drivers, limit=1)["networks_total"] == polya_count(drivers)


def test_four_different_twin_coil_drivers_make_132160_circuits(is_long):
    drivers = [(2, 1), (2, 2), (2, 3), (2, 5)]
    if is_long:  # 132,160: the interface contract
        assert wired(drivers, limit=1)["networks_total"] == 132160
    assert polya_count(drivers) == 132160

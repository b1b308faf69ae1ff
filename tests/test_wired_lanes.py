"""Lanes and trunks of the drawing: the cheapest order there is; every trunk joins all its ends."""

from itertools import permutations

from conftest import each
from hypothesis import given
from hypothesis import strategies as st
from wired_follower import Union, on

from calc.choosing.wired.lanes import Net, near_levels, ordered
from calc.choosing.wired.trunks import trunk
from calc.choosing.wired.widths import cut, in_two_lines, short, width_of

LEVELS = st.integers(0, 30).map(lambda at: at * 11.0)


@st.composite
def nets(draw):
    """Draw up to six nets, no two of which end at one height on the same side."""
    heights = {}
    for side in ("left", "right"):
        heights[side] = draw(st.permutations([at * 22.0 + draw(LEVELS) % 22 for at in range(9)]))
    made = []
    for _ in range(draw(st.integers(1, 6))):
        left = [heights["left"].pop() for _ in range(1)]
        right = [heights["right"].pop() for _ in range(1)]
        made.append(Net(tuple(left), tuple(right)))
    return made


def cost_of(order, every):
    """Return what an order costs: counted anew, crossing by crossing."""
    at = {net: place for place, net in enumerate(order)}
    total = 0
    for a, net in enumerate(every):
        for b, other in enumerate(every):
            if a == b or net.is_straight:
                continue
            first = other.is_straight or at[a] < at[b]
            levels = [] if other.is_straight else [*(other.left if first else other.right)]
            levels += other.heights[:1] if other.is_straight else []
            for level in levels:
                low, high = min(net.heights), max(net.heights)
                if low - 6 < level < high + 6:
                    bends = any(abs(level - bend) < 6 for bend in net.heights)
                    total += 50 if bends or not low + 6 < level < high - 6 else 1
            if not other.is_straight and first:
                total += 200 * sum(abs(x - y) < 8 for x in other.left for y in net.right)
    return total


@given(nets())
def test_no_order_of_the_lanes_is_cheaper(every):
    order, cost = ordered(every)
    bent = [at for at, net in enumerate(every) if not net.is_straight]
    assert sorted(order) == bent
    assert cost == cost_of(order, every)
    assert cost == min(cost_of(other, every) for other in permutations(bent))


@given(nets())
def test_where_no_ends_are_level_wires_neither_touch_nor_lie_on_one_another(every):
    if near_levels(every) == 0 and not any(net.is_straight for net in every):
        assert ordered(every)[1] < 50


def test_of_many_nets_the_order_is_at_least_as_good_as_the_plain_rule():
    every = [Net((20.0 * at,), (20.0 * ((at * 7) % 12) + 9,)) for at in range(12)]
    order, cost = ordered(every)
    plain = sorted(range(12), key=lambda at: -max(every[at].heights))
    assert sorted(order) == list(range(12))
    assert cost == cost_of(order, every) <= cost_of(plain, every)


def test_the_last_net_is_the_rightmost():
    every = [Net((10.0,), (100.0,)), Net((), (30.0, 200.0)), Net((40.0,), (60.0,))]
    assert ordered(every, last=1)[0][-1] == 1


@given(st.lists(LEVELS, min_size=1, max_size=4, unique=True),
       st.lists(LEVELS, min_size=1, max_size=4, unique=True))  # fmt: skip
def test_a_trunk_joins_all_its_ends_by_dots_and_pins_alone(left, right):
    ends = [*((0.0, y) for y in left), *((50.0, y) for y in right)]
    wires, dots = trunk(20.0, [(end,) for end in ends])
    of = Union()
    for at, wire in enumerate(wires):
        for place in (*ends, *dots):
            is_end = place in (wire[0], wire[-1])
            if is_end or (place in dots and on(place, wire)):
                of.join(at, place)
    assert len({of.root(end) for end in ends}) == 1


@each("size", [12.5, 14.0])
def test_what_is_cut_keeps_to_its_room(size):
    for text in ("Hazel 4-75", "W" * 24, "i" * 60, "subwoofers in the boot, 2 × 4 Ω, 2 m"):
        for room in (30.0, 60.0, 98.0):
            assert width_of(cut(text, size, room), size) <= room
            assert len(in_two_lines(text, size, room)) <= 2
            assert text.startswith(short(text, size, room))

"""Where a section's edges may lie, which filters act together, and what is refused."""

import math

import pytest
from split_rows import (
    FULL_RANGE,
    MID_BASS,
    TWEETER,
    WOOFER,
    Plan,
    high_pass,
    low_pass,
    network,
    section,
)

from calc.crossovers.splitting.edges import edges_of, gaps, passive_filters, sections_below
from calc.crossovers.splitting.model import Control
from calc.crossovers.splitting.problem import Problem, dial_of, edge_state
from calc.physics.filter_stacks import stacked

# ---- sections and edges ----------------------------------------------------------------------


MID_80 = section("mid-bass", "12", 80, order=3, top_hz=5000)


def needed(*sections):
    """(kind, window, wanted corner and order) of each edge that is needed."""
    return [
        (f"{sections[one.section].kind} {one.kind}", one.window_hz, one.wanted_hz, one.wanted_order)
        for one in edges_of(sections)
        if one.is_needed
    ]


def test_an_edge_lies_between_what_is_safe_and_what_plays_below():
    # √(2500·4000) = 3162, and the mark of ISO 266 next to it is 3150; doors and subwoofer meet at
    # 80 Hz where that lies in the window; the slope is the upper one's.  A subwoofer needs no
    # high-pass, whatever its safe lowest frequency.
    woofer = section("woofer", "5", 25, order=1, top_hz=120)
    assert needed(section("tweeter", "12", 2500, order=3), MID_BASS, woofer) == [
        ("tweeter high-pass", (2500, 4000), 3150, 3),
        ("mid-bass high-pass", (70, 120), 80, 2),
        ("mid-bass low-pass", (2500, 4000), 3150, 3),
        ("woofer low-pass", (70, 120), 80, 2),
    ]
    # Protection is a high-pass, and is asked for as steep as it must be; a hand-over is not.
    edges = edges_of([TWEETER, MID_BASS, WOOFER])
    assert [one.protects for one in edges] == [True, False, True, False, False, False]
    assert [one.least_order for one in edges] == [2, 0, 2, 1, 0, 1]


def test_where_nothing_plays_next_to_it_an_octave_is_permitted_from_the_end():
    assert needed(section("midrange", "12", 300, order=3, top_hz=5000)) == [
        ("midrange high-pass", (300, 600), 315, 3),  # the lowest mark that is safe
    ]
    # A woofer is cut all the same: 125 Hz is beyond its top, 100 Hz the mark before it.
    woofer = needed(section("woofer", "12", None, top_hz=120))
    assert woofer == [("woofer low-pass", (60, 120), 100, 2)]
    # The same, where the two do not meet; they meet at one frequency too.
    apart = [TWEETER, section("mid-bass", "34", 70, top_hz=2000)]
    assert needed(*apart)[0] == ("tweeter high-pass", (2500, 5000), 2500, 2)
    assert needed(*apart)[2] == ("mid-bass low-pass", (1000, 2000), 2000, 2)
    touching = [TWEETER, section("mid-bass", "34", 70, top_hz=2500)]
    assert needed(*touching)[0] == ("tweeter high-pass", (2500, 2500), 2500, 2)
    assert needed(*touching)[2] == ("mid-bass low-pass", (2500, 2500), 2500, 2)
    assert gaps(apart) == ((1, 0),)
    assert gaps(touching) == gaps([TWEETER, MID_BASS, WOOFER]) == gaps([FULL_RANGE]) == ()


def test_a_wanted_corner_is_taken_and_the_neighbour_follows_as_far_as_it_can():
    for wanted, window, follows in ((3000, (2500, 4000), 3000), (5000, (2500, 5000), 4000)):
        edges = needed(section("tweeter", "12", 2500, wanted_hz=wanted), MID_BASS)
        assert edges[0][1:3] == (window, wanted)
        assert edges[2][1:3] == ((2500, 4000), follows)
    # Where no mark lies in the window, two figures, never out of it.
    for low, top, middle in ((2510, 2530, 2510), (2560, 2590, 2590), (2490, 2530, 2500)):
        edges = needed(section("tweeter", "12", low), section("mid-bass", "34", 70, top_hz=top))
        assert edges[0][2] == middle


def test_a_section_that_feeds_two_above_it_goes_by_the_lower_wish():
    rear = section("full-range", "34", 90, order=3)
    woofer = section("woofer", "5", None, top_hz=120)
    # The fronts meet it at 80 Hz, the rears could at 100 at the lowest.
    assert needed(FULL_RANGE, rear, woofer)[-1] == ("woofer low-pass", (60, 120), 80, 2)
    out_of_reach = section("full-range", "34", 150)
    assert needed(FULL_RANGE, out_of_reach, woofer)[-1][1] == (60, 120)


@pytest.mark.parametrize(
    ("kinds", "below"),
    [
        (["tweeter", "midrange", "mid-bass", "woofer"], [[1], [2], [3], []]),
        (["tweeter", "mid-bass", "woofer"], [[1], [2], []]),
        (["tweeter", "full-range", "woofer"], [[1], [2], []]),
        (["tweeter", "full-range", "mid-bass"], [[2], [], []]),
        (["full-range", "full-range", "woofer", "woofer"], [[2, 3], [2, 3], [], []]),
        (["midrange", "full-range", "woofer"], [[2], [2], []]),
        (["tweeter"], [[]]),
    ],
)
def test_the_next_one_down_takes_over(kinds, below):
    sections = [section(kind, "12", 1000) for kind in kinds]
    assert [sections_below(sections, at) for at in range(len(kinds))] == below


def test_deviation_is_counted_in_octaves_with_a_quarter_for_each_order():
    high, low, *_ = edges_of([MID_80, section("tweeter", "34", 5000, order=3)])
    assert high.deviation(160, 1) == 1 + 2 / 4
    assert high.deviation(40, 3) == 1
    assert low.deviation(2500, 4) == 1 + 1 / 4
    assert (high.deviation(None, 0), low.deviation(None, 0)) == (2, 2)  # 20 Hz, 20 kHz
    high, low = edges_of([section("woofer", "12", None)])
    assert high.deviation(None, 0) == low.deviation(None, 0) == 0
    # Where none is asked for, up to 1.26 · 25 = 31.5 Hz and from 16 kHz a filter does no harm.
    assert (high.deviation(63, 4), low.deviation(8000, 4)) == (1, 1)
    assert (high.deviation(31.5, 4), low.deviation(16_000, 4)) == (0, 0)


@pytest.mark.parametrize(
    ("lowest_hz", "tuning_hz", "harmless_hz", "harmful_hz"),
    [
        (None, None, 31.5, 32.0),  # 25 Hz where nothing is given
        (40, None, 50.4, 51.0),
        (None, 34, 42.8, 43.0),
        (25, 34, 42.8, 43.0),  # the tuning counts
    ],
)
def test_a_high_pass_harms_a_subwoofer_from_a_third_of_an_octave_above_its_lowest(
    lowest_hz, tuning_hz, harmless_hz, harmful_hz
):
    """1.26 × the safe lowest frequency, or the tuning of a ported box."""
    high, _ = edges_of([section("woofer", "12", lowest_hz, top_hz=120, tuning_hz=tuning_hz)])
    assert not high.is_needed and not high.protects
    assert edge_state(high, harmless_hz, 2) == "open"
    assert edge_state(high, harmful_hz, 2) == "spoilt"


def test_a_ported_box_gets_a_subsonic_filter_at_the_mark_below_its_tuning():
    """34 Hz: 31.5 Hz, or 25 Hz where the knob has no other; never above, and never needed."""
    sub = section("woofer", "34", None, top_hz=120, tuning_hz=34)
    low = low_pass("34", 50, 200)
    for steps, corner in (((20, 25, 31.5, 40), 31.5), ((25, 40, 50), 25), ((40, 50, 63), None)):
        plan = Plan([sub], [high_pass("34", *steps), low])
        assert plan.is_complete
        assert plan["woofer high-pass"].corner_hz == corner
        assert plan["woofer high-pass"].state == ("open" if corner is None else "made")
    # On one switch with the low-pass, the low-pass comes first.
    plan = Plan([sub], [high_pass("34", 25, switch="A"), low_pass("34", 50, 200, switch="A")])
    assert plan["woofer high-pass"].state == "open" and plan.is_complete
    # A sealed box, and one that nobody knows, gets none.
    for one in (section("woofer", "34", 25, top_hz=120), section("woofer", "34", None, top_hz=120)):
        plan = Plan([one], [high_pass("34", 20, 25, 31.5), low])
        assert plan["woofer high-pass"].corner_hz is None


def test_settings_two_octaves_from_every_window_are_not_tried():
    sections = [TWEETER, MID_BASS]
    tried = Problem(sections, [high_pass("12", 625, 626, 15_999, 16_000)]).choices
    assert tried == [(None, (626, 2), (15_999, 2))]
    woofer = Problem([WOOFER], [high_pass("34", 119, 120, 1000)]).choices
    assert woofer == [(None, (119, 2), (120, 2))]  # 4 × 31.5 = 126 Hz
    # Where all are far, it stays off; if it cannot, all are tried.
    assert Problem([TWEETER], [high_pass("12", 50, 60, 70)]).choices == [(None,)]
    always = high_pass("12", 50, 60, 70, can_be_off=False)
    assert Problem([TWEETER], [always]).choices == [((50, 2), (60, 2), (70, 2))]


# ---- filters that act together, and passive networks -----------------------------------------


@pytest.mark.parametrize(
    ("kind", "filters", "result"),
    [
        ("high-pass", [], (None, 0, 0)),
        ("high-pass", [(80, 2), (80, 2)], (80, 4, 2)),
        ("low-pass", [(80, 1), (80, 3)], (80, 4, 2)),
        ("high-pass", [(250, 2), (5000, 2)], (5000, 2, 1)),
        ("low-pass", [(250, 2), (5000, 3)], (250, 2, 1)),
        ("high-pass", [(50, 2), (100, 2)], (50 * math.sqrt(2), 4, 2)),
        ("low-pass", [(50, 3), (100, 1)], (50 * 2**0.25, 4, 2)),
        ("high-pass", [(49.9, 2), (100, 2)], (100, 2, 1)),
        ("low-pass", [(50, 2), (100.1, 2)], (50, 2, 1)),
        ("high-pass", [(30, 2), (60, 1), (100, 2)], (60 ** (1 / 3) * 100 ** (2 / 3), 3, 2)),
    ],
)
def test_filters_within_an_octave_of_the_innermost_act_together(kind, filters, result):
    for rows in (filters, filters[::-1]):
        found = stacked(kind, rows)
        assert found.corner_hz == (pytest.approx(result[0]) if filters else None)
        assert (found.order, found.number) == result[1:]


def test_a_stack_is_as_wide_as_its_corners_lie_apart():
    assert stacked("high-pass", [(50, 2), (100, 2), (10, 4)]).spread == pytest.approx(1)
    assert stacked("low-pass", [(80, 1), (80, 2)]).spread == 0
    (edge, _) = edges_of([TWEETER])
    assert edge.deviation(edge.wanted_hz, 2, 0.5) == pytest.approx(0.5)


THREE_WAY = [
    section("tweeter", "12", 2500),
    section("midrange", "12", 300, top_hz=4000),
    section("mid-bass", "12", 70, top_hz=500),
]


def corners(found):
    return [sorted((one.kind, one.frequency_hz, one.order) for one in each) for each in found]


def test_a_network_stands_where_its_corner_is_wanted():
    upper = [[("high-pass", 3000, 3)], [("low-pass", 3000, 3)], []]
    lower = [[], [("high-pass", 600, 2)], [("low-pass", 600, 2)]]
    assert corners(passive_filters(THREE_WAY, [network(3000, order=3)])) == upper
    assert corners(passive_filters(THREE_WAY, [network(600)])) == lower
    both = passive_filters(THREE_WAY, [network(3000, order=3), network(600)])
    assert corners(both) == [sorted(one + other) for one, other in zip(upper, lower, strict=True)]


def test_two_networks_stand_in_the_order_of_their_corners_whichever_comes_first():
    rows = [network(1200), network(3000)]
    above, between, below = corners(passive_filters(THREE_WAY, rows))
    assert above == [("high-pass", 3000, 2)] and below == [("low-pass", 1200, 2)]
    assert sorted(between) == [("high-pass", 1200, 2), ("low-pass", 3000, 2)]


def test_the_order_of_two_pairs_does_not_change_what_the_woofer_is_to_do():
    pairs = [FULL_RANGE, section("full-range", "34", 60, order=4)]
    woofer = section("woofer", "5", None, top_hz=120)
    assert needed(*pairs, woofer)[-1] == needed(*pairs[::-1], woofer)[-1]


# ---- what is refused -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "given",
    [
        {"steps_hz": ()},
        {"steps_hz": (80.0, 0.0)},
        {"steps_hz": (80.0,), "times": ()},
        {"steps_hz": (80.0,), "orders": ()},
        {"steps_hz": (80.0,), "orders": (2, 3)},
        {"steps_hz": (80.0,), "orders": (10,)},
        {"steps_hz": (80.0,), "switch": "a", "can_be_off": False},
    ],
)
def test_a_control_that_contradicts_itself_is_refused(given):
    right = {"box": "amplifier", "channels": frozenset({1}), "kind": "low-pass", "orders": (2, 4)}
    right |= {"family": "linkwitz-riley"}
    assert Control(**right, steps_hz=(80.0,)).corners_hz() == (80,)
    with pytest.raises(ValueError, match="a control"):
        Control(**(right | given))


def test_factors_multiply_what_a_knob_is_set_to():
    turned = high_pass("1", 50, 100, times=(1, 10)).control([])
    assert turned.corners_hz() == (50, 63, 80, 100, 500, 630, 800, 1000)
    assert high_pass("1", 50, 60, 70, times=(1, 10)).corners_hz() == (50, 60, 70, 500, 600, 700)


def test_a_setting_is_told_as_a_factor_and_what_the_dial_shows():
    turned = high_pass("1", 50, 250, times=(1, 4, 20)).control([])
    shown = {50: (1, 50), 250: (1, 250), 252: (4, 63), 1000: (4, 250), 1260: (20, 63)}
    assert {corner: dial_of(turned, (corner, 2)) for corner in shown} == shown
    assert dial_of(high_pass("1", 50, 60, 70, times=(1, 10)), (600, 2)) == (10, 60)
    assert dial_of(turned, None) == (None, None)
    for outside in (49, 260, 5001):
        with pytest.raises(ValueError, match="outside"):
            dial_of(turned, (outside, 2))


def test_a_filter_for_part_of_a_sections_channels_is_refused():
    with pytest.raises(ValueError, match="all of a section's channels"):
        Problem([TWEETER], [high_pass("23", 50, 80, 500)])
    assert Problem([TWEETER], [high_pass("34", 50, 80, 500)]).acted == [[]]
    assert Problem([TWEETER], [high_pass("123", 50, 80, 500)]).acted == [[0]]


@pytest.mark.parametrize("channels", ["12", "34"])
def test_a_network_without_two_sections_is_refused(channels):
    with pytest.raises(ValueError, match="two speaker groups"):
        passive_filters([TWEETER, FULL_RANGE][:1], [network(3000, channels)])
    with pytest.raises(ValueError, match="two speaker groups"):
        passive_filters([TWEETER, MID_BASS], [network(3000, channels)])


def test_two_networks_between_the_same_two_sections_are_refused():
    sections = [TWEETER, section("mid-bass", "12", 70, top_hz=4000)]
    with pytest.raises(ValueError, match="two speaker groups"):
        passive_filters(sections, [network(3000), network(3500)])

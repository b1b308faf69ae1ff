"""Which box makes which edge in the usual arrangements, and what an edge asks for."""

import math

import pytest

from calc.crossovers.split import (
    Control,
    Passive,
    Section,
    edges_of,
    gaps,
    passive_filters,
    sections_below,
    stacked,
)
from calc.crossovers.split_problem import Problem, dial_of
from calc.crossovers.split_search import best_split


def section(kind, channels, lowest_hz, order=2, top_hz=None, **given):
    own = frozenset(map(int, channels))
    return Section(
        kind=kind, channels=own, lowest_hz=lowest_hz, order=order, top_hz=top_hz, **given
    )


def filter_of(box, channels, kind, *corners_hz, orders=(2,), **given):
    """A filter with a range (two corners) or with steps (any other number of them)."""
    is_range = len(corners_hz) == 2
    return Control(
        box=box,
        channels=frozenset(map(int, channels)),
        kind=kind,
        family="butterworth",
        orders=orders,
        range_hz=corners_hz if is_range else None,
        steps_hz=() if is_range else corners_hz,
        **given,
    )


def high_pass(channels, *corners_hz, box="amplifier", **given):
    return filter_of(box, channels, "high-pass", *corners_hz, **given)


def low_pass(channels, *corners_hz, box="amplifier", **given):
    return filter_of(box, channels, "low-pass", *corners_hz, **given)


def network(frequency_hz, channels="12", order=2):
    own = frozenset(map(int, channels))
    return Passive(channels=own, family="butterworth", order=order, frequency_hz=frequency_hz)


class Plan:
    """The best split; `plan["tweeter high-pass"]` is that edge of the first such section."""

    def __init__(self, sections, controls, networks=()):
        self.sections, self.split = sections, best_split(Problem(sections, controls, networks))
        self.is_complete = self.split.is_complete
        self.settings = self.split.settings

    def __getitem__(self, name):
        return next(
            one
            for one in self.split.edges
            if name == f"{self.sections[one.edge.section].kind} {one.edge.kind}"
        )


# Steps of a head unit, a third of an octave apart [Hz].
LOW_STEPS = (20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250)
FOUR_CHANNELS = [
    high_pass("12", 50, 500),
    low_pass("12", 50, 500),
    high_pass("34", 50, 500),
    low_pass("34", 40, 250),
]
TWEETER, MID_BASS = section("tweeter", "12", 2500), section("mid-bass", "34", 70, top_hz=4000)
FULL_RANGE, WOOFER = section("full-range", "12", 60), section("woofer", "34", None, top_hz=120)

# ---- arrangements ----------------------------------------------------------------------------


def test_components_on_a_passive_network_and_a_bridged_woofer():
    sections = [TWEETER, section("mid-bass", "12", 70, top_hz=4000), WOOFER]
    plan = Plan(sections, FOUR_CHANNELS, [network(3500)])
    assert plan.is_complete
    for name in ("tweeter high-pass", "mid-bass low-pass"):
        assert (plan[name].corner_hz, plan[name].makers) == (3500, ("passive",))
    for name in ("mid-bass high-pass", "woofer low-pass"):
        assert 70 <= plan[name].corner_hz <= 120
        assert (plan[name].order, plan[name].makers) == (2, ("amplifier",))
    for name in ("tweeter low-pass", "woofer high-pass"):
        assert (plan[name].state, plan[name].makers) == ("open", ())
    assert plan.settings[1] is None and plan.settings[2] is None


def test_two_full_range_pairs_and_a_woofer_on_its_own_amplifier():
    sections = [
        FULL_RANGE,
        section("full-range", "34", 60),
        section("woofer", "5", None, top_hz=120),
    ]
    plan = Plan(sections, [*FOUR_CHANNELS, low_pass("5", 40, 200, can_be_off=False)])
    assert plan.is_complete
    high = [one for one in plan.split.edges if one.edge.kind == "high-pass" and one.edge.is_needed]
    assert [one.edge.section for one in high] == [0, 1]
    assert all(60 <= one.corner_hz <= 120 and one.number == 1 for one in high)
    assert plan["woofer low-pass"].corner_hz == high[0].corner_hz == high[1].corner_hz
    assert plan["full-range low-pass"].state == "open"


def test_an_active_two_way_pair():
    controls = [
        high_pass("12", 50, 250, times=(1, 20)),
        low_pass("12", 50, 250, times=(1, 20)),
        high_pass("34", 50, 250),
        low_pass("34", 50, 250, times=(1, 20)),
    ]
    plan = Plan([TWEETER, MID_BASS], controls)
    assert plan.is_complete
    assert 2500 <= plan["tweeter high-pass"].corner_hz <= 4000
    assert plan["mid-bass low-pass"].corner_hz == plan["tweeter high-pass"].corner_hz
    assert plan["mid-bass high-pass"].corner_hz == 70
    assert plan["tweeter low-pass"].state == "open"
    # A range switch may leave a hole between its ranges, here from 250 to 1000 Hz.
    midrange = [section("midrange", "12", 300)]
    assert not Plan(midrange, [high_pass("12", 50, 250, times=(1, 20))]).is_complete
    assert Plan(midrange, [high_pass("12", 50, 250, times=(1, 4, 20))]).is_complete


def test_a_part_active_three_way_pair_with_exclusive_filters():
    sections = [
        section("tweeter", "12", 3000),
        section("midrange", "12", 200, top_hz=6000),
        section("mid-bass", "34", 70, top_hz=300),
    ]
    amplifier = [
        high_pass("12", 50, 500, switch="front"),
        low_pass("12", 50, 500, switch="front"),
        high_pass("34", 50, 500, switch="rear"),
        low_pass("34", 50, 500, switch="rear"),
    ]
    head_unit = high_pass("34", *LOW_STEPS, box="head-unit")
    plan = Plan(sections, [head_unit, *amplifier], [network(5000)])
    assert plan.is_complete
    assert plan["tweeter high-pass"].corner_hz == plan["midrange low-pass"].corner_hz == 5000
    for name in ("midrange high-pass", "mid-bass low-pass"):
        assert 200 <= plan[name].corner_hz <= 300
        assert plan[name].makers == ("amplifier",)
    # The pair's filter lies more than four octaves below the network's: it is not doubled.
    assert plan["tweeter high-pass"].number == 1
    assert [box for box, _ in plan["tweeter high-pass"].filters] == ["passive", "amplifier"]
    assert plan["tweeter high-pass"].makers == plan["midrange low-pass"].makers == ("passive",)
    assert plan["mid-bass high-pass"].makers == ("head-unit",)
    assert 70 <= plan["mid-bass high-pass"].corner_hz <= 140
    # Without the head unit one of the mid-bass' edges stays open: its protection comes first.
    alone = Plan(sections, amplifier, [network(5000)])
    assert not alone.is_complete
    assert alone["mid-bass high-pass"].state == "made"
    assert alone["mid-bass low-pass"].state == "missing"


def test_a_low_pass_that_ends_too_low_for_an_active_mid_bass_is_refused_with_the_reason():
    controls = [high_pass("12", 500, 5000), high_pass("34", 50, 500), low_pass("34", 50, 500)]
    plan = Plan([TWEETER, MID_BASS], controls)
    assert not plan.is_complete
    hole = plan["mid-bass low-pass"]
    assert (hole.state, hole.edge.window_hz, hole.edge.least_order) == ("missing", (2500, 4000), 1)
    others = [one for one in plan.split.edges if one is not hole]
    assert all(one.state in ("made", "open") for one in others)
    enough = low_pass("34", hole.edge.window_hz[0], orders=(1,))
    assert Plan([TWEETER, MID_BASS], [*controls[:2], enough]).is_complete


def test_a_tweeter_without_protection_is_never_taken_as_made():
    rest = [high_pass("34", 50, 500), low_pass("34", 50, 5000)]
    for own in (
        [],
        [high_pass("12", 50, 500)],
        [high_pass("12", 80, can_be_off=False)],
        [high_pass("12", 2400, can_be_off=False)],
        [high_pass("12", 2500, orders=(1,), can_be_off=False)],
    ):
        plan = Plan([TWEETER, MID_BASS], [*own, *rest])
        assert plan["tweeter high-pass"].state == "unprotected"
        assert not plan.is_complete
    # One that begins too high protects, but leaves a hole.
    plan = Plan([TWEETER, MID_BASS], [high_pass("12", 4100), *rest])
    assert plan["tweeter high-pass"].state == "missing" and not plan.is_complete
    assert Plan([TWEETER, MID_BASS], [high_pass("12", 4000), *rest]).is_complete


def test_two_sections_on_one_channel_need_a_passive_network():
    sections = [TWEETER, section("mid-bass", "12", 70, top_hz=4000)]
    controls = [
        one("12", 20, 20_000, box=box, orders=(1, 2, 3, 4))
        for one in (high_pass, low_pass)
        for box in ("amplifier", "head-unit")
    ]
    assert not Plan(sections, controls).is_complete
    assert Plan(sections, controls, [network(3200)]).is_complete


def test_two_filters_at_one_corner_make_the_double_order_and_are_counted():
    steep = section("mid-bass", "12", 80, order=4)
    controls = [high_pass("12", 40, 400), high_pass("12", 80, box="head-unit")]
    plan = Plan([steep], controls)
    edge = plan["mid-bass high-pass"]
    assert plan.is_complete and plan.settings == ((80, 2), (80, 2))
    assert (edge.corner_hz, edge.order, edge.number) == (80, 4, 2)
    cost = Problem([steep], controls).edge_cost
    assert cost(0, plan.settings) == (0, 0, 0, 1)
    assert cost(0, ((160, 2), None)) == (1, 1, 1_500_000, 0)  # an octave and two orders
    # Where the second order is enough, one filter is.
    plan = Plan([section("mid-bass", "12", 80, order=2)], controls)
    assert plan.settings == ((80, 2), None)


def test_a_head_units_one_setting_feeds_all_its_outputs():
    sections = [FULL_RANGE, section("full-range", "34", 100)]
    plan = Plan(sections, [high_pass("1234", *LOW_STEPS, box="head-unit")])
    assert plan.is_complete
    assert plan.settings in [((corner, 2),) for corner in (100, 125)]
    # What protects the tweeter would silence the mid-bass: the tweeter comes first.
    shared = high_pass("1234", 100, 3150, 5000, box="head-unit")
    plan = Plan([TWEETER, MID_BASS], [shared])
    assert plan.settings == ((3150, 2),) and not plan.is_complete
    assert plan["mid-bass high-pass"].state == "missing"


def test_a_filter_that_cannot_be_switched_off_spoils_a_woofer():
    low = low_pass("34", 50, 200)
    always = high_pass("34", 50, 500, can_be_off=False)
    plan = Plan([FULL_RANGE, WOOFER], [high_pass("12", 50, 500), low, always])
    assert plan["woofer high-pass"].state == "spoilt" and not plan.is_complete
    assert plan["woofer low-pass"].state == "made"
    # At 30 Hz it does no harm, nor does a low-pass at 16 kHz.
    harmless = [high_pass("34", 30, can_be_off=False), low_pass("12", 16_000, can_be_off=False)]
    plan = Plan([FULL_RANGE, WOOFER], [high_pass("12", 50, 500), low, *harmless])
    assert plan.is_complete and plan["woofer high-pass"].state == "open"
    assert plan["full-range low-pass"].state == "open"
    dull = [harmless[0], low_pass("12", 15_900, can_be_off=False)]
    assert not Plan([FULL_RANGE, WOOFER], [high_pass("12", 50, 500), low, *dull]).is_complete


def test_the_amplifier_is_preferred_to_the_head_unit_and_one_box_to_two():
    both = [high_pass("12", 80, box=box) for box in ("head-unit", "amplifier")]
    assert Plan([section("full-range", "12", 80)], both).settings == (None, (80, 2))
    # Where the head unit has to make one edge, it makes the other too.
    controls = [
        high_pass("12", 85),
        high_pass("12", 85, box="head-unit"),
        low_pass("34", 85, box="head-unit"),
    ]
    assert Plan([FULL_RANGE, WOOFER], controls).settings == (None, (85, 2), (85, 2))
    # Three filters of one box are preferred to two of two boxes.
    pairs = [section("full-range", channels, 80) for channels in ("12", "34", "56")]
    controls = [high_pass(channels, 80, box="head-unit") for channels in ("12", "34", "56")]
    plan = Plan(pairs, [*controls, high_pass("1234", 80)])
    assert plan.is_complete and plan.settings[-1] is None
    # Of two boxes that can do it alone, the one with fewer filters on does.
    own = [high_pass("12", 80), high_pass("34", 80)]
    plan = Plan(pairs[:2], [*own, high_pass("1234", 80, box="head-unit")])
    assert plan.settings == (None, None, (80, 2))


# ---- sections and edges ----------------------------------------------------------------------


def needed(*sections):
    """(kind, window, wanted corner and order) of each edge that is needed."""
    return [
        (f"{sections[one.section].kind} {one.kind}", one.window_hz, one.wanted_hz, one.wanted_order)
        for one in edges_of(sections)
        if one.is_needed
    ]


def test_an_edge_lies_between_what_is_safe_and_what_plays_below():
    # √(2500·4000) = 3162 and √(70·120) = 91.7, to two figures; the slope is the upper one's.
    woofer = section("woofer", "5", 25, order=1, top_hz=120)
    assert needed(section("tweeter", "12", 2500, order=3), MID_BASS, woofer) == [
        ("tweeter high-pass", (2500, 4000), 3200, 3),
        ("mid-bass high-pass", (70, 120), 92, 2),
        ("mid-bass low-pass", (2500, 4000), 3200, 3),
        ("woofer high-pass", (25, 50), 25, 1),
        ("woofer low-pass", (70, 120), 92, 2),
    ]
    # Protection is a high-pass, and is asked for as steep as it must be; a hand-over is not.
    edges = edges_of([TWEETER, MID_BASS, WOOFER])
    assert [one.protects for one in edges] == [True, False, True, False, False, False]
    assert [one.least_order for one in edges] == [2, 0, 2, 1, 0, 1]


def test_where_nothing_plays_next_to_it_an_octave_is_permitted_from_the_end():
    assert needed(section("midrange", "12", 300, order=3, top_hz=5000)) == [
        ("midrange high-pass", (300, 600), 300, 3),
        ("midrange low-pass", (2500, 5000), 5000, 3),
    ]
    # The same, where the two do not meet; they meet at one frequency too.
    apart = [TWEETER, section("mid-bass", "34", 70, top_hz=2000)]
    assert needed(*apart)[0] == ("tweeter high-pass", (2500, 5000), 3500, 2)
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
    # Two figures never lead out of the window.
    for low, top, middle in ((2510, 2530, 2510), (2560, 2590, 2590), (2490, 2530, 2500)):
        edges = needed(section("tweeter", "12", low), section("mid-bass", "34", 70, top_hz=top))
        assert edges[0][2] == middle


def test_a_section_that_feeds_two_above_it_goes_by_the_lower_wish():
    rear = section("full-range", "34", 90, order=3)
    woofer = section("woofer", "5", None, top_hz=120)
    assert needed(FULL_RANGE, rear, woofer)[-1] == ("woofer low-pass", (60, 120), 85, 2)
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
    high, low, *_ = edges_of([section("mid-bass", "12", 80, order=3, top_hz=5000)])
    assert high.deviation(160, 1) == 1 + 2 / 4
    assert high.deviation(40, 3) == 1
    assert low.deviation(2500, 4) == 1 + 1 / 4
    assert (high.deviation(None, 0), low.deviation(None, 0)) == (2, 2)  # 20 Hz, 20 kHz
    high, low = edges_of([section("woofer", "12", None)])
    assert high.deviation(None, 0) == low.deviation(None, 0) == 0
    assert (high.deviation(40, 4), low.deviation(10_000, 4)) == (1, 1)
    assert (high.deviation(10, 4), low.deviation(40_000, 4)) == (0, 0)


def test_settings_two_octaves_from_every_window_are_not_tried():
    sections = [TWEETER, MID_BASS]
    tried = Problem(sections, [high_pass("12", 625, 626, 15_999, 16_000)]).choices
    assert tried == [(None, (626, 2), (15_999, 2))]
    woofer = Problem([WOOFER], [high_pass("34", 119, 120, 1000)]).choices
    assert woofer == [(None, (119, 2))]
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
        corner, *rest = stacked(kind, rows)
        assert corner == (pytest.approx(result[0]) if filters else None)
        assert tuple(rest) == result[1:]


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
        {},
        {"steps_hz": (80.0,), "range_hz": (50.0, 500.0)},
        {"steps_hz": (80.0,), "orders": ()},
        {"steps_hz": (80.0,), "orders": (2, 3)},
        {"steps_hz": (80.0,), "orders": (10,)},
        {"steps_hz": (80.0,), "switch": "a", "can_be_off": False},
    ],
)
def test_a_control_that_contradicts_itself_is_refused(given):
    right = {"box": "amplifier", "channels": frozenset({1}), "kind": "low-pass", "orders": (2, 4)}
    right |= {"family": "linkwitz-riley"}
    assert Control(**right, steps_hz=(80.0,)).ranges_hz() == ((80, 80),)
    with pytest.raises(ValueError, match="a control"):
        Control(**(right | given))


def test_factors_multiply_steps_and_ranges():
    turned = high_pass("1", 50, 250, times=(1, 10, 20))
    assert turned.ranges_hz() == ((50, 250), (500, 2500), (1000, 5000))
    assert high_pass("1", 50, 60, 70, times=(1, 10)).ranges_hz() == tuple(
        (one, one) for one in (50, 60, 70, 500, 600, 700)
    )


def test_a_setting_is_told_as_a_factor_and_what_the_dial_shows():
    turned = high_pass("1", 50, 250, times=(1, 4, 20))
    shown = {50: (1, 50), 250: (1, 250), 260: (4, 65), 1000: (4, 250), 1001: (20, 50.05)}
    assert {corner: dial_of(turned, (corner, 2)) for corner in shown} == shown
    assert dial_of(high_pass("1", 50, 60, 70, times=(1, 10)), (600, 2)) == (10, 60)
    assert dial_of(turned, None) == (None, None)
    for outside in (49, 5001):
        with pytest.raises(ValueError, match="outside"):
            dial_of(turned, (outside, 2))


def test_a_filter_for_part_of_a_sections_channels_is_refused():
    with pytest.raises(ValueError, match="all of a section's channels"):
        Problem([TWEETER], [high_pass("23", 50, 500)])
    assert Problem([TWEETER], [high_pass("34", 50, 500)]).acted == [[]]
    assert Problem([TWEETER], [high_pass("123", 50, 500)]).acted == [[0]]


@pytest.mark.parametrize("channels", ["12", "34"])
def test_a_network_without_two_sections_is_refused(channels):
    with pytest.raises(ValueError, match="two sections"):
        passive_filters([TWEETER, FULL_RANGE][:1], [network(3000, channels)])
    with pytest.raises(ValueError, match="two sections"):
        passive_filters([TWEETER, MID_BASS], [network(3000, channels)])


def test_two_networks_between_the_same_two_sections_are_refused():
    sections = [TWEETER, section("mid-bass", "12", 70, top_hz=4000)]
    with pytest.raises(ValueError, match="two sections"):
        passive_filters(sections, [network(3000), network(3500)])

"""Which box makes which edge in the usual arrangements, and what an edge asks for."""

from split_rows import (
    FOUR_CHANNELS,
    FULL_RANGE,
    LOW_STEPS,
    MID_BASS,
    TWEETER,
    WOOFER,
    Plan,
    controls_on,
    high_pass,
    low_pass,
    network,
    section,
)

from calc.crossovers.splitting.problem import Problem

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
    assert plan["mid-bass high-pass"].corner_hz == 80  # the lowest mark that is safe from 70 Hz
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
    cost = Problem([steep], controls_on([steep], controls)).edge_cost
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

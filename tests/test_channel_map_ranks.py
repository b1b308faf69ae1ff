"""Which grouping comes first, speakers in series, and what is a no whatever is missing."""

import pytest
from test_channel_map import ask, mapped, on


def test_two_woofers_one_each_on_two_channels_go_before_a_bridged_pair_that_plays_no_louder():
    """By hand: 4 Ω woofers of 90 W and 90 dB, amplifier 50 W at 4 Ω.

    One each on 3 and 4: 50 W each. In parallel on 3+4 they would be 2 Ω, 1 Ω a channel, refused;
    in series 8 Ω: 4 Ω a channel, 2 × 50 W = 100 W, again 50 W each. Both play 90 + 16.99 − 3.01
    (50 W over the watt of 8 Ω at 2.83 V, twice that at 4 Ω) + 6.02 dB: fewer bridges win.
    """
    rows = [("full-range", 4, 60, 90, 2), ("woofer", 4, 90, 90, 2)]
    found = mapped(rows)
    assert found[0]["grouping"] == "1|2|3|4"
    assert on(found[0])[1] == ("woofer", ["3", "4"])
    woofers = {plan["grouping"]: plan["uses"][1] for plan in found}
    bridged = woofers["1|2|3+4"]
    assert bridged["in_series"] and bridged["load_ohm"] == 8
    assert bridged["power_w"] == pytest.approx(100)
    alone = woofers["1|2|3|4"]
    assert bridged["total_db"] == pytest.approx(alone["total_db"])
    # 20·lg(√(50 · 4) ÷ 2.83) = 13.97 dB; two alike: 6.02 dB.
    assert alone["total_db"] == pytest.approx(90 + 13.97 + 6.02, abs=0.01)


def test_two_outputs_alike_are_louder_than_one_that_makes_a_little_more():
    """By hand: 4 Ω woofers of 88 dB on 60 W at 4 Ω, 80 W at 2 Ω, two channels.

    One each on 1 and 2: √(60 · 4) = 15.49 V at both, level 88 + 14.77 + 6.02. In parallel on
    one channel: √(80 · 2) = 12.65 V at both, 1.76 dB less, though one output plays louder then.
    """
    woofers = [("woofer", 4, 90, 88, 2)]
    given = {"channels": 2, "power_4ohm_w": 60, "power_2ohm_w": 80}
    best = mapped(woofers, **given)[0]
    assert on(best) == [("woofer", ["1", "2"])]
    together = mapped(woofers, **given, settled="1,1")[0]["uses"][0]
    assert together["level_db"] > best["uses"][0]["level_db"]
    assert best["uses"][0]["total_db"] - together["total_db"] == pytest.approx(1.76, abs=0.01)


def test_of_two_groupings_with_the_same_doors_the_one_with_the_louder_woofer_is_first():
    """The doors are the quietest in both; bridged, 8 Ω get 100 W for 25 W, 6 dB more.

    Doors of 84 dB: 84 + 13.97 + 6.02 dB; the woofer of 95 dB on 25 W: 95 + 13.97 dB at least.
    """
    best = mapped([("full-range", 4, 60, 84, 2), ("woofer", 8, 50, 95, 1)])[0]
    assert best["quietest"] == "full-range"
    assert on(best) == [("full-range", ["1", "2"]), ("woofer", ["3+4"])]


def test_speakers_stand_in_series_only_where_parallel_is_refused():
    """Two pairs of 4 Ω on two channels: in parallel 2 Ω; where 4 Ω is the least, in series 8 Ω."""
    rows = [("full-range", 4, 30, 90, 4)]
    given = {"channels": 2, "settled": "1,1/2"}
    (use,) = mapped(rows, **given, min_channel_ohm=2)[0]["uses"]
    assert (use["load_ohm"], use["in_series"]) == (2, False)
    sheet = ask(rows, **given, min_channel_ohm=4)
    (use,) = sheet.results["groupings"][0]["uses"]
    # 50 W at 4 Ω is 14.14 V; into 8 Ω 25 W, 12.5 W for each of the two.
    assert (use["load_ohm"], use["in_series"]) == (8, True)
    assert use["power_w"] == pytest.approx(25) and use["match"] == pytest.approx(12.5 / 30)
    assert "in series" in sheet.sentence
    assert any("one model" in text for text in sheet.cautions)
    assert ask([("woofer", 1, 90, 88, 2)], min_channel_ohm=4).verdict.state == "unsuitable"


@pytest.mark.parametrize(
    ("rated_w", "state"),
    [
        # 2 Ω without a 2 Ω figure: 50 to 100 W, in a current-limited channel 25 W.
        (201, "unsuitable"),  # even 100 W are less than half
        (199, "not known"),
        (12, "unsuitable"),  # even 25 W are more than twice
        (13, "not known"),
    ],
)
def test_bounds_that_cannot_suit_are_a_no_though_the_2_ohm_figure_is_missing(rated_w, state):
    sheet = ask([("woofer", 2, rated_w, 88, 1)], channels=1, power_2ohm_w="")
    assert sheet.results["groupings"][0]["uses"][0]["power_w"] is None
    assert sheet.verdict.state == state


def test_a_grouping_whose_power_is_missing_may_do_where_the_known_ones_do_not():
    """2 Ω bridged is 1 Ω a channel, permitted but rated nowhere; 75 W on one are 0.3 of 250 W."""
    woofer = [("woofer", 2, 250, 88, 1)]
    sheet = ask(woofer, channels=2, min_channel_ohm=1)
    assert on(sheet.results["groupings"][0]) == [("woofer", ["1"])]
    assert (
        sheet.verdict.state == "not known"
        and "can be better: 1 and 2 bridged" in sheet.verdict.reason
    )
    assert ask(woofer, channels=2, min_channel_ohm=2).verdict.state == "unsuitable"


def test_two_channels_never_carry_three_outputs_whatever_is_missing():
    sections = [("full-range", 4, 60, 90, 1)] * 3
    sheet = ask(sections, channels=2, power_2ohm_w="", supply_v=24)
    assert sheet.verdict.state == "unsuitable"

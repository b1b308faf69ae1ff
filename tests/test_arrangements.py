"""One amplifier, every arrangement of its channels: the best worked out by hand.

Each system is a file beside the other customers', with figures that leave no doubt.  The working
stands in the comments, and nothing of `calc` is used for it.  What most share:

- an amplifier of 4 × 60 W at 4 Ω, 90 W at 2 Ω, a pair 180 W bridged at 4 Ω, no channel below 2 Ω
  (a bridged pair, each channel of which sees half of the load, none below 4 Ω); class D, 80 %:
  P/(0.8 · 14.4 V) = P/11.52 V is its current at full power; fuses listed: 15, 20, 25, 30, 35 A;
- 5 m of run: 10 mm² has 14.918 mΩ there, 0.5 m of earth and the body (see the other customers);
- front doors 4 Ω, 50 W, rears 4 Ω; a door is safe from 70 or 80 Hz, all cross at 80 Hz.

What goes before what: no speaker that gets less than half of its rating, then little given up (the
fader, or power of the radio alone behind), then few amplifiers.
"""

import re

import pytest
from arrangement_files import (
    changed,
    holds,
    is_good,
    outputs,
    results,
    row_of,
    sheet,
    sheet_of_text,
    text_of,
    wired,
    words,
)

ALDER = "Alder 4-60"


def by_output(found, name=ALDER):
    """Return what hangs on each output of the only amplifier."""
    assert {amplifier for amplifier, _ in wired(found)} == {name}
    return {output: loads for (_, output), loads in wired(found).items()}


def gives(found):
    return {output: figures for (_, output), figures in outputs(found).items()}


def fuse(found):
    return found["power-cable"]["results"]["fuse_a"]


def test_each_pair_on_a_pair_of_channels():
    """Doors 60 W, front and rear: a channel each, 60 W, all they bear, and nothing is given up.
    Joined they would be 2 Ω and share 90 W, 45 W each.  240 W: 20.83 A, a 25 A fuse;
    √(60 · 4) = 15.49 V."""
    found = results("own-pairs")
    is_good(found)
    assert by_output(found) == {
        "1": [("front doors", "left", 4, 60)],
        "2": [("front doors", "right", 4, 60)],
        "3": [("rear doors", "left", 4, 60)],
        "4": [("rear doors", "right", 4, 60)],
    }
    for output in "1234":
        holds(row_of(found, ALDER, output), ceiling_v=15.492, start_v=15.492, high_pass_hz=80.0)
    assert fuse(found) == 25


def test_a_subwoofer_bridged():
    """300 W, 4 Ω.  On one channel 60 W, a fifth; bridged 180 W, six tenths: √720 = 26.83 V.
    Doors of 50 W: √200 = 14.14 V.  60 + 60 + 180 W: 26.04 A, a 30 A fuse."""
    found = results("sub-bridged")
    is_good(found)
    assert by_output(found) == {
        "1": [("front doors", "left", 4, 60)],
        "2": [("front doors", "right", 4, 60)],
        "3+4": [("subwoofer", "both", 4, 180)],
    }
    holds(row_of(found, ALDER, "3+4"), plus="3+", minus="4-", low_pass_hz=80.0, ceiling_v=26.833)
    holds(row_of(found, ALDER, "1"), high_pass_hz=80.0, ceiling_v=14.142)
    assert fuse(found) == 30


def test_two_subwoofers_each_bridged():
    """250 W each: 180 W on a bridged pair, or 60 W on a channel.  Together on one pair they are
    2 Ω (too low) or 8 Ω, 2 · 60 W for both.  360 W: 31.25 A, a 35 A fuse."""
    found = results("two-subs-bridged")
    is_good(found)
    assert gives(found) == {"1+2": (4, 180), "3+4": (4, 180)}
    for loads in by_output(found).values():
        assert [(name, ohm, watts) for name, _, ohm, watts in loads] == [("subwoofers", 4, 180)]
    assert fuse(found) == 35


def test_two_subwoofers_one_each_on_3_and_4():
    """80 W each, 4 Ω: 60 W on a channel each.  Bridged they stand in series, 8 Ω, 4 Ω a channel:
    2 · 60 W for both, 60 W each as well.  Nothing is won: no bridge.  √240 = 15.49 V."""
    found = results("two-subs-apart")
    is_good(found)
    assert gives(found) == dict.fromkeys("1234", (4, 60))
    assert [by_output(found)[output][0][0] for output in "1234"] == [
        "front doors", "front doors", "subwoofers", "subwoofers",
    ]  # fmt: skip
    holds(row_of(found, ALDER, "3"), low_pass_hz=80.0, ceiling_v=15.492)


def test_front_joined_with_rear_and_the_subwoofer_bridged():
    """Four doors and a subwoofer of 250 W, five outputs' worth on four channels.

    - Each pair on its own: no channel is left for the subwoofer.
    - Joined: 4 Ω with 4 Ω is 2 Ω, which the channel permits: 90 W, 45 W for each door of 50 W;
      the subwoofer bridged, 180 of 250 W.  Given up: the fader.
    - Rears on the radio: fronts 60 W, subwoofer 180 W, but 18 W behind, of 50 W.
    Joined is best: nobody gets less than half.  Ceiling: 90 W of 2 · 50 W, √(90 · 2) = 13.42 V.
    360 W: 31.25 A, a 35 A fuse, 31.25 A · 14.918 mΩ = 0.466 V.
    """
    found = results("front-with-rear")
    is_good(found)
    assert by_output(found) == {
        "1": [("front doors", "left", 4, 45), ("rear doors", "left", 4, 45)],
        "2": [("front doors", "right", 4, 45), ("rear doors", "right", 4, 45)],
        "3+4": [("subwoofer", "both", 4, 180)],
    }
    assert gives(found) == {"1": (2, 90), "2": (2, 90), "3+4": (4, 180)}
    holds(row_of(found, ALDER, "1"), ceiling_v=13.416, start_v=13.416, high_pass_hz=80.0)
    holds(row_of(found, ALDER, "3+4"), ceiling_v=26.833, low_pass_hz=80.0)
    assert fuse(found) == 35
    assert found["power-cable"]["results"]["kit_drop_v"] == pytest.approx(0.4662, rel=0.005)
    best, *others = found["layouts"]
    assert best["gives_up"] and "fader" in " ".join(best["gives_up"])
    assert any("head unit" in one["words"] for one in others)


def test_unlike_pairs_joined():
    """Fronts 4 Ω, 40 W, 90 dB, from 70 Hz; rears 8 Ω, 50 W, 86 dB, from 90 Hz.

    4 Ω beside 8 Ω is 2.667 Ω.  Power there, straight in log over log between 90 W at 2 Ω and 60 W
    at 4 Ω: lg(2.667/2)/lg 2 = 0.415 of the way, 90 · (60/90)^0.415 = 76.06 W, 14.24 V.  The front
    doors get 14.24²/4 = 50.7 W, the rears 14.24²/8 = 25.4 W: half of their 50 W, and a little.
    Ceiling: the fronts bear √(40 · 4) = 12.65 V, the rears √(50 · 8) = 20 V, the output has
    14.24 V: 12.65 V.  Both must be safe: from 90 Hz, the mark above is 100 Hz; the subwoofer
    reaches 120 Hz.
    Joined they get one voltage, and 86 stands 4 dB below 90 dB: more than 3 dB is told.
    """
    found = results("unlike-pairs")
    is_good(found)
    one = row_of(found, ALDER, "1")
    holds(one, load_ohm=2.6667, power_w=76.06, ceiling_v=12.649, start_v=12.649, high_pass_hz=100.0)
    watts = {load["speaker"]: load["power_w"] for load in one["loads"]}
    assert watts == pytest.approx({"front doors": 50.71, "rear doors": 25.35}, rel=0.005)
    assert re.search(r"(?<![\d.])4 dB", words(sheet("unlike-pairs")))


def test_joined_pairs_alike_in_level_are_told_of_no_difference():
    """2 dB apart, below the 3 dB that are worth a word."""
    text = text_of("unlike-pairs", **{"sensitivity_db = 86": "sensitivity_db = 88"})
    assert not re.search(r"(?<![\d.])[24] dB", words(sheet_of_text(text)))


def test_rears_stay_on_the_radio_where_a_channel_takes_no_two_ohms():
    """An amplifier for 4 Ω and above.  Joined doors are 2 Ω, refused.  The subwoofer's coils, 4 Ω
    each, in series: 8 Ω on the bridged pair, 4 Ω a channel, 2 · 60 = 120 W of 200 W; in parallel
    2 Ω are refused everywhere.  Fronts 60 W.  Left: the rears on the radio.  240 W: a 25 A fuse;
    √(120 · 8) = 30.98 V."""
    found = results("rears-on-radio")
    is_good(found)
    assert by_output(found, "Aspen 4-60") == {
        "1": [("front doors", "left", 4, 60)],
        "2": [("front doors", "right", 4, 60)],
        "3+4": [("subwoofer", "both", 8, 120)],
    }
    holds(row_of(found, "Aspen 4-60", "3+4"), wiring="1a+1b", ceiling_v=30.984)
    assert fuse(found) == 25
    assert "head unit" in " ".join(found["layouts"][0]["gives_up"])
    assert not any("joined" in one["words"] for one in found["layouts"])


def test_rears_on_the_radio_when_asked_for():
    """As joined above, with rears of 30 W: joined they get 45 W, on the radio 18 W.  The customer
    wants the radio: fronts 60 W, 14.14 V, subwoofer 180 W.  300 W: 26.04 A, a 30 A fuse."""
    found = results("radio-asked")
    is_good(found)
    assert by_output(found) == {
        "1": [("front doors", "left", 4, 60)],
        "2": [("front doors", "right", 4, 60)],
        "3+4": [("subwoofer", "both", 4, 180)],
    }
    assert fuse(found) == 30
    assert "fader" in " ".join(found["layouts"][0]["gives_up"])


def test_a_bridge_that_is_asked_for():
    """Two subwoofers of 80 W, better one each on 3 and 4 (above).  Bridged they stand in series on
    3+4: 8 Ω, 120 W, √960 = 30.98 V, 60 W each.  It ranks below, and is planned."""
    found = results("bridged-asked")
    is_good(found)
    assert gives(found) == {"1": (4, 60), "2": (4, 60), "3+4": (8, 120)}
    row = row_of(found, ALDER, "3+4")
    holds(row, ceiling_v=30.984, low_pass_hz=80.0)
    assert sum(load["power_w"] for load in row["loads"]) == pytest.approx(120)


def test_pairs_joined_when_asked_for():
    """Four doors of 50 W that could have 60 W each.  Joined: 2 Ω, 90 W, 45 W each, on 1 and 2;
    bridged would be 1 Ω a channel.  180 W: 15.63 A, a 20 A fuse.  A channel each ranks first."""
    found = results("joined-asked")
    is_good(found)
    assert sorted(gives(found).values()) == [(2, 90), (2, 90)]
    assert {len(loads) for loads in by_output(found).values()} == {2}
    assert fuse(found) == 20
    assert found["layouts"][0]["gives_up"] == []


def test_each_pair_on_its_own_when_asked_for_where_it_cannot_be():
    """Five outputs' worth on four channels: unsuitable; what can be is named."""
    found = results("apart-asked")
    assert found["verdict"] == "unsuitable"
    assert found["near_miss"]


def test_an_active_two_way_front():
    """Tweeters 93 dB, 60 W, safe from 3150 Hz; mid-basses 88 dB, 80 W, 70 to 4500 Hz; 4 × 75 W.
    √(3150 · 4500) = 3765 Hz, the mark next to it 4000 Hz.  Ceilings √(60 · 4) = 15.49 V and
    √(75 · 4) = 17.32 V; the tweeters start 5 dB below the mid-basses: 17.32 · 10^(−5/20) = 9.74 V.
    300 W: 26.04 A, a 30 A fuse."""
    found, name = results("active-two-way"), "Alder 4-75"
    is_good(found)
    for output, side in (("1", "left"), ("2", "right")):
        holds(row_of(found, name, output), speaker="tweeters", side=side, load_ohm=4.0,
              power_w=75.0, high_pass_hz=4000.0, low_pass_hz=None, ceiling_v=15.492,
              start_v=9.74)  # fmt: skip
    for output, side in (("3", "left"), ("4", "right")):
        holds(row_of(found, name, output), speaker="mid-basses", side=side, power_w=75.0,
              high_pass_hz=80.0, low_pass_hz=4000.0, ceiling_v=17.321, start_v=17.321)  # fmt: skip
    assert fuse(found) == 30


def test_an_active_front_and_a_subwoofer_are_too_much_for_four_channels():
    """Tweeters, mid-basses, subwoofer: five outputs.  No pair of them may be joined, and nothing of
    it plays on the radio: no plan, whatever the layout."""
    found = results("active-with-sub")
    assert found["verdict"] == "unsuitable"
    assert all(one["verdict"] == "unsuitable" for one in found["layouts"])


def test_a_part_active_three_way():
    """Tweeters and midranges on their passive crossover, one load of 4 Ω on 1 and 2, from 315 Hz
    (√(200 · 400) = 283 Hz; 315 is next to it); mid-basses from the radio's 63 Hz on 3 and 4.
    Ceilings √(60 · 4) = 15.49 V and √(75 · 4) = 17.32 V; 90 against 88 dB: the upper ones start
    2 dB below 17.32 V, 13.76 V."""
    found, name = results("part-active"), "Alder 4-75"
    is_good(found)
    assert gives(found) == dict.fromkeys("1234", (4, 75))
    holds(row_of(found, name, "1"), speaker="tweeters + midranges", side="left", high_pass_hz=315.0,
          ceiling_v=15.492, start_v=13.758)  # fmt: skip
    holds(row_of(found, name, "4"), speaker="mid-basses", side="right", high_pass_hz=63.0,
          low_pass_hz=315.0, ceiling_v=17.321)  # fmt: skip


def test_another_version_of_the_coils_would_suit_better():
    """Two coils of 4 Ω: 8 Ω bridged, 2 · 60 = 120 W; in parallel 2 Ω, 1 Ω a channel, refused.  The
    same subwoofer with two coils of 2 Ω: 4 Ω in series, 180 W.  120 of 200 W is good enough to plan
    with, and the better version is named."""
    found = results("coil-version")
    is_good(found)
    holds(row_of(found, ALDER, "3+4"), load_ohm=8.0, power_w=120.0, wiring="1a+1b")
    assert "180 W instead of 120 W" in words(sheet("coil-version"))


def test_no_better_version_is_named_where_there_is_none():
    """One coil of 4 Ω, 180 W bridged: 2 Ω are refused, 8 Ω give less."""
    assert "instead of 180 W" not in words(sheet("sub-bridged"))


def test_pairs_are_joined_only_where_the_load_is_permitted():
    """The same four doors and subwoofer, one figure changed: a channel that takes 4 Ω at least.
    Joined doors are refused, and so are 4 Ω on a bridged pair: the subwoofer on one channel, 60 of
    250 W.  The rears go to the radio."""
    found = changed(
        "front-with-rear",
        **{"min_channel_ohm = 2": "min_channel_ohm = 4", "power_2ohm_w = 90\n": "",
           "rated_bridged_w = 180\n": ""},
    )  # fmt: skip
    assert all(load_ohm >= 4 for load_ohm, _ in gives(found).values())
    assert "head unit" in " ".join(found["layouts"][0]["gives_up"])


def test_the_fader_is_not_traded_for_power():
    """Doors of 8 Ω, 60 W: a channel each, 60 · 4/8 = 30 W.  Joined they are 4 Ω, and each side on a
    bridged pair gets 180 W, 90 W a door.  That is 4.8 dB louder, and has no fader: it is planned
    only when it is asked for."""
    eight = {"coil_ohm = 4": "coil_ohm = 8"}
    found = changed("own-pairs", **eight)
    is_good(found)
    assert gives(found) == dict.fromkeys("1234", (8, 30))
    asked = sheet_of_text(text_of("own-pairs", **eight) + '\n[wishes]\nlayout = "joined"\n').results
    assert gives(asked) == {"1+2": (4, 180), "3+4": (4, 180)}
    assert asked["layouts"][0]["gives_up"] == []


THREE_PAIRS = {
    'kind = "replacement"': 'kind = "processor"',
    'name = "Alder 4-60"\nchannels = 4': 'name = "Alder 2-60"\nchannels = 2',
    "min_channel_ohm = 2": "min_channel_ohm = 4",
    "power_2ohm_w = 90\n": "",
    "rated_bridged_w = 180\n": "",
}


def test_another_amplifier_is_no_larger_than_needed_where_pairs_share():
    """Three pairs and a subwoofer on two channels of 4 Ω, no radio with power of its own.  Two
    pairs joined are 2 Ω: two outputs for them, two for the third, one for the subwoofer, five of
    2 Ω.  All apart are seven; the next that is made has eight."""
    text = text_of("front-with-rear", **THREE_PAIRS)
    rears = text[text.index('[[speakers]]\nname = "rear doors"') :].partition("\n\n")[0]
    text = text.replace(rears, f"{rears}\n\n{rears.replace('rear doors', 'tailgate')}")

    def verdict(channels, ohm):
        other = text.replace("channels = 2", f"channels = {channels}")
        other = other.replace("min_channel_ohm = 4", f"min_channel_ohm = {ohm}")
        return sheet_of_text(other).results["verdict"]

    (way,) = [w for w in sheet_of_text(text).results["ways"] if w["kind"] == "amplifier"]
    assert "an amplifier of 5 channels, stable to 2 Ω, of at least 60 W" in way["words"]
    assert verdict(5, 2) == verdict(8, 4) == "suitable"
    assert verdict(4, 2) == verdict(5, 4) == verdict(6, 4) == "unsuitable"

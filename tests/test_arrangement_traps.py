"""Where an arrangement would do harm or mislead: what must not be planned, and what be said."""

import pytest
from arrangement_files import changed, results, sheet, sheet_of_text, text_of, tree, wired, words
from conftest import each

from calc.inputs.errors import InputError


def asked(name, layout, **changes):
    text = text_of(name, **changes)
    return sheet_of_text(f'{text}\n[wishes]\nlayout = "{layout}"\n').results


@each("layout", ("joined", "radio"))
def test_bands_of_an_active_front_are_neither_joined_nor_left_on_the_radio(layout):
    """A tweeter beside a mid-bass on one lead, or on a radio's full range, burns; a mid-bass
    without its low-pass plays what it cannot."""
    for name in ("active-two-way", "part-active", "active-with-sub"):
        found = asked(name, layout)
        assert found["verdict"] == "unsuitable", name
        assert found["near_miss"], name


@each("name", ("front-with-rear", "four-and-mono", "two-compact", "bridged-asked"))
def test_a_subwoofer_shares_no_output_with_doors(name):
    for loads in wired(results(name)).values():
        speakers = {speaker for speaker, *_ in loads}
        assert len(speakers) == 1 or not any("sub" in one for one in speakers)


def test_a_processor_has_no_power_of_its_own_to_leave_the_rears_on():
    """Line outputs alone: what is left on it plays nothing."""
    kind = {'kind = "replacement"': 'kind = "processor"'}
    assert changed("radio-asked", **kind)["verdict"] == "unsuitable"
    shown = changed("front-with-rear", **kind)["layouts"]
    assert not any("head unit" in " ".join(one["gives_up"]) for one in shown)


@each("watts", (15, 22))
def test_the_radio_s_own_power_is_what_was_told(watts):
    """Told of a factory radio, it is what the rears on it get."""
    found = changed(
        "radio-asked",
        **{'kind = "replacement"\nsource_v = 4': f'kind = "factory"\nfactory_power_w = {watts}'},
    )
    told = next(one for one in found["layouts"] if "head unit" in " ".join(one["gives_up"]))
    told = told["power_per_speaker_w"]
    assert told["rear doors"] == pytest.approx(watts)


def test_a_joined_output_is_measured_as_what_it_is():
    """Two doors of 4 Ω are 2 Ω: a meter shows 0.75 to 0.95 of it and the lead, not of one."""
    steps = results("front-with-rear")["commissioning"]["results"]["steps"]
    (step,) = [one for one in steps if one["key"] == "coil_1_ohm"]
    assert 1.5 <= step["expected_low"] < 1.7 and step["expected_high"] < 2.4


def test_the_gain_of_a_joined_output_stops_where_the_weaker_pair_does():
    """40 W fronts of 4 Ω beside 50 W rears of 8 Ω: 12.65 V, as worked out with the arrangement."""
    steps = results("unlike-pairs")["commissioning"]["results"]["steps"]
    (step,) = [one for one in steps if one["key"] == "target_1_v"]
    assert step["expected_high"] <= 12.649 * 10 ** (0.5 / 20) + 1e-3


def test_an_amplifier_on_which_nothing_plays_is_named():
    """A mono beside a four-channel, and no subwoofer."""
    text = text_of("four-and-mono")
    start = text.index('[[speakers]]\nname = "subwoofer"')
    found = sheet_of_text(text[:start] + text[text.index("[head_unit]") :])
    assert {amplifier for amplifier, _ in wired(found.results)} == {"Alder 4-60"}
    said = [one for one in found.results["notices"] if "Cedar 1-400" in one]
    assert said, found.results["notices"]


def test_two_amplifiers_alike_are_told_apart():
    """Two of the same box: each output's amplifier is one of two names, or they are refused."""
    text = text_of("two-compact", **{"Birch 2-55": "Birch 2-50"})
    try:
        found = sheet_of_text(text).results
    except InputError as error:
        assert "name" in str(error)
        return
    assert len({row["amplifier"] for row in found["channels"]}) == 2


def test_a_missing_two_ohm_power_of_a_set_is_no_silent_pass():
    """The mono's box names 250 W at 4 Ω and no lowest load: 2 Ω is not proven, so that the coils
    stand in series, 8 Ω and 125 W of 500 W, or the answer is not known; never 400 W."""
    found = changed("four-and-mono", **{"power_2ohm_w = 400\nmin_channel_ohm = 2\n": ""})
    for (amplifier, _), loads in wired(found).items():
        if amplifier == "Cedar 1-400":
            assert loads == [("subwoofer", "both", 8, 125)]


def test_an_unproven_bridge_asks_and_is_not_wired():
    """Neither bridged power nor a word on bridging: with the rears joined the subwoofer may
    stand on one channel alone, but no leads go to a pair."""
    found = changed(
        "front-with-rear", **{"rated_bridged_w = 180\n": "", "may_be_bridged = true\n": ""}
    )
    assert not any("+" in row["output"] for row in found["channels"])


def test_what_is_given_up_stands_in_words():
    for name, word in (("front-with-rear", "fader"), ("rears-on-radio", "head unit")):
        said = words(sheet(name))
        assert word in said, name
    for name in ("own-pairs", "four-and-mono", "two-fours", "three"):
        assert results(name)["layouts"][0]["gives_up"] == [], name


def test_the_fuse_of_today_protects_today_s_amplifier():
    """Its own fuses are 35 A: the main fuse is not above them until the second one is in."""
    assert tree("later").main.fuse_a <= 35 < tree("later").main.fuse_later_a
    assert "later" in words(sheet("later"))


CAPACITOR = '[[networks]]\n{end} = "{pair}"\nfrequency_hz = 100\n\n[head_unit]'


@each("end", ("above", "below"))
def test_a_pair_with_a_capacitor_of_its_own_is_not_joined(end):
    """One lead could not filter the one and spare the other; on the radio it may stay."""
    for pair in ("front doors", "rear doors"):
        found = changed("front-with-rear", **{"[head_unit]": CAPACITOR.format(end=end, pair=pair)})
        assert {len(row["loads"]) for row in found["channels"]} == {1}
        assert "head unit" in " ".join(found["layouts"][0]["gives_up"])


def test_a_front_on_a_passive_crossover_is_joined_with_the_rears():
    """Tweeters and mid-basses on their crossover are one load of 4 Ω to the amplifier: as front
    doors of 4 Ω are, left with left, 2 Ω and 45 W each; the crossover works on its own leads."""
    front = """[[speakers]]
name = "tweeters"
section = "tweeter"
count = 2
coil_ohm = 4
rated_w = 50
lowest_hz = 3000
output = "front"
lead_m = 5

[[speakers]]
name = "mid-basses"
section = "mid-bass"
"""
    crossover = '[[networks]]\nabove = "tweeters"\nbelow = "mid-basses"\nfrequency_hz = 3500\n\n'
    found = changed(
        "front-with-rear",
        **{
            '[[speakers]]\nname = "front doors"\nsection = "components"\n': front,
            "[head_unit]": f"{crossover}[head_unit]",
        },
    )
    assert wired(found)["Alder 4-60", "1"] == [
        ("rear doors", "left", 4, 45),
        ("tweeters + mid-basses", "left", 4, 45),
    ]
    (low,) = [
        made
        for row in found["channels"][:1]
        for made in row["filters"]
        if (made["box"], made["edge"]) == ("passive", "low-pass")
    ]
    assert low["speaker"] == "mid-basses"

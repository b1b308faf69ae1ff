"""The calculator `filter-split`: what it tells of a plan, held against plain systems.

The levels are summed again with scipy.signal.
"""

import json
import re
from importlib import import_module

import numpy as np
import pytest
from scipy import signal

from calc.app.contents import CALCULATORS
from calc.crossovers import filter_split
from calc.inputs.errors import InputError

AMPLIFIER = ";".join(
    f"{pair},{kind},50-500,1/10,butterworth,2,,yes"
    for pair in ("1/2", "3/4")
    for kind in ("high-pass", "low-pass")
)
TWO_WAY = "tweeter,1/2,2500,2,,,0;mid-bass,3/4,70,2,4500,,0"


def answer(**given):
    bare = {"head_unit": "", "amplifier": "", "passive": ""}
    return CALCULATORS["filter-split"].answer({**bare, **given})


def results(**given):
    return answer(**given).sheet.results


def table(sheet, caption):
    (found,) = (one for one in sheet.tables if caption in one.caption)
    return found


def scipy_level(filters, frequency, sign=1):
    """(kind, order, corner) Butterworth filters one after the other."""
    total = complex(sign)
    for kind, order, corner in filters:
        b, a = signal.butter(order, corner, btype=kind.replace("-", ""), analog=True)
        total *= signal.freqs(b, a, [frequency])[1][0]
    return total


def test_the_active_pair_s_levels_are_those_of_its_settings():
    found = results(sections=TWO_WAY, amplifier=AMPLIFIER)
    on = [one for one in found["settings"]["amplifier"] if one["state"] == "on"]
    by_channel = {
        channel: [
            (one["kind"], one["order"], one["frequency_hz"])
            for one in on
            if channel in one["channels"]
        ]
        for channel in (1, 3)
    }
    signs = [-1 if name in found["reversed"] else 1 for name in ("tweeter", "mid-bass")]
    for row in found["response"]:
        parts = [
            scipy_level(by_channel[channel], row["frequency_hz"], sign)
            for channel, sign in zip((1, 3), signs, strict=True)
        ]
        for part, told in zip(parts, row["sections"], strict=True):
            assert told["level_db"] == pytest.approx(20 * np.log10(abs(part)), abs=1e-6)
        assert row["level_db"] == pytest.approx(20 * np.log10(abs(sum(parts))), abs=1e-6)


def test_like_corners_of_order_two_are_summed_with_one_side_reversed():
    found = results(sections=TWO_WAY, amplifier=AMPLIFIER)
    assert len(found["reversed"]) == 1
    assert found["ripple_db"] == pytest.approx(3.01, abs=0.3)  # less what is lost from 140 Hz down


def test_a_dial_shows_the_corner_over_the_factor_of_its_range():
    found = results(sections=TWO_WAY, amplifier=AMPLIFIER)
    for one in found["settings"]["amplifier"]:
        if one["state"] == "on":
            assert one["dial_hz"] * one["times"] == pytest.approx(one["frequency_hz"])
            assert 50 <= one["dial_hz"] <= 500
        else:
            assert one["frequency_hz"] is one["order"] is one["times"] is None


def test_two_filters_on_one_edge_are_told_with_their_common_corner():
    row = "1/2,high-pass,80,1,butterworth,2,,yes"
    found = results(sections="full-range,1/2,60,4,,80,0", head_unit=row, amplifier=row)
    (one,) = found["stacked"]
    # Two Butterworth filters of order 2 are one Linkwitz–Riley filter of order 4.
    assert one["corner_6db_hz"] == pytest.approx(80)
    assert one["corner_3db_hz"] == pytest.approx(99.7, abs=0.05)
    assert (one["slope_db_per_octave"], one["order"]) == (24, 4)
    assert sorted(one["boxes"]) == ["amplifier", "head-unit"]


def test_an_unprotected_tweeter_is_never_to_be_connected():
    filters = AMPLIFIER.replace("1/10", "1")
    sheet = answer(sections=TWO_WAY, amplifier=filters).sheet
    assert not sheet.results["complete"]
    assert sheet.verdict.state == "unsuitable"
    assert sheet.sentence.startswith("Don’t connect it yet: ")
    assert "Stop: nothing protects the tweeter." in sheet.verdict.reason
    assert "tweeter" in sheet.cautions[0] and "don’t connect it" in sheet.cautions[0]
    cells = [cell for row in table(sheet, "At the speakers").rows for cell in row]
    assert "do not connect yet" in cells
    assert all("Not ready" in one.caption for one in sheet.tables if "Settings" in one.caption)
    first = sheet.results["missing"][0]
    assert (first["section"], first["state"]) == ("tweeter", "unprotected")
    assert (first["needed_low_hz"], first["needed_high_hz"]) == (2500, 4500)


def test_a_full_range_pair_without_a_filter_is_told_otherwise_than_a_tweeter():
    sheet = answer(sections="full-range,1/2,60,2,,,0").sheet
    assert "loud music can damage it" in sheet.sentence
    told = " ".join([sheet.sentence, *sheet.cautions])
    assert not re.search(r"(?i)do(?: not|n’t) connect", told)


def test_within_a_network_no_polarity_is_changed():
    sheet = CALCULATORS["filter-split"].answer({}).sheet
    assert sheet.results["reversed"] == []
    rows = {row[0]: row for row in table(sheet, "At the speakers").rows}
    assert "as marked on the crossover" in rows["tweeter"][3]
    assert rows["sub"][3].startswith("normal: + to +; try both ways")


def test_a_second_pair_has_the_polarity_of_the_first():
    filters = ";".join(f"{one},high-pass,80,1,butterworth,2,,yes" for one in ("1/2", "3/4"))
    found = results(
        sections="woofer,5,,2,120,,0;full-range,1/2,60,2,,80,0;full-range,3/4,60,2,,80,0",
        amplifier=f"{filters};5,low-pass,80,1,butterworth,2,,no",
    )
    assert found["complete"]
    assert [one["polarity"] for one in found["sections"]] == ["normal"] * 3
    assert [one["try_both"] for one in found["sections"]] == [True, False, False]


def polarity_of(name, **given):
    return next(one for one in results(**given)["sections"] if one["name"] == name)


@pytest.mark.parametrize(
    ("order", "family", "word"),
    [
        (2, "butterworth", "reversed"),  # BW2 sums to a null in phase
        (2, "linkwitz-riley", "reversed"),  # LR2 too
        (4, "linkwitz-riley", "normal"),
        (4, "butterworth", "normal"),
        (6, "linkwitz-riley", "reversed"),
        (8, "linkwitz-riley", "normal"),
    ],
)
def test_an_active_tweeter_is_joined_as_its_filters_ask(order, family, word):
    """The textbook's rule: even orders of 12 dB, 36 dB … reversed, of 24 dB, 48 dB … normal."""
    filters = ";".join(
        f"{pair},{kind},50-500,1/10,{family},{order},,yes"
        for pair in ("1/2", "3/4")
        for kind in ("high-pass", "low-pass")
    )
    one = polarity_of("tweeter", sections=TWO_WAY, amplifier=filters)
    assert one["polarity"] == word
    assert one["meets_hz"] == 3150
    assert one["try_both"]  # nobody knows the distances
    assert polarity_of("mid-bass", sections=TWO_WAY, amplifier=filters)["polarity"] == "normal"


@pytest.mark.parametrize(
    ("tweeter_m", "mid_m", "delays", "try_both"),
    [
        ("", "", "no", True),
        ("1", "", "no", True),
        # c/(8 f) = 343.2/(8·3150) = 13.6 mm
        ("1", "1.013", "no", False),
        ("1", "1.015", "no", True),
        ("1.015", "1", "no", True),
        ("1", "1.4", "yes", False),
    ],
)
def test_both_ways_are_tried_where_the_paths_differ_by_more_than_an_eighth_of_a_wave(
    tweeter_m, mid_m, delays, try_both
):
    rows = f"tweeter,1/2,2500,2,,,0,,{tweeter_m};mid-bass,3/4,70,2,4500,,0,,{mid_m}"
    one = polarity_of("tweeter", sections=rows, amplifier=AMPLIFIER, delays=delays)
    assert one["try_both"] is try_both


def test_the_subwoofer_is_drawn_normal_and_its_other_way_is_drawn_too():
    """Butterworth 12 dB at 80 Hz on both sides: in phase they cancel, reversed they are 3 dB up."""
    sheet = CALCULATORS["filter-split"].answer({}).sheet
    woofer = next(one for one in sheet.results["sections"] if one["name"] == "woofer")
    assert (woofer["polarity"], woofer["cancels"], woofer["meets_hz"]) == ("normal", "as drawn", 80)
    at_80 = next(one for one in sheet.results["response"] if one["frequency_hz"] == 80)
    assert at_80["level_db"] < -30 and at_80["other_level_db"] == pytest.approx(3.01, abs=0.02)
    assert sheet.results["ripple_db"] < 3.2  # of the better way, which is kept


def test_a_reversed_tweeter_is_told_with_its_worth():
    """LR2 at one frequency: reversed it sums flat, else it cancels; BW2 against LR4 as summed."""
    rows = AMPLIFIER.replace("butterworth", "linkwitz-riley")
    assert polarity_of("tweeter", sections=TWO_WAY, amplifier=rows)["cancels"] == "other"
    mixed = (
        "1/2,high-pass,3150,1,butterworth,2,,no;3/4,low-pass,3150,1,linkwitz-riley,4,,no;"
        "3/4,high-pass,80,1,butterworth,2,,yes"
    )
    one = polarity_of("tweeter", sections=TWO_WAY, amplifier=mixed)
    high, low = (
        scipy_level([("high-pass", 2, 3150)], 3150),
        scipy_level([("low-pass", 2, 3150)], 3150) ** 2 * scipy_level([("high-pass", 2, 80)], 3150),
    )
    normal, turned = (20 * np.log10(abs(low + sign * high)) for sign in (1, -1))
    drawn, other = (turned, normal) if one["polarity"] == "reversed" else (normal, turned)
    assert one["worth_db"] == pytest.approx(drawn - other, abs=1e-6)


def test_a_part_active_three_way_turns_what_has_no_network():
    """Mid-bass active against a set on its network: the set keeps its marks, the mid-bass turns."""
    rows = "tweeter,1/2,3000,2,,,0;midrange,1/2,250,2,6000,,0;mid-bass,3/4,60,2,400,,0"
    filters = (
        "1/2,high-pass,250,1,butterworth,2,,yes;3/4,low-pass,250,1,butterworth,2,,yes;"
        "3/4,high-pass,63,1,butterworth,2,,yes"
    )
    found = results(sections=rows, amplifier=filters, passive="1/2,5000,butterworth,2,both")
    told = {one["name"]: one for one in found["sections"]}
    assert told["mid-bass"]["polarity"] == "reversed" and told["mid-bass"]["try_both"]
    for name in ("tweeter", "midrange"):
        assert told[name]["polarity"] == "normal" and told[name]["by_marks"]
        assert not told[name]["try_both"]
    assert told["tweeter"]["turned_inside"] and not told["midrange"]["turned_inside"]


def test_corners_are_marks_that_a_hand_can_set():
    """ISO 266 within the knob's range, its two ends, and what the reader asked for by name."""
    for given, corners in (
        ({}, {3150, 80}),
        ({"sections": TWO_WAY.replace("2500,2,,,0", "2500,2,,2700,0")}, {2700, 80}),
        ({"amplifier": AMPLIFIER.replace("50-500", "55-440")}, {3150, 80}),
    ):
        found = results(**{"sections": TWO_WAY, "amplifier": AMPLIFIER, **given})
        on = {one["frequency_hz"] for one in found["settings"]["amplifier"] if one["frequency_hz"]}
        assert on == corners
    # A factor of 20: the dial's own marks count, 160 × 20.
    found = results(sections=TWO_WAY, amplifier=AMPLIFIER.replace("50-500,1/10", "50-250,1/20"))
    highest = max(one["frequency_hz"] or 0 for one in found["settings"]["amplifier"])
    assert highest == 3200
    # No mark in the window: the reader's own window decides.
    narrow = "tweeter,1/2,2550,2,,,0;mid-bass,3/4,70,2,2600,,0"
    found = results(sections=narrow, amplifier=AMPLIFIER)
    assert found["complete"]


@pytest.mark.parametrize("ohm", [4, 8])
def test_a_protection_capacitor_has_its_corner_an_octave_below(ohm):
    found = results(
        sections=TWO_WAY, amplifier=AMPLIFIER, tweeter_capacitor="yes", tweeter_ohm=str(ohm)
    )
    (one,) = found["protection_capacitors"]
    corner = found["settings"]["amplifier"][0]["frequency_hz"]
    assert one["exact_farad"] == pytest.approx(1 / (2 * np.pi * ohm * corner / 2))
    plain = results(sections=TWO_WAY, amplifier=AMPLIFIER)
    for with_it, without in zip(found["response"], plain["response"], strict=True):
        if (f := with_it["frequency_hz"]) > 1000:
            loss = 20 * np.log10(abs(1 / (1 - 1j * (corner / 2) / f)))
            difference = with_it["sections"][0]["level_db"] - without["sections"][0]["level_db"]
            assert difference == pytest.approx(loss, abs=1e-6)


def test_a_passive_tweeter_gets_no_capacitor():
    assert (
        CALCULATORS["filter-split"]
        .answer({"tweeter_capacitor": "yes"})
        .sheet.results["protection_capacitors"]
        == []
    )


def test_sections_that_do_not_meet_are_told():
    filters = "1/2,high-pass,50-500,1,butterworth,2,,yes;5,low-pass,50-500,1,butterworth,2,,yes"
    sheet = answer(sections="full-range,1/2,150,2,,,0;woofer,5,,2,100,,0", amplifier=filters).sheet
    assert sheet.results["gaps"] == [{"below": "woofer", "above": "full-range"}]
    assert not sheet.results["complete"] and "do not meet" in sheet.sentence


def test_a_filter_that_stays_on_spoils_a_band():
    found = results(
        sections="woofer,1,,2,120,,0",
        amplifier="1,high-pass,80,1,butterworth,2,,no;1,low-pass,50-500,1,butterworth,2,,yes",
    )
    (one,) = found["spoilt"]
    assert (one["section"], one["edge"], one["boxes"]) == ("woofer", "high-pass", ["amplifier"])
    assert not found["complete"] and found["missing"] == []


def test_a_tweeter_is_not_protected_by_silencing_what_plays_with_it():
    # The network is too shallow for this tweeter; the channel's high-pass could reach 2.5 kHz.
    sheet = answer(
        sections="tweeter,1/2,2500,4,,,0;mid-bass,1/2,70,2,4500,,0",
        amplifier="1/2,high-pass,50-5000,1,butterworth,2,,yes",
        passive="1/2,3500,butterworth,2,both",
    ).sheet
    (missing,) = sheet.results["missing"]
    assert (missing["section"], missing["needed_order"]) == ("tweeter", 4)
    assert (missing["has_hz"], missing["has_order"]) == (3500, 2)
    assert "does not protect the tweeter" in sheet.sentence
    assert sheet.results["settings"]["amplifier"][0]["frequency_hz"] == 80


def test_a_filter_that_another_one_blocks_is_told_with_the_reason():
    row = "{0},{1},50-5000,1,butterworth,2,{0},yes"
    filters = ";".join(
        row.format(pair, kind) for pair in ("1/2", "3/4") for kind in ("high-pass", "low-pass")
    )
    sheet = answer(sections=TWO_WAY, amplifier=filters).sheet
    (missing,) = sheet.results["missing"]
    assert "its switch does not allow both filters at once" in missing["reason"]
    assert missing["reason"][1:] in sheet.sentence


def test_one_setting_for_all_is_named_as_the_conflict():
    sheet = answer(
        sections="full-range,1/2,80,2,,,0;woofer,3+4,,2,120,,0",
        amplifier="1/2/3/4,high-pass,50-150,1,butterworth,2,,yes;"
        "3/4,low-pass,50-150,1,butterworth,2,,yes",
    ).sheet
    assert "channels 1, 2, 3 and 4 share one high-pass setting in the amplifier" in sheet.sentence


def test_a_tweeter_s_own_capacitor_is_a_network_of_one_side():
    given = {
        "sections": "tweeter,1/2,4000,1,,,0;full-range,3/4,80,2,,,0",
        "amplifier": "3/4,high-pass,80,1,butterworth,2,,yes",
    }
    found = results(**given, passive="1/2,5000,butterworth,1,high-pass")
    assert found["complete"]
    assert found["settings"]["passive"][0]["kind"] == "high-pass"
    assert not results(**given)["complete"]


def test_a_mid_bass_with_nothing_above_it_needs_no_low_pass():
    found = results(
        sections="mid-bass,1/2,70,2,4500,,0", amplifier="1/2,high-pass,80,1,butterworth,2,,yes"
    )
    assert found["complete"] and found["ripple_db"] is None


WRONG = {
    "sections=tweeter,1/2,,2,,,0": "safe lowest frequency",
    "sections=mid-bass,1/2,70,2,,,0": "highest usable frequency of the mid-bass is missing",
    "sections=mid-bass,1/2,700,2,300,,0": "not above the safe lowest",
    "sections=full-range,1/2,60,2,,,0;woofer,2/3,,2,120,,0": "share a channel",
    "sections=full-range,1/2,60,2,,40,0": "below the safe lowest",
    "amplifier=1/2,high-pass,80,1,linkwitz-riley,3,,yes": "no Linkwitz–Riley filter of order 3",
    "amplifier=1/2,high-pass,80,1,butterworth,2,A,no": "shares a switch can be off",
    "amplifier=1/2,high-pass,80,1,butterworth,2,,yes;2/3,high-pass,80,1,butterworth,2,,yes":
        "two high-pass filters on one channel",
    "amplifier=1,high-pass,80,1,butterworth,2,,yes": "only some of the channels",
    "passive=3+4,500,butterworth,2,both": "between two speakers",
}  # fmt: skip


@pytest.mark.parametrize("given", WRONG)
def test_rows_that_contradict_one_another_are_told_with_their_row(given):
    key, value = given.split("=", 1)
    with pytest.raises(InputError) as caught:
        CALCULATORS["filter-split"].answer({key: value})
    told = [one for one in caught.value.errors if WRONG[given] in one.message]
    assert told and "Row" in told[0].message
    json.dumps([vars(one) for one in caught.value.errors])


# ---- asked by types --------------------------------------------------------------------------


def van():
    """The example as typed inputs."""
    calculator = CALCULATORS["filter-split"]
    return calculator.build(calculator.form.read({}))


def test_a_verdict_is_had_without_polarities_drawings_and_tables(monkeypatch):
    inputs = van()
    result = filter_split.solve(inputs)
    # The package has the function `solve` in the module's place.
    module = import_module("calc.crossovers.filter_split.solve")
    monkeypatch.delattr(module, "polarities_of")
    assert filter_split.judge(inputs, result).state in ("suitable", "unsuitable")
    with pytest.raises(NameError):
        _ = result.polarities


def test_rows_built_from_code_are_answered_as_those_that_are_typed():
    rows = (
        filter_split.SectionRow(section="tweeter", channels="1/2", lowest_hz=2500.0, order=2),
        filter_split.SectionRow(
            section="mid-bass", channels="3/4", lowest_hz=70.0, order=2, top_hz=4500.0
        ),
    )
    filters = tuple(
        filter_split.FilterRow(
            channels=pair, kind=kind, corners_hz="50-500", times="1/10", family="butterworth",
            orders="2",
        )
        for pair in ("1/2", "3/4")
        for kind in ("high-pass", "low-pass")
    )  # fmt: skip
    inputs = filter_split.Inputs(sections=rows, amplifier=filters, tweeter_ohm=4.0)
    typed = filter_split.solve(inputs)
    told = results(sections=TWO_WAY, amplifier=AMPLIFIER)
    assert filter_split.judge(inputs, typed).state == "suitable"
    assert typed.is_ready is told["complete"] is True
    assert [one.name for one in typed.sections] == [one["name"] for one in told["sections"]]
    assert [one.polarity.word for one in typed.sections] == [
        one["polarity"] for one in told["sections"]
    ]
    amplifier = [one for one in typed.settings if one.box == "amplifier"]
    assert [(one.frequency_hz, one.dial_hz) for one in amplifier] == [
        (one["frequency_hz"], one["dial_hz"]) for one in told["settings"]["amplifier"]
    ]

"""Figures that stand in a verdict's words: held by a law, or counted in the answer's own data."""

import math
import re

import pytest
from asking import results, sheet_of

_COUNTS = {"One other cause reads": 1, "2 other causes read": 2, "3 other causes read": 3}


@pytest.mark.parametrize(
    ("boost_db", "headroom_db", "power_w"),
    [("6", "2", "100"), ("12", "0", "500"), ("9", "3", "60"), ("18", "0", "1000")],
)
def test_what_the_rest_of_the_bass_has_is_the_power_less_what_it_is_turned_down(
    boost_db, headroom_db, power_w
):
    reason = sheet_of(
        "boost-cost", boost_db=boost_db, headroom_db=headroom_db, power_w=power_w
    ).verdict.reason.replace("\u202f", " ")
    lower, rest = re.search(
        r"Turned down (\S+) dB, the rest of the bass has (\S+) W", reason
    ).groups()
    # The definition of the decibel; the watts are rounded to two digits, by 5 % at most.
    assert 10 * math.log10(float(power_w) / float(rest)) == pytest.approx(float(lower), abs=0.25)


@pytest.mark.parametrize(
    ("drivers", "intended", "reading", "others"),
    [
        ("1,2;2,4", "3", "4.7", 1),
        ("2,4;1,8", "4", "6.2", 2),
        ("2,2;2,4", "7", "2", 3),
        ("2,2;2,4", "4", "5", 1),
    ],
)
def test_the_other_causes_of_a_reading_are_those_of_the_table_that_hold_it(
    drivers, intended, reading, others
):
    sheet = sheet_of("meter-check", drivers=drivers, intended=intended, reading_ohm=reading)
    holding = [
        cause
        for cause in sheet.results["likely"]
        if cause["expected_low_ohm"] is not None
        and cause["expected_low_ohm"] <= float(reading) <= cause["expected_high_ohm"]
    ]
    assert sheet.verdict.state == "suitable"
    assert [cause["kind"] for cause in holding].count("right") == 1
    assert len(holding) - 1 == others
    (said,) = [words for words in _COUNTS if words in sheet.verdict.reason]
    assert _COUNTS[said] == others


@pytest.mark.parametrize("reading", ["3", "10", "14.14", "20"])
def test_how_far_a_reading_is_from_the_ceiling_is_in_decibels(reading):
    found = results("gain-voltage", power_w="50", load_ohm="4", reading_v=reading)
    # 20 dB are ten times the volts, by definition.
    assert found["target_v"] * 10 ** (found["reading_db"] / 20) == pytest.approx(float(reading))
    assert found["reading_w"] == pytest.approx(float(reading) ** 2 / 4)


@pytest.mark.parametrize(
    ("drivers", "limit", "state"),
    [
        ("2,4", "2", "suitable"),  # both coils in parallel, alike
        ("2,4", "8", "suitable"),  # in series
        ("2,4", "8.1", "unsuitable"),
        ("1,4;1,4;1,4;1,4", "4", "suitable"),
        ("1,4;1,4;1,4;1,4", "16.1", "unsuitable"),
    ],
)
def test_a_load_that_is_allowed_and_shared_alike_is_suitable(drivers, limit, state):
    verdict = sheet_of("coil-wiring", drivers=drivers, min_load_ohm=limit).verdict
    assert verdict.state == state
    assert ("every coil gets the same power" in verdict.reason) is (state == "suitable")


@pytest.mark.parametrize("tone_dbfs", [0, -5, -10])
def test_a_quieter_tone_gives_less_at_the_head_unit(tone_dbfs):
    outputs = f"front left,50,4,no,network,0.12,315,{tone_dbfs},0,,normal"
    steps = results("commissioning", outputs=outputs, source_v="4")["steps"]
    (step,) = [each for each in steps if each["key"] == "source_v"]
    middle = math.sqrt(step["expected_low"] * step["expected_high"])
    assert middle == pytest.approx(4 * 10 ** (tone_dbfs / 20))

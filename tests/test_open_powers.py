"""Where the plate leaves a power open, what follows from it fails only if it fails at the least."""

import pytest
from arrangement_files import plan_of_text, sheet_of_text

SYSTEM = """version = 2
[[speakers]]
name = "doors"
section = "full-range"
count = 2
coil_ohm = 3
rated_w = 60
[head_unit]
kind = "replacement"
source_v = 2
[leads]
power_m = 4
engine_space = false
[air]
closed = true
area_m2 = 0.25
cabin_c = 25
[[amplifiers]]
name = "Alder"
channels = 2
power_4ohm_w = 60
min_channel_ohm = 2
amplifier_class = "ab"
efficiency_percent = 60
idle_w = 10
regulated = true
rated_v = 14.4
limit_c = {limit}
high_pass_hz = "50-500"
low_pass_hz = "off"
filter_db_per_octave = "12"
"""
LIMITS = range(26, 120, 2)


def heat(limit, more=""):
    plan = plan_of_text(SYSTEM.format(limit=limit) + more)
    (check,) = [check for check in plan.candidate.checks if check.kind == "heat"]
    return check


@pytest.fixture(scope="module")
def found():
    """By the amplifier's limit: with its power at 2 Ω not told, and with either end of it."""
    ends = ("", "power_2ohm_w = 60\n", "power_2ohm_w = 120\n")
    return {limit: [heat(limit, end) for end in ends] for limit in LIMITS}


def test_what_fails_fails_also_with_the_least_that_it_may_give(found):
    for limit, (told_by_nobody, least, _) in found.items():
        is_refused = told_by_nobody.state == "unsuitable"
        assert is_refused == (least.state == "unsuitable"), limit


def test_between_both_ends_the_power_is_asked_for(found):
    asked = [
        check
        for check, least, most in found.values()
        if least.state != "unsuitable" and most.state == "unsuitable"
    ]
    assert len(asked) > 2
    for check in asked:
        assert check.state == "not known" and check.keys == ("power_2ohm_w",)
        assert check.has.startswith("depends on the amplifier’s power at this load; at its most, ")


def test_the_seller_is_asked_for_it(found):
    limit = next(limit for limit, (check, _, _) in found.items() if check.keys == ("power_2ohm_w",))
    sheet = sheet_of_text(SYSTEM.format(limit=limit))
    assert any("RMS power per channel at 2" in ask for ask in sheet.candidates[0].ask)
    assert sheet.verdict.state == "not known"
    (place,) = [part for part in sheet.parts if part.title == "Mounting"]
    assert place.verdict.state == sheet.marks["5 Cooling"].state == "not known"


@pytest.mark.parametrize("limit", [40, 80, 118])
def test_a_closed_space_is_judged_without_the_size_of_a_mounting_space(limit):
    """The plan ended with an error: of that step heat alone is asked."""
    least = "power_2ohm_w = 60\n"
    sheet = sheet_of_text(SYSTEM.format(limit=limit) + least)
    states = [part.verdict.state for part in sheet.parts if part.title == "Mounting"]
    assert states == [sheet.marks["5 Cooling"].state] == [heat(limit, least).state]

"""How warm a bay gets: sums worked out by hand, and verdicts that wait for what is missing."""

import math

import pytest
from asking import plain, results, sheet_of, values

HEATS = {  # 200 W; the efficiency and class, and what turns to heat
    "class D, full": ({"duty": "full", "efficiency_percent": 80}, 200 * 0.25, None),
    "class D, heavy": ({"duty": "heavy", "efficiency_percent": 80}, 200 * 0.25 / 3, None),
    "class D, normal": ({"duty": "normal", "efficiency_percent": 80}, 200 * 0.25 / 8, None),
    "class AB, full": ({"duty": "full", "amplifier_class": "ab", "efficiency_percent": 50}, 200,
                       None),
    "class AB, heavy": ({"duty": "heavy", "amplifier_class": "ab", "efficiency_percent": 50},
                        200 * (math.sqrt(1 / 3) / 0.5 - 1 / 3), None),
    "class AB, normal": ({"duty": "normal", "amplifier_class": "ab", "efficiency_percent": 50},
                         200 * (math.sqrt(1 / 8) / 0.5 - 1 / 8), None),
    "class not known": ({"duty": "normal", "amplifier_class": "", "efficiency_percent": 50},
                        200 / 8, 200 * (math.sqrt(1 / 8) / 0.5 - 1 / 8)),
    # Whatever better efficiency is given: the bound is class AB at 50 %.
    "class not known, a better efficiency": (
        {"duty": "heavy", "amplifier_class": "", "efficiency_percent": 80},
        200 * 0.25 / 3, 200 * (math.sqrt(1 / 3) / 0.5 - 1 / 3)),
}  # fmt: skip


@pytest.mark.parametrize("case", HEATS)
def test_heat_and_the_rise_through_two_films(case):
    given, heat, bound = HEATS[case]
    found = results("bay-heat", power_w=200, area_m2="1,5", cabin_c=20, **given)
    assert found["heat_w"] == pytest.approx(heat) and found["heat_ab_w"] == pytest.approx(bound)
    assert found["rise_c"] == pytest.approx(heat / (3.5 * 1.5))
    assert found["rise_low_c"] == pytest.approx(heat / (5 * 1.5))
    assert found["rise_high_c"] == pytest.approx(heat / (2.5 * 1.5))
    assert found["bay_c"] == pytest.approx(20 + found["rise_c"])
    assert found["parked_c"] == pytest.approx(60 + found["rise_c"])
    (own,) = (one for one in found["duties"] if one["duty"] == given["duty"])
    assert own["heat_w"] == found["heat_w"] and own["rise_c"] == found["rise_c"]


VERDICTS = [  # at 27.8 W and 0.94 m²: 5.9 to 11.8 K over 25 °C; class AB is far hotter
    ({}, "suitable"),
    ({"limit_c": 37}, "suitable"),
    ({"limit_c": 36}, "not known"),
    ({"limit_c": 30}, "unsuitable"),
    ({"limit_c": 20}, "unsuitable"),
    ({"limit_c": ""}, "not known"),
    ({"closed": "no"}, "not known"),
    ({"amplifier_class": ""}, "not known"),
    ({"amplifier_class": "", "limit_c": 70}, "not known"),
    ({"amplifier_class": "", "limit_c": 120, "area_m2": 5}, "suitable"),
]


@pytest.mark.parametrize(("given", "state"), VERDICTS)
def test_the_verdict_on_heat_waits_for_what_is_missing(given, state):
    assert sheet_of("bay-heat", **given).verdict.state == state


def test_the_bound_of_an_unknown_class_and_the_reader_s_limit_are_told():
    """By hand: 250 W · (√⅓ ÷ 0.5 − ⅓) = 205.3 W."""
    sheet = sheet_of("bay-heat", amplifier_class="")
    assert any("50 %" in one and "205 W" in plain(one) for one in sheet.steps)
    assert "your limit is 50 °C" in plain(sheet.verdict.reason)


def test_an_open_bay_s_rise_is_not_estimated():
    sheet = sheet_of("bay-heat", closed="no")
    assert sheet.sentence.endswith("How warm an open space gets cannot be estimated.")
    assert [values(row)[2:4] for row in sheet.tables[0].rows] == [["not estimated"] * 2] * 3
    assert [one.label for one in sheet.figures] == ["Heat"]


def test_the_surface_that_is_needed_ends_at_the_limit():
    found = results("bay-heat", limit_c=30)
    again = results("bay-heat", limit_c=30, area_m2=f"{found['area_needed_m2']:.9f}")
    assert again["bay_c"] == pytest.approx(30)
    assert results("bay-heat", limit_c=25)["area_needed_m2"] is None


@pytest.mark.parametrize("film", ["1", "3", "5", "7", "10", "20", "50"])
def test_the_verdict_on_heat_agrees_with_the_rise_of_a_film_of_one_s_own(film):
    for limit in (26, 28, 34, 40, 50):
        sheet = sheet_of("bay-heat", h=film, limit_c=limit)
        bay_c = sheet.results["bay_c"]
        low, own, high = (sheet.results[f"rise{key}_c"] for key in ("_low", "", "_high"))
        assert low <= own * 1.000001 and own <= high * 1.000001
        assert bay_c == pytest.approx(25 + 250 / 3 / 3 / (float(film) / 2 * 0.94))
        assert (sheet.verdict.state, bay_c <= limit) not in (
            ("suitable", False),
            ("unsuitable", True),
        )


@pytest.mark.parametrize(
    ("limit_c", "state", "said"),
    [
        (21, "unsuitable", "At least 22 °C; your limit is 21 °C."),
        (23, "not known", "It could reach 24 °C; your limit is 23 °C. Measure it in the vehicle"),
        (30, "suitable", "At most 24 °C; your limit is 30 °C."),
    ],
)
def test_the_verdict_tells_the_end_that_decides(limit_c, state, said):
    """16.7 W on 1.5 m²: 2.22 K at 5 W/m²K, 4.44 K at 2.5; from 20 °C that is 22.2 and 24.4 °C."""
    given = HEATS["class D, heavy"][0] | {"amplifier_class": "d", "cabin_c": 20}
    sheet = sheet_of("bay-heat", power_w=200, area_m2="1,5", closed="yes", limit_c=limit_c, **given)
    assert sheet.verdict.state == state
    assert plain(sheet.verdict.reason).startswith(said)

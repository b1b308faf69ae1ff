"""Speaker leads and the supply, held against sums written out here."""

import json
import math

import pytest
from asking import answer, errors_of, plain, results, sheet_of, table, values
from conftest import ROOT

from calc.app.contents import CALCULATORS, query_of

CONDUCTORS = json.loads((ROOT / "shared/published/conductors.json").read_text("utf-8"))


def gauge_mm2(number):
    return math.pi / 4 * (0.127 * 92 ** ((36 - number) / 39)) ** 2


# ---- speaker leads ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "load", "ohm"),
    [
        ({}, 4, 2 * 5 * 0.0133),
        ({"load_ohm": 2, "length_m": 7, "mm2": 2.5}, 2, 2 * 7 * 0.00798),
        ({"awg": 16}, 4, 2 * 5 * 1.02 / 58 / gauge_mm2(16)),
        ({"material": "cca10", "conductor_c": 40}, 4,
         2 * 5 * 0.0133 * 1.59 * (1 + 0.00393 * 20)),
        ({"load_ohm": 0.5, "length_m": 50, "mm2": 0.5}, 0.5, 2 * 50 * 0.039),
    ],
)  # fmt: skip
def test_a_lead_loses_what_its_divider_loses(given, load, ohm):
    found = results("speaker-lead", **given)
    assert found["lead_ohm"] == pytest.approx(ohm)
    assert found["loss_percent"] == pytest.approx(100 * (1 - (load / (load + ohm)) ** 2))
    assert found["loss_db"] == pytest.approx(20 * math.log10(1 + ohm / load))
    assert found["damping"] == pytest.approx(load / ohm)
    assert found["current_a"] == pytest.approx(math.sqrt(150 / load))


@pytest.mark.parametrize(
    ("given", "state", "enough", "words"),
    [
        # The loss of 0.5 dB leaves 0.237 Ω to 4 Ω: 23.7 mΩ/m over 5 m, between 26 and 19.5.
        ({}, "suitable", 1.0, "Loses 0.284 dB; the limit is 0.5 dB"),
        ({"mm2": 0.75}, "unsuitable", 1.0, "Use 1 mm²"),
        ({"awg": 18}, "suitable", 1.0, "the limit is 0.5 dB"),
        ({"length_m": 10, "mm2": 1}, "unsuitable", 2.5, "Use 2.5 mm²"),
        ({"length_m": 30}, "unsuitable", 6.0, "Use 6 mm²"),
        ({"length_m": 50, "load_ohm": 2}, "unsuitable", None,
         "Even 6 mm² is not enough: shorten the cable"),
        ({"max_loss_db": 6, "mm2": 0.3, "power_w": ""}, "suitable", 0.75, "the limit is 6 dB"),
        ({"load_ohm": 8, "mm2": 0.75, "power_w": ""}, "suitable", 0.75, "the limit is 0.5 dB"),
    ],
)  # fmt: skip
def test_the_smallest_lead_that_is_enough_is_named(given, state, enough, words):
    sheet = sheet_of("speaker-lead", **given)
    assert sheet.verdict.state == state
    assert words in plain(sheet.verdict.reason)
    assert sheet.results["smallest_enough_mm2"] == enough
    # The table agrees: the first of the common sizes whose loss is within the limit.
    limit = float(given.get("max_loss_db", 0.5))
    sizes = table(sheet, "Other sizes")
    rows = [[plain(str(row[0])), *values(row)[1:]] for row in sizes.rows]
    common = [row for row in rows if row[0].split(" ")[0] in ("0.75", "1", "1.5", "2.5", "4", "6")]
    fits = [float(row[0].split(" ")[0]) for row in common if row[2] <= limit]
    assert next(iter(fits), None) == enough
    found = sheet.results
    assert rows[sizes.marked][0].startswith(found["size"])
    assert rows[sizes.marked][1:] == pytest.approx(
        [1000 * found["lead_ohm"], found["loss_db"], found["loss_percent"], found["damping"]]
    )
    by_length = table(sheet, "Loss by length")
    marked = values(by_length.rows[by_length.marked])
    loads = [float(one.label.split(" ")[0]) for one in by_length.columns[1:]]
    at = loads.index(float(given.get("load_ohm", 4)))
    assert marked[0] == float(given.get("length_m", 5))
    assert marked[1 + at] == pytest.approx(found["loss_db"])


@pytest.mark.parametrize(
    ("given", "current", "state", "enough", "words"),
    [
        # 1.5 mm² carries 27.6 A, 2.5 mm² 38.7 A; 1 mm² is the thinnest that the table knows.
        ({"power_w": 3000}, math.sqrt(750), "suitable", 1.5, "Loses 0.284 dB; the limit is 0.5 dB"),
        ({"power_w": 4000}, math.sqrt(1000), "unsuitable", 2.5, "31.6 A at full power"),
        ({"power_w": 20_000}, math.sqrt(5000), "unsuitable", None, "Even 6 mm² is not enough"),
        ({"power_w": 100, "load_ohm": 8, "mm2": 0.75}, math.sqrt(12.5), "not known", 1.0,
         "no current rating for this size, and it carries 3.54 A"),
        ({"power_w": ""}, None, "suitable", 1.0, "Loses 0.284 dB; the limit is 0.5 dB"),
    ],
)  # fmt: skip
def test_a_lead_carries_the_current_of_its_power(given, current, state, enough, words):
    sheet = sheet_of("speaker-lead", **given)
    found = sheet.results
    assert found["current_a"] == (current if current is None else pytest.approx(current))
    assert found["smallest_enough_mm2"] == enough
    assert sheet.verdict.state == state
    assert words in plain(sheet.verdict.reason)
    assert (found["permitted_a"] is None) == (given.get("mm2") == 0.75)


def test_a_lead_is_told_by_its_area_or_its_gauge():
    assert answer("speaker-lead", awg=14).inputs["mm2"] is None
    assert results("speaker-lead", awg=14)["size"] == "14 AWG"
    assert query_of(answer("speaker-lead", awg=14)) == "awg=14"
    assert set(errors_of("speaker-lead", awg=14, mm2=2.5)) == {"awg"}
    assert set(errors_of("speaker-lead", mm2="")) == {"mm2"}


# ---- the supply ------------------------------------------------------------------------------

FULL, AT_REST = 250 / (0.6 * 14.4), 250 / (0.6 * 12.6)


def duties(**given):
    return {one["duty"]: one for one in results("supply-budget", **given)["duties"]}


def test_the_example_s_margins_and_hours():
    found = duties()
    for duty, share in (("full", 1), ("heavy", 1 / 3), ("normal", 1 / 8)):
        draw, most, rest = FULL * share, FULL * math.sqrt(share), AT_REST * share
        expected = {
            "duty": duty,
            "amplifier_a": draw,
            "amplifier_ab_a": most,
            "margin_idle_a": 120 * 0.5 - 40 - draw,
            "margin_running_a": 120 - 40 - draw,
            "engine_off_h": 20 * (70 / (20 * rest)) ** 1.2 * 0.5,
            "margin_idle_ab_a": 120 * 0.5 - 40 - most,
            "margin_running_ab_a": 120 - 40 - most,
            "engine_off_ab_h": 20 * (70 / (20 * AT_REST * math.sqrt(share))) ** 1.2 * 0.5,
        }
        assert set(found[duty]) == set(expected)
        for key, value in expected.items():
            assert found[duty][key] == (value if key == "duty" else pytest.approx(value)), key


def test_a_known_class_has_no_bounds_and_its_own_current():
    for kind, share in (("d", 1 / 8), ("ab", math.sqrt(1 / 8))):
        found = duties(amplifier_class=kind)["normal"]
        assert found["margin_running_a"] == pytest.approx(80 - FULL * share)
        assert {found[key] for key in found if "_ab_" in key} == {None}


def test_voltages_idle_power_and_the_vehicle_count_where_they_must():
    found = duties(
        amplifier_class="d", idle_w=12, running_v=13.8, resting_v=12, idle_percent=40,
        vehicle_a=20, vehicle_off_a=3, reserve_percent=30, peukert=1, battery_ah=100,
    )["heavy"]  # fmt: skip
    running, resting = 250 / 0.6 / 3 / 13.8 + 12 / 13.8, 250 / 0.6 / 3 / 12 + 12 / 12
    assert found["margin_idle_a"] == pytest.approx(48 - 20 - running)
    assert found["margin_running_a"] == pytest.approx(120 - 20 - running)
    # An ideal battery: ampere-hours over ampere.
    assert found["engine_off_h"] == pytest.approx(100 / (resting + 3) * 0.7)


def test_with_all_kept_back_there_is_no_time_and_without_a_draw_no_end():
    assert {one["engine_off_h"] for one in duties(reserve_percent=100).values()} == {0}
    calculator = CALCULATORS["supply-budget"]
    nothing = {**calculator.form.read({}), "total_power_w": 0.0}
    sheet = calculator.compute(nothing)
    assert {one["engine_off_h"] for one in sheet.results["duties"]} == {None}
    assert "With the engine off nothing is drawn" in sheet.sentence


@pytest.mark.parametrize(
    ("given", "state", "words"),
    [
        ({}, "suitable", "keeps up on the road with normal listening."),
        # 1000 W: 14.5 A with normal listening, 40.9 A in class AB; 20 A are left at idle.
        ({"total_power_w": 1000}, "suitable", "but not at idle"),
        ({"total_power_w": 1000, "amplifier_class": "ab"}, "suitable", "but not at idle"),
        # 115.7 A at full power, more than the 80 A that are left on the road.
        ({"total_power_w": 1000, "amplifier_class": "d"}, "suitable",
         "but not at full power for long"),
        ({"total_power_w": 2500, "amplifier_class": "d"}, "suitable",
         "but not at idle, on the road with loud music and at full power for long"),
        ({"vehicle_a": 100, "idle_percent": 90}, "suitable", "but not at idle"),
        # 5 A are left on the road; 3.62 A, or 10.2 A in class AB.
        ({"vehicle_a": 115}, "not known", "Class AB would be 5.23 A short on the road"),
        ({"vehicle_a": 115, "amplifier_class": "d"}, "suitable", "but not at idle"),
        ({"vehicle_a": 115, "amplifier_class": "ab"}, "unsuitable", "5.23 A short on the road"),
        ({"vehicle_a": 120}, "unsuitable", "3.62 A short on the road with normal listening"),
    ],
)  # fmt: skip
def test_the_supply_s_verdict_names_what_is_missing_and_when(given, state, words):
    verdict = sheet_of("supply-budget", **given).verdict
    assert verdict.state == state
    assert words in plain(verdict.reason)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"amplifier_class": "d"}, []),
        # 60 A at idle less 65 A are 5 A short without the amplifier's 3.62 A.
        ({"amplifier_class": "d", "vehicle_a": 65},
         ["8.62 A short at idle with normal listening, 3.62 A of it the amplifier’s"]),
        # 20 A are left for it, and it takes 32.7 A: all that is short is its own.
        ({"total_power_w": 800, "amplifier_class": "ab"},
         ["12.7 A short at idle with normal listening, 12.7 A of it the amplifier’s"]),
        ({"total_power_w": 2500, "amplifier_class": "d"},
         ["16.2 A short at idle with normal listening, 16.2 A of it",
          "16.5 A short on the road with loud music, 16.5 A of it"]),
        ({"vehicle_a": 100, "idle_percent": 90},
         ["2.23 A short at idle with normal listening if it is class AB, 2.23 A of it"]),
    ],
)  # fmt: skip
def test_what_is_short_is_a_caution_that_names_the_amplifier_s_share(given, words):
    sheet = sheet_of("supply-budget", **given)
    assert sheet.verdict.state == "suitable"
    told = [plain(one) for one in sheet.cautions if " short " in one]
    assert len(told) == len(words)
    for one, expected in zip(told, words, strict=True):
        assert one.startswith(expected)


def test_an_electric_vehicle_s_converter_stands_for_the_alternator():
    told = plain(" ".join(sheet_of("supply-budget").cautions))
    assert "stay on the 12 V side" in told
    assert "the DC/DC converter’s rating" in told


def test_too_much_idle_power_is_refused():
    assert set(errors_of("supply-budget", idle_w=278)) == {"idle_w"}

"""Answers for one power cable, held against sums written out here.

Resistances and currents are taken from printed tables, never from the project's formulas.
"""

import math

import pytest
from asking import errors_of, plain, results, sheet_of, table, values

WARM = 1 + 0.00393 * 30  # a conductor of 50 °C against one of 20 °C
# 250 W at 60 % and 14.4 V, the amplifier of the examples.
FULL = 250 / (0.6 * 14.4)
AB_HEAVY, AB_NORMAL = FULL * math.sqrt(1 / 3), FULL * math.sqrt(1 / 8)


def gauge_mm2(number):
    return math.pi / 4 * (0.127 * 92 ** ((36 - number) / 39)) ** 2


def between(area, thin, low, thick, high):
    """Return the current between two gauges of the printed table."""
    part = math.log(area / gauge_mm2(thin)) / math.log(gauge_mm2(thick) / gauge_mm2(thin))
    return low * (high / low) ** part


MAY_1 = between(1, 18, 20, 16, 25)
MAY_2_5 = between(2.5, 14, 35, 12, 45)
MAY_4 = between(4, 12, 45, 10, 60)
MAY_6 = between(6, 10, 60, 8, 80)
MAY_10 = between(10, 8, 80, 6, 120)


def column(shown, label):
    """Return a column's values; its label begins so."""
    (at,) = (at for at, one in enumerate(shown.columns) if one.label.startswith(label))
    return [values(row)[at] for row in shown.rows]


def holds(found, expected):
    for key, value in expected.items():
        assert found[key] == (pytest.approx(value) if isinstance(value, float) else value), key


# ---- one run of power cable ------------------------------------------------------------------

# What is given, and what follows: 3 m of cable and 2 mΩ of body unless something else is said.
RUNS = {
    "the example: full power": (
        {},
        {
            "current_a": FULL,
            "current_full_a": FULL,
            "current_ab_a": FULL,
            "current_fuse_a": FULL,
            "current_by_fuses_a": None,
            "required_mm2": FULL * WARM * 3 / 58 / (0.5 - 0.002 * FULL),
            "size": "6 mm²",  # 4 mm² loses 0.538 V
            "size_mm2": 6,
            "size_by_drop": "6 mm²",
            "drop_v": FULL * (0.0033 * WARM * 3 + 0.002),
            "drop_full_v": FULL * (0.0033 * WARM * 3 + 0.002),
            "permitted_a": MAY_6,
            "fuse_a": 30.0,
            "limited_by": "drop",
            # Bought as 10 mm²: the thinnest of 10, 20, 35 and 50 mm².
            "kit_size": "10 mm²",
            "kit_mm2": 10,
            "kit_drop_v": FULL * (0.00191 * WARM * 3 + 0.002),
            "kit_permitted_a": MAY_10,
        },
    ),
    "16 mm² is bought as 20 mm², which is ρ/s × 1.02": (
        {"total_power_w": 500, "length_m": 4, "max_drop_v": 0.45},
        {
            # 57.9 A · (2.135 mΩ/m · 4 m + 2 mΩ) = 0.61 V with 10 mm², 0.429 V with 16 mm²
            "size": "16 mm²",
            "kit_size": "20 mm²",
            "kit_mm2": 20,
            "kit_drop_v": 2 * FULL * (1.02 / 58 / 20 * WARM * 4 + 0.002),
            "kit_permitted_a": between(20, 6, 120, 4, 160),
        },
    ),
    "a drop at music's duty is still told at full power for what is bought": (
        {"duty": "normal", "length_m": 6},
        {
            "size": "2.5 mm²",
            "kit_size": "10 mm²",
            "kit_drop_v": FULL * (0.00191 * WARM * 6 + 0.002),
        },
    ),
    "beyond what is bought": (
        # 278 A at full power: a fuse of 300 A, and 50 mm² carries 273 A.
        {"total_power_w": 2400, "body_mohm": 0, "max_drop_v": 1},
        {
            "size": "70 mm²",
            "kit_size": None,
            "kit_mm2": None,
            "kit_drop_v": None,
            "kit_permitted_a": None,
        },
    ),
    "gauges are bought as 8 AWG and up": (
        {"sizes": "awg", "efficiency_percent": 80},
        {
            "size": "12 AWG",  # 21.7 A · (5.94 mΩ/m · 3 m + 2 mΩ) = 0.430 V
            "kit_size": "8 AWG",
            "kit_mm2": gauge_mm2(8),
            "kit_drop_v": 0.75 * FULL * (1.02 / 58 / gauge_mm2(8) * WARM * 3 + 0.002),
            "kit_permitted_a": 80.0,
        },
    ),
    # Air of 70 °C: √(35/75) = 0.6831; of 85 °C: √(20/75) = 0.5164; of 50 °C the table's 0.85.
    "an engine space of 70 °C": (
        {"engine_space": "yes", "engine_c": 70},
        {"size": "6 mm²", "permitted_a": 0.683130 * MAY_6, "kit_permitted_a": 0.683130 * MAY_10},
    ),
    "an engine space of 85 °C": (
        {"engine_space": "yes", "engine_c": 85},
        {"size": "6 mm²", "permitted_a": 0.516398 * MAY_6, "fuse_a": 30.0},
    ),
    "an engine space of 40 °C": (
        {"engine_space": "yes", "engine_c": 40},
        {"permitted_a": 0.930949 * MAY_6},
    ),
    "a place that nobody knows is taken as an engine space": (
        {"engine_space": ""},
        {"permitted_a": 0.85 * MAY_6},
    ),
    "no engine space: its air does not count": (
        {"engine_space": "no", "engine_c": 104},
        {"permitted_a": MAY_6},
    ),
    # Fuses: 28.9 A at full power.
    "own fuses that leave room for the next rating": (
        {"amp_fuses_a": 30},
        {"fuse_a": 30.0, "current_by_fuses_a": 30.0},
    ),
    "own fuses below the next rating": ({"amp_fuses_a": "15;10"}, {"fuse_a": 25.0}),
    "own fuses between two ratings": ({"amp_fuses_a": 29}, {"fuse_a": 25.0}),
    "the maker’s fuse wins over the power": ({"maker_fuse_a": 40}, {"fuse_a": 40.0}),
    "the maker’s fuse wins over the own ones": (
        {"maker_fuse_a": 40, "amp_fuses_a": 25},
        {"fuse_a": 40.0},
    ),
    "the maker’s fuse makes the cable thicker": (
        {"maker_fuse_a": 80, "length_m": 1},  # 65 A for 6 mm²
        {"fuse_a": 80.0, "size": "10 mm²", "size_by_drop": "1.5 mm²", "limited_by": "fuse"},
    ),
    "a maker’s fuse that no cable carries": ({"maker_fuse_a": 500}, {"fuse_a": 30.0}),
    "a maker’s fuse below full power": (
        {"maker_fuse_a": 20, "length_m": 1, "bundle": 3, "max_drop_v": 1},
        # The cable carries full power all the same: 0.7 · 38.7 = 27.1 A are too little.
        {"fuse_a": 20.0, "size": "4 mm²"},
    ),
    "heavy programme": (
        {"duty": "heavy"},
        {
            "current_a": FULL / 3,
            "current_full_a": FULL,
            "current_ab_a": AB_HEAVY,
            "current_fuse_a": FULL,
            "current_by_fuses_a": None,
            "required_mm2": FULL / 3 * WARM * 3 / 58 / (0.5 - 0.002 * FULL / 3),
            "size": "2.5 mm²",
            "size_mm2": 2.5,
            "size_by_drop": "1.5 mm²",
            "drop_v": FULL / 3 * (0.00798 * WARM * 3 + 0.002),
            "drop_full_v": FULL * (0.00798 * WARM * 3 + 0.002),
            "drop_ab_v": AB_HEAVY * (0.00798 * WARM * 3 + 0.002),
            "permitted_a": MAY_2_5,
            "fuse_a": 30.0,
            "limited_by": "heat",
            "output_loss_percent": 100
            * (1 - (1 - FULL / 3 * (0.00798 * WARM * 3 + 0.002) / 14.4) ** 2),
        },
    ),
    "full power over 5 m": (
        {"duty": "full", "length_m": 5},
        {
            "current_a": FULL,
            "current_ab_a": FULL,
            "required_mm2": FULL * WARM * 5 / 58 / (0.5 - 0.002 * FULL),
            "size": "10 mm²",
            "size_by_drop": "10 mm²",
            "drop_v": FULL * (0.00191 * WARM * 5 + 0.002),
            "drop_full_v": FULL * (0.00191 * WARM * 5 + 0.002),
            "permitted_a": MAY_10,
            "fuse_a": 30.0,
            "limited_by": "drop",
        },
    ),
    "an unknown class with idle power": (
        {"duty": "heavy", "idle_w": 12},
        {
            "current_a": FULL / 3 + 12 / 14.4,
            "current_full_a": FULL,
            "current_ab_a": AB_HEAVY,
            "drop_v": (FULL / 3 + 12 / 14.4) * (0.00798 * WARM * 3 + 0.002),
        },
    ),
    "class D with idle power": (
        {"duty": "heavy", "amplifier_class": "d", "idle_w": 12},
        {"current_a": FULL / 3 + 12 / 14.4, "current_ab_a": None, "drop_ab_v": None},
    ),
    "class AB whose idle power is within its draw": (
        {"duty": "heavy", "amplifier_class": "ab", "idle_w": 12},
        {"current_a": AB_HEAVY, "current_ab_a": None, "drop_ab_v": None},
    ),
    "class AB whose idle power is above it": (
        {"amplifier_class": "ab", "idle_w": 200, "duty": "normal"},
        {"current_a": 200 / 14.4, "current_full_a": FULL},
    ),
    "an unknown class at normal programme": (
        {"duty": "normal"},
        {"current_a": FULL / 8, "current_ab_a": AB_NORMAL},
    ),
    "a regulated supply": (
        {"duty": "heavy", "regulated_min_v": 11},
        {
            "current_a": FULL / 3,
            "current_full_a": FULL,
            "current_fuse_a": 250 / (0.6 * 11),  # 37.9 A, a fuse of 40 A: too much for 2.5 mm²
            "fuse_a": 40.0,
            "size": "4 mm²",
            "size_by_drop": "1.5 mm²",
            "permitted_a": MAY_4,
            "limited_by": "fuse",
            "drop_full_v": FULL * (0.00495 * WARM * 3 + 0.002),
        },
    ),
    "a second cable as the way back": (
        {"duty": "heavy", "return": "cable", "body_mohm": 99},
        {
            "required_mm2": FULL / 3 * WARM * 6 / 58 / 0.5,
            "size": "4 mm²",
            "size_by_drop": "4 mm²",
            "drop_v": FULL / 3 * 0.00495 * WARM * 6,
            "limited_by": "drop",
        },
    ),
    "joints of 10 mΩ": (
        {"duty": "heavy", "connections_mohm": 10},
        {
            "required_mm2": FULL / 3 * WARM * 3 / 58 / (0.5 - 0.012 * FULL / 3),
            "size": "2.5 mm²",
            "size_by_drop": "2.5 mm²",
            "drop_v": FULL / 3 * (0.00798 * WARM * 3 + 0.012),
            "limited_by": "drop",
        },
    ),
    "an engine space": (
        {"duty": "heavy", "engine_space": "yes"},
        {"size": "2.5 mm²", "permitted_a": 0.85 * MAY_2_5, "fuse_a": 30.0},
    ),
    "three in a bundle": (
        {"duty": "heavy", "bundle": 3},  # 27.1 A for 2.5 mm²
        {"size": "4 mm²", "permitted_a": 0.7 * MAY_4, "fuse_a": 30.0, "limited_by": "heat"},
    ),
    "seven in a bundle, from an engine space": (
        {"duty": "heavy", "bundle": 7, "engine_space": "yes"},  # 27.5 A for 6 mm²
        {"size": "10 mm²", "permitted_a": 0.5 * 0.85 * MAY_10, "limited_by": "heat"},
    ),
    "copper-clad aluminium": (
        {"duty": "heavy", "material": "cca15"},
        {
            "required_mm2": FULL / 3 * 1.55 * WARM * 3 / 58 / (0.5 - 0.002 * FULL / 3),
            "size": "2.5 mm²",
            "size_by_drop": "2.5 mm²",
            "drop_v": FULL / 3 * (1.55 * 0.00798 * WARM * 3 + 0.002),
            "permitted_a": MAY_2_5 / math.sqrt(1.55),
            "limited_by": "drop",
        },
    ),
    "gauges": (
        {"duty": "heavy", "sizes": "awg"},
        {
            "size": "14 AWG",
            "size_mm2": gauge_mm2(14),
            "size_by_drop": "16 AWG",
            "drop_v": FULL / 3 * (1.02 / 58 / gauge_mm2(14) * WARM * 3 + 0.002),
            "permitted_a": 35.0,
            "limited_by": "heat",
        },
    ),
    "a cold conductor": (
        {"duty": "heavy", "conductor_c": 20},
        {"drop_v": FULL / 3 * (0.00798 * 3 + 0.002)},
    ),
    "a supply of 24 V": (
        {"duty": "heavy", "supply_v": 28, "efficiency_percent": 80},
        {"current_full_a": 250 / (0.8 * 28), "fuse_a": 15.0, "size": "1.5 mm²"},
    ),
}


@pytest.mark.parametrize("what", RUNS)
def test_a_run_s_figures_follow_from_its_inputs(what):
    given, expected = RUNS[what]
    holds(results("power-cable", **given), expected)


NOTHING = ("kit_size", "kit_mm2", "kit_drop_v", "kit_permitted_a",
           "fuse_note", "size", "size_mm2", "drop_v", "drop_full_v", "drop_ab_v", "permitted_a",
           "fuse_a", "output_loss_percent")  # fmt: skip


@pytest.mark.parametrize("insulation", ["", "90", "125"])
def test_without_a_table_for_the_insulation_no_run_is_offered(insulation):
    sheet = sheet_of("power-cable", insulation_c=insulation)
    holds(sheet.results, dict.fromkeys(NOTHING) | {"limited_by": "heat"})
    assert sheet.results["size_by_drop"] == "6 mm²"
    assert sheet.results["required_mm2"] > 1
    assert sheet.verdict.state == "not known"
    assert "current ratings for 105" in sheet.verdict.reason
    assert sheet.sentence.startswith("No single cable will do")
    assert set(column(table(sheet, "Cable sizes over"), "Current rating")) == {None}


@pytest.mark.parametrize(
    ("given", "limit", "words"),
    [
        (
            {"total_power_w": 20_000},
            "drop",
            ["2310 A at full power", "95 mm² is rated for 412 A", "a cable of its own",
             "The body and the connections alone drop more than 0.5 V"],
        ),
        ({"body_mohm": 100}, "drop", ["body and the connections alone", "run a return cable"]),
        # 9.65 A · 60 mΩ = 0.58 V, whatever the cable.
        ({"return": "cable", "connections_mohm": 60}, "drop", ["body and the connections alone"]),
        # 38.6 A · (0.206 mΩ/m · 1.118 · 100 m + 2 mΩ) = 0.97 V.
        ({"total_power_w": 1000, "length_m": 100}, "drop", ["Even 95 mm² drops more"]),
        # 428 A are more than the 413 A of 95 mm²; 405 A are not, but their fuse has 450 A.
        ({"total_power_w": 3700, "duty": "normal", "length_m": 0.5, "body_mohm": 0}, "heat",
         ["428 A at full power", "its largest fuse is 400 A"]),
        ({"total_power_w": 3500, "duty": "normal", "length_m": 0.5, "body_mohm": 0}, "fuse",
         ["405 A at full power", "its largest fuse is 400 A"]),
    ],
)  # fmt: skip
def test_where_no_size_does_it_the_verdict_says_what_stands_in_the_way(given, limit, words):
    sheet = sheet_of("power-cable", **given)
    holds(sheet.results, dict.fromkeys(NOTHING) | {"limited_by": limit})
    assert sheet.verdict.state == "unsuitable"
    for word in words:
        assert word in plain(sheet.verdict.reason)
    is_said = "body and the connections" in sheet.verdict.reason
    assert (sheet.results["required_mm2"] is None) == is_said


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "The voltage drop decides the minimum size."),
        ({"duty": "heavy"}, "The current at full power decides the minimum size."),
        ({"duty": "heavy", "regulated_min_v": 11}, "The fuse decides the minimum size."),
        ({"total_power_w": 10, "length_m": 0.05}, "No thinner size is used for power."),
    ],
)
def test_the_working_names_what_decides_the_size(given, words):
    sheet = sheet_of("power-cable", **given)
    assert sheet.verdict.state == "suitable"
    assert any(one.startswith(words) for one in sheet.steps)


def test_where_class_ab_would_lose_too_much_the_class_is_missing():
    verdict = sheet_of("power-cable", length_m=4, duty="heavy").verdict
    # 16.7 A · (7.98 mΩ/m · 1.118 · 4 m + 2 mΩ) = 0.63 V
    assert verdict.state == "not known"
    assert plain(verdict.reason).startswith(
        "The amplifier’s class is not given. Class AB would drop 0.63 V in 2.5 mm², limit 0.5 V."
    )
    known = results("power-cable", length_m=4, duty="heavy", amplifier_class="d")
    holds(known, {"size": "2.5 mm²"})
    known = sheet_of("power-cable", length_m=4, duty="heavy", amplifier_class="ab")
    holds(known.results, {"size": "4 mm²", "limited_by": "drop"})
    assert known.verdict.state == "suitable"
    # At full power every class draws the same: nothing is missing.
    assert sheet_of("power-cable", length_m=4).verdict.state == "suitable"


def test_the_amplifier_s_own_fuses_stand_beside_the_power_as_a_second_estimate():
    sheet = sheet_of("power-cable", amp_fuses_a="30; 30")
    alone = results("power-cable")
    assert sheet.results == alone | {"current_by_fuses_a": 60.0}
    assert plain(sheet.cautions[0]).startswith(
        "The amplifier’s own fuses add up to 60 A, more than the 30 A main fuse"
    )
    rows = [
        [plain(str(one)) for one in values(row)] for row in table(sheet, "estimated two ways").rows
    ]
    assert [row[2:] for row in rows] == [["30 A", "6 mm²"], ["60 A", "6 mm²"]]
    assert MAY_4 < 60 < MAY_6
    # They let more through than the main fuse does: told, and no reason to wait.
    assert sheet.verdict.state == "suitable"
    assert [float(row[1]) for row in rows] == [pytest.approx(FULL), 60]
    beyond = table(sheet_of("power-cable", amp_fuses_a="300;300"), "estimated two ways").rows[1]
    assert [plain(str(one)) for one in values(beyond)[2:]] == ["none up to 500 A", "none"]


@pytest.mark.parametrize(
    ("own", "total", "words"),
    [("30", 30, None), ("15;7,5;7.5", 30, None), ("29", 29, "more than the 25 A"),
     ("25", 25, "less than 28.9 A at full power"), ("20", 20, "less than 28.9 A"),
     ("20;11", 31, "more than the 30 A"), ("15;15;15", 45, "more than the 30 A")],
)  # fmt: skip
def test_own_fuses_that_agree_with_the_power_give_no_caution(own, total, words):
    sheet = sheet_of("power-cable", amp_fuses_a=own)
    assert sheet.results["current_by_fuses_a"] == total
    told = [plain(one) for one in sheet.cautions if "amplifier’s own fuses" in one]
    assert told == [] if words is None else words in told[0]


def test_inputs_that_contradict_one_another_are_all_told():
    found = errors_of("power-cable", amp_fuses_a="30,30", regulated_min_v=15, idle_w=278)
    assert set(found) == {"amp_fuses_a", "regulated_min_v", "idle_w"}
    assert "no fuse is rated 30.3 A" in plain(found["amp_fuses_a"])
    assert "277.8 W" in plain(found["idle_w"])  # two thirds of 250 W at 60 %
    results("power-cable", regulated_min_v=14.4, idle_w=277.7)


@pytest.mark.parametrize(
    "given",
    [
        {},
        {"sizes": "awg", "length_m": 7, "duty": "full"},
        {"material": "cca10", "bundle": 3, "total_power_w": 900, "amplifier_class": "ab"},
        {"return": "cable", "engine_space": "yes", "connections_mohm": 1, "total_power_w": 620},
        {"regulated_min_v": 11, "length_m": 0.3},
        {"total_power_w": 3500, "duty": "normal", "length_m": 0.5, "body_mohm": 0},
        {"total_power_w": 1000, "length_m": 100},
    ],
)
def test_the_table_of_sizes_agrees_with_the_results(given):
    sheet = sheet_of("power-cable", **given)
    found, sizes = sheet.results, table(sheet, "Cable sizes over")
    names, fit = [plain(one) for one in column(sizes, "Size")], column(sizes, "Result")
    fits = [at for at, words in enumerate(fit) if words == "OK"]
    count = 13 if given.get("sizes") == "awg" else 11  # from 16 AWG and 1.5 mm² up
    assert len(fit) == count
    if found["size"] is None:
        assert (sizes.marked, fits) == (None, [])
        return
    at = sizes.marked
    # The size is the first that nothing speaks against, and thicker ones do it too.
    assert fits == list(range(at, count))
    assert names[at] == found["size"]
    drops = [
        cell
        for cell, one in zip(values(sizes.rows[at]), sizes.columns, strict=True)
        if one.label.startswith("Drop")
    ]
    other = results("power-cable", **{**given, "duty": "heavy"})
    # The sizes of the same name at the other duty: a drop goes with the current.
    beside = found["drop_full_v"]
    if given.get("duty", "full") == "full":
        beside = found["drop_v"] * other["current_a"] / found["current_a"]
    assert drops == pytest.approx([found["drop_v"], beside])
    assert column(sizes, "Current rating")[at] == pytest.approx(found["permitted_a"])
    assert column(sizes, "Largest fuse")[at] >= found["fuse_a"]
    assert at == 0 or fit[at - 1].split(", ")[0] in (found["limited_by"], "no rating")
    keeping = [name for name, words in zip(names, fit, strict=True) if "drop" not in words]
    assert keeping[0] == found["size_by_drop"]

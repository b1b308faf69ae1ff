"""Answers for trunk and branches, held against sums written out here."""

import math
import random

import pytest
from asking import plain, refusals, results, sheet_of
from cable_jobs import SHARED, SYSTEMS, TWO, WIDE

WARM = 1 + 0.00393 * 30  # a conductor of 50 °C against one of 20 °C
PER_W = 1 / (0.6 * 14.4)  # A of full current for a watt, as the examples have it
FULL = 250 * PER_W


def test_the_example_s_trunk_and_branches():
    sheet = sheet_of("cable-tree")
    found = sheet.results
    total, own = 620 * PER_W, (250 * PER_W, 370 * PER_W)
    # 71.8, 28.9 and 42.8 A at full power: fuses of 80, 30 and 50 A; 16 mm² carries 135 A, so
    # that the trunk's fuse protects a branch of it.  10 mm² of trunk alone loses 0.603 V.
    rows = [(row["size"], row["size_mm2"], row["fuse_a"]) for row in found["runs"]]
    assert rows == [("16 mm²", 16, 80), ("6 mm²", 6, 30), ("16 mm²", 16, None)]
    # Bought as the next of 10, 20, 35 and 50 mm².
    bought = [(row["kit_size"], row["kit_mm2"]) for row in found["runs"]]
    assert bought == [("20 mm²", 20), ("10 mm²", 10), ("20 mm²", 20)]
    assert [row["current_a"] for row in found["runs"]] == pytest.approx([total, *own])
    shared = total * (0.00121 * WARM * 3 + 0.002)
    assert [one["drop_v"] for one in found["loads"]] == pytest.approx(
        [shared + own[0] * 0.0033 * WARM * 0.5, shared + own[1] * 0.00121 * WARM * 0.8]
    )
    of_20 = 1.02 / 58 / 20 * WARM
    shared = total * (of_20 * 3 + 0.002)
    assert [one["kit_drop_v"] for one in found["loads"]] == pytest.approx(
        [shared + own[0] * 0.00191 * WARM * 0.5, shared + own[1] * of_20 * 0.8]
    )
    # At a third of the power class AB draws √3 times as much.
    heavy = results("cable-tree", duty="heavy")
    assert [one["drop_ab_v"] for one in heavy["loads"]] == pytest.approx(
        [math.sqrt(3) * one["drop_v"] for one in heavy["loads"]]
    )
    assert found["copper_kg"] == pytest.approx(8890e-6 * (16 * 3 + 6 * 0.5 + 16 * 0.8))
    apart = found["separate"]
    assert [(row["from"], row["to"], row["length_m"], row["size_mm2"], row["fuse_a"])
            for row in apart["runs"]] == [
        ("battery", "Hazel 4-50", 3.5, 10, 30), ("battery", "Rowan 4-75", 3.8, 10, 50),
    ]  # fmt: skip
    assert apart["copper_kg"] == pytest.approx(8890e-6 * (10 * 3.5 + 10 * 3.8))
    assert (sheet.verdict.state, found["blocked_by"]) == ("suitable", [])
    assert found["current_by_fuses_a"] is None
    note = "the smallest fuse that carries 71.8 A at full power"
    assert plain(found["fuse_note"]) == note


@pytest.mark.parametrize(
    ("given", "fuses"),
    [
        # 16 mm² carries 135 A: no fuse of its own behind 60 or 125 A; 6 mm² carries 65 A.
        ({}, [80, 30, None]),
        ({"amp_fuses_a": "30;40"}, [70, 30, None]),
        ({"amp_fuses_a": "30;30"}, [60, None, None]),
        ({"amp_fuses_a": "30;30", "maker_fuse_a": 125}, [125, 30, None]),
        ({"runs": "battery,Hazel 4-50,3", "loads": "Hazel 4-50,250", "maker_fuse_a": 25}, [25]),
        # Two runs from the battery: neither feeds all, each has the fuse for its own power.
        ({"runs": "battery,Hazel 4-50,3;battery,Rowan 4-75,3", "maker_fuse_a": 125}, [30, 50]),
    ],
)
def test_the_main_fuse_of_a_tree_is_that_of_the_runs_that_feed_every_load(given, fuses):
    found = results("cable-tree", **given)
    assert [row["fuse_a"] for row in found["runs"]] == fuses
    for row in found["runs"]:
        assert row["fuse_a"] is None or row["fuse_a"] <= row["permitted_a"]
    assert (found["fuse_note"] is None) == (given.get("runs", "").count("battery") == 2)


@pytest.mark.parametrize(
    ("given", "state"),
    [
        ({"max_drop_v": 0.4, "duty": "heavy"}, "not known"),
        ({"max_drop_v": 0.4, "duty": "heavy", "amplifier_class": "d"}, "suitable"),
        ({"max_drop_v": 0.4, "duty": "heavy", "amplifier_class": "ab"}, "suitable"),
        ({"max_drop_v": 0.4}, "suitable"),
    ],
)
def test_the_tree_s_verdict_waits_for_the_class_where_it_decides(given, state):
    sheet = sheet_of("cable-tree", **given)
    assert sheet.verdict.state == state
    waits = "Class AB would drop 0.458 V at Rowan 4-75, limit 0.4 V" in plain(sheet.verdict.reason)
    assert waits == (state == "not known")
    bounds = [one["drop_ab_v"] for one in sheet.results["loads"]]
    assert (None in bounds) == ("amplifier_class" in given)


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"runs": "a,b,1;b,c,1;c,a,1", "loads": "a,9"}, [("runs", "form a ring")]),
        ({"runs": "battery,a,1;a,battery,1", "loads": "a,9"},
         [("runs", "form a ring"), ("runs", "A run ends at the battery")]),
        ({"runs": "x,Battery,1;Battery,a,1", "loads": "a,9"},
         [("runs", "A run ends at the Battery. Runs start there")]),
        ({"runs": "battery,a,1;b,c,1", "loads": "a,9"}, [("runs", "runs has no battery")]),
        ({"runs": "battery,a,1;b,c,1;c,b,1", "loads": "a,9"}, [("runs", "around c form a ring")]),
        ({"runs": "battery,a,1;battery,a,2", "loads": "a,9"}, [("runs", "Two runs end at a")]),
        ({"runs": "battery,a,0", "loads": "a,9"}, [("runs", "Row 1: length: 0 is out of range")]),
        ({"runs": "battery,a,", "loads": "a,9"}, [("runs", "Row 1: length")]),
        ({"runs": "", "loads": "a,9"}, [("runs", "0 rows")]),
        ({"runs": ";".join(f"{at},{at + 1},1" for at in range(17)), "loads": "1,9"},
         [("runs", "17 rows cannot be used. Enter 1 to 16")]),
        ({"loads": "battery,9"}, [("loads", "No run ends at battery")]),
        ({"loads": "Hazel 4-50,9;attic,9;cellar,9"},
         [("loads", "ends at attic"), ("loads", "ends at cellar")]),
        (
            {"runs": "battery,a,1;a,a,1;b,c,1;b,c,2", "loads": "z,100;y,1", "idle_w": 2,
             "regulated_min_v": 20, "amp_fuses_a": "30,3"},
            [("regulated_min_v", "above the battery"), ("amp_fuses_a", "fuse is rated 30.3 A"),
             ("idle_w", "Enter up to 1.111 W"), ("runs", "from a to itself"),
             ("runs", "Two runs end at a"), ("runs", "Two runs end at c"),
             ("runs", "No run feeds battery and b"), ("loads", "ends at z"),
             ("loads", "ends at y")],
        ),
    ],
)  # fmt: skip
def test_all_that_keeps_runs_from_being_a_tree_is_told_at_once(given, expected):
    found = refusals("cable-tree", **given)
    assert [field for field, _ in found] == [field for field, _ in expected]
    for (_, message), (_, words) in zip(found, expected, strict=True):
        assert words in message


@pytest.mark.parametrize("given", SYSTEMS)
def test_each_separate_run_is_the_answer_for_one_run_with_the_body_shared(given):
    apart = results("cable-tree", **given)["separate"]
    total = sum(row["current_a"] for row in apart["runs"])
    for row, load in zip(apart["runs"], apart["loads"], strict=True):
        alone = results(
            "power-cable", **{key: given[key] for key in SHARED if key in given},
            total_power_w=load["power_w"], length_m=row["length_m"],
            # The body carries all currents, which counts like a longer body for one of them.
            body_mohm=f"{2 * total / row['current_a']:.12f}",
        )  # fmt: skip
        for key in ("size", "size_mm2", "fuse_a", "permitted_a"):
            assert row[key] == alone[key]
        assert row["current_a"] == pytest.approx(alone["current_a"])
        assert load["drop_v"] == pytest.approx(alone["drop_v"])
        assert (row["to"], row["from"]) == (load["at"], "battery")


@pytest.mark.parametrize(
    ("given", "state", "words"),
    [
        ({"insulation_c": ""}, "not known", "current ratings for 105"),
        ({"loads": "Hazel 4-50,250;Rowan 4-75,5000"}, "unsuitable",
         "battery to distribution: 608 A at full power, no cable is rated for that"),
        ({"loads": "Rowan 4-75,3500", "body_mohm": 0}, "unsuitable",
         "distribution to Rowan 4-75: 405 A at full power, no cable is rated for its fuse"),
        ({"body_mohm": 50}, "unsuitable", "Even 95 mm² all the way drops 3.65 V at Rowan 4-75"),
    ],
)  # fmt: skip
def test_a_tree_that_is_refused_holds_no_sizes_and_no_drops(given, state, words):
    sheet = sheet_of("cable-tree", **given)
    found = sheet.results
    assert sheet.verdict.state == state
    assert words in plain(sheet.verdict.reason)
    assert sheet.sentence == "No cable in this list can feed these amplifiers safely."
    for one in (found, found["separate"]):
        assert one["copper_kg"] is None
        assert {row[key] for row in one["runs"] for key in ("size", "size_mm2", "fuse_a")} == {None}
        assert {load["drop_v"] for load in one["loads"]} == {None}
        assert all(row["length_m"] > 0 for row in one["runs"])
        assert max(row["current_a"] for row in one["runs"]) > 5
    assert found["blocked_by"]
    assert sheet.drawings == ()


def test_a_run_without_a_load_is_pointed_out():
    sheet = sheet_of("cable-tree", loads="Hazel 4-50,250")
    assert sheet.cautions[0].startswith("No amplifier is connected to the run to Rowan 4-75")
    assert [row["current_a"] for row in sheet.results["runs"]][2] == 0
    assert not any("No amplifier is connected" in one for one in sheet_of("cable-tree").cautions)


@pytest.mark.parametrize(("own", "is_told"), [("40;40", False), ("40;41", True), ("", False)])
def test_own_fuses_above_those_at_the_battery_are_pointed_out(own, is_told):
    for name in ("cable-tree", "kit-list"):
        more = {} if name == "cable-tree" else TWO
        sheet = sheet_of(name, amp_fuses_a=own, **more)
        told = [plain(one) for one in sheet.cautions if "amplifiers’ own fuses" in one]
        assert bool(told) == is_told
        if told:
            assert "add up to 81 A, more than the 80 A at the battery" in told[0]
    total = results("cable-tree", amp_fuses_a=own)["current_by_fuses_a"]
    assert total == (sum(map(float, own.split(";"))) if own else None)


@pytest.mark.parametrize("given", SYSTEMS)
def test_the_drawing_s_words_hold_every_run_with_its_size_fuse_and_drop(given):
    sheet = sheet_of("cable-tree", **given)
    (drawing,) = sheet.drawings
    told = plain(drawing.description)
    lost = {one["at"]: one["drop_v"] for one in sheet.results["loads"]}
    for row in sheet.results["runs"]:
        words = f"{row['from']} to {row['to']}: {row['length_m']:g} m, {row['size']}"
        if row["to"] in lost:
            drop = float(f"{lost[row['to']]:.3g}")
            words += f"; drops {drop:g} V"
        if row["fuse_a"]:
            words += f", fuse {row['fuse_a']:g} A"
        # What follows is the next run, or the end.
        after = told.split(words)[1]
        assert after[:2] == "; " or after == "."
    svg = plain("".join(drawing.svg.itertext()))
    for row in sheet.results["runs"]:
        assert row["to"] in svg
        assert row["size"] in svg


@pytest.mark.parametrize("seed", range(8))
def test_the_order_of_rows_does_not_matter(seed):
    rng, found = random.Random(seed), results("cable-tree", **WIDE)
    mixed = {key: ";".join(rng.sample(text.split(";"), text.count(";") + 1))
             for key, text in WIDE.items()}  # fmt: skip
    other = results("cable-tree", **mixed)
    for one, two in ((found, other), (found["separate"], other["separate"])):
        assert one["copper_kg"] == pytest.approx(two["copper_kg"])
        for key, place in (("runs", "to"), ("loads", "at")):
            ordered = {row[place]: row for row in two[key]}
            for row in one[key]:
                assert row == pytest.approx(ordered[row[place]], abs=1e-12)

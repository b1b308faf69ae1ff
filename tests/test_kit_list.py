"""Whole jobs: trunk and branches, and the kit list, held against sums written out here."""

import math
import random

import pytest
from asking import plain, refusals, results, sheet_of

from calc.contents import CALCULATORS

WARM = 1 + 0.00393 * 30  # a conductor of 50 °C against one of 20 °C
PER_W = 1 / (0.6 * 14.4)  # A of full current for a watt, as the examples have it
FULL = 250 * PER_W


# ---- trunk and branches ----------------------------------------------------------------------

# Four amplifiers behind two blocks.
WIDE = {
    "runs": "battery,front,1;front,A,0.6;battery,block,3;block,B,0.5;block,C,1.2;C,D,0.4",
    "loads": "A,120;B,250;C,300;D,80",
}


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
    note = "the smallest listed rating at or above the 71.8 A at full power"
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
    waits = "class AB would lose 0.458 V of 0.4 V at Rowan 4-75" in plain(sheet.verdict.reason)
    assert waits == (state == "not known")
    bounds = [one["drop_ab_v"] for one in sheet.results["loads"]]
    assert (None in bounds) == ("amplifier_class" in given)


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"runs": "a,b,1;b,c,1;c,a,1", "loads": "a,9"}, [("runs", "form a ring")]),
        ({"runs": "battery,a,1;a,battery,1", "loads": "a,9"},
         [("runs", "form a ring"), ("runs", "A run leads to the battery")]),
        ({"runs": "x,Battery,1;Battery,a,1", "loads": "a,9"},
         [("runs", "A run leads to the Battery; runs lead away from it.")]),
        ({"runs": "battery,a,1;b,c,1", "loads": "a,9"}, [("runs", "the runs fall apart")]),
        ({"runs": "battery,a,1;b,c,1;c,b,1", "loads": "a,9"}, [("runs", "around c form a ring")]),
        ({"runs": "battery,a,1;battery,a,2", "loads": "a,9"}, [("runs", "a is fed twice")]),
        ({"runs": "battery,a,0", "loads": "a,9"}, [("runs", "Row 1: length: 0 is out of range")]),
        ({"runs": "battery,a,", "loads": "a,9"}, [("runs", "Row 1: length")]),
        ({"runs": "", "loads": "a,9"}, [("runs", "0 rows")]),
        ({"runs": ";".join(f"{at},{at + 1},1" for at in range(17)), "loads": "1,9"},
         [("runs", "17 rows. Give 1 to 16")]),
        ({"loads": "battery,9"}, [("loads", "No run leads to battery")]),
        ({"loads": "Hazel 4-50,9;attic,9;cellar,9"},
         [("loads", "leads to attic"), ("loads", "leads to cellar")]),
        (
            {"runs": "battery,a,1;a,a,1;b,c,1;b,c,2", "loads": "z,100;y,1", "idle_w": 2,
             "regulated_min_v": 20, "amp_fuses_a": "30,3"},
            [("regulated_min_v", "above the supply"), ("amp_fuses_a", "no fuse has 30.3 A"),
             ("idle_w", "Give up to 1.111 W"), ("runs", "from a to itself"),
             ("runs", "a is fed twice"), ("runs", "c is fed twice"),
             ("runs", "No run leads to battery and b"), ("loads", "leads to z"),
             ("loads", "leads to y")],
        ),
    ],
)  # fmt: skip
def test_all_that_keeps_runs_from_being_a_tree_is_told_at_once(given, expected):
    found = refusals("cable-tree", **given)
    assert [field for field, _ in found] == [field for field, _ in expected]
    for (_, message), (_, words) in zip(found, expected, strict=True):
        assert words in message


SYSTEMS = (
    {},
    WIDE,
    {**WIDE, "sizes": "awg", "duty": "full", "max_drop_v": "1"},
    {**WIDE, "return": "cable", "connections_mohm": "1", "material": "cca15", "max_drop_v": "1"},
    {**WIDE, "engine_space": "yes", "bundle": "3", "regulated_min_v": "11", "idle_w": "0.5"},
)
SHARED = ("sizes", "duty", "max_drop_v", "return", "connections_mohm", "material",
          "engine_space", "bundle", "regulated_min_v", "idle_w")  # fmt: skip


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
        ({"insulation_c": ""}, "not known", "no table of permitted currents"),
        ({"loads": "Hazel 4-50,250;Rowan 4-75,5000"}, "unsuitable",
         "battery to distribution: 608 A at full power, no size carries them"),
        ({"loads": "Rowan 4-75,3500", "body_mohm": 0}, "unsuitable",
         "distribution to Rowan 4-75: 405 A at full power, no listed fuse fits"),
        ({"body_mohm": 50}, "unsuitable", "Rowan 4-75 loses 3.65 V even with 95 mm² throughout"),
    ],
)  # fmt: skip
def test_a_tree_that_is_refused_holds_no_sizes_and_no_drops(given, state, words):
    sheet = sheet_of("cable-tree", **given)
    found = sheet.results
    assert sheet.verdict.state == state
    assert words in plain(sheet.verdict.reason)
    assert sheet.sentence == "No choice of sizes feeds these loads within the rules."
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
    assert sheet.cautions[0].startswith("No load hangs on the run to Rowan 4-75")
    assert [row["current_a"] for row in sheet.results["runs"]][2] == 0
    assert not any("No load hangs" in one for one in sheet_of("cable-tree").cautions)


@pytest.mark.parametrize(("own", "is_told"), [("40;40", False), ("40;41", True), ("", False)])
def test_own_fuses_above_those_at_the_battery_are_pointed_out(own, is_told):
    for name in ("cable-tree", "kit-list"):
        more = {} if name == "cable-tree" else TWO
        sheet = sheet_of(name, amp_fuses_a=own, **more)
        told = [plain(one) for one in sheet.cautions if "own fuses" in one]
        assert bool(told) == is_told
        if told:
            assert "come to 81 A, more than the 80 A at the battery" in told[0]
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
            words += f"; {float(f'{lost[row["to"]]:.3g}'):g} V lost"
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


# ---- the kit list ----------------------------------------------------------------------------

TWO = {
    "amplifiers": "A,250,yes,2,1;B,370,yes,3,0",
    "routes": "power,battery,block,3;power,block,A,0.5;power,block,B,0.8;earth,A,body,0.5;"
    "earth,B,body,0.7;signal,head,A,4;signal,head,B,4.2;signal,head,B,4.3;signal,head,B,4.4;"
    "speaker,A,door,4;trigger,head,A,4;trigger,head,B,4",
}


def lines(found, *items):
    return [one for one in found["items"] if not items or one["item"] in items]


def test_the_example_s_list_line_by_line():
    found = results("kit-list")
    told = [
        (one["item"], one["quantity"], plain(one["size"]), one["length_m"])
        for one in found["items"]
    ]
    # 28.9 A at full power: a fuse of 30 A; over 3 m and 0.6 m of earth 6 mm² lose 0.442 V, and
    # 4 mm² would lose 0.634 V; bought as 10 mm².  10 % of slack on every length.
    # 250 W into 4 Ω are 7.9 A: the thinnest lead of the table is 1 mm², and reaches 6.07 m.
    expected = [
        ("power cable", 1, "6 mm²", 3.3),
        ("fuse", 1, "30 A", None),
        ("fuse holder", 1, "30 A, 10 mm²", None),
        ("spare fuse", 1, "30 A", None),
        ("ring terminal, crimped", 1, "10 mm², for the battery’s bolt", None),
        ("cable ferrule or ring terminal", 3, "10 mm²", None),
        ("heat-shrink sleeve", 4, "for the terminals and ferrules of the power cable", None),
        ("grommet", 1, "10 mm²", None),
        ("split conduit", 1, "for the runs from the battery", 3.3),
        ("earth cable", 1, "6 mm²", 0.66),
        ("earth point", 1, "ring terminal and ferrule for 10 mm², bolt, toothed washer, nut", None),
        ("RCA lead, stereo pair", 2, "screened", 6.05),
        ("speaker lead, two conductors", 1, "1 mm²", 4.95),
        ("speaker lead, two conductors", 1, "1 mm²", 6.05),
        ("speaker lead, two conductors", 1, "1 mm²", 2.2),
        ("bootlace ferrule", 6, "for the speaker leads", None),
        (
            "push-on receptacle, insulated",
            6,
            "for the speakers’ tabs, often 6.3, 4.8 or 2.8 mm",
            None,
        ),
        ("remote turn-on lead", 1, "0.75 mm²", 6.05),
        ("mounting board", 1, "plywood of 12 mm or more, cut to the amplifiers", None),
        ("screw for the amplifier", 4, "to suit its feet, shorter than the board is thick", None),
        ("bolt with washer and nut, board to body", 4, "M6", None),
        # One for every 0.3 m of 3.3 + 0.66 + 6.05 + 4.95 + 6.05 + 2.2 = 23.21 m
        ("cable ties or clips", 78, "for the bundle", None),
    ]
    assert [one[:3] for one in told] == [one[:3] for one in expected]
    assert [one[3] for one in told] == [one[3] and pytest.approx(one[3]) for one in expected]
    assert all(one["reason"] for one in found["items"])
    assert found["kit_signal"] == {"pairs": 2, "enough": False, "spare_m": pytest.approx(-1.05)}
    assert found["missing"] == []
    bought = {one["item"]: one["kit_size"] for one in found["items"] if one["kit_size"]}
    assert bought == {"power cable": "10 mm²", "earth cable": "10 mm²"}
    drops = [FULL * (ohm * WARM * 3.6 + 0.002) for ohm in (0.0033, 0.00191)]
    (lost,) = found["drops"]
    assert (lost["amplifier"], lost["drop_v"], lost["kit_drop_v"]) == (
        "Hazel 4-50", pytest.approx(drops[0]), pytest.approx(drops[1]),
    )  # fmt: skip


@pytest.mark.parametrize("slack", [0, 5, 20, 100])
def test_slack_is_added_to_what_is_bought_and_sizes_the_speaker_leads_alone(slack):
    found, plainly = results("kit-list", slack_percent=slack), results("kit-list", slack_percent=0)
    for one, two in zip(found["items"], plainly["items"], strict=True):
        assert one["item"] == two["item"]
        if one["item"].startswith("speaker lead"):
            # Out and back into 4 Ω, at most 0.5 dB: R_lead ≤ 4 · (10^0.025 − 1) = 0.237 Ω.
            sizes = {1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95}
            fits = [
                area for area, ohm_km in sizes.items()
                if 2 * ohm_km / 1000 * one["length_m"] <= 4 * (10**0.025 - 1)
            ]  # fmt: skip
            assert plain(one["size"]) == f"{min(fits):g} mm²"
        else:
            assert one["size"] == two["size"]
        if two["length_m"] is not None:
            assert one["length_m"] == pytest.approx(two["length_m"] * (1 + slack / 100))
    assert found["kit_signal"]["spare_m"] == pytest.approx(5 - 5.5 * (1 + slack / 100))


@pytest.mark.parametrize(
    ("given", "expected", "words"),
    [
        ({}, (2, False, -1.05), "the kit’s signal leads of 5 m are too short by 1.05 m"),
        ({"kit_signal_m": 6.1}, (2, True, 0.05), "reach, with 0.05 m to spare"),
        ({"kit_signal_m": 6.05}, (2, True, 0), "reach, with 0 m to spare"),
        ({"kit_signal_m": 0}, (2, False, None), "signal leads are to be bought by the list"),
        ({"routes": "power,battery,Hazel 4-50,3"}, (2, None, None), "is not known"),
        ({"routes": "power,battery,Hazel 4-50,3", "kit_signal_m": 0}, (2, False, None), "bought"),
        ({"amplifiers": "Hazel 4-50,250,yes,0,3"}, (0, True, 5), "no signal lead is needed"),
        ({"amplifiers": "Hazel 4-50,250,yes,0,3", "kit_signal_m": 0}, (0, True, None), "needed"),
    ],
)
def test_the_kit_s_signal_leads_reach_or_do_not(given, expected, words):
    sheet = sheet_of("kit-list", **given)
    pairs, enough, spare = expected
    found = sheet.results["kit_signal"]
    assert (found["pairs"], found["enough"]) == (pairs, enough)
    assert found["spare_m"] == (spare if spare is None else pytest.approx(spare, abs=1e-9))
    assert words in plain(sheet.sentence)


def test_routes_to_one_amplifier_share_its_pairs():
    found = results("kit-list", **TWO)
    told = [(one["quantity"], one["length_m"]) for one in lines(found, "RCA lead, stereo pair")]
    assert told == [(2, pytest.approx(4.4)), *((1, pytest.approx(x)) for x in (4.62, 4.73, 4.84))]
    assert found["kit_signal"] == {"pairs": 5, "enough": True, "spare_m": pytest.approx(0.16)}
    fewer = TWO["amplifiers"].replace("yes,3", "yes,2")
    found = results("kit-list", **{**TWO, "amplifiers": fewer})
    assert [one["quantity"] for one in lines(found, "RCA lead, stereo pair")] == [2, 1, 1]
    # The route without a pair does not count.
    assert found["kit_signal"]["spare_m"] == pytest.approx(5 - 4.73)


def test_pairs_that_are_handed_on_do_not_stand_for_those_that_come_in():
    amplifiers = "A,250,no,2,0;B,250,no,2,0"
    routes = "power,battery,A,1;power,battery,B,1;earth,A,body,1;earth,B,body,1;signal,A,B,1"
    found = results("kit-list", amplifiers=amplifiers, routes=routes)
    assert found["missing"] == ["no signal route to A"]
    assert found["kit_signal"] == {"pairs": 4, "enough": None, "spare_m": None}


@pytest.mark.parametrize(("supply", "system"), [(12, "12 V"), (14.4, "12 V"), (28, "24 V")])
def test_two_amplifiers_on_one_trigger_take_a_relay_of_the_vehicle_s_voltage(supply, system):
    (relay,) = lines(results("kit-list", **TWO, supply_v=supply), "relay, with a fuse and its base")
    assert plain(relay["size"]).startswith(f"{system}, one contact")
    assert "A and B on one remote output" in relay["reason"]
    single = TWO["amplifiers"].replace("370,yes", "370,no")
    assert not lines(
        results("kit-list", **{**TWO, "amplifiers": single}), "relay, with a fuse and its base"
    )


def test_branches_take_a_block_and_several_trunks_a_clamp():
    found = results("kit-list", **TWO)
    (block,) = lines(found, "distribution block with fuses")
    branches = [one["kit_size"] for one in lines(found, "power cable")[1:]]
    assert (block["quantity"], block["size"]) == (1, f"to {branches[0]} and {branches[1]}")
    assert plain(block["reason"]) == "at block; ways out: 2; fuses: 30 A and 50 A"
    # The block holds the branches' fuses: a holder for the main fuse alone.
    assert [plain(one["size"]) for one in lines(found, "fuse")] == ["80 A", "30 A", "50 A"]
    (holder,) = lines(found, "fuse holder")
    assert plain(holder["size"]).startswith("80 A, ")
    assert not lines(found, "battery clamp with several bolts")
    routes = "power,battery,A,3;power,battery,B,3"
    (clamp,) = lines(
        results("kit-list", **{**TWO, "routes": routes}), "battery clamp with several bolts"
    )
    assert clamp["reason"] == "at battery; ways out: 2, each with its fuse"
    assert not lines(
        results("kit-list"), "distribution block with fuses", "battery clamp with several bolts"
    )
    handed_on = "power,battery,A,3;power,A,B,1"
    (joint,) = lines(results("kit-list", **{**TWO, "routes": handed_on}), "cable joint or block")
    assert joint["reason"] == "at A; ways out: 1"


def test_with_a_cable_as_the_way_back_every_run_is_bought_twice_and_nothing_is_earthed():
    found = results("kit-list", **TWO, **{"return": "cable"})
    out, back = lines(found, "power cable"), lines(found, "return cable")
    assert [(one["size"], one["length_m"]) for one in out] == [
        (one["size"], one["length_m"]) for one in back
    ]
    assert len(out) == 3
    assert not lines(found, "earth cable", "earth point")
    # One with fuses for the positive, one without for the return.
    for block in ("distribution block with fuses", "distribution block"):
        assert [one["quantity"] for one in lines(found, block)] == [1]
    assert [one["quantity"] for one in lines(found, "ring terminal, crimped")] == [2]
    # Far ends of both conductors, and two at the fuse holder; both ends of both at the branches.
    ends = lines(found, "cable ferrule or ring terminal")
    assert sum(one["quantity"] for one in ends) == 4 + 4 + 4
    without = ";".join(one for one in TWO["routes"].split(";") if "earth" not in one)
    assert results("kit-list", **{**TWO, "routes": without, "return": "cable"})["missing"] == []


@pytest.mark.parametrize(
    ("gone", "told"),
    [
        (
            "power,block,A,0.5;",
            ["no power route to A", "no power route to A, whose earth is listed"],
        ),
        ("earth,B,body,0.7;", ["no earth route for B"]),
        ("signal,head,A,4;", ["no signal route to A"]),
        ("speaker,A,door,4;", ["1 of 1 speaker routes of A is missing"]),
        (";trigger,head,B,4", ["no trigger route for B"]),
    ],
)  # fmt: skip
def test_a_missing_route_is_named_and_the_verdict_waits_for_it(gone, told):
    assert sheet_of("kit-list", **TWO).verdict.state == "suitable"
    assert gone in TWO["routes"]
    sheet = sheet_of("kit-list", **{**TWO, "routes": TWO["routes"].replace(gone, "")})
    assert sheet.results["missing"] == told
    assert sheet.verdict.state == "not known"
    assert all(one in sheet.verdict.reason for one in told)
    assert any(told[0] in one for one in sheet.cautions)


@pytest.mark.parametrize("least", ["2.5", "16", "35", "120"])
def test_no_power_cable_is_thinner_than_what_is_settled(least):
    """Above the largest size, the largest is left."""
    free, held = (
        lines(sheet_of("kit-list", **TWO, power_mm2=one, duty="normal").results, "power cable")
        for one in ("", least)
    )
    for before, after in zip(free, held, strict=True):
        sizes = [float(one["size"].removesuffix(" mm²")) for one in (before, after)]
        assert sizes[1] >= min(float(least), 95)
        assert sizes[1] >= sizes[0]
        bought = after["kit_size"] and float(after["kit_size"].removesuffix(" mm²"))
        assert (bought is None) == (sizes[1] > 50)
        assert bought is None or bought >= sizes[1]


def test_a_speaker_lead_follows_the_load_at_its_end():
    """Half the load, twice the area: the loss is that of a divider, R_lead over R_load."""
    routes = TWO["routes"].replace("door,4", "door,8")
    sizes = []
    for load in ("8", "4", "2"):
        sheet = sheet_of("kit-list", **{**TWO, "routes": routes}, loads=f"door,{load}")
        line = lines(sheet.results, "speaker lead, two conductors")[0]
        assert f"into {load} Ω" in plain(line["reason"])
        sizes.append(float(line["size"].removesuffix(" mm²")))
        alone = sheet_of("kit-list", **{**TWO, "routes": routes}, speaker_load_ohm=load)
        assert lines(alone.results, "speaker lead, two conductors")[0] == line
    assert sizes == sorted(set(sizes))


def test_a_speaker_lead_that_no_size_serves_is_named():
    routes = TWO["routes"].replace("door,4", "door,100")
    sheet = sheet_of("kit-list", **{**TWO, "routes": routes}, speaker_load_ohm=0.5)
    assert plain(sheet.results["missing"][0]) == "no size of lead to door keeps 0.5 dB"
    assert lines(sheet.results, "speaker lead, two conductors")[0]["size"] is None


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"routes": "power,battery,X,1;power,X,Battery,1"},
         [("routes", "A run leads to the Battery; runs lead away from it.")]),
        ({"loads": "nowhere,4"}, [("loads", "no speaker lead ends at ‘nowhere’")]),
        ({"routes": "power,Hazel 4-50,X,1"}, [("routes", "Hazel 4-50 is fed by nothing")]),
        ({"amplifiers": "A,9,no,0,0;A,9,no,0,0;B,9,no,0,0;B,9,no,0,0"},
         [("amplifiers", "A appears twice"), ("amplifiers", "B appears twice")]),
        ({"routes": ";".join(f"power,{at},{at + 1},1" for at in range(17))},
         [("routes", "17 runs. Give up to 16.")]),
        ({"routes": "power,battery,X,1;power,battery,X,1;power,Y,Z,1", "idle_w": 400},
         [("idle_w", "277.8 W"), ("routes", "X is fed twice"), ("routes", "fall apart")]),
    ],
)  # fmt: skip
def test_impossible_jobs_are_refused(given, expected):
    found = refusals("kit-list", **given)
    assert [field for field, _ in found] == [field for field, _ in expected]
    assert all(words in told for (_, told), (_, words) in zip(found, expected, strict=True))


@pytest.mark.parametrize("given", SYSTEMS)
def test_every_power_run_has_the_cable_and_the_fuse_of_trunk_and_branches(given):
    example = CALCULATORS["cable-tree"].form.by_key
    runs, loads = (given.get(key, example[key].default) for key in ("runs", "loads"))
    job = {key: given[key] for key in SHARED if key in given}
    job["routes"] = ";".join(f"power,{row}" for row in runs.split(";"))
    job["amplifiers"] = ";".join(f"{row},no,0,0" for row in loads.split(";"))
    found, alone = results("kit-list", **job), results("cable-tree", **given)
    cables = {one["reason"].split(",")[0]: one for one in lines(found, "power cable")}
    assert len(cables) == len(alone["runs"])
    fused = [row for row in alone["runs"] if row["fuse_a"]]
    holders = {one["reason"].split(";")[0]: one for one in lines(found, "fuse holder")}
    starts = [row["from"] for row in alone["runs"]]
    at_block = {place for place in starts if starts.count(place) > 1 and place != "battery"}
    listed = [plain(one["size"]) for one in lines(found, "fuse")]
    for row in alone["runs"]:
        own = cables[f"{row['from']} to {row['to']}"]
        assert own["size"] == row["size"]
        assert own["kit_size"] == row["kit_size"]
        assert own["length_m"] == pytest.approx(1.1 * row["length_m"])
    for row in fused:
        assert f"{row['fuse_a']:g} A" in listed
        if row["from"] not in at_block:
            holder = holders.pop(f"for the fuse at {row['from']}, to {row['to']}")
            laid = row["kit_size"] or row["size"]
            assert plain(holder["size"]) == f"{row['fuse_a']:g} A, {laid}"
    assert holders == {}
    # Every way out of a block has its fuse, also where the one before would do.
    unfused = [row for row in alone["runs"] if not row["fuse_a"] and row["from"] in at_block]
    assert len(listed) == len(fused) + len(unfused)
    assert {plain(one["size"]) for one in lines(found, "spare fuse")} == set(listed)


def test_without_a_size_the_cable_s_lines_are_marked():
    for given, state in (({"insulation_c": ""}, "not known"), ({"body_mohm": 99}, "unsuitable")):
        sheet = sheet_of("kit-list", **given)
        assert sheet.verdict.state == state
        for item in ("power cable", "fuse", "fuse holder", "spare fuse", "earth cable"):
            (line,) = lines(sheet.results, item)
            assert (line["size"], line["kit_size"]) == (None, None), item
        assert sheet.sentence.startswith("No power cable can be sized yet")


def test_the_class_is_missing_where_it_decides():
    # 16.7 A · (7.98 mΩ/m · 1.118 · 3.6 m + 2 mΩ) = 0.570 V for class AB
    job = {"duty": "heavy", "max_drop_v": 0.55}
    assert sheet_of("kit-list", **job).verdict.state == "not known"
    assert sheet_of("kit-list", **job, amplifier_class="d").verdict.state == "suitable"
    assert sheet_of("kit-list", max_drop_v=0.55).verdict.state == "suitable"

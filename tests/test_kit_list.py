"""The kit list, held against sums written out here."""

import pytest
from asking import plain, refusals, results, sheet_of
from cable_jobs import SHARED, SYSTEMS, TWO
from conftest import each

from calc.app.contents import CALCULATORS

WARM = 1 + 0.00393 * 30  # a conductor of 50 °C against one of 20 °C
PER_W = 1 / (0.6 * 14.4)  # A of full current for a watt, as the examples have it
FULL = 250 * PER_W


# ---- the kit list ----------------------------------------------------------------------------


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
        ("ring terminal, crimped", 1, "10 mm², for the battery bolt", None),
        ("bootlace ferrule or ring terminal, power", 3, "10 mm²", None),
        ("heat-shrink", 4, "for 10 mm²", None),
        ("grommet", 1, "for 10 mm²", None),
        ("split conduit", 1, "for 10 mm²", 3.3),
        ("earth cable", 1, "6 mm²", 0.66),
        ("earth point", 1, "ring terminal and ferrule for 10 mm², bolt, toothed washer, nut", None),
        ("RCA lead, stereo pair", 2, "screened", 6.05),
        ("speaker cable, two-core", 1, "1 mm²", 4.95),
        ("speaker cable, two-core", 1, "1 mm²", 6.05),
        ("speaker cable, two-core", 1, "1 mm²", 2.2),
        ("bootlace ferrule", 6, "1 mm²", None),
        (
            "push-on receptacle, insulated",
            6,
            "to fit the speaker tabs, often 6.3, 4.8 or 2.8 mm",
            None,
        ),
        ("remote turn-on lead", 1, "0.75 mm²", 6.05),
        ("mounting board", 1, "12 mm plywood or thicker, cut to the amplifiers", None),
        ("screw for the amplifier", 4, "to suit its feet, shorter than the board is thick", None),
        ("bolt with washer and nut, board to body", 4, "M6", None),
        # One for every 0.3 m of 3.3 + 0.66 + 6.05 + 4.95 + 6.05 + 2.2 = 23.21 m
        ("cable ties or clips", 78, "200 mm", None),
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
    # Ferrules follow the size of the speaker leads.
    both = (
        [one for one in kit["items"] if "ferrule" not in one["item"]] for kit in (found, plainly)
    )
    for one, two in zip(*both, strict=True):
        assert one["item"] == two["item"]
        if one["item"].startswith("speaker cable"):
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
        ({}, (2, False, -1.05), "The kit’s 5 m RCA leads are 1.05 m too short"),
        ({"kit_signal_m": 6.1}, (2, True, 0.05), "long enough, with 0.05 m spare"),
        ({"kit_signal_m": 6.05}, (2, True, 0), "long enough, with 0 m spare"),
        ({"kit_signal_m": 0}, (2, False, None), "Buy the RCA leads on the list"),
        (
            {"routes": "power,battery,Hazel 4-50,3"},
            (2, None, None),
            "Measure the routes of the RCA leads",
        ),
        ({"routes": "power,battery,Hazel 4-50,3", "kit_signal_m": 0}, (2, False, None), "Buy"),
        ({"amplifiers": "Hazel 4-50,250,yes,0,3"}, (0, True, 5), "It needs no RCA leads"),
        ({"amplifiers": "Hazel 4-50,250,yes,0,3", "kit_signal_m": 0}, (0, True, None), "needs no"),
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
    assert found["missing"] == ["the RCA route to A"]
    assert found["kit_signal"] == {"pairs": 4, "enough": None, "spare_m": None}


def switched(first, second):
    """Two amplifiers on one remote lead, with what their terminals take [A]."""
    return {**TWO, "amplifiers": f"A,250,yes,2,1,0,,,,,,{first};B,370,yes,3,0,0,,,,,,{second}"}


@each("case", [(12, "12 V"), (14.4, "12 V"), (28, "24 V")])
def test_remote_terminals_that_take_too_much_have_a_relay_of_the_vehicle_s_voltage(case):
    supply, system = case
    found = results("kit-list", **switched(0.2, 0.15), supply_v=supply)
    (relay,) = lines(found, "relay, with a fuse and its base")
    assert plain(relay["size"]).startswith(f"{system}, one contact")
    assert relay["reason"].startswith("the head unit switches the relay")
    assert "the relay turns on A and B" in relay["reason"]
    assert "draw 0.35 A together, and a head unit delivers 0.3 A" in plain(relay["reason"])


@each(
    "case",
    [
        (TWO, 0),  # 20 mA each, as usual
        (switched("", 0.28), 0),  # 0.3 A is what a head unit gives
        (switched("", 0.29), 1),
        ({**switched(0.2, 0.2), "amplifiers": "A,250,yes,2,1,0,,,,,,0.3;B,370,no,3,0,0,,,,,,1"}, 0),
    ],
)
def test_remote_currents_are_summed_over_what_the_lead_turns_on(case):
    given, relays = case
    assert len(lines(results("kit-list", **given), "relay, with a fuse and its base")) == relays


def test_a_tapped_supply_works_a_relay_and_has_a_fuse_of_its_own():
    """One amplifier too: the feed that goes off with the ignition works the coil, 1 A each."""
    found = results("kit-list", remote_from="supply")
    (relay,) = lines(found, "relay, with a fuse and its base")
    assert relay["reason"].startswith("the switched feed works the relay")
    (fuse,) = lines(found, "fuse with holder, remote lead")
    assert fuse["size"] == "1 A"
    assert not lines(results("kit-list"), "relay, with a fuse and its base")


def test_branches_take_a_block_and_several_trunks_a_clamp():
    found = results("kit-list", **TWO)
    (block,) = lines(found, "fused distribution block")
    branches = [one["kit_size"] for one in lines(found, "power cable")[1:]]
    assert (block["quantity"], block["size"]) == (1, f"to {branches[0]} and {branches[1]}")
    assert plain(block["reason"]) == "at block; outputs: 2; fuses: 30 A and 50 A"
    # The block holds the branches' fuses: a holder for the main fuse alone.
    assert [plain(one["size"]) for one in lines(found, "fuse")] == ["80 A", "30 A", "50 A"]
    (holder,) = lines(found, "fuse holder")
    assert plain(holder["size"]).startswith("80 A, ")
    assert not lines(found, "battery clamp with several terminals")
    routes = "power,battery,A,3;power,battery,B,3"
    (clamp,) = lines(
        results("kit-list", **{**TWO, "routes": routes}), "battery clamp with several terminals"
    )
    assert clamp["reason"] == "at battery; outputs: 2, each with its own fuse"
    assert not lines(
        results("kit-list"), "fused distribution block", "battery clamp with several terminals"
    )
    handed_on = "power,battery,A,3;power,A,B,1"
    (joint,) = lines(
        results("kit-list", **{**TWO, "routes": handed_on}), "in-line connector or block"
    )
    assert joint["reason"] == "at A; outputs: 1"


def test_with_a_cable_as_the_way_back_every_run_is_bought_twice_and_nothing_is_earthed():
    found = results("kit-list", **TWO, **{"return": "cable"})
    out, back = lines(found, "power cable"), lines(found, "return cable")
    assert [(one["size"], one["length_m"]) for one in out] == [
        (one["size"], one["length_m"]) for one in back
    ]
    assert len(out) == 3
    assert not lines(found, "earth cable", "earth point")
    # One with fuses for the positive, one without for the return.
    for block in ("fused distribution block", "distribution block"):
        assert [one["quantity"] for one in lines(found, block)] == [1]
    assert [one["quantity"] for one in lines(found, "ring terminal, crimped")] == [2]
    # Far ends of both conductors, and two at the fuse holder; both ends of both at the branches.
    ends = lines(found, "bootlace ferrule or ring terminal, power")
    assert sum(one["quantity"] for one in ends) == 4 + 4 + 4
    without = ";".join(one for one in TWO["routes"].split(";") if "earth" not in one)
    assert results("kit-list", **{**TWO, "routes": without, "return": "cable"})["missing"] == []


@pytest.mark.parametrize(
    ("gone", "told"),
    [
        (
            "power,block,A,0.5;",
            ["the power route to A", "the power route to A, which has an earth"],
        ),
        ("earth,B,body,0.7;", ["the route of the earth cable for B"]),
        ("signal,head,A,4;", ["the RCA route to A"]),
        ("speaker,A,door,4;", ["1 of 1 speaker routes from A"]),
        (";trigger,head,B,4", ["the route of the remote turn-on lead for B"]),
    ],
)  # fmt: skip
def test_a_missing_route_is_named_and_the_verdict_waits_for_it(gone, told):
    assert sheet_of("kit-list", **TWO).verdict.state == "suitable"
    assert gone in TWO["routes"]
    sheet = sheet_of("kit-list", **{**TWO, "routes": TWO["routes"].replace(gone, "")})
    assert sheet.results["missing"] == told
    assert sheet.verdict.state == "not known"
    assert all(one in sheet.verdict.reason for one in told)
    assert any(told[0] in one for one in sheet.unknowns)


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
        line = lines(sheet.results, "speaker cable, two-core")[0]
        assert f"into {load} Ω" in plain(line["reason"])
        sizes.append(float(line["size"].removesuffix(" mm²")))
        alone = sheet_of("kit-list", **{**TWO, "routes": routes}, speaker_load_ohm=load)
        assert lines(alone.results, "speaker cable, two-core")[0] == line
    assert sizes == sorted(set(sizes))


def test_a_speaker_lead_that_no_size_serves_is_named():
    routes = TWO["routes"].replace("door,4", "door,100")
    sheet = sheet_of("kit-list", **{**TWO, "routes": routes}, speaker_load_ohm=0.5)
    assert (
        plain(sheet.results["missing"][0])
        == "a shorter route to door: no speaker cable keeps 0.5 dB over this one"
    )
    assert lines(sheet.results, "speaker cable, two-core")[0]["size"] is None


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"routes": "power,battery,X,1;power,X,Battery,1"},
         [("routes", "A run ends at the Battery. Runs start there")]),
        ({"loads": "nowhere,4"}, [("loads", "no speaker cable ends at ‘nowhere’")]),
        ({"routes": "power,Hazel 4-50,X,1"}, [("routes", "No run feeds Hazel 4-50")]),
        ({"amplifiers": "A,9,no,0,0;A,9,no,0,0;B,9,no,0,0;B,9,no,0,0"},
         [("amplifiers", "A appears twice"), ("amplifiers", "B appears twice")]),
        ({"routes": ";".join(f"power,{at},{at + 1},1" for at in range(17))},
         [("routes", "17 power runs. Enter up to 16.")]),
        ({"routes": "power,battery,X,1;power,battery,X,1;power,Y,Z,1", "idle_w": 400},
         [("idle_w", "277.8 W"), ("routes", "Two runs end at X"), ("routes", "has no battery")]),
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

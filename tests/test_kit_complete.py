"""A kit list that one can order from: earth, subwoofers, options, and what is not known yet."""

import pytest
from asking import errors_of, plain, results, sheet_of

FULL = 250 / (0.6 * 14.4)
WARM = 1 + 0.00393 * 30
JOB = {
    "amplifiers": "A,250,yes,2,2,0",
    "routes": "power,battery,A,3;earth,A,body,0.5;signal,head,A,4;speaker,A,left,4;"
    "speaker,A,sub,4;trigger,head,A,4",
}


def lines(found, item):
    return [one for one in found["items"] if one["item"] == item]


def kinds(found):
    return list(dict.fromkeys(one["item"] for one in found["items"]))


def line(found, item):
    (one,) = lines(found, item)
    return one


# ---- earth, slack, subwoofers ----------------------------------------------------------------


def test_the_earth_lead_counts_in_the_drop_of_its_amplifier():
    """Normal listening, 3.62 A; 1.5 mm² over 5 m: 3.617 · (14.87 mΩ/m · 5 m + 2 mΩ) = 0.276 V.

    With 4.5 m of earth 0.518 V: too much.  2.5 mm²: 3.617 · (8.921 · 9.5 + 2 mΩ) = 0.314 V.
    """
    job = {"amplifiers": "A,250,no,0,0", "duty": "normal", "bundle": 2}
    short = "power,battery,A,5;earth,A,body,0.01"
    long = "power,battery,A,5;earth,A,body,4.5"
    drops = [results("kit-list", **job, routes=one)["drops"][0]["drop_v"] for one in (short, long)]
    # Both take 2.5 mm², because 1.5 mm² does not carry a fuse of 30 A.
    assert drops == pytest.approx(
        [FULL / 8 * (0.00798 * WARM * metres + 0.002) for metres in (5.01, 9.5)]
    )
    # Held to half of that drop the earth decides: 0.314 V against 0.3 V.
    sizes = [
        line(results("kit-list", **job, routes=one, max_drop_v=0.3), "power cable")["size"]
        for one in (short, long)
    ]
    assert sizes == ["2.5 mm²", "4 mm²"]
    # A second cable takes the earth's place.
    back = results("kit-list", **job, routes=long, max_drop_v=0.4, **{"return": "cable"})
    assert back["drops"][0]["drop_v"] == pytest.approx(FULL / 8 * 0.00798 * WARM * 10)


def test_an_earth_that_is_not_measured_counts_half_a_metre():
    known = results("kit-list", **{**JOB})
    unknown = results("kit-list", **{**JOB, "routes": JOB["routes"].replace("body,0.5", "body,")})
    assert unknown["drops"] == known["drops"]
    earth = line(unknown, "earth cable")
    assert (earth["length_m"], earth["size"], earth["kit_size"]) == (None, "6 mm²", "10 mm²")
    assert "counted as 0.5 m in the voltage drop" in plain(earth["reason"])
    assert "measure it" in earth["reason"]
    assert unknown["missing"] == ["the length of the earth cable, A to body"]


@pytest.mark.parametrize(
    ("length", "load", "plainly", "subwoofer"),
    [
        # 1.1 · 2 m of 1 mm²: 85.8 mΩ into 4 Ω lose 4.15 %.
        (2, 4, "1 mm²", "1 mm²"),
        # 2.75 m: 107 mΩ lose 5.15 %; 1.5 mm² 73 mΩ, 3.5 %.
        (2.5, 4, "1 mm²", "1.5 mm²"),
        # 4.4 m: 1 mm² 172 mΩ, 8.1 %; 1.5 mm² 117 mΩ, 5.6 %; 2.5 mm² 70 mΩ, 3.4 %.
        (4, 4, "1 mm²", "2.5 mm²"),
        # 5.5 m into 2 Ω: 2.5 mm² 87.8 mΩ, 8.2 %; 4 mm² 54 mΩ, 5.2 %; 6 mm² 36 mΩ, 3.5 %.
        (5, 2, "2.5 mm²", "6 mm²"),
    ],
)
def test_a_lead_to_a_subwoofer_loses_at_most_a_twentieth(length, load, plainly, subwoofer):
    job = {**JOB, "routes": JOB["routes"].replace("sub,4", f"sub,{length}")}
    for more, size in (("no", plainly), ("yes", subwoofer)):
        found = results("kit-list", **job, loads=f"sub,{load},{more}")
        leads = lines(found, "speaker cable, two-core")
        own = [one for one in leads if "A to sub" in one["reason"]]
        assert [plain(one["size"]) for one in own] == [size]
        assert own[0]["length_m"] == pytest.approx(1.1 * length)


def test_gauges_to_a_subwoofer_are_no_thinner_than_1_5_mm2():
    # 18 AWG (0.823 mm²) over 2.2 m: 94.0 mΩ, 4.5 %; over 3.3 m 6.7 %; 16 AWG (1.31 mm²) would
    # lose 4.3 %, and is thinner than 1.5 mm²: 14 AWG.
    job = {**JOB, "sizes": "awg", "loads": "sub,,yes"}
    for length, size in ((2, "18 AWG"), (3, "14 AWG")):
        routes = JOB["routes"].replace("sub,4", f"sub,{length}")
        found = results("kit-list", **{**job, "routes": routes})
        assert lines(found, "speaker cable, two-core")[1]["size"] == size


def test_a_subwoofer_where_no_speaker_lead_ends_is_refused():
    found = errors_of("kit-list", **JOB, loads="boot,,yes")
    assert "no speaker cable ends at ‘boot’" in found["loads"]


def test_a_row_of_an_older_link_tells_of_no_subwoofer():
    old, new = (results("kit-list", **JOB, loads=one) for one in ("sub,4", "sub,4,no"))
    assert old == new == results("kit-list", **JOB, loads="sub,,")
    assert old != results("kit-list", **JOB, loads="sub,,yes")


# ---- options -----------------------------------------------------------------------------------


def test_without_options_the_list_has_none_of_their_lines():
    items = {one["item"] for one in results("kit-list", **JOB)["items"]}
    optional = {"coil link", "line-output converter (LOC)", "loom adapter", "splice, crimped",
                "fuse with holder, remote lead", "Y-lead, one plug to two"}  # fmt: skip
    assert not items & optional
    assert "mounting board" in items
    bare = {one["item"] for one in results("kit-list", **JOB, mounting_board="no")["items"]}
    assert items - bare == {
        "mounting board", "screw for the amplifier", "bolt with washer and nut, board to body",
    }  # fmt: skip


def test_coil_links_have_two_receptacles_each():
    found = results("kit-list", **JOB, coil_links=3)
    assert line(found, "coil link")["quantity"] == 3
    # Two leads with two ends at a speaker, and both ends of three links.
    assert line(found, "push-on receptacle, insulated")["quantity"] == 2 * 2 + 2 * 3
    assert line(found, "bootlace ferrule")["quantity"] == 2 * 2


def test_a_remote_lead_from_a_supply_has_a_fuse_of_one_ampere():
    found = results("kit-list", **JOB, remote_from="supply")
    fuse = line(found, "fuse with holder, remote lead")
    assert plain(fuse["size"]) == "1 A"
    assert "never from an airbag, brake or engine-control circuit" in fuse["reason"]
    assert line(found, "splice, crimped")["quantity"] == 1


@pytest.mark.parametrize(("pairs", "channels"), [(1, 2), (2, 4), (3, 4)])
def test_a_converter_has_a_channel_for_each_output_that_is_tapped(pairs, channels):
    job = {**JOB, "amplifiers": f"A,250,yes,{pairs},2,0"}
    found = results("kit-list", **job, line_converter="yes")
    assert line(found, "line-output converter (LOC)")["size"] == f"{channels} channels"
    assert line(found, "splice, crimped")["quantity"] == 2 * channels
    adapted = results("kit-list", **job, line_converter="yes", loom_adapter="yes")
    assert not lines(adapted, "splice, crimped")
    assert line(adapted, "loom adapter")["quantity"] == 1


def test_high_level_leads_are_spliced_unless_the_loom_has_an_adapter():
    routes = "power,battery,A,3;earth,A,body,0.5;" + ";".join(["high-level,head,A,4"] * 4)
    job = {"amplifiers": "A,250,no,0,0", "routes": routes}
    found = results("kit-list", **job)
    assert line(found, "speaker-level (high-level) lead, twisted pair")["quantity"] == 4
    assert line(found, "splice, crimped")["quantity"] == 8
    assert not lines(results("kit-list", **job, loom_adapter="yes"), "splice, crimped")


def test_parts_of_crossovers_are_lines_of_their_own():
    found = results("kit-list", **JOB, parts="capacitor,4.7 µF 100 V,2;coil,1.2 mH,")
    capacitor, coil = line(found, "capacitor"), line(found, "coil")
    assert (capacitor["quantity"], capacitor["size"]) == (2, "4.7 µF 100 V")
    assert (coil["quantity"], coil["size"]) == (None, "1.2 mH")
    assert "how many is not known" in coil["reason"]


def test_the_main_fuse_is_the_maker_s_and_the_kit_s_is_exchanged():
    sheet = sheet_of("kit-list", **JOB, maker_fuse_a=40)
    fuse = line(sheet.results, "fuse")
    assert plain(fuse["size"]) == "40 A"
    assert "the amplifier maker’s figure; it draws 28.9 A at full power" in plain(fuse["reason"])
    assert "swap the kit’s own fuse (often 60 A)" in plain(fuse["reason"])
    assert "the amplifier maker’s figure" in sheet.results["fuse_note"]
    told = plain(" ".join(sheet.cautions))
    assert "not marked copper or OFC counts as copper-clad aluminium" in told
    # 8.366 mm² ÷ 1.59 = 5.26 mm²: 10 AWG has 5.261 mm².
    assert "8 AWG of it is only as good as 5.3 mm² (10 AWG) of copper" in told
    assert results("kit-list", **JOB, amp_fuses_a="15;10")["items"][1]["size"] == "25\u202fA"


@pytest.mark.parametrize(
    ("settled", "size", "kit"),
    [
        ("", "6 mm²", "10 mm²"),
        ("10", "10 mm²", "10 mm²"),
        # What shops sell, and no size of the standard: settled, it is on offer.
        ("20", "20 mm²", "20 mm²"),
        ("35", "35 mm²", "35 mm²"),
        ("70", "70 mm²", None),
    ],
)
def test_a_size_that_is_settled_is_bought(settled, size, kit):
    found = results("kit-list", **JOB, power_mm2=settled)
    for item in ("power cable", "earth cable"):
        assert (line(found, item)["size"], line(found, item)["kit_size"]) == (size, kit)
    if kit is None:
        assert "order it by the metre" in line(found, "power cable")["reason"]
        assert found["drops"][0]["kit_drop_v"] is None


# ---- what is not known yet ---------------------------------------------------------------------


@pytest.mark.parametrize("at", range(6))
def test_a_route_without_a_length_leaves_its_line_and_asks_for_it(at):
    rows = JOB["routes"].split(";")
    rows[at] = rows[at].rsplit(",", 1)[0] + ","
    whole = results("kit-list", **JOB)
    sheet = sheet_of("kit-list", **{**JOB, "routes": ";".join(rows)})
    found = sheet.results
    # No line is lost, only marked; ferrules whose size is open stand on a line of their own.
    assert kinds(found) == kinds(whole)
    items = ("power cable", "earth cable", "RCA lead, stereo pair", "speaker cable, two-core",
             "speaker cable, two-core", "remote turn-on lead")  # fmt: skip
    own = lines(found, items[at])[1 if at == 4 else 0]
    assert own["length_m"] is None
    assert "measure it" in own["reason"]
    assert sheet.verdict.state == "not known"
    assert found["missing"][0].startswith("the length of")
    if at == 0:
        assert (own["size"], own["kit_size"]) == (None, None)
        # The fuse follows the current alone.
        assert plain(line(found, "fuse")["size"]) == "30 A"
    if at in (3, 4):
        assert own["size"] is None


def test_an_amplifier_without_power_keeps_every_line():
    whole = results("kit-list", **JOB)
    sheet = sheet_of("kit-list", **{**JOB, "amplifiers": "A,,yes,2,2,0"})
    found = sheet.results
    assert [one["item"] for one in found["items"]] == [one["item"] for one in whole["items"]]
    assert found["missing"] == ["the power of A"]
    for item in ("power cable", "fuse", "spare fuse", "earth cable"):
        assert line(found, item)["size"] is None
    assert all(one["size"] is None for one in lines(found, "speaker cable, two-core"))
    assert "the power of A is not known" in line(found, "power cable")["reason"]
    assert found["drops"] == [{"amplifier": "A", "drop_v": None, "kit_drop_v": None}]


@pytest.mark.parametrize("routes", ["signal,x,y,1", "power,battery,A,3", "speaker,A,left,2"])
def test_routes_that_are_missing_stand_on_the_list(routes):
    found = results("kit-list", **{**JOB, "routes": routes})
    items = {one["item"] for one in found["items"]}
    assert items >= {
        "power cable", "earth cable", "RCA lead, stereo pair", "speaker cable, two-core",
        "remote turn-on lead", "mounting board",
    }  # fmt: skip
    assert found["missing"]
    leads = lines(found, "speaker cable, two-core")
    assert sum(one["quantity"] for one in leads) == 2


def test_y_leads_that_nobody_counted_are_marked():
    found = results("kit-list", **{**JOB, "amplifiers": "A,250,yes,2,2,"})
    assert line(found, "Y-lead, one plug to two")["quantity"] is None
    assert line(results("kit-list", **{**JOB, "amplifiers": "A,250,yes,2,2,1"}),
                "Y-lead, one plug to two")["quantity"] == 1  # fmt: skip


def test_every_mark_says_why():
    for routes in (JOB["routes"].replace(",4", ","), "power,battery,A,"):
        for one in results("kit-list", **{**JOB, "routes": routes})["items"]:
            if None in (one["quantity"], one["size"]):
                assert any(
                    words in one["reason"] for words in ("measure", "not known", "not measured")
                ), one

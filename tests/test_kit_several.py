"""Kit list and tree for several amplifiers: each draws its own, one may be planned for later."""

import pytest
from asking import errors_of, plain, results, sheet_of
from cable_jobs import TWO
from conftest import each

WARM = 1 + 0.00393 * 30
RUNS = "battery,block,3;block,A,0.5,0.4;block,B,0.8,0.6"
# 300 W at 80 % and 200 W at 50 %: 26.04 A and 27.78 A at 14.4 V.
A_A, B_A = 300 / (0.8 * 14.4), 200 / (0.5 * 14.4)


def lines(found, item):
    return [one for one in found["items"] if one["item"] == item]


def line(found, item):
    (one,) = lines(found, item)
    return one


# ---- cable-tree --------------------------------------------------------------------------------


def test_each_load_draws_with_its_own_efficiency_and_counts_its_earth():
    found = results("cable-tree", runs=RUNS, loads="A,300,80,d;B,200,50,ab")
    currents = [run["current_a"] for run in found["runs"]]
    assert currents == pytest.approx([A_A + B_A, A_A, B_A])
    ohm = {"2.5 mm²": 7.98, "4 mm²": 4.95, "6 mm²": 3.3, "10 mm²": 1.91, "16 mm²": 1.21}
    lengths = (3, 0.9, 1.4)  # each branch with its earth lead
    lost = [
        ampere * ohm[run["size"]] / 1000 * WARM * length
        for ampere, run, length in zip(currents, found["runs"], lengths, strict=True)
    ]
    body = 0.002 * (A_A + B_A)
    assert [load["drop_v"] for load in found["loads"]] == pytest.approx(
        [body + lost[0] + lost[1], body + lost[0] + lost[2]]
    )
    # With a cable leading back there is no earth lead.
    back = {"runs": RUNS, "loads": "A,300,80,d;B,200,50,ab", "return": "cable", "max_drop_v": "1"}
    plainly = {**back, "runs": "battery,block,3;block,A,0.5;block,B,0.8"}
    assert results("cable-tree", **back)["runs"] == results("cable-tree", **plainly)["runs"]


def test_a_class_of_its_own_decides_at_part_power():
    """At a third of the power class AB draws √⅓ of its full current, class D a third."""
    found = results("cable-tree", runs=RUNS, loads="A,300,80,d;B,200,50,ab", duty="heavy")
    own = [run["current_a"] for run in found["runs"]][1:]
    assert own == pytest.approx([A_A / 3, B_A / 3**0.5])
    # One class known, one not: the other's upper bound stands beside it.
    half = results("cable-tree", runs=RUNS, loads="A,300,80,d;B,200,50", duty="heavy")
    assert all(load["drop_ab_v"] is not None for load in half["loads"])
    assert half["loads"][1]["drop_ab_v"] > half["loads"][1]["drop_v"]


def test_what_a_row_does_not_tell_holds_as_for_all():
    shared = results("cable-tree", runs=RUNS, loads="A,300;B,200", efficiency_percent="70")
    told = results("cable-tree", runs=RUNS, loads="A,300,70;B,200,70", efficiency_percent="40")
    assert shared["runs"] == told["runs"]
    assert shared["loads"] == told["loads"]


def test_one_for_later_has_its_cable_and_no_fuse_yet():
    wide = {"runs": RUNS, "max_drop_v": "1"}  # so that the branches are thinner than the main run
    now = results("cable-tree", **wide, loads="A,300,80,d;B,200,50,ab")
    later = results("cable-tree", **wide, loads="A,300,80,d;B,200,50,ab,,,,yes")
    assert [run["size"] for run in later["runs"]] == [run["size"] for run in now["runs"]]
    assert [run["fuse_a"] for run in now["runs"]] == [60, 30, 30]
    assert [run["fuse_a"] for run in later["runs"]] == [30, 30, None]
    assert [run["fuse_later_a"] for run in later["runs"]] == [60, 30, 30]
    assert (now["main_fuse_a"], later["main_fuse_a"]) == (60, 30)
    sheet = sheet_of("cable-tree", **wide, loads="A,300,80,d;B,200,50,ab,,,,yes")
    shown = [row[-1] for row in sheet.named("runs")[0].rows]
    assert [plain(cell) for cell in shown] == ["30 A, later 60 A", "30 A", "none yet, later 30 A"]


@each(
    "case",
    [
        ("A,300,80,d,260;B,200", "loads", "260 W at idle is more than"),
        ("A,300,80,d,,,15;B,200", "loads", "15 V is above the battery voltage of 14.4 V"),
        ("A,300,5;B,200", "loads", "10 to 100"),
        ("A,300,,,,,,maybe;B,200", "loads", "yes"),
    ],
)
def test_impossible_rows_are_refused(case):
    loads, field, words = case
    assert words in plain(errors_of("cable-tree", runs=RUNS, loads=loads)[field])


# ---- kit-list ----------------------------------------------------------------------------------


def two(first="", second=""):
    """Two amplifiers with what their rows tell behind the Y-leads."""
    return {**TWO, "amplifiers": f"A,250,yes,2,1,0{first};B,370,yes,3,0,0{second}"}


def test_the_kit_has_the_tree_s_sizes_and_fuses():
    kit = results("kit-list", **two(",80,d", ",50,ab"))
    tree = results(
        "cable-tree",
        runs="battery,block,3;block,A,0.5,0.5;block,B,0.8,0.7",
        loads="A,250,80,d;B,370,50,ab",
    )
    cables = lines(kit, "power cable")
    assert [(one["size"], one["kit_size"]) for one in cables] == [
        (run["size"], run["kit_size"]) for run in tree["runs"]
    ]
    # 21.7 A and 51.4 A, 73.1 A together.  Every way out of the block has its fuse, also where the
    # one before would do.
    fuses = [plain(one["size"]) for one in lines(kit, "fuse")]
    assert fuses == ["80 A", "25 A", "60 A"]
    for listed, run in zip(fuses, tree["runs"], strict=True):
        assert run["fuse_a"] is None or listed == f"{run['fuse_a']:g} A"
    assert [one["drop_v"] for one in kit["drops"]] == pytest.approx(
        [load["drop_v"] for load in tree["loads"]]
    )
    earths = lines(kit, "earth cable")
    assert [one["kit_size"] for one in earths] == [one["kit_size"] for one in cables[1:]]
    assert all("all amplifiers to one earth point" in one["reason"] for one in earths)
    point = line(kit, "earth point")
    assert plain(point["size"]).startswith("ring terminals and ferrules, 1 for 10 mm² and 1 for 20")


def test_what_is_planned_for_later_is_bought_then():
    now = results("kit-list", **two(",80,d", ",50,ab"))
    sheet = sheet_of("kit-list", **two(",80,d", ",50,ab,,,,,yes"))
    kit = sheet.results
    assert kit["missing"] == []
    assert sheet.verdict.state == "suitable"
    # Main run, holder and block as for both; the branch, its fuse and its leads come later.
    first, *branches = lines(kit, "power cable")
    assert first == lines(now, "power cable")[0]
    assert [one["note"] for one in branches] == ["block to A"]
    assert [plain(one["size"]) for one in lines(kit, "fuse")] == ["25 A", "25 A"]
    assert "80 A once every planned amplifier is in" in plain(lines(kit, "fuse")[0]["reason"])
    assert plain(line(kit, "fuse holder")["size"]).startswith("80 A, ")
    block = line(kit, "fused distribution block")
    assert block["size"] == line(now, "fused distribution block")["size"]
    assert "kept free for B" in block["reason"]
    assert len(lines(kit, "earth cable")) == 1
    assert kit["kit_signal"]["pairs"] == 2
    assert len(lines(kit, "remote turn-on lead")) == 1
    assert line(kit, "screw for the amplifier")["quantity"] == 4
    named = " ".join(one["reason"] for one in kit["items"] if one is not block)
    assert "to B" not in named


def test_a_size_that_is_settled_for_a_run_holds_there():
    def sizes(first, second, third):
        routes = TWO["routes"].replace("block,3", f"block,3,{first}")
        routes = routes.replace("A,0.5;", f"A,0.5,{second};", 1)
        routes = routes.replace("B,0.8", f"B,0.8,{third}")
        found = results("kit-list", **{**TWO, "routes": routes})
        return [one["size"] for one in lines(found, "power cable")]

    free = sizes("", "", "")
    assert free == ["25 mm²", "4 mm²", "10 mm²"]
    assert sizes("", "25", "")[1] == "25 mm²"
    # What is settled as it would be found changes nothing; thicker is taken as it is.
    assert sizes("25", "4", "10") == free
    assert sizes("50", "16", "35") == ["50 mm²", "16 mm²", "35 mm²"]
    assert sizes("120", "", "")[0] == "95 mm²"  # the thickest that is listed


def test_joined_speakers_have_splices():
    """Front and rear of a side on one output: two leads and one tail for + and for −."""
    amplifiers = "A,250,yes,2,2,0"
    speakers = ";".join(f"speaker,A,{end},4" for end in ("fl", "fr", "rl", "rr"))
    routes = f"power,battery,A,3;earth,A,body,0.5;signal,head,A,4;{speakers};trigger,head,A,4"
    kit = results("kit-list", amplifiers=amplifiers, routes=routes)
    assert line(kit, "splice, crimped, for speakers sharing an output")["quantity"] == 4
    assert kit["missing"] == []
    apart = results("kit-list", amplifiers="A,250,yes,2,4,0", routes=routes)
    assert not lines(apart, "splice, crimped, for speakers sharing an output")


@each("case", [(1, 0, 0), (2, 2, 0), (3, 2, 2), (4, 0, 4)])
def test_a_converter_takes_the_place_of_y_leads_at_the_head_unit(case):
    """A four-channel converter has a plug for each of four inputs; what is beyond shares one."""
    pairs, told, expected = case
    amplifiers = f"Hazel 4-50,250,yes,{pairs},3,{told}"
    converted = results("kit-list", amplifiers=amplifiers, line_converter="yes")
    found = lines(converted, "Y-lead, one plug to two")
    assert sum(one["quantity"] for one in found) == expected
    assert all("converter" in one["note"] for one in found)
    plainly = lines(results("kit-list", amplifiers=amplifiers), "Y-lead, one plug to two")
    assert sum(one["quantity"] for one in plainly) == told


# ---- lines that a shop can price ---------------------------------------------------------------


def test_every_line_is_numbered_and_says_what_is_bought():
    sheet = sheet_of("kit-list", **TWO)
    assert [one.number for one in sheet.kit] == list(range(1, len(sheet.kit) + 1))
    for one, item in zip(sheet.kit, sheet.results["items"], strict=True):
        assert (one.item, one.quantity, one.unit) == (item["item"], item["quantity"], item["unit"])
        assert one.size == (item["kit_size"] or item["size"])
        assert one.note
        assert len(one.note) <= 110
        assert not one.is_open
        metres = one.length_m if one.unit == "m" else 1
        assert one.amount == pytest.approx(one.quantity * metres)


def test_a_line_that_lacks_a_figure_is_open():
    routes = TWO["routes"].replace("door,4", "door,").replace("signal,head,A,4", "signal,head,A,")
    kit = sheet_of("kit-list", **{**TWO, "routes": routes}).kit
    open_ones = {one.item for one in kit if one.is_open}
    # The ferrules of a lead whose size is not known are open with it.
    assert open_ones == {
        "RCA lead, stereo pair", "speaker cable, two-core", "bootlace ferrule",
    }  # fmt: skip
    assert all("measure it" in one.note for one in kit if one.is_open and "lead" in one.item)

"""Plans with several amplifiers: cable, kit and supply of the whole job, worked out by hand."""

from functools import cache

import pytest
from asking import plain

from calc.app.contents import CALCULATORS
from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.fit_plan.solve import solve

PLAN = CALCULATORS["fit-plan"]
SPEAKERS = """
[[speakers]]
section = "components"
name = "front"
count = 2
coil_ohm = 4
rated_w = 90
[[speakers]]
section = "full-range"
name = "rear"
count = 2
coil_ohm = 4
rated_w = 60
[[speakers]]
section = "woofer"
name = "sub"
count = 1
coil_ohm = 4
rated_w = 300
enclosure = "sealed"
"""
CAR = """
[head_unit]
kind = "replacement"
source_v = 4
trigger_available = "yes"
[leads]
power_m = 4
earth_m = 0.5
signal_m = 5
engine_space = false
"""
FOUR = """
[[amplifiers]]
name = "Hazel 4-90"
channels = 4
power_4ohm_w = 90
power_2ohm_w = 140
amplifier_class = "d"
efficiency_percent = 80
fuses_a = "25/25"
"""
MONO = """
[[amplifiers]]
name = "Rowan mono"
channels = 1
power_4ohm_w = 300
amplifier_class = "ab"
efficiency_percent = 55
fuses_a = "40"
"""


@cache
def planned(text):
    texts, wrong = PLAN.files[0](text)
    assert not wrong
    answer = PLAN.answer(texts)
    inputs = PLAN.build(answer.inputs)
    assert isinstance(inputs, Inputs)
    return answer.sheet, solve(inputs).plan


def lines(sheet, item):
    return [one for one in sheet.kit if one.item == item]


def test_a_four_channel_and_a_mono_have_main_run_block_and_branches():
    """As the tree worked out by hand in `test_power_tree.py`: 31.25 A and 37.88 A, 70 A together;
    25 mm², bought as 35 mm², and 10 mm² to each."""
    sheet, plan = planned(SPEAKERS + CAR + FOUR + MONO)
    tree = plan.power
    assert [run.cable.size for run in (tree.main, *tree.branches)] == ["25 mm²", "10 mm²", "10 mm²"]
    assert tree.power_a == pytest.approx(31.25 + 300 / 7.92)
    assert [one.size for one in lines(sheet, "power cable")] == ["35 mm²", "10 mm²", "10 mm²"]
    assert [plain(one.size) for one in lines(sheet, "fuse")] == ["70 A", "35 A", "40 A"]
    assert len(lines(sheet, "fused distribution block")) == 1
    assert [one.size for one in lines(sheet, "earth cable")] == ["10 mm²", "10 mm²"]
    assert len(lines(sheet, "earth point")) == 1
    # Two pairs to the four-channel, one to the mono; a lead from the radio, one on to the mono.
    assert [one.quantity for one in lines(sheet, "RCA lead, stereo pair")] == [2, 1]
    assert [one.note for one in lines(sheet, "remote turn-on lead")] == [
        "head unit to Hazel 4-90", "Hazel 4-90 to Rowan mono",
    ]  # fmt: skip
    assert not lines(sheet, "relay, with a fuse and its base")
    assert len(lines(sheet, "speaker cable, two-core")) == 5
    assert [one.quantity for one in lines(sheet, "screw for the amplifier")] == [8]


def test_every_figure_of_the_plan_s_power_is_the_single_calculators():
    sheet, plan = planned(SPEAKERS + CAR + FOUR + MONO)
    asked = sheet.results["cable-tree"]
    tree = plan.power
    for run, told in zip((tree.main, *tree.branches), asked["results"]["runs"], strict=True):
        assert (run.cable.size, run.cable.kit_size) == (told["size"], told["kit_size"])
        assert told["fuse_a"] in (None, run.fuse_a)
    assert asked["results"]["main_fuse_a"] == tree.main.fuse_a
    # Asked alone with the same inputs, the calculators say the same.
    for name in ("cable-tree", "kit-list", "supply-budget"):
        question = next(each for each in plan.questions if each.calculator.name == name)
        alone = CALCULATORS[name].answer(question.texts)
        assert alone.sheet.results == question.answer.sheet.results
    kit = sheet.results["kit-list"]["results"]
    for lost, load in zip(kit["drops"], asked["results"]["loads"], strict=True):
        # The tree counts the slack of every length, the list what is laid.
        assert lost["kit_drop_v"] <= load["kit_drop_v"]
    supply = sheet.results["supply-budget"]
    full = next(row for row in supply["results"]["duties"] if row["duty"] == "full")
    assert full["amplifier_a"] == pytest.approx(tree.power_a, abs=0.001)


def test_the_mono_for_later_changes_the_fuse_and_what_is_bought_now():
    # The four-channel carries all today: front and rear joined, the subwoofer bridged.
    later = MONO + "later = true\n"
    sheet, plan = planned(SPEAKERS + CAR + FOUR + "rated_bridged_w = 280\n" + later)
    tree = plan.power
    assert tree.has_block
    assert [each.is_later for each in tree.fed] == [False, True]
    assert tree.branches[1].fuse_a is None
    assert tree.main.fuse_a < tree.main.fuse_later_a
    (main, branch) = lines(sheet, "power cable")
    assert branch.note.endswith("to Hazel 4-90")
    assert main.size == tree.main.cable.kit_size
    (block,) = lines(sheet, "fused distribution block")
    assert "kept free for Rowan mono" in block.note
    assert len(lines(sheet, "earth cable")) == 1
    assert not any("to Rowan mono" in one.note for one in sheet.kit)


def test_joined_pairs_have_a_lead_each_and_splices():
    text = SPEAKERS + CAR + '[wishes]\nlayout = "joined"\n' + FOUR + "rated_bridged_w = 280\n"
    sheet, plan = planned(text)
    assert plan.candidate.layout.job.sharing.joined is not None
    ends = [one.note for one in lines(sheet, "speaker cable, two-core")]
    assert ends == [
        f"Hazel 4-90 to {end}"
        for end in ("front left", "rear left", "front right", "rear right", "sub")
    ]
    # A further lead on each side: + and − of it are spliced.
    assert [
        one.quantity for one in lines(sheet, "splice, crimped, for speakers sharing an output")
    ] == [4]
    assert not plan.power.has_block
    assert [one.quantity for one in lines(sheet, "push-on receptacle, insulated")] == [10]


def test_a_strong_remote_current_is_summed_over_the_amplifiers():
    told = [one + f"trigger_a = {ampere}\n" for one, ampere in ((FOUR, 0.2), (MONO, 0.15))]
    sheet, _ = planned(SPEAKERS + CAR + "".join(told))
    assert len(lines(sheet, "relay, with a fuse and its base")) == 1


def test_without_a_kit_no_kit_s_leads_are_told_of():
    sheet, _ = planned(SPEAKERS + CAR + FOUR + MONO)
    assert not any("kit’s" in one.note for one in sheet.kit)
    named, _ = planned(SPEAKERS + CAR + "kit_signal_m = 5\n" + FOUR + MONO)
    notes = [plain(one.note) for one in lines(named, "RCA lead, stereo pair")]
    assert notes[0] == "head unit to Hazel 4-90; kit’s 5 m lead: 0.5 m short"


def test_the_same_amplifier_now_and_later_is_told_apart():
    sheet, plan = planned(
        SPEAKERS + CAR + FOUR + "rated_bridged_w = 280\n" + FOUR + "later = true\n"
    )
    assert [each.amplifier for each in plan.power.fed] == ["Hazel 4-90", "Hazel 4-90 (2)"]
    assert sheet.results["kit-list"]["missing"] == []
    assert sheet.results["kit-list"]["results"] is not None


def test_one_that_carries_nothing_is_wired_for_what_its_plate_permits():
    """The mono has nothing to do beside a pair on two channels: 300 W/(0.55 · 14.4 V), 40 A."""
    pair = SPEAKERS.split("[[speakers]]")[1]
    sheet, plan = planned("[[speakers]]" + pair + CAR + FOUR + MONO)
    assert [part.name for part in plan.candidate.layout.idle_parts] == ["Rowan mono"]
    assert [each.amplifier for each in plan.power.fed] == ["Hazel 4-90", "Rowan mono"]
    assert plan.power.branches[1].fuse_a == 40
    assert len(lines(sheet, "power cable")) == 3


def test_a_stock_list_tells_the_remote_current_in_milliamperes():
    field = CALCULATORS["amplifier-choice"].form.by_key["shelf"]
    (box,) = field.read("Model,RMS 4 ohm (W),Remote current (mA)\nAlder,60,35\n")
    assert box.trigger_a == pytest.approx(0.035)

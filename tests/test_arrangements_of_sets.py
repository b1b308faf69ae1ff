"""Two and three amplifiers in one car: the best worked out by hand.

As in the tests of one amplifier: class D, 80 % at 14.4 V, P/11.52 V is the current at full power.
The run is 5 m and a tenth, 5.5 m: 10, 16, 25, 35 mm² have 1.91, 1.21, 0.78, 0.554 Ω/km · 1.1179 ·
5.5 m = 11.74, 7.44, 4.80, 3.41 mΩ; the body's 2 mΩ carry the current of all.  A branch of 0.5 m
and an earth lead of as much are 1.1 m.  At most 0.5 V are lost to each amplifier, and a kit comes
in 10, 20, 35, 50 mm².  The main fuse is the smallest listed rating (25, 30, 35, 40, 50, 60, 70 A)
at or above the current of all.
"""

import pytest
from arrangement_files import holds, is_good, outputs, results, row_of, tree, wired
from conftest import each

from calc.choosing.questions.sets import later_load
from calc.system.amplifier import Amplifier

SETS = ("four-and-mono", "two-fours", "two-compact", "four-and-one", "three", "own-amplifier")


def main_run(name, *, full_a, fuse_a, kit_mm2):
    """Hold the run from the battery against what was worked out."""
    main = tree(name).main
    assert main.full_a == pytest.approx(full_a, rel=1e-4)
    assert main.fuse_a == fuse_a and main.cable.kit_mm2 == kit_mm2
    told = results(name)["cable-tree"]["results"]["runs"][0]
    holds(told, current_a=full_a, fuse_a=float(fuse_a), kit_mm2=float(kit_mm2))


def test_four_doors_on_a_four_channel_and_the_subwoofer_on_a_mono():
    """Doors 60 W on a channel each.  The subwoofer's coils, 4 Ω each, in parallel: 2 Ω, 400 W on
    the mono; in series 8 Ω, 250 · 4/8 = 125 W.  Nothing is given up.  √(400 · 2) = 28.28 V.
    240 W and 400 W: 20.83 + 34.72 = 55.56 A, a 60 A main fuse.  16 mm²: 7.44 + 2 mΩ lose 0.524 V
    before any branch; 25 mm² 0.378 V: a kit of 35 mm²."""
    found = results("four-and-mono")
    is_good(found)
    assert wired(found) == {
        ("Alder 4-60", "1"): [("front doors", "left", 4, 60)],
        ("Alder 4-60", "2"): [("front doors", "right", 4, 60)],
        ("Alder 4-60", "3"): [("rear doors", "left", 4, 60)],
        ("Alder 4-60", "4"): [("rear doors", "right", 4, 60)],
        ("Cedar 1-400", "1"): [("subwoofer", "both", 2, 400)],
    }
    holds(row_of(found, "Cedar 1-400", "1"), wiring="1a|1b", ceiling_v=28.284, low_pass_hz=80.0,
          plus="1+", minus="1-", input="sub RCA, both sides")  # fmt: skip
    main_run("four-and-mono", full_a=55.556, fuse_a=60, kit_mm2=35)


def test_an_active_front_on_one_four_channel_rears_and_subwoofer_on_another():
    """Only the first has a high-pass up to 5 kHz, and both filters at once: the front is its.
    Rears on the other's 1 and 2, the subwoofer bridged on its 3+4: 180 of 250 W.
    300 + 300 W: 52.08 A, a 60 A fuse.  16 mm²: (7.44 + 2) mΩ · 52.08 A = 0.492 V, which leaves
    8 mV for a branch of 26 A: none has so little; 25 mm² and so a kit of 35 mm²."""
    found = results("two-fours")
    is_good(found)
    assert wired(found) == {
        ("Alder 4-75", "1"): [("tweeters", "left", 4, 75)],
        ("Alder 4-75", "2"): [("tweeters", "right", 4, 75)],
        ("Alder 4-75", "3"): [("mid-basses", "left", 4, 75)],
        ("Alder 4-75", "4"): [("mid-basses", "right", 4, 75)],
        ("Alder 4-60", "1"): [("rear doors", "left", 4, 60)],
        ("Alder 4-60", "2"): [("rear doors", "right", 4, 60)],
        ("Alder 4-60", "3+4"): [("subwoofer", "both", 4, 180)],
    }
    holds(row_of(found, "Alder 4-60", "3+4"), plus="3+", minus="4-")
    main_run("two-fours", full_a=52.083, fuse_a=60, kit_mm2=35)


def test_two_compact_amplifiers():
    """2 × 50 W or 2 × 55 W, 150 W or 160 W bridged; doors bear 50 W, the subwoofer 200 W.  Doors on
    the weaker have all they bear, and the subwoofer gets 160 W; the other way it gets 150 W.
    100 + 160 W: 22.57 A, a 25 A fuse.  6 mm²: 3.30 · 1.1179 · 5.5 = 20.29 mΩ, and 0.503 V with the
    body; 10 mm² 0.310 V."""
    found = results("two-compact")
    is_good(found)
    assert wired(found) == {
        ("Birch 2-50", "1"): [("front doors", "left", 4, 50)],
        ("Birch 2-50", "2"): [("front doors", "right", 4, 50)],
        ("Birch 2-55", "1+2"): [("subwoofer", "both", 4, 160)],
    }
    holds(row_of(found, "Birch 2-55", "1+2"), plus="1+", minus="2-", ceiling_v=25.298)
    main_run("two-compact", full_a=22.569, fuse_a=25, kit_mm2=10)


def test_a_five_channel_taken_as_four_and_one():
    """The fifth gives 300 W at 2 Ω, the coils in parallel: √600 = 24.49 V.  240 + 300 W: 46.88 A, a
    50 A fuse within its own 25 + 30 A.  10 mm² loses 0.644 V; 16 mm² 0.442 V, and a branch of
    16 mm² 1.49 mΩ · 26.04 A = 0.039 V more: a kit of 20 mm²."""
    found = results("four-and-one")
    is_good(found)
    assert outputs(found) == {
        **{("Linden 5 (1 to 4)", output): (4, 60) for output in "1234"},
        ("Linden 5 (5)", "1"): (2, 300),
    }
    holds(row_of(found, "Linden 5 (5)", "1"), speaker="subwoofer", ceiling_v=24.495)
    main_run("four-and-one", full_a=46.875, fuse_a=50, kit_mm2=20)


def test_three_amplifiers():
    """Active front 4 × 75 W, rears 2 × 50 W, subwoofer 400 W at 2 Ω: 26.04 + 8.68 + 34.72 =
    69.44 A, a 70 A fuse within 40 + 15 + 40 A.  16 mm²: 9.44 mΩ and 0.656 V.  25 and 35 mm² are
    bought as 35 mm²."""
    found = results("three")
    is_good(found)
    assert _by_amplifier(found) == {
        "Alder 4-75": ["tweeters", "tweeters", "mid-basses", "mid-basses"],
        "Birch 2-50": ["rear doors", "rear doors"],
        "Cedar 1-400": ["subwoofer"],
    }
    assert outputs(found)["Birch 2-50", "2"] == (4, 50)
    assert outputs(found)["Cedar 1-400", "1"] == (2, 400)
    main_run("three", full_a=69.444, fuse_a=70, kit_mm2=35)


def _by_amplifier(found):
    rows = {}
    for row in found["channels"]:
        rows.setdefault(row["amplifier"], []).append(row["speaker"])
    return rows


def test_an_amplifier_for_later():
    """Today 240 W: 20.83 A, a 25 A fuse.  With the 250 W of the mono, 21.70 A, 42.53 A: 10 mm²
    would lose 11.74 mΩ · 42.53 A = 0.499 V and the body's 0.085 V, 16 mm² 0.401 V: a kit of
    20 mm², where today alone 10 mm² would do.  Nothing plays on the mono yet."""
    found = results("later")
    is_good(found)
    assert outputs(found) == {("Alder 4-60", output): (4, 60) for output in "1234"}
    main_run("later", full_a=42.535, fuse_a=25, kit_mm2=20)
    assert tree("later").main.fuse_later_a == 50


def test_the_subwoofer_gets_an_amplifier_of_its_own_when_asked():
    """Bridged it would get 180 W, on the mono 150 W at 4 Ω.  120 + 150 W: 23.44 A, a 25 A fuse."""
    found = results("own-amplifier")
    is_good(found)
    assert outputs(found) == {
        ("Alder 4-60", "1"): (4, 60),
        ("Alder 4-60", "2"): (4, 60),
        ("Cedar 1-150", "1"): (4, 150),
    }
    main_run("own-amplifier", full_a=23.4375, fuse_a=25, kit_mm2=10)


# ---- what holds for all sets


@each("name", (*SETS, "later"))
def test_every_cable_of_a_set_has_a_fuse_that_protects_it(name):
    """Each run by its own fuse or the one before it, and each fuse carries its current."""
    found = tree(name)
    for run in (found.main, *found.branches):
        fuse_a = run.fuse_later_a or found.main.fuse_later_a
        assert fuse_a <= run.cable.permitted_a * (1 + 1e-9), run
        assert fuse_a >= run.full_a * (1 - 1e-9), run


@each("name", (*SETS, "later"))
def test_the_currents_of_the_branches_are_that_of_the_main_run(name):
    found = tree(name)
    assert sum(run.full_a for run in found.branches) == pytest.approx(found.main.full_a)
    assert all(fed.kit_drop_v <= 0.5 for fed in found.fed)
    assert len({fed.amplifier for fed in found.fed}) == len(found.branches)


@each("name", SETS)
def test_each_output_of_a_set_has_the_number_printed_on_its_own_amplifier(name):
    for row in results(name)["channels"]:
        numbers = [int(number) for number in row["output"].split("+")]
        most = 1 if row["amplifier"].split()[-1].startswith(("1-", "(5")) else 4
        assert max(numbers) <= most
        assert (row["plus"], row["minus"]) == (f"{numbers[0]}+", f"{numbers[-1]}-")


@pytest.mark.parametrize(
    ("figures", "total_w"),
    [
        ({"channels": 1, "power_4ohm_w": 300.0}, 300.0),
        ({"channels": 1, "power_4ohm_w": 300.0, "power_2ohm_w": 500.0}, 500.0),
        ({"channels": 4, "power_4ohm_w": 60.0, "power_2ohm_w": 90.0}, 360.0),
        # A bridged pair of 240 W is two channels of 120 W: more than is printed for 2 Ω.
        ({"channels": 4, "power_4ohm_w": 60.0, "rated_bridged_w": 240.0}, 480.0),
        ({"channels": 4, "power_4ohm_w": 60.0, "rated_bridged_w": 100.0}, 240.0),
        ({"channels": 4}, None),
    ],
)
def test_an_amplifier_for_later_is_fed_for_all_that_its_box_names(figures, total_w):
    made = Amplifier(name="Cedar", min_channel_ohm=2.0, rated_v=14.4, regulated=False, **figures)
    found = later_load(made)
    assert found.total_w == total_w
    assert found.is_later

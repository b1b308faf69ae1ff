"""Power for several amplifiers: sizes, fuses and drops of a plan's tree, found again by hand."""

import random

import pytest
from asking import plain
from cable_systems import RATINGS, rating_of
from conftest import each
from power_systems import (
    EMPTY,
    NEAR,
    WARM,
    asked,
    current_of,
    job_of,
    least_volumes,
    load,
    volume_of,
)

from calc.cabling import optimum
from calc.cabling.optimum import least_conductor
from calc.cabling.sizing import Rules
from calc.cabling.tree import Load, Run, Tree
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.cabling import set_supply_question, supply_question
from calc.inputs.declared import replaced

FOUR = load("Hazel 4-90", 360, "d")
MONO = load("Rowan mono", 300, "ab")
LENGTHS = {key: NEAR[key] for key in ("power_m", "branch_m", "earth_m")}


def sizes(tree):
    return [run.cable.size for run in (tree.main, *tree.branches)]


def fuses(tree):
    return [run.fuse_a for run in (tree.main, *tree.branches)]


# ---- worked out by hand ------------------------------------------------------------------------


def test_two_amplifiers_by_hand():
    """360 W/(0.8 · 14.4 V) = 31.25 A and 300 W/(0.55 · 14.4 V) = 37.88 A: 69.13 A, a 70 A fuse.

    Of 0.5 V the body takes 2 mΩ · 69.13 A = 0.138 V.  Main run 4.4 m: 25 mm² have
    0.78 · 1.1179 · 4.4 = 3.84 mΩ and lose 0.265 V; 16 mm² lose 0.411 V, more than the 0.362 V left.
    Branch and earth 1.1 m: 10 mm² have 2.35 mΩ, 0.073 and 0.089 V, within the 0.096 V left; 6 mm²
    lose 0.127 and 0.154 V.  That is 25 · 4.4 + 10 · 2.2 = 132 mm²·m; 35 mm² and 6 mm² take 167.
    """
    question, tree = asked(job_of(), FOUR, MONO)
    assert sizes(tree) == ["25 mm²", "10 mm²", "10 mm²"]
    assert [run.cable.kit_size for run in (tree.main, *tree.branches)] == [
        "35 mm²", "10 mm²", "10 mm²",
    ]  # fmt: skip
    assert fuses(tree) == [70, 35, 40]
    assert [one.length_m for one in (tree.main, *tree.branches)] == [4, 0.5, 0.5]
    ohm = {10: 0.00191, 25: 0.00078, 35: 0.000554}
    for one, load_a in zip(tree.fed, (31.25, 300 / 7.92), strict=True):
        total = 31.25 + 300 / 7.92
        for main, drop_v in ((25, one.drop_v), (35, one.kit_drop_v)):
            expected = 0.002 * total + WARM * (4.4 * ohm[main] * total + 1.1 * ohm[10] * load_a)
            assert drop_v == pytest.approx(expected)
    assert [earth.cable.kit_size for earth in tree.earths] == ["10 mm²", "10 mm²"]
    # The reader's own figures are all there but efficiency and idle draw, which are usual.
    assert question.verdict.state == "likely"


def test_one_planned_for_later_has_its_cable_holder_and_block_and_no_fuse_yet():
    """As above for the cables; today 31.25 A alone: 35 A at the battery, 70 A later."""
    both, today = asked(job_of(), FOUR, MONO)[1], asked(job_of(), FOUR, later_of(MONO))[1]
    assert sizes(today) == sizes(both)
    assert fuses(today) == [35, 35, None]
    assert [run.fuse_later_a for run in (today.main, *today.branches)] == [70, 35, 40]
    assert [one.is_later for one in today.fed] == [False, True]
    assert today.has_block
    # With the smaller one there today.
    small = asked(job_of(), load("A", 60, "d"), later_of(MONO))[1]
    assert fuses(small) == [7.5, 7.5, None]


def later_of(one):
    return load(one.name, one.total_w, one.amplifier.amplifier_class, later=True)


def test_one_amplifier_has_a_run_as_power_cable_says_and_no_block():
    question, tree = asked(job_of(), FOUR)
    assert question.calculator.name == "power-cable"
    assert not tree.has_block
    assert (tree.main.cable.size_mm2, tree.main.fuse_a) == (
        question.result.size_mm2, question.result.chosen.fuse_a,
    )  # fmt: skip
    # Alone and for later, it still has a block to be added to.
    assert asked(job_of(), later_of(FOUR))[0].calculator.name == "cable-tree"


def test_the_main_fuse_stays_within_the_sum_of_the_own_fuses():
    """69.13 A ask for 70 A; with 25 and 35 A of their own, 60 A is the largest listed within."""
    own = (load("A", 360, "d", fuses_a="25"), load("B", 300, "ab", fuses_a="15/20"))
    question, tree = asked(job_of(), *own)
    assert tree.main.fuse_a == 60
    assert "does not exceed the amplifier’s own fuses (60 A)" in plain(
        question.answer.sheet.results["fuse_note"]
    )
    # One that is not known bounds nothing.
    assert asked(job_of(), own[0], MONO)[1].main.fuse_a == 70
    # Today by the own fuses of the one that is there: 25 A, where 31.25 A ask for 35 A.
    assert asked(job_of(), own[0], later_of(MONO))[1].main.fuse_a == 25


# ---- the optimum -------------------------------------------------------------------------------


@each("seed", range(24))
def test_the_tree_has_the_least_conductor_of_all_choices_of_sizes(seed):
    rng = random.Random(seed)
    lengths = {
        "power_m": round(rng.uniform(1, 6), 2),
        "branch_m": round(rng.uniform(0.2, 2), 2),
        "earth_m": round(rng.uniform(0.3, 1), 2),
    }
    loads = [
        load(f"A{at}", rng.choice([60, 150, 240, 400]), rng.choice(["d", "ab", None]))
        for at in range(2 + seed % 2)
    ]
    question, tree = asked(job_of(**lengths), *loads)
    found = least_volumes(loads, **lengths)
    if not found:
        assert tree is None
        assert question.result.plan is None
        return
    least, areas = found[0]
    assert volume_of(tree, **lengths) == pytest.approx(least)
    if len(found) == 1 or found[1][0] > least * 1.0001:
        assert [run.cable.size_mm2 for run in (tree.main, *tree.branches)] == list(areas)
    currents = [current_of(one) for one in loads]
    assert fuses(tree) == [rating_of(sum(currents)), *map(rating_of, currents)]


# ---- laws --------------------------------------------------------------------------------------


def some_loads(rng):
    return [
        load(
            f"A{at}",
            rng.randint(20, 500),
            rng.choice(["d", "ab", None]),
            later=at > 0 and rng.random() < 0.3,
        )
        for at in range(rng.randint(2, 3))
    ]


@each("seed", range(30))
def test_laws_of_every_tree(seed):
    rng = random.Random(seed)
    lengths = {"power_m": rng.uniform(0.5, 5), "branch_m": rng.uniform(0.2, 1.5), "earth_m": 0.5}
    loads = some_loads(rng)
    tree = asked(job_of(**lengths), *loads)[1]
    if tree is None:
        return
    runs = (tree.main, *tree.branches)
    # Kirchhoff: what comes in at the block goes out of it.
    assert tree.main.full_a == pytest.approx(sum(run.full_a for run in tree.branches))
    for run in runs:
        for fuse_a in filter(None, (run.fuse_a, run.fuse_later_a)):
            assert fuse_a in RATINGS
            assert fuse_a <= run.cable.permitted_a
        assert run.cable.kit_mm2 is None or run.cable.kit_mm2 >= run.cable.size_mm2 - 1e-9
        assert run.cable.size_mm2 >= 1.5
    # Each way out of the block has a fuse that its cable carries, now or later.
    for one in tree.fed:
        assert (one.branch.fuse_a is None) == one.is_later
        assert one.drop_v <= 0.5 + 1e-9
        assert one.kit_drop_v is None or one.kit_drop_v <= one.drop_v + 1e-9
        assert one.earth.cable == one.branch.cable
    assert tree.main.fuse_a <= tree.main.fuse_later_a
    # Longer, or more power, is never less conductor; the fuses never smaller.
    for key in lengths:
        longer = asked(job_of(**{**lengths, key: lengths[key] * 1.4}), *loads)[1]
        assert longer is None or volume_of(longer, **lengths) >= volume_of(tree, **lengths) - 1e-9
    stronger = [load(one.name, one.total_w * 1.5, one.amplifier.amplifier_class) for one in loads]
    more = asked(job_of(**lengths), *stronger)[1]
    if more is not None:
        assert volume_of(more, **lengths) >= volume_of(tree, **lengths) - 1e-9
        for run, other in zip(runs, (more.main, *more.branches), strict=True):
            assert other.fuse_later_a >= run.fuse_later_a
            assert other.full_a > run.full_a


@each("length", [1.0, 2.0, 3.0, 4.0, 6.0])
def test_a_longer_run_of_one_amplifier_is_never_thinner(length):
    here, longer = (asked(job_of(power_m=m), FOUR)[1] for m in (length, length + 0.7))
    assert longer.main.cable.size_mm2 >= here.main.cable.size_mm2
    assert longer.main.fuse_a == here.main.fuse_a


# ---- what is not known -------------------------------------------------------------------------


def test_each_amplifier_draws_by_its_own_efficiency_and_range():
    told = load("A", 360, "d", efficiency_percent=75.0, idle_w=10.0)
    unknown = load("B", 300, None)
    question, tree = asked(job_of(), told, unknown)
    # 360/(0.75 · 14.4) and 300/(0.5 · 14.4)
    assert tree.main.full_a == pytest.approx(360 / 10.8 + 300 / 7.2)
    rows = {at: getattr(question.unsure, at)["loads"] for at in ("worst", "likely", "best")}
    assert {at: row[0]["efficiency_percent"] for at, row in rows.items()} == {
        "worst": 75, "likely": 75, "best": 75,
    }  # fmt: skip
    assert {at: row[1]["efficiency_percent"] for at, row in rows.items()} == {
        "worst": 10, "likely": 50, "best": 100,
    }  # fmt: skip
    gaps = plain(" ".join(question.unsure.gaps))
    assert "B’s efficiency (we use 50 %)" in gaps
    assert "A’s" not in gaps


def test_what_cannot_be_sized_is_asked_for():
    question, tree = asked(job_of(), FOUR, load("B", None, "d"))
    assert tree is None
    assert question.verdict.state == "not known"
    assert "the power of b" in question.verdict.reason.lower()
    nobody_said = Job(replaced(EMPTY, {"branch_m": 0.5}))
    question, tree = asked(nobody_said, FOUR, MONO)
    assert tree is None
    assert "the length of the power cable" in question.verdict.reason
    # Branches and earths have usual lengths, which are told.
    question, tree = asked(Job(replaced(EMPTY, {"power_m": 4.0})), FOUR, MONO)
    assert tree.branches[0].length_m == 0.5
    assert {"branch_m", "earth_m"} <= set(question.unsure.keys)


def test_two_of_the_same_name_have_places_of_their_own():
    tree = asked(job_of(), FOUR, FOUR)[1]
    assert [one.amplifier for one in tree.fed] == ["Hazel 4-90", "Hazel 4-90 (2)"]
    # No name is that of the battery or of the block.
    assert asked(job_of(), load("battery", 60), load("Battery", 60))[1].fed[1].amplifier == (
        "Battery (3)"
    )


def test_without_a_class_music_is_sized_for_class_ab():
    job = job_of(duty="heavy", max_drop_v=0.3)
    question, tree = asked(job, load("A", 200, None), load("B", 200, "d"))
    assert question.verdict.state == "likely"
    rows = question.figures["loads"].value
    assert [row["amplifier_class"] for row in rows] == ["ab", "d"]
    assert max(one.drop_v for one in tree.fed) <= 0.3


# ---- the supply of a set -----------------------------------------------------------------------


def test_a_set_of_one_is_asked_about_as_one():
    job = job_of()
    alone, of_set = supply_question(job, 360, FOUR.amplifier), set_supply_question(job, (FOUR,))
    assert alone.values == of_set.values
    assert alone.verdict == of_set.verdict


def test_the_supply_feeds_the_sum_of_the_currents():
    question = set_supply_question(job_of(), (FOUR, MONO))
    total = 360 / (0.8 * 14.4) + 300 / (0.55 * 14.4)
    assert 660 / (question.values["efficiency_percent"] / 100 * 14.4) == pytest.approx(total)
    assert question.values["amplifier_class"] == "ab"


# ---- how it is found -----------------------------------------------------------------------------


@each("seed", range(40))
def test_amplifiers_on_one_block_are_sized_as_any_tree_is(seed, monkeypatch):
    """Each main size with the thinnest branches: the very plan of the general search."""
    rng = random.Random(seed)
    branches = [f"A{at}" for at in range(rng.randint(1, 4))]
    runs = [Run(start="battery", end="block", length_m=rng.uniform(0.5, 6))]
    runs += [
        Run(
            start="block",
            end=end,
            length_m=rng.uniform(0.2, 2),
            earth_m=rng.choice([0.0, 0.5]),
            least_mm2=rng.choice([0.0, 0.0, 6.0]),
        )
        for end in branches
    ]
    loads = [
        Load(at=end, ampere=ampere, full_a=ampere * rng.choice([1.0, 1.5]))
        for end in branches
        for ampere in [rng.uniform(3, 40)]
    ]
    tree = Tree(runs=tuple(runs), loads=tuple(loads))
    rules = Rules(sizes=rng.choice(["metric", "awg"]), max_drop_v=rng.choice([0.4, 0.5, 1.0]))
    quick = least_conductor(tree, rules)
    with monkeypatch.context() as patched:
        patched.setattr(optimum._Search, "_is_star", lambda _: False)
        assert least_conductor(tree, rules) == quick

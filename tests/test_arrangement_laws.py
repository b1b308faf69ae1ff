"""Laws of arrangements: what is offered more of never makes the best plan worse, and the like."""

from dataclasses import replace

import pytest
from arrangement_files import NAMES, judged_text, sheet_of_text, text_of
from choosing_systems import STATES
from conftest import each, sampled
from every_arrangement import Amp, Row, radio_w, random_case, system_text

from calc.app.contents import CALCULATORS
from calc.inputs.declared import values_of
from calc.system.files.system_file import read_system, write_system

SEEDS = sampled(range(200), range(4))
FEW = sampled(range(100), range(2))
WISHES = ("apart", "joined", "radio", "bridged", "own-amplifier")


def plan(rows, amps, wish="", **changes):
    text = system_text(rows, amps, wish)
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    return judged_text(text)


def sheet_results(rows, amps):
    return sheet_of_text(system_text(rows, amps)).results


def loads(found):
    return [(row, load) for row in found["channels"] for load in row["loads"]]


def rank(found, rows):
    """Return how good a plan is, less being better, from its channel table alone."""
    watts = {row.name: radio_w(row) for row in rows}
    for _, load in loads(found):
        watts[load["speaker"]] = load["power_w"]
    weak = sum(row.is_weak(watts[row.name]) for row in rows)
    joined = any(len({load["speaker"] for load in row["loads"]}) > 1 for row in found["channels"])
    missing = {row.name for row in rows} - {load["speaker"] for _, load in loads(found)}
    state = STATES.index(found["verdict"].replace("-", " "))
    return state, joined + len(missing), weak


def is_good(found):
    return found["verdict"] in ("suitable", "likely")


def best_rank(found, rows):
    """Return the rank, with nothing more to tell between plans that are none."""
    good = rank(found, rows)
    return good if is_good(found) else good[:1]


# ---- more, stronger, stabler


@pytest.mark.parametrize("seed", FEW)
def test_more_amplifiers_on_the_shelf_never_make_the_plan_worse(seed):
    rows, _ = random_case(f"shelf {seed}")
    shelf = [
        replace(amp, name=f"{number} {at}")
        for at in range(3)
        for number, amp in enumerate(random_case(f"shelf {seed} {at}")[1][:1])
    ]
    before = None
    for many in (1, 2, 3):
        text = system_text(rows, shelf[:many]).replace("[[amplifiers]]", "[[candidates]]")
        now = best_rank(sheet_of_text(text).results, rows)
        assert before is None or now <= before
        before = now


@pytest.mark.parametrize("seed", FEW)
def test_a_stronger_alternator_never_makes_the_plan_worse(seed):
    rows, amps = random_case(f"alternator {seed}")
    ranks = [
        best_rank(plan(rows, amps, **{"alternator_a = 250": f"alternator_a = {rating}"}), rows)
        for rating in (45, 70, 110, 250)
    ]
    assert ranks == sorted(ranks, reverse=True)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_amplifier_that_permits_less_never_makes_the_plan_worse(seed):
    """The same powers at 2 Ω, and a lowest load of 4, then 2 Ω."""
    rows, amps = random_case(f"lowest load {seed}")
    amps = [replace(amp, w2=1.4 * amp.w4, pair_w=None) for amp in amps]
    strict, lax = ([replace(amp, least=least) for amp in amps] for least in (4.0, 2.0))
    assert best_rank(plan(rows, lax), rows) <= best_rank(plan(rows, strict), rows)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_amplifier_that_may_be_bridged_never_makes_the_plan_worse(seed):
    rows, amps = random_case(f"bridges {seed}")
    amps = [replace(amp, pair_w=None) for amp in amps]
    without, with_bridges = ([replace(amp, bridges=yes) for amp in amps] for yes in (False, True))
    assert best_rank(plan(rows, with_bridges), rows) <= best_rank(plan(rows, without), rows)


# ---- what only changes names


@pytest.mark.parametrize("seed", SEEDS)
def test_names_of_amplifiers_change_nothing_else(seed):
    rows, amps = random_case(f"names {seed}")
    renamed = [replace(amp, name=f"Z{9 - at}") for at, amp in enumerate(amps)]
    names = {amp.name: other.name for amp, other in zip(amps, renamed, strict=True)}
    ours, theirs = plan(rows, amps), plan(rows, renamed)
    assert ours["verdict"] == theirs["verdict"]
    assert [{**row, "amplifier": names[row["amplifier"]]} for row in ours["channels"]] == theirs[
        "channels"
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_amplifiers_changes_nothing_that_counts(seed):
    rows, amps = random_case(f"order {seed}")
    ours, theirs = plan(rows, amps), plan(rows, amps[::-1])
    assert best_rank(ours, rows) == best_rank(theirs, rows)


def _powers(found):
    """Return what each speaker gets, by name, each name's in order of size."""
    powers = {}
    for _, load in loads(found):
        powers.setdefault(load["speaker"], []).append(load["power_w"])
    return {
        f"{name} {at}": watts
        for name, found in powers.items()
        for at, watts in enumerate(sorted(found))
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_a_four_channel_in_two_bodies_gives_what_it_gives_in_one(seed):
    rows, amps = random_case(f"bodies {seed}")
    whole = replace(amps[0], channels=4, name="A")
    halves = [replace(whole, channels=2, name=name) for name in ("A 1", "A 2")]
    one, two = plan(rows, [whole]), plan(rows, halves)
    assert is_good(one) == is_good(two)
    if is_good(one):
        assert best_rank(one, rows) == best_rank(two, rows)
        assert _powers(one) == pytest.approx(_powers(two))


# ---- what the calculators say


@pytest.mark.parametrize("seed", SEEDS)
def test_every_output_gives_what_bridged_output_and_channel_map_say(seed):
    rows, amps = random_case(f"powers {seed}")
    by_name = {amp.name: amp for amp in amps}
    for row in plan(rows, amps)["channels"]:
        amp = by_name[row["amplifier"]]
        given = {"power_4ohm_w": amp.w4, "power_2ohm_w": amp.w2, "min_channel_ohm": amp.least}
        if "+" in row["output"]:
            said = _ask(
                "bridged-output", load_ohm=row["load_ohm"], rated_bridged_w=amp.pair_w, **given
            )
            assert said["allowed"]
            watts = said["bridged_power_w"]
        else:
            sections = f"full-range,{row['load_ohm']},50,90,1"
            said = _ask("channel-map", sections=sections, channels=1, **given)
            watts = said["groupings"][0]["uses"][0]["power_w"]
        assert row["power_w"] == pytest.approx(watts)


def _ask(name, **values):
    texts = {key: "" if value is None else str(value) for key, value in values.items()}
    return CALCULATORS[name].answer(texts).sheet.results


@pytest.mark.parametrize("seed", SEEDS)
def test_speakers_on_one_output_share_its_power_as_their_loads_say(seed):
    """They sum to it; beside one another all have the same voltage, P · R."""
    rows, amps = random_case(f"shares {seed}")
    for wish in ("", "joined"):
        for row in plan(rows, amps, wish)["channels"]:
            assert sum(one["power_w"] for one in row["loads"]) == pytest.approx(row["power_w"])
            if len({one["speaker"] for one in row["loads"]}) > 1:
                for one in row["loads"]:
                    squared = one["power_w"] * one["load_ohm"]
                    assert squared == pytest.approx(row["power_w"] * row["load_ohm"])


@pytest.mark.parametrize("seed", SEEDS)
def test_every_speaker_hangs_once_or_is_named_as_left_on_the_radio(seed):
    rows, amps = random_case(f"each once {seed}")
    found = sheet_results(rows, amps)
    if not is_good(found):
        return
    for row in rows:
        sides = [one["side"] for one, load in loads(found) if load["speaker"] == row.name]
        if sides:
            expected = ["left", "right"] if row.section != "woofer" else ["both"] * row.count
            assert sorted(sides) == expected, row.name
        else:
            assert row.name in " ".join(found["layouts"][0]["gives_up"])


# ---- what is shown side by side


@pytest.mark.parametrize("seed", SEEDS)
def test_layouts_stand_best_first_and_the_first_is_the_plan(seed):
    rows, amps = random_case(f"layouts {seed}")
    found = sheet_results(rows, amps)
    ranks = [_rank_shown(one, rows) for one in found["layouts"]]
    assert ranks == sorted(ranks)
    if is_good(found):
        assert found["layouts"][0]["verdict"] == found["verdict"]
        hung = {load["speaker"]: load["power_w"] for _, load in loads(found)}
        told = found["layouts"][0]["power_per_speaker_w"]
        assert {name: told[name] for name in hung} == pytest.approx(hung)


def _rank_shown(one, rows):
    """Return how good an arrangement beside others is, less being better, from what it shows."""
    watts = one["power_per_speaker_w"]
    weak = sum(row.is_weak(watts[row.name]) for row in rows)
    given_up = sum("quieter" not in words for words in one["gives_up"])
    return (False, given_up, weak) if one["verdict"] != "unsuitable" else (True,)


@pytest.mark.parametrize("seed", FEW)
def test_a_layout_that_is_asked_for_is_what_was_asked_and_never_above_the_best(seed):
    rows, amps = random_case(f"asked {seed}")
    best = best_rank(plan(rows, amps), rows)
    for wish in WISHES:
        found = plan(rows, amps, wish)
        assert best <= best_rank(found, rows), wish
        if is_good(found):
            assert _is_what_was_asked(found, rows, wish), wish


def _is_what_was_asked(found, rows, wish):
    hung = {load["speaker"] for _, load in loads(found)}
    names = {row.name for row in rows}
    joined = any(len({one["speaker"] for one in row["loads"]}) > 1 for row in found["channels"])
    if wish == "joined":
        return joined and hung == names
    if wish == "radio":
        return hung < names and not joined
    if wish == "bridged":
        return any("+" in row["output"] for row in found["channels"])
    if wish == "own-amplifier":
        of_sub = {row["amplifier"] for row, load in loads(found) if load["speaker"] == "subs"}
        others = {row["amplifier"] for row, load in loads(found) if load["speaker"] != "subs"}
        return bool(of_sub) and not of_sub & others
    return hung == names and not joined


@each("wish", WISHES)
def test_a_wish_that_nothing_can_grant_is_told_and_not_passed_over(wish):
    """One pair of doors on two channels of 4 Ω: no second pair, no bridge at 4 Ω, no subwoofer."""
    amp = Amp("A", 2, 60.0, None, None, 4.0, bridges=True)
    found = plan([Row("fronts", "full-range", 2, 4.0, 1, 60.0)], [amp], wish)
    assert is_good(found) is (wish == "apart"), found["why"]


# ---- files


@each("name", NAMES)
def test_every_arrangement_s_file_is_read_back_as_it_was_written(name):
    calculator = CALCULATORS["fit-plan"]
    given, wrong = read_system(text_of(name.removeprefix("arr-")))
    planned = calculator.build(calculator.form.read(given, wrong)).planned
    again, wrong = read_system(write_system(values_of(planned), "again"))
    assert wrong == []
    assert calculator.build(calculator.form.read(again, wrong)).planned == planned

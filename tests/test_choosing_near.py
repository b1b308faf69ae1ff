"""What would make an amplifier fit: what the sentence says is done by hand, and asked again."""

import random
import re
import tomllib
from dataclasses import replace

import pytest
from box_systems import known_in_part
from choosing_systems import (
    HAZEL,
    VAN,
    WEIGHTS,
    best_of,
    changed,
    job_of,
    random_amplifier,
    random_job,
)
from conftest import ROOT, sampled

from calc.app.contents import CALCULATORS
from calc.choosing.layouts.feeds import Job
from calc.choosing.remedies import MOST_WAYS, Case, advised, tips_of, ways_of
from calc.choosing.search import Judge


def with_changes(amplifier, system):
    """Return the Lantern Van's job and its amplifier with other figures."""
    return changed(Job(VAN.system), system), replace(HAZEL, **dict(amplifier))


def remedy(amplifier=(), **system):
    """Return what is said of the Lantern Van's amplifier with other figures."""
    return advised(Judge(*with_changes(amplifier, system), WEIGHTS)).near_miss


def ways(amplifier=(), **system):
    return ways_of(Case.of(Judge(*with_changes(amplifier, system), WEIGHTS)))


def state(amplifier=(), **system):
    return best_of(*with_changes(amplifier, system)).state


def speakers(at=1, **figures):
    """Return the Lantern Van's speakers, one row with other figures."""
    return tuple(
        replace(speaker, **figures) if number == at else speaker
        for number, speaker in enumerate(VAN.system.speakers)
    )


def test_nothing_is_said_of_what_fits_or_is_not_known():
    assert remedy() is None
    assert remedy({"width_mm": None}) is None


def test_a_must_that_could_be_given_up():
    said = remedy({"level_control": False})
    assert said == "Would work if you can do without a remote level control."
    assert state({"level_control": False}, level_control="any") == "suitable"


def test_a_power_that_would_be_enough():
    """50 W at 4 Ω is all there is; 51 W are too much to ask, 50 W are not."""
    wanted = speakers(need_w=51.0)
    assert state(speakers=wanted) == "unsuitable"
    said = remedy(speakers=wanted)
    watts = re.fullmatch(r"Would work if (\S+) W each is enough for door mid-basses\.", said)
    assert float(watts[1]) == 50
    assert state(speakers=speakers(need_w=50.0)) == "suitable"


def test_speakers_of_a_higher_load():
    """Woofers of 1 Ω, single coils: too low for a channel of 2 Ω; 2 Ω are not."""
    wanted = speakers(2, coils=1, coil_ohm=1.0, count=1, need_w=60.0)
    assert state(speakers=wanted) == "unsuitable"
    assert remedy(speakers=wanted).startswith(
        "Would work with the single 2 Ω version of subs instead of single 1 Ω: "
    )
    of_two_ohm = speakers(2, coils=1, coil_ohm=2.0, count=1, need_w=60.0)
    assert state(speakers=of_two_ohm) == "suitable"


def test_too_few_channels_are_mended_by_more_or_by_a_second_amplifier():
    assert state({"channels": 2}) == "unsuitable"
    kinds = {way.kind: way for way in ways({"channels": 2})}
    assert re.match("(Would|Could) work with an amplifier of 4 channels", kinds["amplifier"].words)
    mono = kinds["second-amplifier"]
    watts, ohm = re.search(
        r"a mono amplifier of at least (\S+) W at (\S+) Ω as well", mono.words
    ).groups()
    assert len(mono.after.amplifiers) == 2
    use = next(use for feed, _, use in mono.after.best.layout.uses if feed.section == "woofer")
    assert float(watts) == pytest.approx(use.power.best, rel=5e-3)
    assert float(ohm) == pytest.approx(use.load_ohm)


@pytest.mark.parametrize(
    ("key", "value", "kind", "pattern"),
    [
        # 40 A for the vehicle and 3.5 A of the amplifier with normal listening, on the road.
        ("alternator_a", 42.0, "car", r"with an alternator of (\S+) A"),
        ("bay_width_mm", 200.0, "place", r"with (\S+) mm more width"),
        ("bay_height_mm", 40.0, "place", r"with (\S+) mm more height"),
    ],
)
def test_a_figure_of_the_system(key, value, kind, pattern):
    assert state(**{key: value}) == "unsuitable"
    (way,) = [way for way in ways(**{key: value}) if way.kind == kind]
    figure = float(re.search(pattern, way.words)[1])
    enough = figure if key == "alternator_a" else value + figure
    assert state(**{key: enough}) == "suitable"
    assert enough > value


@pytest.mark.parametrize(
    ("key", "least", "more"), [("bay_height_mm", 45.0, 50.0), ("bay_height_mm", 31.0, 35.0)]
)
def test_an_amplifier_that_is_low_enough_and_no_lower_than_needed(key, least, more):
    """The body is 52 mm high; heights are told in steps of 5 mm."""
    (way,) = [way for way in ways(**{key: least}) if way.kind == "amplifier"]
    high = float(re.search(r"no more than (\S+) mm high", way.words)[1])
    assert high <= least < high + 5
    assert state({"height_mm": high}, **{key: least}) == "suitable"
    assert state({"height_mm": high + 5}, **{key: least}) == "unsuitable"


def test_a_larger_bay_stays_cooler():
    heat = {"closed": True, "area_m2": 0.4, "cabin_c": 40.0, "duty": "heavy"}
    heat["speakers"] = speakers(2, need_w=60.0)  # or the plan would get by with less power
    limit = {"limit_c": 55.0}
    assert state(limit, **heat) == "unsuitable"
    (way,) = [way for way in ways(limit, **heat) if way.kind == "place"]
    area = float(re.search(r"in a space with (\S+) m² of surface", way.words)[1])
    assert state(limit, **{**heat, "area_m2": area}) == "suitable"
    assert area > 0.4


def test_as_many_musts_as_fail_need_as_many_changes():
    lacking = {"level_control": False, "cover": False, "boost_db": 0.0}
    assert remedy(lacking, cover="must", boost="must") == (
        "Would work if you can do without a remote level control and you can do without bass "
        "boost and you can do without a cover over the controls."
    )


def test_a_gap_that_is_left_is_told():
    assert remedy({"level_control": False, "limit_c": None}, closed=True, area_m2=2.0) == (
        "Could work if you can do without a remote level control; still not known: cooling."
    )


def test_the_layout_asked_for_is_given_up_before_anything_else():
    """Four channels: the woofers alone on an amplifier of their own cannot be."""
    first = ways(layout="own-amplifier")[0]
    assert first.kind == "layout"
    assert first.words.startswith("Would work with another layout, ")
    assert first.after.system.wishes.layout == "best"


def test_the_same_subwoofer_with_other_coils():
    """75 W at 4 Ω from a channel of 50 W at 4 Ω and 75 W at 2 Ω: only a lower load gives it."""
    wanted = speakers(2, coils=1, coil_ohm=8.0, count=2, need_w=75.0)
    kinds = {way.kind: way for way in ways({"may_be_bridged": False}, speakers=wanted)}
    assert re.match(
        r"Would work with the (single|dual) \d Ω version of subs instead of single 8 Ω",
        kinds["speakers"].words,
    )
    layout = kinds["speakers"].after.best.layout
    (use,) = [use for feed, _, use in layout.uses if feed.section == "woofer"]
    assert use.power.best / use.per_output == pytest.approx(75)


def test_a_subwoofer_that_would_get_much_more_with_other_coils_is_told_of():
    """Two coils of 2 Ω make 1 Ω or 4 Ω: a channel that takes 2 Ω gives 50 W at 4 Ω."""
    row = {"coils": 2, "coil_ohm": 2.0, "count": 2, "need_w": None, "rated_w": 240.0}
    job, amplifier = with_changes({"may_be_bridged": False}, {"speakers": speakers(2, **row)})
    judge = Judge(job, amplifier, WEIGHTS)
    best = judge.best()
    assert best.is_recommended
    assert tips_of(judge, best) == (
        "In the dual 4 Ω version instead of dual 2 Ω, subs would get 75 W each instead of 50 W.",
    )
    told = replace(amplifier, power_2ohm_w=55.0)
    assert tips_of(Judge(job, told, WEIGHTS), best) == ()


def test_a_network_for_the_unprotected_tweeter_is_enough():
    """The active front on an amplifier without a high-pass for tweeters."""
    calculator = CALCULATORS["amplifier-choice"]
    text = (ROOT / "shared/systems/active-front.toml").read_text("utf-8")
    shelf = (ROOT / "shared/systems/shelf.csv").read_text("utf-8")
    texts, errors = calculator.files[0](text)
    assert not errors
    rows = calculator.answer({**texts, "shelf": shelf}).sheet.results["rows"]
    said = next(row["near_miss"] for row in rows if row["amplifier"] == "Hazel 4-50")
    hz, slope, above, below = re.fullmatch(
        r"Would work with a passive crossover at (\S+) Hz, (\d+) dB/octave, between (.+) and "
        r"(.+)\.",
        said,
    ).groups()
    network = f"{above},{below},{hz},butterworth,{int(slope) // 6}"
    assert tomllib.loads(text).get("networks") is None
    rows = calculator.answer({**texts, "shelf": shelf, "networks": network}).sheet.results["rows"]
    verdicts = {row["amplifier"]: row["verdict"] for row in rows}
    assert verdicts["Hazel 4-50"] == "suitable"


def random_case(seed):
    rng = random.Random(f"near {seed}")
    return Judge(random_job(rng), random_amplifier(rng), WEIGHTS)


def box_case(seed):
    return known_in_part(f"near {seed}")[0].judge


@pytest.mark.parametrize("seed", sampled(range(150), range(12)))
@pytest.mark.parametrize("made", [random_case, box_case])
def test_what_is_unsuitable_has_a_way_and_with_it_is_so_no_more(made, seed):
    """The way's system and amplifiers are judged anew, from what they say alone."""
    judge = made(seed)
    best = judge.best()
    found = ways_of(Case.of(judge, best))
    if best.state != "unsuitable":
        assert not found
        return
    assert 1 <= len(found) <= MOST_WAYS
    assert [way.size for way in found] == sorted(way.size for way in found)
    for way in found:
        after = Judge(Job(way.after.system), way.after.amplifiers, WEIGHTS).best()
        assert after.state != "unsuitable", way.words
        pattern = r"Would work .+\.|Could work .+; still not known: .+\."
        assert re.fullmatch(pattern, way.words)
        assert way.words.startswith("Could") == (after.state == "not known")


def test_the_job_itself_is_left_as_it_is():
    job = job_of(alternator_a="60")
    before = dict(job.values)
    advised(Judge(job, HAZEL, WEIGHTS))
    assert job == job_of(alternator_a="60") and dict(job.values) == before

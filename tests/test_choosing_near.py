"""What would make an amplifier fit: what the sentence says is done by hand, and asked again."""

import random
import re
import tomllib
from dataclasses import replace

import pytest
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
from calc.choosing.remedies import advised, failing
from calc.choosing.search import Judge


def with_changes(amplifier, system):
    """Return the Lantern Van's job and its amplifier with other figures."""
    return changed(Job(VAN.system), system), replace(HAZEL, **dict(amplifier))


def remedy(amplifier=(), **system):
    """Return what is said of the Lantern Van's amplifier with other figures."""
    return advised(Judge(*with_changes(amplifier, system), WEIGHTS)).near_miss


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
    assert said == "It would fit if a level control on a lead were no must."
    assert state({"level_control": False}, level_control="any") == "suitable"


def test_a_power_that_would_be_enough():
    """50 W at 4 Ω is all there is; 51 W are too much to ask, 50 W are not."""
    wanted = speakers(need_w=51.0)
    assert state(speakers=wanted) == "unsuitable"
    said = remedy(speakers=wanted)
    watts = re.fullmatch(r"It would fit if (\S+) W for each of door mid-basses were enough\.", said)
    assert float(watts[1]) == 50
    assert state(speakers=speakers(need_w=50.0)) == "suitable"


def test_speakers_of_a_higher_load():
    """Woofers of 1 Ω, single coils: too low for a channel of 2 Ω; 2 Ω are not."""
    wanted = speakers(2, coils=1, coil_ohm=1.0, count=1, need_w=60.0)
    assert state(speakers=wanted) == "unsuitable"
    assert remedy(speakers=wanted) == "It would fit with woofers of 2 Ω."
    of_two_ohm = speakers(2, coils=1, coil_ohm=2.0, count=1, need_w=60.0)
    assert state(speakers=of_two_ohm) == "suitable"


def test_too_few_channels_are_no_near_miss():
    assert state({"channels": 2}) == "unsuitable"
    assert remedy({"channels": 2}) is None


@pytest.mark.parametrize(
    ("key", "value", "pattern"),
    [
        # 40 A for the vehicle and 3.5 A of the amplifier with normal listening, on the road.
        ("alternator_a", 42.0, r"with an alternator of (\S+) A"),
        ("bay_width_mm", 200.0, r"with (\S+) mm more width"),
        ("bay_height_mm", 40.0, r"with (\S+) mm more height"),
    ],
)
def test_a_figure_of_the_system(key, value, pattern):
    assert state(**{key: value}) == "unsuitable"
    figure = float(re.search(pattern, remedy(**{key: value}))[1])
    enough = figure if key == "alternator_a" else value + figure
    assert state(**{key: enough}) == "suitable"
    assert enough > value


def test_a_larger_bay_stays_cooler():
    heat = {"closed": True, "area_m2": 0.4, "cabin_c": 40.0, "duty": "heavy"}
    heat["speakers"] = speakers(2, need_w=60.0)  # or the plan would get by with less power
    limit = {"limit_c": 55.0}
    assert state(limit, **heat) == "unsuitable"
    area = float(re.search(r"in a bay of (\S+) m² of surface", remedy(limit, **heat))[1])
    assert state(limit, **{**heat, "area_m2": area}) == "suitable"
    assert area > 0.4


def test_two_musts_that_fail_need_two_changes():
    said = remedy({"level_control": False, "cover": False}, cover="must")
    assert said == (
        "It would fit if a level control on a lead were no must and if a cover were no must."
    )


def test_three_musts_that_fail_are_no_near_miss():
    lacking = {"level_control": False, "cover": False, "boost_db": 0.0}
    assert remedy(lacking, cover="must", boost="must") is None


def test_a_gap_that_is_left_is_told():
    assert remedy({"level_control": False, "limit_c": None}, closed=True, area_m2=2.0) == (
        "It may fit if a level control on a lead were no must; not known: heat."
    )


def test_a_network_for_the_unprotected_tweeter_is_enough():
    """The active front on an amplifier without a high-pass for tweeters."""
    calculator = CALCULATORS["amplifier-choice"]
    text = (ROOT / "shared/systems/active-front.toml").read_text("utf-8")
    shelf = (ROOT / "shared/systems/shelf.csv").read_text("utf-8")
    texts, errors = calculator.files[0](text)
    assert not errors
    rows = calculator.answer({**texts, "shelf": shelf}).sheet.results["rows"]
    said = next(row["near_miss"] for row in rows if row["amplifier"] == "Hazel 4-50")
    hz, order, above, below = re.fullmatch(
        r"It would fit with a passive network of (\S+) Hz, order (\d), between (.+) and (.+)\.",
        said,
    ).groups()
    network = f"{above},{below},{hz},butterworth,{order}"
    assert tomllib.loads(text).get("networks") is None
    rows = calculator.answer({**texts, "shelf": shelf, "networks": network}).sheet.results["rows"]
    verdicts = {row["amplifier"]: row["verdict"] for row in rows}
    assert verdicts["Hazel 4-50"] == "suitable"


@pytest.mark.parametrize("seed", sampled(range(200), range(20)))
def test_advice_is_for_one_or_two_failing_musts_and_says_what_is_not_known(seed):
    rng = random.Random(f"near {seed}")
    job, amplifier = random_job(rng), random_amplifier(rng)
    candidate = advised(Judge(job, amplifier, WEIGHTS))
    if candidate.near_miss is None:
        return
    assert candidate.state == "unsuitable"
    assert 1 <= len(failing(candidate)) <= 2
    assert re.fullmatch(r"It would fit .+\.|It may fit .+; not known: .+\.", candidate.near_miss)


def test_the_job_itself_is_left_as_it_is():
    job = job_of(alternator_a="60")
    before = dict(job.values)
    advised(Judge(job, HAZEL, WEIGHTS))
    assert job == job_of(alternator_a="60") and dict(job.values) == before

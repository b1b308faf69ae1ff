"""At the very edge of what is allowed, and what is said there."""

import random
import re
from contextlib import suppress

import pytest
from asking import plain, refusals, sheet_of
from choosing_systems import HAZEL, best_of, job_of, random_amplifier, random_job

from calc.cabling.supply_budget import SUPPLY_BUDGET, solve
from calc.choosing.questions.bridging import bridged_questions
from calc.choosing.questions.placement import heat_question
from calc.inputs.errors import InputError
from calc.physics.floor_plan import Amplifier


@pytest.mark.parametrize("family", ["butterworth", "linkwitz-riley", "bessel"])
def test_a_refused_order_is_answered_with_all_that_there_are(family):
    """Each order that is named is accepted, and each that is not named is refused."""
    texts = {"family": family, "kind": "high-pass", "frequency_hz": 100}
    accepted = []
    for order in range(1, 9):
        with suppress(InputError):
            sheet_of("filter-response", **texts, order=order)
            accepted.append(str(order))
    odd = next(order for order in range(1, 40) if str(order) not in accepted)
    ((_, message), *_) = refusals("filter-response", **texts, order=odd)
    if "have order" in message:
        assert re.findall(r"\d+", message.split("have order")[1]) == accepted


@pytest.mark.parametrize(("width", "depth", "height"), [(0, 100, 50), (200, 0, 50), (200, 100, 0)])
def test_a_body_has_three_sizes(width, depth, height):
    with pytest.raises(ValueError, match="width"):
        Amplifier(name="flat", width_mm=width, depth_mm=depth, height_mm=height)


@pytest.mark.parametrize(("closed", "area"), [("yes", ""), ("yes", "0.8"), ("no", "0.8")])
def test_a_closed_bays_surface_is_asked_for_and_one_that_is_given_is_used(closed, area):
    """Without it nobody knows how warm a closed bay gets."""
    job = job_of(closed=closed, area_m2=area)
    best = best_of(job, HAZEL)
    question = heat_question(job, best.layout.total_w, HAZEL)
    assert "area_m2" in question.figures
    if closed == "yes" and not area:
        assert question.verdict.state == "not known"


def test_a_cabin_as_warm_as_the_limit_is_not_yet_too_warm():
    """The limit itself is permitted; of an open bay nobody knows what comes on top."""
    texts = {"closed": "no", "limit_c": 50, "power_w": 100}
    assert sheet_of("bay-heat", **texts, cabin_c=50).verdict.state == "not known"
    assert sheet_of("bay-heat", **texts, cabin_c=51).verdict.state == "unsuitable"


@pytest.mark.parametrize("reading", [1.37, 2.6, 3.333, 4.44, 9.87])
def test_a_meters_verdict_is_no_finer_than_a_meter(reading):
    """Three digits are what a hand-held meter shows."""
    verdict = sheet_of("meter-check", coil_ohm=3.337, reading_ohm=reading).verdict
    for figure in re.findall(r"\d+\.\d+", plain(verdict.reason)):
        assert len(figure.replace(".", "").lstrip("0")) <= 3, verdict.reason


@pytest.mark.parametrize(("alternator_a", "percent"), [(120, 50), (90, 40), (200, 70)])
def test_what_an_alternator_gives_at_idle_is_its_share(alternator_a, percent):
    texts = {"alternator_a": str(alternator_a), "idle_percent": str(percent)}
    inputs = SUPPLY_BUDGET.build(SUPPLY_BUDGET.form.read(texts))
    assert solve(inputs).idle_gives_a == pytest.approx(alternator_a * percent / 100)


def test_bridging_is_asked_about_for_each_feed_on_bridged_pairs_and_no_other():
    seen = set()
    for seed in range(30):
        rng = random.Random(f"bridged {seed}")
        job, amplifier = random_job(rng), random_amplifier(rng)
        layout = best_of(job, amplifier).layout
        if layout is None:
            continue
        bridged = [feed.name for feed, _, use in layout.uses if len({*use.outputs[0]}) > 1]
        asked = bridged_questions(layout, layout.installed.parts[0])
        assert [question.about for question in asked] == bridged
        seen.add(bool(bridged))
    assert seen == {True, False}


@pytest.mark.parametrize("lowest_hz", [19_000, 28_279.1, 30_000])
def test_a_speaker_that_no_filter_reaches_is_refused_in_words(lowest_hz):
    """A filter proposed for it would lie above what any box takes, 30 kHz."""
    speaker = f"left,full-range,1,1,27,1,,77,{lowest_hz},1,30000"
    shelf = "name,channels,power_4ohm_w,filters\nA,1,1485,none\n"
    for name, more in (("fit-plan", {"amplifier": ""}), ("amplifier-choice", {})):
        sheet = sheet_of(name, speakers=speaker, networks="", head_filters="", shelf=shelf, **more)
        assert sheet.verdict.state in ("unsuitable", "not known")

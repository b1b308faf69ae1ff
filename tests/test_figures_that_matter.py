"""Figures that a plan hands from chapter to chapter, each held against what it must be."""

import math
import random
from dataclasses import replace

import pytest
from arrangement_files import NAMES as CUSTOMERS
from arrangement_files import plan_of_text
from arrangement_files import text_of as customer_text
from asking import results
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

from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import plan_of
from calc.choosing.remedies import advised
from calc.choosing.search import Judge
from calc.crossovers.crossover_sum import CROSSOVER_SUM
from calc.crossovers.crossover_sum import solve as crossover_sum


def plan_results(**texts):
    return results("fit-plan", **texts)


# ---- set-up


@pytest.mark.parametrize(("tone_dbfs", "boost_db"), [(0, 0), (0, 6), (-10, 0), (-10, 12)])
def test_a_reading_that_starts_lower_is_aimed_at_as_it_reads_with_that_tone(tone_dbfs, boost_db):
    """10 V with a full tone, no boost: a softer tone and room for a boost lower it."""
    found = results(
        "gain-voltage", power_w=1000, load_ohm=4, tone_dbfs=tone_dbfs, boost_db=boost_db, start_v=10
    )
    assert found["start_target_v"] == pytest.approx(10 * 10 ** ((tone_dbfs - boost_db) / 20))


def test_the_plans_tone_is_no_louder_than_the_system_says():
    found = plan_results(tone_dbfs=-12)
    assert {row["inputs"]["tone_dbfs"] for row in found["gain-voltage"]} == {-12}


# ---- crossovers


@pytest.mark.parametrize(("low", "high"), [(2000, 2000), (1000, 4000), (3000, 2500)])
def test_corners_that_lie_apart_meet_at_their_geometric_mean(low, high):
    """Pitch goes by ratios: as far above the one as below the other."""
    texts = {"low_frequency_hz": str(low), "high_frequency_hz": str(high)}
    inputs = CROSSOVER_SUM.build(CROSSOVER_SUM.form.read(texts))
    assert crossover_sum(inputs).corner_hz == pytest.approx((low * high) ** 0.5)


def test_the_section_that_waits_longest_is_the_nearest_one():
    """It is delayed by the way that the farthest has more than it."""
    found = results("arrival-delay", sections="tweeter,0.9;mid-bass,1.2;woofer,1.9")
    waits = {row["section"]: row["delay_ms"] for row in found["sections"]}
    assert max(waits, key=waits.get) == "tweeter"
    assert waits["woofer"] == 0


# ---- choosing


@pytest.mark.parametrize("seed", range(25))
def test_no_amplifier_has_more_points_than_it_was_promised(seed):
    """The promise decides who is searched first."""
    rng = random.Random(f"points {seed}")
    judge = Judge(random_job(rng), random_amplifier(rng), WEIGHTS)
    assert judge.best().score <= judge.most_points + 1e-6


def test_a_cheaper_one_of_two_alike_is_promised_more():
    cheap, dear = (
        Judge(Job(VAN.system), replace(HAZEL, price=price), WEIGHTS).most_points
        for price in (100.0, 400.0)
    )
    assert cheap > dear


def test_the_power_that_would_be_enough_is_that_of_each_speaker_of_an_output():
    """Two woofers of 8 Ω in parallel make 4 Ω: each gets half of what the output gives."""
    job = job_of(
        speakers="woofers,woofer,2,1,8,250,240,86,,2,120,,woofer,2,2",
        networks="", head_filters="",
    )  # fmt: skip
    amplifier = replace(HAZEL, channels=2)
    best = best_of(job, amplifier)
    if best.state != "unsuitable":
        pytest.fail("240 W for each woofer are more than two channels of 50 W give")
    said = advised(Judge(job, amplifier, WEIGHTS)).near_miss
    (use,) = best.layout.plan.uses
    watts = use.power.low * len(use.outputs) / 2
    assert said == f"Would work if {watts:g} W each is enough for woofers."


def test_a_kit_is_bought_for_the_lowest_load_of_the_plan():
    """The lead with the most to carry and to lose is that of the lowest load."""
    found = plan_results()
    loads = [row["load_ohm"] for row in found["channels"]]
    assert len(set(loads)) > 1
    assert found["kit-list"]["inputs"]["speaker_load_ohm"] == min(loads)


def test_the_subwoofers_are_weighed_against_the_loudest_that_plays_over_them():
    job = Job(VAN.system)
    balance = plan_of(job, best_of(job, HAZEL)).balance
    levels = list(zip(balance.layout.uses, balance.volts, strict=True))
    subs = [volts.level_db for (feed, _, _), volts in levels if feed.section == "woofer"]
    others = [volts.level_db for (feed, _, _), volts in levels if feed.section != "woofer"]
    assert balance.subwoofer_db == pytest.approx(max(subs) - max(others))


@pytest.mark.parametrize("name", CUSTOMERS)
def test_a_level_is_the_pressure_of_every_speaker_together(name):
    """In step, pressures add; one speaker’s goes as the root of its power (textbook).

    The sensitivity is that at 2.83 V with all its coils in parallel.
    """
    plan = plan_of_text(customer_text(name.removeprefix("arr-")))
    rows = {row.through: row for row in plan.channels}
    assert rows or plan.candidate.state == "unsuitable"
    uses = zip(plan.balance.layout.uses, plan.balance.volts, strict=True)
    known = [(feed, use, volts) for (feed, _, use), volts in uses if volts.level_db is not None]
    for feed, use, volts in known if rows else ():
        outputs = use.outputs if feed.section == "woofer" else use.outputs[:1]
        loads = [load for output in outputs if output in rows for load in rows[output].loads]
        speaker = feed.members[0].speaker
        alone_w = 2.83**2 * speaker.coils / speaker.coil_ohm
        set_w = volts.start_v**2 / use.load_ohm
        pressures = [
            (set_w / use.power.best * load.power_w / alone_w) ** 0.5
            for load in loads
            if load.row == feed.members[0].rows[0]
        ]
        expected = speaker.sensitivity_db + 20 * math.log10(sum(pressures))
        assert volts.level_db == pytest.approx(expected, abs=0.006)


def test_an_amplifier_that_is_too_long_one_way_only_does_not_fit():
    bay = {"bay_width_mm": 300.0, "bay_depth_mm": 300.0}
    job = changed(Job(VAN.system), bay)
    for width, depth in ((310.0, 100.0), (100.0, 310.0)):
        amplifier = replace(HAZEL, width_mm=width, depth_mm=depth)
        assert best_of(job, amplifier).state == "unsuitable"

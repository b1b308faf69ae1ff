"""Laws of the choice: what is stronger, stricter or smaller moves a verdict one way only."""

from dataclasses import replace

import pytest
from choosing_systems import (
    STATES,
    VAN,
    WEIGHTS,
    best_of,
    case,
    changed,
    check_of,
    random_amplifier,
)
from conftest import sampled

from calc.choosing.candidates import ranking
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge

SEEDS = sampled(range(120), range(12))


def has_power(candidate):
    powers = [check for check in candidate.checks if check.kind == "power"]
    return powers != [] and all(check.state == "suitable" for check in powers)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stronger_amplifier_never_loses_a_pass_on_power(seed):
    job, _, rng = case(f"stronger {seed}")
    weak = random_amplifier(rng, missing=0)
    weak = replace(weak, power_2ohm_w=1.4 * weak.power_4ohm_w)
    factor = rng.choice([1.05, 1.5, 3])
    strong = replace(
        weak,
        power_4ohm_w=factor * weak.power_4ohm_w,
        power_2ohm_w=factor * weak.power_2ohm_w,
        rated_bridged_w=weak.rated_bridged_w and factor * weak.rated_bridged_w,
    )
    if not has_power(best_of(job, weak)):
        return
    judge = Judge(job, strong, WEIGHTS)
    best = judge.best()
    every = map(judge.of_layout, judge.layouts)
    with_power = [candidate for candidate in every if has_power(candidate)]
    assert with_power
    # It draws more, so that another must may fail; a plan without that power is then better only
    # where it may still do.
    if not has_power(best):
        assert {candidate.state for candidate in with_power} == {"unsuitable"} != {best.state}


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stricter_must_never_widens_the_list(seed):
    job, _, rng = case(f"stricter {seed}")
    shelf = [random_amplifier(rng, str(at)) for at in range(4)]
    for key in ("level_control", "cover", "controls_in_place"):
        loose, tight = (
            {
                amplifier.name
                for amplifier in shelf
                if best_of(changed(job, {key: wish}), amplifier).state == "suitable"
            }
            for wish in ("any", "must")
        )
        assert tight <= loose


@pytest.mark.parametrize("seed", SEEDS)
def test_more_power_to_reach_never_widens_the_list(seed):
    job, amplifier, _ = case(f"need {seed}")
    states = []
    for need_w in (1.0, 40.0, 90.0, 200.0):
        speakers = tuple(replace(speaker, need_w=need_w) for speaker in job.given.speakers)
        needing = Job(replace(job.given, speakers=speakers))
        states.append(STATES.index(best_of(needing, amplifier).state))
    assert states == sorted(states)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    ("changes", "worse"),
    [
        ([{"alternator_a": rating_a} for rating_a in (160.0, 110.0, 70.0)], "supply"),
        (
            [{"bay_width_mm": 700.0, "bay_depth_mm": 600.0}, {"bay_width_mm": 400.0},
             {"bay_width_mm": 300.0, "bay_depth_mm": 200.0}],
            "place",
        ),
        ([{"bay_height_mm": height_mm} for height_mm in (200.0, 90.0, 40.0)], "place"),
    ],
)  # fmt: skip
def test_less_room_and_a_smaller_alternator_never_widen_the_list(seed, changes, worse):
    job, amplifier, _ = case(f"{worse} {seed}")
    judged = [best_of(changed(job, change), amplifier) for change in changes]
    states = [STATES.index(candidate.state) for candidate in judged]
    assert states == sorted(states)
    if worse == "place":  # the same whatever the layout; a supply depends on its power
        of_place = [STATES.index(check_of(candidate, worse).state) for candidate in judged]
        assert of_place == sorted(of_place)


def test_the_power_to_reach_of_speakers_on_a_network_counts_for_their_leads():
    """Tweeter and mid-bass share an output: the higher of the two powers has to come."""
    tweeters, mid_basses, woofers = VAN.system.speakers
    for tweeter_w, mid_w, expected in ((None, 50, 50), (60, 50, 60), (20, None, 20)):
        speakers = (
            replace(tweeters, need_w=tweeter_w),
            replace(mid_basses, need_w=mid_w),
            woofers,
        )
        feeds = Job(replace(VAN.system, speakers=speakers)).feeds
        (feed,) = [feed for feed in feeds if 0 in feed.rows]
        assert feed.need_w == expected


def test_ranking_puts_verdicts_first_and_keeps_the_order_of_equals():
    job, _, rng = case("ranking")
    shelf = [random_amplifier(rng, str(at)) for at in range(12)]
    ranked = ranking([best_of(job, amplifier) for amplifier in shelf])
    states = [STATES.index(candidate.state) for candidate in ranked]
    assert states == sorted(states)
    twins = [replace(shelf[0], name=name) for name in "cab"]
    ranked = ranking([best_of(job, amplifier) for amplifier in twins])
    assert [candidate.name for candidate in ranked] == ["c", "a", "b"]

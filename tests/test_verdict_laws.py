"""Laws of the four verdicts: what one promises holds for every completion of what is missing.

Systems and amplifiers are drawn at random with gaps, judged, completed at random and judged again
with the completed figures as told.
"""

from dataclasses import replace
from functools import cache

import pytest
from box_completions import complete
from box_systems import figures_of, known_in_part, without
from conftest import sampled

from calc.choosing.bounds import first_verdict
from calc.choosing.plan import plan_of

BLOCKS = sampled(range(60), range(3))
CASES, COMPLETIONS, STRUCK_OUT = 40, 3, 2
# Figures that nobody knows: for want of them alone nothing is not known.
NOBODY_KNOWS = {
    "efficiency_percent", "idle_w", "quiescent_a", "fuses_a", "right_face", "back_face",
    "left_face", "top_face",
}  # fmt: skip
GOOD = ("suitable", "likely")


@cache
def judged(seed):
    """Return a random case with its best plan."""
    case, _ = known_in_part(seed)
    return case, case.judge.best()


def seeds(block):
    return [f"{block} {at}" for at in range(CASES)]


def holds(block, state, allowed, *, usual):
    """Hold a verdict against completions."""
    for seed in seeds(block):
        case, before = judged(seed)
        if before.state != state:
            continue
        _, rng = known_in_part(seed)
        for _ in range(COMPLETIONS):
            completed = complete(rng, case, usual=usual)
            after = completed.judge.best()
            assert after.state in allowed, told_of(seed, before, completed, after)


def told_of(seed, before, completed, after):
    """Return a failing case as text."""
    lines = [f"seed {seed!r}: {before.state} became {after.state}"]
    lines += [f"  before: {check}" for check in before.checks]
    lines += [f"  after: {check}" for check in after.checks]
    return "\n".join([*lines, f"  {before.given}", f"  {completed}"])


@pytest.mark.parametrize("block", BLOCKS)
def test_what_is_likely_holds_within_the_usual_ranges(block):
    holds(block, "likely", GOOD, usual=True)


@pytest.mark.parametrize("block", BLOCKS)
def test_what_is_suitable_holds_whatever_is_missing(block):
    holds(block, "suitable", ("suitable",), usual=False)


@pytest.mark.parametrize("block", BLOCKS)
def test_what_is_unsuitable_fails_whatever_is_missing(block):
    holds(block, "unsuitable", ("unsuitable",), usual=False)


@pytest.mark.parametrize("block", BLOCKS)
def test_no_figure_that_is_struck_out_makes_an_amplifier_suitable(block):
    for seed in seeds(block):
        case, before = judged(seed)
        _, rng = known_in_part(seed)
        told = figures_of(case)
        for where, key in rng.sample(told, min(STRUCK_OUT, len(told))):
            after = without(case, where, key).judge.best()
            became = (seed, where, key, before.state, after.state)
            assert after.state != "suitable" or before.state == "suitable", became


# Figures for which a plan takes usual ones.  What stands for the others: a name from the kind of
# speaker, a lowest load and a right to bridge from the printed powers, and for most of the rest
# nothing at all.
HAVE_USUAL = {
    "source_v", "factory_power_w", "earth_m", "alternator_a", "vehicle_a", "battery_ah",
    "sensitivity_db", "lead_m", "channels", "efficiency_percent", "idle_w", "quiescent_a",
    "sensitivity_min_v", "sensitivity_max_v", "front_face", "right_face", "back_face", "left_face",
    "top_face",
}  # fmt: skip
_OTHER_WAYS = {"source_v": "factory_power_w", "factory_power_w": "source_v"}


@pytest.mark.parametrize("block", BLOCKS)
def test_what_stands_for_a_figure_that_is_struck_out_is_told(block):
    for seed in seeds(block):
        case, _ = judged(seed)
        _, rng = known_in_part(f"{seed} told")
        told = [(where, key) for where, key in figures_of(case) if key in HAVE_USUAL]
        for where, key in rng.sample(told, min(1, len(told))):
            less = without(case, where, key)
            best = less.judge.best()
            assumed = {taken.usual.key for taken in (*best.taken, *less.job.assumed)}
            head = less.system.head_unit
            if key in _OTHER_WAYS and (head.source_v, head.factory_power_w) != (None, None):
                continue  # the other of the two is told
            own_input = (best.given.sensitivity_min_v or 0.2, best.given.sensitivity_max_v or 6)
            if key.startswith("sensitivity_m") and not own_input[0] < own_input[1]:
                continue  # a usual end would contradict the one that is told
            assert assumed & {key, _OTHER_WAYS.get(key, key)}, (seed, where, key)


@pytest.mark.parametrize("block", BLOCKS)
def test_what_nobody_knows_is_never_why_nothing_is_known(block):
    """Every *not known* names something that can be asked for; struck out, those change none.

    Fuses that are told and contradict the power are in doubt, and named as such.
    """
    for seed in seeds(block):
        case, before = judged(seed)
        for check in before.checks:
            is_open = check.decides and check.state == "not known" and check.keys
            if is_open and check.kind != "its own fuses":
                assert set(check.keys) - NOBODY_KNOWS, (seed, check)
        if before.state not in GOOD:
            continue
        blank = dict.fromkeys(NOBODY_KNOWS - {"fuses_a"})
        after = replace(case, amplifier=replace(case.amplifier, **blank)).judge.best()
        assert after.state in GOOD or only_by_room(after), (seed, after.checks)


def only_by_room(candidate):
    """Tell whether nothing is open but the room beside the body, and air in a closed space."""
    open_ones = {check.kind for check in candidate.checks if check.decides}
    return open_ones <= {"place", "controls", "heat"}


@pytest.mark.parametrize("block", BLOCKS)
def test_a_first_verdict_is_never_overturned(block):
    for seed in seeds(block):
        case, best = judged(seed)
        first = first_verdict(case.judge)
        assert first is None or first[0] == best.state, (seed, first, best.checks)


@pytest.mark.parametrize("block", BLOCKS)
def test_a_tweeter_without_a_high_pass_that_is_known_gets_no_sheet(block):
    """Whatever else is missing: only filters that are told protect it."""
    for seed in seeds(block):
        case, _ = known_in_part(seed)
        if "tweeter" not in {row.section for row in case.system.speakers}:
            continue
        head = case.system.head_unit
        if case.system.networks or head.head_filters or case.job.has_dsp_filters:
            continue  # something before or behind the amplifier may protect it
        blank = dict.fromkeys(("filters", "high_pass_hz"))
        bare = replace(case, amplifier=replace(case.amplifier, **blank))
        best = bare.judge.best()
        assert best.state in ("not known", "unsuitable"), (seed, best.checks)
        plan = plan_of(bare.job, best)
        assert plan.channels == (), seed
        if best.layout is not None:
            assert not plan.may_connect, seed
            (check,) = [check for check in best.checks if check.kind == "filters"]
            if check.state == "not known":
                is_dsp = bare.job.has_dsp_filters is None  # which may filter every output
                asked = "filters_every_output" if is_dsp else "high_pass_hz"
                # Where no high-pass would do either, it depends on the speakers' bands alone.
                dialled = replace(case.amplifier, filters=None, high_pass_hz="10-30000")
                assert asked in check.keys or (
                    "lowest_hz" in check.keys
                    and replace(bare, amplifier=dialled).judge.best().state not in GOOD
                ), (seed, check)


def test_the_cases_are_of_every_verdict():
    """What never comes up proves nothing."""
    states = {judged(seed)[1].state for seed in seeds(0)}
    assert states == {"suitable", "likely", "not known", "unsuitable"}

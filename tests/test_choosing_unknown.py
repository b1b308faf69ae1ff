"""What is not known of an amplifier or a system is never taken for granted."""

import random
from dataclasses import replace
from itertools import product

import pytest
from choosing_systems import (
    FIELDS,
    HAZEL,
    PAIR,
    READ,
    VAN,
    best_of,
    changed,
    check_of,
    job_of,
    planned_of,
)
from conftest import sampled

from calc.choosing.candidates import rank
from calc.choosing.examples import STARTS
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import plan_of
from calc.inputs.errors import InputError


def test_an_unknown_supply_gives_no_power_that_it_may_not_have():
    """36 W rated at 12 V: 51.8 W at 14.4 V if the supply is unregulated, 36 W if it is not."""
    job = job_of(running_v="14.4")
    rating = replace(HAZEL, rated_v=12.0, power_4ohm_w=36.0, power_2ohm_w=52.0)
    for regulated, state in ((False, "suitable"), (True, "unsuitable"), (None, "not known")):
        best = best_of(job, replace(rating, regulated=regulated))
        assert check_of(best, "power: door mid-basses").state == state
        if not regulated:  # heat and cable are for the most that it may be
            assert best.layout.total_w == pytest.approx(2 * (36 + 52) * 1.44)


def test_a_rating_without_its_voltage_makes_no_gain_of_a_high_supply():
    amplifier = replace(HAZEL, rated_v=None, power_4ohm_w=44.0)
    best = best_of(job_of(running_v="15.5"), amplifier)
    assert check_of(best, "power: door mid-basses").state == "not known"


@pytest.mark.parametrize(
    ("may", "rated", "state"),
    [
        (True, None, "suitable"),
        (None, None, "not known"),
        (None, 150.0, "suitable"),
        (False, 150.0, "unsuitable"),
    ],
)
def test_a_pair_is_bridged_only_where_it_is_known_that_it_may_be(may, rated, state):
    """A woofer of one coil that wants more than a channel gives: it has to be bridged."""
    *others, woofers = VAN.system.speakers
    woofer = replace(woofers, count=1, coils=1, need_w=100.0)
    job = Job(replace(VAN.system, speakers=(*others, woofer)))
    amplifier = replace(HAZEL, may_be_bridged=may, rated_bridged_w=rated)
    assert best_of(job, amplifier).state == state


@pytest.mark.parametrize(("fuses", "state"), [("25", "suitable"), ("5", "not known")])
def test_own_fuses_that_are_too_small_for_the_draw_are_noticed(fuses, state):
    """250 W at 80 % and 14.4 V are 21.7 A in full; a third of that more than 5 A."""
    best = best_of(job_of(duty="heavy"), replace(HAZEL, fuses_a=fuses))
    assert best.state == state
    needed = check_of(best, "its own fuses").needed
    assert needed.startswith(f"{250 / 0.8 / 14.4 / 3:.3g}")


def test_more_power_than_a_speaker_is_rated_for_is_refused():
    with pytest.raises(InputError, match="above the rating"):
        job_of(speakers="fronts,full-range,2,1,4,20,50,90,80,2,,,front,1,4", networks="")


def test_speakers_on_one_output_have_one_delay():
    job = Job(VAN.system)
    plan = plan_of(job, best_of(job, HAZEL))
    (delays,) = [asked for asked in plan.questions if asked.calculator.name == "arrival-delay"]
    assert [(row.section, row.distance_m) for row in delays.inputs.sections] == [
        ("door mid-basses", 1.0),
        ("subs", 2.2),
    ]
    rows = plan.data()["arrival-delay"]["results"]["sections"]
    assert [(row["section"], row["distance_m"]) for row in rows] == [
        ("door mid-basses", 1.0),
        ("subs", 2.2),
    ]


def test_a_row_of_an_amplifier_from_an_older_link_lacks_the_last_columns():
    text = FIT_PLAN.form.by_key["amplifier"].write(VAN.amplifier)
    assert planned_of({"amplifier": text}).amplifier == (HAZEL,)
    cells, keys = text.split(","), [*READ]
    assert keys[len(cells) - 1] == "may_be_bridged", "what is empty at the end is not written"
    for lacking in (1, 2):
        (older,) = planned_of({"amplifier": ",".join(cells[:-lacking])}).amplifier
        assert older == replace(HAZEL, may_be_bridged=None)
    with pytest.raises(InputError, match="values where"):
        planned_of({"amplifier": text + "," * len(keys)})


# For each column, figures that an amplifier may have: good ones and bad ones.  A rating without
# its voltage is taken as one at 14.4 V, after the trade's own standard (the handbook says so).
POSSIBLE = {
    "trigger_a": ["0.005", "0.3", "2"],
    "channels": ["2", "4"],
    "power_4ohm_w": ["10", "50", "200"],
    "power_2ohm_w": ["60", "100"],
    "power_8ohm_w": ["10", "40"],
    "rated_bridged_w": ["10", "300"],
    "min_channel_ohm": ["1", "2"],  # a load with a printed power is permitted
    "rated_v": ["10", "12", "14.4"],
    "regulated": ["yes", "no"],
    "regulated_min_v": ["9", "13", "14"],
    "amplifier_class": ["ab", "d"],
    "efficiency_percent": ["15", "30", "58", "90"],
    "idle_w": ["0", "60"],
    "fuses_a": ["2", "5", "40", "150"],
    "sensitivity_min_v": ["0.1", "3.9"],
    "sensitivity_max_v": ["0.5", "2", "9"],
    "high_level_min_v": ["0.5", "10"],
    "high_level_max_v": ["2", "40"],
    "trigger": ["yes", "no"],
    "signal_sensing": ["yes", "no"],
    "supply_sensing": ["yes", "no"],
    "quiescent_a": ["0.001", "0.5", "2"],
    "level_control": ["yes", "no"],
    "boost_db": ["0", "12"],
    "cover": ["yes", "no"],
    "terminals": ["screw", "plug"],
    "width_mm": ["100", "2000"],
    "depth_mm": ["80", "2000"],
    "height_mm": ["30", "900"],
    **{f"{side}_face": ["none", "fins"] for side in ("front", "right", "back", "left", "top")},
    "mass_kg": ["1", "40"],
    "limit_c": ["20", "90"],
    "filters": ["none", PAIR.format(r="50-250"), "1/2 high-pass 5000 1 butterworth 2 - no"],
    "price": ["1", "9999"],
    "may_be_bridged": ["yes", "no"],
    "main_fuse_a": ["30", "40"],
    "high_pass_hz": ["50-250", "off", "500-5000"],
    "low_pass_hz": ["50-250", "off", "20-30"],
    "filter_db_per_octave": ["6", "24"],
}


def jobs():
    """Return the handbook's systems of one amplifier, and a closed bay with wishes as musts, each
    as a job with its amplifier.
    """
    starts = [dict(start.texts) for start in STARTS]
    strict = {"closed": "yes", "area_m2": "0.9", "boost": "must", "screw_terminals": "must"}
    every = [planned_of(texts) for texts in (*starts, {**starts[0], **strict})]
    return [
        (Job(planned.system), planned.amplifier[0])
        for planned in every
        if len(planned.amplifier) == 1
    ]


def test_every_column_has_figures_to_try():
    assert {"name", *POSSIBLE} == {key for key, column in FIELDS.items() if not column.hidden}


@pytest.mark.parametrize("key", POSSIBLE)
def test_an_amplifier_is_suitable_without_a_figure_only_if_no_figure_would_change_that(key):
    for job, amplifier in jobs():
        without = best_of(job, replace(amplifier, **{key: None}))
        if without.state != "suitable":
            continue
        for text in POSSIBLE[key]:
            best = best_of(job, replace(amplifier, **{key: READ[key](text)}))
            deciding = [check for check in best.checks if check.decides]
            assert best.state == "suitable", (text, deciding)


USUAL_PERCENT = {"d": (75.0, 90.0), "ab": (50.0, 60.0), "": (50.0, 90.0)}
USUAL_IDLE_W = tuple(14.4 * idle_a for idle_a in (0.5, 1.5))


@pytest.mark.parametrize(("fuses", "class_"), [*product(["", "15", "40"], ["", "ab", "d"])])
def test_a_verdict_without_efficiency_and_idle_draw_holds_for_all_that_they_may_be(fuses, class_):
    """*Unsuitable* whatever they are, as far as the amplifier's own fuses bear its power; *likely*
    within what is usual.
    """
    kinds = ("cable", "supply", "heat")

    def states(candidate):
        return {check.kind: check.state for check in candidate.checks if check.kind in kinds}

    for (system_job, amplifier), alternator_a in product(jobs(), (50.0, 75.0, 200.0)):
        job = changed(system_job, {"alternator_a": alternator_a})
        amplifier = replace(amplifier, fuses_a=fuses or None, amplifier_class=class_ or None)
        unknown = best_of(job, replace(amplifier, efficiency_percent=None, idle_w=None))
        total = unknown.layout.total_w
        fuse_a = float(fuses) if fuses else None
        usual = [*product(USUAL_PERCENT[class_], USUAL_IDLE_W)]
        for percent, idle_w in [*usual, *product((20.0, 35.0, 60.0, 85.0, 98.0), (0.0, 40.0))]:
            if fuse_a and 100 * total / (percent * job.system.charging.running_v) > fuse_a:
                continue
            known = best_of(job, replace(amplifier, efficiency_percent=percent, idle_w=idle_w))
            exact = states(known)
            for kind, state in states(unknown).items():
                where = (kind, state, exact[kind], percent, idle_w)
                if state == "likely":
                    is_usual = (percent, idle_w) in usual
                    assert not is_usual or exact[kind] in ("suitable", "likely"), where
                else:
                    assert state in ("not known", exact[kind]), where


def test_what_was_taken_as_usual_is_told():
    ((job, amplifier), *_) = jobs()
    amplifier = replace(amplifier, efficiency_percent=None, filters=None)
    best = best_of(job, amplifier)
    assert "with the usual filters" in check_of(best, "filters").has
    assert check_of(best, "its own fuses").state == "likely"
    blank = replace(amplifier, fuses_a=None, amplifier_class=None)
    best = best_of(job, blank)
    cable = check_of(best, "cable")
    assert cable.state == "likely" and "with the usual figures" in cable.has
    taken = {assumed.usual.key: assumed.usual.value for assumed in best.taken}
    assert taken["efficiency_percent"] == 50
    # 250 W at 50 % and 14.4 V are 34.7 A: the next listed rating.
    assert taken["fuses_a"] == 35
    assert {"high_pass_hz", "low_pass_hz", "filter_db_per_octave"} <= taken.keys()


@pytest.mark.parametrize(
    ("key", "with_filters"),
    [("channels", "likely"), ("power_4ohm_w", "not known"), ("min_channel_ohm", "suitable")],
)
def test_no_figure_of_the_plate_mends_filters_that_are_not_there(key, with_filters):
    """Tweeters on channels of their own, a head unit without filters, an amplifier with none."""
    job = job_of(
        speakers="t,tweeter,2,1,4,50,,91,2500,2,,,,,;m,full-range,2,1,4,50,,90,80,2,,,,,",
        networks="", head_filters="",
    )  # fmt: skip
    bare = replace(HAZEL, filters=READ["filters"]("none"), **{key: None})
    best = best_of(job, bare)
    assert best.state == "unsuitable"
    assert [check.name for check in best.checks if check.state == "unsuitable"] == ["filters"]
    assert best_of(job, replace(bare, filters=None)).state == "not known"
    rich = replace(bare, filters=READ["filters"](PAIR.format(r="50-5000")))
    assert best_of(job, rich).state == with_filters


@pytest.mark.parametrize("seed", sampled(range(40), range(8)))
def test_the_less_is_known_of_an_amplifier_the_lower_it_ranks(seed):
    """One figure after another is struck out, in any order, down to the bare name."""
    rng = random.Random(f"less {seed}")
    job, amplifier = rng.choice(jobs())
    before = best_of(job, amplifier)
    for key in rng.sample(sorted(POSSIBLE), len(POSSIBLE)):
        amplifier = replace(amplifier, **{key: None})
        after = best_of(job, amplifier)
        assert after.state != "unsuitable"
        assert rank(after) >= rank(before), key
        before = after


def test_a_factory_unit_needs_no_figures_of_the_line_input():
    """Speaker leads into a high-level input; without that one, the line input is asked for."""
    planned = planned_of(STARTS[1].texts)
    job, (amplifier,) = Job(planned.system), planned.amplifier
    for missing in (
        ("sensitivity_min_v", "sensitivity_max_v"),
        ("sensitivity_min_v",),
        ("sensitivity_max_v",),
    ):
        bare = replace(amplifier, **dict.fromkeys(missing))
        assert best_of(job, bare).state == "suitable"
        without = replace(bare, high_level_min_v=None, high_level_max_v=None)
        signal = check_of(best_of(job, without), "signal")
        assert signal.state == "likely"
        assert set(signal.keys) == set(missing), "asked for"

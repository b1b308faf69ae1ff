"""What is not known of an amplifier or a system is never taken for granted."""

import random
from itertools import product

import pytest
from choosing_systems import FORM, PAIR, WEIGHTS, job_of
from conftest import sampled

from calc.choosing.choose import Judge, rank
from calc.choosing.columns import COLUMNS
from calc.choosing.examples import STARTS
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.job import Job
from calc.choosing.plan import plan_of
from calc.inputs.errors import InputError


def test_an_unknown_supply_gives_no_power_that_it_may_not_have():
    """36 W rated at 12 V: 51.8 W at 14.4 V if the supply is unregulated, 36 W if it is not."""
    van = FORM.read({})
    job = Job({**van, "running_v": 14.4})
    figures = {"rated_v": 12.0, "power_4ohm_w": 36.0, "power_2ohm_w": 52.0}
    for regulated, state in ((False, "suitable"), (True, "unsuitable"), (None, "not known")):
        amplifier = {**van["amplifier"][0], **figures, "regulated": regulated}
        found = Judge(job, amplifier, WEIGHTS).best()
        (check,) = [one for one in found.checks if one.name == "power: door mid-basses"]
        assert check.state == state
        if not regulated:  # heat and cable are for the most that it may be
            assert found.layout.total_w == pytest.approx(2 * (36 + 52) * 1.44)


def test_a_rating_without_its_voltage_makes_no_gain_of_a_high_supply():
    van = FORM.read({})
    amplifier = {**van["amplifier"][0], "rated_v": None, "power_4ohm_w": 44.0}
    found = Judge(Job({**van, "running_v": 15.5}), amplifier, WEIGHTS).best()
    (check,) = [one for one in found.checks if one.name == "power: door mid-basses"]
    assert check.state == "not known"


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
    van = FORM.read({})
    woofer = {**van["speakers"][2], "count": 1, "coils": 1, "need_w": 100.0}
    job = Job({**van, "speakers": (*van["speakers"][:2], woofer)})
    amplifier = {**van["amplifier"][0], "may_be_bridged": may, "rated_bridged_w": rated}
    assert Judge(job, amplifier, WEIGHTS).best().state == state


@pytest.mark.parametrize(("fuses", "state"), [("25", "suitable"), ("5", "not known")])
def test_own_fuses_that_are_too_small_for_the_draw_are_noticed(fuses, state):
    """250 W at 80 % and 14.4 V are 21.7 A in full; a third of that more than 5 A."""
    van = FORM.read({})
    amplifier = {**van["amplifier"][0], "fuses_a": fuses}
    found = Judge(Job({**van, "duty": "heavy"}), amplifier, WEIGHTS).best()
    assert found.state == state
    (check,) = [one for one in found.checks if one.name == "its own fuses"]
    assert check.needed.startswith(f"{250 / 0.8 / 14.4 / 3:.3g}")


def test_more_power_than_a_speaker_is_rated_for_is_refused():
    with pytest.raises(InputError, match="more than its rating"):
        job_of(speakers="fronts,full-range,2,1,4,20,50,90,80,2,,,front,1,4", networks="")


def test_speakers_on_one_output_have_one_delay():
    job = Job(FORM.read({}))
    plan = plan_of(job, Judge(job, job.given["amplifier"][0], WEIGHTS).best())
    rows = plan.data()["arrival-delay"]["results"]["sections"]
    assert [(one["section"], one["distance_m"]) for one in rows] == [
        ("door mid-basses", 1.0),
        ("woofers", 2.2),
    ]


def test_a_row_of_an_amplifier_from_an_older_link_lacks_the_last_columns():
    full = FORM.by_key["amplifier"].write(FORM.read({})["amplifier"])
    whole = FORM.read({"amplifier": full})["amplifier"][0]
    assert whole == FORM.read({})["amplifier"][0]
    for number, missing in ((1, ("main_fuse_a",)), (2, ("main_fuse_a", "may_be_bridged"))):
        older = FORM.read({"amplifier": full.rsplit(",", number)[0]})["amplifier"][0]
        assert older == {**whole, **dict.fromkeys(missing)}
    with pytest.raises(InputError):
        FORM.read({"amplifier": full.rsplit(",", 3)[0]})


# For each column, figures that an amplifier may have: good ones and bad ones.  A rating without
# its voltage is taken as one at 14.4 V, after the trade's own standard (the handbook says so).
POSSIBLE = {
    "channels": ["2", "4"],
    "power_4ohm_w": ["10", "50", "200"],
    "power_2ohm_w": ["60", "100"],
    "power_8ohm_w": ["10", "40"],
    "rated_bridged_w": ["10", "300"],
    "min_channel_ohm": ["1", "4", "8"],
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
}
READ = {one.key: one.read for one in COLUMNS}


def systems():
    """Return the three systems of the handbook, and a closed bay with wishes as musts."""
    givens = [dict(one.given) for one in STARTS]
    strict = {"closed": "yes", "area_m2": "0.9", "boost": "must", "screw_terminals": "must"}
    return [FIT_PLAN.form.read(one) for one in (*givens, {**givens[0], **strict})]


def test_every_column_has_figures_to_try():
    assert {"name", *POSSIBLE} == set(READ)


@pytest.mark.parametrize("key", POSSIBLE)
def test_an_amplifier_is_suitable_without_a_figure_only_if_no_figure_would_change_that(key):
    for system in systems():
        job, (amplifier,) = Job(system), system["amplifier"]
        without = Judge(job, {**amplifier, key: None}, WEIGHTS).best()
        if without.state != "suitable":
            continue
        for text in POSSIBLE[key]:
            found = Judge(job, {**amplifier, key: READ[key](text)}, WEIGHTS).best()
            assert found.state == "suitable", (text, [one for one in found.checks if one.decides])


@pytest.mark.parametrize(("fuses", "class_"), [*product(["", "15", "40"], ["", "ab", "d"])])
def test_a_verdict_without_efficiency_and_idle_draw_holds_for_all_that_they_may_be(fuses, class_):
    """Whatever they are, as far as the amplifier's own fuses bear its power."""
    names = ("cable", "supply", "heat")
    for system, alternator in product(systems(), (50.0, 75.0, 200.0)):
        job = Job({**system, "alternator_a": alternator})
        (row,) = system["amplifier"]
        row = {**row, "fuses_a": fuses or None, "amplifier_class": class_ or None}

        def states(row=row, job=job, **figures):
            found = Judge(job, {**row, **figures}, WEIGHTS).best()
            return found, {one.name: one.state for one in found.checks if one.name in names}

        found, told = states(efficiency_percent=None, idle_w=None)
        total = found.layout.total_w
        own_a = float(fuses) if fuses else None
        for percent, idle in product((20, 35, 60, 85, 98), (0.0, 40.0)):
            if own_a and 100 * total / (percent * job.given["running_v"]) > own_a:
                continue
            exact = states(efficiency_percent=float(percent), idle_w=idle)[1]
            for name, state in told.items():
                assert state in ("not known", exact[name]), (name, percent, idle)


def test_what_was_taken_as_usual_is_told():
    (system, *_) = systems()
    amplifier = {**system["amplifier"][0], "efficiency_percent": None, "filters": None}
    found = {one.name: one for one in Judge(Job(system), amplifier, WEIGHTS).best().checks}
    assert "its filters (taken as none)" in found["filters"].has
    assert found["its own fuses"].state == "not known"
    blank = {**amplifier, "fuses_a": None, "amplifier_class": None}
    cable = {one.name: one for one in Judge(Job(system), blank, WEIGHTS).best().checks}["cable"]
    assert cable.state == "not known" and "efficiency (taken as 50 %)" in cable.has


@pytest.mark.parametrize("key", ["channels", "power_4ohm_w", "min_channel_ohm"])
def test_no_figure_of_the_plate_mends_filters_that_are_not_there(key):
    """Tweeters on channels of their own, a head unit without filters, an amplifier with none."""
    job = job_of(
        speakers="t,tweeter,2,1,4,50,,91,2500,2,,,,,;m,full-range,2,1,4,50,,90,80,2,,,,,",
        networks="", head_filters="",
    )  # fmt: skip
    bare = {**job.given["amplifier"][0], "filters": READ["filters"]("none"), key: None}
    found = Judge(job, bare, WEIGHTS).best()
    assert found.state == "unsuitable"
    assert [one.name for one in found.checks if one.state == "unsuitable"] == ["filters"]
    assert Judge(job, {**bare, "filters": None}, WEIGHTS).best().state == "not known"
    rich = {**bare, "filters": READ["filters"](PAIR.format(r="50-5000"))}
    assert Judge(job, rich, WEIGHTS).best().state == "not known"


@pytest.mark.parametrize("seed", sampled(range(40), range(8)))
def test_the_less_is_known_of_an_amplifier_the_lower_it_ranks(seed):
    """One figure after another is struck out, in any order, down to the bare name."""
    rng = random.Random(f"less {seed}")
    system = rng.choice(systems())
    job, (amplifier,) = Job(system), system["amplifier"]
    before = Judge(job, amplifier, WEIGHTS).best()
    for key in rng.sample(sorted(POSSIBLE), len(POSSIBLE)):
        amplifier = {**amplifier, key: None}
        after = Judge(job, amplifier, WEIGHTS).best()
        assert after.state != "unsuitable"
        assert rank(after) >= rank(before), key
        before = after


def test_a_factory_unit_needs_no_figures_of_the_line_input():
    """Speaker leads into a high-level input; without that one, the line input is asked for."""
    system = FIT_PLAN.form.read(dict(STARTS[1].given))
    job, (amplifier,) = Job(system), system["amplifier"]
    for line in ({}, {"sensitivity_min_v": None}, {"sensitivity_max_v": None}):
        bare = {**amplifier, "sensitivity_min_v": None, "sensitivity_max_v": None} | line
        assert Judge(job, bare, WEIGHTS).best().state == "suitable"
        without = {**bare, "high_level_min_v": None, "high_level_max_v": None}
        found = {one.name: one for one in Judge(job, without, WEIGHTS).best().checks}
        assert found["signal"].state == "not known" and "line input" in found["signal"].has

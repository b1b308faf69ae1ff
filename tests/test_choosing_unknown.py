"""What is not known of an amplifier or a system is never taken for granted."""

import pytest
from choosing_systems import FORM, WEIGHTS, job_of

from calc.choosing.choose import Judge
from calc.choosing.job import Job
from calc.choosing.plan import plan_of
from calc.core.errors import InputError


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


def test_a_row_of_an_amplifier_from_an_older_link_lacks_the_last_column():
    text = FORM.by_key["amplifier"].default
    older = FORM.read({"amplifier": text.rsplit(",", 1)[0]})["amplifier"][0]
    assert older == {**FORM.read({})["amplifier"][0], "may_be_bridged": None}
    with pytest.raises(InputError):
        FORM.read({"amplifier": text.rsplit(",", 2)[0]})

"""What plans are ranked and compared by, worked out by hand."""

from dataclasses import replace

import pytest
from arrangement_files import plan_of_text, results, text_of
from choosing_systems import HAZEL, VAN, WEIGHTS, changed, job_of

from calc.choosing.candidates import power_share
from calc.choosing.checks.amplifier import body_check
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.inputs.declared import values_of
from calc.system.usual import has_usual_lead


def only(weight):
    """Return the weights with one of them 1 and the others 0."""
    return replace(WEIGHTS, **{key: float(key == weight) for key in values_of(WEIGHTS)})


@pytest.mark.parametrize(
    ("weight", "share"),
    [
        ("weight_power", 50 / 80),  # doors rated for 80 W get 50 W, as do subs 75 W of 120 W
        ("weight_wishes", 1.0),
        ("weight_room", 1 - 260 * 180 / (800 * 420)),
        ("weight_draw", 0.8),
        ("weight_price", 0.0),  # it has none
    ],
)
def test_the_van_s_amplifier_scores_what_each_weight_is_for(weight, share):
    found = Judge(Job(VAN.system), HAZEL, only(weight)).best()
    assert found.score == pytest.approx(share, abs=1e-6)


def test_bodies_that_cover_the_bay_leave_no_room():
    bay = {"bay_width_mm": 261.0, "bay_depth_mm": 181.0}
    found = Judge(changed(Job(VAN.system), bay), HAZEL, only("weight_room")).best()
    assert found.score == pytest.approx(1 - 260 * 180 / (261 * 181), abs=1e-6)
    bay = {"bay_width_mm": 100.0, "bay_depth_mm": 100.0}
    assert Judge(changed(Job(VAN.system), bay), HAZEL, only("weight_room")).best().score == 0


def test_ways_to_connect_tell_watts_cable_and_what_they_give_up():
    """Two leads of 5 m and one of 2 m; the head unit's own 18 W drive the rears by its own leads.

    30 W of 200 W are 10·lg(200/30) = 8.2 dB less.
    """
    best, other = results("rears-on-radio")["layouts"]
    watts = {"front doors": 60.0, "subwoofer": 120.0, "rear doors": 18.0}
    assert best["power_per_speaker_w"] == watts
    assert other["power_per_speaker_w"] == {**watts, "subwoofer": 30.0}
    assert best["speaker_cable_m"] == other["speaker_cable_m"] == 2 * 5 + 2
    assert "subwoofer 8.2\u202fdB quieter than its rating allows" in other["gives_up"]


def test_speakers_on_the_radio_count_by_the_share_of_their_rating():
    """18 W of 30 W is the least of all: fronts get more than their rating, the sub 0.6 of it."""
    for rated, share in (("30", 0.6), ("90", 0.2)):
        text = text_of("rears-on-radio", **{"rated_w = 30": f"rated_w = {rated}"})
        assert power_share(plan_of_text(text).candidate.layout) == pytest.approx(share)


@pytest.mark.parametrize(
    ("bay", "body", "fits"),
    [
        ((300, 400), (400, 300), True),  # turned
        ((300, 400), (300, 400), True),
        ((300, 400), (310, 310), False),  # too wide for the narrow side, though less deep
        ((300, 400), (290, 410), False),
        ((300, 400), (100, 401), False),
        ((400, 300), (290, 390), True),
    ],
)
def test_a_bare_body_larger_than_the_bay_is_told_at_once(bay, body, fits):
    job = job_of(bay_width_mm=str(bay[0]), bay_depth_mm=str(bay[1]))
    found = body_check(job, replace(HAZEL, width_mm=float(body[0]), depth_mm=float(body[1])))
    assert (found is None) is fits
    if found:
        assert found.state == "unsuitable"
        assert found.has == f"{body[0]} × {body[1]} mm"
        assert found.needed == f"no more than {bay[0]} × {bay[1]} mm"


@pytest.mark.parametrize(
    ("kind", "factory_w", "told", "is_taken"),
    [
        (None, None, "not-known", True),
        ("replacement", None, "not-known", True),
        ("replacement", 18.0, "not-known", True),
        ("factory", None, "not-known", False),
        (None, 18.0, "not-known", False),  # a power of its own: a factory radio
        (None, None, "no", False),
        (None, None, "yes", False),
    ],
)
def test_a_remote_lead_is_taken_to_be_there_but_with_a_factory_radio(
    kind, factory_w, told, is_taken
):
    head = replace(
        VAN.system.head_unit, kind=kind, factory_power_w=factory_w, trigger_available=told
    )
    assert has_usual_lead(replace(VAN.system, head_unit=head)) is is_taken

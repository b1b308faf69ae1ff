"""What counts first where a seat moves: plugs, then reach, then leads; air is no plug.

A body of 260 × 180 mm fills its bay exactly, so that each way to stand is read off by hand.
"""

import pytest
from asking import plain
from mounting_sheets import amp, asked, place

from calc.answers.cautions import SEAT_TRAVEL
from calc.physics.floor_plan import Amplifier, Bay
from calc.placement import placing as solving
from calc.placement.placing import Problem, solve

SEAT = {"front_edge": "seat", "back_edge": "open", "seat_travel_mm": 200}


def test_air_at_fins_goes_where_a_seat_travels_and_the_controls_are_in_place_for_it():
    """As it is, a hand goes 120 mm into the seat's place; turned by 180° only 30 mm of air do."""
    found = asked(260, 180, amp(front="controls", back="fins"), **SEAT)
    assert place(found) == (0, 0, 180, "in-place")
    (own,) = found.results["placements"]
    assert (own["into_seat_mm"], own["fins_into_seat_mm"]) == (0, 30)
    assert found.verdict.state == "suitable"
    assert "slid by 30 mm" in plain(found.verdict.reason)
    assert "slid by 30 mm" in plain(found.sentence)
    assert any("heatsink fins of A get no air" in one for one in found.cautions)
    assert not any(SEAT_TRAVEL in one for one in found.cautions)


def test_air_goes_into_a_seat_s_place_only_as_far_as_the_seat_slides():
    one = amp(front="fins")
    edges = {"front_edge": "seat"}
    assert asked(260, 180, one, **edges, seat_travel_mm=30).results["feasible"]
    # A quarter turn does not fit, and every other edge is a wall.
    assert asked(260, 180, one, **edges, seat_travel_mm=29).results["feasible"] is False


def test_plugs_out_of_the_seat_s_way_count_more_than_reach():
    """Turned by 180° the hand has the open edge, but the plugs would be pressed."""
    found = asked(260, 180, amp(front="controls", back="power"), **SEAT)
    assert place(found) == (0, 0, 0, "seat-slid")
    assert found.results["placements"][0]["into_seat_mm"] == 0
    assert found.verdict.state == "suitable"


def test_reach_counts_more_than_leads():
    """The lead comes in where its plug is, as it is; turned by 180° it is 260 mm long."""
    one = amp(front="controls", back="fins", left="signal")
    edges = {"left_edge": "open", "right_edge": "open"}
    found = asked(260, 180, one, **SEAT, **edges, entries="signal,0,90")
    assert place(found)[2:] == (180, "in-place")
    assert found.results["lead_in_bay_m"] == 0.26


def test_of_plugs_and_fins_at_one_face_the_plugs_alone_are_pressed():
    given = {"front_edge": "seat", "seat_travel_mm": 100, "fins_room_mm": 100}
    found = asked(260, 180, amp(front="power+fins"), **given)
    (own,) = found.results["placements"]
    assert (own["into_seat_mm"], own["fins_into_seat_mm"]) == (60, 100)
    assert found.verdict.state == "not known"


@pytest.mark.parametrize(("depth", "fits"), [(539, False), (540, None)])
def test_bodies_larger_than_the_floor_are_a_no_without_a_search(depth, fits, monkeypatch):
    """Three bodies of 260 × 180 mm take the floor of a bay of 260 × 540 mm."""
    monkeypatch.setattr(solving, "_FIT_STEPS", 0)
    one = Amplifier(name="a", width_mm=260, depth_mm=180, height_mm=50)
    found = solve(Problem(bay=Bay(width_mm=260, depth_mm=depth), amplifiers=(one,) * 3))
    assert found.fits is fits

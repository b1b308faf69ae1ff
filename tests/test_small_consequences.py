"""What a wrong figure would do in the shop: a lead on the wrong side, a template that gapes, coils
that nobody says how to join.
"""

from dataclasses import replace
from itertools import product
from types import SimpleNamespace as Stub

import pytest
from asking import results
from choosing_systems import HAZEL, best_of, job_of
from shapely import box, union_all

from calc.cabling.power_cable import POWER_CABLE
from calc.choosing.layouts.balance import balance_of
from calc.choosing.plan import plan_of
from calc.choosing.questions.coils import coil_questions
from calc.choosing.questions.demand import demand_unsure
from calc.crossovers.filter_split.sheet import judge as judge_split
from calc.physics.floor_plan import Rectangle
from calc.placement.footprint.tiles import tiles


@pytest.mark.parametrize(("width", "depth"), [*product((90, 400, 700), (100, 500, 900))])
def test_the_sheets_of_a_template_cover_the_body_without_gap_or_overlap(width, depth):
    """Each sheet prints its own part of the outline; glued together they are the outline."""
    around = Rectangle(x_mm=15, y_mm=-20, width_mm=width, depth_mm=depth)
    parts = [
        box(part.x_mm, part.y_mm, part.x_mm + part.width_mm, part.y_mm + part.depth_mm)
        for part in (tile.shows for tile in tiles(around))
    ]
    assert sum(part.area for part in parts) == pytest.approx(width * depth)
    assert union_all(parts).buffer(1e-6).contains(box(15, -20, 15 + width, -20 + depth))
    assert [tile.number for tile in tiles(around)] == list(range(1, len(parts) + 1))
    # In reading order of the printed stack: from the front left, row by row.
    places = [(tile.row, tile.column) for tile in tiles(around)]
    rows, columns = (1 + max(each) for each in zip(*places, strict=True))
    assert places == list(product(range(rows), range(columns)))


@pytest.mark.parametrize("coils", [1, 2])
def test_two_woofers_on_one_output_are_wired_whatever_coils_they_have(coils):
    """2 × 1 and 2 × 2 coils can be joined in several ways; one coil alone cannot."""
    ohm = 8 / coils
    job = job_of(
        speakers=f"woofers,woofer,2,{coils},{ohm},250,50,86,,2,120,,woofer,2,2",
        networks="", head_filters="",
    )  # fmt: skip
    layout = best_of(job, HAZEL).layout
    joined = [use.per_output * coils for use in layout.plan.uses if use.per_output * coils > 1]
    assert len(coil_questions(layout)) == len(joined)


def test_one_driver_is_not_said_to_be_left_out_among_its_like():
    """Where there is one alone, it is the lead that has no contact."""
    said = results(
        "meter-check", drivers=1, coils_per_driver=2, coil_ohm=4, intended="1a+1b", reading_ohm=9999
    )
    assert not [row for row in said["likely"] if "driver 1 " in row["what"]]


def test_single_coils_one_to_an_output_need_no_wiring():
    job = job_of(
        speakers="fronts,full-range,2,1,4,90,30,90,60,2,,,front,1,4", networks="", head_filters=""
    )
    layout = best_of(job, HAZEL).layout
    assert {use.per_output for use in layout.plan.uses} == {1}
    assert coil_questions(layout) == []


def test_of_four_speakers_in_one_row_every_other_one_is_on_the_left():
    job = job_of(
        speakers="fronts,full-range,4,1,4,90,30,90,60,2,,,front,1,4", networks="", head_filters=""
    )
    plan = plan_of(job, best_of(job, HAZEL))
    sides = [channel.side for channel in plan.channels]
    assert sides == ["left", "right", "left", "right"]


def test_a_section_that_burns_is_named_and_an_edge_that_is_not_made_is_counted():
    """Only what is without protection is called so."""

    def said(*states):
        needs = {"kind": "high-pass", "window_hz": (2500.0, 4500.0), "least_order": 2}
        bad = [Stub(state=state, edge=Stub(section=at, **needs)) for at, state in enumerate(states)]
        shown = {0: "tweeter", 1: "midrange"}
        reason = judge_split(None, Stub(bad=bad, spoilt=[], gaps=[], shown=shown)).reason
        return reason.replace("\u202f", " ")

    stop = "Stop: nothing protects the tweeter. It needs a high-pass at 2500 to 4500 Hz"
    assert said("unprotected") == f"{stop}, at least 12 dB/oct."
    assert said("unprotected", "missing") == f"{stop}, at least 12 dB/oct."
    both = said("unprotected", "unprotected")
    assert both == "Stop: nothing protects the tweeter and the midrange."
    missing = "The tweeter has no high-pass that fits: find one for 2500 to 4500 Hz."
    assert said("missing") == missing
    assert said("missing", "missing") == f"{missing} 1 more filter is missing."


def test_own_fuses_bound_how_bad_an_efficiency_may_be():
    """Fuses of 50 A at 14.4 V bear 720 W: 360 W of sound are then half of it at least."""
    amplifier = replace(HAZEL, efficiency_percent=None, fuses_a="25/25")
    unsure = demand_unsure(job_of(), 360.0, amplifier, POWER_CABLE, "power_w")
    assert unsure.worst["efficiency_percent"] == 50.0
    assert unsure.best["efficiency_percent"] > 90


def test_the_drawn_sum_has_the_loudest_row_at_nought_and_the_others_where_they_are():
    layout = best_of(job_of(), HAZEL).layout
    levels = balance_of(layout).row_levels_db()
    assert max(levels.values()) == 0.0
    assert all(-20 < level <= 0 for level in levels.values())
    assert len(set(levels.values())) > 1

"""One run of cable: its fuse, its drop as a network, the laws of its size, its units."""

import json
import math
from dataclasses import replace

import numpy as np
import pint
import pytest
from conftest import ROOT
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.cabling.sizing import Rules, choose, total_drop
from calc.physics import amplifier_draw as demand
from calc.physics import conductors as wire
from calc.physics import feed
from calc.physics import permitted_current as allowed
from calc.physics.amplifier_draw import Demand
from calc.physics.speaker_leads import (
    lead_current,
    lead_damping,
    lead_loss,
    lead_loss_db,
    lead_ohm,
    longest_lead_m,
)

PERMITTED = json.loads((ROOT / "shared/published/permitted-currents.json").read_text("utf-8"))
RATINGS = PERMITTED["fuses"]["ratings_a"]
laws = settings(max_examples=max(200, settings().max_examples), deadline=None)


# ---- fuses -----------------------------------------------------------------------------------


@pytest.mark.parametrize("at", range(len(RATINGS)))
def test_around_a_rating_the_next_fuse_is_taken_where_it_must_be(at):
    rating = RATINGS[at]
    smaller = RATINGS[at - 1] if at else None
    larger = RATINGS[at + 1] if at + 1 < len(RATINGS) else None
    for part in (1 - 1e-12, 1, 1 + 1e-12):  # the last bits of a division do not count
        assert allowed.smallest_fuse(rating * part) == rating
        assert allowed.largest_fuse(rating * part) == rating
    assert allowed.smallest_fuse(rating - 0.001) == allowed.largest_fuse(rating + 0.001) == rating
    assert allowed.smallest_fuse(rating + 0.001) == larger
    assert allowed.largest_fuse(rating - 0.001) == smaller


@given(ampere=st.floats(0, 500))
def test_the_smallest_fuse_carries_the_current_and_no_smaller_one_does(ampere):
    found = allowed.smallest_fuse(ampere)
    assert found in RATINGS
    assert found >= ampere * (1 - 1e-8)
    assert all(one < ampere for one in RATINGS if one < found)


def test_without_a_permitted_current_no_fuse_and_no_current_is_right():
    assert allowed.largest_fuse(None) is None
    assert not allowed.carries(None, 0)
    assert not allowed.carries(60, 60.001)
    assert allowed.smallest_fuse(12, ratings=(10, 16)) == 16


# ---- drop ------------------------------------------------------------------------------------

MATERIALS = ("copper", "cca15", "cca10")
rules = st.builds(
    Rules,
    material=st.sampled_from(MATERIALS),
    sizes=st.sampled_from(["metric", "awg"]),
    conductor_c=st.floats(-20, 100),
    engine_space=st.booleans(),
    bundle=st.sampled_from([1, 1, 2, 3, 5, 24]),
    max_drop_v=st.floats(0.1, 1.5),
    return_by=st.sampled_from(["body", "cable"]),
    body_ohm=st.floats(1e-4, 5e-3),
    connections_ohm=st.floats(1e-5, 3e-3),
)
lengths = st.floats(0.2, 10)
amperes = st.floats(0, 2.5).map(lambda exponent: 10**exponent)


def drop_of_network(one, offer, ampere, length, total):
    """Solve the loop by its nodes: battery, joint, amplifier plus, amplifier minus.

    The battery's minus is the reference; other loads feed their current into the body too.
    """
    cable = 1 / (offer.ohm_per_m * length)
    back = cable if one.return_by == "cable" else 1 / one.body_ohm
    joint = 1 / one.connections_ohm
    matrix = np.array(
        [
            [1, 0, 0, 0],  # the battery holds its voltage
            [-joint, joint + cable, -cable, 0],
            [0, -cable, cable, 0],
            [0, 0, 0, back],
        ]
    )
    others = total - ampere if one.return_by == "body" else 0
    volts = np.linalg.solve(matrix, [14.4, 0, -ampere, ampere + others])
    return volts[0] - (volts[2] - volts[3])


@given(one=rules, at=st.integers(0, 10), ampere=amperes, more=st.floats(0, 200), length=lengths)
def test_the_drop_is_that_of_the_loop_solved_as_a_network(one, at, ampere, more, length):
    offer = one.offers[at]
    expected = drop_of_network(one, offer, ampere, length, ampere + more)
    found = total_drop(one, offer, ampere=ampere, length_m=length, total_a=ampere + more)
    # Volts of ten in a matrix whose conductances span six decades.
    assert found == pytest.approx(expected, rel=1e-8, abs=1e-9)
    alone = total_drop(one, offer, ampere=ampere, length_m=length)
    assert alone == pytest.approx(found - one.body_drop(more), abs=1e-9)


@given(one=rules, ampere=amperes, more=st.floats(0, 100), length=lengths)
def test_a_straight_conductor_of_the_required_area_drops_exactly_the_limit(
    one, ampere, more, length
):
    given_run = {"ampere": ampere, "length_m": length, "total_a": ampere + more}
    area = one.required_mm2(**given_run)
    fixed = ampere * one.connections_ohm + one.body_drop(ampere + more)
    if area is None:
        assert fixed >= one.max_drop_v
        return
    bare = wire.Size(name="", area_mm2=area, copper_ohm_per_m=wire.COPPER_OHM_MM2_M / area)
    drop = total_drop(one, one.offer_of(bare), **given_run)
    assert drop == pytest.approx(one.max_drop_v, rel=1e-9)


@given(one=rules, ampere=amperes, more=st.floats(0, 100), length=lengths)
def test_the_size_by_drop_is_the_thinnest_that_keeps_it_whatever_it_may_carry(
    one, ampere, more, length
):
    given_run = {"ampere": ampere, "length_m": length, "total_a": ampere + more}
    drops = [drop_of_network(one, offer, *given_run.values()) for offer in one.offers]
    expected = next(
        (o for o, drop in zip(one.offers, drops, strict=True) if drop <= one.max_drop_v), None
    )
    found = choose(one, full_a=9999, **given_run)
    assert found.by_drop == expected
    assert found.offer is found.fuse_a is None


def test_no_area_is_enough_where_body_and_joints_use_up_the_drop():
    one = Rules(max_drop_v=0.5, body_ohm=0.005, connections_ohm=0.005)
    assert one.required_mm2(ampere=50, length_m=1, total_a=50) is None  # exactly used up
    assert one.required_mm2(ampere=49, length_m=1, total_a=49) > 0
    assert replace(one, return_by="cable").required_mm2(ampere=50, length_m=1, total_a=50) > 0


# ---- the choice ------------------------------------------------------------------------------

powers = st.floats(0.7, 3.6).map(lambda exponent: 10**exponent)
duties = st.sampled_from(["full", "heavy", "normal"])
# Power, duty and length of a run.
jobs = st.tuples(powers, duties, lengths)


def chosen(one, job):
    power, duty, length = job
    load = Demand(power_w=power, efficiency=0.6, supply_v=14.4, amplifier_class="ab")
    return choose(one, ampere=load.current(duty), full_a=load.full_a, length_m=length)


def thickness(one, job):
    offer = chosen(one, job).offer
    return math.inf if offer is None else offer.size.area_mm2


@laws
@given(one=rules, job=jobs, other=lengths)
def test_a_longer_run_is_never_thinner(one, job, other):
    short, long = sorted((job[2], other))
    assert thickness(one, (*job[:2], short)) <= thickness(one, (*job[:2], long))


@laws
@given(one=rules, job=jobs, other=powers)
def test_more_power_never_asks_for_a_thinner_cable(one, job, other):
    less, more = sorted((job[0], other))
    assert thickness(one, (less, *job[1:])) <= thickness(one, (more, *job[1:]))


@laws
@given(one=rules, job=jobs)
def test_a_higher_duty_never_asks_for_a_thinner_cable(one, job):
    found = [thickness(one, (job[0], duty, job[2])) for duty in ("normal", "heavy", "full")]
    assert found == sorted(found)


HARDER = {
    "conductor_c": st.floats(-40, 150),
    "bundle": st.integers(1, 24),
    "engine_space": st.booleans(),
    "body_ohm": st.floats(0, 0.01),
    "connections_ohm": st.floats(0, 0.01),
    "max_drop_v": st.floats(0.05, 2),
}


@pytest.mark.parametrize("key", HARDER)
@laws
@given(one=rules, job=jobs, data=st.data())
def test_harder_conditions_never_ask_for_a_thinner_cable(key, one, job, data):
    easy, hard = sorted(data.draw(st.tuples(HARDER[key], HARDER[key])))
    if key == "max_drop_v":
        easy, hard = hard, easy
    assert thickness(replace(one, **{key: easy}), job) <= thickness(
        replace(one, **{key: hard}), job
    )


@laws
@given(one=rules, job=jobs)
def test_copper_is_never_thicker_than_copper_clad_aluminium(one, job):
    found = [thickness(replace(one, material=each), job) for each in MATERIALS]
    assert found == sorted(found)


@laws
@given(one=rules, job=jobs)
def test_the_fuse_lies_between_the_full_current_and_what_the_cable_may_carry(one, job):
    found = chosen(one, job)
    if found.offer is None:
        assert found.fuse_a is None
        return
    full = job[0] / (0.6 * 14.4)
    assert full * (1 - 1e-8) <= found.fuse_a <= found.offer.permitted_a * (1 + 1e-8)
    assert found.fuse_a == min(rating for rating in RATINGS if rating >= full * (1 - 1e-8))


def faults(one, job, offer):
    """Tell what is wrong with a size: its drop, its heat, its fuse, in this order."""
    power, duty, length = job
    full = power / (0.6 * 14.4)
    ampere = full * math.sqrt({"full": 1, "heavy": 1 / 3, "normal": 1 / 8}[duty])
    body = one.body_ohm if one.return_by == "body" else 0
    ways = {"body": 1, "cable": 2}[one.return_by]
    drop = ampere * (offer.ohm_per_m * length * ways + one.connections_ohm + body)
    may = 0 if offer.permitted_a is None else offer.permitted_a
    fuse = min((rating for rating in RATINGS if rating >= full), default=math.inf)
    return {
        kind: wrong
        for kind, wrong in (
            ("drop", drop > one.max_drop_v),
            ("heat", full > may),
            ("fuse", fuse > may),
        )
        if wrong
    }


@laws
@given(one=rules, job=jobs)
def test_the_choice_is_the_thinnest_without_a_fault_and_its_limit_is_the_next_ones_fault(one, job):
    wrong = [faults(one, job, offer) for offer in one.offers]
    found = chosen(one, job)
    if found.offer is None:
        assert all(wrong)
        # The first of drop, heat and fuse that no size meets.
        unmet = [kind for kind in ("drop", "heat", "fuse") if all(kind in each for each in wrong)]
        assert found.limited_by == unmet[0]
        return
    at = one.offers.index(found.offer)
    assert at == next(place for place, each in enumerate(wrong) if not each)
    # Drop comes first, then heat, then the fuse; the thinnest of all is limited by drop.
    assert found.limited_by == next(iter(wrong[at - 1]) if at else iter(["drop"]))


@pytest.mark.parametrize(
    ("full", "length", "limit", "area"),
    [
        (25, 0.5, "drop", 1.5),  # 1.5 mm² carries 27 A and takes a fuse of 25 A: the thinnest
        (26, 0.5, "fuse", 2.5),  # but not one of 30 A
        (34, 0.5, "heat", 2.5),  # 2.5 mm² carries 38.7 A and takes a fuse of 35 A
        (26, 12, "drop", 16),
        (430, 0.5, "heat", None),
        (405, 0.5, "fuse", None),  # 95 mm² carries 413 A, too little for a fuse of 450 A
        (200, 50, "drop", None),
    ],
)
def test_each_limit_occurs(full, length, limit, area):
    found = choose(Rules(body_ohm=0.0005), ampere=full, full_a=full, length_m=length)
    assert found.limited_by == limit
    assert (found.offer and found.offer.size.area_mm2) == area


def test_with_insulation_that_has_no_table_no_size_is_offered():
    found = choose(Rules(insulation_c=None), ampere=10, full_a=10, length_m=3)
    assert (found.offer, found.limited_by) == (None, "heat")
    assert found.by_drop.size.area_mm2 == 1.5  # 10 A · (14.87 mΩ/m · 3 m + 2 mΩ) = 0.466 V


# ---- speaker leads ---------------------------------------------------------------------------


@given(
    load=st.floats(1, 16),
    per_m=st.floats(1e-3, 0.1),
    length=st.floats(0.1, 20),
    volt=st.floats(1, 60),
)
def test_a_lead_and_its_speaker_divide_the_voltage(load, per_m, length, volt):
    # Three resistors in a row, out, speaker and back, solved for the two nodes between them.
    way, speaker = 1 / (per_m * length), 1 / load
    nodes = np.linalg.solve([[way + speaker, -speaker], [-speaker, way + speaker]], [way * volt, 0])
    left = (nodes[0] - nodes[1]) ** 2 / volt**2
    ohm = lead_ohm(ohm_per_m=per_m, length_m=length)
    assert lead_loss(load_ohm=load, ohm=ohm) == pytest.approx(1 - left, abs=1e-10)
    assert lead_loss_db(load_ohm=load, ohm=ohm) == pytest.approx(-10 * math.log10(left), abs=1e-9)


@given(load=st.floats(1, 16), ohm=st.floats(1e-4, 4))
def test_the_damping_that_is_left_tells_the_loss(load, ohm):
    damping = lead_damping(load_ohm=load, ohm=ohm)
    assert damping * ohm == pytest.approx(load, rel=1e-12)
    assert lead_loss(load_ohm=load, ohm=ohm) == pytest.approx(
        1 - (1 + 1 / damping) ** -2, abs=1e-12
    )


@given(load=st.floats(1, 16), per_m=st.floats(1e-3, 0.1), loss=st.floats(0.05, 6))
def test_the_longest_lead_loses_what_it_may(load, per_m, loss):
    length = longest_lead_m(load_ohm=load, ohm_per_m=per_m, loss_db=loss)
    left = load / (load + 2 * per_m * length)
    assert -20 * math.log10(left) == pytest.approx(loss, rel=1e-9)


def test_a_lead_without_resistance_loses_nothing():
    assert lead_loss(load_ohm=4, ohm=0) == lead_loss_db(load_ohm=4, ohm=0) == 0
    assert lead_damping(load_ohm=4, ohm=0) is None
    assert lead_current(power_w=None, load_ohm=4) is None


# ---- units -----------------------------------------------------------------------------------

UNIT = pint.UnitRegistry()
Q = UNIT.Quantity
RHO, ALPHA = Q(1, "ohm * mm**2 / m") / 58, Q(0.00393, "1 / kelvin")
WARM = 1 + ALPHA * (Q(50, "degC") - Q(20, "degC"))
LOAD = Demand(power_w=250, efficiency=0.6, supply_v=14.4, amplifier_class="d", idle_w=12)
RULES = Rules(return_by="body", body_ohm=0.002, connections_ohm=0.001)
TEN = next(one for one in RULES.offers if one.size.area_mm2 == 10)
WATT, VOLT, AMPERE = Q(250, "watt"), Q(14.4, "volt"), Q(30, "ampere")
AREA, LENGTH, BODY, JOINT = Q(10, "mm**2"), Q(5, "m"), Q(2, "milliohm"), Q(1, "milliohm")
CABLE = Q(1.91, "ohm / km") * WARM
LEAD, SPEAKER = Q(13.3, "ohm / km") * 2 * LENGTH, Q(4, "ohm")
TWENTY = Q(20, "hour")


# What a formula returns, the unit that its words name, and the same with units all along.
@pytest.mark.parametrize(
    ("found", "unit", "expected"),
    [
        (wire.awg_diameter_mm("4/0"), "mm", Q(0.46, "inch")),
        (wire.round_area_mm2(diameter_mm=5), "mm**2", math.pi / 4 * Q(5, "mm") ** 2),
        (wire.round_diameter_mm(area_mm2=10), "mm", (4 / math.pi * AREA) ** 0.5),
        (wire.awg_area_mm2("4/0"), "mm**2", Q(211600 * math.pi / 4, "thou**2")),
        (wire.strands_area_mm2(strands=7, strand_mm=2), "mm**2", 7 * math.pi * Q(1, "mm") ** 2),
        (wire.warmed(ohm_20c=3, conductor_c=50), "ohm", Q(3, "ohm") * WARM),
        (
            wire.bare_ohm_per_m(area_mm2=10, material="copper", conductor_c=50),
            "ohm / m",
            RHO / AREA * WARM,
        ),
        (5 * wire.stranded("", 10).copper_ohm_per_m, "ohm", 1.02 * RHO * LENGTH / AREA),
        (wire.metric_size(10).copper_ohm_per_m, "ohm / m", Q(1.91, "ohm / km")),
        (TEN.ohm_per_m, "ohm / m", CABLE),
        (5 * TEN.size.kg_per_m("copper"), "kg", Q(8890, "kg / m**3") * AREA * LENGTH),
        (LOAD.full_a, "ampere", WATT / (Q(60, "percent") * VOLT)),
        (LOAD.idle_a, "ampere", Q(12, "watt") / VOLT),
        (LOAD.heat_w("full"), "watt", WATT / 0.6 - WATT),
        (LOAD.heat_w("normal"), "watt", WATT / 0.6 / 8 + Q(12, "watt") - WATT / 8),
        (
            demand.longest_idle_w(power_w=250, efficiency=0.6),
            "watt",
            2 / 3 * WATT / Q(60, "percent"),
        ),
        (
            demand.drop_loss(drop_v=0.5, supply_v=14.4),
            "dimensionless",
            1 - ((VOLT - Q(500, "millivolt")) / VOLT) ** 2,
        ),
        (RULES.body_drop(30), "volt", BODY * AMPERE),
        (
            RULES.run_drop(TEN, ampere=30, length_m=5),
            "volt",
            AMPERE * (CABLE * LENGTH + JOINT),
        ),
        (
            total_drop(RULES, TEN, ampere=30, length_m=5),
            "volt",
            AMPERE * (CABLE * LENGTH + JOINT + BODY),
        ),
        (
            RULES.required_mm2(ampere=30, length_m=5, total_a=40),
            "mm**2",
            AMPERE
            * RHO
            * WARM
            * LENGTH
            / (Q(500, "millivolt") - JOINT * AMPERE - BODY * Q(40, "ampere")),
        ),
        (lead_ohm(ohm_per_m=0.0133, length_m=5), "ohm", LEAD),
        (
            lead_loss(load_ohm=4, ohm=0.133),
            "dimensionless",
            1 - (SPEAKER / (SPEAKER + LEAD)) ** 2,
        ),
        (lead_damping(load_ohm=4, ohm=0.133), "dimensionless", SPEAKER / LEAD),
        (lead_current(power_w=250, load_ohm=4), "ampere", (WATT / SPEAKER) ** 0.5),
        (
            feed.peukert_hours(battery_ah=70, draw_a=7, peukert=1),
            "hour",
            Q(70, "A*hour") / Q(7, "A"),
        ),
        (
            feed.peukert_hours(battery_ah=70, draw_a=7, peukert=1.2),
            "hour",
            TWENTY * (Q(70, "A*hour") / (TWENTY * Q(7, "A"))).to("dimensionless") ** 1.2,
        ),
        (
            feed.alternator_margin(alternator_a=120, share=0.5, vehicle_a=35, amplifier_a=30),
            "ampere",
            Q(50, "percent") * Q(120, "A") - Q(35, "A") - AMPERE,
        ),
    ],
)
def test_a_formula_s_unit_is_the_one_that_its_words_name(found, unit, expected):
    assert expected.to(unit).magnitude == pytest.approx(found, rel=1e-12)


def test_a_loss_in_decibels_is_the_level_of_the_power_that_is_left():
    left = (SPEAKER / (SPEAKER + LEAD)).to("dimensionless") ** 2
    found = lead_loss_db(load_ohm=4, ohm=0.133)
    assert -left.to("decibel").magnitude == pytest.approx(found, rel=1e-12)

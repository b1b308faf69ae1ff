"""Conductors, what they may carry, what amplifiers draw: published tables, laws, other ways."""

import json
import math
from itertools import pairwise

import pytest
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st

from calc.cabling.words import FUSE_PLACE
from calc.physics import conductors as wire
from calc.physics import permitted_current as allowed
from calc.physics.amplifier_draw import DUTIES, Demand, drop_loss, longest_idle_w
from calc.physics.feed import alternator_margin, peukert_hours

CONDUCTORS = json.loads((ROOT / "shared/published/conductors.json").read_text("utf-8"))
PERMITTED = json.loads((ROOT / "shared/published/permitted-currents.json").read_text("utf-8"))
CLASS_5 = [tuple(row) for row in CONDUCTORS["class_5"]["rows"]]
AWG = [tuple(row) for row in CONDUCTORS["awg"]["rows"]]
STRANDED = [tuple(row) for row in CONDUCTORS["stranded_awg"]["rows"]]
SOLID = [tuple(row) for row in CONDUCTORS["solid_awg"]["rows"]]
CLAD = CONDUCTORS["copper_clad_aluminium"]["rows"]
AMPACITY = [tuple(row) for row in PERMITTED["single_conductors"]["rows"]]
BUNDLES = [tuple(row) for row in PERMITTED["bundles"]["rows"]]
RATINGS = PERMITTED["fuses"]["ratings_a"]
GAUGES = ["4/0", "3/0", "2/0", "1/0", *map(str, range(1, 41))]
MATERIALS = ("copper", "cca10", "cca15")
KFT = 304.8  # m in 1000 international feet
THINNEST, THICKEST = wire.awg_area_mm2("18"), wire.awg_area_mm2("4/0")

areas = st.floats(math.log(THINNEST), math.log(THICKEST)).map(math.exp)
materials = st.sampled_from(MATERIALS)


# ---- data and code ---------------------------------------------------------------------------


@pytest.mark.parametrize("tables", [CONDUCTORS, PERMITTED])
def test_every_shared_table_says_where_it_comes_from(tables):
    assert all(table["source"] and table["mark"] for table in tables.values())


def test_the_tables_hold_what_is_printed():
    """Read from `shared/published` by the code alone; here are words of the printed tables."""
    # IEC 60228, class 5, plain wires: 0.5 39.0 … 1.5 13.3 … 16 1.21 … 95 0.206 Ω/km.
    assert [wire.CLASS_5_OHM_KM[mm2] for mm2 in (0.5, 1.5, 16, 95)] == [39.0, 13.3, 1.21, 0.206]
    # 33 CFR 183.425, table 5, 105 °C: 18 20 … 8 80 … 4 160 … 4/0 445 A; engine spaces 0.85.
    assert [allowed.PERMITTED_A[awg] for awg in ("18", "8", "4", "4/0")] == [20, 80, 160, 445]
    assert (allowed.INSULATION_C, allowed.TABLE_AIR_C, allowed.ENGINE_SPACE) == (105, 30, 0.85)
    # The same, notes: 3 conductors 0.7, 4 to 6 0.6, 7 to 24 0.5.
    assert allowed.BUNDLE_FACTORS == ((2, 1), (3, 0.7), (6, 0.6), (24, 0.5))
    # IEC 60028: 1/58 Ω·mm²/m, 3.93 × 10⁻³ per K, 8.89 g/cm³; ASTM B566 for clad aluminium.
    assert (wire.COPPER_OHM_MM2_M, wire.ALPHA_PER_K) == (1 / 58, 3.93e-3)
    assert wire.DENSITY_KG_M3 == {"copper": 8890, "cca10": 3320, "cca15": 3630}
    assert wire.RESISTIVITY_RATIO == {"copper": 1, "cca10": 1.59, "cca15": 1.55}


def test_the_tables_run_one_way():
    """A digit that is mistyped in a table shows: thicker carries more, and resists less."""
    for table in (allowed.PERMITTED_A, allowed.FUSES_A):
        values = list(table.values() if isinstance(table, dict) else table)
        assert values == sorted(set(values))
    # From rule to rule of a table the current grows evenly, within a tenth.
    areas = {awg: wire.awg_area_mm2(awg) for awg in allowed.PERMITTED_A}
    for (thin, low), (thick, high) in pairwise(allowed.PERMITTED_A.items()):
        power = math.log(high / low) / math.log(areas[thick] / areas[thin])
        assert 0.3 < power < 0.9, (thin, thick)
    for mm2, ohm_km in wire.CLASS_5_OHM_KM.items():
        assert 1.0 < ohm_km * mm2 * 58 / 1000 < 1.16


@pytest.mark.parametrize(("air_c", "factor"), PERMITTED["hotter_engine_space"]["rows"])
def test_a_hotter_engine_space_leaves_less(air_c, factor):
    assert allowed.engine_factor(air_c) == pytest.approx(factor, abs=0.005)


def test_the_engine_s_factor_falls_from_one_to_nothing_and_keeps_below_the_table_s():
    assert allowed.engine_factor(30) == 1
    factors = [allowed.engine_factor(air) for air in range(30, 105)]
    assert factors == sorted(factors, reverse=True)
    # √(55/75) would be 0.856: from 50 °C on never more than the published factor.
    assert allowed.engine_factor(50) == PERMITTED["engine_space"]["factor"]
    for wrong in (29.9, 105.0, 120.0, math.nan):
        with pytest.raises(ValueError, match="less than the insulation"):
            allowed.engine_factor(wrong)


def test_the_sizes_that_are_bought_and_the_thinnest():
    """Shops: 8, 4, 2, 1/0 AWG or 10, 20, 35, 50 mm².  33 CFR 183.425 (e): at least 16 AWG."""
    assert [one.name for one in wire.KIT_SIZES["awg"]] == ["8 AWG", "4 AWG", "2 AWG", "1/0 AWG"]
    assert [one.area_mm2 for one in wire.KIT_SIZES["metric"]] == [10, 20, 35, 50]
    twenty = wire.KIT_SIZES["metric"][1]
    assert twenty.name == "20 mm²"
    assert twenty.copper_ohm_per_m == pytest.approx(1.02 / 58 / 20)
    assert {"awg": wire.awg_area_mm2("16"), "metric": 1.5} == wire.LEAST_POWER_MM2
    assert wire.LEAST_POWER_MM2["metric"] >= wire.awg_area_mm2("16")


def test_the_words_hold_the_fuse_s_places():
    place = PERMITTED["fuse_position"]
    for key in ("boat_mm", "boat_in_a_sheath_mm", "car_mm"):
        assert f"{place[key]:,} mm" in FUSE_PLACE


def test_the_sizes_on_offer_are_the_tables_thinnest_first():
    assert [one.area_mm2 for one in wire.METRIC_SIZES] == [area for area, _ in CLASS_5]
    assert [one.name for one in wire.AWG_SIZES] == [
        f"{awg} AWG" for awg, _ in AMPACITY if awg != "3"
    ]
    for sizes in wire.SIZES.values():
        assert all(a.area_mm2 < b.area_mm2 for a, b in pairwise(sizes))


# ---- gauges ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("awg", "inch", "circular_mil"), AWG)
def test_a_gauge_has_its_printed_diameter_and_circular_mils(awg, inch, circular_mil):
    found = wire.awg_diameter_mm(awg) / 25.4
    assert found == pytest.approx(inch, abs=0.5e-4)  # printed with four decimals
    # A mil of diameter is printed with one decimal: 2·d·0.05 of the square.  Then the
    # square is rounded to its fourth digit, or to tens.
    mils = 1000 * inch
    rounding = 0.1 * mils + (50 if circular_mil > 1e5 else 5)
    area_mil2 = wire.awg_area_mm2(awg) / (math.pi / 4 * 0.0254**2)
    assert area_mil2 == pytest.approx(circular_mil, abs=rounding)


def test_the_two_gauges_that_define_the_others_are_exact():
    assert wire.awg_diameter_mm("36") == 0.127
    assert wire.awg_diameter_mm("4/0") == pytest.approx(0.46 * 25.4, rel=1e-14)


@pytest.mark.parametrize(("thick", "thin"), list(pairwise(GAUGES)))
def test_from_gauge_to_gauge_the_diameter_falls_by_the_39th_root_of_92(thick, thin):
    assert wire.gauge_number(thin) == wire.gauge_number(thick) + 1
    ratio = wire.awg_diameter_mm(thick) / wire.awg_diameter_mm(thin)
    assert ratio**39 == pytest.approx(92, rel=1e-12)


@pytest.mark.parametrize("at", range(len(GAUGES)))
def test_the_nearest_gauge_to_a_gauge_is_itself(at):
    awg = GAUGES[at]
    step = 92 ** (2 / 39)
    for part in (-0.49, 0, 0.49):
        area = wire.awg_area_mm2(awg) * step**part
        assert wire.nearest_awg(area_mm2=area) == awg
        assert wire.round_area_mm2(diameter_mm=wire.round_diameter_mm(area_mm2=area)) == (
            pytest.approx(area, rel=1e-14)
        )


@pytest.mark.parametrize(("awg", "part"), [("4/0", 0.51), ("40", -0.51), ("4/0", 9), ("40", -9)])
def test_beyond_half_a_gauge_there_is_no_nearest(awg, part):
    assert wire.nearest_awg(area_mm2=wire.awg_area_mm2(awg) * 92 ** (2 * part / 39)) is None


@pytest.mark.parametrize(
    "text", ["", "0", "5/0", "0/0", "41", "-1", "08", " 8", "8.0", "8 AWG", "1/1", "²", "٨"]
)
def test_what_is_not_a_gauge_is_refused(text):
    with pytest.raises(ValueError, match="gauges run from"):
        wire.gauge_number(text)


@given(strands=st.integers(1, 5000), strand=st.floats(0.05, 0.5))
def test_strands_have_the_area_of_so_many_wires(strands, strand):
    expected = strands * math.pi * (strand / 2) ** 2
    found = wire.strands_area_mm2(strands=strands, strand_mm=strand)
    assert found == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("strands", "strand"), [(0, 0.2), (-1, 0.2), (7, 0), (7, -1), (7, math.nan)]
)
def test_no_strands_and_strands_without_thickness_are_refused(strands, strand):
    with pytest.raises(ValueError, match="at least one strand"):
        wire.strands_area_mm2(strands=strands, strand_mm=strand)


# ---- resistance ------------------------------------------------------------------------------


@pytest.mark.parametrize(("awg", "ohm_kft"), STRANDED)
def test_a_warm_stranded_gauge_has_its_published_resistance(awg, ohm_kft):
    warm_c = CONDUCTORS["stranded_awg"]["conductor_c"]
    found = KFT * wire.awg_size(awg).ohm_per_m(material="copper", conductor_c=warm_c)
    # Three digits are printed, 0.26 % at the worst; strands of rounded diameters do the rest.
    assert found == pytest.approx(ohm_kft, rel=0.005)


def test_the_coefficient_of_copper_is_the_one_printed_for_75_degrees():
    # R = R_75·(1 + α_75·(T − 75 °C)) is the same line: 1/α_75 = 1/α_20 + 55 K.
    printed = CONDUCTORS["stranded_awg"]["alpha_at_75c_per_k"]
    found = 1 / (1 / wire.ALPHA_PER_K + 55)
    assert found == pytest.approx(printed, abs=0.5e-5)  # printed with five decimals
    assert wire.warmed(ohm_20c=0.3, conductor_c=20) == 0.3


@pytest.mark.parametrize(("awg", "ohm_kft"), SOLID)
def test_a_solid_gauge_has_its_published_resistance(awg, ohm_kft):
    area = wire.awg_area_mm2(awg)
    found = KFT * wire.bare_ohm_per_m(area_mm2=area, material="copper", conductor_c=20)
    assert found == pytest.approx(ohm_kft, abs=0.5e-5 if ohm_kft < 0.1 else 0.5e-4)  # as printed


@pytest.mark.parametrize(("area", "ohm_km"), CLASS_5)
def test_class_5_lies_a_tenth_above_a_stranded_cable_of_the_nominal_area(area, ohm_km):
    # The standard tells the highest resistance: it leaves room for strands at the thin end of
    # their tolerance and for the lay of bunches.  Over all sizes the room is 8 to 14 %.
    found = ohm_km / (1000 * wire.LAY * wire.COPPER_OHM_MM2_M / area)
    assert 1.08 < found < 1.16
    assert wire.metric_size(area).copper_ohm_per_m == ohm_km / 1000


def test_a_thicker_standard_size_has_less_resistance_in_every_material():
    for sizes in wire.SIZES.values():
        for material in MATERIALS:
            found = [one.ohm_per_m(material=material, conductor_c=50) for one in sizes]
            assert found == sorted(found, reverse=True)


@given(area=areas, material=materials, warm_c=st.floats(-40, 150))
def test_stranded_cable_is_two_hundredths_longer_than_straight_wire(area, material, warm_c):
    bare = wire.bare_ohm_per_m(area_mm2=area, material=material, conductor_c=warm_c)
    found = wire.stranded("own", area).ohm_per_m(material=material, conductor_c=warm_c)
    assert found == pytest.approx(1.02 * bare, rel=1e-12)


def test_a_metric_size_between_two_standard_ones_has_a_resistance_between_theirs():
    """A cable must not count for more than a thicker one, whatever is printed on it."""
    areas = [0.2 * 1.03**step for step in range(220)]  # 0.2 to 130 mm²
    ohms = [wire.metric_size(area).copper_ohm_per_m for area in areas]
    assert ohms == sorted(ohms, reverse=True)
    # Never better than strands of the same area, and at most 15 % worse.
    for area, ohm in zip(areas, ohms, strict=True):
        strands = wire.stranded("", area).copper_ohm_per_m
        assert strands <= ohm <= 1.15 * strands
    assert [wire.metric_size(area).name for area in (3, 0.75)] == ["3 mm²", "0.75 mm²"]


@pytest.mark.parametrize("row", CLAD, ids=lambda row: row["material"])
def test_copper_clad_aluminium_is_the_mixture_of_its_metals(row):
    copper, aluminium = CONDUCTORS["copper"], CONDUCTORS["aluminium"]
    share = row["copper_share"]
    density = share * copper["density_kg_m3"] + (1 - share) * aluminium["density_kg_m3"]
    assert row["density_kg_m3"] == pytest.approx(density, abs=5)  # printed in tens
    # Side by side conductivities add; the standard gives a limit, up to 5 % above the mixture.
    mixture = 1 / (share + (1 - share) * aluminium["conductivity_ratio"])
    assert mixture < row["resistivity_ratio"] < 1.05 * mixture


# ---- permitted current -----------------------------------------------------------------------


@pytest.mark.parametrize(("awg", "ampere"), AMPACITY)
def test_a_gauge_carries_what_the_table_says(awg, ampere):
    area = wire.awg_area_mm2(awg)
    for part in (1 - 1e-12, 1, 1 + 1e-12):
        assert allowed.table_current(area * part) == ampere
    assert allowed.permitted_current(wire.awg_size(awg)) == ampere


@pytest.mark.parametrize(("thin", "thick"), list(pairwise(AMPACITY)))
@pytest.mark.parametrize("part", [0.25, 0.5, 0.9])
def test_between_two_gauges_logarithm_runs_with_logarithm(thin, thick, part):
    (thin_awg, low), (thick_awg, high) = thin, thick
    ends = wire.awg_area_mm2(thin_awg), wire.awg_area_mm2(thick_awg)
    found = allowed.table_current(ends[0] ** (1 - part) * ends[1] ** part)
    assert found == pytest.approx(low ** (1 - part) * high**part, rel=1e-12)


@given(first=areas, second=areas)
def test_a_thicker_cable_never_carries_less(first, second):
    thin, thick = sorted((first, second))
    assert allowed.table_current(thin) <= allowed.table_current(thick)


@pytest.mark.parametrize("area", [0.5, 0.75, 0.999 * THINNEST, 1.001 * THICKEST, 150])
def test_outside_the_table_nothing_is_told(area):
    assert allowed.table_current(area) is None
    assert allowed.permitted_current(wire.metric_size(area)) is None


@pytest.mark.parametrize("insulation", [None, 60, 90, 104.9, 125])
def test_for_other_insulation_nothing_is_told(insulation):
    assert allowed.permitted_current(wire.awg_size("4"), insulation_c=insulation) is None


@pytest.mark.parametrize("conductors", range(1, 25))
def test_a_bundle_has_the_factor_of_its_row(conductors):
    rows = [factor for least, most, factor in BUNDLES if least <= conductors <= most]
    (expected,) = rows or [1]
    assert allowed.bundle_factor(conductors) == expected


@pytest.mark.parametrize("conductors", [-1, 0, 25, 100])
def test_a_bundle_outside_the_table_is_refused(conductors):
    with pytest.raises(ValueError, match="bundles of 1 to 24"):
        allowed.bundle_factor(conductors)


@given(area=areas, material=materials, engine=st.booleans(), bundle=st.integers(1, 24))
def test_the_factors_multiply(area, material, engine, bundle):
    found = allowed.permitted_current(
        wire.stranded("", area), material=material, engine_space=engine, bundle=bundle
    )
    expected = allowed.table_current(area) * allowed.material_factor(material)
    expected *= (PERMITTED["engine_space"]["factor"] if engine else 1) * allowed.bundle_factor(
        bundle
    )
    assert found == pytest.approx(expected, rel=1e-12)


@given(area=areas, material=materials, warm_c=st.floats(20, 105))
def test_every_material_gives_off_the_heat_of_copper_at_its_permitted_current(
    area, material, warm_c
):
    cable = wire.stranded("", area)
    heat, copper_heat = (
        allowed.permitted_current(cable, material=one) ** 2
        * cable.ohm_per_m(material=one, conductor_c=warm_c)
        for one in (material, "copper")
    )
    assert heat == pytest.approx(copper_heat, rel=1e-12)


@pytest.mark.parametrize(
    ("material", "factor"), PERMITTED["copper_clad_aluminium"]["factors"].items()
)
def test_the_derived_factors_are_those_written_down(material, factor):
    assert allowed.material_factor(material) == pytest.approx(factor, abs=0.005)  # two decimals


# ---- what amplifiers draw --------------------------------------------------------------------

classes = st.sampled_from(["ab", "d", None])
demands = st.builds(
    Demand,
    power_w=st.floats(0, 5000),
    efficiency=st.floats(0.2, 1),
    supply_v=st.floats(9, 16),
    amplifier_class=classes,
    idle_w=st.floats(0, 50),
)
duties = st.sampled_from(list(DUTIES))


def test_the_duties():
    """IEC 62368-1: normally an eighth of the power; loud, by common practice, a third."""
    assert DUTIES == {"full": 1, "heavy": 1 / 3, "normal": 1 / 8}


# 250 W at 60 % and 14.4 V: 250/8.64 = 28.935 A.  By hand: a third and an eighth of it, and
# its 1/√3 and 1/√8, 0.5774 and 0.3536; with 12 W idle, class D draws 12/14.4 = 0.8333 A more.
@pytest.mark.parametrize(
    ("duty", "class_d", "class_ab"),
    [("full", 28.935, 28.935), ("heavy", 10.4784, 16.7057), ("normal", 4.4502, 10.2301)],
)
def test_the_currents_of_an_amplifier_reckoned_by_hand(duty, class_d, class_ab):
    given_data = {"power_w": 250, "efficiency": 0.6, "supply_v": 14.4, "idle_w": 12}
    d, ab, unknown = (Demand(**given_data, amplifier_class=one) for one in ("d", "ab", None))
    assert d.current(duty) == pytest.approx(class_d, abs=1e-3)
    assert ab.current(duty) == pytest.approx(class_ab, abs=1e-3)
    # Where the class is not known, the two are the bounds.
    assert unknown.current(duty) == d.current(duty)
    assert unknown.upper_current(duty) == unknown.most_current(duty) == ab.current(duty)
    for known in (d, ab):
        assert known.upper_current(duty) is None
        assert known.most_current(duty) == known.current(duty)


@given(one=demands, duty=duties)
def test_what_goes_in_comes_out_as_power_or_as_heat(one, duty):
    drawn_w = one.supply_v * one.current(duty)
    assert drawn_w == pytest.approx(one.power_w * DUTIES[duty] + one.heat_w(duty), abs=1e-8)
    assert one.heat_w(duty) >= -1e-8


@given(one=demands, duty=duties)
def test_the_current_that_counts_is_never_below_the_current(one, duty):
    heat = one.supply_v * one.most_current(duty) - one.power_w * DUTIES[duty]
    assert one.most_heat_w(duty) == pytest.approx(heat, abs=1e-9)
    assert one.most_current(duty) >= one.current(duty)
    if duty != "full":
        assert one.most_current(duty) >= one.idle_a == one.idle_w / one.supply_v


@given(one=demands, part=st.floats(0, 1))
def test_a_higher_duty_draws_more_up_to_the_longest_idle_power(one, part):
    longest = longest_idle_w(power_w=one.power_w, efficiency=one.efficiency)
    fields = {key: getattr(one, key) for key in ("power_w", "efficiency", "supply_v")}
    for kind in ("ab", "d", None):
        same = Demand(**fields, amplifier_class=kind, idle_w=part * longest)
        for current in (same.current, same.most_current):
            found = [current(duty) for duty in ("normal", "heavy", "full")]
            assert found[0] <= found[1] <= found[2] * (1 + 1e-12)
    above = Demand(**fields, idle_w=longest * (1 + 1e-6) + 1e-6)
    assert above.current("heavy") > above.full_a


@pytest.mark.parametrize(
    ("key", "value"),
    [
        *(("efficiency", value) for value in (0, -0.1, 1.001, math.nan)),
        *(("supply_v", value) for value in (0, -12, math.nan)),
        ("power_w", -1),
        ("idle_w", -0.1),
    ],
)
def test_impossible_amplifiers_are_refused(key, value):
    given_data = {"power_w": 250, "efficiency": 0.6, "supply_v": 14.4} | {key: value}
    with pytest.raises(ValueError, match=r"efficiency lies|powers are not below"):
        Demand(**given_data)


@given(supply=st.floats(9, 16), part=st.floats(0, 1), ohm=st.floats(1, 8))
def test_a_drop_costs_what_a_resistor_loses_at_the_lower_voltage(supply, part, ohm):
    drop = part * supply
    before, after = supply**2 / ohm, (supply - drop) ** 2 / ohm
    found = drop_loss(drop_v=drop, supply_v=supply)
    assert found == pytest.approx((before - after) / before, abs=1e-12)


# ---- battery and alternator ------------------------------------------------------------------

batteries, exponents = st.floats(5, 250), st.floats(1, 1.6)


@given(battery=batteries, k=exponents, draw=st.floats(0.1, 300))
def test_peukerts_law(battery, k, draw):
    def hours(draw_a, peukert=k):
        return peukert_hours(battery_ah=battery, draw_a=draw_a, peukert=peukert)

    assert hours(draw, peukert=1) == pytest.approx(battery / draw, rel=1e-12)  # ideal
    assert hours(battery / 20) == pytest.approx(20, rel=1e-12)  # as it is rated
    assert hours(2 * draw) == pytest.approx(hours(draw) / 2**k, rel=1e-12)
    # I^k·t is the same for every draw: Peukert 1897.
    assert draw**k * hours(draw) == pytest.approx((battery / 20) ** k * 20, rel=1e-12)
    # A fast draw takes less out than the rating, a slow one more.
    assert (draw * hours(draw) <= battery * (1 + 1e-12)) or draw < battery / 20


def test_a_small_battery_is_a_battery():
    assert peukert_hours(battery_ah=0.5, draw_a=0.025, peukert=1.2) == pytest.approx(20)
    assert peukert_hours(battery_ah=0.5, draw_a=1, peukert=1) == 0.5


def test_without_a_draw_a_battery_has_no_end():
    assert peukert_hours(battery_ah=70, draw_a=0, peukert=1.2) is None


@pytest.mark.parametrize(
    "wrong", [{"battery_ah": 0}, {"battery_ah": -70}, {"draw_a": -1}, {"peukert": 0.99}]
)
def test_impossible_batteries_are_refused(wrong):
    with pytest.raises(ValueError, match="rating is above 0"):
        peukert_hours(**{"battery_ah": 70, "draw_a": 7, "peukert": 1.2} | wrong)


@given(
    alternator=st.floats(0, 300),
    share=st.floats(0, 1),
    car=st.floats(0, 100),
    amps=st.floats(0, 300),
)
def test_an_alternator_gives_what_is_drawn_and_what_is_left(alternator, share, car, amps):
    margin = alternator_margin(
        alternator_a=alternator, share=share, vehicle_a=car, amplifier_a=amps
    )
    assert margin + car + amps == pytest.approx(share * alternator, abs=1e-9)

"""Ways out by a single figure: worked out by hand, enough as told, and no more than is needed.

The Lantern Van and its amplifier, each time with one thing that does not do.  The figures told are
those of lists of what is sold; the next one on the list must not do.
"""

import pytest
from test_choosing_near import speakers, state, ways

from calc.inputs.declared import fields_of
from calc.system.amplifier import Amplifier

HOT = {"closed": True, "cabin_c": 40.0, "duty": "heavy", "speakers": speakers(2, need_w=60.0)}
UNSWITCHED = {"trigger": False, "signal_sensing": False}

# What is wrong (amplifier, car), the kind of change and its words, what to change, and with what
# it is not enough yet.
CASES = {
    # 130 A of the vehicle and 3.5 A of the amplifier in normal listening, on the road.
    "a larger alternator": (
        {},
        {"vehicle_a": 130.0, "alternator_a": 90.0},
        "car",
        "with an alternator of 140 A",
        {"alternator_a": 140.0},
        {"alternator_a": 120.0},
    ),
    # None is sold that brings 400 A: three quarters of that leave 30 A.
    "less for the vehicle": (
        {},
        {"vehicle_a": 400.0, "alternator_a": 330.0},
        "car",
        "if the vehicle itself draws no more than 300 A",
        {"vehicle_a": 300.0},
        {"vehicle_a": 328.0},
    ),
    # 0.06 Ω of body drop more than 0.5 V from 9 A on, however thick the cable is.
    "a return by cable": (
        {},
        {"body_mohm": 60.0},
        "car",
        "with an earth cable back to the battery",
        {"return": "cable"},
        {"power_m": 0.5},
    ),
    "a line driver": (
        {},
        {"source_v": 0.15},
        "car",
        "with a line driver that delivers 0.2 V",
        {"source_v": 0.2},
        {"source_v": 0.19},
    ),
    "a more sensitive input": (
        {},
        {"source_v": 0.15},
        "amplifier",
        "with an amplifier with an RCA input that works from 0.1 V",
        {"sensitivity_min_v": 0.1},
        {"sensitivity_min_v": 0.2},
    ),
    "an input that works from half a volt": (
        {"sensitivity_min_v": 2.0},
        {"source_v": 0.7},
        "amplifier",
        "with an amplifier with an RCA input that works from 0.5 V",
        {"sensitivity_min_v": 0.5},
        {"sensitivity_min_v": 1.0},
    ),
    # 30 m would do with a cable thicker than any; 20 m do with the thickest.
    "a shorter cable": (
        {},
        {"max_drop_v": 0.07, "power_m": 40.0, "body_mohm": 0.0},
        "car",
        "with a power cable no longer than 20 m",
        {"power_m": 20.0},
        {"power_m": 30.0},
    ),
    # 30 days of 50 mA are 36 Ah; half of 70 Ah are there, half of 80 Ah would do.
    "a larger battery": (
        {"quiescent_a": 0.05, **UNSWITCHED},
        {"parked_days": 30.0},
        "car",
        "with a battery of 80 Ah",
        {"battery_ah": 80.0},
        {"battery_ah": 70.0},
    ),
    # 35 Ah of 48.6 mA: 20 mA are the most on the list.
    "a thriftier amplifier": (
        {"quiescent_a": 0.05, **UNSWITCHED},
        {"parked_days": 30.0},
        "amplifier",
        "with an amplifier that draws at most 20 mA when it is off",
        {"quiescent_a": 0.02},
        {"quiescent_a": 0.05},
    ),
    # 200 days of 5 mA are 24 Ah, of 10 mA 48 Ah.
    "one that draws next to nothing": (
        {"quiescent_a": 0.05},
        {"parked_days": 200.0},
        "amplifier",
        "with an amplifier that draws at most 5 mA when it is off",
        {"quiescent_a": 0.005},
        {"quiescent_a": 0.01},
    ),
    # 50 mA are 1.2 Ah a day: 35 Ah last 29 days.
    "four weeks parked": (
        {"quiescent_a": 0.05},
        {"parked_days": 200.0},
        "car",
        "if it is never parked for more than 28 days",
        {"parked_days": 28.0},
        {"parked_days": 30.0},
    ),
    # 300 mA are 7.2 Ah a day: five days are 36 Ah, more than half of 70 Ah.
    "fewer days parked": (
        {"quiescent_a": 0.3},
        {"parked_days": 30.0},
        "car",
        "if it is never parked for more than 3 days",
        {"parked_days": 3.0},
        {"parked_days": 5.0},
    ),
    # A day of 1.2 A would be 28.8 Ah, two would be 57.6 Ah.
    "every day": (
        {"quiescent_a": 1.2},
        {"parked_days": 30.0},
        "car",
        "if it is driven every day",
        {"parked_days": 1.0},
        {"parked_days": 2.0},
    ),
    # With 0.8 m² it may be or not: of what is not printed the worst counts.
    "more surface around it": (
        {"limit_c": 55.0},
        {**HOT, "area_m2": 0.4},
        "place",
        "in a space with 1.2 m² of surface",
        {"area_m2": 1.2},
        {"area_m2": 0.8},
    ),
    "an open place": (
        {"limit_c": 45.0},
        {**HOT, "area_m2": 0.05},
        "place",
        "in a place that is open to the cabin",
        {"closed": False},
        {"area_m2": 0.15},
    ),
}


def with_change(amplifier, system, change):
    """Return the verdict on the van with a change to its amplifier or to the car."""
    own = {key: value for key, value in change.items() if key in fields_of(Amplifier)}
    rest = {key: value for key, value in change.items() if key not in own}
    return state({**amplifier, **own}, **{**system, **rest})


@pytest.mark.parametrize("name", CASES)
def test_what_is_told_is_enough_and_no_more_than_is_needed(name):
    amplifier, system, kind, words, enough, too_little = CASES[name]
    assert state(amplifier, **system) == "unsuitable"
    (way,) = [way for way in ways(amplifier, **system) if way.kind == kind]
    assert way.words == f"Would work {words}."
    assert with_change(amplifier, system, enough) == "suitable"
    assert with_change(amplifier, system, too_little) in ("unsuitable", "not known")


def test_a_limit_of_no_degrees_is_read_as_any_other():
    """Found by the long run: changes are ranked by ratios, and there is none to 0 °C."""
    found = ways({"limit_c": 0.0}, **HOT, area_m2=0.4)
    assert any("in air at" in way.words for way in found), found


# A place of one's own: nothing in it, nothing around it.
OPEN = dict.fromkeys(("front_edge", "right_edge", "back_edge", "left_edge", "top_edge"), "open")
OPEN |= {"keep_outs": (), "entries": (), "mounted_on": "floor"}


@pytest.mark.parametrize(
    ("height_mm", "size", "is_sure"), [(52.0, (280, 200, 72), True), (None, (280, 200, 80), False)]
)
def test_another_place_is_the_body_and_a_finger_around_it(height_mm, size, is_sure):
    """260 × 180 × 52 mm and 20 mm more each way; a body whose height is not told counts 60 mm."""
    small = {"bay_width_mm": 100.0, "bay_depth_mm": 100.0}
    assert state({"height_mm": height_mm}, **small) == "unsuitable"
    (way,) = [way for way in ways({"height_mm": height_mm}, **small) if way.kind == "place"]
    told = " × ".join(map(str, size))
    lead = "Would" if is_sure else "Could"
    assert way.words.startswith(f"{lead} work in another place of {told} mm, open at its sides")
    width, depth, height = map(float, size)
    bay = {"bay_width_mm": width, "bay_depth_mm": depth, "bay_height_mm": height, **OPEN}
    assert state({"height_mm": height_mm}, **bay) == ("suitable" if is_sure else "not known")
    assert state({"height_mm": height_mm}, **{**bay, "bay_width_mm": 170.0}) == "unsuitable"

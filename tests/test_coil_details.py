"""Details of the coils' formulas that no published number touches: bounds, shares, small lists."""

import re
from fractions import Fraction
from math import comb, factorial, prod

import pytest
from coil_causes import each_alone

from calc.app.contents import CALCULATORS
from calc.coils.networks import networks
from calc.coils.notation import NotationError, read_notation
from calc.coils.pairings import CoilClass
from calc.coils.survey import Survey
from calc.physics.coils import Driver, coil_names

TOUCHING = "(a stray strand, a crushed cable)"


def checked(**given):
    raw = {key: str(value) for key, value in given.items()}
    return CALCULATORS["meter-check"].answer(raw).sheet


# ---- networks --------------------------------------------------------------------------------

SETS = [((4,), (6,)), ((4, 8), (3, 2)), ((1, 2, 6), (2, 2, 1)), ((Fraction(33, 10),), (7,))]


@pytest.mark.parametrize(("ohms", "content"), SETS)
def test_common_currents_turn_as_much_power_into_heat_as_the_load(ohms, content):
    """A load has as many watts as ohms at 1 A, as siemens at 1 V: all of them in the coils."""
    even = [one for one in networks(tuple(map(Fraction, ohms)), content) if one.carried]
    assert {one.kind for one in even} == {"series", "parallel"}
    for one in even:
        parts = zip(content, one.carried, ohms, strict=True)
        heat = sum(number * Fraction(*current) ** 2 * ohm for number, current, ohm in parts)
        assert heat == (one.load if one.kind == "series" else 1 / one.load)


# ---- pairings --------------------------------------------------------------------------------


@pytest.mark.parametrize("drivers", range(1, 5))
@pytest.mark.parametrize("coils", range(1, 5))
def test_a_class_is_open_when_its_coils_can_be_dealt_out_in_more_than_one_way(drivers, coils):
    hands = [comb(coils * number, coils) for number in range(1, drivers + 1)]
    assert CoilClass(drivers, coils).is_open is (prod(hands) // factorial(drivers) > 1)


# ---- faults ----------------------------------------------------------------------------------


@pytest.mark.parametrize("reading", ["0.05", "0.15", "0.2", "0.25"])
def test_the_ends_explain_what_lies_a_touch_from_the_leads(reading):
    said = checked(reading_ohm=reading, lead_ohm="0.15").sentence
    assert f"too low: the two leads probably touch {TOUCHING}." in said


@pytest.mark.parametrize("reading", ["0.04", "0.26"])
def test_the_ends_explain_nothing_further_from_the_leads_than_a_touch(reading):
    said = checked(reading_ohm=reading, lead_ohm="0.15").sentence
    assert f"no usual fault. The nearest is that the two leads touch {TOUCHING}." in said


@pytest.mark.parametrize("reading", ["0", "0.1", "0.15"])
def test_near_nothing_the_lowest_loads_are_the_nearest(reading):
    """Eight coils have more loads than are told; eight of 1 Ω side by side come to 1/8 Ω."""
    likely = checked(
        reading_ohm=reading, lead_ohm="0.1", drivers="4", coil_ohm="1", intended="0", min_load_ohm=8
    ).results["likely"]
    told = {one["expected_low_ohm"] for one in likely if one["kind"] == "arrangement"}
    survey = Survey((Driver(2, 1.0),) * 4)
    lowest = [float(one.load) for one in survey.distinct_loads][: len(told)]
    assert lowest[0] == 1 / 8
    assert sorted(told) == pytest.approx([0.75 * load + 0.1 for load in lowest])


def test_from_a_thousand_ohms_up_there_is_no_path_and_below_there_is_a_bad_contact():
    """1000 Ω is more than eight coils of 64 Ω in a row, and where the page says “no path”."""
    open_ends = checked(reading_ohm="1000")
    assert "no path" in open_ends.sentence
    assert open_ends.results["likely"][0]["expected_low_ohm"] is None
    assert "bad connection" in checked(reading_ohm="999.9").sentence


@pytest.mark.parametrize("reading", ["0.4", "2.5", "5", "9.3", "40", "300"])
def test_what_explains_nothing_follows_by_its_ratio_to_the_reading(reading):
    """A range stands where its middle does, as far below the reading as above it."""
    likely = checked(reading_ohm=reading, drivers="2,4;2,3", intended="1a|1b|2a|2b")
    ranges = [
        (one["expected_low_ohm"], one["expected_high_ohm"])
        for one in likely.results["likely"]
        if one["expected_low_ohm"] is not None
    ]
    shown = float(reading)
    beside = [(low + high) / 2 for low, high in ranges if low != high and not low <= shown <= high]
    assert len(beside) > 5
    ratios = [max(shown / middle, middle / shown) for middle in beside]
    assert ratios == pytest.approx(sorted(ratios))


def test_the_faults_are_those_of_the_coils_and_drivers_that_there_are():
    likely = checked(drivers="2,4;1,8;3,2", intended="0").results["likely"]
    told = " / ".join(each_alone(one["what"]) for one in likely if one["kind"] != "arrangement")
    coils = ["1a", "1b", "2a", "3a", "3b", "3c"]
    assert sorted(re.findall(r"coil (\w+) is open", told)) == coils
    assert sorted(re.findall(r"coil (\w+) is shorted", told)) == coils
    assert sorted(re.findall(r"sub (\w+) is not connected", told)) == ["1", "2", "3"]
    assert sorted(re.findall(r"sub (\w+) is left out", told)) == ["1", "2", "3"]


# ---- notation --------------------------------------------------------------------------------


@pytest.mark.parametrize("coils", range(1, 9))
def test_as_many_brackets_as_coils_are_read_and_far_more_are_refused(coils):
    ohms = coil_names([Driver(coils, 4.0)])
    row = "+".join(ohms)
    assert read_notation("(" * coils + row + ")" * coils, ohms).load == 4 * coils
    with pytest.raises(NotationError, match="more brackets than coils"):
        read_notation("(" * (coils + 1) + row + ")" * (coils + 1), ohms)

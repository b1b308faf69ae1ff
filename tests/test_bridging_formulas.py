"""Bridging held against its laws, and against figures worked out here in another way."""

import math
import re

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.answers.sources import cite
from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError
from calc.physics.channel_power import Channel, bridged_power, groupings, supply_factor


def ask(**given):
    raw = {key: str(value) for key, value in given.items()}
    return CALCULATORS["bridged-output"].answer(raw).sheet


def bridged(**given):
    return ask(**given).results


def written(sheet):
    """All sentences of an answer in one text."""
    return " ".join(
        [sheet.sentence, sheet.verdict.reason, *sheet.cautions, *sheet.steps, *sheet.unknowns]
    )


hundredths = st.integers(25, 6400).map(lambda n: n / 100)  # loads [Ω]
watts = st.integers(1, 2000)
volts = st.integers(60, 300).map(lambda n: n / 10)
maybe = st.one_of(st.just(""), watts)
floors = st.sampled_from([0.5, 1, 2, 2.5, 4, 8])
plates = st.fixed_dictionaries(
    {
        "power_4ohm_w": watts,
        "power_2ohm_w": maybe,
        "power_8ohm_w": maybe,
        "min_channel_ohm": floors,
    }
)


def one_channel(load, *, power_4ohm_w, power_2ohm_w, power_8ohm_w, min_channel_ohm):
    """Return (best, low, high) of one channel by numpy, or None for a refused load."""
    if load < min_channel_ohm:
        return None
    points = {2: power_2ohm_w, 4: power_4ohm_w, 8: power_8ohm_w}
    ohms = [ohm for ohm, power in points.items() if power != ""]
    powers = [float(points[ohm]) for ohm in ohms]
    if load >= ohms[-1]:
        volts_squared = powers[-1] * ohms[-1]
        return (volts_squared / load,) * 3
    if load >= ohms[0]:
        return (math.exp(np.interp(math.log(load), np.log(ohms), np.log(powers))),) * 3
    if ohms[0] == 4 and load >= 2:
        return None, power_4ohm_w, power_4ohm_w * 4 / load
    return None, None, None


def same(found, expected):
    if expected is None:
        return found is None
    return found is not None and math.isclose(found, expected, rel_tol=1e-9)


@given(load=hundredths, plate=plates, supply=volts, rated=volts)
def test_every_bridged_power_is_twice_that_of_a_channel_at_half_the_load(
    load, plate, supply, rated
):
    found = bridged(load_ohm=load, **plate, supply_v=supply, rated_v=rated)
    expected = one_channel(load / 2, **plate)
    factor = (supply / rated) ** 2
    names = ("bridged_power_w", "bridged_power_low_w", "bridged_power_high_w")
    assert found["allowed"] is (expected is not None)
    for name, one in zip(names, expected or (None,) * 3, strict=True):
        assert same(found[name], None if one is None else 2 * one * factor), name


@given(load=hundredths, plate=plates)
def test_each_channel_of_a_bridged_pair_sees_half_the_load(load, plate):
    found = bridged(load_ohm=load, **plate)
    assert found["channel_load_ohm"] == pytest.approx(load / 2)
    assert found["min_bridged_ohm"] == pytest.approx(2 * plate["min_channel_ohm"])
    assert found["allowed"] == (load >= found["min_bridged_ohm"])


@given(load=hundredths, plate=plates, supply=volts, rating=maybe)
def test_power_is_voltage_times_current_and_voltage_is_current_times_load(
    load, plate, supply, rating
):
    found = bridged(load_ohm=load, **plate, supply_v=supply, rated_bridged_w=rating)
    if found["bridged_power_w"] is None:
        assert found["bridged_v"] is None and found["bridged_a"] is None
    else:
        power = found["bridged_v"] * found["bridged_a"]
        assert power == pytest.approx(found["bridged_power_w"])
        assert found["bridged_v"] == pytest.approx(found["bridged_a"] * load)


@given(power=watts, load=st.integers(800, 6400).map(lambda n: n / 100))
def test_a_bridged_pair_gives_twice_the_voltage_of_one_of_its_channels(power, load):
    found = bridged(load_ohm=load, power_4ohm_w=power, power_2ohm_w="")
    one_channel_v = math.sqrt(power * 4)  # constant above the highest rated load
    assert found["bridged_v"] == pytest.approx(2 * one_channel_v)


@given(power=watts)
def test_a_stiff_pair_gives_four_times_one_channel_at_the_same_load(power):
    found = bridged(load_ohm=4, power_4ohm_w=power, power_2ohm_w=2 * power)
    assert found["bridged_power_w"] == pytest.approx(4 * power)


@given(power=watts)
def test_a_power_limited_pair_gives_twice_one_channel_at_the_same_load(power):
    found = bridged(load_ohm=4, power_4ohm_w=power, power_2ohm_w=power)
    assert found["bridged_power_w"] == pytest.approx(2 * power)


def test_power_halfway_between_two_rated_loads_is_the_geometric_mean():
    # log P straight over log R: at √(2·4) Ω the power is √(P₂·P₄).
    found = Channel(power_4ohm_w=50, power_2ohm_w=75).power(load_ohm=math.sqrt(8))
    assert found.best == pytest.approx(math.sqrt(50 * 75))
    found = Channel(power_4ohm_w=50, power_8ohm_w=30).power(load_ohm=math.sqrt(32))
    assert found.best == pytest.approx(math.sqrt(50 * 30))


def test_rated_loads_give_the_rated_powers():
    channel = Channel(power_4ohm_w=50, power_2ohm_w=75, power_8ohm_w=28)
    found = {load: channel.power(load_ohm=load).best for load in (2, 4, 8)}
    assert found == pytest.approx({2: 75, 4: 50, 8: 28})


def test_above_the_highest_rated_load_the_voltage_stays():
    # √(50·4) V = 14.14 V; 14.14² / 16 = 12.5 W.  With an 8 Ω rating that one counts.
    assert Channel(power_4ohm_w=50).power(load_ohm=16).best == pytest.approx(12.5)
    with_8 = Channel(power_4ohm_w=50, power_8ohm_w=30)
    assert with_8.power(load_ohm=16).best == pytest.approx(15)


# Common practice, no source: entry-level four-channel amplifiers give 40–60 W per channel at
# 4 Ω, P₂/P₄ is about 1.3–1.5, and then 120–160 W bridged at 4 Ω.
COMMON_PRACTICE = [(40, 1.5, 120), (50, 1.3, 130), (50, 1.4, 140), (50, 1.5, 150), (60, 1.3, 156)]


@pytest.mark.parametrize(("power_w", "ratio", "bridged_w"), COMMON_PRACTICE)
def test_usual_ratings_lead_to_the_usual_bridged_power(power_w, ratio, bridged_w):
    found = bridged(load_ohm=4, power_4ohm_w=power_w, power_2ohm_w=round(ratio * power_w, 6))
    assert found["bridged_power_w"] == pytest.approx(bridged_w)
    assert 120 <= found["bridged_power_w"] <= 160


@pytest.mark.parametrize(("floor", "least"), [(1, 2), (2, 4), (4, 8)])
def test_the_lowest_bridged_load_is_twice_a_channels_lowest(floor, least):
    # Common practice, no source: two-ohm-stable channels take 4 Ω bridged, no lower.
    at, below = (
        bridged(load_ohm=load, min_channel_ohm=floor, power_2ohm_w="")
        for load in (least, least - 0.01)
    )
    assert at["min_bridged_ohm"] == least
    assert at["allowed"] is True
    assert below["allowed"] is False


POWERS = (
    "bridged_power_w",
    "bridged_power_low_w",
    "bridged_power_high_w",
    "bridged_v",
    "bridged_a",
)


def test_a_refused_load_has_no_figures_and_a_reason():
    sheet = ask(load_ohm=2, min_channel_ohm=2, rated_bridged_w=200)
    assert all(sheet.results[name] is None for name in POWERS)
    assert sheet.verdict.state == "unsuitable"
    assert re.search(r"below the 4\sΩ minimum", sheet.verdict.reason)


def test_the_bridged_rating_never_lifts_a_refusal():
    found = bridged(load_ohm=4, min_channel_ohm=4, rated_bridged_w=200)
    assert found["allowed"] is False
    assert all(found[name] is None for name in POWERS)


def test_without_the_2_ohm_figure_only_bounds_are_known():
    sheet = ask(load_ohm=4, power_4ohm_w=50, power_2ohm_w="")
    found = sheet.results
    assert found["bridged_power_w"] is None
    assert found["bridged_power_low_w"] == pytest.approx(100)  # cannot give more than at 4 Ω
    assert found["bridged_power_high_w"] == pytest.approx(200)  # stiff: 4·P₄/2 per channel
    assert "lower still" in written(sheet)  # a current-limited channel falls below both
    assert sheet.verdict.state == "not known"


def test_what_is_usual_without_the_2_ohm_figure_is_told_as_no_limit():
    """By hand: half of 50 W in each of two channels is 50 W, below the usual 100 W."""
    sheet = ask(load_ohm=4, power_4ohm_w=50, power_2ohm_w="")
    sentence = sheet.sentence.replace("\u202f", " ")
    assert "100 to 200 W is usual" in sentence and "as little as 50 W" in sentence
    # 3 Ω a channel: three quarters of 50 W, twice.
    sheet = ask(load_ohm=6, power_4ohm_w=50, power_2ohm_w="")
    assert "as little as 75 W" in sheet.sentence.replace("\u202f", " ")


def test_the_bounds_close_where_the_channel_reaches_4_ohms():
    found = bridged(load_ohm=8, power_4ohm_w=50, power_2ohm_w="")
    assert [found[name] for name in POWERS[:3]] == pytest.approx([100] * 3)
    near = bridged(load_ohm=7.99, power_4ohm_w=50, power_2ohm_w="")
    assert near["bridged_power_w"] is None
    assert near["bridged_power_high_w"] == pytest.approx(2 * 50 * 4 / 3.995)


def test_below_every_rated_load_nothing_is_extrapolated():
    found = bridged(load_ohm=2, min_channel_ohm=1, power_2ohm_w=75)
    assert found["allowed"] is True
    assert all(found[name] is None for name in POWERS)
    found = bridged(load_ohm=3.98, min_channel_ohm=1, power_2ohm_w="")
    assert found["allowed"] is True
    assert all(found[name] is None for name in POWERS)


@given(rating=watts, supply=volts, rated=volts)
def test_the_bridged_rating_wins_at_4_ohms_scaled_by_the_supply(rating, supply, rated):
    found = bridged(load_ohm=4, rated_bridged_w=rating, supply_v=supply, rated_v=rated)
    expected = rating * (supply / rated) ** 2
    assert [found[name] for name in POWERS[:3]] == pytest.approx([expected] * 3)


def test_the_bridged_rating_fills_in_for_a_missing_2_ohm_figure():
    found = bridged(load_ohm=4, power_2ohm_w="", rated_bridged_w=140)
    assert [found[name] for name in POWERS[:3]] == pytest.approx([140] * 3)


@pytest.mark.parametrize("load", [3.99, 4.01, 6, 8])
def test_the_bridged_rating_counts_nowhere_else(load):
    plate = {"load_ohm": load, "min_channel_ohm": 1}
    assert bridged(**plate, rated_bridged_w=400) == bridged(**plate)


@pytest.mark.parametrize(
    ("rating", "told"), [(136, False), (164, False), (134, True), (166, True), (300, True)]
)
def test_a_rating_more_than_a_tenth_off_the_estimate_is_told(rating, told):
    text = written(ask(load_ohm=4, power_4ohm_w=50, power_2ohm_w=75, rated_bridged_w=rating))
    assert ("differs" in text) is told  # the estimate is 150 W


@given(load=hundredths.filter(lambda ohm: ohm >= 4), supply=volts)
def test_unregulated_power_goes_with_the_square_of_the_supply(load, supply):
    rated = bridged(load_ohm=load, supply_v=14.4)
    found = bridged(load_ohm=load, supply_v=supply)
    ratio = found["bridged_power_w"] / rated["bridged_power_w"]
    assert ratio == pytest.approx((supply / 14.4) ** 2)
    assert found["bridged_v"] / rated["bridged_v"] == pytest.approx(supply / 14.4)


@given(supply=volts, least=volts)
def test_regulated_power_is_flat_down_to_the_stated_voltage(supply, least):
    found = bridged(supply_v=supply, regulated="yes", regulated_min_v=least)
    flat = bridged(supply_v=14.4)["bridged_power_w"]
    if supply >= least:
        assert found["bridged_power_w"] == pytest.approx(flat)
    else:
        # Out of regulation the rails follow the supply again: P = V²/R.
        assert found["bridged_power_w"] == pytest.approx(flat * (supply / least) ** 2)


def test_a_regulated_supply_without_a_stated_voltage_is_taken_as_flat_and_said_so():
    sheet = ask(supply_v=10, regulated="yes")
    assert sheet.results["bridged_power_w"] == pytest.approx(150)
    assert "not known" in " ".join(sheet.unknowns)


def test_both_inputs_of_a_bridged_pair_are_spoken_of():
    assert "inputs" in written(ask()) and "Y-lead" in written(ask())


def test_the_ratings_standard_is_named_as_a_source():
    # CTA-2006 (formerly CEA-2006): 14.4 V, 4 Ω, ≤ 1 % THD+N.
    assert any("CTA-2006" in source and "14.4" in source for source in cite(ask().sources))
    assert ask().results == ask(rated_v=14.4, supply_v=14.4).results


@given(load=st.floats(2, 64), low=watts, high=watts)
def test_power_never_rises_with_the_load_of_an_ordinary_channel(load, low, high):
    assume(low <= high)
    channel = Channel(power_4ohm_w=low, power_2ohm_w=high)
    at, above = (channel.power(load_ohm=ohm).best for ohm in (load, load * 1.1))
    assert above <= at * (1 + 1e-9)


def test_a_load_below_the_lowest_is_refused_by_the_model_too():
    with pytest.raises(ValueError, match="lowest"):
        bridged_power(Channel(power_4ohm_w=50, power_2ohm_w=75), load_ohm=3.9)


@pytest.mark.parametrize(
    ("channels", "count"), [(1, 1), (2, 2), (3, 2), (4, 4), (5, 4), (6, 8), (8, 16)]
)
def test_every_pair_of_channels_is_either_two_singles_or_bridged(channels, count):
    found = list(groupings(channels))
    assert len(set(found)) == len(found) == count
    for grouping in found:
        assert [one for output in grouping for one in output] == list(range(1, channels + 1))


@pytest.mark.parametrize(
    ("field", "raw"),
    [
        ("load_ohm", ""),
        ("load_ohm", "0"),
        ("load_ohm", "-4"),
        ("load_ohm", "nan"),
        ("load_ohm", "inf"),
        ("load_ohm", "4e0"),
        ("power_4ohm_w", ""),
        ("power_4ohm_w", "max"),
        ("min_channel_ohm", ""),
        ("regulated", "maybe"),
        ("supply_v", ""),
        ("impedance", "4"),
    ],
)
def test_what_is_not_a_figure_is_refused_by_the_fields_name(field, raw):
    with pytest.raises(InputError) as refused:
        bridged(**{field: raw})
    assert [error.field for error in refused.value.errors] == [field]


def test_a_decimal_comma_and_spaces_are_read():
    assert bridged(load_ohm=" 4,0 ") == bridged(load_ohm="4")


def test_ratings_hold_at_14_4_volts_unless_something_else_is_said():
    """CTA-2006, formerly CEA-2006: rated at 14.4 V (from memory)."""
    assert supply_factor(supply_v=14.4) == 1.0
    assert supply_factor(supply_v=7.2) == pytest.approx(0.25)

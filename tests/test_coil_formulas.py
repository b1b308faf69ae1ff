"""Coil wiring held against published numbers and against laws that any circuit keeps."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.coils.survey import Survey
from calc.inputs.errors import InputError
from calc.physics.coils import Driver

# A set of drivers is written ((coils, ohm), …), as the rows of the field are.


def wired(drivers, **given):
    text = ";".join(f"{coils},{ohm}" for coils, ohm in drivers)
    raw = {key: str(value) for key, value in given.items()}
    return CALCULATORS["coil-wiring"].answer({"drivers": text, **raw}).sheet.results


# ---- published numbers -----------------------------------------------------------------------

A000084 = [1, 2, 4, 10, 24, 66, 180, 522]  # series–parallel networks of n like elements
A048211 = [1, 2, 4, 9, 22, 53, 131, 337]  # distinct loads of n unit resistors (from memory)


@pytest.mark.parametrize("coils", range(1, 9))
def test_like_coils_make_as_many_circuits_and_loads_as_published(coils):
    found = wired([(coils, 1)], limit=1000)
    assert found["networks_total"] == A000084[coils - 1] == len(found["arrangements"])
    assert len(found["distinct_loads"]) == A048211[coils - 1]


@pytest.mark.parametrize("drivers", [1, 2, 3, 4])
def test_single_coil_drivers_count_like_the_coils_of_one_driver(drivers):
    assert wired([(1, 4)] * drivers)["networks_total"] == A000084[drivers - 1]


def test_four_like_twin_coil_drivers_make_6910_circuits():
    found = wired([(2, 4)] * 4)  # 6,910: the interface contract
    assert found["networks_total"] == 6910
    assert sum(one["networks"] for one in found["distinct_loads"]) == 6910
    assert len(found["arrangements"]) == 50


def test_two_twin_coil_woofers_each_in_series_and_both_in_parallel_come_to_4_ohms():
    found = wired([(2, 4)] * 2, min_load_ohm=4, limit=1000)  # common practice
    best = found["arrangements"][found["best"]]
    assert best["load_ohm"] == 4 and best["even"]
    as_said = [one for one in found["arrangements"] if one["notation"] == "(1a+1b)|(2a+2b)"]
    assert [(one["load_ohm"], one["even"]) for one in as_said] == [(4, True)]


# ---- laws ------------------------------------------------------------------------------------

ohms = st.sampled_from([1, 2, 3.3, 4, 4, 6, 8])
driver_sets = st.lists(st.tuples(st.integers(1, 4), ohms), min_size=1, max_size=4).filter(
    lambda drivers: sum(coils for coils, _ in drivers) <= 6
)


@given(drivers=driver_sets, order=st.randoms())
def test_the_order_of_the_drivers_changes_nothing(drivers, order):
    mixed = list(drivers)
    order.shuffle(mixed)
    one, other = wired(drivers), wired(mixed)
    assert one["networks_total"] == other["networks_total"]
    assert one["distinct_loads"] == other["distinct_loads"]


@given(drivers=driver_sets, factor=st.sampled_from([2, 3, 5, 1.5, 0.5]))
def test_loads_go_with_the_coils_impedance_and_shares_stay(drivers, factor):
    one = wired(drivers, min_load_ohm=0.5)
    scaled = [(coils, round(ohm * factor, 6)) for coils, ohm in drivers]
    other = wired(scaled, min_load_ohm=0.5 * factor)
    for small, large in zip(one["arrangements"], other["arrangements"], strict=True):
        assert large["load_ohm"] == pytest.approx(factor * small["load_ohm"])
        assert large["share_percent"] == pytest.approx(small["share_percent"])
        for key in ("notation", "even", "joints", "nets", "fits"):
            assert large[key] == small[key]
    for small, large in zip(one["distinct_loads"], other["distinct_loads"], strict=True):
        assert large["load_ohm"] == pytest.approx(factor * small["load_ohm"])
        assert (large["networks"], large["even"]) == (small["networks"], small["even"])


@pytest.mark.parametrize("rows", ["3,4;3,4;3,4", "8,4;1,4", "1,4;1,4;1,4;1,4;1,4", "0,4", "2,0"])
def test_more_than_four_drivers_or_eight_coils_are_refused(rows):
    with pytest.raises(InputError) as refused:
        CALCULATORS["coil-wiring"].answer({"drivers": rows})
    assert [error.field for error in refused.value.errors] == ["drivers"]


def test_a_count_of_drivers_says_the_same_as_their_rows():
    counted = CALCULATORS["coil-wiring"].answer(
        {"drivers": "3", "coils_per_driver": "2", "coil_ohm": "8"}
    )
    assert counted.sheet.results == wired([(2, 8)] * 3)
    one_row = CALCULATORS["coil-wiring"].answer({"drivers": "2,4", "coil_ohm": "8"})
    assert [one["load_ohm"] for one in one_row.sheet.results["distinct_loads"]] == [2, 8]


# ---- the order of the list, and which is best ------------------------------------------------

limits = st.sampled_from([0.25, 0.5, 1, 2, 2.5, 4, 8, 16, 64])


@given(drivers=driver_sets, least=limits)
def test_fitting_and_even_ones_come_first_then_the_lowest_load_then_the_fewest_joints(
    drivers, least
):
    found = wired(drivers, min_load_ohm=least, limit=1000)["arrangements"]
    assert [one["fits"] for one in found] == [one["load_ohm"] >= least for one in found]
    good = [one for one in found if one["fits"] and one["even"]]
    uneven = [one for one in found if one["fits"] and not one["even"]]
    low = [one for one in found if not one["fits"]]
    assert found == good + uneven + low
    for part in (good, uneven):
        keys = [(one["load_ohm"], one["joints"]) for one in part]
        assert keys == sorted(keys)


@given(drivers=driver_sets, least=limits)
def test_the_best_is_the_lowest_even_load_that_is_not_below_the_limit(drivers, least):
    found = wired(drivers, min_load_ohm=least)
    fitting = [one for one in found["distinct_loads"] if one["load_ohm"] >= least]
    if not fitting:
        assert found["best"] is None
        return
    best = found["arrangements"][found["best"]]
    even = [one["load_ohm"] for one in fitting if one["even"]]
    assert best["even"] is bool(even)
    assert best["load_ohm"] == (even[0] if even else fitting[0]["load_ohm"])


@given(drivers=driver_sets)
def test_when_nothing_fits_the_highest_load_stands_first(drivers):
    found = wired(drivers, min_load_ohm=64, limit=1000)
    if found["best"] is None:
        assert found["arrangements"][0]["load_ohm"] == found["distinct_loads"][-1]["load_ohm"]
    else:
        assert found["distinct_loads"][-1]["load_ohm"] >= 64


@given(drivers=driver_sets, least=limits, limit=st.integers(1, 60))
def test_a_limit_cuts_the_list_and_nothing_else(drivers, least, limit):
    whole = wired(drivers, min_load_ohm=least, limit=1000)
    cut = wired(drivers, min_load_ohm=least, limit=limit)
    assert cut["arrangements"] == whole["arrangements"][:limit]
    assert {**cut, "arrangements": 0} == {**whole, "arrangements": 0}


def test_what_is_said_to_fit_is_ranked_as_fitting():
    # 8 ÷ 3 Ω against a limit typed as its first twelve decimals, rounded up.
    found = wired([(1, 8)] * 3, min_load_ohm="2.666666666667")["arrangements"]
    ranks = [not (one["fits"] and one["even"]) for one in found]
    assert ranks == sorted(ranks)


# ---- what each arrangement says --------------------------------------------------------------


@given(drivers=driver_sets, power=st.integers(1, 2000))
def test_shares_sum_to_100_percent_and_powers_to_the_whole(drivers, power):
    coils = sum(number for number, _ in drivers)
    for one in wired(drivers, power_w=power)["arrangements"]:
        assert len(one["share_percent"]) == coils
        assert sum(one["share_percent"]) == pytest.approx(100)
        assert sum(one["coil_power_w"]) == pytest.approx(power)


@given(drivers=driver_sets)
def test_joints_are_those_on_the_amplifiers_nets_and_one_less_than_on_each_other(drivers):
    coils = [f"{n}{'abcdefgh'[at]}" for n, (own, _) in enumerate(drivers, 1) for at in range(own)]
    for one in wired(drivers)["arrangements"]:
        nets = dict(one["nets"])
        ends = list(itertools.chain(*nets.values()))
        assert sorted(ends) == sorted(coil + sign for coil in coils for sign in "+-")
        amplifiers = len(nets.pop("amp+")) + len(nets.pop("amp-"))
        assert one["joints"] == amplifiers + sum(len(net) - 1 for net in nets.values())
        assert sorted(nets) == [f"n{at}" for at in range(1, len(nets) + 1)]
        assert all(len(net) > 1 for net in nets.values())


@given(drivers=driver_sets, least=limits)
def test_a_meter_shows_75_to_95_percent_of_the_load(drivers, least):
    for one in wired(drivers, min_load_ohm=least)["arrangements"]:
        assert one["meter_low_ohm"] == pytest.approx(0.75 * one["load_ohm"])
        assert one["meter_high_ohm"] == pytest.approx(0.95 * one["load_ohm"])


@given(drivers=driver_sets, least=limits)
def test_a_bridged_output_only_adds_what_each_channel_sees(drivers, least):
    plain = wired(drivers, min_load_ohm=least)["arrangements"]
    bridged = wired(drivers, min_load_ohm=least, bridged="yes")["arrangements"]
    for one, other in zip(plain, bridged, strict=True):
        assert other["channel_load_ohm"] == pytest.approx(one["load_ohm"] / 2)
        assert {**one, "channel_load_ohm": 0} == {**other, "channel_load_ohm": 0}


def test_three_drivers_as_one_beside_two_in_series_are_not_even():
    found = wired([(1, 4)] * 3)["arrangements"]
    even = {one["load_ohm"]: one["even"] for one in found}
    assert even == pytest.approx({4 / 3: True, 8 / 3: False, 6: False, 12: True})


@pytest.mark.parametrize("drivers", ["3", "4", "2,4;2,4;2,8", "3,4;3,4", "2,4;2,4;1,8;1,8"])
def test_even_is_equal_power_of_like_coils_in_every_listed_circuit(drivers):
    """By the shares themselves, which are worked out apart from the judgement."""
    answer = CALCULATORS["coil-wiring"].answer({"drivers": drivers, "limit": "1000"})
    kinds = drivers.split(";") if "," in drivers else ["2,4"] * int(drivers)
    kind_of = [kind for kind in kinds for _ in range(int(kind[0]))]
    found = {True: 0, False: 0}
    for one in answer.sheet.results["arrangements"]:
        like = {}
        for kind, share in zip(kind_of, one["share_percent"], strict=True):
            like.setdefault(kind, []).append(share)
        is_even = all(max(shares) - min(shares) < 1e-9 for shares in like.values())
        assert one["even"] is is_even, one["notation"]
        found[is_even] += 1
    assert found[True] and found[False]


@given(load=st.floats(0.2, 40))
def test_nearest_loads_are_the_nearest_by_ratio(load):
    survey = Survey((Driver(2, 4.0),) * 3)
    found = survey.nearest(load, 5)
    distances = sorted(abs(math.log(float(one.load) / load)) for one in survey.distinct_loads)
    assert [abs(math.log(float(one.load) / load)) for one in found] == pytest.approx(distances[:5])

"""Answers of the crossover calculators, recomputed with scipy from their inputs alone."""

import math

import numpy as np
import pytest
from asking import sheet_of
from scipy import optimize, signal

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError


def results(name, **given):
    return CALCULATORS[name].answer({key: str(value) for key, value in given.items()}).sheet.results


def response(kind, family, order, corner, frequencies):
    btype = kind.replace("-", "")
    if family == "bessel":
        b, a = signal.bessel(order, corner, btype=btype, analog=True, norm="mag")
    else:
        n = order // 2 if family == "linkwitz-riley" else order
        b, a = signal.butter(n, corner, btype=btype, analog=True)
    whole = signal.freqs(b, a, np.atleast_1d(frequencies))[1]
    return whole**2 if family == "linkwitz-riley" else whole


def db(value):
    return 20 * np.log10(np.abs(value))


FILTERS = [
    ("high-pass", "butterworth", 3, 80),
    ("low-pass", "linkwitz-riley", 4, 250),
    ("high-pass", "bessel", 5, 3150),
    ("low-pass", "butterworth", 8, 120),
]


@pytest.mark.parametrize(("kind", "family", "order", "corner"), FILTERS)
def test_a_filter_s_response_and_corners(kind, family, order, corner):
    found = results("filter-response", kind=kind, family=family, order=order, frequency_hz=corner)
    for row in found["response"]:
        (true,) = response(kind, family, order, corner, row["frequency_hz"])
        assert row["level_db"] == pytest.approx(db(true), abs=1e-6)
        turned = (row["phase_deg"] - math.degrees(np.angle(true)) + 180) % 360 - 180
        assert turned == pytest.approx(0, abs=1e-5)
    for key, level in (
        ("corner_3db_hz", 10 * math.log10(0.5)),
        ("corner_6db_hz", 20 * math.log10(0.5)),
    ):
        where = optimize.brentq(
            lambda f, level=level: db(response(kind, family, order, corner, f))[0] - level,
            corner / 50,
            corner * 50,
            xtol=1e-12,
        )
        assert found[key] == pytest.approx(where, rel=1e-6)
    assert found["slope_db_per_octave"] == 6 * order


def test_a_second_filter_takes_family_and_order_of_the_first_when_it_has_none():
    alone = {"kind": "low-pass", "family": "linkwitz-riley", "order": 4, "frequency_hz": 100}
    found = results("filter-response", **alone, second_frequency_hz=150)
    told = results(
        "filter-response",
        **alone,
        second_frequency_hz=150,
        second_family="linkwitz-riley",
        second_order=4,
    )
    assert found == told
    assert found["slope_db_per_octave"] == 48


def test_a_band_pass_has_two_corners_and_none_where_it_never_comes_up():
    wide = results("filter-response", kind="band-pass", order=4, frequency_hz=70, upper_hz=3500)
    assert wide["corner_3db_hz"] == pytest.approx(70, rel=1e-4)
    assert wide["upper_corner_3db_hz"] == pytest.approx(3500, rel=1e-4)
    assert wide["slope_db_per_octave"] == 24
    narrow = results("filter-response", kind="band-pass", order=1, frequency_hz=99, upper_hz=100)
    assert narrow["corner_3db_hz"] is narrow["upper_corner_3db_hz"] is None


SUMS = [
    (("butterworth", 2, 80, 0, "normal", 0), ("butterworth", 2, 80, 0, "reversed", 0)),
    (("linkwitz-riley", 4, 3000, 0, "normal", 0), ("linkwitz-riley", 4, 3000, 0, "normal", 0)),
    (("butterworth", 3, 120, -2, "normal", 1.5), ("bessel", 4, 70, 1, "normal", 0)),
    (("linkwitz-riley", 2, 500, 0, "reversed", 0), ("butterworth", 1, 900, -6, "normal", 0.2)),
    (("butterworth", 1, 3000, 0, "normal", 0), ("butterworth", 1, 3000, 0, "normal", 3.8)),
    (("linkwitz-riley", 4, 3000, 0, "normal", 0), ("linkwitz-riley", 4, 3000, 0, "normal", 1)),
]
KEYS = ("family", "order", "frequency_hz", "gain_db", "polarity", "delay_ms")


def side(kind, given, frequencies):
    family, order, corner, gain, polarity, delay = given
    turn = np.exp(-2j * np.pi * frequencies * delay / 1000)
    sign = -1 if polarity == "reversed" else 1
    return sign * 10 ** (gain / 20) * turn * response(kind, family, order, corner, frequencies)


@pytest.mark.parametrize(("low", "high"), SUMS)
def test_a_sum_s_levels_phases_and_ripple(low, high):
    given = {f"low_{key}": value for key, value in zip(KEYS, low, strict=True)}
    given |= {f"high_{key}": value for key, value in zip(KEYS, high, strict=True)}
    found = results("crossover-sum", **given)
    for row in found["response"]:
        f = np.array([row["frequency_hz"]])
        parts = side("low-pass", low, f), side("high-pass", high, f)
        assert row["level_db"] == pytest.approx(db(sum(parts))[0], abs=1e-6)
        difference = math.degrees(np.angle(parts[0] / parts[1])[0])
        assert math.cos(math.radians(difference - row["phase_difference_deg"])) > 1 - 1e-9
    grid = np.geomspace(20, 20_000, 200_001)
    levels = db(side("low-pass", low, grid) + side("high-pass", high, grid))
    assert found["ripple_db"] == pytest.approx(levels.max() - levels.min(), abs=0.05)


def test_a_hole_has_no_ripple():
    found = results("crossover-sum", high_polarity="normal")
    assert found["ripple_db"] is None
    assert found["advice"].startswith("Reverse the sub.")


def test_a_hole_is_found_where_it_is_and_not_only_at_the_corner():
    # The low section 3 dB louder: both are equal, and opposed, at 95 Hz and not at 80 Hz.
    found = CALCULATORS["crossover-sum"].answer({"low_gain_db": "3", "high_polarity": "normal"})
    assert found.sheet.results["ripple_db"] is None
    equal = optimize.brentq(
        lambda f: (
            db(side("low-pass", ("butterworth", 2, 80, 3, "normal", 0), f))[0]
            - db(side("high-pass", ("butterworth", 2, 80, 0, "normal", 0), f))[0]
        ),
        40,
        200,
    )
    assert f"near {equal:.1f}" in found.sheet.sentence.replace("\u202f", " ")


def test_a_gap_between_corners_is_not_called_a_cancellation():
    given = {"low_order": "8", "high_order": "8", "high_frequency_hz": "5000"}
    sentence = CALCULATORS["crossover-sum"].answer(given).sheet.sentence
    assert sentence.startswith("Neither plays near")


def test_the_lowest_load_is_found_between_the_grid_s_points():
    given = {
        "family": "linkwitz-riley",
        "frequency_hz": 14167.7,
        "ohm": 1.8,
        "inductor_ohm": 0.1,
        "coil_ohm": 1.44,
        "coil_mh": 0.76,
    }
    found = results("passive-network", **given)
    capacitor, coil = (one["preferred"] for one in found["components"])
    f = np.geomspace(20, 20_000, 400_001)
    w = 2j * np.pi * f
    across = 1 / (1 / (0.1 + w * coil) + 1 / (1.44 + w * 0.76e-3))
    assert found["least_load_ohm"] == pytest.approx(
        np.abs(across + 1 / (w * capacitor)).min(), rel=1e-3
    )


def test_coils_with_resistance_move_both_corners_alike_when_no_driver_is_given():
    found = results("passive-network", side="low-pass", frequency_hz=3000, inductor_ohm=0.5)
    assert found["corner_hz"] == pytest.approx(found["built_corner_hz"])


def test_the_corner_with_preferred_parts_is_where_their_circuit_falls():
    found = results("passive-network", side="low-pass", frequency_hz=2000, ohm=8, series="E6")
    coil, capacitor = (one["preferred"] for one in found["components"])

    def level(f):
        w = 2j * np.pi * f
        load = 1 / (1 / 8 + w * capacitor)
        return db(load / (load + w * coil)) + 3.0103

    assert found["corner_hz"] == pytest.approx(optimize.brentq(level, 500, 9000), rel=1e-4)


def test_a_driver_of_measured_points_is_the_load():
    flat = "20,4,0;20000,4,0"
    same = results("passive-network", impedance=flat)
    plain = results("passive-network")
    assert same["built_corner_hz"] == pytest.approx(plain["corner_hz"])
    double = results("passive-network", impedance="20,8,0;20000,8,0", order=1)
    single = results("passive-network", order=1)
    # A capacitor into twice the load has half the corner.
    assert double["built_corner_hz"] == pytest.approx(single["corner_hz"] / 2, rel=0.005)


def test_a_low_pass_of_order_one_never_cuts_into_a_load_that_rises_as_fast():
    found = results(
        "passive-network", side="low-pass", order=1, coil_ohm=0.1, coil_mh=20, frequency_hz=1000
    )
    assert found["built_corner_hz"] is None


def test_pad_powers_add_up_and_the_loss_is_met():
    found = results("level-pad", ohm=8, loss_db=6, power_w=100)
    assert (found["series_ohm"], found["shunt_ohm"]) == pytest.approx((3.99, 8.04), abs=0.005)
    assert found["series_w"] + found["shunt_w"] + found["speaker_w"] == pytest.approx(100)
    assert 10 * math.log10(found["speaker_w"] / 100) == pytest.approx(-6)


def test_everything_arrives_with_the_farthest():
    found = results("arrival-delay", sections="a,0.5;b,2;c,1", air_c=0, sample_rate_hz=44100)
    rows = found["sections"]
    assert {round(row["flight_ms"] + row["delay_ms"], 9) for row in rows} == {
        round(2000 / 331.3, 9)
    }
    assert rows[1]["delay_ms"] == 0
    assert rows[0]["samples"] == pytest.approx(1.5 / 331.3 * 44100)
    assert results("arrival-delay", sample_rate_hz="")["sections"][0]["samples"] is None


def test_time_alignment_tells_the_longest_delay_and_the_farthest_speaker():
    """Whatever the order of the rows: 1.5 m are 1.5/343.2 s at 20 °C."""
    for rows in ("a,0.5;b,2;c,1", "b,2;c,1;a,0.5"):
        figures = {one.label: one.value for one in sheet_of("arrival-delay", sections=rows).figures}
        assert figures["Longest delay"].value == pytest.approx(1500 / 343.2, abs=0.002)
        assert figures["Farthest speaker"].value == 2


@pytest.mark.parametrize(
    ("name", "given", "field"),
    [
        ("filter-response", {"family": "linkwitz-riley", "order": 3}, "order"),
        ("filter-response", {"kind": "band-pass"}, "upper_hz"),
        ("filter-response", {"kind": "band-pass", "upper_hz": 80}, "upper_hz"),
        (
            "filter-response",
            {"kind": "band-pass", "upper_hz": 900, "second_frequency_hz": 80},
            "second_frequency_hz",
        ),
        (
            "filter-response",
            {"order": 3, "second_frequency_hz": 80, "second_family": "linkwitz-riley"},
            "second_order",
        ),
        ("crossover-sum", {"high_family": "linkwitz-riley", "high_order": 5}, "high_order"),
        ("passive-network", {"family": "linkwitz-riley", "order": 1}, "order"),
        ("passive-network", {"levelling": "exact"}, "coil_ohm"),
        ("passive-network", {"coil_mh": 0.4}, "coil_ohm"),
        ("passive-network", {"impedance": "100,4,0;50,4,0"}, "impedance"),
    ],
)
def test_inputs_that_contradict_one_another_are_refused_at_their_field(name, given, field):
    with pytest.raises(InputError) as caught:
        results(name, **given)
    assert field in [one.field for one in caught.value.errors]

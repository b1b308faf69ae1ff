"""Filters held against scipy's analogue filters, and against the textbook laws of each family."""

import cmath
import math
from functools import lru_cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, signal

from calc.physics.filters import (
    FAMILIES,
    HALF_POWER_DB,
    HALF_VOLTAGE_DB,
    SILENCE_DB,
    Filter,
    cascade,
    cascade_delay_s,
    falling_hz,
    has_order,
    level_db,
    phase_deg,
    poles,
    wrapped_deg,
)
from calc.physics.ladder import polynomial

KINDS = ("high-pass", "low-pass")
ORDERS = {
    "butterworth": (1, 2, 3, 4, 5, 6, 7, 8),
    "linkwitz-riley": (2, 4, 6, 8),
    "bessel": (1, 2, 3, 4, 5, 6, 7, 8),
}
SLOPES = [(family, order) for family, orders in ORDERS.items() for order in orders]
# Corners and frequencies, even to the ear: 10 Hz to 40 kHz.
hertz = st.floats(1.0, 4.6).map(lambda exponent: 10**exponent)
kinds = st.sampled_from(KINDS)
slopes = st.sampled_from(SLOPES)
filters = st.builds(
    lambda kind, slope, corner: Filter(
        kind=kind, family=slope[0], order=slope[1], frequency_hz=corner
    ),
    kinds,
    slopes,
    hertz,
)


@lru_cache(maxsize=4096)
def scipy_zpk(kind, family, order, corner_hz):
    """Return scipy's zeros, poles and gain; a Linkwitz–Riley filter is a Butterworth twice."""
    given = {"btype": kind.replace("-", ""), "analog": True, "output": "zpk"}
    turn = 2 * math.pi * corner_hz
    if family == "linkwitz-riley":
        zeros, own, gain = signal.butter(order // 2, turn, **given)
        return np.tile(zeros, 2), np.tile(own, 2), gain**2
    if family == "bessel":
        return signal.bessel(order, turn, norm="mag", **given)
    return signal.butter(order, turn, **given)


def scipy_response(one, frequency_hz):
    zpk = scipy_zpk(one.kind, one.family, one.order, one.frequency_hz)
    turns = 2 * math.pi * np.atleast_1d(frequency_hz)
    found = signal.freqs_zpk(*zpk, worN=turns)[1]
    return found if np.ndim(frequency_hz) else complex(found[0])


def scipy_delay(one, frequency_hz):
    """Return −dφ/dω of scipy's phase by a central difference, without unwrapping."""
    step = 1e-4 * frequency_hz
    before, after = (scipy_response(one, frequency_hz + way * step) for way in (-1, 1))
    return -cmath.phase(after / before) / (2 * math.pi * 2 * step)


def some_of(kind, family, order, count):
    """Return so many pairs of a filter and a frequency, chosen blindly but always the same."""
    choice = np.random.default_rng([order, FAMILIES.index(family), KINDS.index(kind)])
    for corner, frequency in 10 ** choice.uniform(1.0, 4.6, (count, 2)):
        yield Filter(kind=kind, family=family, order=order, frequency_hz=corner), frequency


every_filter = pytest.mark.parametrize(
    ("kind", "family", "order"),
    [(kind, *slope) for kind in KINDS for slope in SLOPES],
)


# ---- against scipy ---------------------------------------------------------------------------


@every_filter
def test_every_response_is_scipys(kind, family, order, is_long):
    # Eight poles found by iteration agree to about 1e-13; the rest is rounding.
    for one, frequency in some_of(kind, family, order, 400 if is_long else 25):
        expected = scipy_response(one, frequency)
        assert abs(one.response(frequency) - expected) <= 1e-10 * abs(expected)


@every_filter
def test_every_group_delay_is_the_falling_of_scipys_phase(kind, family, order, is_long):
    # A step of 1e-4 leaves an error of about 1e-7 beside the sharpest pole (Q = 2.6).
    for one, frequency in some_of(kind, family, order, 400 if is_long else 25):
        assert one.delay_s(frequency) == pytest.approx(scipy_delay(one, frequency), rel=1e-6)


@pytest.mark.parametrize(("family", "order"), SLOPES)
def test_a_denominator_is_that_of_scipys_prototype(family, order):
    own = scipy_zpk("low-pass", family, order, 1 / (2 * math.pi))[1]
    expected = np.poly(own)[::-1]
    # Eighth-order poles agree to about 1e-13; products of them to 1e-11.
    assert list(polynomial(family, order)) == pytest.approx(expected / expected[0], rel=1e-10)


@pytest.mark.parametrize(("family", "order"), SLOPES)
def test_poles_are_those_of_scipys_prototype(family, order):
    found = poles(family, order)
    expected = scipy_zpk("low-pass", family, order, 1 / (2 * math.pi))[1]
    assert len(found) == order
    # As a polynomial: the order in which poles are told has no meaning.
    assert np.poly(found) == pytest.approx(np.poly(expected), rel=1e-11)
    assert all(pole.real < 0 for pole in found)


@given(chain=st.lists(filters, max_size=4), frequency=hertz)
def test_filters_one_after_the_other_multiply_and_their_delays_add(chain, frequency):
    expected = np.prod([scipy_response(one, frequency) for one in chain])
    assert abs(cascade(chain, frequency) - expected) <= 1e-9 * abs(expected)
    delay = sum(scipy_delay(one, frequency) for one in chain)
    assert cascade_delay_s(chain, frequency) == pytest.approx(delay, rel=1e-6)  # as above


@given(one=filters, frequency=hertz)
def test_levels_and_phases_are_those_of_scipys_response(one, frequency):
    expected = scipy_response(one, frequency)
    found = one.response(frequency)
    assert level_db(found) == pytest.approx(20 * np.log10(abs(expected)), abs=1e-8)  # 9 decimals
    apart = phase_deg(found) - np.angle(expected, deg=True)
    assert math.cos(math.radians(apart)) == pytest.approx(1, abs=1e-12)


# ---- laws ------------------------------------------------------------------------------------


@every_filter
def test_at_the_corner_half_the_power_or_half_the_voltage_is_left(kind, family, order):
    expected = -6.0206 if family == "linkwitz-riley" else -3.0103  # printed with 4 decimals
    for corner in (20.0, 80.0, 3150.0):
        one = Filter(kind=kind, family=family, order=order, frequency_hz=corner)
        assert level_db(one.response(corner)) == pytest.approx(expected, abs=5e-5)


def test_half_power_and_half_voltage_in_decibels():
    assert pytest.approx(-3.0103, abs=5e-5) == HALF_POWER_DB
    assert pytest.approx(-6.0206, abs=5e-5) == HALF_VOLTAGE_DB


@every_filter
def test_far_outside_the_band_each_order_falls_six_decibels_per_octave(kind, family, order):
    one = Filter(kind=kind, family=family, order=order, frequency_hz=1000)
    far = 1e4 if kind == "low-pass" else 1e-4
    nearer, farther = (level_db(one.response(1000 * part)) for part in (far, far**1.25))
    octaves = abs(math.log2(far**0.25))
    # At 10⁴ corners the finite rest of the knee is about 1e-7 dB, and levels have 9 decimals.
    assert (nearer - farther) / octaves == pytest.approx(20 * math.log10(2) * order, abs=1e-6)


@every_filter
def test_far_inside_the_band_nothing_is_lost(kind, family, order):
    one = Filter(kind=kind, family=family, order=order, frequency_hz=1000)
    inside = one.response(0.01 if kind == "low-pass" else 1e8)
    # 10⁻⁵ of a corner away the phase is still about order·10⁻⁵ rad.
    assert abs(inside - 1) < 1e-5 * 2 * order
    assert level_db(inside) == pytest.approx(0, abs=1e-7)


@given(corner=hertz, frequency=hertz, kind=kinds, half=st.sampled_from([1, 2, 3, 4]))
def test_two_like_butterworth_filters_are_a_linkwitz_riley_filter(corner, frequency, kind, half):
    one = Filter(kind=kind, family="butterworth", order=half, frequency_hz=corner)
    whole = Filter(kind=kind, family="linkwitz-riley", order=2 * half, frequency_hz=corner)
    expected = whole.response(frequency)
    assert abs(cascade([one, one], frequency) - expected) <= 1e-12 * abs(expected)


@given(corner=hertz, frequency=hertz, slope=slopes)
def test_a_high_pass_mirrors_its_low_pass_about_the_corner(corner, frequency, slope):
    low, high = (
        Filter(kind=kind, family=slope[0], order=slope[1], frequency_hz=corner)
        for kind in ("low-pass", "high-pass")
    )
    mirrored = corner / (frequency / corner)
    expected = low.response(mirrored).conjugate()
    assert abs(high.response(frequency) - expected) <= 1e-9 * abs(expected)


@given(corner=hertz, frequency=hertz, order=st.integers(1, 8))
def test_a_butterworth_low_pass_falls_as_its_definition_says(corner, frequency, order):
    # |H|² = 1 / (1 + (f/f_c)^(2n)): Butterworth 1930.
    one = Filter(kind="low-pass", family="butterworth", order=order, frequency_hz=corner)
    expected = 1 / (1 + (frequency / corner) ** (2 * order))
    assert abs(one.response(frequency)) ** 2 == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("order", range(1, 9))
def test_a_bessel_low_pass_delays_its_whole_band_alike(order):
    # Maximally flat delay: the first 2n − 1 derivatives vanish, so it stands still near 0 Hz.
    one = Filter(kind="low-pass", family="bessel", order=order, frequency_hz=1000)
    part = 0.1  # of the corner
    moved = abs(one.delay_s(1000 * part) / one.delay_s(1e-3) - 1)
    assert moved <= 1.2 * part ** (2 * order) + 1e-13


@given(one=filters, frequency=hertz)
def test_every_filter_delays_and_none_amplifies(one, frequency):
    assert one.delay_s(frequency) > 0
    assert abs(one.response(frequency)) <= 1 + 1e-12


# ---- levels and angles -----------------------------------------------------------------------


@given(level=st.floats(-990, 200), angle=st.floats(-math.pi, math.pi))
def test_a_level_is_twenty_times_the_logarithm_of_the_size(level, angle):
    found = level_db(cmath.rect(10 ** (level / 20), angle))
    assert found == pytest.approx(level, abs=2e-9)  # told with 9 decimals


@pytest.mark.parametrize("size", [0, 1e-51, 1e-300, 0j])
def test_what_cannot_be_heard_has_the_level_of_silence(size):
    assert level_db(size) == SILENCE_DB == -1000


def test_nothing_lost_is_a_plain_zero():
    assert str(level_db(1)) == str(level_db(1 - 1e-15)) == "0.0"
    assert str(phase_deg(1)) == str(phase_deg(complex(1, -1e-18))) == "0.0"
    assert level_db(1 - 1e-6) == pytest.approx(-20e-6 / math.log(10), abs=1e-9)


@given(angle=st.floats(-1e7, 1e7))
def test_a_wrapped_angle_lies_within_half_a_turn_and_points_the_same_way(angle):
    found = wrapped_deg(angle)
    assert -180 < found <= 180
    turns = (angle - found) / 360
    assert turns == pytest.approx(round(turns), abs=1e-10)  # 9 decimals, 10⁷ has 9 more
    assert wrapped_deg(found) == found


@given(turns=st.integers(-1000, 1000), tenths=st.integers(-1799, 1800))
def test_whole_turns_change_no_angle(turns, tenths):
    assert wrapped_deg(360 * turns + tenths / 10) == pytest.approx(tenths / 10, abs=1e-9)


@given(turns=st.integers(-1000, 1000), noise=st.floats(-4e-10, 4e-10))
def test_half_a_turn_is_always_plus_180(turns, noise):
    assert wrapped_deg(360 * turns + 180 + noise) == 180


@given(angle=st.floats(-179.999, 180), size=st.floats(1e-30, 1e3))
def test_a_phase_is_the_angle_of_the_number_whatever_its_size(angle, size):
    found = phase_deg(cmath.rect(size, math.radians(angle)))
    assert found == pytest.approx(angle, abs=1e-8)


def test_rounding_errors_do_not_turn_plus_180_into_minus_180():
    assert phase_deg(complex(-1, -1e-15)) == phase_deg(complex(-1, 1e-15)) == 180
    assert phase_deg(complex(-1, -1e-6)) == pytest.approx(-180 + math.degrees(1e-6), abs=1e-9)


# ---- where a level falls away ----------------------------------------------------------------


def scipy_corner(one, level, outside_hz):
    def above(exponent):
        return 20 * math.log10(abs(scipy_response(one, 10**exponent))) - level

    inside_hz = one.frequency_hz**2 / outside_hz
    ends = sorted(math.log10(end) for end in (inside_hz, outside_hz))
    return 10 ** optimize.brentq(above, *ends, xtol=1e-13)


@given(one=filters, level=st.floats(-30, -1))
def test_the_frequency_of_a_level_is_the_one_that_brents_method_finds(one, level):
    outward = 100 if one.kind == "low-pass" else 0.01
    inside, outside = one.frequency_hz / outward, one.frequency_hz * outward
    found = falling_hz(
        lambda f: level_db(one.response(f)), level, inside_hz=inside, outside_hz=outside
    )
    # Levels have 9 decimals and fall by a decibel or more per e-fold where they are asked for.
    assert found == pytest.approx(scipy_corner(one, level, outside), rel=1e-8)


@given(corner=hertz, slope=slopes, other=slopes)
def test_a_band_falls_at_its_own_corner_on_both_sides(corner, slope, other):
    chain = [
        Filter(kind="high-pass", family=slope[0], order=slope[1], frequency_hz=corner),
        Filter(kind="low-pass", family=other[0], order=other[1], frequency_hz=1e4 * corner),
    ]
    # 10⁴ apart, each side leaves the other's corner alone to a part in 10⁸ of the power.
    for family, outside, expected in (
        (slope[0], 1e-2 * corner, corner),
        (other[0], 1e6 * corner, 1e4 * corner),
    ):
        level = HALF_VOLTAGE_DB if family == "linkwitz-riley" else HALF_POWER_DB
        found = falling_hz(
            lambda f: level_db(cascade(chain, f)), level, inside_hz=1e2 * corner, outside_hz=outside
        )
        assert found == pytest.approx(expected, rel=1e-6)


def test_a_level_that_is_never_left_or_never_reached_has_no_frequency():
    one = Filter(kind="low-pass", family="butterworth", order=2, frequency_hz=100)

    def level_at(frequency):
        return level_db(one.response(frequency))

    assert falling_hz(level_at, -3, inside_hz=1000, outside_hz=2000) is None  # begins below
    assert falling_hz(level_at, -3, inside_hz=10, outside_hz=90) is None  # ends before
    # 1 + x⁴ = 10^0.3 a little below the corner
    expected = 100 * (10**0.3 - 1) ** 0.25
    assert falling_hz(level_at, -3, inside_hz=10, outside_hz=100) == pytest.approx(
        expected, rel=1e-9
    )
    # a level is not below itself
    assert falling_hz(lambda _: -3.0, -3, inside_hz=10, outside_hz=20_000) is None


def test_the_way_includes_its_beginning_and_nothing_beyond_its_end():
    def level_at(frequency):
        return -20 if frequency > 100 else 0

    # begins at the level
    assert falling_hz(level_at, 0, inside_hz=10, outside_hz=1000) == pytest.approx(100, rel=1e-9)
    assert falling_hz(level_at, -3, inside_hz=10, outside_hz=99.9) is None  # ends a tenth before
    assert falling_hz(level_at, -3, inside_hz=99.9, outside_hz=100.1) == pytest.approx(
        100, rel=1e-9
    )


def test_of_several_falls_the_first_on_the_way_is_told():
    def level_at(frequency):
        return -20 if 100 < frequency < 200 or frequency > 1000 else 0

    assert falling_hz(level_at, -3, inside_hz=50, outside_hz=5000) == pytest.approx(100, rel=1e-9)
    assert falling_hz(level_at, -3, inside_hz=500, outside_hz=5000) == pytest.approx(1000, rel=1e-9)
    assert falling_hz(level_at, -3, inside_hz=500, outside_hz=20) == pytest.approx(200, rel=1e-9)


# ---- refusals --------------------------------------------------------------------------------


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("order", range(-1, 11))
def test_a_family_has_the_orders_it_has_and_refuses_the_others(family, order):
    exists = order in ORDERS[family]
    assert has_order(family, order) is exists
    if not exists:
        with pytest.raises(ValueError, match=f"no {family} filter of order {order}"):
            poles(family, order)
        with pytest.raises(ValueError, match=f"of order {order}"):
            Filter(kind="low-pass", family=family, order=order, frequency_hz=100)


@pytest.mark.parametrize("corner", [0, -1, -80.0, math.nan])
def test_a_corner_that_is_not_above_zero_is_refused(corner):
    with pytest.raises(ValueError, match="above 0"):
        Filter(kind="high-pass", family="butterworth", order=2, frequency_hz=corner)


@given(one=filters, factor=st.floats(0.01, 100), frequency=hertz)
def test_only_the_ratio_to_the_corner_counts(one, factor, frequency):
    moved = Filter(
        kind=one.kind,
        family=one.family,
        order=one.order,
        frequency_hz=one.frequency_hz * factor,
    )
    expected = one.response(frequency)
    assert abs(moved.response(frequency * factor) - expected) <= 1e-12 * abs(expected)
    delay = one.delay_s(frequency) / factor
    assert moved.delay_s(frequency * factor) == pytest.approx(delay, rel=1e-9)

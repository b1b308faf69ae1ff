"""Levels, boost and readings, against scipy, closed forms and laws."""

import math

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, optimize, signal

from calc.answers.plots import THIRD_OCTAVES_HZ as DRAWN
from calc.physics.boost import Boost, lower_by
from calc.physics.filter_sums import THIRD_OCTAVES_HZ as SUMMED
from calc.physics.levels import (
    clipped_power,
    level_db,
    power,
    power_ratio,
    ratio,
    starting_volts,
    target,
    voltage,
)
from calc.physics.readings import Expected, coil_resistance, gain_window

few = settings(max_examples=60, deadline=None)
levels = st.floats(-60, 60)
powers, loads = st.floats(0.1, 5000), st.floats(0.5, 32)


def test_sixty_watts_into_four_ohms():
    # A value that the trade prints on charts: 15.49 V.
    assert voltage(power_w=60, load_ohm=4) == pytest.approx(15.49, abs=0.005)


@few
@given(powers, loads)
def test_power_and_voltage_are_each_other_s_inverse(watts, ohm):
    volts = voltage(power_w=watts, load_ohm=ohm)
    assert power(volts=volts, load_ohm=ohm) == pytest.approx(watts)


@few
@given(levels)
def test_levels_and_ratios_are_each_other_s_inverse(level):
    assert level_db(ratio(level)) == pytest.approx(level, abs=1e-9)
    assert power_ratio(level) == pytest.approx(ratio(level) ** 2)


def test_levels_that_everybody_knows():
    # Twice the voltage 6.02 dB, ten times 20 dB; twice the power 3.01 dB: definition of the bel.
    assert level_db(2) == pytest.approx(6.0206, abs=1e-4)
    assert ratio(20) == pytest.approx(10)
    assert power_ratio(3.0103) == pytest.approx(2, rel=1e-5)
    assert power_ratio(6) == pytest.approx(3.98, abs=0.005)
    assert power_ratio(12) == pytest.approx(15.8, abs=0.05)


@few
@given(powers, loads, st.floats(-40, 0), st.floats(0, 18))
def test_the_boosted_amplifier_is_at_its_target_again(watts, ohm, tone, boost):
    lowered = target(power_w=watts, load_ohm=ohm, tone_dbfs=tone, boost_db=boost)
    plain = target(power_w=watts, load_ohm=ohm, tone_dbfs=tone)
    assert lowered * 10 ** (boost / 20) == pytest.approx(plain)
    assert power(volts=plain, load_ohm=ohm) == pytest.approx(watts * 10 ** (tone / 10))


@pytest.mark.parametrize("over", [0.0, 0.5, 1.0, 3.0, 6.0, 12.0, 20.0, 40.0])
def test_the_power_of_a_clipped_sine_is_the_integral_of_its_square(over):
    drive = 10 ** (over / 20)
    corner = math.asin(min(1, 1 / drive))
    found, _ = integrate.quad(
        lambda x: min(drive * math.sin(x), 1.0) ** 2, 0, math.pi / 2, points=[corner], limit=200
    )
    assert clipped_power(over) == pytest.approx(found / (math.pi / 4), rel=1e-7)


def test_a_clipped_sine_has_between_one_and_two_times_the_power_and_ever_more():
    found = [clipped_power(over / 4) for over in range(0, 400)]
    assert found == sorted(found)
    assert found[0] == 1
    assert 1.999 < found[-1] < 2  # the square wave is the limit


def test_a_sine_that_is_not_clipped_keeps_its_own_power():
    assert clipped_power(-6) == pytest.approx(10 ** (-6 / 10))
    assert clipped_power(-1e-9) == pytest.approx(clipped_power(1e-9))


@pytest.mark.parametrize("gain", [0.0, 3.0, 6.0, 12.0, 18.0])
@pytest.mark.parametrize("q", [0.3, 0.707, 1.0, 4.0])
def test_the_boost_is_the_filter_that_scipy_computes_from_its_polynomials(gain, q):
    lift, turn = 10 ** (gain / 40), 2 * math.pi * 45
    above = [1, lift * turn / q, turn**2]
    below = [1, turn / (lift * q), turn**2]
    hertz = numpy.array([20, 31.5, 45, 63, 100, 1000, 20000.0])
    _, response = signal.freqs(above, below, 2 * math.pi * hertz)
    boost = Boost(frequency_hz=45, gain_db=gain, q=q)
    for one, expected in zip(hertz, response, strict=True):
        assert boost.response(one) == pytest.approx(expected, rel=1e-9, abs=1e-12)
        assert boost.level_db(one) == pytest.approx(20 * math.log10(abs(expected)), abs=1e-9)


@pytest.mark.parametrize(("gain", "q"), [(6, 1), (12, 0.5), (3, 3), (18, 2)])
def test_half_of_the_decibels_where_a_root_finder_finds_them(gain, q):
    boost = Boost(frequency_hz=45, gain_db=gain, q=q)

    def away(hertz):
        return boost.level_db(hertz) - gain / 2

    low, high = boost.half_gain_hz()
    assert low == pytest.approx(optimize.brentq(away, 1, 45), rel=1e-9)
    assert high == pytest.approx(optimize.brentq(away, 45, 2000), rel=1e-9)
    assert high - low == pytest.approx(45 / q)
    assert boost.octaves == pytest.approx(math.log(high / low) / math.log(2))


@few
@given(st.floats(0, 18), st.floats(0, 30))
def test_lowered_by_no_more_than_what_is_missing(boost, room):
    lower = lower_by(boost_db=boost, headroom_db=room)
    assert lower >= 0
    assert boost - room <= lower <= boost
    assert (lower == 0) == (boost <= room)


def test_both_lists_of_preferred_frequencies_are_those_of_iso_266():
    # ISO 266: exact values are 1000 · 10^(n/10); nominal ones lie within 1.3 % of them.
    assert DRAWN == SUMMED
    for at, nominal in enumerate(DRAWN):
        assert nominal == pytest.approx(1000 * 10 ** ((at - 17) / 10), rel=0.013)


def test_a_bound_is_within():
    span = Expected(low=1, high=2)
    assert [span.place(one) for one in (0.999, 1, 2, 2.001)] == [
        "below", "within", "within", "above",
    ]  # fmt: skip
    assert Expected(low=1).place(1e9) == "within"
    assert Expected(high=1).place(-1e9) == "within"
    assert not Expected().is_known
    assert Expected(low=0).is_known
    assert Expected(high=0).is_known


def test_a_coil_has_three_quarters_to_nineteen_twentieths_of_its_load():
    # Common practice: 4 ohm loudspeakers measure 3.0 to 3.8 ohm at DC.
    plain = coil_resistance(load_ohm=4, lead_ohm=0, has_network=False)
    assert (plain.low, plain.high) == pytest.approx((3.0, 3.8))
    behind = coil_resistance(load_ohm=4, lead_ohm=0.2, has_network=True)
    assert (behind.low, behind.high) == pytest.approx((3.2, 4.5))


@few
@given(st.floats(0.1, 200))
def test_the_gain_s_window_is_half_a_decibel_to_either_side(volts):
    window = gain_window(volts, ceiling_v=2 * volts)
    assert 20 * math.log10(window.high / volts) == pytest.approx(0.5)
    assert 20 * math.log10(window.low / volts) == pytest.approx(-0.5)


@given(st.lists(st.tuples(st.floats(1, 60), st.floats(80, 100)), min_size=1, max_size=5))
def test_all_start_equally_loud_and_none_beyond_its_ceiling(sections):
    """S + 20·lg(V ÷ 2.83) is one level, that of the section that reaches least at its ceiling."""
    ceilings, sensitivities = zip(*sections, strict=True)
    starts = starting_volts(ceilings_v=ceilings, sensitivities_db=sensitivities)
    levels = [
        s + 20 * math.log10(v / 2.83) for s, v in zip(sensitivities, starts, strict=True)
    ]  # fmt: skip
    most = [s + 20 * math.log10(v / 2.83) for s, v in zip(sensitivities, ceilings, strict=True)]
    assert all(abs(one - min(most)) < 1e-9 for one in levels)
    assert all(one <= most_ * (1 + 1e-12) for one, most_ in zip(starts, ceilings, strict=True))
    assert any(one == pytest.approx(most_) for one, most_ in zip(starts, ceilings, strict=True))


def test_the_quieter_section_sets_the_level():
    """Tweeter 95 dB, mid-bass 89 dB, both 80 W into 4 Ω: the tweeter is turned down 6 dB."""
    starts = starting_volts(ceilings_v=(320**0.5, 320**0.5), sensitivities_db=(95, 89))
    assert starts == (pytest.approx(8.966, abs=0.001), pytest.approx(17.889, abs=0.001))

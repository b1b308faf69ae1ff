"""Sums of two sections held against complex arithmetic on scipy's filters, and against what
Linkwitz, Garde and Butterworth say of them; delays against the speed of sound that tables give.
"""

import cmath
import json
import math

import numpy as np
import pytest
from conftest import ROOT
from hypothesis import assume, given
from hypothesis import strategies as st
from test_crossover_filters import SLOPES, filters, hertz, scipy_response, slopes

from calc.physics.delays import delays_s, flight_s, sound_speed
from calc.physics.filter_sums import (
    DEEPEST_DB,
    HIGHEST_HZ,
    LOWEST_HZ,
    THIRD_OCTAVES_HZ,
    Voice,
    grid_hz,
    phase_difference_deg,
    ripple_db,
    sum_db,
    summing_rule,
)
from calc.physics.filters import SILENCE_DB, Filter, level_db

PUBLISHED = (ROOT / "shared/published/crossover-coefficients.json").read_text("utf-8")
SOUND = json.loads(PUBLISHED)["sound_speed"]
decibels = st.floats(-40, 40)
delays = st.floats(0, 0.02)  # 20 ms are 7 m
complexes = st.builds(cmath.rect, st.floats(1e-9, 1e3), st.floats(-math.pi, math.pi))
voices = st.builds(
    Voice,
    filters=st.lists(filters, max_size=3).map(tuple),
    gain_db=decibels,
    is_reversed=st.booleans(),
    delay_s=delays,
)


def pair(slope, corner, is_reversed=False):
    """Return low and high section with like filters at one corner; the high one reversed or not."""
    low, high = (
        Filter(kind=kind, family=slope[0], order=slope[1], frequency_hz=corner)
        for kind in ("low-pass", "high-pass")
    )
    return Voice(filters=(low,)), Voice(filters=(high,), is_reversed=is_reversed)


def summed(chosen, frequency):
    return sum_db([voice.response(frequency) for voice in chosen])


def slopes_of(family, *orders):
    return st.sampled_from([(family, order) for order in orders])


# ---- what like filters do together -----------------------------------------------------------

# Levels are told with 9 decimals, and the last bits of the parts count for less.
FLAT = pytest.approx(0, abs=1e-8)
PLUS_3 = pytest.approx(3.0103, abs=5e-5)  # printed with 4 decimals


@given(slope=slopes_of("linkwitz-riley", 4, 8), corner=hertz, frequency=hertz)
def test_linkwitz_riley_sections_of_order_4_and_8_sum_flat_in_like_polarity(
    slope, corner, frequency
):
    assert summed(pair(slope, corner), frequency) == FLAT
    assert summed(pair(slope, corner, is_reversed=True), corner) is None


@given(slope=slopes_of("linkwitz-riley", 2, 6), corner=hertz, frequency=hertz)
def test_linkwitz_riley_sections_of_order_2_and_6_sum_flat_with_one_reversed(
    slope, corner, frequency
):
    assert summed(pair(slope, corner, is_reversed=True), frequency) == FLAT
    assert summed(pair(slope, corner), corner) is None


@given(slope=slopes_of("butterworth", 2, 6), corner=hertz)
def test_butterworth_sections_of_order_2_and_6_cancel_unless_one_is_reversed(slope, corner):
    assert summed(pair(slope, corner), corner) is None
    assert summed(pair(slope, corner, is_reversed=True), corner) == PLUS_3


@given(slope=slopes_of("butterworth", 4, 8), corner=hertz)
def test_butterworth_sections_of_order_4_and_8_cancel_if_one_is_reversed(slope, corner):
    assert summed(pair(slope, corner, is_reversed=True), corner) is None
    assert summed(pair(slope, corner), corner) == PLUS_3


@given(
    slope=slopes_of("butterworth", 1, 3, 5, 7),
    corner=hertz,
    frequency=hertz,
    is_reversed=st.booleans(),
)
def test_odd_butterworth_sections_sum_flat_in_either_polarity(
    slope, corner, frequency, is_reversed
):
    assert summed(pair(slope, corner, is_reversed), frequency) == FLAT


@given(order=st.integers(1, 8), corner=hertz, frequency=hertz)
def test_butterworth_sections_share_the_power_without_loss(order, corner, frequency):
    low, high = pair(("butterworth", order), corner)
    power = abs(low.response(frequency)) ** 2 + abs(high.response(frequency)) ** 2
    assert power == pytest.approx(1, abs=1e-12)  # rounding of up to eight factors


def scipy_sum(chosen, frequencies):
    """Return the sum's size, from scipy's responses and the definition of a reversed section."""
    return np.abs(
        sum(
            (-1 if voice.is_reversed else 1) * scipy_response(voice.filters[0], frequencies)
            for voice in chosen
        )
    )


@pytest.mark.parametrize("slope", SLOPES)
def test_the_summing_rule_says_what_scipys_filters_do(slope):
    frequencies = np.geomspace(20, 20_000, 241)
    corner = 20_000**0.5 * 20**0.5  # the middle one: the grid meets it
    normal, turned = (scipy_sum(pair(slope, corner, way), frequencies) for way in (False, True))
    rule = summing_rule(*slope)
    if rule is None:
        # Neither polarity is flat, beyond the first order, which is that of Butterworth.
        assert slope[0] == "bessel"
        is_first = slope[1] == 1
        assert [np.ptp(sizes) < 0.01 for sizes in (normal, turned)] == [is_first] * 2
        return
    is_reversed, is_flat = rule
    better, worse = (turned, normal) if is_reversed else (normal, turned)
    # scipy's filters of order 8 are exact to about 1e-12.
    if is_flat:
        assert better == pytest.approx(np.ones_like(better), abs=1e-9)
    else:
        assert better[120] == max(better) == pytest.approx(2**0.5, abs=1e-9)
    if slope[1] % 2:
        assert worse == pytest.approx(np.ones_like(worse), abs=1e-9)
    else:
        assert worse[120] == pytest.approx(0, abs=1e-9)


@given(slope=slopes.filter(lambda slope: slope[0] != "bessel"), corner=st.floats(100, 4000))
def test_the_ripple_of_like_filters_follows_the_rule(slope, corner):
    is_reversed, is_flat = summing_rule(*slope)
    good, bad = (pair(slope, corner, way) for way in (is_reversed, not is_reversed))
    found = ripple_db(good, grid_hz(corner))
    # Within hearing the corner stands 3.01 dB above the ends, or nothing does; away from the
    # ends by two octaves and more, a second order has come down to 0.3 dB.
    if is_flat:
        assert found == FLAT
    else:
        assert found == pytest.approx(3.0103, abs=0.35)
    assert (ripple_db(bad, grid_hz(corner)) is None) is (slope[1] % 2 == 0)


# ---- one voice -------------------------------------------------------------------------------


@given(voice=voices, frequency=hertz)
def test_a_voice_is_level_polarity_and_delay_times_its_filters(voice, frequency):
    expected = 10 ** (voice.gain_db / 20) * np.prod(
        [scipy_response(one, frequency) for one in voice.filters]
    )
    # A delay of τ turns by a whole turn per 1/τ, backwards.
    turns = frequency * voice.delay_s + (0.5 if voice.is_reversed else 0)
    expected *= cmath.rect(1, -2 * math.pi * (turns % 1))
    # 800 turns (20 ms at 40 kHz) cost three of sixteen digits.
    assert abs(voice.response(frequency) - expected) <= 1e-9 * abs(expected)


@given(voice=voices, frequency=hertz)
def test_turned_twice_a_voice_is_as_it_was(voice, frequency):
    assert voice.turned() != voice
    assert voice.turned().response(frequency) == -voice.response(frequency)
    assert voice.turned().turned() == voice


@given(voice=voices, frequency=hertz, more=decibels)
def test_gains_add_in_decibels(voice, frequency, more):
    louder = Voice(
        filters=voice.filters,
        gain_db=voice.gain_db + more,
        is_reversed=voice.is_reversed,
        delay_s=voice.delay_s,
    )
    before, after = (level_db(one.response(frequency)) for one in (voice, louder))
    assume(min(before, after) > SILENCE_DB + 100)
    assert after - before == pytest.approx(more, abs=3e-9)  # two levels with 9 decimals


def test_a_plain_voice_changes_nothing():
    assert Voice(filters=()).response(1000) == 1


# ---- sums ------------------------------------------------------------------------------------


def size(level):
    return 0.0 if level is None else 10 ** (level / 20)


@given(parts=st.lists(complexes, min_size=1, max_size=4))
def test_a_sum_is_the_level_of_the_complex_total(parts):
    # Nine decimals of a decibel are 1.2e-10 of the size; below 1e-10 of the parts it is None.
    most = sum(abs(one) for one in parts)
    assert size(sum_db(parts)) == pytest.approx(abs(np.sum(parts)), rel=2e-10, abs=2e-10 * most)


@given(part=complexes, left=st.floats(-8, -1).map(lambda exponent: 10**exponent))
def test_a_sum_is_none_when_the_parts_cancel_and_only_then(part, left):
    assert sum_db([part, -part]) is None
    assert sum_db([part * cmath.exp(2j * math.pi * third / 3) for third in range(3)]) is None
    found = sum_db([part, -part * (1 - left)])
    # What is left of a difference has lost the digits that its parts shared: 8 of 16.
    assert found == pytest.approx(20 * math.log10(abs(part) * left), abs=1e-6)


def test_a_sum_of_nothing_has_no_level():
    assert sum_db([]) is None
    assert sum_db([0j, 0j]) is None


def test_a_sum_too_faint_for_any_level_is_silence_and_not_cancelled():
    assert sum_db([1e-60, 1e-60]) == SILENCE_DB


@given(chosen=st.lists(voices, min_size=1, max_size=3), frequency=hertz, delay=delays)
def test_a_delay_common_to_all_changes_no_level(chosen, frequency, delay):
    later = [
        Voice(
            filters=one.filters,
            gain_db=one.gain_db,
            is_reversed=one.is_reversed,
            delay_s=one.delay_s + delay,
        )
        for one in chosen
    ]
    most = sum(abs(one.response(frequency)) for one in chosen)
    assume(most > 1e-40)  # above silence
    # 1600 turns cost four of sixteen digits.
    expected = size(summed(chosen, frequency))
    assert size(summed(later, frequency)) == pytest.approx(expected, rel=1e-9, abs=1e-9 * most)


@given(
    slope=slopes,
    other=slopes,
    corner=hertz,
    frequency=hertz,
    factor=st.floats(0.01, 100),
    delay=delays,
    is_reversed=st.booleans(),
)
def test_frequency_corner_and_time_scaled_together_change_nothing(
    slope, other, corner, frequency, factor, delay, is_reversed
):
    def responses(scale):
        low = Filter(kind="low-pass", family=slope[0], order=slope[1], frequency_hz=corner * scale)
        high = Filter(
            kind="high-pass", family=other[0], order=other[1], frequency_hz=corner * scale
        )
        later = Voice(filters=(high,), is_reversed=is_reversed, delay_s=delay / scale)
        return [one.response(frequency * scale) for one in (Voice(filters=(low,)), later)]

    plain, scaled = responses(1), responses(factor)
    for one, two in zip(plain, scaled, strict=True):
        assert abs(one - two) <= 1e-9 * abs(one)  # 800 turns cost three of sixteen digits


# ---- phase between two sections --------------------------------------------------------------


@given(order=st.integers(1, 8), corner=hertz, frequency=hertz)
def test_a_butterworth_low_section_lags_a_quarter_turn_per_order(order, corner, frequency):
    # H/L = (s/ω_c)^n: n quarter turns at every frequency.
    low, high = (one.response(frequency) for one in pair(("butterworth", order), corner))
    expected = {0: 0, 1: -90, 2: 180, 3: 90}[order % 4]
    assert phase_difference_deg(low, high) == pytest.approx(expected, abs=1e-8)  # 9 decimals


@given(low=complexes, angle=st.floats(-179.99, 179.99), ratio=st.floats(1e-6, 1e6))
def test_the_phase_difference_is_that_of_the_low_section_less_that_of_the_high(low, angle, ratio):
    high = low * ratio * cmath.exp(-1j * math.radians(angle))
    assert phase_difference_deg(low, high) == pytest.approx(angle, abs=1e-8)  # 9 decimals
    assert phase_difference_deg(high, low) == pytest.approx(-angle, abs=1e-8)


@given(low=voices, high=voices, frequency=hertz, part=st.floats(0.001, 0.499))
def test_a_later_low_section_falls_behind_in_phase(low, high, frequency, part):
    late = Voice(
        filters=low.filters,
        gain_db=low.gain_db,
        is_reversed=low.is_reversed,
        delay_s=low.delay_s + part / frequency,
    )
    one, two, other = (voice.response(frequency) for voice in (low, late, high))
    assume(min(abs(one), abs(other)) > 1e-100)
    turned = phase_difference_deg(two, other) - phase_difference_deg(one, other)
    # 800 turns cost three of sixteen digits: 1e-7 of a degree is left.
    assert turned % 360 == pytest.approx(360 - 360 * part, abs=1e-6)


# ---- ripple and grid -------------------------------------------------------------------------


@given(chosen=st.lists(voices, min_size=1, max_size=3))
def test_ripple_is_the_highest_less_the_lowest_level_unless_there_is_a_hole(chosen):
    frequencies = (25.0, 80.0, 315.0, 1000.0, 12_500.0)
    sizes = [abs(sum(one.response(f) for one in chosen)) for f in frequencies]
    levels = [20 * math.log10(one) if one > 1e-50 else SILENCE_DB for one in sizes]
    assume(all(abs(level - DEEPEST_DB) > 1e-6 for level in levels))
    found = ripple_db(chosen, frequencies)
    if min(levels) < DEEPEST_DB:
        assert found is None
    else:
        assert found == pytest.approx(
            max(levels) - min(levels), abs=1e-5
        )  # differences of few bits


def test_a_hole_is_a_level_below_the_deepest():
    whole = Voice(filters=())
    faint, fainter = (Voice(filters=(), gain_db=gain) for gain in (-60.0, -60.001))
    assert DEEPEST_DB == -60
    assert ripple_db([faint], [100.0]) == 0
    assert ripple_db([fainter], [100.0]) is None
    assert ripple_db([fainter], [100.0], deepest_db=-61) == 0
    assert ripple_db([whole], [100.0], deepest_db=1) is None
    # Half a turn apart at 500 Hz, and there alone.
    late = Voice(filters=(), delay_s=1e-3)
    assert ripple_db([whole, late], [250.0, 500.0]) is None
    # At 250 Hz a quarter turn: +3.01 dB against +6.02 dB at 1 kHz.
    assert ripple_db([whole, late], [250.0, 1000.0]) == PLUS_3


@given(more=st.lists(st.floats(1, 40_000), max_size=4), per_octave=st.integers(1, 48))
def test_a_grid_runs_evenly_through_hearing_and_holds_what_is_asked_for(more, per_octave):
    found = np.array(grid_hz(*more, per_octave=per_octave))
    assert (found[0], found[-1]) == (LOWEST_HZ, HIGHEST_HZ) == (20, 20_000)
    assert (np.diff(found) > 0).all()
    inside = {one for one in more if 20 <= one <= 20_000}
    assert inside <= set(found)
    even = np.array(grid_hz(per_octave=per_octave))
    assert set(found) == inside | set(even)
    steps = np.diff(np.log2(even))
    assert steps == pytest.approx(np.full(len(steps), steps[0]), rel=1e-9)
    assert len(steps) == round(math.log2(1000) * per_octave)


def test_a_grid_has_24_steps_per_octave_unless_something_else_is_said():
    # log₂ 1000 = 9.966 octaves: 239 steps
    assert grid_hz() == grid_hz(per_octave=24)
    assert len(grid_hz()) == 240


def test_the_third_octaves_are_the_preferred_numbers_of_iso_266():
    # ISO 266 takes the ten numbers of R10 (from memory), rounded from 10^(n/10) by less than 1 %.
    numbers = (1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8)
    every = [round(one * 10**decade, 2) for decade in range(1, 5) for one in numbers]
    heard = [one for one in every if 20 <= one <= 20_000]
    assert list(THIRD_OCTAVES_HZ) == heard
    assert heard == pytest.approx([10 ** (n / 10) for n in range(13, 44)], rel=0.01)


# ---- sound on its way ------------------------------------------------------------------------


@pytest.mark.parametrize(("air_c", "metres"), SOUND["rows"])
def test_sound_has_the_speed_that_tables_give(air_c, metres):
    assert sound_speed(air_c=air_c) == pytest.approx(metres, abs=0.05)  # one decimal


@given(air_c=st.floats(-40, 80))
def test_the_speed_of_sound_goes_with_the_root_of_the_absolute_temperature(air_c):
    # ISO 9613-1: 343.2 m/s at 293.15 K, rounded to a part in 7000.
    expected = 343.2 * math.sqrt((air_c + 273.15) / 293.15)
    assert sound_speed(air_c=air_c) == pytest.approx(expected, rel=1.5e-4)


@given(distances=st.lists(st.floats(0, 10), min_size=1, max_size=6), air_c=st.floats(-40, 80))
def test_delayed_sections_all_arrive_with_the_farthest_which_waits_for_nobody(distances, air_c):
    found = delays_s(distances_m=tuple(distances), air_c=air_c)
    assert found[distances.index(max(distances))] == 0
    assert min(found) >= 0
    metres = 331.3 * math.sqrt((273.15 + air_c) / 273.15)
    arrivals = [one + far / metres for one, far in zip(found, distances, strict=True)]
    assert arrivals == pytest.approx([max(distances) / metres] * len(found), abs=1e-12)
    assert flight_s(distance_m=max(distances), air_c=air_c) == pytest.approx(arrivals[0])

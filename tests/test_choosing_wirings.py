"""How the speakers of a feed can be wired: loads by series and parallel, levels by energy."""

import math

import pytest
from choosing_systems import job_of
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.choosing.layouts.wirings import Wiring, even_loads, sensitivity, wirings


@given(st.sampled_from([1, 2]), st.sampled_from([1, 2]), st.sampled_from([1.0, 2.0, 4.0]))
@settings(deadline=None)
def test_a_wiring_keeps_the_energy_of_its_speakers(count, coils, ohm):
    """At one volt-amp balance: n drivers in a load R take V²/R together, each the n-th part; the
    level rises with the pressure of n sources in step and the root of each one's power."""
    text = f"w,woofer,{count},{coils},{ohm},100,,85,,2,120,,,,"
    (feed,) = job_of(speakers=text, networks="", head_filters="").feeds
    for wiring in wirings(feed):
        parallel = ohm / coils
        each_w = 2.83**2 / wiring.load_ohm / wiring.drivers
        alone_w = 2.83**2 / parallel
        pressure = wiring.drivers * (each_w / alone_w) ** 0.5
        expected = 85 + 20 * math.log10(pressure)
        assert sensitivity(feed, wiring) == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize(
    ("drivers", "coils", "ohm", "loads"),
    [
        (1, 1, 4, {4}),
        (1, 2, 4, {2, 8}),
        (2, 1, 4, {2, 8}),
        (2, 2, 4, {1, 4, 16}),
        (4, 1, 8, {2, 8, 32}),
    ],
)
def test_even_loads_are_those_of_series_and_parallel(drivers, coils, ohm, loads):
    """Series–parallel of like coils: n·R, R/n and, for squares, R (textbook)."""
    assert set(even_loads(drivers, coils, float(ohm))) == loads


def test_woofers_in_parallel_on_one_output_are_not_counted_twice():
    job = job_of(speakers="w,woofer,2,2,4,100,,85,,2,120,,,,", networks="", head_filters="")
    assert wirings(job.feeds[0]) == (
        Wiring(load_ohm=2.0, units=2, drivers=1),
        Wiring(load_ohm=8.0, units=2, drivers=1),
        Wiring(load_ohm=16.0, units=1, drivers=2),
    )

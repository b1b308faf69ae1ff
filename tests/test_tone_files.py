"""Tone files, read back by scipy and measured by its Fourier transform."""

import io

import numpy
import pytest
from scipy import fft
from scipy.io import wavfile

from calc.physics.tones import (
    FADE_IN_S,
    FADE_OUT_S,
    HIGHEST_HZ,
    LONGEST_S,
    LOWEST_HZ,
    RATE_HZ,
    SHORTEST_S,
    highest_dbfs,
    sine_second,
    tone_samples,
    tone_wav,
)


def read_back(**asked):
    rate, samples = wavfile.read(io.BytesIO(tone_wav(**asked)))
    assert rate == 44100
    assert samples.dtype == numpy.int16
    return samples


@pytest.mark.parametrize(
    ("hertz", "level"),
    [(20, 0.0), (50, -5.0), (315, -10.0), (1000, 0.0), (3150, -10.0), (10000, -20.5)],
)  # fmt: skip
def test_frequency_and_level_of_the_file(hertz, level):
    left = read_back(frequency_hz=hertz, level_dbfs=level, length_s=3)[:, 0]
    # A whole second of the steady part: a line of the transform for each hertz.
    steady = left[RATE_HZ : 2 * RATE_HZ].astype(float)
    lines = 2 * numpy.abs(fft.rfft(steady)) / len(steady)
    assert int(lines.argmax()) == hertz
    assert 20 * numpy.log10(lines[hertz] / 32767) == pytest.approx(level, abs=0.01)
    # All else is rounding to 16 bits: far below the tone.
    rest = numpy.delete(lines, hertz)
    assert rest.max() < lines[hertz] / 1000
    assert numpy.abs(left).max() <= round(32767 * 10 ** (level / 20))


def test_the_tone_rises_falls_and_does_not_click():
    left = read_back(frequency_hz=1000, level_dbfs=0, length_s=2)[:, 0].astype(float)
    assert len(left) == 2 * 44100
    assert (left[0], left[-1]) == (0, 0)
    # Peaks of each 10 ms: up along the fade, level, down along the fade.
    peaks = numpy.abs(left).reshape(-1, 441).max(axis=1)
    rising, falling = round(100 * FADE_IN_S), round(100 * FADE_OUT_S)
    assert (numpy.diff(peaks[:rising]) >= 0).all()
    assert (peaks[rising:-falling] > 32500).all()
    assert (numpy.diff(peaks[-falling:]) <= 0).all()
    assert peaks[0] < 100
    # Half a cosine, 0.26 s after the start, where the 26th ten milliseconds end.
    assert peaks[25] == pytest.approx(32767 * (0.5 - 0.5 * numpy.cos(numpy.pi * 0.52)), rel=0.01)
    # No step is larger than the sine's own steepest.
    assert numpy.abs(numpy.diff(left)).max() <= 32767 * 2 * numpy.pi * 1000 / 44100 + 1


@pytest.mark.parametrize(
    ("channels", "sound"), [("both", (1, 1)), ("left", (1, 0)), ("right", (0, 1))]
)
def test_the_channel_that_is_not_asked_for_is_silent(channels, sound):
    samples = read_back(frequency_hz=100, level_dbfs=-20, length_s=2, channels=channels)
    assert [int(numpy.abs(samples[:, at]).max() > 0) for at in (0, 1)] == list(sound)
    if channels == "both":
        assert (samples[:, 0] == samples[:, 1]).all()


def test_a_second_holds_whole_periods():
    second = sine_second(441, 0)
    assert list(second[:100]) == list(second[100:200])
    assert len(second) == 44100


def test_high_tones_are_capped_for_the_tweeters_sake():
    assert (highest_dbfs(1000), highest_dbfs(1001)) == (0, -10)
    with pytest.raises(ValueError, match="level"):
        tone_wav(frequency_hz=1001, level_dbfs=-9.9, length_s=2)
    with pytest.raises(ValueError, match="level"):
        tone_wav(frequency_hz=1000, level_dbfs=0.1, length_s=2)


@pytest.mark.parametrize(
    ("hertz", "length", "word"),
    [
        (LOWEST_HZ - 1, 2, "frequency"),
        (HIGHEST_HZ + 1, 2, "frequency"),
        (100, SHORTEST_S - 1, "length"),
        (100, LONGEST_S + 1, "length"),
    ],
)
def test_no_file_beyond_the_bounds(hertz, length, word):
    with pytest.raises(ValueError, match=word):
        tone_wav(frequency_hz=hertz, level_dbfs=-20, length_s=length)


def test_the_bounds_themselves_make_a_file():
    assert (
        len(tone_wav(frequency_hz=LOWEST_HZ, level_dbfs=0, length_s=SHORTEST_S)) == 44 + 2 * 176400
    )
    assert len(tone_wav(frequency_hz=HIGHEST_HZ, level_dbfs=-10, length_s=2)) == 44 + 2 * 176400
    assert len(tone_wav(frequency_hz=50, level_dbfs=0, length_s=LONGEST_S)) == 44 + 60 * 176400


def test_a_tone_is_its_sine_but_for_the_two_ends_where_it_rises_and_dies_away():
    plain = numpy.array(sine_second(997, -3), dtype=float)
    whole = numpy.concatenate([plain, plain])
    tone = numpy.array(tone_samples(997, -3, 2), dtype=float)
    first, last = round(FADE_IN_S * RATE_HZ), round(FADE_OUT_S * RATE_HZ)
    assert (tone[first:-last] == whole[first:-last]).all()
    # Half a cosine: at a quarter of the way (2 − √2) / 4, in the middle a half.
    for place, share in ((first // 4, 0.1464), (first // 2, 0.5), (-last // 2, 0.5)):
        near = slice(place - 40, place + 40)
        assert abs(tone[near]).sum() == pytest.approx(share * abs(whole[near]).sum(), rel=0.02)

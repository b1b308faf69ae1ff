"""Test tones as WAV files: a sine of a stated frequency and level, faded in and out.

A whole number of hertz repeats itself every second: one second is worked out and repeated.
"""

import io
import math
import sys
import wave
from array import array
from collections.abc import Iterator
from typing import Literal

from calc.physics.levels import ratio

Channels = Literal["both", "left", "right"]

RATE_HZ = 44_100
LOWEST_HZ, HIGHEST_HZ = 20, 10_000
SHORTEST_S, LONGEST_S = 2, 60
FADE_IN_S, FADE_OUT_S = 0.5, 0.1
FULL_SCALE = 32_767  # the largest sample of 16 bits
# A tweeter bears a few watts of a steady tone.  Above this frequency no tone is louder than
# this, whatever is asked for: a rule of this handbook, no source.
TWEETER_HZ, TWEETER_DBFS = 1_000, -10.0


def highest_dbfs(frequency_hz: int) -> float:
    """Return the highest level that a tone may have [dBFS].

    >>> highest_dbfs(50), highest_dbfs(1000), highest_dbfs(1001)
    (0.0, 0.0, -10.0)
    """
    return TWEETER_DBFS if frequency_hz > TWEETER_HZ else 0.0


def sine_second(frequency_hz: int, level_dbfs: float) -> "array[int]":
    """Return one second of a sine as samples of 16 bits.

    frequency_hz : a whole number; level_dbfs : level of its peak, at most 0

    >>> second = sine_second(441, 0)
    >>> len(second), second[0], second[25], second[75]
    (44100, 0, 32767, -32767)
    """
    peak = FULL_SCALE * ratio(level_dbfs)
    turn = 2 * math.pi / RATE_HZ
    # The angle is reduced in whole numbers: it is as exact at the end as at the start.
    return array(
        "h",
        (round(peak * math.sin(turn * (frequency_hz * at % RATE_HZ))) for at in range(RATE_HZ)),
    )


def _fade(samples: int) -> Iterator[float]:
    """Return factors that rise from nought to one along half a cosine, without a click."""
    return (0.5 - 0.5 * math.cos(math.pi * at / samples) for at in range(samples))


def tone_samples(frequency_hz: int, level_dbfs: float, length_s: int) -> "array[int]":
    """Return the samples of a faded tone.

    length_s : whole seconds, at least two

    >>> tone = tone_samples(100, -20, 2)
    >>> len(tone), tone[0], tone[-1], max(tone)
    (88200, 0, 0, 3277)
    """
    samples = sine_second(frequency_hz, level_dbfs) * length_s
    for at, factor in enumerate(_fade(round(FADE_IN_S * RATE_HZ))):
        samples[at] = round(samples[at] * factor)
    for at, factor in enumerate(_fade(round(FADE_OUT_S * RATE_HZ))):
        samples[-1 - at] = round(samples[-1 - at] * factor)
    return samples


def tone_wav(
    *, frequency_hz: int, level_dbfs: float, length_s: int, channels: Channels = "both"
) -> bytes:
    """Return a tone as the bytes of a WAV file: two channels, 44.1 kHz, 16 bits.

    frequency_hz : 20 to 10000, whole; level_dbfs : level of the sine's peak against full scale
    length_s : 2 to 60, whole; channels : which of the two have the tone, the other is silent
    Raises ValueError where something is out of range, so that no louder file can be made.

    >>> len(tone_wav(frequency_hz=50, level_dbfs=0, length_s=2))
    352844
    """
    if not LOWEST_HZ <= frequency_hz <= HIGHEST_HZ:
        raise ValueError("a frequency from 20 to 10000 Hz")
    if not SHORTEST_S <= length_s <= LONGEST_S:
        raise ValueError("a length from 2 to 60 s")
    if level_dbfs > highest_dbfs(frequency_hz):
        raise ValueError("a level that this frequency may have")
    tone = tone_samples(frequency_hz, level_dbfs, length_s)
    both = array("h", bytes(4 * len(tone)))
    if channels != "right":
        both[0::2] = tone
    if channels != "left":
        both[1::2] = tone
    if sys.byteorder == "big":
        both.byteswap()
    file = io.BytesIO()
    with wave.open(file, "wb") as out:
        out.setnchannels(2)
        out.setsampwidth(2)
        out.setframerate(RATE_HZ)
        out.writeframes(both.tobytes())
    return file.getvalue()

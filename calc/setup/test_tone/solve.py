"""A test tone: how loud it is, and how large its file."""

from dataclasses import dataclass

from calc.physics.levels import ratio
from calc.physics.tones import RATE_HZ, highest_dbfs
from calc.setup.test_tone.inputs import Inputs

_HEADER_BYTES = 44
_SAMPLE_BYTES = 4  # two channels of 16 bits


@dataclass(frozen=True, kw_only=True)
class Result:
    """The tone as a file.

    peak : of full scale [1]
    highest_dbfs : the level that its frequency may have [dBFS]
    """

    peak: float
    highest_dbfs: float
    size_bytes: int


def solve(inputs: Inputs) -> Result:
    """Work out the tone's peak and its file's size."""
    return Result(
        peak=ratio(inputs.tone_dbfs),
        highest_dbfs=highest_dbfs(inputs.frequency_hz),
        size_bytes=_HEADER_BYTES + _SAMPLE_BYTES * RATE_HZ * inputs.length_s,
    )

"""What a filter, or two stacked, do to the signal."""

from dataclasses import dataclass
from functools import partial

from calc.crossovers.filter_response.inputs import Inputs
from calc.physics.filters import (
    HALF_POWER_DB,
    HALF_VOLTAGE_DB,
    Filter,
    cascade,
    cascade_delay_s,
    falling_hz,
    level_db,
    phase_deg,
)


@dataclass(frozen=True, kw_only=True)
class Point:
    """Level [dB], phase [°] and group delay [s] at a frequency [Hz]."""

    frequency_hz: float
    level_db: float
    phase_deg: float
    delay_s: float

    @property
    def delay_ms(self) -> float:
        """Its group delay [ms], without the last bits, which differ by machine."""
        return round(1000 * self.delay_s, 9)


@dataclass(frozen=True, kw_only=True)
class Result:
    """The filters, one after the other, and where the level falls by 3 and by 6 dB [Hz].

    order : of a stack, the sum; of a band-pass, that of each side
    corner_3db_hz, corner_6db_hz : against 0 dB; of a band-pass its lower corner; None where the
        level never comes so high
    upper_3db_hz, upper_6db_hz : the upper corner of a band-pass; None elsewhere
    """

    filters: tuple[Filter, ...]
    is_stack: bool
    order: int
    corner_3db_hz: float | None
    corner_6db_hz: float | None
    upper_3db_hz: float | None
    upper_6db_hz: float | None
    points: tuple[Point, ...]


def solve(inputs: Inputs) -> Result:
    """Work out corners and response."""
    filters = inputs.filters
    is_stack = inputs.second_frequency_hz is not None
    corners = [_corners_hz(inputs, filters, level) for level in (HALF_POWER_DB, HALF_VOLTAGE_DB)]
    return Result(
        filters=filters,
        is_stack=is_stack,
        order=sum(made.order for made in filters) if is_stack else inputs.order,
        corner_3db_hz=corners[0][0],
        corner_6db_hz=corners[1][0],
        upper_3db_hz=corners[0][1],
        upper_6db_hz=corners[1][1],
        points=tuple(_point(filters, frequency) for frequency in inputs.points_hz),
    )


def _point(filters: tuple[Filter, ...], frequency_hz: float) -> Point:
    response = cascade(filters, frequency_hz)
    return Point(
        frequency_hz=frequency_hz,
        level_db=level_db(response),
        phase_deg=phase_deg(response),
        delay_s=cascade_delay_s(filters, frequency_hz),
    )


def _corners_hz(
    inputs: Inputs, filters: tuple[Filter, ...], level: float
) -> tuple[float | None, float | None]:
    """Return where the level falls to one [dB], against 0 dB; the second of a band alone [Hz]."""

    def level_at(frequency: float) -> float:
        return level_db(cascade(filters, frequency))

    corners = [made.frequency_hz for made in filters]
    lowest, highest = min(corners) / 1000, max(corners) * 1000
    falls = partial(falling_hz, level_at, level)
    if inputs.kind == "high-pass":
        return falls(inside_hz=highest, outside_hz=lowest), None
    if inputs.kind == "low-pass":
        return falls(inside_hz=lowest, outside_hz=highest), None
    inside = (corners[0] * corners[-1]) ** 0.5
    return (
        falls(inside_hz=inside, outside_hz=lowest),
        falls(inside_hz=inside, outside_hz=highest),
    )

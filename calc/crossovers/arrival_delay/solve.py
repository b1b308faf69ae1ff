"""How long each section waits for the farthest."""

from dataclasses import dataclass

from calc.crossovers.arrival_delay.inputs import Inputs
from calc.physics.delays import delays_s, flight_s, sound_speed


@dataclass(frozen=True, kw_only=True)
class Arrival:
    """A section: how long its sound is on the way, and how long it waits before [s].

    samples : the delay in samples; None where no sample rate is known
    """

    section: str
    distance_m: float
    flight_s: float
    delay_s: float
    samples: float | None

    @property
    def flight_ms(self) -> float:
        """Its time on the way [ms]."""
        return 1000 * self.flight_s

    @property
    def delay_ms(self) -> float:
        """Its delay [ms]."""
        return 1000 * self.delay_s


@dataclass(frozen=True, kw_only=True)
class Result:
    """What is set for each section, in the order of the rows; the speed of sound [m/s]."""

    sections: tuple[Arrival, ...]
    sound_speed: float

    @property
    def longest(self) -> Arrival:
        """The section that waits longest."""
        return max(self.sections, key=lambda arrival: arrival.delay_ms)

    @property
    def farthest(self) -> Arrival:
        """The section that all others wait for."""
        return max(self.sections, key=lambda arrival: arrival.distance_m)


def solve(inputs: Inputs) -> Result:
    """Work out the delays."""
    rows, air, rate = inputs.sections, inputs.air_c, inputs.sample_rate_hz
    delays = delays_s(distances_m=tuple(row.distance_m for row in rows), air_c=air)
    return Result(
        sections=tuple(
            Arrival(
                section=row.section,
                distance_m=row.distance_m,
                flight_s=flight_s(distance_m=row.distance_m, air_c=air),
                delay_s=delay,
                samples=None if rate is None else delay * rate,
            )
            for row, delay in zip(rows, delays, strict=True)
        ),
        sound_speed=sound_speed(air_c=air),
    )

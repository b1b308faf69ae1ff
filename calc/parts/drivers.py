"""The subs whose voice coils are wired together: how many, and the coils of each."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.inputs.declared import fields_of
from calc.inputs.fields import Number, Whole
from calc.inputs.problems import Problem
from calc.inputs.rows import Rows
from calc.physics.coils import MOST_COILS, Driver


@dataclass(frozen=True, kw_only=True)
class DriverRow:
    """One sub of several that differ."""

    coils: Annotated[int, Whole("voice coils", low=1, high=MOST_COILS, start=2)]
    coil_ohm: Annotated[float, Number("impedance of each coil", low=0.5, high=64, start=4.0)]


@dataclass(frozen=True, kw_only=True)
class Drivers:
    """How many there are, all alike; or a row for each."""

    drivers: Annotated[
        int | tuple[DriverRow, ...],
        Rows(
            "Subwoofers",
            example=2,
            hint="How many, all the same; or tick “the subs differ” and give each sub a row.",
            most=4,
            row_name="sub",
            count_of=Whole("Number of subs", key="drivers", default="2", low=1, high=4),
        ),
    ]
    coils_per_driver: Annotated[
        int,
        Whole(
            "Voice coils per sub",
            low=1,
            high=MOST_COILS,
            example=2,
            presets=(1, 2),
            hint="If all subs are the same: 2 for a dual-voice-coil (DVC) sub, 1 for a "
            "single-voice-coil (SVC) sub.",
        ),
    ]
    coil_ohm: Annotated[
        float,
        Number(
            "Impedance of each coil",
            low=0.5,
            high=64,
            example=4.0,
            presets=(1, 2, 4, 8),
            hint="If all subs are the same: nominal, from the label. “DVC 4 Ω” means 4 Ω each.",
        ),
    ]

    @property
    def each(self) -> tuple[Driver, ...]:
        """The subs, one by one."""
        if isinstance(self.drivers, int):
            return (Driver(self.coils_per_driver, self.coil_ohm),) * self.drivers
        return tuple(Driver(row.coils, row.coil_ohm) for row in self.drivers)


def coils_are_not_too_many(
    *, drivers: int | tuple[DriverRow, ...], coils_per_driver: int, coil_ohm: float
) -> Iterator[Problem]:
    """Yield what is wrong where the subs together have too many coils."""
    described = Drivers(drivers=drivers, coils_per_driver=coils_per_driver, coil_ohm=coil_ohm)
    coils = sum(driver.coils for driver in described.each)
    if coils > MOST_COILS:
        yield Problem(
            field="drivers",
            given=fields_of(Drivers)["drivers"].write(drivers),
            words=f"{coils} voice coils in all; this calculator takes {MOST_COILS}. Enter fewer "
            "subs or fewer coils.",
        )

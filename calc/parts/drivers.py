"""The woofers whose coils are wired together: how many there are, and the coils of each."""

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
    """One driver of several that differ."""

    coils: Annotated[int, Whole("coils", low=1, high=MOST_COILS, start=2)]
    coil_ohm: Annotated[float, Number("impedance of each coil", low=0.5, high=64, start=4.0)]


@dataclass(frozen=True, kw_only=True)
class Drivers:
    """How many there are, all alike; or a row for each."""

    drivers: Annotated[
        int | tuple[DriverRow, ...],
        Rows(
            "Drivers",
            example=2,
            hint="How many, all alike; or tick “differ” and give each driver a row.",
            most=4,
            row_name="driver",
            count_of=Whole("Number of drivers", key="drivers", default="2", low=1, high=4),
        ),
    ]
    coils_per_driver: Annotated[
        int,
        Whole(
            "Coils of each driver",
            low=1,
            high=MOST_COILS,
            example=2,
            presets=(1, 2),
            hint="When all drivers are alike.",
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
            hint="When all drivers are alike. Nominal, of one coil.",
        ),
    ]

    @property
    def each(self) -> tuple[Driver, ...]:
        """The drivers, one by one."""
        if isinstance(self.drivers, int):
            return (Driver(self.coils_per_driver, self.coil_ohm),) * self.drivers
        return tuple(Driver(row.coils, row.coil_ohm) for row in self.drivers)


def coils_are_not_too_many(
    *, drivers: int | tuple[DriverRow, ...], coils_per_driver: int, coil_ohm: float
) -> Iterator[Problem]:
    """Yield what is wrong where the drivers together have too many coils."""
    described = Drivers(drivers=drivers, coils_per_driver=coils_per_driver, coil_ohm=coil_ohm)
    coils = sum(driver.coils for driver in described.each)
    if coils > MOST_COILS:
        yield Problem(
            field="drivers",
            given=fields_of(Drivers)["drivers"].write(drivers),
            words=f"{coils} coils in all. Give at most {MOST_COILS} coils.",
        )

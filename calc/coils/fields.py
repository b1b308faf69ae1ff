"""The fields that say which drivers there are; both coil calculators have them."""

from collections.abc import Mapping
from typing import Any

from calc.coils.model import MOST_COILS, Driver
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Number, Rows, Whole

INVENTED = "invented, the Lantern Van"

DRIVERS = Rows(
    key="drivers",
    label="Drivers",
    default="2",
    hint="How many, all alike; or tick “differ” and give each driver a row.",
    source=INVENTED,
    most=4,
    row_name="driver",
    count_of=Whole(key="drivers", label="Number of drivers", default="2", low=1, high=4),
    columns=(
        Whole(key="coils", label="coils", default="2", low=1, high=MOST_COILS),
        Number(key="coil_ohm", label="impedance of each coil", default="4", low=0.5, high=64),
    ),
)
COILS_PER_DRIVER = Whole(
    key="coils_per_driver",
    label="Coils of each driver",
    default="2",
    low=1,
    high=MOST_COILS,
    presets=(1, 2),
    hint="When all drivers are alike.",
    source=INVENTED,
)
COIL_OHM = Number(
    key="coil_ohm",
    label="Impedance of each coil",
    default="4",
    low=0.5,
    high=64,
    presets=(1, 2, 4, 8),
    hint="When all drivers are alike. Nominal, of one coil.",
    source=INVENTED,
)


def drivers_of(given: Mapping[str, Any]) -> tuple[Driver, ...]:
    """Return the drivers that the fields describe."""
    rows = given["drivers"]
    if isinstance(rows, int):
        return (Driver(given["coils_per_driver"], given["coil_ohm"]),) * rows
    return tuple(Driver(row["coils"], row["coil_ohm"]) for row in rows)


def check_drivers(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the drivers together: too many coils."""
    if not {"drivers", "coils_per_driver", "coil_ohm"} <= given.keys():
        return ()  # a field of its own is wrong, and told
    coils = sum(driver.coils for driver in drivers_of(given))
    if coils <= MOST_COILS:
        return ()
    message = f"Drivers: {coils} coils in all. Give at most {MOST_COILS} coils."
    return (FieldError("drivers", shown(DRIVERS.write(given["drivers"])), message),)

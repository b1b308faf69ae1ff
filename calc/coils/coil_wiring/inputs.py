"""What `coil-wiring` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number, Whole, YesNo
from calc.parts.drivers import Drivers


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The drivers, and the output that they hang on.

    limit : how many circuits to list
    """

    drivers: Drivers
    min_load_ohm: Annotated[
        float,
        Number(
            "Lowest load of the output",
            low=0.25,
            high=64,
            start=2.0,
            presets=(1, 2, 4),
            hint="As the output is used: for a bridged pair, its lowest bridged load.",
        ),
    ]
    bridged: Annotated[bool, YesNo("The output is a bridged pair", start=False)]
    reversed: Annotated[
        bool,
        YesNo(
            "Joined reversed",
            hint="Yes: the amplifier’s + goes to the speakers’ −, as the crossovers ask.",
        ),
    ] = False
    power_w: Annotated[
        float | None,
        Number(
            "Power of the output into this load",
            low=1,
            high=20000,
            hint="For power and current of each coil.",
        ),
    ] = None
    limit: Annotated[int, Whole("Circuits to list in the data", low=1, high=1000)] = 50


FORM = (
    Group("The drivers", ("drivers", "coils_per_driver", "coil_ohm")),
    Group("The output", ("min_load_ohm", "bridged", "power_w"), more=("limit", "reversed")),
)

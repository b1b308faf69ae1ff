"""What `coil-wiring` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number, Whole, YesNo
from calc.parts.drivers import Drivers


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The subs, and the output that they are connected to.

    limit : how many wiring options to list
    """

    drivers: Drivers
    min_load_ohm: Annotated[
        float,
        Number(
            "Minimum load of the output",
            low=0.25,
            high=64,
            start=2.0,
            presets=(1, 2, 4),
            hint="From the spec sheet, “2 Ω stable”. For a bridged pair, twice that, or what the "
            "manual gives.",
        ),
    ]
    bridged: Annotated[
        bool,
        YesNo("The output is a bridged pair", start=False, hint="Adds what each channel sees."),
    ]
    reversed: Annotated[
        bool,
        YesNo(
            "Reversed polarity",
            hint="Yes if the amplifier’s + goes to the subs’ −, because the crossover needs it.",
        ),
    ] = False
    power_w: Annotated[
        float | None,
        Number(
            "Power into this load",
            low=1,
            high=20000,
            hint="Watts RMS, from “Bridged power” or the spec sheet. Adds the power in each coil.",
        ),
    ] = None
    limit: Annotated[int, Whole("Wiring options to list in the data", low=1, high=1000)] = 50


FORM = (
    Group("The subs", ("drivers", "coils_per_driver", "coil_ohm")),
    Group("The output", ("min_load_ohm", "bridged", "power_w"), more=("limit", "reversed")),
)

"""What `supply-budget` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number
from calc.parts.draw import Consumption, TotalPower, idle_is_a_part


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The vehicle's alternator and battery, and the amplifiers that they feed."""

    alternator_a: Annotated[
        float,
        Number(
            "Alternator rating",
            low=10,
            high=600,
            example=120.0,
            presets=(70, 90, 120, 150),
            hint="On its label or in the vehicle data. Electric or hybrid: the rating of the DC/DC "
            "converter to 12 V.",
        ),
    ]
    idle_percent: Annotated[
        float,
        Number(
            "Output at idle",
            low=0,
            high=100,
            hint="Share of its rating; 40 to 60 is usual.",
            source="alternator-idle",
        ),
    ] = 50.0
    vehicle_a: Annotated[
        float,
        Number(
            "Vehicle’s own draw, engine running",
            low=0,
            high=400,
            example=40.0,
            hint="Engine, lights, blower, heated windows: measure with a clamp meter if you can.",
        ),
    ]
    total_power_w: TotalPower
    consumption: Consumption
    battery_ah: Annotated[
        float,
        Number(
            "Battery capacity",
            low=5,
            high=1000,
            example=70.0,
            presets=(44, 60, 70, 95),
            hint="The 20-hour rating, printed on its label.",
        ),
    ]
    reserve_percent: Annotated[
        float,
        Number(
            "Reserve for starting the engine",
            low=0,
            high=100,
            presets=(30, 50),
            source="battery-reserve",
        ),
    ] = 50.0
    vehicle_off_a: Annotated[
        float,
        Number(
            "Vehicle’s own draw, engine off",
            low=0,
            high=100,
            hint="Head unit, lights, fridge.",
        ),
    ] = 0.0
    peukert: Annotated[
        float,
        Number(
            "Peukert exponent",
            low=1,
            high=2,
            hint="1.1 to 1.3 for lead batteries, about 1.05 for lithium.",
        ),
    ] = 1.2
    running_v: Annotated[float, Number("Battery voltage, engine running", low=9, high=32)] = 14.4
    resting_v: Annotated[float, Number("Battery voltage, engine off", low=8, high=32)] = 12.6


FORM = (
    Group("The alternator", ("alternator_a", "vehicle_a"), more=("idle_percent", "running_v")),
    Group(
        "The amplifiers",
        ("total_power_w", "efficiency_percent"),
        more=("amplifier_class", "idle_w"),
    ),
    Group(
        "The battery, engine off",
        ("battery_ah", "reserve_percent", "vehicle_off_a"),
        more=("peukert", "resting_v"),
    ),
)
CHECKS = (idle_is_a_part,)

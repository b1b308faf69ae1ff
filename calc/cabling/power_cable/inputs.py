"""What `power-cable` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.cabling.groups import CABLE_GROUPS, CABLE_KEYS, DRAW_KEYS
from calc.inputs.fields import Number
from calc.parts.cable_kind import CableKind
from calc.parts.current_way import Way
from calc.parts.draw import (
    Draw,
    Duty,
    SupplyVolts,
    TotalPower,
    idle_is_a_part,
    lowest_regulated_voltage_is_below_the_supply,
    own_fuses_are_ratings,
)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Amplifiers at one place, and the run of cable that feeds them."""

    total_power_w: TotalPower
    length_m: Annotated[
        float,
        Number(
            "Length of the power cable, one way",
            low=0.05,
            high=100,
            example=3.0,
            presets=(1, 3, 5, 7),
            hint="Measure the route as it will be laid, and add the length of the earth (ground) "
            "lead, which is the same size.",
        ),
    ]
    supply_v: SupplyVolts = 14.4
    duty: Duty = "full"
    draw: Draw
    cable: CableKind
    way: Way


FORM = (
    Group(
        "The amplifiers",
        ("total_power_w", "efficiency_percent"),
        more=("supply_v", *DRAW_KEYS),
    ),
    Group("The cable run", ("length_m", "duty")),
    *CABLE_GROUPS,
)
ORDER = (
    "total_power_w", "length_m", "efficiency_percent", "supply_v", "duty", *DRAW_KEYS, *CABLE_KEYS,
)  # fmt: skip
CHECKS = (
    lowest_regulated_voltage_is_below_the_supply,
    idle_is_a_part,
    own_fuses_are_ratings,
)

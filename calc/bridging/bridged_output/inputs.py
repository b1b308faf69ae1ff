"""What `bridged-output` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number
from calc.parts.plate import Plate, Supply


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A load, and the amplifier whose pair of channels is bridged into it."""

    load_ohm: Annotated[
        float,
        Number(
            "Load on the bridged pair",
            low=0.25,
            high=64,
            example=4.0,
            presets=(1, 2, 4, 8),
            hint="Nominal impedance, as the voice coils are wired. A meter reads less.",
        ),
    ]
    plate: Plate
    supply: Supply


FORM = (
    Group(
        "The load and the spec sheet",
        ("load_ohm", "min_channel_ohm", "power_4ohm_w", "power_2ohm_w", "rated_bridged_w"),
        more=("power_8ohm_w",),
    ),
    Group("The supply", (), more=("rated_v", "supply_v", "regulated", "regulated_min_v")),
)
ORDER = (
    "load_ohm", "power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "min_channel_ohm", "rated_v",
    "supply_v", "regulated", "regulated_min_v", "rated_bridged_w",
)  # fmt: skip

"""What `speaker-lead` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.cabling.lead_fields import CoolConductor, gauge
from calc.inputs.fields import Number
from calc.parts.cable_kind import ConductorMaterial


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A load, what goes into it, and the lead to it."""

    load_ohm: Annotated[
        float,
        Number("Load at its end", low=0.5, high=64, example=4.0, presets=(2, 4, 8)),
    ]
    length_m: Annotated[
        float, Number("Length, one way", low=0.1, high=50, example=5.0, presets=(2, 5, 7))
    ]
    mm2: Annotated[
        float | None,
        Number(
            "Cross-section",
            low=0.2,
            high=50,
            empty="the gauge tells",
            presets=(0.75, 1.5, 2.5, 4),
        ),
    ] = 1.5
    power_w: Annotated[
        float | None,
        Number(
            "Power through it",
            low=0.1,
            high=20_000,
            example=150.0,
            presets=(50, 100, 150),
            hint="What the output gives into this load.",
        ),
    ]
    awg: Annotated[
        str | None,
        gauge(
            "Gauge (AWG)",
            hint="In place of the cross-section: 16, or 14.",
            empty="the cross-section tells",
        ),
    ] = None
    material: ConductorMaterial = "copper"
    conductor_c: CoolConductor = 20.0
    max_loss_db: Annotated[
        float, Number("Highest loss", low=0.05, high=6, source="common practice, no source")
    ] = 0.5


FORM = (
    Group("The speaker", ("load_ohm", "power_w"), more=("max_loss_db",)),
    Group("The lead", ("length_m", "mm2", "awg", "material"), more=("conductor_c",)),
)
WAYS = (("mm2",), ("awg",))

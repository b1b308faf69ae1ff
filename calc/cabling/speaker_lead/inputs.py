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
        Number(
            "Load",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Impedance of the speaker, or of the speakers wired together.",
        ),
    ]
    length_m: Annotated[
        float, Number("Length, one way", low=0.1, high=50, example=5.0, presets=(2, 5, 7))
    ]
    mm2: Annotated[
        float | None,
        Number(
            "Size",
            low=0.2,
            high=50,
            empty="the AWG size is used",
            presets=(0.75, 1.5, 2.5, 4),
        ),
    ] = 1.5
    power_w: Annotated[
        float | None,
        Number(
            "RMS power",
            low=0.1,
            high=20_000,
            example=150.0,
            presets=(50, 100, 150),
            hint="What the amplifier delivers into this load, from the spec sheet.",
        ),
    ]
    awg: Annotated[
        str | None,
        gauge(
            "Size in AWG",
            hint="Instead of mm²: 16, or 14.",
            empty="the size in mm² is used",
        ),
    ] = None
    material: ConductorMaterial = "copper"
    conductor_c: CoolConductor = 20.0
    max_loss_db: Annotated[float, Number("Loss limit", low=0.05, high=6, source="half-decibel")] = (
        0.5
    )


FORM = (
    Group("The speaker", ("load_ohm", "power_w"), more=("max_loss_db",)),
    Group("The cable", ("length_m", "mm2", "awg", "material"), more=("conductor_c",)),
)
WAYS = (("mm2",), ("awg",))

"""What `level-pad` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Choice, Number
from calc.physics.preferred_values import Series


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A speaker, and how much quieter it is to be."""

    ohm: Annotated[
        float,
        Number(
            "Impedance of the tweeter",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Nominal: the ohms on the spec sheet.",
        ),
    ]
    loss_db: Annotated[
        float, Number("Reduce the level by", low=0.1, high=30, start=3.0, presets=(1, 2, 3, 6))
    ]
    power_w: Annotated[
        float,
        Number(
            "Amplifier power",
            low=0.1,
            high=5000,
            example=50.0,
            hint="RMS watts of the channel into this impedance, on the spec sheet. It sizes the "
            "resistors.",
        ),
    ]
    series: Annotated[
        Series,
        Choice(
            "Stock values",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")),
            hint="E24 has the most values; E6 is the smallest stock.",
            source="stock-values",
        ),
    ] = "E24"


FORM = (Group("Tweeter and L-pad", ("ohm", "loss_db", "power_w"), more=("series",)),)

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
        Number("Impedance of the speaker", low=0.5, high=64, example=4.0, presets=(2, 4, 8)),
    ]
    loss_db: Annotated[
        float, Number("How much quieter", low=0.1, high=30, start=3.0, presets=(1, 2, 3, 6))
    ]
    power_w: Annotated[
        float,
        Number("Amplifier’s power into pad and speaker together", low=0.1, high=5000, example=50.0),
    ]
    series: Annotated[
        Series,
        Choice(
            "Series of preferred values",
            options=(("E6", "E6"), ("E12", "E12"), ("E24", "E24")),
            source="IEC 60063 (from memory)",
        ),
    ] = "E24"


FORM = (Group("Speaker and pad", ("ohm", "loss_db", "power_w"), more=("series",)),)

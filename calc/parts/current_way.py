"""The way of the current: what it may lose out and back, and by what it comes back."""

from dataclasses import dataclass
from typing import Annotated, Literal

from calc.inputs.fields import Choice, Number

ReturnBy = Literal["body", "cable"]


@dataclass(frozen=True, kw_only=True)
class Way:
    """From the battery to the amplifiers and back."""

    max_drop_v: Annotated[
        float,
        Number(
            "Voltage drop limit, out and back",
            low=0.05,
            high=5,
            presets=(0.25, 0.5, 1),
            source="half-volt",
        ),
    ] = 0.5
    return_by: Annotated[
        ReturnBy,
        Choice(
            "Return to the battery",
            as_key="return",
            options=(
                ("body", "through the vehicle body (chassis)"),
                ("cable", "through a second cable of the same size"),
            ),
        ),
    ] = "body"
    body_mohm: Annotated[
        float,
        Number(
            "Resistance of the body between earth points",
            low=0,
            high=100,
            hint="Used only with the body as return. Measure it: the method is under “Earth "
            "(ground)”.",
            source="body-resistance",
        ),
    ] = 2.0
    connections_mohm: Annotated[
        float,
        Number(
            "Connections and fuse holder in a run",
            low=0,
            high=100,
            hint="A good crimp has 0.1 to 0.5 mΩ, a fuse with its holder 1 to 3 mΩ.",
        ),
    ] = 0.0

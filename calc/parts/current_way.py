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
            "Highest drop, out and back",
            low=0.05,
            high=5,
            presets=(0.25, 0.5, 1),
            source="common practice, no source",
        ),
    ] = 0.5
    return_by: Annotated[
        ReturnBy,
        Choice(
            "Way back to the battery",
            as_key="return",
            options=(("body", "the vehicle’s body"), ("cable", "a second cable of the same size")),
        ),
    ] = "body"
    body_mohm: Annotated[
        float,
        Number(
            "Resistance of the body between the earth points",
            low=0,
            high=100,
            hint="Counts only with the body as the way back; measure it.",
            source="usual figure; common practice, no source",
        ),
    ] = 2.0
    connections_mohm: Annotated[
        float,
        Number(
            "Joints and fuse holder of a run",
            low=0,
            high=100,
            hint="A good crimp has 0.1 to 0.5 mΩ, a fuse with its holder 1 to 3 mΩ (from memory).",
        ),
    ] = 0.0

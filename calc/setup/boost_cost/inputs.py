"""What `boost-cost` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.declared import like
from calc.inputs.fields import Number
from calc.parts.output import HIGHEST_BOOST_DB, INVENTED, Output


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A boost, and the amplifier that it asks for more.

    headroom_db : how far below full power the loudest part stays without the boost [dB]
    """

    boost_db: Annotated[
        float,
        Number(
            "Boost",
            low=0,
            high=HIGHEST_BOOST_DB,
            example=6.0,
            presets=(3, 6, 12),
            source=INVENTED,
        ),
    ]
    frequency_hz: Annotated[
        float,
        Number("Centre", low=20, high=20_000, source="many amplifiers, common practice, no source"),
    ] = 45.0
    q: Annotated[
        float,
        Number("Q", low=0.1, high=10, hint="Centre over width; the greater, the narrower."),
    ] = 1.0
    power_w: Annotated[
        float, like(Output, "power_w", label="Power of the amplifier", example=150.0)
    ]
    load_ohm: Annotated[float, like(Output, "load_ohm")]
    headroom_db: Annotated[
        float,
        Number(
            "Room left before",
            low=0,
            high=30,
            hint="How far below full power the loudest part stays without the boost. Nought "
            "where the gain is set for full power.",
        ),
    ] = 0.0

    @property
    def output(self) -> Output:
        """The amplifier's output."""
        return Output(power_w=self.power_w, load_ohm=self.load_ohm)


FORM = (
    Group("The boost", ("boost_db", "frequency_hz", "q")),
    Group("The amplifier", ("power_w", "load_ohm", "headroom_db")),
)

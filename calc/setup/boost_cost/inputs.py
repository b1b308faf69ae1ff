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
            "Bass boost",
            low=0,
            high=HIGHEST_BOOST_DB,
            example=6.0,
            presets=(3, 6, 12),
            source=INVENTED,
            hint="As set on the amplifier or the head unit; both together add up.",
        ),
    ]
    frequency_hz: Annotated[
        float,
        Number(
            "Boost frequency",
            low=20,
            high=20_000,
            source="boost-frequency",
            hint="In the manual; the frequency that is boosted most.",
        ),
    ] = 45.0
    q: Annotated[
        float,
        Number(
            "Q",
            low=0.1,
            high=10,
            hint="Higher is narrower. Leave it at 1 without a Q control.",
        ),
    ] = 1.0
    power_w: Annotated[
        float, like(Output, "power_w", label="RMS power of the amplifier", example=150.0)
    ]
    load_ohm: Annotated[float, like(Output, "load_ohm")]
    headroom_db: Annotated[
        float,
        Number(
            "Headroom without the boost",
            low=0,
            high=30,
            hint="How far below full power the loudest bass stays with the boost off. Enter 0 if "
            "the gain is set for full power.",
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

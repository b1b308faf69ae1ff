"""What `bay-heat` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Choice, Number, YesNo
from calc.physics.amplifier_draw import AmplifierClass, Duty

# Full power is a test tone; the shares of music stand in the register of sources.
DUTY_WORDS: dict[Duty, str] = {
    "full": "test tone (full power)",
    "heavy": "loud music (⅓ power)",
    "normal": "normal listening (⅛ power)",
}


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Amplifiers that play, and the space that they are in."""

    power_w: Annotated[
        float,
        Number(
            "RMS power, all channels together",
            low=1,
            high=20_000,
            example=250.0,
            hint="Add up the RMS (continuous) watts of all channels in use, from the spec sheet.",
        ),
    ]
    efficiency_percent: Annotated[
        float,
        Number(
            "Efficiency at rated power",
            low=20,
            high=98,
            start=75.0,
            hint="On the spec sheet. Class AB is about 50 to 60 %, class D about 75 to 90 %.",
        ),
    ]
    amplifier_class: Annotated[
        AmplifierClass | None,
        Choice(
            "Class",
            options=(("ab", "AB"), ("d", "D")),
            example="d",
            hint="On the spec sheet. With music, class AB wastes more than its rating says.",
        ),
    ] = None
    idle_w: Annotated[
        float | None,
        Number(
            "Idle power",
            low=0,
            high=500,
            hint="Idle current × supply voltage, all amplifiers together. On the spec sheet, or "
            "measure it with no music playing.",
        ),
    ] = None
    duty: Annotated[
        Duty,
        Choice(
            "How hard it is played",
            options=tuple(DUTY_WORDS.items()),
            hint="The average share of full power that the music takes.",
        ),
    ] = "heavy"
    closed: Annotated[
        bool,
        YesNo(
            "Closed all round",
            start=True,
            hint="A space with an open side exchanges air. That cannot be estimated.",
        ),
    ]
    area_m2: Annotated[
        float,
        Number(
            "Outer surface of the space",
            low=0.01,
            high=50,
            example=0.94,
            hint="Add up the sides with free air behind them. Leave out a side against luggage or "
            "a hot floor.",
        ),
    ]
    cabin_c: Annotated[float, Number("Air in the cabin", low=-40, high=80)] = 25.0
    limit_c: Annotated[
        float | None,
        Number(
            "Highest air temperature",
            low=0,
            high=120,
            example=50.0,
            hint="The operating temperature limit in the amplifier’s manual.",
        ),
    ] = None
    h: Annotated[
        float,
        Number(
            "Air film h in W/m²K",
            low=1,
            high=50,
            source="air-film",
            hint="How well the air takes heat from a wall: 5 to 10.",
        ),
    ] = 7.0

    @property
    def efficiency(self) -> float:
        """The efficiency at rated power, share of 1."""
        return self.efficiency_percent / 100


FORM = (
    Group("The amplifiers", ("power_w", "efficiency_percent", "amplifier_class", "idle_w", "duty")),
    Group("The space", ("closed", "area_m2", "cabin_c", "limit_c"), more=("h",)),
)

"""What `bay-heat` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Choice, Number, YesNo
from calc.physics.amplifier_draw import AmplifierClass, Duty

DUTY_WORDS: dict[Duty, str] = {
    "full": "full power, a steady tone",
    "heavy": "heavy programme, a third",
    "normal": "normal programme, an eighth",
}


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Amplifiers that play, and the bay that they stand in."""

    power_w: Annotated[
        float,
        Number(
            "Continuous power, all together",
            low=1,
            high=20_000,
            example=250.0,
            hint="Of all channels in use.",
        ),
    ]
    efficiency_percent: Annotated[
        float,
        Number(
            "Efficiency at rated power",
            low=20,
            high=98,
            start=75.0,
            hint="Class AB about 50 to 60, class D about 75 to 90 (from memory).",
        ),
    ]
    amplifier_class: Annotated[
        AmplifierClass | None,
        Choice(
            "Class",
            options=(("ab", "AB"), ("d", "D")),
            example="d",
            hint="At part power class AB wastes more than its rated efficiency says.",
        ),
    ] = None
    idle_w: Annotated[
        float | None,
        Number(
            "Drawn without a signal",
            low=0,
            high=500,
            hint="Idle current × supply voltage, all amplifiers together.",
        ),
    ] = None
    duty: Annotated[
        Duty,
        Choice(
            "Programme",
            options=tuple(DUTY_WORDS.items()),
            hint="How much of the power is used on average.",
        ),
    ] = "heavy"
    closed: Annotated[
        bool,
        YesNo(
            "Closed all round",
            start=True,
            hint="A bay with an open side exchanges air, and is not estimated.",
        ),
    ]
    area_m2: Annotated[
        float,
        Number(
            "Outer surface of the bay",
            low=0.01,
            high=50,
            example=0.94,
            hint="Of sides with free air beyond them, not of one against luggage or a hot floor.",
        ),
    ]
    cabin_c: Annotated[float, Number("Air in the cabin", low=-40, high=80)] = 25.0
    limit_c: Annotated[
        float | None,
        Number(
            "Highest air temperature permitted",
            low=0,
            high=120,
            example=50.0,
            hint="By the amplifier’s manual.",
        ),
    ] = None
    h: Annotated[
        float,
        Number(
            "Film of air h in W/m²K",
            low=1,
            high=50,
            source="heat-transfer handbooks, 5 to 10 (from memory)",
        ),
    ] = 7.0

    @property
    def efficiency(self) -> float:
        """The efficiency at rated power, share of 1."""
        return self.efficiency_percent / 100


FORM = (
    Group("The amplifiers", ("power_w", "efficiency_percent", "amplifier_class", "idle_w", "duty")),
    Group("The bay", ("closed", "area_m2", "cabin_c", "limit_c"), more=("h",)),
)

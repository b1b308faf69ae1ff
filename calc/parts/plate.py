"""What an amplifier's spec sheet says of its channels, and what its supply makes of that."""

from dataclasses import dataclass
from typing import Annotated

from calc.inputs.fields import Number, YesNo
from calc.physics.channel_power import Channel, supply_factor


@dataclass(frozen=True, kw_only=True)
class Plate:
    """The ratings of one channel, and of a bridged pair."""

    power_4ohm_w: Annotated[
        float,
        Number(
            "RMS power per channel at 4 Ω",
            low=1,
            high=5000,
            example=50.0,
            hint="On the spec sheet: watts RMS (continuous), all channels driven. Not “max” or "
            "“peak”.",
        ),
    ]
    power_2ohm_w: Annotated[
        float | None,
        Number(
            "RMS power per channel at 2 Ω",
            low=1,
            high=8000,
            example=75.0,
            hint="On the spec sheet, beside the 4 Ω figure.",
        ),
    ] = None
    power_8ohm_w: Annotated[
        float | None,
        Number(
            "RMS power per channel at 8 Ω",
            low=1,
            high=5000,
            hint="Some spec sheets give it, beside the 4 Ω figure.",
        ),
    ] = None
    min_channel_ohm: Annotated[
        float,
        Number(
            "Minimum load per channel",
            low=0.5,
            high=16,
            start=2.0,
            presets=(1, 2, 4),
            hint="The spec sheet says “2 Ω stable” or “2 Ω min”. Not the bridged figure.",
        ),
    ]
    rated_bridged_w: Annotated[
        float | None,
        Number(
            "RMS power bridged into 4 Ω",
            low=1,
            high=20000,
            hint="If the spec sheet gives it, it overrules our estimate at 4 Ω.",
        ),
    ] = None

    @property
    def channel(self) -> Channel:
        """The channel that the spec sheet describes."""
        return Channel(
            power_4ohm_w=self.power_4ohm_w,
            power_2ohm_w=self.power_2ohm_w,
            power_8ohm_w=self.power_8ohm_w,
            min_load_ohm=self.min_channel_ohm,
            rated_bridged_w=self.rated_bridged_w,
        )


@dataclass(frozen=True, kw_only=True)
class Supply:
    """The supply of the rating and the one in use."""

    rated_v: Annotated[
        float,
        Number(
            "Supply voltage of the rating",
            low=6,
            high=60,
            hint="On the spec sheet, beside the RMS power: usually 14.4 V.",
            source="power-ratings",
        ),
    ] = 14.4
    supply_v: Annotated[
        float,
        Number(
            "Supply voltage at the amplifier",
            low=6,
            high=60,
            presets=(12.6, 13.8, 14.4),
            hint="Measured at its power terminals, engine running and music playing.",
        ),
    ] = 14.4
    regulated: Annotated[
        bool,
        YesNo(
            "Regulated power supply",
            hint="Yes only if the maker says that the power stays the same when the voltage falls.",
        ),
    ] = False
    regulated_min_v: Annotated[
        float | None,
        Number(
            "Lowest supply voltage for full power",
            low=6,
            high=60,
            hint="Regulated amplifiers only: on the spec sheet.",
        ),
    ] = None

    @property
    def factor(self) -> float:
        """What the supply makes of rated power [1]."""
        return supply_factor(
            supply_v=self.supply_v,
            rated_v=self.rated_v,
            regulated=self.regulated,
            regulated_min_v=self.regulated_min_v,
        )

    @property
    def is_too_high(self) -> bool:
        """Whether it lies so far above the rated one that no rating speaks of it."""
        return self.supply_v > 1.1 * self.rated_v

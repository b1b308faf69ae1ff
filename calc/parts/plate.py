"""What an amplifier's plate says of its channels, and what its supply makes of that."""

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
            "Rated power per channel at 4 Ω",
            low=1,
            high=5000,
            example=50.0,
            hint="Continuous (“RMS”), all channels driven. Not a “max” or “peak” figure.",
        ),
    ]
    power_2ohm_w: Annotated[
        float | None,
        Number("Rated power per channel at 2 Ω", low=1, high=8000, example=75.0),
    ] = None
    power_8ohm_w: Annotated[
        float | None, Number("Rated power per channel at 8 Ω", low=1, high=5000)
    ] = None
    min_channel_ohm: Annotated[
        float,
        Number(
            "Lowest load of a channel",
            low=0.5,
            high=16,
            start=2.0,
            presets=(1, 2, 4),
            hint="What the plate permits on one channel, not bridged.",
        ),
    ]
    rated_bridged_w: Annotated[
        float | None,
        Number(
            "Rated bridged power at 4 Ω",
            low=1,
            high=20000,
            hint="If the plate has it, it wins over the estimate at 4 Ω.",
        ),
    ] = None

    @property
    def channel(self) -> Channel:
        """The channel that the plate describes."""
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
            "Supply at which the power is rated", low=6, high=60, source="CTA-2006 (from memory)"
        ),
    ] = 14.4
    supply_v: Annotated[
        float,
        Number(
            "Supply voltage in use",
            low=6,
            high=60,
            presets=(12.6, 13.8, 14.4),
            hint="At the amplifier’s terminals, engine running.",
        ),
    ] = 14.4
    regulated: Annotated[
        bool,
        YesNo(
            "Regulated power supply",
            hint="Yes if the maker says that power does not change with the supply voltage.",
        ),
    ] = False
    regulated_min_v: Annotated[
        float | None,
        Number(
            "Lowest voltage with full power",
            low=6,
            high=60,
            hint="For a regulated supply, as the maker states it.",
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

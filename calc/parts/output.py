"""An output of an amplifier: its power, and the load that it is stated for."""

from dataclasses import dataclass
from typing import Annotated

from calc.inputs.fields import Number
from calc.physics.levels import target, voltage

INVENTED = "the Lantern Van, invented"
HIGHEST_BOOST_DB = 24.0


@dataclass(frozen=True, kw_only=True)
class Output:
    """What a channel, or a bridged pair, delivers into its load."""

    power_w: Annotated[
        float,
        Number(
            "RMS power of the output",
            low=1,
            high=5000,
            example=50.0,
            source=INVENTED,
            hint="Watts RMS into this load. For a bridged pair, the bridged power.",
        ),
    ]
    load_ohm: Annotated[
        float,
        Number(
            "Load",
            low=0.5,
            high=32,
            example=4.0,
            presets=(2, 4, 8),
            source=INVENTED,
            hint="Nominal impedance connected to this output. The power must be rated for it.",
        ),
    ]

    @property
    def full_v(self) -> float:
        """The voltage of its full power [V]."""
        return voltage(power_w=self.power_w, load_ohm=self.load_ohm)

    def target_v(self, *, tone_dbfs: float, boost_db: float = 0.0) -> float:
        """Return what the meter shows when the gain is set by a tone [V]."""
        return target(
            power_w=self.power_w, load_ohm=self.load_ohm, tone_dbfs=tone_dbfs, boost_db=boost_db
        )

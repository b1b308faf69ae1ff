"""What `turn-on` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number
from calc.setup.ways import Senses, Vehicle
from calc.setup.words import ThreeWord, three_valued, truth


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The vehicle with its head unit, what the amplifier switches on by, and how long it parks."""

    trigger_available: Annotated[
        ThreeWord,
        three_valued(
            "Head unit has a remote turn-on lead",
            "no",
            "12 V whenever it is on; not the lead for a powered aerial.",
        ),
    ]
    speaker_level_signal: Annotated[
        ThreeWord,
        three_valued(
            "Signal comes from speaker leads",
            "yes",
            "The factory speaker leads go to the speaker-level (high-level) inputs.",
        ),
    ]
    supply_always_live: Annotated[
        ThreeWord,
        three_valued("Supply is always live", "yes", "Usually yes: straight from the battery."),
    ]
    stop_start: Annotated[
        ThreeWord,
        three_valued(
            "Stop-start or hybrid",
            "yes",
            "The engine stops by itself at a halt or while driving.",
        ),
    ]
    push_button: Annotated[ThreeWord, three_valued("Start button", "no", "No: a key that turns.")]
    amp_trigger: Annotated[
        ThreeWord,
        three_valued("Remote terminal (REM)", "yes", "Marked REM, beside the power terminals."),
    ]
    amp_signal_sensing: Annotated[
        ThreeWord,
        three_valued(
            "Signal-sensing (auto) turn-on", "yes", "A switch or a line on the spec sheet."
        ),
    ]
    amp_supply_sensing: Annotated[
        ThreeWord,
        three_valued(
            "Voltage-sensing turn-on", "no", "It senses the voltage of the running engine."
        ),
    ]
    quiescent_a: Annotated[
        float,
        Number(
            "Standby (parasitic) drain",
            low=0,
            high=20,
            source="standby-drain",
            hint="On the spec sheet; or measure it with the amplifier off.",
        ),
    ] = 0.02
    parked_days: Annotated[float, Number("Days parked", low=0, high=365, is_plain=True)] = 7.0
    battery_ah: Annotated[
        float, Number("Battery capacity", low=5, high=1000, hint="In Ah, on the battery.")
    ] = 60.0

    @property
    def vehicle(self) -> Vehicle:
        """What the vehicle and its head unit have."""
        return Vehicle(
            has_trigger=truth(self.trigger_available),
            has_speaker_signal=truth(self.speaker_level_signal),
            is_always_live=truth(self.supply_always_live),
            stops_engine=truth(self.stop_start),
            has_button=truth(self.push_button),
        )

    @property
    def senses(self) -> Senses:
        """What the amplifier switches on by."""
        return Senses(
            trigger=truth(self.amp_trigger),
            signal=truth(self.amp_signal_sensing),
            supply=truth(self.amp_supply_sensing),
        )


FORM = (
    Group(
        "The vehicle",
        (
            "trigger_available",
            "speaker_level_signal",
            "supply_always_live",
            "stop_start",
            "push_button",
        ),
    ),
    Group("The amplifier", ("amp_trigger", "amp_signal_sensing", "amp_supply_sensing")),
    Group("Parking", ("quiescent_a", "parked_days", "battery_ah")),
)

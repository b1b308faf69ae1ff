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
            "Head unit has a trigger wire",
            "no",
            "A wire that is live while it plays; not the one for an aerial motor.",
        ),
    ]
    speaker_level_signal: Annotated[
        ThreeWord,
        three_valued(
            "Signal comes over speaker leads",
            "yes",
            "Factory leads go to the high-level input.",
        ),
    ]
    supply_always_live: Annotated[
        ThreeWord,
        three_valued(
            "Supply is always live", "yes", "Yes: straight from the battery, as is usual."
        ),
    ]
    stop_start: Annotated[
        ThreeWord,
        three_valued(
            "Engine stops by itself at a halt",
            "yes",
            "So do most hybrids: their engine rests while they drive.",
        ),
    ]
    push_button: Annotated[
        ThreeWord, three_valued("Started by a button", "no", "No: by a key that turns.")
    ]
    amp_trigger: Annotated[ThreeWord, three_valued("Trigger terminal", "yes")]
    amp_signal_sensing: Annotated[ThreeWord, three_valued("Senses the signal", "yes")]
    amp_supply_sensing: Annotated[
        ThreeWord, three_valued("Senses the running engine’s voltage", "no")
    ]
    quiescent_a: Annotated[
        float,
        Number(
            "Drawn while parked",
            low=0,
            high=20,
            hint="Turned off: some 0.005 to 0.02 A; left on: 0.5 to 2 A (from memory).",
        ),
    ] = 0.02
    parked_days: Annotated[float, Number("Days parked", low=0, high=365, is_plain=True)] = 7.0
    battery_ah: Annotated[float, Number("Battery", low=5, high=1000)] = 60.0

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

"""What `commissioning` asks."""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.inputs.fields import Choice, Number, Pattern, Text, Whole, YesNo
from calc.inputs.rows import Readings, Rows
from calc.parts.output import HIGHEST_BOOST_DB, INVENTED
from calc.physics.levels import ratio, target
from calc.physics.tones import HIGHEST_HZ, LOWEST_HZ
from calc.setup.ways import MODE_WORDS, Mode

MOST_OUTPUTS = 12
Path = Literal["direct", "network", "capacitor"]
Polarity = Literal["normal", "reversed"]
NUMBER = r"-?[0-9]{1,7}(?:[.,][0-9]{1,6})?"  # of a reading, with a point or a comma
# What a meter shows that is open, or what one writes for it, in small letters.
OVER_RANGE = ("open", "ol", "o.l", "o.l.", "0l", "∞", "inf")
_READING = re.compile(f"{NUMBER}|open|yes|no")


@dataclass(frozen=True, kw_only=True)
class OutputRow:
    """An output in use, with its load: a channel, or two bridged ones.

    path : what stands between it and the speaker, as a meter meets it
    """

    name: Annotated[str, Text("Name", start="output", longest=24, numbered=True)]
    power_w: Annotated[float, Number("RMS power", low=1, high=5000, start=50.0)]
    load_ohm: Annotated[float, Number("Load", low=0.5, high=32, start=4.0)]
    bridged: Annotated[bool, YesNo("Bridged", start=False)]
    path: Annotated[
        Path,
        Choice(
            "Filter at the speaker",
            start="direct",
            options=(
                ("direct", "none"),
                ("network", "passive crossover"),
                ("capacitor", "capacitor (tweeter alone)"),
            ),
        ),
    ]
    lead_ohm: Annotated[float, Number("Speaker lead, out and back", low=0, high=5, start=0.1)]
    tone_hz: Annotated[int, Whole("Tone", low=LOWEST_HZ, high=HIGHEST_HZ, start=315)]
    tone_dbfs: Annotated[float, Number("Level", low=-60, high=0)] = 0.0
    boost_db: Annotated[float, Number("Bass boost", low=0, high=HIGHEST_BOOST_DB)] = 0.0
    start_v: Annotated[float | None, Number("Starting voltage", low=0.01, high=500)] = None
    polarity: Annotated[
        Polarity,
        Choice("Polarity", options=(("normal", "normal"), ("reversed", "reversed"))),
    ] = "normal"

    @property
    def ceiling_v(self) -> float:
        """What it delivers cleanly, or the speakers handle; nothing goes beyond it [V]."""
        return target(
            power_w=self.power_w,
            load_ohm=self.load_ohm,
            tone_dbfs=self.tone_dbfs,
            boost_db=self.boost_db,
        )

    @property
    def aim_v(self) -> float:
        """What its gain is set to: the starting voltage if there is one, else the ceiling [V]."""
        if self.start_v is None:
            return self.ceiling_v
        return min(self.ceiling_v, self.start_v * ratio(self.tone_dbfs - self.boost_db))


@dataclass(frozen=True, kw_only=True)
class ReadingRow:
    """What was read at a step."""

    step: Annotated[str, Text("Check", start="rest_v", longest=40)]
    reading: Annotated[
        str,
        Pattern(
            "Reading",
            start="0",
            is_good=lambda text: _READING.fullmatch(text) is not None,
            notation="a number of at most seven digits, or open, yes, no",
            examples=("12.6", "open", "yes", "no", "-3"),
            also=tuple((written, "open") for written in OVER_RANGE),
        ),
    ]


ReadingRows = Annotated[
    tuple[ReadingRow, ...],
    Readings(
        "Readings",
        most=100,
        row_name="reading",
        hint="Type them into the boxes of the checks: a number, “open” where the meter shows over "
        "range, or yes or no. They stay on this device and are not in the link.",
    ),
]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The system, and what was read of it so far."""

    outputs: Annotated[
        tuple[OutputRow, ...],
        Rows(
            "Outputs",
            row_name="output",
            example="front left,50,4,no,network,0.12,315,0,0;"
            "front right,50,4,no,network,0.14,315,0,0;subs,150,4,yes,direct,0.05,50,0,6",
            most=MOST_OUTPUTS,
            hint="Each output in use with its load: one channel, or a bridged pair.",
            source=INVENTED,
            added=2,
        ),
    ]
    resting_v: Annotated[
        float,
        Number(
            "Battery at rest",
            low=6,
            high=32,
            source="battery-volts",
            hint="All off, some hours after driving.",
        ),
    ] = 12.6
    running_v: Annotated[
        float,
        Number(
            "Battery with the engine running",
            low=6,
            high=34,
            source="battery-volts",
            hint="Smart charging can hold it lower for a while.",
        ),
    ] = 14.2
    drop_v: Annotated[
        float,
        Number(
            "Voltage drop allowed, + and − together",
            low=0.01,
            high=5,
            hint="From the plan: the cable’s own drop at full power, and some for fuse and joints.",
        ),
    ] = 0.5
    loop_mohm: Annotated[
        float | None,
        Number(
            "Resistance of power cable, earth and body",
            low=0.01,
            high=1000,
            hint="From the plan. Only for a drop that is read with a clamp meter.",
        ),
    ] = None
    quiescent_a: Annotated[
        float | None,
        Number(
            "Standby (parasitic) drain",
            low=0,
            high=5,
            example=0.02,
            source=INVENTED,
            hint="In the amplifier’s manual.",
        ),
    ] = None
    source_v: Annotated[
        float | None,
        Number(
            "Head unit’s RCA output",
            low=0.01,
            high=50,
            example=4.0,
            source=INVENTED,
            hint="Pre-out voltage, at the highest volume that will be used.",
        ),
    ] = None
    factory_v: Annotated[
        float | None,
        Number(
            "Or factory radio: voltage at its speaker leads",
            low=0.1,
            high=200,
            hint="√(RMS power × load). Its highest clean volume is found first.",
        ),
    ] = None
    turned_on_by: Annotated[
        Mode | None,
        Choice(
            "Turned on by",
            start="trigger",
            options=tuple(MODE_WORDS.items()),
            hint="Decides which turn-on checks are listed.",
        ),
    ] = None
    readings: ReadingRows = ()


FORM = (
    Group("The system", ("outputs", "turned_on_by")),
    Group(
        "Battery and cable",
        ("resting_v", "running_v", "drop_v", "quiescent_a"),
        more=("loop_mohm",),
    ),
    Group("Signal", ("source_v", "factory_v")),
    Group("Readings", ("readings",)),
)

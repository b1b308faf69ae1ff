"""What `gain-voltage` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number, YesNo
from calc.parts.output import HIGHEST_BOOST_DB, INVENTED, Output

TONE_LEVELS_DBFS = (0.0, -5.0, -10.0)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """An output, the tone that it gets, and the meter across it."""

    output: Output
    bridged: Annotated[bool, YesNo("Bridged pair", start=False)]
    speaker_w: Annotated[
        float | None,
        Number(
            "RMS rating of the speakers",
            low=1,
            high=5000,
            hint="Of all speakers on this output together. If they handle less, stop earlier.",
        ),
    ] = None
    start_v: Annotated[
        float | None,
        Number(
            "Starting voltage",
            low=0.01,
            high=500,
            hint="From the plan: the voltage that matches the other speakers, at 0 dBFS.",
        ),
    ] = None
    tone_hz: Annotated[
        float,
        Number(
            "Frequency of the tone",
            low=20,
            high=20_000,
            example=315.0,
            source=INVENTED,
            hint="One that these speakers play and the meter reads.",
        ),
    ]
    tone_dbfs: Annotated[
        float,
        Number(
            "Level of the tone",
            low=-40,
            high=0,
            presets=TONE_LEVELS_DBFS,
            hint="Printed with the recording, or as chosen under test tones.",
        ),
    ] = 0.0
    boost_db: Annotated[
        float,
        Number(
            "Bass boost to be used",
            low=0,
            high=HIGHEST_BOOST_DB,
            hint="At the amplifier or the head unit; 0 if it stays off.",
        ),
    ] = 0.0
    meter_top_hz: Annotated[
        float | None,
        Number(
            "Meter reads true up to",
            low=50,
            high=1_000_000,
            source="meter-limit",
            hint="In the meter’s manual, under AC volts.",
        ),
    ] = 400.0
    reading_v: Annotated[
        float | None,
        Number(
            "Meter reading",
            low=0.001,
            high=500,
            empty="not read yet",
            hint="Taken with the boost off; it is checked against the target.",
        ),
    ] = None


FORM = (
    Group("The output", ("power_w", "load_ohm", "bridged"), more=("speaker_w", "start_v")),
    Group(
        "The tone and the meter",
        ("tone_hz", "tone_dbfs", "reading_v"),
        more=("boost_db", "meter_top_hz"),
    ),
)

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
    bridged: Annotated[bool, YesNo("Bridged output", start=False)]
    speaker_w: Annotated[
        float | None,
        Number(
            "Speakers’ continuous power",
            low=1,
            high=5000,
            hint="All on this output together; gives a second target.",
        ),
    ] = None
    start_v: Annotated[
        float | None,
        Number(
            "Starting voltage",
            low=0.01,
            high=500,
            hint="With which it plays as loud as the others, at 0 dBFS; from the plan.",
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
            hint="Within the section’s band and the meter’s.",
        ),
    ]
    tone_dbfs: Annotated[
        float,
        Number(
            "Level of the tone",
            low=-40,
            high=0,
            presets=TONE_LEVELS_DBFS,
            hint="As it says on the recording.",
        ),
    ] = 0.0
    boost_db: Annotated[
        float,
        Number(
            "Boost that will be in",
            low=0,
            high=HIGHEST_BOOST_DB,
            hint="At the amplifier or the head unit; 0 if there is none.",
        ),
    ] = 0.0
    meter_top_hz: Annotated[
        float | None,
        Number(
            "Meter is good up to",
            low=50,
            high=1_000_000,
            source="many meters, common practice, no source",
            hint="By its manual, on the AC range.",
        ),
    ] = 400.0
    reading_v: Annotated[
        float | None,
        Number(
            "What the meter shows",
            low=0.001,
            high=500,
            empty="not read yet",
            hint="With the boost out, to be judged.",
        ),
    ] = None


FORM = (
    Group("The output", ("power_w", "load_ohm", "bridged"), more=("speaker_w", "start_v")),
    Group("The tone", ("tone_hz", "tone_dbfs", "boost_db")),
    Group("The meter", ("meter_top_hz", "reading_v")),
)

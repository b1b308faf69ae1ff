"""What `arrival-delay` asks."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.fields import Number, Text, Whole
from calc.inputs.rows import Rows


@dataclass(frozen=True, kw_only=True)
class SectionRow:
    """A section by its name, and how far it is from the listener's head."""

    section: Annotated[str, Text("speaker", start="speaker", longest=24)]
    distance_m: Annotated[float, Number("distance", low=0, high=50, start=1.0)]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The sections' distances, and what turns them into delays."""

    sections: Annotated[
        tuple[SectionRow, ...],
        Rows(
            "Speakers and their distances",
            example="left door,0.9;right door,1.4;subs,2.2",
            hint="Measure from the middle of each cone or dome to the listener’s head.",
            most=16,
            row_name="speaker",
        ),
    ]
    air_c: Annotated[float, Number("Air temperature", low=-40, high=80, presets=(0, 20, 40))] = 20.0
    sample_rate_hz: Annotated[
        int | None,
        Whole(
            "Sample rate",
            low=1000,
            high=768_000,
            presets=(44100, 48000, 96000),
            hint="Of the digital signal processor (DSP); only needed where delay is set in "
            "samples.",
        ),
    ] = 48_000


FORM = (Group("Speakers", ("sections", "air_c", "sample_rate_hz")),)

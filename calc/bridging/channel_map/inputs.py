"""What `channel-map` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.bridging.channel_map.fixed_outputs import FixedOutputs, outputs_of
from calc.inputs.fields import Choice, Number, Whole
from calc.inputs.problems import Problem
from calc.inputs.rows import Rows
from calc.parts.plate import Plate, Supply

SectionWord = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]
_WORDS = ("tweeter", "midrange", "mid-bass", "full-range", "woofer")


@dataclass(frozen=True, kw_only=True)
class SectionRow:
    """Speakers of one kind; load, rating and sensitivity are those of one."""

    section: Annotated[
        SectionWord,
        Choice("section", start="full-range", options=tuple((word, word) for word in _WORDS)),
    ]
    load_ohm: Annotated[float, Number("load", low=0.5, high=64, start=4.0)]
    rated_w: Annotated[float, Number("rating", low=1, high=5000, start=60.0)]
    sensitivity_db: Annotated[
        float, Number("sensitivity at 2.83 V, 1 m", low=60, high=120, start=90.0)
    ]
    speakers: Annotated[int, Whole("how many", low=1, high=8, start=2)]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The sections, and the amplifier whose channels they share."""

    sections: Annotated[
        tuple[SectionRow, ...],
        Rows(
            "Sections",
            example="full-range,4,60,90,2;woofer,4,240,88,1",
            hint="A row for each kind of speaker; load, rating and sensitivity per speaker.",
            most=8,
            row_name="section",
        ),
    ]
    settled: Annotated[
        tuple[FixedOutputs, ...],
        Rows(
            "Outputs already settled",
            most=8,
            row_name="section with settled outputs",
            hint="Which row of the sections must be on which outputs; all other rows go where it "
            "is best. Empty where all are free.",
        ),
    ] = ()
    channels: Annotated[
        int,
        Whole("Channels of the amplifier", start=4, low=1, high=8, presets=(2, 4, 5, 6)),
    ]
    plate: Plate
    supply: Supply


def fixed_outputs_are_to_be_had(
    *, settled: tuple[FixedOutputs, ...], sections: tuple[SectionRow, ...], channels: int
) -> Iterator[Problem]:
    """Yield what is wrong with outputs that are fixed beforehand."""
    rows: set[int] = set()
    taken: set[int] = set()
    for number, fixed in enumerate(settled, start=1):
        outputs = outputs_of(fixed.outputs)
        channels_of_row = {channel for output in outputs for channel in output}
        message = ""
        if fixed.row > len(sections):
            message = f"there are {len(sections)} rows of sections. Give one of them."
        elif fixed.row in rows:
            message = f"row {fixed.row} has settled outputs already. Give each row once."
        elif max(channels_of_row) > channels:
            message = f"there are {channels} channels. Give one of them."
        elif channels_of_row & taken:
            message = "another row has these outputs already. Give others."
        elif sections[fixed.row - 1].speakers % len(outputs):
            speakers = sections[fixed.row - 1].speakers
            message = (
                f"{speakers} speaker{'s' if speakers > 1 else ''} cannot be spread equally over "
                f"{len(outputs)} outputs. Give another number of outputs."
            )
        rows.add(fixed.row)
        taken |= channels_of_row
        if message:
            yield Problem(
                field="settled",
                given=fixed.outputs,
                words=f"Row {number}: {message}",
                row=number,
            )


FORM = (
    Group("The speakers", ("sections",), more=("settled",)),
    Group(
        "The amplifier",
        ("channels", "power_4ohm_w", "power_2ohm_w", "min_channel_ohm"),
        more=("power_8ohm_w", "rated_bridged_w"),
    ),
    Group("The supply", (), more=("rated_v", "supply_v", "regulated", "regulated_min_v")),
)
ORDER = (
    "sections", "settled", "channels", "power_4ohm_w", "power_2ohm_w", "power_8ohm_w",
    "min_channel_ohm", "rated_bridged_w", "rated_v", "supply_v", "regulated", "regulated_min_v",
)  # fmt: skip

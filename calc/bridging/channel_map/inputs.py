"""What `channel-map` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.bridging.channel_map.fixed_outputs import FixedOutputs, outputs_of
from calc.bridging.names import KINDS
from calc.inputs.fields import Choice, Number, Whole
from calc.inputs.problems import Problem
from calc.inputs.rows import Rows
from calc.parts.plate import Plate, Supply

SectionWord = Literal["tweeter", "midrange", "mid-bass", "full-range", "woofer"]


@dataclass(frozen=True, kw_only=True)
class SectionRow:
    """Speakers of one kind; load, rating and sensitivity are those of one."""

    section: Annotated[
        SectionWord,
        Choice("kind", start="full-range", options=KINDS),
    ]
    load_ohm: Annotated[float, Number("impedance", low=0.5, high=64, start=4.0)]
    rated_w: Annotated[float, Number("RMS rating", low=1, high=5000, start=60.0)]
    sensitivity_db: Annotated[
        float, Number("sensitivity (2.83 V, 1 m)", low=60, high=120, start=90.0)
    ]
    speakers: Annotated[int, Whole("how many", low=1, high=8, start=2)]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The sections, and the amplifier whose channels they share."""

    sections: Annotated[
        tuple[SectionRow, ...],
        Rows(
            "Speakers",
            example="full-range,4,60,90,2;woofer,4,240,88,1",
            hint="One row for each kind; figures of one speaker, from its spec sheet.",
            most=8,
            row_name="kind of speaker",
        ),
    ]
    settled: Annotated[
        tuple[FixedOutputs, ...],
        Rows(
            "Channels already decided",
            most=8,
            row_name="row of decided channels",
            hint="Which row of the speakers must go on which channels. We place the others.",
        ),
    ] = ()
    channels: Annotated[
        int,
        Whole("Amplifier channels", start=4, low=1, high=8, presets=(2, 4, 5, 6)),
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
            message = f"there are {len(sections)} rows of speakers. Enter one of their numbers."
        elif fixed.row in rows:
            message = f"row {fixed.row} of the speakers has its channels already. Name it once."
        elif max(channels_of_row) > channels:
            message = f"there are {channels} channels. Use their numbers only."
        elif channels_of_row & taken:
            message = "another row has these channels already. Choose others."
        elif sections[fixed.row - 1].speakers % len(outputs):
            speakers = sections[fixed.row - 1].speakers
            message = (
                f"{speakers} speaker{'s' if speakers > 1 else ''} cannot be shared equally among "
                f"{len(outputs)} outputs. Choose more or fewer outputs."
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

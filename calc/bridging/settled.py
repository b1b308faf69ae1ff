"""Outputs that are settled before the channels are shared out: notation, field and checks."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from calc.bridging.mapping import Output
from calc.bridging.model import output_name
from calc.core.errors import FieldError, shown
from calc.core.fields import Pattern, Rows, Whole, behind_more

_OUTPUTS = re.compile(r"[1-8](\+[1-8])?(/[1-8](\+[1-8])?){0,7}")


def outputs_of(text: str) -> tuple[Output, ...]:
    """Return the outputs of a text such as `1/2` (two channels) or `1+2/3+4` (two bridged pairs).

    >>> outputs_of("1/2"), outputs_of("3+4")
    (((1,), (2,)), ((3, 4),))
    """
    return tuple(tuple(map(int, one.split("+"))) for one in text.split("/"))


def outputs_text(outputs: Iterable[Output]) -> str:
    """Return outputs as `outputs_of` reads them.

    >>> outputs_text([(1, 2), (3, 4)])
    '1+2/3+4'
    """
    return "/".join(output_name(one) for one in outputs)


def _are_outputs(text: str) -> bool:
    if not _OUTPUTS.fullmatch(text):
        return False
    outputs = outputs_of(text)
    channels = [channel for output in outputs for channel in output]
    adjacent = all(len(one) == 1 or (one[0] % 2 and one[1] == one[0] + 1) for one in outputs)
    alike = len({len(one) for one in outputs}) == 1
    return adjacent and alike and len(set(channels)) == len(channels)


SETTLED = behind_more(
    Rows(
        key="settled",
        label="Outputs already settled",
        default="",
        optional=True,
        most=8,
        row_name="section with settled outputs",
        hint="Which row of the sections must be on which outputs; all other rows go where it is "
        "best. Empty where all are free.",
        columns=(
            Whole(key="row", label="row of the sections", default="1", low=1, high=8),
            Pattern(
                key="outputs",
                label="outputs",
                default="1/2",
                is_good=_are_outputs,
                notation="channel numbers from 1 to 8: ‘1/2’ for two outputs, ‘3+4’ for a bridged "
                "pair, ‘1+2/3+4’ for two",
                examples=("1/2", "3+4", "1+2/3+4"),
                longest=40,
            ),
        ),
    )
)


def settled_by_row(given: Mapping[str, Any]) -> dict[int, tuple[Output, ...]]:
    """Return the settled outputs by the row’s number, counted from 1."""
    return {row["row"]: outputs_of(row["outputs"]) for row in given["settled"]}


def check_settled(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with settled outputs together with the sections and channels."""
    if not {"settled", "sections", "channels"} <= given.keys():
        return
    sections, channels = given["sections"], given["channels"]
    rows: set[int] = set()
    taken: set[int] = set()
    for number, row in enumerate(given["settled"], start=1):
        outputs = outputs_of(row["outputs"])
        own = {channel for output in outputs for channel in output}
        told = ""
        if row["row"] > len(sections):
            told = f"there are {len(sections)} rows of sections. Give one of them."
        elif row["row"] in rows:
            told = f"row {row['row']} has settled outputs already. Give each row once."
        elif max(own) > channels:
            told = f"there are {channels} channels. Give one of them."
        elif own & taken:
            told = "another row has these outputs already. Give others."
        elif sections[row["row"] - 1]["speakers"] % len(outputs):
            speakers = sections[row["row"] - 1]["speakers"]
            told = (
                f"{speakers} speaker{'s' if speakers > 1 else ''} cannot be spread equally over "
                f"{len(outputs)} outputs. Give another number of outputs."
            )
        rows.add(row["row"])
        taken |= own
        if told:
            message = f"{SETTLED.label}: Row {number}: {told}"
            yield FieldError("settled", shown(row["outputs"]), message, row=number)

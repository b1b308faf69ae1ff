"""Outputs that are fixed before the channels are shared out, and their notation."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated

from calc.bridging.mapping import Output
from calc.inputs.fields import Pattern, Whole
from calc.physics.channel_power import output_name

_OUTPUTS = re.compile(r"[1-8](\+[1-8])?(/[1-8](\+[1-8])?){0,7}")


def outputs_of(text: str) -> tuple[Output, ...]:
    """Return the outputs of a text such as `1/2` (two channels) or `1+2/3+4` (two bridged pairs).

    >>> outputs_of("1/2"), outputs_of("3+4")
    (((1,), (2,)), ((3, 4),))
    """
    return tuple(tuple(map(int, output.split("+"))) for output in text.split("/"))


def outputs_text(outputs: Iterable[Output]) -> str:
    """Return outputs as `outputs_of` reads them.

    >>> outputs_text([(1, 2), (3, 4)])
    '1+2/3+4'
    """
    return "/".join(output_name(output) for output in outputs)


def _are_outputs(text: str) -> bool:
    if not _OUTPUTS.fullmatch(text):
        return False
    outputs = outputs_of(text)
    channels = [channel for output in outputs for channel in output]
    adjacent = all(
        len(output) == 1 or (output[0] % 2 == 1 and output[1] == output[0] + 1)
        for output in outputs
    )
    alike = len({len(output) for output in outputs}) == 1
    return adjacent and alike and len(set(channels)) == len(channels)


@dataclass(frozen=True, kw_only=True)
class FixedOutputs:
    """Speakers that must be on certain outputs: their row's number from 1, and the outputs."""

    row: Annotated[int, Whole("row of the speakers", start=1, low=1, high=8)]
    outputs: Annotated[
        str,
        Pattern(
            "channels",
            start="1/2",
            is_good=_are_outputs,
            notation="channel numbers from 1 to 8: ‘1/2’ for two channels, ‘3+4’ for a bridged "
            "pair, ‘1+2/3+4’ for two pairs",
            examples=("1/2", "3+4", "1+2/3+4"),
            longest=40,
        ),
    ]

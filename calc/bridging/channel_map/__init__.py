"""The calculator `channel-map`: which section goes on which outputs."""

from calc.bridging.channel_map.fixed_outputs import FixedOutputs, outputs_text
from calc.bridging.channel_map.inputs import Inputs, SectionRow
from calc.bridging.channel_map.sheet import CHANNEL_MAP
from calc.bridging.channel_map.solve import Result, solve
from calc.bridging.channel_map.words import judge

__all__ = [
    "CHANNEL_MAP",
    "FixedOutputs",
    "Inputs",
    "Result",
    "SectionRow",
    "judge",
    "outputs_text",
    "solve",
]

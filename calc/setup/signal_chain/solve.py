"""Does what comes out of the source suit the amplifier's inputs?"""

from dataclasses import dataclass

from calc.physics.levels import level_db, voltage
from calc.setup.signal_chain.chain import UNKNOWN, Chain, from_line, from_speaker_leads
from calc.setup.signal_chain.inputs import Inputs


@dataclass(frozen=True, kw_only=True)
class Result:
    """What the source brings, and how it goes together with the amplifier.

    source_v : the most that it brings [V]; None where that is not known
    over_leads : it comes over speaker leads
    headroom_db : how far the source stays below what the input takes [dB]
    """

    source_v: float | None
    over_leads: bool
    chain: Chain
    headroom_db: float | None

    @property
    def is_high_level(self) -> bool:
        """Whether it goes into the high-level input."""
        return self.chain.socket == "high-level"

    @property
    def needs_converter(self) -> bool:
        """Whether a line-output converter stands between speaker leads and a line input."""
        return self.over_leads and self.chain.socket == "line" and bool(self.chain.has_adapter)


def solve(inputs: Inputs) -> Result:
    """Find the input to use, and what must stand between."""
    source, chain = _source_and_chain(inputs)
    return Result(
        source_v=source,
        over_leads=inputs.source_v is None and source is not None,
        chain=chain,
        headroom_db=_headroom_db(source, chain, inputs.sensitivity_max_v),
    )


def _source_and_chain(inputs: Inputs) -> tuple[float | None, Chain]:
    if inputs.source_v is not None:
        return inputs.source_v, from_line(inputs.source_v, inputs.line)
    if inputs.factory_power_w is not None:
        source = voltage(power_w=inputs.factory_power_w, load_ohm=inputs.factory_ohm)
        return source, from_speaker_leads(source, inputs.line, inputs.high_level)
    return None, UNKNOWN


def _headroom_db(source_v: float | None, chain: Chain, line_limit_v: float) -> float | None:
    """Return the room below what the input takes [dB]; of none, below the line input's limit."""
    if source_v is None:
        return None
    limit_v = None if chain.used is None else chain.used.high_v
    return level_db((line_limit_v if limit_v is None else limit_v) / source_v)

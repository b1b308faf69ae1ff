"""The signal chain: does what comes out of the source suit the amplifier's inputs?"""

from dataclasses import dataclass
from typing import Literal

from calc.physics.levels import level_db

Socket = Literal["line", "high-level", "none"]
State = Literal["suitable", "unsuitable", "not known"]


@dataclass(frozen=True, kw_only=True)
class Range:
    """The input voltages between which an amplifier's gain control reaches full power [V].

    low_v : needed with the gain fully up; high_v : borne with the gain fully down
    """

    low_v: float | None
    high_v: float | None


@dataclass(frozen=True, kw_only=True)
class Chain:
    """How source and amplifier go together.

    socket : the input to use; None where that is not known
    has_adapter : whether something goes between that lowers or converts the signal
    divider_db : by how much it must lower the signal [dB], None where not known
    input_v : what then arrives with the source at its most [V]
    used : the range of the input in use
    """

    socket: Socket | None
    state: State
    has_adapter: bool | None
    divider_db: float | None = None
    input_v: float | None = None
    used: Range | None = None

    @property
    def reserve_db(self) -> float | None:
        """How far above the least voltage for full power the signal is [dB]."""
        if self.input_v is None or self.used is None or self.used.low_v is None:
            return None
        return level_db(self.input_v / self.used.low_v)


def excess_db(source_v: float, limit_v: float) -> float:
    """Return by how much a voltage lies above a limit [dB], nought where it does not.

    >>> round(excess_db(8, 4), 2), excess_db(2, 4)
    (6.02, 0.0)
    """
    return max(level_db(source_v / limit_v), 0.0)


UNKNOWN = Chain(socket=None, state="not known", has_adapter=None)
TOO_WEAK = Chain(socket="none", state="unsuitable", has_adapter=False, divider_db=0.0)


def from_line(source_v: float, line: Range) -> Chain:
    """Return how a line output suits a line input whose range is known.

    source_v : the most that comes out undistorted [V]

    >>> from_line(4, Range(low_v=0.2, high_v=5)).socket
    'line'
    >>> from_line(8, Range(low_v=0.2, high_v=4)).has_adapter
    True
    >>> from_line(0.1, Range(low_v=0.2, high_v=4)).state
    'unsuitable'
    """
    assert line.low_v is not None and line.high_v is not None
    if source_v < line.low_v:
        return TOO_WEAK
    lowered = excess_db(source_v, line.high_v)
    return Chain(
        socket="line",
        state="suitable",
        has_adapter=lowered > 0,
        divider_db=lowered,
        input_v=min(source_v, line.high_v),
        used=line,
    )


def from_speaker_leads(source_v: float, line: Range, high: Range) -> Chain:
    """Return how a factory unit's speaker leads suit an amplifier.

    source_v : the most that the leads bring [V]
    high : the range of the high-level input; what is not known of it is None

    The high-level input is taken where its limit is known and enough arrives; else the line
    input, behind an adapter that makes a line signal of it.

    >>> from_speaker_leads(8, Range(low_v=0.2, high_v=5), Range(low_v=1, high_v=12)).socket
    'high-level'
    >>> chain = from_speaker_leads(8, Range(low_v=0.2, high_v=4), Range(low_v=None, high_v=None))
    >>> chain.socket, chain.has_adapter, round(chain.divider_db, 2)
    ('line', True, 6.02)
    """
    is_enough = None if high.low_v is None else source_v >= high.low_v
    if high.high_v is not None and is_enough is not False:
        lowered = excess_db(source_v, high.high_v)
        # Where it must be lowered to the limit at all, it is enough: limits lie in order.
        is_known = is_enough or lowered > 0
        return Chain(
            socket="high-level",
            state="suitable" if is_known else "not known",
            has_adapter=lowered > 0,
            divider_db=lowered,
            input_v=min(source_v, high.high_v),
            used=high,
        )
    by_line = from_line(source_v, line)
    if by_line.socket == "none":
        return by_line
    return Chain(
        socket="line",
        state="suitable",
        has_adapter=True,
        divider_db=by_line.divider_db,
        input_v=by_line.input_v,
        used=line,
    )

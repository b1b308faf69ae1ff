"""What a bass boost asks of the amplifier."""

from dataclasses import dataclass

from calc.physics.boost import Boost, lower_by
from calc.physics.levels import clipped_power, power_ratio
from calc.setup.boost_cost.inputs import Inputs


@dataclass(frozen=True, kw_only=True)
class Result:
    """What the boost costs.

    times : the power that is asked for over the power before [1]; asked_w : that power [W]
    lower_db : by how much the input must be lowered [dB]
    left_db : the room that is left with the boost in [dB], below nought where there is none
    elsewhere_w : the power that is then left at all other frequencies [W]
    full_v, boosted_v : the gain's target with the boost in, and with it out [V]
    clipped_ratio : the power of the wave as loud as before, over that of the largest clean one
    """

    boost: Boost
    times: float
    asked_w: float
    lower_db: float
    left_db: float
    elsewhere_w: float
    full_v: float
    boosted_v: float
    clipped_ratio: float


def solve(inputs: Inputs) -> Result:
    """Work out what the boost costs."""
    gain, room, power = inputs.boost_db, inputs.headroom_db, inputs.power_w
    lower, left = lower_by(boost_db=gain, headroom_db=room), room - gain
    return Result(
        boost=Boost(frequency_hz=inputs.frequency_hz, gain_db=gain, q=inputs.q),
        times=power_ratio(gain),
        asked_w=power * power_ratio(gain - room),
        lower_db=lower,
        left_db=left,
        elsewhere_w=power_left(power_w=power, lower_db=lower, headroom_db=room),
        full_v=inputs.output.full_v,
        boosted_v=inputs.output.target_v(tone_dbfs=0, boost_db=gain),
        clipped_ratio=clipped_power(max(-left, 0.0)),
    )


def power_left(*, power_w: float, lower_db: float, headroom_db: float) -> float:
    """Return the power that is left at frequencies without the boost [W].

    >>> round(power_left(power_w=100, lower_db=6, headroom_db=0), 1)
    25.1
    """
    return power_w / power_ratio(max(lower_db, headroom_db))

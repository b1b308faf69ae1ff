"""What a bridged pair gives into a load."""

from dataclasses import dataclass

from calc.bridging.bridged_output.inputs import Inputs
from calc.physics.channel_power import Power, bridged_power, rated_or_bridged_power
from calc.physics.levels import voltage


@dataclass(frozen=True, kw_only=True)
class Result:
    """The loads [Ω], and what comes out: power [W] with its bounds, voltage [V], current [A].

    factor : what the supply makes of rated power [1]
    estimate : the power from the ratings of the channels alone
    power : the same, but for a bridged rating that wins where it holds
    """

    channel_load_ohm: float
    min_bridged_ohm: float
    allowed: bool
    factor: float
    estimate: Power
    power: Power
    bridged_v: float | None
    bridged_a: float | None


def solve(inputs: Inputs) -> Result:
    """Work out load, permission and power of the pair."""
    channel, load = inputs.plate.channel, inputs.load_ohm
    allowed, factor = channel.takes(load_ohm=load / 2), inputs.supply.factor
    estimate = power = Power.unknown()
    if allowed:
        estimate = bridged_power(channel, load_ohm=load).times(factor)
        power = rated_or_bridged_power(channel, load_ohm=load).times(factor)
    volts = None if power.best is None else voltage(power_w=power.best, load_ohm=load)
    return Result(
        channel_load_ohm=load / 2,
        min_bridged_ohm=2 * channel.min_load_ohm,
        allowed=allowed,
        factor=factor,
        estimate=estimate,
        power=power,
        bridged_v=volts,
        bridged_a=None if volts is None else volts / load,
    )

"""What is left of the alternator at three duties, and how long the battery plays."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.cabling.supply_budget.inputs import Inputs
from calc.physics.amplifier_draw import DUTIES, Demand, Duty
from calc.physics.feed import alternator_margin, peukert_hours


@dataclass(frozen=True, kw_only=True)
class Left:
    """What is left at a duty.

    idle_a, running_a : of the alternator at idle and on the road [A]; below 0 the battery gives it
    engine_off_h : the battery's time [h]; None where nothing is drawn
    """

    idle_a: float
    running_a: float
    engine_off_h: float | None


@dataclass(frozen=True, kw_only=True)
class Result:
    """What the amplifiers draw, and what is left.

    running, resting : what they draw with the engine running, and with it off
    idle_gives_a : what the alternator gives at idle [A]
    left, careful : by duty; the careful ones count a class that is not known as AB
    """

    running: Demand
    resting: Demand
    idle_gives_a: float
    left: Mapping[Duty, Left]
    careful: Mapping[Duty, Left]

    @property
    def is_class_known(self) -> bool:
        """Whether the class of the amplifiers is known."""
        return self.running.amplifier_class is not None


def solve(inputs: Inputs) -> Result:
    """Weigh what alternator and battery give against what is drawn."""
    power_w, consumption = inputs.total_power_w, inputs.consumption
    running = consumption.demand(power_w=power_w, supply_v=inputs.running_v)
    resting = consumption.demand(power_w=power_w, supply_v=inputs.resting_v)
    return Result(
        running=running,
        resting=resting,
        idle_gives_a=inputs.alternator_a * inputs.idle_percent / 100,
        left={duty: _left(inputs, running.current(duty), resting.current(duty)) for duty in DUTIES},
        careful={
            duty: _left(inputs, running.most_current(duty), resting.most_current(duty))
            for duty in DUTIES
        },
    )


def _left(inputs: Inputs, running_a: float, resting_a: float) -> Left:
    """Return what is left of the alternator, and the battery's time, for two currents."""
    hours = peukert_hours(
        battery_ah=inputs.battery_ah,
        draw_a=resting_a + inputs.vehicle_off_a,
        peukert=inputs.peukert,
    )
    return Left(
        idle_a=_margin(inputs, inputs.idle_percent / 100, running_a),
        running_a=_margin(inputs, 1.0, running_a),
        engine_off_h=None if hours is None else hours * (1 - inputs.reserve_percent / 100),
    )


def _margin(inputs: Inputs, share: float, amplifier_a: float) -> float:
    return alternator_margin(
        alternator_a=inputs.alternator_a,
        share=share,
        vehicle_a=inputs.vehicle_a,
        amplifier_a=amplifier_a,
    )

"""How the amplifier turns on in this vehicle, and what parking costs."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.physics.charge import drain_ah
from calc.setup.turn_on.inputs import Inputs
from calc.setup.ways import MODES, Mode, Senses, Vehicle, all_of, best, works

_TOO_MUCH_PERCENT = 50.0  # a starter battery that has lost half may not start an engine


@dataclass(frozen=True, kw_only=True)
class Result:
    """The ways of turning on, and the charge that is gone after parking.

    works : whether each way works; None where that is not known
    best : the first that surely works
    drain_ah : with its supply live [Ah]; drain_percent : of the battery [%]
    parked_ah : with its supply as it is [Ah]; None where that is not known
    empties : whether the engine may not start afterwards; None where that is not known
    """

    vehicle: Vehicle
    senses: Senses
    works: Mapping[Mode, bool | None]
    best: Mode
    drain_ah: float
    drain_percent: float
    parked_ah: float | None
    empties: bool | None

    @property
    def has_terminal(self) -> bool:
        """Whether there is a trigger terminal, or may be one; else a relay switches the supply."""
        return self.senses.trigger is not False


def solve(inputs: Inputs) -> Result:
    """Find the way to turn it on, and the charge that parking takes."""
    vehicle, senses = inputs.vehicle, inputs.senses
    drain = drain_ah(quiescent_a=inputs.quiescent_a, parked_days=inputs.parked_days)
    percent = 100 * drain / inputs.battery_ah
    return Result(
        vehicle=vehicle,
        senses=senses,
        works={mode: works(mode, vehicle, senses) for mode in MODES},
        best=best(vehicle, senses),
        drain_ah=drain,
        drain_percent=percent,
        parked_ah={True: drain, False: 0.0, None: None}[vehicle.is_always_live],
        empties=all_of(percent >= _TOO_MUCH_PERCENT, vehicle.is_always_live),
    )

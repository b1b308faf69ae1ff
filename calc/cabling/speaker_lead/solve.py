"""What a speaker's lead loses, and the smallest that is enough."""

from dataclasses import dataclass

from calc.cabling.speaker_lead.inputs import Inputs
from calc.physics.conductors import METRIC_SIZES, Size, awg_size, metric_size
from calc.physics.permitted_current import carries, permitted_current
from calc.physics.speaker_leads import lead_current, lead_damping, lead_loss, lead_loss_db, lead_ohm

# Our own choice of rows: what leads to speakers are made of.
LEAD_SIZES = tuple(size for size in METRIC_SIZES if 0.75 <= size.area_mm2 <= 6)
# What is met but for the last bits is met.
_LAST_BITS = 1 + 1e-9


@dataclass(frozen=True, kw_only=True)
class Result:
    """A lead.

    ohm : its resistance, out and back [Ω]
    loss_db, loss_percent : of the speaker's level [dB] and power [%]
    damping : what the lead leaves of it; None without limit
    ampere : the current of the power [A]; None where that is not known
    permitted_a : what the lead may carry [A]; None where no table says
    keeps_loss : it loses no more than is permitted
    enough : the smallest size that does it; None where none does
    """

    size: Size
    ohm: float
    loss_db: float
    loss_percent: float
    damping: float | None
    ampere: float | None
    permitted_a: float | None
    keeps_loss: bool
    enough: Size | None


def solve(inputs: Inputs) -> Result:
    """Work out the loss."""
    size, load_ohm = _size_of(inputs), inputs.load_ohm
    ohm = resistance(inputs, size)
    ampere = lead_current(power_w=inputs.power_w, load_ohm=load_ohm)
    loss_db = lead_loss_db(load_ohm=load_ohm, ohm=ohm)
    return Result(
        size=size,
        ohm=ohm,
        loss_db=loss_db,
        loss_percent=100 * lead_loss(load_ohm=load_ohm, ohm=ohm),
        damping=lead_damping(load_ohm=load_ohm, ohm=ohm),
        ampere=ampere,
        permitted_a=permitted_current(size, material=inputs.material),
        keeps_loss=_keeps(inputs, loss_db),
        enough=next((other for other in LEAD_SIZES if _is_enough(inputs, other, ampere)), None),
    )


def _size_of(inputs: Inputs) -> Size:
    if inputs.awg:
        return awg_size(inputs.awg)
    if inputs.mm2 is None:
        raise ValueError("a lead is given by its size in mm² or its AWG")
    return metric_size(inputs.mm2)


def resistance(inputs: Inputs, size: Size, length_m: float | None = None) -> float:
    """Return the resistance of a size, out and back [Ω]; over another length where it is told."""
    per_m = size.ohm_per_m(material=inputs.material, conductor_c=inputs.conductor_c)
    return lead_ohm(ohm_per_m=per_m, length_m=length_m or inputs.length_m)


def _keeps(inputs: Inputs, loss_db: float) -> bool:
    return loss_db <= inputs.max_loss_db * _LAST_BITS


def _is_enough(inputs: Inputs, size: Size, ampere: float | None) -> bool:
    loss_db = lead_loss_db(load_ohm=inputs.load_ohm, ohm=resistance(inputs, size))
    may_carry_a = permitted_current(size, material=inputs.material)
    return _keeps(inputs, loss_db) and (ampere is None or carries(may_carry_a, ampere))

"""Two resistors that make a speaker quieter."""

from dataclasses import dataclass

from calc.crossovers.level_pad.inputs import Inputs
from calc.physics.filters import level_db
from calc.physics.pads import Pad, level_pad
from calc.physics.preferred_values import Series, nearest

OTHER_LOSSES_DB = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0)


@dataclass(frozen=True, kw_only=True)
class LossPad:
    """A pad for a loss [dB]: exact, and of preferred values.

    series_w, shunt_w, speaker_w : where the power goes with exact values [W]
    bought_loss_db, bought_load_ohm : loss and load with preferred values [dB, Ω]
    """

    loss_db: float
    exact: Pad
    bought: Pad
    series_w: float
    shunt_w: float
    speaker_w: float
    bought_loss_db: float
    bought_load_ohm: float


@dataclass(frozen=True, kw_only=True)
class Result:
    """The pad that was asked for, and those for other losses, the least first."""

    pad: LossPad
    others: tuple[LossPad, ...]


def solve(inputs: Inputs) -> Result:
    """Work out the pads."""
    losses = sorted({*OTHER_LOSSES_DB, inputs.loss_db})
    pads = tuple(_pad_of(inputs, loss) for loss in losses)
    return Result(pad=pads[losses.index(inputs.loss_db)], others=pads)


def _pad_of(inputs: Inputs, loss_db: float) -> LossPad:
    exact = level_pad(ohm=inputs.ohm, loss_db=loss_db)
    bought = _bought(exact, inputs.series)
    series_w, shunt_w, speaker_w = (
        share * inputs.power_w for share in exact.power_shares(inputs.ohm)
    )
    return LossPad(
        loss_db=loss_db,
        exact=exact,
        bought=bought,
        series_w=series_w,
        shunt_w=shunt_w,
        speaker_w=speaker_w,
        bought_loss_db=-level_db(bought.voltage_ratio(inputs.ohm)),
        bought_load_ohm=bought.load_ohm(inputs.ohm),
    )


def _bought(exact: Pad, series: Series) -> Pad:
    return Pad(
        series_ohm=nearest(exact.series_ohm, series),
        shunt_ohm=None if exact.shunt_ohm is None else nearest(exact.shunt_ohm, series),
    )

"""What both calculators say about an amplifier's spec sheet and its supply."""

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Quantity, Span
from calc.parts.plate import Plate, Supply
from calc.physics.channel_power import Power

INTERPOLATION = (
    "Between two rated loads we interpolate on log–log axes. Above the highest rated load we hold "
    "the voltage constant, so power falls as the load rises."
)
NO_2_OHM = (
    "The spec sheet gives no 2 Ω figure. An amplifier that limits its current can give lower still "
    "than the usual range, down to half its 4 Ω power at 2 Ω."
)
BRIDGED_INPUTS = (
    "Whether a bridged pair needs a signal at one or both of its inputs, an input switch or a "
    "Y-lead: the amplifier’s manual says."
)
MINIMUM_LOAD = (
    "A load below the minimum overheats the amplifier and can destroy it, even if it plays well at "
    "first. Bridge only the terminals that its manual names, and keep to the manual’s minimum load."
)
BRIDGED_LIVE = (
    "Both bridged terminals are live: a short to earth can destroy the amplifier. Keep them off "
    "the vehicle body (chassis), earthed test gear and other outputs."
)


def supply_step(supply: Supply) -> str:
    """Say in words what the supply makes of rated power."""
    if supply.regulated:
        return f"Regulated supply: rated power × {rounded(supply.factor)}."
    volts = f"({rounded(supply.supply_v)} V ÷ {rounded(supply.rated_v)} V)²"
    return f"Unregulated supply: rated power × {volts} = {rounded(supply.factor)}."


def supply_cautions(supply: Supply) -> tuple[str, ...]:
    """Warn of a supply above the voltage of the rating."""
    if not supply.is_too_high:
        return ()
    return (
        "A 24 V supply destroys a 12 V amplifier. Look up the highest supply voltage it allows: "
        f"{quantity(supply.supply_v, 'V')} is above its rated {quantity(supply.rated_v, 'V')}.",
    )


def plate_doubts(plate: Plate) -> tuple[str, ...]:
    """Say which ratings look wrong."""
    power_4, power_2 = plate.power_4ohm_w, plate.power_2ohm_w
    if power_2 is not None and power_2 > 2 * power_4 * (1 + 1e-9):
        return (
            "Whether the 2 Ω figure is right: no channel gives more than twice its 4 Ω power at "
            "2 Ω. Check that it is neither a “max” nor a bridged figure.",
        )
    if power_2 is not None and power_2 < power_4 * (1 - 1e-9):
        return (
            "Whether the 2 Ω figure is right: it is lower than the 4 Ω one. Either the amplifier "
            "limits its current or the spec sheet was misread.",
        )
    return ()


def supply_unknowns(supply: Supply) -> tuple[str, ...]:
    """Say what is missing of a regulated supply."""
    if supply.regulated and supply.regulated_min_v is None:
        return (
            "How low the supply can go before the regulated amplifier loses power: not known. The "
            "spec sheet says.",
        )
    return ()


def power_cell(power: Power) -> Quantity | Span:
    """Return a power as a table shows it: a figure, or a range when only bounds are known."""
    if power.best is None and power.low is not None and power.high is not None:
        return Span(power.low, power.high)
    return Quantity(power.best)

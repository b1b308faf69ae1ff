"""What both calculators say about an amplifier's plate and its supply."""

from calc.answers.figures import rounded
from calc.answers.sheet import Quantity, Span
from calc.parts.plate import Plate, Supply
from calc.physics.channel_power import Power

RATINGS = (
    "Power ratings by CTA-2006 (formerly CEA-2006): 14.4 V, 4 Ω, at most 1 % THD+N (from memory)."
)
OHM = "Ohm’s law, P = V²/R; halving of the load in bridge by symmetry."
INTERPOLATION = (
    "Between rated loads log P is taken straight over log R: common practice, no source."
)
CLIPPING = (
    "A clipped signal carries up to twice the clean power (square wave against sine), and "
    "more of it above the crossover: a small amplifier driven too hard harms tweeters as "
    "surely as a large one."
)
CURRENT_LIMIT = (
    "The plate gives no 2 Ω figure. A current-limited channel may fall lower still than shown, "
    "to half its 4 Ω power at 2 Ω."
)
BRIDGED_INPUTS = (
    "Whether both inputs of a bridged pair need the signal (mono or stereo), an input switch or "
    "a Y-lead: see the amplifier’s manual."
)
NO_APPROVAL = (
    "The amplifier’s own manual comes first: bridge only terminals that it marks for "
    "bridging, and never below the bridged load that it permits."
)


def supply_step(supply: Supply) -> str:
    """Say in words what the supply makes of rated power."""
    if supply.regulated:
        return f"Regulated supply: the rated power is multiplied by {rounded(supply.factor)}."
    volts = f"({rounded(supply.supply_v)} V ÷ {rounded(supply.rated_v)} V)²"
    return (
        f"Unregulated supply: the rated power is multiplied by {volts} = {rounded(supply.factor)}."
    )


def plate_cautions(plate: Plate, supply: Supply) -> tuple[str, ...]:
    """Return cautions about a supply or ratings that look wrong."""
    cautions = []
    if supply.is_too_high:
        cautions.append(
            "The supply is above the voltage of the rating. Look up the highest permitted supply: "
            "an amplifier for 12 V is destroyed in a 24 V vehicle."
        )
    power_4, power_2 = plate.power_4ohm_w, plate.power_2ohm_w
    if power_2 is not None and power_2 > 2 * power_4 * (1 + 1e-9):
        cautions.append(
            "A channel cannot give more than twice its 4 Ω power at 2 Ω: is the 2 Ω figure a "
            "“max”, or a bridged one?"
        )
    if power_2 is not None and power_2 < power_4 * (1 - 1e-9):
        cautions.append(
            "Less power at 2 Ω than at 4 Ω: a current-limited amplifier, or a plate misread."
        )
    return tuple(cautions)


def supply_unknowns(supply: Supply) -> tuple[str, ...]:
    """Say what is missing of a regulated supply."""
    if supply.regulated and supply.regulated_min_v is None:
        return ("Down to which voltage the regulated supply holds its power: not known.",)
    return ()


def power_cell(power: Power) -> Quantity | Span:
    """Return a power as a table shows it: a figure, or a range when only bounds are known."""
    if power.best is None and power.low is not None and power.high is not None:
        return Span(power.low, power.high)
    return Quantity(power.best)

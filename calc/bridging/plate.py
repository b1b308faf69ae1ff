"""What both calculators read off an amplifier's plate: fields, and the words about them."""

from collections.abc import Mapping
from typing import Any

from calc.bridging.model import Channel, Power, supply_factor
from calc.core.fields import Number, YesNo
from calc.core.figures import rounded
from calc.core.sheet import Quantity, Span

RATINGS = (
    "Power ratings by CTA-2006 (formerly CEA-2006): 14.4 V, 4 Ω, at most 1 % THD+N (from memory)."
)
OHM = "Ohm’s law, P = V²/R; halving of the load in bridge by symmetry."
INTERPOLATION = (
    "Between rated loads log P is taken straight over log R: common practice, no source."
)
INVENTED = "invented, the Lantern Van"
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

MIN_CHANNEL = Number(
    key="min_channel_ohm",
    label="Lowest load of a channel",
    default="2",
    low=0.5,
    high=16,
    presets=(1, 2, 4),
    hint="What the plate permits on one channel, not bridged.",
)
POWER_4 = Number(
    key="power_4ohm_w",
    label="Rated power per channel at 4 Ω",
    default="50",
    low=1,
    high=5000,
    hint="Continuous (“RMS”), all channels driven. Not a “max” or “peak” figure.",
    source=INVENTED,
)
POWER_2 = Number(
    key="power_2ohm_w",
    label="Rated power per channel at 2 Ω",
    default="75",
    low=1,
    high=8000,
    optional=True,
    source=INVENTED,
)
POWER_8 = Number(
    key="power_8ohm_w",
    label="Rated power per channel at 8 Ω",
    default="",
    low=1,
    high=5000,
    optional=True,
    more=True,
)
RATED_BRIDGED = Number(
    key="rated_bridged_w",
    label="Rated bridged power at 4 Ω",
    default="",
    low=1,
    high=20000,
    optional=True,
    hint="If the plate has it, it wins over the estimate at 4 Ω.",
)
RATED_V = Number(
    key="rated_v",
    label="Supply at which the power is rated",
    default="14.4",
    low=6,
    high=60,
    more=True,
    source="CTA-2006 (from memory)",
)
SUPPLY_V = Number(
    key="supply_v",
    label="Supply voltage in use",
    default="14.4",
    low=6,
    high=60,
    presets=(12.6, 13.8, 14.4),
    hint="At the amplifier’s terminals, engine running.",
    more=True,
)
REGULATED = YesNo(
    key="regulated",
    label="Regulated power supply",
    default="no",
    hint="Yes if the maker says that power does not change with the supply voltage.",
    more=True,
)
REGULATED_MIN = Number(
    key="regulated_min_v",
    label="Lowest voltage with full power",
    default="",
    low=6,
    high=60,
    optional=True,
    hint="For a regulated supply, as the maker states it.",
    more=True,
)


def channel_of(given: Mapping[str, Any]) -> Channel:
    """Return the channel that the plate describes."""
    return Channel(
        power_4ohm_w=given["power_4ohm_w"],
        power_2ohm_w=given["power_2ohm_w"],
        power_8ohm_w=given["power_8ohm_w"],
        min_load_ohm=given["min_channel_ohm"],
        rated_bridged_w=given["rated_bridged_w"],
    )


def supply_of(given: Mapping[str, Any]) -> float:
    """Return what the supply makes of rated power [1]."""
    return supply_factor(
        supply_v=given["supply_v"],
        rated_v=given["rated_v"],
        regulated=given["regulated"],
        regulated_min_v=given["regulated_min_v"],
    )


def supply_step(given: Mapping[str, Any], factor: float) -> str:
    """Say in words what the supply makes of rated power."""
    if given["regulated"]:
        return f"Regulated supply: the rated power is multiplied by {rounded(factor)}."
    volts = f"({rounded(given['supply_v'])} V ÷ {rounded(given['rated_v'])} V)²"
    return f"Unregulated supply: the rated power is multiplied by {volts} = {rounded(factor)}."


def supply_is_too_high(given: Mapping[str, Any]) -> bool:
    """Tell whether the supply lies so far above the rated one that no rating speaks of it."""
    return given["supply_v"] > 1.1 * given["rated_v"]


def plate_cautions(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Return cautions about a supply or ratings that look wrong."""
    told = []
    if supply_is_too_high(given):
        told.append(
            "The supply is above the voltage of the rating. Look up the highest permitted supply: "
            "an amplifier for 12 V is destroyed in a 24 V vehicle."
        )
    power_4, power_2 = given["power_4ohm_w"], given["power_2ohm_w"]
    if power_2 is not None and power_2 > 2 * power_4 * (1 + 1e-9):
        told.append(
            "A channel cannot give more than twice its 4 Ω power at 2 Ω: is the 2 Ω figure a "
            "“max”, or a bridged one?"
        )
    if power_2 is not None and power_2 < power_4 * (1 - 1e-9):
        told.append(
            "Less power at 2 Ω than at 4 Ω: a current-limited amplifier, or a plate misread."
        )
    return tuple(told)


def supply_unknowns(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Say what is missing of a regulated supply."""
    if given["regulated"] and given["regulated_min_v"] is None:
        return ("Down to which voltage the regulated supply holds its power: not known.",)
    return ()


def power_cell(power: Power) -> Quantity | Span:
    """Return a power as a table shows it: a figure, or a range when only bounds are known."""
    if power.best is None and power.low is not None and power.high is not None:
        return Span(power.low, power.high)
    return Quantity(power.best)

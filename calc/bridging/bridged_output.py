"""The calculator `bridged-output`: what a bridged pair gives into a load."""

from collections.abc import Mapping
from typing import Any

from calc.bridging.drawings import half_load
from calc.bridging.model import Channel, Power, bridged_power, rated_or_bridged_power, voltage
from calc.bridging.plate import (
    BRIDGED_INPUTS,
    CLIPPING,
    INTERPOLATION,
    INVENTED,
    MIN_CHANNEL,
    NO_APPROVAL,
    OHM,
    POWER_2,
    POWER_4,
    POWER_8,
    RATED_BRIDGED,
    RATED_V,
    RATINGS,
    REGULATED,
    REGULATED_MIN,
    SUPPLY_V,
    channel_of,
    plate_cautions,
    power_cell,
    supply_is_too_high,
    supply_of,
    supply_step,
    supply_unknowns,
)
from calc.core.calculator import Calculator
from calc.core.cautions import HEARING, SWITCH_OFF
from calc.core.fields import Number
from calc.core.figures import quantity, rounded
from calc.core.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict


def bridged_output(given: Mapping[str, Any]) -> Sheet:
    """Compute `bridged-output`: what a bridged pair gives into a load."""
    channel, load = channel_of(given), given["load_ohm"]
    channel_load, lowest = load / 2, 2 * channel.min_load_ohm
    allowed = channel.takes(load_ohm=channel_load)
    factor = supply_of(given)
    estimate = bridged_power(channel, load_ohm=load).times(factor) if allowed else Power.unknown()
    rating = given["rated_bridged_w"]
    power = Power.unknown()
    if allowed:
        power = rated_or_bridged_power(channel, load_ohm=load).times(factor)
    volts = None if power.best is None else voltage(power_w=power.best, load_ohm=load)
    amperes = None if volts is None else volts / load
    results = {
        "channel_load_ohm": channel_load,
        "min_bridged_ohm": lowest,
        "allowed": allowed,
        "bridged_power_w": power.best,
        "bridged_power_low_w": power.low,
        "bridged_power_high_w": power.high,
        "bridged_v": volts,
        "bridged_a": amperes,
    }
    cautions = [NO_APPROVAL, SWITCH_OFF, CLIPPING, HEARING]
    if allowed and power.best is None and power.low is not None:
        cautions.insert(
            0,
            "The plate gives no 2 Ω figure. A current-limited channel may fall "
            "lower still than shown, to half its 4 Ω power at 2 Ω.",
        )
    if allowed and rating is not None and _disagrees(rating * factor, load, estimate):
        cautions.insert(
            0,
            "The bridged rating and the channel ratings do not agree: see how it "
            "was worked out, and ask which of the figures is right.",
        )
    return Sheet(
        sentence=_bridged_sentence(given, channel_load, lowest, allowed, power),
        verdict=_bridged_verdict(given, lowest, allowed, power),
        results=results,
        figures=_bridged_figures(channel_load, lowest, allowed, power, volts, amperes),
        drawings=(half_load(repr(load)),) if allowed else (),
        tables=(_other_loads(channel, factor, load),),
        cautions=(*plate_cautions(given), *_plate_refuses(given, allowed), *cautions),
        steps=_bridged_steps(given, channel_load, lowest, allowed, factor, estimate, power),
        unknowns=(
            "Whether this amplifier can be bridged at all, and with which terminals: see its "
            "manual.",
            BRIDGED_INPUTS,
            *supply_unknowns(given),
        ),
        sources=(OHM, RATINGS, INTERPOLATION),
    )


def _plate_refuses(given: Mapping[str, Any], allowed: bool) -> tuple[str, ...]:
    """Return a caution when the plate rates a bridged load that its channels do not take."""
    load = given["load_ohm"]
    if allowed or given["rated_bridged_w"] is None or abs(load - 4) >= 1e-9:
        return ()
    return (
        "The plate rates the pair at 4 Ω, but a channel no lower than "
        f"{quantity(given['min_channel_ohm'], 'Ω')}: one of the two is misread. See the manual "
        "before you connect.",
    )


def _bridged_sentence(
    given: Mapping[str, Any], channel_load: float, lowest: float, allowed: bool, power: Power
) -> str:
    load = quantity(given["load_ohm"], "Ω")
    sees = f"Each channel sees {quantity(channel_load, 'Ω')}"
    if not allowed:
        return (
            f"{sees}, which is below its lowest load: do not bridge into {load}; "
            f"{quantity(lowest, 'Ω')} is the least."
        )
    if power.best is not None:
        return f"{sees}; bridged into {load} expect about {quantity(power.best, 'W', 3)}."
    if power.low is not None and power.high is not None:
        return (
            f"{sees}; bridged into {load} {_usual(power)}, and a current-limited amplifier can "
            f"give as little as {quantity(power.low * channel_load / 4, 'W', 3)}: the plate gives "
            "no 2 Ω figure."
        )
    return (
        f"{sees}, which is permitted, but the plate rates no load as low as that: the "
        f"power bridged into {load} is not known."
    )


def _usual(power: Power) -> str:
    low, high = rounded(power.low or 0.0, 3), quantity(power.high or 0.0, "W", 3)
    return f"{low} to {high} is usual"


def _bridged_verdict(
    given: Mapping[str, Any], lowest: float, allowed: bool, power: Power
) -> Verdict:
    load = given["load_ohm"]
    if not allowed:
        return Verdict(
            "unsuitable",
            f"{quantity(load, 'Ω')} bridged is below the lowest bridged "
            f"load of {quantity(lowest, 'Ω')}.",
        )
    if supply_is_too_high(given):
        return Verdict(
            "not known",
            f"the load is permitted, but {quantity(given['supply_v'], 'V')} is above the rated "
            f"{quantity(given['rated_v'], 'V')}: the highest permitted supply is missing.",
        )
    if power.best is None:
        usual = "" if power.low is None else f"; {_usual(power)}"
        return Verdict(
            "not known",
            f"the load is permitted, the power rating at "
            f"{quantity(load / 2, 'Ω')} per channel is missing{usual}.",
        )
    return Verdict(
        "suitable",
        f"{quantity(load, 'Ω')} bridged is not below the lowest bridged "
        f"load of {quantity(lowest, 'Ω')}.",
    )


def _bridged_figures(
    channel_load: float,
    lowest: float,
    allowed: bool,
    power: Power,
    volts: float | None,
    amperes: float | None,
) -> tuple[Figure, ...]:
    loads = (
        Figure("Load on each channel", Quantity(channel_load, "Ω")),
        Figure("Lowest bridged load", Quantity(lowest, "Ω")),
    )
    if not allowed:  # a power would be read as a reason to connect it all the same
        return loads
    shown: Quantity | Span = Quantity(power.best, "W")
    if power.best is None and power.low is not None and power.high is not None:
        shown = Span(power.low, power.high, "W")
    return (
        Figure("Bridged power", shown),
        *loads,
        Figure("Voltage across the load", Quantity(volts, "V")),
        Figure("Current in the load", Quantity(amperes, "A")),
    )


def _other_loads(channel: Channel, factor: float, load: float) -> Table:
    loads = sorted({1.0, 2.0, 4.0, 8.0, load})
    rows = []
    for one in loads:
        fits = channel.takes(load_ohm=one / 2)
        power = bridged_power(channel, load_ohm=one).times(factor) if fits else Power.unknown()
        rows.append(
            (
                Quantity(one),
                Quantity(one / 2),
                "yes" if fits else "no: below the channel’s lowest load",
                power_cell(power) if fits else "–",
            )
        )
    return Table(
        caption="The same pair into other bridged loads, from the channel ratings",
        columns=(
            Column("Bridged load", "Ω"),
            Column("Each channel sees", "Ω"),
            Column("Permitted"),
            Column("Power", "W"),
        ),
        rows=tuple(rows),
        marked=loads.index(load),
    )


def _bridged_steps(
    given: Mapping[str, Any],
    channel_load: float,
    lowest: float,
    allowed: bool,
    factor: float,
    estimate: Power,
    power: Power,
) -> tuple[str, ...]:
    load = given["load_ohm"]
    steps = [
        f"Each channel sees half: {quantity(load, 'Ω')} ÷ 2 = {quantity(channel_load, 'Ω')}.",
        f"Lowest bridged load: 2 × {quantity(given['min_channel_ohm'], 'Ω')} = "
        f"{quantity(lowest, 'Ω')}.",
    ]
    if not allowed:
        return (*steps, f"{quantity(load, 'Ω')} is less than {quantity(lowest, 'Ω')}: refused.")
    steps.append(supply_step(given, factor))
    if estimate.best is not None:
        steps.append(
            f"Two channels at {quantity(channel_load, 'Ω')}: 2 × "
            f"{quantity(estimate.best / 2, 'W')} = {quantity(estimate.best, 'W')}."
        )
    elif estimate.low is not None and estimate.high is not None:
        steps.append(
            f"No 2 Ω figure: from 2 × the 4 Ω power, {quantity(estimate.low, 'W')} "
            f"(power-limited), to 2 × 4 Ω power × 4 Ω ÷ {quantity(channel_load, 'Ω')}, "
            f"{quantity(estimate.high, 'W')} (stiff supply)."
        )
    if given["rated_bridged_w"] is not None:
        steps.append(_rating_step(given["rated_bridged_w"], load, factor, estimate))
    if power.best is not None:
        steps.append(
            f"V = √(P·R) = √({quantity(power.best, 'W')} × {quantity(load, 'Ω')}) = "
            f"{quantity(voltage(power_w=power.best, load_ohm=load), 'V')}."
        )
    return tuple(steps)


def _disagrees(rating_w: float, load: float, estimate: Power) -> bool:
    """Tell whether a bridged rating at 4 Ω lies more than 10 % off what the channels say."""
    if abs(load - 4) >= 1e-9 or estimate.low is None or estimate.high is None:
        return False
    return not 0.9 * estimate.low <= rating_w <= 1.1 * estimate.high


def _rating_step(rating: float, load: float, factor: float, estimate: Power) -> str:
    if abs(load - 4) >= 1e-9:
        return (
            f"The bridged rating of {quantity(rating, 'W')} holds at 4 Ω; at "
            f"{quantity(load, 'Ω')} the channel ratings are used."
        )
    text = f"The bridged rating wins at 4 Ω: {quantity(rating * factor, 'W')} at this supply"
    if estimate.best is None:
        agrees = "outside" if _disagrees(rating * factor, load, estimate) else "within"
        return f"{text}; that is {agrees} the limits that the channel ratings set."
    apart = rating * factor / estimate.best - 1
    if _disagrees(rating * factor, load, estimate):
        return (
            f"{text}; it differs by {rounded(100 * apart, 2)} % from the estimate of "
            f"{quantity(estimate.best, 'W')}: ask which of the two figures is right."
        )
    return f"{text}; the estimate from the channel ratings agrees within 10 %."


BRIDGED_OUTPUT = Calculator(
    name="bridged-output",
    title="Bridged output",
    question="What does a bridged pair of channels give into this load, and may I connect it?",
    fields=(
        Number(
            key="load_ohm",
            label="Load on the bridged pair",
            default="4",
            low=0.25,
            high=64,
            presets=(1, 2, 4, 8),
            hint="Nominal, as the coils are wired; not the meter’s reading, which is lower.",
            source=INVENTED,
        ),
        POWER_4,
        POWER_2,
        POWER_8,
        MIN_CHANNEL,
        RATED_V,
        SUPPLY_V,
        REGULATED,
        REGULATED_MIN,
        RATED_BRIDGED,
    ),
    groups=(
        (
            "The load and the plate",
            (
                "load_ohm",
                "min_channel_ohm",
                "power_4ohm_w",
                "power_2ohm_w",
                "rated_bridged_w",
                "power_8ohm_w",
            ),
        ),
        ("The supply", ("rated_v", "supply_v", "regulated", "regulated_min_v")),
    ),
    compute=bridged_output,
)

"""What the answer of `bridged-output` says."""

from calc.answers.calculator import Calculator
from calc.answers.cautions import HEARING, SWITCH_OFF
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Span, Table, Verdict
from calc.bridging.bridged_output.inputs import FORM, ORDER, Inputs
from calc.bridging.bridged_output.solve import Result, solve
from calc.bridging.drawings import half_load
from calc.bridging.plate_words import (
    BRIDGED_INPUTS,
    BRIDGED_LIVE,
    INTERPOLATION,
    MINIMUM_LOAD,
    NO_2_OHM,
    plate_doubts,
    power_cell,
    supply_cautions,
    supply_step,
    supply_unknowns,
)
from calc.physics.channel_power import Channel, Power, bridged_power
from calc.physics.levels import voltage

WELL_ABOVE = 1.5  # times the lowest load


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    load = inputs.load_ohm
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(half_load(repr(load)),) if result.allowed else (),
        tables=(_other_loads(inputs.plate.channel, result.factor, load),),
        cautions=(
            *supply_cautions(inputs.supply),
            SWITCH_OFF,
            BRIDGED_LIVE,
            _rated_below_minimum(inputs, result) or MINIMUM_LOAD,
            HEARING,
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "Whether this amplifier can be bridged at all, and at which terminals: its manual "
            "says.",
            BRIDGED_INPUTS,
            *plate_doubts(inputs.plate),
            *_rating_doubt(inputs, result),
            *supply_unknowns(inputs.supply),
        ),
        sources=("power-ratings", "two-ohm-ratio", "hearing"),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "channel_load_ohm": result.channel_load_ohm,
        "min_bridged_ohm": result.min_bridged_ohm,
        "allowed": result.allowed,
        "bridged_power_w": result.power.best,
        "bridged_power_low_w": result.power.low,
        "bridged_power_high_w": result.power.high,
        "bridged_v": result.bridged_v,
        "bridged_a": result.bridged_a,
    }


def _rated_below_minimum(inputs: Inputs, result: Result) -> str:
    """Return a caution when the sheet rates a bridged load that its channels do not take."""
    load = inputs.load_ohm
    if result.allowed or inputs.plate.rated_bridged_w is None or abs(load - 4) >= 1e-9:
        return ""
    return (
        "One figure is misread: the spec sheet rates the pair bridged into 4 Ω, but a channel no "
        f"lower than {quantity(inputs.plate.min_channel_ohm, 'Ω')}. Connecting it on the wrong one "
        "can destroy the amplifier: look in the manual first."
    )


def _rating_doubt(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say that the bridged rating and the channel ratings do not agree."""
    rating = inputs.plate.rated_bridged_w
    if not result.allowed or rating is None or not _disagrees(rating, inputs.load_ohm, result):
        return ()
    return (
        "Which rating is right: the bridged one and the channels’ own do not agree (see the "
        "working). Ask the maker.",
    )


def _sentence(inputs: Inputs, result: Result) -> str:
    load, power = quantity(inputs.load_ohm, "Ω"), result.power
    channel = quantity(result.channel_load_ohm, "Ω")
    if not result.allowed:
        return (
            f"Don’t bridge into {load}: each channel would see {channel}. "
            f"{quantity(result.min_bridged_ohm, 'Ω')} is the lowest."
        )
    if power.best is not None:
        return (
            f"Bridged into {load}, the pair gives about {quantity(power.best, 'W', 3)}; each "
            f"channel sees {channel}."
        )
    if power.low is not None and power.high is not None:
        least_w = power.low * result.channel_load_ohm / 4
        return (
            f"Bridged into {load}, {_usual(power)}, but an amplifier that limits its current can "
            f"give as little as {quantity(least_w, 'W', 3)}; each channel sees {channel}."
        )
    return (
        f"Bridged into {load}, each channel sees {channel}. That is allowed, but no load so low is "
        "rated, so nobody can promise a power."
    )


def _usual(power: Power) -> str:
    low, high = rounded(power.low or 0.0, 3), quantity(power.high or 0.0, "W", 3)
    return f"{low} to {high} is usual"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the load may be connected, and whether its power is known."""
    load, lowest, power = inputs.load_ohm, result.min_bridged_ohm, result.power
    least, channel = quantity(lowest, "Ω"), quantity(result.channel_load_ohm, "Ω")
    if not result.allowed:
        return Verdict(
            "unsuitable",
            f"{quantity(load, 'Ω')} is below the {least} minimum. Wire the voice coils to {least} "
            f"or more, or use an amplifier that is stable to {channel} per channel.",
        )
    if inputs.supply.is_too_high:
        return Verdict(
            "not known",
            f"The load is fine, but {quantity(inputs.supply.supply_v, 'V')} is above the rated "
            f"{quantity(inputs.supply.rated_v, 'V')}. Ask for the highest supply voltage the "
            "amplifier allows.",
        )
    if power.best is None:
        usual = "" if power.low is None else f": {_usual(power)}"
        return Verdict(
            "not known",
            f"The load is fine. For the power we need the {channel} rating{usual}.",
        )
    if load <= lowest * (1 + 1e-9):
        return Verdict("suitable", f"{quantity(load, 'Ω')} is the lowest load this pair can run.")
    above = "well above" if load >= WELL_ABOVE * lowest else "above"
    return Verdict("suitable", f"{quantity(load, 'Ω')} is {above} the {least} minimum.")


def _figures(result: Result) -> tuple[Figure, ...]:
    power = result.power
    loads = (
        Figure("Each channel sees", Quantity(result.channel_load_ohm, "Ω")),
        Figure("Minimum bridged load", Quantity(result.min_bridged_ohm, "Ω")),
    )
    if not result.allowed:  # a power would be read as a reason to connect it all the same
        return loads
    shown: Quantity | Span = Quantity(power.best, "W")
    if power.best is None and power.low is not None and power.high is not None:
        shown = Span(power.low, power.high, "W")
    return (
        Figure("Bridged power", shown),
        *loads,
        Figure("Voltage at full power", Quantity(result.bridged_v, "V")),
        Figure("Current at full power", Quantity(result.bridged_a, "A")),
    )


def _other_loads(channel: Channel, factor: float, load: float) -> Table:
    loads = sorted({1.0, 2.0, 4.0, 8.0, load})
    rows = []
    for ohm in loads:
        fits = channel.takes(load_ohm=ohm / 2)
        power = bridged_power(channel, load_ohm=ohm).times(factor) if fits else Power.unknown()
        rows.append(
            (
                Quantity(ohm),
                Quantity(ohm / 2),
                "yes" if fits else "no: below the minimum load",
                power_cell(power) if fits else "–",
            )
        )
    return Table(
        caption="The same pair into other loads, from the RMS power per channel",
        columns=(
            Column("Bridged load", "Ω"),
            Column("Each channel sees", "Ω"),
            Column("Allowed"),
            Column("Power", "W"),
        ),
        rows=tuple(rows),
        marked=loads.index(load),
    )


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    load, channel_load, lowest = inputs.load_ohm, result.channel_load_ohm, result.min_bridged_ohm
    estimate, power = result.estimate, result.power
    steps = [
        f"Each channel sees half: {quantity(load, 'Ω')} ÷ 2 = {quantity(channel_load, 'Ω')}.",
        f"Minimum bridged load: 2 × {quantity(inputs.plate.min_channel_ohm, 'Ω')} = "
        f"{quantity(lowest, 'Ω')}.",
    ]
    if not result.allowed:
        return (*steps, f"{quantity(load, 'Ω')} is below {quantity(lowest, 'Ω')}: not allowed.")
    steps.append(supply_step(inputs.supply))
    if estimate.best is not None:
        steps.append(
            f"Two channels at {quantity(channel_load, 'Ω')}: 2 × "
            f"{quantity(estimate.best / 2, 'W')} = {quantity(estimate.best, 'W')}."
        )
    elif estimate.low is not None and estimate.high is not None:
        steps.append(
            f"No 2 Ω figure: from 2 × the 4 Ω power, {quantity(estimate.low, 'W')} (no more power "
            f"than at 4 Ω), to 2 × 4 Ω power × 4 Ω ÷ {quantity(channel_load, 'Ω')} = "
            f"{quantity(estimate.high, 'W')} (the voltage holds)."
        )
        steps.append(NO_2_OHM)
    steps.append(INTERPOLATION)
    if inputs.plate.rated_bridged_w is not None:
        steps.append(_rating_step(inputs.plate.rated_bridged_w, load, result))
    if power.best is not None:
        steps.append(
            f"V = √(P·R) = √({quantity(power.best, 'W')} × {quantity(load, 'Ω')}) = "
            f"{quantity(voltage(power_w=power.best, load_ohm=load), 'V')}."
        )
    return tuple(steps)


def _disagrees(rating_w: float, load: float, result: Result) -> bool:
    """Tell whether a bridged rating at 4 Ω lies more than 10 % off what the channels say."""
    estimate = result.estimate
    if abs(load - 4) >= 1e-9 or estimate.low is None or estimate.high is None:
        return False
    return not 0.9 * estimate.low <= rating_w * result.factor <= 1.1 * estimate.high


def _rating_step(rating: float, load: float, result: Result) -> str:
    estimate = result.estimate
    if abs(load - 4) >= 1e-9:
        return (
            f"The bridged rating of {quantity(rating, 'W')} is for 4 Ω; at "
            f"{quantity(load, 'Ω')} we use the power per channel."
        )
    text = (
        f"At 4 Ω the bridged rating counts: {quantity(rating * result.factor, 'W')} at this "
        "supply voltage"
    )
    if estimate.best is None:
        agrees = "outside" if _disagrees(rating, load, result) else "within"
        return f"{text}; that is {agrees} the range that the power per channel allows."
    apart = rating * result.factor / estimate.best - 1
    if _disagrees(rating, load, result):
        return (
            f"{text}; it differs by {rounded(100 * apart, 2)} % from the estimate of "
            f"{quantity(estimate.best, 'W')}: ask the maker which is right."
        )
    return f"{text}; our estimate agrees within 10 %."


BRIDGED_OUTPUT = Calculator(
    name="bridged-output",
    title="Bridged power",
    question="Can I bridge two channels into this load, and what power will it get?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    solve=solve,
    judge=judge,
    present=present,
)

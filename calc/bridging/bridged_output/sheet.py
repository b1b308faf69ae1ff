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
    CLIPPING,
    INTERPOLATION,
    NO_APPROVAL,
    OHM,
    RATINGS,
    plate_cautions,
    power_cell,
    supply_step,
    supply_unknowns,
)
from calc.physics.channel_power import Channel, Power, bridged_power
from calc.physics.levels import voltage


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    load, rating = inputs.load_ohm, inputs.plate.rated_bridged_w
    cautions = [NO_APPROVAL, SWITCH_OFF, CLIPPING, HEARING]
    if result.allowed and result.power.best is None and result.power.low is not None:
        cautions.insert(
            0,
            "The plate gives no 2 Ω figure. A current-limited channel may fall "
            "lower still than shown, to half its 4 Ω power at 2 Ω.",
        )
    if result.allowed and rating is not None and _disagrees(rating, load, result):
        cautions.insert(
            0,
            "The bridged rating and the channel ratings do not agree: see how it "
            "was worked out, and ask which of the figures is right.",
        )
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(half_load(repr(load)),) if result.allowed else (),
        tables=(_other_loads(inputs.plate.channel, result.factor, load),),
        cautions=(
            *plate_cautions(inputs.plate, inputs.supply),
            *_plate_refuses(inputs, result),
            *cautions,
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "Whether this amplifier can be bridged at all, and with which terminals: see its "
            "manual.",
            BRIDGED_INPUTS,
            *supply_unknowns(inputs.supply),
        ),
        sources=(OHM, RATINGS, INTERPOLATION),
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


def _plate_refuses(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Return a caution when the plate rates a bridged load that its channels do not take."""
    load = inputs.load_ohm
    if result.allowed or inputs.plate.rated_bridged_w is None or abs(load - 4) >= 1e-9:
        return ()
    return (
        "The plate rates the pair at 4 Ω, but a channel no lower than "
        f"{quantity(inputs.plate.min_channel_ohm, 'Ω')}: one of the two is misread. See the manual "
        "before you connect.",
    )


def _sentence(inputs: Inputs, result: Result) -> str:
    load, power = quantity(inputs.load_ohm, "Ω"), result.power
    sees = f"Each channel sees {quantity(result.channel_load_ohm, 'Ω')}"
    if not result.allowed:
        return (
            f"{sees}, which is below its lowest load: do not bridge into {load}; "
            f"{quantity(result.min_bridged_ohm, 'Ω')} is the least."
        )
    if power.best is not None:
        return f"{sees}; bridged into {load} expect about {quantity(power.best, 'W', 3)}."
    if power.low is not None and power.high is not None:
        least_w = power.low * result.channel_load_ohm / 4
        return (
            f"{sees}; bridged into {load} {_usual(power)}, and a current-limited amplifier can "
            f"give as little as {quantity(least_w, 'W', 3)}: the plate gives "
            "no 2 Ω figure."
        )
    return (
        f"{sees}, which is permitted, but the plate rates no load as low as that: the "
        f"power bridged into {load} is not known."
    )


def _usual(power: Power) -> str:
    low, high = rounded(power.low or 0.0, 3), quantity(power.high or 0.0, "W", 3)
    return f"{low} to {high} is usual"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the load may be connected, and whether its power is known."""
    load, lowest, power = inputs.load_ohm, result.min_bridged_ohm, result.power
    if not result.allowed:
        return Verdict(
            "unsuitable",
            f"{quantity(load, 'Ω')} bridged is below the lowest bridged "
            f"load of {quantity(lowest, 'Ω')}.",
        )
    if inputs.supply.is_too_high:
        return Verdict(
            "not known",
            f"the load is permitted, but {quantity(inputs.supply.supply_v, 'V')} is above the "
            f"rated {quantity(inputs.supply.rated_v, 'V')}: the highest permitted supply is "
            "missing.",
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


def _figures(result: Result) -> tuple[Figure, ...]:
    power = result.power
    loads = (
        Figure("Load on each channel", Quantity(result.channel_load_ohm, "Ω")),
        Figure("Lowest bridged load", Quantity(result.min_bridged_ohm, "Ω")),
    )
    if not result.allowed:  # a power would be read as a reason to connect it all the same
        return loads
    shown: Quantity | Span = Quantity(power.best, "W")
    if power.best is None and power.low is not None and power.high is not None:
        shown = Span(power.low, power.high, "W")
    return (
        Figure("Bridged power", shown),
        *loads,
        Figure("Voltage across the load", Quantity(result.bridged_v, "V")),
        Figure("Current in the load", Quantity(result.bridged_a, "A")),
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


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    load, channel_load, lowest = inputs.load_ohm, result.channel_load_ohm, result.min_bridged_ohm
    estimate, power = result.estimate, result.power
    steps = [
        f"Each channel sees half: {quantity(load, 'Ω')} ÷ 2 = {quantity(channel_load, 'Ω')}.",
        f"Lowest bridged load: 2 × {quantity(inputs.plate.min_channel_ohm, 'Ω')} = "
        f"{quantity(lowest, 'Ω')}.",
    ]
    if not result.allowed:
        return (*steps, f"{quantity(load, 'Ω')} is less than {quantity(lowest, 'Ω')}: refused.")
    steps.append(supply_step(inputs.supply))
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
            f"The bridged rating of {quantity(rating, 'W')} holds at 4 Ω; at "
            f"{quantity(load, 'Ω')} the channel ratings are used."
        )
    text = f"The bridged rating wins at 4 Ω: {quantity(rating * result.factor, 'W')} at this supply"
    if estimate.best is None:
        agrees = "outside" if _disagrees(rating, load, result) else "within"
        return f"{text}; that is {agrees} the limits that the channel ratings set."
    apart = rating * result.factor / estimate.best - 1
    if _disagrees(rating, load, result):
        return (
            f"{text}; it differs by {rounded(100 * apart, 2)} % from the estimate of "
            f"{quantity(estimate.best, 'W')}: ask which of the two figures is right."
        )
    return f"{text}; the estimate from the channel ratings agrees within 10 %."


BRIDGED_OUTPUT = Calculator(
    name="bridged-output",
    title="Bridged output",
    question="What does a bridged pair of channels give into this load, and may I connect it?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    solve=solve,
    judge=judge,
    present=present,
)

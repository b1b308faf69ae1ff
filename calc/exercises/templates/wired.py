"""Exercises in several steps: voice coils, the bridged pair, the gain, the meter."""

from math import sqrt

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.coils.meter_check import METER_CHECK
from calc.exercises.asking import ask
from calc.exercises.drafts import Draft, Figure, Slip
from calc.exercises.draws import Draws
from calc.exercises.templates.usual import (
    BRIDGEABLE,
    NUMBERS,
    ONE_CHANNEL,
    RATINGS,
    STABLE_OHM,
    STIFF,
    WRONG_RATING,
    Subs,
    amplifier,
    best_of,
    bridged,
    rating_at,
    right_path,
    wired_lowest,
)
from calc.setup.gain_voltage import GAIN_VOLTAGE


def _wired(subs: Subs) -> str:
    """Say how subs are wired and bridged."""
    return (
        f"The customer has {subs.words}. You wire all the coils, with equal power in each, to the "
        "lowest load that a bridged pair can run, and bridge channels 3 and 4."
    )


def wire_and_bridge(draws: Draws) -> Draft | None:
    """Coils, then the bridged power."""
    ratings, subs = draws.pick(RATINGS), draws.pick(BRIDGEABLE)
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    load = wiring.number(f"{best_of(wiring)}.load_ohm")
    if load not in (4.0, 8.0):
        return None
    four, two = ratings
    return Figure(
        question=f"{amplifier(ratings)} {_wired(subs)} How much power do all the coils get "
        "together?",
        asks=(wiring, bridged(ratings, load)),
        result="bridged_power_w",
        unit="W",
        slips=(
            Slip(rating_at(ratings, int(load)), ONE_CHANNEL),
            Slip(2 * (four + two) - 2 * rating_at(ratings, int(load)), WRONG_RATING),
            Slip(4 * four, STIFF),
        ),
    )


def wire_bridge_and_set(draws: Draws) -> Draft | None:
    """Coils, bridged power, then the meter's reading."""
    ratings, subs = draws.pick(RATINGS), draws.pick(BRIDGEABLE)
    tone = draws.pick((0, -5, -10))
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    load = wiring.number(f"{best_of(wiring)}.load_ohm")
    if load not in (4.0, 8.0):
        return None
    pair = bridged(ratings, load)
    power = pair.number("bridged_power_w")
    gain = ask(GAIN_VOLTAGE, power_w=power, load_ohm=load, bridged=True, tone_hz=50, tone_dbfs=tone)
    volts = gain.number("full_scale_v")
    return Figure(
        question=f"{amplifier(ratings)} {_wired(subs)} The test tone is recorded at "
        f"{rounded(tone)} dBFS. What does the meter read across the bridged "
        "terminals when the gain is right?",
        asks=(wiring, pair, gain),
        result="target_v",
        unit="V",
        slips=(
            Slip(volts if tone else 0.0, f"the tone is {rounded(-tone)} dB below full scale"),
            Slip(volts * 10 ** (tone / 10) if tone else 0.0, "a ratio of voltages takes 20·lg"),
            Slip(sqrt(power / 2 * load) * 10 ** (tone / 20), "you took one channel’s power"),
            Slip(sqrt(power * load / 2) * 10 ** (tone / 20), "you took one channel’s load"),
        ),
    )


_SHARES = {2: "half", 4: "a quarter"}


def wire_and_share(draws: Draws) -> Draft | None:
    """Coils, bridged power, then the power in each coil."""
    ratings, subs = draws.pick(RATINGS), draws.pick(BRIDGEABLE)
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    load = wiring.number(f"{best_of(wiring)}.load_ohm")
    if load not in (4.0, 8.0):
        return None
    pair = bridged(ratings, load)
    power, coils = pair.number("bridged_power_w"), subs.count * subs.coils
    shared = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM, power_w=power, tells="nothing")
    return Figure(
        question=f"{amplifier(ratings)} {_wired(subs)} How much power does each voice coil get?",
        asks=(wiring, pair, shared),
        result=f"{best_of(shared)}.coil_power_w.0",
        unit="W",
        slips=(
            Slip(power, f"that is all {NUMBERS[coils]} coils together"),
            Slip(power / 2 / coils, "you took one channel’s power: the pair makes twice that"),
            Slip(power / subs.count, "that is one sub: it has two coils"),
            Slip(power * 2 / coils, "you counted the pair twice"),
        ),
        closing=(
            f"Coils that are alike share the power equally, {_SHARES[coils]} each: "
            f"{q(power, 'W')} ÷ {coils} = {q(power / coils, 'W', 3)}.",
        ),
    )


def wired_for_a_pair(draws: Draws) -> Draft | None:
    """Coils for a bridged pair, then what each channel sees."""
    subs = draws.pick(BRIDGEABLE)
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    path = best_of(wiring)
    load = wiring.number(f"{path}.load_ohm")
    return Figure(
        question=f"The customer has {subs.words}. Your amplifier is stable to {q(STABLE_OHM, 'Ω')} "
        "per channel, and two channels are bridged. You wire all the coils, with equal power in "
        "each, to the lowest load that is allowed. What does each channel see?",
        asks=(wiring,),
        result=f"{path}.channel_load_ohm",
        unit="Ω",
        slips=(
            Slip(load, "that is the load across the pair: each channel sees half"),
            Slip(load / 4, "you halved it twice"),
            Slip(2 * load, "bridging halves the load that a channel sees"),
        ),
        closing=(f"Each channel sees half: {q(load, 'Ω')} ÷ 2 = {q(load / 2, 'Ω')}.",),
    )


def wired_and_metered(draws: Draws) -> Draft | None:
    """Coils for a bridged pair, then the meter's reading."""
    subs = draws.pick(BRIDGEABLE)
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    path = best_of(wiring)
    load, leads = wiring.number(f"{path}.load_ohm"), draws.pick((0.1, 0.2, 0.3))
    metered = ask(
        METER_CHECK, tells="nothing", drivers=subs.count, coils_per_driver=subs.coils,
        coil_ohm=subs.coil_ohm, intended=wiring.value(f"{path}.notation"),
        reading_ohm=round(0.85 * load + leads, 2), lead_ohm=leads,
    )  # fmt: skip
    return Figure(
        question=f"The customer has {subs.words}. Your amplifier is stable to {q(STABLE_OHM, 'Ω')} "
        "per channel, and two channels are bridged. You wire all the coils, with equal power in "
        f"each, to the lowest load that is allowed. The speaker cable adds {q(leads, 'Ω')}. What "
        "is the highest reading of the meter that is still right (0.95 of the impedance)?",
        asks=(wiring, metered),
        result=f"{right_path(metered)}.expected_high_ohm",
        unit="Ω",
        slips=(
            Slip(load + leads, "that is the impedance: a coil reads at most 0.95 of it"),
            Slip(0.95 * load / 2 + leads, "the meter knows nothing of bridging: do not halve"),
            Slip(0.95 * load * 2 + leads, "that is twice the load: see the wiring again"),
        ),
        closing=(f"0.95 × {q(load, 'Ω')} + {q(leads, 'Ω')} = {q(0.95 * load + leads, 'Ω')}.",),
    )


def wired_powered_shared(draws: Draws) -> Draft | None:
    """Coils, the bridged power, and what each sub gets."""
    ratings, subs = draws.pick(RATINGS), draws.pick(BRIDGEABLE)
    wiring = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM)
    load = wiring.number(f"{best_of(wiring)}.load_ohm")
    pair = bridged(ratings, load)
    power, coils = pair.number("bridged_power_w"), subs.count * subs.coils
    shared = wired_lowest(subs, min_load_ohm=2 * STABLE_OHM, power_w=power, tells="nothing")
    current = shared.number(f"{best_of(shared)}.coil_current_a.0")
    return Figure(
        question=f"{amplifier(ratings)} The customer has {subs.words}. You wire all the coils, "
        "with equal power in each, to the lowest load that a bridged pair can run. What current "
        "flows in each voice coil at full power?",
        asks=(wiring, pair, shared),
        result=f"{best_of(shared)}.coil_current_a.0",
        unit="A",
        slips=(
            Slip((power / load) ** 0.5, "that is the current from the amplifier"),
            Slip((power / 2 / coils / subs.coil_ohm) ** 0.5, "you took one channel’s power"),
            Slip(power / coils / subs.coil_ohm, "that is the current squared: I = √(P ÷ R)"),
        ),
        closing=(
            f"Each coil gets {q(power, 'W')} ÷ {coils} = {q(power / coils, 'W')}: "
            f"√({q(power / coils, 'W')} ÷ {q(subs.coil_ohm, 'Ω')}) = {q(current, 'A')}.",
        ),
    )

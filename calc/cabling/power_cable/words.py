"""What the calculator `power-cable` says: sentence, verdict, cautions, steps."""

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.fuse_words import full_words, fuse_note
from calc.cabling.power_cable.inputs import Inputs
from calc.cabling.power_cable.solve import Result
from calc.cabling.words import (
    DUTY_WORDS,
    MATERIAL_SHORT,
    NO_TABLE,
    both_names,
    fuse_words,
    place_words,
)
from calc.physics.conductors import KIT_SIZES
from calc.physics.permitted_current import carries, engine_factor, largest_fuse


def run_sentence(inputs: Inputs, result: Result) -> str:
    """Return the answer in one sentence, with the condition that it holds for."""
    over = f"{quantity(inputs.total_power_w, 'W')} over {quantity(inputs.length_m, 'm')}"
    offer, drop_v = result.chosen.offer, result.drop_v
    if offer is None or drop_v is None:
        return f"No cable is offered for {over}."
    metal, duty = MATERIAL_SHORT[inputs.cable.material], DUTY_WORDS[inputs.duty]
    start = f"For {over}, sized for {duty}: at least {both_names(offer.size)} of {metal}"
    fuse = f"with a fuse of {quantity(result.chosen.fuse_a, 'A')} at the battery"
    kit = result.kit
    if kit is None:
        return f"{start}, {fuse}; it loses {quantity(drop_v, 'V', 3)} at {duty}."
    lost = quantity(result.kit_drop_v, "V", 3)
    return (
        f"{start}, bought as {kit.size.words}, {fuse}; the cable bought loses {lost} at full power."
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the run: whether a size does it, and what asks for this one."""
    rules, chosen, limit = result.rules, result.chosen, quantity(inputs.way.max_drop_v, "V")
    offer, drop_v = chosen.offer, result.drop_v
    if offer is None or drop_v is None:
        if rules.widest_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict("unsuitable", _what_fails(inputs, result))
    marked = quantity(inputs.cable.insulation_c, "°C")
    fits = (
        f"the fuse of {quantity(chosen.fuse_a, 'A')} protects a cable that may carry "
        f"{quantity(offer.permitted_a, 'A', 3)} {place_words(inputs.cable)}, if it is marked "
        f"{marked}"
    )
    drop_ab_v = result.drop(offer, result.upper_a)
    if drop_ab_v is not None and not rules.keeps(drop_ab_v):
        return Verdict(
            "not known",
            f"the class of the amplifier is missing: class AB would lose "
            f"{quantity(drop_ab_v, 'V', 3)} of {limit}; {fits}.",
        )
    thinnest = next(size for size in rules.offers if size.permitted_a is not None)
    reason = {
        "drop": "the drop asks for this size",
        "heat": "the heat of full power asks for this size",
        "fuse": "the fuse asks for this size",
    }[chosen.limited_by]
    if offer is thinnest:
        reason = "no thinner size is on offer"
    lost = f"{quantity(drop_v, 'V', 3)} of {limit} at {DUTY_WORDS[inputs.duty]}"
    drop_full_v = result.drop(offer, result.demand.full_a)
    if drop_full_v is not None and not rules.keeps(drop_full_v):
        lost += f" ({quantity(drop_full_v, 'V', 3)} at full power)"
    return Verdict("suitable", f"{lost}; {fits}; {reason}.")


def _full_words(inputs: Inputs, result: Result) -> str:
    return full_words(inputs.draw, supply_v=inputs.supply_v, full_a=result.full_a)


def note_of(inputs: Inputs, result: Result) -> str | None:
    """Say what the main fuse follows; None where no listed fuse does."""
    return fuse_note(inputs.draw, result.fuse, supply_v=inputs.supply_v, full_a=result.full_a)


def _what_fails(inputs: Inputs, result: Result) -> str:
    """Say what stands in the way of every size, the current first."""
    thickest, against = result.rules.offers[-1], []
    largest = largest_fuse(thickest.permitted_a)
    if not carries(largest, result.full_a):
        against.append(
            f"{_full_words(inputs, result)}: {thickest.size.words} may carry "
            f"{quantity(thickest.permitted_a, 'A', 3)} {place_words(inputs.cable)}, and the "
            f"largest fuse for it has {fuse_words(largest)}; feed the amplifiers separately"
        )
    if result.chosen.by_drop is None:
        limit = quantity(inputs.way.max_drop_v, "V")
        against.append(
            f"body and joints alone lose more than {limit}; improve them, or run a return cable"
            if result.required_mm2 is None
            else f"even {thickest.size.words} loses more than {limit}; shorten the run, permit "
            "more, or lay two cables with a fuse each"
        )
    return "; ".join(against) + "."


def kit_cautions(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say so where no size in which cable is bought does what a thicker one would."""
    if result.chosen.offer is None or result.kit is not None:
        return ()
    thickest = KIT_SIZES[inputs.cable.sizes][-1].words
    return (
        f"No size in which cable is usually bought does it: {thickest} is the thickest of them. "
        f"Order {result.chosen.offer.size.words} by the metre, or lay two cables with a fuse each.",
    )


def fuse_cautions(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Warn where the amplifier's own fuses and the main fuse do not agree."""
    total, fuse_a = inputs.draw.by_fuses_a, result.chosen.fuse_a
    if total is None:
        return ()
    if fuse_a is not None and total > fuse_a:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, more than the "
            f"{quantity(fuse_a, 'A')} at the battery: it may draw more than its power "
            "rating says. Ask for the rated current, and take the cable for that. Never fit a "
            "larger fuse to this cable than it may carry.",
        )
    if total < result.full_a:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, less than the "
            f"{_full_words(inputs, result)}: they do not bear that for long, "
            "as with a test tone; music takes less.",
        )
    return ()


def run_steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    lowest_v = inputs.draw.lowest_v(inputs.supply_v)
    steps = [
        f"Full power: {quantity(inputs.total_power_w, 'W')} ÷ "
        f"({rounded(inputs.draw.efficiency_percent)} % × {quantity(inputs.supply_v, 'V')}) = "
        f"{quantity(result.demand.full_a)} A. For fuse and heat, at {quantity(lowest_v, 'V')}: "
        f"{quantity(result.full_a, 'A')}.",
        f"At {DUTY_WORDS[inputs.duty]} the drop is reckoned with {quantity(result.ampere, 'A')}.",
    ]
    offer = result.chosen.offer
    if inputs.cable.in_engine_space:
        steps.append(
            f"Air of {quantity(inputs.cable.engine_c, '°C')}: √((105 − T) ÷ 75), from 50 °C on at "
            f"most the table’s 0.85: × {rounded(engine_factor(inputs.cable.engine_c), 3)}."
        )
    if offer is not None:
        way = "out and back" if inputs.way.return_by == "cable" else "one way"
        lost_v = result.rules.run_drop(offer, ampere=result.ampere, length_m=inputs.length_m)
        steps += [
            f"Drop: {quantity(result.ampere, 'A')} × {quantity(1000 * offer.ohm_per_m, 'mΩ/m')} × "
            f"{quantity(inputs.length_m, 'm')} ({way}), joints included = {quantity(lost_v, 'V')}; "
            f"the body adds {quantity(result.rules.body_drop(result.ampere), 'V')}.",
            f"Fuse: {quantity(result.chosen.fuse_a, 'A')}, "
            f"{note_of(inputs, result)}; the cable may carry "
            f"{quantity(offer.permitted_a, 'A')}.",
        ]
    return (
        *steps,
        "Least size: the smallest whose drop is within the limit; where it may not carry the full "
        "current, or the fuse, the next ones up. To buy: the next of the sizes in which cable is "
        "sold; sets for four-channel amplifiers start at 8 AWG or 10 mm².",
    )

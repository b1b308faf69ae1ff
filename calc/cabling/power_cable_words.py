"""What the calculator `power-cable` says: sentence, verdict, cautions, steps."""

from collections.abc import Mapping
from typing import Any

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.given import full_words, fuse_note, in_engine_space, place_words
from calc.cabling.one_run import OneRun
from calc.cabling.words import DUTY_WORDS, MATERIAL_SHORT, NO_TABLE, both_names, fuse_words
from calc.physics.conductors import KIT_SIZES
from calc.physics.permitted_current import carries, engine_factor, largest_fuse


def run_sentence(given: Mapping[str, Any], run: OneRun) -> str:
    """Return the answer in one sentence, with the condition that it holds for."""
    over = f"{quantity(given['total_power_w'], 'W')} over {quantity(given['length_m'], 'm')}"
    offer, drop_v = run.chosen.offer, run.drop(run.chosen.offer, run.ampere)
    if offer is None or drop_v is None:
        return f"No cable is offered for {over}."
    metal, duty = MATERIAL_SHORT[given["material"]], DUTY_WORDS[given["duty"]]
    told = f"For {over}, sized for {duty}: at least {both_names(offer.size)} of {metal}"
    fuse = f"with a fuse of {quantity(run.chosen.fuse_a, 'A')} at the battery"
    kit = run.kit
    if kit is None:
        return f"{told}, {fuse}; it loses {quantity(drop_v, 'V', 3)} at {duty}."
    lost = quantity(run.drop(kit, run.demand.full_a), "V", 3)
    return (
        f"{told}, bought as {kit.size.words}, {fuse}; the cable bought loses {lost} at full power."
    )


def run_verdict(given: Mapping[str, Any], run: OneRun) -> Verdict:
    """Judge the run: whether a size does it, and what asks for this one."""
    rules, chosen, limit = run.rules, run.chosen, quantity(given["max_drop_v"], "V")
    offer, drop_v = chosen.offer, run.drop(chosen.offer, run.ampere)
    if offer is None or drop_v is None:
        if rules.widest_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict("unsuitable", _what_fails(given, run))
    marked = quantity(given["insulation_c"], "°C")
    fits = (
        f"the fuse of {quantity(chosen.fuse_a, 'A')} protects a cable that may carry "
        f"{quantity(offer.permitted_a, 'A', 3)} {place_words(given)}, if it is marked {marked}"
    )
    drop_ab_v = run.drop(offer, run.demand.upper_current(given["duty"]))
    if drop_ab_v is not None and not rules.keeps(drop_ab_v):
        return Verdict(
            "not known",
            f"the class of the amplifier is missing: class AB would lose "
            f"{quantity(drop_ab_v, 'V', 3)} of {limit}; {fits}.",
        )
    thinnest = next(one for one in rules.offers if one.permitted_a is not None)
    why = {
        "drop": "the drop asks for this size",
        "heat": "the heat of full power asks for this size",
        "fuse": "the fuse asks for this size",
    }[chosen.limited_by]
    if offer is thinnest:
        why = "no thinner size is on offer"
    told = f"{quantity(drop_v, 'V', 3)} of {limit} at {DUTY_WORDS[given['duty']]}"
    drop_full_v = run.drop(offer, run.demand.full_a)
    if drop_full_v is not None and not rules.keeps(drop_full_v):
        told += f" ({quantity(drop_full_v, 'V', 3)} at full power)"
    return Verdict("suitable", f"{told}; {fits}; {why}.")


def _what_fails(given: Mapping[str, Any], run: OneRun) -> str:
    """Say what stands in the way of every size, the current first."""
    rules, full = run.rules, run.full_a
    thickest, against = rules.offers[-1], []
    largest = largest_fuse(thickest.permitted_a)
    if not carries(largest, full):
        against.append(
            f"{full_words(given, full)}: {thickest.size.words} may carry "
            f"{quantity(thickest.permitted_a, 'A', 3)} {place_words(given)}, and the largest fuse "
            f"for it has {fuse_words(largest)}; feed the amplifiers separately"
        )
    if run.chosen.by_drop is None:
        limit = quantity(given["max_drop_v"], "V")
        needed = rules.required_mm2(ampere=run.ampere, length_m=run.length_m, total_a=run.ampere)
        against.append(
            f"body and joints alone lose more than {limit}; improve them, or run a return cable"
            if needed is None
            else f"even {thickest.size.words} loses more than {limit}; shorten the run, permit "
            "more, or lay two cables with a fuse each"
        )
    return "; ".join(against) + "."


def kit_cautions(given: Mapping[str, Any], run: OneRun) -> tuple[str, ...]:
    """Say so where no size in which cable is bought does what a thicker one would."""
    if run.chosen.offer is None or run.kit is not None:
        return ()
    thickest = KIT_SIZES[given["sizes"]][-1].words
    return (
        f"No size in which cable is usually bought does it: {thickest} is the thickest of them. "
        f"Order {run.chosen.offer.size.words} by the metre, or lay two cables with a fuse each.",
    )


def fuse_cautions(given: Mapping[str, Any], run: OneRun) -> tuple[str, ...]:
    """Warn where the amplifier's own fuses and the main fuse do not agree."""
    own_fuses, fuse_a = given["amp_fuses_a"], run.chosen.fuse_a
    if not own_fuses:
        return ()
    total, full = sum(own_fuses), full_words(given, run.full_a)
    if fuse_a is not None and total > fuse_a:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, more than the "
            f"{quantity(fuse_a, 'A')} at the battery: it may draw more than its power "
            "rating says. Ask for the rated current, and take the cable for that. Never fit a "
            "larger fuse to this cable than it may carry.",
        )
    if total < run.full_a:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, less than the "
            f"{full}: they do not bear that for long, as with a test tone; music takes less.",
        )
    return ()


def run_steps(given: Mapping[str, Any], run: OneRun) -> tuple[str, ...]:
    """Say how it was worked out."""
    volt = given["regulated_min_v"] or given["supply_v"]
    steps = [
        f"Full power: {quantity(given['total_power_w'], 'W')} ÷ "
        f"({rounded(given['efficiency_percent'])} % × {quantity(given['supply_v'], 'V')}) = "
        f"{quantity(run.demand.full_a)} A. For fuse and heat, at {quantity(volt, 'V')}: "
        f"{quantity(run.full_a, 'A')}.",
        f"At {DUTY_WORDS[given['duty']]} the drop is reckoned with {quantity(run.ampere, 'A')}.",
    ]
    offer = run.chosen.offer
    if in_engine_space(given):
        steps.append(
            f"Air of {quantity(given['engine_c'], '°C')}: √((105 − T) ÷ 75), from 50 °C on at most "
            f"the table’s 0.85: × {rounded(engine_factor(given['engine_c']), 3)}."
        )
    if offer is not None:
        way = "out and back" if given["return"] == "cable" else "one way"
        own = run.rules.run_drop(offer, ampere=run.ampere, length_m=given["length_m"])
        steps += [
            f"Drop: {quantity(run.ampere, 'A')} × {quantity(1000 * offer.ohm_per_m, 'mΩ/m')} × "
            f"{quantity(given['length_m'], 'm')} ({way}), joints included = {quantity(own, 'V')}; "
            f"the body adds {quantity(run.rules.body_drop(run.ampere), 'V')}.",
            f"Fuse: {quantity(run.chosen.fuse_a, 'A')}, "
            f"{fuse_note(given, run.fuse, run.full_a)}; the cable may carry "
            f"{quantity(offer.permitted_a, 'A')}.",
        ]
    return (
        *steps,
        "Least size: the smallest whose drop is within the limit; where it may not carry the full "
        "current, or the fuse, the next ones up. To buy: the next of the sizes in which cable is "
        "sold; sets for four-channel amplifiers start at 8 AWG or 10 mm².",
    )

"""What the calculator `power-cable` says: sentence, verdict, cautions, steps."""

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Verdict
from calc.cabling.fuse_words import full_words, fuse_note
from calc.cabling.power_cable.inputs import Inputs
from calc.cabling.power_cable.solve import Result
from calc.cabling.sizing import Offer
from calc.cabling.words import (
    DUTY_WORDS,
    MATERIAL_SHORT,
    NO_TABLE,
    PLAYED_WORDS,
    as_sentence,
    both_names,
    fuse_words,
    place_words,
    rated,
)
from calc.physics.permitted_current import carries, engine_factor, largest_fuse


def run_sentence(inputs: Inputs, result: Result) -> str:
    """Return the answer in one sentence and the condition that it holds for."""
    over = f"{quantity(inputs.total_power_w, 'W')} over {quantity(inputs.length_m, 'm')}"
    offer, kit = result.chosen.offer, result.kit
    if offer is None:
        return f"No single cable will do for {over}."
    metal, fuse_a = MATERIAL_SHORT[inputs.cable.material], quantity(result.chosen.fuse_a, "A")
    fuse = f"with a {fuse_a} fuse at the battery"
    sized = f"That is sized for {DUTY_WORDS[inputs.duty]}"
    if kit is None:
        return (
            f"For {over}, order {both_names(offer.size)} {metal} by the metre, {fuse}. {sized}; "
            "no size that shops usually stock is thick enough."
        )
    beside = ""
    if offer.size != kit.size:
        beside = f"; the minimum is {both_names(offer.size)}"
    if inputs.duty != "full":
        at_full = result.for_current(result.demand.full_a).offer
        if at_full is None:
            beside = "; no size is enough for test tones"
        elif at_full.size.area_mm2 <= kit.size.area_mm2:
            beside = ", and is enough for test tones too"
        else:
            beside = f"; for test tones use {both_names(at_full.size)} or more"
    return f"For {over}, use {kit.size.words} {metal} {fuse}. {sized}{beside}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the run: whether a size does it, with what it drops and what it is rated for."""
    rules, chosen, limit = result.rules, result.chosen, quantity(inputs.way.max_drop_v, "V")
    offer = chosen.offer
    if offer is None:
        if rules.widest_a is None:
            return Verdict("not known", as_sentence(NO_TABLE))
        return Verdict("unsuitable", _what_fails(inputs, result))
    drop_ab_v = result.drop(offer, result.upper_a)
    if drop_ab_v is not None and not rules.keeps(drop_ab_v):
        return Verdict(
            "not known",
            f"The amplifier’s class is not given. Class AB would drop "
            f"{quantity(drop_ab_v, 'V', 3)} "
            f"in {offer.size.words}, limit {limit}. Enter the class, or size for full power.",
        )
    return Verdict("suitable", _margins(inputs, result, result.kit or offer))


def _margins(inputs: Inputs, result: Result, laid: Offer) -> str:
    """Say what the cable that is laid drops and what it is rated for, beside their limits."""
    limit, played = quantity(inputs.way.max_drop_v, "V"), PLAYED_WORDS[inputs.duty]
    drop = f"Drops {quantity(result.drop(laid, result.ampere), 'V', 3)} {played}, limit {limit}"
    at_full = result.drop(laid, result.demand.full_a)
    if inputs.duty != "full":
        drop += f" ({quantity(at_full, 'V', 3)} at full power)"
    marked = quantity(inputs.cable.insulation_c, "°C")
    return (
        f"{drop}. {laid.size.words} is rated for {rated(laid.permitted_a)} ({marked} insulation, "
        f"{place_words(inputs.cable)}), enough for the {quantity(result.chosen.fuse_a, 'A')} fuse."
    )


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
            f"It draws {_full_words(inputs, result)}. {thickest.size.words} is rated for "
            f"{rated(thickest.permitted_a)} {place_words(inputs.cable)}, and its largest fuse is "
            f"{fuse_words(largest)}. Give each amplifier a cable of its own"
        )
    if result.chosen.by_drop is None:
        limit = quantity(inputs.way.max_drop_v, "V")
        against.append(
            f"The body and the connections alone drop more than {limit}. Improve them, or run a "
            "return cable"
            if result.required_mm2 is None
            else f"Even {thickest.size.words} drops more than {limit}. Shorten the run, allow a "
            "larger drop, or run two cables with a fuse each"
        )
    return ". ".join(against) + "."


def fuse_cautions(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Warn where the amplifier's own fuses and the main fuse do not agree."""
    total, fuse_a = inputs.draw.by_fuses_a, result.chosen.fuse_a
    if total is None:
        return ()
    if fuse_a is not None and total > fuse_a:
        return (
            f"The amplifier’s own fuses add up to {quantity(total, 'A')}, more than the "
            f"{quantity(fuse_a, 'A')} main fuse: it can draw more than its RMS power suggests. "
            "Ask for its rated current and size the cable for that; never just fit a larger fuse.",
        )
    if total < result.full_a:
        return (
            f"The amplifier’s own fuses add up to {quantity(total, 'A')}, less than "
            f"{_full_words(inputs, result)}: a long test tone can blow them. Keep test tones "
            "short; music draws less.",
        )
    return ()


def _decides(result: Result) -> str:
    """Say what decides the minimum size."""
    if result.chosen.offer == next(o for o in result.rules.offers if o.permitted_a is not None):
        return "No thinner size is used for power."
    by = {"drop": "voltage drop", "heat": "current at full power", "fuse": "fuse"}
    return f"The {by[result.chosen.limited_by]} decides the minimum size."


def run_steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    """Say how it was worked out."""
    steps = [
        f"Full power: {quantity(inputs.total_power_w, 'W')} ÷ "
        f"({rounded(inputs.draw.efficiency_percent)} % × {quantity(inputs.supply_v, 'V')}) = "
        f"{quantity(result.demand.full_a, 'A')}."
    ]
    if result.full_a != result.demand.full_a:
        steps.append(f"Fuse and current rating follow {_full_words(inputs, result)}.")
    if inputs.cable.in_engine_space:
        steps.append(
            f"Air at {quantity(inputs.cable.engine_c, '°C')}: the current rating × "
            f"{rounded(engine_factor(inputs.cable.engine_c), 3)}. We work that out as √((105 − T) "
            "÷ 75), the same heat in the cable, and never above the table’s 0.85 from 50 °C up."
        )
    offer = result.chosen.offer
    if offer is not None:
        way = ", out and back," if inputs.way.return_by == "cable" else ""
        lost_v = result.rules.run_drop(offer, ampere=result.ampere, length_m=inputs.length_m)
        steps += [
            f"Drop in {offer.size.words} {PLAYED_WORDS[inputs.duty]}: "
            f"{quantity(result.ampere, 'A')} × {quantity(1000 * offer.ohm_per_m, 'mΩ/m')} × "
            f"{quantity(inputs.length_m, 'm')}{way} = {quantity(lost_v, 'V', 3)} with its "
            f"connections, and {quantity(result.rules.body_drop(result.ampere), 'V', 3)} in the "
            f"vehicle body: {quantity(result.drop_v, 'V', 3)}.",
            f"Fuse: {quantity(result.chosen.fuse_a, 'A')}, {note_of(inputs, result)}; "
            f"{offer.size.words} is rated for {rated(offer.permitted_a)}.",
            f"{_decides(result)} Buy the next size that shops stock.",
        ]
    return (
        *steps,
        "Our own choices: half a volt, full power, and no fuse above the cable’s rating, though "
        "the rule for boats allows half as much again.",
    )

"""Exercises on bridging."""

from math import log10, sqrt

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.bridging.bridged_output import BRIDGED_OUTPUT
from calc.bridging.channel_map import CHANNEL_MAP
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import (
    Draft,
    Figure,
    Option,
    Slip,
    Statement,
    Template,
    judged_options,
)
from calc.exercises.draws import Draws
from calc.exercises.templates.usual import (
    ONE_CHANNEL,
    RATINGS,
    STABLE_OHM,
    STIFF,
    WRONG_RATING,
    a,
    amplifier,
    bridged,
    rating_at,
)
from calc.exercises.templates.wired import wire_and_bridge, wire_and_share, wire_bridge_and_set


def _drawn(draws: Draws) -> tuple[tuple[int, int], int, str]:
    ratings, load = draws.pick(RATINGS), draws.pick((4, 8))
    return (
        ratings,
        load,
        f"{amplifier(ratings)} Two of its channels are bridged into {a(load, 'Ω')} sub.",
    )


# --- recall


def half_the_load(draws: Draws) -> Draft | None:
    """What each channel of a bridged pair sees."""
    load = draws.pick((4, 6, 8, 12, 16))
    return Figure(
        question=f"You bridge two channels into {a(load, 'Ω')} sub. What does each channel see?",
        asks=(ask(BRIDGED_OUTPUT, load_ohm=load),),
        result="channel_load_ohm",
        unit="Ω",
        slips=(
            Slip(load, "each channel drives one half of the voice coil, not the whole"),
            Slip(load * 2, "you doubled it: bridging halves what each channel sees"),
            Slip(load / 4, "you halved it twice"),
        ),
    )


def lowest_bridged(draws: Draws) -> Draft | None:
    """The lowest load that may be bridged."""
    least = draws.pick((1, 2, 4))
    return Figure(
        question=f"A channel is stable to {q(least, 'Ω')}. What is the lowest load that a pair of "
        "such channels can run bridged?",
        asks=(ask(BRIDGED_OUTPUT, load_ohm=8, min_channel_ohm=least),),
        result="min_bridged_ohm",
        unit="Ω",
        slips=(
            Slip(least, "that is the limit of one channel: each would see half of it"),
            Slip(least / 2, "you halved it: the pair needs twice the limit of one channel"),
            Slip(least * 4, "that is safe, but not the lowest: twice the limit is enough"),
        ),
        work=(f"2 × {q(least, 'Ω')} = {q(2 * least, 'Ω')}.",),
        is_shown=False,
    )


def _power(ratings: tuple[int, int], load: int, words: str, *more: Slip) -> Figure:
    """Ask for the power of a bridged pair.

    more : mistakes besides the usual ones
    """
    four, two = ratings
    return Figure(
        question=f"{words} How much power does the sub get?",
        asks=(bridged(ratings, load),),
        result="bridged_power_w",
        unit="W",
        slips=(
            Slip(rating_at(ratings, load), ONE_CHANNEL),
            Slip(2 * (four + two) - 2 * rating_at(ratings, load), WRONG_RATING),
            Slip(4 * four, STIFF),
            *more,
        ),
    )


def power_of_the_pair(draws: Draws) -> Draft | None:
    """The power of a pair, to be picked."""
    ratings, load, words = _drawn(draws)
    doubled = Slip(4 * ratings[1], "you doubled the pair once more: two channels make twice one")
    return _power(ratings, load, words, doubled)


def which_overloads(draws: Draws) -> Draft | None:
    """The one of four bridged loads that must not be connected."""
    least, loads = draws.pick(
        ((1, (1, 2, 4, 8)), (2, (2, 4, 6, 8)), (4, (4, 8, 12, 16)), (2, (3, 4, 8, 12)))
    )
    asks = tuple(ask(BRIDGED_OUTPUT, load_ohm=load, min_channel_ohm=least) for load in loads)
    options = judged_options(
        tuple(q(load, "Ω") for load in loads),
        tuple(not each.value("allowed") for each in asks),
        tuple(f"each channel sees {q(load / 2, 'Ω')}, which it can run" for load in loads),
    )
    if options is None:
        return None
    wrong = next(load for load, each in zip(loads, asks, strict=True) if not each.value("allowed"))
    return Statement(
        question=f"Channels 3 and 4 are stable to {q(least, 'Ω')} each. Which of these subs must "
        "you not bridge across them?",
        asks=asks,
        options=options,
        work=(
            f"Bridged into {q(wrong, 'Ω')}, each channel sees {q(wrong / 2, 'Ω')}: below "
            f"{q(least, 'Ω')}.",
        ),
        is_shown=False,
    )


def true_of_a_pair(draws: Draws) -> Draft | None:
    """Load and power together: one of four statements is true."""
    ratings, load, words = _drawn(draws)
    asked = bridged(ratings, load)
    half, power = asked.number("channel_load_ohm"), asked.number("bridged_power_w")
    one = rating_at(ratings, load)

    def said(ohm: float, watts: float) -> str:
        return f"Each channel sees {q(ohm, 'Ω')}; the sub gets {q(watts, 'W')}."

    return Statement(
        question=f"{words} Which is true?",
        asks=(asked,),
        options=(
            Option(said(half, power)),
            Option(said(load, power), "each channel sees half the sub’s impedance"),
            Option(said(half, one), ONE_CHANNEL),
            Option(said(load * 2, one), "bridging halves the load and doubles the power"),
        ),
    )


# --- to be worked out


def power_bridged(draws: Draws) -> Draft | None:
    """The power of a bridged pair."""
    return _power(*_drawn(draws))


def volts_across(draws: Draws) -> Draft | None:
    """The voltage across a bridged sub at full power."""
    ratings, load, words = _drawn(draws)
    asked = bridged(ratings, load)
    power = asked.number("bridged_power_w")
    return Figure(
        question=f"{words} What is the AC voltage across the sub at full power?",
        asks=(asked,),
        result="bridged_v",
        unit="V",
        slips=(
            Slip(sqrt(power / 2 * load), "you took the power of one channel, not of the pair"),
            Slip(sqrt(power * load / 2), "you took the load of one channel, not the whole sub"),
            Slip(sqrt(power / load), "that is the current in amperes: V = √(P × R)"),
            Slip(power / load, "that is the current squared: V = √(P × R)"),
        ),
    )


def amperes_in(draws: Draws) -> Draft | None:
    """The current in a bridged sub at full power."""
    ratings, load, words = _drawn(draws)
    asked = bridged(ratings, load)
    power = asked.number("bridged_power_w")
    return Figure(
        question=f"{words} What current flows in the speaker cable at full power?",
        asks=(asked,),
        result="bridged_a",
        unit="A",
        slips=(
            Slip(power / 14.4, "that is power over battery voltage: in the speaker I = √(P ÷ R)"),
            Slip(power / load, "that is the current squared: I = √(P ÷ R)"),
            Slip(sqrt(power / 2 / load), "you took the power of one channel, not of the pair"),
        ),
        closing=(
            f"I = V ÷ R = {q(asked.number('bridged_v'), 'V')} ÷ {q(load, 'Ω')} = "
            f"{q(asked.number('bridged_a'), 'A', 3)}.",
        ),
    )


def on_a_low_supply(draws: Draws) -> Draft | None:
    """What a lower supply leaves of the power."""
    ratings, load, words = _drawn(draws)
    volts = draws.pick((11.5, 12, 12.4, 12.6, 12.8, 13.2))
    full = bridged(ratings, load).number("bridged_power_w")
    asked = ask(
        BRIDGED_OUTPUT, load_ohm=load, power_4ohm_w=ratings[0], power_2ohm_w=ratings[1],
        min_channel_ohm=STABLE_OHM, rated_v=14.4, supply_v=volts, regulated=False,
    )  # fmt: skip
    return Figure(
        question=f"{words} Its ratings hold at {q(14.4, 'V')}, and its supply is not regulated. "
        f"With the engine off the battery gives {q(volts, 'V')}. How much power is left for the "
        "sub?",
        asks=(asked,),
        result="bridged_power_w",
        unit="W",
        slips=(
            Slip(full, "you left the supply out: an unregulated amplifier follows it"),
            Slip(full * volts / 14.4, "power falls with the square of the voltage"),
            Slip(
                full * (14.4 / volts) ** 2, "you turned the ratio round: a lower supply gives less"
            ),
        ),
    )


def _shared_out(
    four: int, two: int, *, rated: tuple[int, int], sensitivity: tuple[int, int]
) -> Ask:
    """Ask what doors on 1 and 2 and a sub on the bridged pair 3 and 4 get."""
    rows = f"full-range,4,{rated[0]},{sensitivity[0]},2;woofer,4,{rated[1]},{sensitivity[1]},1"
    return ask(
        CHANNEL_MAP, sections=rows, settled="1,1/2;2,3+4", channels=4, power_4ohm_w=four,
        power_2ohm_w=two, min_channel_ohm=STABLE_OHM,
    )  # fmt: skip


def louder_by(draws: Draws) -> Draft | None:
    """By how much doors and sub differ at full power."""
    four, two = draws.pick(RATINGS)
    doors, sub = draws.pick((88, 89, 90, 91, 92)), draws.pick((83, 84, 85, 86, 87, 88))
    asked = _shared_out(four, two, rated=(60, 200), sensitivity=(doors, sub))
    trims = [asked.number(f"groupings.0.uses.{at}.trim_db") for at in (0, 1)]
    at = 0 if trims[0] < trims[1] else 1
    louder, quieter = ("door speaker", "sub") if at == 0 else ("sub", "door speaker")
    power, gap = 10 * log10(2 * two / four), doors - sub
    if gap <= 0 or abs(power - gap) < 1:
        return None
    return Figure(
        question=f"{amplifier((four, two))} Door speakers ({q(4, 'Ω')}, "
        f"{q(doors, 'dB')} at 2.83 V and 1 m) are on channels 1 and 2; a {q(4, 'Ω')} sub "
        f"({q(sub, 'dB')}) is on 3 and 4, bridged. All play at full power. By how much must you "
        f"turn the {louder} down to match one {quieter}?",
        asks=(asked,),
        result=f"groupings.0.uses.{at}.trim_db",
        times=-1.0,
        unit="dB",
        slips=(
            Slip(float(gap), "you compared sensitivities only: the sub has more power"),
            Slip(gap + power, "more power makes the sub louder: it closes the gap"),
            Slip(power, "you compared powers only: the sensitivities differ too"),
            Slip(abs(gap - 2 * power), "a ratio of powers takes 10·lg, not 20·lg"),
        ),
        work=(
            f"The sub has {q(2 * two, 'W')}, a door speaker {q(four, 'W')}: "
            f"10·lg({q(2 * two, 'W')} ÷ {q(four, 'W')}) = {q(power, 'dB', 3)} more power, and "
            f"{q(gap, 'dB')} less sensitivity.",
            f"{q(max(power, gap), 'dB', 3)} − {q(min(power, gap), 'dB', 3)} = "
            f"{q(abs(power - gap), 'dB', 3)}: the {louder} is louder.",
        ),
        is_shown=False,
        tolerance=0.03,
    )  # fmt: skip


def share_of_rating(draws: Draws) -> Draft | None:
    """How much of a sub's rating it gets."""
    four, two = draws.pick(RATINGS)
    rated = draws.pick((200, 250, 300, 350, 400, 500))
    asked = _shared_out(four, two, rated=(60, rated), sensitivity=(90, 87))
    return Figure(
        question=f"{amplifier((four, two))} Door speakers are on channels 1 and 2. A {q(4, 'Ω')} "
        f"sub rated {q(rated, 'W')} RMS is bridged on 3 and 4. What share of its rating does the "
        "sub get?",
        asks=(asked,),
        result="groupings.0.uses.1.match",
        times=100.0,
        unit="%",
        slips=(
            Slip(100 * two / rated, ONE_CHANNEL),
            Slip(200 * four / rated, WRONG_RATING),
            Slip(100 * rated / (2 * two), "you turned the share round: power over rating"),
        ),
        work=(
            f"The pair makes 2 × {q(two, 'W')} = {q(2 * two, 'W')}; {q(2 * two, 'W')} ÷ "
            f"{q(rated, 'W')} = {rounded(200 * two / rated, 3)} %.",
        ),
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (
    half_the_load,
    lowest_bridged,
    power_of_the_pair,
    which_overloads,
    true_of_a_pair,
)
CALCULATE: tuple[Template, ...] = (
    power_bridged,
    volts_across,
    amperes_in,
    on_a_low_supply,
    louder_by,
    share_of_rating,
)
PLAN: tuple[Template, ...] = (wire_and_bridge, wire_bridge_and_set, wire_and_share)

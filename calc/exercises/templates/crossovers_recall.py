"""Exercises on crossovers whose answer is picked."""

from calc.answers.figures import quantity as q
from calc.crossovers.filter_response import FILTER_RESPONSE
from calc.crossovers.level_pad import LEVEL_PAD
from calc.exercises.asking import ask
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
from calc.exercises.templates.crossover_plans import common_mark
from calc.exercises.templates.filters import (
    BASS_HZ,
    TREBLE_HZ,
    TYPES,
    filter_words,
    slope,
    summed,
)
from calc.exercises.templates.usual import a


def level_at_crossover(draws: Draws) -> Draft | None:
    """How far a filter is down at its own frequency."""
    family = draws.pick(tuple(TYPES))
    order, kind = draws.pick((2, 4)), draws.pick(("high-pass", "low-pass"))
    hertz = draws.pick((*BASS_HZ, *TREBLE_HZ))
    asked = ask(
        FILTER_RESPONSE, kind=kind, family=family, order=order, frequency_hz=hertz,
        points_hz=hertz,
    )  # fmt: skip
    by_type = {"butterworth": 6.02, "linkwitz-riley": 3.01}[family]
    halved = "half the power" if family == "butterworth" else "half the voltage"
    other = TYPES[next(name for name in TYPES if name != family)]
    return Figure(
        question=f"You set {filter_words(family, order, kind, hertz)}. How far down is it at "
        f"{q(hertz, 'Hz')}?",
        asks=(asked,),
        result="response.0.level_db",
        times=-1.0,
        unit="dB",
        slips=(
            Slip(by_type, f"that is {other}"),
            Slip(6.0 * order, "that is what an octave adds, far below the crossover"),
            Slip(1.0, "a filter has begun to cut well before its frequency"),
            Slip(3 * 6.0 * order, "that is some octaves further on"),
        ),
        work=(f"{TYPES[family]}, at its own frequency: {halved}.",),
    )


def slope_of_order(draws: Draws) -> Draft | None:
    """The slope of an order, or of two filters in a row."""
    order = draws.pick((1, 2, 3, 4))
    hertz = draws.pick((*BASS_HZ, *TREBLE_HZ))
    asked = ask(FILTER_RESPONSE, family="butterworth", order=order, frequency_hz=hertz)
    name = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th"}[order]
    return Figure(
        question=f"A spec sheet calls the high-pass a {name}-order Butterworth at "
        f"{q(hertz, 'Hz')}. How many dB does it cut for each octave below?",
        asks=(asked,),
        result="slope_db_per_octave",
        unit="dB",
        slips=(
            Slip(3.0 * order, "each order gives 6 dB for an octave, not 3 dB"),
            Slip(12.0 * order, "each order gives 6 dB for an octave, not 12 dB"),
            Slip(20.0 * order, "that is for ten times the frequency, not for an octave"),
            Slip(6.0 * order + 6, "that is the next order up"),
        ),
        work=(f"{order} × {q(6, 'dB')} = {q(6 * order, 'dB')}.",),
        is_shown=False,
    )


def two_in_a_row(draws: Draws) -> Draft | None:
    """Two like filters on one speaker, by mistake or on purpose."""
    hertz, order = draws.pick(BASS_HZ), draws.pick((1, 2, 3))
    asked = ask(
        FILTER_RESPONSE, family="butterworth", order=order, frequency_hz=hertz,
        second_frequency_hz=hertz, points_hz=hertz,
    )  # fmt: skip
    return Figure(
        question=f"Head unit and amplifier both have their Butterworth high-pass "
        f"({slope(order)}) on, at {q(hertz, 'Hz')}. How far down are the doors at "
        f"{q(hertz, 'Hz')}?",
        asks=(asked,),
        result="response.0.level_db",
        times=-1.0,
        unit="dB",
        slips=(
            Slip(3.01, "that is one of them: in a row the decibels add"),
            Slip(9.03, "there are two filters, not three"),
            Slip(1.51, "two filters cut more than one, not less"),
            Slip(12.04, "each is down by 3 dB there, not by 6 dB"),
        ),
        work=(
            "Each is 3.01 dB down at its own frequency; in a row the decibels add: "
            f"2 × {q(3.01, 'dB')} = {q(6.02, 'dB')}.",
        ),
        is_shown=False,
    )


def left_of_the_power(draws: Draws) -> Draft | None:
    """What an L-pad leaves for the tweeter."""
    power, loss, ohm = draws.pick((40, 50, 60, 80, 100)), draws.pick((3, 6, 10)), draws.pick((4, 8))
    asked = ask(LEVEL_PAD, ohm=ohm, loss_db=loss, power_w=power)
    k = 10 ** (-loss / 20)
    return Figure(
        question=f"An L-pad takes {q(loss, 'dB')} off {a(ohm, 'Ω')} tweeter. The amplifier puts "
        f"{q(power, 'W')} into both together. About how much is left for the tweeter?",
        asks=(asked,),
        result="speaker_w",
        unit="W",
        slips=(
            Slip(power * k, "that is the ratio of voltages: power goes with its square"),
            Slip(power * (1 - k**2), "that is what the resistors turn into heat"),
            Slip(power * k**4, "you squared once too often"),
            Slip(power / 2, "half the power is 3 dB"),
            Slip(power / 8, "an eighth of the power is 9 dB"),
        ),
        closing=(f"{q(power, 'W')} × k² = {q(asked.number('speaker_w'), 'W', 3)}.",),
    )


def which_polarity(draws: Draws) -> Draft | None:
    """Whether like filters add up, and what to reverse."""
    family, order, hertz = draws.pick(tuple(TYPES)), draws.pick((2, 4)), draws.pick(BASS_HZ)
    asks = tuple(
        summed(family, order, hertz, polarity=polarity) for polarity in ("normal", "reversed")
    )
    levels = [each.value("response.0.level_db") for each in asks]
    level = [-99.0 if each is None else float(each) for each in levels]
    reverse = level[1] > level[0]
    best = max(level)
    said = {
        (True, 0): "Reverse one of them: without that they cancel at the crossover.",
        (False, 0): "Leave both as they are: reversed, they cancel at the crossover.",
        (True, 1): "Reverse both: then they add up at the crossover.",
        (False, 1): "Polarity makes no difference: two filters at one frequency always add up.",
    }
    return Statement(
        question=f"The sub has {filter_words(family, order, 'low-pass', hertz)}, the doors a "
        "high-pass of the same type, slope and frequency. By the filters alone, which is right?",
        asks=asks,
        options=tuple(
            Option(
                words,
                ""
                if key == (reverse, 0)
                else "turning both round changes nothing between them"
                if key == (True, 1)
                else f"at {slope(order)} the two are "
                f"{'half a turn' if reverse else 'a whole turn'} apart at the crossover",
            )
            for key, words in said.items()
        ),
        work=(
            f"{slope(order)} low-pass and high-pass are {order * 90}° apart: "
            f"{'half a turn, so one is reversed' if reverse else 'in phase again'}; they then sum "
            f"to {q(round(best, 1) + 0.0, 'dB')}.",
        ),
        is_shown=False,
    )


def what_protects(draws: Draws) -> Draft | None:
    """Which setting protects doors and suits the sub, to be picked."""
    drawn = common_mark(draws)
    if not isinstance(drawn, Figure):
        return None
    figures = [(drawn.value, ""), *((slip.value, slip.mistake) for slip in drawn.slips)]
    options = judged_options(
        tuple(q(value, "Hz") for value, _ in figures),
        tuple(not mistake for _, mistake in figures),
        tuple(mistake for _, mistake in figures),
    )
    if options is None:
        return None
    return Statement(
        question=drawn.question,
        asks=drawn.asks,
        options=options,
        work=drawn.work,
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (
    level_at_crossover,
    slope_of_order,
    two_in_a_row,
    left_of_the_power,
    which_polarity,
    what_protects,
)

"""Exercises on set-up: signal, gain, tones, boost, turn-on."""

from math import log10, sqrt

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip, Template
from calc.exercises.draws import Draws
from calc.exercises.templates.set_up_recall import RECALL, volts_slips
from calc.exercises.templates.usual import RATINGS, a, amplifier, bridged
from calc.exercises.templates.wired import wire_bridge_and_set
from calc.setup.boost_cost import BOOST_COST
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.test_tone import TEST_TONE
from calc.setup.turn_on import TURN_ON

_OUTPUTS = (
    (45, 4), (50, 4), (60, 4), (65, 4), (75, 4), (80, 4), (100, 4), (90, 2), (120, 2), (150, 4),
    (160, 2), (200, 4), (240, 4), (300, 4),
)  # fmt: skip
_BY_POWER = "a ratio of voltages takes 20·lg, not 10·lg"


def gain_target(draws: Draws) -> Draft | None:
    """The meter's reading at full scale."""
    power, load = draws.pick(_OUTPUTS)
    return Figure(
        question=f"An output makes {q(power, 'W')} into {q(load, 'Ω')}. Speakers off, tone at "
        "0 dBFS, boost off: at which reading of the meter do you stop turning up the gain?",
        asks=(ask(GAIN_VOLTAGE, power_w=power, load_ohm=load, tone_dbfs=0, boost_db=0),),
        result="target_v",
        unit="V",
        slips=volts_slips(power, load),
    )


def gain_with_a_tone(draws: Draws) -> Draft | None:
    """The meter's reading with a tone below full scale."""
    (power, load), level = draws.pick(_OUTPUTS), draws.pick((-3, -5, -6, -10, -12))
    volts = sqrt(power * load)
    return Figure(
        question=f"An output makes {q(power, 'W')} into {q(load, 'Ω')}. Speakers off, boost off; "
        f"the tone is recorded at {rounded(level)} dBFS. At which reading of the meter do you stop "
        "turning up the gain?",
        asks=(ask(GAIN_VOLTAGE, power_w=power, load_ohm=load, tone_dbfs=level, boost_db=0),),
        result="target_v",
        unit="V",
        slips=(
            Slip(volts, f"that is for a tone at 0 dBFS: yours is {rounded(-level)} dB lower"),
            Slip(volts * 10 ** (level / 10), _BY_POWER),
            Slip(volts * 10 ** (-level / 20), "a lower tone gives a lower reading"),
        ),
    )


def gain_with_a_boost(draws: Draws) -> Draft | None:
    """The meter's reading that leaves room for a boost."""
    (power, load), boost = draws.pick(_OUTPUTS), draws.pick((3, 4, 6, 9))
    volts = sqrt(power * load)
    asked = ask(GAIN_VOLTAGE, power_w=power, load_ohm=load, tone_hz=50, tone_dbfs=0, boost_db=boost)
    return Figure(
        question=f"An output makes {q(power, 'W')} into {q(load, 'Ω')}. The customer will use "
        f"{q(boost, 'dB')} of bass boost. Speakers off, tone at 0 dBFS, boost still off: at which "
        "reading of the meter do you stop turning up the gain?",
        asks=(asked,),
        result="target_boosted_v",
        unit="V",
        slips=(
            Slip(volts, "that leaves no room: with the boost on it would clip"),
            Slip(volts * 10 ** (-boost / 10), _BY_POWER),
            Slip(volts * 10 ** (boost / 20), "leave room for the boost: turn down, not up"),
        ),
    )


def volts_of_a_radio(draws: Draws) -> Draft | None:
    """What a factory radio puts on its speaker leads."""
    power = draws.pick((12, 15, 16, 18, 20, 22, 25))
    asked = _chained(source_v=None, factory_power_w=power)
    return Figure(
        question=f"A factory radio makes {q(power, 'W')} RMS per channel into {q(4, 'Ω')}. Up to "
        "what voltage comes over its speaker leads?",
        asks=(asked,),
        result="source_v",
        unit="V",
        slips=(
            Slip(power / 4, "V = √(P × R): you divided, and took no root"),
            Slip(sqrt(power / 4), "that is the current: V = √(P × R)"),
            Slip(sqrt(power * 8), "that is the peak: RMS is asked for"),
        ),
    )


def _chained(
    *, source_v: float | None, factory_power_w: float | None = None, most_v: float = 5,
    least_v: float = 0.2,
) -> Ask:  # fmt: skip
    return ask(
        SIGNAL_CHAIN, source_v=source_v, factory_power_w=factory_power_w, factory_ohm=4,
        sensitivity_min_v=least_v, sensitivity_max_v=most_v, high_level_min_v=None,
        high_level_max_v=None,
    )  # fmt: skip


def room_at_the_input(draws: Draws) -> Draft | None:
    """How much the input takes above what comes."""
    source, most = draws.pick((1.5, 2, 2.5, 3, 4)), draws.pick((4, 5, 6, 8))
    if most / source < 1.2:
        return None
    room = 20 * log10(most / source)
    return Figure(
        question=f"The head unit puts out up to {q(source, 'V')}; the amplifier’s RCA input takes "
        f"up to {q(most, 'V')} with the gain fully down. How many decibels of headroom are there?",
        asks=(_chained(source_v=source, most_v=most),),
        result="headroom_db",
        unit="dB",
        slips=(
            Slip(room / 2, _BY_POWER),
            Slip(most / source, "that is the ratio: 20·lg of it is asked for"),
            Slip(float(most - source), "that is volts, not decibels"),
        ),
    )


def tone_in_per_cent(draws: Draws) -> Draft | None:
    """The share of the full voltage that a tone has."""
    level, hertz = draws.pick((-3, -4, -5, -6, -8, -10, -12, -15)), draws.pick((50, 100, 315))
    share = 100 * 10 ** (level / 20)
    return Figure(
        question=f"A test tone of {q(hertz, 'Hz')} is recorded at {rounded(level)} dBFS. What "
        "share of the full voltage does it have?",
        asks=(ask(TEST_TONE, frequency_hz=hertz, tone_dbfs=level),),
        result="peak",
        times=100.0,
        unit="%",
        slips=(
            Slip(share**2 / 100, "that is its share of the power: 20·lg is for voltages"),
            Slip(100 - share, "that is what is missing"),
            Slip(100.0 + 5 * level, "decibels are no per cent"),
        ),
        work=(f"10^({rounded(level)} ÷ 20) = {rounded(share / 100, 3)}: {rounded(share, 3)} %.",),
        is_shown=False,
    )


def asked_by_a_boost(draws: Draws) -> Draft | None:
    """The power that a boost asks for, or what it leaves elsewhere."""
    power, boost = draws.pick((75, 90, 120, 150, 180, 200, 240)), draws.pick((3, 4, 6, 9))
    asked = ask(BOOST_COST, boost_db=boost, frequency_hz=45, power_w=power, load_ohm=4)
    if draws.pick((True, False)):
        return Figure(
            question=f"An amplifier plays at its {q(power, 'W')} without clipping. Somebody turns "
            f"a bass boost of {q(boost, 'dB')} on. How much power would it need at the boost’s "
            "frequency?",
            asks=(asked,),
            result="asked_w",
            unit="W",
            slips=(
                Slip(power * 10 ** (boost / 20), "that is the voltage’s ratio: power takes 10·lg"),
                Slip(float(power * boost), "decibels are no multiple"),
                Slip(float(power + boost), "decibels multiply, they do not add watts"),
            ),
            work=(f"{q(power, 'W')} × 10^({boost} ÷ 10) = {q(asked.number('asked_w'), 'W', 3)}.",),
            is_shown=False,
        )
    return Figure(
        question=f"A {q(power, 'W')} amplifier has a bass boost of {q(boost, 'dB')} on, and you "
        "turn everything down so far that it does not clip. How much power is left for the other "
        "frequencies?",
        asks=(asked,),
        result="elsewhere_w",
        unit="W",
        slips=(
            Slip(power * 10 ** (-boost / 20), "that is the voltage’s ratio: power takes 10·lg"),
            Slip(power / boost, "decibels are no divisor"),
            Slip(float(power), "all of it was turned down, not the bass alone"),
        ),
        work=(
            f"Everything is {q(boost, 'dB')} lower: {q(power, 'W')} ÷ 10^({boost} ÷ 10) = "
            f"{q(asked.number('elsewhere_w'), 'W', 3)}.",
        ),
        is_shown=False,
    )


def taken_while_parked(draws: Draws) -> Draft | None:
    """What a parked amplifier takes from the battery."""
    amperes, days = draws.pick((0.02, 0.03, 0.05, 0.08, 0.1)), draws.pick((3, 5, 7, 10, 14))
    battery, in_share = draws.pick((50, 60, 70, 80)), draws.pick((True, False))
    asked = ask(TURN_ON, quiescent_a=amperes, parked_days=days, battery_ah=battery)
    charge = asked.number("drain_ah")
    many = 100 / battery if in_share else 1.0
    what = (
        f"What share of its {q(battery, 'Ah')} battery is gone?"
        if in_share
        else "How much charge does that take from the battery?"
    )
    return Figure(
        question=f"Turned off, an amplifier still draws {q(amperes, 'A')}. The car is parked for "
        f"{days} days. {what}",
        asks=(asked,),
        result="drain_percent" if in_share else "drain_ah",
        unit="%" if in_share else "Ah",
        slips=(
            Slip(many * charge / 24, "a day has 24 hours"),
            Slip(many * charge / 2, "it draws by day and by night"),
            Slip(many * charge / days, "that is one day"),
        ),
    )


# --- several steps


def radio_to_converter(draws: Draws) -> Draft | None:
    """The radio's voltage, then what a line-output converter must take off."""
    power, most = draws.pick((15, 16, 18, 20, 22, 25)), draws.pick((2, 3, 4, 5))
    asked = _chained(source_v=None, factory_power_w=power, most_v=most)
    lower = asked.number("divider_db")
    source = asked.number("source_v")
    return Figure(
        question=f"A factory radio makes {q(power, 'W')} RMS per channel into {q(4, 'Ω')} and has "
        "speaker leads only. The amplifier has RCA inputs that take at most "
        f"{q(most, 'V')}. By how many decibels must a line-output converter lower the signal?",
        asks=(asked,),
        result="divider_db",
        unit="dB",
        slips=(
            Slip(lower / 2, _BY_POWER),
            Slip(source - most, "that is volts, not decibels"),
            Slip(source / most, "that is the ratio: 20·lg of it is asked for"),
        ),
        tolerance=0.03,
    )


def boost_on_a_pair(draws: Draws) -> Draft | None:
    """The bridged power, then the gain with a tone and a boost."""
    ratings, load = draws.pick(RATINGS), draws.pick((4, 8))
    boost, level = draws.pick((3, 6)), draws.pick((-5, -10))
    pair = bridged(ratings, load)
    power = pair.number("bridged_power_w")
    volts = sqrt(power * load)
    asked = ask(
        GAIN_VOLTAGE, power_w=power, load_ohm=load, bridged=True, tone_hz=50, tone_dbfs=level,
        boost_db=boost,
    )  # fmt: skip
    return Figure(
        question=f"{amplifier(ratings)} Channels 3 and 4 are bridged into {a(load, 'Ω')} sub; the "
        f"customer will use {q(boost, 'dB')} of bass boost. The tone is recorded at "
        f"{rounded(level)} dBFS, the boost is still off. At which reading across the bridged "
        "terminals do you stop turning up the gain?",
        asks=(pair, asked),
        result="target_boosted_v",
        unit="V",
        slips=(
            Slip(volts * 10 ** (level / 20), "that leaves no room for the boost"),
            Slip(volts * 10 ** (-boost / 20), "the tone is below full scale, too"),
            Slip(volts * 10 ** ((level - boost) / 10), _BY_POWER),
            Slip(sqrt(power / 2 * load) * 10 ** ((level - boost) / 20), "you took one channel"),
            Slip(volts * 10 ** ((level + boost) / 20), "leave room for the boost: turn down"),
        ),
    )


CALCULATE: tuple[Template, ...] = (
    gain_target,
    gain_with_a_tone,
    gain_with_a_boost,
    volts_of_a_radio,
    room_at_the_input,
    tone_in_per_cent,
    asked_by_a_boost,
    taken_while_parked,
)
PLAN: tuple[Template, ...] = (radio_to_converter, boost_on_a_pair, wire_bridge_and_set)

__all__ = ("CALCULATE", "PLAN", "RECALL")

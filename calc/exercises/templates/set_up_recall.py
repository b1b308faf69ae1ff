"""Exercises on set-up whose answer is picked."""

from math import sqrt

from calc.answers.figures import quantity as q
from calc.answers.figures import rounded
from calc.exercises.asking import ask
from calc.exercises.drafts import (
    Draft,
    Figure,
    Slip,
    Statement,
    Template,
    judged_options,
)
from calc.exercises.draws import Draws
from calc.setup.boost_cost import BOOST_COST
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.test_tone import TEST_TONE
from calc.setup.turn_on import TURN_ON


def power_of_a_boost(draws: Draws) -> Draft | None:
    """How many times the power a boost takes."""
    boost, hertz = draws.pick((3, 4, 6, 8, 9, 10, 12)), draws.pick((40, 45, 50))
    return Figure(
        question=f"A bass boost of {q(boost, 'dB')} at {q(hertz, 'Hz')} is on. How many times the "
        "power does the amplifier need there?",
        asks=(ask(BOOST_COST, boost_db=boost, frequency_hz=hertz, power_w=100),),
        result="power_ratio",
        unit="times",
        slips=(
            Slip(10 ** (boost / 20), "that is the voltage: power goes with its square"),
            Slip(float(boost), "decibels are no multiple: 10 dB are ten times, 3 dB are double"),
            Slip(10 ** (boost / 5), "you squared once too often"),
            Slip(1 + boost / 10, "decibels multiply, they do not add up"),
            Slip(10 ** ((boost + 3) / 10), "that is 3 dB more"),
        ),
        work=(f"10^({rounded(boost)} ÷ 10) = {rounded(10 ** (boost / 10), 3)}.",),
        is_shown=False,
    )


def share_of_a_tone(draws: Draws) -> Draft | None:
    """The voltage of a test tone below full scale."""
    level, hertz = draws.pick((-3, -5, -6, -10, -12, -20)), draws.pick((50, 100, 315, 1000))
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
            Slip(100.0 + 5 * level, "decibels are no per cent"),
            Slip(sqrt(share * 100), "you took the root once too often"),
            Slip(100 - share, "that is what is missing"),
        ),
        work=(f"10^({rounded(level)} ÷ 20) = {rounded(share / 100, 3)}: {rounded(share, 3)} %.",),
        is_shown=False,
    )


def volts_slips(power: float, load: float) -> tuple[Slip, ...]:
    """Return the usual mistakes in the volts of a power into a load."""
    return (
        Slip(power / load, "V = √(P × R): you divided, and took no root"),
        Slip(sqrt(power / load), "that is the current: V = √(P × R)"),
        Slip(sqrt(power * load) * sqrt(2), "that is the peak: a meter shows RMS"),
    )


def meter_of_a_power(draws: Draws) -> Draft | None:
    """The meter's reading for a power, to be picked."""
    power, load = draws.pick(((50, 4), (60, 4), (75, 4), (100, 4), (100, 2), (150, 4), (200, 2)))
    volts = sqrt(power * load)
    return Figure(
        question=f"An output makes {q(power, 'W')} into {q(load, 'Ω')}. Speakers off, tone at "
        "0 dBFS: at which reading of the meter do you stop turning up the gain?",
        asks=(ask(GAIN_VOLTAGE, power_w=power, load_ohm=load, tone_dbfs=0, boost_db=0),),
        result="target_v",
        unit="V",
        slips=(
            *volts_slips(power, load),
            Slip(volts / sqrt(2), "that is half the power"),
            Slip(power / 14.4, "that is the current from the battery, at best"),
        ),
    )


_WAYS = ("remote turn-on lead", "signal-sensing turn-on", "voltage-sensing turn-on")
_MODES = ("trigger", "signal-sensing", "supply-sensing")


def how_it_turns_on(draws: Draws) -> Draft | None:
    """The way of turning on that works without an added relay."""
    has_remote, over_speakers = draws.pick((True, False)), draws.pick((True, False))
    senses_signal, senses_supply = draws.pick((True, False)), draws.pick((True, False))
    asked = ask(
        TURN_ON, trigger_available=has_remote, speaker_level_signal=over_speakers,
        supply_always_live=True, stop_start=False, push_button=False, amp_trigger=True,
        amp_signal_sensing=senses_signal, amp_supply_sensing=senses_supply,
    )  # fmt: skip
    works = {each["mode"]: each["works"] == "yes" for each in asked.value("modes")}
    right = [works[mode] for mode in _MODES]
    options = judged_options(
        tuple(each.capitalize() for each in (*_WAYS, "none of these: it needs a relay")),
        (*right, not any(right)),
        (
            "the head unit has no remote turn-on lead",
            "there is no signal on speaker leads that this amplifier senses",
            "this amplifier senses no supply voltage",
            "one of these works without a relay",
        ),
    )
    if options is None:
        return None
    lead = "a remote turn-on lead" if has_remote else "no remote turn-on lead"
    signal = "from the speaker leads" if over_speakers else "from its RCA outputs"
    senses = [
        f"{'senses' if does else 'does not sense'} {what}"
        for does, what in (
            (senses_signal, "a signal at its speaker-level inputs"),
            (senses_supply, "the running engine’s voltage"),
        )
    ]
    return Statement(
        question=f"The head unit has {lead}; the signal comes {signal}. The amplifier has a remote "
        f"(REM) terminal, {senses[0]} and {senses[1]}. Its supply is always live. Which way of "
        "turning it on works as it is?",
        asks=(asked,),
        options=options,
        work=tuple(str(each["why"]) for each in asked.value("modes") if each["mode"] in _MODES),
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (
    power_of_a_boost,
    share_of_a_tone,
    meter_of_a_power,
    how_it_turns_on,
)

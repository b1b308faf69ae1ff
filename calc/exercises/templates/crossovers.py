"""Exercises on crossovers."""

from math import pi

from calc.answers.figures import capital
from calc.answers.figures import quantity as q
from calc.crossovers.arrival_delay import ARRIVAL_DELAY
from calc.crossovers.filter_response import FILTER_RESPONSE
from calc.crossovers.level_pad import LEVEL_PAD
from calc.crossovers.passive_network import PASSIVE_NETWORK
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip, Template
from calc.exercises.draws import Draws
from calc.exercises.templates.crossover_plans import (
    cancelled_by_distance,
    capacitor_behind_a_pad,
    common_mark,
    corner_from_stock,
)
from calc.exercises.templates.crossovers_recall import RECALL
from calc.exercises.templates.filters import BASS_HZ, TREBLE_HZ, filter_words, summed
from calc.exercises.templates.usual import a


def octaves_away(draws: Draws) -> Draft | None:
    """How far a filter is down an octave or two away."""
    order, octaves = draws.pick((2, 3, 4)), draws.pick((1, 2))
    kind, hertz = draws.pick(("high-pass", "low-pass")), draws.pick((*BASS_HZ, *TREBLE_HZ))
    at = hertz / 2**octaves if kind == "high-pass" else hertz * 2**octaves
    asked = ask(
        FILTER_RESPONSE, kind=kind, family="butterworth", order=order, frequency_hz=hertz,
        points_hz=at,
    )  # fmt: skip
    way = "below" if kind == "high-pass" else "above"
    text = "one octave" if octaves == 1 else "two octaves"
    return Figure(
        question=f"You set {filter_words('butterworth', order, kind, hertz)}. About how many "
        f"decibels down is it at {q(at, 'Hz')}?",
        asks=(asked,),
        result="response.0.level_db",
        times=-1.0,
        unit="dB",
        slips=(
            Slip(3.01, "that is at the crossover frequency itself"),
            Slip(6.02 * order * (3 - octaves), f"{q(at, 'Hz')} is {text} away"),
            Slip(3.01 * order * octaves, "each order gives 6 dB for an octave, not 3 dB"),
            Slip(12.04 * order * octaves, "each order gives 6 dB, not 12 dB, for an octave"),
        ),
        work=(
            f"{text.capitalize()} {way}: {octaves} × {q(6 * order, 'dB')} = "
            f"{q(6 * order * octaves, 'dB')}; by the exact curve "
            f"{q(-asked.number('response.0.level_db'), 'dB', 3)}.",
        ),
        is_shown=False,
        tolerance=0.04,
    )  # fmt: skip


def turned_by_delay(draws: Draws) -> Draft | None:
    """The phase that a delay makes at the crossover."""
    hertz, late = draws.pick(BASS_HZ), draws.pick((0.5, 0.6, 0.8, 1, 1.2, 1.5, 2, 2.5, 3))
    turned = 360 * hertz * late / 1000
    if turned > 175:
        return None
    asked = summed("linkwitz-riley", 4, hertz, late_ms=late)
    return Figure(
        question=f"Sub and doors cross at {q(hertz, 'Hz')}, Linkwitz–Riley, 24 dB/oct each, which "
        f"leaves them in phase. The doors arrive {q(late, 'ms')} late. How many degrees apart are "
        f"they at {q(hertz, 'Hz')}?",
        asks=(asked,),
        result="response.0.phase_difference_deg",
        unit="°",
        slips=(
            Slip(turned / 2, "a whole wave is 360°, not 180°"),
            Slip(turned / 4, "a whole wave is 360°, not 90°"),
            Slip(late * hertz / 10, "that is the share of a wave in per cent: times 3.6"),
        ),
        work=(
            f"A wave takes 1 ÷ {q(hertz, 'Hz')} = {q(1000 / hertz, 'ms')}; {q(late, 'ms')} ÷ "
            f"{q(1000 / hertz, 'ms')} × 360° = {q(turned, '°', 3)}.",
        ),
        is_shown=False,
    )


def _one_part(side: str, hertz: float, ohm: float) -> Ask:
    """Ask for the one part of a first-order passive crossover."""
    return ask(
        PASSIVE_NETWORK, side=side, family="butterworth", order=1, frequency_hz=hertz,
        ohm=ohm, power_w=None,
    )  # fmt: skip


def tweeter_capacitor(draws: Draws) -> Draft | None:
    """The capacitor of a first-order high-pass."""
    hertz, ohm = draws.pick((3000, 3500, 4000, 5000, 6000)), draws.pick((4, 6, 8))
    asked = _one_part("high-pass", hertz, ohm)
    exact = asked.number("components.0.exact") * 1e6
    other = 4 if ohm == 8 else 8
    return Figure(
        question=f"{capital(a(ohm, 'Ω'))} tweeter gets a series capacitor only (6 dB/oct), to "
        f"cross at {q(hertz, 'Hz')}. Exactly what value does the capacitor need?",
        asks=(asked,),
        result="components.0.exact",
        times=1e6,
        unit="µF",
        slips=(
            Slip(exact * 2, "you left out the 2 of 2π"),
            Slip(exact * 2 * pi, "you left out 2π: C = 1 ÷ (2π × f × R)"),
            Slip(exact * ohm / other, f"you took {q(other, 'Ω')} for {q(ohm, 'Ω')}"),
            Slip(exact * ohm**2, "you multiplied by R: it stands below the line"),
        ),
    )


def sub_inductor(draws: Draws) -> Draft | None:
    """The inductor of a first-order low-pass."""
    hertz, ohm = draws.pick((100, 120, 150, 200, 250, 500, 3000, 3500)), draws.pick((4, 6, 8))
    asked = _one_part("low-pass", hertz, ohm)
    exact = asked.number("components.0.exact") * 1e3
    other = 4 if ohm == 8 else 8
    return Figure(
        question=f"{capital(a(ohm, 'Ω'))} speaker gets a series inductor only (6 dB/oct), to cut "
        f"above {q(hertz, 'Hz')}. Exactly what value does the inductor need?",
        asks=(asked,),
        result="components.0.exact",
        times=1e3,
        unit="mH",
        slips=(
            Slip(exact * 2, "you left out the 2 of 2π"),
            Slip(exact * 2 * pi, "you left out 2π: L = R ÷ (2π × f)"),
            Slip(exact * other / ohm, f"you took {q(other, 'Ω')} for {q(ohm, 'Ω')}"),
            Slip(exact / ohm**2, "you divided by R: it stands above the line"),
        ),
    )


def pad_resistor(draws: Draws) -> Draft | None:
    """A resistor of an L-pad."""
    ohm, loss = draws.pick((4, 6, 8)), draws.pick((1.5, 2, 3, 4, 5, 6))
    place = draws.pick(("series", "shunt"))
    asked = ask(LEVEL_PAD, ohm=ohm, loss_db=loss, power_w=50)
    series, shunt = asked.number("series_ohm"), asked.number("shunt_ohm")
    k = 10 ** (-loss / 10)
    by_power = ohm * (1 - k) if place == "series" else ohm * k / (1 - k)
    where = "in series with the tweeter" if place == "series" else "across the tweeter"
    return Figure(
        question=f"An L-pad is to take {q(loss, 'dB')} off {a(ohm, 'Ω')} tweeter, and the "
        f"amplifier is still to see {q(ohm, 'Ω')}. Exactly what value does the "
        f"resistor {where} need?",
        asks=(asked,),
        result=f"{place}_ohm",
        unit="Ω",
        slips=(
            Slip(shunt if place == "series" else series,
                 f"that is the one {'across the tweeter' if place == 'series' else 'in series'}"),
            Slip(by_power, "you took 10·lg: a ratio of voltages takes 20·lg"),
            Slip(ohm, "the pad and the tweeter together make that, not one resistor"),
        ),
    )  # fmt: skip


def delay_of_the_nearest(draws: Draws) -> Draft | None:
    """The delay of the nearest speaker."""
    near = draws.pick((0.7, 0.8, 0.9, 1, 1.1))
    middle = round(near + draws.pick((0.3, 0.4, 0.5, 0.6)), 1)
    far = round(middle + draws.pick((0.5, 0.6, 0.8, 1, 1.2)), 1)
    asked = ask(
        ARRIVAL_DELAY,
        sections=f"left door,{near};right door,{middle};sub,{far}",
        air_c=20,
    )
    speed = asked.number("sound_speed")
    at = draws.pick((0, 1))
    name, own, other = (("left", near, middle), ("right", middle, near))[at]
    return Figure(
        question=f"The left door is {q(near, 'm')} from the driver’s head, the right door "
        f"{q(middle, 'm')}, the sub {q(far, 'm')}. Sound covers {q(speed, 'm')} in a second. Which "
        f"delay does the {name} door need, to arrive with the sub?",
        asks=(asked,),
        result=f"sections.{at}.delay_ms",
        unit="ms",
        slips=(
            Slip(1000 * own / speed, "that is its own time on the way: take the difference"),
            Slip(1000 * far / speed, "that is the sub’s time on the way: take the difference"),
            Slip(1000 * (far - other) / speed, "that is the other door’s delay"),
            Slip(1000 * (middle - near) / speed, "that is between the doors: the sub is farthest"),
        ),
        closing=(
            f"({q(far, 'm')} − {q(own, 'm')}) ÷ {q(speed, 'm/s')} = "
            f"{q(1000 * (far - own) / speed, 'ms')}.",
        ),
    )


__all__ = ("CALCULATE", "PLAN", "RECALL")

CALCULATE: tuple[Template, ...] = (
    octaves_away,
    turned_by_delay,
    tweeter_capacitor,
    sub_inductor,
    pad_resistor,
    delay_of_the_nearest,
    common_mark,
)
PLAN: tuple[Template, ...] = (
    corner_from_stock,
    cancelled_by_distance,
    capacitor_behind_a_pad,
)

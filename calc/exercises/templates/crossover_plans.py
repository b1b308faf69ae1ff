"""Exercises on crossovers in several steps, and on the marks of dials."""

from math import pi

from calc.answers.figures import capital, rounded
from calc.answers.figures import quantity as q
from calc.crossovers.arrival_delay import ARRIVAL_DELAY
from calc.crossovers.crossover_sum import CROSSOVER_SUM
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.crossovers.level_pad import LEVEL_PAD
from calc.crossovers.passive_network import PASSIVE_NETWORK
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip
from calc.exercises.draws import Draws
from calc.exercises.templates.usual import a


def corner_from_stock(draws: Draws) -> Draft | None:
    """Exact part, part in stock, and where the crossover then is."""
    hertz, ohm = draws.pick((2800, 3000, 3200, 3500, 4000, 4500, 5000)), draws.pick((4, 6, 8))
    series = draws.pick(("E6", "E12"))
    asked = ask(
        PASSIVE_NETWORK, side="high-pass", family="butterworth", order=1, frequency_hz=hertz,
        ohm=ohm, series=series, power_w=None,
    )  # fmt: skip
    exact = asked.number("components.0.exact") * 1e6
    stock = asked.number("components.0.preferred") * 1e6
    corner = asked.number("corner_hz")
    if abs(corner / hertz - 1) < 0.03:
        return None
    drawer = {
        "E6": "1, 1.5, 2.2, 3.3, 4.7 and 6.8",
        "E12": "1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8 and 8.2",
    }[series]
    return Figure(
        question=f"{capital(a(ohm, 'Ω'))} tweeter is to get a series capacitor only (6 dB/oct), "
        f"for {q(hertz, 'Hz')}. Your drawer has {drawer} µF, and ten times these ({series}); you "
        "take the nearest. At which frequency does the tweeter then really cross?",
        asks=(asked,),
        result="corner_hz",
        unit="Hz",
        slips=(
            Slip(float(hertz), "that is with the exact capacitor: work it out again with yours"),
            Slip(hertz * stock / exact, "a larger capacitor lowers the frequency, not the reverse"),
            Slip(corner * 2, "you left out the 2 of 2π"),
        ),
        work=(
            f"Exact: 1 ÷ (2π × {q(hertz, 'Hz')} × {q(ohm, 'Ω')}) = {q(exact, 'µF')}; the nearest "
            f"in the drawer is {q(stock, 'µF')}.",
            f"1 ÷ (2π × {q(stock, 'µF')} × {q(ohm, 'Ω')}) = {q(corner, 'Hz')}.",
        ),
        is_shown=False,
        tolerance=0.01,
    )


def cancelled_by_distance(draws: Draws) -> Draft | None:
    """Distances, then the time between them, then the phase at the crossover."""
    hertz = draws.pick((60, 70, 80, 90, 100))
    near = draws.pick((0.9, 1, 1.1, 1.2, 1.3))
    far = round(near + draws.pick((0.5, 0.6, 0.8, 0.9, 1, 1.2)), 1)
    timed = ask(ARRIVAL_DELAY, sections=f"doors,{near};sub,{far}", air_c=20)
    late, speed = timed.number("sections.0.delay_ms"), timed.number("sound_speed")
    asked = ask(
        CROSSOVER_SUM, tells="nothing", low_family="linkwitz-riley", low_order=4,
        low_frequency_hz=hertz, low_delay_ms=late, high_family="linkwitz-riley", high_order=4,
        high_frequency_hz=hertz, high_polarity="normal", points_hz=hertz,
    )  # fmt: skip
    turned = 360 * hertz * late / 1000
    if turned > 170:
        return None
    return Figure(
        question=f"Sub and doors cross at {q(hertz, 'Hz')}, Linkwitz–Riley, 24 dB/oct each, which "
        f"leaves them in phase. The doors are {q(near, 'm')} from the driver’s head, the sub "
        f"{q(far, 'm')}, and no time alignment is set. Sound covers {q(speed, 'm')} in a second. "
        f"How many degrees apart are they at {q(hertz, 'Hz')}?",
        asks=(timed, asked),
        result="response.0.phase_difference_deg",
        times=-1.0,
        unit="°",
        slips=(
            Slip(turned / 2, "a whole wave is 360°, not 180°"),
            Slip(turned * far / (far - near), "take the difference of the two distances"),
            Slip(turned / 3.6, "that is the share of a wave in per cent: times 3.6"),
        ),
        closing=(
            f"A wave takes 1 ÷ {q(hertz, 'Hz')} = {q(1000 / hertz, 'ms')}; {q(late, 'ms')} ÷ "
            f"{q(1000 / hertz, 'ms')} × 360° = {q(turned, '°', 3)}.",
        ),
        tolerance=0.03,
    )


def capacitor_behind_a_pad(draws: Draws) -> Draft | None:
    """An L-pad, what the capacitor then sees, and its value."""
    hertz, ohm = draws.pick((3000, 3500, 4000, 5000)), draws.pick((4, 6, 8))
    loss = draws.pick((2, 3, 4, 6))
    pad = ask(LEVEL_PAD, ohm=ohm, loss_db=loss, power_w=50)
    series = pad.number("series_ohm")
    asked = ask(
        PASSIVE_NETWORK, side="high-pass", family="butterworth", order=1, frequency_hz=hertz,
        ohm=ohm, pad_db=loss, power_w=None,
    )  # fmt: skip
    exact = asked.number("components.0.exact") * 1e6
    return Figure(
        question=f"{capital(a(ohm, 'Ω'))} tweeter gets an L-pad of {q(loss, 'dB')} that keeps "
        f"its {q(ohm, 'Ω')}, and before the pad a series capacitor only (6 dB/oct), for "
        f"{q(hertz, 'Hz')}. Exactly what value does the capacitor need?",
        asks=(asked,),
        result="components.0.exact",
        times=1e6,
        unit="µF",
        slips=(
            Slip(exact * ohm / (ohm + series), "pad and tweeter together are still the tweeter’s "
                 "impedance: do not add the resistor"),
            Slip(exact * 2, "you left out the 2 of 2π"),
            Slip(exact * 2 * pi, "you left out 2π: C = 1 ÷ (2π × f × R)"),
        ),
        work=(
            f"The pad has {q(series, 'Ω')} in series and {q(pad.number('shunt_ohm'), 'Ω')} across "
            f"the tweeter: together {q(ohm, 'Ω')} again.",
        ),
    )  # fmt: skip


def common_mark(draws: Draws) -> Draft | None:
    """The mark of a dial that suits both the doors’ high-pass and the sub’s low-pass."""
    lowest, top, marks = draws.pick(
        (
            (70, 100, (40, 63, 80, 160)),
            (60, 90, (40, 50, 80, 120)),
            (80, 130, (50, 63, 100, 200)),
            (90, 140, (60, 80, 120, 200)),
            (65, 95, (40, 80, 120, 160)),
            (100, 150, (50, 80, 125, 250)),
        )
    )
    asks = tuple(_split_at(mark, lowest, top) for mark in marks)
    complete = [each.value("complete") for each in asks]
    if sum(complete) != 1:
        return None
    right = complete.index(True)
    return Figure(
        question=f"The doors are safe from {q(lowest, 'Hz')} on at 12 dB/oct; the sub plays well "
        f"up to {q(top, 'Hz')}. The amplifier’s dials have the marks "
        f"{', '.join(rounded(mark) for mark in marks[:-1])} and {q(marks[-1], 'Hz')}. To which "
        "mark do you set both, the doors’ high-pass and the sub’s low-pass?",
        asks=(asks[right],),
        result="settings.amplifier.0.frequency_hz",
        unit="Hz",
        slips=tuple(
            Slip(mark, "the doors would get bass that harms them")
            if mark < lowest
            else Slip(mark, "the sub would play higher than it can: it is not made for that")
            for mark in marks
            if mark != marks[right]
        ),
        work=(
            f"At least {q(lowest, 'Hz')} for the doors, at most {q(top, 'Hz')} for the sub: "
            f"{q(marks[right], 'Hz')}.",
        ),
        is_shown=False,
    )


def _split_at(mark: int, lowest: int, top: int) -> Ask:
    return ask(
        FILTER_SPLIT,
        sections=f"full-range,1/2,{lowest},2,,,0;woofer,3+4,,2,{top},,0",
        head_unit=None,
        passive=None,
        amplifier=f"1/2,high-pass,{mark},1,butterworth,2,,no;3/4,low-pass,{mark},1,butterworth,2,,no",
    )

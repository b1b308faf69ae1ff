"""Exercises on wiring voice coils."""

from dataclasses import dataclass

from calc.answers.figures import capital, rounded
from calc.answers.figures import quantity as q
from calc.coils.coil_wiring import COIL_WIRING
from calc.coils.meter_check import METER_CHECK
from calc.exercises.asking import Ask, ask
from calc.exercises.drafts import Draft, Figure, Slip, Statement, Template, judged_options
from calc.exercises.draws import Draws
from calc.exercises.templates.usual import NUMBERS, Subs, a, right_path
from calc.exercises.templates.wired import (
    wired_and_metered,
    wired_for_a_pair,
    wired_powered_shared,
)

_LOWEST_OHM = 0.25  # every wiring is asked for, whatever an output takes
_LOWEST_LOAD_OHM, _HIGHEST_LOAD_OHM = 1, 16  # that somebody wires
_AS_IF_SERIES = "you added in parallel as if in series"
_AS_IF_PARALLEL = "you took series for parallel"


@dataclass(frozen=True)
class Wiring:
    """A way to wire subs: as a calculator writes it, in words, and how it comes to its load."""

    notation: str
    words: str
    is_parallel_only: bool = False
    is_series_only: bool = False


_TWO_COILS = (
    Wiring("1a+1b", "both coils in series", is_series_only=True),
    Wiring("1a|1b", "both coils in parallel", is_parallel_only=True),
)
_FOUR_COILS = (
    Wiring("1a+1b+2a+2b", "all four coils in series", is_series_only=True),
    Wiring("1a|1b|2a|2b", "all four coils in parallel", is_parallel_only=True),
    Wiring("(1a+1b)|(2a+2b)", "each sub’s coils in series, then the subs in parallel"),
)
_TWO_SUBS = (
    Wiring("1a+2a", "the two subs in series", is_series_only=True),
    Wiring("1a|2a", "the two subs in parallel", is_parallel_only=True),
)
_THREE_SUBS = (
    Wiring("1a+2a+3a", "the three subs in series", is_series_only=True),
    Wiring("1a|2a|3a", "the three subs in parallel", is_parallel_only=True),
)
_FOUR_SUBS = (
    Wiring("1a+2a+3a+4a", "all four subs in series", is_series_only=True),
    Wiring("1a|2a|3a|4a", "all four subs in parallel", is_parallel_only=True),
    Wiring("(1a+2a)|(3a+4a)", "two and two in series, then the pairs in parallel"),
)
_WIRINGS: dict[tuple[int, int], tuple[Wiring, ...]] = {
    (1, 2): _TWO_COILS, (2, 2): _FOUR_COILS, (2, 1): _TWO_SUBS, (3, 1): _THREE_SUBS,
    (4, 1): _FOUR_SUBS,
}  # fmt: skip
_OHMS = (2, 4, 8)


def _all_wirings(subs: Subs, *, power_w: float | None = None) -> Ask:
    return ask(
        COIL_WIRING, drivers=subs.count, coils_per_driver=subs.coils, coil_ohm=subs.coil_ohm,
        min_load_ohm=_LOWEST_OHM, power_w=power_w, limit=1000,
    )  # fmt: skip


def _path(asked: Ask, notation: str) -> str:
    """Return the path of a wiring among all of them."""
    every = asked.value("arrangements")
    return f"arrangements.{[each['notation'] for each in every].index(notation)}"


def _drawn(draws: Draws) -> tuple[Subs, Wiring, tuple[Wiring, ...]]:
    count, coils = draws.pick(tuple(_WIRINGS))
    subs = Subs(count, coils, draws.pick(_OHMS))
    wiring = draws.pick(_WIRINGS[count, coils])
    others = tuple(each for each in _WIRINGS[count, coils] if each != wiring)
    return subs, wiring, others


def _mistake(asked_for: Wiring, other: Wiring) -> str:
    """Name the mistake of one who takes a wiring for another."""
    if asked_for.is_parallel_only and other.is_series_only:
        return _AS_IF_SERIES
    if asked_for.is_series_only and other.is_parallel_only:
        return _AS_IF_PARALLEL
    return f"that is {other.words}"


def _work(subs: Subs, wiring: Wiring, load: float) -> tuple[str, ...]:
    """Return the arithmetic of a wiring: equal parts, in series, in parallel, or both."""
    ohm, parts = q(subs.coil_ohm, "Ω"), subs.count * subs.coils
    if wiring.is_series_only:
        return (f"In series the impedances add: {' + '.join([ohm] * parts)} = {q(load, 'Ω')}.",)
    if wiring.is_parallel_only:
        return (f"{NUMBERS[parts].capitalize()} alike in parallel: {ohm} ÷ {parts} = "
                f"{q(load, 'Ω')}.",)  # fmt: skip
    pair = q(2 * subs.coil_ohm, "Ω")
    return (
        f"Each two in series: {ohm} + {ohm} = {pair}.",
        f"Two of these in parallel: {pair} ÷ 2 = {q(load, 'Ω')}.",
    )


def _load_figure(draws: Draws, question: str) -> Draft | None:
    """Return the question for the load of a wiring; `{subs}` and `{wiring}` stand for them."""
    subs, wiring, others = _drawn(draws)
    asked = _all_wirings(subs)
    path, load = _path(asked, wiring.notation), f"{_path(asked, wiring.notation)}.load_ohm"
    slips = [
        Slip(asked.number(f"{_path(asked, other.notation)}.load_ohm"), _mistake(wiring, other))
        for other in others
    ]
    value = asked.number(load)
    if not _LOWEST_LOAD_OHM <= value <= _HIGHEST_LOAD_OHM:
        return None
    slips += [
        Slip(float(subs.coil_ohm), "that is a single coil"),
        Slip(value / 2, "you halved it once too often"),
        Slip(value * 2, "you doubled it once too often"),
        Slip(value * 4, "you left a step out: draw it, and go from the inside outwards"),
    ]
    return Figure(
        question=question.format(subs=subs.words, wiring=wiring.words),
        asks=(asked,),
        result=f"{path}.load_ohm",
        unit="Ω",
        slips=tuple(slips),
        work=_work(subs, wiring, value),
        is_shown=False,
    )


# --- recall


def load_picked(draws: Draws) -> Draft | None:
    """The load of a wiring, to be picked."""
    return _load_figure(draws, "You wire {subs}: {wiring}. Which load does the amplifier see?")


def lowest_of(draws: Draws) -> Draft | None:
    """The wiring with the lowest load."""
    subs = Subs(2, 2, draws.pick(_OHMS))
    asked = _all_wirings(subs)
    mixed = Wiring("(1a|1b)+2a+2b", "one sub’s coils in parallel, the rest in series with them")
    wirings = (*_FOUR_COILS, mixed)
    loads = [asked.number(f"{_path(asked, each.notation)}.load_ohm") for each in wirings]
    is_lowest = draws.pick((True, False))
    wanted = min(loads) if is_lowest else max(loads)
    options = judged_options(
        tuple(each.words.capitalize() for each in wirings),
        tuple(load == wanted for load in loads),
        tuple(f"that comes to {q(load, 'Ω')}" for load in loads),
    )
    if options is None:
        return None
    return Statement(
        question=f"The customer has {subs.words}. Which wiring has the "
        f"{'lowest' if is_lowest else 'highest'} load?",
        asks=(asked,),
        options=options,
        work=tuple(
            f"{each.words.capitalize()}: {q(load, 'Ω')}."
            for each, load in zip(wirings, loads, strict=True)
        ),
        is_shown=False,
    )


def right_reading(draws: Draws) -> Draft | None:
    """The meter's reading that suits a load."""
    subs, wiring, _ = _drawn(draws)
    load = _all_wirings(subs)
    ohm = load.number(f"{_path(load, wiring.notation)}.load_ohm")
    if not _LOWEST_LOAD_OHM <= ohm <= _HIGHEST_LOAD_OHM:
        return None
    readings = tuple(round(share * ohm, 1) for share in (0.85, 0.45, 1.2, 2.0))
    asks = tuple(_metered(subs, wiring, reading, lead_ohm=0.0) for reading in readings)
    mistakes = ("", "too low: a coil is shorted, or wired otherwise",
                "too high: a good coil reads below its impedance",
                "far too high: a coil or a sub is not connected")  # fmt: skip
    is_right = []
    for each, reading in zip(asks, readings, strict=True):
        path = right_path(each)
        low, high = (each.number(f"{path}.expected_{end}_ohm") for end in ("low", "high"))
        is_right.append(low <= reading <= high)
    options = judged_options(tuple(q(each, "Ω") for each in readings), tuple(is_right), mistakes)
    if options is None or options[0].mistake:
        return None
    return Statement(
        question=f"You have wired {subs.words} ({wiring.words}): {q(ohm, 'Ω')}. Which reading of "
        "the meter, with its own leads taken off, is right?",
        asks=asks,
        options=options,
        work=(
            f"A meter reads 0.75 to 0.95 of the impedance: {q(0.75 * ohm, 'Ω')} to "
            f"{q(0.95 * ohm, 'Ω')}.",
        ),
        is_shown=False,
    )


def _metered(subs: Subs, wiring: Wiring, reading_ohm: float, *, lead_ohm: float) -> Ask:
    return ask(
        METER_CHECK, drivers=subs.count, coils_per_driver=subs.coils, coil_ohm=subs.coil_ohm,
        intended=wiring.notation, reading_ohm=reading_ohm, lead_ohm=lead_ohm,
        min_load_ohm=_LOWEST_OHM,
    )  # fmt: skip


# --- to be worked out


def load_of_wiring(draws: Draws) -> Draft | None:
    """The load of a wiring."""
    return _load_figure(draws, "You wire {subs}: {wiring}. What load does the amplifier see?")


def unlike_subs(draws: Draws) -> Draft | None:
    """Two subs of different impedance on one output."""
    one, other = draws.pick(((4, 8), (2, 4), (2, 8), (4, 6), (3, 6), (6, 8)))
    is_parallel = draws.pick((True, False))
    asked = ask(COIL_WIRING, drivers=f"1,{one};1,{other}", min_load_ohm=_LOWEST_OHM, power_w=None)
    path = _path(asked, "1a|2a" if is_parallel else "1a+2a")
    load = asked.number(f"{path}.load_ohm")
    together, product = one + other, one * other / (one + other)
    how = "in parallel" if is_parallel else "in series"
    work = (
        f"{q(one, 'Ω')} × {q(other, 'Ω')} ÷ ({q(one, 'Ω')} + {q(other, 'Ω')}) = {q(load, 'Ω')}."
        if is_parallel
        else f"{q(one, 'Ω')} + {q(other, 'Ω')} = {q(load, 'Ω')}."
    )
    return Figure(
        question=f"{capital(a(one, 'Ω'))} sub and {a(other, 'Ω')} sub, each with one voice coil, "
        f"are connected {how} to one output. What load does the amplifier see?",
        asks=(asked,),
        result=f"{path}.load_ohm",
        unit="Ω",
        slips=(
            Slip(together, _AS_IF_SERIES) if is_parallel else Slip(product, _AS_IF_PARALLEL),
            Slip(together / 2, "that is the mean of the two"),
            Slip(together / 4, "you took the mean, then halved it: the subs are not alike"),
        ),
        work=(work,),
        is_shown=False,
    )


def share_of_unlike(draws: Draws) -> Draft | None:
    """The share of the power that the lower impedance takes."""
    one, other = draws.pick(((4, 8), (2, 4), (2, 8), (4, 6), (3, 6), (6, 8)))
    is_parallel = draws.pick((True, False))
    asked = ask(COIL_WIRING, drivers=f"1,{one};1,{other}", min_load_ohm=_LOWEST_OHM, power_w=None)
    path = _path(asked, "1a|2a" if is_parallel else "1a+2a")
    share = asked.number(f"{path}.share_percent.0")
    how = "in parallel" if is_parallel else "in series"
    why = (
        f"In parallel both have the same voltage, and P = V² ÷ R: the {q(one, 'Ω')} sub gets "
        f"{other} of {one + other} parts, {rounded(share, 3)} %."
        if is_parallel
        else f"In series both carry the same current, and P = I² × R: the {q(one, 'Ω')} sub gets "
        f"{one} of {one + other} parts, {rounded(share, 3)} %."
    )
    return Figure(
        question=f"{capital(a(one, 'Ω'))} sub and {a(other, 'Ω')} sub, each with one voice coil, "
        f"are connected {how} to one output. What share of the power does the "
        f"{q(one, 'Ω')} sub get?",
        asks=(asked,),
        result=f"{path}.share_percent.0",
        unit="%",
        slips=(
            Slip(100 - share, "that is the other sub’s share"),
            Slip(50.0, "only like subs share alike"),
            Slip(100 * one / other, "that is the ratio of the impedances, not a share"),
        ),
        work=(why,),
        is_shown=False,
    )


def power_per_coil(draws: Draws) -> Draft | None:
    """What each coil of several gets."""
    subs, wiring, _ = _drawn(draws)
    power = draws.pick((120, 150, 180, 200, 240, 300, 400))
    asked = _all_wirings(subs, power_w=power)
    path, coils = _path(asked, wiring.notation), subs.count * subs.coils
    return Figure(
        question=f"The output makes {q(power, 'W')} into {subs.words} ({wiring.words}). How much "
        "power does each voice coil get?",
        asks=(asked,),
        result=f"{path}.coil_power_w.0",
        unit="W",
        slips=(
            Slip(power, "that is all the coils together"),
            Slip(power / 2 if coils != 2 else 0.0, f"there are {coils} coils, not two"),
            Slip(power / coils**2, "you divided twice"),
        ),
        work=(
            f"{NUMBERS[coils].capitalize()} coils alike share the power equally: {q(power, 'W')} ÷ "
            f"{coils} = {q(power / coils, 'W')}.",
        ),
        is_shown=False,
    )  # fmt: skip


def highest_reading(draws: Draws) -> Draft | None:
    """The highest reading of a meter that is right, leads included."""
    subs, wiring, others = _drawn(draws)
    asked_load = _all_wirings(subs)
    load = asked_load.number(f"{_path(asked_load, wiring.notation)}.load_ohm")
    leads = draws.pick((0.1, 0.2, 0.3))
    end, share = draws.pick((("low", 0.75), ("high", 0.95)))
    if load < 2:
        return None
    asked = _metered(subs, wiring, round(0.85 * load + leads, 2), lead_ohm=leads)
    other = asked_load.number(f"{_path(asked_load, others[0].notation)}.load_ohm")
    return Figure(
        question=f"You wire {subs.words}: {wiring.words}. A good coil reads 0.75 to 0.95 of its "
        f"impedance on the meter; the speaker cable adds {q(leads, 'Ω')}. What is the "
        f"{'lowest' if end == 'low' else 'highest'} reading that is still right?",
        asks=(asked,),
        result=f"{right_path(asked)}.expected_{end}_ohm",
        unit="Ω",
        slips=(
            Slip(load, "that is the impedance: a meter reads the wire alone, which is less"),
            Slip(share * other + leads, _mistake(wiring, others[0])),
            Slip((1.7 - share) * load + leads, "you took the other end of the range"),
            Slip(share * load, "you left the speaker cable out"),
        ),
        work=(f"{share} × {q(load, 'Ω')} + {q(leads, 'Ω')} = {q(share * load + leads, 'Ω')}.",),
        is_shown=False,
    )


RECALL: tuple[Template, ...] = (load_picked, lowest_of, right_reading)
CALCULATE: tuple[Template, ...] = (
    load_of_wiring,
    unlike_subs,
    share_of_unlike,
    power_per_coil,
    highest_reading,
)
PLAN: tuple[Template, ...] = (wired_for_a_pair, wired_and_metered, wired_powered_shared)

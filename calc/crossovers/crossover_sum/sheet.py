"""What the answer of `crossover-sum` says."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answers.calculator import Calculator
from calc.answers.cautions import SWITCH_OFF
from calc.answers.drawing import DASHES
from calc.answers.figures import MINUS, capital, quantity, rounded
from calc.answers.plots import LEVELS, PHASES, Curve, plot
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.crossovers.crossover_sum.inputs import CHECKS, FORM, Inputs
from calc.crossovers.crossover_sum.solve import Result, solve
from calc.crossovers.filter_words import (
    DRIVERS_DIFFER,
    FREQUENCY_COLUMN,
    MOST_RIPPLE_DB,
    SOURCES,
    filter_words,
    level_cell,
)
from calc.physics.filter_sums import (
    Voice,
    grid_hz,
    phase_difference_deg,
    sum_db,
    summing_rule,
)
from calc.physics.filters import level_db

_PER_OCTAVE = 8


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    low, high = result.low, result.high
    low_name, high_name = names_of(result)
    advice = _advice(inputs, result)
    return Sheet(
        sentence=_sentence(result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(result),
        drawings=(_drawing(result),),
        tables=(_table(result), _polarities(result)),
        cautions=(
            SWITCH_OFF,
            "Left and right the opposite way round cancel the bass: reverse both sides alike, and "
            "mark the leads.",
        ),
        steps=(
            f"{capital(low_name)}: {filter_words(low.filters[0])}.",
            f"{capital(high_name)}: {filter_words(high.filters[0])}.",
            "At every frequency each side is a complex number: its filter times its level times "
            "its "
            "polarity (1 or −1) times its delay, e^(−j2πfτ).",
            "The sum is the level of the two numbers added; the phase difference is that of the "
            "low-pass minus that of the high-pass.",
            f"Up to {quantity(MOST_RIPPLE_DB, 'dB')} of ripple counts as normal: our own limit, "
            "for "
            "Butterworth filters rise by 3 dB where they meet.",
            *advice,
        ),
        unknowns=(
            DRIVERS_DIFFER,
            "Where the listener sits: a longer path delays one side. See Time alignment.",
        ),
        sources=(*SOURCES, "like-sums"),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "response": [
            {
                "frequency_hz": point.frequency_hz,
                "level_db": point.level_db,
                "low_db": point.low_db,
                "high_db": point.high_db,
                "phase_difference_deg": point.phase_difference_deg,
            }
            for point in result.points
        ],
        "ripple_db": result.ripple_db,
        "ripple_turned_db": result.ripple_turned_db,
        "advice": " ".join(_advice(inputs, result)),
    }


_SUB_HZ, _TWEETER_HZ = 200.0, 1500.0  # up to here subs meet doors, from here tweeters are met


def names_of(result: Result) -> tuple[str, str]:
    """Return what the two sides are called: by where they meet, sub and doors for example."""
    corners = (result.low.filters[0].frequency_hz, result.high.filters[0].frequency_hz)
    if max(corners) <= _SUB_HZ:
        return "sub", "doors"
    if min(corners) >= _TWEETER_HZ:
        return "mid-bass", "tweeter"
    return "lower speaker", "upper speaker"


def _sentence(result: Result) -> str:
    at = quantity(result.lowest_hz, "Hz", 3)
    low, high = names_of(result)
    if result.ripple_db is None and result.is_gap:
        return f"Neither plays near {at}: bring the two crossover frequencies together."
    if result.ripple_db is None and result.ripple_turned_db is None:
        return f"They cancel near {at}, and reversing one leaves a hole too: {_change(result)}"
    if result.ripple_db is None:
        return f"They cancel near {at}. {capital(_other_way(result))}."
    within = (
        "add up exactly"
        if result.ripple_db < 0.05
        else (f"add up to within {_db(result.ripple_db)}")
    )
    if result.ripple_db > MOST_RIPPLE_DB:
        within = f"go up and down by {_db(result.ripple_db)}"
    reversed_ = [
        name
        for name, voice in ((low, result.low), (high, result.high))
        if voice.is_reversed and result.low.is_reversed != result.high.is_reversed
    ]
    joined = f"With the {reversed_[0]} reversed, {low} and {high}" if reversed_ else (
        f"{capital(low)} and {high}"
    )  # fmt: skip
    if result.turning_is_better:
        better = quantity(result.ripple_turned_db or 0, "dB", 2)
        way = capital(_other_way(result))
        return f"{joined} {within}. {way}: that brings them to within {better}."
    if result.ripple_db > MOST_RIPPLE_DB:
        return f"{joined} {within}: {_change(result)}"
    return f"{joined} {within}. Leave the polarity like that."


def _db(ripple_db: float) -> str:
    """Write a ripple with two figures; with three where two would hide that it is too much."""
    is_hidden = MOST_RIPPLE_DB < ripple_db < MOST_RIPPLE_DB + 0.05
    return quantity(ripple_db, "dB", 3 if is_hidden else 2)


def _other_way(result: Result) -> str:
    """Say how to change the polarity: one of two reversed sides back, or one reversed.

    Between sub and doors it is the sub that is reversed, else the upper speaker.
    """
    low, high = names_of(result)
    if result.high.is_reversed:
        return f"put the {high} back to normal polarity"
    if result.low.is_reversed:
        return f"put the {low} back to normal polarity"
    return f"reverse the {low if low == 'sub' else high}"


def _change(result: Result) -> str:
    """Say what to change where polarity alone does not settle it."""
    low, high = result.low.filters[0], result.high.filters[0]
    if abs(low.frequency_hz / high.frequency_hz - 1) > 1e-9:
        return "set both to the same crossover frequency."
    if (low.family, low.order) != (high.family, high.order):
        return "give both the same filter type and slope."
    if result.low.gain_db != result.high.gain_db:
        return "match the levels."
    return "change a slope or a delay."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the two add up."""
    if result.ripple_db is None:
        at = quantity(result.lowest_hz, "Hz", 3)
        if result.is_gap:
            return Verdict(
                "unsuitable",
                f"Nothing plays near {at}. Bring the two crossover frequencies together.",
            )
        settled = result.ripple_turned_db is not None
        way = _other_way(result) if settled else _change(result).rstrip(".")
        return Verdict(
            "unsuitable",
            f"They cancel near {at}: more than 60 dB down. {capital(way)}.",
        )
    levels = f"Up and down by {_db(result.ripple_db)} in total"
    limit = quantity(MOST_RIPPLE_DB, "dB")
    if result.ripple_db > MOST_RIPPLE_DB:
        way = _other_way(result) if result.turning_is_better else _change(result).rstrip(".")
        return Verdict("unsuitable", f"{levels}; {limit} is the most we call normal. "
                       f"{capital(way)}.")  # fmt: skip
    return Verdict("suitable", f"{levels}; up to {limit} is normal here.")


def _figures(result: Result) -> tuple[Figure, ...]:
    low, high = result.low.response(result.corner_hz), result.high.response(result.corner_hz)
    figures = [
        ("Ripple in total", result.ripple_db, "dB"),
        (f"Sum at {quantity(result.corner_hz, 'Hz', 3)}", sum_db([low, high]), "dB"),
        ("Phase difference there", phase_difference_deg(low, high), "°"),
        ("Ripple the other way round", result.ripple_turned_db, "dB"),
    ]
    # A hole has no figure: the sentence and the table of polarities tell of it.
    return tuple(
        Figure(name, Quantity(value, unit), 1) for name, value, unit in figures if value is not None
    )


def _advice(inputs: Inputs, result: Result) -> list[str]:
    advice = []
    if result.turning_is_better:
        advice.append(f"{capital(_other_way(result))}.")
    elif result.ripple_db is not None:
        advice.append("Leave the polarity like that.")
    else:
        advice.append(f"Neither polarity adds up: {_change(result)}")
    low, high = inputs.low, inputs.high
    advice += _rule_of_like(result)
    late_ms = low.low_delay_ms - high.high_delay_ms
    if abs(late_ms) > 1e-9:
        turn_deg = abs(late_ms) / 1000 * result.corner_hz * 360
        which = names_of(result)[0 if late_ms > 0 else 1]
        advice.append(
            f"The {which} comes {quantity(abs(late_ms), 'ms', 3)} later, which turns its "
            f"phase by {rounded(turn_deg, 3)}° at {quantity(result.corner_hz, 'Hz', 3)}."
        )
    if low.low_frequency_hz < high.high_frequency_hz * (1 - 1e-9):
        advice.append(
            "There is a gap between the two frequencies: leave it only where the speakers’ own "
            "response fills it."
        )
    return advice


def _rule_of_like(result: Result) -> list[str]:
    """Say how two filters alike sum by rule; nothing of others, or with a delay."""
    low, high = result.low.filters[0], result.high.filters[0]
    rule = summing_rule(low.family, low.order)
    is_late = result.low.delay_s != result.high.delay_s
    if is_late or rule is None or replace(low, kind=high.kind) != high:
        return []
    turn, flat = rule
    if low.order % 2:
        rules = ["Two Butterworth filters of 6 or 18 dB/oct sum flat in both polarities."]
    else:
        side = "one side reversed" if turn else "both sides normal"
        to = "flat" if flat else "to +3 dB at the crossover frequency"
        rules = [f"Two filters of this type and slope sum {to} with {side}."]
    if not flat:
        rules.append("For a flat sum choose Linkwitz–Riley with the same slope.")
    return rules


def _drawing(result: Result) -> Drawing:
    grid = grid_hz(
        result.low.filters[0].frequency_hz, result.high.filters[0].frequency_hz, result.corner_hz,
        per_octave=_PER_OCTAVE,
    )  # fmt: skip
    lows = [(hz, result.low.response(hz)) for hz in grid]
    highs = [(hz, result.high.response(hz)) for hz in grid]
    both = [(hz, low, high) for (hz, low), (_, high) in zip(lows, highs, strict=True)]
    low_title, high_title = names_of(result)
    low_name, high_name = _name_places(result)
    curves = (
        Curve(
            name=low_title, points=tuple((hz, level_db(value)) for hz, value in lows),
            dash=DASHES[1], name_at=low_name, name_side="right",
        ),
        Curve(
            name=high_title, points=tuple((hz, level_db(value)) for hz, value in highs),
            dash=DASHES[2], name_at=high_name, name_side="left",
        ),
        Curve(
            name="sum", points=tuple((hz, _drawn(sum_db([low, high]))) for hz, low, high in both),
            is_heavy=True, name_at=(min(result.corner_hz, 2500), 9.2),
        ),
    )  # fmt: skip
    phases = Curve(
        name="", points=tuple((hz, phase_difference_deg(low, high)) for hz, low, high in both)
    )
    return plot(
        "Both sides and their sum",
        f"Level in decibels over frequency from 20 Hz to 20 kHz: the {low_title} dashed, the "
        f"{high_title} dotted, their sum heavy; below, the phase of the low-pass minus that of the "
        "high-pass. The table gives the values.",
        (
            LEVELS.showing(*curves),
            replace(PHASES.showing(phases), title="phase of low-pass minus high-pass, °"),
        ),
        name="sections-and-sum",
    )


def _drawn(level: float | None) -> float:
    """Return a level for a line; a hole goes down to the panel's edge and beyond."""
    return -200.0 if level is None else level


def _name_places(result: Result) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where the two names stand: on the slopes, outside the crossing."""
    low_hz = min(result.low.filters[0].frequency_hz * 2.4, 16_000)
    high_hz = max(result.high.filters[0].frequency_hz / 2.4, 26)
    return (
        (low_hz, max(level_db(result.low.response(low_hz)), -39)),
        (high_hz, max(level_db(result.high.response(high_hz)), -39)),
    )


def _table(result: Result) -> Table:
    return Table(
        name="response",
        caption="Levels of both sides and their sum",
        columns=(
            FREQUENCY_COLUMN,
            *(Column(capital(name), "dB", decimals=2) for name in names_of(result)),
            Column("Sum", "dB", decimals=2),
            Column("Phase difference", "°", decimals=1),
        ),
        rows=tuple(
            (
                Quantity(point.frequency_hz),
                Quantity(point.low_db),
                Quantity(point.high_db),
                level_cell(point.level_db),
                Quantity(point.phase_difference_deg),
            )
            for point in result.points
        ),
    )


def _polarities(result: Result) -> Table:
    def cell(ripple: float | None) -> Quantity | str:
        return f"hole below {MINUS}60 dB" if ripple is None else Quantity(ripple)

    return Table(
        name="polarities",
        caption="Both polarities",
        columns=(
            Column("Polarity of the two"),
            Column("Ripple", "dB", decimals=2),
            Column("Sum where they meet", "dB", decimals=2),
        ),
        rows=tuple(
            (
                "the same" if high.is_reversed == result.low.is_reversed else "opposite",
                cell(ripple),
                level_cell(
                    sum_db([result.low.response(result.corner_hz), high.response(result.corner_hz)])
                ),
            )
            for high, ripple in _in_order(result)
        ),
        marked=int(result.low.is_reversed != result.high.is_reversed),
    )


def _in_order(result: Result) -> Sequence[tuple[Voice, float | None]]:
    now = (result.high, result.ripple_db)
    turned = (result.high.turned(), result.ripple_turned_db)
    return (now, turned) if result.high.is_reversed == result.low.is_reversed else (turned, now)


CROSSOVER_SUM = Calculator(
    name="crossover-sum",
    title="Do they add up?",
    question="Do the sub and the doors add up where they meet, or do they cancel?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)

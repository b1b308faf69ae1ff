"""What the answer of `crossover-sum` says."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES
from calc.answers.figures import MINUS, quantity, rounded
from calc.answers.plots import LEVELS, PHASES, Curve, plot
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.crossovers.crossover_sum.inputs import CHECKS, FORM, Inputs
from calc.crossovers.crossover_sum.solve import Point, Result, solve
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
    advice = _advice(inputs, result)
    return Sheet(
        sentence=_sentence(result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(result),
        drawings=(_drawing(result),),
        tables=(_table(result.points), _polarities(result)),
        cautions=(
            "Reverse a section’s polarity at its speaker terminals with the amplifier off, both "
            "sides alike, and write down what you did.",
        ),
        steps=(
            f"Low section: {filter_words(low.filters[0])}.",
            f"High section: {filter_words(high.filters[0])}.",
            "Each section is a complex number at every frequency: its filter times its level "
            "times its polarity (1 or −1) times its delay, e^(−j2πfτ).",
            "The sum is the level of the two numbers added; the phase difference is that of the "
            "low section less that of the high one.",
            *advice,
        ),
        unknowns=(
            DRIVERS_DIFFER,
            "Where the listener sits: different distances delay one section (see arrival delay).",
        ),
        sources=(*SOURCES, "How filters of one corner add: Linkwitz 1976; Garde 1980."),
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


def _sentence(result: Result) -> str:
    at = quantity(result.lowest_hz, "Hz", 3)
    if result.ripple_db is None and result.is_gap:
        return f"Neither section plays near {at}: bring their corners together."
    if result.ripple_db is None and result.ripple_turned_db is None:
        return f"The two sections cancel near {at}, and the other polarity has a hole too."
    if result.ripple_db is None:
        return f"The two sections cancel near {at}: {_other_way(result)}."
    rest = (
        f"{_other_way(result)}, and it stays within {rounded(result.ripple_turned_db or 0, 2)} dB."
        if result.turning_is_better
        else "leave the polarity as it is."
    )
    if result.ripple_db < 0.05:
        return f"The two sections add up to the same level at every frequency: {rest}"
    return f"The sum stays within {rounded(result.ripple_db, 3)} dB from 20 Hz to 20 kHz: {rest}"


def _other_way(result: Result) -> str:
    """Say how to exchange the polarity: one of two reversed sections back, or one reversed."""
    if result.high.is_reversed:
        return "set the high section to normal"
    if result.low.is_reversed:
        return "set the low section to normal"
    return "reverse the high section"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the two add up."""
    if result.ripple_db is None:
        return Verdict(
            "unsuitable",
            f"the sum falls below {MINUS}60 dB near {quantity(result.lowest_hz, 'Hz', 3)}.",
        )
    levels = f"highest and lowest level of the sum lie {rounded(result.ripple_db, 3)} dB apart"
    if result.ripple_db > MOST_RIPPLE_DB:
        return Verdict("unsuitable", f"{levels}, more than {rounded(MOST_RIPPLE_DB)} dB.")
    return Verdict("suitable", f"{levels}.")


def _figures(result: Result) -> tuple[Figure, ...]:
    low, high = result.low.response(result.corner_hz), result.high.response(result.corner_hz)
    figures = [
        ("Ripple of the sum", result.ripple_db, "dB"),
        (f"Sum at {quantity(result.corner_hz, 'Hz', 3)}", sum_db([low, high]), "dB"),
        ("Phase difference there", phase_difference_deg(low, high), "°"),
        ("Ripple with the other polarity", result.ripple_turned_db, "dB"),
    ]
    # A hole has no figure: the sentence and the table of polarities tell of it.
    return tuple(
        Figure(name, Quantity(value, unit), 1) for name, value, unit in figures if value is not None
    )


def _advice(inputs: Inputs, result: Result) -> list[str]:
    advice = []
    if result.turning_is_better:
        way = _other_way(result)
        advice.append(f"{way[0].upper()}{way[1:]}.")
    elif result.ripple_db is not None:
        advice.append("Leave the polarity as it is.")
    else:
        advice.append("Neither polarity adds up: change a corner, an order or a delay.")
    low, high = inputs.low, inputs.high
    advice += _rule_of_like(result)
    late_ms = low.low_delay_ms - high.high_delay_ms
    if abs(late_ms) > 1e-9:
        turn_deg = abs(late_ms) / 1000 * result.corner_hz * 360
        which = "low" if late_ms > 0 else "high"
        advice.append(
            f"The {which} section comes {rounded(abs(late_ms), 3)} ms later, which turns its "
            f"phase by {rounded(turn_deg, 3)}° at {quantity(result.corner_hz, 'Hz', 3)}."
        )
    if low.low_frequency_hz < high.high_frequency_hz * (1 - 1e-9):
        advice.append(
            "The corners leave a gap between them: wanted only where the speakers’ own "
            "response fills it."
        )
    return advice


def _rule_of_like(result: Result) -> list[str]:
    """Say how filters alike at one corner sum by rule; nothing of others, or with a delay."""
    low, high = result.low.filters[0], result.high.filters[0]
    rule = summing_rule(low.family, low.order)
    is_late = result.low.delay_s != result.high.delay_s
    if is_late or rule is None or replace(low, kind=high.kind) != high:
        return []
    turn, flat = rule
    if low.order % 2:
        rules = ["Like Butterworth filters of odd order sum flat in both polarities."]
    else:
        side = "one side reversed" if turn else "both sides normal"
        to = "flat" if flat else "to +3 dB at the corner"
        rules = [f"Like filters of this family and order sum {to} with {side}."]
    if not flat:
        rules.append("For a flat sum choose Linkwitz–Riley of the same order.")
    return rules


def _drawing(result: Result) -> Drawing:
    grid = grid_hz(
        result.low.filters[0].frequency_hz, result.high.filters[0].frequency_hz, result.corner_hz,
        per_octave=_PER_OCTAVE,
    )  # fmt: skip
    lows = [(hz, result.low.response(hz)) for hz in grid]
    highs = [(hz, result.high.response(hz)) for hz in grid]
    both = [(hz, low, high) for (hz, low), (_, high) in zip(lows, highs, strict=True)]
    low_name, high_name = _name_places(result)
    curves = (
        Curve(
            name="low", points=tuple((hz, level_db(value)) for hz, value in lows),
            dash=DASHES[1], name_at=low_name, name_side="right",
        ),
        Curve(
            name="high", points=tuple((hz, level_db(value)) for hz, value in highs),
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
        "Both sections and their sum",
        "Level in decibels over frequency from 20 Hz to 20 kHz: the low section dashed, the high "
        "one dotted, their sum heavy; beneath, the phase of the low section less that of the high "
        "one. The table gives the values.",
        (
            LEVELS.showing(*curves),
            replace(PHASES.showing(phases), title="phase of low less high, °"),
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


def _table(points: Sequence[Point]) -> Table:
    return Table(
        name="response",
        caption="Levels of the sections and their sum",
        columns=(
            FREQUENCY_COLUMN,
            Column("Low", "dB", decimals=2),
            Column("High", "dB", decimals=2),
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
            for point in points
        ),
    )


def _polarities(result: Result) -> Table:
    def cell(ripple: float | None) -> Quantity | str:
        return f"hole below {MINUS}60 dB" if ripple is None else Quantity(ripple)

    return Table(
        name="polarities",
        caption="Both polarities",
        columns=(
            Column("High section against low"),
            Column("Ripple", "dB", decimals=2),
            Column("Sum where they meet", "dB", decimals=2),
        ),
        rows=tuple(
            (
                "normal" if high.is_reversed == result.low.is_reversed else "reversed",
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
    title="How two sections add up",
    question="Do woofer and doors add up where they meet, or do they cancel?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)

"""The calculator `crossover-sum`: how a low and a high section add up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.drawing import DASHES
from calc.answers.figures import MINUS, quantity, rounded
from calc.answers.plots import LEVELS, PHASES, Curve, plot
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.crossovers.fields import (
    DRIVERS_DIFFER,
    FREQUENCY_COLUMN,
    INVENTED,
    MOST_RIPPLE_DB,
    POINTS,
    SOURCES,
    check_order,
    family_field,
    filter_of,
    filter_words,
    frequency_field,
    level_cell,
    order_field,
)
from calc.inputs.errors import FieldError
from calc.inputs.fields import Choice, Field, Number
from calc.physics.filter_sums import (
    DEEPEST_DB,
    Voice,
    grid_hz,
    phase_difference_deg,
    sum_db,
    summing_rule,
)
from calc.physics.filters import Kind, level_db
from calc.physics.ripple import extremes

_PER_OCTAVE = 8


@dataclass(frozen=True)
class _Found:
    """What is worked out once and told in several places."""

    low: Voice
    high: Voice
    ripple: float | None
    ripple_turned: float | None
    corner_hz: float  # where the two meet, between the corners
    lowest_hz: float  # where the sum is lowest

    @property
    def is_gap(self) -> bool:
        """Whether the hole is there because neither section plays, not because they cancel."""
        parts = (self.low.response(self.lowest_hz), self.high.response(self.lowest_hz))
        return max(level_db(one) for one in parts) < DEEPEST_DB + 6


def crossover_sum(given: Mapping[str, Any]) -> Sheet:
    """Compute `crossover-sum`."""
    low, high = _voice(given, "low", "low-pass"), _voice(given, "high", "high-pass")
    corners = (given["low_frequency_hz"], given["high_frequency_hz"])
    now, turned = extremes(low, high), extremes(low, high.turned())
    found = _Found(
        low, high, now.ripple_db, turned.ripple_db, (corners[0] * corners[1]) ** 0.5, now.lowest_hz
    )
    rows = [_row(found, frequency) for frequency in given["points_hz"]]
    advice = _advice(given, found)
    return Sheet(
        sentence=_sentence(found),
        verdict=_verdict(found),
        results={
            "response": rows,
            "ripple_db": found.ripple,
            "ripple_turned_db": found.ripple_turned,
            "advice": " ".join(advice),
        },
        figures=_figures(found),
        drawings=(_drawing(found),),
        tables=(_table(rows), _polarities(given, found)),
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


def _voice(given: Mapping[str, Any], side: str, kind: Kind) -> Voice:
    one = filter_of(
        kind,
        given[f"{side}_family"],
        given[f"{side}_order"],
        given[f"{side}_frequency_hz"],
    )
    return Voice(
        filters=(one,),
        gain_db=given[f"{side}_gain_db"],
        is_reversed=given[f"{side}_polarity"] == "reversed",
        delay_s=given[f"{side}_delay_ms"] / 1000,
    )


def _row(found: _Found, frequency: float) -> dict[str, float | None]:
    low, high = found.low.response(frequency), found.high.response(frequency)
    return {
        "frequency_hz": frequency,
        "level_db": sum_db([low, high]),
        "low_db": level_db(low),
        "high_db": level_db(high),
        "phase_difference_deg": phase_difference_deg(low, high),
    }


def _sentence(found: _Found) -> str:
    at = quantity(found.lowest_hz, "Hz", 3)
    if found.ripple is None and found.is_gap:
        return f"Neither section plays near {at}: bring their corners together."
    if found.ripple is None and found.ripple_turned is None:
        return f"The two sections cancel near {at}, and the other polarity has a hole too."
    if found.ripple is None:
        return f"The two sections cancel near {at}: {_other_way(found)}."
    better = found.ripple_turned is not None and found.ripple_turned < found.ripple - 0.05
    rest = (
        f"{_other_way(found)}, and it stays within {rounded(found.ripple_turned or 0, 2)} dB."
        if better
        else "leave the polarity as it is."
    )
    if found.ripple < 0.05:
        return f"The two sections add up to the same level at every frequency: {rest}"
    return f"The sum stays within {rounded(found.ripple, 3)} dB from 20 Hz to 20 kHz: {rest}"


def _other_way(found: _Found) -> str:
    """Say how to exchange the polarity: one of two reversed sections back, or one reversed."""
    if found.high.is_reversed:
        return "set the high section to normal"
    if found.low.is_reversed:
        return "set the low section to normal"
    return "reverse the high section"


def _verdict(found: _Found) -> Verdict:
    if found.ripple is None:
        return Verdict(
            "unsuitable",
            f"the sum falls below {MINUS}60 dB near {quantity(found.lowest_hz, 'Hz', 3)}.",
        )
    told = f"highest and lowest level of the sum lie {rounded(found.ripple, 3)} dB apart"
    if found.ripple > MOST_RIPPLE_DB:
        return Verdict("unsuitable", f"{told}, more than {rounded(MOST_RIPPLE_DB)} dB.")
    return Verdict("suitable", f"{told}.")


def _figures(found: _Found) -> tuple[Figure, ...]:
    low, high = found.low.response(found.corner_hz), found.high.response(found.corner_hz)
    figures = [
        ("Ripple of the sum", found.ripple, "dB"),
        (f"Sum at {quantity(found.corner_hz, 'Hz', 3)}", sum_db([low, high]), "dB"),
        ("Phase difference there", phase_difference_deg(low, high), "°"),
        ("Ripple with the other polarity", found.ripple_turned, "dB"),
    ]
    # A hole has no figure: the sentence and the table of polarities tell of it.
    return tuple(
        Figure(name, Quantity(value, unit), 1) for name, value, unit in figures if value is not None
    )


def _advice(given: Mapping[str, Any], found: _Found) -> list[str]:
    advice = []
    now, turned = found.ripple, found.ripple_turned
    if turned is not None and (now is None or turned < now - 0.05):
        way = _other_way(found)
        advice.append(f"{way[0].upper()}{way[1:]}.")
    elif now is not None:
        advice.append("Leave the polarity as it is.")
    else:
        advice.append("Neither polarity adds up: change a corner, an order or a delay.")
    alike = all(
        given[f"low_{key}"] == given[f"high_{key}"] for key in ("family", "order", "frequency_hz")
    )
    rule = summing_rule(given["low_family"], given["low_order"])
    if alike and rule is not None:
        turn, flat = rule
        alone = given["low_delay_ms"] == given["high_delay_ms"]
        side = "one side reversed" if turn else "both sides normal"
        if alone and given["low_order"] % 2:
            advice.append("Like Butterworth filters of odd order sum flat in both polarities.")
        elif alone:
            result = "flat" if flat else "to +3 dB at the corner"
            advice.append(f"Like filters of this family and order sum {result} with {side}.")
        if alone and not flat:
            advice.append("For a flat sum choose Linkwitz–Riley of the same order.")
    late = given["low_delay_ms"] - given["high_delay_ms"]
    if abs(late) > 1e-9:
        turn_deg = abs(late) / 1000 * found.corner_hz * 360
        which = "low" if late > 0 else "high"
        advice.append(
            f"The {which} section comes {rounded(abs(late), 3)} ms later, which turns its phase by "
            f"{rounded(turn_deg, 3)}° at {quantity(found.corner_hz, 'Hz', 3)}."
        )
    if given["low_frequency_hz"] < given["high_frequency_hz"] * (1 - 1e-9):
        advice.append(
            "The corners leave a gap between them: wanted only where the speakers’ own "
            "response fills it."
        )
    return advice


def _drawing(found: _Found) -> Drawing:
    grid = grid_hz(
        found.low.filters[0].frequency_hz, found.high.filters[0].frequency_hz, found.corner_hz,
        per_octave=_PER_OCTAVE,
    )  # fmt: skip
    lows = [(one, found.low.response(one)) for one in grid]
    highs = [(one, found.high.response(one)) for one in grid]
    both = [(f, low, high) for (f, low), (_, high) in zip(lows, highs, strict=True)]
    low_name, high_name = _name_places(found)
    curves = (
        Curve(
            name="low", points=tuple((one, level_db(value)) for one, value in lows),
            dash=DASHES[1], name_at=low_name, name_side="right",
        ),
        Curve(
            name="high", points=tuple((one, level_db(value)) for one, value in highs),
            dash=DASHES[2], name_at=high_name, name_side="left",
        ),
        Curve(
            name="sum", points=tuple((f, _drawn(sum_db([low, high]))) for f, low, high in both),
            is_heavy=True, name_at=(min(found.corner_hz, 2500), 9.2),
        ),
    )  # fmt: skip
    phases = Curve(
        name="", points=tuple((f, phase_difference_deg(low, high)) for f, low, high in both)
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
    )


def _drawn(level: float | None) -> float:
    """Return a level for a line; a hole goes down to the panel's edge and beyond."""
    return -200.0 if level is None else level


def _name_places(found: _Found) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where the two names stand: on the slopes, outside the crossing."""
    low_hz = min(found.low.filters[0].frequency_hz * 2.4, 16_000)
    high_hz = max(found.high.filters[0].frequency_hz / 2.4, 26)
    return (
        (low_hz, max(level_db(found.low.response(low_hz)), -39)),
        (high_hz, max(level_db(found.high.response(high_hz)), -39)),
    )


def _table(rows: list[dict[str, float | None]]) -> Table:
    return Table(
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
                Quantity(row["frequency_hz"]),
                Quantity(row["low_db"]),
                Quantity(row["high_db"]),
                level_cell(row["level_db"]),
                Quantity(row["phase_difference_deg"]),
            )
            for row in rows
        ),
    )


def _polarities(given: Mapping[str, Any], found: _Found) -> Table:
    def told(ripple: float | None) -> Quantity | str:
        return f"hole below {MINUS}60 dB" if ripple is None else Quantity(ripple)

    return Table(
        caption="Both polarities",
        columns=(
            Column("High section against low"),
            Column("Ripple", "dB", decimals=2),
            Column("Sum where they meet", "dB", decimals=2),
        ),
        rows=tuple(
            (
                "normal" if high.is_reversed == found.low.is_reversed else "reversed",
                told(ripple),
                level_cell(
                    sum_db([found.low.response(found.corner_hz), high.response(found.corner_hz)])
                ),
            )
            for high, ripple in _in_order(found)
        ),
        marked=int(given["low_polarity"] != given["high_polarity"]),
    )


def _in_order(found: _Found) -> Sequence[tuple[Voice, float | None]]:
    now = (found.high, found.ripple)
    turned = (found.high.turned(), found.ripple_turned)
    return (now, turned) if found.high.is_reversed == found.low.is_reversed else (turned, now)


_POLARITIES = (("normal", "normal"), ("reversed", "reversed"))


def _side(side: str, word: str, polarity: str) -> tuple[Field, ...]:
    return (
        family_field(f"{side}_family", "butterworth", f"{word}: family"),
        order_field(f"{side}_order", "2", f"{word}: order"),
        frequency_field(
            f"{side}_frequency_hz", "80", f"{word}: corner frequency", source=INVENTED,
            presets=(60, 80, 100, 3000),
        ),
        Choice(
            key=f"{side}_polarity", label=f"{word}: polarity", default=polarity,
            options=_POLARITIES, hint="Reversed: + and − exchanged at the speaker.",
        ),
        Number(
            key=f"{side}_gain_db", label=f"{word}: level", default="0", low=-40, high=20, more=True
        ),
        Number(
            key=f"{side}_delay_ms", label=f"{word}: delay", default="0", low=0, high=100, more=True
        ),
    )  # fmt: skip


_LOW, _HIGH = _side("low", "Low", "normal"), _side("high", "High", "reversed")


def _check(given: Mapping[str, Any]) -> list[FieldError]:
    return [error for side in (_LOW, _HIGH) for error in check_order(given, side[0], side[1])]


CROSSOVER_SUM = Calculator(
    name="crossover-sum",
    title="How two sections add up",
    question="Do woofer and doors add up where they meet, or do they cancel?",
    fields=(*_LOW, *_HIGH, POINTS),
    groups=(
        ("Low section (low-pass)", tuple(one.key for one in _LOW)),
        ("High section (high-pass)", tuple(one.key for one in _HIGH)),
        ("Table", ("points_hz",)),
    ),
    compute=crossover_sum,
    check=_check,
)

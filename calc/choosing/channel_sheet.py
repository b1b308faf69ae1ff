"""The channel table as the job sheet shows it, and what it says in words."""

from collections.abc import Sequence

from calc.answers.figures import MINUS, listed, quantity
from calc.answers.sheet import Cell, Column, Table
from calc.choosing.channels import Channel, Filtered
from calc.choosing.plan import Plan

_BOX_WORDS = {"head-unit": "head unit", "amplifier": "amplifier"}
_EDGE_WORDS = {"high-pass": "HPF", "low-pass": "LPF"}


def channel_table(channels: Sequence[Channel]) -> Table:
    """Return the table: a row for each output, the same rows as in the data."""
    has_delays = any(one.delay_ms is not None for one in channels)
    return Table(
        name="channels",
        caption="Channel by channel",
        columns=(
            Column("Output", code=True),
            Column("Speaker", wide=True),
            Column("Fed from"),
            Column("Joined", wide=True),
            Column("Load", "Ω"),
            Column("Power", "W"),
            Column("Filters", wide=True),
            *((Column("Delay", "ms", decimals=2),) if has_delays else ()),
            Column("Gain: start", "V"),
            Column("Ceiling", "V"),
        ),
        rows=tuple(_row(one, has_delays=has_delays) for one in channels),
        note="HPF is a high-pass, LPF a low-pass. Gains: volts AC at the output with a tone at "
        "0 dBFS; start there, and never go beyond the ceiling. A subwoofer starts at its ceiling "
        "and is set by ear.",
        cards=True,
    )


def _row(one: Channel, *, has_delays: bool) -> tuple[Cell, ...]:
    side = "" if one.side == "both" else f", {one.side}"
    return (
        one.output,
        f"{one.speaker}{side}",
        one.input,
        join_words(one),
        _figure(one.load_ohm),
        _figure(one.power_w),
        filter_words(one.filters),
        *((one.delay_ms if one.delay_ms is not None else "–",) if has_delays else ()),
        _figure(one.start_v),
        _figure(one.ceiling_v),
    )


def _figure(value: float | None) -> str:
    return "not known" if value is None else quantity(value, figures=3)


def join_words(one: Channel) -> str:
    """Say which lead goes to which terminal, and what is to be tried.

    The words are those of the row and nothing else.
    """
    if not one.plus_to:
        return "how its coils are joined is not known"
    leads = (
        f"{_shown(one.plus)} to {_ends(one.plus_to)}, {_shown(one.minus)} to {_ends(one.minus_to)}"
    )
    if one.polarity == "reversed":
        leads += " (reversed)"
    if any(made.box == "passive" for made in one.filters):
        leads += ", by the crossover’s marks"
    if one.capacitor_farad is not None:
        leads += f"; {quantity(one.capacitor_farad * 1e6, 'µF', 3)} in the + lead"
    if one.try_both:
        where = "" if one.meets_hz is None else f" at {quantity(one.meets_hz, 'Hz', 3)}"
        leads += f"; try both ways, keep the louder{where}"
    return leads


def _shown(terminal: str) -> str:
    return terminal.replace("-", MINUS)


def _ends(ends: Sequence[str]) -> str:
    return listed([_shown(one) for one in ends])


def filter_words(filters: Sequence[Filtered]) -> str:
    """Say which box makes which filter; a passive crossover has its two sides in one."""
    told = [
        f"{_EDGE_WORDS[one.edge]} {_slope(one)}, {_BOX_WORDS[one.box]}"
        for one in filters
        if one.box != "passive"
    ]
    passive = dict.fromkeys(_slope(one) for one in filters if one.box == "passive")
    told += [f"crossover {slope}" for slope in passive]
    return "; ".join(told) or "none"


def _slope(one: Filtered) -> str:
    return f"{quantity(one.hz, 'Hz')} {6 * one.order} dB/oct"


def level_words(plan: Plan) -> list[str]:
    """Say how the subwoofer stands beside the rest on paper."""
    if plan.balance is None or plan.balance.subwoofer_db is None:
        return []
    away = plan.balance.subwoofer_db
    how = f"{quantity(abs(away), 'dB', 2)} {'above' if away > 0 else 'below'}"
    stands = "level with" if abs(away) < 0.05 else how
    todo = "bring it to taste with the bass knob"
    if away < -0.05:
        todo = "turn the others down to it, or leave it so"
    return [
        f"On paper, distances not counted, the subwoofer at its ceiling stands {stands} one side’s "
        f"speakers: {todo}."
    ]

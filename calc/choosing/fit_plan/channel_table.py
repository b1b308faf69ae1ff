"""The channel table as the job sheet shows it, and what it says in words."""

from collections.abc import Sequence

from calc.answers.figures import MINUS, listed, quantity
from calc.answers.sheet import Cell, Column, Table
from calc.choosing.layouts.channels import Channel, Filtered
from calc.choosing.plan import Plan

_EDGE_WORDS = {"high-pass": "HPF", "low-pass": "LPF"}


def channel_table(channels: Sequence[Channel], source: str) -> Table:
    """Return the table: a row for each output, the same rows as in the data.

    source : what sends the signal, in words
    """
    has_several = len({channel.amplifier for channel in channels}) > 1
    has_delays = any(channel.delay_ms is not None for channel in channels)
    return Table(
        name="channels",
        caption="Channel table",
        columns=(
            *((Column("Amplifier"),) if has_several else ()),
            Column("Output", code=True),
            Column("Speaker", wide=True),
            Column("Signal from"),
            Column("Connect", wide=True),
            Column("Load", "Ω"),
            Column("Power", "W"),
            Column("Filters", wide=True),
            *((Column("Delay", "ms", decimals=2),) if has_delays else ()),
            Column("Gain: start", "V"),
            Column("Ceiling", "V"),
        ),
        rows=tuple(
            _row(channel, source, has_delays=has_delays, has_several=has_several)
            for channel in channels
        ),
        note="HPF: high-pass; LPF: low-pass. Gains are volts AC at the output with a tone at 0 "
        "dBFS: set the start, and never go above the ceiling. Set a sub by ear, up to its "
        "ceiling.",
        cards=True,
    )


def _row(channel: Channel, source: str, *, has_delays: bool, has_several: bool) -> tuple[Cell, ...]:
    side = "" if channel.side == "both" else f", {channel.side}"
    return (
        *((channel.amplifier,) if has_several else ()),
        channel.output,
        f"{channel.speaker}{side}",
        channel.input,
        join_words(channel),
        _figure(channel.load_ohm),
        _figure(channel.power_w),
        filter_words(channel.filters, source),
        *((channel.delay_ms if channel.delay_ms is not None else "–",) if has_delays else ()),
        _figure(channel.start_v),
        _figure(channel.ceiling_v),
    )


def _figure(value: float | None) -> str:
    return "not known" if value is None else quantity(value, figures=3)


def join_words(channel: Channel) -> str:
    """Say which lead goes to which terminal, and what is to be tried.

    The words are those of the row and nothing else.
    """
    if not channel.plus_to:
        return "coil wiring not known"
    plus = f"{_shown(channel.plus)} to {_ends(channel.plus_to)}"
    leads = f"{plus}, {_shown(channel.minus)} to {_ends(channel.minus_to)}"
    if channel.polarity == "reversed":
        leads += " (reversed)"
    if any(made.box == "passive" for made in channel.filters):
        leads += ", by the marks on the crossover"
    if channel.capacitor_farad is not None:
        leads += f"; {quantity(channel.capacitor_farad * 1e6, 'µF', 3)} in the + lead"
    if channel.try_both:
        where = "" if channel.meets_hz is None else f" at {quantity(channel.meets_hz, 'Hz', 3)}"
        leads += f"; try both ways and keep the louder{where}"
    return leads


def _shown(terminal: str) -> str:
    return terminal.replace("-", MINUS)


def _ends(ends: Sequence[str]) -> str:
    return listed([_shown(terminal) for terminal in ends])


def filter_words(filters: Sequence[Filtered], source: str) -> str:
    """Say which box makes which filter; a passive crossover has its two sides in one."""
    boxes = {"head-unit": source, "amplifier": "amplifier"}
    words = [
        f"{_EDGE_WORDS[made.edge]} {_slope(made)}, {boxes[made.box]}"
        for made in filters
        if made.box != "passive"
    ]
    passive = dict.fromkeys(_slope(made) for made in filters if made.box == "passive")
    words += [f"crossover {slope}" for slope in passive]
    return "; ".join(words) or "none"


def _slope(made: Filtered) -> str:
    return f"{quantity(made.hz, 'Hz')} {6 * made.order} dB/oct"


def level_words(plan: Plan) -> list[str]:
    """Say how the subwoofer stands beside the rest on paper."""
    if plan.balance is None or plan.balance.subwoofer_db is None:
        return []
    away = plan.balance.subwoofer_db
    how = f"{quantity(abs(away), 'dB', 2)} {'above' if away > 0 else 'below'}"
    stands = "level with" if abs(away) < 0.05 else how
    todo = "turn it down to taste with the bass knob"
    if away < -0.05:
        todo = "turn the others down to match, or leave it"
    return [
        f"On paper, with distances left out, the sub at its ceiling is {stands} the speakers "
        f"of one side: {todo}."
    ]

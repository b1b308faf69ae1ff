"""The channel table: one row for each output of the amplifier, with all that belongs to it.

It is the heart of a plan.  Wiring, settings, gains, readings and the drawn sum are made from these
rows or from the same data as they are, never from words.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Literal

from calc.bridging.mapping import Output, Use
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.balance import Balance, Volts
from calc.choosing.layouts.feeds import Feed
from calc.choosing.layouts.wirings import Wiring
from calc.choosing.questions.coils import coil_question
from calc.choosing.questions.crossovers import SplitQuestion, channel_texts
from calc.crossovers.filter_split import Box, SplitSection
from calc.physics.filter_stacks import stacked
from calc.physics.filters import Filter
from calc.system.speakers import LONGEST_NAME

Side = Literal["left", "right", "both"]
Word = Literal["normal", "reversed"]


@dataclass(frozen=True, kw_only=True)
class Filtered:
    """One filter that acts on an output; `speaker` names whose, of several on a crossover."""

    edge: Literal["high-pass", "low-pass"]
    box: Literal["head-unit", "amplifier", "passive"]
    hz: float
    family: str
    order: int
    speaker: str | None = None


@dataclass(frozen=True, kw_only=True)
class Channel:
    """A row of the table; a figure that is not known is None.

    output : `1`, or `3+4` for a bridged pair
    plus, minus : the amplifier's terminals for the leads + and −
    plus_to, minus_to : the terminals of the speakers that these leads go to; `+`, or coil
        terminals such as `1a+`
    input : the head unit's output that feeds it
    wiring : how several coils or speakers on it are joined, as `coil-wiring` writes it
    power_w : that the output brings [W]
    high_pass_hz, low_pass_hz : of the filters of head unit and amplifier that act together [Hz]
    delay_ms : to be set; None where no box can delay
    polarity : `reversed` where + of the output goes to − of the speaker
    try_both : both ways are to be tried, and the louder at `meets_hz` kept
    ceiling_v, start_v : the gain's two voltages, at 0 dBFS [V]
    """

    amplifier: str
    output: str
    plus: str
    minus: str
    plus_to: tuple[str, ...]
    minus_to: tuple[str, ...]
    input: str
    speaker: str
    side: Side
    wiring: str | None
    load_ohm: float
    power_w: float | None
    high_pass_hz: float | None
    low_pass_hz: float | None
    filters: tuple[Filtered, ...]
    delay_ms: float | None
    polarity: Word
    try_both: bool
    meets_hz: float | None
    worth_db: float | None
    capacitor_farad: float | None
    ceiling_v: float | None
    start_v: float | None

    def data(self) -> dict[str, object]:
        """Return the row as plain data."""
        return {
            key: list(value) if isinstance(value, tuple) else value
            for key, value in asdict(self).items()
        }


def output_names(feed: Feed, use: Use) -> list[str]:
    """Name the outputs of a feed: left and right of a pair, by number where there are more."""
    if len(use.outputs) == 1:
        return [feed.name]
    if len(use.outputs) == 2 and feed.section != "woofer":
        return [f"{feed.name[: LONGEST_NAME - 6]} {side}" for side in ("left", "right")]
    return [f"{feed.name[: LONGEST_NAME - 2]} {at}" for at in range(1, len(use.outputs) + 1)]


def channels_of(
    layout: Layout,
    amplifier: str,
    *,
    split: SplitQuestion,
    delays_ms: Mapping[str, float],
    balance: Balance,
    source: str,
) -> tuple[Channel, ...]:
    """Return the rows of a layout, in the order of the outputs; none where the split is not known.

    amplifier : its name
    split : the question about the filters, with its answer
    delays_ms : the delay of each feed by its name, where a box can delay; else empty
    source : what carries the signal from the head unit, in words
    """
    if split.result is None:
        return ()
    of_feed = _sections_by_feed(layout, split.result.sections)
    channels = []
    for at, (feed, wiring, use) in enumerate(layout.uses):
        for place, output in enumerate(use.outputs):
            side = _side(feed, use, place)
            channels.append(
                _row(
                    layout,
                    amplifier,
                    (feed, wiring, use),
                    output,
                    side,
                    [section for section in of_feed[at] if output[0] in section.section.channels],
                    balance.volts[at],
                    delay_ms=delays_ms.get(feed.name),
                    source=_input(feed, output, side, source),
                )
            )
    return tuple(sorted(channels, key=lambda channel: channel.output))


def _sections_by_feed(layout: Layout, sections: Sequence[SplitSection]) -> list[list[SplitSection]]:
    """Return the sections of the split of each feed, the lowest band first."""
    rest = iter(sections)
    return [
        [next(rest) for _ in channel_texts(use.outputs) for _ in feed.rows][::-1]
        for feed, _, use in layout.uses
    ]


def _side(feed: Feed, use: Use, place: int) -> Side:
    if feed.section == "woofer" or len(use.outputs) % 2 or feed.count % 2:
        return "both"
    return "right" if place % 2 else "left"


def _input(feed: Feed, output: Output, side: Side, source: str) -> str:
    """Say which output of the head unit feeds it."""
    word = feed.speaker.output
    plugs = "+".join(str(channel) for channel in output)
    if word is None:
        return f"input {plugs}"
    which: str = side
    if side == "both":  # mono: one plug of the pair for a channel, both for a bridged pair
        which = "both sides" if len(output) == 2 else ("left" if output[0] % 2 else "right")
    return f"{word} {source}, {which}"


def terminals(output: Output) -> tuple[str, str]:
    """Return the terminals for + and − of an output; of a bridged pair the usual ones.

    Which two a pair has for bridging, its marks tell; the outer ones are common practice, no
    source.

    >>> terminals((1,)), terminals((3, 4))
    (('1+', '1-'), ('3+', '4-'))
    """
    return f"{output[0]}+", f"{output[-1]}-"


def _joins(
    feed: Feed, wiring: Wiring, use: Use, is_reversed: bool
) -> tuple[tuple[str, ...], tuple[str, ...], str | None]:
    """Return where the leads + and − of an output go, and the wiring's notation."""
    question = coil_question(feed, wiring, use, is_reversed=is_reversed)
    if question is None:
        return ("-" if is_reversed else "+",), ("+" if is_reversed else "-",), None
    result = question.result
    if result is None or result.best is None:
        return (), (), None
    nets = result.nets_of(result.best)
    return tuple(nets["amp+"]), tuple(nets["amp-"]), result.best.circuit.notation


def _row(
    layout: Layout,
    amplifier: str,
    on: tuple[Feed, Wiring, Use],
    output: Output,
    side: Side,
    sections: Sequence[SplitSection],
    volts: Volts,
    *,
    delay_ms: float | None,
    source: str,
) -> Channel:
    feed, wiring, use = on
    lowest = sections[0]
    is_reversed = lowest.polarity.is_reversed
    plus_to, minus_to, notation = _joins(feed, wiring, use, is_reversed)
    plus, minus = terminals(output)
    filters = tuple(_filters(layout, feed, sections))
    polarities = [section.polarity for section in sections]
    compared = next((turn for turn in polarities if turn.at_hz is not None), lowest.polarity)
    names = [layout.job.speakers[row].name for row in feed.rows]
    return Channel(
        amplifier=amplifier,
        output="+".join(map(str, output)),
        plus=plus,
        minus=minus,
        plus_to=plus_to,
        minus_to=minus_to,
        input=source,
        speaker=" + ".join(reversed(names)),
        side=side,
        wiring=notation,
        load_ohm=use.load_ohm,
        power_w=use.power.best,
        high_pass_hz=_corner(filters, "high-pass"),
        low_pass_hz=_corner(filters, "low-pass"),
        filters=filters,
        delay_ms=delay_ms,
        polarity="reversed" if is_reversed else "normal",
        try_both=any(polarity.try_both for polarity in polarities),
        meets_hz=compared.at_hz,
        worth_db=compared.worth_db,
        capacitor_farad=next(
            (section.capacitor.preferred_farad for section in sections if section.capacitor), None
        ),
        ceiling_v=volts.ceiling_v,
        start_v=volts.start_v,
    )


def _filters(layout: Layout, feed: Feed, sections: Sequence[SplitSection]) -> Iterator[Filtered]:
    """Yield the filters of head unit and amplifier once, then those of a passive crossover."""
    shared = len(sections) > 1
    seen = set()
    for section in sections:
        for box, made in section.filters:
            if box != "passive" and (box, made) not in seen:
                seen.add((box, made))
                yield _filtered(box, made)
    for row, section in zip(feed.rows, sections, strict=True):
        name = layout.job.speakers[row].name if shared else None
        for box, made in section.filters:
            if box == "passive":
                yield _filtered(box, made, speaker=name)


def _filtered(box: Box, made: Filter, speaker: str | None = None) -> Filtered:
    return Filtered(
        edge=made.kind,
        box=box,
        hz=made.frequency_hz,
        family=made.family,
        order=made.order,
        speaker=speaker,
    )


def _corner(filters: Sequence[Filtered], edge: Literal["high-pass", "low-pass"]) -> float | None:
    """Return the corner [Hz] of what head unit and amplifier make on an edge together."""
    acting = [
        (made.hz, made.order) for made in filters if made.edge == edge and made.box != "passive"
    ]
    return stacked(edge, acting).corner_hz

"""The channel table: one row for each output of the amplifier, with all that belongs to it.

It is the heart of a plan.  Wiring, settings, gains, readings and the drawn sum are made from these
rows or from the same data as they are, never from words.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Literal

from calc.bridging.mapping import Output, Use
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.balance import Balance, Volts
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.wirings import Wiring
from calc.choosing.questions.coils import coil_question
from calc.choosing.questions.crossovers import SplitQuestion, channel_texts
from calc.crossovers.filter_split import Box, SplitSection
from calc.physics.filter_stacks import stacked
from calc.physics.filters import Filter

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
class Load:
    """A speaker on an output, or a set with its network.

    row : of its speakers in the system, from 0
    kind : a speaker of one coil, a set with a network of its own, or a speaker of several coils
    load_ohm : of its coils together as they are wired; of a driver among several, all in parallel
    power_w : that it gets [W]; None where that is not known
    plus_to, minus_to : its terminals on the output's leads + and −; none where that is not known
    """

    row: int
    speaker: str
    kind: Literal["speaker", "set", "coils"]
    coils: int
    load_ohm: float
    rated_w: float
    power_w: float | None
    plus_to: tuple[str, ...]
    minus_to: tuple[str, ...]

    def data(self) -> dict[str, object]:
        """Return the load as plain data."""
        return {
            key: list(value) if isinstance(value, tuple) else value
            for key, value in asdict(self).items()
            if key != "row"
        }


@dataclass(frozen=True, kw_only=True)
class Channel:
    """A row of the table; a figure that is not known is None.

    amplifier : its name; `part` is its number among those installed
    output : `1`, or `3+4` for a bridged pair, as the amplifier itself numbers them
    through : the same numbered through all amplifiers
    plus, minus : the amplifier's terminals for the leads + and −
    plus_to, minus_to : the terminals of the speakers that these leads go to; `+`, or coil
        terminals such as `1a+`
    input : the head unit's output that feeds it
    loads : the speakers on it one by one; those of two joined pairs are in parallel
    links : the terminals of coils that are joined with one another and with no lead
    wiring : how several coils or speakers on it are joined, as `coil-wiring` writes it
    power_w : that the output brings [W]
    high_pass_hz, low_pass_hz : of the filters of head unit and amplifier that act together [Hz]
    delay_ms : to be set; None where no box can delay
    polarity : `reversed` where + of the output goes to − of the speaker
    try_both : both ways are to be tried, and the louder at `meets_hz` kept
    ceiling_v, start_v : the gain's two voltages, at 0 dBFS [V]
    """

    amplifier: str
    part: int
    output: str
    through: Output
    plus: str
    minus: str
    plus_to: tuple[str, ...]
    minus_to: tuple[str, ...]
    input: str
    speaker: str
    side: Side
    loads: tuple[Load, ...]
    links: tuple[tuple[str, ...], ...]
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
            if key not in ("part", "through", "loads")
        } | {
            "loads": [load.data() for load in self.loads],
            "links": [list(ends) for ends in self.links],
        }


def output_names(feed: Feed, use: Use) -> list[str]:
    """Name the outputs of a feed: left and right of a pair, by number where there are more."""
    if len(use.outputs) == 1:
        return [feed.name]
    if len(use.outputs) == 2 and feed.section != "woofer":
        return [f"{feed.short} {side}" for side in ("left", "right")]
    return [f"{feed.short} {at}" for at in range(1, len(use.outputs) + 1)]


def channels_of(
    layout: Layout,
    *,
    split: SplitQuestion,
    delays_ms: Mapping[str, float],
    balance: Balance,
    sources: Sequence[str],
) -> tuple[Channel, ...]:
    """Return the rows of a layout, in the order of the outputs; none where the split is not known.

    split : the question about the filters, with its answer
    delays_ms : the delay of each feed by its name, where a box can delay; else empty
    sources : what carries the signal from the head unit to each amplifier, in words
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
                    (feed, wiring, use),
                    output,
                    side,
                    [section for section in of_feed[at] if output[0] in section.section.channels],
                    balance.volts[at],
                    delay_ms=delays_ms.get(feed.name),
                    source=_source(layout, feed, output, side, sources),
                )
            )
    return tuple(sorted(channels, key=lambda channel: channel.through))


def turned_outputs(channels: Iterable[Channel]) -> frozenset[Output]:
    """Return the outputs whose + goes to the speaker's −, numbered through all amplifiers."""
    return frozenset(channel.through for channel in channels if channel.polarity == "reversed")


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


def _source(layout: Layout, feed: Feed, output: Output, side: Side, sources: Sequence[str]) -> str:
    part = layout.installed.part_of(output)
    sums = part.amplifier.channels == 1
    return _input(feed, part.own(output), side, sources[part.at], sums=sums)


def _input(feed: Feed, own: Output, side: Side, source: str, *, sums: bool) -> str:
    """Say which output of the head unit feeds it, an output as its amplifier numbers it.

    sums : a mono amplifier, which adds up its two inputs (common practice, no source)
    """
    word = feed.speaker.output
    plugs = "+".join(str(channel) for channel in own)
    if word is None:
        return f"input {plugs}"
    which: str = side
    if side == "both":  # mono: one plug of the pair for a channel, both for a bridged pair
        which = "both sides" if len(own) == 2 or sums else ("left" if own[0] % 2 else "right")
    return f"{word} {source}, {which}"


def terminals(output: Output) -> tuple[str, str]:
    """Return the terminals for + and − of an output; of a bridged pair the usual ones.

    Which two a pair has for bridging, its marks tell; the outer ones are common practice, no
    source.

    >>> terminals((1,)), terminals((3, 4))
    (('1+', '1-'), ('3+', '4-'))
    """
    return f"{output[0]}+", f"{output[-1]}-"


@dataclass(frozen=True)
class _Joins:
    """Where the leads + and − of an output go, what is linked, and the wiring's notation."""

    plus: tuple[str, ...] = ()
    minus: tuple[str, ...] = ()
    links: tuple[tuple[str, ...], ...] = ()
    notation: str | None = None


def _joins(feed: Feed, wiring: Wiring, use: Use, is_reversed: bool) -> _Joins:
    question = coil_question(feed, wiring, use, is_reversed=is_reversed)
    if question is None:
        return _Joins(("-" if is_reversed else "+",), ("+" if is_reversed else "-",))
    result = question.result
    if result is None or result.best is None:
        return _Joins()
    nets = result.nets_of(result.best)
    links = tuple(tuple(ends) for name, ends in nets.items() if not name.startswith("amp"))
    notation = result.best.circuit.notation
    return _Joins(tuple(nets["amp+"]), tuple(nets["amp-"]), links, notation)


def _loads(
    feed: Feed, wiring: Wiring, use: Use, joins: _Joins, names: Sequence[str]
) -> Iterator[Load]:
    """Yield the speakers on an output of a feed one by one."""
    drivers = use.per_output * wiring.drivers
    power = use.power.best
    if feed.branches:
        for member in feed.members:
            above = names[: len(member.rows) - 1]  # on a network of the reader's
            yield Load(
                row=member.rows[0],
                speaker=" + ".join([*above, member.name]),
                kind="set" if member.speaker.has_network or above else "speaker",
                coils=1,
                load_ohm=member.speaker.coil_ohm,
                rated_w=member.speaker.rated_w,
                power_w=None if power is None else power * feed.share_of(member),
                plus_to=joins.plus,
                minus_to=joins.minus,
            )
        return
    speaker = feed.speaker
    is_set = speaker.has_network or len(feed.rows) > 1
    for number in range(1, drivers + 1):
        mine = f"{number}" if drivers * speaker.coils > 1 else ""
        yield Load(
            row=feed.rows[0],
            speaker=" + ".join(names),
            kind="set" if is_set else "coils" if speaker.coils > 1 else "speaker",
            coils=speaker.coils,
            load_ohm=use.load_ohm if drivers == 1 else speaker.parallel_ohm,
            rated_w=speaker.rated_w,
            power_w=None if power is None else power / drivers,
            plus_to=tuple(end for end in joins.plus if end[:-2] == mine),
            minus_to=tuple(end for end in joins.minus if end[:-2] == mine),
        )


def _row(
    layout: Layout,
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
    joins = _joins(feed, wiring, use, is_reversed)
    part = layout.installed.part_of(output)
    own = part.own(output)
    plus, minus = terminals(own)
    filters = tuple(_filters(layout, feed, sections))
    polarities = [section.polarity for section in sections]
    compared = next((turn for turn in polarities if turn.at_hz is not None), lowest.polarity)
    names = [layout.job.speakers[row].name for row in reversed(feed.rows)]
    return Channel(
        amplifier=part.name,
        part=part.at,
        output="+".join(map(str, own)),
        through=output,
        plus=plus,
        minus=minus,
        plus_to=joins.plus,
        minus_to=joins.minus,
        input=source,
        speaker=" + ".join(names),
        side=side,
        loads=tuple(_loads(feed, wiring, use, joins, names)),
        links=joins.links,
        wiring=joins.notation,
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
        own = feed.members[0].speaker if row == feed.rows[0] else layout.job.speakers[row]
        name = own.name if shared else None
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

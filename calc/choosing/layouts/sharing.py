"""Pairs that share: two joined left with left on one output, or one left on the radio's own power.

Who has a front pair, a rear pair and a subwoofer has too few channels in one amplifier of four.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.answers.figures import quantity
from calc.choosing.layouts.feed import Feed

FAR_APART_DB = 3.0  # a difference of sensitivity that is told (common practice, no source)


@dataclass(frozen=True)
class Sharing:
    """What a layout gives up so that the outputs suffice.

    joined : two pairs that share an output on each side, by their rows; the front's first
    on_radio : the row of a pair that stays on the radio's own power
    """

    joined: tuple[int, int] | None = None
    on_radio: int | None = None

    @property
    def count(self) -> int:
        """How many things are given up."""
        return (self.joined is not None) + (self.on_radio is not None)


APART = Sharing()


def sharings(
    feeds: Sequence[Feed], filtered: frozenset[int], *, is_processor: bool
) -> Iterator[Sharing]:
    """Yield every way to share: first none, then pairs joined, then a rear pair on the radio.

    Joined are pairs that play the whole range above the subwoofer, of a coil each; that at the
    rear is on no network of the reader's.  A processor has no power of its own, and the front pair
    stays amplified: where the front is active, every other pair may stay behind.

    filtered : the rows that have a passive filter to themselves; they are not joined
    """
    yield APART
    pairs = sorted((feed for feed in feeds if _is_pair(feed)), key=lambda feed: feed.front_first)
    for at, front in enumerate(pairs):
        for rear in pairs[at + 1 :]:
            if len(rear.rows) == 1 and not filtered & {front.rows[0], rear.rows[0]}:
                yield Sharing(joined=(front.rows[0], rear.rows[0]))
    has_front = any(feed not in pairs and feed.section != "woofer" for feed in feeds)
    for rear in pairs if has_front else pairs[1:]:
        if len(rear.rows) == 1 and not is_processor:
            yield Sharing(on_radio=rear.rows[0])


def _is_pair(feed: Feed) -> bool:
    """Tell whether a pair plays the whole range, by itself or on a network of the reader's."""
    return (
        feed.section == "full-range"
        and feed.speaker.section in ("full-range", "mid-bass")
        and feed.count == 2
        and feed.speaker.coils == 1
    )


def shared(feeds: Sequence[Feed], sharing: Sharing) -> tuple[Feed, ...]:
    """Return the feeds as the amplifier sees them: a joined pair at its front's place."""
    of_row = {feed.rows[0]: feed for feed in feeds}
    gone = {sharing.on_radio}
    changed = {}
    if sharing.joined is not None:
        front, rear = sharing.joined
        gone.add(rear)
        changed[front] = _joined(of_row[front], of_row[rear])
    return tuple(changed.get(feed.rows[0], feed) for feed in feeds if feed.rows[0] not in gone)


def _joined(front: Feed, rear: Feed) -> Feed:
    """Return two pairs as one: left with left, right with right, in parallel.

    One voltage drives both, so that the rating of both together is what the weaker of them bears,
    U² = min(P·R); safe is what is safe for both.  One hears where it comes from by the front.

    Source: Ohm's law.
    """
    pairs = (front.speaker, rear.speaker)
    load = 1 / sum(1 / pair.coil_ohm for pair in pairs)
    square = min(pair.rated_w * pair.coil_ohm for pair in pairs)
    lows = [pair.lowest_hz for pair in pairs if pair.lowest_hz is not None]
    speaker = replace(
        front.speaker,
        name=f"{front.name} + {rear.name}",
        coil_ohm=load,
        rated_w=square / load,
        need_w=None,
        lowest_hz=max(lows, default=None),
        order=max(pair.order for pair in pairs),
        has_network=any(pair.has_network for pair in pairs),
    )
    return replace(front, speaker=speaker, branches=(front, rear))


def given_up(sharing: Sharing, feeds: Sequence[Feed], radio_w: float | None) -> Iterator[str]:
    """Yield in words what a way to share gives up.

    radio_w : of a speaker on the radio's own power [W]
    """
    of_row = {feed.rows[0]: feed for feed in feeds}
    if sharing.joined is not None:
        front, rear = (of_row[row] for row in sharing.joined)
        words = (
            f"no fader and one crossover setting, because {front.name} and {rear.name} "
            "share an output on each side"
        )
        away = front.speaker.sensitivity_db - rear.speaker.sensitivity_db
        if math.fabs(away) > FAR_APART_DB:
            louder = front if away > 0 else rear
            words += f"; {louder.name} play {quantity(math.fabs(away), 'dB', 2)} louder"
        yield words
    if sharing.on_radio is not None:
        rear = of_row[sharing.on_radio]
        power = "" if radio_w is None else f" ({quantity(radio_w, 'W', 2)} each)"
        yield (
            f"{rear.name} stay on the head unit’s own power{power}, without the amplifier’s filters"
        )

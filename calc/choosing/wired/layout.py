"""Where everything stands in a drawing of the whole system, and the wires between.

Columns from the left: sources with the power tree below them, lanes, a band for labels, the
amplifiers, another band, two buses, crossovers, speakers.  No lane enters a band.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from xml.etree.ElementTree import Element

from calc.answers.sheet import Drawing
from calc.choosing.wired.lanes import Net, near_levels, ordered
from calc.choosing.wired.loads import reach
from calc.choosing.wired.outputs import Stood, draw_bodies, load_x, right_end, stand
from calc.choosing.wired.pen import EDGE, SPEAKERS, SUPPLY, WHOLE, Pen, Sizes
from calc.choosing.wired.sources import (
    BATTERY_ROOM,
    MAIN_X,
    Column,
    draw_power,
    draw_sources,
    stand_column,
)
from calc.choosing.wired.system import BLOCK, Earth, LeadKind, Wired
from calc.choosing.wired.system import SUPPLY as SUPPLY_PIN
from calc.choosing.wired.trunks import Path, trunk
from calc.choosing.wired.words import description_of

_TO_LANES, _FROM_LANES = 14.0, 10.0
_NARROWEST_LANE = 5.2
_FREE = 50  # an order that costs this much lets wires lie on one another or touch a bend
_PART_NAME = 66.0
_NARROWEST_BAND, _WIDEST_BAND = 84.0, 116.0
_BESIDE_GROUND = 18.0  # of the body's sign to the lane at its left


def whole_drawings(wired: Wired) -> tuple[Drawing, tuple[Drawing, Drawing]]:
    """Return the drawing for paper and wide pages, and its two halves for narrow ones."""
    description = description_of(wired)

    def made(size: Sizes, title: str, name: str) -> Drawing:
        return Drawing(title, description, _draw(wired, size), name=name)

    return made(WHOLE, wired.title, "whole-system"), (
        made(SUPPLY, "Supply, remote lead, RCA leads", "whole-system-supply"),
        made(SPEAKERS, "Speakers", "whole-system-speakers"),
    )


def halves_at(wired: Wired, text: float) -> tuple[Drawing, Drawing]:
    """Return the two halves with text of another size, for paper that the whole one overruns."""
    description = description_of(wired)
    supply, speakers = (replace(size, text=text) for size in (SUPPLY, SPEAKERS))
    return (
        Drawing("Supply, remote lead, RCA leads", description, _draw(wired, supply)),
        Drawing("Speakers", description, _draw(wired, speakers)),
    )


@dataclass(frozen=True)
class _Joined:
    """A net between the left column and the amplifiers: its ends as pins, with their labels."""

    kind: LeadKind
    start: str
    ends: tuple[str, ...]
    words: tuple[str, ...]


def _joined(wired: Wired) -> tuple[_Joined, ...]:
    """Return the nets that leave the left column, each of one source pin with all its ends."""
    power = wired.power
    found: dict[str, list[tuple[LeadKind, str, str]]] = {}
    for branch in power.branches:
        start = f"{BLOCK}.{branch.end}" if power.has_block else "main"
        kind: LeadKind = "later" if branch.is_later else "power"
        found.setdefault(start, []).append((kind, branch.end, branch.words))
    inlets = {
        f"{one.key}.{name}{sign}" for one in wired.sources for name in one.inlets for sign in "+-"
    }
    for lead in wired.leads:
        if lead.end not in inlets:
            found.setdefault(lead.start, []).append((lead.kind, lead.end, lead.words))
    return tuple(
        _Joined(ends[0][0], start, tuple(end for _, end, _ in ends), tuple(w for _, _, w in ends))
        for start, ends in found.items()
    )


class _Supply:
    """The left half in its place, with an order of its lanes."""

    def __init__(
        self, wired: Wired, stood: Sequence[Stood], size: Sizes, shift: tuple[float, float]
    ) -> None:
        self.wired, self.size = wired, size
        self.right = {f"{one.body.key}.{key}": y for one in stood for key, y in one.inputs.items()}
        first = next(iter(self.right.values()))
        target = next((y for pin, y in self.right.items() if pin.endswith(f".{SUPPLY_PIN}")), first)
        self.column: Column = stand_column(
            wired.sources,
            wired.power,
            size,
            first_pin_y=first,
            target_y=target,
            least_bottom=max(stood[-1].bottom + 2, max(self.right.values()) + 96),
            shift=shift,
        )
        self.left = {
            f"{one.source.key}.{key}": y
            for one in self.column.sources
            for key, y in one.pins.items()
        }
        for branch, y in zip(wired.power.branches, self.column.branches, strict=False):
            self.left[f"{BLOCK}.{branch.end}" if wired.power.has_block else "main"] = y
        self.joined = _joined(wired)
        self.meeting = _meeting(wired.earths)
        self.band = size.band

    @cached_property
    def foot_y(self) -> float:
        """Where the earth leads that meet go to the body, below all that goes across."""
        return max(self.right.values()) + 16

    @cached_property
    def nets(self) -> list[Net]:
        """The nets by their heights; the last is that of the earth leads that meet."""
        made = []
        for one in self.joined:
            pins = (one.start, *one.ends)
            made.append(
                Net(
                    tuple(self.left[pin] for pin in pins if pin in self.left),
                    tuple(self.right[pin] for pin in pins if pin not in self.left),
                )
            )
        if self.meeting:
            heights = [self.right[earth.start] for earth in self.meeting]
            made.append(Net((), (*heights, self.foot_y)))
        return made

    @cached_property
    def _ordered(self) -> tuple[list[int], int]:
        return ordered(self.nets, len(self.joined) if self.meeting else None)

    @property
    def order(self) -> list[int]:
        """The nets that need a lane, the leftmost first."""
        return self._ordered[0]

    @property
    def cost(self) -> int:
        """What this order costs."""
        return self._ordered[1]

    @property
    def near_levels(self) -> int:
        """How often an end at the left is nearly level with another net's end at the right."""
        return near_levels(self.nets)

    def lane_pitch(self, most: float) -> float:
        """Return how far apart the lanes are in so much room."""
        gaps = max(1, len(self.order) - 1)
        return max(_NARROWEST_LANE, min(self.size.lane, most / gaps))

    def label_x(self, pitch: float) -> float:
        """Return where the labels' band begins."""
        return self.lane_x(len(self.order) - 1, pitch) + _FROM_LANES

    def lane_x(self, place: int, pitch: float) -> float:
        """Return where a lane is; the last one passes the battery's words if it goes back there."""
        x = self.size.source + _TO_LANES + max(0, place) * pitch
        if not self.meeting or place < len(self.order) - 1:
            return x
        if self.meeting[0].by_cable:
            return max(x, MAIN_X + 20 + BATTERY_ROOM)
        return x + max(0.0, _BESIDE_GROUND - pitch)

    def draw(self, pen: Pen, x: float, pitch: float) -> None:
        """Draw the left half; the amplifiers' left edge is at x."""
        draw_sources(pen, self.column, set(self.wired.used()))
        draw_power(pen, self.column, self.wired.power)
        self._upright_leads(pen)
        lane_of = {at: self.lane_x(place, pitch) for place, at in enumerate(self.order)}
        for at, one in enumerate(self.joined):
            ends = [self._way(pen, pin) for pin in (one.start, *one.ends)]
            pen.net(one.kind, trunk(lane_of.get(at, x), ends))
            for pin, words in zip(one.ends, one.words, strict=True):
                if pin in self.right:
                    self._label(pen, x, pin, words)
        self._draw_earths(pen, x, lane_of.get(len(self.joined), x))

    def _way(self, pen: Pen, pin: str) -> Path:
        if pin == "main":
            start = (MAIN_X, self.column.fuse_y - 14)
            return (start, (MAIN_X, self.left["main"]))
        return (pen.pins[pin],)

    def _label(self, pen: Pen, x: float, pin: str, words: str) -> None:
        y = self.right[pin] - self.size.text * 0.72
        pen.label(x - self.band + 2, y, words, self.band - 4)

    def _upright_leads(self, pen: Pen) -> None:
        """Draw the leads from a source's lower edge straight down to the next one's upper edge."""
        for lead in self.wired.leads:
            start, end = pen.pins.get(lead.start), pen.pins.get(lead.end)
            if start and end and start[0] == end[0] != self.size.source:
                pen.wire(lead.kind, start, end)

    def _draw_earths(self, pen: Pen, x: float, lane: float) -> None:
        for earth in self.wired.earths:
            y = self.right.get(earth.start)
            if y is None:
                continue
            self._label(pen, x, earth.start, earth.words)
            if earth not in self.meeting:
                pen.wire("earth", (x, y), (x - 20, y), (x - 20, y + 14))
                pen.ground(x - 20, y + 14)
                pen.pin(f"body.{earth.start}", x - 20, y + 14, is_shown=False)
        if not self.meeting:
            return
        ends: list[Path] = [(pen.pins[earth.start],) for earth in self.meeting]
        foot = self.foot_y
        if self.meeting[0].by_cable:
            foot = self.column.bottom - 18
            ends.append(((MAIN_X, foot),))
            pen.dot(MAIN_X, foot)
        else:
            ends.append(((lane, foot),))
            pen.ground(lane, foot)
            pen.pin("body.meeting", lane, foot, is_shown=False)
            pen.text(lane + 16, foot + 4, "one point")
        pen.net("earth", trunk(lane, ends))


def _meeting(earths: Sequence[Earth]) -> tuple[Earth, ...]:
    """Return the earth leads that meet at one point, or at the battery."""
    by_cable = tuple(earth for earth in earths if earth.by_cable)
    if by_cable:
        return by_cable
    points = [earth.point for earth in earths if earth.point]
    shared = next((point for point in points if points.count(point) > 1), None)
    return tuple(earth for earth in earths if shared and earth.point == shared)


def _shifts(size: Sizes) -> Iterator[tuple[float, float]]:
    """Yield how far down sources and block may be moved, the least first."""
    sources = (0.0, 0.5, 0.33, 0.67, 0.25, 0.75, 0.4, 0.6, 0.15, 0.85)
    for source in sources:
        for block in (0.0, -8.0, 8.0, -4.0, 4.0, -12.0, 12.0, -16.0, 16.0, -24.0, 24.0):
            yield source * size.row, block


def _placed(wired: Wired, stood: Sequence[Stood], size: Sizes) -> _Supply:
    """Return a placing with room for every wire: as it comes, else the least moved.

    Where no end at the left is nearly level with another net's end at the right, every order of
    the lanes is free: only there is it worked out.
    """
    first = _Supply(wired, stood, size, (0.0, 0.0))
    if first.cost < _FREE:
        return first
    best = first
    for shift in _shifts(size):
        made = _Supply(wired, stood, size, shift)
        if made.near_levels < best.near_levels:
            best = made
        if not best.near_levels:
            break
    return best


def _draw(wired: Wired, size: Sizes) -> Element:
    pen = Pen(size)
    stood = stand(wired.bodies, size)
    height = stood[-1].bottom + 2
    if not size.has_supply:
        draw_bodies(pen, stood, EDGE, ())
        return pen.picture(size.width, height + 2)
    placed = _placed(wired, stood, size)
    most = _most_x(wired, size)
    pitch = placed.lane_pitch(most - size.band - placed.label_x(0))
    room = most - placed.label_x(pitch)
    placed.band = max(_NARROWEST_BAND, min(_WIDEST_BAND * size.scale, room))
    x = placed.label_x(pitch) + placed.band
    draw_bodies(pen, stood, x, frozenset(wired.used()))
    placed.draw(pen, x, pitch)
    width = size.width if size.is_whole else right_end(x, size)
    return pen.picture(width, max(height, placed.column.bottom) + 2)


def _most_x(wired: Wired, size: Sizes) -> float:
    """Return how far right the amplifiers may begin, for all their loads to have room."""
    if not size.has_speakers:
        return size.width - size.amplifier - EDGE
    loads = [load for body in wired.bodies for output in body.outputs for load in output.loads]
    widest = max((reach(load, size) for load in loads), default=0.0) + _PART_NAME
    return size.width - widest - load_x(size.amplifier, size)

"""The left column of the drawing: what plays, what switches, and the power tree below.

From the top: the sources, a fused block where there are several branches, main fuse, battery and
the body's sign, on one upright wire.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.answers.drawing import number
from calc.choosing.wired.loads import spoken
from calc.choosing.wired.pen import EDGE, HEAVY, Pen, Sizes
from calc.choosing.wired.system import BLOCK, MAIN_FUSE, Branch, Power, Source

MAIN_X = 18.0
_BRANCH_PITCH = 34.0
_EARTH_ROOM, _INLET_ROOM = 20.0, 34.0
BATTERY_ROOM = 106.0
_SIGN_PITCH = 9.5  # room for the sign of each wire


@dataclass(frozen=True)
class StoodSource:
    """A source in its place."""

    source: Source
    top: float
    bottom: float
    pins: dict[str, float]


@dataclass(frozen=True)
class Column:
    """The left column in its place.

    sources_end : below the lowest source
    block : top and bottom of the block; None where there is none
    branches : the height of each branch, or of the main run where it leaves the upright wire
    bottom : the lowest end of the column
    """

    sources: tuple[StoodSource, ...]
    sources_end: float
    block: tuple[float, float] | None
    branches: tuple[float, ...]
    fuse_y: float
    battery_y: float
    bottom: float


def stand_column(
    sources: Sequence[Source],
    power: Power,
    size: Sizes,
    *,
    first_pin_y: float,
    target_y: float,
    least_bottom: float,
    shift: tuple[float, float] = (0.0, 0.0),
) -> Column:
    """Place the left column.

    first_pin_y : height of the first input, with which the first pin is level
    target_y : height of the supply terminal, where there is no block
    least_bottom : how far down the rest of the drawing goes
    shift : how far down sources and block are moved, where no order of the lanes was free
    """
    stood = _stand_sources(sources, size, first_pin_y, shift[0])
    end = stood[-1].bottom + 24 + (_EARTH_ROOM if stood[-1].source.earth else 0)
    text = size.text
    block_height = text + 16 + len(power.branches) * _BRANCH_PITCH if power.has_block else 0
    below = 132 + 5 * text + 26  # fuse, battery and sign with what is written beside them
    bottom = max(least_bottom, end + block_height + below + 10)
    battery_y = bottom - 56
    fuse_y = battery_y - 60
    run_y = fuse_y - 14 - 2.2 * text
    if not power.has_block:
        leaves = max(end - 12, min(target_y, run_y - text)) + max(0.0, shift[1])
        return Column(stood, end, None, (leaves,), fuse_y, battery_y, bottom)
    top = shift[1] + max(end, run_y - text - 36 - block_height)
    first = top + text + 30
    heights = tuple(first + at * _BRANCH_PITCH for at in range(len(power.branches)))
    block = (top, top + block_height)
    return Column(stood, end, block, heights, fuse_y, battery_y, bottom)


def _stand_sources(
    sources: Sequence[Source], size: Sizes, first_pin_y: float, shift: float
) -> tuple[StoodSource, ...]:
    stood: list[StoodSource] = []
    y = 2.0
    for at, source in enumerate(sources):
        if source.inlets:
            y += _INLET_ROOM - 24
        top = y
        y += 2.6 * size.text if source.inlets else 0
        y += size.text * (1.2 * len(source.name) + 1.2)
        if not at:
            y = max(y, first_pin_y) + shift
        pins = {}
        for row, pin in enumerate(source.pins):
            if row:
                y += size.pitch if pin.is_close else size.row
            pins[pin.key] = y
        y += 16 if source.pins else -4
        y += 2.6 * size.text if source.outlets else 0
        stood.append(StoodSource(source, top, y, pins))
        y += 24 + (_EARTH_ROOM if source.earth else 0)
    return tuple(stood)


def draw_sources(pen: Pen, column: Column, used: set[str]) -> None:
    """Draw the sources with their pins; one that no lead is joined to says so."""
    size = pen.size
    for one in column.sources:
        source = one.source
        top = one.top + (2.6 * size.text if source.inlets else 0)
        for at, words in enumerate(source.name):
            y = top + size.text * (0.9 + 1.2 * at)
            middle = (EDGE + size.source) / 2
            pen.text(middle, y, words, "middle", bold=True, room=size.source - 6)
        for pin in source.pins:
            name, height = f"{source.key}.{pin.key}", one.pins[pin.key]
            pen.pin(name, size.source, height)
            label = pin.label if name in used else f"{pin.label.removeprefix('RCA ')} not used"
            pen.text(size.source - 8, height, label, "end", room=size.source - 12)
        pen.box(EDGE, one.top, size.source - EDGE, one.bottom - one.top)
        _edge_pins(pen, source, source.inlets, one.top, 1)
        _edge_pins(pen, source, source.outlets, one.bottom, -1)
        if source.earth:
            _earth(pen, f"{source.key}.{source.earth}", size.source / 2, one.bottom)


def _edge_pins(pen: Pen, source: Source, pairs: Sequence[str], edge: float, inwards: int) -> None:
    """Draw pairs of pins on an upper or lower edge, with their names inside the box."""
    if not pairs:
        return
    text, left = pen.size.text, 7 + EDGE / 2
    pitch = (pen.size.source - 14) / (2 * len(pairs))
    first, second = edge + inwards * text * 0.8, edge + inwards * text * 1.9
    for at, name in enumerate(pairs):
        middle = left + (2 * at + 1) * pitch
        for row, sign in enumerate("+-"):
            x = middle + (row - 0.5) * pitch
            pen.pin(f"{source.key}.{name}{sign}", x, edge)
            if pitch >= _SIGN_PITCH:
                pen.text(x, first, spoken(sign), "middle")
        if pitch >= _SIGN_PITCH:
            pen.text(middle, second, name, "middle")
        else:  # which is + and which − the lines tell
            pen.text(middle, first, name[-1:], "middle", room=2 * pitch)
            if at % 2:
                pen.text(middle - pitch, second, name[:-1], "middle", room=4 * pitch)


def _earth(pen: Pen, name: str, x: float, y: float) -> None:
    pen.pin(name, x, y)
    pen.wire("earth", (x, y), (x, y + 12))
    pen.ground(x, y + 12)
    pen.text(x + 14, y + 9, name.rpartition(".")[2])
    pen.pin(f"body.{name}", x, y + 12, is_shown=False)


def draw_power(pen: Pen, column: Column, power: Power) -> None:
    """Draw battery, main fuse and block; the branches' own wires begin at the block's edge."""
    text, x = pen.size.text, MAIN_X
    fuse_y, y = column.fuse_y, column.battery_y
    ground = column.bottom - 14
    pen.ground(x, ground)
    pen.path(f"M{number(x - 14)} {number(y - 4)}h28")
    pen.path(f"M{number(x - 7)} {number(y + 4)}h14", HEAVY)
    pen.pin("battery.+", x, y - 4, is_shown=False)
    pen.pin("battery.-", x, y + 4, is_shown=False)
    pen.pin("body.battery", x, ground, is_shown=False)
    pen.wire("earth", (x, y + 4), (x, ground))
    pen.text(x + 20, y - text * 0.6, "battery, 12 V", bold=True)
    for at, words in enumerate(power.battery[:2]):  # no lane comes down here
        pen.text(x + 20, y + text * (0.6 + 1.15 * at), words, room=BATTERY_ROOM - 4)
    room = pen.size.source + 13
    pen.fuse(x, fuse_y, upright=True)
    pen.pin(f"{MAIN_FUSE}.a", x, fuse_y + 14, is_shown=False)
    pen.pin(f"{MAIN_FUSE}.b", x, fuse_y - 14, is_shown=False)
    pen.wire("power", (x, y - 4), (x, fuse_y + 14))
    beside = x + 10
    pen.text(beside, fuse_y - text * 0.6, "main fuse", bold=True)
    pen.text(beside, fuse_y + text * 0.6, power.fuse, bold=True, room=room - beside)
    where = power.fuse_where if pen.size.is_whole else power.fuse_where.replace("max ", "≤ ")
    pen.text(beside, fuse_y + 16 + text * 0.9, where, room=room - beside)
    run_y = fuse_y - 14 - 2.2 * text
    for at, words in enumerate(power.main):
        pen.label(beside, run_y + at * 1.15 * text, words, room - beside)
    if column.block is not None:
        _draw_block(pen, column, power.branches, column.block)


def _draw_block(
    pen: Pen, column: Column, branches: Sequence[Branch], block: tuple[float, float]
) -> None:
    """Draw the block: one bus inside, each branch through its own fuse."""
    size, x = pen.size, MAIN_X
    top, bottom = block
    is_fused = any(branch.fuse for branch in branches)
    pen.box(EDGE, top, size.source - EDGE, bottom - top)
    title = "fused block" if is_fused else "block"
    middle = (EDGE + size.source) / 2
    pen.text(middle, top + size.text * 0.9, title, "middle", bold=True)
    pen.pin(f"{BLOCK}.in", x, bottom)
    pen.wire("power", (x, column.fuse_y - 14), (x, bottom))
    served = [at for at, branch in enumerate(branches) if not branch.is_later]
    for at, branch in enumerate(branches):
        y = column.branches[at]
        name = f"{BLOCK}.{branch.end}"
        pen.pin(name, size.source, y)
        if branch.is_later:
            pen.text(x + 42, y - size.text * 0.72, "free", bold=True)
            continue
        start = [(x, bottom)] if at == served[0] else []
        if branch.fuse:
            pen.fuse(x + 24, y)
            pen.pin(f"fuse {branch.end}.a", x + 12, y, is_shown=False)
            pen.pin(f"fuse {branch.end}.b", x + 36, y, is_shown=False)
            pen.wire("power", *start, (x, y), (x + 12, y))
            pen.wire("power", (x + 36, y), (size.source, y))
            pen.text(x + 42, y - size.text * 0.72, branch.fuse, bold=True)
        else:
            pen.wire("power", *start, (x, y), (size.source, y))
        if at != served[0]:
            pen.dot(x, y)

"""Amplifiers in the drawing: a box each, one below another, with inputs left and outputs right."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calc.choosing.wired.loads import Placed, above, below, draw_load, spoken
from calc.choosing.wired.pen import EDGE, HEAVY, LINE, THIN, Pen, Sizes
from calc.choosing.wired.system import Body, Load, Output
from calc.choosing.wired.trunks import Path, trunk
from calc.choosing.wired.widths import in_two_lines

_TOP, _BETWEEN = 2.0, 16.0
_BUSES = 12.0  # from the + bus to the − bus
_BELOW_GROUND = 34.0  # the earth's sign


@dataclass(frozen=True)
class Row:
    """An output in its place.

    terminals : the height of each of its terminals
    loads : each with the height of its upper pin
    bottom : where the next output may begin
    """

    output: Output
    terminals: Mapping[str, float]
    loads: tuple[tuple[Load, float], ...]
    bottom: float


@dataclass(frozen=True)
class Stood:
    """An amplifier in its place: the box from top to bottom, its inputs' heights, its outputs.

    names : its name in one line or two; `name_y` is the middle of the first
    """

    body: Body
    names: tuple[str, ...]
    top: float
    bottom: float
    name_y: float
    inputs: Mapping[str, float]
    rows: tuple[Row, ...]


def stand(bodies: Sequence[Body], size: Sizes) -> tuple[Stood, ...]:
    """Place the amplifiers one below another; each is as high as its terminals or loads ask."""
    made, y = [], _TOP
    for body in bodies:
        if body.kind == "radio" and not size.has_speakers:
            continue
        if body.kind == "later" and not size.has_supply:
            continue
        one = _stand(body, y, size)
        made.append(one)
        y = one.bottom + _BETWEEN
    return tuple(made)


def _stand(body: Body, y: float, size: Sizes) -> Stood:
    text = size.text
    names: tuple[str, ...] = (body.name,)
    if size.is_whole:
        names = in_two_lines(body.name, text, size.amplifier - 8)
        top, name_y, start = y, y + text * 0.9, y + text + 12 + (len(names) - 1) * text * 1.2
    else:
        name_y, top = y + text / 2, y + text + 6
        start = top + (6 if size.has_speakers else 2)
    inputs: dict[str, float] = {}
    end = start
    if size.has_supply and body.inputs:
        height = start + (text + 8 if size.is_whole else 2.6 * text)
        for at, pin in enumerate(body.inputs):
            if at:
                height += size.pitch if pin.is_close else size.row
            inputs[pin.key] = height
        end = height + _BELOW_GROUND
    rows: list[Row] = []
    if size.has_speakers:
        below_name = start
        for output in body.outputs:
            rows.append(_row(output, below_name, size))
            below_name = rows[-1].bottom + size.gap
        if rows:
            end = max(end, rows[-1].bottom + (0 if rows[-1].loads else 12))
    return Stood(body, names, top, end + 4, name_y, inputs, tuple(rows))


def _row(output: Output, y: float, size: Sizes) -> Row:
    names = output.terminals
    if not output.loads:
        first = y + 10
        heights = {name: first + at * size.pitch for at, name in enumerate(names)}
        return Row(output, heights, (), first + (len(names) - 1) * size.pitch)
    before = names.index(output.plus) * size.pitch
    first_load = output.loads[0]
    room = above(first_load, size, has_capacitor=bool(output.capacitor))
    first = max(y + room, y + 10 + before)
    heights = {name: first - before + at * size.pitch for at, name in enumerate(names)}
    loads, end = [(first_load, first)], first + below(first_load, size)
    minus = heights[output.minus]
    for load in output.loads[1:]:
        height = end + above(load, size)
        if 0 < height + size.pitch - minus <= 6:  # its − straight on, not past a small step
            height = minus - size.pitch
        if abs(height - minus) < 9:  # two wires side by side would look like one
            height = minus + 9
        loads.append((load, height))
        end = height + below(load, size)
    return Row(output, heights, tuple(loads), max(end, heights[names[-1]] + 14))


def load_x(x_out: float, size: Sizes) -> float:
    """Return where the leads of the loads arrive, right of an amplifier's edge."""
    return x_out + 8 + size.out_band + _BUSES + 16


def draw_bodies(pen: Pen, stood: Sequence[Stood], x: float, used: Collection[str]) -> None:
    """Draw the amplifiers with their left edge at x, and all that hangs on their outputs.

    used : the input pins that something is joined to
    """
    size = pen.size
    right = x + size.amplifier
    for one in stood:
        _box(pen, one, x, right)
        for pin in one.body.inputs if size.has_supply else ():
            height = one.inputs[pin.key]
            pen.pin(f"{one.body.key}.{pin.key}", x, height)
            pen.text(x + 8, height, pin.label, room=size.amplifier - (46 if size.is_whole else 10))
            if one.body.kind == "later":
                continue
            if pin.is_open or f"{one.body.key}.{pin.key}" not in used:
                words = "open: ask first" if pin.is_open else "not used"
                pen.text(x - 10, height, words, "end")
        for row in one.rows:
            _draw_row(pen, one.body.key, row, right)


def _box(pen: Pen, one: Stood, x: float, right: float) -> None:
    size, body = pen.size, one.body
    line, dash = (HEAVY, None) if body.kind == "amplifier" else (LINE, None)
    if body.kind == "later":
        dash = "7 5"
    if size.mode == "speakers":
        pen.text(x, one.name_y, body.name, bold=True, room=size.width - x - 2)
    elif size.mode == "supply":
        pen.text(right, one.name_y, body.name, "end", bold=True, room=size.amplifier + 60)
    else:
        for at, words in enumerate(one.names):
            y = one.name_y + at * size.text * 1.2
            pen.text(x + size.amplifier / 2, y, words, "middle", bold=True)
    pen.box(x, one.top, size.amplifier, one.bottom - one.top, line, dash)
    if body.kind == "later" and size.has_supply:
        height = max(one.inputs.values(), default=one.top) + 20
        pen.text(x + size.amplifier / 2, height, "later", "middle", bold=True)
    for upper, lower in pairwise(one.rows):
        if upper.output.block != lower.output.block:
            height = (max(upper.terminals.values()) + min(lower.terminals.values())) / 2
            pen.path(f"M{right - 36:g} {height:g}H{right:g}", THIN)


def _draw_row(pen: Pen, key: str, row: Row, x: float) -> None:
    """Draw an output: its terminals at x, its loads, the wires between them."""
    output, size = row.output, pen.size
    for name, height in row.terminals.items():
        pen.pin(f"{key}.{name}", x, height)
        pen.text(x - 8, height, f"{name[:-1]} {spoken(name[-1])}", "end")
        if row.loads and name not in (output.plus, output.minus):
            pen.text(x + 10, height, "not used")
    if not row.loads:
        middle = sum(row.terminals.values()) / len(row.terminals)
        pen.text(x + 10, middle, "not used")
        return
    arrive = load_x(x, size)
    for at, (load, height) in enumerate(row.loads):
        top = height - above(load, size, has_capacitor=bool(output.capacitor) and not at)
        begin = arrive + 12 if output.links and load.kind == "set" else arrive
        name_x = x + 8
        if at:  # right of the buses, and of links to the load above
            name_x = begin + 34 if output.links and load.kind != "set" else begin
        draw_load(pen, Placed(load, begin, height, top, len(row.loads) == 1, name_x))
    bus = x + 8 + size.out_band
    start: Path = ((x, row.terminals[output.plus]),)
    if output.capacitor:
        start = _capacitor(pen, f"{key}.{output.plus}", output, start[0])
    pen.net("speaker +", trunk(bus, [start, *_ends(pen, output.plus_to)]))
    start = ((x, row.terminals[output.minus]),)
    pen.net("speaker -", trunk(bus + _BUSES, [start, *_ends(pen, output.minus_to)]))
    _links(pen, output.links)
    _cable(pen, row, x)


def _ends(pen: Pen, pins: Sequence[str]) -> Iterator[Path]:
    for pin in pins:
        yield (pen.pins[pin],)


def _capacitor(pen: Pen, terminal: str, output: Output, start: tuple[float, float]) -> Path:
    """Draw a capacitor in the + lead; return where the lead goes on."""
    x, y = start
    middle = x + 8 + pen.size.out_band / 2
    pen.pin(f"{terminal} C.a", middle - 3, y, is_shown=False)
    pen.pin(f"{terminal} C.b", middle + 3, y, is_shown=False)
    pen.path(f"M{middle - 3:g} {y - 8:g}v16M{middle + 3:g} {y - 8:g}v16", 2)
    pen.wire("speaker +", start, (middle - 3, y))
    return ((middle + 3, y),)


def _cable(pen: Pen, row: Row, x: float) -> None:
    """Write size and length of the cable: above its + wire, or below where a capacitor stands."""
    size, output = pen.size, row.output
    plus, minus = row.terminals[output.plus], row.terminals[output.minus]
    room = size.out_band - 3
    if output.capacitor:
        above_plates = plus - size.text * 0.85 - 6
        pen.text(x + 8, above_plates, f"C {output.capacitor}", room=room)
        pen.label(x + 8, minus + size.text * 0.8, output.cable, room)
    else:
        pen.label(x + 8, plus - size.text * 0.75, output.cable, room + 16)  # no bus above


def _links(pen: Pen, links: Sequence[Sequence[str]]) -> None:
    """Draw what joins coils with one another: brackets left of them, none on another."""
    taken: list[list[tuple[float, float]]] = []
    for link in sorted(links, key=lambda ends: [pen.pins[end][1] for end in ends]):
        heights = [pen.pins[end][1] for end in link]
        span = (min(heights) - 4, max(heights) + 4)
        free = (
            at
            for at, spans in enumerate(taken)
            if all(span[1] < low or high < span[0] for low, high in spans)
        )
        at = next(free, len(taken))
        if at == len(taken):
            taken.append([])
        taken[at].append(span)
        x = min(pen.pins[end][0] for end in link) - 16 - 9 * at
        pen.net("link", trunk(x, list(_ends(pen, link))))
        is_short = max(heights) - min(heights) < 1.1 * pen.size.pitch
        if not at and len(link) == 2 and is_short and len(taken) == 1:
            pen.text(x - 4, sum(span) / 2, "link", "end")


def right_end(x: float, size: Sizes) -> float:
    """Return the right edge of a drawing that ends with its amplifiers."""
    return x + size.amplifier + EDGE

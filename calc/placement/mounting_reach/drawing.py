"""The mounting space with what stands in it, to scale."""

from collections.abc import Iterable, Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.answers.drawing import HEAVY, THIN, box, canvas, joint, label, number, wire
from calc.answers.figures import quantity, rounded
from calc.answers.markup import Children, element
from calc.answers.sheet import Drawing
from calc.parts.bay import LEAD_WORDS
from calc.physics.floor_plan import SIDES, Bay, Lead, Placement, Rectangle, Rooms
from calc.placement.drawings import HATCHES, hatched, upright

# Narrower than other drawings: a plan is seen whole on a phone.
_WIDE, _TALLEST = 324.0, 480.0
_LETTER_PX = 8.2  # the usual width of a letter
_SCALE_BARS_MM = (20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)
_HATCH_WORDS = {
    "plugs": "plugs and bends",
    "hand": "a hand and a screwdriver",
    "air": "air at heatsink fins",
}
Box = tuple[float, float, float, float]  # left, top, width, height
_ROOFS = {"wall": "a panel", "seat": "a seat"}
_LEAD_LETTERS: dict[Lead, str] = {"power": "P", "speaker": "L", "signal": "S"}


class _Scale:
    """From millimetres of the plan, y upwards, to the drawing's units, y downwards."""

    def __init__(self, bay: Bay, shown: Sequence[Rectangle], top: float) -> None:
        left = min([0.0, *(part.x_mm for part in shown)])
        right = max([bay.width_mm, *(part.x_mm + part.width_mm for part in shown)])
        front = min([0.0, *(part.y_mm for part in shown)])
        back = max([bay.depth_mm, *(part.y_mm + part.depth_mm for part in shown)])
        side = 30.0  # for the edges' words, which run upwards at the sides
        self.per_mm = min((_WIDE - 2 * side) / (right - left), _TALLEST / (back - front))
        self._left = (_WIDE - (right - left) * self.per_mm) / 2 - left * self.per_mm
        self._top = top + back * self.per_mm
        self.bottom = top + (back - front) * self.per_mm

    def x(self, x_mm: float) -> float:
        return self._left + x_mm * self.per_mm

    def y(self, y_mm: float) -> float:
        return self._top - y_mm * self.per_mm

    def rectangle(self, part: Rectangle) -> Box:
        return (
            self.x(part.x_mm),
            self.y(part.y_mm + part.depth_mm),
            part.width_mm * self.per_mm,
            part.depth_mm * self.per_mm,
        )


def plan(
    title: str,
    bay: Bay,
    placements: Sequence[Placement],
    rooms: Rooms,
    entries: Mapping[Lead, tuple[float, float]],
    on_wall: bool = False,
) -> Drawing:
    """Draw the space from above with what stands in it, to scale; or an upright wall."""
    # Reaching over an edge is shown for hands, plugs and air alike.
    strips = [strip for stand in placements for strip in stand.strips(rooms)]
    scale = _Scale(bay, [strip.where for strip in strips], top=30.0)
    solid = [stand.body for stand in placements] + list(bay.keep_outs)
    parts: list[Children] = [hatched(scale.rectangle(strip.where), strip.kind) for strip in strips]
    parts += [
        _keep_out(scale, keep_out, at)
        for at, keep_out in enumerate(bay.keep_outs, 1)
        if keep_out.overlaps(bay.floor)
    ]
    parts += _edges(scale, bay, on_wall)
    if _uncovers(bay):
        y = scale.y(bay.seat_travel_mm)
        parts.append(wire((scale.x(0), y), (scale.x(bay.width_mm), y), dash="2 4"))
    parts += [_body(scale, stand, at) for at, stand in enumerate(placements, 1)]
    parts += _entry_points(scale, bay, entries, solid)
    y = scale.bottom + 30
    legend, y = _legend(scale, bay, placements, {strip.kind for strip in strips}, bool(entries), y)
    return Drawing(
        title,
        _description(bay, placements, entries, on_wall),
        canvas(_WIDE, y, parts, legend),
        name="plan",
    )


def _edges(scale: _Scale, bay: Bay, on_wall: bool) -> list[Children]:
    """Draw the four edges: a wall heavy, an open edge in dashes, a seat as two lines."""
    left, right, front, back = scale.x(0), scale.x(bay.width_mm), scale.y(0), scale.y(bay.depth_mm)
    lines = (
        ((left, front), (right, front), (0, 4)),
        ((right, front), (right, back), (4, 0)),
        ((left, back), (right, back), (0, -4)),
        ((left, front), (left, back), (-4, 0)),
    )
    drawn: list[Children] = []
    for edge, (start, end, out) in zip(bay.edges, lines, strict=True):
        if edge == "wall":
            drawn.append(wire(start, end, width=HEAVY))
        elif edge == "open":
            drawn.append(wire(start, end, dash="9 4"))
        else:
            beside = [(x + out[0], y + out[1]) for x, y in (start, end)]
            drawn.append([wire(start, end), wire(*beside, dash="12 4 2 4")])
    middle_x, middle_y = (left + right) / 2, (front + back) / 2
    words = [_edge_words(bay, at) for at in range(4)]
    front_name, back_name = ("lower edge", "upper edge") if on_wall else ("front", "back")
    drawn.append(label(middle_x, scale.bottom + 14, f"{front_name}: {words[0]}", over_lines=True))
    drawn.append(label(middle_x, 14, f"{back_name}: {words[2]}", over_lines=True))
    drawn.append(upright(14, middle_y, f"left: {words[3]}"))
    drawn.append(upright(_WIDE - 14, middle_y, f"right: {words[1]}"))
    return drawn


def _uncovers(bay: Bay) -> bool:
    """Tell whether a seat is the roof and slides off a part of the bay."""
    return bay.top == "seat" and 0 < bay.seat_travel_mm < bay.depth_mm


def _edge_words(bay: Bay, side: int) -> str:
    if bay.edges[side] == "seat":
        return f"seat, slides {quantity(bay.seat_travel_mm, 'mm')}"
    return bay.edges[side]


def _keep_out(scale: _Scale, keep_out: Rectangle, at: int) -> list[Element]:
    left, top, width, height = scale.rectangle(keep_out)
    return [
        box(left, top, width, height),
        wire((left, top), (left + width, top + height), width=THIN),
        label(left + width / 2, top + min(height / 2, 14), f"k{at}", over_lines=True),
    ]


def _body(scale: _Scale, stand: Placement, at: int) -> list[Element]:
    """Draw a body: its number, its name where it has room, a bar along its front face."""
    left, top, width, height = scale.rectangle(stand.body)
    solid = element(
        "rect",
        x=number(left),
        y=number(top),
        width=number(width),
        height=number(height),
        class_="paper",
    )
    right, bottom = left + width, top + height
    inset = 4.0
    front = (
        ((left + inset, bottom - inset), (right - inset, bottom - inset)),
        ((right - inset, bottom - inset), (right - inset, top + inset)),
        ((left + inset, top + inset), (right - inset, top + inset)),
        ((left + inset, bottom - inset), (left + inset, top + inset)),
    )[stand.side_of("front")]
    name = stand.amplifier.name
    x, y = left + width / 2, top + height / 2
    parts = [solid, wire(*front, width=HEAVY)]
    if "controls" in stand.amplifier.face("top"):
        parts.append(_ring(right - 18, y - 10))
    if len(name) * _LETTER_PX <= width - 14 and height >= 54:
        return [*parts, label(x, y - 10, str(at), bold=True), label(x, y + 10, name)]
    if len(name) * _LETTER_PX <= height - 14 and width >= 54:
        return [*parts, label(x - 12, y, str(at), bold=True), upright(x + 10, y, name)]
    return [*parts, label(x, y, str(at), bold=True)]


def _ring(x: float, y: float) -> Element:
    """Return the sign of controls on top."""
    return element("circle", cx=number(x), cy=number(y), r="6")


def _entry_points(
    scale: _Scale,
    bay: Bay,
    entries: Mapping[Lead, tuple[float, float]],
    solid: Sequence[Rectangle],
) -> list[Children]:
    """Mark where leads come in, by a dot with their first letters; alike places share one."""
    places: dict[tuple[float, float], list[str]] = {}
    for lead, place in entries.items():
        places.setdefault(place, []).append(_LEAD_LETTERS[lead])
    in_the_way = [scale.rectangle(part) for part in solid if part.overlaps(bay.floor)]
    middle = (scale.y(0) + scale.y(bay.depth_mm)) / 2
    words_of_edges = [(left, middle - 70, 24.0, 140.0) for left in (0.0, _WIDE - 24)]
    drawn: list[Children] = []
    for (x_mm, y_mm), letters in places.items():
        text = ",".join(letters)
        # Outside what is drawn, the dot stays at its edge.
        x = min(max(scale.x(x_mm), 6), _WIDE - 6)
        y = min(max(scale.y(y_mm), 6), scale.bottom)
        spots = [
            (x + way * 8, y + off, "start" if way > 0 else "end")
            for way in ((1, -1) if x_mm <= bay.width_mm / 2 else (-1, 1))
            for off in ((14, -14) if y_mm > bay.depth_mm / 2 else (-14, 14))
        ]
        legible = [spot for spot in spots if not _covered(spot, len(text), words_of_edges)]
        free = [spot for spot in legible if not _covered(spot, len(text), in_the_way)]
        at_x, at_y, anchor = (free or legible or spots)[0]
        words = label(at_x, at_y, text, anchor=anchor, bold=True, over_lines=True)
        drawn.append([joint(x, y), words])
    return drawn


def _covered(
    spot: tuple[float, float, str],
    letters: int,
    boxes: Sequence[Box],
) -> bool:
    """Tell whether a short text would lie over one of the boxes, or off the drawing."""
    x, y, anchor = spot
    wide = 10.0 * letters
    left = x if anchor == "start" else x - wide
    return not 0 <= left <= _WIDE - wide or any(
        left < start + width and left + wide > start and y - 9 < top + height and y + 9 > top
        for start, top, width, height in boxes
    )


def _legend(
    scale: _Scale,
    bay: Bay,
    placements: Sequence[Placement],
    kinds: Iterable[str],
    has_entries: bool,
    y: float,
) -> tuple[list[Children], float]:
    """Name what is drawn, and give the scale; returns the parts and where they end."""
    drawn: list[Children] = []
    y += 14
    bar = max([mm for mm in _SCALE_BARS_MM if mm * scale.per_mm <= 110] or [_SCALE_BARS_MM[0]])
    end = 8 + bar * scale.per_mm
    drawn.append(
        [
            wire((8, y - 5), (8, y + 5), width=THIN),
            wire((end, y - 5), (end, y + 5), width=THIN),
            wire((8, y), (end, y), width=THIN),
            label(end + 8, y, quantity(bar, "mm"), anchor="start"),
        ]
    )
    size = f"{rounded(bay.width_mm)} × {rounded(bay.depth_mm)}\u202fmm"
    drawn.append(label(_WIDE - 4, y, size, anchor="end"))
    lines: list[tuple[Children, str]] = [
        (hatched((8, 0, 34, 16), kind), _HATCH_WORDS[kind]) for kind in HATCHES if kind in kinds
    ]
    for sample, words in lines:
        y += 26
        moved = element("g", sample, transform=f"translate(0 {number(y - 8)})")
        drawn += [moved, label(52, y, words, anchor="start")]
    if placements:
        y += 26
        drawn.append(
            [
                wire((8, y), (42, y), width=HEAVY),
                label(52, y, "front of the amplifier", anchor="start"),
            ]
        )
    if any("controls" in stand.amplifier.face("top") for stand in placements):
        y += 26
        drawn.append([_ring(25, y), label(52, y, "controls on top", anchor="start")])
    if bay.top != "open":
        y += 26
        drawn.append([label(8, y, f"above: {_ROOFS[bay.top]}", anchor="start")])
    if _uncovers(bay):
        y += 26
        words = f"the seat, slid {quantity(bay.seat_travel_mm, 'mm')}"
        drawn.append([wire((8, y), (42, y), dash="2 4"), label(52, y, words, anchor="start")])
    if any(keep_out.overlaps(bay.floor) for keep_out in bay.keep_outs):
        y += 26
        drawn.append([label(8, y, "k1", anchor="start"), label(52, y, "obstacle", anchor="start")])
    if has_entries:
        y += 26
        drawn.append([joint(25, y), label(52, y, "where leads come in:", anchor="start")])
        y += 22
        drawn.append([label(52, y, "P power, L speaker, S RCA", anchor="start")])
    return drawn, y + 18


def _description(
    bay: Bay,
    placements: Sequence[Placement],
    entries: Mapping[Lead, tuple[float, float]],
    on_wall: bool,
) -> str:
    edges = ", ".join(f"{side} {_edge_words(bay, at)}" for at, side in enumerate(SIDES))
    seen = "The wall from in front, its lower edge as the front," if on_wall else "From above,"
    sentences = [f"{seen} {rounded(bay.width_mm)} by {quantity(bay.depth_mm, 'mm')}; {edges}."]
    for at, stand in enumerate(placements, 1):
        sentences.append(
            f"{at}, {stand.amplifier.name}: corner {quantity(stand.x_mm, 'mm')} from the left and "
            f"{quantity(stand.y_mm, 'mm')} from the front, turned by "
            f"{quantity(90 * stand.quarters, '°')}."
        )
    for at, part in enumerate(bay.keep_outs, 1):
        sentences.append(
            f"Obstacle k{at}: {rounded(part.width_mm)} by {quantity(part.depth_mm, 'mm')} at "
            f"{quantity(part.x_mm, 'mm')} from the left, {quantity(part.y_mm, 'mm')} from the "
            "front."
        )
    for lead, (x, y) in entries.items():
        sentences.append(
            f"The {LEAD_WORDS[lead]} lead comes in {quantity(x, 'mm')} from the left, "
            f"{quantity(y, 'mm')} from the front."
        )
    return " ".join(sentences)

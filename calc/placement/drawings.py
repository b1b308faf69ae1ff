"""Plans to scale: the bay with what stands in it, and footprints in true size."""

from collections.abc import Iterable, Mapping, Sequence
from xml.etree.ElementTree import Element

from calc.answers.drawing import (
    HEAVY,
    THIN,
    WIDEST,
    box,
    canvas,
    joint,
    label,
    number,
    wire,
)
from calc.answers.figures import quantity, rounded
from calc.answers.markup import element
from calc.answers.sheet import Drawing
from calc.physics.floor_plan import SIDES, Bay, Holding, Placement, Rectangle, Rooms

# Narrower than other drawings: a plan is seen whole on a phone.
_WIDE, _TALLEST = 324.0, 480.0
_LETTER_PX = 8.2  # the usual width of a letter
_HATCH_PX = 8.0
_SCALE_BARS_MM = (20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)
# Each kind of room has a hatch of its own: the slope of its lines.
_HATCHES = {"plugs": -1, "hand": 1, "air": 0}
_HATCH_WORDS = {
    "plugs": "plugs and bends",
    "hand": "a hand and a screwdriver",
    "air": "air at fins",
}
_ROOFS = {"wall": "closed", "seat": "a seat"}


def hatched(rectangle: tuple[float, float, float, float], kind: str) -> list[Element]:
    """Return a strip with its outline and hatch: (left, top, width, height)."""
    left, top, width, height = rectangle
    right, bottom = left + width, top + height
    strokes = []
    if kind == "air":
        rows = max(1, round(height / _HATCH_PX))
        for at in range(rows):
            y = top + (at + 0.5) * height / rows
            strokes.append(f"M{number(left)} {number(y)}H{number(right)}")
    else:
        way = _HATCHES[kind]
        # Lines y = way·x + c that cross the rectangle, clipped to it.
        offsets = [way * x for x in (left, right)]
        start, end = top - max(offsets), bottom - min(offsets)
        at = _HATCH_PX * (int(start / _HATCH_PX) + 1)
        while at < end:
            xs = sorted(
                min(max(one, left), right) for one in ((top - at) * way, (bottom - at) * way)
            )
            if xs[1] - xs[0] > 0.5:
                strokes.append(
                    f"M{number(xs[0])} {number(way * xs[0] + at)}"
                    f"L{number(xs[1])} {number(way * xs[1] + at)}"
                )
            at += _HATCH_PX
    outline = element(
        "rect",
        x=number(left),
        y=number(top),
        width=number(width),
        height=number(height),
        stroke_width=THIN,
        stroke_dasharray="3 3",
    )
    return [outline, element("path", d="".join(strokes), stroke_width=THIN)]


class _Scale:
    """From millimetres of the plan, y upwards, to the drawing's units, y downwards."""

    def __init__(self, bay: Bay, shown: Sequence[Rectangle], top: float) -> None:
        left = min([0.0, *(one.x_mm for one in shown)])
        right = max([bay.width_mm, *(one.x_mm + one.width_mm for one in shown)])
        front = min([0.0, *(one.y_mm for one in shown)])
        back = max([bay.depth_mm, *(one.y_mm + one.depth_mm for one in shown)])
        side = 30.0  # for the edges' words, which run upwards at the sides
        self.per_mm = min((_WIDE - 2 * side) / (right - left), _TALLEST / (back - front))
        self._left = (_WIDE - (right - left) * self.per_mm) / 2 - left * self.per_mm
        self._top = top + back * self.per_mm
        self.bottom = top + (back - front) * self.per_mm

    def x(self, x_mm: float) -> float:
        return self._left + x_mm * self.per_mm

    def y(self, y_mm: float) -> float:
        return self._top - y_mm * self.per_mm

    def rectangle(self, one: Rectangle) -> tuple[float, float, float, float]:
        return (
            self.x(one.x_mm),
            self.y(one.y_mm + one.depth_mm),
            one.width_mm * self.per_mm,
            one.depth_mm * self.per_mm,
        )


def plan(
    title: str,
    bay: Bay,
    placements: Sequence[Placement],
    rooms: Rooms,
    entries: Mapping[Holding, tuple[float, float]],
    on_wall: bool = False,
) -> Drawing:
    """Draw the bay from above with what stands in it, to scale; or an upright wall."""
    # Reaching over an edge is shown for hands, plugs and air alike.
    own = [strip for one in placements for strip in one.strips(rooms)]
    scale = _Scale(bay, [one.where for one in own], top=30.0)
    solid = [one.body for one in placements] + list(bay.keep_outs)
    parts: list[Element | list[Element]] = []
    parts += [hatched(scale.rectangle(one.where), one.kind) for one in own]
    parts += [
        _keep_out(scale, one, at)
        for at, one in enumerate(bay.keep_outs, 1)
        if one.overlaps(bay.floor)
    ]
    parts += _edges(scale, bay, on_wall)
    if _uncovers(bay):
        y = scale.y(bay.seat_travel_mm)
        parts.append(wire((scale.x(0), y), (scale.x(bay.width_mm), y), dash="2 4"))
    parts += [_body(scale, one, at) for at, one in enumerate(placements, 1)]
    parts += _entry_points(scale, bay, entries, solid)
    y = scale.bottom + 30
    legend, y = _legend(scale, bay, placements, {one.kind for one in own}, bool(entries), y)
    return Drawing(
        title,
        _told(bay, placements, entries, on_wall),
        canvas(_WIDE, y, parts, legend),
        name="plan",
    )


def _edges(scale: _Scale, bay: Bay, on_wall: bool) -> list[Element | list[Element]]:
    """Draw the four edges: a wall heavy, an open edge in dashes, a seat as two lines."""
    left, right, front, back = scale.x(0), scale.x(bay.width_mm), scale.y(0), scale.y(bay.depth_mm)
    lines = (
        ((left, front), (right, front), (0, 4)),
        ((right, front), (right, back), (4, 0)),
        ((left, back), (right, back), (0, -4)),
        ((left, front), (left, back), (-4, 0)),
    )
    found: list[Element | list[Element]] = []
    for edge, (start, end, out) in zip(bay.edges, lines, strict=True):
        if edge == "wall":
            found.append(wire(start, end, width=HEAVY))
        elif edge == "open":
            found.append(wire(start, end, dash="9 4"))
        else:
            beside = [(x + out[0], y + out[1]) for x, y in (start, end)]
            found.append([wire(start, end), wire(*beside, dash="12 4 2 4")])
    middle_x, middle_y = (left + right) / 2, (front + back) / 2
    words = [_edge_words(bay, at) for at in range(4)]
    front_name, back_name = ("lower edge", "upper edge") if on_wall else ("front", "back")
    found.append(label(middle_x, scale.bottom + 14, f"{front_name}: {words[0]}", over_lines=True))
    found.append(label(middle_x, 14, f"{back_name}: {words[2]}", over_lines=True))
    found.append(_upright(14, middle_y, f"left: {words[3]}"))
    found.append(_upright(_WIDE - 14, middle_y, f"right: {words[1]}"))
    return found


def _uncovers(bay: Bay) -> bool:
    """Tell whether a seat is the roof and slides off a part of the bay."""
    return bay.top == "seat" and 0 < bay.seat_travel_mm < bay.depth_mm


def _edge_words(bay: Bay, side: int) -> str:
    if bay.edges[side] == "seat":
        return f"seat, slides {quantity(bay.seat_travel_mm, 'mm')}"
    return bay.edges[side]


def _upright(x: float, y: float, text: str) -> Element:
    """Return a label that reads from below upwards."""
    one = label(x, y, text, over_lines=True)
    one.set("transform", f"rotate(-90 {number(x)} {number(y)})")
    return one


def _keep_out(scale: _Scale, one: Rectangle, at: int) -> list[Element]:
    left, top, width, height = scale.rectangle(one)
    return [
        box(left, top, width, height),
        wire((left, top), (left + width, top + height), width=THIN),
        label(left + width / 2, top + min(height / 2, 14), f"k{at}", over_lines=True),
    ]


def _body(scale: _Scale, one: Placement, at: int) -> list[Element]:
    """Draw a body: its number, its name where it has room, a bar along its front face."""
    left, top, width, height = scale.rectangle(one.body)
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
    )[one.side_of("front")]
    name = one.amplifier.name
    x, y = left + width / 2, top + height / 2
    parts = [solid, wire(*front, width=HEAVY)]
    if "controls" in one.amplifier.face("top"):
        parts.append(_ring(right - 18, y - 10))
    if len(name) * _LETTER_PX <= width - 14 and height >= 54:
        return [*parts, label(x, y - 10, str(at), bold=True), label(x, y + 10, name)]
    if len(name) * _LETTER_PX <= height - 14 and width >= 54:
        return [*parts, label(x - 12, y, str(at), bold=True), _upright(x + 10, y, name)]
    return [*parts, label(x, y, str(at), bold=True)]


def _ring(x: float, y: float) -> Element:
    """Return the sign of controls on top."""
    return element("circle", cx=number(x), cy=number(y), r="6")


def _entry_points(
    scale: _Scale,
    bay: Bay,
    entries: Mapping[Holding, tuple[float, float]],
    solid: Sequence[Rectangle],
) -> list[Element | list[Element]]:
    """Mark where leads come in, by a dot with their first letters; alike places share one."""
    places: dict[tuple[float, float], list[str]] = {}
    for lead, place in entries.items():
        places.setdefault(place, []).append(_LEAD_LETTERS[lead])
    in_the_way = [scale.rectangle(one) for one in solid if one.overlaps(bay.floor)]
    middle = (scale.y(0) + scale.y(bay.depth_mm)) / 2
    words_of_edges = [(left, middle - 70, 24.0, 140.0) for left in (0.0, _WIDE - 24)]
    found: list[Element | list[Element]] = []
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
        legible = [one for one in spots if not _covered(one, len(text), words_of_edges)]
        free = [one for one in legible if not _covered(one, len(text), in_the_way)]
        at_x, at_y, anchor = (free or legible or spots)[0]
        words = label(at_x, at_y, text, anchor=anchor, bold=True, over_lines=True)
        found.append([joint(x, y), words])
    return found


def _covered(
    spot: tuple[float, float, str],
    letters: int,
    boxes: Sequence[tuple[float, float, float, float]],
) -> bool:
    """Tell whether a short text would lie over one of the boxes, or off the drawing."""
    x, y, anchor = spot
    wide = 10.0 * letters
    left = x if anchor == "start" else x - wide
    return not 0 <= left <= _WIDE - wide or any(
        left < start + width and left + wide > start and y - 9 < top + height and y + 9 > top
        for start, top, width, height in boxes
    )


_LEAD_LETTERS: dict[Holding, str] = {"power": "P", "speaker": "L", "signal": "S"}


def _legend(
    scale: _Scale,
    bay: Bay,
    placements: Sequence[Placement],
    kinds: Iterable[str],
    has_entries: bool,
    y: float,
) -> tuple[list[Element | list[Element]], float]:
    """Name what is drawn, and give the scale; returns the parts and where they end."""
    found: list[Element | list[Element]] = []
    y += 14
    bar = max([one for one in _SCALE_BARS_MM if one * scale.per_mm <= 110] or [_SCALE_BARS_MM[0]])
    end = 8 + bar * scale.per_mm
    found.append(
        [
            wire((8, y - 5), (8, y + 5), width=THIN),
            wire((end, y - 5), (end, y + 5), width=THIN),
            wire((8, y), (end, y), width=THIN),
            label(end + 8, y, quantity(bar, "mm"), anchor="start"),
        ]
    )
    size = f"{rounded(bay.width_mm)} × {rounded(bay.depth_mm)}\u202fmm"
    found.append(label(_WIDE - 4, y, size, anchor="end"))
    lines: list[tuple[Element | list[Element], str]] = [
        (hatched((8, 0, 34, 16), kind), _HATCH_WORDS[kind]) for kind in _HATCHES if kind in kinds
    ]
    for sample, words in lines:
        y += 26
        moved = element("g", sample, transform=f"translate(0 {number(y - 8)})")
        found += [moved, label(52, y, words, anchor="start")]
    if placements:
        y += 26
        found.append(
            [wire((8, y), (42, y), width=HEAVY), label(52, y, "front face", anchor="start")]
        )
    if any("controls" in one.amplifier.face("top") for one in placements):
        y += 26
        found.append([_ring(25, y), label(52, y, "controls on top", anchor="start")])
    if bay.top != "open":
        y += 26
        found.append([label(8, y, f"above: {_ROOFS[bay.top]}", anchor="start")])
    if _uncovers(bay):
        y += 26
        words = f"the seat, slid {quantity(bay.seat_travel_mm, 'mm')}"
        found.append([wire((8, y), (42, y), dash="2 4"), label(52, y, words, anchor="start")])
    if any(one.overlaps(bay.floor) for one in bay.keep_outs):
        y += 26
        found.append(
            [label(8, y, "k1", anchor="start"), label(52, y, "in the way", anchor="start")]
        )
    if has_entries:
        y += 26
        found.append([joint(25, y), label(52, y, "where leads come in:", anchor="start")])
        y += 22
        found.append([label(52, y, "P power, L speaker, S signal", anchor="start")])
    return found, y + 18


def _told(
    bay: Bay,
    placements: Sequence[Placement],
    entries: Mapping[Holding, tuple[float, float]],
    on_wall: bool,
) -> str:
    edges = ", ".join(f"{side} {_edge_words(bay, at)}" for at, side in enumerate(SIDES))
    seen = "The wall from in front, its lower edge as the front," if on_wall else "From above,"
    told = [f"{seen} {rounded(bay.width_mm)} by {quantity(bay.depth_mm, 'mm')}; {edges}."]
    for at, one in enumerate(placements, 1):
        told.append(
            f"{at}, {one.amplifier.name}: corner {quantity(one.x_mm, 'mm')} from the left and "
            f"{quantity(one.y_mm, 'mm')} from the front, turned by "
            f"{quantity(90 * one.quarters, '°')}."
        )
    for at, one in enumerate(bay.keep_outs, 1):
        told.append(
            f"In the way, k{at}: {rounded(one.width_mm)} by {quantity(one.depth_mm, 'mm')} at "
            f"{quantity(one.x_mm, 'mm')} from the left, {quantity(one.y_mm, 'mm')} from the front."
        )
    for lead, (x, y) in entries.items():
        told.append(
            f"The {lead} lead comes in {quantity(x, 'mm')} from the left, "
            f"{quantity(y, 'mm')} from the front."
        )
    return " ".join(told)


def survey_grid() -> Drawing:
    """Draw an empty plan to sketch a bay on: squares, and where the fitter stands."""
    square, across, along = 20.0, 20, 8
    left, top = (WIDEST - across * square) / 2, 28.0
    right, bottom = left + across * square, top + along * square
    lines = "".join(
        [
            f"M{number(left + at * square)} {number(top)}V{number(bottom)}"
            for at in range(across + 1)
        ]
        + [
            f"M{number(left)} {number(top + at * square)}H{number(right)}"
            for at in range(along + 1)
        ]
    )
    return Drawing(
        "The plan",
        f"An empty grid of {across} by {along} squares to sketch the bay on, its front edge below.",
        canvas(
            WIDEST,
            bottom + 26,
            element("path", d=lines, stroke_width=0.5),
            label(WIDEST / 2, 12, "back"),
            label(left, bottom + 14, "front: here you stand", anchor="start"),
            label(right, bottom + 14, "one square: ____ mm", anchor="end"),
        ),
    )

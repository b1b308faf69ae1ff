"""A footprint in true size, divided over sheets of paper.

The drawings of this module are in millimetres: one unit of the drawing is one millimetre.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc.answers.drawing import canvas, label, number
from calc.answers.figures import quantity, rounded
from calc.answers.markup import element
from calc.answers.sheet import Drawing
from calc.placement.drawings import hatched
from calc.placement.parts import Placement, Rectangle, Strip

# What an upright A4 sheet holds with margins that any printer keeps; below it stands the rule.
WIDTH_MM, HEIGHT_MM = 174.0, 222.0
RULE_MM = 100.0
_FOOT_MM = 16.0
_TEXT_MM, _LETTER_MM = 4.0, 2.0
ROOM_WORDS = {"hand": "a hand and a screwdriver", "plugs": "plugs and bends", "air": "air"}
Segment = tuple[float, float, float, float]  # from x and y to x and y, never downwards


@dataclass(frozen=True)
class Tile:
    """One sheet: its number and place, counted from the front left, and what it shows [mm]."""

    number: int
    column: int
    row: int
    shows: Rectangle


def tiles(around: Rectangle) -> list[Tile]:
    """Divide a rectangle over sheets, those at the front left first.

    >>> len(tiles(Rectangle(x_mm=0, y_mm=0, width_mm=300, depth_mm=200)))
    2
    """
    columns = math.ceil(around.width_mm / WIDTH_MM - 1e-9)
    rows = math.ceil(around.depth_mm / HEIGHT_MM - 1e-9)
    wide, deep = around.width_mm / columns, around.depth_mm / rows
    return [
        Tile(
            row * columns + column + 1,
            column,
            row,
            Rectangle(
                x_mm=around.x_mm + column * wide,
                y_mm=around.y_mm + row * deep,
                width_mm=wide,
                depth_mm=deep,
            ),
        )
        for row in range(rows)
        for column in range(columns)
    ]


def tile_drawing(
    name: str,
    placement: Placement,
    strips: Sequence[Strip],
    tile: Tile,
    count: int,
) -> Drawing:
    """Draw one sheet in true size: what it shows, its frame, its rule and its place."""
    shows = tile.shows
    height = shows.depth_mm + _FOOT_MM
    width = max(shows.width_mm, RULE_MM + 2)
    picture = [
        *(_outline(one.where, shows, solid=False) for one in strips),
        _outline(placement.body, shows, solid=True),
        _cross(placement.body, shows),
        *(_room_words(own, strips, shows) for own in strips),
        *_body_words(name, placement.body, shows),
    ]
    place = f"sheet {tile.number}: {tile.column + 1} from the left, {tile.row + 1} from the front"
    title = f"{name}, {place}" if count > 1 else f"{name}, in true size"
    y = shows.depth_mm + 6
    ticks = "".join(
        f"M{number(at)} {number(y - (2.5 if at % 50 == 0 else 1.5))}V{number(y)}"
        for at in range(0, int(RULE_MM) + 1, 10)
    )
    foot = [
        element("path", d=f"M0 {number(y)}H{number(RULE_MM)}{ticks}", class_="rule"),
        _text(0, y + 5, f"This rule is {rounded(RULE_MM)} mm long: measure it.", "start"),
        _text(0, y + 9.5, title, "start"),
    ]
    frame = element(
        "rect",
        x="0",
        y="0",
        width=number(shows.width_mm),
        height=number(shows.depth_mm),
        stroke_dasharray="1 2",
        stroke_width="0.2",
    )
    svg = element(
        "svg",
        picture,
        frame,
        foot,
        viewBox=f"-0.5 -0.5 {number(width + 1)} {number(height + 1)}",
        width=f"{number(width + 1)}mm",
        height=f"{number(height + 1)}mm",
        fill="none",
        stroke="currentColor",
        stroke_width="0.35",
        font_size=number(_TEXT_MM),
    )
    return Drawing(
        title,
        f"The footprint of {name} in true size, {place}: it shows {rounded(shows.width_mm)} by "
        f"{quantity(shows.depth_mm, 'mm')}, and a rule of {quantity(RULE_MM, 'mm')}.",
        svg,
        true_size=True,
    )


def _x(x_mm: float, shows: Rectangle) -> float:
    return x_mm - shows.x_mm


def _y(y_mm: float, shows: Rectangle) -> float:
    return shows.y_mm + shows.depth_mm - y_mm


def _lines(segments: Sequence[Segment], shows: Rectangle) -> str:
    """Return the path of level and upright lines, as far as a sheet shows them."""
    left, front = shows.x_mm, shows.y_mm
    right, back = left + shows.width_mm, front + shows.depth_mm
    path = ""
    for x, y, to_x, to_y in segments:
        x, to_x = max(x, left), min(to_x, right)
        y, to_y = max(y, front), min(to_y, back)
        if x <= to_x and y <= to_y:
            path += f"M{number(_x(x, shows))} {number(_y(y, shows))}"
            path += f"L{number(_x(to_x, shows))} {number(_y(to_y, shows))}"
    return path


def _outline(one: Rectangle, shows: Rectangle, solid: bool) -> Element:
    left, front = one.x_mm, one.y_mm
    right, back = left + one.width_mm, front + one.depth_mm
    sides = (
        (left, front, right, front),
        (left, back, right, back),
        (left, front, left, back),
        (right, front, right, back),
    )
    return element(
        "path",
        d=_lines(sides, shows),
        stroke_width="0.6" if solid else "0.25",
        stroke_dasharray=None if solid else "2 1.5",
    )


def _seen(one: Rectangle, shows: Rectangle) -> Rectangle | None:
    """Return the part of a rectangle that a sheet shows, None if it is too small for words."""
    left, front = max(one.x_mm, shows.x_mm), max(one.y_mm, shows.y_mm)
    right = min(one.x_mm + one.width_mm, shows.x_mm + shows.width_mm)
    back = min(one.y_mm + one.depth_mm, shows.y_mm + shows.depth_mm)
    if min(right - left, back - front) < 2 * _TEXT_MM:
        return None
    return Rectangle(x_mm=left, y_mm=front, width_mm=right - left, depth_mm=back - front)


def _beyond(own: Strip, strips: Sequence[Strip]) -> Rectangle:
    """Return the part of a room that no smaller room at the same face shares."""
    is_deep = own.face in ("front", "back")
    shared = max(
        (one.room_mm for one in strips if one.face == own.face and one.room_mm < own.room_mm),
        default=0.0,
    )
    one = own.where
    left = own.room_mm - shared
    part = replace(one, depth_mm=left) if is_deep else replace(one, width_mm=left)
    if own.face == "back":
        return replace(part, y_mm=one.y_mm + shared)
    return replace(part, x_mm=one.x_mm + shared) if own.face == "right" else part


def _room_words(own: Strip, strips: Sequence[Strip], shows: Rectangle) -> Element | None:
    """Name a room in the middle of what a sheet shows of it, along its longer side."""
    seen = _seen(_beyond(own, strips), shows)
    if seen is None:
        return None
    words = f"{ROOM_WORDS[own.kind]}, {quantity(own.room_mm, 'mm')} from the body"
    x = _x(seen.x_mm + seen.width_mm / 2, shows)
    y = _y(seen.y_mm + seen.depth_mm / 2, shows)
    written = _text(x, y, words, "middle")
    if len(words) * _LETTER_MM > seen.width_mm:
        written.set("transform", f"rotate(-90 {number(x)} {number(y)})")
    return written


def _cross(body: Rectangle, shows: Rectangle) -> Element:
    """Mark the body's middle."""
    x, y = body.x_mm + body.width_mm / 2, body.y_mm + body.depth_mm / 2
    return element("path", d=_lines(((x - 5, y, x + 5, y), (x, y - 5, x, y + 5)), shows))


def _body_words(name: str, body: Rectangle, shows: Rectangle) -> list[Element]:
    """Name the body, its size and its front edge, in the middle of what a sheet shows of it."""
    seen = _seen(body, shows)
    if seen is None:
        return []
    x = _x(seen.x_mm + seen.width_mm / 2, shows)
    y = _y(seen.y_mm + seen.depth_mm / 2, shows)
    size = f"{rounded(body.width_mm)} × {quantity(body.depth_mm, 'mm')}"
    words = [_text(x, y - 9, name, "middle"), _text(x, y + 13, size, "middle")]
    if shows.y_mm <= body.y_mm:
        words.append(_text(x, _y(body.y_mm, shows) - 3, "front face", "middle"))
    return words


def _text(x: float, y: float, text: str, anchor: str) -> Element:
    return element(
        "text",
        text,
        x=number(x),
        y=number(y),
        text_anchor=None if anchor == "start" else anchor,
        fill="currentColor",
        stroke="none",
    )


def overview(
    name: str, around: Rectangle, body: Rectangle, strips: Sequence[Strip], sheets: Sequence[Tile]
) -> Drawing:
    """Draw the whole footprint small, with the cuts between its sheets and their numbers."""
    wide, tall, edge = 324.0, 300.0, 10.0
    scale = min((wide - 2 * edge) / around.width_mm, tall / around.depth_mm)
    left = (wide - around.width_mm * scale) / 2

    def placed(one: Rectangle) -> tuple[float, float, float, float]:
        x = left + (one.x_mm - around.x_mm) * scale
        y = edge + (around.y_mm + around.depth_mm - one.y_mm - one.depth_mm) * scale
        return x, y, one.width_mm * scale, one.depth_mm * scale

    parts: list[Element | list[Element]] = [hatched(placed(one.where), one.kind) for one in strips]
    x, y, width, height = placed(body)
    parts.append(
        element(
            "rect", x=number(x), y=number(y), width=number(width), height=number(height),
            class_="paper",
        )
    )  # fmt: skip
    bottom = edge + around.depth_mm * scale
    for at, tile in enumerate(sheets, 1):
        x, y, width, height = placed(tile.shows)
        parts.append(
            element(
                "rect", x=number(x), y=number(y), width=number(width), height=number(height),
                stroke_dasharray="9 4",
            )
        )  # fmt: skip
        middle = label(x + width / 2, y + height / 2, str(at), bold=True, over_lines=True)
        parts.append(middle)
    size = f"{rounded(around.width_mm)} × {quantity(around.depth_mm, 'mm')}"
    count = len(sheets)
    words = f"{count} sheets, {size} in all" if count > 1 else f"one sheet, {size}"
    parts.append(label(wide / 2, bottom + 20, words))
    return Drawing(
        f"{name} with its rooms, small",
        f"The body of {name}, its rooms and the {count} sheets of the footprint, numbered from the "
        f"front left: {size} in all.",
        canvas(wide, bottom + 36, parts),
    )

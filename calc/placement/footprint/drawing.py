"""The sheets of a paper template in true size, and all of them small.

The sheets are drawn in millimetres: one unit of the drawing is one millimetre.
"""

from collections.abc import Sequence
from dataclasses import replace
from xml.etree.ElementTree import Element

from calc.answers.drawing import canvas, label, number
from calc.answers.figures import quantity, rounded
from calc.answers.markup import Children, element
from calc.answers.sheet import Drawing
from calc.physics.floor_plan import Rectangle, Strip
from calc.placement.drawings import hatched
from calc.placement.footprint.tiles import Tile

RULE_MM = 100.0
_FOOT_MM = 16.0
_TEXT_MM, _LETTER_MM = 4.0, 2.0
CLEARANCE_WORDS = {"hand": "a hand and a screwdriver", "plugs": "plugs and bends", "air": "air"}
Segment = tuple[float, float, float, float]  # from x and y to x and y, never downwards


def tile_drawing(
    name: str,
    body: Rectangle,
    strips: Sequence[Strip],
    tile: Tile,
    count: int,
) -> Drawing:
    """Draw one sheet in true size: what it shows, its frame, its rule and its place."""
    shows = tile.shows
    height = shows.depth_mm + _FOOT_MM
    width = max(shows.width_mm, RULE_MM + 2)
    picture = [
        *(_outline(strip.where, shows, solid=False) for strip in strips),
        _outline(body, shows, solid=True),
        _cross(body, shows),
        *(_room_words(strip, strips, shows) for strip in strips),
        *_body_words(name, body, shows),
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
        _text(0, y + 5, f"This rule must measure {rounded(RULE_MM)} mm.", "start"),
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
        f"The paper template of {name} in true size, {place}. It shows {rounded(shows.width_mm)} "
        f"by {quantity(shows.depth_mm, 'mm')}, and a rule of {quantity(RULE_MM, 'mm')}.",
        svg,
        true_size=True,
        name="sheet",
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


def _outline(part: Rectangle, shows: Rectangle, solid: bool) -> Element:
    left, front = part.x_mm, part.y_mm
    right, back = left + part.width_mm, front + part.depth_mm
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


def _seen(part: Rectangle, shows: Rectangle) -> Rectangle | None:
    """Return the part of a rectangle that a sheet shows, None if it is too small for words."""
    left, front = max(part.x_mm, shows.x_mm), max(part.y_mm, shows.y_mm)
    right = min(part.x_mm + part.width_mm, shows.x_mm + shows.width_mm)
    back = min(part.y_mm + part.depth_mm, shows.y_mm + shows.depth_mm)
    if min(right - left, back - front) < 2 * _TEXT_MM:
        return None
    return Rectangle(x_mm=left, y_mm=front, width_mm=right - left, depth_mm=back - front)


def _beyond(strip: Strip, strips: Sequence[Strip]) -> Rectangle:
    """Return the part of a clearance that no smaller one on the same side shares."""
    is_deep = strip.face in ("front", "back")
    smaller = [
        other.room_mm
        for other in strips
        if other.face == strip.face and other.room_mm < strip.room_mm
    ]
    shared = max(smaller, default=0.0)
    whole, left = strip.where, strip.room_mm - shared
    part = replace(whole, depth_mm=left) if is_deep else replace(whole, width_mm=left)
    if strip.face == "back":
        return replace(part, y_mm=whole.y_mm + shared)
    return replace(part, x_mm=whole.x_mm + shared) if strip.face == "right" else part


def _room_words(strip: Strip, strips: Sequence[Strip], shows: Rectangle) -> Element | None:
    """Name a clearance in the middle of what a sheet shows of it, along its longer side."""
    seen = _seen(_beyond(strip, strips), shows)
    if seen is None:
        return None
    words = f"{CLEARANCE_WORDS[strip.kind]}, {quantity(strip.room_mm, 'mm')}"
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
        words.append(_text(x, _y(body.y_mm, shows) - 3, "front", "middle"))
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
    """Draw the whole template small, with the cuts between its sheets and their numbers."""
    wide, tall, edge = 324.0, 300.0, 10.0
    scale = min((wide - 2 * edge) / around.width_mm, tall / around.depth_mm)
    left = (wide - around.width_mm * scale) / 2

    def placed(part: Rectangle) -> tuple[float, float, float, float]:
        x = left + (part.x_mm - around.x_mm) * scale
        y = edge + (around.y_mm + around.depth_mm - part.y_mm - part.depth_mm) * scale
        return x, y, part.width_mm * scale, part.depth_mm * scale

    parts: list[Children] = [hatched(placed(strip.where), strip.kind) for strip in strips]
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
    words = f"{count} sheets, {size} in total" if count > 1 else f"one sheet, {size}"
    parts.append(label(wide / 2, bottom + 20, words))
    return Drawing(
        f"{name} with its clearances, small",
        f"The {name}, its clearances and the {count} sheets of the template, numbered from the "
        f"front left: {size} in total.",
        canvas(wide, bottom + 36, parts),
        name="overview",
    )

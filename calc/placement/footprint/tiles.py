"""A paper template divided over sheets."""

import math
from dataclasses import dataclass

from calc.physics.floor_plan import Placement, Rectangle, Rooms

# What an upright A4 sheet holds with margins that any printer keeps; below it stands the rule.
WIDTH_MM, HEIGHT_MM = 174.0, 222.0
MOST_SHEETS = 20


@dataclass(frozen=True)
class Tile:
    """One sheet: its number and place, counted from the front left, and what it shows [mm]."""

    number: int
    column: int
    row: int
    shows: Rectangle


def extent(placement: Placement, rooms: Rooms) -> Rectangle:
    """Return the rectangle around the amplifier and its clearances [mm]."""
    parts = [placement.body, *(strip.where for strip in placement.strips(rooms))]
    left, front = min(part.x_mm for part in parts), min(part.y_mm for part in parts)
    right = max(part.x_mm + part.width_mm for part in parts)
    back = max(part.y_mm + part.depth_mm for part in parts)
    return Rectangle(x_mm=left, y_mm=front, width_mm=right - left, depth_mm=back - front)


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

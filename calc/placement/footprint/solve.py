"""How much paper a footprint in true size takes."""

from dataclasses import dataclass

from calc.physics.floor_plan import Rectangle, Strip
from calc.placement.footprint.inputs import Inputs
from calc.placement.footprint.tiles import Tile, extent, tiles


@dataclass(frozen=True, kw_only=True)
class Result:
    """The body on the paper [mm], with the rooms at its sides, divided over sheets.

    around : the rectangle around the body and its rooms
    """

    body: Rectangle
    strips: tuple[Strip, ...]
    around: Rectangle
    sheets: tuple[Tile, ...]

    @property
    def columns(self) -> int:
        """How many sheets lie side by side."""
        return max(sheet.column for sheet in self.sheets) + 1

    @property
    def rows(self) -> int:
        """How many sheets lie one behind the other."""
        return max(sheet.row for sheet in self.sheets) + 1


def solve(inputs: Inputs) -> Result:
    """Lay the body down and divide it."""
    placement, rooms = inputs.placement, inputs.rooms.rooms
    around = extent(placement, rooms)
    return Result(
        body=placement.body,
        strips=tuple(placement.strips(rooms)),
        around=around,
        sheets=tuple(tiles(around)),
    )

"""The calculator `footprint`: an amplifier's footprint with its rooms, in true size on paper."""

import math
from collections.abc import Iterable, Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.inputs.errors import FieldError
from calc.inputs.fields import Number, Text, Words
from calc.placement.fields import INVENTED, LONGEST_NAME, ROOM_FIELDS, rooms_of
from calc.placement.parts import HOLDINGS, SIDES, Amplifier, Placement, Rectangle, Rooms
from calc.placement.tiles import (
    HEIGHT_MM,
    ROOM_WORDS,
    RULE_MM,
    WIDTH_MM,
    overview,
    tile_drawing,
    tiles,
)

_MOST_SHEETS = 20


def _parts(given: Mapping[str, Any]) -> tuple[Placement, Rooms]:
    amplifier = Amplifier(
        name=given["name"],
        width_mm=given["width_mm"],
        depth_mm=given["depth_mm"],
        height_mm=1,
        holds={face: frozenset(given[face]) for face in SIDES},
    )
    return Placement(amplifier, 0, 0, 0), rooms_of(given)


def extent(placement: Placement, rooms: Rooms) -> Rectangle:
    """Return the rectangle around the body and its rooms [mm]."""
    own = [placement.body, *(one.where for one in placement.strips(rooms))]
    left, front = min(one.x_mm for one in own), min(one.y_mm for one in own)
    right = max(one.x_mm + one.width_mm for one in own)
    back = max(one.y_mm + one.depth_mm for one in own)
    return Rectangle(x_mm=left, y_mm=front, width_mm=right - left, depth_mm=back - front)


def footprint(given: Mapping[str, Any]) -> Sheet:
    """Compute `footprint`."""
    placement, rooms = _parts(given)
    around = extent(placement, rooms)
    sheets = tiles(around)
    columns = max(one.column for one in sheets) + 1
    rows = max(one.row for one in sheets) + 1
    count = len(sheets)
    return Sheet(
        sentence=(
            f"{given['name']} with its rooms takes {rounded(around.width_mm)} × "
            f"{quantity(around.depth_mm, 'mm')}: "
            + (
                "one sheet of paper."
                if count == 1
                else f"{count} sheets, {columns} across and {rows} deep."
            )
        ),
        results={
            "width_mm": around.width_mm,
            "depth_mm": around.depth_mm,
            "sheets": count,
            "columns": columns,
            "rows": rows,
            "rule_mm": RULE_MM,
        },
        figures=(Figure("Sheets of paper", Quantity(count)),),
        drawings=(
            overview(given["name"], around, placement.body, placement.strips(rooms), sheets),
            *(
                tile_drawing(given["name"], placement, placement.strips(rooms), one, count)
                for one in sheets
            ),
        ),
        tables=(_rooms_table(placement, rooms),),
        cautions=(
            f"Measure the printed rule before you cut: it must be {quantity(RULE_MM, 'mm')} long. "
            "Print at 100 %, not “fit to page”.",
            "Measure the frame the other way too: a printer can stretch one direction.",
            "Paper shows no height, and nothing of what lies behind: never drill blind through it.",
        ),
        steps=(
            f"Each sheet shows at most {rounded(WIDTH_MM)} × {quantity(HEIGHT_MM, 'mm')} of the "
            "footprint; sheets lie edge to edge along the frame. Cut one of two neighbours along "
            "its frame and tape it to the other’s.",
        ),
        unknowns=(
            "Whether the printer keeps the scale: that is what the rule is for.",
            "Rounded corners, feet and brackets that stand out of the body.",
        ),
        sources=("Rooms: common practice, no source; put in your own.",),
    )


def _rooms_table(placement: Placement, rooms: Rooms) -> Table:
    return Table(
        caption="Rooms at the faces",
        columns=(Column("Face"), Column("For"), Column("Room", "mm")),
        rows=tuple(
            (one.face, ROOM_WORDS[one.kind], Quantity(one.room_mm))
            for one in placement.strips(rooms)
        ),
    )


def _check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Refuse what would take a heap of paper."""
    wanted = {"width_mm", "depth_mm", *SIDES, *(one.key for one in ROOM_FIELDS)}
    if not wanted <= given.keys():
        return []
    placement, rooms = _parts({"name": "", **given})
    around = extent(placement, rooms)
    count = len(tiles(around))
    if count <= _MOST_SHEETS:
        return []
    is_wide = around.width_mm >= around.depth_mm
    key, label = ("width_mm", "Width") if is_wide else ("depth_mm", "Depth")
    largest = math.isqrt(_MOST_SHEETS) * min(WIDTH_MM, HEIGHT_MM)
    message = (
        f"{label} of the body: with its rooms it would take {count} sheets. Give less, so that it "
        f"takes {_MOST_SHEETS} at most; up to {rounded(largest)} mm each way with rooms it does."
    )
    return [FieldError(key, rounded(given[key]), message)]


def _face(name: str, default: str, hint: str = "") -> Words:
    return Words(
        key=name, label=f"{name} face".capitalize(), words=HOLDINGS, default=default, hint=hint
    )


FOOTPRINT = Calculator(
    name="footprint",
    title="A footprint to lay in the car",
    question="Can I try it in the car before I buy it?",
    fields=(
        Text(
            key="name", label="Name", default="Hazel 4-50", longest=LONGEST_NAME, source=INVENTED
        ),
        Number(
            key="width_mm", label="Width of the body", default="260", low=20, high=2000,
            source=INVENTED,
        ),
        Number(
            key="depth_mm", label="Depth of the body", default="180", low=20, high=2000,
            source=INVENTED,
        ),
        _face("front", "signal+controls", "What sits there."),
        _face("right", "none"),
        _face("back", "power+speaker"),
        _face("left", "none"),
        *ROOM_FIELDS,
    ),
    groups=(
        ("The amplifier", ("name", "width_mm", "depth_mm")),
        ("Its faces", SIDES),
        ("Rooms at the faces", tuple(one.key for one in ROOM_FIELDS)),
    ),
    compute=footprint,
    check=_check,
)  # fmt: skip

"""What `footprint` asks."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.answers.figures import rounded
from calc.inputs.declared import fields_of, like
from calc.inputs.fields import Text
from calc.inputs.problems import Problem
from calc.parts.bay import FaceRooms
from calc.parts.body import LONGEST_NAME, Body
from calc.physics.floor_plan import SIDES, Amplifier, Holding, Placement
from calc.placement.footprint.tiles import HEIGHT_MM, MOST_SHEETS, WIDTH_MM, extent, tiles

Held = tuple[Holding, ...]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The floor that an amplifier takes, and what is on its four sides."""

    name: Annotated[str, Text("Name", example="Hazel 4-50", longest=LONGEST_NAME)]
    width_mm: Annotated[
        float, like(Body, "width_mm", label="Width of the amplifier", example=260.0, start=None)
    ]
    depth_mm: Annotated[
        float, like(Body, "depth_mm", label="Depth of the amplifier", example=180.0, start=None)
    ]
    front: Annotated[
        Held,
        like(
            Body, "front", label="On the front", hint="signal: RCA inputs; fins: heatsink or fan."
        ),
    ]
    right: Annotated[Held, like(Body, "right", label="On the right side")]
    back: Annotated[Held, like(Body, "back", label="On the back")]
    left: Annotated[Held, like(Body, "left", label="On the left side")]
    rooms: FaceRooms

    @property
    def placement(self) -> Placement:
        """The body, laid with its front left corner at the origin."""
        return _laid(
            width_mm=self.width_mm,
            depth_mm=self.depth_mm,
            front=self.front,
            right=self.right,
            back=self.back,
            left=self.left,
        )


def _laid(
    *, width_mm: float, depth_mm: float, front: Held, right: Held, back: Held, left: Held
) -> Placement:
    amplifier = Amplifier(
        name="",
        width_mm=width_mm,
        depth_mm=depth_mm,
        height_mm=1,
        holds={
            "front": frozenset(front),
            "right": frozenset(right),
            "back": frozenset(back),
            "left": frozenset(left),
        },
    )
    return Placement(amplifier, 0, 0, 0)


def it_takes_no_heap_of_paper(
    *,
    width_mm: float,
    depth_mm: float,
    front: Held,
    right: Held,
    back: Held,
    left: Held,
    power_room_mm: float,
    speaker_room_mm: float,
    signal_room_mm: float,
    controls_room_mm: float,
    fins_room_mm: float,
) -> Iterator[Problem]:
    """Yield an amplifier whose template would take too many sheets."""
    body = _laid(
        width_mm=width_mm, depth_mm=depth_mm, front=front, right=right, back=back, left=left
    )
    rooms = FaceRooms(
        power_room_mm=power_room_mm,
        speaker_room_mm=speaker_room_mm,
        signal_room_mm=signal_room_mm,
        controls_room_mm=controls_room_mm,
        fins_room_mm=fins_room_mm,
    )
    around = extent(body, rooms.rooms)
    count = len(tiles(around))
    if count <= MOST_SHEETS:
        return
    is_wide = around.width_mm >= around.depth_mm
    largest = math.isqrt(MOST_SHEETS) * min(WIDTH_MM, HEIGHT_MM)
    yield Problem(
        field="width_mm" if is_wide else "depth_mm",
        given=rounded(width_mm if is_wide else depth_mm),
        words=f"with its clearances the template would take {count} sheets, and {MOST_SHEETS} is "
        f"the most. Enter smaller sizes: up to {rounded(largest)} mm each way, clearances "
        "included, always fits.",
    )


FORM = (
    Group("The amplifier", ("name", "width_mm", "depth_mm")),
    Group("What is on each side", SIDES),
    Group("Clearances", tuple(fields_of(FaceRooms))),
)

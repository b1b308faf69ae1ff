"""Can a hand reach the controls, and what lies in a seat's way: the judge of a placement.

The search finds placements; this module looks at a finished one, face by face.
"""

from collections.abc import Sequence
from enum import IntEnum

from calc.physics.floor_plan import SIDES, Amplifier, Bay, Placement, Rooms, micro


class Reach(IntEnum):
    """With the seat in place, slid, taken out, or never."""

    IN_PLACE = 0
    SEAT_SLID = 1
    SEAT_OUT = 2
    NEVER = 3


def over_edge(placement: Placement, bay: Bay, face: str, room_mm: float) -> float:
    """Return how far a face's strip goes over the edge it looks to [mm], 0 if it does not."""
    strip, side = placement.strip(face, room_mm), placement.side_of(face)
    if side == 0:
        over = -strip.y_mm
    elif side == 1:
        over = strip.x_mm + strip.width_mm - bay.width_mm
    elif side == 2:
        over = strip.y_mm + strip.depth_mm - bay.depth_mm
    else:
        over = -strip.x_mm
    # Lengths that differ by less than a micrometre are alike.
    return max(0.0, micro(over) / 1000)


def top_height(amplifier: Amplifier, bay: Bay, room_mm: float) -> float | None:
    """Return how much height is missing above an amplifier [mm], 0 if none is; None if that
    is not known.

    Under an open top only the body must stay below the height, if one is given.
    """
    if bay.top == "open":
        room_mm = 0
    if bay.height_mm is None:
        return 0.0 if bay.top == "open" else None
    return max(0.0, micro(amplifier.height_mm + room_mm - bay.height_mm) / 1000)


def top_reach(amplifier: Amplifier, bay: Bay, rooms: Rooms) -> Reach | None:
    """Return how controls on top are reached where the amplifier's place does not matter.

    Under a seat that must slide to uncover them the place does matter: this then tells
    `SEAT_OUT`, the worst.  None: not known, for want of the height.

    >>> low = Amplifier(name="a", width_mm=9, depth_mm=9, height_mm=50,
    ...                 holds={"top": frozenset({"controls"})})
    >>> top_reach(low, Bay(width_mm=9, depth_mm=9, height_mm=170, top="wall"), Rooms()).name
    'IN_PLACE'
    """
    room = rooms.reaching(amplifier.face("top"))
    if "controls" not in amplifier.face("top") or bay.top == "open":
        return Reach.IN_PLACE
    missing = top_height(amplifier, bay, room)
    if missing is None:
        return None
    if missing == 0:
        return Reach.IN_PLACE
    return Reach.SEAT_OUT if bay.top == "seat" else Reach.NEVER


def face_reach(
    placement: Placement, bay: Bay, rooms: Rooms, others: Sequence[Placement], face: str
) -> Reach | None:
    """Return how the controls of one face are reached; None if the height is not known."""
    if face == "top":
        reach = top_reach(placement.amplifier, bay, rooms)
        uncovered = placement.body.box[3] <= micro(bay.seat_travel_mm)
        return Reach.SEAT_SLID if reach == Reach.SEAT_OUT and uncovered else reach
    room = rooms.reaching(placement.amplifier.face(face))
    strip = placement.strip(face, room)
    if any(strip.overlaps(keep_out) for keep_out in bay.keep_outs) or any(
        strip.overlaps(other.body) for other in others
    ):
        return Reach.NEVER
    over = over_edge(placement, bay, face, room)
    edge = bay.edges[placement.side_of(face)]
    if over == 0 or edge == "open":
        return Reach.IN_PLACE
    if edge == "wall":
        return Reach.NEVER
    is_slid = micro(over) <= micro(bay.seat_travel_mm)
    return Reach.SEAT_SLID if is_slid else Reach.SEAT_OUT


def pressed(placement: Placement, bay: Bay, rooms: Rooms) -> float:
    """Return how far plugs reach into the seat's place [mm], 0 if they do not."""
    return max(
        (
            over_edge(placement, bay, face, rooms.plugs(placement.amplifier.face(face)))
            for face in SIDES
            if bay.edges[placement.side_of(face)] == "seat"
        ),
        default=0.0,
    )


def airless(placement: Placement, bay: Bay, rooms: Rooms) -> float:
    """Return how far the air of fins reaches into the seat's place [mm], 0 if it does not."""
    return max(
        (
            over_edge(placement, bay, face, rooms.fins_mm)
            for face in SIDES
            if bay.edges[placement.side_of(face)] == "seat"
            and "fins" in placement.amplifier.face(face)
        ),
        default=0.0,
    )


def reach_of(
    placement: Placement, bay: Bay, rooms: Rooms, others: Sequence[Placement]
) -> Reach | None:
    """Return how an amplifier's controls are reached: its worst face; None: not known.

    With plugs whose room the seat would take, no better than with the seat slid.
    """
    reaches = [
        face_reach(placement, bay, rooms, others, face)
        for face in placement.amplifier.control_faces
    ]
    if Reach.NEVER in reaches:
        return Reach.NEVER
    if None in reaches:
        return None
    least = Reach.SEAT_SLID if pressed(placement, bay, rooms) else Reach.IN_PLACE
    return max([least, *(reach for reach in reaches if reach is not None)])

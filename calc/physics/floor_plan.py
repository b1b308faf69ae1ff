"""What is placed and where: amplifiers with their faces, the bay with its edges.

Lengths in mm.  Sides are counted counter-clockwise from the front: 0 front (y = 0, where
the fitter stands), 1 right, 2 back, 3 left; a face that looks to side s at 0° looks to side
s + t after t quarter turns counter-clockwise.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

Edge = Literal["open", "wall", "seat"]
Lead = Literal["power", "speaker", "signal"]
Holding = Literal["power", "speaker", "signal", "controls", "fins"]
SIDES = ("front", "right", "back", "left")
FACES = (*SIDES, "top")
HOLDINGS: tuple[Holding, ...] = ("power", "speaker", "signal", "controls", "fins")
LEADS: tuple[Lead, ...] = ("power", "speaker", "signal")


def micro(length_mm: float) -> int:
    """Return a length in whole micrometres: sums and comparisons of these are exact.

    >>> micro(0.1) + micro(0.2) == micro(0.3), 0.1 + 0.2 == 0.3
    (True, False)
    """
    return round(length_mm * 1000)


@dataclass(frozen=True, kw_only=True)
class Rooms:
    """The room that each thing at a face needs in front of it [mm].

    For plugs: the plug and the bend of its cable.  For controls: a hand and a screwdriver.
    For fins: air.
    """

    power_mm: float = 60
    speaker_mm: float = 40
    signal_mm: float = 60
    controls_mm: float = 120
    fins_mm: float = 30

    def of(self, holding: Holding) -> float:
        """Return the room of one thing [mm]."""
        return float(getattr(self, f"{holding}_mm"))

    def lasting(self, holds: frozenset[Holding]) -> float:
        """Return the room that must stay free for good [mm]: plugs and air, not a hand.

        >>> Rooms().lasting(frozenset({"signal", "controls"}))
        60.0
        """
        return max((self.of(holding) for holding in holds if holding != "controls"), default=0.0)

    def plugs(self, holds: frozenset[Holding]) -> float:
        """Return the room that plugs need at a face [mm], 0 where there are none; air is no plug.

        >>> Rooms().plugs(frozenset({"speaker", "fins"})), Rooms().plugs(frozenset({"fins"}))
        (40.0, 0.0)
        """
        return max((self.of(lead) for lead in LEADS if lead in holds), default=0.0)

    def reaching(self, holds: frozenset[Holding]) -> float:
        """Return the room that a hand needs at a face [mm], 0 where there are no controls."""
        return self.of("controls") if "controls" in holds else 0.0


@dataclass(frozen=True, kw_only=True)
class Amplifier:
    """A body with what its five free faces hold; width lies along x when it is not turned."""

    name: str
    width_mm: float
    depth_mm: float
    height_mm: float
    holds: Mapping[str, frozenset[Holding]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not min(self.width_mm, self.depth_mm, self.height_mm) > 0:
            raise ValueError("an amplifier has a width, a depth and a height")

    def face(self, name: str) -> frozenset[Holding]:
        """Return what a face holds."""
        return self.holds.get(name, frozenset())

    @property
    def control_faces(self) -> tuple[str, ...]:
        """The faces that hold controls."""
        return tuple(name for name in FACES if "controls" in self.face(name))

    def is_like(self, other: "Amplifier") -> bool:
        """Tell whether two differ in nothing but their names."""
        return (self.width_mm, self.depth_mm, self.height_mm) == (
            other.width_mm,
            other.depth_mm,
            other.height_mm,
        ) and all(self.face(name) == other.face(name) for name in FACES)


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """A rectangle on the plan, from its corner nearest the origin [mm]."""

    x_mm: float
    y_mm: float
    width_mm: float
    depth_mm: float

    def overlaps(self, other: "Rectangle") -> bool:
        """Tell whether the two share floor; edges that touch do not.

        >>> square = Rectangle(x_mm=0, y_mm=0, width_mm=10, depth_mm=10)
        >>> square.overlaps(Rectangle(x_mm=10, y_mm=0, width_mm=5, depth_mm=5))
        False
        """
        left, front, right, back = self.box
        to_left, to_front, to_right, to_back = other.box
        return (
            left < right
            and front < back
            and to_left < to_right
            and to_front < to_back
            and left < to_right
            and to_left < right
            and front < to_back
            and to_front < back
        )

    @property
    def box(self) -> tuple[int, int, int, int]:
        """From x and y to x and y [µm]."""
        return (
            micro(self.x_mm),
            micro(self.y_mm),
            micro(self.x_mm + self.width_mm),
            micro(self.y_mm + self.depth_mm),
        )


@dataclass(frozen=True, kw_only=True)
class Bay:
    """The place for the amplifiers: a rectangle with edges, a roof, and what is in the way.

    height_mm : None where it is not known, or where there is no roof
    seat_travel_mm : how far a seat that is an edge, or the roof, slides out of the way; as
        a roof it slides away from the front edge
    """

    width_mm: float
    depth_mm: float
    height_mm: float | None = None
    edges: tuple[Edge, Edge, Edge, Edge] = ("open", "wall", "wall", "wall")
    top: Edge = "open"
    seat_travel_mm: float = 0
    keep_outs: tuple[Rectangle, ...] = ()

    def __post_init__(self) -> None:
        if not min(self.width_mm, self.depth_mm) > 0:
            raise ValueError("a bay has a width and a depth")
        if self.height_mm is not None and not self.height_mm > 0:
            raise ValueError("a bay has a height, or none is known")

    def opened_at(self, side: int) -> "Bay":
        """Return the same bay with the edge of a side open."""
        edges = list(self.edges)
        edges[side] = "open"
        front, right, back, left = edges
        return replace(self, edges=(front, right, back, left))

    @property
    def floor(self) -> Rectangle:
        """The bay's own floor."""
        return Rectangle(x_mm=0, y_mm=0, width_mm=self.width_mm, depth_mm=self.depth_mm)


class Strip(NamedTuple):
    """A face's room on the plan: what it is for, at which face, how deep [mm], and where."""

    kind: Literal["hand", "plugs", "air"]
    face: str
    room_mm: float
    where: Rectangle


@dataclass(frozen=True)
class Placement:
    """Where an amplifier stands: the corner of its rectangle as turned, in mm, and how far
    it is turned counter-clockwise, in quarters.
    """

    amplifier: Amplifier
    x_mm: float
    y_mm: float
    quarters: int

    @property
    def body(self) -> Rectangle:
        """The floor that the body takes."""
        across, along = turned(self.amplifier, self.quarters)
        return Rectangle(x_mm=self.x_mm, y_mm=self.y_mm, width_mm=across, depth_mm=along)

    def side_of(self, face: str) -> int:
        """Return the side to which a face looks.

        >>> here = Placement(Amplifier(name="a", width_mm=3, depth_mm=2, height_mm=1), 0, 0, 1)
        >>> SIDES[here.side_of("front")]
        'right'
        """
        return (SIDES.index(face) + self.quarters) % 4

    def strip(self, face: str, room_mm: float) -> Rectangle:
        """Return the strip of a depth along a face, outside the body."""
        body, side = self.body, self.side_of(face)
        if side in (0, 2):
            y = body.y_mm - room_mm if side == 0 else body.y_mm + body.depth_mm
            return Rectangle(x_mm=body.x_mm, y_mm=y, width_mm=body.width_mm, depth_mm=room_mm)
        x = body.x_mm - room_mm if side == 3 else body.x_mm + body.width_mm
        return Rectangle(x_mm=x, y_mm=body.y_mm, width_mm=room_mm, depth_mm=body.depth_mm)

    def strips(self, rooms: Rooms) -> list[Strip]:
        """Return the rooms at the side faces, those of a hand first."""
        strips = []
        for face in SIDES:
            holds = self.amplifier.face(face)
            air = rooms.fins_mm if "fins" in holds else 0.0
            kinds: tuple[tuple[Literal["hand", "plugs", "air"], float], ...] = (
                ("hand", rooms.reaching(holds)),
                ("plugs", rooms.plugs(holds)),
                ("air", air),
            )
            strips += [
                Strip(kind, face, room, self.strip(face, room)) for kind, room in kinds if room > 0
            ]
        return sorted(strips, key=lambda strip: strip.kind != "hand")

    def middle(self, face: str) -> tuple[float, float]:
        """Return the middle of a face's edge on the plan [mm]; of the top, the body's."""
        body = self.body
        across, along = body.x_mm + body.width_mm / 2, body.y_mm + body.depth_mm / 2
        if face == "top":
            return across, along
        return (
            (across, body.y_mm),
            (body.x_mm + body.width_mm, along),
            (across, body.y_mm + body.depth_mm),
            (body.x_mm, along),
        )[self.side_of(face)]


def turned(amplifier: Amplifier, quarters: int) -> tuple[float, float]:
    """Return the width along x and the depth along y as turned [mm]."""
    if quarters % 2:
        return amplifier.depth_mm, amplifier.width_mm
    return amplifier.width_mm, amplifier.depth_mm

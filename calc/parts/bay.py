"""The bay that amplifiers stand in: its size, its edges, what is in the way, rooms at faces."""

from dataclasses import dataclass
from typing import Annotated, Literal

from calc.inputs.fields import Choice, Number
from calc.physics.floor_plan import LEADS, Edge, Lead, Rectangle, Rooms

PRACTICE = "common practice, no source"
EDGE_OPTIONS: tuple[tuple[Edge, Edge], ...] = (
    ("open", "open"),
    ("wall", "wall"),
    ("seat", "seat"),
)


@dataclass(frozen=True, kw_only=True)
class BaySize:
    """How large the place is, and whether it is a floor or a wall."""

    bay_width_mm: Annotated[
        float,
        Number(
            "Width",
            low=50,
            high=5000,
            example=800.0,
            hint="Left to right, as you stand in front of it.",
        ),
    ]
    bay_depth_mm: Annotated[
        float,
        Number(
            "Depth",
            low=50,
            high=5000,
            example=420.0,
            hint="From the front edge, where you stand, to the back.",
        ),
    ]
    bay_height_mm: Annotated[
        float | None,
        Number(
            "Height",
            low=10,
            high=3000,
            example=110.0,
            empty="not known, or none under an open top",
            hint="Clear height at the lowest point. On a wall: how far it may stand out.",
        ),
    ] = None
    seat_travel_mm: Annotated[
        float,
        Number(
            "Seat travel",
            low=0,
            high=1000,
            start=0.0,
            hint="How far a seat that is an edge, or the roof, slides out of the way. As the roof "
            "it slides away from the front edge.",
        ),
    ]
    mounted_on: Annotated[
        Literal["floor", "wall"],
        Choice(
            "Mounted on",
            options=(("floor", "a floor"), ("wall", "an upright wall")),
            start="floor",
            hint="On a wall the plan shows the wall: its lower edge is the front edge.",
        ),
    ]

    @property
    def on_wall(self) -> bool:
        """Whether it is an upright wall."""
        return self.mounted_on == "wall"


@dataclass(frozen=True, kw_only=True)
class BayEdges:
    """What each edge of the place is, and what lies above it."""

    front_edge: Annotated[
        Edge, Choice("Front edge", options=EDGE_OPTIONS, start="open", hint="Where you stand.")
    ]
    right_edge: Annotated[
        Edge,
        Choice(
            "Right edge",
            options=EDGE_OPTIONS,
            start="wall",
            hint="Open: hands, plugs and air may go over it.",
        ),
    ]
    back_edge: Annotated[
        Edge,
        Choice("Back edge", options=EDGE_OPTIONS, start="wall", hint="Wall: nothing goes through."),
    ]
    left_edge: Annotated[
        Edge,
        Choice(
            "Left edge",
            options=EDGE_OPTIONS,
            start="open",
            hint="Seat: a wall that slides, or comes out.",
        ),
    ]
    top_edge: Annotated[
        Edge,
        Choice(
            "Top",
            options=EDGE_OPTIONS,
            start="wall",
            hint="What lies above: nothing, a cover or panel, a seat.",
        ),
    ]

    @property
    def around(self) -> tuple[Edge, Edge, Edge, Edge]:
        """The four edges of the floor: front, right, back, left."""
        return self.front_edge, self.right_edge, self.back_edge, self.left_edge

    @property
    def is_closed(self) -> bool:
        """Whether it is walled in on all sides and above."""
        return all(edge == "wall" for edge in (*self.around, self.top_edge))


@dataclass(frozen=True, kw_only=True)
class KeepOut:
    """A rectangle that is in the way, by its corner at the front left."""

    x_mm: Annotated[float, Number("from the left", low=-5000, high=5000, start=0.0)]
    y_mm: Annotated[float, Number("from the front", low=-5000, high=5000, start=0.0)]
    width_mm: Annotated[float, Number("width", low=1, high=5000, start=80.0)]
    depth_mm: Annotated[float, Number("depth", low=1, high=5000, start=80.0)]

    @property
    def rectangle(self) -> Rectangle:
        """The floor that it takes."""
        return Rectangle(
            x_mm=self.x_mm, y_mm=self.y_mm, width_mm=self.width_mm, depth_mm=self.depth_mm
        )


LeadKind = Annotated[
    Lead, Choice("lead", options=tuple((lead, lead) for lead in LEADS), start="power")
]


@dataclass(frozen=True, kw_only=True)
class Entry:
    """The point at which a kind of lead comes into the bay."""

    lead: LeadKind
    x_mm: Annotated[float, Number("from the left", low=-5000, high=5000, start=0.0)]
    y_mm: Annotated[float, Number("from the front", low=-5000, high=5000, start=0.0)]


@dataclass(frozen=True, kw_only=True)
class FaceRooms:
    """The room that each thing at a face needs in front of it."""

    power_room_mm: Annotated[
        float,
        Number(
            "Room for power cables",
            low=0,
            high=500,
            source=PRACTICE,
            hint="Lug or plug, and the bend: 60 up to 10 mm², 70 to 90 for 20 mm², 95 to 125 for "
            "50 mm².",
        ),
    ] = 60.0
    speaker_room_mm: Annotated[
        float,
        Number("Room for speaker leads", low=0, high=500, source=PRACTICE, hint="Plug and bend."),
    ] = 40.0
    signal_room_mm: Annotated[
        float,
        Number("Room for signal leads", low=0, high=500, source=PRACTICE, hint="Plug and bend."),
    ] = 60.0
    controls_room_mm: Annotated[
        float,
        Number(
            "Room for a hand",
            low=0,
            high=500,
            source=PRACTICE,
            hint="A hand with a screwdriver.",
        ),
    ] = 120.0
    fins_room_mm: Annotated[
        float,
        Number(
            "Room for air",
            low=0,
            high=500,
            source=PRACTICE,
            hint="At fins and at a fan’s openings: 25 to 50.",
        ),
    ] = 30.0

    @property
    def rooms(self) -> Rooms:
        """The rooms as the plan uses them."""
        return Rooms(
            power_mm=self.power_room_mm,
            speaker_mm=self.speaker_room_mm,
            signal_mm=self.signal_room_mm,
            controls_mm=self.controls_room_mm,
            fins_mm=self.fins_room_mm,
        )

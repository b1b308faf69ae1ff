"""The mounting space: its size, its edges, what is in the way, the clearances at each side."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.inputs.fields import Choice, Number
from calc.physics.floor_plan import Edge, Lead, Rectangle, Rooms

CLEARANCES = "clearances"  # in the register of sources
EDGE_OPTIONS: tuple[tuple[Edge, Edge], ...] = (
    ("open", "open"),
    ("wall", "wall"),
    ("seat", "seat"),
)


@dataclass(frozen=True, kw_only=True)
class BaySize:
    """How large the space is, and whether it is a floor or a wall."""

    bay_width_mm: Annotated[
        float,
        Number(
            "Width",
            low=50,
            high=5000,
            example=800.0,
            hint="Left to right, as you face it.",
        ),
    ]
    bay_depth_mm: Annotated[
        float,
        Number(
            "Depth",
            low=50,
            high=5000,
            example=420.0,
            hint="From the front edge, where you stand.",
        ),
    ]
    bay_height_mm: Annotated[
        float | None,
        Number(
            "Height",
            low=10,
            high=3000,
            example=110.0,
            empty="not known, or nothing above",
            hint="Clear height at the lowest point. On a wall: how far it can stick out.",
        ),
    ] = None
    seat_travel_mm: Annotated[
        float,
        Number(
            "Seat travel",
            low=0,
            high=1000,
            start=0.0,
            hint="How far the seat slides out of the way; a seat above, away from the front edge.",
        ),
    ]
    mounted_on: Annotated[
        Literal["floor", "wall"],
        Choice(
            "Mounted on",
            options=(("floor", "a floor"), ("wall", "an upright wall")),
            start="floor",
            hint="On a wall, the plan shows the wall and its lower edge is the front edge.",
        ),
    ]

    @property
    def on_wall(self) -> bool:
        """Whether it is an upright wall."""
        return self.mounted_on == "wall"


@dataclass(frozen=True, kw_only=True)
class BayEdges:
    """What each edge of the space is, and what is above it."""

    front_edge: Annotated[
        Edge, Choice("Front edge", options=EDGE_OPTIONS, start="open", hint="Where you stand.")
    ]
    right_edge: Annotated[
        Edge,
        Choice(
            "Right edge",
            options=EDGE_OPTIONS,
            start="wall",
            hint="Open: a hand, plugs and air can go over it.",
        ),
    ]
    back_edge: Annotated[
        Edge,
        Choice("Back edge", options=EDGE_OPTIONS, start="wall", hint="Wall: nothing goes past it."),
    ]
    left_edge: Annotated[
        Edge,
        Choice(
            "Left edge",
            options=EDGE_OPTIONS,
            start="open",
            hint="Seat: a wall that slides away, or comes out.",
        ),
    ]
    top_edge: Annotated[
        Edge,
        Choice(
            "Top",
            options=EDGE_OPTIONS,
            start="wall",
            hint="What is above: open, a panel (wall) or a seat.",
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


# What a reader sees for each kind of lead, and for each thing on a side of an amplifier.
LEAD_WORDS: Mapping[str, str] = {"power": "power", "speaker": "speaker", "signal": "RCA"}
HOLDING_WORDS: Mapping[str, str] = {
    "power": "power",
    "speaker": "speakers",
    "signal": "RCA inputs",
    "controls": "controls",
    "fins": "heatsink fins or fan",
}
LeadKind = Annotated[Lead, Choice("lead", options=tuple(LEAD_WORDS.items()), start="power")]


@dataclass(frozen=True, kw_only=True)
class Entry:
    """The point at which a kind of lead comes into the space."""

    lead: LeadKind
    x_mm: Annotated[float, Number("from the left", low=-5000, high=5000, start=0.0)]
    y_mm: Annotated[float, Number("from the front", low=-5000, high=5000, start=0.0)]


@dataclass(frozen=True, kw_only=True)
class FaceRooms:
    """The clearance that each thing on a side of an amplifier needs in front of it."""

    power_room_mm: Annotated[
        float,
        Number(
            "Clearance for power cables",
            low=0,
            high=500,
            source=CLEARANCES,
            hint="Ring terminal or plug, and the bend: 60 mm up to 10 mm², 70 to 90 mm for 20 mm² "
            "(4 AWG), 95 to 125 mm for 50 mm² (1/0 AWG).",
        ),
    ] = 60.0
    speaker_room_mm: Annotated[
        float,
        Number(
            "Clearance for speaker cables",
            low=0,
            high=500,
            source=CLEARANCES,
            hint="Plug, and the bend of the cable.",
        ),
    ] = 40.0
    signal_room_mm: Annotated[
        float,
        Number(
            "Clearance for RCA leads",
            low=0,
            high=500,
            source=CLEARANCES,
            hint="RCA (line-level) plug, and the bend of the lead.",
        ),
    ] = 60.0
    controls_room_mm: Annotated[
        float,
        Number(
            "Clearance for a hand",
            low=0,
            high=500,
            source=CLEARANCES,
            hint="At the controls, for a hand with a screwdriver.",
        ),
    ] = 120.0
    fins_room_mm: Annotated[
        float,
        Number(
            "Clearance for air",
            low=0,
            high=500,
            source=CLEARANCES,
            hint="At heatsink fins (cooling ribs) and fan openings: 25 to 50 mm.",
        ),
    ] = 30.0

    @property
    def rooms(self) -> Rooms:
        """The clearances as the plan uses them."""
        return Rooms(
            power_mm=self.power_room_mm,
            speaker_mm=self.speaker_room_mm,
            signal_mm=self.signal_room_mm,
            controls_mm=self.controls_room_mm,
            fins_mm=self.fins_room_mm,
        )

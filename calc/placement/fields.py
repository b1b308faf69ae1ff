"""The fields of this chapter, and what their values become."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calc.answers.figures import listed
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Choice, Field, Number, Numbers, Rows, Text, Words
from calc.physics.floor_plan import (
    FACES,
    HOLDINGS,
    LEADS,
    SIDES,
    Amplifier,
    Bay,
    Holding,
    Rectangle,
    Rooms,
)
from calc.placement.placing import MOST, Problem
from calc.placement.runs import Leg, NotARoute, runs

INVENTED = "invented, the Lantern Van"
PRACTICE = "common practice, no source"
MOST_KEEP_OUTS, MOST_WAY_POINTS, LONGEST_NAME = 6, 16, 24
EDGE_WORDS = (("open", "open"), ("wall", "wall"), ("seat", "seat"))


def _edge(key: str, label: str, default: str, hint: str) -> Choice:
    return Choice(key=key, label=label, options=EDGE_WORDS, default=default, hint=hint)


BAY_FIELDS: tuple[Field, ...] = (
    Number(
        key="bay_width_mm", label="Width", default="800", low=50, high=5000, source=INVENTED,
        hint="Left to right, as you stand in front of it.",
    ),
    Number(
        key="bay_depth_mm", label="Depth", default="420", low=50, high=5000, source=INVENTED,
        hint="From the front edge, where you stand, to the back.",
    ),
    Number(
        key="bay_height_mm", label="Height", default="110", low=10, high=3000, optional=True,
        source=INVENTED, empty="not known, or none under an open top",
        hint="Clear height at the lowest point. On a wall: how far it may stand out.",
    ),
    Number(
        key="seat_travel_mm", label="Seat travel", default="0", low=0, high=1000,
        hint="How far a seat that is an edge, or the roof, slides out of the way. As the roof it "
        "slides away from the front edge.",
    ),
    Choice(
        key="mounted_on", label="Mounted on", default="floor",
        options=(("floor", "a floor"), ("wall", "an upright wall")),
        hint="On a wall the plan shows the wall: its lower edge is the front edge.",
    ),
)  # fmt: skip
EDGE_FIELDS: tuple[Field, ...] = (
    _edge("front_edge", "Front edge", "open", "Where you stand."),
    _edge("right_edge", "Right edge", "wall", "Open: hands, plugs and air may go over it."),
    _edge("back_edge", "Back edge", "wall", "Wall: nothing goes through."),
    _edge("left_edge", "Left edge", "open", "Seat: a wall that slides, or comes out."),
    _edge("top_edge", "Top", "wall", "What lies above: nothing, a cover or panel, a seat."),
)
KEEP_OUTS = Rows(
    key="keep_outs", label="In the way", row_name="keep-out", most=MOST_KEEP_OUTS, optional=True,
    ordered=True, default="360,340,90,80", source=INVENTED,
    hint="Brackets, bolts, looms, ducts, what is under the carpet: the corner at the front left, "
    "counted from the bay’s front left corner, and the size.",
    columns=(
        Number(key="x_mm", label="from the left", default="0", low=-5000, high=5000),
        Number(key="y_mm", label="from the front", default="0", low=-5000, high=5000),
        Number(key="width_mm", label="width", default="80", low=1, high=5000),
        Number(key="depth_mm", label="depth", default="80", low=1, high=5000),
    ),
)  # fmt: skip


def _face(name: str, default: str) -> Words:
    return Words(key=name, label=name, words=HOLDINGS, default=default)


AMPLIFIER_COLUMNS: tuple[Field, ...] = (
    Text(key="name", label="name", default="amplifier", longest=LONGEST_NAME, numbered=True),
    Number(key="width_mm", label="width", default="260", low=20, high=2000),
    Number(key="depth_mm", label="depth", default="180", low=20, high=2000),
    Number(key="height_mm", label="height", default="55", low=5, high=1000),
    _face("front", "signal+controls"),
    _face("right", "none"),
    _face("back", "power+speaker"),
    _face("left", "none"),
    _face("top", "none"),
)
AMPLIFIERS = Rows(
    key="amplifiers", label="Amplifiers", row_name="amplifier", most=MOST, ordered=True,
    columns=AMPLIFIER_COLUMNS, source=INVENTED,
    default="Hazel 4-50,260,180,52,signal+controls,none,power+speaker,none,none;"
    "Linden 4-100 compact,210,110,46,none,signal+controls,none,power+speaker,none",
    hint="The body alone, and what sits on each face as the amplifier lies with its front to you.",
)  # fmt: skip
OTHER_AMPLIFIERS = Rows(
    key="other_amplifiers", label="Against these instead", row_name="amplifier", most=MOST,
    ordered=True, optional=True, more=True, columns=AMPLIFIER_COLUMNS, default="",
    hint="Another choice for the same bay, held beside the first: one large amplifier against two "
    "compact ones.",
)  # fmt: skip
MASSES = Numbers(
    key="masses_kg", label="Masses of the amplifiers", default="", optional=True, more=True,
    most=MOST, each=Number(key="mass_kg", label="mass", default="3", low=0.05, high=50),
    hint="In the order of the amplifiers, parted by ‘;’.",
)  # fmt: skip


def _room(key: str, label: str, default: str, hint: str) -> Number:
    return Number(
        key=key, label=label, default=default, low=0, high=500, source=PRACTICE, hint=hint,
    )  # fmt: skip


ROOM_FIELDS: tuple[Field, ...] = (
    _room(
        "power_room_mm",
        "Room for power cables",
        "60",
        "Lug or plug, and the bend: 60 up to 10 mm², 70 to 90 for 20 mm², 95 to 125 for 50 mm².",
    ),
    _room("speaker_room_mm", "Room for speaker leads", "40", "Plug and bend."),
    _room("signal_room_mm", "Room for signal leads", "60", "Plug and bend."),
    _room("controls_room_mm", "Room for a hand", "120", "A hand with a screwdriver."),
    _room("fins_room_mm", "Room for air", "30", "At fins and at a fan’s openings: 25 to 50."),
)
ENTRIES = Rows(
    key="entries", label="Where leads come in", row_name="entry", most=len(LEADS), optional=True,
    more=True, default="power,0,420;speaker,0,420;signal,800,0", source=INVENTED,
    hint="The point at which each kind of lead comes into the bay. Leads inside it are kept short.",
    columns=(
        Choice(
            key="lead", label="lead", default="power", options=tuple((one, one) for one in LEADS)
        ),
        Number(key="x_mm", label="from the left", default="0", low=-5000, high=5000),
        Number(key="y_mm", label="from the front", default="0", low=-5000, high=5000),
    ),
)  # fmt: skip
WAY_POINTS = Rows(
    key="way_points", label="Ways to the bay", row_name="stretch", most=MOST_WAY_POINTS,
    optional=True, ordered=True, more=True, source=INVENTED,
    default="power,battery,sill,1.2;power,sill,bay,1.8;signal,head unit,tunnel,1.2;"
    "signal,tunnel,bay,4.3;speaker,bay,sill,1.4;speaker,sill,left door,2.3;"
    "speaker,sill,right door,3.6;speaker,bay,woofers,1.2",
    hint="Stretch by stretch along the way that the lead takes, round every corner. Stretches "
    "with the same lead join where the names are the same.",
    columns=(
        Choice(
            key="lead", label="lead", default="power", options=tuple((one, one) for one in LEADS)
        ),
        Text(key="from", label="from", default="start", longest=LONGEST_NAME, numbered=True),
        Text(key="to", label="to", default="end", longest=LONGEST_NAME, numbered=True),
        Number(key="length_m", label="length", default="1", low=0.01, high=100),
    ),
)  # fmt: skip
SLACK = Number(
    key="slack_percent", label="Slack", default="10", low=0, high=100, more=True, source=PRACTICE,
    hint="Added to every run when buying.",
)  # fmt: skip
BOARD = Number(
    key="board_mm", label="Boards of a false floor", default="12", low=0, high=50, more=True,
    source=PRACTICE, hint="Thickness: one under the amplifiers, one above.",
)  # fmt: skip


def amplifiers_of(rows: Sequence[Mapping[str, Any]]) -> tuple[Amplifier, ...]:
    """Return the amplifiers that rows describe."""
    return tuple(
        Amplifier(
            name=row["name"],
            width_mm=row["width_mm"],
            depth_mm=row["depth_mm"],
            height_mm=row["height_mm"],
            holds={face: frozenset(row[face]) for face in FACES},
        )
        for row in rows
    )


def rooms_of(given: Mapping[str, Any]) -> Rooms:
    """Return the rooms that the read values give to faces."""
    return Rooms(
        power_mm=given["power_room_mm"],
        speaker_mm=given["speaker_room_mm"],
        signal_mm=given["signal_room_mm"],
        controls_mm=given["controls_room_mm"],
        fins_mm=given["fins_room_mm"],
    )


def bay_of(given: Mapping[str, Any]) -> Bay:
    """Return the bay that the read values describe."""
    front, right, back, left = (given[f"{side}_edge"] for side in SIDES)
    return Bay(
        width_mm=given["bay_width_mm"],
        depth_mm=given["bay_depth_mm"],
        height_mm=given["bay_height_mm"],
        edges=(front, right, back, left),
        top=given["top_edge"],
        seat_travel_mm=given["seat_travel_mm"],
        keep_outs=tuple(Rectangle(**row) for row in given["keep_outs"]),
    )


def entries_of(given: Mapping[str, Any]) -> dict[Holding, tuple[float, float]]:
    """Return where each kind of lead comes into the bay [mm]."""
    return {row["lead"]: (row["x_mm"], row["y_mm"]) for row in given["entries"]}


def problem_of(given: Mapping[str, Any], rows: Sequence[Mapping[str, Any]]) -> Problem:
    """Return the question whether the amplifiers of these rows stand in the bay."""
    return Problem(
        bay=bay_of(given),
        amplifiers=amplifiers_of(rows),
        rooms=rooms_of(given),
        entries=entries_of(given),
    )


def legs_of(given: Mapping[str, Any]) -> list[Leg]:
    """Return the stretches of leads."""
    return [
        Leg(row["lead"], row["from"], row["to"], row["length_m"]) for row in given["way_points"]
    ]


def check_mounting(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    errors = []
    for one in (AMPLIFIERS, OTHER_AMPLIFIERS):
        names = [row["name"] for row in given.get(one.key, ())]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            told = listed([shown(name) for name in twice])
            stand = "stands" if len(twice) == 1 else "stand"
            message = f"{told} {stand} there twice. Give each a name of its own."
            errors.append(_error(one, given, message))
    leads = [row["lead"] for row in given.get("entries", ())]
    if len(leads) > len(set(leads)):
        message = "A kind of lead comes in twice. Give one point for each kind."
        errors.append(_error(ENTRIES, given, message))
    masses = given.get("masses_kg")
    if masses and "amplifiers" in given and len(masses) != len(given["amplifiers"]):
        message = (
            f"{len(masses)} of them for {len(given['amplifiers'])} amplifiers. Give one for each."
        )
        errors.append(_error(MASSES, given, message))
    if given.get("way_points"):
        try:
            runs(legs_of(given), slack=0)
        except NotARoute as wrong:
            errors.append(_error(WAY_POINTS, given, str(wrong)))
    return errors


def _error(one: Field, given: Mapping[str, Any], message: str) -> FieldError:
    return FieldError(one.key, shown(one.write(given[one.key])), f"{one.label}: {message}")

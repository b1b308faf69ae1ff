"""The tables of `mounting-reach`, and what they show as results."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.figures import THIN_SPACE, quantity, rounded
from calc.answers.sheet import Column, Quantity, Table
from calc.physics.fixing import crash_pull, floor_takes, total_height
from calc.physics.floor_plan import FACES, LEADS, SIDES, Holding, Placement
from calc.placement.mounting_words import REACH_KEYS, REACH_WORDS, Outcome, whole_mm
from calc.placement.reach import face_reach
from calc.placement.runs import Leg


def _by(width_mm: float, depth_mm: float) -> str:
    """Write a size of two lengths that stays in one line."""
    return f"{rounded(width_mm)}{THIN_SPACE}×{THIN_SPACE}{rounded(depth_mm)}"


def side_words(one: Placement, face: str, on_wall: bool) -> str:
    """Say where a face looks as it stands."""
    if face == "top":
        return "to you" if on_wall else "up"
    side = SIDES[one.side_of(face)]
    on_a_wall = {"front": "down", "back": "up"}
    return on_a_wall[side] if on_wall and side in on_a_wall else f"to the {side}"


def face_reaches(outcome: Outcome) -> list[dict[str, str | None]]:
    """Return for each amplifier how each of its control faces is reached."""
    bay, rooms, stands = outcome.problem.bay, outcome.problem.rooms, outcome.placements
    found = []
    for at, one in enumerate(stands):
        others = [*stands[:at], *stands[at + 1 :]]
        own: dict[str, str | None] = {}
        for face in one.amplifier.control_faces:
            reach = face_reach(one, bay, rooms, others, face)
            own[face] = None if reach is None else REACH_KEYS[reach]
        found.append(own)
    return found


def placement_results(outcome: Outcome) -> list[dict[str, Any]]:
    """Return the placements as results."""
    if not outcome.feasible and outcome.feasible is not None:
        return []
    faces = face_reaches(outcome)
    return [
        {
            "amplifier": one.amplifier.name,
            "x_mm": one.x_mm,
            "y_mm": one.y_mm,
            "turned_deg": 90 * one.quarters,
            "controls": None if reach is None else REACH_KEYS[reach],
            "control_faces": faces[at],
            "into_seat_mm": outcome.pressed_mm[at],
            "fins_into_seat_mm": outcome.airless_mm[at],
        }
        for at, (one, reach) in enumerate(zip(outcome.placements, outcome.reaches, strict=True))
    ]


def places_table(outcome: Outcome, on_wall: bool) -> Table:
    """Where each amplifier stands, and how its controls are reached."""
    rows = []
    for at, (one, reach) in enumerate(zip(outcome.placements, outcome.reaches, strict=True), 1):
        faces = one.amplifier.control_faces
        controls = "none named"
        if faces:
            controls = "not known" if reach is None else REACH_WORDS[reach]
        rows.append(
            (
                f"{at} {one.amplifier.name}",
                controls,
                Quantity(one.x_mm),
                Quantity(one.y_mm),
                Quantity(90 * one.quarters),
                _by(one.body.width_mm, one.body.depth_mm),
            )
        )
    return Table(
        name="placements",
        caption="Where each stands"
        + (", were it high enough" if outcome.feasible is False else ""),
        columns=(
            Column("Amplifier"),
            Column("Controls"),
            Column("From the left", "mm"),
            Column("From the lower edge" if on_wall else "From the front", "mm"),
            Column("Turned", "°"),
            Column("Takes", "mm"),
        ),
        cards=True,
        rows=tuple(rows),
        note=f"The corner nearest the {'lower' if on_wall else 'front'} left. Turned "
        "counter-clockwise: at 90° the amplifier’s front looks to the right.",
    )


def sides_table(outcome: Outcome, on_wall: bool) -> Table:
    """Which side holds what, as it stands, with the room that it has."""
    rooms = outcome.problem.rooms
    reaches = face_reaches(outcome)
    rows = []
    for at, one in enumerate(outcome.placements):
        for face in FACES:
            holds = one.amplifier.face(face)
            if not holds:
                continue
            key = reaches[at].get(face)
            words = {None: "not known", **{REACH_KEYS[r]: w for r, w in REACH_WORDS.items()}}
            rows.append(
                (
                    f"{at + 1} {one.amplifier.name}",
                    face,
                    words[key] if "controls" in holds else "–",
                    Quantity(max(rooms.of(own) for own in holds)),
                    side_words(one, face, on_wall),
                    ", ".join(sorted(holds, key=_order)),
                )
            )
    return Table(
        name="sides",
        caption="Which side holds what",
        columns=(
            Column("Amplifier"),
            Column("Face"),
            Column("Hand"),
            Column("Room", "mm"),
            Column("Looks"),
            Column("Holds"),
        ),
        cards=True,
        rows=tuple(rows),
    )


def _order(holding: Holding) -> int:
    return ("power", "speaker", "signal", "controls", "fins").index(holding)


def heights_table(outcome: Outcome, board_mm: float, masses: Sequence[float] | None) -> Table:
    """Height with what is on top, floor with plugs, and the pull on the fixing."""
    rows = []
    for at, one in enumerate(outcome.problem.amplifiers):
        across, along = floor_takes(one, outcome.problem.rooms)
        high = total_height(one, outcome.problem.rooms)
        held = ()
        if masses:
            held = (Quantity(masses[at]), Quantity(crash_pull(mass_kg=masses[at])))
        rows.append(
            (one.name, _by(across, along), Quantity(high), Quantity(high + 2 * board_mm), *held)
        )
    note = (
        "Floor: width and depth of the body with the rooms for plugs and air. Under a false floor: "
        "up to its upper side, both boards included. "
    )
    if masses:
        note += (
            "Fixing must hold: 20 times the amplifier’s weight in every direction (from memory); "
        )
        note += "add the board."
    else:
        note += "With the masses this table tells what the fixing must hold."
    held_columns = (Column("Mass", "kg"), Column("Fixing must hold", "N")) if masses else ()
    return Table(
        caption="Height, floor and fixing",
        columns=(
            Column("Amplifier"),
            Column("Floor with plugs", "mm"),
            Column("Height with plugs", "mm"),
            Column("Under a false floor", "mm"),
            *held_columns,
        ),
        rows=tuple(rows),
        note=note,
    )


def lead_legs(
    outcome: Outcome, entries: Mapping[Holding, tuple[float, float]]
) -> list[tuple[str, Holding, str, float]]:
    """Return the leads inside the bay: amplifier, lead, face, length [mm]."""
    found = []
    for one in outcome.placements:
        for lead in LEADS:
            if lead not in entries:
                continue
            for face in FACES:
                if lead in one.amplifier.face(face):
                    x, y = one.middle(face)
                    length = abs(x - entries[lead][0]) + abs(y - entries[lead][1])
                    found.append((one.amplifier.name, lead, face, length))
    return found


def runs_table(runs: Sequence[Leg], slack_percent: float) -> Table:
    """The runs to the bay with their slack."""
    return Table(
        caption="Leads along the vehicle",
        columns=(
            Column("Lead"),
            Column("From"),
            Column("To"),
            Column("Length", "m", decimals=2),
        ),
        rows=tuple((one.lead, one.start, one.end, Quantity(one.length_m)) for one in runs),
        note=f"Slack of {quantity(slack_percent, '%')} included; the way inside the bay is not.",
    )


def legs_table(legs: Sequence[tuple[str, Holding, str, float]]) -> Table:
    """The leads inside the bay."""
    return Table(
        caption="Leads inside the bay",
        columns=(
            Column("Amplifier"),
            Column("Lead"),
            Column("Face"),
            Column("Length", "m", decimals=2),
        ),
        rows=tuple((name, lead, face, Quantity(mm / 1000)) for name, lead, face, mm in legs),
        note="From where the lead comes in to the middle of its face, along and across, no slack.",
    )


def design_row(name: str, outcome: Outcome) -> tuple[Any, ...]:
    """Return one design's row of the comparison."""
    is_there = outcome.feasible is not False and outcome.placements
    worst = outcome.worst if is_there else None
    controls = "–"
    if is_there and outcome.with_controls:
        controls = "not known" if worst is None else REACH_WORDS[worst]
    lead_mm = outcome.solution.lead_mm
    spare = outcome.solution.spare_mm2
    return (
        name,
        _fits_words(outcome),
        controls,
        f"{quantity(lead_mm / 1000, 'm', 3)}" if is_there and lead_mm is not None else "–",
        f"{quantity(spare / 1e6, 'm²', 3)}" if is_there and spare is not None else "–",
        quantity(whole_mm(max(_heights(outcome))), "mm"),
    )


def _fits_words(outcome: Outcome) -> str:
    if outcome.feasible and any(outcome.pressed_mm):
        return f"only with the seat slid {quantity(whole_mm(max(outcome.pressed_mm)), 'mm')}"
    if outcome.feasible and any(outcome.airless_mm):
        return "yes, but the seat shuts off the air at the fins"
    return {True: "yes", False: "no", None: "not known"}[outcome.feasible]


def _heights(outcome: Outcome) -> list[float]:
    return [total_height(one, outcome.problem.rooms) for one in outcome.problem.amplifiers]


def designs_table(rows: Sequence[tuple[Any, ...]]) -> Table:
    """Two designs in the same bay, side by side."""
    return Table(
        caption="The two designs, side by side",
        columns=(
            Column("Design", wide=True),
            Column("Fits"),
            Column("Controls"),
            Column("Leads inside"),
            Column("Spare floor"),
            Column("Height with plugs"),
        ),
        rows=tuple(rows),
        note="Controls: the worst of all. Spare floor: what no body, room or keep-out takes. The "
        "tables below are for the first design.",
    )

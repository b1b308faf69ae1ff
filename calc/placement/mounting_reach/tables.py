"""The tables of `mounting-reach`, and the design's placements as results."""

from collections.abc import Sequence

from calc.answers.figures import THIN_SPACE, listed, quantity, rounded
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.parts.bay import HOLDING_WORDS, LEAD_WORDS
from calc.physics.fixing import crash_pull, floor_takes
from calc.physics.floor_plan import FACES, HOLDINGS, SIDES, Placement
from calc.placement.mounting_reach.solve import LeadInBay, Outcome
from calc.placement.mounting_reach.words import REACH_KEYS, REACH_WORDS, whole_mm
from calc.placement.reach import Reach
from calc.placement.runs import Leg


def _by(width_mm: float, depth_mm: float) -> str:
    """Write a size of two lengths that stays in one line."""
    return f"{rounded(width_mm)}{THIN_SPACE}×{THIN_SPACE}{rounded(depth_mm)}"


def side_words(stand: Placement, face: str, on_wall: bool) -> str:
    """Say where a side faces as it stands."""
    if face == "top":
        return "towards you" if on_wall else "up"
    side = SIDES[stand.side_of(face)]
    on_a_wall = {"front": "down", "back": "up"}
    return on_a_wall[side] if on_wall and side in on_a_wall else side


def _key(reach: Reach | None) -> str | None:
    return None if reach is None else REACH_KEYS[reach]


def _hand_words(reach: Reach | None) -> str:
    return "not known" if reach is None else REACH_WORDS[reach]


def placement_results(outcome: Outcome) -> list[dict[str, object]]:
    """Return the placements as results."""
    if outcome.feasible is False:
        return []
    faces = outcome.face_reaches
    return [
        {
            "amplifier": stand.amplifier.name,
            "x_mm": stand.x_mm,
            "y_mm": stand.y_mm,
            "turned_deg": 90 * stand.quarters,
            "controls": _key(reach),
            "control_faces": {face: _key(reached) for face, reached in faces[at].items()},
            "into_seat_mm": outcome.pressed_mm[at],
            "fins_into_seat_mm": outcome.airless_mm[at],
        }
        for at, (stand, reach) in enumerate(zip(outcome.placements, outcome.reaches, strict=True))
    ]


def places_table(outcome: Outcome, on_wall: bool) -> Table:
    """Where each amplifier stands, and how its controls are reached."""
    rows: list[tuple[Cell, ...]] = []
    for at, (stand, reach) in enumerate(zip(outcome.placements, outcome.reaches, strict=True), 1):
        rows.append(
            (
                f"{at} {stand.amplifier.name}",
                _hand_words(reach) if stand.amplifier.control_faces else "none entered",
                Quantity(stand.x_mm),
                Quantity(stand.y_mm),
                Quantity(90 * stand.quarters),
                _by(stand.body.width_mm, stand.body.depth_mm),
            )
        )
    return Table(
        name="placements",
        caption="Where each amplifier goes"
        + (", if it were high enough" if outcome.feasible is False else ""),
        columns=(
            Column("Amplifier"),
            Column("Controls"),
            Column("From the left", "mm"),
            Column("From the lower edge" if on_wall else "From the front", "mm"),
            Column("Turned", "°"),
            Column("Floor", "mm"),
        ),
        cards=True,
        rows=tuple(rows),
        note=f"Measured to the {'lower' if on_wall else 'front'} left corner. Turned "
        "counter-clockwise: at 90° the amplifier’s front faces right.",
    )


def sides_table(outcome: Outcome, on_wall: bool) -> Table:
    """What is on each side, as it stands, with its clearance."""
    rooms, reaches = outcome.problem.rooms, outcome.face_reaches
    rows: list[tuple[Cell, ...]] = []
    for at, stand in enumerate(outcome.placements):
        for face in FACES:
            holds = stand.amplifier.face(face)
            if not holds:
                continue
            rows.append(
                (
                    f"{at + 1} {stand.amplifier.name}",
                    face,
                    _hand_words(reaches[at][face]) if "controls" in holds else "–",
                    Quantity(max(rooms.of(holding) for holding in holds)),
                    side_words(stand, face, on_wall),
                    ", ".join(HOLDING_WORDS[held] for held in HOLDINGS if held in holds),
                )
            )
    return Table(
        name="sides",
        aside=True,
        caption="What is on each side",
        columns=(
            Column("Amplifier"),
            Column("Side"),
            Column("Controls"),
            Column("Clearance", "mm"),
            Column("Faces"),
            Column("On it"),
        ),
        cards=True,
        rows=tuple(rows),
    )


def heights_table(outcome: Outcome, board_mm: float, masses: Sequence[float] | None) -> Table:
    """Height with what is on top, floor with plugs, and the pull on the fixing."""
    rows: list[tuple[Cell, ...]] = []
    heights = outcome.heights_mm
    for at, amplifier in enumerate(outcome.problem.amplifiers):
        across, along = floor_takes(amplifier, outcome.problem.rooms)
        rows.append(
            (
                amplifier.name,
                _by(across, along),
                Quantity(heights[at]),
                Quantity(heights[at] + 2 * board_mm),
                *_held(masses, at),
            )
        )
    note = (
        "Floor: width and depth of the amplifier with the clearances for plugs and air. Under a "
        "false floor: up to the top of the upper board, both boards included. "
    )
    if masses:
        note += (
            "The fixings must hold twenty times the amplifier’s weight, forwards and backwards; "
        )
        note += "add the weight of the board."
    else:
        note += "Enter the weights to see what the fixings must hold."
    held_columns = (Column("Weight", "kg"), Column("Fixings must hold", "N")) if masses else ()
    return Table(
        name="heights",
        caption="Floor, height and fixings",
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


def _held(masses: Sequence[float] | None, at: int) -> tuple[Cell, ...]:
    if not masses:
        return ()
    return Quantity(masses[at]), Quantity(crash_pull(mass_kg=masses[at]))


def runs_table(runs: Sequence[Leg], slack_percent: float) -> Table:
    """The runs to the space with their slack."""
    return Table(
        name="runs",
        aside=True,
        caption="Cable runs to the space",
        columns=(
            Column("Lead"),
            Column("From"),
            Column("To"),
            Column("Length", "m", decimals=2),
        ),
        rows=tuple(
            (LEAD_WORDS[run.lead], run.start, run.end, Quantity(run.length_m)) for run in runs
        ),
        note=f"Slack of {quantity(slack_percent, '%')} is included; the leads inside the space are "
        "not.",
    )


def leads_table(leads: Sequence[LeadInBay]) -> Table:
    """The leads inside the space."""
    return Table(
        name="leads",
        aside=True,
        caption="Leads inside the space",
        columns=(
            Column("Amplifier"),
            Column("Lead"),
            Column("Side"),
            Column("Length", "m", decimals=2),
        ),
        rows=tuple(
            (lead.amplifier, LEAD_WORDS[lead.lead], lead.face, Quantity(lead.length_m))
            for lead in leads
        ),
        note="From where the lead comes in to the middle of that side, along and across, no slack.",
    )


def _design_row(outcome: Outcome) -> tuple[Cell, ...]:
    """Return one design's row of the comparison."""
    controls = "–"
    if outcome.feasible is not False and outcome.placements and outcome.with_controls:
        controls = _hand_words(outcome.worst)
    lead_mm, spare_mm2 = outcome.lead_mm, outcome.spare_mm2
    return (
        listed([amplifier.name for amplifier in outcome.problem.amplifiers]),
        _fits_words(outcome),
        controls,
        f"{quantity(lead_mm / 1000, 'm', 3)}" if lead_mm is not None else "–",
        f"{quantity(spare_mm2 / 1e6, 'm²', 3)}" if spare_mm2 is not None else "–",
        quantity(whole_mm(max(outcome.heights_mm)), "mm"),
    )


def _fits_words(outcome: Outcome) -> str:
    if outcome.feasible and any(outcome.pressed_mm):
        return f"only with the seat slid {quantity(whole_mm(max(outcome.pressed_mm)), 'mm')}"
    if outcome.feasible and any(outcome.airless_mm):
        return "yes, but a seat covers the heatsink fins"
    return {True: "yes", False: "no", None: "not known"}[outcome.feasible]


def designs_table(design: Outcome, other: Outcome) -> Table:
    """Two choices in the same space, side by side."""
    return Table(
        name="designs",
        caption="The two choices, side by side",
        columns=(
            Column("Choice", wide=True),
            Column("Fits"),
            Column("Controls"),
            Column("Leads inside"),
            Column("Free floor"),
            Column("Height with plugs"),
        ),
        rows=(_design_row(design), _design_row(other)),
        note="Controls: the hardest to reach. Free floor: left over by amplifiers, clearances and "
        "obstacles. The tables below are for the first choice.",
    )

"""The calculator `mounting-reach`: does it fit, and can a hand get to the controls."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.physics.fixing import crash_pull, total_height
from calc.physics.floor_plan import SIDES
from calc.placement.drawings import plan
from calc.placement.fields import (
    AMPLIFIERS,
    BAY_FIELDS,
    BOARD,
    EDGE_FIELDS,
    ENTRIES,
    KEEP_OUTS,
    MASSES,
    OTHER_AMPLIFIERS,
    ROOM_FIELDS,
    SLACK,
    WAY_POINTS,
    check_mounting,
    entries_of,
    legs_of,
    problem_of,
)
from calc.placement.mounting_onward import ways_on
from calc.placement.mounting_starts import STARTS
from calc.placement.mounting_tables import (
    design_row,
    designs_table,
    heights_table,
    lead_legs,
    legs_table,
    placement_results,
    places_table,
    runs_table,
    sides_table,
)
from calc.placement.mounting_words import (
    Outcome,
    consequences,
    outcome_of,
    relax_list,
    relaxed_words,
    sentence_of,
    verdict_of,
)
from calc.placement.runs import runs

_CAUTIONS = (
    "Airbags and belt pretensioners hold explosive charges, and their wires run under and beside "
    "seats. A disturbed one can go off, or fail in a crash. Unplug nothing there; taking a seat "
    "out belongs in a licensed workshop.",
    "Never screw or drill blind: fuel lines, brake lines and looms lie behind and under sheet "
    "metal. Look at the other side first, and stop the drill short.",
    "Bolt the amplifier down: the fixings are to hold twenty times its weight forwards, as in "
    "luggage tests. In a crash a loose one is thrown. Screw it to a board or a bracket that is "
    "itself bolted down; tape or a tie alone will not hold it.",
    "The plan knows rectangles. Try it in the car, with the amplifier or its footprint on paper.",
)
_WALL_CAUTION = (
    "On a wall: terminals and plugs to the side or downwards, so that water does not run into "
    "them; the channels between fins upright, so that air rises through them. Know what lies "
    "behind the wall."
)


def mounting_reach(given: Mapping[str, Any]) -> Sheet:
    """Compute `mounting-reach`."""
    outcome = outcome_of(problem_of(given, given["amplifiers"]))
    other = None
    if given["other_amplifiers"]:
        other = outcome_of(problem_of(given, given["other_amplifiers"]))
    entries = entries_of(given)
    whole = runs(legs_of(given), slack=given["slack_percent"] / 100)
    legs = lead_legs(outcome, entries) if outcome.feasible is not False else []
    heights = [total_height(one, outcome.problem.rooms) for one in outcome.problem.amplifiers]
    onward = ways_on(given, whole, legs)
    return Sheet(
        sentence=sentence_of(outcome) + _other_sentence(other),
        verdict=verdict_of(outcome),
        results={
            **_results(outcome),
            "runs": [
                {"lead": one.lead, "from": one.start, "to": one.end, "length_m": one.length_m}
                for one in whole
            ],
            "leads_in_bay": [
                {"amplifier": name, "lead": lead, "face": face, "length_m": mm / 1000}
                for name, lead, face, mm in legs
            ],
            "height_needed_mm": max(heights),
            "false_floor_mm": max(heights) + 2 * given["board_mm"],
            "fixing": [
                {"amplifier": row["name"], "mass_kg": mass, "holds_n": crash_pull(mass_kg=mass)}
                for row, mass in zip(given["amplifiers"], given["masses_kg"] or (), strict=False)
            ],
            "other": None if other is None else _results(other),
        },
        figures=_figures(outcome, heights),
        drawings=_drawings(given, outcome, other),
        tables=(
            *((designs_table(_designs(outcome, other)),) if other else ()),
            *(
                (
                    places_table(outcome, given["mounted_on"] == "wall"),
                    sides_table(outcome, given["mounted_on"] == "wall"),
                )
                if outcome.placements
                else ()
            ),
            heights_table(outcome, given["board_mm"], given["masses_kg"]),
            *((runs_table(whole, given["slack_percent"]),) if whole else ()),
            *((legs_table(legs),) if legs else ()),
        ),
        onward=onward,
        cautions=(
            *dict.fromkeys([*consequences(outcome), *(consequences(other) if other else ())]),
            *_wall_cautions(given, outcome),
            *_CAUTIONS,
        ),
        steps=_steps(outcome),
        unknowns=(
            "The arm’s way to the controls, and its height: only the room in front of them counts.",
            "Shapes that are not rectangles, sloping floors, what a carpet hides; standing on edge "
            "and stacking.",
            "Board, feet and a gap below: add them to the height.",
            "Whether the place stays dry, and how warm it gets: see the calculator of heat.",
            "How the seat moves besides sliding: height, tilt, folding, and how far it sinks.",
            "Whether the panel holds the weight, and what lies behind it.",
        ),
        sources=(
            "Geometry. The search is exact: every turn, every order side by side.",
            "Rooms for plugs, hands and air; slack; boards: common practice, no source.",
            "Twenty times the weight forwards, as in luggage tests: about 20 g (from memory).",
        ),
    )


def _other_sentence(other: Outcome | None) -> str:
    if other is None:
        return ""
    text = sentence_of(other)
    return f" The other design: {text[0].lower()}{text[1:]}"


def _wall_cautions(given: Mapping[str, Any], outcome: Outcome) -> list[str]:
    """Return what to mind on an upright wall, and whose terminals look up."""
    if given["mounted_on"] != "wall":
        return []
    up = [
        one.amplifier.name
        for one in outcome.placements
        if any(
            one.side_of(face) == 2 and one.amplifier.face(face) & {"power", "speaker", "signal"}
            for face in SIDES
        )
    ]
    found = [_WALL_CAUTION]
    if up:
        found.insert(0, f"Plugs of {listed(up)} look up, where water runs in along the leads.")
    return found


def _results(outcome: Outcome) -> dict[str, Any]:
    solution = outcome.solution
    bay = outcome.problem.bay
    fits = outcome.feasible is not False
    return {
        "feasible": outcome.feasible,
        "placements": placement_results(outcome),
        "verdict": verdict_of(outcome).state,
        "relax": [
            {
                "what": one.kind,
                "by_mm": one.by_mm,
                "which": one.which or None,
                "height_mm": one.height_mm or None,
                "words": _plain(words),
            }
            for one, words in relax_list(outcome)
        ],
        "controls_in_place_with": [
            {"what": one.kind, "by_mm": one.by_mm, "words": _plain(relaxed_words(one, bay))}
            for one in outcome.for_controls
        ],
        "lead_in_bay_m": (
            solution.lead_mm / 1000 if fits and solution.lead_mm is not None else None
        ),
        "spare_m2": solution.spare_mm2 / 1e6 if fits and solution.spare_mm2 is not None else None,
        "reach_is_proven": solution.best_reach if fits else None,
        "leads_are_proven": solution.shortest if fits and solution.lead_mm is not None else None,
    }


def _plain(words: str) -> str:
    return words.replace("\u202f", " ")


def _figures(outcome: Outcome, heights: Sequence[float]) -> tuple[Figure, ...]:
    found = [Figure("Height with plugs", Quantity(max(heights), "mm"))]
    if outcome.feasible is not False and outcome.solution.spare_mm2 is not None:
        found.append(Figure("Spare floor", Quantity(outcome.solution.spare_mm2 / 1e6, "m²"), 2))
    if outcome.feasible is not False and outcome.solution.lead_mm is not None:
        found.append(Figure("Leads inside", Quantity(outcome.solution.lead_mm / 1000, "m"), 2))
    return tuple(found)


def _drawings(given: Mapping[str, Any], outcome: Outcome, other: Outcome | None) -> tuple[Any, ...]:
    entries = entries_of(given)
    on_wall = given["mounted_on"] == "wall"
    title = "The wall, seen from in front" if on_wall else "The bay from above"
    found = []
    for one, words in ((outcome, title), (other, "The same bay, the other design")):
        if one is None:
            continue
        if not one.placements:
            words = f"{words}, empty: there is no place"
        elif one.feasible is False:
            words = f"{words}, were it high enough"
        found.append(
            plan(words, one.problem.bay, one.placements, one.problem.rooms, entries, on_wall)
        )
    return tuple(found)


def _designs(outcome: Outcome, other: Outcome) -> list[tuple[Any, ...]]:
    return [
        design_row(listed([amplifier.name for amplifier in one.problem.amplifiers]), one)
        for one in (outcome, other)
    ]


def _steps(outcome: Outcome) -> tuple[str, ...]:
    solution = outcome.solution
    found = [
        "Each amplifier in its four turns; its faces’ rooms to the edges: free over an open edge, "
        "never through a wall, into a seat’s place only as far as it slides. Air at fins is no "
        "plug: a seat may shut it off, and a caution says so.",
        "Two parts keep clear when one lies right of, left of, behind or in front of the other; "
        "every such order was tried until one stood or no more were left.",
    ]
    if outcome.solution.fits is False:
        found.append(
            "No order was left: that is the proof that flat rectangles at right angles do not fit "
            "with these rooms."
        )
    if outcome.short_mm:
        found.append("The height is compared for each amplifier, with what is plugged in on top.")
    if outcome.feasible is False:
        return tuple(found)
    found.append(
        "Of all that stand: first no plugs in a seat’s way, then the most controls reached in "
        "place, then with the seat slid, then with the seat out"
        + ("." if solution.best_reach else "; the search for better was given up.")
    )
    if solution.lead_mm is not None:
        found.append(
            f"Of these the shortest leads inside the bay, {quantity(solution.lead_mm, 'mm')} in all"
            + ("." if solution.shortest else "; shorter ones are not excluded.")
        )
    return tuple(found)


# Four amplifiers, three things in the way.
_HEAVIEST = {
    "bay_width_mm": "980",
    "bay_depth_mm": "560",
    "keep_outs": "380,470,90,90;0,250,60,80;700,0,120,70",
    "amplifiers": "A,260,180,52,signal+controls,none,power+speaker,none,none;"
    "B,320,200,55,fins,signal+controls,fins,power+speaker,none;"
    "C,210,110,46,none,signal+controls,none,power+speaker,none;"
    "D,240,150,50,power+speaker+signal+controls,none,none,none,none",
}

MOUNTING_REACH = Calculator(
    name="mounting-reach",
    title="Does it fit, and can a hand get there",
    question="Do these amplifiers fit under the seat or behind the panel, and can I still reach "
    "the controls?",
    fields=(
        *BAY_FIELDS, *EDGE_FIELDS, KEEP_OUTS, AMPLIFIERS, OTHER_AMPLIFIERS, MASSES, *ROOM_FIELDS,
        ENTRIES, WAY_POINTS, SLACK, BOARD,
    ),
    groups=(
        ("The bay", tuple(one.key for one in BAY_FIELDS)),
        ("Its edges", tuple(one.key for one in EDGE_FIELDS)),
        (
            "The amplifiers, and what is in the way",
            ("keep_outs", "amplifiers", "other_amplifiers", "masses_kg", "board_mm"),
        ),
        ("Rooms at the faces", tuple(one.key for one in ROOM_FIELDS)),
        ("The leads", ("entries", "way_points", "slack_percent")),
    ),
    compute=mounting_reach,
    check=check_mounting,
    starts=STARTS,
    heaviest=_HEAVIEST,
)  # fmt: skip

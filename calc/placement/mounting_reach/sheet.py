"""What the answer of `mounting-reach` holds."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet, Table
from calc.physics.fixing import crash_pull
from calc.placement.mounting_reach.cautions import cautions_of, not_covered
from calc.placement.mounting_reach.drawing import plan
from calc.placement.mounting_reach.inputs import CHECKS, FORM, Inputs
from calc.placement.mounting_reach.onward import ways_on
from calc.placement.mounting_reach.solve import Outcome, Result, solve
from calc.placement.mounting_reach.starts import STARTS
from calc.placement.mounting_reach.tables import (
    designs_table,
    heights_table,
    leads_table,
    placement_results,
    places_table,
    runs_table,
    sides_table,
)
from calc.placement.mounting_reach.words import (
    judge,
    relax_list,
    relaxed_words,
    sentence_of,
    verdict_of,
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    design, other = result.design, result.other
    return Sheet(
        sentence=sentence_of(design) + _other_sentence(other),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(design),
        drawings=_drawings(inputs, result),
        tables=_tables(inputs, result),
        onward=ways_on(inputs, result),
        cautions=cautions_of(inputs, result),
        steps=_steps(design),
        unknowns=not_covered(result),
        sources=(
            "clearances",
            "cable-bends",
            "slack",
            "false-floor",
            "twenty-times",
            *(("seat-spring",) if inputs.edges.top_edge == "seat" else ()),
        ),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    design, other = result.design, result.other
    highest = max(design.heights_mm)
    return {
        **_design_data(design),
        "runs": [
            {"lead": run.lead, "from": run.start, "to": run.end, "length_m": run.length_m}
            for run in result.runs
        ],
        "leads_in_bay": [
            {
                "amplifier": lead.amplifier,
                "lead": lead.lead,
                "face": lead.face,
                "length_m": lead.length_m,
            }
            for lead in result.leads
        ],
        "height_needed_mm": highest,
        "false_floor_mm": highest + 2 * inputs.board_mm,
        "fixing": [
            {"amplifier": row.name, "mass_kg": mass, "holds_n": crash_pull(mass_kg=mass)}
            for row, mass in zip(inputs.amplifiers, inputs.masses_kg or (), strict=False)
        ],
        "other": None if other is None else _design_data(other),
    }


def _tables(inputs: Inputs, result: Result) -> tuple[Table, ...]:
    design, on_wall = result.design, inputs.size.on_wall
    tables = [designs_table(design, result.other)] if result.other else []
    if design.placements:
        tables += [places_table(design, on_wall), sides_table(design, on_wall)]
    tables.append(heights_table(design, inputs.board_mm, inputs.masses_kg))
    if result.runs:
        tables.append(runs_table(result.runs, inputs.slack_percent))
    if result.leads:
        tables.append(leads_table(result.leads))
    return tuple(tables)


def _other_sentence(other: Outcome | None) -> str:
    if other is None:
        return ""
    text = sentence_of(other)
    return f" The alternative: {text[0].lower()}{text[1:]}"


def _design_data(design: Outcome) -> dict[str, object]:
    solution, bay = design.solution, design.problem.bay
    lead_mm, spare_mm2 = design.lead_mm, design.spare_mm2
    return {
        "feasible": design.feasible,
        "placements": placement_results(design),
        "verdict": verdict_of(design).state,
        "relax": [
            {
                "what": change.kind,
                "by_mm": change.by_mm,
                "which": change.which or None,
                "height_mm": change.height_mm or None,
                "words": _plain(words),
            }
            for change, words in relax_list(design)
        ],
        "controls_in_place_with": [
            {
                "what": change.kind,
                "by_mm": change.by_mm,
                "words": _plain(relaxed_words(change, bay)),
            }
            for change in design.for_controls
        ],
        "lead_in_bay_m": None if lead_mm is None else lead_mm / 1000,
        "spare_m2": None if spare_mm2 is None else spare_mm2 / 1e6,
        "reach_is_proven": design.reach_is_proven,
        "leads_are_proven": None if lead_mm is None else solution.shortest,
    }


def _plain(words: str) -> str:
    return words.replace("\u202f", " ")


def _figures(design: Outcome) -> tuple[Figure, ...]:
    figures = [Figure("Height with plugs", Quantity(max(design.heights_mm), "mm"))]
    if design.spare_mm2 is not None:
        figures.append(Figure("Free floor", Quantity(design.spare_mm2 / 1e6, "m²"), 2))
    if design.lead_mm is not None:
        figures.append(Figure("Leads inside", Quantity(design.lead_mm / 1000, "m"), 2))
    return tuple(figures)


def _drawings(inputs: Inputs, result: Result) -> tuple[Drawing, ...]:
    on_wall = inputs.size.on_wall
    entries = {row.lead: (row.x_mm, row.y_mm) for row in inputs.entries}
    title = "The wall, seen from in front" if on_wall else "The space from above"
    drawings = []
    for design, words in (
        (result.design, title),
        (result.other, "The same space, the alternative"),
    ):
        if design is None:
            continue
        if not design.placements:
            words = f"{words}, empty: nothing fits"
        elif design.feasible is False:
            words = f"{words}, if it were high enough"
        problem = design.problem
        drawings.append(
            plan(words, problem.bay, design.placements, problem.rooms, entries, on_wall)
        )
    return tuple(drawings)


def _steps(design: Outcome) -> tuple[str, ...]:
    solution = design.solution
    steps = [
        "Each amplifier is tried in its four turns. The clearance in front of each side can go "
        "over an open edge, never through a wall, and into a seat’s place only as far as the seat "
        "slides. A seat can cover the air at heatsink fins: a caution then says so.",
        "Two things are clear of each other when one is right of, left of, behind or in front of "
        "the other. Every such order is tried until one fits or none is left.",
    ]
    if solution.fits is False:
        steps.append(
            "No order was left. That proves that flat rectangles at right angles do not fit with "
            "these clearances."
        )
    if design.short_mm:
        steps.append("The height counts for each amplifier, with what is plugged in on top.")
    if design.feasible is False:
        return tuple(steps)
    steps.append(
        "Of all arrangements that fit, the best keeps plugs out of a seat’s travel, then has the "
        "most controls within reach in place, then with the seat slid, then with the seat out"
        + ("." if solution.best_reach else "; a better one was not ruled out.")
    )
    if solution.lead_mm is not None:
        steps.append(
            f"Of these, the shortest leads inside the space: {quantity(solution.lead_mm, 'mm')} in "
            "total" + ("." if solution.shortest else "; shorter ones were not ruled out.")
        )
    return tuple(steps)


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
    title="Does it fit?",
    question="Do these amplifiers fit in the mounting space, and can I still reach the controls?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
    starts=STARTS,
    heaviest=_HEAVIEST,
)

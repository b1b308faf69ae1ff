"""The calculator `filter-split`: which box makes which edge, and at what setting."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity
from calc.answers.sheet import Figure, Quantity, Sheet, Verdict
from calc.crossovers.fields import (
    DRIVERS_DIFFER,
    HEARING,
    INVENTED,
    SOURCES,
    TEST_TONE,
)
from calc.crossovers.split_bands import band_drawing
from calc.crossovers.split_checks import check_system
from calc.crossovers.split_drawings import path_drawing
from calc.crossovers.split_edges import gaps
from calc.crossovers.split_fields import (
    AMPLIFIER,
    HEAD_UNIT,
    PASSIVE,
    SECTIONS,
    system_of,
)
from calc.crossovers.split_plan import (
    Plan,
    capacitor_farad,
    edge_words,
    plan_of,
)
from calc.crossovers.split_problem import MadeEdge, dial_of
from calc.crossovers.split_tables import plan_tables
from calc.crossovers.split_words import FRAGILE, conflict, sentence, subsonic_words
from calc.inputs.fields import Number, YesNo
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import HALF_POWER_DB, HALF_VOLTAGE_DB, cascade, falling_hz, level_db
from calc.physics.preferred_values import nearest

# Our own limit: even-order Butterworth filters rise by 3.01 dB where they meet, and roll-offs
# nearby add a little.
_MOST_UNEVEN_DB = 3.5
NO_APPROVAL = (
    "Set the filters before the speakers are connected, and check them before the level goes up. "
    "The manuals of head unit and amplifier come first: what a switch does can differ from its "
    "printing."
)
RULES = (
    "Aims in this order: nothing unprotected, nothing missing, least deviation from the wanted "
    "corners and slopes (6 dB per octave counts like a quarter of an octave, and corners of a "
    "stack that differ count with their distance: our own choice), fewest doubled filters, "
    "fewest units touched.",
    "Protection: a corner at least 2 × the tweeter’s resonance at 12 dB per octave, 1.5 × at 24 dB "
    "per octave: common practice, no source.",
)


def filter_split(given: Mapping[str, Any]) -> Sheet:
    """Compute `filter-split`."""
    plan = plan_of(
        system_of(given),
        with_capacitor=given["tweeter_capacitor"],
        has_delays=given["delays"],
    )
    bad = [one for one in plan.split.edges if one.state in ("unprotected", "missing")]
    spoilt = [one for one in plan.split.edges if one.state == "spoilt"]
    apart = gaps(plan.system.sections)
    stacks = [one for one in plan.split.edges if one.number > 1]
    capacitors = _capacitors(given, plan)
    return Sheet(
        sentence=sentence(plan, bad, spoilt, apart),
        verdict=_verdict(plan, bad, spoilt, apart),
        results={
            "complete": plan.is_ready,
            "settings": _settings(plan),
            "missing": [_missing(plan, one) for one in bad],
            "spoilt": [_spoilt(plan, one) for one in spoilt],
            "gaps": [{"below": plan.names[low], "above": plan.names[high]} for low, high in apart],
            "stacked": [_stacked(plan, one) for one in stacks],
            "notes": [f"{plan.names[at]}: {words}" for at, words in subsonic_words(plan)],
            "reversed": [plan.names[at] for at in plan.reversed],
            "sections": [_section(plan, at, capacitors) for at in range(len(plan.names))],
            "ripple_db": plan.ripple_db if plan.is_ready and len(plan.summed) > 1 else None,
            "protection_capacitors": capacitors,
            "response": [
                {
                    "frequency_hz": float(one),
                    "level_db": plan.level_db(one),
                    "other_level_db": plan.other_level_db(one) if plan.subwoofers else None,
                    "sections": [
                        {"section": name, "level_db": level_db(voice.response(one))}
                        for name, voice in zip(plan.names, plan.voices, strict=True)
                    ],
                }
                for one in THIRD_OCTAVES_HZ
            ],
        },
        figures=_figures(plan, bad, stacks),
        drawings=(path_drawing(plan), band_drawing(plan)),
        tables=plan_tables(plan, capacitors),
        cautions=(
            *(f"{plan.names[at]}: {words}" for at, words in subsonic_words(plan)),
            *_cautions(plan, bad),
        ),
        steps=_steps(plan),
        unknowns=(
            DRIVERS_DIFFER,
            "Where the speakers sit: distances shift the phase where two sections meet, so try "
            "the polarity by ear and meter.",
            "Whether each box really filters as its plate says: measure, or ask its manual.",
        ),
        sources=(*RULES, *SOURCES),
    )


# ---- results


def _settings(plan: Plan) -> dict[str, list[dict[str, Any]]]:
    """Return what each box is set to, in the order of the rows."""
    found: dict[str, list[dict[str, Any]]] = {"head-unit": [], "amplifier": [], "passive": []}
    for control, setting in zip(plan.system.controls, plan.split.settings, strict=True):
        times, dial = dial_of(control, setting)
        found[control.box].append(
            {
                "channels": sorted(control.channels),
                "kind": control.kind,
                "state": "off" if setting is None else "on",
                "frequency_hz": None if setting is None else setting[0],
                "order": None if setting is None else setting[1],
                "family": control.family,
                "times": times,
                "dial_hz": dial,
            }
        )
    found["passive"] += [
        {
            "channels": sorted(one.channels),
            "kind": one.side,
            "state": "on",
            "frequency_hz": one.frequency_hz,
            "order": one.order,
            "family": one.family,
            "times": None,
            "dial_hz": None,
        }
        for one in plan.system.networks
    ]
    return found


def _missing(plan: Plan, one: MadeEdge) -> dict[str, Any]:
    return {
        **_place(plan, one),
        "state": one.state,
        "needed_low_hz": one.edge.window_hz[0],
        "needed_high_hz": one.edge.window_hz[1],
        "needed_order": one.edge.least_order,
        "has_hz": one.corner_hz,
        "has_order": one.order,
        "reason": conflict(plan, one) or None,
    }


def _spoilt(plan: Plan, one: MadeEdge) -> dict[str, Any]:
    boxes = sorted(set(one.makers))
    return {**_place(plan, one), "corner_hz": one.corner_hz, "boxes": boxes}


def _stacked(plan: Plan, one: MadeEdge) -> dict[str, Any]:
    filters = [made for _, made in one.filters]
    inside, outside = (1e6, 1.0) if one.edge.kind == "high-pass" else (1.0, 1e6)
    corners = [
        falling_hz(lambda at: level_db(cascade(filters, at)), level, inside, outside)
        for level in (HALF_POWER_DB, HALF_VOLTAGE_DB)
    ]
    return {
        **_place(plan, one),
        "boxes": list(one.makers),
        "corner_hz": one.corner_hz,
        "corner_3db_hz": corners[0],
        "corner_6db_hz": corners[1],
        "order": one.order,
        "slope_db_per_octave": 6 * one.order,
    }


def _place(plan: Plan, one: MadeEdge) -> dict[str, Any]:
    section = plan.system.sections[one.edge.section]
    return {
        "section": section.kind,
        "row": one.edge.section + 1,
        "channels": sorted(section.channels),
        "edge": one.edge.kind,
    }


def _section(plan: Plan, at: int, capacitors: list[dict[str, Any]]) -> dict[str, Any]:
    """Return all that belongs to one section: what a channel table is made of."""
    section, polarity = plan.system.sections[at], plan.polarities[at]
    own = [one for one in plan.split.edges if one.edge.section == at]
    farads = [one for one in capacitors if one["section"] == plan.names[at]]
    return {
        "section": section.kind,
        "name": plan.names[at],
        "row": at + 1,
        "channels": sorted(section.channels),
        "level_db": section.gain_db,
        "polarity": polarity.word,
        "by_marks": polarity.is_marked,
        "turned_inside": polarity.is_turned_inside,
        "try_both": polarity.try_both,
        "meets_hz": polarity.at_hz,
        "worth_db": polarity.worth_db,
        "cancels": polarity.cancels or None,
        "protected": at not in plan.unprotected,
        "filters": [
            {
                "edge": made.kind,
                "box": box,
                "hz": made.frequency_hz,
                "family": made.family,
                "order": made.order,
            }
            for one in own
            for box, made in one.filters
        ],
        "capacitor_farad": farads[0]["preferred_farad"] if farads else None,
    }


def _capacitors(given: Mapping[str, Any], plan: Plan) -> list[dict[str, Any]]:
    """Return the protection capacitor of each active tweeter."""
    found = []
    for at, corner in plan.capacitor_hz.items():
        exact = capacitor_farad(given["tweeter_ohm"], corner)
        found.append(
            {
                "section": plan.names[at],
                "corner_hz": corner / 2,
                "exact_farad": exact,
                "preferred_farad": nearest(exact, "E12"),
            }
        )
    return found


# ---- words


def _verdict(
    plan: Plan,
    bad: list[MadeEdge],
    spoilt: list[MadeEdge],
    apart: tuple[tuple[int, int], ...],
) -> Verdict:
    open_ = [one for one in bad if one.state == "unprotected"]
    if open_:
        names = ", ".join(plan.names[one.edge.section] for one in open_)
        return Verdict("unsuitable", f"without protection: {names}.")
    if bad or spoilt:
        count = len(bad) + len(spoilt)
        return Verdict(
            "unsuitable", f"{count} {'edge' if count == 1 else 'edges'} cannot be made as needed."
        )
    if apart:
        return Verdict("unsuitable", "there is a hole in the band that no filter can close.")
    return Verdict("suitable", "every section is protected and every edge is made.")


def _figures(plan: Plan, bad: list[MadeEdge], stacks: list[MadeEdge]) -> tuple[Figure, ...]:
    needed = [one for one in plan.split.edges if one.edge.is_needed]
    made = [one for one in needed if one.state == "made"]
    figures = [
        Figure(f"Edges made, of {len(needed)}", Quantity(len(made))),
        Figure("Edges with two filters", Quantity(len(stacks))),
    ]
    if plan.is_ready and plan.ripple_db is not None and len(plan.summed) > 1:
        figures.append(Figure("Ripple of the sum", Quantity(plan.ripple_db, "dB"), 1))
    return tuple(figures)


def _cautions(plan: Plan, bad: list[MadeEdge]) -> tuple[str, ...]:
    kinds = {one.kind for one in plan.system.sections}
    told = []
    open_ = [
        plan.names[one.edge.section]
        for one in bad
        if one.state == "unprotected" and plan.system.sections[one.edge.section].kind in FRAGILE
    ]
    if open_:
        told.append(
            f"Nothing protects: {', '.join(open_)}. Do not connect, and do not try it at low level."
        )
    if "tweeter" in kinds:
        told.append(TEST_TONE)
    if plan.is_ready and (plan.ripple_db or 0) > _MOST_UNEVEN_DB and len(plan.summed) > 1:
        told.append(
            f"The sum is uneven by {quantity(plan.ripple_db, 'dB', 2)}: bring corners, slopes and "
            "levels of neighbours together; in a component set, its crossover’s tweeter level."
        )
    if plan.system.networks:
        told.append(
            "A bought network has its polarity inside: follow its marks, + to +. Never play a "
            "network with one of its speakers taken off."
        )
    return (*told, NO_APPROVAL, HEARING)


def _steps(plan: Plan) -> tuple[str, ...]:
    steps = []
    for one in plan.split.edges:
        name = plan.names[one.edge.section]
        if one.edge.is_needed:
            steps.append(
                f"{name}, {one.edge.kind}: may lie {edge_words(one.edge, short=True)}; wanted "
                f"{quantity(one.edge.wanted_hz, 'Hz')}, order {one.edge.wanted_order}."
            )
    steps.append(
        "All settings of all filters were searched; the one shown is the best by the aims listed "
        "under Sources."
    )
    if plan.split.is_complete and plan.ripple_db is not None:
        steps.append(
            "Polarities of what plays above the subwoofer: all combinations were tried, and the "
            "flattest is drawn; a passive crossover is joined by its marks. The subwoofer is drawn "
            "normal: where it and the doors stand decides, so both ways are tried. Sections that "
            "play the same band as an earlier row are drawn, but left out of the sum, and have "
            "its polarity."
        )
    return tuple(steps)


FILTER_SPLIT = Calculator(
    name="filter-split",
    title="Who filters what",
    question="Can this amplifier with this head unit run these speakers, and what do I set where?",
    fields=(
        SECTIONS,
        HEAD_UNIT,
        AMPLIFIER,
        PASSIVE,
        YesNo(
            key="tweeter_capacitor",
            label="Protection capacitor for active tweeters",
            default="no",
            hint="Softens a turn-on thump. Does not replace the high-pass.",
            more=True,
        ),
        Number(
            key="tweeter_ohm",
            label="Impedance of the tweeter",
            default="4",
            low=0.5,
            high=64,
            presets=(2, 4, 8),
            source=INVENTED,
            more=True,
        ),
        YesNo(
            key="delays",
            label="Delays make up for the distances",
            default="no",
            hint="Yes where a processor delays the nearer speakers.",
            more=True,
        ),
    ),
    groups=(
        ("Speakers", ("sections", "tweeter_capacitor", "tweeter_ohm", "delays")),
        ("Units", ("head_unit", "amplifier", "passive")),
    ),
    compute=filter_split,
    check=check_system,
)

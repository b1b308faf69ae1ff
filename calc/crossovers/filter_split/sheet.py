"""What the answer of `filter-split` says."""

from calc.answers import cautions
from calc.answers.calculator import Calculator
from calc.answers.figures import quantity
from calc.answers.sheet import Figure, Quantity, Sheet, Verdict
from calc.crossovers.filter_split.band_drawing import band_drawing
from calc.crossovers.filter_split.checks import rows_fit_together
from calc.crossovers.filter_split.inputs import FORM, Inputs
from calc.crossovers.filter_split.path_drawing import path_drawing
from calc.crossovers.filter_split.solve import Result, SplitSection, solve
from calc.crossovers.filter_split.tables import split_tables
from calc.crossovers.filter_split.words import (
    FRAGILE,
    conflict,
    edge_words,
    sentence,
    subsonic_words,
)
from calc.crossovers.filter_words import DRIVERS_DIFFER, SOURCES, TEST_TONE
from calc.crossovers.splitting.problem import MadeEdge
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import HALF_POWER_DB, HALF_VOLTAGE_DB, cascade, falling_hz, level_db

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


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=sentence(result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(path_drawing(result), band_drawing(result)),
        tables=split_tables(result),
        notes=tuple(_notes(result)),
        cautions=(*_notes(result), *_cautions(result)),
        steps=_steps(result),
        unknowns=(
            DRIVERS_DIFFER,
            "Where the speakers sit: distances shift the phase where two sections meet, so try "
            "the polarity by ear and meter.",
            "Whether each box really filters as its plate says: measure, or ask its manual.",
        ),
        sources=(*RULES, *SOURCES),
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether every section is protected, and every edge made."""
    bad, spoilt = result.bad, result.spoilt
    open_ = [result.names[made.edge.section] for made in bad if made.state == "unprotected"]
    if open_:
        return Verdict("unsuitable", f"without protection: {', '.join(open_)}.")
    if bad or spoilt:
        count = len(bad) + len(spoilt)
        return Verdict(
            "unsuitable", f"{count} {'edge' if count == 1 else 'edges'} cannot be made as needed."
        )
    if result.gaps:
        return Verdict("unsuitable", "there is a hole in the band that no filter can close.")
    return Verdict("suitable", "every section is protected and every edge is made.")


# ---- results


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    names = result.names
    return {
        "complete": result.is_ready,
        "settings": _settings(result),
        "missing": [_missing(result, made) for made in result.bad],
        "spoilt": [_spoilt(result, made) for made in result.spoilt],
        "gaps": [{"below": names[low], "above": names[high]} for low, high in result.gaps],
        "stacked": [_stacked(result, made) for made in result.stacks],
        "notes": _notes(result),
        "reversed": [names[at] for at in result.reversed],
        "sections": [_section(split) for split in result.sections],
        "ripple_db": result.ripple_db,
        "protection_capacitors": [
            {
                "section": names[capacitor.section],
                "corner_hz": capacitor.corner_hz,
                "exact_farad": capacitor.exact_farad,
                "preferred_farad": capacitor.preferred_farad,
            }
            for capacitor in result.capacitors
        ],
        "response": [_response(result, float(hz)) for hz in THIRD_OCTAVES_HZ],
    }


def _settings(result: Result) -> dict[str, list[dict[str, object]]]:
    """Return what each box is set to, in the order of the rows."""
    boxes: dict[str, list[dict[str, object]]] = {"head-unit": [], "amplifier": [], "passive": []}
    for setting in result.settings:
        boxes[setting.box].append(
            {
                "channels": sorted(setting.channels),
                "kind": setting.kind,
                "state": "off" if setting.frequency_hz is None else "on",
                "frequency_hz": setting.frequency_hz,
                "order": setting.order,
                "family": setting.family,
                "times": setting.times,
                "dial_hz": setting.dial_hz,
            }
        )
    return boxes


def _missing(result: Result, made: MadeEdge) -> dict[str, object]:
    return {
        **_place(result, made),
        "state": made.state,
        "needed_low_hz": made.edge.window_hz[0],
        "needed_high_hz": made.edge.window_hz[1],
        "needed_order": made.edge.least_order,
        "has_hz": made.corner_hz,
        "has_order": made.order,
        "reason": conflict(result, made) or None,
    }


def _spoilt(result: Result, made: MadeEdge) -> dict[str, object]:
    boxes = sorted(set(made.makers))
    return {**_place(result, made), "corner_hz": made.corner_hz, "boxes": boxes}


def _stacked(result: Result, made: MadeEdge) -> dict[str, object]:
    filters = [acting for _, acting in made.filters]
    inside, outside = (1e6, 1.0) if made.edge.kind == "high-pass" else (1.0, 1e6)
    corners = [
        falling_hz(
            lambda hz: level_db(cascade(filters, hz)), level, inside_hz=inside, outside_hz=outside
        )
        for level in (HALF_POWER_DB, HALF_VOLTAGE_DB)
    ]
    return {
        **_place(result, made),
        "boxes": list(made.makers),
        "corner_hz": made.corner_hz,
        "corner_3db_hz": corners[0],
        "corner_6db_hz": corners[1],
        "order": made.order,
        "slope_db_per_octave": 6 * made.order,
    }


def _place(result: Result, made: MadeEdge) -> dict[str, object]:
    section = result.system.sections[made.edge.section]
    return {
        "section": section.kind,
        "row": made.edge.section + 1,
        "channels": sorted(section.channels),
        "edge": made.edge.kind,
    }


def _section(split: SplitSection) -> dict[str, object]:
    """Return all that belongs to one section: what a channel table is made of."""
    section, polarity, capacitor = split.section, split.polarity, split.capacitor
    return {
        "section": section.kind,
        "name": split.name,
        "row": split.row,
        "channels": sorted(section.channels),
        "level_db": section.gain_db,
        "polarity": polarity.word,
        "by_marks": polarity.is_marked,
        "turned_inside": polarity.is_turned_inside,
        "try_both": polarity.try_both,
        "meets_hz": polarity.at_hz,
        "worth_db": polarity.worth_db,
        "cancels": polarity.cancels or None,
        "protected": split.is_protected,
        "filters": [
            {
                "edge": made.kind,
                "box": box,
                "hz": made.frequency_hz,
                "family": made.family,
                "order": made.order,
            }
            for box, made in split.filters
        ],
        "capacitor_farad": None if capacitor is None else capacitor.preferred_farad,
    }


def _response(result: Result, hz: float) -> dict[str, object]:
    return {
        "frequency_hz": hz,
        "level_db": result.level_db(hz),
        "other_level_db": result.other_level_db(hz) if result.subwoofers else None,
        "sections": [
            {"section": name, "level_db": level_db(voice.response(hz))}
            for name, voice in zip(result.names, result.voices, strict=True)
        ],
    }


# ---- words


def _notes(result: Result) -> list[str]:
    return [f"{result.names[at]}: {words}" for at, words in subsonic_words(result)]


def _figures(result: Result) -> tuple[Figure, ...]:
    needed = [made for made in result.split.edges if made.edge.is_needed]
    figures = [
        Figure(
            f"Edges made, of {len(needed)}",
            Quantity(sum(made.state == "made" for made in needed)),
        ),
        Figure("Edges with two filters", Quantity(len(result.stacks))),
    ]
    if result.ripple_db is not None:
        figures.append(Figure("Ripple of the sum", Quantity(result.ripple_db, "dB"), 1))
    return tuple(figures)


def _cautions(result: Result) -> tuple[str, ...]:
    kinds = {section.kind for section in result.system.sections}
    words = []
    open_ = [
        split.name
        for split in result.sections
        if not split.is_protected and split.section.kind in FRAGILE
    ]
    if open_:
        words.append(
            f"Nothing protects: {', '.join(open_)}. Do not connect, and do not try it at low level."
        )
    if "tweeter" in kinds:
        words.append(TEST_TONE)
    if (result.ripple_db or 0) > _MOST_UNEVEN_DB:
        words.append(
            f"The sum is uneven by {quantity(result.ripple_db, 'dB', 2)}: bring corners, slopes "
            "and levels of neighbours together; in a component set, its crossover’s tweeter level."
        )
    if result.system.networks:
        words.append(
            "A bought network has its polarity inside: follow its marks, + to +. Never play a "
            "network with one of its speakers taken off."
        )
    return (*words, NO_APPROVAL, cautions.HEARING)


def _steps(result: Result) -> tuple[str, ...]:
    steps = [
        f"{result.names[made.edge.section]}, {made.edge.kind}: may lie "
        f"{edge_words(made.edge, short=True)}; wanted {quantity(made.edge.wanted_hz, 'Hz')}, "
        f"order {made.edge.wanted_order}."
        for made in result.split.edges
        if made.edge.is_needed
    ]
    steps.append(
        "All settings of all filters were searched; the one shown is the best by the aims listed "
        "under Sources."
    )
    if result.is_summed:
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
    inputs=Inputs,
    groups=FORM,
    checks=(rows_fit_together,),
    solve=solve,
    judge=judge,
    present=present,
)

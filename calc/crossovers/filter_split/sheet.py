"""What the answer of `filter-split` says."""

from dataclasses import replace

from calc.answers import cautions
from calc.answers.calculator import Calculator
from calc.answers.figures import capital, listed, quantity
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
    range_words,
    sentence,
    spoilt_words,
    subsonic_words,
)
from calc.crossovers.filter_words import (
    DRIVERS_DIFFER,
    OPEN_CROSSOVER,
    SOURCES,
    TEST_TONE,
    slope_words,
)
from calc.crossovers.splitting.problem import MadeEdge
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import HALF_POWER_DB, HALF_VOLTAGE_DB, cascade, falling_hz, level_db

# Our own limit: even-order Butterworth filters rise by 3.01 dB where they meet, and roll-offs
# nearby add a little.
_MOST_UNEVEN_DB = 3.5
NO_APPROVAL = (
    "A switch can do something else than its marking says: follow the manuals, set the filters "
    "before you connect the speakers, and start at a low level."
)
RULES = ("usual-crossovers", "subsonic", "who-filters", "tweeter-margin")


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=sentence(result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(result),
        drawings=(path_drawing(result), replace(band_drawing(result), aside=True)),
        tables=split_tables(result),
        notes=(*_notes(result), *_uneven(result)),
        cautions=_cautions(result),
        steps=_steps(result),
        unknowns=(
            DRIVERS_DIFFER,
            "Where the speakers sit: their distances change how they add up, so try the polarity "
            "by "
            "ear and meter.",
            "Whether each filter does what its panel says: measure it.",
        ),
        sources=(*RULES, *SOURCES),
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether every speaker is protected, and every crossover covered."""
    bad, spoilt = result.bad, result.spoilt
    open_ = [made for made in bad if made.state == "unprotected"]
    if open_:
        names = listed([f"the {result.shown[made.edge.section]}" for made in open_])
        needs = f" It needs {edge_words(open_[0].edge)}." if len(open_) == 1 else ""
        return Verdict("unsuitable", f"Stop: nothing protects {names}.{needs}")
    if bad:
        edge = bad[0].edge
        return Verdict(
            "unsuitable",
            f"The {result.shown[edge.section]} has no {edge.kind} that fits: find one for "
            f"{range_words(edge)}.{_more_missing(len(bad) - 1)}",
        )
    if spoilt:
        words = spoilt_words(result, spoilt[0])
        return Verdict("unsuitable", f"{capital(words)}.")
    if result.gaps:
        low, high = result.gaps[0]
        return Verdict(
            "unsuitable",
            f"No filter closes the hole between the {result.shown[low]} and the "
            f"{result.shown[high]}: use a speaker that reaches further.",
        )
    return Verdict("suitable", "Every speaker is protected and every crossover is covered.")


def _more_missing(count: int) -> str:
    """Say how many filters are missing besides the one that is named."""
    if not count:
        return ""
    return f" {count} more {'filter is' if count == 1 else 'filters are'} missing."


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
    return [f"{capital(result.shown[at])}: {words}" for at, words in subsonic_words(result)]


def _uneven(result: Result) -> list[str]:
    """Say what to do where the sum is uneven."""
    if (result.ripple_db or 0) <= _MOST_UNEVEN_DB:
        return []
    return [
        f"The sum goes up and down by {quantity(result.ripple_db, 'dB', 2)}: bring the "
        "frequencies, "
        "slopes and levels of neighbouring speakers together. With a component set, try its "
        "tweeter level switch."
    ]


def _figures(result: Result) -> tuple[Figure, ...]:
    needed = [made for made in result.split.edges if made.edge.is_needed]
    figures = [
        Figure(
            f"Filters covered, of {len(needed)}",
            Quantity(sum(made.state == "made" for made in needed)),
        ),
        Figure("Jobs done by two filters", Quantity(len(result.stacks))),
    ]
    if result.ripple_db is not None:
        figures.append(Figure("Ripple of the sum", Quantity(result.ripple_db, "dB"), 1))
    return tuple(figures)


def _cautions(result: Result) -> tuple[str, ...]:
    kinds = {section.kind for section in result.system.sections}
    words = []
    open_ = [
        f"the {result.shown[split.row - 1]}"
        for split in result.sections
        if not split.is_protected and split.section.kind in FRAGILE
    ]
    if open_:
        words.append(
            f"Nothing protects {listed(open_)}, which can burn out at any level: don’t connect it."
        )
    if "tweeter" in kinds:
        words.append(TEST_TONE)
    if result.system.networks:
        words.append(OPEN_CROSSOVER)
    return (*words, NO_APPROVAL, cautions.HEARING)


def _steps(result: Result) -> tuple[str, ...]:
    steps = [
        f"{capital(result.shown[made.edge.section])}, "
        f"{made.edge.kind}: allowed from {range_words(made.edge)}; aimed at "
        f"{quantity(made.edge.wanted_hz, 'Hz')}, {slope_words(made.edge.wanted_order)}."
        for made in result.split.edges
        if made.edge.is_needed
    ]
    steps.append(
        "Every setting of every filter was tried. The order of aims is ours: every speaker "
        "protected, no "
        "filter missing, frequencies and slopes nearest to the aim (6 dB/oct counts like a quarter "
        "of an octave), fewest filters doing the same job, fewest components to set."
    )
    if result.is_summed:
        steps.append(
            "Polarity above the sub: every combination was tried, and the flattest is drawn; a "
            "passive crossover is connected by its marks. The sub is drawn normal, because only "
            "the "
            "vehicle shows which way is louder. A second pair that plays the same as an earlier "
            "one "
            "takes its polarity and is left out of the sum."
        )
    return tuple(steps)


FILTER_SPLIT = Calculator(
    name="filter-split",
    title="Crossover settings",
    question="Can this amplifier with this head unit run these speakers, and what do I set where?",
    inputs=Inputs,
    groups=FORM,
    checks=(rows_fit_together,),
    solve=solve,
    judge=judge,
    present=present,
)

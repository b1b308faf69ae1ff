"""The tables of `filter-split`: settings in the order of the knobs, edges, levels."""

from typing import Any

from calc.answers.figures import THIN_SPACE, quantity
from calc.answers.sheet import Cell, Column, Quantity, Table, Verdict
from calc.crossovers.fields import FAMILY_WORDS, FREQUENCY_COLUMN, level_cell, slope_words
from calc.crossovers.split import Control
from calc.crossovers.split_plan import BOX_WORDS, Plan, channel_words, edge_words
from calc.crossovers.split_problem import MadeEdge, Setting, dial_of
from calc.crossovers.split_words import FRAGILE, conflict, polarity_words
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import level_db


def plan_tables(plan: Plan, capacitors: list[dict[str, Any]]) -> tuple[Table, ...]:
    """Return all the tables of a plan."""
    missing = [one for one in plan.split.edges if one.state in ("unprotected", "missing")]
    return (
        *([_missing(plan, missing)] if missing else []),
        *_sheets(plan),
        _at_the_speakers(plan, capacitors),
        _edges(plan),
        _levels(plan),
    )


def _missing(plan: Plan, missing: list[MadeEdge]) -> Table:
    rows = []
    for one in missing:
        low, high = one.edge.window_hz
        has = "none"
        if one.corner_hz is not None:
            has = f"{quantity(one.corner_hz, 'Hz')}, {slope_words(one.order)}"
        has = conflict(plan, one) or has
        rows.append(
            (
                plan.names[one.edge.section],
                one.edge.kind,
                f"{quantity(low, 'Hz')} to {quantity(high, 'Hz')}",
                slope_words(one.edge.least_order),
                has,
            )
        )
    return Table(
        name="missing",
        caption="What is missing, and what an amplifier would need",
        columns=(
            Column("Section"),
            Column("Edge"),
            Column("Corner that can be set within"),
            Column("Slope at least"),
            Column("Nearest that there is"),
        ),
        rows=tuple(rows),
    )


def _sheets(plan: Plan) -> list[Table]:
    """Return one settings sheet for each box, in the order in which the knobs are turned."""
    tables = []
    for box in ("head-unit", "amplifier"):
        own = plan.settings_of(box)
        own.sort(key=lambda one: (sorted(one[0].channels), one[0].kind))
        rows: list[tuple[Cell, ...]] = []
        for control, setting in own:
            rows += [
                (len(rows) + place, channel_words(control.channels), knob, to)
                for place, (knob, to) in enumerate(_knobs(control, setting), start=1)
            ]
        if rows:
            name = BOX_WORDS[box]
            where = "Output feeding channels" if box == "head-unit" else "Channels"
            tables.append(
                Table(
                    name=f"settings-{box}",
                    caption=f"Settings sheet: {name}"
                    if plan.is_ready
                    else f"Not ready, do not use yet. Settings sheet: {name}",
                    columns=(
                        Column("Step"),
                        Column(where, code=True),
                        Column("Knob or menu"),
                        Column("Set to"),
                    ),
                    rows=tuple(rows),
                )
            )
    if plan.system.networks:
        tables.append(
            Table(
                name="settings-passive",
                caption="Passive networks",
                columns=(Column("Channels", code=True), Column("Corner", "Hz"), Column("Filter")),
                rows=tuple(
                    (
                        channel_words(one.channels),
                        Quantity(one.frequency_hz),
                        f"{FAMILY_WORDS[one.family]}, {slope_words(one.order)}",
                    )
                    for one in plan.system.networks
                ),
            )
        )
    return tables


def _knobs(control: Control, setting: Setting) -> list[tuple[str, str]]:
    """Return the knobs of one filter with what they are set to."""
    if setting is None:
        return [(f"{control.kind} filter", "off")]
    times, dial = dial_of(control, setting)
    knobs = [(f"{control.kind} filter", "on" if control.can_be_off else "cannot be off")]
    if len(control.times) > 1:
        knobs.append((f"{control.kind} range switch", f"× {quantity(times)}"))
    if len(control.orders) > 1:
        knobs.append((f"{control.kind} slope", slope_words(setting[1])))
    corner = quantity(setting[0], "Hz")
    if len(control.times) > 1:
        corner = f"{corner}: dial {quantity(dial)}, switch × {quantity(times)}"
    knobs.append((f"{control.kind} corner", corner))
    return knobs


def _at_the_speakers(plan: Plan, capacitors: list[dict[str, Any]]) -> Table:
    farads = {one["section"]: one["preferred_farad"] for one in capacitors}
    rows = []
    for at, (name, voice) in enumerate(zip(plan.names, plan.voices, strict=True)):
        section = plan.system.sections[at]
        part = "–"
        if name in farads:
            part = f"{quantity(farads[name] * 1e6, 'µF')} in series"
        rows.append(
            (
                name,
                section.channel_words,
                Quantity(voice.gain_db),
                "do not connect yet"
                if at in plan.unprotected and section.kind in FRAGILE
                else polarity_words(plan, at),
                part,
            )
        )
    return Table(
        name="polarity",
        caption="At the speakers, last of all",
        columns=(
            Column("Section"),
            Column("Channels", code=True),
            Column("Level", "dB", decimals=1),
            Column("Polarity", wide=True),
            Column("Tweeter capacitor"),
        ),
        rows=tuple(rows),
    )


def _edges(plan: Plan) -> Table:
    rows = []
    for one in plan.split.edges:
        if not one.edge.is_needed and one.state == "open" and one.corner_hz is None:
            continue
        made_by = " and ".join(BOX_WORDS[box] for box in one.makers) or "nothing"
        corner: Cell = "–" if one.corner_hz is None else Quantity(one.corner_hz)
        rows.append(
            (
                plan.names[one.edge.section],
                one.edge.kind,
                _may_lie(one),
                made_by,
                corner,
                6 * one.order if one.order else "–",
                _verdict(one),
            )
        )
    return Table(
        name="edges",
        caption="Every edge, and what makes it",
        columns=(
            Column("Section"),
            Column("Edge"),
            Column("Corner may lie", "Hz"),
            Column("Made by"),
            Column("Corner", "Hz"),
            Column("Slope", "dB/oct"),
            Column("Judged"),
        ),
        rows=tuple(rows),
        note="Where two filters act together, corner and slope are those of both.",
    )


def _may_lie(one: MadeEdge) -> str:
    if not one.edge.is_needed:
        return "none needed"
    low, high = (quantity(end) for end in one.edge.window_hz)
    return f"{low} to {high}"


def _verdict(one: MadeEdge) -> Verdict:
    if one.state == "made" and not one.edge.is_needed:
        return Verdict("suitable", "a subsonic filter, at or below the box’s tuning.")
    if one.state == "made":
        doubled = ", by two filters together" if one.number > 1 else ""
        return Verdict("suitable", f"within its window{doubled}.")
    if one.state == "open":
        return Verdict("suitable", "beyond the band: does no harm.")
    if one.state == "spoilt":
        return Verdict("unsuitable", "cuts into the band; needs a filter of its own.")
    what = "nothing protects it" if one.state == "unprotected" else "missing"
    return Verdict("unsuitable", f"{what}; needs {edge_words(one.edge)}.")


def _levels(plan: Plan) -> Table:
    return Table(
        name="levels",
        caption="Level of every section, and of the sum",
        columns=(
            FREQUENCY_COLUMN,
            *(Column(name[:1].upper() + name[1:], "dB", decimals=1) for name in plan.names),
            Column("Sum", "dB", decimals=1),
        ),
        rows=tuple(
            (
                Quantity(float(one)),
                *(Quantity(level_db(voice.response(one))) for voice in plan.voices),
                level_cell(plan.level_db(one)),
            )
            for one in THIRD_OCTAVES_HZ
        ),
        note=f"Filters and levels alone, without the speakers’ own response; 0{THIN_SPACE}dB is "
        "the level of a section at 0.",
    )

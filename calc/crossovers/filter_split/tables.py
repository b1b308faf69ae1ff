"""The tables of `filter-split`: settings in the order of the knobs, edges, levels."""

from calc.answers.figures import capital, quantity
from calc.answers.sheet import Cell, Column, Quantity, Table, Verdict
from calc.crossovers.filter_split.solve import Result, SplitSection
from calc.crossovers.filter_split.words import (
    BOX_WORDS,
    FRAGILE,
    channel_words,
    conflict,
    edge_words,
    polarity_words,
    range_words,
)
from calc.crossovers.filter_words import FREQUENCY_COLUMN, level_cell, slope_words
from calc.crossovers.splitting.model import Box, Control
from calc.crossovers.splitting.problem import MadeEdge, Setting, dial_of
from calc.parts.filters import FAMILY_WORDS
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import level_db


def split_tables(result: Result) -> tuple[Table, ...]:
    """Return all the tables of a split."""
    return (
        *([_missing(result)] if result.bad else []),
        *_sheets(result),
        _at_the_speakers(result),
        _edges(result),
        _levels(result),
    )


def _missing(result: Result) -> Table:
    rows = []
    for made in result.bad:
        has = "none"
        if made.corner_hz is not None:
            has = f"{quantity(made.corner_hz, 'Hz')}, {slope_words(made.order)}"
        has = conflict(result, made) or has
        rows.append(
            (
                result.shown[made.edge.section],
                made.edge.kind,
                range_words(made.edge),
                slope_words(made.edge.least_order),
                has,
            )
        )
    return Table(
        name="missing",
        caption="What is missing, and what an amplifier would need",
        columns=(
            Column("Speaker"),
            Column("Filter"),
            Column("Settable in the range"),
            Column("Least slope"),
            Column("Nearest filter here"),
        ),
        rows=tuple(rows),
    )


def _sheets(result: Result) -> list[Table]:
    """Return a settings sheet for head unit and amplifier, in the order of the knobs."""
    tables = []
    boxes: tuple[Box, ...] = ("head-unit", "amplifier")
    for box in boxes:
        settings = result.settings_of(box)
        settings.sort(key=lambda pair: (sorted(pair[0].channels), pair[0].kind))
        rows: list[tuple[Cell, ...]] = []
        for control, setting in settings:
            rows += [
                (len(rows) + place, channel_words(control.channels), knob, to)
                for place, (knob, to) in enumerate(_knobs(control, setting), start=1)
            ]
        if rows:
            name = BOX_WORDS[box]
            where = "Output for channels" if box == "head-unit" else "Channels"
            tables.append(
                Table(
                    name=f"settings-{box}",
                    caption=f"Settings sheet: {name}"
                    if result.is_ready
                    else f"Not ready: do not use yet. Settings sheet: {name}",
                    columns=(
                        Column("Step"),
                        Column(where, code=True),
                        Column("Knob or menu"),
                        Column("Set to"),
                    ),
                    rows=tuple(rows),
                )
            )
    if result.system.networks:
        tables.append(
            Table(
                name="settings-passive",
                aside=True,
                caption="Passive crossovers",
                columns=(
                    Column("Channels", code=True),
                    Column("Crossover frequency", "Hz"),
                    Column("Filter"),
                ),
                rows=tuple(
                    (
                        channel_words(network.channels),
                        Quantity(network.frequency_hz),
                        f"{FAMILY_WORDS[network.family]}, {slope_words(network.order)}",
                    )
                    for network in result.system.networks
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
    knobs.append((f"{control.kind} frequency", corner))
    return knobs


def _at_the_speakers(result: Result) -> Table:
    return Table(
        name="polarity",
        caption="At the speakers, last of all",
        columns=(
            Column("Speaker"),
            Column("Channels", code=True),
            Column("Level", "dB", decimals=1),
            Column("Polarity", wide=True),
            Column("Tweeter capacitor"),
        ),
        rows=tuple(_speaker_row(result, split) for split in result.sections),
    )


def _speaker_row(result: Result, split: SplitSection) -> tuple[Cell, ...]:
    part = "–"
    if split.capacitor is not None:
        part = f"{quantity(split.capacitor.preferred_farad * 1e6, 'µF')} in series"
    is_fragile = split.section.kind in FRAGILE
    return (
        result.shown[split.row - 1],
        split.section.channel_words,
        Quantity(split.section.gain_db),
        "do not connect yet"
        if is_fragile and not split.is_protected
        else polarity_words(result, split.row - 1),
        part,
    )


def _edges(result: Result) -> Table:
    rows = []
    for made in result.split.edges:
        if not made.edge.is_needed and made.state == "open" and made.corner_hz is None:
            continue
        made_by = " and ".join(BOX_WORDS[box] for box in made.makers) or "–"
        corner: Cell = "–" if made.corner_hz is None else Quantity(made.corner_hz)
        rows.append(
            (
                result.shown[made.edge.section],
                made.edge.kind,
                _may_lie(made),
                made_by,
                corner,
                6 * made.order if made.order else "–",
                _verdict(made),
            )
        )
    return Table(
        name="edges",
        aside=True,
        caption="Every filter, and where it is set",
        columns=(
            Column("Speaker"),
            Column("Filter"),
            Column("Allowed range", "Hz"),
            Column("Set on"),
            Column("Frequency", "Hz"),
            Column("Slope", "dB/oct"),
            Column("Result"),
        ),
        rows=tuple(rows),
        note="Where two filters do the same job, frequency and slope are those of both together.",
    )


def _may_lie(made: MadeEdge) -> str:
    if not made.edge.is_needed:
        return "none needed"
    low, high = (quantity(end) for end in made.edge.window_hz)
    return f"{low} to {high}"


def _verdict(made: MadeEdge) -> Verdict:
    if made.state == "made" and not made.edge.is_needed:
        return Verdict("suitable", "A subsonic filter, at or below the port tuning.")
    if made.state == "made":
        doubled = ", by two filters together" if made.number > 1 else ""
        return Verdict("suitable", f"Inside the allowed range{doubled}.")
    if made.state == "open":
        return Verdict("suitable", "Outside what this speaker plays: it does no harm.")
    if made.state == "spoilt":
        return Verdict(
            "unsuitable",
            "It takes away what this speaker should play: switch it off.",
        )
    what = "Nothing protects it" if made.state == "unprotected" else "Missing"
    return Verdict("unsuitable", f"{what}: it needs {edge_words(made.edge)}.")


def _levels(result: Result) -> Table:
    return Table(
        name="levels",
        aside=True,
        caption="Level of every speaker, and of the sum",
        columns=(
            FREQUENCY_COLUMN,
            *(Column(capital(name), "dB", decimals=1) for name in result.shown),
            Column("Sum", "dB", decimals=1),
        ),
        rows=tuple(
            (
                Quantity(float(hz)),
                *(Quantity(level_db(voice.response(hz))) for voice in result.voices),
                level_cell(result.level_db(hz)),
            )
            for hz in THIRD_OCTAVES_HZ
        ),
        note="Filters and levels only, without the speakers’ own response.",
    )

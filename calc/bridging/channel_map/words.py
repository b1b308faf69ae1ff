"""What the answer of `channel-map` says: sentence, verdict, tables, cautions."""

from dataclasses import replace

from calc.answers.figures import capital, listed, quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Span, Table, Verdict
from calc.bridging.assigning import plans
from calc.bridging.channel_map.inputs import Inputs
from calc.bridging.channel_map.solve import Result
from calc.bridging.drawings import grouping_drawing
from calc.bridging.mapping import MATCH_HIGH, MATCH_LOW, Plan, Section, Use
from calc.bridging.names import layout_words, outputs_words, pairs_words, speakers_of
from calc.bridging.plate_words import NO_2_OHM, power_cell
from calc.physics.channel_power import Channel

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


def _is_bridged(use: Use) -> bool:
    return len(use.outputs[0]) == 2


def _capital(use: Use) -> str:
    name = speakers_of(use.section)
    return capital(name)


def _gets(use: Use) -> str:
    """Say in brackets how the speakers of an output are wired, and what it delivers."""
    parts = []
    if use.per_output > 1:
        on_each = " on each" if len(use.outputs) > 1 else ""
        kind = "series" if use.in_series else "parallel"
        parts.append(f"{_COUNTS[use.per_output]} in {kind}{on_each}")
    if use.power.best is not None:
        each = " each" if len(use.outputs) > 1 and use.per_output == 1 else ""
        each = " per output" if len(use.outputs) > 1 and use.per_output > 1 else each
        parts.append(f"{quantity(use.power.best, 'W', 3)}{each}")
    return f" ({', '.join(parts)})" if parts else ""


def map_sentence(best: Plan | None, channels: int) -> str:
    """Say the best layout, to be read aloud."""
    if best is None:
        has = f"{channels} channel{'s' if channels > 1 else ''}"
        return f"No layout of {has} can run these speakers."
    puts, bridges = [], []
    for use in best.uses:
        name = speakers_of(use.section)
        if _is_bridged(use):
            bridges.append(f"{pairs_words(use.outputs)} for the {name}{_gets(use)}")
        else:
            plural = "s" if len(use.outputs) > 1 else ""
            puts.append(f"the {name} on channel{plural} {outputs_words(use.outputs)}{_gets(use)}")
    clauses = [f"put {listed(puts)}"] if puts else []
    clauses += [f"bridge {listed(bridges)}"] if bridges else []
    text = (", and " if puts[1:] or bridges[1:] else " and ").join(clauses)
    return f"{capital(text)}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Return the verdict on the best layout, with what decides it."""
    best = result.best
    if best is None:
        return Verdict("unsuitable", _why_none(result.sections, result.channel, inputs.channels))
    joined = [speakers_of(use.section) for use in best.uses if use.joins_left_and_right]
    if joined:
        return Verdict(
            "unsuitable",
            f"The left and right {listed(joined)} would share one output and play in mono. Use an "
            "amplifier with more channels, or a second one.",
        )
    missing = [use for use in best.uses if use.power.best is None]
    bad = [use for use in best.uses if use.cannot_suit]
    if bad:
        return _misfit_verdict(bad, result)
    if missing:
        return Verdict("not known", " ".join(_missing_words(use) for use in missing))
    if inputs.supply.is_too_high:
        return Verdict(
            "not known",
            f"{quantity(inputs.supply.supply_v, 'V')} is above the rated "
            f"{quantity(inputs.supply.rated_v, 'V')}. Ask for the highest supply voltage the "
            "amplifier allows.",
        )
    rest = sum(not any(use.joins_left_and_right for use in plan.uses) for plan in result.plans[1:])
    count = _COUNTS[rest].capitalize() if rest < len(_COUNTS) else rest
    others = f" {count} other layout{'s work' if rest > 1 else ' works'} too: see the table."
    return Verdict("suitable", f"{_matches_words(best)}{others if rest else ''}")


def _matches_words(best: Plan) -> str:
    """Say which part of its rating each speaker gets."""
    matches = [use.match for use in best.uses if use.match is not None]
    low, high = (rounded(round(match, 1)) for match in (min(matches), max(matches)))
    parts = low if low == high else f"{low} to {high}"
    return f"Every speaker gets {parts} {'times' if max(matches) > 1 else 'of'} its RMS rating."


def _misfit_verdict(bad: list[Use], result: Result) -> Verdict:
    """Say which speakers get too much or too little, and what would help."""
    misfits = " ".join(_misfit_words(use) for use in bad)
    open_to = next((plan for plan in result.plans if plan.may_do), None)
    if open_to is not None:
        gaps = " ".join(_missing_words(use) for use in open_to.uses if use.power.best is None)
        return Verdict(
            "not known",
            f"{misfits} Another layout can be better: {layout_words(open_to.grouping)}. {gaps}",
        )
    usual = f"{rounded(MATCH_LOW)} to {rounded(MATCH_HIGH)} times the RMS rating is usual."
    return Verdict("unsuitable", f"{misfits} {usual} {' '.join(dict.fromkeys(map(_remedy, bad)))}")


def _is_weak(use: Use) -> bool:
    """Tell whether a use that cannot suit gets too little; else it gets too much."""
    rated = use.section.rated_w * use.per_output
    match = use.match if use.match is not None else (use.power.high or 0.0) / rated
    return match < MATCH_LOW


def _remedy(use: Use) -> str:
    if not _is_weak(use):
        return "Use a smaller amplifier, or speakers rated for more."
    if use.section.name == "woofer":
        return "Add a mono amplifier (monoblock) for the sub."
    return "Use a stronger amplifier."


def _misfit_words(use: Use) -> str:
    """Say what a speaker gets that does not suit it, whatever a missing rating is."""
    name, each = speakers_of(use.section), " each" if use.section.speakers > 1 else ""
    get = "get" if each else "gets"
    its = f"{'their' if each else 'its'} {quantity(use.section.rated_w, 'W')} RMS"
    if use.match is not None:
        power = quantity(use.match * use.section.rated_w, "W", 3)
        times = " of" if use.match < 1 else f", {rounded(use.match, 2)} times"
        return f"The {name} {get} {power}{each}{times} {its}."
    if _is_weak(use):
        most = quantity((use.power.high or 0.0) / use.per_output, "W", 3)
        return f"The {name} {get} {most}{each} at most, of {its}."
    least = quantity((use.power.low or 0.0) / 2 / use.per_output, "W", 3)
    return f"The {name} {get} {least}{each} at least, for {its}."


def _missing_words(use: Use) -> str:
    channel = quantity(use.load_ohm / len(use.outputs[0]), "Ω", 3)
    name = speakers_of(use.section)
    text = f"For the {name} we need the RMS power per channel at {channel}"
    if use.power.low is None or use.power.high is None:
        return f"{text}: ask the maker."
    span = f"{rounded(use.power.low, 3)} to {quantity(use.power.high, 'W', 3)}"
    suits = "suits" if use.suits else "does not suit in every case"
    return f"{text}: {span} is usual, which {suits}."


def _why_none(sections: tuple[Section, ...], channel: Channel, channels: int) -> str:
    free = tuple(replace(section, settled=()) for section in sections)
    if free != sections and plans(free, channel, channels=channels, supply_factor=1.0):
        return (
            "The channels already decided stand in the way: the load on one of them is too low, or "
            "the other speakers find no output. Free them, or choose others."
        )
    least = quantity(channel.min_load_ohm, "Ω")
    for section in free:
        if plans((section,), channel, channels=channels, supply_factor=1.0):
            continue
        name, load = speakers_of(section), quantity(section.load_ohm, "Ω")
        if section.speakers == 1:
            return (
                f"The {name} of {load} is below the {least} minimum of a channel. Wire its voice "
                f"coils to {least} or more, or use an amplifier that is stable to {load}."
            )
        in_series = quantity(section.load_ohm * section.speakers, "Ω")
        return (
            f"{section.speakers} {name} of {load} fit no output: even in series they make only "
            f"{in_series}, and a channel needs {least}. Use speakers of higher impedance, or an "
            "amplifier that is stable to less."
        )
    return (
        f"Together these speakers need more outputs than {channels} channels have. Add a second "
        "amplifier, or use one with more channels."
    )


def map_figures(best: Plan | None) -> tuple[Figure, ...]:
    """Return the power of an output of each kind of speaker."""
    if best is None:
        return ()
    figures = []
    for use in best.uses:
        shown: Quantity | Span = Quantity(use.power.best, "W")
        if use.power.best is None and use.power.low is not None and use.power.high is not None:
            shown = Span(use.power.low, use.power.high, "W")
        name = speakers_of(use.section)
        figures.append(Figure(f"{capital(name)} on {outputs_words(use.outputs)}", shown))
    return tuple(figures)


def map_drawing(best: Plan) -> Drawing:
    """Draw the best layout with what each output feeds."""
    feeds = {output: speakers_of(use.section) for use in best.uses for output in use.outputs}
    return grouping_drawing(best.grouping, feeds)


def _db(level: float | None) -> Quantity:
    """A level for a table, to a tenth of a decibel."""
    return Quantity(None if level is None else round(level, 1))


def _turned_down(best: Plan, use: Use) -> float | None:
    trim = best.trim_db(use)
    return None if trim is None else abs(trim)


def uses_table(best: Plan) -> Table:
    """Return what each kind of speaker gets in the best layout."""
    weakest = best.uses.index(best.weakest) if best.weakest else None
    return Table(
        caption=f"What each speaker gets ({layout_words(best.grouping)}); the quietest output is "
        "marked",
        columns=(
            Column("Speakers"),
            Column("Channels"),
            Column("Load per output", "Ω"),
            Column("Power per output", "W"),
            Column("Level per output", "dB"),
            Column("Level of all outputs", "dB"),
            Column("Turn down by", "dB"),
            Column("Power ÷ RMS rating"),
        ),
        rows=tuple(
            (
                speakers_of(use.section),
                outputs_words(use.outputs),
                Quantity(use.load_ohm),
                power_cell(use.power),
                _db(use.level_db),
                _db(use.total_db),
                _db(_turned_down(best, use)),
                Quantity(use.match),
            )
            for use in best.uses
        ),
        marked=weakest,
        note="Levels at 1 m, from the sensitivity at 2.83 V. “Turn down by” compares single "
        "outputs: turn the louder speakers down to match, never the quiet ones up.",
    )


def groupings_tables(every: tuple[Plan, ...]) -> tuple[Table, ...]:
    """Return every layout in one table; none where there is only one."""
    if len(every) < 2:
        return ()
    rows = tuple(
        (
            layout_words(plan.grouping),
            "; ".join(
                f"{speakers_of(use.section)} on {outputs_words(use.outputs)}" for use in plan.uses
            ),
            speakers_of(plan.quietest.section) if plan.quietest else "not known",
            _db(plan.quietest.total_db if plan.quietest else None),
            ", ".join(map(str, plan.spare)) or "none",
        )
        for plan in every
    )
    return (
        Table(
            caption="Every channel layout that can run these speakers, best first",
            columns=(
                Column("Channel layout"),
                Column("Speakers on channels"),
                Column("Quietest speakers"),
                Column("Their level", "dB"),
                Column("Unused channels"),
            ),
            rows=rows,
            marked=0,
        ),
    )


def tweeter_caution(sections: tuple[Section, ...]) -> tuple[str, ...]:
    """Say that a tweeter has a high-pass, where there is a tweeter."""
    if not any(section.name == "tweeter" for section in sections):
        return ()
    return (
        "A tweeter without its own high-pass filter (HPF) can burn out in seconds: set the filter "
        "before you switch on. This calculator does not check it.",
    )


def bounds_doubt(best: Plan | None) -> tuple[str, ...]:
    """Say that a power can lie below its bounds, where it has bounds."""
    bounded = best and any(use.power.best is None and use.power.low for use in best.uses)
    return (NO_2_OHM,) if bounded else ()


def series_caution(best: Plan | None) -> tuple[str, ...]:
    """Say what speakers in series have to be, where there are any."""
    names = [speakers_of(use.section) for use in best.uses if use.in_series] if best else []
    if not names:
        return ()
    return (
        f"The {listed(names)} in series must be of one model: different ones do not share the "
        "voltage equally, and one of them overheats. Measure the load before you connect it.",
    )


def match_cautions(best: Plan | None) -> tuple[str, ...]:
    """Say which speakers are offered much more or much less than their rating."""
    cautions = []
    for use in best.uses if best else ():
        if use.match is not None and use.match > MATCH_HIGH:
            cautions.append(
                f"The amplifier can burn out the {speakers_of(use.section)}: it has "
                f"{rounded(use.match, 3)} times their RMS rating. Set the gain for the speakers."
            )
        elif use.match is not None and use.match < MATCH_LOW:
            cautions.append(
                f"The {speakers_of(use.section)} will clip before they play loud, on only "
                f"{rounded(use.match, 3)} of their RMS rating. Turn down as soon as they distort."
            )
    return tuple(cautions)

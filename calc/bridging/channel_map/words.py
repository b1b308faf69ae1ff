"""What the answer of `channel-map` says: sentence, verdict, tables, cautions."""

from dataclasses import replace

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Span, Table, Verdict
from calc.bridging.assigning import plans
from calc.bridging.channel_map.inputs import Inputs
from calc.bridging.channel_map.solve import Result
from calc.bridging.drawings import grouping_drawing
from calc.bridging.mapping import MATCH_HIGH, MATCH_LOW, Plan, Section, Use
from calc.bridging.plate_words import CURRENT_LIMIT, power_cell
from calc.physics.channel_power import Channel, output_name


def _outputs_text(use: Use) -> str:
    names = [output_name(output) for output in use.outputs]
    return listed(names)


def _spoken(use: Use) -> str:
    """Say where a section goes and what it gets, to be read aloud."""
    bridged = " bridged" if len(use.outputs[0]) == 2 else ""
    plural = "s" if len(use.outputs) > 1 and not bridged else ""
    where = f"{_outputs_text(use)}{bridged}" if bridged else f"channel{plural} {_outputs_text(use)}"
    if use.in_series:
        where += f", {use.per_output} in series"
    if use.power.best is None:
        return f"{use.section.name} on {where}"
    each = " each" if len(use.outputs) > 1 else ""
    return f"{use.section.name} on {where}, {quantity(use.power.best, 'W', 3)}{each}"


def map_sentence(best: Plan | None, channels: int) -> str:
    """Say the best grouping, to be read aloud."""
    if best is None:
        return f"No grouping of {channels} channels carries these sections."
    return f"Best: {'; '.join(_spoken(use) for use in best.uses)}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Return the verdict on the best grouping, with what decides it."""
    best = result.best
    if best is None:
        return Verdict("unsuitable", _why_none(result.sections, result.channel, inputs.channels))
    joined = [use.section.name for use in best.uses if use.joins_left_and_right]
    if joined:
        return Verdict(
            "unsuitable",
            f"left and right of {', '.join(joined)} would share one output and play in mono; the "
            "channels are too few.",
        )
    missing = [use for use in best.uses if use.power.best is None]
    bad = [use for use in best.uses if use.cannot_suit]
    if bad:
        misfits = "; ".join(_misfit_words(use) for use in bad)
        open_to = next((plan for plan in result.plans if plan.may_do), None)
        if open_to is not None:
            gaps = "; ".join(_missing_words(use) for use in open_to.uses if use.power.best is None)
            return Verdict("not known", f"{misfits}; {open_to.name} may do better: {gaps}.")
        return Verdict(
            "unsuitable", f"{misfits}; {rounded(MATCH_LOW)} to {rounded(MATCH_HIGH)} is usual."
        )
    if missing:
        return Verdict("not known", "; ".join(_missing_words(use) for use in missing) + ".")
    if inputs.supply.is_too_high:
        return Verdict("not known", "the highest permitted supply is missing.")
    rest = sum(not any(use.joins_left_and_right for use in plan.uses) for plan in result.plans[1:])
    others = f"; {rest} other grouping{'s' if rest > 1 else ''} would carry the sections too"
    return Verdict(
        "suitable",
        f"every speaker gets {rounded(MATCH_LOW)} to {rounded(MATCH_HIGH)} times its rating"
        f"{others if rest else ''}.",
    )


def _misfit_words(use: Use) -> str:
    """Say what a section gets that does not suit it, whatever a missing rating is."""
    if use.match is not None:
        return f"{use.section.name} gets {rounded(use.match, 3)} times its rating"
    rated = use.section.rated_w * use.per_output
    low, high = (use.power.low or 0.0) / rated, (use.power.high or 0.0) / rated
    if high < MATCH_LOW:
        return f"{use.section.name} gets at most {rounded(high, 3)} times its rating"
    return f"{use.section.name} gets at least {rounded(low / 2, 3)} times its rating"


def _missing_words(use: Use) -> str:
    text = f"the power rating at the load of the {use.section.name} is missing"
    if use.power.low is None or use.power.high is None:
        return text
    span = f"{rounded(use.power.low, 3)} to {quantity(use.power.high, 'W', 3)}"
    return f"{text}; it lies at {span}, which {'suits' if use.suits else 'may not suit'} it"


def _why_none(sections: tuple[Section, ...], channel: Channel, channels: int) -> str:
    free = tuple(replace(section, settled=()) for section in sections)
    if free != sections and plans(free, channel, channels=channels, supply_factor=1.0):
        return (
            "the settled outputs stand in the way: a load on one of them is too low, or the rest "
            "finds no output; settle others, or none."
        )
    for section in free:
        alone = plans((section,), channel, channels=channels, supply_factor=1.0)
        if not alone and section.speakers == 1:
            return (
                f"{section.name}: {quantity(section.load_ohm, 'Ω')} is below what a channel takes, "
                f"{quantity(channel.min_load_ohm, 'Ω')}; can its coils be wired to more?"
            )
        if not alone:
            in_series = section.load_ohm * section.speakers
            return (
                f"{section.speakers} × {section.name} of {quantity(section.load_ohm, 'Ω')} "
                f"fit no output of {channels}: even all in series they come to no more than "
                f"{quantity(in_series, 'Ω')}, a channel takes "
                f"{quantity(channel.min_load_ohm, 'Ω')}."
            )
    return f"together the sections need more outputs than {channels} channels have."


def map_figures(best: Plan | None) -> tuple[Figure, ...]:
    """Return the power of an output of each section."""
    if best is None:
        return ()
    figures = []
    for use in best.uses:
        shown: Quantity | Span = Quantity(use.power.best, "W")
        if use.power.best is None and use.power.low is not None and use.power.high is not None:
            shown = Span(use.power.low, use.power.high, "W")
        figures.append(Figure(f"{use.section.name} on {_outputs_text(use)}", shown))
    return tuple(figures)


def map_drawing(best: Plan) -> Drawing:
    """Draw the best grouping with what each output feeds."""
    feeds = {output: use.section.name for use in best.uses for output in use.outputs}
    return grouping_drawing(best.grouping, feeds)


def _db(level: float | None) -> Quantity:
    """A level for a table, to a tenth of a decibel."""
    return Quantity(None if level is None else round(level, 1))


def _turned_down(best: Plan, use: Use) -> float | None:
    trim = best.trim_db(use)
    return None if trim is None else abs(trim)


def uses_table(best: Plan) -> Table:
    """Return what each section gets in the best grouping."""
    weakest = best.uses.index(best.weakest) if best.weakest else None
    return Table(
        caption=f"Grouping {best.name}: what each section gets; the quietest output is marked",
        columns=(
            Column("Section"),
            Column("Outputs"),
            Column("Load of an output", "Ω"),
            Column("Power of an output", "W"),
            Column("Level of an output", "dB"),
            Column("All outputs together", "dB"),
            Column("Turn down by", "dB"),
            Column("Power over rating"),
        ),
        rows=tuple(
            (
                use.section.name,
                _outputs_text(use),
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
        note="Levels at 1 m, from the sensitivity at 2.83 V; outputs alike at equal voltage add "
        "20·lg of their number. “Turn down by” compares single outputs.",
    )


def groupings_tables(every: tuple[Plan, ...]) -> tuple[Table, ...]:
    """Return every grouping in one table; none where there is only one."""
    if len(every) < 2:
        return ()
    rows = tuple(
        (
            plan.name,
            ", ".join(f"{use.section.name}: {_outputs_text(use)}" for use in plan.uses),
            plan.quietest.section.name if plan.quietest else "not known",
            _db(plan.quietest.total_db if plan.quietest else None),
            ", ".join(map(str, plan.spare)) or "none",
        )
        for plan in every
    )
    return (
        Table(
            caption="Every grouping that carries the sections, best first",
            columns=(
                Column("Grouping", code=True),
                Column("Sections on outputs"),
                Column("Quietest with all outputs"),
                Column("Its level", "dB"),
                Column("Spare channels"),
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
        "A tweeter is never connected without a high-pass of its own, in the head unit, the "
        "amplifier or a network. Set it before the first sound; this calculator does not check it.",
    )


def bounds_caution(best: Plan | None) -> tuple[str, ...]:
    """Say that a power may lie below its bounds, where it has bounds."""
    bounded = best and any(use.power.best is None and use.power.low for use in best.uses)
    return (CURRENT_LIMIT,) if bounded else ()


def series_caution(best: Plan | None) -> tuple[str, ...]:
    """Say what speakers in series have to be, where there are any."""
    names = [use.section.name for use in best.uses if use.in_series] if best else []
    if not names:
        return ()
    return (
        f"In series on one output: {listed(names)}. They must be of one model, since unlike ones "
        "do not share the voltage evenly. Measure the load before you connect it.",
    )


def match_cautions(best: Plan | None) -> tuple[str, ...]:
    """Say which speakers are offered much more or much less than their rating."""
    cautions = []
    for use in best.uses if best else ():
        if use.match is not None and use.match > MATCH_HIGH:
            cautions.append(
                f"{use.section.name}: {rounded(use.match, 3)} times the speaker’s rating "
                "is on offer. Set the gain for the speaker, not for the amplifier."
            )
        elif use.match is not None and use.match < MATCH_LOW:
            cautions.append(
                f"{use.section.name}: only {rounded(use.match, 3)} of the speaker’s "
                "rating is on offer. Expect clipping before it plays loud."
            )
    return tuple(cautions)

"""The calculator `channel-map`: which section goes on which outputs."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calc.bridging.drawings import grouping_drawing
from calc.bridging.mapping import MATCH_HIGH, MATCH_LOW, Plan, Section, Use, plans
from calc.bridging.model import Channel, output_name
from calc.bridging.plate import (
    BRIDGED_INPUTS,
    CLIPPING,
    CURRENT_LIMIT,
    HEARING,
    INTERPOLATION,
    INVENTED,
    MIN_CHANNEL,
    NO_APPROVAL,
    OHM,
    POWER_2,
    POWER_4,
    POWER_8,
    RATED_BRIDGED,
    RATED_V,
    RATINGS,
    REGULATED,
    REGULATED_MIN,
    SUPPLY_V,
    channel_of,
    plate_cautions,
    power_cell,
    supply_is_too_high,
    supply_of,
    supply_step,
    supply_unknowns,
)
from calc.bridging.settled import SETTLED, check_settled, settled_by_row
from calc.core.calculator import Calculator
from calc.core.fields import Choice, Number, Rows, Whole, behind_more
from calc.core.figures import listed, quantity, rounded
from calc.core.sheet import Column, Drawing, Figure, Quantity, Sheet, Span, Table, Verdict

SECTION_WORDS = ("tweeter", "midrange", "mid-bass", "full-range", "woofer")


def channel_map(given: Mapping[str, Any]) -> Sheet:
    """Compute `channel-map`: every grouping that carries the sections, best first."""
    settled = settled_by_row(given)
    sections = tuple(
        Section(
            name=row["section"],
            load_ohm=row["load_ohm"],
            rated_w=row["rated_w"],
            sensitivity_db=row["sensitivity_db"],
            speakers=row["speakers"],
            settled=settled.get(number, ()),
        )
        for number, row in enumerate(given["sections"], start=1)
    )
    channel, factor = channel_of(given), supply_of(given)
    found = plans(sections, channel, channels=given["channels"], supply_factor=factor)
    best = found[0] if found else None
    return Sheet(
        sentence=_map_sentence(best, given["channels"]),
        verdict=_map_verdict(best, found, sections, channel, given),
        results={"groupings": [_plan_data(plan) for plan in found]},
        figures=_map_figures(best),
        drawings=(_map_drawing(best),) if best else (),
        tables=(*([_uses_table(best)] if best else []), *_groupings_tables(found)),
        cautions=(
            *plate_cautions(given),
            *_tweeter_caution(sections),
            *_bounds_caution(best),
            *_match_cautions(best),
            NO_APPROVAL,
            CLIPPING,
            HEARING,
        ),
        steps=_map_steps(given, factor),
        unknowns=(
            *([BRIDGED_INPUTS] if best and any(len(o) == 2 for o in best.grouping) else []),
            "Speakers in series on an output: find their load in the chapter on coil wiring, "
            "and enter them as one speaker with that load.",
            "The car’s own gain in the bass, the place of each speaker and what its filter "
            "takes away: levels are those of the bare speakers at 1 m.",
            *supply_unknowns(given),
        ),
        sources=(
            OHM,
            RATINGS,
            INTERPOLATION,
            "Match between 0.5 and 2 times the speaker’s rating: common practice, no source.",
        ),
    )


def _use_data(plan: Plan, use: Use) -> dict[str, Any]:
    return {
        "section": use.section.name,
        "outputs": [output_name(output) for output in use.outputs],
        "load_ohm": use.load_ohm,
        "power_w": use.power.best,
        "power_low_w": use.power.low,
        "power_high_w": use.power.high,
        "level_db": use.level_db,
        "trim_db": plan.trim_db(use),
        "match": use.match,
    }


def _plan_data(plan: Plan) -> dict[str, Any]:
    return {
        "grouping": plan.name,
        "uses": [_use_data(plan, use) for use in plan.uses],
        "weakest": plan.weakest.section.name if plan.weakest else None,
        "spare": list(plan.spare),
    }


def _outputs_text(use: Use) -> str:
    names = [output_name(output) for output in use.outputs]
    return listed(names)


def _spoken(use: Use) -> str:
    """Say where a section goes and what it gets, to be read aloud."""
    bridged = " bridged" if len(use.outputs[0]) == 2 else ""
    plural = "s" if len(use.outputs) > 1 and not bridged else ""
    where = f"{_outputs_text(use)}{bridged}" if bridged else f"channel{plural} {_outputs_text(use)}"
    if use.power.best is None:
        return f"{use.section.name} on {where}"
    each = " each" if len(use.outputs) > 1 else ""
    return f"{use.section.name} on {where}, {quantity(use.power.best, 'W', 3)}{each}"


def _map_sentence(best: Plan | None, channels: int) -> str:
    if best is None:
        return f"No grouping of {channels} channels carries these sections."
    return f"Best: {'; '.join(_spoken(use) for use in best.uses)}."


def _map_verdict(
    best: Plan | None,
    found: tuple[Plan, ...],
    sections: tuple[Section, ...],
    channel: Channel,
    given: Mapping[str, Any],
) -> Verdict:
    if best is None:
        return Verdict("unsuitable", _why_none(sections, channel, given["channels"]))
    joined = [use.section.name for use in best.uses if use.joins_left_and_right]
    if joined:
        return Verdict(
            "unsuitable",
            f"left and right of {', '.join(joined)} would share one output and play in mono; the "
            "channels are too few.",
        )
    missing = [use for use in best.uses if use.power.best is None]
    bad = [use for use in best.uses if not use.suits and use.power.best is not None]
    if bad:
        told = "; ".join(
            f"{use.section.name} gets {rounded(use.match or 0, 3)} times its rating" for use in bad
        )
        return Verdict(
            "unsuitable", f"{told}; {rounded(MATCH_LOW)} to {rounded(MATCH_HIGH)} is usual."
        )
    if missing:
        return Verdict("not known", "; ".join(_missing_words(use) for use in missing) + ".")
    if supply_is_too_high(given):
        return Verdict("not known", "the highest permitted supply is missing.")
    rest = len(found) - 1
    others = f"; {rest} other grouping{'s' if rest > 1 else ''} would carry the sections too"
    return Verdict(
        "suitable",
        f"every speaker gets {rounded(MATCH_LOW)} to {rounded(MATCH_HIGH)} times its rating"
        f"{others if rest else ''}.",
    )


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
            together = section.load_ohm / section.speakers
            return (
                f"{section.speakers} × {section.name} of {quantity(section.load_ohm, 'Ω')} "
                f"fit no output of {channels}: in parallel they come to as little as "
                f"{quantity(together, 'Ω')}, a channel takes "
                f"{quantity(channel.min_load_ohm, 'Ω')}."
            )
    return f"together the sections need more outputs than {channels} channels have."


def _map_figures(best: Plan | None) -> tuple[Figure, ...]:
    if best is None:
        return ()
    figures = []
    for use in best.uses:
        shown: Quantity | Span = Quantity(use.power.best, "W")
        if use.power.best is None and use.power.low is not None and use.power.high is not None:
            shown = Span(use.power.low, use.power.high, "W")
        figures.append(Figure(f"{use.section.name} on {_outputs_text(use)}", shown))
    return tuple(figures)


def _map_drawing(best: Plan) -> Drawing:
    feeds = {output: use.section.name for use in best.uses for output in use.outputs}
    return grouping_drawing(best.grouping, feeds)


def _db(level: float | None) -> Quantity:
    """A level for a table: nobody hears less than a tenth of a decibel."""
    return Quantity(None if level is None else round(level, 1))


def _turned_down(best: Plan, use: Use) -> float | None:
    trim = best.trim_db(use)
    return None if trim is None else abs(trim)


def _uses_table(best: Plan) -> Table:
    weakest = best.uses.index(best.weakest) if best.weakest else None
    return Table(
        caption=f"Grouping {best.name}: what each section gets; the marked one is the weakest",
        columns=(
            Column("Section"),
            Column("Outputs"),
            Column("Load of an output", "Ω"),
            Column("Power of an output", "W"),
            Column("Level of an output", "dB"),
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
                _db(_turned_down(best, use)),
                Quantity(use.match),
            )
            for use in best.uses
        ),
        marked=weakest,
        note="Level at 1 m of one output with its speakers, from the sensitivity at 2.83 V.",
    )


def _groupings_tables(found: tuple[Plan, ...]) -> tuple[Table, ...]:
    if len(found) < 2:
        return ()
    rows = tuple(
        (
            plan.name,
            ", ".join(f"{use.section.name}: {_outputs_text(use)}" for use in plan.uses),
            plan.weakest.section.name if plan.weakest else "not known",
            _db(plan.weakest.level_db if plan.weakest else None),
            ", ".join(map(str, plan.spare)) or "none",
        )
        for plan in found
    )
    return (
        Table(
            caption="Every grouping that carries the sections, best first",
            columns=(
                Column("Grouping", code=True),
                Column("Sections on outputs"),
                Column("Weakest section"),
                Column("Its level", "dB"),
                Column("Spare channels"),
            ),
            rows=rows,
            marked=0,
        ),
    )


def _tweeter_caution(sections: tuple[Section, ...]) -> tuple[str, ...]:
    if not any(section.name == "tweeter" for section in sections):
        return ()
    return (
        "A tweeter is never connected without a high-pass of its own, in the head unit, the "
        "amplifier or a network. Set it before the first sound; this calculator does not check it.",
    )


def _bounds_caution(best: Plan | None) -> tuple[str, ...]:
    bounded = best and any(use.power.best is None and use.power.low for use in best.uses)
    return (CURRENT_LIMIT,) if bounded else ()


def _match_cautions(best: Plan | None) -> tuple[str, ...]:
    told = []
    for use in best.uses if best else ():
        if use.match is not None and use.match > MATCH_HIGH:
            told.append(
                f"{use.section.name}: {rounded(use.match, 3)} times the speaker’s rating "
                "is on offer. Set the gain for the speaker, not for the amplifier."
            )
        elif use.match is not None and use.match < MATCH_LOW:
            told.append(
                f"{use.section.name}: only {rounded(use.match, 3)} of the speaker’s "
                "rating is on offer. Expect clipping before it plays loud."
            )
    return tuple(told)


def _map_steps(given: Mapping[str, Any], factor: float) -> tuple[str, ...]:
    return (
        "Every grouping of singles and adjacent pairs is tried, with every equal spread of each "
        "section’s speakers over outputs of one kind.",
        *(("Settled outputs are kept as they are given.",) if given["settled"] else ()),
        "Several speakers on one output are in parallel; a load below the channel’s lowest is "
        "refused. A bridged pair sees half its load on each channel.",
        supply_step(given, factor),
        *(
            ("A pair bridged into 4 Ω: its own rating wins over the estimate.",)
            if given["rated_bridged_w"] is not None
            else ()
        ),
        "Left and right stay apart: several speakers on one output, woofers excepted, come last.",
        "Level of an output: S + 20·lg(√(P·R) ÷ 2.83 V), and 20·lg n for n speakers alike on it.",
        "Best first: left and right kept apart, powers that suit the ratings, powers known, the "
        "loudest weakest section, then fewest bridged pairs.",
    )


CHANNEL_MAP = Calculator(
    name="channel-map",
    title="Channel map",
    question="Which speakers go on which channels, and which pairs do I bridge?",
    fields=(
        Rows(
            key="sections",
            label="Sections",
            default="full-range,4,60,90,2;woofer,4,240,88,1",
            hint="A row for each kind of speaker; load, rating and sensitivity per speaker.",
            source=INVENTED,
            most=8,
            row_name="section",
            columns=(
                Choice(
                    key="section",
                    label="section",
                    default="full-range",
                    options=tuple((word, word) for word in SECTION_WORDS),
                ),
                Number(key="load_ohm", label="load", default="4", low=0.5, high=64),
                Number(key="rated_w", label="rating", default="60", low=1, high=5000),
                Number(
                    key="sensitivity_db",
                    label="sensitivity at 2.83 V, 1 m",
                    default="90",
                    low=60,
                    high=120,
                ),
                Whole(key="speakers", label="how many", default="2", low=1, high=8),
            ),
        ),
        SETTLED,
        Whole(
            key="channels",
            label="Channels of the amplifier",
            default="4",
            low=1,
            high=8,
            presets=(2, 4, 5, 6),
        ),
        POWER_4,
        POWER_2,
        POWER_8,
        MIN_CHANNEL,
        behind_more(RATED_BRIDGED),
        RATED_V,
        SUPPLY_V,
        REGULATED,
        REGULATED_MIN,
    ),
    groups=(
        ("The speakers", ("sections", "settled")),
        (
            "The amplifier",
            (
                "channels",
                "power_4ohm_w",
                "power_2ohm_w",
                "min_channel_ohm",
                "power_8ohm_w",
                "rated_bridged_w",
            ),
        ),
        ("The supply", ("rated_v", "supply_v", "regulated", "regulated_min_v")),
    ),
    compute=channel_map,
    check=check_settled,
)

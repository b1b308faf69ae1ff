"""The calculator `channel-map`: which section goes on which outputs."""

from collections.abc import Mapping
from typing import Any

from calc.bridging.map_words import (
    bounds_caution,
    groupings_tables,
    map_drawing,
    map_figures,
    map_sentence,
    map_verdict,
    match_cautions,
    series_caution,
    tweeter_caution,
    uses_table,
)
from calc.bridging.mapping import Plan, Section, Use, plans
from calc.bridging.model import output_name
from calc.bridging.plate import (
    BRIDGED_INPUTS,
    CLIPPING,
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
    supply_of,
    supply_step,
    supply_unknowns,
)
from calc.bridging.settled import SETTLED, check_settled, settled_by_row
from calc.core.calculator import Calculator
from calc.core.cautions import HEARING, SWITCH_OFF
from calc.core.fields import Choice, Number, Rows, Whole, behind_more
from calc.core.sheet import Sheet

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
        sentence=map_sentence(best, given["channels"]),
        verdict=map_verdict(best, found, sections, channel, given),
        results={"groupings": [_plan_data(plan) for plan in found]},
        figures=map_figures(best),
        drawings=(map_drawing(best),) if best else (),
        tables=(*([uses_table(best)] if best else []), *groupings_tables(found)),
        cautions=(
            *plate_cautions(given),
            *tweeter_caution(sections),
            *bounds_caution(best),
            *series_caution(best),
            *match_cautions(best),
            NO_APPROVAL,
            SWITCH_OFF,
            CLIPPING,
            HEARING,
        ),
        steps=_map_steps(given, factor),
        unknowns=(
            *([BRIDGED_INPUTS] if best and any(len(o) == 2 for o in best.grouping) else []),
            "Speakers in groups of parallel and series on one output: find their load in the "
            "chapter on coil wiring, and enter them as one speaker with that load.",
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
        "total_db": use.total_db,
        "in_series": use.in_series,
        "trim_db": plan.trim_db(use),
        "match": use.match,
    }


def _plan_data(plan: Plan) -> dict[str, Any]:
    return {
        "grouping": plan.name,
        "uses": [_use_data(plan, use) for use in plan.uses],
        "weakest": plan.weakest.section.name if plan.weakest else None,
        "quietest": plan.quietest.section.name if plan.quietest else None,
        "spare": list(plan.spare),
    }


def _map_steps(given: Mapping[str, Any], factor: float) -> tuple[str, ...]:
    return (
        "Every grouping of singles and adjacent pairs is tried, with every equal spread of each "
        "section’s speakers over outputs of one kind.",
        *(("Settled outputs are kept as they are given.",) if given["settled"] else ()),
        "Several speakers on one output are in parallel; where that load is below the channel’s "
        "lowest they are in series, n × R; where that is too low as well it is refused. A bridged "
        "pair sees half its load on each channel.",
        supply_step(given, factor),
        *(
            ("A pair bridged into 4 Ω: its own rating wins over the estimate.",)
            if given["rated_bridged_w"] is not None
            else ()
        ),
        "Left and right stay apart: several speakers on one output, woofers excepted, come last.",
        "Level of an output: S + 20·lg(√(P·R) ÷ 2.83 V), and 20·lg n for n speakers in parallel on "
        "it; in series they share the voltage, and add nothing. n outputs alike add 20·lg n.",
        "Best first: left and right kept apart, powers that suit the ratings, powers known, then "
        "what plays louder with all its outputs, the quietest section first; then fewest bridged "
        "pairs.",
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

"""What the answer of `channel-map` holds."""

from calc.answers.calculator import Calculator
from calc.answers.cautions import HEARING, SWITCH_OFF
from calc.answers.sheet import Sheet
from calc.bridging.channel_map.inputs import FORM, ORDER, Inputs, fixed_outputs_are_to_be_had
from calc.bridging.channel_map.solve import Result, solve
from calc.bridging.channel_map.words import (
    bounds_caution,
    groupings_tables,
    judge,
    map_drawing,
    map_figures,
    map_sentence,
    match_cautions,
    series_caution,
    tweeter_caution,
    uses_table,
)
from calc.bridging.mapping import Plan, Use
from calc.bridging.plate_words import (
    BRIDGED_INPUTS,
    CLIPPING,
    INTERPOLATION,
    NO_APPROVAL,
    OHM,
    RATINGS,
    plate_cautions,
    supply_step,
    supply_unknowns,
)
from calc.physics.channel_power import output_name


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    best = result.best
    return Sheet(
        sentence=map_sentence(best, inputs.channels),
        verdict=judge(inputs, result),
        results=data(result),
        figures=map_figures(best),
        drawings=(map_drawing(best),) if best else (),
        tables=(*([uses_table(best)] if best else []), *groupings_tables(result.plans)),
        cautions=(
            *plate_cautions(inputs.plate, inputs.supply),
            *tweeter_caution(result.sections),
            *bounds_caution(best),
            *series_caution(best),
            *match_cautions(best),
            NO_APPROVAL,
            SWITCH_OFF,
            CLIPPING,
            HEARING,
        ),
        steps=_steps(inputs),
        unknowns=(
            *([BRIDGED_INPUTS] if best and any(len(o) == 2 for o in best.grouping) else []),
            "Speakers in groups of parallel and series on one output: find their load in the "
            "chapter on coil wiring, and enter them as one speaker with that load.",
            "The car’s own gain in the bass, the place of each speaker and what its filter "
            "takes away: levels are those of the bare speakers at 1 m.",
            *supply_unknowns(inputs.supply),
        ),
        sources=(
            OHM,
            RATINGS,
            INTERPOLATION,
            "Match between 0.5 and 2 times the speaker’s rating: common practice, no source.",
        ),
    )


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {"groupings": [_plan_data(plan) for plan in result.plans]}


def _use_data(plan: Plan, use: Use) -> dict[str, object]:
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


def _plan_data(plan: Plan) -> dict[str, object]:
    return {
        "grouping": plan.name,
        "uses": [_use_data(plan, use) for use in plan.uses],
        "weakest": plan.weakest.section.name if plan.weakest else None,
        "quietest": plan.quietest.section.name if plan.quietest else None,
        "spare": list(plan.spare),
    }


def _steps(inputs: Inputs) -> tuple[str, ...]:
    return (
        "Every grouping of singles and adjacent pairs is tried, with every equal spread of each "
        "section’s speakers over outputs of one kind.",
        *(("Settled outputs are kept as they are given.",) if inputs.settled else ()),
        "Several speakers on one output are in parallel; where that load is below the channel’s "
        "lowest they are in series, n × R; where that is too low as well it is refused. A bridged "
        "pair sees half its load on each channel.",
        supply_step(inputs.supply),
        *(
            ("A pair bridged into 4 Ω: its own rating wins over the estimate.",)
            if inputs.plate.rated_bridged_w is not None
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
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=(fixed_outputs_are_to_be_had,),
    solve=solve,
    judge=judge,
    present=present,
)

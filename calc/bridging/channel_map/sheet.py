"""What the answer of `channel-map` holds."""

from calc.answers.calculator import Calculator
from calc.answers.cautions import HEARING, SWITCH_OFF
from calc.answers.sheet import Sheet
from calc.bridging.channel_map.inputs import FORM, ORDER, Inputs, fixed_outputs_are_to_be_had
from calc.bridging.channel_map.solve import Result, solve
from calc.bridging.channel_map.words import (
    bounds_doubt,
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
    BRIDGED_LIVE,
    INTERPOLATION,
    plate_doubts,
    supply_cautions,
    supply_step,
    supply_unknowns,
)
from calc.physics.channel_power import output_name

MOST_CAUTIONS = 5


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    best = result.best
    is_bridged = best is not None and any(len(output) == 2 for output in best.grouping)
    return Sheet(
        sentence=map_sentence(best, inputs.channels),
        notation=best.name if best else "",
        verdict=judge(inputs, result),
        results=data(result),
        figures=map_figures(best),
        drawings=(map_drawing(best),) if best else (),
        tables=(*([uses_table(best)] if best else []), *groupings_tables(result.plans)),
        cautions=(
            *supply_cautions(inputs.supply),
            *tweeter_caution(result.sections),
            SWITCH_OFF,
            HEARING,
            *series_caution(best),
            *match_cautions(best),
            *([BRIDGED_LIVE] if is_bridged else []),
        )[:MOST_CAUTIONS],
        steps=_steps(inputs),
        unknowns=(
            *([BRIDGED_INPUTS] if is_bridged else []),
            "Speakers wired part in series, part in parallel on one output: find their load in "
            "“Voice coils: series and parallel” and enter them as one speaker of that load.",
            "What the car adds in the bass, where each speaker sits and what its filter takes "
            "away: levels are those of the bare speakers at 1 m.",
            *plate_doubts(inputs.plate),
            *bounds_doubt(best),
            *supply_unknowns(inputs.supply),
        ),
        sources=(
            "power-match",
            "power-ratings",
            "bridge-marks",
            "hearing",
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
        "We try every channel layout (1 with 2, 3 with 4 and so on, separate or bridged), and in "
        "each of them every way to share the speakers of one kind equally among outputs.",
        *(("Channels already decided stay as you entered them.",) if inputs.settled else ()),
        "Several speakers on one output are wired in parallel. If that is below the minimum load "
        "they are wired in series, n × R; if that is too low as well, the layout is out. Each "
        "channel of a bridged pair sees half the load.",
        supply_step(inputs.supply),
        INTERPOLATION,
        *(
            ("For a pair bridged into 4 Ω its own rating counts.",)
            if inputs.plate.rated_bridged_w is not None
            else ()
        ),
        "Left and right stay apart: a layout that puts them on one output comes last, subs "
        "excepted.",
        "Level of one output: S + 20·lg(√(P·R) ÷ 2.83 V), plus 20·lg n for n speakers in parallel; "
        "in series they share the voltage and add nothing. n outputs of one kind add 20·lg n.",
        "Best first: left and right apart, power that suits the speakers, power known, then the "
        "layout whose quietest speakers play loudest; of equals, the one with fewer bridged pairs.",
    )


CHANNEL_MAP = Calculator(
    name="channel-map",
    title="Which speakers go where",
    question="Which speakers go on which channels, and which channels do I bridge?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=(fixed_outputs_are_to_be_had,),
    solve=solve,
    judge=judge,
    present=present,
)

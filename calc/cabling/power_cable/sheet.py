"""What the answer of `power-cable` holds."""

from calc.answers.calculator import Calculator
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet
from calc.cabling.power_cable.drawing import run_drawing
from calc.cabling.power_cable.inputs import CHECKS, FORM, ORDER, Inputs
from calc.cabling.power_cable.solve import Result, solve
from calc.cabling.power_cable.tables import duties_table, estimates_table, sizes_table
from calc.cabling.power_cable.words import (
    fuse_cautions,
    judge,
    note_of,
    run_sentence,
    run_steps,
)
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD_KIT,
    KIT,
    RULES_WIN,
    RUN_SOURCES,
    five,
    place_unknown,
)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer: size, drop, fuse, and what decides."""
    return Sheet(
        sentence=run_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=_figures(inputs, result),
        drawings=(_drawing(inputs, result),),
        tables=(
            sizes_table(inputs, result),
            duties_table(inputs, result),
            *estimates_table(inputs, result),
        ),
        cautions=five(
            fuse_cautions(inputs, result),
            (KIT if inputs.cable.material == "copper" else CLAD_KIT,),
            CABLE_CAUTIONS,
        ),
        steps=run_steps(inputs, result),
        unknowns=(
            *place_unknown(inputs.cable),
            *(
                ("The amplifier’s class. The table shows what a class AB amplifier can draw.",)
                if result.upper_a is not None and inputs.duty != "full"
                else ()
            ),
            "Whether a fuse holds when it runs near its rating for long, or in a hot engine bay: "
            "ask the fuse maker.",
            "Whether the cable is the size printed on it: count and measure the strands.",
            "The resistance of the vehicle body unless you measured it, the earth lead unless you "
            "added its length, and the state of the connections.",
            "How hot the cable gets: under carpet in the sun the air is hotter than the 30 °C of "
            "the current ratings. Answer then as for a battery under the bonnet.",
            "Peaks: a drum beat draws more than the average for a moment; the battery, the cable "
            "and the capacitors in the amplifier share it.",
            "What else is connected to the same battery, and what the vehicle maker allows there.",
            RULES_WIN,
        ),
        sources=RUN_SOURCES,
    )


def _drawing(inputs: Inputs, result: Result) -> Drawing:
    laid = result.kit or result.chosen.offer
    return run_drawing(
        size=laid.size.words if laid else None,
        fuse_a=result.chosen.fuse_a,
        length_m=inputs.length_m,
        power_w=inputs.total_power_w,
        return_by=inputs.way.return_by,
        body_mohm=inputs.way.body_mohm,
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    chosen, offer, kit = result.chosen, result.chosen.offer, result.kit
    return {
        "current_a": result.ampere,
        "current_full_a": result.demand.full_a,
        "current_ab_a": result.upper_a,
        "current_fuse_a": result.full_a,
        "current_by_fuses_a": inputs.draw.by_fuses_a,
        "required_mm2": result.required_mm2,
        "size": None if offer is None else offer.size.name,
        "size_mm2": result.size_mm2,
        "size_by_drop": None if chosen.by_drop is None else chosen.by_drop.size.name,
        "drop_v": result.drop_v,
        "drop_full_v": result.drop(offer, result.demand.full_a),
        "drop_ab_v": result.drop(offer, result.upper_a),
        "permitted_a": None if offer is None else offer.permitted_a,
        "fuse_a": chosen.fuse_a,
        "fuse_note": note_of(inputs, result) if chosen.fuse_a else None,
        "limited_by": chosen.limited_by,
        "output_loss_percent": result.output_loss_percent,
        "kit_size": None if kit is None else kit.size.name,
        "kit_mm2": None if kit is None else kit.size.area_mm2,
        "kit_drop_v": result.kit_drop_v,
        "kit_permitted_a": None if kit is None else kit.permitted_a,
    }


def _figures(inputs: Inputs, result: Result) -> tuple[Figure, ...]:
    """Return the key figures that exist."""
    kit = result.kit
    rows = (
        ("Minimum size", result.size_mm2, "mm²"),
        ("Size to buy", None if kit is None else kit.size.area_mm2, "mm²"),
        ("Main fuse at the battery", result.chosen.fuse_a, "A"),
        ("Current at full power", result.demand.full_a, "A"),
        ("Voltage drop at full power", result.kit_drop_v, "V"),
    )
    return tuple(
        Figure(label, Quantity(value, unit)) for label, value, unit in rows if value is not None
    )


POWER_CABLE = Calculator(
    name="power-cable",
    title="Power cable and fuse",
    question="How thick must the power cable be, and which fuse goes with it?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)

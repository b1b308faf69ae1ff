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
    kit_cautions,
    note_of,
    run_sentence,
    run_steps,
)
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD,
    DUTIES,
    DUTY_WORDS,
    FUSES,
    KIT_FUSE,
    KIT_METAL,
    LEAST_SIZE,
    PERMITTED,
    RESISTANCE,
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
        cautions=(
            *kit_cautions(inputs, result),
            *fuse_cautions(inputs, result),
            *((CLAD,) if inputs.cable.material != "copper" else (KIT_METAL,)),
            KIT_FUSE,
            *CABLE_CAUTIONS,
        ),
        steps=run_steps(inputs, result),
        unknowns=(
            *place_unknown(inputs.cable),
            *(
                ("The class of the amplifier: class AB draws up to the bound shown.",)
                if result.upper_a is not None and inputs.duty != "full"
                else ()
            ),
            "Whether a fuse that runs near its rating for long, or in the heat of an engine space, "
            "holds: its maker says what it carries there.",
            "Whether the cable is what is printed on it: measure its strands, see wire facts.",
            "The body’s resistance, unless it was measured, the earth lead unless its length was "
            "added, and the state of joints.",
            "How hot the place is: in a closed body in the sun the air is warmer than the table’s "
            "30 °C. Answer then as for an engine space.",
            "Peaks: a drum beat draws more than the average for a moment; the battery, the leads "
            "and the amplifier’s own capacitors share it.",
            "What else hangs on the same battery, and what the vehicle maker permits there.",
        ),
        sources=(RESISTANCE, PERMITTED, LEAST_SIZE, FUSES, DUTIES),
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
        ("Least cross-section", result.size_mm2, "mm²"),
        ("To buy", None if kit is None else kit.size.area_mm2, "mm²"),
        ("Main fuse, at the battery", result.chosen.fuse_a, "A"),
        ("Current at full power", result.demand.full_a, "A"),
        (f"Drop at {DUTY_WORDS[inputs.duty]}", result.drop_v, "V"),
        ("Drop at full power, cable to buy", result.kit_drop_v, "V"),
        ("Needed for the drop alone", result.required_mm2, "mm²"),
        ("Output lost, unregulated", result.output_loss_percent, "%"),
    )
    return tuple(
        Figure(label, Quantity(value, unit)) for label, value, unit in rows if value is not None
    )


POWER_CABLE = Calculator(
    name="power-cable",
    title="Power cable and fuse",
    question="How thick must the cable be, and which fuse goes with it?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)

"""The calculator `power-cable`: one run from the battery to one place."""

from collections.abc import Iterable, Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.sheet import Figure, Quantity, Sheet
from calc.cabling.drawings import run_drawing
from calc.cabling.fields import CABLE_FIELDS, CABLE_GROUPS, DEMAND_FIELDS, LENGTH_M, total_power
from calc.cabling.given import (
    check_idle,
    check_own_fuses,
    check_regulated,
    fuse_note,
    place_unknown,
)
from calc.cabling.one_run import OneRun, one_run
from calc.cabling.power_cable_tables import duties_table, estimates_table, sizes_table
from calc.cabling.power_cable_words import (
    fuse_cautions,
    kit_cautions,
    run_sentence,
    run_steps,
    run_verdict,
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
)
from calc.inputs.errors import FieldError
from calc.physics.amplifier_draw import drop_loss


def power_cable(given: Mapping[str, Any]) -> Sheet:
    """Compute `power-cable`: size, drop, fuse, and what decides."""
    run = one_run(given)
    return Sheet(
        sentence=run_sentence(given, run),
        verdict=run_verdict(given, run),
        results=_results(given, run),
        figures=_figures(given, run),
        drawings=(run_drawing(given, run.chosen, run.kit),),
        tables=(
            sizes_table(given, run),
            duties_table(given, run),
            *estimates_table(given, run),
        ),
        cautions=(
            *kit_cautions(given, run),
            *fuse_cautions(given, run),
            *((CLAD,) if given["material"] != "copper" else (KIT_METAL,)),
            KIT_FUSE,
            *CABLE_CAUTIONS,
        ),
        steps=run_steps(given, run),
        unknowns=(
            *place_unknown(given),
            *(
                ("The class of the amplifier: class AB draws up to the bound shown.",)
                if run.demand.upper_current(given["duty"]) is not None and given["duty"] != "full"
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


def _results(given: Mapping[str, Any], run: OneRun) -> dict[str, Any]:
    chosen, offer, kit = run.chosen, run.chosen.offer, run.kit
    own_fuses, upper = given["amp_fuses_a"], run.demand.upper_current(given["duty"])
    drop_v, loss = run.drop(offer, run.ampere), _loss(given, run)
    return {
        "current_a": run.ampere,
        "current_full_a": run.demand.full_a,
        "current_ab_a": upper,
        "current_fuse_a": run.full_a,
        "current_by_fuses_a": sum(own_fuses) if own_fuses else None,
        "required_mm2": _needed(run),
        "size": None if offer is None else offer.size.name,
        "size_mm2": None if offer is None else offer.size.area_mm2,
        "size_by_drop": None if chosen.by_drop is None else chosen.by_drop.size.name,
        "drop_v": drop_v,
        "drop_full_v": run.drop(offer, run.demand.full_a),
        "drop_ab_v": run.drop(offer, upper),
        "permitted_a": None if offer is None else offer.permitted_a,
        "fuse_a": chosen.fuse_a,
        "fuse_note": fuse_note(given, run.fuse, run.full_a) if chosen.fuse_a else None,
        "limited_by": chosen.limited_by,
        "output_loss_percent": loss,
        "kit_size": None if kit is None else kit.size.name,
        "kit_mm2": None if kit is None else kit.size.area_mm2,
        "kit_drop_v": run.drop(kit, run.demand.full_a),
        "kit_permitted_a": None if kit is None else kit.permitted_a,
    }


def _loss(given: Mapping[str, Any], run: OneRun) -> float | None:
    """Return the share of an unregulated amplifier's output that the drop costs [%]."""
    drop_v = run.drop(run.chosen.offer, run.ampere)
    if drop_v is None:
        return None
    return 100 * drop_loss(drop_v=drop_v, supply_v=given["supply_v"])


def _needed(run: OneRun) -> float | None:
    return run.rules.required_mm2(ampere=run.ampere, length_m=run.length_m, total_a=run.ampere)


def _figures(given: Mapping[str, Any], run: OneRun) -> tuple[Figure, ...]:
    """Return the key figures that exist."""
    offer, kit = run.chosen.offer, run.kit
    rows = (
        ("Least cross-section", offer and offer.size.area_mm2, "mm²"),
        ("To buy", kit and kit.size.area_mm2, "mm²"),
        ("Main fuse, at the battery", run.chosen.fuse_a, "A"),
        ("Current at full power", run.demand.full_a, "A"),
        (f"Drop at {DUTY_WORDS[given['duty']]}", run.drop(offer, run.ampere), "V"),
        ("Drop at full power, cable to buy", run.drop(kit, run.demand.full_a), "V"),
        ("Needed for the drop alone", _needed(run), "mm²"),
        ("Output lost, unregulated", _loss(given, run), "%"),
    )
    return tuple(
        Figure(label, Quantity(value, unit)) for label, value, unit in rows if value is not None
    )


def check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    return (
        *check_regulated(given),
        *check_idle(given, given.get("total_power_w")),
        *check_own_fuses(given),
    )


POWER_CABLE = Calculator(
    name="power-cable",
    title="Power cable and fuse",
    question="How thick must the cable be, and which fuse goes with it?",
    fields=(total_power("250"), LENGTH_M, *DEMAND_FIELDS, *CABLE_FIELDS),
    groups=(
        (
            "The amplifiers",
            (
                "total_power_w",
                "efficiency_percent",
                "supply_v",
                "amplifier_class",
                "idle_w",
                "regulated_min_v",
                "amp_fuses_a",
                "maker_fuse_a",
            ),
        ),
        ("The run", ("length_m", "duty")),
        *CABLE_GROUPS,
    ),
    compute=power_cable,
    check=check,
)

"""The calculator `power-cable`: one run from the battery to one place."""

from collections.abc import Iterable, Mapping
from typing import Any

from calc.cabling.demand import DUTIES as DUTY_SHARES
from calc.cabling.demand import Demand, drop_loss
from calc.cabling.drawings import run_drawing
from calc.cabling.fields import (
    CABLE_CAUTIONS,
    CABLE_FIELDS,
    CABLE_GROUPS,
    CLAD,
    DEMAND_FIELDS,
    DUTIES,
    DUTY_WORDS,
    FUSES,
    LENGTH_M,
    MATERIAL_SHORT,
    NO_TABLE,
    PERMITTED,
    RESISTANCE,
    both_names,
    check_idle,
    check_own_fuses,
    check_regulated,
    demand_of,
    fuse_current,
    fuse_words,
    other_number,
    rules_of,
    total_power,
)
from calc.cabling.permitted import carries, largest_fuse
from calc.cabling.sizing import Offer, Rules, RunChoice, choose, total_drop
from calc.core.calculator import Calculator
from calc.core.errors import FieldError
from calc.core.figures import quantity, rounded
from calc.core.sheet import Column, Figure, Quantity, Sheet, Table, Verdict


def power_cable(given: Mapping[str, Any]) -> Sheet:
    """Compute `power-cable`: size, drop, fuse, and what decides."""
    rules = rules_of(given)
    demand = demand_of(given, given["total_power_w"])
    full = fuse_current(given, given["total_power_w"])
    ampere, length = demand.current(given["duty"]), given["length_m"]
    chosen = choose(rules, ampere=ampere, full_a=full, length_m=length)
    offer = chosen.offer

    def drop(current: float | None) -> float | None:
        if offer is None or current is None:
            return None
        return total_drop(rules, offer, ampere=current, length_m=length)

    drop_v, upper = drop(ampere), demand.upper_current(given["duty"])
    loss = None if drop_v is None else drop_loss(drop_v=drop_v, supply_v=given["supply_v"])
    own_fuses = given["amp_fuses_a"]
    needed = rules.required_mm2(ampere=ampere, length_m=length, total_a=ampere)
    return Sheet(
        sentence=_sentence(given, chosen, drop_v),
        verdict=_verdict(given, rules, chosen, drop_v, drop(upper), drop(demand.full_a), full),
        results={
            "current_a": ampere,
            "current_full_a": demand.full_a,
            "current_ab_a": upper,
            "current_fuse_a": full,
            "current_by_fuses_a": sum(own_fuses) if own_fuses else None,
            "required_mm2": needed,
            "size": None if offer is None else offer.size.name,
            "size_mm2": None if offer is None else offer.size.area_mm2,
            "size_by_drop": None if chosen.by_drop is None else chosen.by_drop.size.name,
            "drop_v": drop_v,
            "drop_full_v": drop(demand.full_a),
            "drop_ab_v": drop(upper),
            "permitted_a": None if offer is None else offer.permitted_a,
            "fuse_a": chosen.fuse_a,
            "limited_by": chosen.limited_by,
            "output_loss_percent": None if loss is None else 100 * loss,
        },
        figures=_figures(
            ("Cross-section offered", offer and offer.size.area_mm2, "mm²"),
            ("Fuse at the battery", chosen.fuse_a, "A"),
            (f"Drop at {DUTY_WORDS[given['duty']]}", drop_v, "V"),
            ("Current at full power", demand.full_a, "A"),
            ("Needed for the drop alone", needed, "mm²"),
            ("Output lost, unregulated", None if loss is None else 100 * loss, "%"),
        ),
        drawings=(run_drawing(given, chosen),),
        tables=(
            _sizes_table(given, rules, chosen, ampere, demand, full),
            _duties_table(given, rules, chosen, demand, full),
            *_estimates_table(given, rules, ampere, full),
        ),
        cautions=(
            *_fuse_caution(own_fuses, chosen, full),
            *((CLAD,) if given["material"] != "copper" else ()),
            *CABLE_CAUTIONS,
        ),
        steps=_steps(given, rules, demand, ampere, full, chosen),
        unknowns=(
            *(
                ("The class of the amplifier: class AB draws up to the bound shown.",)
                if upper is not None
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
        sources=(RESISTANCE, PERMITTED, FUSES, DUTIES),
    )


def _sentence(given: Mapping[str, Any], chosen: RunChoice, drop_v: float | None) -> str:
    over = f"{quantity(given['total_power_w'], 'W')} over {quantity(given['length_m'], 'm')}"
    if chosen.offer is None or drop_v is None:
        return f"No cable is offered for {over}."
    return (
        f"For {over} take {both_names(chosen.offer.size)} of {MATERIAL_SHORT[given['material']]} "
        f"with a fuse of {quantity(chosen.fuse_a, 'A')} at the battery; at "
        f"{DUTY_WORDS[given['duty']]} {quantity(drop_v, 'V', 3)} is lost on the way."
    )


def _verdict(
    given: Mapping[str, Any],
    rules: Rules,
    chosen: RunChoice,
    drop_v: float | None,
    drop_ab_v: float | None,
    drop_full_v: float | None,
    full: float,
) -> Verdict:
    offer, limit = chosen.offer, quantity(given["max_drop_v"], "V")
    if offer is None or drop_v is None:
        thickest = rules.offers[-1]
        if thickest.permitted_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict("unsuitable", _what_fails(given, rules, chosen, full))
    marked = quantity(given["insulation_c"], "°C")
    fits = (
        f"the fuse of {quantity(chosen.fuse_a, 'A')} protects a cable that may carry "
        f"{quantity(offer.permitted_a, 'A', 3)}, if it is marked {marked}"
    )
    own_fuses = sum(given["amp_fuses_a"] or ())
    if chosen.fuse_a is not None and own_fuses > chosen.fuse_a:
        return Verdict(
            "not known",
            f"the amplifier’s own fuses ({quantity(own_fuses, 'A')}) let it draw more than its "
            f"power asks for ({quantity(full, 'A', 3)}): its rated current is missing; {fits}.",
        )
    if drop_ab_v is not None and not rules.keeps(drop_ab_v):
        return Verdict(
            "not known",
            f"the class of the amplifier is missing: class AB would lose "
            f"{quantity(drop_ab_v, 'V', 3)} of {limit}; {fits}.",
        )
    thinnest = next(one for one in rules.offers if one.permitted_a is not None)
    why = {
        "drop": "the drop asks for this size",
        "heat": "the heat of full power asks for this size",
        "fuse": "the fuse asks for this size",
    }[chosen.limited_by]
    if offer is thinnest:
        why = "no thinner size is on offer"
    told = f"{quantity(drop_v, 'V', 3)} of {limit}"
    if drop_full_v is not None and not rules.keeps(drop_full_v):
        told += f" ({quantity(drop_full_v, 'V', 3)} at full power)"
    return Verdict("suitable", f"{told}; {fits}; {why}.")


def _what_fails(given: Mapping[str, Any], rules: Rules, chosen: RunChoice, full: float) -> str:
    """Say what stands in the way of every size, the current first."""
    thickest, against = rules.offers[-1], []
    largest = largest_fuse(thickest.permitted_a)
    if not carries(largest, full):
        against.append(
            f"{quantity(full, 'A', 3)} at full power: {thickest.size.words} may carry "
            f"{quantity(thickest.permitted_a, 'A', 3)}, and the largest fuse for it has "
            f"{fuse_words(largest)}; feed the amplifiers separately"
        )
    if chosen.by_drop is None:
        limit = quantity(given["max_drop_v"], "V")
        ampere = demand_of(given, given["total_power_w"]).current(given["duty"])
        needed = rules.required_mm2(ampere=ampere, length_m=given["length_m"], total_a=ampere)
        against.append(
            f"body and joints alone lose more than {limit}; improve them, or run a return cable"
            if needed is None
            else f"even {thickest.size.words} loses more than {limit}; shorten the run, permit "
            "more, or lay two cables with a fuse each"
        )
    return "; ".join(against) + "."


def _figures(*rows: tuple[str, float | None, str]) -> tuple[Figure, ...]:
    """Return the key figures that exist."""
    return tuple(
        Figure(label, Quantity(value, unit)) for label, value, unit in rows if value is not None
    )


def _judged(
    rules: Rules, one: Offer, ampere: float, full: float, length_m: float, fuse_a: float | None
) -> str:
    """Say in a word or two what speaks against a size."""
    against = []
    if not rules.keeps(total_drop(rules, one, ampere=ampere, length_m=length_m)):
        against.append("drop")
    if one.permitted_a is None:
        against.append("no table")
    elif not carries(one.permitted_a, full):
        against.append("heat")
    elif fuse_a is None or not carries(one.permitted_a, fuse_a):
        against.append("fuse")
    return ", ".join(against) or "fits"


def _sizes_table(
    given: Mapping[str, Any],
    rules: Rules,
    chosen: RunChoice,
    ampere: float,
    demand: Demand,
    full: float,
) -> Table:
    length = given["length_m"]
    fuse = chosen.fuse_a or choose(
        rules, ampere=0.0, full_a=full, length_m=length
    ).fuse_a  # fmt: skip
    rows = [
        (
            one.size.words,
            other_number(one.size),
            _judged(rules, one, ampere, full, length, fuse),
            Quantity(total_drop(rules, one, ampere=ampere, length_m=length)),
            Quantity(total_drop(rules, one, ampere=demand.full_a, length_m=length)),
            Quantity(one.permitted_a),
            Quantity(largest_fuse(one.permitted_a)),
            Quantity(1000 * one.ohm_per_m),
        )
        for one in rules.offers
    ]
    return Table(
        caption=f"Every size over {quantity(length, 'm')}: the drop, and what it may carry",
        columns=(
            Column("Size"),
            Column("Or", "AWG" if given["sizes"] == "metric" else "mm²"),
            Column("Fit"),
            Column(f"Drop, {DUTY_WORDS[given['duty']]}", "V", decimals=2),
            Column("Drop, full power", "V", decimals=2),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
            Column("Resistance", "mΩ/m"),
        ),
        rows=tuple(rows),
        marked=None if chosen.offer is None else rules.offers.index(chosen.offer),
        note=f"Resistance at {quantity(given['conductor_c'], '°C')}. Metric sizes carry what lies "
        "between the table’s gauges (interpolated).",
    )


def _duties_table(
    given: Mapping[str, Any], rules: Rules, chosen: RunChoice, demand: Demand, full: float
) -> Table:
    unknown = given["amplifier_class"] is None
    missing = "none" if rules.offers[-1].permitted_a is not None else "not known"
    rows = []
    for duty in DUTY_SHARES:
        ampere = demand.current(duty)
        own = choose(rules, ampere=ampere, full_a=full, length_m=given["length_m"])
        drop = loss = None
        if chosen.offer is not None:
            drop = total_drop(rules, chosen.offer, ampere=ampere, length_m=given["length_m"])
            loss = 100 * drop_loss(drop_v=drop, supply_v=given["supply_v"])
        rows.append(
            (
                DUTY_WORDS[duty],
                Quantity(ampere),
                *((Quantity(demand.most_current(duty)),) if unknown else ()),
                Quantity(drop),
                Quantity(loss),
                Quantity(demand.most_heat_w(duty)),
                own.offer.size.words if own.offer else missing,
            )
        )
    return Table(
        caption="At three duties: current, drop with the cable offered, heat, and the size for it",
        columns=(
            Column("Duty"),
            Column("Current", "A"),
            *((Column("Class AB, at most", "A"),) if unknown else ()),
            Column("Drop", "V", decimals=2),
            Column("Output lost", "%"),
            Column("Heat in the amplifier, at most", "W"),
            Column("Size for this duty"),
        ),
        rows=tuple(rows),
        marked=list(DUTY_SHARES).index(given["duty"]),
        note="For test tones, or compressed music near clipping, size for full power.",
    )


def _estimates_table(
    given: Mapping[str, Any], rules: Rules, ampere: float, full: float
) -> tuple[Table, ...]:
    """Return what follows from the power beside what follows from the amplifier's fuses."""
    if not given["amp_fuses_a"]:
        return ()
    rows = []
    for words, current in (
        ("from the power", full),
        ("from the amplifier’s own fuses", sum(given["amp_fuses_a"])),
    ):
        found = choose(rules, ampere=ampere, full_a=current, length_m=given["length_m"])
        size = found.offer.size.words if found.offer else "none"
        rows.append((words, Quantity(current), fuse_words(found.fuse_a), size))
    return (
        Table(
            caption="Two estimates of the full current, and what each asks for",
            columns=(
                Column("Estimate"),
                Column("Current", "A"),
                Column("Fuse"),
                Column("Size"),
            ),
            rows=tuple(rows),
            marked=0,
        ),
    )


def _fuse_caution(
    own_fuses: tuple[float, ...] | None, chosen: RunChoice, full: float
) -> tuple[str, ...]:
    if not own_fuses:
        return ()
    total = sum(own_fuses)
    if chosen.fuse_a is not None and total > chosen.fuse_a:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, more than the "
            f"{quantity(chosen.fuse_a, 'A')} at the battery: it may draw more than its power "
            "rating says. Ask for the rated current, and take the cable for that. Never fit a "
            "larger fuse to this cable than it may carry.",
        )
    if total < full:
        return (
            f"The amplifier’s own fuses come to {quantity(total, 'A')}, less than the "
            f"{quantity(full, 'A', 3)} that full power asks for: they do not bear that for long, "
            "as with a test tone; music takes less.",
        )
    return ()


def _steps(
    given: Mapping[str, Any],
    rules: Rules,
    demand: Demand,
    ampere: float,
    full: float,
    chosen: RunChoice,
) -> tuple[str, ...]:
    volt = given["regulated_min_v"] or given["supply_v"]
    steps = [
        f"Full power: {quantity(given['total_power_w'], 'W')} ÷ "
        f"({rounded(given['efficiency_percent'])} % × {quantity(given['supply_v'], 'V')}) = "
        f"{quantity(demand.full_a)} A. For fuse and heat, at {quantity(volt, 'V')}: "
        f"{quantity(full, 'A')}.",
        f"At {DUTY_WORDS[given['duty']]} the drop is reckoned with {quantity(ampere, 'A')}.",
    ]
    if chosen.offer is not None:
        way = "out and back" if given["return"] == "cable" else "one way"
        own = rules.run_drop(chosen.offer, ampere=ampere, length_m=given["length_m"])
        steps += [
            f"Drop: {quantity(ampere, 'A')} × {quantity(1000 * chosen.offer.ohm_per_m, 'mΩ/m')} × "
            f"{quantity(given['length_m'], 'm')} ({way}), joints included = {quantity(own, 'V')}; "
            f"the body adds {quantity(rules.body_drop(ampere), 'V')}.",
            f"Fuse: the smallest listed rating that carries {quantity(full, 'A')} is "
            f"{quantity(chosen.fuse_a, 'A')}; the cable may carry "
            f"{quantity(chosen.offer.permitted_a, 'A')}.",
        ]
    return (
        *steps,
        "Size: the smallest whose drop is within the limit; where it may not carry the full "
        "current, or no listed fuse lies between the two, the next ones up.",
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
            ),
        ),
        ("The run", ("length_m", "duty")),
        *CABLE_GROUPS,
    ),
    compute=power_cable,
    check=check,
)

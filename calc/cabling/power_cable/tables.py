"""The tables of the calculator `power-cable`: every size, the three duties, two estimates."""

from calc.answers.figures import quantity
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.cabling.power_cable.inputs import Inputs
from calc.cabling.power_cable.solve import Result
from calc.cabling.sizing import Offer, choose, total_drop
from calc.cabling.words import DUTY_WORDS, fuse_words, other_number, place_words
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES
from calc.physics.amplifier_draw import Duty
from calc.physics.permitted_current import carries, largest_fuse


def _judged(result: Result, offer: Offer) -> str:
    """Say in a word or two what speaks against a size."""
    against, fuse_a = [], result.fuse.rating_a
    drop = total_drop(result.rules, offer, ampere=result.ampere, length_m=result.length_m)
    if not result.rules.keeps(drop):
        against.append("drop")
    if offer.permitted_a is None:
        against.append("no rating")
    elif not carries(offer.permitted_a, result.full_a):
        against.append("heat")
    elif fuse_a is None or not carries(offer.permitted_a, fuse_a):
        against.append("fuse")
    return ", ".join(against) or "OK"


def sizes_table(inputs: Inputs, result: Result) -> Table:
    """Return every size with its drop and its current rating."""
    rules, demand, length = result.rules, result.demand, result.length_m
    beside: Duty = "heavy" if inputs.duty == "full" else "full"
    rows: list[tuple[Cell, ...]] = [
        (
            offer.size.words,
            other_number(offer.size),
            _judged(result, offer),
            Quantity(total_drop(rules, offer, ampere=result.ampere, length_m=length)),
            Quantity(total_drop(rules, offer, ampere=demand.current(beside), length_m=length)),
            Quantity(offer.permitted_a),
            Quantity(largest_fuse(offer.permitted_a)),
        )
        for offer in rules.offers
    ]
    return Table(
        name="sizes",
        caption=f"Cable sizes over {quantity(length, 'm')}: voltage drop and current rating",
        columns=(
            Column("Size"),
            Column("Near to", "AWG" if inputs.cable.sizes == "metric" else "mm²"),
            Column("Result"),
            Column(f"Drop, {DUTY_WORDS[inputs.duty]}", "V", decimals=2),
            Column(f"Drop, {DUTY_WORDS[beside]}", "V", decimals=2),
            Column("Current rating", "A"),
            Column("Largest fuse", "A"),
        ),
        rows=tuple(rows),
        marked=None if result.chosen.offer is None else rules.offers.index(result.chosen.offer),
        note=f"Current rating {place_words(inputs.cable)}. Ratings of metric sizes are our "
        "interpolation between AWG sizes. Result: what rules a size out.",
    )


def duties_table(inputs: Inputs, result: Result) -> Table:
    """Return current, drop, heat and size at full power and at music's two duties."""
    unknown, demand = inputs.draw.amplifier_class is None, result.demand
    missing = "none" if result.rules.widest_a is not None else "not known"
    rows: list[tuple[Cell, ...]] = []
    for duty in DUTY_SHARES:
        ampere = demand.current(duty)
        offer = result.for_current(ampere).offer
        drop_v = result.drop(result.chosen.offer, ampere)
        rows.append(
            (
                DUTY_WORDS[duty],
                Quantity(ampere),
                *((Quantity(demand.most_current(duty)),) if unknown else ()),
                Quantity(drop_v),
                Quantity(result.loss_percent(drop_v)),
                Quantity(demand.most_heat_w(duty)),
                offer.size.words if offer else missing,
            )
        )
    return Table(
        name="duties",
        aside=True,
        caption="How hard it is played: drop in the minimum size, heat in the amplifier",
        columns=(
            Column("Played at"),
            Column("Current", "A"),
            *((Column("Class AB, up to", "A"),) if unknown else ()),
            Column("Drop", "V", decimals=2),
            Column("Power lost", "%"),
            Column("Heat, up to", "W"),
            Column("Minimum size"),
        ),
        rows=tuple(rows),
        marked=list(DUTY_SHARES).index(inputs.duty),
        note="The trade sizes cable for full power. Test tones and compressed music near clipping "
        "come close to it.",
    )


def estimates_table(inputs: Inputs, result: Result) -> tuple[Table, ...]:
    """Return what follows from the power beside what follows from the amplifier's fuses."""
    by_fuses_a = inputs.draw.by_fuses_a
    if by_fuses_a is None:
        return ()
    rows: list[tuple[Cell, ...]] = []
    for words, current in (
        ("from the RMS power", result.full_a),
        ("from the amplifier’s own fuses", by_fuses_a),
    ):
        choice = choose(
            result.rules, ampere=result.ampere, full_a=current, length_m=result.length_m
        )
        size = choice.offer.size.words if choice.offer else "none"
        rows.append((words, Quantity(current), fuse_words(choice.fuse_a), size))
    return (
        Table(
            name="estimates",
            caption="Full current, estimated two ways",
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

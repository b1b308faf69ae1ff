"""Tables of this chapter's running text."""

from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.cabling.sizing import Rules, choose
from calc.cabling.words import DUTY_WORDS
from calc.physics.amplifier_draw import DUTIES, Demand
from calc.physics.conductors import (
    AWG_SIZES,
    METRIC_SIZES,
    SIZES,
    Material,
    Size,
    awg_diameter_mm,
    metric_size,
    nearest_awg,
)
from calc.physics.permitted_current import FUSES_A, carries, largest_fuse, permitted_current
from calc.physics.speaker_leads import longest_lead_m

_EFFICIENCY, _SUPPLY_V, _LEAD_LOSS_DB = 0.6, 14.4, 0.5
_SHOWN_FUSES_A = (10.0, 400.0)  # smaller ones go with any cable here, larger ones with none


def _carrying(size: Size) -> tuple[Quantity, ...]:
    """Return a size's current rating, its largest fuse, and its largest from an engine bay."""
    may_carry = permitted_current(size)
    from_engine = permitted_current(size, engine_space=True)
    return (
        Quantity(may_carry),
        Quantity(largest_fuse(may_carry)),
        Quantity(largest_fuse(from_engine)),
    )


def metric_sizes() -> Table:
    """Metric sizes: resistance, current rating, largest fuse, in copper."""
    return Table(
        sources=("metric-resistance", "current-ratings"),
        caption="Copper cable in mm²",
        columns=(
            Column("Size", "mm²"),
            Column("Resistance at 20 °C", "mΩ/m"),
            Column("Nearest", "AWG"),
            Column("Current rating", "A"),
            Column("Largest fuse", "A"),
            Column("Largest fuse, engine bay", "A"),
        ),
        rows=tuple(
            (
                Quantity(size.area_mm2),
                Quantity(1000 * size.copper_ohm_per_m),
                nearest_awg(area_mm2=size.area_mm2) or "–",
                *_carrying(size),
            )
            for size in METRIC_SIZES
        ),
        note="Resistance: the highest that the standard allows. Current ratings: our interpolation "
        "between the AWG sizes, 105 °C insulation in 30 °C air. Engine bay: 50 °C.",
    )


def awg_sizes() -> Table:
    """The AWG sizes on offer: geometry, resistance, current rating, largest fuse, in copper."""
    return Table(
        sources=("awg", "copper", "current-ratings"),
        caption="Copper cable in AWG",
        columns=(
            Column("Size", "AWG"),
            Column("Diameter, solid", "mm"),
            Column("Area", "mm²"),
            Column("Resistance at 20 °C", "mΩ/m"),
            Column("Current rating", "A"),
            Column("Largest fuse", "A"),
            Column("Largest fuse, engine bay", "A"),
        ),
        rows=tuple(
            (
                size.name.removesuffix(" AWG"),
                Quantity(awg_diameter_mm(size.name.removesuffix(" AWG"))),
                Quantity(size.area_mm2),
                Quantity(1000 * size.copper_ohm_per_m),
                *_carrying(size),
            )
            for size in AWG_SIZES
        ),
        note="Current ratings: 33 CFR 183.425, table 5 (boats), 105 °C insulation in 30 °C air. "
        "Engine bay: 50 °C.",
    )


def fuse_ratings() -> Table:
    """Each listed fuse with the thinnest cables that it protects."""
    rows: list[tuple[Cell, ...]] = []
    for rating in FUSES_A:
        if not _SHOWN_FUSES_A[0] <= rating <= _SHOWN_FUSES_A[1]:
            continue
        names = []
        for system in SIZES:
            offers = Rules(sizes=system).offers
            fitting = [offer.size.words for offer in offers if carries(offer.permitted_a, rating)]
            names.append(fitting[0] if fitting else "none")
        rows.append((Quantity(rating), *names))
    return Table(
        sources=("fuse-ratings", "current-ratings", "fuse-size-boats"),
        caption="The thinnest copper cable for each fuse",
        columns=(Column("Fuse", "A"), Column("Metric"), Column("AWG")),
        rows=tuple(rows),
        note="105 °C insulation, 30 °C air, laid alone. The voltage drop can need more. Nothing "
        "thinner than 16 AWG or 1.5 mm² is used for power.",
    )


def duty_currents() -> Table:
    """What amplifiers draw, by class and by how hard they are played."""
    rows = []
    for power in (100.0, 200.0, 400.0, 600.0, 1000.0):
        ab = Demand(power_w=power, efficiency=_EFFICIENCY, supply_v=_SUPPLY_V, amplifier_class="ab")
        d = Demand(power_w=power, efficiency=0.8, supply_v=_SUPPLY_V, amplifier_class="d")
        rows.append(
            (
                Quantity(power),
                *(Quantity(ab.current(duty)) for duty in DUTIES),
                *(Quantity(d.current(duty)) for duty in DUTIES),
            )
        )
    return Table(
        sources=("efficiency", "loud-music", "normal-listening"),
        caption=f"Current at {quantity(_SUPPLY_V, 'V')}: class AB at 60 % efficiency, class D at "
        "80 %",
        columns=(
            Column("Power", "W"),
            *(Column(f"AB, {DUTY_WORDS[duty]}", "A") for duty in DUTIES),
            *(Column(f"D, {DUTY_WORDS[duty]}", "A") for duty in DUTIES),
        ),
        rows=tuple(rows),
    )


def cost_of_cladding() -> Table:
    """The same job in copper and in copper-clad aluminium."""
    metals: tuple[Material, ...] = ("copper", "cca15", "cca10")
    rows: list[tuple[Cell, ...]] = []
    for power in (200.0, 400.0, 600.0, 1000.0):
        demand = Demand(power_w=power, efficiency=_EFFICIENCY, supply_v=_SUPPLY_V)
        cells = []
        for material in metals:
            choice = choose(
                Rules(material=material),
                ampere=demand.current("full"),
                full_a=demand.full_a,
                length_m=5.0,
            )
            cells.append(choice.offer.size.words if choice.offer else "none")
        rows.append((Quantity(power), *cells))
    return Table(
        sources=("cca", "half-volt", "body-resistance"),
        caption="Minimum size over 5 m for a 0.5 V drop at full power, by metal",
        columns=(
            Column("Power", "W"),
            Column("Copper"),
            Column("CCA, 15 %"),
            Column("CCA, 10 %"),
        ),
        rows=tuple(rows),
        note="Efficiency 60 %, 14.4 V, return through a vehicle body of 2 mΩ.",
    )


def speaker_lengths() -> Table:
    """How long a lead to 4 Ω may be for half a decibel, by size."""
    rows = []
    for area in (0.75, 1.0, 1.5, 2.5, 4.0):
        size = metric_size(area)
        lengths = []
        for load in (2.0, 4.0, 8.0):
            longest = longest_lead_m(
                load_ohm=load, ohm_per_m=size.copper_ohm_per_m, loss_db=_LEAD_LOSS_DB
            )
            lengths.append(Quantity(longest))
        rows.append((Quantity(area), *lengths))
    return Table(
        sources=("half-decibel", "metric-resistance"),
        caption="Longest speaker cable, one way, for a 0.5 dB loss",
        columns=(
            Column("Size", "mm²"),
            *(Column(f"{rounded(load)} Ω", "m", decimals=1) for load in (2.0, 4.0, 8.0)),
        ),
        rows=tuple(rows),
        note="Copper at 20 °C.",
    )

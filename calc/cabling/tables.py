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
    """Return what a size may carry, its largest fuse, and its largest from an engine space."""
    may_carry = permitted_current(size)
    from_engine = permitted_current(size, engine_space=True)
    return (
        Quantity(may_carry),
        Quantity(largest_fuse(may_carry)),
        Quantity(largest_fuse(from_engine)),
    )


def metric_sizes() -> Table:
    """Metric sizes: resistance, permitted current, largest fuse, in copper."""
    return Table(
        caption="Metric sizes, copper",
        columns=(
            Column("Size", "mm²"),
            Column("Resistance at 20 °C", "mΩ/m"),
            Column("About", "AWG"),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
            Column("From an engine space", "A"),
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
        note="Resistance: highest value of IEC 60228, class 5. May carry: interpolated between the "
        "gauges of 33 CFR 183.425. “From an engine space” is the largest fuse there.",
    )


def awg_sizes() -> Table:
    """The gauges on offer: geometry, resistance, permitted current, largest fuse, in copper."""
    return Table(
        caption="Gauges, copper",
        columns=(
            Column("Gauge", "AWG"),
            Column("Solid wire’s diameter", "mm"),
            Column("Area", "mm²"),
            Column("Resistance at 20 °C", "mΩ/m"),
            Column("May carry", "A"),
            Column("Largest fuse", "A"),
            Column("From an engine space", "A"),
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
        note="Geometry: ASTM B258. Resistance: ρ/s × 1.02. May carry: 33 CFR 183.425 table 5 "
        "(ABYC E-11). “From an engine space” is the largest fuse there.",
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
        caption="The thinnest copper cable that each fuse protects",
        columns=(Column("Fuse", "A"), Column("Metric"), Column("Gauge")),
        rows=tuple(rows),
        note="Ratings: ISO 8820 (from memory). Insulation for 105 °C, air of 30 °C, laid alone. "
        "The size must suit the drop as well; no power conductor has less than 16 AWG or 1.5 mm² "
        "(33 CFR 183.425 (e)).",
    )


def duty_currents() -> Table:
    """What amplifiers draw at the three duties, by class."""
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
        caption=f"Current at {quantity(_SUPPLY_V, 'V')}: class AB with 60 %, class D with 80 %",
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
        caption="Over 5 m with at most 0.5 V lost at full power: size in three conductors",
        columns=(
            Column("Power", "W"),
            Column("Copper"),
            Column("Copper-clad, 15 %"),
            Column("Copper-clad, 10 %"),
        ),
        rows=tuple(rows),
        note="Efficiency 60 %, 14.4 V, return through a body of 2 mΩ.",
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
        caption="Longest lead, one way, that loses at most 0.5 dB",
        columns=(
            Column("Size", "mm²"),
            *(Column(f"{rounded(load)} Ω", "m", decimals=1) for load in (2.0, 4.0, 8.0)),
        ),
        rows=tuple(rows),
        note="Copper at 20 °C.",
    )

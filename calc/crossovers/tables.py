"""Reference tables of the crossover chapter; each takes texts, as fences give them."""

import math

from calc.answers.figures import quantity
from calc.answers.sheet import Cell, Column, Quantity, Table
from calc.crossovers.filter_words import slope_words
from calc.parts.filters import FAMILY_WORDS
from calc.physics.delays import flight_s, sound_speed
from calc.physics.filter_sums import Voice, grid_hz, ripple_db, sum_db, summing_rule
from calc.physics.filters import FAMILIES, KINDS, Family, Filter, Kind, has_order, level_db
from calc.physics.ladder import MOST_PASSIVE_ORDER, components

# Common practice, no source: the cone and half of its surround move, some 0.8 of the nominal size.
EFFECTIVE = 0.8
SIZES_MM = (25, 50, 75, 100, 130, 165, 200, 250, 300)
RESONANCES_HZ = (500, 700, 900, 1100, 1400, 1800)
# Common practice, no source: least corner over the tweeter's resonance, by order.
PROTECTION = {2: 2.0, 4: 1.5}
DISTANCES_M = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0)
AIRS_C = (-10, 0, 20, 40)
LOADS_OHM = (2.0, 4.0, 8.0)
CORNERS_HZ = (80, 100, 250, 500, 1000, 2000, 2500, 3150, 4000, 5000, 6300)
_OCTAVES = (-3, -2, -1, 0, 1, 2, 3)


def corner_by_size() -> Table:
    """Return from which frequency a speaker beams, by its size."""
    speed = sound_speed(air_c=20)
    rows = []
    for size in SIZES_MM:
        around_m = math.pi * EFFECTIVE * size / 1000
        rows.append(
            (
                size,
                Quantity(EFFECTIVE * size),
                Quantity(round(speed / around_m, -1)),
                Quantity(round(2 * speed / around_m, -1)),
            )
        )
    return Table(
        sources=("cone-size", "speed-of-sound"),
        caption="Where a speaker begins to beam, by its size",
        columns=(
            Column("Nominal size", "mm"),
            Column("Moving part", "mm"),
            Column("Plays all round up to", "Hz"),
            Column("Beams clearly from", "Hz"),
        ),
        rows=tuple(rows),
        note="Where one wavelength, and half of it, goes once round the moving part, which is "
        "taken "
        "as 0.8 of the nominal size (20 °C). Door speakers are used above this and sound duller to "
        "the side; go by the highest usable frequency on the spec sheet.",
    )


def corner_by_resonance() -> Table:
    """Return the least corner for a tweeter, by its resonance."""
    return Table(
        sources=("tweeter-margin",),
        caption="Lowest crossover for a tweeter, by its resonance",
        columns=(
            Column("Resonance on the spec sheet", "Hz"),
            *(Column(f"Lowest at {slope_words(order)}", "Hz") for order in PROTECTION),
        ),
        rows=tuple(
            (hz, *(Quantity(hz * factor) for factor in PROTECTION.values())) for hz in RESONANCES_HZ
        ),
        note="2 × and 1.5 × the resonance. If the maker gives a higher frequency, use that.",
    )


def octave_levels() -> Table:
    """Return levels of a low-pass at whole octaves from its corner."""
    kinds: tuple[tuple[Family, int], ...] = (
        ("butterworth", 1), ("butterworth", 2), ("linkwitz-riley", 2), ("butterworth", 3),
        ("butterworth", 4), ("linkwitz-riley", 4), ("bessel", 4), ("linkwitz-riley", 8),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for family, order in kinds:
        made = Filter(kind="low-pass", family=family, order=order, frequency_hz=1000)
        levels = (Quantity(level_db(made.response(1000 * 2.0**octave))) for octave in _OCTAVES)
        rows.append((f"{FAMILY_WORDS[family]} {order}", 6 * order, *levels))
    return Table(
        sources=("filter-types",),
        caption="How far down a low-pass is, octave by octave",
        columns=(
            Column("Filter type and order"),
            Column("Slope", "dB/oct"),
            *(Column(_octave_words(octave), "dB", decimals=1) for octave in _OCTAVES),
        ),
        rows=tuple(rows),
        note="For a high-pass, read the columns from right to left.",
    )


def _octave_words(octave: int) -> str:
    if octave == 0:
        return "At the cut-off"
    side = "above" if octave > 0 else "below"
    return f"{abs(octave)} oct {side}"


def summing_rules() -> Table:
    """Return which polarity like filters at one corner need, and how well they then sum."""
    rows: list[tuple[Cell, ...]] = []
    for family in FAMILIES:
        for order in range(1, 9):
            if not has_order(family, order) or (family == "bessel" and order > 4):
                continue
            rows.append(_summing_row(family, order))
    return Table(
        sources=("filter-types", "like-sums"),
        caption="Two filters alike at one frequency: which polarity, and what comes of it",
        columns=(
            Column("Filter type and order"),
            Column("Polarity of one side"),
            Column("Sum at the crossover", "dB", decimals=2),
            Column("Ripple", "dB", decimals=2),
            Column("The other way round"),
        ),
        rows=tuple(rows),
        note="At 1000 Hz, from 20 Hz to 20 kHz; filters only, without the speakers’ own response.",
    )


def _summing_row(family: Family, order: int) -> tuple[Cell, ...]:
    sides: tuple[Kind, ...] = ("low-pass", "high-pass")
    low, high = (
        Voice(filters=(Filter(kind=side, family=family, order=order, frequency_hz=1000),))
        for side in sides
    )
    grid = grid_hz(1000.0)
    normal, turned = ripple_db([low, high], grid), ripple_db([low, high.turned()], grid)
    rule = summing_rule(family, order)
    reverse = rule[0] if rule else _is_less(turned, normal)
    shown = high.turned() if reverse else high
    best, other = (turned, normal) if reverse else (normal, turned)
    word = "reversed" if reverse else "normal"
    if best is not None and other is not None and abs(best - other) < 0.01:
        word = "either"
    return (
        f"{FAMILY_WORDS[family]} {order}",
        word,
        Quantity(sum_db([low.response(1000), shown.response(1000)])),
        Quantity(best),
        "a hole at the crossover"
        if other is None
        else f"{quantity(round(other, 2), 'dB')} of ripple",
    )


def _is_less(ripple: float | None, other: float | None) -> bool:
    return ripple is not None and (other is None or ripple < other)


def part_values(side: str = "high-pass", family: str = "butterworth", order: str = "2") -> Table:
    """Return exact part values for usual corners at 2, 4 and 8 Ω."""
    if side not in KINDS or family not in FAMILY_WORDS:
        raise ValueError("a side is high-pass or low-pass, a family one of the three")
    number = int(order)
    if number > MOST_PASSIVE_ORDER or not has_order(family, number):
        raise ValueError("no such order for a passive crossover")
    rows: list[tuple[Cell, ...]] = []
    columns = [Column("Crossover", "Hz")]
    for corner in CORNERS_HZ:
        cells: list[Cell] = [corner]
        for ohm in LOADS_OHM:
            parts = components(kind=side, family=family, order=number, frequency_hz=corner, ohm=ohm)
            for part in parts:
                is_coil = part.part == "inductor"
                cells.append(Quantity(float(f"{part.value * (1e3 if is_coil else 1e6):.3g}")))
                if corner == CORNERS_HZ[0]:
                    place = "in series" if part.place == "series" else "across"
                    name = f"{quantity(ohm, 'Ω')}: {'inductor' if is_coil else 'capacitor'} {place}"
                    columns.append(Column(name, "mH" if is_coil else "µF"))
        rows.append(tuple(cells))
    return Table(
        sources=("filter-types",),
        caption=f"Parts of a {FAMILY_WORDS[family]} {side}, {slope_words(number)}: exact values",
        columns=tuple(columns),
        rows=tuple(rows),
    )


def delay_by_distance() -> Table:
    """Return the time of sound over a distance, by the air's temperature."""
    return Table(
        sources=("speed-of-sound",),
        caption="Travel time of sound, by distance and temperature",
        columns=(
            Column("Distance", "m"),
            *(Column(f"At {quantity(air, '°C')}", "ms", decimals=2) for air in AIRS_C),
            Column("Phase shift at 80 Hz, 20 °C", "°", decimals=0),
        ),
        rows=tuple(
            (
                Quantity(distance),
                *(Quantity(1000 * flight_s(distance_m=distance, air_c=air)) for air in AIRS_C),
                Quantity(360 * 80 * flight_s(distance_m=distance, air_c=20)),
            )
            for distance in DISTANCES_M
        ),
    )


def filter_readings(first_v: str = "10") -> Table:
    """Return what a meter reads behind a filter: at its cut-off, and an octave outside.

    first_v : what it reads with the filter off [V]
    """
    volts = float(first_v)
    if volts <= 0:
        raise ValueError("a reading is above 0 V")
    families: tuple[Family, ...] = ("butterworth", "linkwitz-riley")
    rows: list[tuple[Cell, ...]] = []
    for order in (2, 4):
        for family in families:
            made = Filter(kind="low-pass", family=family, order=order, frequency_hz=1000)
            readings = (abs(made.response(hz)) * volts for hz in (1000, 2000))
            rows.append((FAMILY_WORDS[family], 6 * order, *map(Quantity, readings)))
    return Table(
        sources=("filter-types",),
        caption=f"What the meter should read, if it read {quantity(volts, 'V')} with the filter "
        "off",
        columns=(
            Column("Filter type"),
            Column("Slope", "dB/oct"),
            Column("At the cut-off", "V", decimals=1),
            Column("One octave outside", "V", decimals=1),
        ),
        rows=tuple(rows),
        note="Outside is below a high-pass and above a low-pass.",
    )

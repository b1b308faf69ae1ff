"""What a cable may carry, and which fuse protects it.

The table is a rule for boats, public and in sizes of this kind; the vehicle maker's rule
wins where there is one.
"""

import math
from collections.abc import Iterable
from itertools import pairwise

from calc.physics import published
from calc.physics.conductors import (
    RESISTIVITY_RATIO,
    Material,
    Size,
    awg_area_mm2,
)

_TABLES = "permitted-currents"
# 33 CFR 183.425 table 5, reprinted as ABYC E-11: a single copper conductor with insulation
# for 105 °C in air of 30 °C.
PERMITTED_A = published.by_text(_TABLES, "single_conductors")
INSULATION_C = published.figure(_TABLES, "single_conductors", "insulation_c")
ENGINE_SPACE = published.figure(_TABLES, "engine_space", "factor")  # the same table
# The air that the table and its factor are for.
TABLE_AIR_C, ENGINE_AIR_C = published.figure(_TABLES, "single_conductors", "ambient_c"), 50.0
# Current-carrying conductors in one bundle, up to so many: the same table's factors.
BUNDLE_FACTORS = (
    (2, 1.0),
    *((int(most), factor) for most, factor in published.by_last(_TABLES, "bundles")),
)
MOST_IN_BUNDLE = BUNDLE_FACTORS[-1][0]

# Ratings of blade and bolt-in links: ISO 8820 (from memory).
FUSES_A = published.figures(_TABLES, "fuses", "ratings_a")

_ROWS = tuple((awg_area_mm2(awg), ampere) for awg, ampere in PERMITTED_A.items())
# A current that equals a rating but for the last bits of a division is that rating.
_LAST_BITS = 1 + 1e-9


def table_current(area_mm2: float) -> float | None:
    """Return the table's current for a copper cross-section [A]; None outside the table.

    Between the table's rows: a straight line of log current over log cross-section.

    >>> table_current(awg_area_mm2("4")), round(table_current(16)), table_current(0.75)
    (160.0, 135, None)
    """
    for (thin, low), (thick, high) in pairwise(_ROWS):
        if math.isclose(area_mm2, thin):
            return float(low)
        if math.isclose(area_mm2, thick):
            return float(high)
        if thin < area_mm2 < thick:
            part = math.log(area_mm2 / thin) / math.log(thick / thin)
            return float(low * (high / low) ** part)
    return None


def bundle_factor(conductors: int) -> float:
    """Return the factor for so many current-carrying conductors together.

    Raises ValueError for more than the table has.

    >>> bundle_factor(1), bundle_factor(3), bundle_factor(5), bundle_factor(24)
    (1.0, 0.7, 0.6, 0.5)
    """
    for most, factor in BUNDLE_FACTORS:
        if 1 <= conductors <= most:
            return factor
    raise ValueError(f"the table holds for bundles of 1 to {MOST_IN_BUNDLE} conductors")


def material_factor(material: Material) -> float:
    """Return what copper-clad aluminium carries against copper, √(ρ_Cu/ρ): derived.

    The same heat per metre, I²·ρ/s, at the same size.

    >>> round(material_factor("cca10"), 2), round(material_factor("cca15"), 2)
    (0.79, 0.8)
    """
    return math.sqrt(1 / RESISTIVITY_RATIO[material])


def engine_factor(air_c: float) -> float:
    """Return what a cable may carry in an engine space's air against air of 30 °C.

    air_c : the air where the cable begins [°C], from 30 to below 105

    √((105 − T)/75): the heat that takes the conductor to 105 °C falls with the distance to it
    (derived); from 50 °C on never more than the table's own factor.

    Raises ValueError outside this range.

    Source: 33 CFR 183.425 table 5 for 50 °C.

    >>> [round(engine_factor(air), 2) for air in (30, 40, 50, 70, 85)]
    [1.0, 0.93, 0.85, 0.68, 0.52]
    """
    if not TABLE_AIR_C <= air_c < INSULATION_C:
        raise ValueError("the air has 30 °C or more, and less than the insulation is made for")
    derived = math.sqrt((INSULATION_C - air_c) / (INSULATION_C - TABLE_AIR_C))
    return min(derived, ENGINE_SPACE) if air_c >= ENGINE_AIR_C else derived


def permitted_current(
    size: Size,
    *,
    material: Material = "copper",
    insulation_c: float | None = INSULATION_C,
    engine_space: bool = False,
    engine_c: float = ENGINE_AIR_C,
    bundle: int = 1,
) -> float | None:
    """Return the current that a cable may carry for good [A]; None where no table says.

    size, material : the cable
    insulation_c : temperature its insulation is made for [°C]; only 105 has a table
    engine_space : it runs, or begins, in an engine space
    engine_c : the air there [°C]
    bundle : current-carrying conductors together, itself included

    Source: 33 CFR 183.425 table 5 (ABYC E-11); copper-clad aluminium derived.

    >>> from calc.physics.conductors import awg_size
    >>> round(permitted_current(awg_size("4"), engine_space=True, bundle=3), 3)
    95.2
    """
    if insulation_c is None or not math.isclose(insulation_c, INSULATION_C):
        return None
    ampere = table_current(size.area_mm2)
    if ampere is None:
        return None
    place = engine_factor(engine_c) if engine_space else 1.0
    return ampere * material_factor(material) * place * bundle_factor(bundle)


def carries(permitted_a: float | None, ampere: float) -> bool:
    """Tell whether a permitted current is known and covers a current or a fuse [A].

    >>> carries(60.0, 60.0), carries(60.0, 61.0), carries(None, 1.0)
    (True, False, False)
    """
    return permitted_a is not None and ampere <= permitted_a * _LAST_BITS


def smallest_fuse(ampere: float, ratings: Iterable[float] = FUSES_A) -> float | None:
    """Return the smallest listed fuse that carries a current [A]; None beyond the list.

    Source of the ratings: ISO 8820 (from memory).

    >>> smallest_fuse(28.9), smallest_fuse(60.0), smallest_fuse(501.0)
    (30.0, 60.0, None)
    """
    return next((rating for rating in ratings if ampere <= rating * _LAST_BITS), None)


def largest_fuse(permitted_a: float | None) -> float | None:
    """Return the largest listed fuse that protects a cable [A]; None where none does.

    >>> largest_fuse(95.2), largest_fuse(0.5), largest_fuse(None)
    (80.0, None, None)
    """
    fitting = [rating for rating in FUSES_A if carries(permitted_a, rating)]
    return fitting[-1] if fitting else None

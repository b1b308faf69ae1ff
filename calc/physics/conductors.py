"""Conductors: sizes, materials, resistance.

Cross-sections in mm², lengths in m, resistances in Ω, temperatures in °C.
"""

import math
from bisect import bisect
from dataclasses import dataclass
from typing import Literal

from calc.physics import published

Material = Literal["copper", "cca10", "cca15"]
System = Literal["metric", "awg"]

_TABLES = "conductors"
# Annealed copper at 20 °C, IEC 60028; its coefficient is taken for copper-clad aluminium too.
COPPER_OHM_MM2_M = 1 / published.figure(_TABLES, "copper", "resistivity_one_part_of")
ALPHA_PER_K = published.figure(_TABLES, "copper", "alpha_per_k")
LAY = 1.02  # strands run around one another and are longer than the cable


def _by_material(copper: float, key: str) -> dict[Material, float]:
    clad = published.column(_TABLES, "copper_clad_aluminium", "material", key)
    return {"copper": copper, "cca10": clad["cca10"], "cca15": clad["cca15"]}


# Resistivity over that of copper by volume share of copper: ASTM B566 (from memory).
RESISTIVITY_RATIO = _by_material(1.0, "resistivity_ratio")
# IEC 60028; copper-clad aluminium: ASTM B566 (from memory).
DENSITY_KG_M3 = _by_material(published.figure(_TABLES, "copper", "density_kg_m3"), "density_kg_m3")
# IEC 60228, class 5 (flexible), plain copper: highest resistance at 20 °C by size [mm²: Ω/km].
CLASS_5_OHM_KM = published.by_number(_TABLES, "class_5")
AWG_OFFERED = (
    "18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0",
)  # fmt: skip
THINNEST_AWG = 40


def gauge_number(awg: str) -> int:
    """Return the number that a gauge counts as: 1/0 is 0, 2/0 is −1, 4/0 is −3.

    Raises ValueError for what is not a gauge from 4/0 to 40.

    Source: ASTM B258.

    >>> gauge_number("8"), gauge_number("1/0"), gauge_number("4/0")
    (8, 0, -3)
    """
    if awg in ("1/0", "2/0", "3/0", "4/0"):
        return 1 - int(awg[0])
    if awg.isascii() and awg.isdecimal() and str(int(awg)) == awg:
        number = int(awg)
        if 1 <= number <= THINNEST_AWG:
            return number
    raise ValueError("gauges run from 4/0 to 1/0 and from 1 to 40")


def awg_diameter_mm(awg: str) -> float:
    """Return the diameter of a solid wire of a gauge [mm]: 0.127·92^((36 − n)/39).

    Source: ASTM B258.

    >>> awg_diameter_mm("36"), round(awg_diameter_mm("4"), 3), round(awg_diameter_mm("4/0"), 3)
    (0.127, 5.189, 11.684)
    """
    return 0.127 * float(92 ** ((36 - gauge_number(awg)) / 39))


def round_area_mm2(*, diameter_mm: float) -> float:
    """Return the cross-section of a round wire [mm²].

    >>> round(round_area_mm2(diameter_mm=2.0), 4)
    3.1416
    """
    return math.pi / 4 * diameter_mm**2


def round_diameter_mm(*, area_mm2: float) -> float:
    """Return the diameter of the round solid wire of a cross-section [mm].

    >>> round(round_diameter_mm(area_mm2=3.1416), 3)
    2.0
    """
    return math.sqrt(4 * area_mm2 / math.pi)


def awg_area_mm2(awg: str) -> float:
    """Return the cross-section of a gauge [mm²].

    >>> round(awg_area_mm2("4"), 2), round(awg_area_mm2("18"), 3)
    (21.15, 0.823)
    """
    return round_area_mm2(diameter_mm=awg_diameter_mm(awg))


def nearest_awg(*, area_mm2: float) -> str | None:
    """Return the gauge whose cross-section is nearest by ratio; None beyond half a gauge.

    Raises ValueError for an area that is not above 0.

    >>> nearest_awg(area_mm2=21), nearest_awg(area_mm2=16), nearest_awg(area_mm2=150)
    ('4', '5', None)
    """
    if not area_mm2 > 0:
        raise ValueError("a cross-section is above 0")
    # A gauge is a factor of 92^(2/39) in area, so the number runs with the logarithm.
    diameter = round_diameter_mm(area_mm2=area_mm2)
    number = round(36 - 39 * math.log(diameter / 0.127, 92))
    if not -3 <= number <= THINNEST_AWG:
        return None
    return str(number) if number > 0 else f"{1 - number}/0"


def strands_area_mm2(*, strands: int, strand_mm: float) -> float:
    """Return the cross-section of a cable of so many strands of a diameter [mm²].

    Raises ValueError unless both are above 0.

    >>> round(strands_area_mm2(strands=196, strand_mm=0.25), 2)
    9.62
    """
    if strands < 1 or not strand_mm > 0:
        raise ValueError("a cable has at least one strand, of a diameter above 0")
    return strands * round_area_mm2(diameter_mm=strand_mm)


def warmed(*, ohm_20c: float, conductor_c: float) -> float:
    """Return a resistance at another temperature: R·(1 + α·(T − 20 °C)).

    >>> round(warmed(ohm_20c=1.0, conductor_c=50), 4)
    1.1179
    """
    return ohm_20c * (1 + ALPHA_PER_K * (conductor_c - 20))


def bare_ohm_per_m(*, area_mm2: float, material: Material, conductor_c: float) -> float:
    """Return the resistance of a straight conductor [Ω/m]: ρ/s, without allowance for lay.

    Source: IEC 60028; ASTM B566 for copper-clad aluminium (from memory).

    >>> round(1000 * bare_ohm_per_m(area_mm2=1, material="copper", conductor_c=20), 3)
    17.241
    """
    ohm = COPPER_OHM_MM2_M * RESISTIVITY_RATIO[material] / area_mm2
    return warmed(ohm_20c=ohm, conductor_c=conductor_c)


@dataclass(frozen=True, kw_only=True)
class Size:
    """A size of cable as it is sold, or measured.

    name : as the trade writes it, `16 mm²` or `4 AWG`, with a plain space
    area_mm2 : cross-section [mm²]
    copper_ohm_per_m : resistance of the copper cable at 20 °C [Ω/m]
    """

    name: str
    area_mm2: float
    copper_ohm_per_m: float

    @property
    def words(self) -> str:
        """The name for a page, where a line must not end before the unit."""
        return self.name.replace(" ", "\u202f")

    def ohm_per_m(self, *, material: Material, conductor_c: float) -> float:
        """Return the cable's resistance [Ω/m] in a material at a temperature."""
        ohm = self.copper_ohm_per_m * RESISTIVITY_RATIO[material]
        return warmed(ohm_20c=ohm, conductor_c=conductor_c)

    def kg_per_m(self, material: Material) -> float:
        """Return the mass of the bare conductor [kg/m]; the lay of the strands adds 2 %."""
        return self.area_mm2 * 1e-6 * DENSITY_KG_M3[material]


def stranded(name: str, area_mm2: float) -> Size:
    """Return a stranded cable of a cross-section: ρ/s times 1.02 for the lay.

    >>> round(1000 * stranded("4 AWG", awg_area_mm2("4")).copper_ohm_per_m, 4)
    0.8315
    """
    return Size(name=name, area_mm2=area_mm2, copper_ohm_per_m=LAY * COPPER_OHM_MM2_M / area_mm2)


def awg_size(awg: str) -> Size:
    """Return the stranded cable of a gauge."""
    return stranded(f"{awg} AWG", awg_area_mm2(awg))


def metric_size(area_mm2: float) -> Size:
    """Return the cable of a metric cross-section.

    Standard sizes have the highest resistance that IEC 60228 permits for class 5.  Between
    them that allowance over ρ/s runs straight over log area; beyond them it stays, so that
    a thicker cable never counts for less.

    >>> metric_size(16).copper_ohm_per_m, round(metric_size(3).copper_ohm_per_m, 6)
    (0.00121, 0.006631)
    """
    areas = list(CLASS_5_OHM_KM)
    name = f"{area_mm2:.4g} mm²"
    for area, ohm_km in CLASS_5_OHM_KM.items():
        if math.isclose(area, area_mm2):
            return Size(name=name, area_mm2=area, copper_ohm_per_m=ohm_km / 1000)
    at = min(max(bisect(areas, area_mm2), 1), len(areas) - 1)
    thin, thick = areas[at - 1], areas[at]
    part = min(max(math.log(area_mm2 / thin) / math.log(thick / thin), 0.0), 1.0)
    extra = _allowance(thin) + part * (_allowance(thick) - _allowance(thin))
    ohm = extra * COPPER_OHM_MM2_M / area_mm2
    return Size(name=name, area_mm2=area_mm2, copper_ohm_per_m=ohm)


def _allowance(area_mm2: float) -> float:
    """Return a standard size's highest resistance over ρ/s."""
    return CLASS_5_OHM_KM[area_mm2] / 1000 * area_mm2 / COPPER_OHM_MM2_M


METRIC_SIZES = tuple(metric_size(area) for area in CLASS_5_OHM_KM)
AWG_SIZES = tuple(awg_size(awg) for awg in AWG_OFFERED)
SIZES: dict[System, tuple[Size, ...]] = {"metric": METRIC_SIZES, "awg": AWG_SIZES}
# Sizes in which power cable is bought: common practice, from memory.  Sets for four-channel
# amplifiers start at the thinnest of them.  The 20 mm² of the shops is no size of IEC 60228:
# ρ/s with the lay of the strands.
KIT_SIZES: dict[System, tuple[Size, ...]] = {
    "metric": tuple(
        metric_size(mm2) if mm2 in CLASS_5_OHM_KM else stranded(f"{mm2:g} mm²", mm2)
        for mm2 in published.figures(_TABLES, "bought", "metric")
    ),
    "awg": tuple(awg_size(awg) for awg in published.texts(_TABLES, "bought", "awg")),
}
# No conductor of power is thinner: 33 CFR 183.425 (e), 16 AWG; its metric neighbour.
LEAST_POWER_MM2: dict[System, float] = {
    "metric": published.figure(_TABLES, "thinnest_power_conductor", "metric"),
    "awg": awg_area_mm2(published.text(_TABLES, "thinnest_power_conductor", "awg")),
}

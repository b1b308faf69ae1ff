"""Words that the calculators of this chapter share: names, cautions, sources."""

from calc.answers.figures import quantity
from calc.parts.cable_kind import MATERIAL_OPTIONS, HeatLimits
from calc.physics.amplifier_draw import Duty
from calc.physics.conductors import AWG_SIZES, METRIC_SIZES, Material, Size
from calc.physics.permitted_current import FUSES_A, TABLE_AIR_C

MATERIAL_WORDS: dict[Material, str] = dict(MATERIAL_OPTIONS)
MATERIAL_SHORT: dict[Material, str] = {
    "copper": "copper",
    "cca10": "copper-clad aluminium (10 %)",
    "cca15": "copper-clad aluminium (15 %)",
}
DUTY_WORDS: dict[Duty, str] = {
    "full": "full power",
    "heavy": "loud music",
    "normal": "normal listening",
}
FUSE_PLACE = (
    "A fuse sits at the battery end of every positive cable, within 450 mm of the terminal "
    "(common practice in cars, no source): that is what is meant here. The rule for boats is "
    "stricter: 178 mm, or 1,016 mm where the cable before the fuse lies in a sheath (33 CFR "
    "183.455). Before the fuse nothing protects the cable."
)
KIT_FUSE = (
    "A cable kit brings a fuse of its own, often 60 A: take it out and fit the one given here."
)
KIT_METAL = (
    "A kit that is not marked copper or OFC counts as copper-clad aluminium (CCA): 8 AWG of it "
    "is as good as 5.3 mm² (10 AWG) of copper. Then answer for that metal, or buy another kit."
)
FUSE_RULE = "A fuse is never larger than what the cable behind it may carry."
BATTERY_OFF = (
    "Of the battery’s two clamps take the negative off first and put it on last; until then the "
    "main fuse stays out. High-voltage vehicles, a second battery, a converted electrical "
    "system: leave the supply to a qualified workshop, and keep away from orange cables."
)
ROUTING = (
    "Grommets through metal; no sharp edges, hot or moving parts; away from pedals, airbags and "
    "belt pretensioners. Never drill blind: fuel lines, brake lines and looms lie behind metal."
)
RULES_WIN = (
    "The vehicle maker’s rules, local law and the amplifier’s manual come first. A result is an "
    "estimate for planning, not an approval."
)
CABLE_CAUTIONS = (FUSE_PLACE, FUSE_RULE, BATTERY_OFF, ROUTING, RULES_WIN)
CLAD = (
    "Copper-clad aluminium: the permitted currents are derived from equal heat, no table gives "
    "them. It breaks more easily at a crimp and corrodes where it is damp."
)
RESISTANCE = (
    "Resistance: IEC 60228 class 5 for metric sizes, interpolated between them; ρ/s × 1.02 for "
    "gauges (ASTM B258) and measured strands; ρ = 1/58 Ω·mm²/m and 0.00393 per kelvin, IEC 60028; "
    "copper-clad aluminium by ASTM B566 (from memory)."
)
PERMITTED = (
    "Permitted currents: 33 CFR 183.425 table 5, reprinted as ABYC E-11 (single copper "
    "conductor, insulation for 105 °C, air of 30 °C), a rule for boats; metric sizes by "
    "interpolation on area, copper-clad aluminium derived. ISO 10133, for boats too, permits "
    "up to 13 % less in metric sizes (from memory)."
)
LEAST_SIZE = (
    "No power conductor thinner than 16 AWG: 33 CFR 183.425 (e), a rule for boats; 1.5 mm² is "
    "taken for it. Sizes in which cable is bought (8, 4, 2, 1/0 AWG; 10, 20, 35, 50 mm²): common "
    "practice, from memory."
)
FUSES = "Fuse ratings: ISO 8820 blade and bolt-in links (from memory)."
DUTIES = (
    "Duties: 1/3 for loud music is common practice, no source; 1/8 is the share of pink "
    "noise in IEC 60065 and IEC 62368-1 (from memory). Efficiencies: class AB 50–60 %, class D "
    "75–90 % at rated power (from memory)."
)
NO_TABLE = (
    "no table of permitted currents is held for this insulation, so nothing may be offered on "
    "heat. Take cable that is marked 105 °C, or ask its maker what it may carry and which fuse"
)

_NEAR = 1.7  # two gauges, and a step of the metric sizes


def both_names(size: Size) -> str:
    """Return a size's name with what may stand for it in the other system."""
    instead = stand_in(size)
    return f"{size.words} (or {instead.words})" if instead else size.words


def stand_in(size: Size) -> Size | None:
    """Return the thinnest size of the other system that neither carries less nor drops more.

    None where the next such size is far thicker.
    """
    others = METRIC_SIZES if "AWG" in size.name else AWG_SIZES
    instead = next(
        (
            other
            for other in others
            if other.area_mm2 >= size.area_mm2 and other.copper_ohm_per_m <= size.copper_ohm_per_m
        ),
        None,
    )
    return instead if instead and instead.area_mm2 < _NEAR * size.area_mm2 else None


def other_number(size: Size) -> str:
    """Return what may stand for a size in the other system, without that system's name."""
    instead = stand_in(size)
    return instead.name.split(" ")[0] if instead else "–"


def fuse_words(ampere: float | None) -> str:
    """Return a fuse's rating in words."""
    return quantity(ampere, "A") if ampere else f"none up to {quantity(FUSES_A[-1], 'A')}"


def place_words(limits: HeatLimits) -> str:
    """Say for which air the permitted current holds, to follow “may carry so much”."""
    if not limits.in_engine_space:
        return f"in air of {quantity(TABLE_AIR_C, '°C')}"
    taken = "" if limits.engine_space else ", taken for want of an answer"
    return f"from an engine space of {quantity(limits.engine_c, '°C')}{taken}"


def place_unknown(limits: HeatLimits) -> tuple[str, ...]:
    """Return what is not known of the place where a cable starts."""
    if limits.engine_space is not None:
        return ()
    return (
        "Whether the battery sits under the bonnet: it is taken to, which is the cautious way. "
        f"The air there counts with {quantity(limits.engine_c, '°C')}.",
    )

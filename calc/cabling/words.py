"""Words that the calculators of this chapter share: names, cautions, sources."""

import math
from collections.abc import Iterable

from calc.answers.figures import capital, quantity
from calc.parts.cable_kind import MATERIAL_OPTIONS, HeatLimits
from calc.physics.amplifier_draw import Duty
from calc.physics.conductors import AWG_SIZES, METRIC_SIZES, Material, Size
from calc.physics.permitted_current import FUSES_A, TABLE_AIR_C

MATERIAL_WORDS: dict[Material, str] = dict(MATERIAL_OPTIONS)
MATERIAL_SHORT: dict[Material, str] = {
    "copper": "copper",
    "cca10": "CCA (10 % copper)",
    "cca15": "CCA (15 % copper)",
}
DUTY_WORDS: dict[Duty, str] = {
    "full": "full power",
    "heavy": "loud music",
    "normal": "normal listening",
}
PLAYED_WORDS: dict[Duty, str] = {
    "full": "at full power",
    "heavy": "with loud music",
    "normal": "with normal listening",
}
FUSE_PLACE = (
    "A short before the main fuse sets the cable on fire: fit the fuse within 450 mm of the "
    "battery terminal (the rule for boats: 178 mm, or 1,016 mm in a sheath)."
)
FUSE_RULE = (
    "Never fit a fuse larger than the rating of the cable behind it: the cable burns before the "
    "fuse blows."
)
FUSE = f"{FUSE_PLACE} {FUSE_RULE}"
_KIT_FUSE = "Swap a cable kit’s own fuse, often 60 A, for this one."
KIT = (
    f"{_KIT_FUSE} Cable not marked copper or OFC counts as copper-clad aluminium (CCA): 8 AWG of "
    "it is only as good as 5.3 mm² (10 AWG) of copper, so enter it as CCA."
)
CLAD = (
    "Copper-clad aluminium (CCA) runs hotter than copper of the same size, snaps at a crimp and "
    "corrodes in the damp: fuse it by the rating given here, which we work out from its "
    "resistance, and use terminals made for it."
)
CLAD_KIT = f"{CLAD} {_KIT_FUSE}"
BATTERY_OFF = (
    "A spanner across a live battery glows: negative off first, back on last, main fuse out until "
    "then. High-voltage vehicles, second batteries, converted electrical systems: leave the supply "
    "to a qualified workshop, and keep away from orange cables."
)
ROUTING = (
    "A chafed cable burns: grommets through metal, and clear of sharp, hot and moving parts, "
    "pedals, airbags and belt pretensioners. Never drill blind: fuel lines, brake lines and looms "
    "run behind the panel."
)
RULES_WIN = (
    "The vehicle maker’s rules, local law and the amplifier’s manual come first. A result is an "
    "estimate for planning, not an approval."
)
CABLE_CAUTIONS = (FUSE, BATTERY_OFF, ROUTING)
_MOST_CAUTIONS = 5  # more are not read

# Keys of the register of sources.
RESISTANCE = ("metric-resistance", "awg", "copper", "cca")
CURRENT_RATINGS = ("current-ratings", "cca")
FUSES = ("fuse-place", "fuse-place-boats", "fuse-size-boats", "fuse-links", "fuse-ratings")
PLAYED = ("loud-music", "normal-listening", "efficiency")
RUN_SOURCES = (
    *FUSES, *CURRENT_RATINGS, "least-size", "kit-sizes", "half-volt", "body-resistance",
    *RESISTANCE, *PLAYED,
)  # fmt: skip
NO_TABLE = (
    "we hold current ratings for 105 °C insulation only, so no cable can be offered. Buy cable "
    "marked 105 °C, or ask the cable maker for its current rating and fuse"
)

_NEAR = 1.7  # two AWG numbers, and a step of the metric sizes
_WHOLE_A, _LAST_BITS = 10.0, 1 + 1e-9


def as_sentence(words: str) -> str:
    """Return words as a sentence.

    >>> as_sentence("no table")
    'No table.'
    """
    return f"{capital(words)}."


def both_names(size: Size) -> str:
    """Return a size's name with what may stand for it in the other system."""
    instead = stand_in(size)
    return f"{size.words} ({instead.words})" if instead else size.words


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
    """Say for which air a current rating holds, to follow “rated for so much”."""
    if not limits.in_engine_space:
        return f"in {quantity(TABLE_AIR_C, '°C')} air"
    taken = "" if limits.engine_space else ", which we assume"
    return f"from an engine bay at {quantity(limits.engine_c, '°C')}{taken}"


def rated(ampere: float | None) -> str:
    """Return a current rating in words, rounded down: a rating is never made larger.

    >>> rated(89.97), rated(4.57), rated(20.000000000001), rated(None)
    ('89\\u202fA', '4.5\\u202fA', '20\\u202fA', 'not known')
    """
    if ampere is None:
        return quantity(None)
    parts = 1 if ampere >= _WHOLE_A else 10
    return quantity(math.floor(ampere * parts * _LAST_BITS) / parts, "A", 3)


def five(*groups: Iterable[str]) -> tuple[str, ...]:
    """Return the first cautions of some groups: those of this job stand before the general ones."""
    return tuple(caution for group in groups for caution in group)[:_MOST_CAUTIONS]


def place_unknown(limits: HeatLimits) -> tuple[str, ...]:
    """Return what is not known of the place where a cable starts."""
    if limits.engine_space is not None:
        return ()
    return (
        "Whether the battery is under the bonnet. We assume it is, to be safe, with the air there "
        f"at {quantity(limits.engine_c, '°C')}.",
    )

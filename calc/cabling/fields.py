"""Fields and words that the calculators of this chapter share."""

from collections.abc import Mapping
from typing import Any

from calc.cabling.conductors import AWG_SIZES, METRIC_SIZES, Size, gauge_number
from calc.cabling.demand import Demand, longest_idle_w
from calc.cabling.permitted import FUSES_A, MOST_IN_BUNDLE
from calc.cabling.sizing import Rules
from calc.core.errors import FieldError
from calc.core.fields import Choice, Number, Numbers, Pattern, Whole, YesNo
from calc.core.figures import THIN_SPACE, exact, quantity, rounded

INVENTED = "invented, the Lantern Van"
MATERIAL_WORDS = {
    "copper": "copper",
    "cca10": "copper-clad aluminium, 10 % copper",
    "cca15": "copper-clad aluminium, 15 % copper",
}
MATERIAL_SHORT = {
    "copper": "copper",
    "cca10": "copper-clad aluminium (10 %)",
    "cca15": "copper-clad aluminium (15 %)",
}
DUTY_WORDS = {
    "full": "full power",
    "heavy": "heavy programme",
    "normal": "normal programme",
}
DUTY_OPTIONS = (
    ("full", "full power, a sine"),
    ("heavy", "heavy programme (1/3 of the power)"),
    ("normal", "normal programme (1/8 of the power)"),
)

# ---- words

FUSE_PLACE = (
    "A fuse sits within reach of the battery end of every positive cable; common practice is "
    "within 450 mm of the terminal. Before it nothing protects the cable."
)
FUSE_RULE = "A fuse is never larger than what the cable behind it may carry."
BATTERY_OFF = (
    "Of the battery’s two clamps take the negative off first and put it on last; until then the "
    "main fuse stays out. High-voltage vehicles, two batteries, a converted van: leave the supply "
    "to a qualified workshop, and keep away from orange cables."
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
FUSES = "Fuse ratings: ISO 8820 blade and bolt-in links (from memory)."
DUTIES = (
    "Duties: 1/3 for heavy programme is common practice, no source; 1/8 is the share of pink "
    "noise in IEC 60065 and IEC 62368-1 (from memory). Efficiencies: class AB 50–60 %, class D "
    "75–90 % at rated power (from memory)."
)
NO_TABLE = (
    "no table of permitted currents is held for this insulation, so nothing may be offered on "
    "heat. Take cable that is marked 105 °C, or ask its maker what it may carry and which fuse"
)

# ---- fields


def total_power(default: str, **more: Any) -> Number:
    """Return the field for the power of all amplifiers together."""
    return Number(
        key="total_power_w", label="Continuous power, all channels together", default=default,
        low=1, high=20_000, hint="The sum of what is in use; a bridged pair counts once, with its "
        "bridged power. Not “max” or “peak”.", source=INVENTED, **more,
    )  # fmt: skip


EFFICIENCY = Number(
    key="efficiency_percent", label="Efficiency at rated power", default="60", low=10, high=100,
    presets=(55, 60, 80, 85), hint="Class AB 50–60, class D 75–90.", source="from memory",
)  # fmt: skip
SUPPLY_V = Number(
    key="supply_v", label="Voltage at the battery, engine running", default="14.4", low=9, high=32,
    presets=(12.6, 13.8, 14.4),
)  # fmt: skip
AMPLIFIER_CLASS = Choice(
    key="amplifier_class", label="Class of the amplifier", default="", optional=True, more=True,
    options=(("ab", "AB"), ("d", "D")),
    hint="At part of its power a class AB amplifier draws more than its share.",
)  # fmt: skip
IDLE_W = Number(
    key="idle_w", label="What it draws without a signal", default="0", low=0, high=2000, more=True,
    hint="Current at rest times voltage; where loads are listed, of each.",
)  # fmt: skip
DUTY = Choice(
    key="duty", label="Work out the drop for", default="heavy", options=DUTY_OPTIONS,
    hint="The fuse always follows full power.",
)  # fmt: skip
LENGTH_M = Number(
    key="length_m", label="Length of the positive cable, one way", default="3", low=0.05, high=100,
    presets=(1, 3, 5, 7), source=INVENTED,
    hint="As it is laid. Add the earth (ground) lead’s length to it: that has the same size.",
)  # fmt: skip
RETURN = Choice(
    key="return", label="Way back to the battery", default="body",
    options=(("body", "the vehicle’s body"), ("cable", "a second cable of the same size")),
)  # fmt: skip
BODY_MOHM = Number(
    key="body_mohm", label="Resistance of the body between the earth points", default="2", low=0,
    high=100, more=True, hint="Counts only with the body as the way back; measure it.",
    source="usual figure; common practice, no source",
)  # fmt: skip
CONNECTIONS_MOHM = Number(
    key="connections_mohm", label="Joints and fuse holder of a run", default="0", low=0, high=100,
    more=True, hint="A good crimp has 0.1 to 0.5 mΩ, a fuse with its holder 1 to 3 mΩ (from "
    "memory).",
)  # fmt: skip
MATERIAL = Choice(
    key="material", label="Conductor", default="copper", options=tuple(MATERIAL_WORDS.items()),
)  # fmt: skip
CONDUCTOR_C = Number(
    key="conductor_c", label="Temperature of the conductor", default="50", low=-40, high=200,
    more=True, hint="Warm copper resists more: 12 % at 50 °C against 20 °C.",
)  # fmt: skip
MAX_DROP_V = Number(
    key="max_drop_v", label="Highest drop, out and back", default="0.5", low=0.05, high=5,
    presets=(0.25, 0.5, 1), source="common practice, no source",
)  # fmt: skip
SIZES_FIELD = Choice(
    key="sizes", label="Sizes", default="metric",
    options=(("metric", "metric, mm²"), ("awg", "gauges, AWG")),
)  # fmt: skip
INSULATION_C = Number(
    key="insulation_c", label="Insulation rated for", default="105", low=60, high=300,
    optional=True, hint="Printed on the cable; only 105 °C has a table. No marking: not known.",
)  # fmt: skip
ENGINE_SPACE = YesNo(
    key="engine_space", label="Does it start at a battery under the bonnet?", default="no",
    hint="In an engine space, and wherever the air may have 50 °C, a cable may carry 0.85 of the "
    "table.",
)  # fmt: skip
BUNDLE = Whole(
    key="bundle", label="Current-carrying conductors together", default="1", low=1,
    high=MOST_IN_BUNDLE, more=True, hint="In one tube or tie: three × 0.7, four to six × 0.6.",
)  # fmt: skip
AMP_FUSES = Numbers(
    key="amp_fuses_a", label="The amplifier’s own fuses", default="", optional=True, more=True,
    most=16, hint="Parted by semicolons: 30;30. Their sum bounds what it can draw.",
    each=Number(key="fuse_a", label="Fuse", default="30", low=0.5, high=1000),
)  # fmt: skip
REGULATED_MIN_V = Number(
    key="regulated_min_v", label="Lowest voltage at which it still holds its power", default="",
    low=6, high=32, optional=True, more=True, empty="an unregulated supply, or not known",
    hint="Regulated amplifiers only: they draw more as the voltage falls.",
)  # fmt: skip

DEMAND_FIELDS = (
    EFFICIENCY, SUPPLY_V, DUTY, AMPLIFIER_CLASS, IDLE_W, REGULATED_MIN_V, AMP_FUSES,
)  # fmt: skip
_CABLE = (MATERIAL, SIZES_FIELD, INSULATION_C, ENGINE_SPACE, CONDUCTOR_C, BUNDLE)
_WAY = (MAX_DROP_V, RETURN, BODY_MOHM, CONNECTIONS_MOHM)
CABLE_FIELDS = (*_CABLE, *_WAY)
CABLE_GROUPS = (
    ("The cable", tuple(one.key for one in _CABLE)),
    ("The drop", tuple(one.key for one in _WAY)),
)


_NEAR = 1.7  # two gauges, and a step of the metric sizes


def is_gauge(text: str) -> bool:
    """Tell whether a text names a gauge."""
    try:
        gauge_number(text)
    except ValueError:
        return False
    return True


def awg_field(key: str, label: str, default: str, **more: Any) -> Pattern:
    """Return a field for a gauge."""
    return Pattern(
        key=key, label=label, default=default, optional=True, longest=4, is_good=is_gauge,
        notation="a gauge: 1 to 40, or 1/0, 2/0, 3/0, 4/0", examples=("4", "1/0", "18", "7"),
        **more,
    )  # fmt: skip


# ---- from the read values to what the formulas take


def rules_of(given: Mapping[str, Any]) -> Rules:
    """Return the rules that the read values describe."""
    return Rules(
        material=given["material"],
        sizes=given["sizes"],
        conductor_c=given["conductor_c"],
        insulation_c=given["insulation_c"],
        engine_space=given["engine_space"],
        bundle=given["bundle"],
        max_drop_v=given["max_drop_v"],
        return_by=given["return"],
        body_ohm=given["body_mohm"] / 1000,
        connections_ohm=given["connections_mohm"] / 1000,
    )


def demand_of(given: Mapping[str, Any], power_w: float, idle_w: float | None = None) -> Demand:
    """Return what amplifiers of a power draw at the supply's voltage."""
    return Demand(
        power_w=power_w,
        efficiency=given["efficiency_percent"] / 100,
        supply_v=given["supply_v"],
        amplifier_class=given["amplifier_class"],
        idle_w=given["idle_w"] if idle_w is None else idle_w,
    )


def fuse_current(given: Mapping[str, Any], power_w: float) -> float:
    """Return the full-power current that fuse and cable must carry [A].

    A regulated amplifier draws the most at the lowest voltage that it holds out.
    """
    volt = given["regulated_min_v"] or given["supply_v"]
    return power_w / (given["efficiency_percent"] / 100 * volt)


def check_regulated(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the lowest regulated voltage."""
    low, supply = given.get("regulated_min_v"), given.get("supply_v")
    if low is None or supply is None or low <= supply:
        return ()
    message = (
        f"{REGULATED_MIN_V.label}: {rounded(low)} is above the supply’s {quantity(supply, 'V')}. "
        "Give less, or leave it empty."
    )
    return (FieldError(REGULATED_MIN_V.key, exact(low), message),)


def check_own_fuses(given: Mapping[str, Any]) -> tuple[FieldError, ...]:
    """Return what is wrong with the amplifier's own fuses: two taken for one, mostly."""
    odd = [
        one for one in given.get("amp_fuses_a") or () if not one.is_integer() and one not in FUSES_A
    ]
    return tuple(
        FieldError(
            AMP_FUSES.key,
            exact(one),
            f"{AMP_FUSES.label}: no fuse has {exact(one)}{THIN_SPACE}A. Give ratings such as 7.5 "
            "or 30; several are parted by ‘;’.",
        )
        for one in odd
    )


def check_idle(given: Mapping[str, Any], power_w: float | None) -> tuple[FieldError, ...]:
    """Return what is wrong with the idle power, beside the power of the amplifiers."""
    idle, percent = given.get("idle_w"), given.get("efficiency_percent")
    if idle is None or percent is None or power_w is None:
        return ()
    most = longest_idle_w(power_w=power_w, efficiency=percent / 100)
    if idle <= most:
        return ()
    message = (
        f"{IDLE_W.label}: with {exact(idle)}{THIN_SPACE}W a part of the power would take more "
        f"than all of it. Give up to {quantity(most, 'W', 4)} for this power and efficiency."
    )
    return (FieldError(IDLE_W.key, exact(idle), message),)


# ---- words for results


def both_names(size: Size) -> str:
    """Return a size's name with what may stand for it in the other system."""
    instead = stand_in(size)
    return f"{size.words} (or {instead.words})" if instead else size.words


def stand_in(size: Size) -> Size | None:
    """Return the thinnest size of the other system that neither carries less nor drops more.

    None where the next such size is far thicker.
    """
    others = METRIC_SIZES if "AWG" in size.name else AWG_SIZES
    found = next(
        (
            one
            for one in others
            if one.area_mm2 >= size.area_mm2 and one.copper_ohm_per_m <= size.copper_ohm_per_m
        ),
        None,
    )
    return found if found and found.area_mm2 < _NEAR * size.area_mm2 else None


def other_number(size: Size) -> str:
    """Return what may stand for a size in the other system, without that system's name."""
    instead = stand_in(size)
    return instead.name.split(" ")[0] if instead else "–"


def fuse_words(ampere: float | None) -> str:
    """Return a fuse's rating in words."""
    return quantity(ampere, "A") if ampere else f"none up to {quantity(FUSES_A[-1], 'A')}"

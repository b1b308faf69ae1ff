"""Fields that the calculators of this chapter share."""

from typing import Any

from calc.cabling.words import MATERIAL_WORDS
from calc.inputs.fields import Choice, Number, Numbers, Pattern, Whole, YesNo
from calc.physics.conductors import gauge_number
from calc.physics.permitted_current import MOST_IN_BUNDLE

INVENTED = "invented, the Lantern Van"
DUTY_OPTIONS = (
    ("full", "full power, a test tone"),
    ("heavy", "loud music (1/3 of the power)"),
    ("normal", "normal listening (1/8 of the power)"),
)


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
    key="duty", label="Work out the drop for", default="full", options=DUTY_OPTIONS,
    hint="Cable is sized for full power; the fuse follows it whatever is chosen here.",
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
    optional=True, empty="not known: taken as under the bonnet",
    hint="In an engine space, and wherever the air may have 50 °C, a cable may carry 0.85 of the "
    "table, less where it is hotter.",
)  # fmt: skip
ENGINE_C = Number(
    key="engine_c", label="Air under the bonnet, where it starts", default="50", low=30, high=104,
    presets=(50, 70, 85), more=True,
    hint="Counts only with a battery under the bonnet; 50 to 85 is usual.",
    source="the published factor is for 50 °C",
)  # fmt: skip
BUNDLE = Whole(
    key="bundle", label="Current-carrying conductors together", default="1", low=1,
    high=MOST_IN_BUNDLE, more=True, hint="In one tube or tie: three × 0.7, four to six × 0.6.",
)  # fmt: skip
AMP_FUSES = Numbers(
    key="amp_fuses_a", label="The amplifier’s own fuses", default="", optional=True, more=True,
    most=16, hint="Parted by semicolons: 30;30. Their sum bounds what it can draw, and the main "
    "fuse.",
    each=Number(key="fuse_a", label="Fuse", default="30", low=0.5, high=1000),
)  # fmt: skip
MAKER_FUSE = Number(
    key="maker_fuse_a", label="Main fuse that its maker states", default="", low=1, high=500,
    optional=True, more=True, empty="none stated",
    hint="From the manual. It wins over the one worked out; the cable must carry it.",
)  # fmt: skip
REGULATED_MIN_V = Number(
    key="regulated_min_v", label="Lowest voltage at which it still holds its power", default="",
    low=6, high=32, optional=True, more=True, empty="an unregulated supply, or not known",
    hint="Regulated amplifiers only: they draw more as the voltage falls.",
)  # fmt: skip

DEMAND_FIELDS = (
    EFFICIENCY, SUPPLY_V, DUTY, AMPLIFIER_CLASS, IDLE_W, REGULATED_MIN_V, AMP_FUSES, MAKER_FUSE,
)  # fmt: skip
_CABLE = (MATERIAL, SIZES_FIELD, INSULATION_C, ENGINE_SPACE, ENGINE_C, CONDUCTOR_C, BUNDLE)
_WAY = (MAX_DROP_V, RETURN, BODY_MOHM, CONNECTIONS_MOHM)
CABLE_FIELDS = (*_CABLE, *_WAY)
CABLE_GROUPS = (
    ("The cable", tuple(one.key for one in _CABLE)),
    ("The drop", tuple(one.key for one in _WAY)),
)


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

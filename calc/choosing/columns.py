"""The columns of a shelf list: what is known of an amplifier.

Only the name must be given; every other figure may be missing and is then not known.
"""

import re

from calc.bridging.channel_map import CHANNEL_MAP
from calc.crossovers.split_fields import AMPLIFIER as FILTERS
from calc.inputs.declared import fields_of
from calc.inputs.fields import Choice, Field, Number, Pattern, Text, Words, YesNo, unknown_at
from calc.parts.draw import Draw
from calc.placement.bay_heat import BAY_HEAT
from calc.placement.fields import AMPLIFIER_COLUMNS, LONGEST_NAME
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.turn_on import TURN_ON

SIDES = ("front", "right", "back", "left", "top")
NO_FILTERS = "none"


def filter_rows(text: str) -> str:
    """Return the filters of a cell as the rows that `filter-split` reads.

    A cell parts filters by ‘|’ and their values by blanks, because commas and semicolons part
    the cells; a switch without a name is a hyphen.

    >>> filter_rows("1/2 high-pass 50-250 1 butterworth 2 A yes")
    '1/2,high-pass,50-250,1,butterworth,2,A,yes'
    """
    if text.strip() == NO_FILTERS:
        return ""
    rows = []
    for one in text.split("|"):
        cells = one.split()
        rows.append(",".join("" if cell == "-" else cell for cell in cells))
    return ";".join(rows)


def filter_cell(rows: str) -> str:
    """Return rows of `filter-split` as a cell writes them; the way back of `filter_rows`."""
    if not rows:
        return NO_FILTERS
    return " | ".join(" ".join(cell or "-" for cell in row.split(",")) for row in rows.split(";"))


def _are_filters(text: str) -> bool:
    if not re.fullmatch(r"[-0-9A-Za-z./+| ]+", text):
        return False
    try:
        FILTERS.read(filter_rows(text))
    except ValueError:
        return False
    return True


def _borrowed(one: Field, key: str = "", label: str = "") -> Field:
    return unknown_at(one, key=key or one.key, label=label or one.label)


_MAP, _CHAIN = CHANNEL_MAP.form.by_key, SIGNAL_CHAIN.form.by_key
_DRAW = fields_of(Draw)
_BODY = {column.key: column for column in AMPLIFIER_COLUMNS}


def _yes_no(key: str, label: str) -> YesNo:
    return YesNo(key=key, label=label, default="", optional=True)


_FACES = tuple(
    Words(
        key=f"{side}_face", label=f"{side} face", words=_BODY[side].words, default="", optional=True
    )
    for side in SIDES
)

COLUMNS: tuple[Field, ...] = (
    Text(
        key="name", label="name", default="amplifier", longest=LONGEST_NAME, numbered=True,
    ),
    _borrowed(_MAP["channels"], label="channels"),
    _borrowed(_MAP["power_4ohm_w"], label="per channel at 4 Ω"),
    _borrowed(_MAP["power_2ohm_w"], label="per channel at 2 Ω"),
    _borrowed(_MAP["power_8ohm_w"], label="per channel at 8 Ω"),
    _borrowed(_MAP["rated_bridged_w"], label="bridged at 4 Ω"),
    _borrowed(_MAP["min_channel_ohm"], label="lowest load of a channel"),
    _borrowed(_MAP["rated_v"], label="rated at a supply of"),
    _borrowed(_MAP["regulated"], label="regulated supply"),
    _borrowed(_MAP["regulated_min_v"], label="full power down to"),
    _borrowed(_DRAW["amplifier_class"], label="class"),
    _borrowed(_DRAW["efficiency_percent"], label="efficiency"),
    _borrowed(_DRAW["idle_w"], label="without a signal"),
    Pattern(
        key="fuses_a", label="its own fuses", default="", optional=True, longest=40,
        is_good=lambda text: bool(re.fullmatch(r"[0-9.]{1,6}(/[0-9.]{1,6}){0,7}", text))
        and _reads(text.replace("/", ";")),
        notation="its fuses as ‘30’ or ‘25/25’", examples=("30", "25/25"),
    ),
    _borrowed(_CHAIN["sensitivity_min_v"], label="line input, gain up"),
    _borrowed(_CHAIN["sensitivity_max_v"], label="line input, gain down"),
    _borrowed(_CHAIN["high_level_min_v"], label="high-level input, gain up"),
    _borrowed(_CHAIN["high_level_max_v"], label="high-level input, gain down"),
    _yes_no("trigger", "trigger terminal"),
    _yes_no("signal_sensing", "senses the signal"),
    _yes_no("supply_sensing", "senses the supply"),
    _borrowed(TURN_ON.form.by_key["quiescent_a"], label="drawn while parked"),
    _yes_no("level_control", "level control on a lead"),
    Number(key="boost_db", label="bass boost up to", default="", low=0, high=24, optional=True),
    _yes_no("cover", "cover over the controls"),
    Choice(
        key="terminals", label="terminals", default="", optional=True,
        options=(("screw", "screw"), ("plug", "plug")),
    ),
    _borrowed(_BODY["width_mm"]),
    _borrowed(_BODY["depth_mm"]),
    _borrowed(_BODY["height_mm"]),
    *_FACES,
    Number(key="mass_kg", label="mass", default="", low=0.05, high=50, optional=True),
    _borrowed(BAY_HEAT.form.by_key["limit_c"], label="air no hotter than"),
    Pattern(
        key="filters", label="filters", default="", optional=True, is_good=_are_filters,
        longest=900, notation="filters as ‘1/2 high-pass 50-250 1 butterworth 2 A yes’ (channels, "
        "kind, corners, factors, family, orders, word of a shared switch or -, can be off), "
        "parted by ‘|’; or none",
        examples=("none", "1/2 high-pass 50-250 1 butterworth 2 A yes"),
    ),
    Number(
        key="price", label="price", default="", low=0, high=1_000_000, optional=True,
        hint="In one currency.",
    ),
    _yes_no("may_be_bridged", "may be bridged"),
    _borrowed(_DRAW["maker_fuse_a"], key="main_fuse_a", label="main fuse, by its maker"),
)  # fmt: skip


def _reads(text: str) -> bool:
    try:
        _DRAW["amp_fuses_a"].read(text)
    except ValueError:
        return False
    return True

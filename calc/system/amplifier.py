"""An amplifier as a stock list has it: only the name must be given, the rest may be not known."""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.bridging.channel_map import CHANNEL_MAP
from calc.cabling.power_cable import POWER_CABLE
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.declared import fields_of
from calc.inputs.field_base import Field
from calc.inputs.fields import Choice, Number, Pattern, Text, Words, YesNo
from calc.inputs.rows import not_printed_field
from calc.placement.bay_heat import BAY_HEAT
from calc.placement.mounting_reach import MOUNTING_REACH
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.turn_on import TURN_ON
from calc.system.borrowed import borrowed_column, unknown_at
from calc.system.plain_filters import (
    OwnFilters,
    contradictions,
    is_corner_cell,
    is_slope_cell,
    plain_filters,
)
from calc.system.speakers import LONGEST_NAME

SIDES = ("front", "right", "back", "left", "top")
NO_FILTERS = "none"
AmplifierClass = Literal["ab", "d"]
Terminals = Literal["screw", "plug"]
Role = Literal["planned", "candidate", "later"]


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
    for part in text.split("|"):
        cells = part.split()
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
    return _reads(FILTER_SPLIT.form.by_key["amplifier"], filter_rows(text))


def _are_fuses(text: str) -> bool:
    if not re.fullmatch(r"[0-9.]{1,6}(/[0-9.]{1,6}){0,7}", text):
        return False
    return _reads(POWER_CABLE.form.by_key["amp_fuses_a"], text.replace("/", ";"))


def _reads(field: Field, text: str) -> bool:
    try:
        field.read(text)
    except ValueError:
        return False
    return True


def _body(key: str) -> Field:
    return borrowed_column(MOUNTING_REACH, "amplifiers", key, example=None, start=None, source="")


def _face(side: str) -> Words:
    column = borrowed_column(MOUNTING_REACH, "amplifiers", side)
    assert isinstance(column, Words)
    return Words(f"{side} side holds", words=column.words)


def _corners(kind: str, example: str) -> Pattern:
    return Pattern(
        f"{kind} range, each pair of channels",
        longest=60,
        is_good=is_corner_cell,
        notation=f"the range of the knob as ‘{example}’, one fixed frequency as ‘80’, steps as "
        "‘60/80/100’, or off if it has none",
        examples=(example, "80", "off"),
    )


Face = tuple[str, ...] | None


@dataclass(frozen=True, kw_only=True)
class Amplifier:
    """What is known of an amplifier; None is not known."""

    name: Annotated[
        str,
        Text(
            "name",
            start="amplifier",
            longest=LONGEST_NAME,
            numbered=True,
            lettered="Amplifier",
        ),
    ]
    channels: Annotated[int | None, unknown_at(CHANNEL_MAP, "channels", label="channels")] = None
    power_4ohm_w: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "power_4ohm_w", label="RMS power per channel at 4 Ω")
    ] = None
    power_2ohm_w: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "power_2ohm_w", label="RMS power per channel at 2 Ω")
    ] = None
    power_8ohm_w: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "power_8ohm_w", label="RMS power per channel at 8 Ω")
    ] = None
    rated_bridged_w: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "rated_bridged_w", label="RMS power bridged at 4 Ω")
    ] = None
    min_channel_ohm: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "min_channel_ohm", label="minimum load per channel")
    ] = None
    rated_v: Annotated[float | None, unknown_at(CHANNEL_MAP, "rated_v", label="rated at")] = None
    regulated: Annotated[
        bool | None, unknown_at(CHANNEL_MAP, "regulated", label="regulated supply")
    ] = None
    regulated_min_v: Annotated[
        float | None, unknown_at(CHANNEL_MAP, "regulated_min_v", label="full power down to")
    ] = None
    amplifier_class: Annotated[
        AmplifierClass | None, unknown_at(POWER_CABLE, "amplifier_class", label="class")
    ] = None
    efficiency_percent: Annotated[
        float | None, unknown_at(POWER_CABLE, "efficiency_percent", label="efficiency")
    ] = None
    idle_w: Annotated[float | None, unknown_at(POWER_CABLE, "idle_w", label="idle power")] = None
    fuses_a: Annotated[
        str | None,
        Pattern(
            "own fuses",
            longest=40,
            is_good=_are_fuses,
            notation="the fuses on the amplifier as ‘30’ or ‘25/25’",
            examples=("30", "25/25"),
        ),
    ] = None
    sensitivity_min_v: Annotated[
        float | None,
        unknown_at(SIGNAL_CHAIN, "sensitivity_min_v", label=("RCA input, gain at maximum")),
    ] = None
    sensitivity_max_v: Annotated[
        float | None,
        unknown_at(SIGNAL_CHAIN, "sensitivity_max_v", label=("RCA input, gain at minimum")),
    ] = None
    high_level_min_v: Annotated[
        float | None,
        unknown_at(SIGNAL_CHAIN, "high_level_min_v", label="speaker-level input, gain at maximum"),
    ] = None
    high_level_max_v: Annotated[
        float | None,
        unknown_at(SIGNAL_CHAIN, "high_level_max_v", label="speaker-level input, gain at minimum"),
    ] = None
    trigger: Annotated[bool | None, YesNo("remote terminal (REM)")] = None
    signal_sensing: Annotated[bool | None, YesNo("signal-sensing turn-on")] = None
    supply_sensing: Annotated[bool | None, YesNo("voltage-sensing turn-on")] = None
    quiescent_a: Annotated[
        float | None, unknown_at(TURN_ON, "quiescent_a", label="standby drain")
    ] = None
    level_control: Annotated[bool | None, YesNo("remote level control")] = None
    boost_db: Annotated[float | None, Number("bass boost up to", low=0, high=24)] = None
    cover: Annotated[bool | None, YesNo("cover over the controls")] = None
    terminals: Annotated[
        Terminals | None,
        Choice("terminals", options=(("screw", "screw"), ("plug", "plug"))),
    ] = None
    width_mm: Annotated[float | None, _body("width_mm")] = None
    depth_mm: Annotated[float | None, _body("depth_mm")] = None
    height_mm: Annotated[float | None, _body("height_mm")] = None
    front_face: Annotated[Face, _face("front")] = None
    right_face: Annotated[Face, _face("right")] = None
    back_face: Annotated[Face, _face("back")] = None
    left_face: Annotated[Face, _face("left")] = None
    top_face: Annotated[Face, _face("top")] = None
    mass_kg: Annotated[float | None, Number("mass", low=0.05, high=50)] = None
    limit_c: Annotated[
        float | None, unknown_at(BAY_HEAT, "limit_c", label="highest air temperature")
    ] = None
    filters: Annotated[
        str | None,
        Pattern(
            "filters",
            is_good=_are_filters,
            longest=900,
            notation="filters as ‘1/2 high-pass 50-250 1 butterworth 2 A yes’ (channels, kind, "
            "frequencies, factors, type, orders, name of a shared switch or -, can be "
            "switched off), separated by ‘|’; or none",
            examples=("none", "1/2 high-pass 50-250 1 butterworth 2 A yes"),
        ),
    ] = None
    price: Annotated[
        float | None, Number("price", low=0, high=1_000_000, hint="All in one currency.")
    ] = None
    may_be_bridged: Annotated[bool | None, YesNo("can be bridged")] = None
    main_fuse_a: Annotated[
        float | None, unknown_at(POWER_CABLE, "maker_fuse_a", label="main fuse, from the manual")
    ] = None
    high_pass_hz: Annotated[str | None, _corners("high-pass", "50-250")] = None
    low_pass_hz: Annotated[str | None, _corners("low-pass", "50-250")] = None
    filter_db_per_octave: Annotated[
        str | None,
        Pattern(
            "filter slope, dB/octave",
            longest=20,
            is_good=is_slope_cell,
            notation="the slope in steps of 6 from 6 to 48, as ‘12’; several as ‘12/24’",
            examples=("12", "12/24"),
        ),
    ] = None
    not_printed: Annotated[str | None, not_printed_field()] = None
    role: Annotated[
        Role,
        Choice(
            "role in the plan",
            options=(
                ("planned", "planned"),
                ("candidate", "compared"),
                ("later", "planned for later"),
            ),
            hidden=True,
        ),
    ] = "planned"
    trigger_a: Annotated[
        float | None,
        Number(
            "current of its remote terminal",
            low=0,
            high=2,
            hint=("On the spec sheet; usually 0.01 to 0.05 A."),
        ),
    ] = None

    @property
    def faces(self) -> tuple[Face, ...]:
        """What is on each side, in the order of `SIDES`."""
        return (
            self.front_face,
            self.right_face,
            self.back_face,
            self.left_face,
            self.top_face,
        )

    @property
    def own_filters(self) -> OwnFilters:
        """Its filters, from whichever columns tell them; the full notation wins."""
        if self.filters is not None:
            return OwnFilters(filter_rows(self.filters))
        return plain_filters(
            self.channels, self.high_pass_hz, self.low_pass_hz, self.filter_db_per_octave
        )

    @property
    def filter_notices(self) -> tuple[str, ...]:
        """Where its plain columns contradict the full notation, in words."""
        if self.filters is None:
            return ()
        found = contradictions(
            filter_rows(self.filters),
            self.high_pass_hz,
            self.low_pass_hz,
            self.filter_db_per_octave,
        )
        return tuple(
            f"{self.name}: ‘{key}’ says {said}, but ‘filters’ says {full}. ‘filters’ was used: "
            "check which is right."
            for key, said, full in found
        )

    @property
    def may_bridge(self) -> bool | None:
        """Whether pairs of its channels may be bridged; None where it is not known.

        Who gives a bridged power says that they may, unless told otherwise.
        """
        if self.may_be_bridged is None and self.rated_bridged_w is not None:
            return True
        return self.may_be_bridged

    @property
    def own_fuses_a(self) -> tuple[float, ...] | None:
        """Its own fuses [A]; None where they are not known."""
        if self.fuses_a is None:
            return None
        return tuple(float(fuse) for fuse in self.fuses_a.split("/"))


COLUMNS: tuple[Field, ...] = tuple(
    field for field in fields_of(Amplifier).values() if not field.hidden
)
"""The columns of a stock list: all figures but those that only a plan's form holds."""

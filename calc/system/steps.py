"""What a system says of the car and of the wishes, in the steps of the job.

Each step's fields are those of its chapter's calculators wherever one asks for the same figure, so
that names, units and ranges are declared once.  A usual value is the attribute's default; what an
invented figure would stand for may be left empty: no system takes over a figure of the example.
"""

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from calc.cabling.kit_list import KIT_LIST
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.declared import INVENTED
from calc.inputs.fields import Choice, Number
from calc.inputs.rows import Rows
from calc.parts.bay import Entry, KeepOut
from calc.placement.bay_heat import BAY_HEAT
from calc.placement.mounting_reach import MOUNTING_REACH
from calc.setup.commissioning import COMMISSIONING
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.turn_on import TURN_ON
from calc.system import example_van
from calc.system.borrowed import borrowed
from calc.system.speakers import HeadFilter

Three = Literal["yes", "no", "not-known"]
Wish = Literal["must", "wish", "any"]
Arrangement = Literal["best", "apart", "joined", "radio", "bridged", "own-amplifier"]
Edge = Literal["open", "wall", "seat"]
Material = Literal["copper", "cca10", "cca15"]
Sizes = Literal["metric", "awg"]
Return = Literal["body", "cable"]
Duty = Literal["full", "heavy", "normal"]
_WISHES = (("must", "must-have"), ("wish", "nice-to-have"), ("any", "doesn’t matter"))


def _wish(label: str, example: str, hint: str = "") -> Choice:
    return Choice(label, example=example, options=_WISHES, hint=hint)


def _metres(label: str, example: float, hint: str = "") -> Number:
    return Number(label, example=example, low=0.05, high=100, hint=hint)


def _radio(key: str) -> Any:
    """A question about a factory radio: nothing is known of one's own until it is said."""
    return borrowed(SIGNAL_CHAIN, key)


@dataclass(frozen=True, kw_only=True)
class HeadUnit:
    """What plays now, what it brings, and how the amplifier may learn that it plays."""

    head_filters: Annotated[
        tuple[HeadFilter, ...],
        Rows(
            "Head unit’s filters",
            example=example_van.HEAD_FILTERS,
            most=12,
            row_name="filter",
            hint="Output: the same word as in the speaker list. Filters of an output that "
            "feeds no speaker are ignored. Remove all rows if it has no filters.",
        ),
    ] = ()
    kind: Annotated[
        Literal["factory", "replacement", "processor"] | None,
        Choice(
            "Head unit",
            start="replacement",
            options=(
                ("factory", "factory head unit"),
                ("replacement", "head unit with RCA outputs"),
                ("processor", "processor (DSP)"),
            ),
        ),
    ] = None
    source_v: Annotated[float | None, borrowed(SIGNAL_CHAIN, "source_v")] = None
    factory_power_w: Annotated[float | None, borrowed(SIGNAL_CHAIN, "factory_power_w")] = None
    factory_ohm: Annotated[float, borrowed(SIGNAL_CHAIN, "factory_ohm")] = 4.0
    trigger_available: Annotated[Three, borrowed(TURN_ON, "trigger_available", example="yes")]
    supply_always_live: Annotated[Three, borrowed(TURN_ON, "supply_always_live")]
    stop_start: Annotated[Three, borrowed(TURN_ON, "stop_start")]
    push_button: Annotated[Three, borrowed(TURN_ON, "push_button")]
    parked_days: Annotated[float, borrowed(TURN_ON, "parked_days")] = 7.0
    outputs_float: Annotated[Three, _radio("outputs_float")]
    bass_folds_back: Annotated[Three, _radio("bass_folds_back")]
    already_filtered: Annotated[Three, _radio("already_filtered")]
    checks_its_load: Annotated[Three, _radio("checks_its_load")]
    tweeter_capacitor: Annotated[bool, borrowed(FILTER_SPLIT, "tweeter_capacitor")] = False
    filters_every_output: Annotated[
        Literal["yes", "no"] | None,
        Choice(
            "DSP’s own filters",
            options=(
                ("yes", "high-pass and low-pass on every output"),
                ("no", "not on every output"),
            ),
            hint="Most DSPs have them from 20 Hz to 20 kHz, at 24 dB/octave (Linkwitz–Riley): look "
            "it up. Where filters are listed, only these count.",
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class Wishes:
    """How the speakers are to be put on channels, what the amplifier must have, and may have."""

    layout: Annotated[
        Arrangement,
        Choice(
            "Layout",
            start="best",
            options=(
                ("best", "the best"),
                ("apart", "each pair on its own channels"),
                ("joined", "front and rear in parallel, left with left"),
                ("radio", "rears stay on the head unit"),
                ("bridged", "bridged pairs"),
                ("own-amplifier", "sub on its own amplifier"),
            ),
            hint="Choose one to see what it gives; the best ones are compared below.",
        ),
    ] = "best"

    level_control: Annotated[
        Wish,
        _wish(
            "Remote level control (bass knob)",
            "must",
            "A knob on its own lead, within the driver’s reach.",
        ),
    ] = "any"
    boost: Annotated[Wish, _wish("Bass boost", "any")] = "any"
    cover: Annotated[Wish, _wish("Cover over the controls", "any")] = "any"
    screw_terminals: Annotated[Wish, _wish("Screw terminals", "any")] = "any"
    controls_in_place: Annotated[Wish, _wish("Controls within reach once it is in", "wish")] = "any"


@dataclass(frozen=True, kw_only=True)
class Bay:
    """The place for the amplifier, as `mounting-reach` asks for it."""

    bay_width_mm: Annotated[float | None, borrowed(MOUNTING_REACH, "bay_width_mm")] = None
    bay_depth_mm: Annotated[float | None, borrowed(MOUNTING_REACH, "bay_depth_mm")] = None
    bay_height_mm: Annotated[float | None, borrowed(MOUNTING_REACH, "bay_height_mm")] = None
    seat_travel_mm: Annotated[float, borrowed(MOUNTING_REACH, "seat_travel_mm")] = 0.0
    keep_outs: Annotated[
        tuple[KeepOut, ...], borrowed(MOUNTING_REACH, "keep_outs", source=INVENTED)
    ] = ()
    mounted_on: Annotated[Literal["floor", "wall"], borrowed(MOUNTING_REACH, "mounted_on")]
    front_edge: Annotated[Edge, borrowed(MOUNTING_REACH, "front_edge")]
    right_edge: Annotated[Edge, borrowed(MOUNTING_REACH, "right_edge")]
    back_edge: Annotated[Edge, borrowed(MOUNTING_REACH, "back_edge")]
    left_edge: Annotated[Edge, borrowed(MOUNTING_REACH, "left_edge")]
    top_edge: Annotated[Edge, borrowed(MOUNTING_REACH, "top_edge")]
    entries: Annotated[tuple[Entry, ...], borrowed(MOUNTING_REACH, "entries")] = ()
    power_room_mm: Annotated[float, borrowed(MOUNTING_REACH, "power_room_mm")] = 60.0
    speaker_room_mm: Annotated[float, borrowed(MOUNTING_REACH, "speaker_room_mm")] = 40.0
    signal_room_mm: Annotated[float, borrowed(MOUNTING_REACH, "signal_room_mm")] = 60.0
    controls_room_mm: Annotated[float, borrowed(MOUNTING_REACH, "controls_room_mm")] = 120.0
    fins_room_mm: Annotated[float, borrowed(MOUNTING_REACH, "fins_room_mm")] = 30.0


@dataclass(frozen=True, kw_only=True)
class Air:
    """How closed the place is, and how warm."""

    closed: Annotated[bool, borrowed(BAY_HEAT, "closed", start=False)]
    area_m2: Annotated[
        float | None, borrowed(BAY_HEAT, "area_m2", example=None, source=INVENTED)
    ] = None
    cabin_c: Annotated[float, borrowed(BAY_HEAT, "cabin_c")] = 25.0


@dataclass(frozen=True, kw_only=True)
class Leads:
    """Lengths of the leads, and the kind of cable."""

    power_m: Annotated[
        float | None,
        _metres(
            "Power cable, one way",
            3.0,
            "Measure along the route, from the battery to the amplifier.",
        ),
    ] = None
    earth_m: Annotated[
        float | None,
        _metres("Earth (ground) cable", 0.6, "From the amplifier to the vehicle body (chassis)."),
    ] = None
    branch_m: Annotated[
        float | None,
        Number(
            "Branch from the distribution block",
            low=0.05,
            high=100,
            hint="To each amplifier, if there are several; one way.",
        ),
    ] = None
    signal_m: Annotated[
        float | None,
        _metres(
            "RCA leads",
            5.5,
            "From the head unit to the amplifier; the remote lead runs with them.",
        ),
    ] = None
    kit_signal_m: Annotated[
        float | None,
        borrowed(
            KIT_LIST,
            "kit_signal_m",
            start=None,
            example=5.0,
            source="",
            empty="no cable kit is named",
            hint="The length in your cable kit; many have 5 m. 0 if it has none.",
        ),
    ] = None
    slack_percent: Annotated[float, borrowed(KIT_LIST, "slack_percent")] = 10.0
    speaker_loss_db: Annotated[float, borrowed(KIT_LIST, "speaker_loss_db")] = 0.5
    material: Annotated[Material, borrowed(POWER_CABLE, "material")] = "copper"
    sizes: Annotated[Sizes, borrowed(POWER_CABLE, "sizes")] = "metric"
    insulation_c: Annotated[float | None, borrowed(POWER_CABLE, "insulation_c")] = 105.0
    engine_space: Annotated[bool | None, borrowed(POWER_CABLE, "engine_space")] = None
    engine_c: Annotated[float, borrowed(POWER_CABLE, "engine_c")] = 50.0
    conductor_c: Annotated[float, borrowed(POWER_CABLE, "conductor_c")] = 50.0
    bundle: Annotated[int, borrowed(POWER_CABLE, "bundle")] = 1
    max_drop_v: Annotated[float, borrowed(POWER_CABLE, "max_drop_v")] = 0.5
    return_: Annotated[Return, borrowed(POWER_CABLE, "return", as_key="return")] = "body"
    body_mohm: Annotated[float, borrowed(POWER_CABLE, "body_mohm")] = 2.0
    connections_mohm: Annotated[float, borrowed(POWER_CABLE, "connections_mohm")] = 0.0


@dataclass(frozen=True, kw_only=True)
class Charging:
    """Alternator, battery and voltages of the vehicle, and how the system is played."""

    alternator_a: Annotated[float | None, borrowed(SUPPLY_BUDGET, "alternator_a")] = None
    vehicle_a: Annotated[float | None, borrowed(SUPPLY_BUDGET, "vehicle_a")] = None
    battery_ah: Annotated[float | None, borrowed(SUPPLY_BUDGET, "battery_ah")] = None
    duty: Annotated[Duty, borrowed(POWER_CABLE, "duty", label="Programme")] = "full"
    running_v: Annotated[float, borrowed(SUPPLY_BUDGET, "running_v")] = 14.4
    idle_percent: Annotated[float, borrowed(SUPPLY_BUDGET, "idle_percent")] = 50.0
    reserve_percent: Annotated[float, borrowed(SUPPLY_BUDGET, "reserve_percent")] = 50.0
    vehicle_off_a: Annotated[float, borrowed(SUPPLY_BUDGET, "vehicle_off_a")] = 0.0
    peukert: Annotated[float, borrowed(SUPPLY_BUDGET, "peukert")] = 1.2
    resting_v: Annotated[float, borrowed(SUPPLY_BUDGET, "resting_v")] = 12.6


@dataclass(frozen=True, kw_only=True)
class SetUp:
    """With what the levels are set."""

    charging_v: Annotated[float, borrowed(COMMISSIONING, "running_v")] = 14.2
    tone_dbfs: Annotated[
        float,
        Number(
            "Level of the test tones",
            low=-40,
            high=0,
            hint="0 dBFS is the loudest clean level; many fitters set gains at −5 or −10.",
        ),
    ] = 0.0
    meter_top_hz: Annotated[float | None, borrowed(GAIN_VOLTAGE, "meter_top_hz")] = None

"""The fields of a system, in the steps of the job.

A step's fields are those of its chapter's calculators wherever one asks for the same figure, so
that names, units and ranges are declared once.  What an invented figure would stand for may be
left empty here: a system of one's own never takes over a figure of the Lantern Van.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc.answers.calculator import Calculator
from calc.bridging.channel_map import CHANNEL_MAP
from calc.cabling.kit_list import KIT_LIST
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.choosing import lantern
from calc.choosing.columns import COLUMNS
from calc.coils.coil_wiring import COIL_WIRING
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.crossovers.split_fields import HEAD_UNIT, PASSIVE, SECTIONS
from calc.inputs.fields import Choice, Field, Number, Rows, Text, Whole
from calc.placement.bay_heat import BAY_HEAT
from calc.placement.fields import LONGEST_NAME
from calc.placement.mounting_reach import MOUNTING_REACH
from calc.setup.commissioning import COMMISSIONING
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.signal_chain import QUESTIONS as FACTORY_QUESTIONS
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.turn_on import TURN_ON

INVENTED = "invented, the Lantern Van"
MOST_SPEAKERS = 6
_WISHES = (("must", "must have"), ("wish", "would be good"), ("any", "does not matter"))


@dataclass(frozen=True)
class Step:
    """A step of the job: its name in a system file, its heading, its fields.

    `calculators` are those whose verdicts the step's own is made of.
    """

    name: str
    heading: str
    fields: tuple[Field, ...]


def _of(calculator: Calculator, key: str, **changes: object) -> Field:
    """Return a calculator's field; one with an invented figure may be empty in a system."""
    one = calculator.form.by_key[key]
    if "Lantern Van" in one.source:
        changes = {"optional": True, "source": INVENTED, **changes}
    return replace(one, **changes)


def _column(rows: Rows, key: str) -> Field:
    return next(column for column in rows.columns if column.key == key)


def _name(
    label: str, default: str, key: str = "name", *, optional: bool = False, refers: str = ""
) -> Text:
    return Text(
        key=key, label=label, default=default, longest=LONGEST_NAME, numbered=not optional,
        optional=optional, names="speaker" if label == "name" else "", refers=refers,
    )  # fmt: skip


_SECTIONS = CHANNEL_MAP.form.by_key["sections"]
_DRIVERS = COIL_WIRING.form.by_key["drivers"]
assert isinstance(_SECTIONS, Rows)
assert isinstance(_DRIVERS, Rows)

SPEAKERS = Rows(
    key="speakers", label="Speakers", default=lantern.SPEAKERS, source=INVENTED,
    most=MOST_SPEAKERS, row_name="speaker",
    hint="A row for each kind of speaker and place; figures of one speaker. Sensitivity with all "
    "its coils in parallel. Power to reach: empty is no must. Head-unit output: rows "
    "with the same word are fed by the same pair of leads.",
    columns=(
        _name("name", "front doors"),
        _column(_SECTIONS, "section"),
        replace(_column(_SECTIONS, "speakers"), key="count", label="how many"),
        Whole(key="coils", label="coils of each", default="1", low=1, high=4),
        replace(_column(_DRIVERS, "coil_ohm"), label="impedance of a coil"),
        replace(_column(_SECTIONS, "rated_w"), label="rating of one"),
        Number(
            key="need_w", label="power to reach", default="", low=0, high=5000, optional=True,
        ),
        _column(_SECTIONS, "sensitivity_db"),
        _column(SECTIONS, "lowest_hz"),
        _column(SECTIONS, "order"),
        _column(SECTIONS, "top_hz"),
        _column(SECTIONS, "wanted_hz"),
        _name("head-unit output", "front", "output", optional=True),
        Number(
            key="distance_m", label="distance to the listener", default="", low=0, high=50,
            optional=True,
        ),
        Number(
            key="lead_m", label="lead, the longest", default="", low=0.01, high=100, optional=True,
        ),
        Choice(
            key="enclosure", label="subwoofer’s box", default="", optional=True,
            options=(("sealed", "sealed"), ("ported", "ported"), ("not-known", "not known")),
        ),
        Number(
            key="tuning_hz", label="tuning of a ported box", default="", low=10, high=200,
            optional=True,
        ),
    ),
    added=2,
)  # fmt: skip
NETWORKS = Rows(
    key="networks", label="Passive networks", default=lantern.NETWORKS, source=INVENTED,
    optional=True, most=4, row_name="network",
    hint="Between two rows of speakers that hang on the same leads; one name only: a capacitor "
    "or a coil alone.",
    columns=(
        _name("speaker above", "", "above", optional=True, refers="speaker"),
        _name("speaker below", "", "below", optional=True, refers="speaker"),
        *(_column(PASSIVE, key) for key in ("frequency_hz", "family", "order")),
    ),
)  # fmt: skip
HEAD_FILTERS = Rows(
    key="head_filters", label="Head unit’s filters", default=lantern.HEAD_FILTERS,
    source=INVENTED, optional=True, most=12, row_name="filter",
    hint="Output: a word that stands with the speakers; a filter of an output that feeds none of "
    "them plays no part. Remove all rows where it has none.",
    columns=(
        _name("output", "front", "output"),
        *(column for column in HEAD_UNIT.columns if column.key != "channels"),
    ),
)  # fmt: skip
AMPLIFIER = Rows(
    key="amplifier", label="Amplifier", default=lantern.AMPLIFIER, source=INVENTED, optional=True,
    most=1, row_name="amplifier", columns=COLUMNS, added=2,
    hint="The one in hand, or the one taken from a shelf list. An empty figure is not known.",
)  # fmt: skip


def _wish(key: str, label: str, default: str, hint: str = "") -> Choice:
    return Choice(key=key, label=label, default=default, options=_WISHES, hint=hint)


def _metres(key: str, label: str, default: str, hint: str = "") -> Number:
    return Number(
        key=key, label=label, default=default, low=0.05, high=100, optional=True,
        source=INVENTED, hint=hint,
    )  # fmt: skip


SHARED_CABLE = (
    "material", "sizes", "insulation_c", "engine_space", "engine_c", "conductor_c", "bundle",
    "max_drop_v", "return", "body_mohm", "connections_mohm",
)  # fmt: skip
_MORE = {"more": True}

STEPS: tuple[Step, ...] = (
    Step("speakers", "1 Speakers", (SPEAKERS, NETWORKS)),
    Step(
        "head_unit",
        "2 Head unit",
        (
            HEAD_FILTERS,
            Choice(
                key="kind",
                label="What plays now",
                default="replacement",
                optional=True,
                options=(
                    ("replacement", "replacement radio"),
                    ("factory", "factory radio"),
                    ("processor", "processor with delays"),
                ),
            ),
            _of(SIGNAL_CHAIN, "source_v"),
            _of(SIGNAL_CHAIN, "factory_power_w"),
            _of(SIGNAL_CHAIN, "factory_ohm"),
            _of(TURN_ON, "trigger_available", default="yes", optional=False),
            _of(TURN_ON, "supply_always_live", optional=False, **_MORE),
            _of(TURN_ON, "stop_start", optional=False, **_MORE),
            _of(TURN_ON, "push_button", optional=False, **_MORE),
            _of(TURN_ON, "parked_days", **_MORE),
            *(_of(SIGNAL_CHAIN, one.key, optional=False, **_MORE) for one in FACTORY_QUESTIONS),
            replace(FILTER_SPLIT.form.by_key["tweeter_capacitor"], more=True),
        ),
    ),
    Step(
        "wishes",
        "3 Musts and wishes",
        (
            _wish("level_control", "Level control within reach", "must", "On a lead of its own."),
            _wish("boost", "Bass boost", "any"),
            _wish("cover", "Cover over the controls", "any"),
            _wish("screw_terminals", "Screw terminals", "any"),
            _wish("controls_in_place", "Controls reached with the amplifier in place", "wish"),
        ),
    ),
    Step(
        "bay",
        "4 Place",
        (
            *(
                _of(MOUNTING_REACH, key)
                for key in ("bay_width_mm", "bay_depth_mm", "bay_height_mm", "seat_travel_mm")
            ),
            replace(MOUNTING_REACH.form.by_key["keep_outs"], source=INVENTED),
            *(
                _of(MOUNTING_REACH, key, **_MORE)
                for key in (
                    "mounted_on",
                    "front_edge",
                    "right_edge",
                    "back_edge",
                    "left_edge",
                    "top_edge",
                    "entries",
                    "power_room_mm",
                    "speaker_room_mm",
                    "signal_room_mm",
                    "controls_room_mm",
                    "fins_room_mm",
                )
            ),
        ),
    ),
    Step(
        "air",
        "5 Air",
        (
            replace(BAY_HEAT.form.by_key["closed"], default="no"),
            _of(BAY_HEAT, "area_m2", default=""),
            _of(BAY_HEAT, "cabin_c"),
        ),
    ),
    Step(
        "leads",
        "6 Cable",
        (
            _metres("power_m", "Power cable, one way", "3", "From the battery to the amplifier."),
            _metres("earth_m", "Earth (ground) cable", "0.6", "From the amplifier to the body."),
            _metres("signal_m", "Signal leads", "5.5", "From the head unit; the trigger too."),
            _of(KIT_LIST, "kit_signal_m"),
            _of(KIT_LIST, "slack_percent"),
            _of(KIT_LIST, "speaker_loss_db", **_MORE),
            *(_of(POWER_CABLE, key, **_MORE) for key in SHARED_CABLE),
        ),
    ),
    Step(
        "supply",
        "7 Supply",
        (
            _of(SUPPLY_BUDGET, "alternator_a"),
            _of(SUPPLY_BUDGET, "vehicle_a"),
            _of(SUPPLY_BUDGET, "battery_ah"),
            replace(POWER_CABLE.form.by_key["duty"], label="Programme"),
            replace(SUPPLY_BUDGET.form.by_key["running_v"], more=False),
            _of(SUPPLY_BUDGET, "idle_percent"),
            _of(SUPPLY_BUDGET, "reserve_percent", **_MORE),
            _of(SUPPLY_BUDGET, "vehicle_off_a", **_MORE),
            _of(SUPPLY_BUDGET, "peukert"),
            _of(SUPPLY_BUDGET, "resting_v"),
        ),
    ),
    Step(
        "set_up",
        "8 Set-up",
        (
            replace(COMMISSIONING.form.by_key["running_v"], key="charging_v"),
            Number(
                key="tone_dbfs",
                label="Level of the test tones",
                default="0",
                low=-40,
                high=0,
                hint="0 dBFS is the loudest that is undistorted; many set with −5 or −10 "
                "(common practice, no source).",
            ),
            _of(GAIN_VOLTAGE, "meter_top_hz"),
        ),
    ),
    Step("amplifier", "9 Amplifier", (AMPLIFIER,)),
)
SYSTEM_FIELDS: tuple[Field, ...] = tuple(one for step in STEPS for one in step.fields)
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = tuple(
    (step.heading, tuple(one.key for one in step.fields)) for step in STEPS
)
STEP_OF: Mapping[str, Step] = {one.key: step for step in STEPS for one in step.fields}

"""A whole system: speakers, head unit, wishes, place, cable, supply."""

from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.inputs.declared import INVENTED, fields_of
from calc.inputs.field_base import Field
from calc.inputs.fields import Pattern
from calc.inputs.rows import Rows
from calc.system import example_van
from calc.system.amplifier import Amplifier
from calc.system.speakers import Network, SpeakerRow
from calc.system.steps import Air, Bay, Charging, HeadUnit, Leads, SetUp, Wishes

MOST_SPEAKERS = 6
MOST_AMPLIFIERS = 6  # side by side; more are a stock list


@dataclass(frozen=True, kw_only=True)
class System:
    """What is known of a job but for its amplifier."""

    speakers: Annotated[
        tuple[SpeakerRow, ...],
        Rows(
            "Speakers",
            example=example_van.SPEAKERS,
            most=MOST_SPEAKERS,
            row_name="speaker",
            hint="One row for each kind of speaker and place, with the figures of one speaker. "
            "Sensitivity: with all voice coils in parallel. Leave the power to reach "
            "empty if none is required. Head-unit output: use the same word for rows on "
            "the same pair of leads.",
            added=12,  # all after the rating
        ),
    ] = ()
    networks: Annotated[
        tuple[Network, ...],
        Rows(
            "Passive crossovers",
            example=example_van.NETWORKS,
            most=4,
            row_name="passive crossover",
            hint="Between two rows of speakers on the same leads. With one name only, it is a "
            "capacitor or an inductor alone.",
        ),
    ] = ()
    head_unit: HeadUnit
    wishes: Wishes
    bay: Bay
    air: Air
    leads: Leads
    charging: Charging
    set_up: SetUp
    example: Annotated[
        str | None,
        Pattern(
            "example",
            example=example_van.NAME,
            source=INVENTED,
            is_good=lambda text: all(part.isalnum() for part in text.split("-")),
            longest=40,
            notation="the name of an example whose figures are still here",
            examples=(example_van.NAME,),
            hidden=True,
        ),
    ] = None


AmplifierRows = Annotated[
    tuple[Amplifier, ...],
    Rows(
        "Amplifiers",
        example=example_van.AMPLIFIER,
        most=MOST_AMPLIFIERS,
        row_name="amplifier",
        added=43,  # all after the power at 4 Ω
        hint="Side by side, or one from a stock list. Enter what is on the box; enter ? for a "
        "figure that is not printed.",
    ),
]


@dataclass(frozen=True, kw_only=True)
class Planned:
    """A system with the amplifiers in hand: the one that is planned, and those compared."""

    system: System
    amplifier: AmplifierRows = ()


@dataclass(frozen=True)
class Step:
    """A step of the job: its name in a system file, its heading, its fields."""

    name: str
    heading: str
    fields: tuple[Field, ...]
    more: tuple[str, ...] = ()

    @property
    def group(self) -> Group:
        """The step as a group of the form."""
        keys = tuple(field.key for field in self.fields if field.key not in self.more)
        return Group(self.heading, keys, self.more)


_PLANNED = fields_of(Planned)
SYSTEM_FIELDS: tuple[Field, ...] = tuple(_PLANNED.values())


def _step(name: str, heading: str, part: type, *, shown: tuple[str, ...]) -> Step:
    fields = fields_of(part)
    more = tuple(key for key in fields if key not in shown)
    return Step(name, heading, tuple(fields.values()), more)


# The example has a table of its own in a file; in the form it stands, unseen, with the speakers.
ORIGIN = Step("origin", "1 Speakers", (_PLANNED["example"],))
STEPS: tuple[Step, ...] = (
    ORIGIN,
    Step("speakers", "1 Speakers", (_PLANNED["speakers"], _PLANNED["networks"])),
    _step(
        "head_unit",
        "2 Head unit",
        HeadUnit,
        shown=("head_filters", "kind", "source_v", "factory_power_w", "trigger_available"),
    ),
    _step(
        "wishes",
        "3 Must-haves and nice-to-haves",
        Wishes,
        shown=("layout", "level_control", "boost", "screw_terminals", "controls_in_place"),
    ),
    _step(
        "bay",
        "4 Mounting space",
        Bay,
        shown=("bay_width_mm", "bay_depth_mm", "bay_height_mm", "seat_travel_mm", "keep_outs"),
    ),
    _step("air", "5 Cooling", Air, shown=tuple(fields_of(Air))),
    _step(
        "leads",
        "6 Cables",
        Leads,
        shown=("power_m", "earth_m", "signal_m", "kit_signal_m", "slack_percent"),
    ),
    _step(
        "supply",
        "7 Alternator and battery",
        Charging,
        shown=("alternator_a", "vehicle_a", "battery_ah", "duty", "running_v"),
    ),
    _step("set_up", "8 Set-up", SetUp, shown=tuple(fields_of(SetUp))),
    Step("amplifier", "9 Amplifier", (_PLANNED["amplifier"],)),
)
_SPEAKERS = STEPS[1].group
GROUPS: tuple[Group, ...] = (
    Group(_SPEAKERS.heading, _SPEAKERS.keys, (*_SPEAKERS.more, *ORIGIN.group.keys)),
    *(step.group for step in STEPS[2:]),
)
STEP_OF = {field.key: step for step in STEPS for field in step.fields}

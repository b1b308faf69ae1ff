"""What `kit-list` asks."""

from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.cabling.groups import CABLE_GROUPS, CABLE_KEYS, DRAW_KEYS
from calc.cabling.kit_list.rows import Amplifier, DifferingLoad, Part, Route
from calc.inputs.fields import Choice, Number, Whole, YesNo
from calc.inputs.rows import Rows
from calc.parts.cable_kind import CableKind
from calc.parts.current_way import Way
from calc.parts.draw import Draw, Duty, SupplyVolts

RemoteFrom = Literal["head-unit", "supply"]


@dataclass(frozen=True, kw_only=True)
class Leads:
    """What is settled of the leads: lengths, losses, how the signal and the remote come."""

    slack_percent: Annotated[
        float,
        Number(
            "Slack",
            low=0,
            high=100,
            presets=(5, 10, 20),
            hint="Added to each length when buying.",
            source="common practice, no source",
        ),
    ] = 10.0
    kit_signal_m: Annotated[
        float,
        Number(
            "Signal leads in the cable kit",
            low=0,
            high=20,
            hint="0: none in the kit.",
            source="common practice, no source",
        ),
    ] = 5.0
    speaker_load_ohm: Annotated[
        float,
        Number(
            "Load of the speakers",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="The lowest of them.",
        ),
    ]
    loads: Annotated[
        tuple[DifferingLoad, ...],
        Rows(
            "Loads that differ, and subwoofers",
            most=16,
            row_name="load",
            added=1,
            hint="Where a speaker lead ends, as in the routes, the load there, and whether it is a "
            "subwoofer: such a lead loses at most 5 % of the power, or has 1.5 mm² and more.",
        ),
    ] = ()
    power_mm2: Annotated[
        float | None,
        Number(
            "Power cable, at least",
            low=0.5,
            high=120,
            hint="Where a thicker one is settled already; the earth follows it.",
        ),
    ] = None
    coil_links: Annotated[
        int,
        Whole(
            "Links between the coils of a speaker",
            low=0,
            high=32,
            hint="In all, as the coil wiring has them.",
        ),
    ] = 0
    remote_from: Annotated[
        RemoteFrom,
        Choice(
            "The remote (trigger) lead comes from",
            options=(
                ("head-unit", "the head unit"),
                ("supply", "a tapped supply, with its fuse"),
            ),
        ),
    ] = "head-unit"
    line_converter: Annotated[
        bool,
        YesNo(
            "Is a line-output converter needed?",
            hint="Where only speaker leads come from the head unit, and the amplifier takes RCA "
            "leads.",
        ),
    ] = False
    loom_adapter: Annotated[
        bool,
        YesNo(
            "Is there a loom adapter for the head unit?",
            hint="Then no factory lead is cut, and no splice is needed there.",
        ),
    ] = False
    mounting_board: Annotated[bool, YesNo("Are the amplifiers screwed to a board?")] = True
    parts: Annotated[
        tuple[Part, ...],
        Rows(
            "Parts of crossovers, and capacitors",
            most=24,
            row_name="part",
            hint="From the crossovers: what, its value, how many.",
        ),
    ] = ()
    speaker_loss_db: Annotated[
        float,
        Number(
            "Highest loss of a speaker lead",
            low=0.05,
            high=6,
            source="common practice, no source",
        ),
    ] = 0.5


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A whole job: its amplifiers, the ways of its leads, and what they have alike."""

    amplifiers: Annotated[
        tuple[Amplifier, ...],
        Rows(
            "Amplifiers",
            row_name="amplifier",
            most=6,
            example="Hazel 4-50,250,yes,2,3,0",
            added=8,
            hint="Outputs: terminals in use; a bridged pair is one. Y-leads: where "
            "the head unit has fewer plugs than the amplifier has inputs in use. What stands "
            "behind that may be empty: then the figures below hold.",
        ),
    ]
    routes: Annotated[
        tuple[Route, ...],
        Rows(
            "Routes",
            row_name="route",
            most=60,
            added=1,
            example="power,battery,Hazel 4-50,3;earth,Hazel 4-50,body,0.6;"
            "signal,head unit,Hazel 4-50,5.5;speaker,Hazel 4-50,left door,4.5;"
            "speaker,Hazel 4-50,right door,5.5;speaker,Hazel 4-50,woofers,2;"
            "trigger,head unit,Hazel 4-50,5.5",
            hint="A row for each lead, as it will be laid. Power starts at the battery. "
            "High-level: from a factory head unit’s speaker leads, a row for each channel.",
        ),
    ]
    leads: Leads
    supply_v: SupplyVolts = 14.4
    duty: Duty = "full"
    draw: Draw
    cable: CableKind
    way: Way


FORM = (
    Group("The job", ("amplifiers", "routes")),
    Group(
        "The leads",
        ("slack_percent", "kit_signal_m"),
        more=(
            "speaker_load_ohm", "loads", "speaker_loss_db", "power_mm2", "remote_from",
            "line_converter", "loom_adapter",
        ),
    ),
    Group("Parts and mounting", (), more=("coil_links", "parts", "mounting_board")),
    Group("What the amplifiers draw", ("efficiency_percent", "supply_v", "duty"), more=DRAW_KEYS),
    *CABLE_GROUPS,
)  # fmt: skip
ORDER = (
    "amplifiers", "routes", "slack_percent", "kit_signal_m", "speaker_load_ohm", "loads",
    "power_mm2", "coil_links", "remote_from", "line_converter", "loom_adapter", "mounting_board",
    "parts", "speaker_loss_db", "efficiency_percent", "supply_v", "duty", *DRAW_KEYS, *CABLE_KEYS,
)  # fmt: skip

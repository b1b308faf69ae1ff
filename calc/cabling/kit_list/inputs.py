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
    """What is settled of the leads: lengths, losses, where the signal and the remote come from."""

    slack_percent: Annotated[
        float,
        Number(
            "Slack",
            low=0,
            high=100,
            presets=(5, 10, 20),
            hint="Added to every length you buy.",
            source="slack",
        ),
    ] = 10.0
    kit_signal_m: Annotated[
        float,
        Number(
            "RCA leads in the cable kit",
            low=0,
            high=20,
            hint="Their length, on the kit’s label; 0 if it has none.",
            source="kit-contents",
        ),
    ] = 5.0
    speaker_load_ohm: Annotated[
        float,
        Number(
            "Speaker load",
            low=0.5,
            high=64,
            example=4.0,
            presets=(2, 4, 8),
            hint="Impedance of the speakers; the lowest if they differ.",
        ),
    ]
    loads: Annotated[
        tuple[DifferingLoad, ...],
        Rows(
            "Speakers that differ, and subs",
            most=16,
            row_name="speaker",
            added=1,
            hint="Where the cable ends, named as in the routes, the load there, and whether it "
            "is a "
            "subwoofer (sub): its cable may lose at most 5 % of the power, or is 1.5 mm² or more.",
        ),
    ] = ()
    power_mm2: Annotated[
        float | None,
        Number(
            "Power cable, minimum size",
            low=0.5,
            high=120,
            hint="If you have already chosen a thicker one. The earth cable is the same size.",
        ),
    ] = None
    coil_links: Annotated[
        int,
        Whole(
            "Voice coil links",
            low=0,
            high=32,
            hint="Links between voice coil terminals, all speakers together: see the wiring "
            "drawing.",
        ),
    ] = 0
    remote_from: Annotated[
        RemoteFrom,
        Choice(
            "Remote turn-on lead comes from",
            options=(
                ("head-unit", "the head unit"),
                ("supply", "a switched 12 V feed, with a fuse"),
            ),
        ),
    ] = "head-unit"
    line_converter: Annotated[
        bool,
        YesNo(
            "Line-output converter (LOC) needed?",
            hint="Yes if the head unit has only speaker outputs and the amplifier has only RCA "
            "(line-level) inputs.",
        ),
    ] = False
    loom_adapter: Annotated[
        bool,
        YesNo(
            "Loom adapter for the head unit?",
            hint="With one, no factory wire is cut or spliced at the head unit.",
        ),
    ] = False
    mounting_board: Annotated[bool, YesNo("Amplifiers screwed to a board?")] = True
    parts: Annotated[
        tuple[Part, ...],
        Rows(
            "Crossover parts and capacitors",
            most=24,
            row_name="part",
            hint="From the crossover settings: the part, its value, and how many.",
        ),
    ] = ()
    speaker_loss_db: Annotated[
        float,
        Number(
            "Speaker cable loss limit",
            low=0.05,
            high=6,
            source="half-decibel",
        ),
    ] = 0.5


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A whole job: its amplifiers, the routes of its leads, and what they have alike."""

    amplifiers: Annotated[
        tuple[Amplifier, ...],
        Rows(
            "Amplifiers",
            row_name="amplifier",
            most=6,
            example="Hazel 4-50,250,yes,2,3,0",
            added=8,
            hint="Outputs: how many are in use; a bridged pair is one. Y-leads: one for each RCA "
            "output of the head unit that feeds two inputs. Leave the rest empty to use the "
            "figures below.",
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
            "speaker,Hazel 4-50,right door,5.5;speaker,Hazel 4-50,subs,2;"
            "trigger,head unit,Hazel 4-50,5.5",
            hint="A row for each cable, measured as it will be laid. Power starts at the battery. "
            "Speaker-level (high-level): one row for each channel taken from a factory head unit.",
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
    Group("The amplifiers’ current", ("efficiency_percent", "supply_v", "duty"), more=DRAW_KEYS),
    *CABLE_GROUPS,
)  # fmt: skip
ORDER = (
    "amplifiers", "routes", "slack_percent", "kit_signal_m", "speaker_load_ohm", "loads",
    "power_mm2", "coil_links", "remote_from", "line_converter", "loom_adapter", "mounting_board",
    "parts", "speaker_loss_db", "efficiency_percent", "supply_v", "duty", *DRAW_KEYS, *CABLE_KEYS,
)  # fmt: skip

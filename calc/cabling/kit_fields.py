"""The fields of the kit list, and what is wrong with them together."""

from collections.abc import Iterable, Mapping
from typing import Any

from calc.cabling.fields import CABLE_FIELDS, CABLE_GROUPS, DEMAND_FIELDS, INVENTED
from calc.cabling.given import check_idle, check_own_fuses, check_regulated
from calc.cabling.kit_job import Route
from calc.cabling.kit_power import power_runs
from calc.cabling.tree import tree_problems
from calc.cabling.tree_inputs import LONGEST_NAME, MOST_RUNS, battery_is_fed, place_field
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Choice, Number, Rows, Text, Whole, YesNo

ROUTE_WORDS = ("power", "earth", "signal", "speaker", "trigger", "high-level")

FIELDS = (
    Rows(
        key="amplifiers", label="Amplifiers", row_name="amplifier", most=6, source=INVENTED,
        default="Hazel 4-50,250,yes,2,3,0", added=1,
        hint="Outputs: speakers’ leads that leave it; a bridged pair is one. Y-leads: where "
        "the head unit has fewer plugs than the amplifier has inputs in use.",
        columns=(
            Text(
                key="name", label="name", default="amplifier", longest=LONGEST_NAME,
                numbered=True,
            ),
            Number(
                key="total_power_w", label="power", default="250", low=1, high=20_000,
                optional=True,
            ),
            YesNo(key="trigger", label="turned on by a trigger", default="yes"),
            Whole(key="signal_pairs", label="signal pairs", default="2", low=0, high=8),
            Whole(key="outputs", label="outputs in use", default="4", low=0, high=16),
            Whole(
                key="y_leads", label="Y-leads", default="0", low=0, high=16, optional=True,
            ),
        ),
    ),
    Rows(
        key="routes", label="Routes", row_name="route", most=40, source=INVENTED,
        default="power,battery,Hazel 4-50,3;earth,Hazel 4-50,body,0.6;"
        "signal,head unit,Hazel 4-50,5.5;speaker,Hazel 4-50,left door,4.5;"
        "speaker,Hazel 4-50,right door,5.5;speaker,Hazel 4-50,woofers,2;"
        "trigger,head unit,Hazel 4-50,5.5",
        hint="A row for each lead, as it will be laid. Power starts at the battery. "
        "High-level: from a factory head unit’s speaker leads, a row for each channel.",
        columns=(
            Choice(
                key="what", label="what", default="speaker",
                options=tuple((word, word) for word in ROUTE_WORDS),
            ),
            place_field("from", "from", "amplifier"),
            place_field("to", "to", "door"),
            Number(
                key="length_m", label="length", default="3", low=0.01, high=100,
                optional=True,
            ),
        ),
    ),
    Number(
        key="slack_percent", label="Slack", default="10", low=0, high=100, presets=(5, 10, 20),
        hint="Added to each length when buying.", source="common practice, no source",
    ),
    Number(
        key="kit_signal_m", label="Signal leads in the cable kit", default="5", low=0, high=20,
        hint="0: none in the kit.", source="common practice, no source",
    ),
    Number(
        key="speaker_load_ohm", label="Load of the speakers", default="4", low=0.5, high=64,
        presets=(2, 4, 8), more=True, hint="The lowest of them.", source=INVENTED,
    ),
    Rows(
        key="loads", label="Loads that differ, and subwoofers", default="", optional=True,
        more=True, most=16, row_name="load", added=1,
        hint="Where a speaker lead ends, as in the routes, the load there, and whether it is a "
        "subwoofer: such a lead loses at most 5 % of the power, or has 1.5 mm² and more.",
        columns=(
            place_field("to", "to", "door"),
            Number(key="load_ohm", label="load", default="4", low=0.5, high=64, optional=True),
            YesNo(key="subwoofer", label="subwoofer", default="no", optional=True),
        ),
    ),
    Number(
        key="power_mm2", label="Power cable, at least", default="", low=0.5, high=120,
        optional=True, more=True,
        hint="Where a thicker one is settled already; the earth follows it.",
    ),
    Whole(
        key="coil_links", label="Links between the coils of a speaker", default="0", low=0,
        high=32, more=True, hint="In all, as the coil wiring has them.",
    ),
    Choice(
        key="remote_from", label="The remote (trigger) lead comes from", default="head-unit",
        more=True,
        options=(("head-unit", "the head unit"), ("supply", "a tapped supply, with its fuse")),
    ),
    YesNo(
        key="line_converter", label="Is a line-output converter needed?", default="no",
        more=True, hint="Where only speaker leads come from the head unit, and the amplifier "
        "takes RCA leads.",
    ),
    YesNo(
        key="loom_adapter", label="Is there a loom adapter for the head unit?", default="no",
        more=True, hint="Then no factory lead is cut, and no splice is needed there.",
    ),
    YesNo(
        key="mounting_board", label="Are the amplifiers screwed to a board?", default="yes",
        more=True,
    ),
    Rows(
        key="parts", label="Parts of crossovers, and capacitors", default="", optional=True,
        more=True, most=24, row_name="part",
        hint="From the crossovers: what, its value, how many.",
        columns=(
            Text(key="what", label="what", default="capacitor", longest=LONGEST_NAME),
            Text(key="value", label="value", default="10 µF 100 V", longest=LONGEST_NAME),
            Whole(key="quantity", label="how many", default="2", low=1, high=99, optional=True),
        ),
    ),
    Number(
        key="speaker_loss_db", label="Highest loss of a speaker lead", default="0.5", low=0.05,
        high=6, more=True, source="common practice, no source",
    ),
    *DEMAND_FIELDS,
    *CABLE_FIELDS,
)  # fmt: skip

GROUPS = (
    ("The job", ("amplifiers", "routes")),
    (
        "The leads",
        (
            "slack_percent", "kit_signal_m", "speaker_load_ohm", "loads",
            "speaker_loss_db", "power_mm2", "remote_from", "line_converter", "loom_adapter",
        ),
    ),
    ("Parts and mounting", ("coil_links", "parts", "mounting_board")),
    (
        "What the amplifiers draw",
        (
            "efficiency_percent", "supply_v", "duty", "amplifier_class", "idle_w",
            "regulated_min_v", "amp_fuses_a", "maker_fuse_a",
        ),
    ),
    *CABLE_GROUPS,
)  # fmt: skip


def routes_of(given: Mapping[str, Any]) -> tuple[Route, ...]:
    """Return the routes that the read values describe."""
    return tuple(
        Route(what=row["what"], start=row["from"], end=row["to"], length_m=row["length_m"])
        for row in given["routes"]
    )


def check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    errors = [*check_regulated(given), *check_own_fuses(given)]
    amplifiers = given.get("amplifiers")
    if amplifiers:
        names = [row["name"] for row in amplifiers]
        powers = [one for row in amplifiers if (one := row["total_power_w"]) is not None]
        errors += check_idle(given, min(powers, default=None))
        errors += [
            FieldError(
                "amplifiers", name, f"Amplifiers: {name} appears twice. Give each its own name."
            )
            for name in dict.fromkeys(names)
            if names.count(name) > 1
        ]
    if given.get("routes"):
        ends = {row["to"] for row in given["routes"] if row["what"] == "speaker"}
        errors += [
            FieldError(
                "loads",
                shown(row["to"]),
                f"Loads that differ: no speaker lead ends at "
                f"‘{shown(row['to'])}’. Give an end that stands in the routes.",
            )
            for row in given.get("loads") or ()
            if row["to"] not in ends
        ]
        runs = power_runs(routes_of(given))
        wrong = [message for _, message in tree_problems(runs, ())] if runs else []
        wrong += battery_is_fed(runs)
        if len(runs) > MOST_RUNS:
            wrong.append(f"{len(runs)} runs. Give up to {MOST_RUNS}.")
        roots = {run.start for run in runs} - {run.end for run in runs}
        wrong += [
            f"{row['name']} is fed by nothing; the first run starts at the battery."
            for row in amplifiers or ()
            if row["name"] in roots
        ]
        power = ", ".join(f"{run.start} to {run.end}" for run in runs)
        errors += [
            FieldError("routes", shown(power), f"Routes, power: {message}") for message in wrong
        ]
    return errors

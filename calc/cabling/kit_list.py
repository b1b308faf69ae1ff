"""The calculator `kit-list`: every lead, lug, fuse and holder that a job needs."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from typing import Any

from calc.cabling.drawings import tree_drawing
from calc.cabling.fields import CABLE_FIELDS, CABLE_GROUPS, DEMAND_FIELDS, INVENTED
from calc.cabling.given import check_idle, check_own_fuses, check_regulated, rules_of
from calc.cabling.kit_items import Item, items
from calc.cabling.kit_job import Amplifier, Job, Route, SignalKit, missing, signal_kit
from calc.cabling.optimum import least_conductor
from calc.cabling.tree import Plan, Run, Tree, tree_problems
from calc.cabling.tree_inputs import (
    LONGEST_NAME,
    MOST_RUNS,
    battery_is_fed,
    load_of,
    place_field,
)
from calc.cabling.tree_words import class_ab_drops, class_is_missing, dead_ends, own_fuses_caution
from calc.cabling.words import CABLE_CAUTIONS, CLAD, DUTIES, FUSES, NO_TABLE, PERMITTED, RESISTANCE
from calc.core.calculator import Calculator
from calc.core.errors import FieldError, shown
from calc.core.fields import Choice, Number, Rows, Text, Whole, YesNo
from calc.core.figures import listed, quantity
from calc.core.sheet import Column, Figure, Quantity, Sheet, Table, Verdict

_MIDWAY_V = 18.0  # between systems of 12 V and of 24 V
ROUTE_WORDS = ("power", "earth", "signal", "speaker", "trigger", "high-level")


def kit_list(given: Mapping[str, Any]) -> Sheet:
    """Compute `kit-list`."""
    job, tree = _job(given), _power_tree(given)
    plan = least_conductor(tree, job.rules) if tree else None
    lacking, found, signal = missing(job), items(job, tree, plan), signal_kit(job)
    bounds = class_ab_drops(given, tree, plan) if tree else None
    return Sheet(
        sentence=_sentence(given, tree, plan, signal),
        verdict=_verdict(job, tree, plan, lacking, bounds, signal),
        results={
            "items": [asdict(one) for one in found],
            "kit_signal": asdict(signal),
            "missing": lacking,
        },
        figures=(
            Figure("Fuses", Quantity(sum(1 for one in plan.fuses_a if one) if plan else None)),
            Figure("Power and earth cable", _length(found, ("power", "earth", "return"))),
            Figure("Speaker lead", _length(found, ("speaker",))),
            Figure("Kit’s signal lead, to spare", Quantity(signal.spare_m, "m")),
        ),
        drawings=(tree_drawing("The power runs", tree, plan),) if tree and plan else (),
        tables=(_items_table(given, found),),
        cautions=(
            *((f"Not known yet: {'; '.join(lacking)}.",) if lacking else ()),
            *(dead_ends(tree) if tree else ()),
            *own_fuses_caution(given, plan),
            *((CLAD,) if given["material"] != "copper" else ()),
            "Fuse holders, lugs and blocks must be made for the cable’s size and for the fuse’s "
            "current; a loose crimp burns.",
            *CABLE_CAUTIONS,
        ),
        steps=(
            "Power runs: the sizes and fuses of trunk and branches, for the least conductor"
            + (
                "."
                if given["power_mm2"] is None
                else f", none thinner than {quantity(given['power_mm2'], 'mm²')}."
            ),
            "Earth: the size of the positive that feeds the same place.",
            f"Lengths: as routed, and {quantity(given['slack_percent'], '%')} more to buy. "
            "Sizes are worked out for the length as routed.",
            "Signal: the kit’s lead against the longest route with its slack.",
            f"Speaker leads: the smallest size of copper at 20 °C that loses at most "
            f"{quantity(given['speaker_loss_db'], 'dB')} into its load, "
            f"{quantity(given['speaker_load_ohm'], 'Ω')} where none is given.",
            "More than one amplifier on the trigger: a relay, because an output for one amplifier "
            "may not carry several.",
        ),
        unknowns=(
            "How many pairs of signal leads the kit holds, and what they are worth.",
            "How many holes the routes pass: one grommet for each run from the battery at least.",
            "The bolts of battery and body, and the terminals of amplifier and block: look before "
            "you buy lugs.",
            "Adapters for factory plugs, brackets and screws.",
        ),
        sources=(
            RESISTANCE,
            PERMITTED,
            FUSES,
            DUTIES,
            "Cable kits bring signal leads of 5 m as a rule: common practice, no source.",
        ),
    )


def _job(given: Mapping[str, Any]) -> Job:
    return Job(
        amplifiers=tuple(
            Amplifier(
                name=row["name"],
                power_w=row["total_power_w"],
                trigger=row["trigger"],
                signal_pairs=row["signal_pairs"],
                outputs=row["outputs"],
                y_leads=row["y_leads"],
            )
            for row in given["amplifiers"]
        ),
        routes=tuple(
            Route(what=row["what"], start=row["from"], end=row["to"], length_m=row["length_m"])
            for row in given["routes"]
        ),
        rules=replace(rules_of(given), least_mm2=given["power_mm2"] or 0.0),
        nominal_v=12 if given["supply_v"] < _MIDWAY_V else 24,
        slack_percent=given["slack_percent"],
        kit_signal_m=given["kit_signal_m"],
        lead_load_ohm=given["speaker_load_ohm"],
        lead_loss_db=given["speaker_loss_db"],
        own_loads={row["to"]: row["load_ohm"] for row in given["loads"]},
    )


def _power_runs(given: Mapping[str, Any]) -> tuple[Run, ...]:
    return tuple(
        Run(start=row["from"], end=row["to"], length_m=row["length_m"])
        for row in given["routes"]
        if row["what"] == "power"
    )


def _power_tree(given: Mapping[str, Any]) -> Tree | None:
    """Return the tree of the power routes, with the amplifiers that they reach."""
    runs = _power_runs(given)
    reached = {run.end for run in runs}
    loads = tuple(
        load_of(given, row["name"], row["total_power_w"])
        for row in given["amplifiers"]
        if row["name"] in reached
    )
    return Tree(runs=runs, loads=loads) if runs and loads else None


def _length(found: tuple[Item, ...], words: tuple[str, ...]) -> Quantity:
    total = sum(
        one.quantity * one.length_m
        for one in found
        if one.length_m is not None and one.item.split(" ")[0] in words
    )
    return Quantity(total, "m")


def _sentence(
    given: Mapping[str, Any], tree: Tree | None, plan: Plan | None, signal: SignalKit
) -> str:
    if tree is None or plan is None:
        told = "No power cable can be listed yet"
    else:
        first = [
            f"{plan.offers[at].size.words} with a fuse of {quantity(plan.fuses_a[at], 'A')}"
            for at in tree.trunks
        ]
        told = f"From the {tree.root} take {listed(first)}"
    return f"{told}; {_signal_words(given, signal)}."


def _signal_words(given: Mapping[str, Any], signal: SignalKit) -> str:
    if not signal.pairs:
        return "no signal lead is needed"
    if not given["kit_signal_m"]:
        return "signal leads are to be bought by the list"
    if signal.spare_m is None:
        return "how long the signal leads must be is not known"
    if signal.enough:
        return f"the kit’s signal leads reach, with {quantity(signal.spare_m, 'm', 3)} to spare"
    return (
        f"the kit’s signal leads of {quantity(given['kit_signal_m'], 'm')} are too short by "
        f"{quantity(-signal.spare_m, 'm', 3)}"
    )


def _verdict(
    job: Job,
    tree: Tree | None,
    plan: Plan | None,
    lacking: list[str],
    bounds: tuple[float, ...] | None,
    signal: SignalKit,
) -> Verdict:
    if tree is not None and plan is None:
        if job.rules.offers[-1].permitted_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict(
            "unsuitable",
            "no choice of sizes feeds the amplifiers within the rules; the calculator for trunk "
            "and branches says why.",
        )
    if lacking or tree is None:
        return Verdict("not known", f"{'; '.join(lacking) or 'no power route'}.")
    if bounds and not job.rules.keeps(max(bounds)):
        return Verdict("not known", class_is_missing(tree, job.rules, bounds))
    longer = signal.enough is False and bool(job.kit_signal_m)
    return Verdict(
        "suitable",
        "every amplifier has its routes, and every cable its fuse"
        + ("; buy longer signal leads than the kit’s." if longer else "."),
    )


def _items_table(given: Mapping[str, Any], found: tuple[Item, ...]) -> Table:
    return Table(
        caption=f"Kit list; lengths with {quantity(given['slack_percent'], '%')} slack",
        columns=(
            Column("Item"),
            Column("How many"),
            Column("Size"),
            Column("Length of each", "m", decimals=1),
            Column("Why", wide=True),
        ),
        rows=tuple(
            (
                one.item,
                one.quantity,
                one.size,
                "–" if one.length_m is None else Quantity(one.length_m),
                one.reason,
            )
            for one in found
        ),
    )


def check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    errors = [*check_regulated(given), *check_own_fuses(given)]
    amplifiers = given.get("amplifiers")
    if amplifiers:
        names = [row["name"] for row in amplifiers]
        errors += check_idle(given, min(row["total_power_w"] for row in amplifiers))
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
        runs = _power_runs(given)
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


KIT_LIST = Calculator(
    name="kit-list",
    title="Kit list",
    question="What do I need to buy for this job, how much of it, and why?",
    fields=(
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
                Number(key="total_power_w", label="power", default="250", low=1, high=20_000),
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
                Number(key="length_m", label="length", default="3", low=0.01, high=100),
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
            key="loads", label="Loads that differ", default="", optional=True, more=True,
            most=16, row_name="load",
            hint="Where a speaker lead ends, as in the routes, and the load there.",
            columns=(
                place_field("to", "to", "door"),
                Number(key="load_ohm", label="load", default="4", low=0.5, high=64),
            ),
        ),
        Number(
            key="power_mm2", label="Power cable, at least", default="", low=0.5, high=120,
            optional=True, more=True,
            hint="Where a thicker one is settled already; the earth follows it.",
        ),
        Number(
            key="speaker_loss_db", label="Highest loss of a speaker lead", default="0.5", low=0.05,
            high=6, more=True, source="common practice, no source",
        ),
        *DEMAND_FIELDS,
        *CABLE_FIELDS,
    ),
    groups=(
        ("The job", ("amplifiers", "routes")),
        (
            "The leads",
            (
                "slack_percent", "kit_signal_m", "speaker_load_ohm", "loads", "speaker_loss_db",
                "power_mm2",
            ),
        ),
        (
            "What the amplifiers draw",
            (
                "efficiency_percent", "supply_v", "duty", "amplifier_class", "idle_w",
                "regulated_min_v", "amp_fuses_a", "maker_fuse_a",
            ),
        ),
        *CABLE_GROUPS,
    ),
    compute=kit_list,
    check=check,
)  # fmt: skip

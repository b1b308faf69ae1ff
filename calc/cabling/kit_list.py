"""The calculator `kit-list`: every lead, terminal, fuse and holder that a job needs."""

from collections.abc import Mapping
from dataclasses import asdict, replace
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, quantity
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table, Verdict
from calc.cabling.drawings import tree_drawing
from calc.cabling.given import place_unknown, place_words, rules_of
from calc.cabling.kit_fields import FIELDS, GROUPS, check, routes_of
from calc.cabling.kit_items import items
from calc.cabling.kit_job import (
    Amplifier,
    Job,
    Part,
    SignalKit,
    missing,
    signal_kit,
    speaker_leads,
)
from calc.cabling.kit_parts import Item
from calc.cabling.kit_power import Power, power_of
from calc.cabling.tree_words import class_ab_drops, class_is_missing, dead_ends, own_fuses_caution
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD,
    DUTIES,
    DUTY_WORDS,
    FUSES,
    KIT_FUSE,
    KIT_METAL,
    LEAST_SIZE,
    NO_TABLE,
    PERMITTED,
    RESISTANCE,
)

_POWER_CABLES = ("power cable", "return cable", "earth cable")
_MIDWAY_V = 18.0  # between systems of 12 V and of 24 V


def kit_list(given: Mapping[str, Any]) -> Sheet:
    """Compute `kit-list`."""
    job = _job(given)
    power = power_of(given, job)
    plan = power.plan if power else None
    lacking, found, signal = missing(job), items(job, power), signal_kit(job)
    fuses = [one.quantity or 0 for one in found if one.item == "fuse"]
    return Sheet(
        sentence=_sentence(given, power, signal),
        verdict=_verdict(given, job, power, lacking, signal),
        results={
            "items": [asdict(one) for one in found],
            "kit_signal": asdict(signal),
            "missing": lacking,
            "drops": _drops(job, power),
            "speaker_leads": speaker_leads(job),
            "fuse_note": power.note if power else None,
        },
        figures=(
            Figure("Fuses", Quantity(sum(fuses) if plan else None)),
            Figure("Power and earth cable", _length(found, _POWER_CABLES)),
            Figure("Speaker lead", _length(found, ("speaker lead, two conductors",))),
            Figure("Kit’s signal lead, to spare", Quantity(signal.spare_m, "m")),
        ),
        drawings=(tree_drawing("The power runs", power.tree, plan),) if power and plan else (),
        tables=(_items_table(given, found),),
        cautions=(
            *((f"Not known yet: {'; '.join(lacking)}.",) if lacking else ()),
            *(dead_ends(power.tree) if power else ()),
            *own_fuses_caution(given, plan),
            *((CLAD,) if given["material"] != "copper" else (KIT_METAL,)),
            KIT_FUSE,
            "Fuse holders, terminals and blocks must be made for the cable’s size and for the "
            "fuse’s current; a loose crimp burns.",
            *CABLE_CAUTIONS,
        ),
        steps=_steps(given),
        unknowns=(
            *place_unknown(given),
            "How many pairs of signal leads the kit holds, and what they are worth.",
            "How many holes the routes pass: one grommet for each run from the battery at least.",
            "The bolts of battery and body, and the terminals of amplifier, block and speakers: "
            "look before you buy terminals.",
            "Which loom adapter this vehicle takes, and what the board needs beneath it.",
        ),
        sources=(
            RESISTANCE,
            PERMITTED,
            LEAST_SIZE,
            FUSES,
            DUTIES,
            "Cable kits bring signal leads of 5 m as a rule, and a fuse of 60 A; earth leads of "
            "0.5 m; 5 % of a subwoofer’s power: common practice, no source.",
        ),
    )


def _steps(given: Mapping[str, Any]) -> tuple[str, ...]:
    least = given["power_mm2"]
    return (
        "Power runs: the sizes and fuses of trunk and branches, for the least conductor, with the "
        "earth lead of each amplifier in its drop"
        + ("." if least is None else f"; none thinner than {quantity(least, 'mm²')}."),
        "To buy: the next of 8, 4, 2, 1/0 AWG or 10, 20, 35, 50 mm². Earth: the size of the "
        "positive that feeds the same place.",
        f"Lengths: as routed, and {quantity(given['slack_percent'], '%')} more to buy. Power is "
        "sized for the length as routed, a speaker lead for the length bought.",
        "Signal: the kit’s lead against the longest route with its slack.",
        f"Speaker leads: the smallest size of copper at 20 °C that loses at most "
        f"{quantity(given['speaker_loss_db'], 'dB')} into its load, "
        f"{quantity(given['speaker_load_ohm'], 'Ω')} where none is given; to a subwoofer at most "
        "5 % of its power (0.22 dB), else 1.5 mm² or more.",
        "More than one amplifier on the remote lead: a relay, because an output for one amplifier "
        "may not carry several.",
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
        routes=routes_of(given),
        rules=replace(rules_of(given), least_mm2=given["power_mm2"] or 0.0),
        nominal_v=12 if given["supply_v"] < _MIDWAY_V else 24,
        slack_percent=given["slack_percent"],
        kit_signal_m=given["kit_signal_m"],
        lead_load_ohm=given["speaker_load_ohm"],
        lead_loss_db=given["speaker_loss_db"],
        own_loads={
            row["to"]: row["load_ohm"] for row in given["loads"] if row["load_ohm"] is not None
        },
        subwoofers=frozenset(row["to"] for row in given["loads"] if row["subwoofer"]),
        coil_links=given["coil_links"],
        remote_from=given["remote_from"],
        is_converted=given["line_converter"],
        has_loom_adapter=given["loom_adapter"],
        has_board=given["mounting_board"],
        parts=tuple(
            Part(what=row["what"], value=row["value"], quantity=row["quantity"])
            for row in given["parts"]
        ),
    )


def _length(found: tuple[Item, ...], words: tuple[str, ...]) -> Quantity:
    """Return the length of all leads of these kinds; None where one is not known."""
    lengths = [
        None if one.length_m is None or one.quantity is None else one.quantity * one.length_m
        for one in found
        if one.item in words
    ]
    known = [one for one in lengths if one is not None]
    return Quantity(sum(known) if len(known) == len(lengths) else None, "m")


def _drops(job: Job, power: Power | None) -> list[dict[str, Any]]:
    """Return what each amplifier loses on its way: with the least sizes, and with those bought."""
    lost: dict[str, dict[str, Any]] = {}
    if power is not None and power.plan is not None:
        full = power.kit.full_drops_v or (None,) * len(power.tree.loads)
        for load, drop_v, kit_drop_v in zip(
            power.tree.loads, power.plan.drops_v, full, strict=True
        ):
            lost[load.at] = {"drop_v": drop_v, "kit_drop_v": kit_drop_v}
    nothing = {"drop_v": None, "kit_drop_v": None}
    return [{"amplifier": one.name, **lost.get(one.name, nothing)} for one in job.amplifiers]


def _sentence(given: Mapping[str, Any], power: Power | None, signal: SignalKit) -> str:
    plan = power and power.plan
    if power is None or plan is None:
        told = "No power cable can be sized yet"
    else:
        first = [
            f"{_bought(power, at)} with a fuse of {quantity(plan.fuses_a[at], 'A')}"
            for at in power.tree.trunks
        ]
        told = (
            f"Sized for {DUTY_WORDS[given['duty']]}: from the {power.tree.root} take "
            f"{listed(first)}"
        )
    return f"{told}; {_signal_words(given, signal)}."


def _bought(power: Power, at: int) -> str:
    """Return the size to buy for a run, or its least size where none is sold."""
    kit, plan = power.kit.offers[at], power.plan
    if kit is not None:
        return kit.size.words
    return plan.offers[at].size.words if plan else "a cable"


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
    given: Mapping[str, Any],
    job: Job,
    power: Power | None,
    lacking: list[str],
    signal: SignalKit,
) -> Verdict:
    if power is not None and power.plan is None and power.is_refused:
        if job.rules.widest_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict(
            "unsuitable",
            "no choice of sizes feeds the amplifiers within the rules; the calculator for trunk "
            "and branches says why.",
        )
    if lacking or power is None:
        return Verdict("not known", f"{'; '.join(lacking) or 'no power route'}.")
    bounds = class_ab_drops(given, power.tree, power.plan)
    if bounds and not job.rules.keeps(max(bounds)):
        return Verdict("not known", class_is_missing(power.tree, job.rules, bounds))
    longer = signal.enough is False and bool(job.kit_signal_m)
    return Verdict(
        "suitable",
        f"every amplifier has its routes, and every cable its fuse, counted {place_words(given)}"
        + ("; buy longer signal leads than the kit’s." if longer else "."),
    )


def _items_table(given: Mapping[str, Any], found: tuple[Item, ...]) -> Table:
    return Table(
        name="kit",
        caption=f"Kit list; lengths with {quantity(given['slack_percent'], '%')} slack",
        columns=(
            Column("Item"),
            Column("How many"),
            Column("Size"),
            Column("To buy"),
            Column("Length of each", "m", decimals=1),
            Column("Why", wide=True),
        ),
        rows=tuple(
            (
                one.item,
                "not known" if one.quantity is None else one.quantity,
                one.size or "not known",
                one.kit_size or "–",
                "–" if one.length_m is None else Quantity(one.length_m),
                one.reason,
            )
            for one in found
        ),
    )


KIT_LIST = Calculator(
    name="kit-list",
    title="Kit list",
    question="What do I need to buy for this job, how much of it, and why?",
    fields=FIELDS,
    groups=GROUPS,
    compute=kit_list,
    check=check,
)

"""What a plan asks about a layout: channels, coils, filters, heat, cable, supply."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from calc.bridging.bridged_output import BRIDGED_OUTPUT
from calc.bridging.channel_map import CHANNEL_MAP
from calc.bridging.mapping import Output
from calc.bridging.model import CTA_2006_V
from calc.bridging.settled import outputs_text
from calc.cabling.demand import Demand
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.columns import filter_rows
from calc.choosing.fields import SHARED_CABLE
from calc.choosing.job import Job
from calc.choosing.layouts import Layout
from calc.coils.coil_wiring import COIL_WIRING
from calc.core.calculator import Calculator
from calc.core.figures import exact
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.crossovers.split_plan import section_names
from calc.placement.bay_heat import BAY_HEAT

Amplifier = Mapping[str, Any]


def _plate(job: Job, amplifier: Amplifier, calculator: Calculator) -> dict[str, Traced]:
    """Return the figures of the plate and of the supply."""
    inputs = {
        key: of_amplifier(amplifier, key, calculator, key)
        for key in (
            "power_4ohm_w",
            "power_2ohm_w",
            "power_8ohm_w",
            "rated_bridged_w",
            "min_channel_ohm",
            "regulated_min_v",
        )
    }
    rated = amplifier["rated_v"]
    inputs["rated_v"] = (
        Traced(exact(CTA_2006_V), "CTA-2006, where the plate is silent")
        if rated is None
        else of_amplifier(amplifier, "rated_v", calculator, "rated_v")
    )
    inputs["regulated"] = (
        Traced("no", "not known: taken as unregulated")
        if amplifier["regulated"] is None
        else of_amplifier(amplifier, "regulated", calculator, "regulated")
    )
    inputs["supply_v"] = of_system(job, "running_v", calculator, "supply_v")
    return inputs


def channel_map(layout: Layout, amplifier: Amplifier) -> Ask:
    """Ask for the channels of every section, at the wirings chosen."""
    rows = [
        {
            "section": feed.section,
            "load_ohm": exact(wiring.load_ohm),
            "rated_w": exact(wiring.section(feed).rated_w),
            "sensitivity_db": exact(wiring.section(feed).sensitivity_db),
            "speakers": str(wiring.units),
        }
        for feed, wiring, _ in layout.uses
    ]
    settled = [
        {"row": str(number), "outputs": outputs_text(use.outputs)}
        for number, use in enumerate(layout.plan.uses, start=1)
    ]
    inputs = {
        "sections": Traced(
            rows_text(CHANNEL_MAP, "sections", rows), "1 Speakers, with the wiring chosen"
        ),
        "settled": Traced(rows_text(CHANNEL_MAP, "settled", settled), "worked out: the plan"),
        "channels": of_amplifier(amplifier, "channels", CHANNEL_MAP, "channels"),
        **_plate(layout.job, amplifier, CHANNEL_MAP),
    }
    return Ask(calculator=CHANNEL_MAP, inputs=inputs)


def bridged_outputs(layout: Layout, amplifier: Amplifier) -> list[Ask]:
    """Ask for each feed on bridged pairs."""
    return [
        Ask(
            calculator=BRIDGED_OUTPUT,
            whom=feed.name,
            inputs={
                "load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
                **_plate(layout.job, amplifier, BRIDGED_OUTPUT),
            },
        )
        for feed, _, use in layout.uses
        if len(use.outputs[0]) == 2
    ]


def coil_wirings(layout: Layout) -> list[Ask]:
    """Ask how to wire the coils of each output that has more than one."""
    found = []
    for feed, wiring, use in layout.uses:
        drivers = wiring.drivers * use.per_output
        coils = feed.speaker["coils"]
        if drivers * coils == 1:
            continue
        row = feed.rows[0]
        bridged = len(use.outputs[0]) == 2
        inputs = {
            "drivers": Traced(str(drivers), "worked out: speakers on one output"),
            "coils_per_driver": Traced(
                str(coils), f"1 Speakers: {feed.name}", ("speakers", row, "coils")
            ),
            "coil_ohm": Traced(
                exact(feed.speaker["coil_ohm"]),
                f"1 Speakers: {feed.name}",
                ("speakers", row, "coil_ohm"),
            ),
            "min_load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
            "bridged": Traced("yes" if bridged else "no", "worked out: channel map"),
            "power_w": Traced(
                "" if use.power.best is None else exact(use.power.best), "worked out: channel map"
            ),
        }
        found.append(Ask(calculator=COIL_WIRING, whom=feed.name, inputs=inputs))
    return found


def channel_texts(outputs: Sequence[Output]) -> list[str]:
    """Return outputs as `filter-split` names them, a text for each pair of channels.

    >>> channel_texts([(1,), (2,), (3,)]), channel_texts([(3, 4)])
    (['1/2', '3'], ['3+4'])
    """
    pairs: dict[int, list[Output]] = {}
    for output in outputs:
        pairs.setdefault((output[0] - 1) // 2, []).append(output)
    return [
        "+".join(map(str, own[0])) if len(own[0]) == 2 else "/".join(str(one[0]) for one in own)
        for own in pairs.values()
    ]


def own_names(job: Job, assignment: Sequence[Sequence[Output]]) -> list[tuple[str, str]]:
    """Return what `filter-split` calls each section, and the name of its speakers."""
    rows = [
        job.speakers[row]
        for feed, outputs in zip(job.feeds, assignment, strict=True)
        for _ in channel_texts(outputs)
        for row in reversed(feed.rows)
    ]
    words = section_names([row["section"] for row in rows])
    return [(word, row["name"]) for word, row in zip(words, rows, strict=True)]


def filter_split(job: Job, assignment: Sequence[Sequence[Output]], amplifier: Amplifier) -> Ask:
    """Ask which box makes which filter, with the feeds on their outputs."""
    texts = [channel_texts(outputs) for outputs in assignment]
    sections = [
        {
            "section": job.speakers[row]["section"],
            "channels": text,
            **{
                key: "" if value is None else exact(value)
                for key, value in job.speakers[row].items()
                if key in ("lowest_hz", "top_hz", "wanted_hz")
            },
            "order": str(job.speakers[row]["order"]),
            "level_db": "0",
        }
        for feed, own in zip(job.feeds, texts, strict=True)
        for text in own
        for row in reversed(feed.rows)
    ]
    tweeters = [row for row in job.speakers if row["section"] == "tweeter"]
    ohm = tweeters[0]["coil_ohm"] if tweeters else 4.0
    inputs = {
        "sections": Traced(
            rows_text(FILTER_SPLIT, "sections", sections), "1 Speakers, on the channels chosen"
        ),
        "head_unit": Traced(_head_rows(job, assignment), "2 Head unit: filters"),
        "amplifier": Traced(
            filter_rows(amplifier["filters"] or "none"), f"the amplifier {amplifier['name']}"
        ),
        "passive": Traced(_network_rows(job, texts), "1 Speakers: passive networks"),
        "tweeter_capacitor": of_system(job, "tweeter_capacitor", FILTER_SPLIT),
        "tweeter_ohm": Traced(exact(ohm), "1 Speakers: impedance of a coil"),
    }
    return Ask(calculator=FILTER_SPLIT, inputs=inputs)


def _head_rows(job: Job, assignment: Sequence[Sequence[Output]]) -> str:
    """Return the head unit's filters with the channels that each output feeds."""
    channels: dict[str, set[int]] = {}
    for feed, outputs in zip(job.feeds, assignment, strict=True):
        own = channels.setdefault(feed.speaker["output"], set())
        own |= {channel for output in outputs for channel in output}
    field = FILTER_SPLIT.form.by_key["head_unit"]
    rows = [
        {**row, "channels": "/".join(map(str, sorted(channels[row["output"]])))}
        for row in job.given["head_filters"]
        if channels.get(row["output"])
    ]
    return field.write(rows)


def _network_rows(job: Job, texts: Sequence[Sequence[str]]) -> str:
    at = {row["name"]: number for number, row in enumerate(job.speakers)}
    rows = []
    for one in job.given["networks"]:
        side = "low-pass" if one["above"] is None else "high-pass"
        if one["above"] is not None and one["below"] is not None:
            side = "both"
        name = one["below"] if one["above"] is None else one["above"]
        rows += [
            {
                "channels": text,
                "frequency_hz": exact(one["frequency_hz"]),
                "family": one["family"],
                "order": str(one["order"]),
                "side": side,
            }
            for text in texts[job.feed_of(at[name])]
        ]
    return rows_text(FILTER_SPLIT, "passive", rows)


# ---- what follows from the power in use


def _total(total_w: float | None, calculator: Calculator, key: str) -> dict[str, Traced]:
    text = "" if total_w is None else calculator.form.by_key[key].write(total_w)
    return {key: Traced(text, "worked out: all outputs together")}


def _demand(amplifier: Amplifier, calculator: Calculator) -> dict[str, Traced]:
    """Return class, efficiency and idle draw as far as they are known."""
    found = {
        "amplifier_class": of_amplifier(amplifier, "amplifier_class", calculator, "amplifier_class")
    }
    for key in ("efficiency_percent", "idle_w"):
        if amplifier[key] is not None:
            found[key] = of_amplifier(amplifier, key, calculator, key)
    return found


def bay_heat(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask how warm it gets."""
    inputs = {
        **_total(total_w, BAY_HEAT, "power_w"),
        **_demand(amplifier, BAY_HEAT),
        **{key: of_system(job, key, BAY_HEAT) for key in ("duty", "closed", "area_m2", "cabin_c")},
        "limit_c": of_amplifier(amplifier, "limit_c", BAY_HEAT, "limit_c"),
    }
    if not job.given["closed"] and not inputs["area_m2"].text:
        del inputs["area_m2"]  # the surface of an open bay plays no part
    return Ask(calculator=BAY_HEAT, inputs=inputs)


_USUAL_EFFICIENCY = float(POWER_CABLE.form.by_key["efficiency_percent"].default)


def cable_power(job: Job, total_w: float | None, amplifier: Amplifier) -> float | None:
    """Return the power [W] to size the cable for: that of all outputs, or what the amplifier’s own
    fuses let through if that is more.

    The maker fused it for what it can draw; a cable for less would rest on nobody turning it up
    or changing its speakers (our own rule, to the safe side).
    """
    if total_w is None or amplifier["fuses_a"] is None:
        return total_w
    own_a = sum(float(one) for one in amplifier["fuses_a"].split("/"))
    efficiency = (amplifier["efficiency_percent"] or _USUAL_EFFICIENCY) / 100
    # Cut, not rounded: the current must not come out a hair above the fuses.
    let_through = math.floor(own_a * job.given["running_v"] * efficiency * 1000) / 1000
    return max(total_w, let_through)


def own_fuses(job: Job, total_w: float | None, amplifier: Amplifier) -> tuple[float, float] | None:
    """Return the current [A] of the amplifier's own fuses, and what it draws with the programme.

    None where one of them is not known.
    """
    if total_w is None or amplifier["fuses_a"] is None:
        return None
    demand = Demand(
        power_w=total_w,
        efficiency=(amplifier["efficiency_percent"] or _USUAL_EFFICIENCY) / 100,
        supply_v=job.given["running_v"],
        amplifier_class=amplifier["amplifier_class"],
        idle_w=0.0,
    )
    return sum(float(one) for one in amplifier["fuses_a"].split("/")), demand.current(
        job.given["duty"]
    )


def power_cable(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask for the power cable and its fuse."""
    length, earth = job.given["power_m"], job.given["earth_m"]
    unknown = () if earth is not None else ("Earth (ground) cable",)
    whole = "" if length is None or earth is None else exact(round(length + earth, 6))
    fuses = amplifier["fuses_a"]
    power = cable_power(job, total_w, amplifier)
    inputs = {
        "total_power_w": Traced(
            "" if power is None else exact(power),
            "worked out: all outputs together, or what the amplifier’s own fuses let through",
        ),
        "length_m": Traced(whole, "6 Cable: power cable and earth together"),
        "supply_v": of_system(job, "running_v", POWER_CABLE, "supply_v"),
        "duty": of_system(job, "duty", POWER_CABLE),
        **_demand(amplifier, POWER_CABLE),
        "regulated_min_v": Traced(
            exact(amplifier["regulated_min_v"])
            if amplifier["regulated"] and amplifier["regulated_min_v"] is not None
            else "",
            f"the amplifier {amplifier['name']}",
        ),
        "amp_fuses_a": Traced(
            fuses.replace("/", ";") if fuses else "", f"the amplifier {amplifier['name']}"
        ),
        **{key: of_system(job, key, POWER_CABLE) for key in SHARED_CABLE},
    }
    return Ask(calculator=POWER_CABLE, inputs=inputs, unknown=unknown)


def supply_budget(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask whether the vehicle can feed it."""
    keys = (
        "alternator_a", "idle_percent", "vehicle_a", "battery_ah", "reserve_percent",
        "vehicle_off_a", "peukert", "running_v", "resting_v",
    )  # fmt: skip
    inputs = {
        **{key: of_system(job, key, SUPPLY_BUDGET) for key in keys},
        **_total(total_w, SUPPLY_BUDGET, "total_power_w"),
        **_demand(amplifier, SUPPLY_BUDGET),
    }
    return Ask(calculator=SUPPLY_BUDGET, inputs=inputs)

"""What a finished plan asks besides: delays, the kit, gain, commissioning."""

import math
from collections.abc import Mapping
from typing import Any

from calc.bridging.mapping import Use
from calc.cabling.kit_list import KIT_LIST
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.demand_asks import cable_power, demand_inputs
from calc.choosing.fields import LONGEST_NAME, SHARED_CABLE
from calc.choosing.job import Feed, Job
from calc.choosing.layout_asks import filter_split
from calc.choosing.layouts import Layout
from calc.choosing.wiring import Wiring
from calc.core.figures import exact
from calc.crossovers.arrival_delay import ARRIVAL_DELAY
from calc.setup.commissioning import COMMISSIONING
from calc.setup.gain_voltage import GAIN_VOLTAGE
from calc.setup.steps import MOST_OUTPUTS
from calc.setup.tones import HIGHEST_HZ, LOWEST_HZ

# A tone that a meter for mains still reads, where the filters pass it; for tweeters alone it is
# higher (common practice, no source).
_TONES_HZ: Mapping[str, int] = {"woofer": 50, "tweeter": 5000}
_TONE_HZ = 315

Amplifier = Mapping[str, Any]


def delays(job: Job) -> Ask | None:
    """Ask for the delays of the outputs whose distance is known; None for fewer than two.

    Speakers on one output have one delay: that of the highest band, by which one hears where it
    comes from (common practice, no source).
    """
    rows = []
    for feed in job.feeds:
        own = [job.speakers[row] for row in reversed(feed.rows)]
        known = [row["distance_m"] for row in own if row["distance_m"] is not None]
        if known:
            rows.append({"section": feed.name, "distance_m": exact(known[0])})
    if len(rows) < 2:
        return None
    text = rows_text(ARRIVAL_DELAY, "sections", rows)
    told = "1 Speakers: distance to the listener; on one output, that of the highest speaker"
    return Ask(calculator=ARRIVAL_DELAY, inputs={"sections": Traced(text, told)})


def output_names(feed: Feed, use: Use) -> list[str]:
    """Name the outputs of a feed, apart by number where there are several."""
    if len(use.outputs) == 1:
        return [feed.name]
    return [f"{feed.name[: LONGEST_NAME - 2]} {at}" for at in range(1, len(use.outputs) + 1)]


def _power_mm2(cable: Ask) -> str:
    """Return the cross-section of the power cable, which the kit’s may not be thinner than.

    The kit list sizes the run alone; the power cable was sized with the earth’s length.
    """
    found = cable.answer.sheet.results["size_mm2"] if cable.answer else None
    return "" if found is None else exact(found)


def _pairs(use: Use) -> set[int]:
    """Return the pairs of inputs that belong to the channels of a section."""
    return {(channel - 1) // 2 for channel in use.channels}


def _y_leads(layout: Layout) -> str:
    """Return how many leads of one plug to two the inputs need; empty where it is not known.

    Each pair of plugs of the head unit feeds one pair of inputs; every further pair that it feeds
    takes two.
    """
    fed: dict[str | None, set[int]] = {}
    for feed, _, use in layout.uses:
        fed.setdefault(feed.speaker["output"], set()).update(_pairs(use))
    if None in fed and len(set().union(*fed.values())) > 1:
        return ""
    return str(2 * sum(len(pairs) - 1 for pairs in fed.values()))


def kit_list(
    layout: Layout,
    amplifier: Amplifier,
    cable: Ask,
    *,
    turned_on_by: str | None,
    is_high_level: bool,
) -> Ask:
    """Ask what the job needs, with the power cable as it was found.

    turned_on_by : the way of `turn-on`; None where it is not known
    is_high_level : the signal comes from the head unit's speaker leads
    """
    job, name = layout.job, amplifier["name"]
    given = job.given
    routes: list[dict[str, str]] = []
    unknown = []

    def route(what: str, start: str, end: str, length_m: float | None, told: str) -> None:
        if length_m is None:
            if told not in unknown:
                unknown.append(told)
            return
        routes.append({"what": what, "from": start, "to": end, "length_m": exact(length_m)})

    pairs = set().union(*(_pairs(use) for use in layout.plan.uses))
    route("power", "battery", name, given["power_m"], "Power cable, one way")
    route("earth", name, "body", given["earth_m"], "Earth (ground) cable")
    if is_high_level:
        for _ in set().union(*(use.channels for use in layout.plan.uses)):
            route("high-level", "head unit", name, given["signal_m"], "Signal leads")
    else:
        route("signal", "head unit", name, given["signal_m"], "Signal leads")
    for feed, _, use in layout.uses:
        for end in output_names(feed, use):
            told = f"Lead to {feed.name}"
            route("speaker", name, end, feed.speaker["lead_m"], told)
    has_trigger = turned_on_by in ("trigger", "relay-added")
    if has_trigger:
        route("trigger", "head unit", name, given["signal_m"], "Signal leads")
    if turned_on_by is None:
        unknown.append("how it is turned on")
    outputs = sum(len(use.outputs) for use in layout.plan.uses)
    power = cable_power(job, layout.total_w, amplifier)
    row = {
        "name": name,
        "total_power_w": "" if power is None else exact(power),
        "trigger": "yes" if has_trigger else "no",
        "signal_pairs": "0" if is_high_level else str(len(pairs)),
        "outputs": str(outputs),
        "y_leads": "0" if is_high_level else _y_leads(layout),
    }
    if layout.total_w is None:
        unknown.append("the power of all outputs")
    loads = [use.load_ohm for use in layout.plan.uses]
    own_loads = [
        {"to": end, "load_ohm": exact(use.load_ohm)}
        for feed, _, use in layout.uses
        for end in output_names(feed, use)
        if feed.speaker["lead_m"] is not None
    ]
    inputs = {
        "amplifiers": Traced(rows_text(KIT_LIST, "amplifiers", [row]), "worked out: the plan"),
        "routes": Traced(rows_text(KIT_LIST, "routes", routes), "6 Cable: lengths"),
        "speaker_load_ohm": Traced(exact(min(loads)), "worked out: the lowest load"),
        "loads": Traced(rows_text(KIT_LIST, "loads", own_loads), "worked out: channel map"),
        "power_mm2": Traced(_power_mm2(cable), "worked out: the power cable"),
        **{
            key: of_system(job, key, KIT_LIST)
            for key in ("slack_percent", "kit_signal_m", "speaker_loss_db", "duty", *SHARED_CABLE)
        },
        "supply_v": of_system(job, "running_v", KIT_LIST, "supply_v"),
        **demand_inputs(amplifier, KIT_LIST),
        "amp_fuses_a": Traced(
            (amplifier["fuses_a"] or "").replace("/", ";"), f"the amplifier {name}"
        ),
    }
    return Ask(calculator=KIT_LIST, inputs=inputs, unknown=tuple(unknown))


def set_power(layout: Layout, feed: Feed, wiring: Wiring, use: Use) -> float | None:
    """Return the power [W] to set an output for: its own, or its speakers' rating if less."""
    if use.power.low is None:
        return None
    rated = feed.speaker["rated_w"] * wiring.drivers * use.per_output
    # Where only bounds are known, the lower one: the voltage must not ask for more than there is.
    return min(use.power.low * layout.spread[0], rated)


def tone_of(layout: Layout, amplifier: Amplifier, feed: Feed, use: Use) -> int:
    """Return the frequency [Hz] of the tone to set a feed's gain by: one that its filters pass.

    The usual tone of the section, or the nearest that is an octave away from the corners that
    the plan sets, where a filter of order 2 or more takes half a decibel at most.
    """
    usual = _TONES_HZ.get(feed.section, _TONE_HZ)
    ask = filter_split(layout.job, layout.assignment, amplifier)
    if ask.answer is None:
        return usual
    boxes = ask.answer.sheet.results["settings"]
    corners: dict[str, list[float]] = {"high-pass": [], "low-pass": []}
    for one in (*boxes["head-unit"], *boxes["amplifier"]):
        if one["frequency_hz"] is not None and use.channels & set(one["channels"]):
            corners[one["kind"]].append(one["frequency_hz"])
    low = 2 * max(corners["high-pass"], default=10.0)
    high = min(corners["low-pass"], default=40_000.0) / 2
    if low > high:  # a band of less than two octaves: its middle
        return max(LOWEST_HZ, min(HIGHEST_HZ, round(math.sqrt(low * high))))
    return max(LOWEST_HZ, min(HIGHEST_HZ, round(min(max(usual, low), high))))


def gains(layout: Layout, amplifier: Amplifier) -> list[Ask]:
    """Ask for the voltage to set the gain of each feed to."""
    found = []
    for feed, wiring, use in layout.uses:
        power = set_power(layout, feed, wiring, use)
        rated = feed.speaker["rated_w"] * wiring.drivers * use.per_output
        inputs = {
            "power_w": Traced(
                "" if power is None else exact(power),
                "worked out: the output’s power, or the speakers’ rating if that is less",
            ),
            "load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
            "bridged": Traced(
                "yes" if len(use.outputs[0]) == 2 else "no", "worked out: channel map"
            ),
            "speaker_w": Traced(exact(rated), "1 Speakers: rating of all on the output"),
            "tone_hz": Traced(
                str(tone_of(layout, amplifier, feed, use)), "worked out: within the band"
            ),
            "meter_top_hz": of_system(layout.job, "meter_top_hz", GAIN_VOLTAGE),
            "tone_dbfs": of_system(layout.job, "tone_dbfs", GAIN_VOLTAGE),
        }
        found.append(Ask(calculator=GAIN_VOLTAGE, whom=feed.name, inputs=inputs))
    return found


def commissioning(layout: Layout, amplifier: Amplifier, turned_on_by: str | None) -> Ask:
    """Ask for the sheet of readings.

    turned_on_by : the way of `turn-on`; None where it is not known
    """
    job = layout.job
    carried = {row["above"] for row in job.given["networks"]} | {
        row["below"] for row in job.given["networks"]
    }
    rows, unknown = [], []
    for feed, wiring, use in layout.uses:
        power = set_power(layout, feed, wiring, use)
        if power is None:
            unknown.append(f"the power of {feed.name}")
            continue
        names = {job.speakers[row]["name"] for row in feed.rows}
        path = "direct"
        if names & carried:
            path = "capacitor" if feed.section == "tweeter" else "network"
        elif feed.section == "tweeter" and job.given["tweeter_capacitor"]:
            path = "capacitor"
        rows += [
            {
                "name": name,
                "power_w": exact(power),
                "load_ohm": exact(use.load_ohm),
                "bridged": "yes" if len(use.outputs[0]) == 2 else "no",
                "path": path,
                "lead_ohm": "0.1",
                "tone_hz": str(tone_of(layout, amplifier, feed, use)),
                "tone_dbfs": exact(job.given["tone_dbfs"]),
                "boost_db": "0",
            }
            for name in output_names(feed, use)
        ]
    if len(rows) > MOST_OUTPUTS:
        unknown.append(f"a sheet for more than {MOST_OUTPUTS} outputs")
    inputs = {
        "outputs": Traced(rows_text(COMMISSIONING, "outputs", rows), "worked out: the plan"),
        "running_v": of_system(job, "charging_v", COMMISSIONING, "running_v"),
        "resting_v": of_system(job, "resting_v", COMMISSIONING),
        "drop_v": of_system(job, "max_drop_v", COMMISSIONING, "drop_v"),
        "source_v": of_system(job, "source_v", COMMISSIONING),
        "quiescent_a": of_amplifier(amplifier, "quiescent_a", COMMISSIONING, "quiescent_a"),
        "turned_on_by": Traced(turned_on_by or "", "worked out: how it turns on"),
    }
    return Ask(calculator=COMMISSIONING, inputs=inputs, unknown=tuple(unknown))

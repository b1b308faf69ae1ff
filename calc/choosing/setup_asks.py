"""What a finished plan asks of the set-up chapter: gain and commissioning."""

import math
from collections.abc import Mapping
from typing import Any

from calc.answers.figures import exact
from calc.bridging.mapping import Use
from calc.cabling.acceptance import permitted_reading
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.balance import Balance, Volts, set_power
from calc.choosing.channels import Channel
from calc.choosing.job import Feed, Job
from calc.choosing.layouts import Layout
from calc.choosing.plan_asks import output_names
from calc.physics.levels import voltage
from calc.physics.tones import HIGHEST_HZ, LOWEST_HZ
from calc.setup.commissioning import COMMISSIONING, MOST_OUTPUTS
from calc.setup.gain_voltage import GAIN_VOLTAGE

# A tone that a meter for mains still reads, where the filters pass it; for tweeters alone it is
# higher (common practice, no source).
_TONES_HZ: Mapping[str, int] = {"woofer": 50, "tweeter": 5000}
_TONE_HZ = 315
_USUAL_METER_HZ = 400.0
_LEAD_OHM = 0.1  # where a lead's length is not known

Amplifier = Mapping[str, Any]


def tone_of(split: Ask, feed: Feed, use: Use) -> int:
    """Return the frequency [Hz] of the tone to set a feed's gain by: one that its filters pass.

    split : the question about the filters, with its answer

    The usual tone of the section, or the nearest that is an octave away from the corners that
    the plan sets, where a filter of order 2 or more takes half a decibel at most.
    """
    usual = _TONES_HZ.get(feed.section, _TONE_HZ)
    if split.answer is None:
        return usual
    boxes = split.answer.sheet.results["settings"]
    corners: dict[str, list[float]] = {"high-pass": [], "low-pass": []}
    for one in (*boxes["head-unit"], *boxes["amplifier"]):
        if one["frequency_hz"] is not None and use.channels & set(one["channels"]):
            corners[one["kind"]].append(one["frequency_hz"])
    low = 2 * max(corners["high-pass"], default=10.0)
    high = min(corners["low-pass"], default=40_000.0) / 2
    if low > high:  # a band of less than two octaves: its middle
        return max(LOWEST_HZ, min(HIGHEST_HZ, round(math.sqrt(low * high))))
    return max(LOWEST_HZ, min(HIGHEST_HZ, round(min(max(usual, low), high))))


def gains(layout: Layout, balance: Balance, split: Ask) -> list[Ask]:
    """Ask for the voltages to set the gain of each feed to.

    split : the question about the filters, with its answer
    """
    found = []
    for (feed, wiring, use), volts in zip(layout.uses, balance.volts, strict=True):
        power = set_power(layout, feed, wiring, use)
        rated = feed.speaker["rated_w"] * wiring.drivers * use.per_output
        tone = tone_of(split, feed, use)
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
            "start_v": Traced(
                _start(feed, volts), "worked out: as loud as the quietest section at its ceiling"
            ),
            "tone_hz": Traced(str(tone), "worked out: within the band"),
            "meter_top_hz": _meter_top(layout.job, tone),
            "tone_dbfs": of_system(layout.job, "tone_dbfs", GAIN_VOLTAGE),
        }
        found.append(Ask(calculator=GAIN_VOLTAGE, whom=feed.name, inputs=inputs))
    return found


def commissioning(
    layout: Layout,
    amplifier: Amplifier,
    balance: Balance,
    channels: tuple[Channel, ...],
    *,
    split: Ask,
    cable: Ask,
    kit: Ask,
    turned_on_by: str | None,
    is_high_level: bool,
) -> Ask:
    """Ask for the sheet of readings.

    channels : the channel table, by which each output is joined
    split : the filters, by which each output's tone is found
    cable, kit : the power cable and what is bought, for what the readings should be
    turned_on_by : the way of `turn-on`; None where it is not known
    """
    job = layout.job
    rows, unknown = _output_rows(layout, balance, channels, split, _lead_ohms(kit))
    if len(rows) > MOST_OUTPUTS:
        unknown.append(f"a sheet for more than {MOST_OUTPUTS} outputs")
    inputs = {
        "outputs": Traced(rows_text(COMMISSIONING, "outputs", rows), "worked out: the plan"),
        "running_v": of_system(job, "charging_v", COMMISSIONING, "running_v"),
        "resting_v": of_system(job, "resting_v", COMMISSIONING),
        **_drop_inputs(job, cable),
        "source_v": of_system(job, "source_v", COMMISSIONING),
        "factory_v": Traced(_factory_volts(job, is_high_level), "2 Head unit: speaker leads"),
        "quiescent_a": of_amplifier(amplifier, "quiescent_a", COMMISSIONING, "quiescent_a"),
        "turned_on_by": Traced(turned_on_by or "", "worked out: how it turns on"),
    }
    return Ask(calculator=COMMISSIONING, inputs=inputs, unknown=tuple(unknown))


def _output_rows(
    layout: Layout,
    balance: Balance,
    channels: tuple[Channel, ...],
    split: Ask,
    leads: Mapping[str, float],
) -> tuple[list[dict[str, str]], list[str]]:
    """Return a row for each output, and what is missing for others.

    leads : the resistance [Ω] of the speaker leads, by where they go
    """
    joined = {one.output: one.polarity for one in channels}
    rows, unknown = [], []
    for (feed, wiring, use), volts in zip(layout.uses, balance.volts, strict=True):
        power = set_power(layout, feed, wiring, use)
        if power is None:
            unknown.append(f"the power of {feed.name}")
            continue
        rows += [
            {
                "name": name,
                "power_w": exact(power),
                "load_ohm": exact(use.load_ohm),
                "bridged": "yes" if len(use.outputs[0]) == 2 else "no",
                "path": _path(layout, feed),
                "lead_ohm": exact(round(leads.get(name, _LEAD_OHM), 4)),
                "tone_hz": str(tone_of(split, feed, use)),
                "tone_dbfs": exact(layout.job.given["tone_dbfs"]),
                "boost_db": "0",
                "start_v": _start(feed, volts),
                "polarity": joined.get("+".join(map(str, output)), "normal"),
            }
            for name, output in zip(output_names(feed, use), use.outputs, strict=True)
        ]
    return rows, unknown


def _start(feed: Feed, volts: Volts) -> str:
    """Return the starting voltage; of a subwoofer none, for it starts at its ceiling."""
    if feed.section == "woofer" or volts.start_v is None:
        return ""
    return exact(volts.start_v)


def _drop_inputs(job: Job, cable: Ask) -> dict[str, Traced]:
    """Return what may be lost on the way: by the bought cable, else what the system permits."""
    results = cable.answer.sheet.results if cable.answer else {}
    loop_mohm = _loop_mohm(results)
    loop = "" if loop_mohm is None else exact(round(loop_mohm, 4))
    drop = of_system(job, "max_drop_v", COMMISSIONING, "drop_v")
    if loop_mohm is not None:
        told = "worked out: the bought cable’s drop at full power, and 0.1 V for fuse and joints"
        drop = Traced(exact(round(_reading_v(results), 4)), told)
    return {"drop_v": drop, "loop_mohm": Traced(loop, "worked out: the power cable")}


def _factory_volts(job: Job, is_high_level: bool) -> str:
    """Return the voltage [V] of a factory radio's speaker leads, where the signal is theirs."""
    watts = job.given["factory_power_w"]
    if watts is None or not (is_high_level or job.given["source_v"] is None):
        return ""
    return exact(round(voltage(power_w=watts, load_ohm=job.given["factory_ohm"]), 4))


def _meter_top(job: Job, tone_hz: int) -> Traced:
    """Return up to which frequency the meter is good; the usual one for a low tone.

    Any meter reads mains, and many are good up to 400 Hz (common practice, no source).
    """
    if job.given["meter_top_hz"] is None and tone_hz <= _USUAL_METER_HZ:
        return Traced(exact(_USUAL_METER_HZ), "not known: taken as usual", ("meter_top_hz",))
    return of_system(job, "meter_top_hz", GAIN_VOLTAGE)


def _reading_v(results: Mapping[str, Any]) -> float:
    """Return the drop [V] that a reading may show at full power."""
    full = results["current_full_a"]
    return permitted_reading(kit_drop_v=results["kit_drop_v"], full_a=full, reading_a=full)


def _loop_mohm(results: Mapping[str, Any]) -> float | None:
    """Return what the bought cable loses for each ampere [mV/A], earth and body included."""
    drop_v = results.get("kit_drop_v")
    return None if drop_v is None else 1000 * drop_v / results["current_full_a"]


def _path(layout: Layout, feed: Feed) -> str:
    """Return what stands between an output and its speakers, as a meter meets it."""
    job = layout.job
    carried = {row[end] for row in job.given["networks"] for end in ("above", "below")}
    if {job.speakers[row]["name"] for row in feed.rows} & carried:
        return "capacitor" if feed.section == "tweeter" else "network"
    if feed.section == "tweeter" and job.given["tweeter_capacitor"]:
        return "capacitor"
    return "direct"


def _lead_ohms(kit: Ask) -> dict[str, float]:
    """Return the resistance [Ω] of each speaker lead as bought, out and back, by where it goes."""
    if kit.answer is None:
        return {}
    leads = kit.answer.sheet.results["speaker_leads"]
    return {one["to"]: one["ohm"] for one in leads if one["ohm"] is not None}

"""Laws of a plan over random systems: words, drawing, table and readings are the same thing.

The sums are made again with scipy; the built system is simulated from the sheet's own cables.
"""

import random
import re

import numpy as np
import pytest
from choosing_systems import FORM, WEIGHTS, job_of, random_amplifier, random_job
from conftest import sampled
from scipy import signal

from calc.app.contents import CALCULATORS
from calc.choosing.channel_sheet import channel_table, join_words
from calc.choosing.choose import Judge
from calc.choosing.columns import COLUMNS
from calc.choosing.job import Job
from calc.choosing.plan import plan_of
from calc.choosing.plan_parts import SHOWN, part

SEEDS = sampled(range(150), range(14))
ACTIVE = (
    "1/2 high-pass 50-500 1/10 {f} {o} - yes | 1/2 low-pass 50-500 1/10 {f} {o} - yes | "
    "3/4 high-pass 50-500 1/10 {f} {o} - yes | 3/4 low-pass 50-500 1/10 {f} {o} - yes"
)


def active_job(rng):
    """Return a job with active tweeters, or with mid-basses below a set on its crossover."""
    sens, near, far = rng.choice([90, 92, 95]), rng.choice(["", "1"]), rng.choice(["", "1.3"])
    if rng.random() < 0.5:
        rows = [
            f"t,tweeter,2,1,4,{rng.choice([40, 80])},,{sens},2500,2,,,front,{near},4,,",
            f"m,mid-bass,2,1,{rng.choice([2, 4])},90,,88,70,2,4500,,front,{far},4,,",
        ]
        networks = ""
    else:
        rows = [
            f"t,tweeter,2,1,4,50,,{sens},3500,2,,,front,,4,,",
            "mid,midrange,2,1,4,50,,91,200,2,7000,,front,,4,,",
            f"b,mid-bass,2,{rng.choice([1, 2])},4,100,,88,60,2,400,,rear,,4,,",
        ]
        networks = "t,mid,5000,butterworth,2"
    rng.shuffle(rows)
    return job_of(
        speakers=";".join(rows), networks=networks, head_filters="", power_m="4",
        kind=rng.choice(["replacement", "processor", ""]),
        tweeter_capacitor=rng.choice(["yes", "no"]),
    )  # fmt: skip


def active_amplifier(rng):
    amplifier = random_amplifier(rng, missing=0)
    family, orders = rng.choice(
        [
            ("butterworth", "2"),
            ("butterworth", "4"),
            ("linkwitz-riley", "2/4"),
            ("butterworth", "3"),
        ]
    )
    row = FORM.read({})["amplifier"][0]

    read = next(one for one in COLUMNS if one.key == "filters").read
    filters = read(ACTIVE.format(f=family, o=orders))
    return {**row, **amplifier, "channels": 4, "filters": filters, "min_channel_ohm": 2.0}


def plan_for(seed):
    rng = random.Random(f"laws {seed}")
    if rng.random() < 0.6:
        job, amplifier = active_job(rng), active_amplifier(rng)
    else:
        job, amplifier = random_job(rng), random_amplifier(rng, missing=0)
    return job, amplifier, plan_of(job, Judge(job, amplifier, WEIGHTS).best())


@pytest.fixture(scope="module")
def plans():
    found = [(seed, *plan_for(seed)) for seed in SEEDS]
    assert sum(bool(plan.channels) for *_, plan in found) > len(found) / 3
    return [one for one in found if one[3].candidate.layout is not None]


# ---- one polarity everywhere


def test_words_drawing_and_table_join_alike(plans):
    turned = 0
    for seed, _, _, plan in plans:
        if not plan.channels:
            continue
        (arranged,) = [part(n, asks, plan) for n, asks in plan.steps.items() if n == "Arrange"]
        drawing = arranged.drawings[0].description
        cells = {row[0]: row[3] for row in channel_table(plan.channels).rows}
        for one in plan.channels:
            turned += one.polarity == "reversed"
            sign = "−" if one.polarity == "reversed" else "+"
            assert (
                f"Output {one.output}: loudspeaker {sign} to terminal {one.plus[:-1]} +" in drawing
            )
            assert cells[one.output] == join_words(one)
            assert ("(reversed)" in cells[one.output]) == (one.polarity == "reversed"), seed
            if one.wiring is None:
                assert one.plus_to == (("-",) if one.polarity == "reversed" else ("+",))
        for ask in plan.steps.get("Wire the coils", ()):
            (joins,) = ask.answer.sheet.named("joins")
            told = {
                end: row[1]
                for row in joins.rows
                for end in ("+", "−")
                if f"free end {end} " in row[1]
            }
            own = [one for one in plan.channels if one.speaker.endswith(ask.whom)]
            for one in own:
                for sign, ends in (("+", one.plus_to), ("−", one.minus_to)):
                    named = set(re.findall(r"\d[a-h][+−]", told[sign].split(":")[0]))
                    assert named == {end.replace("-", "−") for end in ends}, seed
        settings = plan.asked("filter-split").answer.sheet
        (table,) = settings.named("polarity")
        words = {row[0]: row[3] for row in table.rows}
        for one in settings.results["sections"]:
            fragile = one["section"] in ("tweeter", "midrange")
            stands = "do not" if fragile and not one["protected"] else one["polarity"]
            assert words[one["name"]].startswith(stands), seed
        set_up = plan.asked("commissioning")
        if set_up is not None and set_up.answer is not None:
            step = next(s for s in set_up.answer.sheet.results["steps"] if s["key"] == "polarity")
            names = {one.speaker for one in plan.channels if one.polarity == "reversed"}
            assert ("Joined reversed" in step["what"]) == bool(names)
    assert turned >= 4


def analog(made, hz):
    """Return a filter's response by scipy; a Linkwitz–Riley one is a Butterworth one squared."""
    squared = made.family == "linkwitz-riley"
    order = made.order // 2 if squared else made.order
    b, a = signal.butter(order, made.hz, btype=made.edge.replace("-", ""), analog=True)
    value = signal.freqs(b, a, [hz])[1][0]
    return value**2 if squared else value


def test_the_drawn_sum_is_that_of_the_channel_table(plans):
    """Filters, polarity, starting voltages and sensitivities, up to one level for all of it."""
    compared = 0
    for seed, job, _, plan in plans:
        split = plan.asked("filter-split").answer
        if not plan.channels or any(one.start_v is None for one in plan.channels):
            continue
        results = split.sheet.results
        speakers = {row["name"]: row for row in job.speakers}
        by_name = {}
        for output, section, feed, wiring, use, at in _sections(plan, results):
            (row,) = [one for one in plan.channels if one.output == output]
            name = job.speakers[feed.rows[at]]["name"]
            level = speakers[name]["sensitivity_db"]
            if at == 0:
                parallel = feed.speaker["coil_ohm"] / feed.speaker["coils"]
                level += 10 * np.log10(wiring.drivers * parallel / wiring.load_ohm)
            alike = use.per_output * (len(use.outputs) if feed.section == "woofer" else 1)
            level += 20 * np.log10(alike) + 20 * np.log10(row.start_v / 2.83)
            own = [m for m in row.filters if m.speaker in (None, name)]
            sign = -1 if row.polarity == "reversed" else 1
            sign *= -1 if section["turned_inside"] else 1
            by_name[section["name"]] = (level, own, sign, row.capacitor_farad, section)
        offsets = []
        for point in results["response"]:
            hz = point["frequency_hz"]
            for told in point["sections"]:
                level, own, sign, farad, section = by_name[told["section"]]
                value = 10 ** (level / 20) * np.prod([analog(m, hz) for m in own])
                if farad and section["section"] == "tweeter":
                    meets = next(m.hz for m in own if m.edge == "high-pass") / 2
                    value *= 1 / (1 - 1j * meets / hz)
                if told["level_db"] > -60:
                    offsets.append(20 * np.log10(abs(value)) - told["level_db"])
        assert np.ptp(offsets) < 0.06, seed  # a sensitivity is told to a hundredth
        compared += 1
        kinds = [one["section"] for one in results["sections"]]
        if len(set(kinds)) < len(kinds):
            continue  # of two that play the same band one is in the sum
        for point in results["response"]:
            hz, total = point["frequency_hz"], 0
            for level, own, sign, farad, section in by_name.values():
                value = sign * 10 ** (level / 20) * np.prod([analog(m, hz) for m in own])
                if farad and section["section"] == "tweeter":
                    meets = next(m.hz for m in own if m.edge == "high-pass") / 2
                    value *= 1 / (1 - 1j * meets / hz)
                total += value
            if point["level_db"] is not None and point["level_db"] > -30:
                away = 20 * np.log10(abs(total)) - np.mean(offsets) - point["level_db"]
                assert abs(away) < 0.1, (seed, hz)
    assert compared > 4


def _sections(plan, results):
    """Yield (output, section, feed, wiring, use, row of the feed) for each section of the split:
    they stand feed by feed, pair of channels by pair, the highest band first."""
    rest = iter(results["sections"])
    for feed, wiring, use in plan.candidate.layout.uses:
        for pair in dict.fromkeys((one[0] - 1) // 2 for one in use.outputs):
            output = next(one for one in use.outputs if (one[0] - 1) // 2 == pair)
            for at in reversed(range(len(feed.rows))):
                yield "+".join(map(str, output)), next(rest), feed, wiring, use, at


# ---- what a hand can set, and a meter reads


def test_no_corner_lies_outside_its_box_s_range(plans):
    marks = {10 * 10 ** (step / 10) for step in range(34)}
    for seed, _, _, plan in plans:
        ask = plan.asked("filter-split")
        if ask is None or ask.answer is None:
            continue
        given = ask.answer.inputs
        for key, box in (("head_unit", "head-unit"), ("amplifier", "amplifier")):
            rows = given[key]
            for row, one in zip(rows, ask.answer.sheet.results["settings"][box], strict=True):
                if one["frequency_hz"] is None:
                    assert row["off"]
                    continue
                dial, factor = one["dial_hz"], one["times"]
                assert str(one["order"]) in row["orders"].split("/")
                assert factor in [float(part) for part in row["times"].split("/")]
                text = row["corners_hz"]
                if "-" in text:
                    low, high = map(float, text.split("-"))
                    assert low <= dial <= high, seed
                    near = min(abs(np.log(dial / mark)) for mark in marks)
                    assert near < 0.02 or dial in (low, high), (seed, dial)
                else:
                    assert dial in [float(part) for part in text.split("/")], seed


def test_every_reading_of_a_system_built_as_printed_is_within(plans):
    """Coils at a random part of what they may have, the sheet's own leads and cable, 12.6 V."""
    judged = 0
    for seed, job, _, plan in plans:
        ask, cable = plan.asked("commissioning"), plan.asked("power-cable")
        if ask is None or ask.answer is None or cable.answer is None:
            continue
        rng = random.Random(f"built {seed}")
        kit = plan.asked("kit-list").answer.sheet.results
        leads = [one["ohm"] for one in kit["speaker_leads"]]
        outputs = ask.answer.inputs["outputs"]
        drawn = rng.uniform(0.1, 1.0) * cable.answer.sheet.results["current_full_a"]
        loop = _loop_ohm(job, cable.answer)
        readings = {
            "earth_ohm": 0.02, "supply_insulation_mohm": "open", "leads_insulation_mohm": "open",
            "polarity": "yes", "rest_v": job.given["resting_v"], "parked_a": 0.0, "offset_mv": 3.0,
            "trigger_on_v": job.given["resting_v"] - 0.3, "trigger_off_v": 0.0, "turns_on": "yes",
            "turns_off": "yes", "idle_v": job.given["charging_v"] - 2 * loop,
            "drop_v": drawn * loop + 0.05, "noise": "yes", "heat": "yes", "loose": "yes",
        }  # fmt: skip
        if job.given["source_v"] is not None:
            readings["source_v"] = job.given["source_v"] * 10 ** (outputs[0]["tone_dbfs"] / 20)
        if ask.answer.inputs["factory_v"] is not None:
            readings["clean_v"] = 0.8 * ask.answer.inputs["factory_v"]
        for at, (row, lead) in enumerate(zip(outputs, leads, strict=True), start=1):
            coil = rng.uniform(0.75, 0.95) * row["load_ohm"]
            readings[f"coil_{at}_ohm"] = "open" if row["path"] == "capacitor" else coil + lead
            volts = row["start_v"] or (row["power_w"] * row["load_ohm"]) ** 0.5
            readings[f"target_{at}_v"] = volts * 10 ** (row["tone_dbfs"] / 20)
        steps = {one["key"] for one in ask.answer.sheet.results["steps"]}
        rows = ";".join(
            f"{key},{value if isinstance(value, str) else f'{value:.4f}'}"
            for key, value in readings.items()
            if key in steps
        )
        done = CALCULATORS["commissioning"].answer({**ask.given, "readings": rows})
        out = [one for one in done.sheet.results["steps"] if one["verdict"] == "out"]
        assert out == [], (seed, out)
        judged += 1
    assert judged > 4


def _loop_ohm(job, cable):
    """Return the resistance [Ω] of the bought cable, earth and body: by the printed tables."""
    per_km = {10: 1.91, 20: 1000 / 58 * 1.02 / 20, 35: 0.554, 50: 0.386}
    length = cable.inputs["length_m"]
    mm2 = cable.sheet.results["kit_mm2"]
    warm = 1 + 0.00393 * (job.given["conductor_c"] - 20)
    ohm = per_km[round(mm2)] / 1000 * warm * length
    return ohm + job.given["body_mohm"] / 1000 + job.given["connections_mohm"] / 1000


# ---- the order of rows


def facts(plan):
    """Return all that the sheet says, without what numbers rows."""
    return [one.data() for one in plan.channels], [
        (one.name, one.state) for one in plan.candidate.checks
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_depends_on_the_order_of_rows(seed):
    job, amplifier, plan = plan_for(seed)
    rng = random.Random(f"order {seed}")
    for _ in range(2):
        shuffled = {
            **job.given,
            **{
                key: tuple(rng.sample(job.given[key], len(job.given[key])))
                for key in ("speakers", "networks", "head_filters")
            },
        }
        other = Job(shuffled)
        again = plan_of(other, Judge(other, amplifier, WEIGHTS).best())
        assert facts(again) == facts(plan)


def test_what_the_job_sheet_leaves_out_is_left_out_on_purpose():
    """Every named table and drawing of a chapter is shown, or stands in this list."""
    left_out = {
        "coil-wiring": {"coils", "circuits"},
        "filter-split": {"edges", "levels"},
        "turn-on": {"ways"},
    }
    for name, shown in SHOWN.items():
        sheet = CALCULATORS[name].answer({}).sheet
        tables = {one.name for one in sheet.tables if one.name}
        drawings = {one.name for one in sheet.drawings if one.name}
        assert tables - set(shown.tables) == left_out.get(name, set()), name
        assert drawings <= set(shown.drawings), name

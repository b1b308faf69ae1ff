"""Laws of a plan over random systems: words, drawing, table and readings are the same thing.

The sums are made again with scipy; the built system is simulated from the sheet's own cables.
"""

import random
import re
from dataclasses import replace

import numpy as np
import pytest
from choosing_systems import best_of
from conftest import sampled
from plan_systems import planned
from scipy import signal

from calc.app.contents import CALCULATORS
from calc.choosing.fit_plan.channel_table import channel_table, join_words
from calc.choosing.fit_plan.parts import SHOWN, part
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import plan_of

SEEDS = sampled(range(150), range(14))


@pytest.fixture(scope="module")
def plans():
    every = [planned(seed) for seed in SEEDS]
    assert sum(bool(each.plan.channels) for each in every) > len(every) / 3
    return [each for each in every if each.plan.candidate.layout is not None]


# ---- one polarity everywhere


def test_words_drawing_and_table_join_alike(plans):
    turned = 0
    for each in plans:
        plan, channels = each.plan, each.plan.channels
        if not channels:
            continue
        turned += sum(channel.polarity == "reversed" for channel in channels)
        the_channels_are_joined_as_drawn(plan, each.seed)
        for question in plan.steps.get("Wire the coils", ()):
            the_coils_are_joined_as_told(question, channels, each.seed)
        split = each.asked("filter-split")
        (table,) = split.answer.sheet.named("polarity")
        words = {row[0]: row[3] for row in table.rows}
        for section in split.result.sections:
            fragile = section.section.kind in ("tweeter", "midrange")
            stands = section.polarity.word
            if fragile and not section.is_protected:
                stands = "do not"
            shown = split.result.shown[section.row - 1]
            assert words[shown].startswith(stands), each.seed
        set_up = each.asked("commissioning")
        if set_up is not None and set_up.answer is not None:
            steps = {step["key"]: step for step in set_up.answer.sheet.results["steps"]}
            names = {channel.speaker for channel in channels if channel.polarity == "reversed"}
            assert ("Reversed on purpose" in steps["polarity"]["what"]) == bool(names)
    assert turned >= 4


def the_channels_are_joined_as_drawn(plan, seed):
    """Check the drawing of the channels and the table of them against the channels."""
    drawing = part("Arrange", plan.steps["Arrange"], plan).drawings[0].description
    cells = {row[0]: row[3] for row in channel_table(plan.channels, plan.job.source_words).rows}
    for channel in plan.channels:
        is_reversed = channel.polarity == "reversed"
        sign = "−" if is_reversed else "+"
        own = channel.output.split("+")
        name = f"Channels {' and '.join(own)} bridged" if own[1:] else f"Channel {own[0]}"
        drawn = f"{name}: speaker {sign} to terminal {channel.plus[:-1]} +"
        assert drawn in drawing
        assert cells[channel.output] == join_words(channel)
        assert ("(reversed)" in cells[channel.output]) == is_reversed, seed
        if channel.wiring is None:
            assert channel.plus_to == (("-",) if is_reversed else ("+",))


def the_coils_are_joined_as_told(question, channels, seed):
    """Check the words for the leads to the amplifier against the channels that they go to."""
    (joins,) = question.answer.sheet.named("joins")
    words = {
        end: row[1] for row in joins.rows for end in ("+", "−") if f"amplifier’s {end} " in row[1]
    }
    for channel in channels:
        if not channel.speaker.endswith(question.about):
            continue
        for sign, ends in (("+", channel.plus_to), ("−", channel.minus_to)):
            named = set(re.findall(r"\d[a-h][+−]", words[sign].split(":")[0]))
            assert named == {end.replace("-", "−") for end in ends}, seed


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
    for each in plans:
        channels, split = each.plan.channels, each.asked("filter-split")
        if not channels or any(channel.start_v is None for channel in channels):
            continue
        response = split.answer.sheet.results["response"]  # as the drawing has it
        voices = dict(_voices(each.plan, split))
        offsets = []
        for point in response:
            for told in point["sections"]:
                if told["level_db"] > -60:
                    value = abs(voices[told["section"]](point["frequency_hz"]))
                    offsets.append(20 * np.log10(value) - told["level_db"])
        assert np.ptp(offsets) < 0.06, each.seed  # a sensitivity is told to a hundredth
        compared += 1
        kinds = [section.section.kind for section in split.result.sections]
        if len(set(kinds)) < len(kinds):
            continue  # of two that play the same band one is in the sum
        for point in response:
            hz = point["frequency_hz"]
            total = abs(sum(voice(hz) for voice in voices.values()))
            if point["level_db"] is not None and point["level_db"] > -30:
                away = 20 * np.log10(total) - np.mean(offsets) - point["level_db"]
                assert abs(away) < 0.1, (each.seed, hz)
    assert compared > 4


def _voices(plan, split):
    """Yield (name, response by frequency) of each section of the split, made of the channels."""
    channels = {channel.output: channel for channel in plan.channels}
    speakers = plan.candidate.layout.job.speakers
    for output, section, (feed, wiring, use), at in _sections(plan, split):
        channel, speaker = channels[output], speakers[feed.rows[at]]
        level = speaker.sensitivity_db
        if at == 0:
            parallel = feed.speaker.coil_ohm / feed.speaker.coils
            level += 10 * np.log10(wiring.drivers * parallel / wiring.load_ohm)
        alike = use.per_output * (len(use.outputs) if feed.section == "woofer" else 1)
        level += 20 * np.log10(alike) + 20 * np.log10(channel.start_v / 2.83)
        sign = -1 if channel.polarity == "reversed" else 1
        sign *= -1 if section.polarity.is_turned_inside else 1
        acting = [made for made in channel.filters if made.speaker in (None, speaker.name)]
        has_capacitor = channel.capacitor_farad and section.section.kind == "tweeter"
        yield section.name, _voice(sign * 10 ** (level / 20), acting, has_capacitor)


def _voice(gain, acting, has_capacitor):
    """Return a function of the frequency [Hz]: filters, and a capacitor an octave below."""

    def response(hz):
        value = gain * np.prod([analog(made, hz) for made in acting])
        if has_capacitor:
            meets = next(made.hz for made in acting if made.edge == "high-pass") / 2
            value *= 1 / (1 - 1j * meets / hz)
        return value

    return response


def _sections(plan, split):
    """Yield (output, section, (feed, wiring, use), row of the feed) for each section of the split:
    they stand feed by feed, pair of channels by pair, the highest band first."""
    rest = iter(split.result.sections)
    for on in plan.candidate.layout.uses:
        feed, _, use = on
        for pair in dict.fromkeys((output[0] - 1) // 2 for output in use.outputs):
            output = next(output for output in use.outputs if (output[0] - 1) // 2 == pair)
            for at in reversed(range(len(feed.rows))):
                yield "+".join(map(str, output)), next(rest), on, at


# ---- what a hand can set, and a meter reads


def test_no_corner_lies_outside_its_box_s_range(plans):
    for each in plans:
        split = each.asked("filter-split")
        if split is None or split.answer is None:
            continue
        for rows, box in ((split.inputs.head_unit, "head-unit"),
                          (split.inputs.amplifier, "amplifier")):  # fmt: skip
            settings = [made for made in split.result.settings if made.box == box]
            for row, made in zip(rows, settings, strict=True):
                if made.frequency_hz is None:
                    assert row.off
                    continue
                assert str(made.order) in row.orders.split("/")
                assert made.times in [float(factor) for factor in row.times.split("/")]
                assert _can_be_set(made.dial_hz, row.corners_hz), (each.seed, made)


def _can_be_set(dial_hz, corners):
    """Tell whether a dial with these corners can be set so: to a step, or to a mark or an end."""
    if "-" not in corners:
        return dial_hz in [float(step) for step in corners.split("/")]
    low, high = map(float, corners.split("-"))
    marks = {10 * 10 ** (step / 10) for step in range(34)}
    nearest = min(abs(np.log(dial_hz / mark)) for mark in marks)
    return low <= dial_hz <= high and (nearest < 0.02 or dial_hz in (low, high))


def test_every_reading_of_a_system_built_as_printed_is_within(plans):
    """Coils at a random part of what they may have, the sheet's own leads and cable, 12.6 V."""
    judged = 0
    for each in plans:
        sheet, cable = each.asked("commissioning"), each.asked("power-cable")
        if sheet is None or sheet.answer is None or cable.answer is None:
            continue
        rng = random.Random(f"built {each.seed}")
        leads = [row.lead_ohm for row in sheet.inputs.outputs]
        bought = [lead.ohm for lead in each.asked("kit-list").result.leads]
        # Joined speakers have a lead each on one output.
        assert len(bought) > len(leads) or leads == [round(ohm, 4) for ohm in bought]
        readings = _readings(rng, each.job.system, sheet.inputs, cable, leads)
        steps = {step.key for step in sheet.result.steps}
        rows = ";".join(
            f"{key},{value if isinstance(value, str) else f'{value:.4f}'}"
            for key, value in readings.items()
            if key in steps
        )
        done = CALCULATORS["commissioning"].answer({**sheet.texts, "readings": rows})
        out = [step for step in done.sheet.results["steps"] if step["verdict"] == "out"]
        assert out == [], (each.seed, out)
        judged += 1
    assert judged > 4


def _readings(rng, system, inputs, cable, leads):
    """Return what a meter reads at each step of a system that is built as its plan has it."""
    resting_v, charging_v = system.charging.resting_v, system.set_up.charging_v
    drawn = rng.uniform(0.1, 1.0) * cable.result.demand.full_a
    loop = _loop_ohm(system, cable)
    readings = {
        "earth_ohm": 0.02, "supply_insulation_mohm": "open", "leads_insulation_mohm": "open",
        "polarity": "yes", "rest_v": resting_v, "parked_a": 0.0, "offset_mv": 3.0,
        "trigger_on_v": resting_v - 0.3, "trigger_off_v": 0.0, "turns_on": "yes",
        "turns_off": "yes", "idle_v": charging_v - 2 * loop,
        "drop_v": drawn * loop + 0.05, "noise": "yes", "heat": "yes", "loose": "yes",
    }  # fmt: skip
    source_v = system.head_unit.source_v
    if source_v is not None:
        readings["source_v"] = source_v * 10 ** (inputs.outputs[0].tone_dbfs / 20)
    if inputs.factory_v is not None:
        readings["clean_v"] = 0.8 * inputs.factory_v
    for at, (row, lead) in enumerate(zip(inputs.outputs, leads, strict=True), start=1):
        coil = rng.uniform(0.75, 0.95) * row.load_ohm
        readings[f"coil_{at}_ohm"] = "open" if row.path == "capacitor" else coil + lead
        volts = row.start_v or (row.power_w * row.load_ohm) ** 0.5
        readings[f"target_{at}_v"] = volts * 10 ** (row.tone_dbfs / 20)
    return readings


def _loop_ohm(system, cable):
    """Return the resistance [Ω] of the bought cable, earth and body: by the printed tables."""
    per_km = {10: 1.91, 20: 1000 / 58 * 1.02 / 20, 35: 0.554, 50: 0.386}
    leads, mm2 = system.leads, cable.result.kit.size.area_mm2
    warm = 1 + 0.00393 * (leads.conductor_c - 20)
    ohm = per_km[round(mm2)] / 1000 * warm * cable.inputs.length_m
    return ohm + leads.body_mohm / 1000 + leads.connections_mohm / 1000


# ---- the order of rows


def facts(plan):
    """Return all that the sheet says, without what numbers rows."""
    checks = [(check.name, check.state) for check in plan.candidate.checks]
    return [channel.data() for channel in plan.channels], checks


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_depends_on_the_order_of_rows(seed):
    each = planned(seed)
    system, rng = each.job.given, random.Random(f"order {seed}")

    def shuffled(rows):
        return tuple(rng.sample(rows, len(rows)))

    for _ in range(2):
        speakers, networks = shuffled(system.speakers), shuffled(system.networks)
        head_filters = shuffled(system.head_unit.head_filters)
        head_unit = replace(system.head_unit, head_filters=head_filters)
        job = Job(replace(system, speakers=speakers, networks=networks, head_unit=head_unit))
        again = plan_of(job, best_of(job, each.amplifier))
        assert facts(again) == facts(each.plan)


def test_what_the_job_sheet_leaves_out_is_left_out_on_purpose():
    """Every named table and drawing of a chapter is shown, or stands in this list."""
    tables_left_out = {
        "coil-wiring": {"coils", "circuits"},
        "filter-split": {"edges", "levels"},
        "turn-on": {"ways", "drains"},
        "mounting-reach": {"heights", "runs", "leads"},
        "bay-heat": {"duties"},
        "power-cable": {"sizes", "duties"},
        "cable-tree": {"separate"},
        "gain-voltage": {"other-tones"},
    }
    drawings_left_out = {
        "arrival-delay": {"arrivals"},
        "signal-chain": {"ranges"},
        "bay-heat": {"section"},
        "power-cable": {"run"},
        "cable-tree": {"tree"},  # the kit list's is the same
        "supply-budget": {"currents"},
        "gain-voltage": {"meter"},
    }
    for name, shown in SHOWN.items():
        sheet = CALCULATORS[name].answer({}).sheet
        tables = {table.name for table in sheet.tables if table.name}
        drawings = {drawing.name for drawing in sheet.drawings if drawing.name}
        assert tables - set(shown.tables) == tables_left_out.get(name, set()), name
        assert drawings - set(shown.drawings) == drawings_left_out.get(name, set()), name

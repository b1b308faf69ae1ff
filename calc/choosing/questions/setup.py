"""What a plan asks of the chapter on setting up: signal, turn-on, gains, tones, readings."""

import math
from collections.abc import Mapping, Sequence

from calc.bridging.mapping import Use
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.balance import Balance, Volts, set_power
from calc.choosing.layouts.channels import Channel, output_names
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.feeds import Job
from calc.choosing.power_tree import PowerTree
from calc.choosing.questions.crossovers import SplitQuestion
from calc.choosing.questions.kit import KitQuestion, lead_ends
from calc.choosing.questions.question import Known, Question, Unsure, together, worked_out
from calc.choosing.questions.sources import from_amplifier, from_system, same
from calc.inputs.field_base import Value
from calc.inputs.fields import Number
from calc.physics.acceptance import permitted_reading
from calc.physics.levels import voltage
from calc.physics.tones import HIGHEST_HZ, LOWEST_HZ, highest_dbfs
from calc.setup import boost_cost, commissioning, gain_voltage, signal_chain, test_tone, turn_on
from calc.system.amplifier import Amplifier
from calc.system.usual import LEFT_AWAKE, STANDBY, Usual

SignalQuestion = Question[signal_chain.Inputs, signal_chain.Result]
TurnOnQuestion = Question[turn_on.Inputs, turn_on.Result]
GainQuestion = Question[gain_voltage.Inputs, gain_voltage.Result]
SheetQuestion = Question[commissioning.Inputs, commissioning.Result]
BoostQuestion = Question[boost_cost.Inputs, boost_cost.Result]
ToneQuestion = Question[test_tone.Inputs, test_tone.Result]

# A line input that asks for much, and one that takes little.
_LINE_ENDS: Mapping[str, tuple[float, float]] = {
    "sensitivity_min_v": (49.0, 0.001),
    "sensitivity_max_v": (100.0, 0.01),
}
_LEFT_ON_A = 2.0  # the most that an amplifier takes which is left on (from memory)
# A tone that a meter for mains still reads, where the filters pass it; for tweeters alone it is
# higher (common practice, no source).
_TONES_HZ: Mapping[str, int] = {"woofer": 50, "tweeter": 5000}
_TONE_HZ = 315
_USUAL_METER_HZ = 400.0
_LEAD_OHM = 0.1  # where a lead's length is not known


# ---- signal and turn-on


def signal_question(job: Job, amplifier: Amplifier) -> SignalQuestion:
    """Ask whether the head unit's signal suits the amplifier's inputs."""
    figures = same(
        job, "source_v", "factory_power_w", "factory_ohm", "outputs_float", "bass_folds_back",
        "already_filtered", "checks_its_load",
    )  # fmt: skip
    figures |= {
        key: from_amplifier(amplifier, key)
        for key in (*_LINE_ENDS, "high_level_min_v", "high_level_max_v")
    }
    if job.system.head_unit.source_v is not None:
        return Question(calculator=signal_chain.SIGNAL_CHAIN, figures=figures)
    asked = _over_leads(figures)
    if asked.verdict.state != "not known":
        return asked
    # A high-level input that is not known well enough is no hindrance where an adapter does.
    words = "not used: too little is known about it"
    unused = {
        key: Known(None, words, figures[key].path)
        for key in ("high_level_min_v", "high_level_max_v")
    }
    instead = _over_leads({**figures, **unused})
    return instead if instead.verdict.state == "suitable" else asked


def _over_leads(figures: Mapping[str, Known]) -> SignalQuestion:
    """Ask about a source of speaker leads, which may need no line input at all.

    Where the line input is not known, a usual one is taken; the verdict stands if one that asks
    for much and one that takes little give the same.
    """
    asked = signal_chain.SIGNAL_CHAIN
    if all(figures[key].value is not None for key in _LINE_ENDS):
        return Question(calculator=asked, figures=figures)
    words = "not known: the usual one, because the RCA input may not be needed"
    fields = asked.form.by_key
    usual = {
        key: Known(fields[key].read(fields[key].default), words, figures[key].path)
        for key in _LINE_ENDS
    }
    worst, best = ({key: ends[at] for key, ends in _LINE_ENDS.items()} for at in (0, 1))
    unsure = Unsure(("the voltage range of its RCA input",), worst, best)
    return Question(calculator=asked, figures={**figures, **usual}, unsure=unsure)


def _three(value: bool | None) -> str:
    return "not-known" if value is None else "yes" if value else "no"


def standby(job: Job, amplifier: Amplifier) -> Usual:
    """Return the usual standby current: little where a remote lead turns it off."""
    has_lead = job.system.head_unit.trigger_available == "yes" and amplifier.trigger is not False
    return STANDBY if has_lead else LEFT_AWAKE


def turn_on_question(job: Job, amplifier: Amplifier) -> TurnOnQuestion:
    """Ask how the amplifier knows when to play."""
    head = job.system.head_unit
    over_leads = None
    if head.source_v is not None or head.factory_power_w is not None:
        over_leads = head.source_v is None
    figures = same(
        job, "trigger_available", "supply_always_live", "stop_start", "push_button", "parked_days"
    )
    figures["speaker_level_signal"] = Known(
        _three(over_leads), "2 Head unit: RCA output, or speaker leads"
    )
    for key, column in (
        ("amp_trigger", "trigger"),
        ("amp_signal_sensing", "signal_sensing"),
        ("amp_supply_sensing", "supply_sensing"),
    ):
        known = from_amplifier(amplifier, column)
        figures[key] = Known(_three(known.value), known.words, known.path)
    figures["battery_ah"] = from_system(job, "battery_ah")
    figures["quiescent_a"] = from_amplifier(amplifier, "quiescent_a")
    parked = None
    if amplifier.quiescent_a is None:
        usual, path = standby(job, amplifier), ("amplifier", 0, "quiescent_a")
        words = f"{1000 * usual.value:g}\u202fmA"
        figures["quiescent_a"] = Known(usual.value, f"not known: {words} is used", path)
        parked = Unsure(
            (f"its standby drain (we use {words})",),
            worst={"quiescent_a": _LEFT_ON_A},
            best={"quiescent_a": 0.0},
            likely={"quiescent_a": usual.high},
        )
    return Question(
        calculator=turn_on.TURN_ON,
        figures=figures,
        unsure=together(parked, _battery_unsure(job)),
    )


def _battery_unsure(job: Job) -> Unsure | None:
    """Return how small and how large the battery may be where it is not told."""
    field = turn_on.TURN_ON.form.by_key["battery_ah"]
    if job.given.charging.battery_ah is not None or not isinstance(field, Number):
        return None
    return Unsure(
        ("the battery (we use 60\u202fAh)",),
        worst={"battery_ah": field.low},
        best={"battery_ah": field.high},
        likely={"battery_ah": job.system.charging.battery_ah},
    )


# ---- gains and tones


def tone_of(split: SplitQuestion, feed: Feed, use: Use) -> int:
    """Return the frequency [Hz] of the tone to set a feed's gain by: one that its filters pass.

    split : the question about the filters, with its answer

    The usual tone of the section, or the nearest that is an octave away from the corners that
    the plan sets, where a filter of order 2 or more takes half a decibel at most.
    """
    usual = _TONES_HZ.get(feed.section, _TONE_HZ)
    if split.result is None:
        return usual
    corners: dict[str, list[float]] = {"high-pass": [], "low-pass": []}
    for made in split.result.settings:
        if made.box != "passive" and made.frequency_hz and use.channels & made.channels:
            corners[made.kind].append(made.frequency_hz)
    low = 2 * max(corners["high-pass"], default=10.0)
    high = min(corners["low-pass"], default=40_000.0) / 2
    if low > high:  # a band of less than two octaves: its middle
        return max(LOWEST_HZ, min(HIGHEST_HZ, round(math.sqrt(low * high))))
    return max(LOWEST_HZ, min(HIGHEST_HZ, round(min(max(usual, low), high))))


def gain_questions(layout: Layout, balance: Balance, split: SplitQuestion) -> list[GainQuestion]:
    """Ask for the voltages to set the gain of each feed to.

    split : the question about the filters, with its answer
    """
    questions: list[GainQuestion] = []
    for (feed, wiring, use), volts in zip(layout.uses, balance.volts, strict=True):
        rated = feed.speaker.rated_w * wiring.drivers * use.per_output
        tone = tone_of(split, feed, use)
        figures = {
            "power_w": Known(
                set_power(layout, feed, wiring, use),
                "worked out: the output’s power, or the speakers’ rating if that is less",
            ),
            **worked_out(
                "worked out: channel map",
                load_ohm=use.load_ohm,
                bridged=len(use.outputs[0]) == 2,
            ),
            "speaker_w": Known(rated, "1 Speakers: RMS rating of all on the output"),
            "start_v": Known(
                _start(feed, volts),
                "worked out: as loud as the quietest speakers at their ceiling",
            ),
            "tone_hz": Known(tone, "worked out: inside the range the speaker plays"),
            "meter_top_hz": _meter_top(layout.job, tone),
            **same(layout.job, "tone_dbfs"),
        }
        questions.append(
            Question(calculator=gain_voltage.GAIN_VOLTAGE, about=feed.name, figures=figures)
        )
    return questions


def _start(feed: Feed, volts: Volts) -> float | None:
    """Return the starting voltage; of a subwoofer none, for it starts at its ceiling."""
    return None if feed.section == "woofer" else volts.start_v


def _meter_top(job: Job, tone_hz: int) -> Known:
    """Return up to which frequency the meter is good; the usual one for a low tone.

    Any meter reads mains, and many are good up to 400 Hz (common practice, no source).
    """
    if job.system.set_up.meter_top_hz is None and tone_hz <= _USUAL_METER_HZ:
        return Known(_USUAL_METER_HZ, "not known: the usual figure is used", ("meter_top_hz",))
    return from_system(job, "meter_top_hz")


def boost_questions(layout: Layout, amplifier: Amplifier) -> list[BoostQuestion]:
    """Ask what the amplifier's boost costs on the woofers."""
    return [
        Question(
            calculator=boost_cost.BOOST_COST,
            about=feed.name,
            figures={
                "boost_db": from_amplifier(amplifier, "boost_db"),
                **worked_out(
                    "worked out: channel map", power_w=use.power.best, load_ohm=use.load_ohm
                ),
            },
        )
        for feed, _, use in layout.uses
        if feed.section == "woofer"
    ]


def tone_questions(layout: Layout, split: SplitQuestion) -> list[ToneQuestion]:
    """Ask for the tone to set each feed's gain by.

    split : the question about the filters, with its answer
    """
    questions: list[ToneQuestion] = []
    for feed, wiring, use in layout.uses:
        if set_power(layout, feed, wiring, use) is None:
            continue
        tone = tone_of(split, feed, use)
        figures = {
            "frequency_hz": Known(tone, "worked out: inside the range the speaker plays"),
            "tone_dbfs": Known(
                min(layout.job.system.set_up.tone_dbfs, highest_dbfs(tone)),
                "8 Set-up: level of the test tones, as far as this frequency allows",
            ),
        }
        questions.append(Question(calculator=test_tone.TEST_TONE, about=feed.name, figures=figures))
    return questions


# ---- readings


def sheet_question(
    layout: Layout,
    amplifier: Amplifier,
    balance: Balance,
    channels: tuple[Channel, ...],
    *,
    split: SplitQuestion,
    power: PowerTree | None,
    kit: KitQuestion,
    turned_on_by: str | None,
    is_high_level: bool,
) -> SheetQuestion:
    """Ask for the sheet of readings.

    channels : the channel table, by which each output is joined
    split : the filters, by which each output's tone is found
    power, kit : the power cables and what is bought, for what the readings should be
    turned_on_by : the way of `turn-on`; None where it is not known
    """
    job = layout.job
    bought = () if kit.result is None else kit.result.leads
    leads = {lead.end: lead.ohm for lead in bought if lead.ohm is not None}
    rows, unknown = _output_rows(layout, balance, channels, split, leads)
    if len(rows) > commissioning.MOST_OUTPUTS:
        unknown.append(f"a sheet for more than {commissioning.MOST_OUTPUTS} outputs")
    return Question(
        calculator=commissioning.COMMISSIONING,
        figures={
            "outputs": Known(tuple(rows), "worked out: the plan"),
            "running_v": from_system(job, "charging_v"),
            **same(job, "resting_v"),
            **_drop_figures(job, power),
            **same(job, "source_v"),
            "factory_v": Known(_factory_volts(job, is_high_level), "2 Head unit: speaker leads"),
            "quiescent_a": from_amplifier(amplifier, "quiescent_a"),
            "turned_on_by": Known(turned_on_by, "worked out: how it turns on"),
        },
        unknown=tuple(unknown),
    )


def _output_rows(
    layout: Layout,
    balance: Balance,
    channels: tuple[Channel, ...],
    split: SplitQuestion,
    leads: Mapping[str, float],
) -> tuple[list[dict[str, Value]], list[str]]:
    """Return a row for each output, and what is missing for others.

    leads : the resistance [Ω] of the speaker leads, by where they go
    """
    joined = {channel.through: channel.polarity for channel in channels}
    rows: list[dict[str, Value]] = []
    unknown = []
    for (feed, wiring, use), volts in zip(layout.uses, balance.volts, strict=True):
        power = set_power(layout, feed, wiring, use)
        if power is None:
            unknown.append(f"the power of {feed.name}")
            continue
        rows += [
            {
                "name": name,
                "power_w": power,
                "load_ohm": use.load_ohm,
                "bridged": len(use.outputs[0]) == 2,
                "path": _path(layout, feed),
                "lead_ohm": round(_lead_ohm(leads, lead_ends(feed, use, at)), 4),
                "tone_hz": tone_of(split, feed, use),
                "tone_dbfs": layout.job.system.set_up.tone_dbfs,
                "boost_db": 0.0,
                "start_v": _start(feed, volts),
                "polarity": joined.get(output, "normal"),
            }
            for at, (name, output) in enumerate(
                zip(output_names(feed, use), use.outputs, strict=True)
            )
        ]
    return rows, unknown


def _lead_ohm(leads: Mapping[str, float], ends: Sequence[str]) -> float:
    """Return the resistance of an output's lead [Ω]; of joined speakers' leads side by side."""
    return 1 / sum(1 / leads.get(end, _LEAD_OHM) for end in ends)


def _drop_figures(job: Job, power: PowerTree | None) -> dict[str, Known]:
    """Return what may be lost on the way: by the bought cable, else what the system permits.

    Of several amplifiers, at the one that loses the most.
    """
    words = "worked out: the power cable"
    if power is None or power.kit_drop_v is None:
        return {"drop_v": from_system(job, "max_drop_v"), "loop_mohm": Known(None, words)}
    full_a = power.power_a
    drop_v = permitted_reading(kit_drop_v=power.kit_drop_v, full_a=full_a, reading_a=full_a)
    # What the bought cable loses for each ampere of all together, earth and body included.
    loop_mohm = 1000 * power.kit_drop_v / full_a
    return {
        "drop_v": Known(
            round(drop_v, 4),
            (
                "worked out: the drop of the cable you buy at full power, plus 0.1 V for fuse and "
                "connections"
            ),
        ),
        "loop_mohm": Known(round(loop_mohm, 4), words),
    }


def _factory_volts(job: Job, is_high_level: bool) -> float | None:
    """Return the voltage [V] of a factory radio's speaker leads, where the signal is theirs."""
    head = job.system.head_unit
    if head.factory_power_w is None or not (is_high_level or head.source_v is None):
        return None
    return round(voltage(power_w=head.factory_power_w, load_ohm=head.factory_ohm), 4)


def _path(layout: Layout, feed: Feed) -> str:
    """Return what stands between an output and its speakers, as a meter meets it."""
    job = layout.job
    carried = {end for network in job.system.networks for end in (network.above, network.below)}
    if {job.speakers[row].name for row in feed.rows} & carried:
        return "capacitor" if feed.section == "tweeter" else "network"
    if feed.section == "tweeter" and job.system.head_unit.tweeter_capacitor:
        return "capacitor"
    return "direct"

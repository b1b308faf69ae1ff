"""The calculator `gain-voltage`: what the meter shows when the gain is set."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator, Start
from calc.answers.cautions import BOTH_LIVE
from calc.answers.figures import decimals, quantity, rounded
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.inputs.fields import Number, YesNo
from calc.physics.levels import level_db, power, ratio, target, voltage
from calc.physics.tones import HIGHEST_HZ as TONE_HIGHEST_HZ
from calc.physics.tones import LOWEST_HZ as TONE_LOWEST_HZ
from calc.physics.tones import highest_dbfs
from calc.setup.drawings import meter_drawing
from calc.setup.fields import HIGHEST_BOOST_DB, INVENTED, load_field, power_field, volts
from calc.setup.readings import GAIN_TOLERANCE_DB, gain_window

TONE_LEVELS_DBFS = (0.0, -5.0, -10.0)


def gain_voltage(given: Mapping[str, Any]) -> Sheet:
    """Compute `gain-voltage`."""
    full = voltage(power_w=given["power_w"], load_ohm=given["load_ohm"])
    plain, boosted = (
        target(
            power_w=given["power_w"],
            load_ohm=given["load_ohm"],
            tone_dbfs=given["tone_dbfs"],
            boost_db=boost,
        )
        for boost in (0.0, given["boost_db"])
    )
    reading = given["reading_v"]
    by_speaker = None
    if given["speaker_w"] is not None:
        by_speaker = target(
            power_w=min(given["speaker_w"], given["power_w"]),
            load_ohm=given["load_ohm"],
            tone_dbfs=given["tone_dbfs"],
            boost_db=given["boost_db"],
        )
    start = None
    if given["start_v"] is not None:
        start = min(boosted, given["start_v"] * ratio(given["tone_dbfs"] - given["boost_db"]))
    aim = boosted if start is None else start
    window = gain_window(aim)
    return Sheet(
        sentence=_sentence(given, plain, boosted, start),
        verdict=_verdict(given, aim),
        results={
            "target_v": plain,
            "target_boosted_v": boosted,
            "full_scale_v": full,
            "target_low_v": window.low,
            "target_high_v": window.high,
            "speaker_target_v": by_speaker,
            "start_target_v": start,
            "reading_db": None if reading is None else level_db(reading / aim),
            "reading_w": None
            if reading is None
            else power(volts=reading, load_ohm=given["load_ohm"]),
        },
        figures=(
            *((Figure("Start at", Quantity(start, "V")),) if start is not None else ()),
            Figure("Set the gain to" if start is None else "Ceiling", Quantity(boosted, "V")),
            *((Figure("With the boost in", Quantity(plain, "V")),) if given["boost_db"] else ()),
            *(
                (Figure("As far as the speakers bear", Quantity(by_speaker, "V")),)
                if by_speaker is not None and by_speaker < boosted
                else ()
            ),
        ),
        drawings=(meter_drawing(is_bridged=given["bridged"], target_v=aim),),
        tables=(_tones_table(given),),
        onward=_onward(given),
        cautions=(
            "Speakers off their terminals while a tone plays: a steady tone of this power burns a "
            "tweeter in seconds, and hurts ears.",
            (
                "A bridged output: the meter goes across the two bridged terminals. Neither of "
                "them to earth or to an earthed instrument: that can destroy the output."
                if given["bridged"]
                else f"{BOTH_LIVE} A lead from one to the body can destroy the output. The meter "
                "goes across the two terminals."
            ),
            "The amplifier gets hot and the battery runs down: short tones, and the engine outside "
            "and not in a closed garage.",
        ),
        steps=_steps(given, full, plain, boosted),
        unknowns=(
            "Whether the amplifier reaches its rated power at all: a meter shows volts, not "
            "whether the wave is clipped. An oscilloscope shows that.",
            "Where the head unit itself begins to clip: find its highest clean volume first.",
            "How loud it gets: gain is not volume.",
        ),
        sources=(
            "P = V²/R for a sine, V in RMS. A meter without true RMS shows a sine right too.",
            "Levels: 20·lg of a ratio of voltages; 0 dBFS is a sine whose peak is full scale (IEC "
            "61606, from memory).",
            "Meters that read low above some 400 Hz; half a decibel is near enough: common "
            "practice, no source.",
        ),
    )


def _sentence(given: Mapping[str, Any], plain: float, boosted: float, start_v: float | None) -> str:
    where = (
        "across the two bridged terminals" if given["bridged"] else "across the speaker terminals"
    )
    tone = _tone_words(given)
    start = f"Speakers off, {tone} playing: turn the gain up until the meter shows"
    if start_v is not None and start_v < boosted:
        return (
            f"{start} {volts(start_v)} {where}, so that it plays no louder than the others; the "
            f"ceiling is {volts(boosted)}, and no further."
        )
    if not given["boost_db"]:
        return f"{start} {volts(plain)} {where}, and no further."
    return (
        f"{start} {volts(boosted)} {where} with the boost out; or, with the boost of "
        f"{rounded(given['boost_db'])} dB in and the tone at its centre, {volts(plain)}."
    )


def _tone_words(given: Mapping[str, Any]) -> str:
    return f"a tone of {quantity(given['tone_hz'], 'Hz')} at {rounded(given['tone_dbfs'])} dBFS"


def _verdict(given: Mapping[str, Any], boosted: float) -> Verdict:
    top, tone, reading = given["meter_top_hz"], given["tone_hz"], given["reading_v"]
    if top is not None and tone > top:
        return Verdict(
            "unsuitable",
            f"the meter is good up to {quantity(top, 'Hz')} and the tone has "
            f"{quantity(tone, 'Hz')}: it may read low, which ends in too much gain; take one "
            "that is good for it, or an oscilloscope",
        )
    if top is None:
        return Verdict("not known", "up to which frequency the meter is good is missing")
    if reading is None:
        return Verdict("suitable", f"the meter is good up to {quantity(top, 'Hz')}")
    window = gain_window(boosted)
    away = level_db(reading / boosted)
    told = f"{volts(reading)} is {decimals(abs(away), 1)} dB"
    place = window.place(reading)
    if place == "above":
        return Verdict("unsuitable", f"{told} above the target: turn the gain down")
    if place == "below":
        return Verdict("unsuitable", f"{told} below the target: the full power is not reached")
    return Verdict(
        "suitable", f"{volts(reading)} is within {rounded(GAIN_TOLERANCE_DB)} dB of the target"
    )


def _tones_table(given: Mapping[str, Any]) -> Table:
    levels = sorted({*TONE_LEVELS_DBFS, given["tone_dbfs"]}, reverse=True)
    rows = []
    for level in levels:
        volts_ = [
            target(
                power_w=given["power_w"],
                load_ohm=given["load_ohm"],
                tone_dbfs=level,
                boost_db=boost,
            )
            for boost in ([0.0, given["boost_db"]] if given["boost_db"] else [0.0])
        ]
        rows.append((Quantity(level), *map(Quantity, volts_)))
    boost = f", boost of {rounded(given['boost_db'])} dB"
    return Table(
        caption="The same gain with other tones",
        columns=(
            Column("Tone", "dBFS"),
            Column("Meter" + (f"{boost} in" if given["boost_db"] else ""), "V", decimals=2),
            *((Column(f"Meter{boost} out", "V", decimals=2),) if given["boost_db"] else ()),
        ),
        rows=tuple(rows),
        marked=levels.index(given["tone_dbfs"]),
    )


def _onward(given: Mapping[str, Any]) -> tuple[Onward, ...]:
    hertz = round(given["tone_hz"])
    ways = []
    if TONE_LOWEST_HZ <= hertz <= TONE_HIGHEST_HZ and given["tone_hz"].is_integer():
        level = min(given["tone_dbfs"], highest_dbfs(hertz))
        if level == given["tone_dbfs"]:
            ways.append(
                Onward(
                    "The tone, to play or to save",
                    "set-up/",
                    "test-tone",
                    {"frequency_hz": str(hertz), "tone_dbfs": f"{level:g}"},
                )
            )
    if given["boost_db"]:
        ways.append(
            Onward(
                "What the boost costs",
                "set-up/",
                "boost-cost",
                {key: f"{given[key]:g}" for key in ("boost_db", "power_w", "load_ohm")},
            )
        )
    return tuple(ways)


def _steps(given: Mapping[str, Any], full: float, plain: float, boosted: float) -> tuple[str, ...]:
    power_text, load = quantity(given["power_w"], "W"), quantity(given["load_ohm"], "Ω")
    steps = [f"Full power: √({power_text} × {load}) = {volts(full)}."]
    if given["tone_dbfs"]:
        level = rounded(given["tone_dbfs"])
        steps.append(f"The tone is recorded at {level} dBFS: × 10^({level} ÷ 20) = {volts(plain)}.")
    if given["boost_db"]:
        boost = rounded(given["boost_db"])
        steps.append(f"The boost takes the rest: ÷ 10^({boost} ÷ 20) = {volts(boosted)}.")
    return tuple(steps)


GAIN_VOLTAGE = Calculator(
    name="gain-voltage",
    title="The gain by meter",
    question="What must the meter show when I turn the gain up?",
    fields=(
        power_field("50"),
        load_field(),
        YesNo(key="bridged", label="Bridged output", default="no"),
        Number(
            key="speaker_w", label="Speakers’ continuous power", default="", low=1, high=5000,
            optional=True, more=True, hint="All on this output together; gives a second target.",
        ),
        Number(
            key="start_v", label="Starting voltage", default="", low=0.01, high=500, optional=True,
            more=True, hint="With which it plays as loud as the others, at 0 dBFS; from the plan.",
        ),
        Number(
            key="tone_hz", label="Frequency of the tone", default="315", low=20, high=20_000,
            source=INVENTED, hint="Within the section’s band and the meter’s.",
        ),
        Number(
            key="tone_dbfs", label="Level of the tone", default="0", low=-40, high=0,
            presets=TONE_LEVELS_DBFS, hint="As it says on the recording.",
        ),
        Number(
            key="boost_db", label="Boost that will be in", default="0", low=0,
            high=HIGHEST_BOOST_DB, hint="At the amplifier or the head unit; 0 if there is none.",
        ),
        Number(
            key="meter_top_hz", label="Meter is good up to", default="400", low=50, high=1_000_000,
            optional=True, source="many meters, common practice, no source",
            hint="By its manual, on the AC range.",
        ),
        Number(
            key="reading_v", label="What the meter shows", default="", low=0.001, high=500,
            optional=True, empty="not read yet", hint="With the boost out, to be judged.",
        ),
    ),
    groups=(
        ("The output", ("power_w", "load_ohm", "bridged", "speaker_w", "start_v")),
        ("The tone", ("tone_hz", "tone_dbfs", "boost_db")),
        ("The meter", ("meter_top_hz", "reading_v")),
    ),
    compute=gain_voltage,
    starts=(
        Start("Doors, 50 W into 4 Ω", {"power_w": "50", "load_ohm": "4", "bridged": "no",
              "tone_hz": "315", "boost_db": "0"}),
        Start("Bridged woofers, 150 W into 4 Ω", {"power_w": "150", "load_ohm": "4",
              "bridged": "yes", "tone_hz": "50", "boost_db": "6"}),
    ),
)  # fmt: skip

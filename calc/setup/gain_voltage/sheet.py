"""What the answer of `gain-voltage` says."""

from calc.answers.calculator import Calculator, Start
from calc.answers.cautions import BOTH_LIVE
from calc.answers.figures import decimals, quantity, rounded
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.physics.readings import GAIN_TOLERANCE_DB
from calc.physics.tones import HIGHEST_HZ as TONE_HIGHEST_HZ
from calc.physics.tones import LOWEST_HZ as TONE_LOWEST_HZ
from calc.physics.tones import highest_dbfs
from calc.setup.drawings import meter_drawing
from calc.setup.gain_voltage.inputs import FORM, TONE_LEVELS_DBFS, Inputs
from calc.setup.gain_voltage.solve import Result, solve
from calc.setup.words import volts


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result),
        figures=_figures(inputs, result),
        drawings=(meter_drawing(is_bridged=inputs.bridged, target_v=result.aim_v),),
        tables=(_tones_table(inputs),),
        onward=_onward(inputs),
        cautions=(
            "Speakers off their terminals while a tone plays: a steady tone of this power burns a "
            "tweeter in seconds, and hurts ears.",
            (
                "A bridged output: the meter goes across the two bridged terminals. Neither of "
                "them to earth or to an earthed instrument: that can destroy the output."
                if inputs.bridged
                else f"{BOTH_LIVE} A lead from one to the body can destroy the output. The meter "
                "goes across the two terminals."
            ),
            "The amplifier gets hot and the battery runs down: short tones, and the engine outside "
            "and not in a closed garage.",
        ),
        steps=_steps(inputs, result),
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


def data(result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "target_v": result.plain_v,
        "target_boosted_v": result.boosted_v,
        "full_scale_v": result.full_v,
        "target_low_v": result.window.low,
        "target_high_v": result.window.high,
        "speaker_target_v": result.speaker_v,
        "start_target_v": result.start_v,
        "reading_db": result.reading_db,
        "reading_w": result.reading_w,
    }


def _figures(inputs: Inputs, result: Result) -> tuple[Figure, ...]:
    start, boosted, by_speaker = result.start_v, result.boosted_v, result.speaker_v
    figures = [
        *((Figure("Start at", Quantity(start, "V")),) if start is not None else ()),
        Figure("Set the gain to" if start is None else "Ceiling", Quantity(boosted, "V")),
    ]
    if inputs.boost_db:
        figures.append(Figure("With the boost in", Quantity(result.plain_v, "V")))
    if by_speaker is not None and by_speaker < boosted:
        figures.append(Figure("As far as the speakers bear", Quantity(by_speaker, "V")))
    return tuple(figures)


def _sentence(inputs: Inputs, result: Result) -> str:
    start_v, boosted = result.start_v, result.boosted_v
    where = "across the two bridged terminals" if inputs.bridged else "across the speaker terminals"
    tone = _tone_words(inputs)
    start = f"Speakers off, {tone} playing: turn the gain up until the meter shows"
    if start_v is not None and start_v < boosted:
        return (
            f"{start} {volts(start_v)} {where}, so that it plays no louder than the others; the "
            f"ceiling is {volts(boosted)}, and no further."
        )
    if not inputs.boost_db:
        return f"{start} {volts(result.plain_v)} {where}, and no further."
    return (
        f"{start} {volts(boosted)} {where} with the boost out; or, with the boost of "
        f"{rounded(inputs.boost_db)} dB in and the tone at its centre, {volts(result.plain_v)}."
    )


def _tone_words(inputs: Inputs) -> str:
    return f"a tone of {quantity(inputs.tone_hz, 'Hz')} at {rounded(inputs.tone_dbfs)} dBFS"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the meter is good for the tone, and a reading near enough to the aim."""
    top, tone, reading = inputs.meter_top_hz, inputs.tone_hz, inputs.reading_v
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
    away = f"{volts(reading)} is {decimals(abs(result.reading_db or 0.0), 1)} dB"
    place = result.window.place(reading)
    if place == "above":
        return Verdict("unsuitable", f"{away} above the target: turn the gain down")
    if place == "below":
        return Verdict("unsuitable", f"{away} below the target: the full power is not reached")
    if result.window.is_at_most(reading):
        return Verdict("suitable", f"{volts(reading)} is at the ceiling, as near as a meter tells")
    return Verdict(
        "suitable", f"{volts(reading)} is within {rounded(GAIN_TOLERANCE_DB)} dB of the target"
    )


def _tones_table(inputs: Inputs) -> Table:
    levels = sorted({*TONE_LEVELS_DBFS, inputs.tone_dbfs}, reverse=True)
    rows = []
    for level in levels:
        targets = [
            inputs.output.target_v(tone_dbfs=level, boost_db=boost)
            for boost in ([0.0, inputs.boost_db] if inputs.boost_db else [0.0])
        ]
        rows.append((Quantity(level), *map(Quantity, targets)))
    boost = f", boost of {rounded(inputs.boost_db)} dB"
    return Table(
        name="other-tones",
        caption="The same gain with other tones",
        columns=(
            Column("Tone", "dBFS"),
            Column("Meter" + (f"{boost} in" if inputs.boost_db else ""), "V", decimals=2),
            *((Column(f"Meter{boost} out", "V", decimals=2),) if inputs.boost_db else ()),
        ),
        rows=tuple(rows),
        marked=levels.index(inputs.tone_dbfs),
    )


def _onward(inputs: Inputs) -> tuple[Onward, ...]:
    hertz = round(inputs.tone_hz)
    ways = []
    if TONE_LOWEST_HZ <= hertz <= TONE_HIGHEST_HZ and inputs.tone_hz.is_integer():
        level = min(inputs.tone_dbfs, highest_dbfs(hertz))
        if level == inputs.tone_dbfs:
            ways.append(
                Onward(
                    "The tone, to play or to save",
                    "test-tone",
                    {"frequency_hz": str(hertz), "tone_dbfs": f"{level:g}"},
                )
            )
    if inputs.boost_db:
        ways.append(
            Onward(
                "What the boost costs",
                "boost-cost",
                {
                    "boost_db": f"{inputs.boost_db:g}",
                    "power_w": f"{inputs.output.power_w:g}",
                    "load_ohm": f"{inputs.output.load_ohm:g}",
                },
            )
        )
    return tuple(ways)


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    output = inputs.output
    power_text, load = quantity(output.power_w, "W"), quantity(output.load_ohm, "Ω")
    steps = [f"Full power: √({power_text} × {load}) = {volts(result.full_v)}."]
    if inputs.tone_dbfs:
        level = rounded(inputs.tone_dbfs)
        steps.append(
            f"The tone is recorded at {level} dBFS: × 10^({level} ÷ 20) = {volts(result.plain_v)}."
        )
    if inputs.boost_db:
        boost = rounded(inputs.boost_db)
        steps.append(f"The boost takes the rest: ÷ 10^({boost} ÷ 20) = {volts(result.boosted_v)}.")
    return tuple(steps)


GAIN_VOLTAGE = Calculator(
    name="gain-voltage",
    title="The gain by meter",
    question="What must the meter show when I turn the gain up?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
    starts=(
        Start("Doors, 50 W into 4 Ω", {"power_w": "50", "load_ohm": "4", "bridged": "no",
              "tone_hz": "315", "boost_db": "0"}),
        Start("Bridged woofers, 150 W into 4 Ω", {"power_w": "150", "load_ohm": "4",
              "bridged": "yes", "tone_hz": "50", "boost_db": "6"}),
    ),
)  # fmt: skip

"""What the answer of `gain-voltage` says."""

from calc.answers.calculator import Calculator, Start
from calc.answers.cautions import BOTH_LIVE
from calc.answers.figures import THIN_SPACE, decimals, quantity, rounded
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.physics.readings import GAIN_TOLERANCE_DB
from calc.physics.tones import HIGHEST_HZ as TONE_HIGHEST_HZ
from calc.physics.tones import LOWEST_HZ as TONE_LOWEST_HZ
from calc.physics.tones import highest_dbfs
from calc.setup.drawings import meter_drawing
from calc.setup.gain_voltage.inputs import FORM, TONE_LEVELS_DBFS, Inputs
from calc.setup.gain_voltage.solve import Result, solve
from calc.setup.words import EXHAUST, TONES_BURN, volts


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
            TONES_BURN,
            (
                "Both bridged terminals are live. A lead to the body or to an earthed instrument "
                "can destroy the output: put the meter across the two, and nowhere else."
                if inputs.bridged
                else f"{BOTH_LIVE} A lead from one to the body can destroy the output: put the "
                "meter across the two."
            ),
            EXHAUST,
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "Whether the amplifier reaches its rated power: a meter shows volts, not clipping. An "
            "oscilloscope shows both.",
            "Where the head unit starts to clip: find its highest clean volume first.",
        ),
        sources=("full-scale", "meter-limit"),
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
    figures = [Figure("Set the gain to", Quantity(result.aim_v, "V"))]
    if result.start_v is not None:
        figures.append(Figure("Ceiling", Quantity(result.ceiling_v, "V")))
    if inputs.boost_db:
        figures.append(Figure("With the boost on", Quantity(result.plain_v, "V")))
    if result.ceiling_v < result.boosted_v:
        figures.append(Figure("Limit of the amplifier", Quantity(result.boosted_v, "V")))
    return tuple(figures)


def _sentence(inputs: Inputs, result: Result) -> str:
    start_v, ceiling = result.start_v, result.ceiling_v
    where = "across the two bridged terminals" if inputs.bridged else "at the speaker terminals"
    tone = f"{quantity(inputs.tone_hz, 'Hz')} at {quantity(inputs.tone_dbfs, 'dBFS')}"
    off = "Speakers and bass boost off" if inputs.boost_db else "Speakers off"
    start = f"{off}, play {tone}. Turn the gain up until the meter reads"
    if start_v is not None and start_v < ceiling:
        return (
            f"{start} {volts(start_v)} AC {where}, and stop: that matches the other speakers. "
            f"Never go above {volts(ceiling)}."
        )
    limit = ": these speakers handle no more" if ceiling < result.boosted_v else ""
    return f"{start} {volts(ceiling)} AC {where}, and stop{limit}."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the meter is good for the tone, and a reading near enough to the aim."""
    top, tone, reading = inputs.meter_top_hz, inputs.tone_hz, inputs.reading_v
    if top is not None and tone > top:
        return Verdict(
            "unsuitable",
            f"This meter reads true up to {quantity(top, 'Hz')} only. At {quantity(tone, 'Hz')} it "
            "can read low, and you would set too much gain. Use a lower tone, a better meter or "
            "an oscilloscope.",
        )
    if top is None:
        return Verdict(
            "not known",
            "Look up in the meter’s manual up to what frequency it reads AC volts true, and "
            "enter that.",
        )
    if reading is None:
        return Verdict(
            "suitable",
            f"This meter reads true at {quantity(tone, 'Hz')} (up to {quantity(top, 'Hz')}).",
        )
    away = f"{volts(reading)} is {decimals(abs(result.reading_db or 0.0), 1)}{THIN_SPACE}dB"
    place = result.window.place(reading)
    if place == "above":
        return Verdict("unsuitable", f"{away} above the target. Turn the gain down.")
    if place == "below":
        return Verdict("unsuitable", f"{away} below the target. Turn the gain up.")
    if result.window.is_at_most(reading):
        return Verdict("suitable", f"{volts(reading)} is at the ceiling, as near as a meter shows.")
    return Verdict(
        "suitable", f"{volts(reading)} is within {quantity(GAIN_TOLERANCE_DB, 'dB')} of the target."
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
    boost = f", {quantity(inputs.boost_db, 'dB')} of boost"
    return Table(
        name="other-tones",
        caption="The same gain with tones of other levels",
        columns=(
            Column("Tone", "dBFS"),
            Column("Meter" + (f"{boost} on" if inputs.boost_db else ""), "V", decimals=2),
            *((Column(f"Meter{boost} off", "V", decimals=2),) if inputs.boost_db else ()),
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
                    "Play or save this tone",
                    "test-tone",
                    {"frequency_hz": str(hertz), "tone_dbfs": f"{level:g}"},
                )
            )
    if inputs.boost_db:
        ways.append(
            Onward(
                "What this boost costs",
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
        steps.append(f"Tone at {level} dBFS: × 10^({level} ÷ 20) = {volts(result.plain_v)}.")
    if inputs.boost_db:
        boost = rounded(inputs.boost_db)
        steps.append(
            f"{boost} dB kept free for the boost: ÷ 10^({boost} ÷ 20) = {volts(result.boosted_v)}."
        )
    steps.append(
        f"We allow {quantity(GAIN_TOLERANCE_DB, 'dB')} either way, never above the ceiling."
    )
    return tuple(steps)


GAIN_VOLTAGE = Calculator(
    name="gain-voltage",
    title="Set the gain with a meter",
    question="What should the meter read when I turn the gain up?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
    starts=(
        Start("Doors, 50 W into 4 Ω", {"power_w": "50", "load_ohm": "4", "bridged": "no",
              "tone_hz": "315", "boost_db": "0"}),
        Start("Bridged subs, 150 W into 4 Ω", {"power_w": "150", "load_ohm": "4",
              "bridged": "yes", "tone_hz": "50", "boost_db": "6"}),
    ),
)  # fmt: skip

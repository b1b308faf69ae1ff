"""What the answer of `test-tone` says."""

from functools import partial

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Sound, Table
from calc.physics.levels import power_ratio, ratio
from calc.physics.tones import (
    FADE_IN_S,
    FADE_OUT_S,
    RATE_HZ,
    SHORTEST_S,
    TWEETER_DBFS,
    TWEETER_HZ,
    Channels,
    tone_wav,
)
from calc.setup.test_tone.inputs import FORM, Inputs, level_is_permitted
from calc.setup.test_tone.solve import Result, solve

_CHANNEL_WORDS: dict[Channels, str] = {
    "both": "both channels",
    "left": "the left channel",
    "right": "the right channel",
}


def file_name(inputs: Inputs) -> str:
    """Return the name of the file, which tells what is in it.

    >>> file_name(Inputs(frequency_hz=50, tone_dbfs=-5.0))
    'tone-50hz-minus5dbfs-20s-both.wav'
    """
    level = f"{abs(inputs.tone_dbfs):g}".replace(".", "p")
    sign = "minus" if inputs.tone_dbfs else ""
    return (
        f"tone-{inputs.frequency_hz}hz-{sign}{level}dbfs-{inputs.length_s}s-{inputs.channels}.wav"
    )


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    frequency, level = inputs.frequency_hz, inputs.tone_dbfs
    words = f"{quantity(frequency, 'Hz')} at {rounded(level)} dBFS"
    wav = partial(
        tone_wav,
        frequency_hz=frequency,
        level_dbfs=level,
        length_s=inputs.length_s,
        channels=inputs.channels,
    )
    return Sheet(
        sentence=(
            f"A tone of {words} for {quantity(inputs.length_s, 's')} on "
            f"{_CHANNEL_WORDS[inputs.channels]}: it starts when you press play, rises within "
            f"{quantity(FADE_IN_S, 's')} and ends by itself."
        ),
        results=data(inputs, result),
        figures=(
            Figure("Level against full scale", Quantity(level, "dB")),
            Figure("Peak, of full scale", Quantity(100 * result.peak, "%")),
            Figure("File", Quantity(result.size_bytes / 1e6, "MB"), 1),
        ),
        sound=Sound(f"Tone of {words}", file_name(inputs), wav),
        tables=(_kinds_table(level),),
        onward=(
            Onward(
                "Set the gain with this tone",
                "gain-voltage",
                {"tone_hz": str(frequency), "tone_dbfs": f"{level:g}"},
            ),
        ),
        cautions=(
            "Speakers off their terminals while the gain is set with it. A steady tone burns a "
            "tweeter in seconds, long before it seems loud.",
            "Headphones and ears out of the way: turn the volume down before you press play.",
            "Not in a moving vehicle, and not where it startles a driver.",
        ),
        steps=(
            f"Sine of {quantity(frequency, 'Hz')}, {RATE_HZ} samples a second of 16 bits, peak "
            f"32767 × 10^({rounded(level)} ÷ 20).",
            f"Faded in over {quantity(FADE_IN_S, 's')} and out over {quantity(FADE_OUT_S, 's')} "
            "along half a cosine, so that nothing clicks.",
        ),
        unknowns=(
            "What the way to the amplifier adds: the head unit’s volume, tone controls, and "
            "loudness. Set them flat and note the volume.",
            "What the device’s own volume does to a tone that the page plays. A file on a memory "
            "stick, played by the head unit itself, has one unknown less.",
        ),
        sources=(
            "WAV: PCM with two channels.",
            f"Above {quantity(TWEETER_HZ, 'Hz')} at most {rounded(TWEETER_DBFS)} dBFS: a rule of "
            "this handbook for the tweeters’ sake, no source.",
        ),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "frequency_hz": inputs.frequency_hz,
        "tone_dbfs": inputs.tone_dbfs,
        "peak": result.peak,
        "highest_dbfs": result.highest_dbfs,
        "length_s": inputs.length_s,
        "rate_hz": RATE_HZ,
        "size_bytes": result.size_bytes,
        "file": file_name(inputs),
    }


def _kinds_table(level: float) -> Table:
    levels = sorted({0.0, -5.0, -10.0, -20.0, level}, reverse=True)
    rows = tuple(
        (Quantity(dbfs), Quantity(ratio(dbfs) * 100), Quantity(power_ratio(dbfs) * 100))
        for dbfs in levels
    )
    return Table(
        name="levels",
        caption="Levels and what they reach",
        columns=(
            Column("Tone", "dBFS"),
            Column("Of full voltage", "%"),
            Column("Of full power", "%"),
        ),
        rows=rows,
        marked=levels.index(level),
    )


TEST_TONE = Calculator(
    name="test-tone",
    title="A test tone",
    question="Where do I get a tone to set it by?",
    inputs=Inputs,
    groups=FORM,
    checks=(level_is_permitted,),
    solve=solve,
    present=present,
    heaviest={"length_s": str(SHORTEST_S)},
)

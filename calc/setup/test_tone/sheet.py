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
from calc.setup.words import TONES_BURN

_CHANNEL_WORDS: dict[Channels, str] = {
    "both": "",
    "left": " on the left channel",
    "right": " on the right channel",
}


def file_name(inputs: Inputs) -> str:
    """Return the name of the file, which says what is in it.

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
    words = f"{quantity(frequency, 'Hz')} at {quantity(level, 'dBFS')}"
    wav = partial(
        tone_wav,
        frequency_hz=frequency,
        level_dbfs=level,
        length_s=inputs.length_s,
        channels=inputs.channels,
    )
    return Sheet(
        sentence=(
            f"{quantity(inputs.length_s, 's')} of {words}{_CHANNEL_WORDS[inputs.channels]}. Press "
            "play: it fades in and stops by itself."
        ),
        results=data(inputs, result),
        figures=(
            Figure("Level", Quantity(level, "dBFS")),
            Figure("Peak, share of full scale", Quantity(100 * result.peak, "%")),
            Figure("File size", Quantity(result.size_bytes / 1e6, "MB"), 1),
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
            TONES_BURN,
            "A tone seems quieter than it is. Take headphones off and turn the volume down before "
            "you press play.",
            "A sudden tone startles whoever is driving. Play it in a parked vehicle only.",
        ),
        steps=(
            f"Sine of {quantity(frequency, 'Hz')}, {RATE_HZ} samples a second of 16 bits, peak "
            f"32767 × 10^({rounded(level)} ÷ 20).",
            f"Faded in over {quantity(FADE_IN_S, 's')} and out over {quantity(FADE_OUT_S, 's')} "
            "along half a cosine, so that nothing clicks.",
            f"Above {quantity(TWEETER_HZ, 'Hz')} we allow {quantity(TWEETER_DBFS, 'dBFS')} at "
            "most, to protect tweeters.",
            "The file is WAV: PCM with two channels.",
        ),
        unknowns=(
            "What the head unit’s volume, tone controls and loudness add. Set them flat and note "
            "the volume.",
            "What this device’s own volume does to a tone played from the page. A saved file on a "
            "memory stick, played by the head unit, avoids that.",
        ),
        sources=("full-scale", "tone-frequencies"),
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
        caption="What each level reaches",
        columns=(
            Column("Tone", "dBFS"),
            Column("Share of full voltage", "%"),
            Column("Share of full power", "%"),
        ),
        rows=rows,
        marked=levels.index(level),
    )


TEST_TONE = Calculator(
    name="test-tone",
    title="Test tones",
    question="Where do I get a tone to set the gain with?",
    inputs=Inputs,
    groups=FORM,
    checks=(level_is_permitted,),
    solve=solve,
    present=present,
    heaviest={"length_s": str(SHORTEST_S)},
)

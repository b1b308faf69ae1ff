"""The calculator `test-tone`: a tone to set the gain by, played in the page or saved as a file."""

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Sound, Table
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Choice, Number, Whole
from calc.physics.tones import (
    FADE_IN_S,
    FADE_OUT_S,
    HIGHEST_HZ,
    LONGEST_S,
    LOWEST_HZ,
    RATE_HZ,
    SHORTEST_S,
    TWEETER_DBFS,
    TWEETER_HZ,
    highest_dbfs,
    tone_wav,
)
from calc.setup.fields import INVENTED

_HEADER_BYTES = 44
_CHANNEL_WORDS = {"both": "both channels", "left": "the left channel", "right": "the right channel"}


def file_name(given: Mapping[str, Any]) -> str:
    """Return the name of the file, which tells what is in it.

    >>> file_name({"frequency_hz": 50, "tone_dbfs": -5.0, "length_s": 20, "channels": "both"})
    'tone-50hz-minus5dbfs-20s-both.wav'
    """
    level = f"{abs(given['tone_dbfs']):g}".replace(".", "p")
    sign = "minus" if given["tone_dbfs"] else ""
    return (
        f"tone-{given['frequency_hz']}hz-{sign}{level}dbfs-{given['length_s']}s-"
        f"{given['channels']}.wav"
    )


def tone_sheet(given: Mapping[str, Any]) -> Sheet:
    """Compute `test-tone`."""
    frequency, level = given["frequency_hz"], given["tone_dbfs"]
    size = _HEADER_BYTES + 4 * RATE_HZ * given["length_s"]
    words = f"{quantity(frequency, 'Hz')} at {rounded(level)} dBFS"
    wav = partial(
        tone_wav,
        frequency_hz=frequency,
        level_dbfs=level,
        length_s=given["length_s"],
        channels=given["channels"],
    )
    return Sheet(
        sentence=(
            f"A tone of {words} for {quantity(given['length_s'], 's')} on "
            f"{_CHANNEL_WORDS[given['channels']]}: it starts when you press play, rises within "
            f"{quantity(FADE_IN_S, 's')} and ends by itself."
        ),
        results={
            "frequency_hz": frequency,
            "tone_dbfs": level,
            "peak": 10 ** (level / 20),
            "highest_dbfs": highest_dbfs(frequency),
            "length_s": given["length_s"],
            "rate_hz": RATE_HZ,
            "size_bytes": size,
            "file": file_name(given),
        },
        figures=(
            Figure("Level against full scale", Quantity(level, "dB")),
            Figure("Peak, of full scale", Quantity(100 * 10 ** (level / 20), "%")),
            Figure("File", Quantity(size / 1e6, "MB"), 1),
        ),
        sound=Sound(f"Tone of {words}", file_name(given), wav),
        tables=(_kinds_table(given),),
        onward=(
            Onward(
                "Set the gain with this tone",
                "set-up/",
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


def _kinds_table(given: Mapping[str, Any]) -> Table:
    level = given["tone_dbfs"]
    rows = tuple(
        (Quantity(one), Quantity(10 ** (one / 20) * 100), Quantity(10 ** (one / 10) * 100))
        for one in sorted({0.0, -5.0, -10.0, -20.0, level}, reverse=True)
    )
    return Table(
        caption="Levels and what they reach",
        columns=(
            Column("Tone", "dBFS"),
            Column("Of full voltage", "%"),
            Column("Of full power", "%"),
        ),
        rows=rows,
        marked=[row[0].value for row in rows].index(level),
    )


def check_level(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with a level that this frequency may not have."""
    if "frequency_hz" not in given or "tone_dbfs" not in given:
        return
    most = highest_dbfs(given["frequency_hz"])
    if given["tone_dbfs"] > most:
        level = rounded(given["tone_dbfs"])
        yield FieldError(
            "tone_dbfs",
            shown(level),
            f"Level of the tone: {level} dBFS is too loud above {TWEETER_HZ} Hz, where tweeters "
            f"are. Give at most {rounded(most)} dBFS.",
        )


TEST_TONE = Calculator(
    name="test-tone",
    title="A test tone",
    question="Where do I get a tone to set it by?",
    fields=(
        Whole(
            key="frequency_hz", label="Frequency", default="315", low=LOWEST_HZ, high=HIGHEST_HZ,
            presets=(50, 315, 2500), source=INVENTED,
            hint="Within the section’s band: woofers about 50, doors about 315.",
        ),
        Number(
            key="tone_dbfs", label="Level of the tone", default="-10", low=-60, high=0,
            presets=(0, -5, -10),
            hint=f"Above {TWEETER_HZ} Hz at most {rounded(TWEETER_DBFS)}.",
        ),
        Whole(
            key="length_s", label="Length", default="20", low=SHORTEST_S, high=LONGEST_S,
        ),
        Choice(
            key="channels", label="Channels", default="both",
            options=(("both", "both"), ("left", "left"), ("right", "right")),
        ),
    ),
    groups=(("The tone", ("frequency_hz", "tone_dbfs", "length_s", "channels")),),
    check=check_level,
    compute=tone_sheet,
    heaviest={"length_s": str(SHORTEST_S)},
)  # fmt: skip

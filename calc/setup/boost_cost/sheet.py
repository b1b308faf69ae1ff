"""The calculator `boost-cost`: what a bass boost asks of the amplifier."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.plots import THIRD_OCTAVES_HZ
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.inputs.fields import Number
from calc.physics.boost import Boost, lower_by
from calc.physics.levels import clipped_power, power_ratio, target, voltage
from calc.setup.drawings import boost_drawing
from calc.setup.fields import HIGHEST_BOOST_DB, INVENTED, load_field, power_field, volts

_STEPS_DB = (3.0, 6.0, 9.0, 12.0)


def curve_hz(boost: Boost) -> list[float]:
    """Return the frequencies of the curve: the third-octaves of hearing, and the centre."""
    return sorted({*map(float, THIRD_OCTAVES_HZ), boost.frequency_hz})


def boost_cost(given: Mapping[str, Any]) -> Sheet:
    """Compute `boost-cost`."""
    boost = Boost(frequency_hz=given["frequency_hz"], gain_db=given["boost_db"], q=given["q"])
    times = power_ratio(given["boost_db"])
    asked = given["power_w"] * power_ratio(given["boost_db"] - given["headroom_db"])
    lower = lower_by(boost_db=given["boost_db"], headroom_db=given["headroom_db"])
    left = given["headroom_db"] - given["boost_db"]
    boosted_v = target(
        power_w=given["power_w"], load_ohm=given["load_ohm"], tone_dbfs=0,
        boost_db=given["boost_db"],
    )  # fmt: skip
    low, high = boost.half_gain_hz()
    return Sheet(
        sentence=_sentence(given, times, asked, lower),
        verdict=_verdict(given, lower, left),
        results={
            "power_ratio": times,
            "lower_input_db": lower,
            "curve": [
                {"frequency_hz": one, "level_db": boost.level_db(one)} for one in curve_hz(boost)
            ],
            "asked_w": asked,
            "headroom_before_db": given["headroom_db"],
            "headroom_after_db": left,
            "half_gain_low_hz": low,
            "half_gain_high_hz": high,
            "half_gain_octaves": boost.octaves,
            "elsewhere_w": given["power_w"] / power_ratio(max(lower, given["headroom_db"])),
            "target_v": voltage(power_w=given["power_w"], load_ohm=given["load_ohm"]),
            "target_boosted_v": boosted_v,
            "clipped_ratio": clipped_power(max(-left, 0.0)),
        },
        figures=(
            Figure("The power at that frequency, times", Quantity(times)),
            Figure("Lower the input by", Quantity(lower, "dB")),
            Figure("Room left with the boost in", Quantity(left, "dB"), 1),
            Figure("Gain target, boost out", Quantity(boosted_v, "V")),
        ),
        drawings=(boost_drawing(boost),),
        tables=(_steps_table(given),),
        onward=(
            Onward(
                "Set the gain for this boost",
                "set-up/",
                "gain-voltage",
                {key: f"{given[key]:g}" for key in ("power_w", "load_ohm", "boost_db")},
            ),
        ),
        cautions=(
            "A clipped amplifier heats coils: up to twice the power of the clean wave, and its "
            "harmonics reach the tweeters. Where it sounds rough, turn down at once.",
            "Below a box’s tuning a boost only moves the cone. Leave the subsonic high-pass in.",
        ),
        steps=_steps(given, boost, times, lower, boosted_v),
        unknowns=(
            "Whether the boost of this amplifier has this shape: many manuals tell only the "
            "highest boost. Measure it with tones, speakers off.",
            "How much room the music itself leaves: few recordings are at full level in the bass.",
        ),
        sources=(
            "Peaking filter: H = (s² + s·A·ω/Q + ω²) ÷ (s² + s·ω/(A·Q) + ω²), A = 10^(G/40).",
            "G dB asks for 10^(G/10) times the power. That the input is to be lowered by about as "
            "much: common practice, no source.",
            "Frequencies of the curve: ISO 266.",
        ),
    )


def _sentence(given: Mapping[str, Any], times: float, asked: float, lower: float) -> str:
    boost, centre = rounded(given["boost_db"]), quantity(given["frequency_hz"], "Hz")
    if not given["boost_db"]:
        return "Without a boost nothing is asked of the amplifier that it did not give before."
    start = f"A boost of {boost} dB at {centre} asks for {rounded(times, 3)} times the power there"
    if not lower:
        return (
            f"{start}; the {rounded(given['headroom_db'])} dB of room that you leave are enough "
            "for it."
        )
    return (
        f"{start}, {quantity(asked, 'W', 3)} of an amplifier that has "
        f"{quantity(given['power_w'], 'W')}: lower everything by {rounded(lower)} dB, or it clips."
    )


def _verdict(given: Mapping[str, Any], lower: float, left: float) -> Verdict:
    if not lower:
        return Verdict(
            "suitable", f"{rounded(left)} dB of room are left below full power with the boost in"
        )
    rest = given["power_w"] / power_ratio(lower)
    return Verdict(
        "unsuitable",
        f"as loud as before it clips; lowered by {rounded(lower)} dB, the other frequencies have "
        f"{quantity(rest, 'W', 3)} left",
    )


def _steps_table(given: Mapping[str, Any]) -> Table:
    gains = sorted({*_STEPS_DB, given["boost_db"]})
    rows = []
    for gain in gains:
        lower = lower_by(boost_db=gain, headroom_db=given["headroom_db"])
        rows.append(
            (
                Quantity(gain),
                Quantity(power_ratio(gain)),
                Quantity(lower),
                Quantity(given["power_w"] / power_ratio(max(lower, given["headroom_db"]))),
                Quantity(
                    target(
                        power_w=given["power_w"],
                        load_ohm=given["load_ohm"],
                        tone_dbfs=0,
                        boost_db=gain,
                    )
                ),
            )
        )
    return Table(
        caption="What each boost costs here",
        columns=(
            Column("Boost", "dB"),
            Column("Power, times"),
            Column("Lower by", "dB", decimals=1),
            Column("Left elsewhere", "W"),
            Column("Target, boost out", "V", decimals=2),
        ),
        rows=tuple(rows),
        marked=gains.index(given["boost_db"]),
        note="Targets with a tone at 0 dBFS.",
    )


def _steps(
    given: Mapping[str, Any], boost: Boost, times: float, lower: float, boosted_v: float
) -> tuple[str, ...]:
    gain, room = rounded(given["boost_db"]), rounded(given["headroom_db"])
    full = volts(voltage(power_w=given["power_w"], load_ohm=given["load_ohm"]))
    width = given["frequency_hz"] / given["q"]
    return (
        f"Power: 10^({gain} ÷ 10) = {rounded(times)} times.",
        f"Room: {gain} dB of boost less {room} dB left free = {rounded(lower)} dB to lower by.",
        f"Half of the decibels are there over {quantity(width, 'Hz')}: "
        f"{quantity(given['frequency_hz'], 'Hz')} ÷ {rounded(given['q'])}, "
        f"{rounded(boost.octaves, 2)} octaves.",
        f"Gain: {full} at full power, ÷ 10^({gain} ÷ 20) with the boost out = {volts(boosted_v)}.",
    )


BOOST_COST = Calculator(
    name="boost-cost",
    title="What a boost costs",
    question="It has a bass boost: how much of it can I use?",
    fields=(
        Number(
            key="boost_db", label="Boost", default="6", low=0, high=HIGHEST_BOOST_DB,
            presets=(3, 6, 12), source=INVENTED,
        ),
        Number(
            key="frequency_hz", label="Centre", default="45", low=20, high=20_000,
            source="many amplifiers, common practice, no source",
        ),
        Number(
            key="q", label="Q", default="1", low=0.1, high=10,
            hint="Centre over width; the greater, the narrower.",
        ),
        power_field("150", "Power of the amplifier"),
        load_field(),
        Number(
            key="headroom_db", label="Room left before", default="0", low=0, high=30,
            hint="How far below full power the loudest part stays without the boost. Nought "
            "where the gain is set for full power.",
        ),
    ),
    groups=(
        ("The boost", ("boost_db", "frequency_hz", "q")),
        ("The amplifier", ("power_w", "load_ohm", "headroom_db")),
    ),
    compute=boost_cost,
)  # fmt: skip

"""What the answer of `boost-cost` says."""

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity, rounded
from calc.answers.plots import THIRD_OCTAVES_HZ
from calc.answers.sheet import Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.physics.boost import Boost, lower_by
from calc.physics.levels import power_ratio
from calc.setup.boost_cost.inputs import FORM, Inputs
from calc.setup.boost_cost.solve import Result, power_left, solve
from calc.setup.drawings import boost_drawing
from calc.setup.words import volts

_STEPS_DB = (3.0, 6.0, 9.0, 12.0)


def curve_hz(boost: Boost) -> list[float]:
    """Return the frequencies of the curve: the third-octaves of hearing, and the centre."""
    return sorted({*map(float, THIRD_OCTAVES_HZ), boost.frequency_hz})


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=(
            Figure("The power at that frequency, times", Quantity(result.times)),
            Figure("Lower the input by", Quantity(result.lower_db, "dB")),
            Figure("Room left with the boost in", Quantity(result.left_db, "dB"), 1),
            Figure("Gain target, boost out", Quantity(result.boosted_v, "V")),
        ),
        drawings=(boost_drawing(result.boost),),
        tables=(_steps_table(inputs),),
        onward=(
            Onward(
                "Set the gain for this boost",
                "gain-voltage",
                {
                    "power_w": f"{inputs.power_w:g}",
                    "load_ohm": f"{inputs.load_ohm:g}",
                    "boost_db": f"{inputs.boost_db:g}",
                },
            ),
        ),
        cautions=(
            "A clipped amplifier heats coils: up to twice the power of the clean wave, and its "
            "harmonics reach the tweeters. Where it sounds rough, turn down at once.",
            "Below a box’s tuning a boost only moves the cone. Leave the subsonic high-pass in.",
        ),
        steps=_steps(inputs, result),
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


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    boost = result.boost
    low, high = boost.half_gain_hz()
    return {
        "power_ratio": result.times,
        "lower_input_db": result.lower_db,
        "curve": [
            {"frequency_hz": hertz, "level_db": boost.level_db(hertz)} for hertz in curve_hz(boost)
        ],
        "asked_w": result.asked_w,
        "headroom_before_db": inputs.headroom_db,
        "headroom_after_db": result.left_db,
        "half_gain_low_hz": low,
        "half_gain_high_hz": high,
        "half_gain_octaves": boost.octaves,
        "elsewhere_w": result.elsewhere_w,
        "target_v": result.full_v,
        "target_boosted_v": result.boosted_v,
        "clipped_ratio": result.clipped_ratio,
    }


def _sentence(inputs: Inputs, result: Result) -> str:
    boost, centre = rounded(inputs.boost_db), quantity(inputs.frequency_hz, "Hz")
    if not inputs.boost_db:
        return "Without a boost nothing is asked of the amplifier that it did not give before."
    times = rounded(result.times, 3)
    start = f"A boost of {boost} dB at {centre} asks for {times} times the power there"
    if not result.lower_db:
        return (
            f"{start}; the {rounded(inputs.headroom_db)} dB of room that you leave are enough "
            "for it."
        )
    return (
        f"{start}, {quantity(result.asked_w, 'W', 3)} of an amplifier that has "
        f"{quantity(inputs.power_w, 'W')}: lower everything by {rounded(result.lower_db)} dB, or "
        "it clips."
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the amplifier has room for the boost."""
    lower = result.lower_db
    if not lower:
        return Verdict(
            "suitable",
            f"{rounded(result.left_db)} dB of room are left below full power with the boost in",
        )
    rest = inputs.power_w / power_ratio(lower)
    return Verdict(
        "unsuitable",
        f"as loud as before it clips; lowered by {rounded(lower)} dB, the other frequencies have "
        f"{quantity(rest, 'W', 3)} left",
    )


def _steps_table(inputs: Inputs) -> Table:
    gains = sorted({*_STEPS_DB, inputs.boost_db})
    rows = []
    for gain in gains:
        lower = lower_by(boost_db=gain, headroom_db=inputs.headroom_db)
        rows.append(
            (
                Quantity(gain),
                Quantity(power_ratio(gain)),
                Quantity(lower),
                Quantity(
                    power_left(
                        power_w=inputs.power_w, lower_db=lower, headroom_db=inputs.headroom_db
                    )
                ),
                Quantity(inputs.output.target_v(tone_dbfs=0, boost_db=gain)),
            )
        )
    return Table(
        name="boosts",
        caption="What each boost costs here",
        columns=(
            Column("Boost", "dB"),
            Column("Power, times"),
            Column("Lower by", "dB", decimals=1),
            Column("Left elsewhere", "W"),
            Column("Target, boost out", "V", decimals=2),
        ),
        rows=tuple(rows),
        marked=gains.index(inputs.boost_db),
        note="Targets with a tone at 0 dBFS.",
    )


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    gain, room = rounded(inputs.boost_db), rounded(inputs.headroom_db)
    width = inputs.frequency_hz / inputs.q
    return (
        f"Power: 10^({gain} ÷ 10) = {rounded(result.times)} times.",
        f"Room: {gain} dB of boost less {room} dB left free = {rounded(result.lower_db)} dB to "
        "lower by.",
        f"Half of the decibels are there over {quantity(width, 'Hz')}: "
        f"{quantity(inputs.frequency_hz, 'Hz')} ÷ {rounded(inputs.q)}, "
        f"{rounded(result.boost.octaves, 2)} octaves.",
        f"Gain: {volts(result.full_v)} at full power, ÷ 10^({gain} ÷ 20) with the boost out = "
        f"{volts(result.boosted_v)}.",
    )


BOOST_COST = Calculator(
    name="boost-cost",
    title="What a boost costs",
    question="It has a bass boost: how much of it can I use?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)

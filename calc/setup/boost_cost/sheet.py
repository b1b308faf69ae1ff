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
            Figure("Power needed there, times", Quantity(result.times)),
            Figure("Turn everything down by", Quantity(result.lower_db, "dB")),
            Figure("Headroom with the boost on", Quantity(result.left_db, "dB"), 1),
            Figure("Gain target, boost off", Quantity(result.boosted_v, "V")),
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
            "A clipped signal overheats voice coils: it carries up to twice the clean power, with "
            "far more treble. If it sounds rough, turn it down at once.",
            "Boost below the tuning of a ported box over-drives the cone, which the port no longer "
            "controls. Keep the subsonic filter on and the boost off.",
        ),
        steps=_steps(inputs, result),
        unknowns=(
            "The shape of this amplifier’s boost: many manuals give only its maximum. Measure it "
            "with tones, speakers off.",
            "How much headroom the music leaves: few recordings reach full level in the bass.",
        ),
        sources=("boost-frequency", "tone-frequencies"),
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
    centre = quantity(inputs.frequency_hz, "Hz")
    if not inputs.boost_db:
        return "With no bass boost there is nothing to turn down."
    times = rounded(result.times, 2)
    start = f"{quantity(inputs.boost_db, 'dB')} of boost at {centre} needs {times} times the power"
    if not result.lower_db:
        headroom = quantity(inputs.headroom_db, "dB")
        return f"{start} there, and your {headroom} of headroom covers it."
    return (
        f"{start} there: {quantity(result.asked_w, 'W', 2)} from a "
        f"{quantity(inputs.power_w, 'W')} amplifier. Turn everything down "
        f"{quantity(result.lower_db, 'dB')} or it will clip."
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether the amplifier has headroom for the boost."""
    lower = result.lower_db
    if not lower:
        return Verdict(
            "suitable",
            f"{quantity(result.left_db, 'dB')} of headroom left with the boost on.",
        )
    rest = inputs.power_w / power_ratio(lower)
    return Verdict(
        "unsuitable",
        f"Turned down {quantity(lower, 'dB')}, the rest of the bass has {quantity(rest, 'W', 2)}.",
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
        caption="What each boost costs this amplifier",
        columns=(
            Column("Boost", "dB"),
            Column("Power needed, times"),
            Column("Turn down by", "dB", decimals=1),
            Column("Left for the rest", "W"),
            Column("Gain target, boost off", "V", decimals=2),
        ),
        rows=tuple(rows),
        marked=gains.index(inputs.boost_db),
        note="Gain targets are for a tone at 0 dBFS.",
    )


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    gain, headroom = rounded(inputs.boost_db), rounded(inputs.headroom_db)
    width = inputs.frequency_hz / inputs.q
    return (
        f"Power: 10^({gain} ÷ 10) = {rounded(result.times)} times.",
        f"Headroom: {gain} dB of boost less {headroom} dB of headroom = "
        f"{rounded(result.lower_db)} dB to turn down. We turn the whole output down by that much.",
        f"Bandwidth at half the decibels: {quantity(inputs.frequency_hz, 'Hz')} ÷ "
        f"{rounded(inputs.q)} = {quantity(width, 'Hz')}, {rounded(result.boost.octaves, 2)} "
        "octaves.",
        "Boost curve: H = (s² + s·A·ω/Q + ω²) ÷ (s² + s·ω/(A·Q) + ω²), A = 10^(gain ÷ 40).",
        f"Gain target: {volts(result.full_v)} at full power ÷ 10^({gain} ÷ 20) = "
        f"{volts(result.boosted_v)} with the boost off.",
    )


BOOST_COST = Calculator(
    name="boost-cost",
    title="What bass boost costs",
    question="It has bass boost. How much of it can I use?",
    inputs=Inputs,
    groups=FORM,
    solve=solve,
    judge=judge,
    present=present,
)

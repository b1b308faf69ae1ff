"""Tables of this chapter's running text."""

from calc.answers.figures import quantity
from calc.answers.plots import THIRD_OCTAVES_HZ
from calc.answers.sheet import Column, Quantity, Table
from calc.physics.levels import clipped_power, power_ratio, ratio, target, voltage
from calc.physics.tones import TWEETER_HZ, highest_dbfs

_POWERS_W = (25.0, 50.0, 60.0, 75.0, 100.0, 150.0, 200.0, 300.0)
_LOADS_OHM = (2.0, 4.0, 8.0)
_METER_TOP_HZ = 400.0
# Speakers, their usual band [Hz]: trade practice.
_BANDS = (
    ("subs", 30, 80),
    ("mid-bass speakers", 80, 300),
    ("door speakers (coaxials)", 100, 3000),
    ("midranges", 400, 3000),
    ("tweeters", 3000, 16_000),
)


def gain_targets(tone_dbfs: str = "0") -> Table:
    """Return what the meter shows for usual powers and loads; takes a text, as fences give it."""
    level = float(tone_dbfs)
    return Table(
        caption=f"Gain targets for a tone at {quantity(level, 'dBFS')}",
        columns=(
            Column("Power", "W"),
            *(Column(f"Into {load:g} Ω", "V", decimals=1) for load in _LOADS_OHM),
        ),
        rows=tuple(
            (
                Quantity(power),
                *(
                    Quantity(target(power_w=power, load_ohm=load, tone_dbfs=level))
                    for load in _LOADS_OHM
                ),
            )
            for power in _POWERS_W
        ),
        note="AC volts. For a bridged pair take the bridged power and the whole load.",
    )


def tone_levels() -> Table:
    """Return what tones of lower levels do to the target."""
    return Table(
        sources=("full-scale",),
        caption="Gain targets for tones of other levels",
        columns=(
            Column("Tone", "dBFS"),
            Column("Share of the target", "%"),
            Column("50 W into 4 Ω", "V", decimals=2),
        ),
        rows=tuple(
            (
                Quantity(level),
                Quantity(100 * ratio(level)),
                Quantity(target(power_w=50, load_ohm=4, tone_dbfs=level)),
            )
            for level in (0.0, -3.0, -5.0, -10.0)
        ),
    )


def boost_multiples() -> Table:
    """Return what boosts need."""
    return Table(
        caption="Power for each dB of bass boost",
        columns=(
            Column("Boost", "dB"),
            Column("Power needed, times"),
            Column("Instead of 100 W", "W"),
            Column("Or left for the rest", "%"),
        ),
        rows=tuple(
            (
                Quantity(gain),
                Quantity(power_ratio(gain)),
                Quantity(100 * power_ratio(gain)),
                Quantity(100 / power_ratio(gain)),
            )
            for gain in (1.0, 3.0, 6.0, 9.0, 12.0, 18.0)
        ),
        note="The last column is the power left at all other frequencies once everything is turned "
        "down.",
    )


def section_tones() -> Table:
    """Return a tone for each group: a preferred frequency within its band, low if possible."""
    rows = []
    for name, low, high in _BANDS:
        inside = [hertz for hertz in THIRD_OCTAVES_HZ if low < hertz < high]
        metered = [hertz for hertz in inside if hertz < _METER_TOP_HZ]
        # As far up as the meter goes, and in a low band at its middle.
        tone = metered[-1] if metered and high > _METER_TOP_HZ else inside[len(inside) // 2]
        tone = inside[0] if not metered else tone
        rows.append(
            (
                name,
                f"{low} to {high}",
                Quantity(tone),
                Quantity(highest_dbfs(int(tone))),
                "any AC voltmeter" if tone < _METER_TOP_HZ else "one rated for the tone",
            )
        )
    return Table(
        sources=("tone-frequencies", "usual-bands"),
        caption="Which tone for which speakers",
        columns=(
            Column("Speakers"),
            Column("Usual band", "Hz"),
            Column("Tone", "Hz"),
            Column("Highest level", "dBFS"),
            Column("Meter"),
        ),
        rows=tuple(rows),
        note=f"Above {TWEETER_HZ} Hz our tones are quieter, to protect tweeters.",
    )


def speaker_level_volts() -> Table:
    """Return the voltages of speaker leads."""
    return Table(
        sources=("radio-power",),
        caption="Voltage on speaker leads",
        columns=(
            Column("Power", "W"),
            Column("Into 2 Ω", "V", decimals=1),
            Column("Into 4 Ω", "V", decimals=1),
        ),
        rows=tuple(
            (
                Quantity(power),
                *(Quantity(voltage(power_w=power, load_ohm=load)) for load in (2.0, 4.0)),
            )
            for power in (10.0, 18.0, 25.0, 50.0, 100.0)
        ),
        note="RMS, at full power.",
    )


def clipped_powers() -> Table:
    """Return the power of a sine that is driven into clipping."""
    return Table(
        caption="A sine driven into clipping",
        columns=(
            Column("Overdriven by", "dB"),
            Column("Power called for, times"),
            Column("Power delivered, times", decimals=2),
        ),
        rows=tuple(
            (Quantity(over), Quantity(power_ratio(over)), Quantity(clipped_power(over)))
            for over in (0.0, 1.0, 3.0, 6.0, 12.0, 20.0)
        ),
        note="Against the largest clean sine. The limit, a square wave, has twice its power.",
    )

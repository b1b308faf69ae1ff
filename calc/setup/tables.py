"""Tables of this chapter's running text."""

from calc.answers.plots import THIRD_OCTAVES_HZ
from calc.answers.sheet import Column, Quantity, Table
from calc.physics.levels import clipped_power, power_ratio, ratio, target, voltage
from calc.physics.tones import TWEETER_HZ, highest_dbfs

_POWERS_W = (25.0, 50.0, 60.0, 75.0, 100.0, 150.0, 200.0, 300.0)
_LOADS_OHM = (2.0, 4.0, 8.0)
_METER_TOP_HZ = 400.0
# Section, its usual band [Hz]: common practice, no source.
_BANDS = (
    ("woofers", 30, 80),
    ("mid-bass", 80, 300),
    ("full-range, doors", 100, 3000),
    ("midrange", 400, 3000),
    ("tweeters", 3000, 16_000),
)


def gain_targets(tone_dbfs: str = "0") -> Table:
    """Return what the meter shows for usual powers and loads; takes a text, as fences give it."""
    level = float(tone_dbfs)
    return Table(
        caption="What the meter shows with " + ("a tone at 0 dBFS" if not level else "this tone"),
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
        note="Of a bridged output: the bridged power and the whole load.",
    )


def tone_levels() -> Table:
    """Return what tones of lower levels do to the target."""
    return Table(
        caption="The level of the tone and the target",
        columns=(
            Column("Tone", "dBFS"),
            Column("Target, times"),
            Column("50 W into 4 Ω", "V", decimals=2),
        ),
        rows=tuple(
            (
                Quantity(level),
                Quantity(ratio(level)),
                Quantity(target(power_w=50, load_ohm=4, tone_dbfs=level)),
            )
            for level in (0.0, -3.0, -5.0, -10.0)
        ),
    )


def boost_multiples() -> Table:
    """Return what boosts ask for."""
    return Table(
        caption="What a boost asks for",
        columns=(
            Column("Boost", "dB"),
            Column("Power, times"),
            Column("100 W become", "W"),
            Column("Or everything lowered to", "%"),
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
        note="The last column is the power that is left at all other frequencies.",
    )


def section_tones() -> Table:
    """Return a tone for each section: a preferred frequency within its band, low if possible."""
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
                "any that shows AC" if tone < _METER_TOP_HZ else "one that is specified for it",
            )
        )
    return Table(
        caption="A tone for each section",
        columns=(
            Column("Section"),
            Column("Band", "Hz"),
            Column("Tone", "Hz"),
            Column("At most", "dBFS"),
            Column("Meter"),
        ),
        rows=tuple(rows),
        note=f"Frequencies of ISO 266. Bands: common practice, no source. Above {TWEETER_HZ} Hz "
        "the tones of this handbook are quieter, for the tweeters’ sake.",
    )


def speaker_level_volts() -> Table:
    """Return the voltages of speaker leads."""
    return Table(
        caption="What speaker leads bring",
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
        note="RMS at full power. A radio without an amplifier of its own has some 15 to 20 W a "
        "channel, whatever is printed on it (from memory).",
    )


def clipped_powers() -> Table:
    """Return the power of a sine that is driven too far."""
    return Table(
        caption="A sine driven too far",
        columns=(
            Column("Too far by", "dB"),
            Column("Asked for, times"),
            Column("Comes out, times", decimals=2),
        ),
        rows=tuple(
            (Quantity(over), Quantity(power_ratio(over)), Quantity(clipped_power(over)))
            for over in (0.0, 1.0, 3.0, 6.0, 12.0, 20.0)
        ),
        note="Power against the largest clean sine. The limit, a square wave, has twice as much.",
    )

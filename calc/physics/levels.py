"""Volts, watts and decibels: what a meter shows where a power is just reached."""

import math
from collections.abc import Sequence

SENSITIVITY_V = 2.83  # the voltage at which sensitivity is stated, 1 m away


def voltage(*, power_w: float, load_ohm: float) -> float:
    """Return the voltage of a sine that brings a power into a resistive load [V, RMS].

    power_w : power [W]; load_ohm : load [Ω], both above nought
    Source: P = V²/R.

    >>> round(voltage(power_w=60, load_ohm=4), 2)
    15.49
    """
    return math.sqrt(power_w * load_ohm)


def power(*, volts: float, load_ohm: float) -> float:
    """Return the power of a voltage across a resistive load [W].

    >>> power(volts=20, load_ohm=4)
    100.0
    """
    return volts * volts / load_ohm


def current(*, power_w: float, load_ohm: float) -> float:
    """Return the current that brings a power into a resistive load [A, RMS].

    Source: P = I²·R.

    >>> current(power_w=100, load_ohm=4)
    5.0
    """
    return math.sqrt(power_w / load_ohm)


def level_db(ratio: float) -> float:
    """Return the level of a ratio of voltages [dB]; the ratio is above nought.

    Source: a level is twenty times the decimal logarithm of a ratio of voltages (IEC 60027-3).

    >>> round(level_db(2), 2), level_db(0.1)
    (6.02, -20.0)
    """
    return 20 * math.log10(ratio)


def ratio(level: float) -> float:
    """Return the ratio of voltages of a level [dB].

    >>> round(ratio(-6.0206), 4), ratio(20)
    (0.5, 10.0)
    """
    return 10 ** (level / 20)


def power_ratio(level: float) -> float:
    """Return the ratio of powers of a level [dB].

    >>> round(power_ratio(6), 2), round(power_ratio(12), 1)
    (3.98, 15.8)
    """
    return 10 ** (level / 10)


def target(*, power_w: float, load_ohm: float, tone_dbfs: float, boost_db: float = 0.0) -> float:
    """Return what the meter shows when the gain is set [V, RMS].

    tone_dbfs : level of the recorded tone, 0 for a sine whose peak is full scale [dB]
    boost_db : boost that will be in later, while the gain is set with the boost out [dB]

    A tone that is recorded lower reaches less than the full power's voltage; a boost takes
    the rest of the way at its own frequency.

    >>> round(target(power_w=60, load_ohm=4, tone_dbfs=0), 2)
    15.49
    >>> round(target(power_w=60, load_ohm=4, tone_dbfs=-5, boost_db=6), 2)
    4.37
    """
    return voltage(power_w=power_w, load_ohm=load_ohm) * ratio(tone_dbfs - boost_db)


def level_at_db(*, volts: float, sensitivity_db: float) -> float:
    """Return the level [dB] at 1 m of a speaker that gets a voltage [V].

    sensitivity_db : its level at 2.83 V and 1 m [dB]

    >>> round(level_at_db(volts=17.89, sensitivity_db=89), 1)
    105.0
    """
    return sensitivity_db + level_db(volts / SENSITIVITY_V)


def starting_volts(
    *, ceilings_v: Sequence[float], sensitivities_db: Sequence[float]
) -> tuple[float, ...]:
    """Return the voltage [V] for each section with which all play equally loud.

    ceilings_v : the voltage that each must not go beyond [V]
    sensitivities_db : level of each at 2.83 V and 1 m [dB]

    The section that reaches least at its ceiling stays there; the louder ones are turned down,
    never the others up.  S + 20·lg(V ÷ 2.83) is then the same for all; how far each is from the
    listener is not counted.  Source: definition of sensitivity (IEC 60268-5, from memory).

    >>> [round(volts, 2) for volts in starting_volts(
    ...     ceilings_v=(17.89, 17.89), sensitivities_db=(95, 89))]
    [8.97, 17.89]
    """
    levels = [
        level_at_db(volts=volts, sensitivity_db=sensitivity)
        for volts, sensitivity in zip(ceilings_v, sensitivities_db, strict=True)
    ]
    least = min(levels)
    return tuple(
        volts * ratio(least - level) for volts, level in zip(ceilings_v, levels, strict=True)
    )


def clipped_power(overdrive_db: float) -> float:
    """Return the power of a clipped sine over that of the largest sine that is not clipped.

    overdrive_db : how far the sine is driven beyond its clipping level [dB]; below nought it
    is not clipped at all

    Clipping at one what would swing to k > 1, the wave follows the sine up to the angle
    θ = asin(1/k) and is flat for the rest of the quarter period.  Source: the integral of
    its square.  The square wave, its limit, has twice the power.

    >>> round(clipped_power(0), 3), round(clipped_power(6), 3), round(clipped_power(60), 2)
    (1.0, 1.563, 2.0)
    """
    drive = ratio(overdrive_db)
    if drive <= 1:
        return drive * drive
    angle = math.asin(1 / drive)
    sine_part = drive * drive * (angle / 2 - math.sin(2 * angle) / 4)
    return 4 / math.pi * (sine_part + math.pi / 2 - angle)

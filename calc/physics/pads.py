"""Resistors beside a speaker: the level pad, and the network that levels its impedance."""

from dataclasses import dataclass

from calc.physics.levels import ratio


@dataclass(frozen=True, kw_only=True)
class Pad:
    """A level pad: a resistor in series, another across the speaker.

    series_ohm, shunt_ohm : [Ω]; `shunt_ohm` None when nothing lies across the speaker
    """

    series_ohm: float
    shunt_ohm: float | None

    def load_ohm(self, speaker_ohm: float) -> float:
        """Return the load [Ω] that pad and speaker make together."""
        return self.series_ohm + _across(self.shunt_ohm, speaker_ohm)

    def voltage_ratio(self, speaker_ohm: float) -> float:
        """Return the part [1] of the voltage that reaches the speaker [Ω]."""
        across = _across(self.shunt_ohm, speaker_ohm)
        return across / (self.series_ohm + across)

    def power_shares(self, speaker_ohm: float) -> tuple[float, float, float]:
        """Return the parts [1] of the power in series resistor, shunt resistor, speaker [Ω]."""
        load = self.load_ohm(speaker_ohm)
        speaker_v = self.voltage_ratio(speaker_ohm)
        shunt = 0.0 if self.shunt_ohm is None else speaker_v**2 * load / self.shunt_ohm
        return self.series_ohm / load, shunt, speaker_v**2 * load / speaker_ohm


def _across(shunt_ohm: float | None, speaker_ohm: float) -> float:
    if shunt_ohm is None:
        return speaker_ohm
    return speaker_ohm * shunt_ohm / (speaker_ohm + shunt_ohm)


def level_pad(*, ohm: float, loss_db: float) -> Pad:
    """Return the pad that lowers a speaker's level and keeps the load.

    ohm : the speaker's impedance, and the load of pad and speaker [Ω]
    loss_db : how much quieter [dB], 0 or more

    Raises ValueError for a loss below 0.
    Source: voltage divider with constant load (Dickason, Loudspeaker Design Cookbook).

    >>> pad = level_pad(ohm=8, loss_db=6)
    >>> round(pad.series_ohm, 2), round(pad.shunt_ohm, 2)
    (3.99, 8.04)
    """
    if loss_db < 0:
        raise ValueError("a pad does not amplify")
    part = ratio(-loss_db)
    if part > 1 - 1e-12:
        return Pad(series_ohm=0.0, shunt_ohm=None)
    return Pad(series_ohm=ohm * (1 - part), shunt_ohm=ohm * part / (1 - part))


@dataclass(frozen=True, kw_only=True)
class Levelling:
    """A resistor and a capacitor in series across the speaker (Zobel network).

    ohm : [Ω];  farad : [F]
    """

    ohm: float
    farad: float


def levelling(
    *, coil_resistance_ohm: float, coil_inductance_h: float, factor: float = 1.0
) -> Levelling:
    """Return the network that keeps a speaker's impedance from rising.

    coil_resistance_ohm : the coil's DC resistance R_e [Ω]
    coil_inductance_h : the coil's inductance L_e [H]
    factor : 1 for the exact form, in which the whole is R_e at every frequency; 1.25 for
        the workshop form, which leaves a peak of 1.29 R_e

    R = factor·R_e, C = L_e/R².

    >>> one = levelling(coil_resistance_ohm=3.2, coil_inductance_h=0.4e-3)
    >>> round(one.ohm, 2), round(one.farad * 1e6, 1)
    (3.2, 39.1)
    """
    ohm = factor * coil_resistance_ohm
    return Levelling(ohm=ohm, farad=coil_inductance_h / ohm**2)

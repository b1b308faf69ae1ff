"""Speaker leads: what they lose, and what is left of the damping."""

from calc.physics.levels import current, level_db, ratio


def lead_ohm(*, ohm_per_m: float, length_m: float) -> float:
    """Return the resistance of a lead out and back [Ω].

    >>> lead_ohm(ohm_per_m=0.0133, length_m=5)
    0.133
    """
    return 2 * ohm_per_m * length_m


def lead_loss(*, load_ohm: float, ohm: float) -> float:
    """Return the share of the power that the speaker loses by a lead: 1 − (R/(R + r))².

    >>> round(lead_loss(load_ohm=4, ohm=0.133), 4)
    0.0633
    """
    return 1 - (load_ohm / (load_ohm + ohm)) ** 2


def lead_loss_db(*, load_ohm: float, ohm: float) -> float:
    """Return the same loss as a positive level [dB].

    >>> round(lead_loss_db(load_ohm=4, ohm=0.133), 3)
    0.284
    """
    return level_db((load_ohm + ohm) / load_ohm)


def lead_damping(*, load_ohm: float, ohm: float) -> float | None:
    """Return load over lead: the damping that the lead leaves, whatever the amplifier's.

    >>> lead_damping(load_ohm=4, ohm=0.1)
    40.0
    """
    return load_ohm / ohm if ohm > 0 else None


def longest_lead_m(*, load_ohm: float, ohm_per_m: float, loss_db: float) -> float:
    """Return how long a lead may be, one way, for a loss [m].

    >>> round(longest_lead_m(load_ohm=4, ohm_per_m=0.0133, loss_db=0.284), 2)
    5.0
    """
    return load_ohm * (ratio(loss_db) - 1) / (2 * ohm_per_m)


def lead_current(*, power_w: float | None, load_ohm: float) -> float | None:
    """Return the current of a power into a load [A]: √(P/R); None where none is known.

    >>> lead_current(power_w=150, load_ohm=6), lead_current(power_w=None, load_ohm=4)
    (5.0, None)
    """
    return None if power_w is None else current(power_w=power_w, load_ohm=load_ohm)

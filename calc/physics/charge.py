"""Electric charge: what a current takes out of a battery."""


def drain_ah(*, quiescent_a: float, parked_days: float) -> float:
    """Return the charge that a steady current takes while parked [Ah].

    >>> round(drain_ah(quiescent_a=0.02, parked_days=7), 2)
    3.36
    """
    return quiescent_a * 24 * parked_days

"""Whether the vehicle can feed it: alternator, battery, time with the engine off."""

HOURS_OF_RATING = 20  # a battery's ampere-hours are rated over 20 hours


def peukert_hours(*, battery_ah: float, draw_a: float, peukert: float) -> float | None:
    """Return how long a battery lasts from full to empty [h]: t = 20·(C/(20·I))^k.

    battery_ah : rating over 20 hours [Ah]
    draw_a : steady current [A]; None is returned when nothing is drawn
    peukert : Peukert's exponent k, 1 for an ideal battery

    Raises ValueError for a rating that is not above 0, a draw below 0, or k below 1.

    Source: Peukert 1897, with the 20-hour rating.

    >>> peukert_hours(battery_ah=70, draw_a=3.5, peukert=1.2)
    20.0
    >>> round(peukert_hours(battery_ah=70, draw_a=7, peukert=1.2), 2)
    8.71
    """
    if not (battery_ah > 0 and draw_a >= 0 and peukert >= 1):
        raise ValueError("a battery's rating is above 0, a draw not below 0, k at least 1")
    if draw_a == 0:
        return None
    return HOURS_OF_RATING * float((battery_ah / (HOURS_OF_RATING * draw_a)) ** peukert)


def alternator_margin(
    *, alternator_a: float, share: float, vehicle_a: float, amplifier_a: float
) -> float:
    """Return what an alternator has left [A]: its rating's share, less what is drawn.

    Below 0 the battery makes up for it.

    >>> alternator_margin(alternator_a=120, share=0.5, vehicle_a=35, amplifier_a=10)
    15.0
    """
    return alternator_a * share - vehicle_a - amplifier_a

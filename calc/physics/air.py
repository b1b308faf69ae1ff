"""How much warmer heat makes the air of a closed bay than that of the cabin around it."""

# One film of natural convection [W/m²K], as heat-transfer handbooks have it (from memory).
FILM_LOW, FILM_HIGH = 5.0, 10.0


def air_rise(*, heat_w: float, area_m2: float, film: float) -> float:
    """Return how much warmer a closed bay's air gets than the cabin's [K]: ΔT = P/(U·A).

    area_m2 : outer surface of the bay
    film : natural convection at one face of the wall [W/m²K]; there are two in series, and
        the wall between them is left out: U = film/2

    >>> round(air_rise(heat_w=55.6, area_m2=1.0, film=7.0), 1)
    15.9
    """
    return heat_w / (film / 2 * area_m2)


def area_for(*, heat_w: float, rise_k: float, film: float) -> float:
    """Return the surface at which the air gets no more than `rise_k` warmer [m²]."""
    return heat_w / (film / 2 * rise_k)


def box_surface(*, width_m: float, depth_m: float, height_m: float) -> float:
    """Return the outer surface of a box with all six sides [m²].

    >>> round(box_surface(width_m=1, depth_m=0.5, height_m=0.2), 6)
    1.6
    """
    return 2 * (width_m * depth_m + width_m * height_m + depth_m * height_m)

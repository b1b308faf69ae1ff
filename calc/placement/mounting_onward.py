"""What `mounting-reach` hands on: runs to the cable chapter, the bay's surface to the heat."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.core.figures import exact
from calc.core.sheet import Onward
from calc.placement.heat import box_surface
from calc.placement.runs import Leg

# What the calculators that are handed figures accept; tests hold it against their fields.
_CABLE_M, _SPEAKER_M, _ROUTE_M, _SURFACE_M2 = (0.05, 100), (0.1, 50), (0.01, 100), (0.01, 50)
_MOST_ROUTES = 40


def ways_on(given: Mapping[str, Any], whole: Sequence[Leg]) -> tuple[Onward, ...]:
    """Hand the runs to the cable chapter, and the bay's surface to the calculator of heat."""
    found = []
    for lead, label, calculator, (least, most) in (
        ("power", "Size the power cable for this length", "power-cable", _CABLE_M),
        ("speaker", "What the longest speaker lead loses", "speaker-lead", _SPEAKER_M),
    ):
        longest = round(max((one.length_m for one in whole if one.lead == lead), default=0.0), 3)
        if least <= longest <= most:
            found.append(Onward(label, "cables/", calculator, {"length_m": exact(longest)}))
    if _is_a_job(given, whole):
        routes = ";".join(
            f"{one.lead},{one.start},{one.end},{exact(_bare(given, one))}" for one in whole
        )
        slack = {"slack_percent": exact(given["slack_percent"])}
        found.append(
            Onward(
                "The kit list with these routes",
                "cables/",
                "kit-list",
                {"routes": routes} | slack,
            )
        )
    if given["bay_height_mm"] is not None:
        surface = box_surface(
            width_m=given["bay_width_mm"] / 1000,
            depth_m=given["bay_depth_mm"] / 1000,
            height_m=given["bay_height_mm"] / 1000,
        )
        if _SURFACE_M2[0] <= surface <= _SURFACE_M2[1]:
            closed = "yes" if _is_closed(given) else "no"
            handed = {"area_m2": exact(round(surface, 3)), "closed": closed}
            found.append(Onward("How warm this bay gets", "mounting/", "bay-heat", handed))
    return tuple(found)


def _is_a_job(given: Mapping[str, Any], whole: Sequence[Leg]) -> bool:
    """Tell whether the kit list takes the runs: all power from the battery, none fed twice."""
    power = [one for one in whole if one.lead == "power"]
    return (
        0 < len(whole) <= _MOST_ROUTES
        and all(_ROUTE_M[0] <= _bare(given, one) <= _ROUTE_M[1] for one in whole)
        and all(one.start == "battery" for one in power)
        and len({one.end for one in power}) == len(power)
    )


def _bare(given: Mapping[str, Any], one: Leg) -> float:
    """Return a run's length without its slack [m]: the kit list adds it again."""
    return round(one.length_m / (1 + float(given["slack_percent"]) / 100), 3)


def _is_closed(given: Mapping[str, Any]) -> bool:
    sides = ("front", "right", "back", "left", "top")
    return all(given[f"{side}_edge"] == "wall" for side in sides)

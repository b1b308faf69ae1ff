"""What `mounting-reach` hands on: runs to the cable chapter, the bay's surface to the heat."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.figures import exact
from calc.answers.sheet import Onward
from calc.physics.air import box_surface
from calc.physics.floor_plan import FACES, SIDES, Holding
from calc.placement.runs import Leg

# What the calculators that are handed figures accept; tests hold it against their fields.
_CABLE_M, _SPEAKER_M, _ROUTE_M, _SURFACE_M2 = (0.05, 100), (0.1, 50), (0.01, 100), (0.01, 50)
_MOST_ROUTES = 40
_LARGEST_FOOTPRINT_MM = 690
# Of an amplifier the kit list also asks power, trigger and signal pairs: its own start values.
_KIT_START = "250,yes,2"
Legs = Sequence[tuple[str, Holding, str, float]]  # amplifier, lead, face, mm


def ways_on(given: Mapping[str, Any], whole: Sequence[Leg], legs: Legs) -> tuple[Onward, ...]:
    """Hand the runs to the cable chapter, the surface to the heat, each body to its footprint.

    legs : the leads inside the bay
    """
    found = []
    for lead, label, calculator, (least, most) in (
        ("power", "Size the power cable for this length", "power-cable", _CABLE_M),
        ("speaker", "What the longest speaker lead loses", "speaker-lead", _SPEAKER_M),
    ):
        longest = round(max((one.length_m for one in whole if one.lead == lead), default=0.0), 3)
        if least <= longest <= most:
            found.append(Onward(label, "cables/", calculator, {"length_m": exact(longest)}))
    kit = _kit(given, whole, legs)
    if kit:
        label = "The kit list with these routes: put in each amplifier’s power and outputs"
        found.append(Onward(label, "cables/", "kit-list", kit))
    return (*found, *_heat(given), *_footprints(given))


def _kit(given: Mapping[str, Any], whole: Sequence[Leg], legs: Legs) -> dict[str, str] | None:
    """Return the kit list's inputs: routes that end at the amplifiers; None where more than one
    cable, or one that does not come from the battery, leads to the bay.
    """
    names = [row["name"] for row in given["amplifiers"]]
    power = [one for one in whole if one.lead == "power"]
    if not whole or len(power) > 1 or {*names} & {"battery", *(one.end for one in power)}:
        return None
    if any(one.start != "battery" for one in power):
        return None
    inside = {(name, lead): mm / 1000 for name, lead, _, mm in legs}
    routes = []
    for one in power:
        if all((name, "power") in inside for name in names):
            routes.append(("power", "battery", one.end, _bare(given, one)))
            routes += [("power", one.end, name, inside[name, "power"]) for name in names]
        else:
            routes += [("power", "battery", name, _bare(given, one)) for name in names]
    for one in whole:
        if one.lead == "signal":
            routes += [
                ("signal", one.start, name, _bare(given, one) + inside.get((name, "signal"), 0))
                for name in names
            ]
        elif one.lead == "speaker":  # of which amplifier is not known: the first is taken
            routes.append(("speaker", names[0], one.end, _bare(given, one)))
    lengths = [max(_ROUTE_M[0], round(length, 3)) for *_, length in routes]
    if len(routes) > _MOST_ROUTES or max(lengths) > _ROUTE_M[1]:
        return None
    outputs = min(16, sum(one.lead == "speaker" for one in whole))
    return {
        "amplifiers": ";".join(f"{name},{_KIT_START},{outputs}" for name in names),
        "routes": ";".join(
            f"{what},{start},{end},{exact(length)}"
            for (what, start, end, _), length in zip(routes, lengths, strict=True)
        ),
        "slack_percent": exact(given["slack_percent"]),
    }


def _bare(given: Mapping[str, Any], one: Leg) -> float:
    """Return a run's length without its slack [m]: the kit list adds it again."""
    return one.length_m / (1 + float(given["slack_percent"]) / 100)


def _heat(given: Mapping[str, Any]) -> list[Onward]:
    if given["bay_height_mm"] is None:
        return []
    surface = box_surface(
        width_m=given["bay_width_mm"] / 1000,
        depth_m=given["bay_depth_mm"] / 1000,
        height_m=given["bay_height_mm"] / 1000,
    )
    if not _SURFACE_M2[0] <= surface <= _SURFACE_M2[1]:
        return []
    is_closed = all(given[f"{side}_edge"] == "wall" for side in FACES)
    handed = {"area_m2": exact(round(surface, 3)), "closed": "yes" if is_closed else "no"}
    label = "How warm this bay gets" + ("" if is_closed else ", were it closed: choose so there")
    return [Onward(label, "mounting/", "bay-heat", handed)]


def _footprints(given: Mapping[str, Any]) -> list[Onward]:
    """Hand each body that is not too large for twenty sheets to its footprint."""
    rooms = {key: exact(given[key]) for key in given if key.endswith("_room_mm")}
    most_room = max(given[key] for key in rooms)
    return [
        Onward(
            f"A footprint of {row['name']} in true size",
            "footprint/",
            "footprint",
            {
                "name": row["name"],
                "width_mm": exact(row["width_mm"]),
                "depth_mm": exact(row["depth_mm"]),
                **{side: "+".join(row[side]) or "none" for side in SIDES},
                **rooms,
            },
            is_alone=True,
        )
        for row in given["amplifiers"]
        if max(row["width_mm"], row["depth_mm"]) + 2 * most_room <= _LARGEST_FOOTPRINT_MM
    ]

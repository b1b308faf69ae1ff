"""What `mounting-reach` hands on: runs to the cable chapter, the bay's surface to the heat."""

from calc.answers.figures import exact
from calc.answers.sheet import Onward
from calc.inputs.declared import values_of
from calc.physics.air import box_surface
from calc.placement.mounting_reach.inputs import Inputs
from calc.placement.mounting_reach.solve import Result
from calc.placement.runs import Leg

# What the calculators that are handed figures accept; tests hold it against their fields.
_CABLE_M, _SPEAKER_M, _ROUTE_M, _SURFACE_M2 = (0.05, 100), (0.1, 50), (0.01, 100), (0.01, 50)
_MOST_ROUTES = 40
_LARGEST_FOOTPRINT_MM = 690
# Of an amplifier the kit list also asks power, trigger and signal pairs: its own start values.
_KIT_START = "250,yes,2"


def ways_on(inputs: Inputs, result: Result) -> tuple[Onward, ...]:
    """Hand the runs to the cable chapter, the surface to the heat, each body to its footprint."""
    onward = []
    for lead, label, calculator, (least, most) in (
        ("power", "Size the power cable for this run", "power-cable", _CABLE_M),
        ("speaker", "Check the longest speaker cable", "speaker-lead", _SPEAKER_M),
    ):
        lengths = [run.length_m for run in result.runs if run.lead == lead]
        longest = round(max(lengths, default=0.0), 3)
        if least <= longest <= most:
            onward.append(Onward(label, calculator, {"length_m": exact(longest)}))
    kit = _kit(inputs, result)
    if kit:
        label = "Make the kit list from these runs (then enter each amplifier’s power and outputs)"
        onward.append(Onward(label, "kit-list", kit))
    return (*onward, *_heat(inputs), *_footprints(inputs))


def _kit(inputs: Inputs, result: Result) -> dict[str, str] | None:
    """Return the kit list's inputs: routes that end at the amplifiers; None where more than one
    cable, or one that does not come from the battery, leads to the bay.
    """
    names = [row.name for row in inputs.amplifiers]
    power = [run for run in result.runs if run.lead == "power"]
    if not result.runs or len(power) > 1 or {*names} & {"battery", *(run.end for run in power)}:
        return None
    if any(run.start != "battery" for run in power):
        return None
    inside = {(lead.amplifier, lead.lead): lead.length_m for lead in result.leads}
    routes: list[tuple[str, str, str, float]] = []
    for run in power:
        if all((name, "power") in inside for name in names):
            routes.append(("power", "battery", run.end, _bare(inputs, run)))
            routes += [("power", run.end, name, inside[name, "power"]) for name in names]
        else:
            routes += [("power", "battery", name, _bare(inputs, run)) for name in names]
    for run in result.runs:
        if run.lead == "signal":
            routes += [
                ("signal", run.start, name, _bare(inputs, run) + inside.get((name, "signal"), 0))
                for name in names
            ]
        elif run.lead == "speaker":  # of which amplifier is not known: the first is taken
            routes.append(("speaker", names[0], run.end, _bare(inputs, run)))
    lengths = [max(_ROUTE_M[0], round(length, 3)) for *_, length in routes]
    if len(routes) > _MOST_ROUTES or max(lengths) > _ROUTE_M[1]:
        return None
    outputs = min(16, sum(run.lead == "speaker" for run in result.runs))
    return {
        "amplifiers": ";".join(f"{name},{_KIT_START},{outputs}" for name in names),
        "routes": ";".join(
            f"{what},{start},{end},{exact(length)}"
            for (what, start, end, _), length in zip(routes, lengths, strict=True)
        ),
        "slack_percent": exact(inputs.slack_percent),
    }


def _bare(inputs: Inputs, run: Leg) -> float:
    """Return a run's length without its slack [m]: the kit list adds it again."""
    return run.length_m / (1 + inputs.slack)


def _heat(inputs: Inputs) -> list[Onward]:
    size = inputs.size
    if size.bay_height_mm is None:
        return []
    surface = box_surface(
        width_m=size.bay_width_mm / 1000,
        depth_m=size.bay_depth_mm / 1000,
        height_m=size.bay_height_mm / 1000,
    )
    if not _SURFACE_M2[0] <= surface <= _SURFACE_M2[1]:
        return []
    is_closed = inputs.edges.is_closed
    handed = {"area_m2": exact(round(surface, 3)), "closed": "yes" if is_closed else "no"}
    label = "See how warm this space gets" + ("" if is_closed else " (if it were closed)")
    return [Onward(label, "bay-heat", handed)]


def _footprints(inputs: Inputs) -> list[Onward]:
    """Hand each body that is not too large for twenty sheets to its footprint."""
    rooms = values_of(inputs.rooms)
    most_room = max(rooms.values())
    onward = []
    for row in inputs.amplifiers:
        body = row.body
        if max(body.width_mm, body.depth_mm) + 2 * most_room > _LARGEST_FOOTPRINT_MM:
            continue
        faces = {"front": body.front, "right": body.right, "back": body.back, "left": body.left}
        handed = {
            "name": row.name,
            "width_mm": exact(body.width_mm),
            "depth_mm": exact(body.depth_mm),
            **{side: "+".join(held) or "none" for side, held in faces.items()},
            **{key: exact(room) for key, room in rooms.items()},
        }
        label = f"Print a paper template of the {row.name}"
        onward.append(Onward(label, "footprint", handed))
    return onward

"""Another place: what is in the way taken out of it, more of it, or one of another size."""

import math
from collections.abc import Iterator

from calc.answers.figures import rounded
from calc.choosing.checks.kinds import plain
from calc.choosing.questions.placement import reach_question
from calc.choosing.remedies.case import Aim, Case, Change
from calc.inputs.field_base import Value
from calc.placement.mounting_reach import Relaxed, relax_list

_MARGINS_MM = (20.0, 60.0, 100.0, 150.0, 200.0, 300.0, 500.0)


def more_room(aim: Aim) -> Iterator[Change]:
    """Yield each change of the bay that lets the amplifier stand, then a place that is open."""
    case = aim.case
    result = reach_question(case.job, [part.amplifier for part in case.parts]).result
    for relax, words in relax_list(result.design) if result is not None else ():
        changed = _relaxed(case, relax)
        if changed:
            # A hand's breadth more is a smaller change than another floor plan.
            size = (relax.by_mm or 50.0) / 50 + relax.height_mm / 50
            yield Change("place", f"with {plain(words)}", case.of_car(**changed), size)
    yield from elsewhere(aim)


def _relaxed(case: Case, relax: Relaxed) -> dict[str, Value]:
    bay, given = case.job.values, case.system.bay
    changed: dict[str, Value] = {}
    if relax.kind in ("width", "depth", "height"):
        key = f"bay_{relax.kind}_mm"
        changed[key] = (bay[key] or 0) + math.ceil((relax.by_mm or 0.0) - 1e-6)
    elif relax.kind == "keep-out":
        at, keep_outs = int(relax.which) - 1, given.keep_outs
        changed["keep_outs"] = (*keep_outs[:at], *keep_outs[at + 1 :])
    elif relax.kind == "edge":
        changed[f"{relax.which}_edge"] = "open"
    else:
        return {}
    if relax.height_mm and given.bay_height_mm is not None:
        changed["bay_height_mm"] = given.bay_height_mm + math.ceil(relax.height_mm - 1e-6)
    return changed


def _side_by_side(case: Case) -> tuple[int, int, int] | None:
    """Return width, depth and height [mm] of the bodies in a row; None where one is not known."""
    bodies = [part.amplifier for part in case.parts]
    wide = [body.width_mm for body in bodies if body.width_mm is not None]
    deep = [body.depth_mm for body in bodies if body.depth_mm is not None]
    if len(wide) < len(bodies) or len(deep) < len(bodies):
        return None
    high = max(body.height_mm or 60.0 for body in bodies)
    return math.ceil(sum(wide)), math.ceil(max(deep)), math.ceil(high)


def elsewhere(aim: Aim) -> Iterator[Change]:
    """Yield another place, open all round, just large enough for the amplifiers."""
    case, sides = aim.case, _side_by_side(aim.case)
    if sides is None:
        return

    def place(margin_mm: float) -> Case:
        width, depth, height = (float(side + margin_mm) for side in sides)
        edges = dict.fromkeys(
            ("front_edge", "right_edge", "back_edge", "left_edge", "top_edge"), "open"
        )
        return case.of_car(
            bay_width_mm=width, bay_depth_mm=depth, bay_height_mm=height, keep_outs=(),
            entries=(), mounted_on="floor", **edges,
        )  # fmt: skip

    margin_mm = aim.first(_MARGINS_MM, place)
    if margin_mm is not None:
        changed = place(margin_mm)
        bay = changed.system.bay
        size = " × ".join(
            rounded(side or 0.0) for side in (bay.bay_width_mm, bay.bay_depth_mm, bay.bay_height_mm)
        )
        words = f"in another place of {size} mm, open at its sides"
        yield Change("place", words, changed, 10.0)

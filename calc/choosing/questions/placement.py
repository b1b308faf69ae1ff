"""What a plan asks of the chapter on placement: where it can stand, and how warm it gets."""

from collections.abc import Sequence

from calc.answers.figures import listed
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.demand import HEAT_DUTY, demand_figures, demand_unsure, total_figure
from calc.choosing.questions.question import Known, Question
from calc.choosing.questions.sources import from_amplifier, same
from calc.inputs.field_base import Value
from calc.placement import bay_heat, footprint, mounting_reach
from calc.system.amplifier import COLUMNS, SIDES, Amplifier

ReachQuestion = Question[mounting_reach.Inputs, mounting_reach.Result]
HeatQuestion = Question[bay_heat.Inputs, bay_heat.Result]
FootprintQuestion = Question[footprint.Inputs, footprint.Result]

_BAY = (
    "bay_width_mm", "bay_depth_mm", "bay_height_mm", "seat_travel_mm", "mounted_on", "front_edge",
    "right_edge", "back_edge", "left_edge", "top_edge", "keep_outs", "entries", "power_room_mm",
    "speaker_room_mm", "signal_room_mm", "controls_room_mm", "fins_room_mm", "slack_percent",
)  # fmt: skip
_BODY = ("width_mm", "depth_mm", "height_mm")


def reach_question(job: Job, bodies: Sequence[Amplifier]) -> ReachQuestion:
    """Ask where the amplifiers can stand."""
    figures = same(job, *_BAY)
    words = f"the amplifier {' + '.join(body.name for body in bodies)}"
    keys = (*_BODY, *(f"{side}_face" for side in SIDES))
    labels = {column.key: column.label for column in COLUMNS}
    unknown = []
    for body in bodies:
        whose = "the amplifier’s" if len(bodies) == 1 else f"{body.name}’s"
        lacking = [key for key in keys if getattr(body, key) is None]
        if len(lacking) == len(keys):
            unknown.append(f"{whose} size and sides")
        elif lacking:
            unknown.append(f"{whose} {listed([labels[key] for key in lacking])}")
    if not unknown:
        figures["amplifiers"] = Known(tuple(_body_row(body) for body in bodies), words)
    masses = tuple(body.mass_kg for body in bodies)
    if None not in masses:
        figures["masses_kg"] = Known(masses, words)
    # The leads' lengths are the system's; the ways of the example are none of this car's.
    figures["way_points"] = Known((), "6 Cables: the lengths are given there")
    return Question(
        calculator=mounting_reach.MOUNTING_REACH,
        figures=figures,
        unknown=tuple(unknown),
        no_part=("amplifiers",) if unknown else (),
    )


def _body_row(body: Amplifier) -> dict[str, Value]:
    sizes = {key: getattr(body, key) for key in ("name", *_BODY)}
    return {**sizes, **dict(zip(SIDES, body.faces, strict=True))}


def heat_question(job: Job, total_w: float | None, amplifier: Amplifier) -> HeatQuestion:
    """Ask how warm it gets."""
    figures = {
        **total_figure("power_w", total_w),
        **demand_figures(job, total_w, amplifier),
        # Nobody plays test tones for hours: heat is that of loud music.
        "duty": Known(HEAT_DUTY, "loud music"),
        **same(job, "closed", "area_m2", "cabin_c"),
        "limit_c": from_amplifier(amplifier, "limit_c"),
    }
    is_open = not job.system.air.closed and job.system.air.area_m2 is None
    if is_open:
        del figures["area_m2"]  # the surface of an open bay plays no part
    return Question(
        calculator=bay_heat.BAY_HEAT,
        figures=figures,
        unsure=demand_unsure(job, total_w, amplifier, bay_heat.BAY_HEAT, "power_w"),
        no_part=("area_m2",) if is_open else (),
    )


def footprint_question(amplifier: Amplifier) -> FootprintQuestion:
    """Ask for the amplifier's footprint in true size."""
    keys = {"name": "name", "width_mm": "width_mm", "depth_mm": "depth_mm"}
    keys |= {side: f"{side}_face" for side in SIDES}
    fields = footprint.FOOTPRINT.form.by_key
    return Question(
        calculator=footprint.FOOTPRINT,
        figures={
            key: from_amplifier(amplifier, column) for key, column in keys.items() if key in fields
        },
    )

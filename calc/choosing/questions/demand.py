"""What an amplifier draws, as several calculators ask for it, and how sure that is."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc.answers.calculator import Calculator, Inputs, Result
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.question import Known, Unsure, worked_out
from calc.choosing.questions.sources import from_amplifier
from calc.inputs.field_base import Field, Value
from calc.inputs.fields import Number
from calc.physics.amplifier_draw import Demand, Duty, longest_idle_w
from calc.physics.permitted_current import smallest_fuse
from calc.system.amplifier import Amplifier
from calc.system.usual import EFFICIENCY, IDLE_A, OWN_FUSES, Assumed, Usual

HEAT_DUTY: Duty = "heavy"
# What it draws without a signal, seldom printed and little beside the music [A].
IDLE_RANGE_A = (float(IDLE_A.low or 0.0), float(IDLE_A.value), float(IDLE_A.high or 0.0))


def usual_efficiency(amplifier_class: str | None) -> float:
    """Return the usual efficiency [%] of an amplifier's class.

    >>> usual_efficiency("d"), usual_efficiency(None)
    (80.0, 50.0)
    """
    return float(EFFICIENCY[amplifier_class].value)


def total_figure(key: str, total_w: float | None) -> dict[str, Known]:
    """Return the power of all outputs together under a calculator's name for it."""
    return worked_out("worked out: all outputs together", **{key: total_w})


def demand_figures(job: Job, total_w: float | None, amplifier: Amplifier) -> dict[str, Known]:
    """Return class, efficiency and idle draw; the usual ones where they are not known."""
    keys = ("amplifier_class", "efficiency_percent", "idle_w")
    figures = {key: from_amplifier(amplifier, key) for key in keys}
    percent = amplifier.efficiency_percent
    if percent is None:
        path = ("amplifier", 0, "efficiency_percent")
        percent = usual_efficiency(amplifier.amplifier_class)
        words = f"not known: the usual {percent:g}\u202f% is used"
        figures["efficiency_percent"] = Known(percent, words, path)
    if amplifier.idle_w is None:
        path = ("amplifier", 0, "idle_w")
        words = f"not known: the usual {IDLE_RANGE_A[1]:g}\u202fA is used"
        figures["idle_w"] = Known(idle_draw_w(job, total_w, percent, IDLE_RANGE_A[1]), words, path)
    return figures


def idle_draw_w(job: Job, total_w: float | None, percent: float, ampere: float) -> float:
    """Return the draw without a signal [W], never more than with music at a part of the power."""
    idle_w = ampere * job.system.charging.running_v
    if total_w is not None:
        idle_w = min(idle_w, longest_idle_w(power_w=total_w, efficiency=percent / 100))
    return math.floor(idle_w * 1000) / 1000


@dataclass(frozen=True)
class DrawEnds:
    """How an amplifier may draw where figures are not known: efficiency [%] and idle draw [W].

    keys, gaps : the columns that are not known, and what was taken for them in words
    """

    keys: tuple[str, ...]
    gaps: tuple[str, ...]
    worst: tuple[float, float]
    best: tuple[float, float]
    likely: tuple[float, float]


def draw_ends(
    job: Job, total_w: float, amplifier: Amplifier, fields: Mapping[str, Field], whose: str
) -> DrawEnds | None:
    """Return the ends of an amplifier's draw; None where all of it is told.

    fields : of efficiency and idle draw, for the most that they take
    whose : in front of what was taken, such as `its`
    """
    usual = EFFICIENCY[amplifier.amplifier_class]
    keys = [key for key in ("efficiency_percent", "idle_w") if getattr(amplifier, key) is None]
    if not keys:
        return None
    words = {
        "efficiency_percent": f"{whose} efficiency (we use {usual.value:g}\u202f%)",
        "idle_w": f"{whose} idle current (we use {IDLE_RANGE_A[1]:g}\u202fA)",
    }
    if whose == "its":
        words["idle_w"] = f"the idle current (we use {IDLE_RANGE_A[1]:g}\u202fA)"
    field, idle = fields["efficiency_percent"], fields["idle_w"]
    assert isinstance(field, Number) and isinstance(idle, Number)
    worst = best = likely = amplifier.efficiency_percent or 0.0
    if amplifier.efficiency_percent is None:
        worst, best, likely = float(field.low), float(field.high), float(usual.low or usual.value)
        fuses_a = amplifier.own_fuses_a
        if fuses_a is not None:
            least = 100 * total_w / (sum(fuses_a) * job.system.charging.running_v)
            worst = max(worst, min(likely, least))

    def end(percent: float, ampere: float) -> tuple[float, float]:
        idle_w = amplifier.idle_w
        if idle_w is None:
            idle_w = min(idle.high, idle_draw_w(job, total_w, percent, ampere))
        return percent, idle_w

    return DrawEnds(
        tuple(keys),
        tuple(words[key] for key in keys),
        worst=end(worst, math.inf),
        best=end(best, 0.0),
        likely=end(likely, IDLE_RANGE_A[2]),
    )


def demand_unsure(
    job: Job,
    total_w: float | None,
    amplifier: Amplifier,
    calculator: Calculator[Inputs, Result],
    power: str,
) -> Unsure | None:
    """Return how bad and how good the draw may be where efficiency or idle draw is not known.

    At all: no worse than an efficiency with which the amplifier's own fuses just bear all its
    outputs, and the idle draw that the calculator permits at most; no better than all that goes
    in coming out, and nothing drawn without a signal.  Usually: the ends of the usual ranges.

    power : the field of the power
    """
    if total_w is None:
        return None
    ends = draw_ends(job, total_w, amplifier, calculator.form.by_key, "its")
    if ends is None:
        return None

    def values(end: tuple[float, float]) -> dict[str, Value]:
        return {"efficiency_percent": end[0], "idle_w": end[1], power: total_w}

    return Unsure(
        ends.gaps,
        worst=values(ends.worst),
        best=values(ends.best),
        likely=values(ends.likely),
        keys=ends.keys,
    )


def own_fuses(amplifier: Amplifier) -> Known:
    """Return the amplifier's own fuses as the cable calculators read them."""
    return Known(amplifier.own_fuses_a, f"the amplifier {amplifier.name}")


def loud_draw(job: Job, total_w: float, amplifier: Amplifier) -> tuple[float, float]:
    """Return what the amplifier draws with loud music, at least and at most [A].

    By its efficiency, or the usual range where that is not known; by its class, or either.
    """
    usual = EFFICIENCY[amplifier.amplifier_class]
    told = amplifier.efficiency_percent
    ends = (usual.high, usual.low) if told is None else (told, told)
    best, worst = (
        Demand(
            power_w=total_w,
            efficiency=(percent or float(usual.value)) / 100,
            supply_v=job.system.charging.running_v,
            amplifier_class=amplifier.amplifier_class,
            idle_w=0.0,
        )
        for percent in ends
    )
    return best.current(HEAT_DUTY), worst.most_current(HEAT_DUTY)


def _idle_usual(job: Job) -> Usual:
    low, value, high = (idle_draw_w(job, None, 100, ampere) for ampere in IDLE_RANGE_A)
    return replace(IDLE_A, key="idle_w", value=value, low=low, high=high)


def usual_fuses_a(job: Job, total_w: float, amplifier: Amplifier) -> float | None:
    """Return the usual own fuses [A]: the listed rating next above the full-power current.

    None beyond the list.
    """
    percent = amplifier.efficiency_percent or usual_efficiency(amplifier.amplifier_class)
    return smallest_fuse(100 * total_w / (percent * job.system.charging.running_v))


def draw_taken(job: Job, amplifier: Amplifier, total_w: float | None) -> tuple[Assumed, ...]:
    """Return the usual figures of its draw that a plan takes where none are told.

    total_w : the power of all its outputs together; None where it is not known
    """
    usual = [
        (key, figure)
        for key, figure in (
            ("efficiency_percent", EFFICIENCY[amplifier.amplifier_class]),
            ("idle_w", _idle_usual(job)),
        )
        if getattr(amplifier, key) is None
    ]
    if amplifier.fuses_a is None and total_w is not None:
        fuse_a = usual_fuses_a(job, total_w, amplifier)
        if fuse_a is not None:
            usual.append(("fuses_a", replace(OWN_FUSES, value=fuse_a)))
    return tuple(Assumed(amplifier.name, figure, ("amplifier", 0, key)) for key, figure in usual)

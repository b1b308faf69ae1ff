"""What an amplifier draws, as several calculators ask for it, and how sure that is."""

import math
from collections.abc import Mapping

from calc.answers.calculator import Calculator
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.question import Known, Unsure, worked_out
from calc.choosing.questions.sources import from_amplifier
from calc.inputs.fields import Number
from calc.physics.amplifier_draw import Demand, Duty, longest_idle_w
from calc.system.amplifier import Amplifier

HEAT_DUTY: Duty = "heavy"
# Taken where it is not known, by class; of an unknown class, what a class AB one may be as bad as
# (common practice, from memory).
_USUAL_PERCENT: Mapping[str | None, float] = {"d": 80.0, "ab": 55.0, None: 50.0}


def usual_efficiency(amplifier_class: str | None) -> float:
    """Return the usual efficiency [%] of an amplifier's class.

    >>> usual_efficiency("d"), usual_efficiency(None)
    (80.0, 50.0)
    """
    return _USUAL_PERCENT[amplifier_class]


def total_figure(key: str, total_w: float | None) -> dict[str, Known]:
    """Return the power of all outputs together under a calculator's name for it."""
    return worked_out("worked out: all outputs together", **{key: total_w})


def demand_figures(amplifier: Amplifier) -> dict[str, Known]:
    """Return class, efficiency and idle draw; the usual ones where they are not known."""
    keys = ("amplifier_class", "efficiency_percent", "idle_w")
    figures = {key: from_amplifier(amplifier, key) for key in keys}
    if amplifier.efficiency_percent is None:
        path = ("amplifier", 0, "efficiency_percent")
        usual = usual_efficiency(amplifier.amplifier_class)
        words = f"not known: taken as the usual {usual:g}\u202f%"
        figures["efficiency_percent"] = Known(usual, words, path)
    if amplifier.idle_w is None:
        path = ("amplifier", 0, "idle_w")
        figures["idle_w"] = Known(0.0, "not known: left out", path)
    return figures


def demand_unsure[I, R](
    job: Job,
    total_w: float | None,
    amplifier: Amplifier,
    calculator: Calculator[I, R],
    power: str,
) -> Unsure | None:
    """Return how bad and how good the draw may be where efficiency or idle draw is not known.

    No worse than an efficiency with which the amplifier's own fuses just bear all its outputs,
    and the idle draw that the calculator permits at most; no better than all that goes in coming
    out, and nothing drawn without a signal.

    power : the field of the power
    """
    usual = usual_efficiency(amplifier.amplifier_class)
    gaps = []
    if amplifier.efficiency_percent is None:
        gaps.append(f"its efficiency (taken as {usual:g}\u202f%)")
    if amplifier.idle_w is None:
        gaps.append("what it draws without a signal (left out)")
    if not gaps or total_w is None:
        return None
    field, idle = (calculator.form.by_key[key] for key in ("efficiency_percent", "idle_w"))
    assert isinstance(field, Number) and isinstance(idle, Number)
    worst = best = amplifier.efficiency_percent or 0.0
    if amplifier.efficiency_percent is None:
        worst, best = float(field.low), float(field.high)
        fuses_a = amplifier.own_fuses_a
        if fuses_a is not None:
            least = 100 * total_w / (sum(fuses_a) * job.system.charging.running_v)
            worst = max(worst, min(usual, least))
    most_idle_w = longest_idle_w(power_w=total_w, efficiency=worst / 100)
    worst_idle_w = min(idle.high, math.floor(most_idle_w * 1000) / 1000)
    ends = [
        {
            "efficiency_percent": percent,
            "idle_w": idle_w if amplifier.idle_w is None else amplifier.idle_w,
            power: total_w,
        }
        for percent, idle_w in ((worst, worst_idle_w), (best, 0.0))
    ]
    return Unsure(tuple(gaps), *ends)


def own_fuses(amplifier: Amplifier) -> Known:
    """Return the amplifier's own fuses as the cable calculators read them."""
    return Known(amplifier.own_fuses_a, f"the amplifier {amplifier.name}")


def full_draw(
    job: Job, total_w: float | None, amplifier: Amplifier
) -> tuple[float | None, float | None]:
    """Return the current [A] of the amplifier's own fuses, and what it draws with loud music.

    None for what is not known.
    """
    fuses_a = None if amplifier.own_fuses_a is None else sum(amplifier.own_fuses_a)
    if total_w is None or amplifier.efficiency_percent is None:
        return fuses_a, None
    demand = Demand(
        power_w=total_w,
        efficiency=amplifier.efficiency_percent / 100,
        supply_v=job.system.charging.running_v,
        amplifier_class=amplifier.amplifier_class,
        idle_w=0.0,
    )
    return fuses_a, demand.most_current(HEAT_DUTY)

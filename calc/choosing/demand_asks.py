"""What a plan asks about the power in use: heat, cable, supply."""

import math
from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import exact
from calc.cabling.power_cable import POWER_CABLE
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Doubt, Traced
from calc.choosing.fields import SHARED_CABLE
from calc.choosing.job import Job
from calc.inputs.fields import Number
from calc.physics.amplifier_draw import Demand, longest_idle_w
from calc.placement.bay_heat import BAY_HEAT

Amplifier = Mapping[str, Any]
_HEAT_DUTY = "heavy"


def _total(total_w: float | None, calculator: Calculator, key: str) -> dict[str, Traced]:
    text = "" if total_w is None else calculator.form.by_key[key].write(total_w)
    return {key: Traced(text, "worked out: all outputs together")}


# Taken where it is not known, by class; of an unknown class, what a class AB one may be as bad as
# (common practice, from memory).
_USUAL_PERCENT: Mapping[str | None, str] = {"d": "80", "ab": "55", None: "50"}


def usual_efficiency(amplifier: Amplifier) -> str:
    """Return the usual efficiency [%] of an amplifier's class.

    >>> usual_efficiency({"amplifier_class": "d"}), usual_efficiency({"amplifier_class": None})
    ('80', '50')
    """
    return _USUAL_PERCENT[amplifier["amplifier_class"]]


def demand_inputs(amplifier: Amplifier, calculator: Calculator) -> dict[str, Traced]:
    """Return class, efficiency and idle draw; the usual ones where they are not known."""
    found = {
        "amplifier_class": of_amplifier(amplifier, "amplifier_class", calculator, "amplifier_class")
    }
    if amplifier["efficiency_percent"] is None:
        path = ("amplifier", 0, "efficiency_percent")
        usual = usual_efficiency(amplifier)
        told = f"not known: taken as the usual {usual}\u202f%"
        found["efficiency_percent"] = Traced(usual, told, path)
    else:
        found["efficiency_percent"] = of_amplifier(
            amplifier, "efficiency_percent", calculator, "efficiency_percent"
        )
    if amplifier["idle_w"] is None:
        found["idle_w"] = Traced("0", "not known: left out", ("amplifier", 0, "idle_w"))
    else:
        found["idle_w"] = of_amplifier(amplifier, "idle_w", calculator, "idle_w")
    return found


def _own_fuses_a(amplifier: Amplifier) -> float | None:
    """Return the current [A] of the amplifier's own fuses together; None when not known."""
    if amplifier["fuses_a"] is None:
        return None
    return sum(float(one) for one in amplifier["fuses_a"].split("/"))


def demand_doubt(
    job: Job,
    total_w: float | None,
    amplifier: Amplifier,
    calculator: Calculator,
    power: str,
) -> Doubt | None:
    """Return how bad and how good the draw may be where efficiency or idle draw is not known.

    No worse than an efficiency with which the amplifier's own fuses just bear all its outputs,
    and the idle draw that the calculator permits at most; no better than all that goes in coming
    out, and nothing drawn without a signal.

    power : the field of the power
    """
    told = []
    if amplifier["efficiency_percent"] is None:
        told.append(f"its efficiency (taken as {usual_efficiency(amplifier)}\u202f%)")
    if amplifier["idle_w"] is None:
        told.append("what it draws without a signal (left out)")
    if not told or total_w is None:
        return None
    field, idle = (calculator.form.by_key[key] for key in ("efficiency_percent", "idle_w"))
    assert isinstance(field, Number) and isinstance(idle, Number)
    worst = best = amplifier["efficiency_percent"]
    if worst is None:
        worst, best = field.low, field.high
        own_a = _own_fuses_a(amplifier)
        if own_a is not None:
            least = 100 * total_w / (own_a * job.given["running_v"])
            worst = max(worst, min(float(usual_efficiency(amplifier)), least))
    ends = []
    for percent, idle_w in ((worst, None), (best, 0.0)):
        if amplifier["idle_w"] is not None:
            idle_w = amplifier["idle_w"]
        elif idle_w is None:
            most = longest_idle_w(power_w=total_w, efficiency=percent / 100)
            idle_w = min(idle.high, math.floor(most * 1000) / 1000)
        texts = {"efficiency_percent": percent, "idle_w": idle_w, power: total_w}
        ends.append({key: exact(value) for key, value in texts.items()})
    return Doubt(tuple(told), *ends)


def bay_heat(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask how warm it gets."""
    inputs = {
        **_total(total_w, BAY_HEAT, "power_w"),
        **demand_inputs(amplifier, BAY_HEAT),
        # Nobody plays test tones for hours: heat is that of loud music.
        "duty": Traced(_HEAT_DUTY, "loud music"),
        **{key: of_system(job, key, BAY_HEAT) for key in ("closed", "area_m2", "cabin_c")},
        "limit_c": of_amplifier(amplifier, "limit_c", BAY_HEAT, "limit_c"),
    }
    if not job.given["closed"] and not inputs["area_m2"].text:
        del inputs["area_m2"]  # the surface of an open bay plays no part
    doubt = demand_doubt(job, total_w, amplifier, BAY_HEAT, "power_w")
    return Ask(calculator=BAY_HEAT, inputs=inputs, doubt=doubt)


def own_fuses_text(amplifier: Amplifier) -> Traced:
    """Return the amplifier's own fuses as the cable calculators read them."""
    text = (amplifier["fuses_a"] or "").replace("/", ";")
    return Traced(text, f"the amplifier {amplifier['name']}")


def own_fuses(
    job: Job, total_w: float | None, amplifier: Amplifier
) -> tuple[float | None, float | None]:
    """Return the current [A] of the amplifier's own fuses, and what it draws with loud music.

    None for what is not known.
    """
    fuses_a = _own_fuses_a(amplifier)
    if total_w is None or amplifier["efficiency_percent"] is None:
        return fuses_a, None
    demand = Demand(
        power_w=total_w,
        efficiency=amplifier["efficiency_percent"] / 100,
        supply_v=job.given["running_v"],
        amplifier_class=amplifier["amplifier_class"],
        idle_w=0.0,
    )
    return fuses_a, demand.most_current(_HEAT_DUTY)


def power_cable(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask for the power cable and its fuse: over positive run, earth lead and slack together."""
    length, earth = job.given["power_m"], job.given["earth_m"]
    unknown = () if earth is not None else ("Earth (ground) cable",)
    whole = ""
    if length is not None:  # without the earth nothing is asked: its own name tells what is missing
        slack = 1 + job.given["slack_percent"] / 100
        whole = exact(round((length + (earth or 0.0)) * slack, 6))
    inputs = {
        **_total(total_w, POWER_CABLE, "total_power_w"),
        "length_m": Traced(whole, "6 Cable: power cable, earth and slack together"),
        "supply_v": of_system(job, "running_v", POWER_CABLE, "supply_v"),
        "duty": of_system(job, "duty", POWER_CABLE),
        **demand_inputs(amplifier, POWER_CABLE),
        "regulated_min_v": Traced(
            exact(amplifier["regulated_min_v"])
            if amplifier["regulated"] and amplifier["regulated_min_v"] is not None
            else "",
            f"the amplifier {amplifier['name']}",
        ),
        "amp_fuses_a": own_fuses_text(amplifier),
        "maker_fuse_a": of_amplifier(amplifier, "main_fuse_a", POWER_CABLE, "maker_fuse_a"),
        **{key: of_system(job, key, POWER_CABLE) for key in SHARED_CABLE},
    }
    doubt = demand_doubt(job, total_w, amplifier, POWER_CABLE, "total_power_w")
    return Ask(calculator=POWER_CABLE, inputs=inputs, unknown=unknown, doubt=doubt)


def supply_budget(job: Job, total_w: float | None, amplifier: Amplifier) -> Ask:
    """Ask whether the vehicle can feed it."""
    keys = (
        "alternator_a", "idle_percent", "vehicle_a", "battery_ah", "reserve_percent",
        "vehicle_off_a", "peukert", "running_v", "resting_v",
    )  # fmt: skip
    inputs = {
        **{key: of_system(job, key, SUPPLY_BUDGET) for key in keys},
        **_total(total_w, SUPPLY_BUDGET, "total_power_w"),
        **demand_inputs(amplifier, SUPPLY_BUDGET),
    }
    doubt = demand_doubt(job, total_w, amplifier, SUPPLY_BUDGET, "total_power_w")
    return Ask(calculator=SUPPLY_BUDGET, inputs=inputs, doubt=doubt)

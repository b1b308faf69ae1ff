"""Completions of a case: every gap of a system and an amplifier filled, by what there may be.

Within the usual ranges, or with anything that there may be at all.  What goes together is kept
together: a channel gives at 2 Ω once to twice what it gives at 4 Ω and a bridged pair twice that,
the printed powers are permitted loads, and its own fuses bear it.  A few things are conventions of
the handbook and no gaps: a power without a voltage is one at 14.4 V, above the highest load that
has a power the voltage stays, and a power wish, a wanted corner or a space left open is no must.
"""

from dataclasses import dataclass, replace

from choosing_systems import PAIR, WEIGHTS

from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.inputs.declared import replaced, values_of
from calc.physics.amplifier_draw import longest_idle_w
from calc.physics.permitted_current import FUSES_A
from calc.system.amplifier import Amplifier
from calc.system.usual import EFFICIENCY, FACES, LOWEST, SENSITIVITY, TOP, least_ohm

THREE = (
    "trigger_available", "supply_always_live", "stop_start", "push_button", "outputs_float",
    "bass_folds_back", "already_filtered", "checks_its_load",
)  # fmt: skip
BAND = {  # what there is at all: sensitivity, safe lowest frequency, usable top
    "full-range": ((82, 98), (40, 250), None),
    "mid-bass": ((82, 98), (40, 250), (2500, 9000)),
    "midrange": ((82, 98), (150, 600), (3000, 9000)),
    "tweeter": ((85, 105), (1500, 6000), None),
    "woofer": ((80, 95), None, (80, 400)),
}
ODD = (
    "none", PAIR.format(r="50-250"), PAIR.format(r="40-400"), PAIR.format(r="50-5000"),
    "1/2 high-pass 80 1 butterworth 2 - no", "3/4 low-pass 60/80/100 1 butterworth 4 - yes",
    "1/2 high-pass 50-500 1/10 linkwitz-riley 4 - yes | 1/2 low-pass 50-500 1/10 linkwitz-riley 4 "
    "- yes | 3/4 high-pass 50-500 1/10 linkwitz-riley 4 - yes | 3/4 low-pass 50-500 1/10 "
    "linkwitz-riley 4 - yes",
)  # fmt: skip


@dataclass(frozen=True)
class Case:
    """A system with an amplifier."""

    system: object
    amplifier: Amplifier

    @property
    def job(self):
        return Job(self.system)

    @property
    def judge(self):
        return Judge(self.job, self.amplifier, WEIGHTS)


def complete(rng, case, *, usual, layout=None):
    """Return a case in which every gap is filled.

    usual : within the usual ranges, else with anything that there may be
    layout : of which the amplifier's own fuses bear the power; else all its channels
    """
    system = _complete_system(rng, case.system, usual)
    amplifier = _complete_amplifier(rng, case.amplifier, system, usual, layout)
    return Case(system, amplifier)


def _between(rng, ends):
    """Return a figure between two ends, which are often the worst: one of them half the time."""
    low, high = ends
    return float(rng.choice([low, high, rng.uniform(low, high), rng.uniform(low, high)]))


def _ends(figure):
    if figure.low is None:
        return float(figure.value), float(figure.value)
    return figure.low, figure.high


def _complete_speaker(rng, at, row, usual):
    section = "full-range" if row.section == "components" else row.section
    sensitivity, lowest, top = BAND[section]
    if usual:
        sensitivity = _ends(SENSITIVITY[section])
        lowest = _ends(LOWEST[section]) if section in LOWEST else lowest
        if section == "tweeter" and row.order >= 4:
            lowest = (2500.0, 2500.0)
        top = _ends(TOP[section]) if section in TOP else top
    filled = {
        "name": f"{row.section} {at}",
        "sensitivity_db": _between(rng, sensitivity),
        "lowest_hz": lowest and _between(rng, lowest),
        "top_hz": top and _between(rng, top),
        "lead_m": rng.choice([2.0, 5.0]),
    }
    if section == "woofer":
        filled["enclosure"] = rng.choice(["sealed", "ported"])
        if (row.enclosure or filled["enclosure"]) == "ported":
            filled["tuning_hz"] = rng.choice([31.5, 38.0])
    return replace(
        row, **{key: value for key, value in filled.items() if getattr(row, key) is None}
    )


def _complete_system(rng, system, usual):
    told = values_of(system)
    filled = {
        "speakers": tuple(
            _complete_speaker(rng, at, row, usual) for at, row in enumerate(system.speakers)
        )
    }
    if told["source_v"] is None and told["factory_power_w"] is None:
        kind = told["kind"] or rng.choice(["replacement", "factory"])
        if kind == "factory":
            filled["factory_power_w"] = _between(rng, (15, 22) if usual else (4, 60))
        else:
            filled["source_v"] = _between(rng, (1.5, 5) if usual else (0.5, 10))
    alternator = told["alternator_a"] or (90.0 if usual else _between(rng, (40, 250)))
    power = told["power_m"] or _between(rng, (1, 7) if usual else (0.2, 25))
    gaps = {
        "power_m": power,
        "earth_m": 0.5 if usual else _between(rng, (0.1, 5)),
        "signal_m": power + 1 if usual else _between(rng, (0.5, 20)),
        "alternator_a": alternator,
        "vehicle_a": alternator * _between(rng, (0.3, 0.6) if usual else (0.02, 1)),
        "battery_ah": 60.0 if usual else _between(rng, (30, 120)),
        "engine_space": rng.random() < 0.7,
        "area_m2": rng.choice([0.4, 0.9, 3.0]),
    }
    filled |= {key: value for key, value in gaps.items() if told[key] is None}
    if told["engine_space"] is None:
        filled["engine_c"] = _between(rng, (50, 85) if usual else (40, 100))
    filled |= {key: rng.choice(["yes", "no"]) for key in THREE if told[key] == "not-known"}
    if told["filters_every_output"] is None:
        filled["filters_every_output"] = rng.choice(["yes", "no"])
    return replaced(system, filled)


def _complete_amplifier(rng, amplifier, system, usual, layout):
    filled = _plate(rng, amplifier, usual)
    whole = replace(amplifier, **filled)
    filled |= _draw(rng, whole, system, usual, layout)
    filled |= _features(rng, whole, usual)
    filled |= _input(rng, whole, system, usual)
    filled |= _faces(rng, whole, usual)
    filled |= _filters(rng, whole, usual)
    return replace(
        amplifier,
        **{key: value for key, value in filled.items() if getattr(amplifier, key) is None},
    )


def _plate(rng, given, usual):
    """Return the powers and loads that a plate leaves out."""
    watts = given.power_4ohm_w or rng.choice([25.0, 60.0, 120.0])
    least = least_ohm(replace(given, power_4ohm_w=watts))
    if not usual and given.min_channel_ohm is None:
        least = rng.choice([ohm for ohm in (0.5, 1.0, 2.0, 4.0) if ohm <= least])
    may = given.may_bridge if given.may_bridge is not None else rng.random() < 0.7
    pair, two = given.rated_bridged_w, given.power_2ohm_w
    if least <= 2 and two is None:
        two = (
            watts * _between(rng, (1, 2)) if pair is None else min(max(pair / 2, watts), 2 * watts)
        )
    if least <= 2 and may and pair is None:
        pair = 2 * two
    is_regulated = given.regulated
    if is_regulated is None:
        is_regulated = given.regulated_min_v is not None or rng.random() < 0.3
    return {
        "channels": 4 if usual else rng.choice([1, 2, 4, 5, 6, 8]),
        "power_4ohm_w": watts,
        "power_2ohm_w": two,
        "rated_bridged_w": pair,
        "min_channel_ohm": least,
        "may_be_bridged": may,
        "power_8ohm_w": rng.choice([None, watts / 2]),
        "rated_v": 14.4,
        "regulated": is_regulated,
        "regulated_min_v": rng.choice([9.0, 12.0]) if is_regulated else None,
    }


def _draw(rng, whole, system, usual, layout):
    """Return class, efficiency, idle current and fuses that go together."""
    volts = system.charging.running_v
    most = whole.channels * max(whole.power_4ohm_w, whole.power_2ohm_w or 0.0)
    total = layout.total_w if layout is not None and layout.total_w else most
    bears = whole.own_fuses_a and 100 * total / (sum(whole.own_fuses_a) * volts)
    made = whole.amplifier_class or rng.choice(["ab", "d"])
    if whole.amplifier_class is None and bears and bears > EFFICIENCY["ab"].high:
        made = "d"
    low, high = _ends(EFFICIENCY[made]) if usual else (20, 95)
    low = max(low, min(high, bears or low))
    percent = whole.efficiency_percent or _between(rng, (low, max(low, high)))
    longest = longest_idle_w(power_w=whole.power_4ohm_w / 2, efficiency=percent / 100)
    idle = volts * _between(rng, (0.5, 1.5)) if usual else _between(rng, (0, longest))
    full_a = total / (percent / 100 * volts)  # an amplifier's own fuses bear what it gives
    return {
        "amplifier_class": made,
        "efficiency_percent": round(percent, 6),
        "idle_w": round(min(idle, longest), 3) - 0.001 if idle else 0.0,
        "fuses_a": f"{next((one for one in FUSES_A if one >= full_a), FUSES_A[-1]):g}",
        "limit_c": rng.choice([45.0, 60.0, 85.0]),
        "mass_kg": rng.choice([1.0, 4.0]),
        "price": rng.choice([90.0, 300.0]),
    }


def _features(rng, whole, usual):
    return {
        "level_control": rng.random() < 0.5,
        "boost_db": rng.choice([0.0, 6.0]),
        "cover": rng.random() < 0.5,
        "terminals": rng.choice(["screw", "plug"]),
        "width_mm": rng.choice([150.0, 260.0, 420.0]),
        "depth_mm": rng.choice([90.0, 180.0, 260.0]),
        "height_mm": rng.choice([40.0, 55.0]),
    }


def _input(rng, whole, system, usual):
    has = rng.random() < 0.5
    trigger = rng.random() < 0.7 if whole.trigger is None else whole.trigger
    is_off = trigger and system.head_unit.trigger_available == "yes"
    parked = rng.choice([0.0005, 0.01, 0.05, 0.3, 1.5])
    if usual:
        parked = _between(rng, (0, 0.005) if is_off else (0.01, 0.1))
    has_high = has or (whole.high_level_min_v, whole.high_level_max_v) != (None, None)
    return {
        "sensitivity_min_v": 0.2 if usual else _between(rng, (0.1, 1)),
        "sensitivity_max_v": 6.0 if usual else _between(rng, (2, 10)),
        "high_level_min_v": (1.0 if usual else _between(rng, (0.5, 2))) if has_high else None,
        "high_level_max_v": (12.0 if usual else _between(rng, (8, 20))) if has_high else None,
        "trigger": trigger,
        "signal_sensing": rng.random() < 0.5,
        "supply_sensing": rng.random() < 0.3,
        "quiescent_a": parked,
    }


def _faces(rng, whole, usual):
    """Return the sides that are not told, with the plugs and controls that no side told has."""
    missing = [key for key in FACES if getattr(whole, key) is None]
    told = {word for face in whole.faces for word in face or ()}
    if usual:
        return {key: tuple(word for word in FACES[key] if word not in told) for key in missing}
    words = [word for word in ("power", "speaker", "signal", "controls") if word not in told]
    words += ["fins"] * (rng.random() < 0.3)
    places = {word: rng.choice(missing) for word in words} if missing else {}
    return {key: tuple(word for word in words if places[word] == key) for key in missing}


def _filters(rng, whole, usual):
    if whole.filters is not None:
        return {}
    plain = (whole.high_pass_hz, whole.low_pass_hz, whole.filter_db_per_octave)
    if not usual and plain == (None, None, None) and rng.random() < 0.6:
        return {"filters": rng.choice(ODD)}
    if usual:
        return {"high_pass_hz": "50-250", "low_pass_hz": "50-250", "filter_db_per_octave": "12"}
    corners = ("off", "80", "40-400", "60/80/100", "50-5000")
    return {
        "high_pass_hz": rng.choice(corners),
        "low_pass_hz": rng.choice(corners),
        "filter_db_per_octave": rng.choice(["6", "12", "24", "12/24"]),
    }

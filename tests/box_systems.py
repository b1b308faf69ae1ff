"""Random systems and amplifiers of which much is not told, and completions of what is missing.

`complete` fills every gap: within the usual ranges, or with anything that there may be at all.
What goes together is kept together: a channel gives at 2 Ω once to twice what it gives at 4 Ω and
a bridged pair twice that, the printed powers are permitted loads, and its own fuses bear it.
A few things are conventions of the handbook and no gaps: a power without a voltage is one at
14.4 V, above the highest load that has a power the voltage stays, and a power wish, a wanted
corner or a space left open is no must.
"""

import random
from dataclasses import dataclass, replace

from choosing_systems import PAIR, WEIGHTS

from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.inputs.declared import replaced, values_of
from calc.physics.amplifier_draw import longest_idle_w
from calc.physics.permitted_current import FUSES_A
from calc.system.amplifier import Amplifier
from calc.system.files.system_file import read_system
from calc.system.speakers import HeadFilter, Network, SpeakerRow
from calc.system.usual import EFFICIENCY, FACES, LOWEST, SENSITIVITY, TOP, least_ohm

SPEAKERS = '[[speakers]]\nsection = "full-range"\ncount = 2\ncoil_ohm = 4\nrated_w = 60\n'
EMPTY = FIT_PLAN.build(FIT_PLAN.form.read(*read_system(SPEAKERS))).planned.system
THREE = (
    "trigger_available", "supply_always_live", "stop_start", "push_button", "outputs_float",
    "bass_folds_back", "already_filtered", "checks_its_load",
)  # fmt: skip
# Figures of a system that may be left out, and stand for something where they are.
OF_SYSTEM = (
    "source_v", "factory_power_w", "earth_m", "signal_m", "power_m", "alternator_a", "vehicle_a",
    "battery_ah", "area_m2", "engine_space", *THREE,
)  # fmt: skip
OF_SPEAKER = ("name", "sensitivity_db", "lowest_hz", "top_hz", "lead_m", "enclosure", "tuning_hz")
OF_AMPLIFIER = tuple(
    key for key in Amplifier.__dataclass_fields__ if key not in ("name", "role", "not_printed")
)
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


def told(rng):
    """Return a case in which everything is told; three of four ask for little."""
    asks = rng.random() < 0.25
    system = replaced(EMPTY, {"speakers": _speakers(rng, asks), **_wanted(rng, asks)})
    if rng.random() < 0.15 and {row.section for row in system.speakers} >= {"tweeter", "mid-bass"}:
        system = _with_network(system)
    if rng.random() < 0.25:
        row = rng.choice(system.speakers)
        output = row.output or "front"
        speakers = tuple(
            replace(one, output=output) if one is row else one for one in system.speakers
        )
        made = HeadFilter(
            output=output, kind=rng.choice(["high-pass", "low-pass"]),
            corners_hz=rng.choice(["60/80/100/120", "80", "2500/3150/4000"]), orders="2",
        )  # fmt: skip
        system = replaced(system, {"speakers": speakers, "head_filters": (made,)})
    watts = rng.choice([25.0, 40.0, 60.0, 75.0, 120.0])
    amplifier = Amplifier(name="Alder", power_4ohm_w=watts)
    if asks:
        amplifier = replace(amplifier, min_channel_ohm=rng.choice([1.0, 2.0, 4.0]))
    else:
        amplifier = replace(amplifier, min_channel_ohm=2.0, may_be_bridged=True, channels=4)
    return complete(rng, Case(system, amplifier), usual=not asks or rng.random() < 0.3)


def _speakers(rng, asks):
    need, sub_w = (rng.choice([20.0, 45.0]), rng.choice([80.0, 150.0])) if asks else (None, None)
    rows = []
    ohm = rng.choice([2.0, 3.0, 4.0, 4.0, 4.0, 8.0])
    sub_ohm = rng.choice([1.0, 2.0, 4.0]) if asks else rng.choice([2.0, 4.0])
    kind = rng.choice(["components", "components", "full-range", "full-range", "active"])
    watts = rng.choice([50.0, 80.0, 120.0])
    if kind == "active":
        for section in ("tweeter", "mid-bass"):
            rows.append(
                SpeakerRow(section=section, count=2, coil_ohm=4.0, rated_w=watts, output="front")
            )
    else:
        rows.append(
            SpeakerRow(section=kind, count=2, coil_ohm=ohm, rated_w=watts, need_w=need,
                       output=rng.choice([None, "front"]))
        )  # fmt: skip
    if kind != "active" and rng.random() < 0.3:
        rows.append(SpeakerRow(section="full-range", count=2, coil_ohm=4.0, rated_w=50.0))
    if (asks or len(rows) == 1) and rng.random() < 0.7:
        rows.append(
            SpeakerRow(
                section="woofer", count=rng.choice([1, 1, 2]), coils=rng.choice([1, 2]),
                coil_ohm=sub_ohm, rated_w=rng.choice([150.0, 300.0, 500.0]),
                need_w=sub_w, output=rng.choice([None, "sub"]),
            )
        )  # fmt: skip
    return tuple(rows)


def _wanted(rng, asks):
    """Return what is asked of the amplifier and the place: no figures that are missing."""
    values = {
        "kind": rng.choice([None, "replacement", "factory", "processor"]),
        "closed": asks and rng.random() < 0.5,
        "cabin_c": 25.0,
        "running_v": rng.choice([14.4, 14.4, 13.8]),
        "duty": rng.choice(["full", "full", "heavy"]),
        "tweeter_capacitor": rng.random() < 0.2,
    }
    for key in ("level_control", "boost", "cover", "screw_terminals", "controls_in_place"):
        values[key] = rng.choice(["any", "any", "wish", "must"] if asks else ["any", "wish"])
    if rng.random() < (0.4 if asks else 0.2):
        values |= {
            "bay_width_mm": rng.choice([280.0, 450.0, 800.0] if asks else [450.0, 800.0]),
            "bay_depth_mm": rng.choice([200.0, 420.0, 600.0] if asks else [420.0, 600.0]),
            "bay_height_mm": rng.choice([None, 50.0, 90.0, 200.0] if asks else [None, 90.0]),
            "right_edge": rng.choice(["open", "wall"]),
            "back_edge": rng.choice(["open", "wall"]),
        }
    return values


def _with_network(system):
    names = {"tweeter": "tweeters", "mid-bass": "mid-basses"}
    speakers = tuple(replace(row, name=names.get(row.section, row.name)) for row in system.speakers)
    network = Network(above="tweeters", below="mid-basses", frequency_hz=3500.0)
    return replaced(system, {"speakers": speakers, "networks": (network,)})


# ---- completions


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
        "engine_space": rng.random() < 0.5,
        "area_m2": rng.choice([0.4, 0.9, 3.0]),
    }
    filled |= {key: value for key, value in gaps.items() if told[key] is None}
    filled |= {key: rng.choice(["yes", "no"]) for key in THREE if told[key] == "not-known"}
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
    of_class = EFFICIENCY[whole.amplifier_class]
    made = whole.amplifier_class or rng.choice(["ab", "d"])
    low, high = _ends(EFFICIENCY[made]) if usual else (20, 95)
    if whole.fuses_a is not None:
        least = 100 * total / (sum(whole.own_fuses_a) * volts)
        low = max(low, min(of_class.low, least))
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


# ---- gaps


def figures_of(case):
    """Return every figure that is told and may be left out: where it stands, and its key."""
    values, found = values_of(case.system), []
    found += [("system", key) for key in OF_SYSTEM if values[key] not in (None, "not-known")]
    found += [
        (at, key)
        for at, row in enumerate(case.system.speakers)
        for key in OF_SPEAKER
        if getattr(row, key) is not None and not (key == "name" and case.system.networks)
    ]
    return found + [
        ("amplifier", key) for key in OF_AMPLIFIER if getattr(case.amplifier, key) is not None
    ]


def without(case, where, key):
    """Return the case with one figure struck out."""
    if where == "amplifier":
        return replace(case, amplifier=replace(case.amplifier, **{key: None}))
    if where == "system":
        gap = "not-known" if key in THREE else None
        return replace(case, system=replaced(case.system, {key: gap}))
    rows = tuple(
        replace(row, **{key: None}) if at == where else row
        for at, row in enumerate(case.system.speakers)
    )
    return replace(case, system=replaced(case.system, {"speakers": rows}))


def known_in_part(seed, shares=(0.02, 0.05, 0.1, 0.3, 0.6, 0.9)):
    """Return a random case with gaps, and the numbers that it was drawn from."""
    rng = random.Random(f"box {seed}")
    case = told(rng)
    share = rng.choice(shares)
    for where, key in figures_of(case):
        kept = 0.1 if key == "power_4ohm_w" else 1.0
        if rng.random() < share * kept:
            case = without(case, where, key)
    return case, rng

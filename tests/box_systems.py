"""Random systems and amplifiers of which much is not told: see `box_completions` for what is."""

import random
from dataclasses import replace

from box_completions import THREE, Case, complete

from calc.choosing.fit_plan import FIT_PLAN
from calc.inputs.declared import replaced, values_of
from calc.system.amplifier import Amplifier
from calc.system.files.system_file import read_system
from calc.system.speakers import HeadFilter, Network, SpeakerRow

SPEAKERS = '[[speakers]]\nsection = "full-range"\ncount = 2\ncoil_ohm = 4\nrated_w = 60\n'
EMPTY = FIT_PLAN.build(FIT_PLAN.form.read(*read_system(SPEAKERS))).planned.system
# Figures of a system that may be left out, and stand for something where they are.
OF_SYSTEM = (
    "source_v", "factory_power_w", "earth_m", "signal_m", "power_m", "alternator_a", "vehicle_a",
    "battery_ah", "area_m2", "engine_space", *THREE,
)  # fmt: skip
OF_SPEAKER = ("name", "sensitivity_db", "lowest_hz", "top_hz", "lead_m", "enclosure", "tuning_hz")
OF_AMPLIFIER = tuple(
    key for key in Amplifier.__dataclass_fields__ if key not in ("name", "role", "not_printed")
)


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

"""What a plan asks whatever the layout: signal, turn-on and place of an amplifier."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed
from calc.choosing.asks import Ask, Doubt, Traced
from calc.choosing.columns import COLUMNS, SIDES
from calc.choosing.fields import STEP_OF
from calc.choosing.job import Job
from calc.placement.mounting_reach import MOUNTING_REACH
from calc.setup.signal_chain import QUESTIONS as FACTORY_QUESTIONS
from calc.setup.signal_chain import SIGNAL_CHAIN
from calc.setup.turn_on import TURN_ON

_BAY = (
    "bay_width_mm", "bay_depth_mm", "bay_height_mm", "seat_travel_mm", "mounted_on", "front_edge",
    "right_edge", "back_edge", "left_edge", "top_edge", "keep_outs", "entries", "power_room_mm",
    "speaker_room_mm", "signal_room_mm", "controls_room_mm", "fins_room_mm", "slack_percent",
)  # fmt: skip

# A line input that asks for much, and one that takes little.
_LINE_ENDS: Mapping[str, tuple[str, str]] = {
    "sensitivity_min_v": ("49", "0.001"),
    "sensitivity_max_v": ("100", "0.01"),
}
_LEFT_ON_A = "2"  # the most that an amplifier takes which is left on (from memory)


def of_system(job: Job, key: str, calculator: Calculator, to: str = "") -> Traced:
    """Return a field of the system as an input of a calculator."""
    step = STEP_OF[key]
    text = calculator.form.by_key[to or key].write(job.given[key])
    label = next(one.label for one in step.fields if one.key == key)
    return Traced(text, f"{step.heading}: {label}", (key,))


def of_amplifier(amplifier: Mapping[str, Any], key: str, calculator: Calculator, to: str) -> Traced:
    """Return a figure of the amplifier as an input of a calculator."""
    text = calculator.form.by_key[to].write(amplifier[key])
    return Traced(text, f"the amplifier {amplifier['name']}", ("amplifier", 0, key))


def signal(job: Job, amplifier: Mapping[str, Any]) -> Ask:
    """Ask whether the head unit's signal suits the amplifier's inputs."""
    inputs = {
        key: of_system(job, key, SIGNAL_CHAIN)
        for key in (
            "source_v",
            "factory_power_w",
            "factory_ohm",
            *(question.key for question in FACTORY_QUESTIONS),
        )
    }
    inputs |= {
        key: of_amplifier(amplifier, key, SIGNAL_CHAIN, key)
        for key in (
            "sensitivity_min_v",
            "sensitivity_max_v",
            "high_level_min_v",
            "high_level_max_v",
        )
    }
    if job.given["source_v"] is not None:
        return Ask(calculator=SIGNAL_CHAIN, inputs=inputs)
    asked = _over_leads(inputs)
    if asked.verdict.state != "not known":
        return asked
    # A high-level input that is not known well enough is no hindrance where an adapter does.
    unused = {
        key: replace(inputs[key], text="", origin="not used: it is not known well enough")
        for key in ("high_level_min_v", "high_level_max_v")
    }
    instead = _over_leads({**inputs, **unused})
    return instead if instead.verdict.state == "suitable" else asked


def _over_leads(inputs: Mapping[str, Traced]) -> Ask:
    """Ask about a source of speaker leads, which may need no line input at all.

    Where the line input is not known, a usual one is taken; the verdict stands if one that asks
    for much and one that takes little give the same.
    """
    if all(inputs[key].text for key in _LINE_ENDS):
        return Ask(calculator=SIGNAL_CHAIN, inputs=inputs)
    usual = {
        key: replace(
            inputs[key],
            text=SIGNAL_CHAIN.form.by_key[key].default,
            origin="not known: a usual one, as the source may need no line input",
        )
        for key in _LINE_ENDS
    }
    worst, best = ({key: ends[at] for key, ends in _LINE_ENDS.items()} for at in (0, 1))
    doubt = Doubt(("what its line input asks for and takes",), worst, best)
    return Ask(calculator=SIGNAL_CHAIN, inputs={**inputs, **usual}, doubt=doubt)


def _three(value: bool | None) -> str:
    return "not-known" if value is None else "yes" if value else "no"


def turn_on(job: Job, amplifier: Mapping[str, Any]) -> Ask:
    """Ask how the amplifier knows when to play."""
    keys = ("trigger_available", "supply_always_live", "stop_start", "push_button", "parked_days")
    given = job.given
    over_leads = None
    if given["source_v"] is not None or given["factory_power_w"] is not None:
        over_leads = given["source_v"] is None
    inputs = {key: of_system(job, key, TURN_ON) for key in keys}
    inputs["speaker_level_signal"] = Traced(
        _three(over_leads), "2 Head unit: line output, or speaker leads"
    )
    for key, column in (
        ("amp_trigger", "trigger"),
        ("amp_signal_sensing", "signal_sensing"),
        ("amp_supply_sensing", "supply_sensing"),
    ):
        inputs[key] = Traced(
            _three(amplifier[column]),
            f"the amplifier {amplifier['name']}",
            ("amplifier", 0, column),
        )
    inputs["battery_ah"] = of_system(job, "battery_ah", TURN_ON)
    doubt = None
    if amplifier["quiescent_a"] is None:
        usual = TURN_ON.form.by_key["quiescent_a"].default
        told = f"what it draws while parked (taken as {usual}\u202fA)"
        path = ("amplifier", 0, "quiescent_a")
        inputs["quiescent_a"] = Traced(usual, f"not known: taken as {usual}\u202fA", path)
        doubt = Doubt((told,), {"quiescent_a": _LEFT_ON_A}, {"quiescent_a": "0"})
    else:
        inputs["quiescent_a"] = of_amplifier(amplifier, "quiescent_a", TURN_ON, "quiescent_a")
    return Ask(calculator=TURN_ON, inputs={k: v for k, v in inputs.items() if v.text}, doubt=doubt)


def mounting(job: Job, amplifier: Mapping[str, Any]) -> Ask:
    """Ask where the amplifier can stand."""
    inputs = {key: of_system(job, key, MOUNTING_REACH) for key in _BAY}
    body = ("width_mm", "depth_mm", "height_mm")
    lacking = [
        key for key in (*body, *(f"{side}_face" for side in SIDES)) if amplifier[key] is None
    ]
    labels = {one.key: one.label for one in COLUMNS}
    unknown = ()
    if len(lacking) == len(SIDES) + len(body):
        unknown = ("the amplifier’s size and sides",)
    elif lacking:
        unknown = (f"the amplifier’s {listed([labels[key] for key in lacking])}",)
    field = MOUNTING_REACH.form.by_key["amplifiers"]
    if not lacking:
        row = {"name": amplifier["name"]}
        row |= {key: amplifier[key] for key in body}
        row |= {side: amplifier[f"{side}_face"] for side in SIDES}
        inputs["amplifiers"] = Traced(field.write((row,)), f"the amplifier {amplifier['name']}")
    masses = MOUNTING_REACH.form.by_key["masses_kg"]
    if amplifier["mass_kg"] is not None:
        inputs["masses_kg"] = Traced(
            masses.write((amplifier["mass_kg"],)), f"the amplifier {amplifier['name']}"
        )
    # The leads' lengths are the system's; the ways of the example are none of this car's.
    inputs["way_points"] = Traced("", "6 Cable: lengths are given there")
    return Ask(calculator=MOUNTING_REACH, inputs=inputs, unknown=unknown)

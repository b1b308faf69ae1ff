"""Invented systems as starting points; the first is the Lantern Van, from which they all start."""

from collections.abc import Mapping

from calc.answers.calculator import Start
from calc.system import example_van
from calc.system.files.shelf_file import read_shelf
from calc.system.files.system_file import empty_system
from calc.system.system import SYSTEM_FIELDS

_HATCHBACK: Mapping[str, str] = {
    "speakers": (
        "front doors,full-range,2,1,4,60,40,90,80,2,,,front,1.1,4,,;"
        "rear shelf,full-range,2,1,4,50,25,89,100,2,,,rear,1.6,3.5,,"
    ),
    "kind": "factory",
    "factory_power_w": "18",
    "trigger_available": "no",
    "supply_always_live": "yes",
    "stop_start": "yes",
    "push_button": "yes",
    "parked_days": "5",
    "controls_in_place": "wish",
    "bay_width_mm": "430",
    "bay_depth_mm": "560",
    "bay_height_mm": "150",
    "seat_travel_mm": "180",
    "top_edge": "seat",
    "power_m": "3.5",
    "earth_m": "0.5",
    "signal_m": "2.5",
    "insulation_c": "105",
    "engine_space": "yes",
    "alternator_a": "90",
    "vehicle_a": "35",
    "battery_ah": "50",
    "meter_top_hz": "400",
}
_ACTIVE_FRONT: Mapping[str, str] = {
    "speakers": (
        "tweeters,tweeter,2,1,4,40,30,92,2500,4,,,front,1.1,4.5,,;"
        "door mid-basses,mid-bass,2,1,4,80,50,90,60,2,4500,,front,1.3,5,,"
    ),
    "kind": "replacement",
    "source_v": "4",
    "trigger_available": "yes",
    "supply_always_live": "yes",
    "stop_start": "no",
    "push_button": "no",
    "tweeter_capacitor": "yes",
    "cover": "wish",
    "bay_width_mm": "600",
    "bay_depth_mm": "350",
    "bay_height_mm": "90",
    "left_edge": "wall",
    "top_edge": "open",
    "power_m": "5",
    "earth_m": "0.6",
    "signal_m": "5",
    "insulation_c": "105",
    "alternator_a": "120",
    "vehicle_a": "40",
    "battery_ah": "70",
    "meter_top_hz": "20000",
}


def _amplifier(name: str) -> str:
    """Return one of the Lantern Van's shelf as the field holds it."""
    shelf = read_shelf(example_van.SHELF)
    return SYSTEM_FIELDS[-1].write([amplifier for amplifier in shelf if amplifier.name == name])


def _start(label: str, texts: Mapping[str, str], amplifier: str) -> Start:
    """Return a starting point that sets every figure: what it does not name is left out."""
    name = "-".join(label.lower().replace(",", "").split())
    own = {**texts, "example": name, "amplifier": _amplifier(amplifier)}
    return Start(label, {**empty_system(), **own})


STARTS = (
    Start("Lantern Van", {field.key: field.default for field in SYSTEM_FIELDS}),
    _start("Small hatchback, factory head unit", _HATCHBACK, "Elm 4-60 active"),
    _start("Active front stage", _ACTIVE_FRONT, "Elm 4-60 active"),
)


def with_list(start: Start) -> Start:
    """Return the starting point for a calculator that has a stock list instead of one amplifier.

    The list is the Lantern Van's: it stands in where the reader has none.
    """
    texts = {key: text for key, text in start.texts.items() if key != "amplifier"}
    return Start(start.label, {**texts, "shelf": example_van.SHELF})

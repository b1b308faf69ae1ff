"""Invented systems as starting points; the first is the Lantern Van, from which they all start."""

from collections.abc import Mapping
from dataclasses import replace

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
# Two pairs of doors and a subwoofer, once on one amplifier and once on two.
_FIVE_SPEAKERS: Mapping[str, str] = {
    "kind": "replacement",
    "source_v": "4",
    "trigger_available": "yes",
    "supply_always_live": "yes",
    "stop_start": "no",
    "push_button": "no",
    "earth_m": "0.5",
    "insulation_c": "105",
    "engine_space": "yes",
    "meter_top_hz": "400",
}
_JOINED: Mapping[str, str] = {
    **_FIVE_SPEAKERS,
    "speakers": (
        "front doors,components,2,1,4,60,,90,70,2,,,front,1.1,5,,;"
        "rear doors,full-range,2,1,4,50,,90,80,2,,,rear,1.5,4,,;"
        "subwoofer,woofer,1,1,4,200,,87,,2,120,,sub,2,2,sealed,"
    ),
    "bay_width_mm": "500",
    "bay_depth_mm": "400",
    "bay_height_mm": "120",
    "top_edge": "open",
    "power_m": "5",
    "signal_m": "6",
    "alternator_a": "110",
    "vehicle_a": "40",
    "battery_ah": "60",
}
_TWO_AMPLIFIERS: Mapping[str, str] = {
    **_FIVE_SPEAKERS,
    "speakers": (
        "front doors,components,2,1,4,80,,90,70,2,,,front,1.2,5.5,,;"
        "rear doors,full-range,2,1,4,60,,90,80,2,,,rear,1.8,4.5,,;"
        "subwoofer,woofer,1,2,4,400,,88,,2,120,,sub,2.5,1.5,sealed,"
    ),
    "level_control": "wish",
    "bay_width_mm": "900",
    "bay_depth_mm": "450",
    "bay_height_mm": "120",
    "top_edge": "open",
    "power_m": "5.5",
    "branch_m": "0.6",
    "signal_m": "6.5",
    "alternator_a": "150",
    "vehicle_a": "45",
    "battery_ah": "80",
}


_MONO = """\
name,channels,power_4ohm_w,power_2ohm_w,min_channel_ohm,rated_v,regulated,amplifier_class,\
efficiency_percent,idle_w,fuses_a,sensitivity_min_v,sensitivity_max_v,trigger,signal_sensing,\
supply_sensing,quiescent_a,level_control,boost_db,cover,terminals,width_mm,depth_mm,height_mm,\
front_face,right_face,back_face,left_face,top_face,mass_kg,filters
Fern 1-300,1,180,300,2,14.4,no,d,82,10,30,0.2,5,yes,no,no,0.01,yes,9,no,screw,220,180,52,\
signal+controls,none,power+speaker,none,none,2.7,1 low-pass 40-200 1 butterworth 4 - no
"""


def _planned(*names: str) -> str:
    """Return amplifiers of the Lantern Van's shelf, and the mono, as the field holds them."""
    shelf = {each.name: each for text in (example_van.SHELF, _MONO) for each in read_shelf(text)}
    return SYSTEM_FIELDS[-1].write([replace(shelf[name], role="planned") for name in names])


def _start(label: str, texts: Mapping[str, str], *names: str, word: str = "") -> Start:
    """Return a starting point that sets every figure: what it does not name is left out.

    word : of the example in links and files, where it is not the label's
    """
    example = word or "-".join(label.lower().replace(",", "").split())
    own = {**texts, "example": example, "amplifier": _planned(*names)}
    return Start(label, {**empty_system(), **own})


STARTS = (
    Start("Lantern Van", {field.key: field.default for field in SYSTEM_FIELDS}),
    _start("Small hatchback, factory head unit", _HATCHBACK, "Elm 4-60 active"),
    _start("Active front stage", _ACTIVE_FRONT, "Elm 4-60 active"),
    _start(
        "Front and rear in parallel, one amplifier",
        _JOINED,
        "Hazel 4-50",
        word="front-and-rear-joined-one-amplifier",
    ),
    _start("Two amplifiers, mono for the sub", _TWO_AMPLIFIERS, "Hazel 4-50", "Fern 1-300"),
)


def with_list(start: Start) -> Start:
    """Return the starting point for a calculator that has a stock list instead of one amplifier.

    The list is the Lantern Van's: it stands in where the reader has none.
    """
    texts = {key: text for key, text in start.texts.items() if key != "amplifier"}
    return Start(start.label, {**texts, "shelf": example_van.SHELF})

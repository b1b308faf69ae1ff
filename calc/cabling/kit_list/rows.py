"""What a job is made of, row by row: amplifiers, routes, loads that differ, parts."""

from dataclasses import dataclass
from typing import Annotated, Literal

from calc.cabling.tree_feed import LONGEST_NAME, place
from calc.inputs.fields import Choice, Number, Text, Whole, YesNo
from calc.parts.own_draw import OwnClass, OwnEfficiency, OwnFuses, OwnIdle, OwnLowest

RouteWord = Literal["power", "earth", "signal", "speaker", "trigger", "high-level"]
ROUTE_OPTIONS: tuple[tuple[RouteWord, str], ...] = (
    ("power", "power"),
    ("earth", "earth"),
    ("signal", "RCA"),
    ("speaker", "speaker"),
    ("trigger", "remote"),
    ("high-level", "speaker-level"),
)
_NONE = "none"  # a row of an older link lacks these: then there are none


@dataclass(frozen=True, kw_only=True)
class Amplifier:
    """An amplifier: what feeds it and what it feeds.

    total_power_w : its continuous power; None: not known
    signal_pairs : stereo pairs of signal leads that it takes
    outputs : speaker outputs in use; a bridged pair is one
    y_leads : leads of one plug to two, where the head unit has too few; None: not known
    trigger_a : what its remote terminal takes [A]; None: the usual
    later : planned for later: main run, holder and block are made for it, all else is bought then
    """

    name: Annotated[str, Text("name", start="amplifier", longest=LONGEST_NAME, numbered=True)]
    total_power_w: Annotated[float | None, Number("RMS power", low=1, high=20_000, start=250.0)]
    trigger: Annotated[bool, YesNo("remote turn-on lead", start=True)]
    signal_pairs: Annotated[int, Whole("RCA pairs", low=0, high=8, start=2)]
    outputs: Annotated[int, Whole("outputs in use", low=0, high=16, start=4)]
    y_leads: Annotated[int | None, Whole("Y-leads", low=0, high=16, source=_NONE)] = 0
    efficiency_percent: OwnEfficiency = None
    amplifier_class: OwnClass = None
    idle_w: OwnIdle = None
    own_fuses_a: OwnFuses = None
    regulated_min_v: OwnLowest = None
    trigger_a: Annotated[float | None, Number("remote current", low=0, high=2, more=True)] = None
    later: Annotated[bool, YesNo("planned for later", more=True)] = False


@dataclass(frozen=True, kw_only=True)
class Route:
    """The route that a cable of a kind takes.

    length_m : as it is laid [m]; None: not measured yet
    least_mm2 : of power, the least size that is settled for this run [mm²]; None: none is
    """

    what: Annotated[
        RouteWord,
        Choice("cable", start="speaker", options=ROUTE_OPTIONS),
    ]
    start: Annotated[str, place("from", "amplifier", as_key="from")]
    end: Annotated[str, place("to", "door", as_key="to")]
    length_m: Annotated[float | None, Number("length", low=0.01, high=100, start=3.0)]
    least_mm2: Annotated[float | None, Number("minimum size", low=0.5, high=120, more=True)] = None


@dataclass(frozen=True, kw_only=True)
class DifferingLoad:
    """The end of a speaker lead: the load there, None for the usual one, and what it is."""

    end: Annotated[str, place("to", "door", as_key="to")]
    load_ohm: Annotated[float | None, Number("load", low=0.5, high=64, start=4.0)]
    subwoofer: Annotated[bool | None, YesNo("sub", source=_NONE)] = False


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of a passive crossover, or a tweeter's capacitor; `quantity` None: not known."""

    what: Annotated[str, Text("part", start="capacitor", longest=LONGEST_NAME)]
    value: Annotated[str, Text("value", start="10 µF 100 V", longest=LONGEST_NAME)]
    quantity: Annotated[int | None, Whole("how many", low=1, high=99, start=2)]

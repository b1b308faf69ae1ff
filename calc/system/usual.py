"""Usual figures: what is taken, and told, where nothing is known of a system or an amplifier.

They are common practice and from memory, no approval; each has the range within which nearly all
that is sold lies.  A power at 4 Ω and a speaker's impedance have none: these must be given.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Literal

from calc.answers.figures import unit_of
from calc.inputs.declared import replaced
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier
from calc.system.speakers import SectionWord, Speaker, SpeakerRow
from calc.system.system import System

Origin = Literal["yours", "usual", "example"]


@dataclass(frozen=True)
class Usual:
    """A usual figure, and within what nearly all lie.

    low, high : the usual range, in the figure's unit; None where there is none to tell
    what : the figure in the reader's words
    when : for what it holds, where it is not the same for all
    """

    key: str
    value: Value
    low: float | None
    high: float | None
    what: str
    when: str = ""

    @property
    def unit(self) -> str:
        """The sign of the figure's unit; empty where it has none."""
        return unit_of(self.key)


@dataclass(frozen=True)
class Assumed:
    """A usual figure that was taken, and where.

    where : the speakers, the amplifier or the step of the job, by name
    path : the system's field, such as ("speakers", 2, "sensitivity_db")
    """

    where: str
    usual: Usual
    path: tuple[str | int, ...]

    def data(self) -> dict[str, object]:
        """Return it as the results of the contract have it."""
        usual = self.usual
        return {
            "where": self.where,
            "key": usual.key,
            "value": list(usual.value) if isinstance(usual.value, tuple) else usual.value,
            "unit": usual.unit,
            "why": "not given: the usual figure",
        }


_SUB, _DOORS, _TWEETER = "subwoofer", "doors", "tweeter"
SENSITIVITY: Mapping[SectionWord, Usual] = {
    "woofer": Usual("sensitivity_db", 87.0, 85, 90, "sensitivity", _SUB),
    "full-range": Usual("sensitivity_db", 90.0, 88, 92, "sensitivity", _DOORS),
    "mid-bass": Usual("sensitivity_db", 90.0, 88, 92, "sensitivity", _DOORS),
    "midrange": Usual("sensitivity_db", 90.0, 88, 92, "sensitivity", _DOORS),
    "tweeter": Usual("sensitivity_db", 92.0, 90, 95, "sensitivity", _TWEETER),
}
_LOWEST = "safe lowest frequency"
LOWEST: Mapping[SectionWord, Usual] = {
    "full-range": Usual("lowest_hz", 80.0, 70, 120, _LOWEST, "door speakers, size unknown"),
    "mid-bass": Usual("lowest_hz", 80.0, 70, 120, _LOWEST, "door speakers, size unknown"),
    "tweeter": Usual("lowest_hz", 3150.0, None, None, _LOWEST, "tweeter, 12 dB/octave"),
}
_TOP = "usable top"
TOP: Mapping[SectionWord, Usual] = {
    "woofer": Usual("top_hz", 120.0, 120, 200, _TOP, _SUB),
    "mid-bass": Usual("top_hz", 4500.0, 3500, 6000, _TOP, "mid-bass, active front stage"),
    "midrange": Usual("top_hz", 6000.0, 5000, 8000, _TOP, "midrange"),
}
STEEP_TWEETER = Usual("lowest_hz", 2500.0, None, None, _LOWEST, "tweeter, 24 dB/octave")
LEAD: Mapping[str, Usual] = {
    place: Usual("lead_m", metres, None, None, "speaker cable", place)
    for place, metres in (("front", 5.0), ("rear", 4.0), (_SUB, 2.0))
}
SOURCE_V = Usual("source_v", 2.0, 1.5, 5, "head-unit output", "head unit with RCA outputs")
FACTORY_W = Usual("factory_power_w", 18.0, 15, 22, "factory head unit", "into 4 Ω")
# Not "not-known": nearly every radio but the car maker's has one, and every amplifier its terminal.
REMOTE_LEAD = Usual(
    "trigger_available", "yes", None, None, "remote lead", "not the factory head unit"
)
REMOTE_TERMINAL = Usual("trigger", True, None, None, "remote terminal")
EARTH = Usual("earth_m", 0.5, None, None, "earth lead")
# Asked for, and told, where there are several amplifiers only.
BRANCH = Usual(
    "branch_m", 0.5, 0.2, 2.0, "branch from the distribution block", "to each of several amplifiers"
)
SIGNAL = Usual("signal_m", 0.0, None, None, "RCA leads", "the power cable plus 1 m")
ALTERNATOR = Usual("alternator_a", 90.0, None, None, "alternator")
VEHICLE_SHARE, VEHICLE_SHARES = 0.4, (0.3, 0.6)
VEHICLE = Usual(
    "vehicle_a", 36.0, 27, 54, "the vehicle’s own current draw", "0.4 of the alternator"
)
BATTERY = Usual("battery_ah", 60.0, None, None, "battery")
ENGINE_C = Usual("engine_c", 50.0, 50, 85, "air at the battery end", "under the bonnet")
# How far the battery is must be asked; within this a first verdict is given.
RUN_M, RUN_RANGE_M = 4.5, (1.0, 7.0)

# Counts where several hang on one remote lead.
TRIGGER_A = Usual("trigger_a", 0.02, 0.01, 0.05, "remote current", "of each remote terminal")
CHANNELS = Usual("channels", 4, None, None, "channels")
SENSITIVITY_MIN = Usual("sensitivity_min_v", 0.2, None, None, "RCA input, gain at maximum")
SENSITIVITY_MAX = Usual("sensitivity_max_v", 6.0, None, None, "RCA input, gain at minimum")
# Of a high-level input that the box names by one end only.
HIGH_LEVEL_MIN = Usual("high_level_min_v", 1.0, None, None, "speaker-level input, gain at maximum")
HIGH_LEVEL_MAX = Usual("high_level_max_v", 12.0, None, None, "speaker-level input, gain at minimum")
_EACH = "each pair of channels, one switch off/HPF/LPF"
FILTERS = (
    Usual("high_pass_hz", "50-250", None, None, "high-pass", _EACH),
    Usual("low_pass_hz", "50-250", None, None, "low-pass", _EACH),
    Usual("filter_db_per_octave", "12", None, None, "filter slope", _EACH),
)
# A mono is made for a subwoofer, and has no high-pass but perhaps a subsonic filter.
MONO_HIGH_PASS = Usual(
    "high_pass_hz", "off", None, None, "high-pass", "an amplifier of one channel"
)
FACES: Mapping[str, tuple[str, ...]] = {
    "front_face": ("signal", "controls"),
    "right_face": (),
    "back_face": ("power", "speaker"),
    "left_face": (),
    "top_face": (),
}
EFFICIENCY: Mapping[str | None, Usual] = {
    "d": Usual("efficiency_percent", 80.0, 75, 90, "efficiency", "class D"),
    "ab": Usual("efficiency_percent", 55.0, 50, 60, "efficiency", "class AB"),
    None: Usual("efficiency_percent", 50.0, 50, 90, "efficiency", "class unknown"),
}
OWN_FUSES = Usual(
    "fuses_a", 30.0, None, None, "own fuses", "the next listed rating above full-power current"
)
IDLE_A = Usual("idle_a", 1.0, 0.5, 1.5, "idle current")
STANDBY = Usual("quiescent_a", 0.002, 0, 0.005, "standby drain", "switched off by the remote lead")
LEFT_AWAKE = Usual("quiescent_a", 0.02, 0.01, 0.1, "standby drain", "signal-sensing, left awake")
TABLE = (
    CHANNELS, *FILTERS, MONO_HIGH_PASS, *EFFICIENCY.values(), IDLE_A, STANDBY, LEFT_AWAKE,
    SENSITIVITY_MIN, SENSITIVITY_MAX, HIGH_LEVEL_MIN, HIGH_LEVEL_MAX, SOURCE_V, FACTORY_W,
    REMOTE_LEAD, REMOTE_TERMINAL, TRIGGER_A,
    *(SENSITIVITY[word] for word in ("full-range", "tweeter", "woofer")), LOWEST["full-range"],
    LOWEST["tweeter"], STEEP_TWEETER, *TOP.values(), EARTH, BRANCH, ENGINE_C, *LEAD.values(),
    ALTERNATOR, VEHICLE, BATTERY,
)  # fmt: skip


# ---- speakers


def speakers_of(rows: tuple[SpeakerRow, ...]) -> tuple[tuple[Speaker, ...], tuple[Assumed, ...]]:
    """Return the rows with a name each and usual figures where none are told, and what was taken.

    A set with its own network is one full-range speaker to the amplifier.
    """
    names = _names(rows)
    speakers, taken = [], []
    for at, (row, name) in enumerate(zip(rows, names, strict=True)):
        usual = _of_speaker(row, rows[:at])
        told = {attribute.name: getattr(row, attribute.name) for attribute in fields(row)}
        del told["not_printed"]
        speakers.append(
            Speaker(
                **{
                    **told,
                    **{key: figure.value for key, figure in usual.items()},
                    "name": name,
                    "section": _section(row),
                    "has_network": row.section == "components",
                }
            )
        )
        taken += [Assumed(name, usual[key], ("speakers", at, key)) for key in usual]
    return tuple(speakers), tuple(taken)


def _section(row: SpeakerRow) -> SectionWord:
    return "full-range" if row.section == "components" else row.section


def _of_speaker(row: SpeakerRow, before: tuple[SpeakerRow, ...]) -> dict[str, Usual]:
    section = _section(row)
    usual = {}
    if row.sensitivity_db is None:
        usual["sensitivity_db"] = SENSITIVITY[section]
    if row.lowest_hz is None and section in LOWEST:
        is_steep = section == "tweeter" and row.order >= 4
        usual["lowest_hz"] = STEEP_TWEETER if is_steep else LOWEST[section]
    if row.top_hz is None and section in TOP:
        usual["top_hz"] = TOP[section]
    if row.lead_m is None:
        usual["lead_m"] = LEAD[_place(row, before)]
    return usual


def _place(row: SpeakerRow, before: tuple[SpeakerRow, ...]) -> str:
    """Tell the place: a second pair of doors is at the rear, unless its output says otherwise."""
    if row.section == "woofer":
        return _SUB
    if row.output in ("front", "rear"):
        return row.output
    is_second = any(_section(other) == _section(row) != "tweeter" for other in before)
    return "rear" if is_second else "front"


_NAMES: Mapping[str, str] = {
    "components": "components",
    "full-range": "coaxials",
    "tweeter": "tweeters",
    "midrange": "midranges",
    "mid-bass": "mid-bass",
    "woofer": "subwoofer",
}


def _names(rows: tuple[SpeakerRow, ...]) -> list[str]:
    """Return the rows' names; who has none is named by kind and place, each differently."""
    taken = {row.name for row in rows if row.name is not None}
    names: list[str] = []
    for at, row in enumerate(rows):
        name = row.name
        if name is None:
            word = _NAMES[row.section]
            place = "" if row.section == "woofer" else f"{_place(row, rows[:at])} "
            first = f"{place}{word}" + ("s" if row.section == "woofer" and row.count > 1 else "")
            tries = (first, *(f"{first} {number}" for number in range(2, 20)))
            name = next(name for name in tries if name not in taken)
            taken.add(name)
        names.append(name)
    return names


# ---- the car


def system_of(given: System) -> tuple[System, tuple[Assumed, ...]]:
    """Return the system with usual figures where none are told, and what was taken.

    How far the battery is stays not known: it has to be asked.
    """
    changed: dict[str, Value] = {}
    taken: list[Assumed] = []
    for where, usual in _of_system(given):
        changed[usual.key] = usual.value
        taken.append(Assumed(where, usual, (usual.key,)))
    return replaced(given, changed), tuple(taken)


def _of_system(given: System) -> Iterator[tuple[str, Usual]]:
    head, leads, charging = given.head_unit, given.leads, given.charging
    if head.source_v is None and head.factory_power_w is None:
        yield "head unit", FACTORY_W if head.kind == "factory" else SOURCE_V
    if has_usual_lead(given):
        yield "head unit", REMOTE_LEAD
    if leads.earth_m is None:
        yield "cable", EARTH
    if leads.signal_m is None and leads.power_m is not None:
        yield "cable", replace(SIGNAL, value=leads.power_m + 1)
    if place_is_taken(given):
        yield "cable", ENGINE_C
    rating_a = charging.alternator_a
    if rating_a is None:
        yield "supply", ALTERNATOR
        rating_a = ALTERNATOR.value
    if charging.vehicle_a is None:
        low, high = (share * rating_a for share in VEHICLE_SHARES)
        yield "supply", replace(VEHICLE, value=VEHICLE_SHARE * rating_a, low=low, high=high)
    if charging.battery_ah is None:
        yield "supply", BATTERY


def has_usual_lead(given: System) -> bool:
    """Tell whether a remote lead is taken to be there: it was not told, and no factory radio."""
    head = given.head_unit
    is_factory = head.kind == "factory" or (head.kind is None and head.factory_power_w is not None)
    return head.trigger_available == "not-known" and not is_factory


def place_is_taken(given: System) -> bool:
    """Tell whether the run is taken to start in an engine space of usual air, for want of more."""
    leads = given.leads
    return leads.engine_space is None and leads.engine_c == ENGINE_C.value


# ---- the amplifier


def least_ohm(amplifier: Amplifier) -> float | None:
    """Return the lowest load of a channel [Ω] that the plate proves; None where it proves none.

    A load with a printed power is permitted.  A pair bridged at 4 Ω shows each channel 2 Ω.
    """
    if amplifier.min_channel_ohm is not None:
        return amplifier.min_channel_ohm
    if amplifier.power_2ohm_w is not None or amplifier.rated_bridged_w is not None:
        return 2.0
    if amplifier.power_4ohm_w is not None:
        return 4.0
    return 8.0 if amplifier.power_8ohm_w is not None else None


# Of a stock list each is in many sets.
@lru_cache(maxsize=64)
def amplifier_of(given: Amplifier) -> tuple[Amplifier, tuple[Assumed, ...]]:
    """Return the amplifier with usual figures where none are told, and what was taken.

    The lowest load of a channel and its power there follow from the powers printed, and are none
    of these.
    """
    usual: dict[str, Usual] = {}
    if given.channels is None:
        usual["channels"] = CHANNELS
    usual |= {figure.key: figure for figure in _input_ends(given)}
    if given.trigger is None:
        usual["trigger"] = REMOTE_TERMINAL
    if given.own_filters.missing:
        filters = (MONO_HIGH_PASS, *FILTERS[1:]) if given.channels == 1 else FILTERS
        usual |= {figure.key: figure for figure in filters if getattr(given, figure.key) is None}
    lacking = [key for key in FACES if getattr(given, key) is None]
    told = {word for face in given.faces for word in face or ()}
    usual |= {
        key: Usual(
            key,
            tuple(word for word in FACES[key] if word not in told),
            None,
            None,
            key.replace("_", " "),
        )
        for key in lacking
    }
    changed = {key: figure.value for key, figure in usual.items()}
    changed |= {"min_channel_ohm": least_ohm(given), "power_2ohm_w": _power_2ohm_w(given)}
    taken = tuple(
        Assumed(given.name, figure, ("amplifier", 0, key)) for key, figure in usual.items()
    )
    return replaced(given, changed), taken


def _power_2ohm_w(given: Amplifier) -> float | None:
    """Return the power of a channel at 2 Ω [W] that the plate proves; None where it proves none.

    Each channel of a pair bridged at 4 Ω sees 2 Ω and gives half; never less than at 4 Ω, nor more
    than twice that.
    """
    pair, at_4ohm = given.rated_bridged_w, given.power_4ohm_w
    if given.power_2ohm_w is not None or pair is None or at_4ohm is None:
        return given.power_2ohm_w
    return min(max(pair / 2, at_4ohm), 2 * at_4ohm)


def _input_ends(given: Amplifier) -> Iterator[Usual]:
    """Yield the usual ends of its inputs that are not told and contradict none that is."""
    for lowest, highest in ((SENSITIVITY_MIN, SENSITIVITY_MAX), (HIGH_LEVEL_MIN, HIGH_LEVEL_MAX)):
        low, high = getattr(given, lowest.key), getattr(given, highest.key)
        if low is None and high is None and lowest is HIGH_LEVEL_MIN:
            continue  # few boxes have one, and they name it
        if low is None and (high is None or high > lowest.value):
            yield lowest
        if high is None and (low is None or low < highest.value):
            yield highest

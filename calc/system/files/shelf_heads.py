"""The heads of a stock list: which columns of ours a spreadsheet's own names mean.

A head is taken by a name that can mean one thing only.  One that can mean several is asked about,
and an unknown one is told: neither is guessed.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from calc.inputs.errors import shown
from calc.system.amplifier import COLUMNS
from calc.system.files.shelf_cells import UNITS, dimension_of, tidied

OWN = "x_"  # before the name of a column that only its owner reads
BRAND = "brand"  # joined with the name
BY_KEY = {column.key: column for column in COLUMNS}
_LONGEST_NAME = 60  # of a column that is held against ours
SIZES = {"w": "width_mm", "d": "depth_mm", "h": "height_mm"}
_POWERS = ("power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "rated_bridged_w")
_LINE = ("sensitivity_min_v", "sensitivity_max_v")
_HIGH = ("high_level_min_v", "high_level_max_v")

# Common practice, no source: what spreadsheets of the trade call our columns.
_NAMES = {
    "name": "model|amplifier|model name|amplifier name|amplifier model|product|product name",
    BRAND: "brand|make|maker|manufacturer",
    "channels": "ch|chs|number of channels|no of channels|channel count",
    "min_channel_ohm": "min load|minimum load|lowest load|min impedance|minimum impedance|min ohm|"
    "min ohms|min load per channel|minimum load per channel|stable to|stable down to",
    "rated_v": "rated voltage|rated at",
    "regulated": "regulated supply|regulated power supply",
    "amplifier_class": "class|amp class|operating class",
    "idle_w": "idle power|idle consumption",
    "fuses_a": "fuse|fuses|own fuse|own fuses|internal fuse|internal fuses|onboard fuse|"
    "onboard fuses|built in fuse|built in fuses|fuse rating|amplifier fuse|amplifier fuses",
    "main_fuse_a": "main fuse|external fuse|recommended fuse|fuse at battery|fuse at the battery",
    "sensitivity_min_v": "min sensitivity|sensitivity min|input sensitivity min|line input min|"
    "rca input min|min input sensitivity",
    "sensitivity_max_v": "max sensitivity|sensitivity max|input sensitivity max|line input max|"
    "rca input max|max input sensitivity",
    "high_level_min_v": "high level input min|speaker level min|speaker level input min",
    "high_level_max_v": "high level input max|speaker level max|speaker level input max",
    "trigger": "remote turn on|remote input|trigger input|rem terminal|remote turn on terminal",
    "trigger_a": "remote current|trigger current|remote input current|rem current|turn on current",
    "signal_sensing": "auto turn on|auto on|auto sense|signal sense|signal sensing turn on",
    "quiescent_a": "standby current|quiescent current|standby drain|parasitic drain",
    "level_control": "bass knob|remote level control|remote bass control|bass remote",
    "boost_db": "bass boost|bass eq",
    "mass_kg": "weight",
    "price": "retail price|selling price|list price|shop price|unit price",
    "may_be_bridged": "bridgeable|can be bridged",
    "high_pass_hz": "high pass|highpass|hpf|hp filter|high pass filter|hpf range|hpf frequency|"
    "high pass range|high pass frequency|high pass crossover|hpf crossover",
    "low_pass_hz": "low pass|lowpass|lpf|lp filter|low pass filter|lpf range|lpf frequency|"
    "low pass range|low pass frequency|low pass crossover|lpf crossover",
    "filter_db_per_octave": "slope|filter slope|crossover slope|db per oct|db oct|db octave|"
    "filter slope db per octave|filter slope db oct|slope db oct|slope db per octave",
    "width_mm": "width", "depth_mm": "depth", "height_mm": "height",
}  # fmt: skip
_RANGES: dict[str, tuple[str, ...]] = {
    "sensitivity|input sensitivity|line input|rca input|line level input|rca sensitivity|"
    "line input sensitivity|low level input": _LINE,
    "high level input|speaker level input|high level|speaker level|high level sensitivity|"
    "high level input sensitivity": _HIGH,
}
_ASKED: dict[str, tuple[str, ...]] = {
    "power|rms|rms power|output|output power|rated power|power per channel|rms per channel|mono|"
    "rms watts|watts|watt|mono power|mono 4 ohm": _POWERS,
    "bridged": ("rated_bridged_w", "may_be_bridged"),
    "remote": ("trigger", "level_control"),
    "l|length": ("width_mm", "depth_mm"),
    "size|dimensions|dims": ("width_mm", "depth_mm", "height_mm"),
    "impedance|load|ohm": ("min_channel_ohm", "power_4ohm_w"),
    "crossover|crossover frequency|x over": ("high_pass_hz", "low_pass_hz", "filters"),
    "input|input voltage": (*_LINE, *_HIGH),
    "standby|idle|idle current": ("idle_w", "quiescent_a"),
    "current|max current": ("main_fuse_a", "fuses_a"),
}
_PASSED = (
    "sku|ean|gtin|barcode|stock|in stock|qty|quantity|location|supplier|notes|note|remarks|"
    "comment|comments|url|link|order number|article number|item number"
)
_POWER_WORDS = {"power", "rms", "output", "w", "watt", "watts"}
_POWER_FILL = _POWER_WORDS | {
    "rated", "continuous", "per", "channel", "ch", "each", "at", "into", "x", "stereo",
}  # fmt: skip
_NO_RATING = {"max", "maximum", "peak", "total", "music", "dynamic", "pmpo", "combined"}
# A rating is one at 14.4 V and 1 % distortion where nothing else is said.
_CONDITIONS = re.compile(r"(?:at |@ ?)?(?:14[.,]4 ?v(?:olts?)?|1 ?% ?thd)\b")
_LOADS = {frozenset((load, "ohm")): key for load, key in zip("428", _POWERS[:3], strict=True)}


@cache
def _phrases() -> dict[str, str]:
    """Return the column of each name that can mean one thing only."""
    named = {" ".join(_tokens(key)): key for key in BY_KEY}
    for key, names in _NAMES.items():
        if key in BY_KEY or key == BRAND:
            named |= dict.fromkeys(names.split("|"), key)
    return named


@dataclass(frozen=True)
class Head:
    """A column of a list.

    name : as it stands in the list
    keys : the columns of ours that its cells fill, in the order of their figures; none for one
        that is passed over
    unit : of its cells that have none, where it is another than ours
    problem : what is wrong with it, in words
    is_passed : passed over though its name does not ask for that
    """

    name: str
    keys: tuple[str, ...] = ()
    unit: str = ""
    problem: str = ""
    is_passed: bool = False

    @property
    def is_plain(self) -> bool:
        """Whether it is named as the column is."""
        return len(self.keys) == 1 and _tokens(self.name) == _tokens(self.keys[0])

    @property
    def words(self) -> str:
        """What it was taken for."""
        if self.keys == (BRAND,):
            return "part of the name"
        unit = {"in": "inches", '"': "inches"}.get(self.unit, self.unit)
        labels = ", ".join(BY_KEY[key].label for key in self.keys)
        return f"{labels}, in {unit}" if unit else labels


def head_of(name: str, others: Sequence[str] = (), *, guess: bool = True) -> Head:
    """Return what a head means, or what is wrong with it.

    others : the list's other heads; W, D and H are sizes where they stand together
    guess : whether an unknown one is told with the name that it is like

    >>> head_of("RMS 4Ω").keys, head_of("Width (in)").unit
    (('power_4ohm_w',), 'in')
    >>> head_of("Breite").keys, bool(head_of("Power").problem)
    ((), True)
    """
    plain = name.strip()
    if plain.startswith(OWN):
        return Head(plain)
    if len(plain) > _LONGEST_NAME:
        return Head(plain, problem=unknown(plain, guess=False))
    tokens = _tokens(plain)
    head = _by_letters(plain, tokens, others) or _by_words(plain, tokens)
    return head or Head(plain, problem=unknown(plain, guess=guess))


def _tokens(name: str) -> list[str]:
    """Return a head's words in small letters, units in brackets among them.

    >>> _tokens("Power 4Ω [W]"), _tokens("power_4ohm_w")
    (['power', '4', 'ohm', 'w'], ['power', '4', 'ohm', 'w'])
    """
    text = _CONDITIONS.sub(" ", tidied(name).lower())
    words = re.findall(r"[0-9]+|[^\W\d_]+|%|[\"#€$£]", text)
    same = {"ω": "ohm", "ohms": "ohm", "#": "number", "bridge": "bridged", "percent": "%"}
    return [same.get(word, word) for word in words]


def _by_letters(name: str, tokens: list[str], others: Sequence[str]) -> Head | None:
    """Return the sizes that single letters mean: W, D, H; or `W x H x D` in one column."""
    words = [word for word in tokens if word not in ("size", "dimensions", "dims")]
    unit = words.pop() if len(words) > 1 and _is_unit(words[-1], "mm") else ""
    axes = re.fullmatch(r"([wdh])x?([wdh])x?([wdh])", "".join(words))
    if axes and len(set(axes.groups())) == 3:
        return Head(name, tuple(SIZES[axis] for axis in axes.groups()), _other_unit(unit, "mm"))
    if len(words) != 1 or words[0] not in SIZES:
        return None
    key = SIZES[words[0]]
    letters = {other.strip().lower()[:1] for other in others if _is_letter(other)}
    if unit or len(letters & SIZES.keys()) > 1:
        return Head(name, (key,), _other_unit(unit, "mm"))
    return Head(name, problem=_asked(name, (key, "power_4ohm_w") if words[0] == "w" else (key,)))


def _is_letter(name: str) -> bool:
    return re.fullmatch(r"[wdhWDH](?:\W.*)?", name.strip()) is not None


def _by_words(name: str, tokens: list[str]) -> Head | None:
    phrase = " ".join(tokens)
    named = _phrases()
    for words, unit in ((tokens, ""), (tokens[:-1], tokens[-1] if tokens else "")):
        text = " ".join(words)
        key = named.get(text)
        if key is not None and (not unit or (key in BY_KEY and _is_unit(unit, dimension_of(key)))):
            return Head(name, (key,), _other_unit(unit, dimension_of(key)) if unit else "")
        for names, keys in _RANGES.items():
            if text in names.split("|") and (not unit or _is_unit(unit, "v")):
                return Head(name, keys, _other_unit(unit, "v"))
    if _power(tokens):
        return Head(name, (_power(tokens),))
    if phrase in _PASSED.split("|"):
        return Head(name, is_passed=True)
    for names, keys in _ASKED.items():
        if phrase in names.split("|") or " ".join(tokens[:-1]) in names.split("|"):
            return Head(name, problem=_asked(name, keys))
    if _NO_RATING & set(tokens) and _POWER_WORDS & set(tokens):
        return Head(name, problem=_no_rating(name))
    return None


def _power(tokens: list[str]) -> str:
    """Return the column of a power at a load, or bridged; empty where it is none of ours."""
    rest = frozenset(tokens) - _POWER_FILL
    if rest in _LOADS:
        return _LOADS[rest]
    is_power = bool(_POWER_WORDS & set(tokens)) or "ohm" in rest
    if is_power and rest in (frozenset(("bridged",)), frozenset(("bridged", "4", "ohm"))):
        return "rated_bridged_w"
    return ""


def _is_unit(word: str, dimension: str) -> bool:
    return word in UNITS and UNITS[word][0] == dimension


def _other_unit(word: str, dimension: str) -> str:
    """Return a unit that is not the column's own."""
    return word if word and UNITS[word] != (dimension, 1.0) else ""


def _asked(name: str, keys: Sequence[str]) -> str:
    listed = ", ".join(keys[:-1]) + f" or {keys[-1]}" if len(keys) > 1 else keys[0]
    return (
        f"The column ‘{shown(name)}’ could mean more than one figure. Name it {listed}, or put "
        f"{OWN} before its name to skip it."
    )


def _no_rating(name: str) -> str:
    return (
        f"The column ‘{shown(name)}’ is a maximum or a total, not the rating of a channel. "
        f"Enter the RMS power as power_4ohm_w; put {OWN} before this name to skip it."
    )


def unknown(name: str, *, guess: bool = True) -> str:
    """Say that there is no such column, with the one that it is like."""
    plain = re.sub(r"\W+", "_", name.lower()).strip("_")
    likely = get_close_matches(plain, BY_KEY, 1) if guess else []
    meant = f" Did you mean ‘{likely[0]}’?" if likely else ""
    return (
        f"There is no column ‘{shown(name)}’.{meant} The table on the page lists them all; put "
        f"{OWN} before the name of a column of your own to skip it."
    )

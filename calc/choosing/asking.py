"""What to ask for: of the seller for an amplifier's figures, of the reader for the car's."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import Check
from calc.choosing.installed import Part
from calc.choosing.layouts.feeds import Job

# Nobody knows these, and none of them decides.
_NEVER = frozenset({"efficiency_percent", "idle_w", "quiescent_a"})
_FILTERS = ("high_pass_hz", "low_pass_hz", "filter_db_per_octave")
_MAY_BE_OFF = "can its filters be switched off?"
_SIZES = ("width_mm", "depth_mm", "height_mm")
_LINE = ("sensitivity_min_v", "sensitivity_max_v")
_OF_SELLER: Mapping[tuple[str, ...], str] = {
    ("power_4ohm_w",): "what is the RMS power per channel at 4 Ω, all channels driven?",
    ("channels",): "how many channels does it have?",
    ("min_channel_ohm",): "what is the minimum load per channel?",
    ("may_be_bridged",): "can two channels be bridged, and at what power?",
    ("power_2ohm_w",): "what is the RMS power per channel at 2 Ω?",
    _FILTERS: "can each pair of channels be set to high-pass or low-pass, and over what range?",
    _SIZES: "what are its width, depth and height?",
    ("front_face",): "which end has the terminals, and which the controls?",
    ("limit_c",): "what is the highest air temperature it is made for?",
    _LINE: "what is the range of its RCA input, in volts?",
}
# The same in as few words as a narrow bar holds.
_IN_SHORT: Mapping[str, str] = {
    "power_4ohm_w": "RMS watts at 4 Ω?",
    "channels": "how many channels?",
    "min_channel_ohm": "minimum load?",
    "may_be_bridged": "can it be bridged?",
    "power_2ohm_w": "RMS watts at 2 Ω?",
    "high_pass_hz": "high-pass range?",
    "low_pass_hz": "low-pass range?",
    "filter_db_per_octave": "filter slope, dB/oct?",
    "front_face": "terminals at which end?",
    "limit_c": "highest air temperature?",
    "sensitivity_min_v": "RCA input volts?",
    "sensitivity_max_v": "highest RCA input volts?",
    **dict.fromkeys(_SIZES, "its size?"),
}
_OF_CAR: Mapping[str, str] = {
    "power_m": "How far away is the battery?",
    "engine_space": "Is the battery under the bonnet?",
    "source_v": "What plays now?",
    "filters_every_output": "Does the DSP have a high-pass and a low-pass on every output?",
    "alternator_a": "Alternator rating",
    "vehicle_a": "The vehicle’s own current draw",
    "closed": "Can air flow past the amplifier?",
    "area_m2": "Surface area of the closed space",
    "bay_width_mm": "Size of the mounting space",
}

_VOLTS = "How many volts do the head unit’s RCA outputs deliver?"


@dataclass(frozen=True)
class Ask:
    """A question, and the figure that answers it: of an amplifier by name, or of the car.

    in_short : the question in few words; empty where no one figure answers it
    is_decisive : without the figure no recommendation can be given
    amplifier : its name, and its number among those installed; of the car none
    """

    key: str
    words: str
    in_short: str
    is_decisive: bool
    amplifier: str = ""
    at: int = 0


def questions_to_seller(candidate: Candidate) -> tuple[Ask, ...]:
    """Return what to ask the seller, what decides first; what is not printed is not asked again.

    Of an amplifier that fails whatever the answer is, nothing is asked.
    """
    if candidate.state == "unsuitable":
        return ()
    asks: dict[tuple[int, str], Ask] = {}
    for check in sorted(_open(candidate), key=lambda check: check.state != "not known"):
        for part in _first_guarding(candidate, check):
            if check.about in ("", part.name):
                for ask in _of_check(check, part, is_single=len(candidate.parts) == 1):
                    asks.setdefault((part.at, ask.key), ask)
    layout = candidate.layout
    if layout is None or not layout.job.has_dsp_filters:
        return tuple(asks.values())
    # The DSP makes every filter: the amplifier need not have any.
    return tuple(
        replace(ask, words=_MAY_BE_OFF, in_short="")
        if ask.key in _FILTERS and not ask.is_decisive
        else ask
        for ask in asks.values()
    )


def _first_guarding(candidate: Candidate, check: Check) -> Sequence[Part]:
    """Return the amplifiers; of filters those are asked first that a tweeter needs one of."""
    if check.kind != "filters" or candidate.layout is None:
        return candidate.parts
    guarding = candidate.layout.guarding_parts
    return sorted(candidate.parts, key=lambda part: part not in guarding)


def _is_missing(part: Part, key: str) -> bool:
    if key in _FILTERS:  # they may be told in full, in a column of their own
        return key in part.given.own_filters.missing
    return getattr(part.given, key) is None


def _of_check(check: Check, part: Part, *, is_single: bool) -> Iterator[Ask]:
    """Yield what to ask about an amplifier so that a check is settled."""
    looked_for = set((part.given.not_printed or "").split("+"))
    for keys, words in _OF_SELLER.items():
        wanted = [
            key
            for key in keys
            if key in check.keys and key not in looked_for and (is_single or _is_missing(part, key))
        ]
        if wanted:
            is_decisive = check.state == "not known"
            yield Ask(wanted[0], words, _IN_SHORT[wanted[0]], is_decisive, part.name, part.at)


def questions_about_car(candidate: Candidate, job: Job) -> tuple[Ask, ...]:
    """Return what the reader can find out at the car, what decides first.

    Once it is said what plays now, its volts are usual, and asked for only where they decide.
    """
    asks: dict[str, Ask] = {}
    knows_radio = job.given.head_unit.kind is not None
    for check in sorted(_open(candidate), key=lambda check: check.state != "not known"):
        for key in check.keys:
            is_decisive, words = check.state == "not known", _OF_CAR.get(key)
            if key == "source_v" and knows_radio:
                words = _VOLTS if is_decisive else None
            if words and key not in asks:
                asks[key] = Ask(key, words, words, is_decisive)
    return tuple(asks.values())


def _open(candidate: Candidate) -> Iterator[Check]:
    for check in candidate.checks:
        if check.state in ("not known", "likely") and set(check.keys) - _NEVER:
            yield check

"""The checks that an amplifier is held against, each with what is needed and what it has."""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import State
from calc.choosing import amplifier_asks, demand_asks, layout_asks
from calc.choosing.asks import Ask
from calc.choosing.job import Feed, Job
from calc.choosing.layouts import Layout, may_bridge, missing_plate
from calc.placement.mounting_reach import REACH_KEYS, REACH_WORDS

# In the order of the job; wishes decide the rank, musts decide the verdict.
SIGNAL, TURN_ON, PLACE, REACH = "signal", "turn-on", "place", "controls"
OWN_FUSES = "its own fuses"
POWER, CHANNELS, FILTERS, HEAT, CABLE, SUPPLY = (
    "power",
    "channels",
    "filters",
    "heat",
    "cable",
    "supply",
)
WISH_OF: Mapping[str, str] = {  # the field of the system that makes a feature a must or a wish
    "level control": "level_control",
    "boost": "boost",
    "cover": "cover",
    "terminals": "screw_terminals",
    REACH: "controls_in_place",
}
FILTERS_NEEDED = "every edge of every section made"
WANTED: Mapping[str, str] = {
    "level control": "a level control on a lead",
    "boost": "a bass boost",
    "cover": "a cover over the controls",
    "terminals": "screw terminals",
    REACH: "controls reached in place",
}
_PLATE_WORDS = {
    "channels": "how many channels",
    "power_4ohm_w": "its power at 4 Ω",
    "min_channel_ohm": "the lowest load of a channel",
}


@dataclass(frozen=True)
class Check:
    """One requirement held against an amplifier.

    is_must : a wish that is not met makes no amplifier unsuitable
    is_weak : a speaker gets less than half of its rating, though nobody asked for more
    """

    name: str
    needed: str
    has: str
    state: State
    is_must: bool = True
    is_weak: bool = False

    @property
    def decides(self) -> bool:
        """Whether it stands in the way of a plain yes."""
        return self.is_must and self.state != "suitable"


def of_ask(name: str, needed: str, ask: Ask) -> Check:
    """Return a calculator's verdict as a check."""
    verdict = ask.verdict
    reason = verdict.reason.replace("\u202f", " ").rstrip(".")
    return Check(name, needed, reason, verdict.state)


# ---- whatever the layout


def feature_checks(job: Job, amplifier: Mapping[str, Any]) -> list[Check]:
    """Return the checks of features that are musts or wishes."""
    boost = amplifier["boost_db"]
    terminals = amplifier["terminals"]
    known = {
        "level control": amplifier["level_control"],
        "boost": None if boost is None else boost > 0,
        "cover": amplifier["cover"],
        "terminals": None if terminals is None else terminals == "screw",
    }
    found = []
    for name, has in known.items():
        key, needed = WISH_OF[name], WANTED[name]
        wish = job.given[key]
        if wish == "any":
            continue
        state: State = "not known" if has is None else "suitable" if has else "unsuitable"
        told = "not known" if has is None else "yes" if has else "no"
        found.append(Check(name, needed, told, state, wish == "must"))
    return found


def signal_check(job: Job, amplifier: Mapping[str, Any]) -> Check:
    """Return the check of the input levels."""
    ask = amplifier_asks.signal(job, amplifier)
    return of_ask(SIGNAL, "an input that takes the head unit’s signal", ask)


def turn_on_check(job: Job, amplifier: Mapping[str, Any]) -> Check:
    """Return the check of the ways to turn it on."""
    return of_ask(TURN_ON, "a way to be turned on and off", amplifier_asks.turn_on(job, amplifier))


def body_check(job: Job, amplifier: Mapping[str, Any]) -> Check | None:
    """Return the check that fails because the bare body is larger than the bay."""
    bay = [job.given[key] for key in ("bay_width_mm", "bay_depth_mm")]
    body = [amplifier[key] for key in ("width_mm", "depth_mm")]
    if None in bay or None in body:
        return None
    if min(body) <= min(bay) and max(body) <= max(bay):
        return None
    words = f"{rounded(body[0])} × {rounded(body[1])} mm"
    return Check(PLACE, f"at most {rounded(bay[0])} × {rounded(bay[1])} mm", words, "unsuitable")


_REACHES: Mapping[str | None, str] = {
    **{key: REACH_WORDS[reach] for reach, key in REACH_KEYS.items()},
    "none": "it has none",
    None: "not known",
}


def place_checks(job: Job, amplifier: Mapping[str, Any]) -> list[Check]:
    """Return the checks of place and reach."""
    too_large = body_check(job, amplifier)
    if too_large is not None:
        return [too_large]
    ask = amplifier_asks.mounting(job, amplifier)
    wish = job.given["controls_in_place"]
    if ask.answer is None:
        place = of_ask(PLACE, "room in the bay", ask)
        reach = Check(REACH, WANTED[REACH], "not known", "not known", wish == "must")
        return [place] if wish == "any" else [place, reach]
    results = ask.answer.sheet.results
    feasible = results["feasible"]
    state: State = {True: "suitable", False: "unsuitable", None: "not known"}[feasible]
    reason = ask.verdict.reason if feasible is not True else "it stands with all its rooms"
    found = [Check(PLACE, "room in the bay, plugs and air included", _plain(reason), state)]
    if wish != "any":
        reached = {one["controls"] for one in results["placements"]} if feasible else set()
        in_place: State = "not known" if feasible is None else "unsuitable"
        if feasible and reached <= {"in-place", "none", None}:
            in_place = "suitable"
        elif feasible and not results["reach_is_proven"]:
            in_place = "not known"
        words = listed(sorted(_REACHES[one] for one in reached)) or "no place"
        found.append(Check(REACH, WANTED[REACH], words, in_place, wish == "must"))
    return found


def _plain(text: str) -> str:
    return text.replace("\u202f", " ").rstrip(".")


# ---- of a layout


def channel_check(layout: Layout | None, job: Job, amplifier: Mapping[str, Any]) -> Check:
    """Return the check of channels and loads."""
    needed = ", ".join(
        f"{feed.count} × {feed.name}" + ("" if feed.may_join else " apart")
        if feed.count > 1
        else feed.name
        for feed in job.feeds
    )
    missing = missing_plate(amplifier)
    if missing:
        words = listed([_PLATE_WORDS[key] for key in missing])
        return Check(CHANNELS, needed, f"{words} not known", "not known")
    least = sum(feed.least_outputs for feed in job.feeds)
    channels = amplifier["channels"]
    if layout is None:
        if least > channels:
            told = f"{channels} channels where {least} are needed"
            return Check(CHANNELS, needed, told, "unsuitable")
        lowest = quantity(amplifier["min_channel_ohm"], "Ω").replace("\u202f", " ")
        has = f"no wiring fits {channels} channels of at least {lowest}"
        return Check(CHANNELS, needed, has, "unsuitable")
    joined = [feed.name for feed, _, use in layout.uses if use.joins_left_and_right]
    if joined:
        told = f"left and right of {listed(joined)} on one output"
        return Check(CHANNELS, needed, told, "unsuitable")
    bridging = may_bridge(amplifier)
    if layout.is_bridged and bridging is False:
        return Check(CHANNELS, needed, "pairs bridged, and it may not be", "unsuitable")
    if layout.is_bridged and bridging is None:
        told = (
            f"grouping {layout.plan.name}, and whether it may be bridged is not known: look for a "
            "bridged power, or bridge marks at its terminals"
        )
        return Check(CHANNELS, needed, told, "not known")
    return Check(CHANNELS, needed, f"grouping {layout.plan.name}", "suitable")


def power_name(feed: Feed) -> str:
    """Return the name of the check of a feed's power."""
    return f"{POWER}: {feed.name}"


def power_checks(layout: Layout) -> list[Check]:
    """Return a check of the power for each feed.

    A power that nobody wished for is no must: less than usual is told, and so is more.
    """
    found = []
    for feed, wiring, use in layout.uses:
        parts = use.per_output * wiring.drivers
        low, best, high = (
            None if one is None else factor * one / parts
            for factor, one in zip(
                (layout.spread[0], 1.0, layout.spread[1]),
                (use.power.low, use.power.best, use.power.high),
                strict=True,
            )
        )
        if layout.spread != (1.0, 1.0):
            best = None
        has = "not known"
        if best is not None:
            has = f"{rounded(best, 3)} W"
        elif low is not None and high is not None:
            has = f"{rounded(low, 3)} to {rounded(high, 3)} W"
        state = _power_state(low, high, feed.need_w)
        if feed.need_w is None and low is not None and high is not None:
            has += _beside_rating(low, high, feed.speaker["rated_w"])
        is_weak = feed.need_w is None and not (
            low is not None and at_least(low, _USUAL_SHARES[0] * feed.speaker["rated_w"])
        )
        found.append(Check(power_name(feed), _power_needed(feed), has, state, is_weak=is_weak))
    return found


# Power over rating that needs no word (common practice, no source).
_USUAL_SHARES = (0.5, 1.5)


def _power_state(low: float | None, high: float | None, need_w: float | None) -> State:
    if need_w is None:
        return "not known" if low is None or high is None else "suitable"
    if low is not None and at_least(low, need_w):
        return "suitable"
    return "unsuitable" if high is not None and not at_least(high, need_w) else "not known"


def _power_needed(feed: Feed) -> str:
    if feed.need_w is not None:
        return f"{rounded(feed.need_w, 3)} W each"
    return f"no figure asked for; rated {rounded(feed.speaker['rated_w'], 3)} W each"


def _beside_rating(low: float, high: float, rated_w: float) -> str:
    """Say how a power stands beside a speaker's rating, where it is much less or much more."""
    if not at_least(high, _USUAL_SHARES[0] * rated_w):
        quieter = 10 * math.log10(rated_w / high)
        return f": plays {rounded(quieter, 2)} dB less loud than its rating would"
    if low > _USUAL_SHARES[1] * rated_w * (1 + 1e-9):
        return ": more than it is rated for, so the gain’s ceiling goes by its rating"
    return ""


def open_powers(job: Job) -> list[Check]:
    """Return the checks of the powers where no layout is known."""
    return [
        Check(power_name(feed), _power_needed(feed), "not known", "not known") for feed in job.feeds
    ]


def open_filters() -> tuple[Check, ...]:
    """Return the check of the filters where it is not known what is on which channel."""
    return (Check(FILTERS, FILTERS_NEEDED, "what is on which channel is not known", "not known"),)


def at_least(value: float, limit: float) -> bool:
    """Tell whether a figure reaches a limit; what is typed with a few digits counts as met."""
    return value >= limit * (1 - 1e-9)


def filter_check(job: Job, assignment: Sequence[Any], amplifier: Mapping[str, Any]) -> Check:
    """Return the check of the filters with the feeds on their outputs."""
    ask = layout_asks.filter_split(job, assignment, amplifier)
    if ask.doubt is not None:  # no answer would make it known
        told = f"missing: {listed(ask.doubt.told)}"
        return Check(FILTERS, FILTERS_NEEDED, _plain(told), "not known")
    found = of_ask(FILTERS, FILTERS_NEEDED, ask)
    # The calculator knows the sections by their kinds; the reader, by the speakers' names.
    names = layout_asks.own_names(job, assignment)
    whose = [
        f"{word} is {own}"
        for word, own in names
        if word not in own and re.search(rf"\b{re.escape(word)}(?! ?\d)\b", found.has)
    ]
    return replace(found, has=f"{found.has} ({listed(whose)})") if whose else found


def _fuse_check(fuses_a: float | None, draws_a: float | None) -> Check:
    """Return the check that the amplifier's own fuses bear what it is said to draw."""
    needed = "what it draws with loud music"
    if draws_a is not None:
        needed = f"{quantity(draws_a, 'A', 3)} with loud music"
    if fuses_a is None:
        return Check(OWN_FUSES, _plain(needed), "not known", "not known")
    has = quantity(fuses_a, "A", 3)
    if draws_a is None:
        told = f"{has}; what it draws is not known"
        return Check(OWN_FUSES, needed, _plain(told), "not known")
    if at_least(fuses_a, draws_a):
        return Check(OWN_FUSES, _plain(needed), _plain(has), "suitable")
    told = f"{has}: a figure is wrong, or it does not reach its power"
    return Check(OWN_FUSES, _plain(needed), _plain(told), "not known")


def demand_checks(job: Job, total_w: float | None, amplifier: Mapping[str, Any]) -> Iterable[Check]:
    """Return the checks of what follows from the power in use: heat, cable, supply."""
    if job.given["closed"]:
        ask = demand_asks.bay_heat(job, total_w, amplifier)
        yield of_ask(HEAT, "air that stays cool enough", ask)
    cable = demand_asks.power_cable(job, total_w, amplifier)
    yield of_ask(CABLE, "a cable and a fuse that carry it", cable)
    yield _fuse_check(*demand_asks.own_fuses(job, total_w, amplifier))
    supply = demand_asks.supply_budget(job, total_w, amplifier)
    yield of_ask(SUPPLY, "an alternator that keeps up", supply)

"""What would make an amplifier fit that fails: changes tried one by one, each judged anew."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.answers.figures import listed, rounded
from calc.choosing import amplifier_asks, checks, layout_asks
from calc.choosing.checks import Check
from calc.choosing.choose import Candidate, Judge
from calc.choosing.job import Feed, Job, check_job

MOST_CHANGES = 2
_SHARES = (0.75, 0.5, 0.25)
_LARGER = (1.25, 1.5, 2.0, 3.0)
_WISH_WORDS = {
    "level_control": "a level control on a lead were",
    "boost": "a bass boost were",
    "cover": "a cover were",
    "screw_terminals": "screw terminals were",
    "controls_in_place": "controls reached in place were",
}
_ALTERNATORS_A = (70, 90, 110, 120, 140, 150, 180, 200, 250)


@dataclass(frozen=True)
class Change:
    """Another system, and the words for it, to follow “It would fit”."""

    words: str
    system: Mapping[str, Any]

    def judge(self, before: Judge) -> Judge | None:
        """Return the judge of the changed job; None when the change is not permitted."""
        given = {**before.job.given, **self.system}
        if any(check_job(given)):
            return None
        return Judge(Job(given), before.amplifier, before.weights)


def advised(judge: Judge) -> Candidate:
    """Return the best plan, with what would make it fit if a must or two fail."""
    found = judge.best()
    return replace(found, near_miss=near_miss(judge, found))


def near_miss(judge: Judge, found: Candidate) -> str | None:
    """Return in a sentence what would make an amplifier fit that fails one or two musts.

    None when none fails, more fail, or no change is found that does it.  Each change was made
    and the whole search repeated: the sentence says what came of it.
    """
    way = _way(judge, found, MOST_CHANGES) if found.state == "unsuitable" else None
    if way is None:
        return None
    words, after = way
    if after.state == "not known":
        gaps = [one.name for one in after.checks if one.is_must and one.state == "not known"]
        return f"It may fit {' and '.join(words)}; not known: {listed(gaps)}."
    return f"It would fit {' and '.join(words)}."


def failing(found: Candidate) -> list[Check]:
    """Return the musts that fail."""
    return [one for one in found.checks if one.is_must and one.state == "unsuitable"]


def _way(judge: Judge, found: Candidate, left: int) -> tuple[list[str], Candidate] | None:
    """Return the fewest changes after which no must fails, and what then is found."""
    bad = failing(found)
    if not bad:
        return [], found
    if len(bad) > left:
        return None
    halfway = []
    for change in changes(judge, found, bad[0]):
        changed = change.judge(judge)
        if changed is None:
            continue
        after = changed.best()
        if any(one.name == bad[0].name and one.decides for one in after.checks):
            continue
        if after.state != "unsuitable":
            return [change.words], after
        if left > 1:
            halfway.append((change.words, changed, after))
    for words, changed, after in halfway:
        rest = _way(changed, after, left - 1)
        if rest is not None:
            return [words, *rest[0]], rest[1]
    return None


def changes(judge: Judge, found: Candidate, bad: Check) -> Iterable[Change]:
    """Yield what may mend a failing must, the smallest change first."""
    given, amplifier = judge.job.given, judge.amplifier
    if bad.name.startswith(checks.POWER):
        return _less_power(judge.job, found, bad)
    if bad.name in checks.WISH_OF:
        key = checks.WISH_OF[bad.name]
        return [Change(f"if {_WISH_WORDS[key]} no must", {key: "any"})]
    if bad.name == checks.CHANNELS:
        return _higher_loads(judge)
    if bad.name == checks.PLACE:
        return _more_room(judge)
    if bad.name == checks.FILTERS:
        return _more_filters(judge, found)
    if bad.name == checks.SIGNAL:
        return _stronger_signal(given, amplifier)
    if bad.name == checks.TURN_ON:
        words = "with a wire that is live while the head unit plays"
        return [Change(words, {"trigger_available": "yes"})]
    if bad.name == checks.HEAT:
        return _more_air(given)
    if bad.name == checks.CABLE:
        return _scaled(given, "power_m", _SHARES, "with a power cable of at most {} m")
    return [
        Change(f"with an alternator of {one} A", {"alternator_a": float(one)})
        for one in _ALTERNATORS_A
        if given["alternator_a"] is not None and one > given["alternator_a"]
    ]


def _with_row(rows: Sequence[Mapping[str, Any]], at: int, **changed: Any) -> tuple[Any, ...]:
    return (*rows[:at], {**rows[at], **changed}, *rows[at + 1 :])


def _cut(value: float) -> float:
    """Return a figure with three digits, never rounded up."""
    step = 10.0 ** (math.floor(math.log10(value)) - 2) if value > 0 else 1.0
    return round(math.floor(value / step * (1 + 1e-12)) * step, 9)


def _less_power(job: Job, found: Candidate, bad: Check) -> Iterator[Change]:
    if found.layout is None:
        return
    for feed, wiring, use in found.layout.uses:
        high = use.power.low if use.power.low is not None else use.power.high
        if checks.power_name(feed) == bad.name and high:
            each = _cut(high / use.per_output / wiring.drivers)
            rows = _with_row(job.speakers, feed.rows[0], need_w=each)
            words = f"if {rounded(each, 3)} W for each of {feed.name} were enough"
            yield Change(words, {"speakers": rows})


def _higher_loads(judge: Judge) -> Iterator[Change]:
    """Yield speakers of twice the impedance, where it is not the channels that are too few."""
    job = judge.job
    if sum(feed.least_outputs for feed in job.feeds) > judge.amplifier["channels"]:
        return
    for feed in job.feeds:
        ohm = 2 * feed.speaker["coil_ohm"]
        if ohm <= 16:
            coil = " a coil" if feed.speaker["coils"] > 1 else ""
            rows = _with_row(job.speakers, feed.rows[0], coil_ohm=ohm)
            yield Change(f"with {feed.name} of {rounded(ohm)} Ω{coil}", {"speakers": rows})


def _more_room(judge: Judge) -> Iterator[Change]:
    given = judge.job.given
    ask = amplifier_asks.mounting(judge.job, judge.amplifier)
    for one in ask.answer.sheet.results["relax"] if ask.answer else ():
        system: dict[str, Any] = {}
        if one["what"] in ("width", "depth", "height"):
            key = f"bay_{one['what']}_mm"
            system[key] = (given[key] or 0) + math.ceil(one["by_mm"] - 1e-6)
        elif one["what"] == "keep-out":
            at = int(one["which"]) - 1
            system["keep_outs"] = (*given["keep_outs"][:at], *given["keep_outs"][at + 1 :])
        elif one["what"] == "edge":
            system[f"{one['which']}_edge"] = "open"
        else:
            continue
        if one["height_mm"] and given["bay_height_mm"] is not None:
            system["bay_height_mm"] = given["bay_height_mm"] + math.ceil(one["height_mm"] - 1e-6)
        yield Change(f"with {one['words']}", system)


def _more_filters(judge: Judge, found: Candidate) -> Iterator[Change]:
    """Yield a passive network for a missing edge, then a head unit that makes the filter."""
    job = judge.job
    if found.layout is None:
        return
    ask = layout_asks.filter_split(job, found.layout.assignment, judge.amplifier)
    missing = ask.answer.sheet.results["missing"] if ask.answer else []
    for one in missing:
        low, high = one["needed_low_hz"], one["needed_high_hz"]
        if low is None or high is None or low > high:
            continue
        middle = float(f"{math.sqrt(low * high):.2g}")
        middle = middle if low <= middle <= high else low
        feed = _feed_on(job, found, one["channels"])
        if feed is None:
            continue
        orders = sorted({order for order in (1, 2, 3, 4) if order >= min(one["needed_order"], 4)})
        yield from _networks(job, feed, one["edge"], middle, orders)
        if feed.speaker["output"]:
            row = {
                "output": feed.speaker["output"],
                "kind": one["edge"],
                "corners_hz": rounded(middle),
                "times": "1",
                "family": "butterworth",
                "orders": str(orders[0]),
                "switch": None,
                "off": True,
            }
            words = (
                f"with a head unit that makes a {one['edge']} at {rounded(middle)} Hz of order "
                f"{orders[0]} for {feed.speaker['output']}"
            )
            yield Change(words, {"head_filters": (*job.given["head_filters"], row)})


def _feed_on(job: Job, found: Candidate, channels: Sequence[int]) -> Feed | None:
    assert found.layout is not None
    for feed, _, use in found.layout.uses:
        if use.channels >= set(channels):
            return feed
    return None


def _networks(
    job: Job, feed: Feed, edge: str, hz: float, orders: Sequence[int]
) -> Iterator[Change]:
    """Yield a network between a feed and its neighbour in pitch that it can share leads with."""
    side, other = ("above", "below") if edge == "high-pass" else ("below", "above")
    own = job.speakers[feed.rows[-1] if side == "above" else feed.rows[0]]["name"]
    for neighbour in job.feeds:
        if neighbour is feed:
            continue
        theirs = job.speakers[neighbour.rows[0 if side == "above" else -1]]["name"]
        for order in orders:
            row = {side: own, other: theirs, "frequency_hz": hz, "family": "butterworth",
                   "order": order}  # fmt: skip
            words = (
                f"with a passive network of {rounded(hz)} Hz, order {order}, between {own} and "
                f"{theirs}"
            )
            yield Change(words, {"networks": (*job.given["networks"], row)})


def _stronger_signal(given: Mapping[str, Any], amplifier: Mapping[str, Any]) -> Iterator[Change]:
    least = amplifier["sensitivity_min_v"]
    if given["source_v"] is not None and least is not None and least > given["source_v"]:
        words = f"with a line driver that brings {rounded(least)} V"
        yield Change(words, {"source_v": least})


def _more_air(given: Mapping[str, Any]) -> Iterator[Change]:
    yield from _scaled(given, "area_m2", _LARGER, "in a bay of {} m² of surface")
    yield Change("in a bay that is open to the cabin", {"closed": False})


def _scaled(
    given: Mapping[str, Any], key: str, factors: Sequence[float], words: str
) -> Iterator[Change]:
    if given[key] is None:
        return
    for factor in factors:
        value = float(f"{given[key] * factor:.3g}")
        yield Change(words.format(rounded(value, 3)), {key: value})

"""What would make an amplifier fit that fails: changes tried one by one, each judged anew."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from calc.answers.figures import listed, rounded
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WISH_OF, Check, plain
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.feeds import Job, speakers_go_together
from calc.choosing.questions.crossovers import split_question
from calc.choosing.questions.placement import reach_question
from calc.choosing.search import Judge
from calc.inputs.declared import replaced
from calc.inputs.field_base import Value
from calc.placement.mounting_reach import relax_list
from calc.system.amplifier import Amplifier
from calc.system.speakers import HeadFilter, Network
from calc.system.system import System

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
    system: System

    def judge(self, before: Judge) -> Judge | None:
        """Return the judge of the changed job; None when the change is not permitted."""
        system = self.system
        wrong = speakers_go_together(
            speakers=system.speakers,
            networks=system.networks,
            head_filters=system.head_unit.head_filters,
        )
        if any(wrong):
            return None
        return Judge(Job(system), before.installed.given, before.weights)


def advised(judge: Judge) -> Candidate:
    """Return the best plan, with what would make it fit if a must or two fail."""
    best = judge.best()
    return replace(best, near_miss=remedy(judge, best))


def remedy(judge: Judge, candidate: Candidate) -> str | None:
    """Return in a sentence what would make an amplifier fit that fails one or two musts.

    None when none fails, more fail, or no change is found that does it.  Each change was made
    and the whole search repeated: the sentence says what came of it.
    """
    way = _way(judge, candidate, MOST_CHANGES) if candidate.state == "unsuitable" else None
    if way is None:
        return None
    words, after = way
    if after.state == "not known":
        gaps = [check.name for check in after.checks if check.is_must and _is_open(check)]
        return f"It may fit {' and '.join(words)}; not known: {listed(gaps)}."
    return f"It would fit {' and '.join(words)}."


def _is_open(check: Check) -> bool:
    return check.state == "not known"


def failing(candidate: Candidate) -> list[Check]:
    """Return the musts that fail."""
    return [check for check in candidate.checks if check.is_must and check.state == "unsuitable"]


def _way(judge: Judge, candidate: Candidate, left: int) -> tuple[list[str], Candidate] | None:
    """Return the fewest changes after which no must fails, and what then is found."""
    bad = failing(candidate)
    if not bad:
        return [], candidate
    if len(bad) > left:
        return None
    halfway = []
    for change in changes(judge, candidate, bad[0]):
        changed = change.judge(judge)
        if changed is None:
            continue
        after = changed.best()
        if any(check.name == bad[0].name and check.decides for check in after.checks):
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


def changes(judge: Judge, candidate: Candidate, bad: Check) -> Iterable[Change]:
    """Yield what may mend a failing must, the smallest change first."""
    system, amplifier = judge.job.given, judge.amplifier
    if bad.kind in WISH_OF:
        key = WISH_OF[bad.kind]
        words = f"if {_WISH_WORDS[key]} no must"
        return [Change(words, replaced(system, {key: "any"}))]
    ways: dict[str, Callable[[], Iterable[Change]]] = {
        "power": lambda: _less_power(judge.job, candidate, bad),
        "channels": lambda: _higher_loads(judge),
        "place": lambda: _more_room(judge),
        "filters": lambda: _more_filters(judge, candidate),
        "signal": lambda: _stronger_signal(system, amplifier),
        "turn-on": lambda: _live_wire(system),
        "heat": lambda: _more_air(system),
        "cable": lambda: _shorter_cable(system),
    }
    return ways.get(bad.kind, lambda: _larger_alternators(system))()


def _live_wire(system: System) -> Iterator[Change]:
    head_unit = replace(system.head_unit, trigger_available="yes")
    words = "with a wire that is live while the head unit plays"
    yield Change(words, replace(system, head_unit=head_unit))


def _larger_alternators(system: System) -> Iterator[Change]:
    rating_a = system.charging.alternator_a
    for ampere in _ALTERNATORS_A:
        if rating_a is not None and ampere > rating_a:
            charging = replace(system.charging, alternator_a=float(ampere))
            yield Change(f"with an alternator of {ampere} A", replace(system, charging=charging))


def _with_speaker(system: System, at: int, **changed: float) -> System:
    """Return the system with other figures in a row of speakers."""
    row = replaced(system.speakers[at], changed)
    return replace(system, speakers=(*system.speakers[:at], row, *system.speakers[at + 1 :]))


def _cut(value: float) -> float:
    """Return a figure with three digits, never rounded up."""
    step = 10.0 ** (math.floor(math.log10(value)) - 2) if value > 0 else 1.0
    return round(math.floor(value / step * (1 + 1e-12)) * step, 9)


def _less_power(job: Job, candidate: Candidate, bad: Check) -> Iterator[Change]:
    if candidate.layout is None:
        return
    for feed, wiring, use in candidate.layout.uses:
        high = use.power.low if use.power.low is not None else use.power.high
        if feed.name == bad.feed and high:
            each = _cut(high / use.per_output / wiring.drivers)
            at = feed.rows[0]
            system = _with_speaker(job.given, at, need_w=each)
            words = f"if {rounded(each, 3)} W for each of {feed.name} were enough"
            yield Change(words, system)


def _higher_loads(judge: Judge) -> Iterator[Change]:
    """Yield speakers of twice the impedance, where it is not the channels that are too few."""
    job = judge.job
    if job.fewest_outputs > (judge.amplifier.channels or 0):
        return
    for feed in job.feeds:
        ohm = 2 * feed.speaker.coil_ohm
        if ohm <= 16:
            coil = " a coil" if feed.speaker.coils > 1 else ""
            at = feed.rows[0]
            system = _with_speaker(job.given, at, coil_ohm=ohm)
            yield Change(f"with {feed.name} of {rounded(ohm)} Ω{coil}", system)


def _more_room(judge: Judge) -> Iterator[Change]:
    system = judge.job.given
    result = reach_question(judge.job, [part.amplifier for part in judge.installed.parts]).result
    for relax, words in relax_list(result.design) if result is not None else ():
        bay, changed = judge.job.values, dict[str, Value]()
        if relax.kind in ("width", "depth", "height"):
            key = f"bay_{relax.kind}_mm"
            changed[key] = (bay[key] or 0) + math.ceil((relax.by_mm or 0.0) - 1e-6)
        elif relax.kind == "keep-out":
            at, keep_outs = int(relax.which) - 1, system.bay.keep_outs
            changed["keep_outs"] = (*keep_outs[:at], *keep_outs[at + 1 :])
        elif relax.kind == "edge":
            changed[f"{relax.which}_edge"] = "open"
        else:
            continue
        if relax.height_mm and system.bay.bay_height_mm is not None:
            taller = math.ceil(relax.height_mm - 1e-6)
            changed["bay_height_mm"] = system.bay.bay_height_mm + taller
        yield Change(f"with {plain(words)}", replaced(system, changed))


def _more_filters(judge: Judge, candidate: Candidate) -> Iterator[Change]:
    """Yield a passive network for a missing edge, then a head unit that makes the filter."""
    job = judge.job
    if candidate.layout is None:
        return
    result = split_question(
        candidate.layout.job, candidate.layout.assignment, judge.amplifier
    ).result
    if result is None:
        return
    for made in result.bad:
        edge = made.edge
        low, high = edge.window_hz
        if low > high:
            continue
        middle = float(f"{math.sqrt(low * high):.2g}")
        middle = middle if low <= middle <= high else low
        feed = _feed_on(candidate, result.system.sections[edge.section].channels)
        if feed is None:
            continue
        orders = sorted({order for order in (1, 2, 3, 4) if order >= min(edge.least_order, 4)})
        yield from _networks(job, feed, edge.kind, middle, orders)
        if feed.speaker.output:
            yield _head_filter(job.given, feed.speaker.output, edge.kind, middle, orders[0])


def _head_filter(
    system: System, output: str, kind: Literal["high-pass", "low-pass"], hz: float, order: int
) -> Change:
    made = HeadFilter(
        output=output,
        kind=kind,
        corners_hz=rounded(hz),
        times="1",
        family="butterworth",
        orders=str(order),
    )
    words = f"with a head unit that makes a {kind} at {rounded(hz)} Hz of order {order} for "
    head_unit = replace(system.head_unit, head_filters=(*system.head_unit.head_filters, made))
    return Change(f"{words}{output}", replace(system, head_unit=head_unit))


def _feed_on(candidate: Candidate, channels: Iterable[int]) -> Feed | None:
    assert candidate.layout is not None
    for feed, _, use in candidate.layout.uses:
        if use.channels >= set(channels):
            return feed
    return None


def _networks(
    job: Job, feed: Feed, edge: str, hz: float, orders: Sequence[int]
) -> Iterator[Change]:
    """Yield a network between a feed and its neighbour in pitch that it can share leads with."""
    is_below = edge == "low-pass"
    name = job.speakers[feed.rows[0] if is_below else feed.rows[-1]].name
    for neighbour in job.feeds:
        if neighbour is feed:
            continue
        theirs = job.speakers[neighbour.rows[-1] if is_below else neighbour.rows[0]].name
        above, below = (theirs, name) if is_below else (name, theirs)
        for order in orders:
            network = Network(
                above=above, below=below, frequency_hz=hz, family="butterworth", order=order
            )
            words = (
                f"with a passive network of {rounded(hz)} Hz, order {order}, between {name} and "
                f"{theirs}"
            )
            system = replace(job.given, networks=(*job.given.networks, network))
            yield Change(words, system)


def _stronger_signal(system: System, amplifier: Amplifier) -> Iterator[Change]:
    least, source_v = amplifier.sensitivity_min_v, system.head_unit.source_v
    if source_v is not None and least is not None and least > source_v:
        head_unit = replace(system.head_unit, source_v=least)
        words = f"with a line driver that brings {rounded(least)} V"
        yield Change(words, replace(system, head_unit=head_unit))


def _more_air(system: System) -> Iterator[Change]:
    for area_m2 in _scaled(system.air.area_m2, _LARGER):
        air = replace(system.air, area_m2=area_m2)
        words = f"in a bay of {rounded(area_m2, 3)} m² of surface"
        yield Change(words, replace(system, air=air))
    air = replace(system.air, closed=False)
    yield Change("in a bay that is open to the cabin", replace(system, air=air))


def _shorter_cable(system: System) -> Iterator[Change]:
    for power_m in _scaled(system.leads.power_m, _SHARES):
        leads = replace(system.leads, power_m=power_m)
        words = f"with a power cable of at most {rounded(power_m, 3)} m"
        yield Change(words, replace(system, leads=leads))


def _scaled(value: float | None, factors: Sequence[float]) -> list[float]:
    return [] if value is None else [float(f"{value * factor:.3g}") for factor in factors]

"""The ways to make a case work: for each kind of change the smallest, alone or with others."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import islice

from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WISH_OF
from calc.choosing.checks.kinds import Kind as Must
from calc.choosing.remedies import car, figures, filters, loads, places, seconds, wishes
from calc.choosing.remedies.case import KINDS, Aim, Case, Change, Enough, Kind, group_of
from calc.choosing.remedies.words import way_words
from calc.choosing.search import Judge

MOST_WAYS = 3
_MOST_STEPS = 12
_LONG = 5000  # layouts looked at, beyond which one way is enough
# So many are looked at for the ways of a plan, and for the one of an amplifier among many: a few
# seconds; a system of everyday size needs a tenth.
_MOST_TRIED, _MOST_OF_MANY = 40_000, 3000
_Maker = Callable[[Aim], Iterator[Change]]
# The smallest kind of change that the makers of a module make.
_LEAST_KIND: Mapping[str, Kind] = {
    "wishes": "layout", "loads": "speakers", "car": "car", "filters": "speakers",
    "figures": "amplifier", "seconds": "second-amplifier", "places": "place",
}  # fmt: skip
_MAKERS: Mapping[Must, tuple[_Maker, ...]] = {
    "channels": (
        loads.other_loads, figures.bridgeable, figures.lower_load, figures.more_channels,
        figures.stronger, seconds.one_more, figures.another,
    ),
    "layout": (
        loads.other_loads, figures.bridgeable, figures.lower_load, figures.more_channels,
        figures.stronger, seconds.one_more, figures.another,
    ),
    "power": (
        wishes.less_power, loads.other_loads, figures.bridgeable, figures.stronger,
        figures.lower_load, figures.more_channels, seconds.one_more, figures.another,
    ),
    "filters": (filters.other_filters,),
    "signal": (car.louder_signal, figures.sensitive),
    "turn-on": (car.turned_on, figures.thrifty),
    "place": (figures.smaller, places.more_room),
    "controls": (wishes.less_wanted, places.elsewhere),
    "heat": (figures.hotter, car.cooler, figures.weaker),
    "cable": (car.easier_cable, figures.efficient, figures.weaker),
    "its own fuses": (figures.weaker,),
    "supply": (car.stronger_supply, figures.efficient, figures.weaker),
}  # fmt: skip


@dataclass(frozen=True)
class Way:
    """Changes after which no must fails, and what then is the best plan.

    before : the best plan without them
    """

    changes: tuple[Change, ...]
    before: Candidate

    @property
    def after(self) -> Case:
        """The case with all changes."""
        return self.changes[-1].case

    @property
    def kind(self) -> Kind:
        """The largest kind of its changes."""
        return max((change.kind for change in self.changes), key=KINDS.index)

    @property
    def size(self) -> tuple[int, bool, float]:
        """The sort key, the smallest first: how many changes, what stays open, how large."""
        is_open = self.after.best.state == "not known"
        return len(self.changes), is_open, max(change.weight for change in self.changes)

    @property
    def words(self) -> str:
        """The way in a sentence, with what came of it."""
        return way_words(self.changes, self.before, self.after.best)


def advised(judge: Judge, most: int = MOST_WAYS) -> Candidate:
    """Return the best plan, with what would make it work where it does not.

    most : ways to tell, the smallest first
    """
    return with_ways(judge, judge.best(), most)


def with_ways(judge: Judge, best: Candidate, most: int = MOST_WAYS) -> Candidate:
    """Return the best plan of a judge with what would make it work, where it does not.

    The ways take longer than the plan: they are for what is shown.
    """
    if best.state != "unsuitable":
        return best
    ways = ways_of(Case.of(judge, best), most)
    return replace(best, ways=tuple((way.words, way.kind) for way in ways))


def ways_of(case: Case, most: int = MOST_WAYS) -> tuple[Way, ...]:
    """Return the smallest ways that make a case work, each beginning with another kind of change.

    None where it works.  Where no single change does it, each is the smallest of its kind that
    mends the first must that fails, with the smallest that mend what is left.
    """
    if case.works:
        return ()
    case.found.most = _MOST_TRIED if most > 1 else _MOST_OF_MANY
    groups = {group_of(check.kind) for check in case.failing}
    aim = Aim(case)
    found: list[Way] = []
    if len(groups) == 1 and (groups != {"own"} or len(case.failing) == 1):
        alone = replace(aim, whole=True)
        singles = (Way((change,), case.best) for change in _first_of_kinds(alone))
        found = _some(case, singles, most)
    if not found:
        found = _some(case, _together(aim), most)
    return tuple(sorted(found, key=lambda way: way.size))


def _some(case: Case, ways: Iterator[Way], most: int) -> list[Way]:
    """Return the first ways, fewer where they take long to find."""
    found = []
    try:
        for way in islice(ways, most):
            found.append(way)
            if case.found.tried > _LONG:
                break
    except Enough:
        pass  # what was found by then stands
    return found


def _together(aim: Aim) -> Iterator[Way]:
    """Yield ways of several changes: one that mends the must, and those that mend what is left."""
    for change in _first_of_kinds(aim):
        rest = _closed(change.case, aim.names)
        if rest is not None:
            yield Way((change, *rest), aim.case.best)


def _first_of_kinds(aim: Aim) -> Iterator[Change]:
    """Yield of each kind the first change that meets a must, for certain where one does."""
    seen: set[Kind] = set()
    maybe: dict[Kind, Change] = {}
    for change in _every(aim):
        for kind in [kind for kind in maybe if KINDS.index(kind) + 1 < change.weight]:
            seen.add(kind)
            yield maybe.pop(kind)
        if change.kind in seen or not aim.is_met(change.case):
            continue
        gaps = {check.name for check in change.case.best.checks if check.state == "not known"}
        if aim.check.name in gaps:
            maybe.setdefault(change.kind, change)
        else:
            seen.add(change.kind)
            maybe.pop(change.kind, None)
            yield change
    yield from maybe.values()


def _every(aim: Aim) -> Iterator[Change]:
    """Yield the changes that may meet a must, the smallest first.

    What takes long to find is looked for only once nothing smaller is left.
    """
    kind = aim.check.kind
    makers = (wishes.less_wanted,) if kind in WISH_OF and kind not in _MAKERS else _MAKERS[kind]
    waiting = sorted((wishes.any_layout, *makers), key=_least_weight)
    pool: list[tuple[float, int, Change]] = []
    count = 0
    while waiting or pool:
        if pool and (not waiting or pool[0][0] <= _least_weight(waiting[0])):
            yield heappop(pool)[2]
            continue
        for change in waiting.pop(0)(aim):
            count += 1
            heappush(pool, (change.weight, count, change))


def _least_weight(maker: _Maker) -> float:
    """Return the least weight that a change of this maker may have."""
    if maker is figures.another:
        return KINDS.index("second-amplifier") + 0.5
    return KINDS.index(_LEAST_KIND.get(maker.__module__.rpartition(".")[2], "layout"))


def _closed(case: Case, kept: frozenset[str], left: int = _MOST_STEPS) -> list[Change] | None:
    """Return changes after which no must fails; None where none are found.

    Those in `kept` were met before and stay so, so that no change undoes another.
    """
    aim = Aim(case, kept)
    if aim.plan.state != "unsuitable":
        return []
    if not left:
        return None
    for change in _every(aim):
        if aim.is_met(change.case):
            rest = _closed(change.case, aim.names, left - 1)
            if rest is not None:
                return [change, *rest]
    return None

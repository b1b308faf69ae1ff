"""The ways to make a case work: for each kind of change the smallest, alone or with others."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain

from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WISH_OF
from calc.choosing.checks.kinds import Kind as Must
from calc.choosing.remedies import car, figures, filters, loads, places, seconds, wishes
from calc.choosing.remedies.case import KINDS, Aim, Case, Change, Kind, group_of
from calc.choosing.remedies.words import way_words
from calc.choosing.search import Judge

MOST_WAYS = 3
_MOST_STEPS = 12
_Makers = tuple[Callable[[Aim], Iterator[Change]], ...]
_MAKERS: Mapping[Must, _Makers] = {
    "channels": (
        loads.other_loads, figures.bridgeable, figures.lower_load, figures.more_channels,
        figures.stronger, seconds.one_more,
    ),
    "layout": (
        loads.other_loads, figures.bridgeable, figures.lower_load, figures.more_channels,
        figures.stronger, seconds.one_more,
    ),
    "power": (
        wishes.less_power, loads.other_loads, figures.bridgeable, figures.stronger,
        figures.lower_load, figures.more_channels, seconds.one_more,
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


def advised(judge: Judge) -> Candidate:
    """Return the best plan, with what would make it work where it does not."""
    return with_ways(judge, judge.best())


def with_ways(judge: Judge, best: Candidate) -> Candidate:
    """Return the best plan of a judge with what would make it work, where it does not.

    The ways take longer than the plan: they are for what is shown.
    """
    if best.state != "unsuitable":
        return best
    case = Case.of(judge, best)
    return replace(best, ways=tuple((way.words, way.kind) for way in ways_of(case)))


def ways_of(case: Case) -> tuple[Way, ...]:
    """Return the smallest ways that make a case work, each of another kind; none where it does."""
    return tuple(sorted(every_way(case), key=lambda way: way.size)[:MOST_WAYS])


def every_way(case: Case) -> list[Way]:
    """Return for each kind of change the smallest that makes a case work.

    Where no single one does, the smallest of a kind that mends the first must that fails, with
    the smallest that mend what is left.
    """
    if case.works:
        return []
    groups = [group_of(check.kind) for check in case.failing]
    aim = Aim(case, case.failing[0])
    if len(groups) == 1 or set(groups) == {"layout"} or set(groups) == {"place"}:
        alone = replace(aim, whole=True)
        singles = [
            Way((change,), case.best)
            for changes in _by_kind(alone)
            for change in _first(alone, changes)
        ]
        if singles:
            return singles
    found = []
    for changes in _by_kind(aim):
        for change in _first(aim, changes):
            rest = _closed(change.case, aim.names)
            if rest is not None:
                found.append(Way((change, *rest), case.best))
        if len(found) == MOST_WAYS:
            break
    return found


def _first(aim: Aim, changes: list[Change]) -> Iterator[Change]:
    """Yield the first change that meets a must for certain, else the first that may; or none."""
    maybe = None
    for change in changes:
        if not aim.is_met(change.case):
            continue
        gaps = {check.name for check in change.case.best.checks if check.state == "not known"}
        if aim.check.name not in gaps:
            yield change
            return
        maybe = maybe or change
    if maybe is not None:
        yield maybe


def _every(aim: Aim) -> list[Change]:
    """Return the changes that may meet a must, the smallest first."""
    kind = aim.check.kind
    makers = (wishes.less_wanted,) if kind in WISH_OF and kind not in _MAKERS else _MAKERS[kind]
    every = chain.from_iterable(make(aim) for make in (wishes.any_layout, *makers))
    return sorted(every, key=lambda change: change.weight)


def _by_kind(aim: Aim) -> list[list[Change]]:
    """Return the changes that may meet a must, by their kinds, the smallest first."""
    by_kind: dict[Kind, list[Change]] = {}
    for change in _every(aim):
        by_kind.setdefault(change.kind, []).append(change)
    return list(by_kind.values())


def _closed(case: Case, kept: frozenset[str], left: int = _MOST_STEPS) -> list[Change] | None:
    """Return changes after which no must fails; None where none are found.

    Those in `kept` were met before and stay so, so that no change undoes another.
    """
    if case.works:
        return []
    if not left:
        return None
    aim = Aim(case, case.failing[0], kept)
    for change in _every(aim):
        if aim.is_met(change.case):
            rest = _closed(change.case, aim.names, left - 1)
            if rest is not None:
                return [change, *rest]
    return None

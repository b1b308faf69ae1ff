"""The best setting of every filter: an exact search over all settings that are tried.

Aims, in this order: nothing unprotected; nothing missing; least deviation from the wanted
corners and slopes; fewest doubled filters; fewest boxes touched.  (On one channel, a band
that is cut off counts like one that is not protected.)  Among equals: fewest filters on, and
the amplifier rather than the head unit, because the filter nearest to the speaker also
protects it when the head unit is changed.
"""

from collections.abc import Mapping
from itertools import product
from operator import itemgetter

from calc.crossovers.splitting.model import Box
from calc.crossovers.splitting.problem import Problem, Setting, Split

Cost = tuple[int, ...]  # unprotected, missing, deviation, doubled, filters on, of the head unit
Choice = tuple[Cost, dict[int, Setting]]  # the least cost, and the settings that have it
_NOTHING: Cost = (0, 0, 0, 0, 0, 0)
_BOX_SETS: tuple[frozenset[Box], ...] = (
    frozenset(),
    frozenset(("amplifier",)),
    frozenset(("head-unit",)),
    frozenset(("amplifier", "head-unit")),
)


def best_split(problem: Problem) -> Split:
    """Return the best setting of all controls.

    Each set of boxes that may be touched is searched by itself: within one search all
    that is counted adds up, and groups of controls can be searched apart.
    """
    best = [_Search(problem, boxes).best() for boxes in _BOX_SETS]
    _, settings = min(
        ((_in_order(cost, _touched(problem, settings)), settings) for cost, settings in best),
        key=itemgetter(0),
    )
    return problem.made([settings[at] for at in range(len(problem.controls))])


def _touched(problem: Problem, settings: Mapping[int, Setting]) -> int:
    return len(
        {problem.controls[at].box for at, setting in settings.items() if setting is not None}
    )


def _in_order(cost: Cost, touched: int) -> tuple[int, ...]:
    """Return the cost with the number of boxes touched in its place."""
    return (*cost[:4], touched, *cost[4:])


def _added(cost: Cost, other: Cost) -> Cost:
    return tuple(a + b for a, b in zip(cost, other, strict=True))


class _Search:
    """Divides the controls into groups that know nothing of one another, again and again.

    boxes : the boxes that may be touched; all other controls stay off, if they can
    """

    def __init__(self, problem: Problem, boxes: frozenset[Box]) -> None:
        self.problem = problem
        self.choices = [
            choices if control.box in boxes or not control.can_be_off else (None,)
            for control, choices in zip(problem.controls, problem.choices, strict=True)
        ]
        self.kept: dict[object, Choice] = {}
        self.bounds: dict[object, tuple[int, int, int, int]] = {}

    def best(self) -> Choice:
        """Return the least cost and the settings that have it."""
        cost = _NOTHING
        for at, acting in enumerate(self.problem.acting):
            if not acting:
                cost = _added(cost, (*self.problem.edge_cost(at, ()), 0, 0))
        rest, settings = self._solved(frozenset(range(len(self.choices))), {})
        return _added(cost, rest), settings

    def _solved(self, open_: frozenset[int], chosen: dict[int, Setting]) -> Choice:
        """Return the best settings of the open controls, given those already chosen."""
        whole = _NOTHING
        settings: dict[int, Setting] = {}
        for group in self._groups(open_):
            cost, best = self._group(group, chosen)
            whole, settings = _added(whole, cost), settings | best
        return whole, settings

    def _groups(self, open_: frozenset[int]) -> list[frozenset[int]]:
        left, groups = set(open_), []
        while left:
            group: set[int] = set()
            rim = {min(left)}
            while rim:
                group |= rim
                beside = set().union(*(self.problem.neighbours[at] for at in rim))
                rim = (beside & open_) - group
            groups.append(frozenset(group))
            left -= group
        return groups

    def _group(self, group: frozenset[int], chosen: dict[int, Setting]) -> Choice:
        around = set().union(*(self.problem.neighbours[at] for at in group)) - group
        key = (group, tuple(sorted((at, chosen[at]) for at in around if at in chosen)))
        if key not in self.kept:
            self.kept[key] = self._branched(group, chosen)
        return self.kept[key]

    def _branched(self, group: frozenset[int], chosen: dict[int, Setting]) -> Choice:
        problem = self.problem
        # The control with most neighbours first: what is left then falls apart soonest.
        at = max(group, key=lambda at: (len(problem.neighbours[at] & group), -at))
        edges = {edge for control in group for edge in problem.acted[control]}
        choices = (None,) if self._is_blocked(at, chosen) else self.choices[at]
        tried = []
        for place, setting in enumerate(choices):
            now = {**chosen, at: setting}
            least: Cost = (0, 0, 0, 0, *problem.control_cost(at, setting))
            for edge in edges:
                least = _added(least, (*self._least(edge, now), 0, 0))
            tried.append((least, place, setting))
        best: Choice | None = None
        for least, _, setting in sorted(tried, key=itemgetter(0, 1)):
            if best is not None and best[0] <= least:
                break  # whatever follows, it cannot be better
            choice = self._with(group - {at}, at, setting, chosen)
            if best is None or choice[0] < best[0]:
                best = choice
        if best is None:
            raise ValueError("a control has nothing that it can be set to")
        return best

    def _with(
        self, rest: frozenset[int], at: int, setting: Setting, chosen: dict[int, Setting]
    ) -> Choice:
        """Return the best of a group when one of its controls has a setting."""
        problem, now = self.problem, {**chosen, at: setting}
        cost: Cost = (0, 0, 0, 0, *problem.control_cost(at, setting))
        for edge in problem.acted[at]:
            if not any(other in rest for other in problem.acting[edge]):
                acting = [now[other] for other in problem.acting[edge]]
                cost = _added(cost, (*problem.edge_cost(edge, acting), 0, 0))
        others, settings = self._solved(rest, now)
        return _added(cost, others), {at: setting, **settings}

    def _least(self, edge: int, now: dict[int, Setting]) -> tuple[int, int, int, int]:
        """Return the least that an edge costs, whatever its open controls are set to."""
        left: list[tuple[Setting, ...]] = []
        for control in self.problem.acting[edge]:
            if control in now:
                left.append((now[control],))
            else:
                is_off = self._is_blocked(control, now)
                left.append((None,) if is_off else self.choices[control])
        key = (edge, tuple(each if len(each) == 1 else () for each in left))
        if key not in self.bounds:
            self.bounds[key] = min(self.problem.edge_cost(edge, each) for each in product(*left))
        return self.bounds[key]

    def _is_blocked(self, at: int, chosen: dict[int, Setting]) -> bool:
        """Tell whether a control must be off, because another on its switch is on."""
        return any(
            chosen.get(other) is not None
            for other in self.problem.neighbours[at] & chosen.keys()
            if self.problem.are_exclusive(at, other)
        )

"""The best plan of an amplifier, and the order of several amplifiers."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from heapq import heapify, heappop, heappush
from typing import Annotated

from calc.answers.sheet import STATES, State
from calc.choosing.checks import amplifier as own_checks
from calc.choosing.checks import layout as layout_checks
from calc.choosing.checks.kinds import Check
from calc.choosing.layouts.arrangements import (
    Layout,
    layouts,
    missing_plate,
)
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.demand import draw_taken
from calc.choosing.questions.setup import standby
from calc.inputs.declared import replaced, values_of
from calc.inputs.field_base import Value
from calc.inputs.fields import Number
from calc.system.amplifier import NO_FILTERS, Amplifier
from calc.system.usual import Assumed, amplifier_of

# What stands for a missing figure of the plate so that it rules out no layout.
_EASIEST_W, _EASIEST_OHM = 1.0, 0.5
MOST_CHANNELS = 8
_HALF_PRICE = 250.0  # what a price is worth halves here


def _weight(label: str, hint: str) -> Number:
    return Number(
        label,
        low=0,
        high=10,
        presets=(0, 1, 3),
        hint=hint,
        source="our own choice",
        is_plain=True,
    )


@dataclass(frozen=True, kw_only=True)
class Weights:
    """What counts how much in the rank; each share goes from 0 to 1."""

    weight_power: Annotated[
        float, _weight("Power", "The share of its rating that the worst-fed speaker gets.")
    ] = 3.0
    weight_wishes: Annotated[float, _weight("Wishes", "The share of the wishes that is met.")] = 2.0
    weight_room: Annotated[
        float, _weight("Small size", "The share of the bay’s floor that is left.")
    ] = 1.0
    weight_draw: Annotated[float, _weight("Low draw", "Efficiency at rated power.")] = 1.0
    weight_price: Annotated[float, _weight("Low price", "1 for nothing, a half at 250.")] = 0.0


@dataclass(frozen=True)
class Candidate:
    """An amplifier with its best layout, and the checks that it was held against.

    amplifier : with usual figures where none are told; `given` is as it was told
    ways : what would make it work, each in a sentence and of a kind, the smallest change first
    taken : the usual figures of the amplifier that were taken
    """

    amplifier: Amplifier
    layout: Layout | None
    checks: tuple[Check, ...]
    score: float = 0.0
    ways: tuple[tuple[str, str], ...] = ()
    given: Amplifier = field(kw_only=True)
    taken: tuple[Assumed, ...] = ()

    @property
    def name(self) -> str:
        """The amplifier's name."""
        return self.amplifier.name

    @property
    def near_miss(self) -> str | None:
        """The smallest change that would make it work, in a sentence; None where none is told."""
        return self.ways[0][0] if self.ways else None

    @cached_property
    def state(self) -> State:
        """The worst of its musts."""
        return state_of(self.checks)

    @property
    def is_recommended(self) -> bool:
        """Whether it can be recommended: by the reader's own figures, or by the usual ones."""
        return self.state in ("suitable", "likely")


def state_of(checks: Iterable[Check]) -> State:
    """Return the verdict that checks come to: the worst of the musts'."""
    states = {check.state for check in checks if check.is_must}
    return next((state for state in STATES if state in states), "suitable")


def _opened(candidate: Candidate, keys: tuple[str, ...]) -> Candidate:
    """Return a candidate whose failing musts are not known, for it rests on what nobody told."""
    checks = tuple(
        replace(check, state="not known", keys=keys)
        if check.is_must and check.state == "unsuitable"
        else check
        for check in candidate.checks
    )
    return replace(candidate, checks=checks)


class Judge:
    """Holds one amplifier against a job; what several layouts share is worked out once."""

    def __init__(self, job: Job, amplifier: Amplifier, weights: Weights) -> None:
        self.job = job
        self.given = amplifier
        self.amplifier, self.taken = amplifier_of(amplifier)
        self.weights = weights
        self._demands: dict[float | None, tuple[Check, ...]] = {}

    def _taken(self, layout: Layout | None) -> tuple[Assumed, ...]:
        """Return all usual figures that are taken of the amplifier."""
        parked: tuple[Assumed, ...] = ()
        if self.given.quiescent_a is None:
            usual = standby(self.job, self.amplifier)
            parked = (Assumed(self.given.name, usual, ("amplifier", 0, "quiescent_a")),)
        total_w = None if layout is None else layout.total_w
        return (*self.taken, *draw_taken(self.job, self.given, total_w), *parked)

    @cached_property
    def own(self) -> tuple[Check, ...]:
        """The checks that no layout changes, but for the place."""
        return (
            own_checks.signal_check(self.job, self.amplifier, self.given),
            own_checks.turn_on_check(self.job, self.amplifier, self.given),
            *own_checks.feature_checks(self.job, self.amplifier),
        )

    @cached_property
    def place(self) -> tuple[Check, ...]:
        """The checks of place and reach."""
        return tuple(own_checks.place_checks(self.job, self.amplifier, self.given))

    def of_layout(self, layout: Layout | None) -> Candidate:
        """Return the amplifier judged with a layout, or with none."""
        return replace(self._in_full(layout), taken=self._taken(layout))

    def _in_full(self, layout: Layout | None) -> Candidate:
        if layout is None:
            # Channels that are too few are told alone; of a plate that is not known, all is open.
            is_open = bool(missing_plate(self.amplifier))
            filters = self._hopeless_filters() or layout_checks.open_filters() if is_open else ()
            return self._judged(None, filters, self._demand_checks(None) if is_open else ())
        return self._judged(
            layout, (self._filter_check(layout),), self._demand_checks(layout.total_w)
        )

    def _judged(
        self, layout: Layout | None, filters: Iterable[Check], demand: Iterable[Check]
    ) -> Candidate:
        checks = [
            self._channel_check(layout),
            *self._power_checks(layout),
            *filters,
            *self.own,
            *self.place,
            *demand,
        ]
        score = self._score(layout, checks)
        return Candidate(self.amplifier, layout, tuple(checks), score, given=self.given)

    def _power_checks(self, layout: Layout | None) -> list[Check]:
        if layout is not None:
            return layout_checks.power_checks(layout)
        return layout_checks.open_powers(self.job) if missing_plate(self.amplifier) else []

    @property
    def most_points(self) -> float:
        """The most points that any layout can bring: full power, the known wishes, the rest."""
        weights = self.weights
        return (
            weights.weight_power
            + weights.weight_wishes * wish_share(self.own)
            + weights.weight_room * self._room_share()
            + weights.weight_draw * self._draw_share()
            + weights.weight_price * price_share(self.amplifier.price)
        )

    def best(self) -> Candidate:
        """Return the amplifier with the best of all layouts, the first of equals.

        What nobody told of the plate may be better than usual: then what fails is not known.

        Demand takes long to judge, and filters longer.  A layout ranks no better with a check
        than without it: the most promising is judged one check further, until the most promising
        is judged in full.
        """
        found = self._found()
        if found.state != "unsuitable" or not self.open_plate:
            return found
        if self.loosest.any_does:
            return _opened(found, self.open_plate)
        return found

    @cached_property
    def open_plate(self) -> tuple[str, ...]:
        """The figures on which the layouts rest and which nobody told."""
        keys = ("channels", "min_channel_ohm", "power_2ohm_w")
        return tuple(key for key in keys if getattr(self.given, key) is None)

    @cached_property
    def loosest(self) -> "Judge":
        """The judge of what the amplifier may be at most, for what nobody told of its plate."""
        given, most = self.given, dict[str, Value]()
        if given.channels is None:
            most["channels"] = MOST_CHANNELS
        if given.min_channel_ohm is None:
            most["min_channel_ohm"] = _EASIEST_OHM
        if given.power_2ohm_w is None and given.power_4ohm_w is not None:
            most["power_2ohm_w"] = 2 * given.power_4ohm_w
        return Judge(self.job, replaced(given, most), self.weights)

    @cached_property
    def any_does(self) -> bool:
        """Whether any layout is not unsuitable: the first that is found will do."""
        layout = None
        for layout in layouts(self.job, self.amplifier):
            if self._does(layout):
                return True
        return layout is None and self.of_layout(None).state != "unsuitable"

    def _does(self, layout: Layout) -> bool:
        """Tell whether a layout is not unsuitable; what takes long is asked last."""
        stages: Iterable[Callable[[], Iterable[Check]]] = (
            lambda: (self._channel_check(layout), *self._power_checks(layout)),
            lambda: (*self.own, *self.place),
            lambda: self._demand_checks(layout.total_w),
            lambda: (self._filter_check(layout),),
        )
        return all(state_of(stage()) != "unsuitable" for stage in stages)

    def _channel_check(self, layout: Layout | None) -> Check:
        return layout_checks.channel_check(layout, self.job, self.amplifier, self.given)

    def _found(self) -> Candidate:
        every = list(layouts(self.job, self.amplifier))
        if not every:
            return self.of_layout(None)
        judged = [self._judged(layout, (), ()) for layout in every]
        queue = [(layout_rank(candidate), at, 0) for at, candidate in enumerate(judged)]
        heapify(queue)
        while True:
            _, at, depth = heappop(queue)
            if depth == 2:
                return judged[at]
            layout = every[at]
            demand = self._demand_checks(layout.total_w)
            judged[at] = self.of_layout(layout) if depth else self._judged(layout, (), demand)
            heappush(queue, (layout_rank(judged[at]), at, depth + 1))

    def _filter_check(self, layout: Layout) -> Check:
        return layout_checks.filter_check(self.job, layout.assignment, self.amplifier, self.given)

    def _hopeless_filters(self) -> tuple[Check, ...]:
        """Return the check of the filters where it fails whatever the missing figures are.

        With a figure of the plate missing there is no layout; but where the filters do on no
        outputs at all, none of those figures can mend it.
        """
        likely = self.amplifier
        if not missing_plate(likely) or self.given.own_filters.missing:
            return ()
        if likely.channels is None:
            if likely.filters not in (None, NO_FILTERS):
                return ()  # which outputs they are on is not known either
            least = self.job.least_outputs
            likely = replace(likely, channels=least + least % 2)
        likely = replace(
            likely,
            power_4ohm_w=_EASIEST_W if likely.power_4ohm_w is None else likely.power_4ohm_w,
            min_channel_ohm=(
                _EASIEST_OHM if likely.min_channel_ohm is None else likely.min_channel_ohm
            ),
        )
        failing = None
        for layout in layouts(self.job, likely):
            check = self._filter_check(layout)
            if check.state != "unsuitable":
                return ()
            failing = failing or check
        return () if failing is None else (failing,)

    def _demand_checks(self, total_w: float | None) -> tuple[Check, ...]:
        if total_w not in self._demands:
            demands = layout_checks.demand_checks(self.job, total_w, self.amplifier)
            self._demands[total_w] = tuple(demands)
        return self._demands[total_w]

    # ---- score

    def _score(self, layout: Layout | None, checks: Sequence[Check]) -> float:
        shares = {
            "weight_power": power_share(layout),
            "weight_wishes": wish_share(checks),
            "weight_room": self._room_share(),
            "weight_draw": self._draw_share(),
            "weight_price": price_share(self.amplifier.price),
        }
        weights = values_of(self.weights)
        points: Iterable[float] = (weights[key] * share for key, share in shares.items())
        return round(sum(points), 6)

    def _room_share(self) -> float:
        """Return the part of the bay’s floor that the body leaves [0 … 1]."""
        width, depth = self.job.system.bay.bay_width_mm, self.job.system.bay.bay_depth_mm
        wide, deep = self.amplifier.width_mm, self.amplifier.depth_mm
        if width is None or depth is None or wide is None or deep is None:
            return 0.0
        return max(0.0, 1 - wide * deep / (width * depth))

    def _draw_share(self) -> float:
        """Return the efficiency at rated power [0 … 1]; 0 when it is not known."""
        return (self.amplifier.efficiency_percent or 0.0) / 100


def power_share(layout: Layout | None) -> float:
    """Return how much of its rating the worst-fed speaker gets for certain [0 … 1].

    A power that is only bounded counts with the least that it may be: else what nobody knows
    would rank before what is known.
    """
    if layout is None:
        return 0.0
    least = (
        (use.power.low or 0.0) / use.per_output / use.section.rated_w for use in layout.plan.uses
    )
    return min((min(1.0, match) for match in least), default=0.0)


def wish_share(checks: Iterable[Check]) -> float:
    """Return the part of the wishes that is met [0 … 1]; 1 when there are none."""
    wishes = [check.state == "suitable" for check in checks if not check.is_must]
    return sum(wishes) / len(wishes) if wishes else 1.0


def price_share(price: float | None) -> float:
    """Return what a price is worth [0 … 1]: 1 for nothing, a half at 250; 0 when not known."""
    return 0.0 if price is None else _HALF_PRICE / (_HALF_PRICE + price)


_RANKED = STATES[::-1]
Rank = tuple[float, ...]


def rank(candidate: Candidate) -> Rank:
    """Return the sort key of a judged amplifier, best first.

    Verdict; then the fewest speakers without their power, so that a stronger amplifier never
    trades its power for something else; then the fewest musts that fail, the fewest that are not
    known, the score.
    """
    return (_RANKED.index(candidate.state), *_rest(candidate))


def layout_rank(candidate: Candidate) -> Rank:
    """Return the sort key of a judged layout among those of one amplifier, best first.

    As `rank`, only that power comes before what is not known: no speaker is starved so that a
    missing figure plays no part.
    """
    weak, *rest = _rest(candidate)
    state = candidate.state
    return (state == "unsuitable", weak, _RANKED.index(state), *rest)


def _rest(candidate: Candidate) -> Rank:
    weak = sum(
        check.state not in ("suitable", "likely") or check.is_weak
        for check in candidate.checks
        if check.kind == "power"
    )
    musts = [check for check in candidate.checks if check.is_must]
    fails = sum(check.state == "unsuitable" for check in musts)
    gaps = sum(check.state == "not known" for check in musts)
    return weak, fails, gaps, -candidate.score


def ranking(candidates: Sequence[Candidate]) -> list[Candidate]:
    """Return the candidates, best first; equals keep the shelf's order."""
    return sorted(candidates, key=rank)

"""The best plan of an amplifier, and the order of several amplifiers."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from heapq import heapify, heappop, heappush
from typing import Any

from calc.answers.figures import rounded
from calc.answers.sheet import State
from calc.choosing import checks
from calc.choosing.checks import Check
from calc.choosing.columns import NO_FILTERS
from calc.choosing.job import Job
from calc.choosing.layouts import Layout, alone, layouts, missing_plate, spread_of

# What stands for a missing figure of the plate so that it rules out no layout.
_EASIEST: Mapping[str, float] = {"power_4ohm_w": 1.0, "min_channel_ohm": 0.25}


@dataclass(frozen=True)
class Weights:
    """What counts how much in the rank; each share goes from 0 to 1."""

    power: float
    wishes: float
    room: float
    draw: float
    price: float


@dataclass(frozen=True)
class Candidate:
    """An amplifier with its best layout, and the checks that it was held against.

    near_miss : what would make it fit, in a sentence; None where that is not known
    """

    amplifier: Mapping[str, Any]
    layout: Layout | None
    checks: tuple[Check, ...]
    score: float = 0.0
    near_miss: str | None = None

    @property
    def name(self) -> str:
        """The amplifier's name."""
        return self.amplifier["name"]

    @cached_property
    def state(self) -> State:
        """Unsuitable when a must fails, else not known when one is not known."""
        return state_of(self.checks)


def state_of(found: Iterable[Check]) -> State:
    """Return the verdict that checks come to."""
    states = {one.state for one in found if one.is_must}
    if "unsuitable" in states:
        return "unsuitable"
    return "not known" if "not known" in states else "suitable"


class Judge:
    """Holds one amplifier against a job; what several layouts share is worked out once."""

    def __init__(self, job: Job, amplifier: Mapping[str, Any], weights: Weights) -> None:
        self.job = job
        self.amplifier = amplifier
        self.weights = weights
        self._filters: dict[Any, Check] = {}
        self._demands: dict[float | None, tuple[Check, ...]] = {}

    @cached_property
    def own(self) -> tuple[Check, ...]:
        """The checks that no layout changes, but for the place."""
        return (
            checks.signal_check(self.job, self.amplifier),
            checks.turn_on_check(self.job, self.amplifier),
            *checks.feature_checks(self.job, self.amplifier),
        )

    @cached_property
    def place(self) -> tuple[Check, ...]:
        """The checks of place and reach."""
        return tuple(checks.place_checks(self.job, self.amplifier))

    def of_layout(self, layout: Layout | None) -> Candidate:
        """Return the amplifier judged with a layout, or with none."""
        if layout is None:
            # Channels that are too few are told alone; of a plate that is not known, all is open.
            is_open = bool(missing_plate(self.amplifier))
            filters = self._hopeless_filters() or checks.open_filters() if is_open else ()
            return self._judged(None, filters, self._demand_checks(None) if is_open else ())
        return self._judged(
            layout, (self._filter_check(layout),), self._demand_checks(layout.total_w)
        )

    def _judged(
        self, layout: Layout | None, filters: Iterable[Check], demand: Iterable[Check]
    ) -> Candidate:
        found = [
            checks.channel_check(layout, self.job, self.amplifier),
            *self._power_checks(layout),
            *filters,
            *self.own,
            *self.place,
            *demand,
        ]
        return Candidate(self.amplifier, layout, tuple(found), self._score(layout, found))

    def _power_checks(self, layout: Layout | None) -> list[Check]:
        if layout is not None:
            return checks.power_checks(layout)
        return checks.open_powers(self.job) if missing_plate(self.amplifier) else []

    @property
    def most_points(self) -> float:
        """The most points that any layout can bring: full power, the known wishes, the rest."""
        weights = self.weights
        return (
            weights.power
            + weights.wishes * wish_share(self.own)
            + weights.room * self._room_share()
            + weights.draw * self._draw_share()
            + weights.price * price_share(self.amplifier["price"])
        )

    def best(self) -> Candidate:
        """Return the amplifier with the best of all layouts, the first of equals.

        Demand takes long to judge, and filters longer.  A layout ranks no better with a check
        than without it: the most promising is judged one check further, until the most promising
        is judged in full.
        """
        every = list(layouts(self.job, self.amplifier))
        if not every:
            return self.of_layout(None)
        judged = [self._judged(one, (), ()) for one in every]
        queue = [(layout_rank(one), at, 0) for at, one in enumerate(judged)]
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
        if layout.assignment not in self._filters:
            self._filters[layout.assignment] = checks.filter_check(
                self.job, layout.assignment, self.amplifier
            )
        return self._filters[layout.assignment]

    def _hopeless_filters(self) -> tuple[Check, ...]:
        """Return the check of the filters where it fails whatever the missing figures are.

        With a figure of the plate missing there is no layout; but where the filters do on no
        outputs at all, none of those figures can mend it.
        """
        likely = dict(self.amplifier)
        if not missing_plate(likely) or likely["filters"] is None:
            return ()
        if likely["channels"] is None:
            if likely["filters"] != NO_FILTERS:
                return ()  # which outputs they are on is not known either
            least = sum(feed.least_outputs for feed in self.job.feeds)
            likely["channels"] = least + least % 2
        for key, value in _EASIEST.items():
            likely[key] = likely[key] if likely[key] is not None else value
        failing = None
        for one in layouts(self.job, likely):
            check = self._filter_check(one)
            if check.state != "unsuitable":
                return ()
            failing = failing or check
        return () if failing is None else (failing,)

    def _demand_checks(self, total_w: float | None) -> tuple[Check, ...]:
        if total_w not in self._demands:
            self._demands[total_w] = tuple(checks.demand_checks(self.job, total_w, self.amplifier))
        return self._demands[total_w]

    # ---- score

    def _score(self, layout: Layout | None, found: Sequence[Check]) -> float:
        shares = {
            "power": power_share(layout),
            "wishes": wish_share(found),
            "room": self._room_share(),
            "draw": self._draw_share(),
            "price": price_share(self.amplifier["price"]),
        }
        return round(sum(getattr(self.weights, key) * one for key, one in shares.items()), 6)

    def _room_share(self) -> float:
        """Return the part of the bay’s floor that the body leaves [0 … 1]."""
        bay = self.job.given["bay_width_mm"], self.job.given["bay_depth_mm"]
        body = self.amplifier["width_mm"], self.amplifier["depth_mm"]
        if None in bay or None in body:
            return 0.0
        return max(0.0, 1 - body[0] * body[1] / (bay[0] * bay[1]))

    def _draw_share(self) -> float:
        """Return the efficiency at rated power [0 … 1]; 0 when it is not known."""
        return (self.amplifier["efficiency_percent"] or 0.0) / 100


def power_share(layout: Layout | None) -> float:
    """Return how much of its rating the worst-fed speaker gets [0 … 1]."""
    if layout is None:
        return 0.0
    matches = [use.match for use in layout.plan.uses]
    return min((min(1.0, match) for match in matches if match is not None), default=0.0)


def wish_share(found: Iterable[Check]) -> float:
    """Return the part of the wishes that is met [0 … 1]; 1 when there are none."""
    wishes = [one.state == "suitable" for one in found if not one.is_must]
    return sum(wishes) / len(wishes) if wishes else 1.0


def price_share(price: float | None) -> float:
    """Return what a price is worth [0 … 1]: 1 for nothing, a half at 250; 0 when not known."""
    return 0.0 if price is None else 250.0 / (250.0 + price)


_STATES: tuple[State, ...] = ("suitable", "not known", "unsuitable")


def rank(one: Candidate) -> tuple[Any, ...]:
    """Return the sort key of a judged amplifier, best first.

    Verdict; then the fewest speakers without their power, so that a stronger amplifier never
    trades its power for something else; then the fewest musts that fail, the fewest that are not
    known, the score.
    """
    return (_STATES.index(one.state), *_rest(one))


def layout_rank(one: Candidate) -> tuple[Any, ...]:
    """Return the sort key of a judged layout among those of one amplifier, best first.

    As `rank`, only that power comes before what is not known: no speaker is starved so that a
    missing figure plays no part.
    """
    weak, *rest = _rest(one)
    return (one.state == "unsuitable", weak, _STATES.index(one.state), *rest)


def _rest(one: Candidate) -> tuple[Any, ...]:
    weak = sum(
        check.state != "suitable" or check.is_weak
        for check in one.checks
        if check.name.startswith(checks.POWER)
    )
    fails = sum(check.state == "unsuitable" for check in one.checks if check.is_must)
    gaps = sum(check.state == "not known" for check in one.checks if check.is_must)
    return weak, fails, gaps, -one.score


def ranking(found: Sequence[Candidate]) -> list[Candidate]:
    """Return the candidates, best first; equals keep the shelf's order."""
    return sorted(found, key=rank)


# ---- bounds


def first_verdict(judge: Judge) -> tuple[State, Check] | None:
    """Return a verdict that no layout can overturn with the check that decides, or None.

    Looked at are checks that no layout changes, the count of outputs, the room that the bare
    body takes, and the power of each feed as if it had the amplifier for itself.  None means
    that only the full search can tell.
    """
    job, amplifier = judge.job, judge.amplifier
    for one in judge.own:
        if one.is_must and one.state == "unsuitable":
            return "unsuitable", one
    too_large = checks.body_check(job, amplifier)
    if too_large is not None:
        return "unsuitable", too_large
    if missing_plate(amplifier):
        return None
    least = sum(feed.least_outputs for feed in job.feeds)
    if least > amplifier["channels"]:
        return "unsuitable", checks.channel_check(None, job, amplifier)
    most = spread_of(job, amplifier)[1]
    for feed in job.feeds:
        if feed.need_w is None:
            continue
        highest = 0.0
        for plan in alone(feed, job, amplifier):
            power = plan.uses[0].power.high
            if power is None:
                break
            highest = max(highest, most * power / _speakers_on(plan, feed))
        else:
            if not checks.at_least(highest, feed.need_w):
                told = Check(checks.power_name(feed), f"{rounded(feed.need_w, 3)} W each",
                             f"at most {rounded(highest, 3)} W", "unsuitable")  # fmt: skip
                return "unsuitable", told
    return None


def _speakers_on(plan: Any, feed: Any) -> float:
    """Return how many drivers an output of the plan carries."""
    return feed.count / len(plan.uses[0].outputs)

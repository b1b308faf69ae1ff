"""The best plan of an amplifier, or of several together, by search."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from heapq import heapify, heappop, heappush
from itertools import islice

from calc.answers.sheet import State
from calc.choosing.candidates import (
    Candidate,
    Weights,
    layout_rank,
    power_share,
    price_share,
    state_of,
    wish_share,
)
from calc.choosing.checks import amplifier as own_checks
from calc.choosing.checks import filters as filter_checks
from calc.choosing.checks import layout as layout_checks
from calc.choosing.checks.kinds import Check
from calc.choosing.installed import Installed, Part, installed
from calc.choosing.layouts.arrangements import Layout, layouts
from calc.choosing.layouts.feeds import Job
from calc.choosing.open_plates import MOST_LAYOUTS, hopeless_filters, loosest
from calc.choosing.questions.demand import draw_taken
from calc.choosing.questions.power import set_taken
from calc.choosing.questions.setup import standby
from calc.inputs.declared import values_of
from calc.system.amplifier import Amplifier
from calc.system.usual import Assumed

_MOST_OF_MANY, _MANY = 400, 9  # of those with so many channels together, not all are tried


def _opened(candidate: Candidate, keys: tuple[str, ...]) -> Candidate:
    """Return a candidate whose failing musts are not known, for it rests on what nobody told."""
    checks = tuple(
        replace(check, state="not known", keys=keys)
        if check.is_must and check.state == "unsuitable"
        else check
        for check in candidate.checks
    )
    return replace(candidate, checks=checks)


Known = dict[Amplifier, tuple[Check, ...]]


class Judge:
    """Holds one amplifier, or several together, against a job.

    What several layouts share is worked out once.

    known : what was found of each amplifier by itself, where judges of one job share it
    """

    def __init__(
        self,
        job: Job,
        amplifiers: Amplifier | Sequence[Amplifier],
        weights: Weights,
        known: Known | None = None,
    ) -> None:
        self._known: Known = {} if known is None else known
        self.job = job
        self.installed: Installed = installed(amplifiers)
        self.weights = weights
        self.is_cut = False  # whether there are more layouts than are tried
        self._demands: dict[tuple[float | None, ...], tuple[Check, ...]] = {}

    @property
    def given(self) -> Amplifier:
        """The amplifier as it was told; what several are together, as they were told."""
        return self.installed.told

    @property
    def amplifier(self) -> Amplifier:
        """The amplifier with usual figures where none are told; what several are together."""
        return self.installed.amplifier

    def _taken(self, layout: Layout | None) -> tuple[Assumed, ...]:
        """Return all usual figures that are taken of the amplifiers."""
        taken: list[Assumed] = []
        for part in self.installed.parts:
            taken += part.taken
            total_w = None if layout is None else layout.power_of(part)
            more = [*draw_taken(self.job, part.given, total_w)]
            if part.given.quiescent_a is None:
                usual = standby(self.job, part.amplifier)
                more.append(Assumed(part.name, usual, ("amplifier", 0, "quiescent_a")))
            taken += [replace(one, path=("amplifier", part.at, *one.path[2:])) for one in more]
        return (*taken, *set_taken(self.job, self.installed))

    @cached_property
    def own(self) -> tuple[Check, ...]:
        """The checks that no layout changes, but for the place."""
        checks = [
            replace(check, about="" if self.installed.is_single else part.name)
            for part in self.installed.parts
            for check in self._apart(part)
        ]
        return (*checks, *own_checks.feature_checks(self.job, self.amplifier))

    def _apart(self, part: Part) -> tuple[Check, ...]:
        """Return the checks of an amplifier that are the same in every set."""
        if part.given not in self._known:
            self._known[part.given] = (
                own_checks.signal_check(self.job, part.amplifier, part.given),
                own_checks.turn_on_check(self.job, part.amplifier, part.given),
            )
        return self._known[part.given]

    @cached_property
    def place(self) -> tuple[Check, ...]:
        """The checks of place and reach."""
        return tuple(own_checks.place_checks(self.job, self.installed))

    def of_layout(self, layout: Layout | None) -> Candidate:
        """Return the amplifier judged with a layout, or with none."""
        return replace(self._in_full(layout), taken=self._taken(layout))

    def _in_full(self, layout: Layout | None) -> Candidate:
        if layout is None:
            # Channels that are too few are told alone; of a plate that is not known, all is open.
            if not self._has_gaps:
                return self._judged(None, (), ())
            failing = hopeless_filters(self.job, self.installed)
            filters = failing or filter_checks.open_filters()
            return self._judged(None, filters, self.demand_checks(None))
        return self._judged(layout, (self._filter_check(layout),), self.demand_checks(layout))

    @property
    def _has_gaps(self) -> bool:
        """Whether a figure of a plate is missing without which no layout is known."""
        return bool(self.installed.missing_plate)

    def _judged(
        self, layout: Layout | None, filters: Iterable[Check], demand: Iterable[Check]
    ) -> Candidate:
        checks = [
            *self.layout_checks(layout),
            *filters,
            *self.own,
            *self.place,
            *demand,
        ]
        return Candidate(self.installed, layout, tuple(checks), self._score(layout, checks))

    def layout_checks(self, layout: Layout | None) -> tuple[Check, ...]:
        """Return the checks of channels and powers, and whether it is the layout asked for."""
        channels = layout_checks.channel_check(layout, self.job, self.installed)
        if layout is None:
            return (channels, *(layout_checks.open_powers(self.job) if self._has_gaps else ()))
        asked = layout_checks.asked_check(layout, self.job)
        return (channels, *asked, *layout_checks.power_checks(layout))

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
        """
        found = self._found()
        if found.state == "unsuitable" and self.is_cut:  # what was not tried may do
            return _opened(found, ())
        if found.state != "unsuitable" or not self.open_plate:
            return found
        # Of several amplifiers, those with more channels than usual would be too many to try.
        is_open = not self.installed.is_single and "channels" in self.open_plate
        if is_open or self.loosest.may_do:
            return _opened(found, self.open_plate)
        return found

    @cached_property
    def open_plate(self) -> tuple[str, ...]:
        """The figures on which the layouts rest and which nobody told."""
        keys = ("channels", "min_channel_ohm", "power_2ohm_w")
        given = [part.given for part in self.installed.parts]
        return tuple(key for key in keys if any(getattr(each, key) is None for each in given))

    @cached_property
    def loosest(self) -> "Judge":
        """The judge of what the amplifiers may be at most, for what nobody told of their plates."""
        is_single = self.installed.is_single
        most = [loosest(part.given, any_count=is_single) for part in self.installed.parts]
        return Judge(self.job, most, self.weights)

    @property
    def layouts(self) -> Iterator[Layout]:
        """Every layout of the job in every way to share outputs; the plain ones first.

        Those in which left and right of a pair are one are none, but where there is no other: then
        they show what is lacking.  Of many channels, or of many coils on each, not all are tried.
        """
        count = sum(part.count for part in self.installed.parts)
        is_many = count > _MANY and not self.installed.is_single
        most = _MOST_OF_MANY if is_many else MOST_LAYOUTS
        is_any = False
        for mono in (False, True):
            for variant in self.job.variants:
                every = layouts(variant, self.installed, mono=mono)
                for layout in islice(every, most):
                    is_any = True
                    yield layout
                self.is_cut = self.is_cut or any(True for _ in every)
            if is_any:
                return

    @cached_property
    def may_do(self) -> bool:
        """Whether any layout is not unsuitable, or may be among those that were not tried.

        The first that is found will do.
        """
        layout = None
        for layout in self.layouts:
            if self._does(layout):
                return True
        return self.is_cut or (layout is None and self.of_layout(None).state != "unsuitable")

    def _does(self, layout: Layout) -> bool:
        """Tell whether a layout is not unsuitable; what takes long is asked last."""
        stages: Iterable[Callable[[], Iterable[Check]]] = (
            lambda: self.layout_checks(layout),
            lambda: (*self.own, *self.place),
            lambda: self.demand_checks(layout),
        )
        return (
            all(state_of(stage()) != "unsuitable" for stage in stages)
            and self._filter_state(layout) != "unsuitable"
        )

    def _found(self) -> Candidate:
        return next(self.by_rank(), None) or self.of_layout(None)

    @cached_property
    def firsts(self) -> tuple[Candidate, ...]:
        """Every layout before demand and filters are judged: it ranks no better with these."""
        return tuple(map(self.first, self.layouts))

    def best_of_many(self) -> Candidate:
        """Return the best as one of many: the layouts that were looked at are let go.

        Those of a whole stock list would fill the memory of the page.
        """
        best = self.best()
        self.__dict__.pop("firsts", None)
        return best

    def first(self, layout: Layout) -> Candidate:
        """Return a layout before demand and filters are judged."""
        return self._judged(layout, (), ())

    def by_rank(self, every: Sequence[Candidate] | None = None) -> Iterator[Candidate]:
        """Yield layouts judged in full, best first; those that rank alike in a fixed order.

        every : those of `firsts` to look at; all where none are given

        Demand takes long to judge, and filters longer.  A layout ranks no better with a check
        than without it: the most promising is judged one check further, until the most promising
        is judged in full.
        """
        queue = []
        for at, first in enumerate(self.firsts if every is None else every):
            assert first.layout is not None
            queue.append((layout_rank(first), _Tie(first.layout, at), 0, first))
        heapify(queue)
        while queue:
            _, tie, depth, candidate = heappop(queue)
            if depth == 2:
                yield candidate
                continue
            if depth:
                candidate = self.of_layout(tie.layout)
            else:
                candidate = self._judged(tie.layout, (), self.demand_checks(tie.layout))
            heappush(queue, (layout_rank(candidate), tie, depth + 1, candidate))

    def _filter_check(self, layout: Layout) -> Check:
        return filter_checks.filter_check(layout.job, layout.assignment, self.installed)

    def _filter_state(self, layout: Layout) -> State:
        return filter_checks.filter_state(layout.job, layout.assignment, self.installed)

    def demand_checks(self, layout: Layout | None) -> tuple[Check, ...]:
        """The checks of what follows from the power in use, with a layout or with none.

        Where only bounds of the power are known, what fails must fail with the lower one too.
        """
        parts = self.installed.parts
        if layout is None:
            return self._demands_of((None,) * len(parts))
        most = self._demands_of(tuple(map(layout.power_of, parts)))
        if all(check.state != "unsuitable" for check in most):
            return most
        least = self._demands_of(tuple(map(layout.least_power_of, parts)))
        keys = ("power_2ohm_w",) if layout.has_open_power else ()
        return layout_checks.within(most, least, keys)

    def _demands_of(self, powers: tuple[float | None, ...]) -> tuple[Check, ...]:
        if powers not in self._demands:
            demands = layout_checks.demand_checks(self.job, powers, self.installed)
            self._demands[powers] = tuple(demands)
        return self._demands[powers]

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
        """Return the part of the bay’s floor that the bodies leave [0 … 1]."""
        width, depth = self.job.system.bay.bay_width_mm, self.job.system.bay.bay_depth_mm
        if width is None or depth is None:
            return 0.0
        floor = 0.0
        for part in self.installed.parts:
            wide, deep = part.amplifier.width_mm, part.amplifier.depth_mm
            if wide is None or deep is None:
                return 0.0
            floor += wide * deep
        return max(0.0, 1 - floor / (width * depth))

    def _draw_share(self) -> float:
        """Return the efficiency at rated power [0 … 1]; 0 when it is not known."""
        return (self.amplifier.efficiency_percent or 0.0) / 100


@dataclass(frozen=True, eq=False)
class _Tie:
    """What decides between layouts that rank alike: the plan; worked out only where it must.

    at : the place among all; those of one wiring stand together
    """

    layout: Layout
    at: int

    def __lt__(self, other: "_Tie") -> bool:
        mine, theirs = self.layout, other.layout
        is_one = mine.job is theirs.job and mine.wirings == theirs.wirings
        if is_one and mine.plan.order != theirs.plan.order:
            return mine.plan.order < theirs.plan.order
        return self.at < other.at

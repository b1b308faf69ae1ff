"""A case: a job with an amplifier held against it; and a change that makes another case of it."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal, TypeVar

from calc.choosing.candidates import Candidate, Weights, layout_rank
from calc.choosing.checks.kinds import WISH_OF, Check
from calc.choosing.checks.kinds import Kind as Must
from calc.choosing.installed import Part
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job, speakers_go_together
from calc.choosing.search import Judge
from calc.inputs.declared import replaced
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier
from calc.system.speakers import SpeakerRow
from calc.system.system import System

V = TypeVar("V")
Kind = Literal["layout", "wish", "speakers", "car", "amplifier", "second-amplifier", "place"]
# The smallest first: what is wired otherwise, what is wished for less, another speaker of the
# same make, an errand in the car, another amplifier, one more, another place (our own choice).
KINDS: tuple[Kind, ...] = (
    "layout", "wish", "speakers", "car", "amplifier", "second-amplifier", "place",
)  # fmt: skip
Group = Literal["layout", "own", "place"]
_PLACED: tuple[Must, ...] = ("place", "controls")
_OWN: tuple[Must, ...] = ("signal", "turn-on", *(kind for kind in WISH_OF if kind != "controls"))
_SHARED_OUT: tuple[Must, ...] = ("channels", "layout", "power")
_MOST_ASKED = 8
_SEARCH = 100  # what a whole search counts for besides its layouts: filters, cable, place
CHANNEL_PROBLEMS = frozenset({"channels: too few", "channels: no wiring", "channels: pairs"})


class Enough(Exception):
    """So much was tried that nobody would wait for more."""


@dataclass(eq=False)
class Found:
    """What all cases that come of one share.

    places : what was found of the place, by all that it depends on
    tried : how many layouts were looked at; of `most` it is enough
    """

    places: dict[Hashable, tuple[Check, ...]] = field(default_factory=dict)
    tried: int = 0
    most: int = 1_000_000

    def count(self, layouts: int = 1) -> None:
        """Count layouts that were looked at.

        Raises Enough when that is as many as are worth the time.
        """
        self.tried += layouts
        if self.tried > self.most:
            raise Enough


def group_of(kind: str) -> Group:
    """Return what a must depends on: the layout, the amplifier's own figures, or the place."""
    return "place" if kind in _PLACED else "own" if kind in _OWN else "layout"


@dataclass(eq=False)
class Case:
    """A job and amplifiers as they are told; the search for the best plan is made once.

    job : shared by all amplifiers of a stock list, with what it has worked out
    found : what was found so far, shared by all cases that come of one
    """

    job: Job
    amplifiers: tuple[Amplifier, ...]
    weights: Weights
    found: Found = field(default_factory=Found)

    @classmethod
    def of(cls, judge: Judge, best: Candidate | None = None) -> "Case":
        """Return the case that a judge judges; `best` where it has been found already."""
        case = cls(judge.job, judge.installed.given, judge.weights)
        case.judge = judge
        if best is not None:
            case.best = best
        return case

    @property
    def system(self) -> System:
        """The system as it is told."""
        return self.job.given

    @cached_property
    def judge(self) -> Judge:
        """The judge of the case; what it would find of the place may have been found already."""
        judge = Judge(self.job, self.amplifiers, self.weights)
        bodies = tuple(
            (body.name, body.width_mm, body.depth_mm, body.height_mm, body.faces, body.mass_kg)
            for body in self.amplifiers
        )
        wish = self.system.wishes.controls_in_place
        depends_on = (self.system.bay, wish, self.system.leads.slack_percent, bodies)
        places = self.found.places
        if depends_on not in places:
            places[depends_on] = judge.place
        judge.place = places[depends_on]
        return judge

    @cached_property
    def best(self) -> Candidate:
        """The best plan."""
        best = self.judge.best()
        self.found.count(_SEARCH + len(self.judge.firsts))
        return best

    @property
    def works(self) -> bool:
        """Whether no must fails."""
        return self.best.state != "unsuitable"

    @cached_property
    def failing(self) -> tuple[Check, ...]:
        """The musts that the best plan fails."""
        return failing(self.best.checks)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The amplifiers with usual figures where none are told."""
        return self.judge.installed.parts

    @property
    def outputs(self) -> int:
        """How many channels there are of all amplifiers; the usual count where none is told."""
        return sum(part.count for part in self.parts)

    @cached_property
    def _has_layouts(self) -> bool:
        return any(True for _ in self.judge.layouts)

    def problem(self, check: Check) -> str:
        """Return the name of a must that fails, with the stage that was reached of the channels.

        First there are enough of them, then a wiring fits, then pairs are as they must be.
        """
        if check.kind != "channels":
            return f"{check.kind}: {check.feed}"
        if self.job.fewest_outputs > self.outputs:
            return "channels: too few"
        return "channels: pairs" if self._has_layouts else "channels: no wiring"

    def _fails(self, checks: Iterable[Check], names: frozenset[str]) -> bool:
        return any(self.problem(check) in names for check in failing(checks))

    def has_plan(self, names: frozenset[str]) -> bool:
        """Tell whether a plan fails none of these problems, whatever else it fails."""
        judge = self.judge
        if self._fails((*judge.own, *judge.place), names):
            return False
        names = frozenset(name for name in names if group_of(name.split(":")[0]) == "layout")
        if not names:
            return True
        if any(self._plans(judge, names)):
            return True
        # Of channels that nobody told there may be many: what is usual is enough to look at.
        is_told = all(part.given.channels is not None for part in self.parts)
        if judge.open_plate and is_told and any(self._plans(judge.loosest, names)):
            return True
        if self._has_layouts:
            return False
        # Without a layout nothing is told of powers, unless it is for want of a figure.
        is_open = not any(check.kind == "channels" for check in self.failing)
        is_about = is_open or not names - CHANNEL_PROBLEMS
        return is_about and not self._fails(self.best.checks, names)

    def _plans(self, judge: Judge, names: frozenset[str]) -> Iterator[Layout]:
        """Yield layouts that fail none of these problems."""
        kinds = {name.split(":")[0] for name in names}
        has_demands = bool(kinds - {*_SHARED_OUT, "filters"})
        promising = (
            layout
            for layout in self._counted(judge.layouts)
            if not self._fails(judge.layout_checks(layout), names)
            and not (has_demands and self._fails(judge.demand_checks(layout), names))
        )
        if "filters" not in kinds:
            yield from promising
            return
        # Filters take long: of those that can be, the best few are asked for them.
        best = sorted(promising, key=lambda one: layout_rank(judge.first(one)))[:_MOST_ASKED]
        yield from (one for one in best if not self._fails(judge.of_layout(one).checks, names))

    def _counted(self, layouts: Iterable[Layout]) -> Iterator[Layout]:
        for layout in layouts:
            self.found.count()
            yield layout

    def beyond(self, kept: frozenset[str]) -> Candidate:
        """Return the best plan that fails none of these problems; the best of all where none."""
        if not kept or not self._fails(self.best.checks, kept):
            return self.best
        firsts = [self.judge.first(plan) for plan in self._plans(self.judge, kept)]
        return next(self.judge.by_rank(firsts), self.best) if firsts else self.best

    def of_system(self, system: System) -> "Case | None":
        """Return the case with another system; None where its speakers do not go together."""
        wrong = speakers_go_together(
            speakers=system.speakers,
            networks=system.networks,
            head_filters=system.head_unit.head_filters,
        )
        return None if any(wrong) else self._of(Job(system))

    def of_car(self, **values: Value) -> "Case":
        """Return the case with other figures of car, cable or place, by the keys of their fields.

        What was found of filters stays: these figures are none that filters depend on.
        """
        job = Job(replaced(self.system, values))
        found = {variant.sharing: variant.found_filters for variant in self.job.variants}
        for variant in job.variants:
            variant.found_filters.update(found.get(variant.sharing, {}))
        return self._of(job)

    def of_rows(self, changed: Mapping[int, Mapping[str, Value]]) -> "Case | None":
        """Return the case with other figures in rows of speakers, by the rows' numbers."""
        rows: list[SpeakerRow] = list(self.system.speakers)
        for at, values in changed.items():
            rows[at] = replaced(rows[at], values)
        return self.of_system(replace(self.system, speakers=tuple(rows)))

    def of_amplifier(self, at: int, **values: Value) -> "Case":
        """Return the case with other figures of an amplifier, by its number among them."""
        changed = list(self.amplifiers)
        changed[at] = replaced(changed[at], values)
        return self.of_amplifiers(*changed)

    def of_amplifiers(self, *amplifiers: Amplifier) -> "Case":
        """Return the case with other amplifiers."""
        return Case(self.job, amplifiers, self.weights, self.found)

    def _of(self, job: Job) -> "Case":
        return Case(job, self.amplifiers, self.weights, self.found)


def failing(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return the musts that fail."""
    return tuple(check for check in checks if check.is_must and check.state == "unsuitable")


@dataclass(frozen=True)
class Change:
    """A change that was made, and what the case is with it.

    words : to follow “Would work”
    about : the figure that it changes; a later change of the same figure takes its place
    size : among changes of its kind, the smaller the better
    far : by how many kinds it is larger than its kind usually is
    """

    kind: Kind
    words: str
    case: Case
    size: float = 0.0
    far: float = 0.0
    about: Hashable = None

    @property
    def weight(self) -> float:
        """The sort key among all changes: by kind, then by size."""
        return KINDS.index(self.kind) + self.size / (1 + self.size) + self.far


@dataclass(frozen=True)
class Aim:
    """A must that fails and is to be met, and those that were met already and must stay so.

    kept : the problems that were mended before
    whole : nothing at all may fail
    besides : problems that there may be none of either
    """

    case: Case
    kept: frozenset[str] = frozenset()
    whole: bool = False
    besides: frozenset[str] = frozenset()

    @cached_property
    def plan(self) -> Candidate:
        """The plan to be mended: the best in which what was mended stays so."""
        return self.case.beyond(self.kept)

    @cached_property
    def check(self) -> Check:
        """The must to be met: the first that fails."""
        bad = failing(self.plan.checks)
        return next((one for one in bad if self.case.problem(one) not in self.kept), bad[0])

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """The amplifiers that it may be about: the one that is named, those that carry a feed."""
        parts, layout = self.case.parts, self.plan.layout
        if self.check.about:
            return tuple(part for part in parts if part.name == self.check.about)
        if layout is None or not self.check.feed:
            return parts
        used = {
            output
            for feed, _, use in layout.uses
            if self.check.feed in (feed.name, *(member.name for member in feed.members))
            for output in use.outputs
        }
        return tuple(part for part in parts if any(map(part.has, used))) or parts

    @cached_property
    def names(self) -> frozenset[str]:
        """All problems that are to be mended, this one with those before."""
        return self.kept | self.besides | {self.case.problem(self.check)}

    def is_met(self, case: Case | None) -> bool:
        """Tell whether a changed case meets the must, and fails none that was met before."""
        if case is None or not case.has_plan(self.names):
            return False
        return case.works if self.whole else True

    def first(
        self, values: Sequence[V], make: Callable[[V], Case | None], *, sure: bool = True
    ) -> V | None:
        """Return the first of rising values that meets the must; None where the last does not.

        Found by halving: where one is enough, so are those after it.  That the one returned is
        enough has been tried, whatever lies between; where not `sure`, whether nothing else fails
        has not.
        """
        aim = self if sure else replace(self, whole=False)
        if not values or not aim.is_met(make(values[-1])):
            return None
        low, high = -1, len(values) - 1
        while high - low > 1:
            middle = (low + high) // 2
            if aim.is_met(make(values[middle])):
                high = middle
            else:
                low = middle
        return values[high]

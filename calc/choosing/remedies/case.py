"""A case: a job with an amplifier held against it; and a change that makes another case of it."""

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal

from calc.choosing.candidates import Candidate, Weights, state_of
from calc.choosing.checks.kinds import WISH_OF, Check
from calc.choosing.checks.kinds import Kind as Must
from calc.choosing.checks.layout import asked_check, channel_check, power_checks
from calc.choosing.installed import Part
from calc.choosing.layouts.feeds import Job, speakers_go_together
from calc.choosing.search import Judge
from calc.inputs.declared import replaced
from calc.inputs.field_base import Value
from calc.system.amplifier import Amplifier
from calc.system.speakers import SpeakerRow
from calc.system.system import System

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
_Places = dict[Hashable, tuple[Check, ...]]


def group_of(kind: Must) -> Group:
    """Return what a must depends on: the layout, the amplifier's own figures, or the place."""
    return "place" if kind in _PLACED else "own" if kind in _OWN else "layout"


@dataclass(eq=False)
class Case:
    """A job and amplifiers as they are told; the search for the best plan is made once.

    job : shared by all amplifiers of a stock list, with what it has worked out
    places : what was found of the place, shared by all cases that come of one
    """

    job: Job
    amplifiers: tuple[Amplifier, ...]
    weights: Weights
    places: _Places = field(default_factory=dict)

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
        if depends_on not in self.places:
            self.places[depends_on] = judge.place
        judge.place = self.places[depends_on]
        return judge

    @cached_property
    def best(self) -> Candidate:
        """The best plan."""
        return self.judge.best()

    @cached_property
    def works(self) -> bool:
        """Whether some plan fails no must, told without ranking them all."""
        judge = self.judge
        if state_of((*judge.own, *judge.place)) == "unsuitable":
            return False
        if judge.any_does:
            return True
        if not judge.open_plate:
            return False
        judge.loosest.place = judge.place  # the bodies are the same
        return judge.loosest.any_does

    @cached_property
    def failing(self) -> tuple[Check, ...]:
        """The musts that the best plan fails."""
        return tuple(
            check for check in self.best.checks if check.is_must and check.state == "unsuitable"
        )

    @cached_property
    def problems(self) -> frozenset[str]:
        """What fails, by name; of the channels, how far the search came."""
        return frozenset(self.problem(check) for check in self.failing)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The amplifiers with usual figures where none are told."""
        return self.judge.installed.parts

    @property
    def outputs(self) -> int:
        """How many channels there are of all amplifiers; the usual count where none is told."""
        return sum(part.count for part in self.parts)

    def problem(self, check: Check) -> str:
        """Return the name of a must that fails, with the stage that was reached of the channels.

        First there are enough of them, then a wiring fits, then pairs are as they must be.
        """
        if check.kind != "channels":
            return check.name
        if self.job.fewest_outputs > self.outputs:
            return "channels: too few"
        return "channels: no wiring" if self.best.layout is None else "channels: pairs"

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
        return Case(self.job, amplifiers, self.weights, self.places)

    def _of(self, job: Job) -> "Case":
        return Case(job, self.amplifiers, self.weights, self.places)

    def may_have_layout(self, names: frozenset[str]) -> bool:
        """Tell whether a layout may fail none of these problems of channels and power."""
        judge = self.judge
        most = sum(part.amplifier.channels or 0 for part in judge.loosest.installed.parts)
        if "channels: too few" in names and self.job.fewest_outputs > most:
            return False
        for layout in judge.layouts:
            checks = [*power_checks(layout), *asked_check(layout, self.job)]
            if "channels: pairs" in names:
                checks.append(channel_check(layout, self.job, judge.installed))
            if not any(check.state == "unsuitable" and _stage(check) in names for check in checks):
                return True
        return not names & {"channels: no wiring", "channels: pairs", "layout"}


def _stage(check: Check) -> str:
    return "channels: pairs" if check.kind == "channels" else check.name


def _fails(checks: Iterable[Check], name: str) -> bool:
    return any(
        check.is_must and check.state == "unsuitable" and check.name == name for check in checks
    )


@dataclass(frozen=True)
class Change:
    """A change that was made, and what the case is with it.

    words : to follow “Would work”
    size : among changes of its kind, the smaller the better
    far : by how many kinds it is larger than its kind usually is
    """

    kind: Kind
    words: str
    case: Case
    size: float = 0.0
    far: float = 0.0

    @property
    def weight(self) -> float:
        """The sort key among all changes: by kind, then by size."""
        return KINDS.index(self.kind) + self.size / (1 + self.size) + self.far


@dataclass(frozen=True)
class Aim:
    """A must that fails and is to be met, and those that were met already and must stay so.

    whole : nothing at all may fail
    """

    case: Case
    check: Check
    kept: frozenset[str] = frozenset()
    whole: bool = False

    @property
    def parts(self) -> tuple[Part, ...]:
        """The amplifiers that it may be about: the one that is named, those that carry a feed."""
        parts, layout = self.case.parts, self.case.best.layout
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

    @property
    def names(self) -> frozenset[str]:
        """All musts that are to be met, this one with those before."""
        return self.kept | {self.case.problem(self.check)}

    def is_met(self, case: Case | None) -> bool:
        """Tell whether a changed case meets the must, and fails none that was met before.

        What is quick to tell is asked first.
        """
        if case is None or not self._may_be_met(case):
            return False
        if self.whole:
            return case.works
        if group_of(self.check.kind) != "layout":
            return True
        return case.works or not self.names & case.problems

    def _may_be_met(self, case: Case) -> bool:
        """Tell what can be told without the full search."""
        match group_of(self.check.kind):
            case "own":
                return not _fails(case.judge.own, self.check.name)
            case "place":
                return not _fails(case.judge.place, self.check.name)
        if self.check.kind not in _SHARED_OUT:
            return True
        return case.may_have_layout(self.names)

    def first[V](self, values: Sequence[V], make: Callable[[V], Case | None]) -> V | None:
        """Return the first of rising values that meets the must; None where the last does not.

        Found by halving: where one is enough, so are those after it.  That the one returned is
        enough has been tried, whatever lies between.
        """
        if not values or not self.is_met(make(values[-1])):
            return None
        low, high = -1, len(values) - 1
        while high - low > 1:
            middle = (low + high) // 2
            if self.is_met(make(values[middle])):
                high = middle
            else:
                low = middle
        return values[high]

"""The best few arrangements side by side: what each gives, gives up and costs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import islice

from calc.choosing.candidates import Candidate, layout_rank
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.choosing.words import given_up
from calc.inputs.declared import replaced

MOST_SHOWN = 4
ASKED = ("apart", "joined", "radio", "bridged", "own-amplifier")  # the words of the wish
_Kind = tuple[object, ...]


@dataclass(frozen=True)
class Compared:
    """An arrangement beside others.

    candidate : the amplifiers with the best layout of this arrangement, judged
    is_asked : it is of the kind that the reader asked for
    """

    candidate: Candidate
    is_asked: bool

    @property
    def layout(self) -> Layout:
        """Its layout."""
        assert self.candidate.layout is not None
        return self.candidate.layout

    @property
    def powers_w(self) -> Mapping[str, float | None]:
        """The power of one speaker of each pair or group [W]; None where it is not known."""
        layout = self.layout
        powers = {
            feed.name: None if use.power.best is None else use.power.best * share
            for feed, use, share in layout.shares()
        }
        job = layout.job
        return {**powers, **{feed.name: job.radio_w(feed) for feed in job.on_radio}}

    @property
    def gives_up(self) -> tuple[str, ...]:
        """What it gives up, in words."""
        return given_up(self.candidate)

    @property
    def boxes(self) -> int:
        """How many amplifiers."""
        return len(self.candidate.parts)

    @property
    def speaker_cable_m(self) -> float:
        """The length of speaker cable from the amplifiers [m], without slack."""
        return sum(
            (member.speaker.lead_m or 0.0) * len(use.outputs) * use.per_output * wiring.drivers
            for feed, wiring, use in self.layout.uses
            for member in feed.members
        )


def compared(judge: Judge, planned: Candidate) -> tuple[Compared, ...]:
    """Return the best layout of each of the best few arrangements, best first.

    planned : the best of all, which stands first among those that rank alike

    Of each kind of arrangement the best layout is found by the full search.  One that the reader
    asks for is among them, wherever it ranks.
    """
    asked = judge.job.system.wishes.layout
    neutral = judge
    if asked != "best":
        job = Job(replaced(judge.job.given, {"layout": "best"}))
        neutral = Judge(job, judge.installed.given, judge.weights)
        planned = neutral.best()
    kinds: dict[_Kind, list[Candidate]] = {}
    for first in neutral.firsts:
        assert first.layout is not None
        kinds.setdefault(_kind_of(first.layout), []).append(first)
    own = None if planned.layout is None else _kind_of(planned.layout)
    groups = [kinds[kind] for kind in sorted(kinds, key=lambda kind: kind != own)]
    found = list(islice(_best_of_each(neutral, groups), MOST_SHOWN))
    if asked == "best":
        return tuple(Compared(best, is_asked=False) for best in found)
    shown = [Compared(best, is_asked=_is_as_asked(best, asked)) for best in found]
    if not any(one.is_asked for one in shown):
        wanted = [group for group in groups if _is_as_asked(group[0], asked)]
        best_asked = islice(_best_of_each(neutral, wanted), 1)
        shown += [Compared(best, is_asked=True) for best in best_asked]
    return tuple(shown)


def words_to(every: Sequence[Compared]) -> tuple[str, ...]:
    """Return for each arrangement the word of the wish that leads to it; empty where none does.

    A word leads to the first that is as it asks.
    """
    words = ["best", *[""] * (len(every) - 1)][: len(every)]
    for word in reversed(ASKED):
        found = (at for at, each in enumerate(every) if each.layout.is_as_asked(word))
        at = next(found, 0)
        if at:
            words[at] = word
    return tuple(words)


def _best_of_each(judge: Judge, groups: Sequence[list[Candidate]]) -> Iterator[Candidate]:
    """Yield the best of each group of layouts, best first.

    A group is no better than its most promising layout before demand and filters are judged, so
    that its search waits until no other group promises more.
    """
    queue = [(min(map(layout_rank, group)), at) for at, group in enumerate(groups)]
    heapify(queue)
    judged: dict[int, Candidate] = {}
    while queue:
        _, at = heappop(queue)
        if at in judged:
            yield judged[at]
            continue
        judged[at] = next(judge.by_rank(groups[at]))
        heappush(queue, (layout_rank(judged[at]), at))


def _is_as_asked(candidate: Candidate, asked: str) -> bool:
    return candidate.layout is not None and candidate.layout.is_as_asked(asked)


def _kind_of(layout: Layout) -> _Kind:
    """Return what makes two layouts one arrangement: what shares, and how wide each feed lies."""
    return (
        layout.job.sharing,
        tuple(
            (
                len(use.outputs),
                len(use.outputs[0]),
                tuple({layout.installed.part_of(output).at for output in use.outputs}),
            )
            for use in layout.plan.uses
        ),
    )

"""The best few arrangements side by side: what each gives, gives up and costs."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answers.figures import quantity
from calc.choosing.candidates import Candidate, Rank, layout_rank
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.inputs.declared import replaced

MOST_SHOWN = 4
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
        powers: dict[str, float | None] = {}
        for feed, wiring, use in layout.uses:
            for member in feed.members:
                best = use.power.best
                share = feed.share_of(member) / use.per_output / wiring.drivers
                powers[member.name] = None if best is None else best * share
        job = layout.job
        return {**powers, **{feed.name: job.radio_w(feed) for feed in job.on_radio}}

    @property
    def gives_up(self) -> tuple[str, ...]:
        """What it gives up, in words."""
        quieter = [
            f"{check.feed}: {quantity(check.quieter_db, 'dB', 2)} less loud than could be"
            for check in self.candidate.checks
            if check.quieter_db is not None
        ]
        return (*self.layout.job.gives_up, *quieter)

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


def compared(judge: Judge) -> tuple[Compared, ...]:
    """Return the best layout of each of the best few arrangements, best first.

    Of each kind of arrangement the best layout is found by the full search.  One that the reader
    asks for is among them, wherever it ranks.
    """
    asked = judge.job.system.wishes.layout
    neutral = judge
    if asked != "best":
        job = Job(replaced(judge.job.given, {"layout": "best"}))
        neutral = Judge(job, judge.installed.given, judge.weights)
    groups: dict[_Kind, list[Layout]] = {}
    for layout in neutral.layouts:
        groups.setdefault(_kind_of(layout), []).append(layout)
    firsts = {kind: min(map(neutral.first_rank, group)) for kind, group in groups.items()}
    found: list[tuple[Rank, Compared]] = []
    for at, kind in enumerate(sorted(groups, key=lambda kind: firsts[kind])):
        group = groups[kind]
        is_asked = asked != "best" and group[0].is_as_asked(asked)
        if at < MOST_SHOWN or (is_asked and not any(each.is_asked for _, each in found)):
            best = next(neutral.by_rank(group))
            found.append((layout_rank(best), Compared(best, is_asked)))
    found.sort(key=lambda each: each[0])
    return tuple(each for _, each in found)


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

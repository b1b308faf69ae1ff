"""The choice in steps: first verdicts, on each amplifier alone at once, then plan by plan."""

import time
from functools import cached_property

from calc.answers.sheet import Sheet
from calc.choosing.amplifier_choice.inputs import Inputs
from calc.choosing.amplifier_choice.sheet import present, so_far
from calc.choosing.amplifier_choice.solve import judges, ranked, to_be_advised
from calc.choosing.bounds import first_verdict
from calc.choosing.candidates import Candidate
from calc.choosing.remedies import with_ways
from calc.system.files.shelf_file import notes_on

STEP_S = 0.3  # of work before the page is told how far it is


class ChoiceStream:
    """A shelf that is held against a job step by step, the most promising first.

    Before a candidate's full search it has a first verdict, which no search overturns, or none:
    an amplifier alone at once, a set of them with the first step, for there may be many sets.
    The order, and all that comes out, follow from the inputs alone; only how much is done in a
    step depends on the machine.
    """

    def __init__(self, inputs: Inputs) -> None:
        self.inputs = inputs
        self.judges = judges(inputs)
        self.firsts = [
            first_verdict(judge) if judge.installed.is_single else None for judge in self.judges
        ]
        self.searched: dict[int, Candidate] = {}
        self.advised: set[int] = set()

    @cached_property
    def _order(self) -> list[int]:
        """The places of all in the order of their search, with a first verdict for each set."""
        for at, judge in enumerate(self.judges):
            if not judge.installed.is_single:
                self.firsts[at] = first_verdict(judge)
        return sorted(range(len(self.judges)), key=self._promise)

    def _promise(self, at: int) -> tuple[bool, bool, float]:
        """Return the sort key: those that may do, one alone before several, by the most points."""
        judge = self.judges[at]
        several = not judge.installed.is_single
        return (self.firsts[at] is not None, several, -judge.most_points)

    @property
    def done(self) -> bool:
        """Whether every candidate has had its full search, and the best that fail their advice."""
        return len(self.searched) == len(self.judges) and not self._unadvised

    @property
    def _unadvised(self) -> list[int]:
        """The places of those that are still to be told what would make them work."""
        return [at for at in to_be_advised(self.candidates) if at not in self.advised]

    def advance(self) -> None:
        """Search the next candidates, at least one, for about a step's time; then advise."""
        end = time.monotonic() + STEP_S
        for at in self._order[len(self.searched) :]:
            self.searched[at] = self.judges[at].best_of_many()
            if time.monotonic() > end:
                return
        for at in self._unadvised:
            self.searched[at] = with_ways(self.judges[at], self.searched[at], most=1)
            self.advised.add(at)
            if time.monotonic() > end:
                return

    @property
    def candidates(self) -> list[Candidate]:
        """Those that were searched, in the shelf's order."""
        return [self.searched[at] for at in sorted(self.searched)]

    def sheet(self, *, stopped: bool = False) -> Sheet:
        """Return the answer as far as it is known; the last one is the whole answer.

        stopped : the reader does not wait for the rest
        """
        result = ranked(self.candidates)
        if self.done:
            return present(self.inputs, result)
        waiting = [
            (judge.amplifier.name, first)
            for at, (judge, first) in enumerate(zip(self.judges, self.firsts, strict=True))
            if at not in self.searched
        ]
        return so_far(
            result,
            waiting,
            total=len(self.judges),
            stopped=stopped,
            notes=notes_on(self.inputs.shelf),
        )

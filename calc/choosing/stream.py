"""The choice worked out in steps: a first verdict for all at once, then plan by plan."""

import time
from collections.abc import Mapping
from typing import Any

from calc.choosing.choose import Candidate, Judge, Weights, first_verdict
from calc.choosing.job import Job
from calc.choosing.near import advised

STEP_S = 0.3  # of work before the page is told how far it is


class Stream:
    """A shelf that is held against a job step by step, the most promising first.

    Before a candidate's full search it has a first verdict, which no search overturns, or none.
    The order, and all that is found, follow from the inputs alone; only how much is done in a
    step depends on the machine.
    """

    def __init__(self, given: Mapping[str, Any], weights: Weights) -> None:
        job = Job(given)
        self.given = given
        self.judges = [Judge(job, one, weights) for one in given["shelf"] or ()]
        self.firsts = [first_verdict(judge) for judge in self.judges]
        self.found: dict[int, Candidate] = {}
        self._order = sorted(range(len(self.judges)), key=self._promise)

    def _promise(self, at: int) -> tuple[bool, float]:
        """Return the sort key: those that may do, by the most points that they can have."""
        return (self.firsts[at] is not None, -self.judges[at].most_points)

    @property
    def done(self) -> bool:
        """Whether every candidate has had its full search."""
        return len(self.found) == len(self.judges)

    def advance(self) -> None:
        """Search the next candidates, at least one, for about a step's time."""
        end = time.monotonic() + STEP_S
        for at in self._order[len(self.found) :]:
            self.found[at] = advised(self.judges[at])
            if time.monotonic() > end:
                return

    @property
    def candidates(self) -> list[Candidate]:
        """Those that were searched, in the shelf's order."""
        return [self.found[at] for at in sorted(self.found)]

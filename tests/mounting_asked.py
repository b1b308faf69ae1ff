"""What the search says of a problem, looked at by the judge of the tests."""

from hypothesis import settings
from hypothesis import strategies as st
from mounting_bays import WORDS
from mounting_judge import counts_of, judged, leads_of

from calc.placement.placing import Purse, solve
from calc.placement.reach import reach_of

SEEDS = st.integers(0, 10**9)
# Every case of a law is several searches.
SLOW = settings(max_examples=settings().max_examples // 2)


def words_of(problem, placements):
    """What the code itself says of a placement."""
    found = []
    for at, one in enumerate(placements):
        others = (*placements[:at], *placements[at + 1 :])
        reach = reach_of(one, problem.bay, problem.rooms, others)
        found.append(None if reach is None else WORDS[reach])
    return found


def stood(problem):
    """The counts and leads of a solution that the judge finds nothing wrong with, or None."""
    solution = solve(problem)
    if not solution.fits:
        assert solution.fits is False
        return None
    wrong, reached, presses = judged(problem, solution.placements)
    assert wrong == set()
    return counts_of(reached, presses), leads_of(problem, solution.placements)


def fits_in(problem):
    return Purse(200_000).fits(problem)

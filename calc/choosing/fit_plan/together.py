"""What is said of each amplifier of a plan, alone or together with others."""

from collections.abc import Iterator
from dataclasses import replace

from calc.answers.figures import listed
from calc.answers.sheet import Judged, Onward
from calc.choosing.candidates import Candidate
from calc.choosing.fit_plan.solve import Result
from calc.choosing.judging import judged_of
from calc.choosing.links import plan_link
from calc.choosing.words import the


def all_judged(result: Result) -> Iterator[Judged]:
    """Yield what is said of each amplifier, in the form's order; of those together at each.

    Then of those of the form that would do together where one alone is wanting, best first.
    """
    rows = result.rows or ((0,),) * len(result.candidates)
    for candidate, places in zip(result.candidates, rows, strict=True):
        is_best = result.plan is not None and candidate is result.plan.candidate
        is_chosen = result.is_planned and is_best
        for at, row in enumerate(places):
            judged = judged_of(result.job, candidate, row=row, is_chosen=is_chosen)
            beside = [part.name for part in candidate.parts if part.at != at]
            yield replace(judged, beside=f"Together with {listed(beside)}." if beside else "")
    for candidate in result.sets:
        judged = judged_of(result.job, candidate, row=0, is_chosen=False)
        yield replace(judged, rows=() if result.is_listed else _rows_of(result, candidate))


def _rows_of(result: Result, together: Candidate) -> tuple[int, ...]:
    """Return the rows of the form that amplifiers together stand in; one twice where it is two."""
    every = [
        (places[0], candidate.parts[0].given)
        for candidate, places in zip(result.candidates, result.rows, strict=True)
    ]
    rows: list[int] = []
    for part in together.parts:
        alike = [row for row, given in every if replace(part.given, name=given.name) == given]
        left = [row for row in alike if row not in rows]
        rows.append((left or alike)[0])
    return tuple(rows)


def later_words(result: Result) -> str:
    """Say which amplifiers come later, and what is ready for them; nothing where none does."""
    later = result.plan.later if result.plan is not None else ()
    if not later:
        return ""
    names = listed([each.name for each in later])
    comes, it = ("comes", "it") if len(later) == 1 else ("come", "them")
    return (
        f"{names} {comes} later: the main cable, the fuse holder and the distribution block are "
        f"sized for {it} today."
    )


def ways_to_sets(result: Result) -> tuple[Onward, ...]:
    """Return the ways to the plans of amplifiers of a stock list that do together."""
    if not result.is_listed:
        return ()
    return tuple(
        plan_link(f"Plan with {the(each.name)}", result.job.given, each.installed.given)
        for each in result.sets
        if each.is_recommended
    )

"""The plan of a whole job: of its amplifiers, or of the best of those that are compared."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from calc.choosing.candidates import Candidate, ranking
from calc.choosing.compared import Compared, compared
from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.choosing.readings import with_readings
from calc.choosing.remedies import advised, tips_of, with_ways
from calc.choosing.search import Judge
from calc.choosing.sets import AmplifierSet, sets_of
from calc.system.amplifier import Amplifier


@dataclass(frozen=True)
class Result:
    """The job, its plan, and the amplifiers that were held against it.

    plan : None while there is no amplifier, or no speaker
    candidates : those of the form in its order, each by itself but those that are installed
        together; those of a stock list where the form has none
    rows : the rows of the form that each of the candidates stands for, from 1; none of a stock list
    sets : two or three of the candidates together, best first, where one alone is wanting
    layouts : the best few arrangements of what is planned, best first
    is_listed : the candidates are a stock list's
    is_planned : amplifiers are chosen; else the best of the candidates is planned
    """

    job: Job
    plan: Plan | None
    candidates: tuple[Candidate, ...] = ()
    rows: tuple[tuple[int, ...], ...] = ()
    sets: tuple[Candidate, ...] = ()
    layouts: tuple[Compared, ...] = ()
    is_listed: bool = False
    is_planned: bool = False


def solve(inputs: Inputs) -> Result:
    """Plan the job with the amplifiers that are chosen, else with the best that there are.

    An amplifier without its power at 4 Ω is not judged beside one that has it: a card that is
    still being filled.

    Raises InputError with each reading that does not fit the plan's steps.
    """
    result = _planned(replace(inputs, readings=()))
    if result.plan is None:
        return result
    return replace(result, plan=with_readings(result.plan, inputs.readings))


# Readings are typed one after the other: the plan that they belong to is not made anew for each.
@lru_cache(maxsize=1)
def _planned(inputs: Inputs) -> Result:
    """Plan the job; nothing has been read yet."""
    job = Job(inputs.planned.system)
    rows = inputs.planned.amplifier
    is_listed = not rows
    amplifiers = rows or inputs.shelf or ()
    if not any(each.role != "later" for each in amplifiers) or not job.speakers:
        return Result(job, None)
    chosen = tuple(row for row in rows if row.role == "planned")
    later = tuple(row for row in rows if row.role == "later")
    together, places = _held(amplifiers, chosen)
    judges = [Judge(job, each, inputs.weights) for each in together]
    # Of a list's, what would make each work is not told.
    judged = tuple(judge.best() if is_listed else advised(judge) for judge in judges)
    sets: list[Candidate] = []
    if chosen:
        best = next(
            each
            for each, amplifiers in zip(judged, together, strict=True)
            if amplifiers[0] is chosen[0]
        )
    else:
        best = ranking(judged)[0]
        if is_wanting(best):
            promise = {
                id(each[0]): judge.most_points for each, judge in zip(together, judges, strict=True)
            }
            tried = list(sets_of(job, amplifiers, promise))
            more = [Judge(job, each, inputs.weights) for each in tried]
            judges += more
            bests = [judge.best_of_many() for judge in more]
            sets = ranking(bests)[:MOST_SETS]
            # A shop has several of each; a reader's own is planned twice only where one does not.
            may_double = is_listed or best.state == "unsuitable"
            planned = [
                each
                for each, amplifiers in zip(bests, tried, strict=True)
                if may_double or len(set(map(id, amplifiers))) == len(amplifiers)
            ]
            best = ranking([best, *planned])[0]
    judge = next(one for one in judges if one.installed is best.installed)
    if best.state == "unsuitable" and not best.ways:
        best = with_ways(judge, best)
    return Result(
        job=job,
        plan=replace(plan_of(job, best, later), tips=tips_of(judge, best)),
        candidates=judged,
        rows=places if not is_listed else (),
        sets=tuple(sets),
        layouts=compared(judge, best),
        is_listed=is_listed,
        is_planned=bool(chosen),
    )


def _held(
    amplifiers: Sequence[Amplifier], chosen: tuple[Amplifier, ...]
) -> tuple[tuple[AmplifierSet, ...], tuple[tuple[int, ...], ...]]:
    """Return what is judged, and its rows from 1: those installed together as one.

    One that is planned for later is not judged.
    """
    held: list[AmplifierSet] = []
    places: list[tuple[int, ...]] = []
    numbered = list(enumerate(amplifiers, start=1))
    for at, amplifier in numbered:
        if amplifier.role == "candidate" or not chosen:
            held.append((amplifier,))
            places.append((at,))
        elif amplifier is chosen[0]:
            held.append(chosen)
            places.append(tuple(at for at, each in numbered if each.role == "planned"))
    return tuple(held), tuple(places)


MOST_SETS = 3


def is_wanting(best: Candidate) -> bool:
    """Tell whether a second amplifier may do better: one fails, gives something up, or is weak."""
    return (
        not best.is_recommended or best.given_up > 0 or any(check.is_weak for check in best.checks)
    )


def forget_plan() -> None:
    """Forget the last plan."""
    _planned.cache_clear()

"""A note beside a plan that works: with other coils the same subwoofer would get much more."""

from collections.abc import Iterator

from calc.answers.figures import rounded
from calc.choosing.candidates import Candidate
from calc.choosing.layouts.arrangements import alone, banks_of
from calc.choosing.layouts.feed import Feed
from calc.choosing.remedies.case import Case, Change
from calc.choosing.remedies.loads import coil_versions, coil_words
from calc.choosing.search import Judge

_ENOUGH = 0.7  # of its rating, from which on nothing is said
_MUCH_MORE = 1.4  # times the power: 1.5 dB (both our own choice)
_MOST_TRIED = 2


def tips_of(judge: Judge, best: Candidate) -> tuple[str, ...]:
    """Return for each subwoofer whether another version of it would get much more power.

    Nothing where the plan does not work: then it is one of the ways to make it work.
    """
    if not best.is_recommended:
        return ()
    case = Case.of(judge, best)
    woofers = [feed for feed in case.job.feeds if feed.section == "woofer"]
    return tuple(tip for feed in woofers for tip in _tip(case, feed))


def _tip(case: Case, feed: Feed) -> Iterator[str]:
    now_w, rated_w = _each_w(case.best, feed), feed.speaker.rated_w
    if now_w is None or now_w >= _ENOUGH * rated_w:
        return
    promising = [
        (_on_same_outputs(case, change, feed), change) for change in coil_versions(case, feed)
    ]
    promising.sort(key=lambda each: -min(each[0], rated_w))
    for promised_w, change in promising[:_MOST_TRIED]:
        if min(promised_w, rated_w) < _MUCH_MORE * now_w * (1 - 1e-9):
            return
        there_w = _each_w(change.case.best, feed)
        if there_w is None or not change.case.best.is_recommended:
            continue
        if min(there_w, rated_w) >= _MUCH_MORE * now_w * (1 - 1e-9):
            row = change.case.system.speakers[feed.rows[0]]
            now = coil_words(feed.speaker.coils, feed.speaker.coil_ohm)
            each = " each" if feed.count > 1 else ""
            yield (
                f"In the {coil_words(row.coils, row.coil_ohm)} version instead of {now}, "
                f"{feed.name} would get {rounded(min(there_w, rated_w), 3)} W{each} instead of "
                f"{rounded(now_w, 3)} W."
            )
            return


def _on_same_outputs(case: Case, change: Change, feed: Feed) -> float:
    """Return what a version would get where the subwoofer hangs now [W]; 0 where that is unknown.

    A search takes long: it is made only for what promises more.
    """
    layout, job = case.best.layout, change.case.job
    banks = banks_of(job, case.judge.installed)
    if layout is None or banks is None:
        return 0.0
    here = {use.outputs for other, _, use in layout.uses if other.rows == feed.rows}
    changed = next(other for other in job.feeds if other.rows == feed.rows)
    powers = [
        (plan.uses[0].power.best or 0.0) * len(plan.uses[0].outputs) / feed.count
        for plan in alone(changed, banks)
        if plan.uses[0].outputs in here
    ]
    return max(powers, default=0.0)


def _each_w(candidate: Candidate, feed: Feed) -> float | None:
    """Return the power of one speaker of a feed [W]; None where it is not known."""
    for other, use, share in () if candidate.layout is None else candidate.layout.shares():
        if other.rows == feed.rows and use.power.best is not None:
            return use.power.best * share
    return None

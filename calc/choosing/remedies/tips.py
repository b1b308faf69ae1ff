"""A note beside a plan that works: with other coils the same subwoofer would get much more."""

from collections.abc import Iterator

from calc.answers.figures import rounded
from calc.choosing.candidates import Candidate
from calc.choosing.layouts.feed import Feed
from calc.choosing.remedies.case import Case
from calc.choosing.remedies.loads import coil_versions, coil_words
from calc.choosing.search import Judge

_ENOUGH = 0.7  # of its rating, from which on nothing is said
_MUCH_MORE = 1.4  # times the power: 1.5 dB (both our own choice)


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
    most_w, better = _MUCH_MORE * now_w, ""
    for change in coil_versions(case, feed):
        there_w = _each_w(change.case.best, feed)
        if there_w is None or not change.case.best.is_recommended:
            continue
        there_w = min(there_w, rated_w)
        if there_w >= most_w * (1 + 1e-9):
            row = change.case.system.speakers[feed.rows[0]]
            most_w, better = there_w, coil_words(row.coils, row.coil_ohm)
    if better:
        now = coil_words(feed.speaker.coils, feed.speaker.coil_ohm)
        each = " each" if feed.count > 1 else ""
        yield (
            f"In the {better} version instead of {now}, {feed.name} would get "
            f"{rounded(most_w, 3)} W{each} instead of {rounded(now_w, 3)} W."
        )


def _each_w(candidate: Candidate, feed: Feed) -> float | None:
    """Return the power of one speaker of a feed [W]; None where it is not known."""
    for other, wiring, use in () if candidate.layout is None else candidate.layout.uses:
        if other.rows == feed.rows and use.power.best is not None:
            return use.power.best / use.per_output / wiring.drivers
    return None

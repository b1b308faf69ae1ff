"""Verdicts that need no search: what no layout can overturn."""

from calc.answers.sheet import State
from calc.choosing.checks import amplifier as own_checks
from calc.choosing.checks import layout as layout_checks
from calc.choosing.checks.kinds import Check
from calc.choosing.layouts.arrangements import Rated, alone, rated_of, spread_of
from calc.choosing.layouts.feeds import Feed
from calc.choosing.search import Judge


def first_verdict(judge: Judge) -> tuple[State, Check] | None:
    """Return a verdict that no layout can overturn with the check that decides, or None.

    Looked at are checks that no layout changes, the count of outputs, the room that the bare
    body takes, and the power of each feed as if it had the amplifier for itself.  None means
    that only the full search can tell.
    """
    job, amplifier = judge.job, judge.amplifier
    for check in judge.own:
        if check.is_must and check.state == "unsuitable":
            return "unsuitable", check
    too_large = own_checks.body_check(job, amplifier)
    if too_large is not None:
        return "unsuitable", too_large
    # What nobody told of the plate may be better than usual.
    loosest = judge.loosest.amplifier
    rated = rated_of(job, loosest)
    if rated is None:
        return None
    if job.least_outputs > rated.channels:
        return "unsuitable", layout_checks.channel_check(None, job, loosest, judge.given)
    most = spread_of(job, amplifier)[1]
    for feed in job.feeds:
        highest = _highest_w(feed, rated, most)
        if feed.need_w is None or highest is None:
            continue
        if not layout_checks.at_least(highest, feed.need_w):
            return "unsuitable", layout_checks.too_weak(feed, highest)
    return None


def _highest_w(feed: Feed, rated: Rated, most: float) -> float | None:
    """Return the highest power [W] of a feed's speaker with the amplifier for itself.

    None where a power is not known.

    most : what an unknown supply may make of the powers at most [1]
    """
    highest = 0.0
    for plan in alone(feed, rated):
        use = plan.uses[0]
        if use.power.high is None:
            return None
        speakers = feed.count / len(use.outputs)  # on each output
        highest = max(highest, most * use.power.high / speakers)
    return highest

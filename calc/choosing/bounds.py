"""Verdicts that need no search: what no layout can overturn."""

from collections.abc import Sequence

from calc.answers.sheet import State
from calc.bridging.assigning import Bank
from calc.choosing.checks import amplifier as own_checks
from calc.choosing.checks import layout as layout_checks
from calc.choosing.checks.kinds import Check
from calc.choosing.layouts.arrangements import alone, banks_of, spread_of
from calc.choosing.layouts.feed import Feed
from calc.choosing.search import Judge


def first_verdict(judge: Judge) -> tuple[State, Check] | None:
    """Return a verdict that no layout can overturn with the check that decides, or None.

    Looked at are checks that no layout changes, the count of outputs, the room that the bare
    body takes, and the power of each feed as if it had the amplifier for itself.  None means
    that only the full search can tell.
    """
    job, parts = judge.job, judge.installed.parts
    for check in judge.own:
        if check.is_must and check.state == "unsuitable":
            return "unsuitable", check
    for part in parts:
        too_large = own_checks.body_check(job, part.amplifier)
        if too_large is not None:
            return "unsuitable", too_large
    # What nobody told of the plate may be better than usual.
    loosest = judge.loosest.installed
    banks = banks_of(job, loosest)
    if banks is None:
        return None
    if job.fewest_outputs > sum(bank.count for bank in banks):
        return "unsuitable", layout_checks.channel_check(None, job, loosest)
    most = max(spread_of(job, part.amplifier)[1] for part in parts)
    may_stay = {variant.sharing.on_radio for variant in job.variants}
    for feed in job.feeds:
        if feed.need_w is None or feed.rows[0] in may_stay:
            continue
        highest = _highest_w(feed, banks, most)
        if highest is not None and not layout_checks.at_least(highest, feed.need_w):
            return "unsuitable", layout_checks.too_weak(feed, highest)
    return None


def _highest_w(feed: Feed, banks: Sequence[Bank], most: float) -> float | None:
    """Return the highest power [W] of a feed's speaker with the amplifier for itself.

    None where a power is not known.

    most : what an unknown supply may make of the powers at most [1]
    """
    highest = 0.0
    for plan in alone(feed, banks):
        use = plan.uses[0]
        if use.power.high is None:
            return None
        speakers = feed.count / len(use.outputs)  # on each output
        highest = max(highest, most * use.power.high / speakers)
    return highest

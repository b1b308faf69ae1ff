"""The checks of a layout: channels, powers, filters, and what follows from the power in use."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import State
from calc.choosing.checks.bands import open_bands
from calc.choosing.checks.kinds import Check, judged, plain
from calc.choosing.layouts.arrangements import Layout, missing_plate
from calc.choosing.layouts.feeds import Feed, Job
from calc.choosing.questions.cabling import cable_question, supply_question
from calc.choosing.questions.crossovers import (
    Assignment,
    channel_texts,
    own_names,
    split_question,
)
from calc.choosing.questions.demand import loud_draw
from calc.choosing.questions.placement import heat_question
from calc.crossovers.filter_split import FRAGILE
from calc.inputs.declared import replaced
from calc.system.amplifier import Amplifier
from calc.system.usual import RUN_M

_SLOPE = "filter_db_per_octave"
FILTERS_NEEDED = "every edge of every section made"
_PLATE_WORDS = {
    "channels": "how many channels",
    "power_4ohm_w": "its power at 4 Ω",
    "min_channel_ohm": "the lowest load of a channel",
}


def channel_check(layout: Layout | None, job: Job, amplifier: Amplifier, given: Amplifier) -> Check:
    """Return the check of channels and loads.

    amplifier, given : with usual figures where none are told, and as it was told
    """
    needed = ", ".join(
        f"{feed.count} × {feed.name}" + ("" if feed.may_join else " apart")
        if feed.count > 1
        else feed.name
        for feed in job.feeds
    )
    missing = missing_plate(amplifier)
    if missing:
        words = listed([_PLATE_WORDS[key] for key in missing])
        return Check("channels", needed, f"{words} not known", "not known", keys=tuple(missing))
    if layout is None:
        return Check("channels", needed, _why_no_layout(job, amplifier), "unsuitable")
    joined = [feed.name for feed, _, use in layout.uses if use.joins_left_and_right]
    if joined:
        has = f"left and right of {listed(joined)} on one output"
        return Check("channels", needed, has, "unsuitable")
    if layout.is_bridged and amplifier.may_bridge is False:
        return Check("channels", needed, "pairs bridged, and it may not be", "unsuitable")
    if layout.is_bridged and amplifier.may_bridge is None:
        has = (
            f"grouping {layout.plan.name}, and whether it may be bridged is not known: look for a "
            "bridged power, or bridge marks at its terminals"
        )
        return Check("channels", needed, has, "not known", keys=("may_be_bridged",))
    has = f"grouping {layout.plan.name}"
    if given.channels is None:
        return Check("channels", needed, f"{has} of 4 channels", "likely", keys=("channels",))
    return Check("channels", needed, has, "suitable")


def _why_no_layout(job: Job, amplifier: Amplifier) -> str:
    least, channels = job.least_outputs, amplifier.channels or 0
    if least > channels:
        return f"{channels} channels where {least} are needed"
    lowest = plain(quantity(amplifier.min_channel_ohm, "Ω"))
    return f"no wiring fits {channels} channels of at least {lowest}"


def power_checks(layout: Layout) -> list[Check]:
    """Return a check of the power for each feed.

    A power that nobody wished for is no must: less than usual is told, and so is more.
    """
    checks = []
    for feed, wiring, use in layout.uses:
        parts = use.per_output * wiring.drivers
        low, best, high = (
            None if watts is None else factor * watts / parts
            for factor, watts in zip(
                (layout.spread[0], 1.0, layout.spread[1]),
                (use.power.low, use.power.best, use.power.high),
                strict=True,
            )
        )
        if layout.spread != (1.0, 1.0):
            best = None
        has = "not known"
        if best is not None:
            has = f"{rounded(best, 3)} W"
        elif low is not None and high is not None:
            has = f"{rounded(low, 3)} to {rounded(high, 3)} W"
        state = _power_state(low, high, feed.need_w)
        rated_w = feed.speaker.rated_w
        quieter_db = None
        if feed.need_w is None and low is not None and high is not None:
            quieter_db = _quieter_db(high, rated_w)
            has += _beside_rating(low, quieter_db, rated_w)
        is_weak = feed.need_w is None and not (
            low is not None and at_least(low, _USUAL_SHARES[0] * rated_w)
        )
        needed = _power_needed(feed)
        checks.append(Check("power", needed, has, state, True, is_weak, quieter_db, feed=feed.name))
    return checks


# Power over rating that needs no word (common practice, no source).
_USUAL_SHARES = (0.5, 1.5)


def _power_state(low: float | None, high: float | None, need_w: float | None) -> State:
    if need_w is None:
        return "not known" if low is None or high is None else "suitable"
    if low is not None and at_least(low, need_w):
        return "suitable"
    return "unsuitable" if high is not None and not at_least(high, need_w) else "not known"


def _power_needed(feed: Feed) -> str:
    if feed.need_w is not None:
        return f"{rounded(feed.need_w, 3)} W each"
    return f"no figure asked for; rated {rounded(feed.speaker.rated_w, 3)} W each"


def _quieter_db(high: float, rated_w: float) -> float | None:
    """Return how much less loud than at its rating a speaker plays; None where it is not much."""
    if at_least(high, _USUAL_SHARES[0] * rated_w):
        return None
    return 10 * math.log10(rated_w / high)


def _beside_rating(low: float, quieter_db: float | None, rated_w: float) -> str:
    """Say how a power stands beside a speaker's rating, where it is much less or much more."""
    if quieter_db is not None:
        return f": plays {rounded(quieter_db, 2)} dB less loud than its rating would"
    if low > _USUAL_SHARES[1] * rated_w * (1 + 1e-9):
        return ": more than it is rated for, so the gain’s ceiling goes by its rating"
    return ""


def open_powers(job: Job) -> list[Check]:
    """Return the checks of the powers where no layout is known."""
    return [
        Check("power", _power_needed(feed), "not known", "not known", feed=feed.name)
        for feed in job.feeds
    ]


def too_weak(feed: Feed, highest_w: float) -> Check:
    """Return the check that fails because a feed cannot get the power it needs [W]."""
    needed = f"{rounded(feed.need_w or 0.0, 3)} W each"
    has = f"at most {rounded(highest_w, 3)} W"
    return Check("power", needed, has, "unsuitable", feed=feed.name)


def open_filters() -> tuple[Check, ...]:
    """Return the check of the filters where it is not known what is on which channel."""
    return (Check("filters", FILTERS_NEEDED, "what is on which channel is not known", "not known"),)


def at_least(value: float, limit: float) -> bool:
    """Tell whether a figure reaches a limit; what is typed with a few digits counts as met."""
    return value >= limit * (1 - 1e-9)


def filter_check(job: Job, assignment: Assignment, amplifier: Amplifier, given: Amplifier) -> Check:
    """Return the check of the filters with the feeds on their outputs.

    Where the amplifier's are not told, usual ones are taken.  They never stand for the high-pass
    that a tweeter or midrange must have: that has to be known.  Where the bands of the speakers
    are not told, usual ones are taken, and what rests on these is no more than likely.

    amplifier, given : with usual figures where none are told, and as it was told
    """
    depends_on = (tuple(assignment), amplifier.own_filters, given.own_filters)
    if depends_on not in job.found_filters:
        check = _by_bands(job, assignment, amplifier, given)
        job.found_filters[depends_on] = (check.state, check.has, check.keys)
    state, has, keys = job.found_filters[depends_on]
    return Check("filters", FILTERS_NEEDED, has, state, keys=keys)


def _by_bands(job: Job, assignment: Assignment, amplifier: Amplifier, given: Amplifier) -> Check:
    """Return the check, weakened by the bands of speakers that nobody told."""
    check = _filter_check(job, assignment, amplifier, given)
    bands = open_bands(job)
    if bands is None or check.state == "not known":
        return check
    keys = (*check.keys, *bands.keys)
    if check.state == "unsuitable":
        every = bands.every()
        if every is not None and all(
            _filter_check(other, assignment, amplifier, given).state == "unsuitable"
            for other in every
        ):
            return check
        has = f"it depends on the speakers’ bands; with the usual ones, {check.has}"
        return replace(check, state="not known", has=has, keys=keys)
    for other in bands.usual():
        with_other = _filter_check(other, assignment, amplifier, given)
        if with_other.state not in ("suitable", "likely"):
            has = f"it depends on the speakers’ bands: {with_other.has}"
            return replace(check, state="not known", has=has, keys=keys)
    return replace(check, state="likely", keys=keys)


def _filter_check(
    job: Job, assignment: Assignment, amplifier: Amplifier, given: Amplifier
) -> Check:
    """Return the check of the filters with the speakers' bands as they are, or as is usual."""
    question = split_question(job, assignment, amplifier)
    check = judged("filters", FILTERS_NEEDED, question)
    keys = given.own_filters.missing
    if keys:
        if not guarded_without(job, assignment, given):
            has = "missing: its filters, and a tweeter or midrange needs a high-pass that is known"
            return Check("filters", FILTERS_NEEDED, has, "not known", keys=keys)
        if check.state == "suitable":
            has = f"{check.has}, by the usual filters"
            return replace(check, state="likely", has=has, keys=keys)
        if check.state == "unsuitable" and not _hopeless(job, assignment, amplifier, keys):
            has = f"it depends on its filters; with the usual ones, {check.has}"
            return replace(check, state="not known", has=has, keys=keys)
    # The calculator knows the sections by their kinds; the reader, by the speakers' names.
    whose = [
        f"{word} is {name}"
        for word, name in own_names(job, assignment)
        if word not in name and re.search(rf"\b{re.escape(word)}(?! ?\d)\b", check.has)
    ]
    return replace(check, has=f"{check.has} ({listed(whose)})") if whose else check


def guarded_without(job: Job, assignment: Assignment, given: Amplifier) -> bool:
    """Tell whether no tweeter or midrange needs a filter of the amplifier that nobody told of."""
    if not given.own_filters.missing:
        return True
    if not any(speaker.section in FRAGILE for speaker in job.speakers):
        return True
    result = split_question(job, assignment, given).result
    return result is not None and all(
        section.is_protected for section in result.sections if section.section.kind in FRAGILE
    )


def _hopeless(
    job: Job, assignment: Assignment, amplifier: Amplifier, missing: Sequence[str]
) -> bool:
    """Tell whether no filters that an amplifier may have would do, with those that are told."""
    question = split_question(job, assignment, replaced(amplifier, _most(assignment, missing)))
    return question.verdict.state == "unsuitable"


def _most(assignment: Assignment, missing: Sequence[str]) -> dict[str, str]:
    """Return the most that may stand in the columns that are not told."""
    if not {"high_pass_hz", "low_pass_hz"} <= set(missing):
        most = dict.fromkeys(missing, "10-30000")
        return {**most, **({"filter_db_per_octave": "6/12/18/24"} if _SLOPE in missing else {})}
    # A filter for each pair of channels alone; which family it is of decides nothing.
    rows = [
        f"{channels.replace('+', '/')} {kind} 10-30000 1 butterworth 1/2/3/4 - yes"
        for channels in dict.fromkeys(
            text for outputs in assignment for text in channel_texts(outputs)
        )
        for kind in ("high-pass", "low-pass")
    ]
    return {"filters": " | ".join(rows)}


def _fuse_check(job: Job, total_w: float | None, amplifier: Amplifier) -> Check | None:
    """Return the check that the amplifier's own fuses bear what it is said to draw.

    Nobody is asked for them: the usual ones bear it.  Those that are told may be in doubt, where
    not even the least draw that is usual suits them.  None where no power is known.
    """
    if total_w is None:
        return None
    least_a, most_a = loud_draw(job, total_w, amplifier)
    fuses_a = amplifier.own_fuses_a
    needed = plain(f"{quantity(most_a, 'A', 3)} with loud music")
    if fuses_a is None:
        return Check("its own fuses", needed, "not told: the usual ones bear it", "likely")
    has = plain(quantity(sum(fuses_a), "A", 3))
    if at_least(sum(fuses_a), most_a) and amplifier.efficiency_percent is not None:
        return Check("its own fuses", needed, has, "suitable")
    if at_least(sum(fuses_a), least_a):
        return Check("its own fuses", needed, f"{has}, by the usual figures", "likely")
    doubt = f"{has}: a figure is wrong, or it does not reach its power"
    return Check("its own fuses", needed, doubt, "not known", keys=("fuses_a",))


def _heat_check(job: Job, amplifier: Amplifier, check: Check) -> Check:
    """Return the check of heat with what else to ask for: air settles it whatever the rest is."""
    lacking = ["limit_c"] * (amplifier.limit_c is None)
    lacking += ["area_m2"] * (job.system.air.area_m2 is None)
    lacking += ["closed"] * (not lacking)
    is_open = check.state == "not known"
    return replace(check, keys=(*lacking, *check.keys)) if is_open else check


def demand_checks(job: Job, total_w: float | None, amplifier: Amplifier) -> Iterable[Check]:
    """Return the checks of what follows from the power in use: heat, cable, supply."""
    if job.system.air.closed:
        heat = heat_question(job, total_w, amplifier)
        yield _heat_check(job, amplifier, judged("heat", "air that stays cool enough", heat))
    cable = cable_question(job, total_w, amplifier, run_m=RUN_M)
    yield judged("cable", "a cable and a fuse that carry it", cable)
    fuses = _fuse_check(job, total_w, amplifier)
    if fuses is not None:
        yield fuses
    supply = supply_question(job, total_w, amplifier)
    yield judged("supply", "an alternator that keeps up", supply)

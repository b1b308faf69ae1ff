"""The checks of a layout: channels, powers, filters, and what follows from the power in use."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import State
from calc.bridging.mapping import Output
from calc.choosing.checks.kinds import Check, judged, plain
from calc.choosing.installed import Installed
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.cabling import set_supply_question
from calc.choosing.questions.demand import loud_draw
from calc.choosing.questions.placement import heat_question
from calc.choosing.questions.power import power_question
from calc.choosing.questions.sets import TreeLoad
from calc.system.amplifier import Amplifier
from calc.system.usual import RUN_M

_PLATE_WORDS = {
    "channels": "the number of channels",
    "power_4ohm_w": "the RMS power at 4 Ω",
    "min_channel_ohm": "the minimum load per channel",
}


def channel_check(layout: Layout | None, job: Job, together: Installed) -> Check:
    """Return the check of channels and loads.

    together : the amplifiers; what nobody told of them is taken as usual
    """
    needed = job.outputs_words
    missing = together.missing_plate
    if missing:
        words = listed([_PLATE_WORDS[key] for key in missing])
        return Check("channels", needed, f"missing: {words}", "not known", keys=missing)
    if layout is None:
        return Check("channels", needed, _why_no_layout(job, together), "unsuitable")
    joined = [feed.name for feed, _, use in layout.uses if use.joins_left_and_right]
    if joined:
        has = f"left and right {listed(joined)} on one output"
        return Check("channels", needed, has, "unsuitable")
    bridged = [part.amplifier for part in layout.bridged_parts]
    if any(amplifier.may_bridge is False for amplifier in bridged):
        return Check(
            "channels", needed, "bridged pairs, but its channels cannot be bridged", "unsuitable"
        )
    if any(amplifier.may_bridge is None for amplifier in bridged):
        has = (
            f"{_outputs_words(layout)}. Whether it can be bridged is not known: look for a "
            "bridged power, or bridge marks at its terminals"
        )
        return Check("channels", needed, has, "not known", keys=("may_be_bridged",))
    has = _outputs_words(layout)
    idle = layout.idle_parts
    if idle:
        has += f"; nothing on {listed([part.name for part in idle])}"
    if any(part.given.channels is None for part in together.parts):
        return Check("channels", needed, f"{has}, of 4 channels", "likely", keys=("channels",))
    return Check("channels", needed, has, "suitable")


def _outputs_words(layout: Layout) -> str:
    """Say which channels are used alone, and which as bridged pairs."""
    is_single = layout.installed.is_single
    words = [
        ("" if is_single else f"{part.name}: ")
        + _used_words(tuple(map(part.own, layout.outputs_of(part))))
        for part in layout.installed.parts
        if layout.outputs_of(part)
    ]
    return "; ".join(words)


# Of a stock list many layouts use the same channels.
@lru_cache(maxsize=256)
def _used_words(own: tuple[Output, ...]) -> str:
    """Say which outputs are used, as the amplifier itself numbers them."""
    outputs = sorted(own)
    singles = [str(output[0]) for output in outputs if len(output) == 1]
    pairs = [f"{low} + {high}" for low, high in (out for out in outputs if len(out) == 2)]
    parts = []
    if singles:
        parts.append(f"channel{'s' if len(singles) > 1 else ''} {listed(singles)}")
    if pairs:
        parts.append(f"{listed(pairs)} bridged")
    return ", ".join(parts)


def _why_no_layout(job: Job, together: Installed) -> str:
    least = job.fewest_outputs
    channels = sum(part.amplifier.channels or 0 for part in together.parts)
    if least > channels:
        return f"{channels} channel{'' if channels == 1 else 's'}, where {least} are needed"
    lows = [part.amplifier.min_channel_ohm for part in together.parts]
    lowest = plain(quantity(min(low for low in lows if low is not None), "Ω"))
    return f"no wiring option suits {channels} channels stable to {lowest}"


ASKED_WORDS = {
    "apart": "each pair on its own channels",
    "joined": "front and rear in parallel, left with left",
    "radio": "a pair left on the head unit’s own power",
    "bridged": "bridged pairs",
    "own-amplifier": "the sub on an amplifier of its own",
}


def asked_check(layout: Layout, job: Job) -> list[Check]:
    """Return the check that the layout is as the reader asked; none where any will do."""
    asked = job.system.wishes.layout
    if asked == "best":
        return []
    does = layout.is_as_asked(asked)
    has = "as asked" if does else "another layout"
    return [Check("layout", ASKED_WORDS[asked], has, "suitable" if does else "unsuitable")]


def power_checks(layout: Layout) -> list[Check]:
    """Return a check of the power for each pair or group of speakers.

    A power that nobody wished for is no must: less than usual is told, and so is more.
    """
    checks = []
    for feed, use, share in layout.shares():
        low, best, high = (
            None if watts is None else factor * watts * share
            for factor, watts in zip(
                (layout.spread[0], 1.0, layout.spread[1]),
                (use.power.low, use.power.best, use.power.high),
                strict=True,
            )
        )
        if layout.spread != (1.0, 1.0):
            best = None
        checks.append(_power_check(feed, low, best, high))
    checks += [_radio_check(layout.job, feed) for feed in layout.job.on_radio]
    return checks


def _power_check(feed: Feed, low: float | None, best: float | None, high: float | None) -> Check:
    """Return the check of the power of one speaker [W]: what it is, or within what it lies."""
    return _power_held(feed.name, feed.need_w, feed.speaker.rated_w, low, best, high)


# Of a stock list many layouts give a speaker the same power.
@lru_cache(maxsize=512)
def _power_held(
    name: str,
    need_w: float | None,
    rated_w: float,
    low: float | None,
    best: float | None,
    high: float | None,
) -> Check:
    has = "look up the amplifier’s power at this load"
    if best is not None:
        has = f"{rounded(best, 3)} W"
    elif low is not None and high is not None:
        has = f"{rounded(low, 3)} to {rounded(high, 3)} W"
    state = _power_state(low, high, need_w)
    quieter_db = None
    if need_w is None and low is not None and high is not None:
        quieter_db = _quieter_db(high, rated_w)
        has += _beside_rating(low, quieter_db, rated_w)
    is_weak = need_w is None and not (low is not None and at_least(low, _USUAL_SHARES[0] * rated_w))
    needed = _power_needed(need_w, rated_w)
    return Check("power", needed, has, state, True, is_weak, quieter_db, feed=name)


def forget_words() -> None:
    """Forget the words of channels and powers."""
    _used_words.cache_clear()
    _power_held.cache_clear()


def _radio_check(job: Job, feed: Feed) -> Check:
    """Return the check of the power that the radio itself gives a pair."""
    watts = job.radio_w(feed)
    check = _power_check(feed, watts, watts, watts)
    has = f"{check.has}, from the head unit"
    if job.given.head_unit.factory_power_w is None and check.state == "suitable":
        keys = ("factory_power_w",)
        return replace(check, has=f"{has}, the usual figure", state="likely", keys=keys)
    return replace(check, has=has)


# Power over rating that needs no word (common practice, no source).
_USUAL_SHARES = (0.5, 1.5)


def _power_state(low: float | None, high: float | None, need_w: float | None) -> State:
    if need_w is None:
        return "not known" if low is None or high is None else "suitable"
    if low is not None and at_least(low, need_w):
        return "suitable"
    return "unsuitable" if high is not None and not at_least(high, need_w) else "not known"


def _power_needed(need_w: float | None, rated_w: float) -> str:
    if need_w is not None:
        return f"{rounded(need_w, 3)} W each"
    return f"none set; rated {rounded(rated_w, 3)} W RMS each"


def _quieter_db(high: float, rated_w: float) -> float | None:
    """Return how much less loud than at its rating a speaker plays; None where it is not much."""
    if at_least(high, _USUAL_SHARES[0] * rated_w):
        return None
    return 10 * math.log10(rated_w / high)


def _beside_rating(low: float, quieter_db: float | None, rated_w: float) -> str:
    """Say how a power stands beside a speaker's rating, where it is much less or much more."""
    if quieter_db is not None:
        return f", {rounded(quieter_db, 2)} dB quieter than its rating allows"
    if low > _USUAL_SHARES[1] * rated_w * (1 + 1e-9):
        return ", more than its rating: set the gain by the rating"
    return ""


def open_powers(job: Job) -> list[Check]:
    """Return the checks of the powers where no layout is known."""
    return [
        Check(
            "power",
            _power_needed(feed.need_w, feed.speaker.rated_w),
            "no layout is known",
            "not known",
            feed=feed.name,
        )
        for feed in job.feeds
    ]


def too_weak(feed: Feed, highest_w: float) -> Check:
    """Return the check that fails because a feed cannot get the power it needs [W]."""
    needed = f"{rounded(feed.need_w or 0.0, 3)} W each"
    has = f"at most {rounded(highest_w, 3)} W"
    return Check("power", needed, has, "unsuitable", feed=feed.name)


def at_least(value: float, limit: float) -> bool:
    """Tell whether a figure reaches a limit; what is typed with a few digits counts as met."""
    return value >= limit * (1 - 1e-9)


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
        return Check("its own fuses", needed, "not known: the usual rating is enough", "likely")
    has = plain(quantity(sum(fuses_a), "A", 3))
    if at_least(sum(fuses_a), most_a) and amplifier.efficiency_percent is not None:
        return Check("its own fuses", needed, has, "suitable")
    if at_least(sum(fuses_a), least_a):
        return Check("its own fuses", needed, f"{has}, with the usual figures", "likely")
    doubt = f"{has}: one figure is wrong, or it cannot make its rated power"
    return Check("its own fuses", needed, doubt, "not known", keys=("fuses_a",))


def _heat_check(job: Job, amplifier: Amplifier, check: Check) -> Check:
    """Return the check of heat with what else to ask for: air settles it whatever the rest is."""
    lacking = ["limit_c"] * (amplifier.limit_c is None)
    lacking += ["area_m2"] * (job.system.air.area_m2 is None)
    lacking += ["closed"] * (not lacking)
    is_open = check.state == "not known"
    return replace(check, keys=(*lacking, *check.keys)) if is_open else check


def demand_checks(
    job: Job, powers_w: Sequence[float | None], together: Installed
) -> Iterable[Check]:
    """Return the checks of what follows from the power in use: heat, cable, supply.

    powers_w : of each amplifier's outputs together; None where that is not known
    """
    amplifier = together.drawing(powers_w)
    known = [watts for watts in powers_w if watts is not None]
    total_w = sum(known) if len(known) == len(powers_w) else None
    if job.system.air.closed:
        heat = heat_question(job, total_w, amplifier)
        yield _heat_check(job, amplifier, judged("heat", "air that stays cool enough", heat))
    loads = [
        TreeLoad(amplifier=part.amplifier, total_w=watts)
        for part, watts in zip(together.parts, powers_w, strict=True)
        if watts != 0
    ]
    cable = power_question(job, loads, run_m=RUN_M)
    yield judged("cable", "a cable and a fuse for the current", cable)
    for part, watts in zip(together.parts, powers_w, strict=True):
        fuses = _fuse_check(job, watts, part.amplifier) if watts != 0 else None
        if fuses is not None:
            yield replace(fuses, about="" if together.is_single else part.name)
    supply = set_supply_question(job, loads)
    yield judged("supply", "an alternator and a battery that cope", supply)


def within(
    most: Sequence[Check], least: Sequence[Check], keys: tuple[str, ...]
) -> tuple[Check, ...]:
    """Return checks of what an amplifier may give at most: not known where the least would do.

    least : the checks of what it gives at least
    keys : the figures that tell its power
    """
    states = {(check.kind, check.about): check.state for check in least}
    return tuple(
        replace(
            check,
            state="not known",
            has=f"depends on the amplifier’s power at this load; at its most, {check.has}",
            keys=keys,
        )
        if check.state == "unsuitable" and states.get((check.kind, check.about)) != "unsuitable"
        else check
        for check in most
    )

"""One amplifier more beside those that there are, just strong enough."""

from collections.abc import Iterator
from dataclasses import replace

from calc.answers.figures import rounded
from calc.choosing.installed import MOST_INSTALLED
from calc.choosing.layouts.feed import Feed
from calc.choosing.remedies.case import Aim, Case, Change
from calc.choosing.remedies.figures import RATINGS_W
from calc.system.amplifier import Amplifier

# What a mono gives at 2 Ω over 4 Ω, and a pair of channels (common practice, from memory).
_MONO_2OHM, _PAIR_2OHM = 1.6, 1.4
_MOST_W = 1000.0
_USUAL = Amplifier(name="", min_channel_ohm=2.0, rated_v=14.4, regulated=False, amplifier_class="d")
_COUNTS = {2: "two-channel", 4: "four-channel"}


def one_more(aim: Aim) -> Iterator[Change]:
    """Yield a mono for a subwoofer, and a two- or four-channel for other speakers.

    What is not asked for stays not known of it; of its power, at least half of what the speakers
    are rated for.
    """
    case = aim.case
    if len(case.amplifiers) >= MOST_INSTALLED:
        return
    woofers = [feed for feed in case.job.feeds if feed.section == "woofer"]
    others = [feed for feed in case.job.feeds if feed.section != "woofer"]
    if woofers:
        strong = frozenset(f"power: {feed.name}" for feed in woofers)
        yield from _mono(replace(aim, besides=strong), woofers)
    wants_woofer = any(feed.name == aim.check.feed for feed in woofers)
    if others and not wants_woofer:
        # Who buys one more need not let pairs share, or leave one on the radio.
        short = case.job.least_outputs - case.outputs
        yield from _pairs(aim, others, 4 if short > 2 else 2)


def _mono(aim: Aim, woofers: list[Feed]) -> Iterator[Change]:
    least_w = min(_least_w(feed) * feed.count for feed in woofers) / _MONO_2OHM

    def beside(watts: float) -> Case:
        return aim.case.of_amplifiers(*aim.case.amplifiers, mono(watts))

    watts = aim.first(_ratings(least_w), beside, sure=False)
    if watts is None:
        return
    changed = beside(watts)
    for feed, at_ohm, power_w in _on_the_last(changed):
        words = (
            f"with a mono amplifier of at least {power_w} W at {at_ohm} Ω as well, for {feed.name}"
        )
        yield Change("second-amplifier", words, changed)
        return


def _pairs(aim: Aim, others: list[Feed], channels: int) -> Iterator[Change]:
    least_w = min(map(_least_w, others))

    def beside(watts: float) -> Case:
        return aim.case.of_amplifiers(*aim.case.amplifiers, channels_of(channels, watts))

    watts = aim.first(_ratings(least_w), beside, sure=False)
    if watts is not None:
        words = (
            f"with a {_COUNTS[channels]} amplifier of at least {rounded(watts)} W per channel "
            "at 4 Ω as well"
        )
        yield Change("second-amplifier", words, beside(watts), channels / 4)


def _ratings(least_w: float) -> list[float]:
    return [watts for watts in RATINGS_W if least_w <= watts <= _MOST_W]


def _least_w(feed: Feed) -> float:
    return feed.need_w or feed.speaker.rated_w / 2


def _on_the_last(case: Case) -> Iterator[tuple[Feed, str, str]]:
    """Yield what the last amplifier carries, at what load and with what power."""
    layout, last = case.best.layout, case.parts[-1]
    for feed, _, use in () if layout is None else layout.uses:
        if any(map(last.has, use.outputs)) and use.power.low is not None:
            yield feed, rounded(use.load_ohm), rounded(use.power.low, 3)


def mono(watts: float) -> Amplifier:
    """Return a mono of this power at 4 Ω [W], with a low-pass and else as it is usual."""
    return replace(
        _USUAL,
        name="mono",
        channels=1,
        power_4ohm_w=watts,
        power_2ohm_w=_MONO_2OHM * watts,
        high_pass_hz="off",
        low_pass_hz="40-200",
        filter_db_per_octave="12/24",
        may_be_bridged=False,
    )


def channels_of(count: int, watts: float) -> Amplifier:
    """Return an amplifier of so many channels with this power at 4 Ω [W], else as usual."""
    return replace(
        _USUAL,
        name=f"{_COUNTS[count]} amplifier",
        channels=count,
        power_4ohm_w=watts,
        power_2ohm_w=_PAIR_2OHM * watts,
        high_pass_hz="50-250",
        low_pass_hz="50-250",
        filter_db_per_octave="12",
        may_be_bridged=True,
    )

"""Every way to put a job's speakers on an amplifier's channels: wirings, then groupings."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from calc.bridging.mapping import Output, Plan, Use, assignments
from calc.choosing.layouts.feeds import Feed, Job
from calc.choosing.layouts.wirings import Wiring, wirings
from calc.physics.channel_power import CTA_2006_V, Channel, supply_factor
from calc.system.amplifier import Amplifier

NEEDED = ("channels", "power_4ohm_w", "min_channel_ohm")  # without these no layout is known


@dataclass(frozen=True)
class Layout:
    """Wirings of the feeds, and the channels that carry them.

    spread : what an unknown supply may make of the plan's powers, at least and at most [1]
    """

    job: Job
    wirings: tuple[Wiring, ...]
    plan: Plan
    spread: tuple[float, float] = (1.0, 1.0)

    @property
    def uses(self) -> tuple[tuple[Feed, Wiring, Use], ...]:
        """Each feed with its wiring and what `channel-map` says of it."""
        return tuple(zip(self.job.feeds, self.wirings, self.plan.uses, strict=True))

    @property
    def total_w(self) -> float | None:
        """The power [W] of all outputs together, at its upper bound; None when not known."""
        powers = [(use.power.high, len(use.outputs)) for use in self.plan.uses]
        if any(power is None for power, _ in powers):
            return None
        total = sum(power * count for power, count in powers if power is not None)
        return total * self.spread[1]

    @property
    def is_bridged(self) -> bool:
        """Whether a feed has a bridged pair."""
        return any(len(output) == 2 for use in self.plan.uses for output in use.outputs)

    @property
    def assignment(self) -> tuple[tuple[Output, ...], ...]:
        """The outputs of each feed: all that the filters depend on."""
        return tuple(use.outputs for use in self.plan.uses)


def missing_plate(amplifier: Amplifier) -> list[str]:
    """Return the figures of the plate without which no layout is known."""
    return [key for key in NEEDED if getattr(amplifier, key) is None]


@dataclass(frozen=True)
class Rated:
    """What the plate of an amplifier says, where it says what is needed.

    factor : what the job's supply makes of rated power [1]
    """

    channels: int
    channel: Channel
    factor: float


def rated_of(job: Job, amplifier: Amplifier) -> Rated | None:
    """Return the plate of an amplifier; None where a needed figure is missing."""
    channels, watts = amplifier.channels, amplifier.power_4ohm_w
    least = amplifier.min_channel_ohm
    if channels is None or watts is None or least is None:
        return None
    channel = Channel(
        power_4ohm_w=watts,
        power_2ohm_w=amplifier.power_2ohm_w,
        power_8ohm_w=amplifier.power_8ohm_w,
        min_load_ohm=least,
        rated_bridged_w=amplifier.rated_bridged_w,
    )
    return Rated(channels, channel, factor_of(job, amplifier))


def factor_of(job: Job, amplifier: Amplifier) -> float:
    """Return what the job's supply makes of the amplifier's rated power [1]."""
    return supply_factor(
        supply_v=job.system.charging.running_v,
        rated_v=amplifier.rated_v or CTA_2006_V,
        regulated=bool(amplifier.regulated),
        regulated_min_v=amplifier.regulated_min_v,
    )


def spread_of(job: Job, amplifier: Amplifier) -> tuple[float, float]:
    """Return what the factor of the supply may be at least and at most, over `factor_of` [1].

    Whether a supply is regulated may not be known, and then both are possible.  Where the voltage
    of the rating is not known it is taken as the usual 14.4 V, but no gain is made of that.
    """
    taken = factor_of(job, amplifier)
    if amplifier.regulated is None:
        other = factor_of(job, replace(amplifier, regulated=True)) / taken
        return min(1.0, other), max(1.0, other)
    if amplifier.rated_v is None:
        return min(1.0, 1 / taken), 1.0
    return 1.0, 1.0


def layouts(job: Job, amplifier: Amplifier) -> Iterator[Layout]:
    """Yield every layout, in a fixed order; none when a needed figure of the plate is missing.

    For each choice of a wiring for every feed, every assignment of the feeds to outputs.
    """
    rated = rated_of(job, amplifier)
    if rated is None:
        return
    spread = spread_of(job, amplifier)
    for chosen in product(*(_bearable(feed, rated.channel) for feed in job.feeds)):
        pairs = zip(job.feeds, chosen, strict=True)
        sections = tuple(wiring.section(feed) for feed, wiring in pairs)
        for plan in assignments(
            sections, rated.channel, channels=rated.channels, supply_factor=rated.factor
        ):
            yield Layout(job, chosen, plan, spread)


def _bearable(feed: Feed, channel: Channel) -> list[Wiring]:
    """Return the wirings of which one unit alone is not too low for a channel."""
    return [wiring for wiring in wirings(feed) if channel.takes(load_ohm=wiring.load_ohm)]


def alone(feed: Feed, rated: Rated) -> Iterator[Plan]:
    """Yield the assignments of the feed as if it had the amplifier for itself."""
    for wiring in _bearable(feed, rated.channel):
        yield from assignments(
            (wiring.section(feed),),
            rated.channel,
            channels=rated.channels,
            supply_factor=rated.factor,
        )

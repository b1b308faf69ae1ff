"""Every way to put a job's speakers on an amplifier's channels: wirings, then groupings."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

from calc.bridging.mapping import Output, Plan, Use, assignments
from calc.choosing.job import Feed, Job
from calc.choosing.wiring import Wiring, wirings
from calc.physics.channel_power import CTA_2006_V, Channel, supply_factor

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


def may_bridge(amplifier: Mapping[str, Any]) -> bool | None:
    """Tell whether pairs of its channels may be bridged; None where it is not known.

    Who gives a bridged power says that they may, unless told otherwise.

    >>> may_bridge({"may_be_bridged": None, "rated_bridged_w": 140.0})
    True
    """
    if amplifier["may_be_bridged"] is None and amplifier["rated_bridged_w"] is not None:
        return True
    return amplifier["may_be_bridged"]


def missing_plate(amplifier: Mapping[str, Any]) -> list[str]:
    """Return the figures of the plate without which no layout is known."""
    return [key for key in NEEDED if amplifier[key] is None]


def channel_of(amplifier: Mapping[str, Any]) -> Channel:
    """Return a channel of the amplifier; its plate must have the needed figures."""
    return Channel(
        power_4ohm_w=amplifier["power_4ohm_w"],
        power_2ohm_w=amplifier["power_2ohm_w"],
        power_8ohm_w=amplifier["power_8ohm_w"],
        min_load_ohm=amplifier["min_channel_ohm"],
        rated_bridged_w=amplifier["rated_bridged_w"],
    )


def factor_of(job: Job, amplifier: Mapping[str, Any]) -> float:
    """Return what the job's supply makes of the amplifier's rated power [1]."""
    return supply_factor(
        supply_v=job.given["running_v"],
        rated_v=amplifier["rated_v"] or CTA_2006_V,
        regulated=bool(amplifier["regulated"]),
        regulated_min_v=amplifier["regulated_min_v"],
    )


def spread_of(job: Job, amplifier: Mapping[str, Any]) -> tuple[float, float]:
    """Return what the factor of the supply may be at least and at most, over `factor_of` [1].

    Whether a supply is regulated may not be known, and then both are possible.  Where the voltage
    of the rating is not known it is taken as the usual 14.4 V, but no gain is made of that.
    """
    taken = factor_of(job, amplifier)
    if amplifier["regulated"] is None:
        other = factor_of(job, {**amplifier, "regulated": True}) / taken
        return min(1.0, other), max(1.0, other)
    if amplifier["rated_v"] is None:
        return min(1.0, 1 / taken), 1.0
    return 1.0, 1.0


def layouts(job: Job, amplifier: Mapping[str, Any]) -> Iterator[Layout]:
    """Yield every layout, in a fixed order; none when a needed figure of the plate is missing.

    For each choice of a wiring for every feed, every assignment of the feeds to outputs.
    """
    if missing_plate(amplifier):
        return
    channel, factor = channel_of(amplifier), factor_of(job, amplifier)
    spread = spread_of(job, amplifier)
    for chosen in product(*(_bearable(feed, channel) for feed in job.feeds)):
        sections = tuple(one.section(feed) for feed, one in zip(job.feeds, chosen, strict=True))
        for plan in assignments(
            sections, channel, channels=amplifier["channels"], supply_factor=factor
        ):
            yield Layout(job, chosen, plan, spread)


def _bearable(feed: Feed, channel: Channel) -> list[Wiring]:
    """Return the wirings of which one unit alone is not too low for a channel."""
    return [one for one in wirings(feed) if channel.takes(load_ohm=one.load_ohm)]


def alone(feed: Feed, job: Job, amplifier: Mapping[str, Any]) -> Iterator[Plan]:
    """Yield the assignments of the feed as if it had the amplifier for itself."""
    channel, factor = channel_of(amplifier), factor_of(job, amplifier)
    for one in _bearable(feed, channel):
        yield from assignments(
            (one.section(feed),), channel, channels=amplifier["channels"], supply_factor=factor
        )

"""Every way to put a job's speakers on an amplifier's channels: wirings, then groupings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from calc.bridging.assigning import Bank, assignments
from calc.bridging.mapping import Output, Plan, Use
from calc.choosing.installed import Installed, Part
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.feeds import Job
from calc.choosing.layouts.wirings import Wiring, wirings
from calc.crossovers.filter_split import FRAGILE
from calc.physics.channel_power import CTA_2006_V, Channel, grouping_name, supply_factor
from calc.system.amplifier import Amplifier


@dataclass(frozen=True)
class Layout:
    """Wirings of the feeds, and the channels that carry them.

    installed : the amplifiers whose channels these are
    spread : what an unknown supply may make of the plan's powers, at least and at most [1]
    """

    job: Job
    installed: Installed
    wirings: tuple[Wiring, ...]
    plan: Plan
    spread: tuple[float, float] = (1.0, 1.0)

    @cached_property
    def uses(self) -> tuple[tuple[Feed, Wiring, Use], ...]:
        """Each feed with its wiring and what `channel-map` says of it."""
        return tuple(zip(self.job.feeds, self.wirings, self.plan.uses, strict=True))

    def shares(self) -> Iterator[tuple[Feed, Use, float]]:
        """Yield every pair or group on the amplifiers with its use, and what one speaker gets.

        That is the part of an output's power [0 … 1]; two joined pairs come one by one.
        """
        for feed, wiring, use in self.uses:
            for member in feed.members:
                yield member, use, feed.share_of(member) / use.per_output / wiring.drivers

    @cached_property
    def outputs(self) -> tuple[Output, ...]:
        """The outputs that something hangs on."""
        return tuple(output for use in self.plan.uses for output in use.outputs)

    @cached_property
    def _outputs_by_part(self) -> tuple[tuple[Output, ...], ...]:
        if self.installed.is_single:
            return (self.outputs,)
        return tuple(
            tuple(output for output in self.outputs if part.has(output))
            for part in self.installed.parts
        )

    def outputs_of(self, part: Part) -> tuple[Output, ...]:
        """The outputs of one amplifier that something hangs on, numbered through."""
        return self._outputs_by_part[part.at]

    @property
    def total_w(self) -> float | None:
        """The power [W] of all outputs together, at its upper bound; None when not known."""
        return self._total()

    def power_of(self, part: Part) -> float | None:
        """Return the power [W] of one amplifier's outputs together; None when not known."""
        return self._total(part)

    def least_power_of(self, part: Part) -> float | None:
        """Return the same at its lower bound."""
        return self._total(part, is_least=True)

    @property
    def has_open_power(self) -> bool:
        """Whether the plate leaves open what an output gives into its load."""
        return any(use.power.low != use.power.high for use in self.plan.uses)

    def _total(self, part: Part | None = None, *, is_least: bool = False) -> float | None:
        powers = [
            (use.power.low if is_least else use.power.high, count)
            for use in self.plan.uses
            if (count := sum(part is None or part.has(output) for output in use.outputs))
        ]
        if any(power is None for power, _ in powers):
            return None
        total = sum(power * count for power, count in powers if power is not None)
        return total * self.spread[0 if is_least else 1]

    @property
    def idle_parts(self) -> tuple[Part, ...]:
        """The amplifiers that carry nothing."""
        return tuple(part for part in self.installed.parts if not self.outputs_of(part))

    @property
    def is_mono(self) -> bool:
        """Whether left and right of a pair are one, which is never permitted."""
        return any(use.joins_left_and_right for use in self.plan.uses)

    @property
    def given_up(self) -> int:
        """How many things are given up so that the outputs suffice."""
        return self.job.sharing.count

    @property
    def name(self) -> str:
        """The grouping's name; of several amplifiers each by its own numbers."""
        parts = self.installed.parts
        if len(parts) == 1:
            return self.plan.name
        return " + ".join(
            grouping_name(
                tuple(part.own(output) for output in self.plan.grouping if part.has(output))
            )
            for part in parts
        )

    @property
    def is_bridged(self) -> bool:
        """Whether a feed has a bridged pair."""
        return any(len(output) == 2 for output in self.outputs)

    @property
    def bridged_parts(self) -> tuple[Part, ...]:
        """The amplifiers that have a bridged pair."""
        return tuple(
            part
            for part in self.installed.parts
            if any(len(output) == 2 for output in self.outputs_of(part))
        )

    @property
    def guarding_parts(self) -> tuple[Part, ...]:
        """The amplifiers that a tweeter or midrange hangs on, alone or with others."""
        guarded = [
            output
            for feed, _, use in self.uses
            if any(self.job.speakers[row].section in FRAGILE for row in feed.rows)
            for output in use.outputs
        ]
        return tuple(part for part in self.installed.parts if any(map(part.has, guarded)))

    @property
    def has_own_amplifier(self) -> bool:
        """Whether the subwoofers are on amplifiers that carry nothing else."""
        carried: dict[int, set[bool]] = {}
        for feed, _, use in self.uses:
            for output in use.outputs:
                at = self.installed.part_of(output).at
                carried.setdefault(at, set()).add(feed.section == "woofer")
        kinds = list(carried.values())
        return {True} in kinds and {True, False} not in kinds

    def is_as_asked(self, asked: str) -> bool:
        """Tell whether it is of the kind that the reader asks for, by the word of the wish."""
        sharing = self.job.sharing
        match asked:
            case "apart":
                return sharing.count == 0
            case "joined":
                return sharing.joined is not None
            case "radio":
                return sharing.on_radio is not None
            case "bridged":
                return self.is_bridged
            case "own-amplifier":
                return self.has_own_amplifier
            case _:
                return True

    @property
    def assignment(self) -> tuple[tuple[Output, ...], ...]:
        """The outputs of each feed: all that the filters depend on."""
        return tuple(use.outputs for use in self.plan.uses)


def banks_of(job: Job, together: Installed) -> tuple[Bank, ...] | None:
    """Return the channels of the amplifiers as their plates have them.

    None where a figure that is needed is missing.
    """
    banks = []
    for part in together.parts:
        amplifier = part.amplifier
        watts, least = amplifier.power_4ohm_w, amplifier.min_channel_ohm
        if amplifier.channels is None or watts is None or least is None:
            return None
        channel = Channel(
            power_4ohm_w=watts,
            power_2ohm_w=amplifier.power_2ohm_w,
            power_8ohm_w=amplifier.power_8ohm_w,
            min_load_ohm=least,
            rated_bridged_w=amplifier.rated_bridged_w,
        )
        banks.append(
            Bank(
                channel=channel,
                supply_factor=factor_of(job, amplifier),
                count=amplifier.channels,
                first=part.first,
            )
        )
    return tuple(banks)


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


def layouts(job: Job, together: Installed, *, mono: bool = True) -> Iterator[Layout]:
    """Yield every layout of a job, in a fixed order; none when a needed figure is missing.

    For each choice of a wiring for every feed, every assignment of the feeds to outputs.

    mono : whether left and right of a pair may be one
    """
    banks = banks_of(job, together)
    if banks is None or len(job.feeds) > sum(bank.count for bank in banks):
        return
    spread = _spread(job, together)
    for chosen in product(*(_bearable(feed, banks) for feed in job.feeds)):
        pairs = zip(job.feeds, chosen, strict=True)
        sections = tuple(wiring.section(feed) for feed, wiring in pairs)
        for plan in assignments(sections, banks, mono=mono):
            yield Layout(job, together, chosen, plan, spread)


def _spread(job: Job, together: Installed) -> tuple[float, float]:
    """Return the widest that an unknown supply makes of the powers of any of them."""
    ends = [spread_of(job, part.amplifier) for part in together.parts]
    return min(low for low, _ in ends), max(high for _, high in ends)


def _bearable(feed: Feed, banks: Sequence[Bank]) -> list[Wiring]:
    """Return the wirings of which one unit alone is not too low for every channel."""
    return [
        wiring
        for wiring in wirings(feed)
        if any(bank.channel.takes(load_ohm=wiring.load_ohm) for bank in banks)
    ]


def alone(feed: Feed, banks: Sequence[Bank]) -> Iterator[Plan]:
    """Yield the assignments of the feed as if it had the amplifiers for itself."""
    for wiring in _bearable(feed, banks):
        yield from assignments((wiring.section(feed),), banks)

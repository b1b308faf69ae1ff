"""A whole job: its amplifiers and routes, what its leads must be, and what is missing."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calc.answers.figures import quantity
from calc.cabling.sizing import Rules
from calc.physics.conductors import AWG_SIZES, METRIC_SIZES, Size
from calc.physics.permitted_current import carries, permitted_current
from calc.physics.speaker_leads import lead_loss_db, lead_ohm

_LAST_BITS_M = 1e-9  # lengths nearer than this are alike
_LEAD_C = 20.0  # speaker leads are copper, and carry too little to warm up
# To a subwoofer: 5 % of the power, and the size to take where more is lost (common practice).
_SUBWOOFER_LOSS_DB, _SUBWOOFER_MM2 = -10 * math.log10(0.95) * (1 + 1e-9), 1.5


@dataclass(frozen=True, kw_only=True)
class Amplifier:
    """An amplifier: what feeds it and what hangs on it.

    power_w : its continuous power; None: not known
    signal_pairs : stereo pairs of signal leads that it takes
    outputs : speaker outputs in use; a bridged pair is one
    y_leads : leads of one plug to two, where the head unit has too few; None: not known
    """

    name: str
    power_w: float | None
    trigger: bool
    signal_pairs: int
    outputs: int
    y_leads: int | None = 0


@dataclass(frozen=True, kw_only=True)
class Route:
    """A way that a lead of a kind takes, `length_m` as it is laid; None: not measured yet."""

    what: str
    start: str
    end: str
    length_m: float | None


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of a passive crossover, or a tweeter's capacitor; `quantity` None: not known."""

    what: str
    value: str
    quantity: int | None


@dataclass(frozen=True, kw_only=True)
class SignalKit:
    """What the signal leads of a cable kit are worth on this job.

    pairs : stereo pairs that the amplifiers take
    enough : whether the kit's lead reaches; None where a route is missing
    spare_m : what is left of it on the longest route; below 0 it is short
    """

    pairs: int
    enough: bool | None
    spare_m: float | None


@dataclass(frozen=True, kw_only=True)
class Job:
    """A whole job: who is fed how, and what is known of the leads.

    nominal_v : voltage of the vehicle's system, 12 or 24 [V]
    slack_percent : what is added to every routed length when buying
    kit_signal_m : length of the signal leads that the cable kit brings; 0 for none
    lead_load_ohm, lead_loss_db : what the speaker leads are chosen for
    own_loads : the load [Ω] at the end of a speaker lead, where it is another
    subwoofers : where speaker leads to subwoofers end
    coil_links : links between the coils of one speaker
    remote_from : what turns the amplifiers on: the `head-unit`, or a tapped `supply`
    is_converted : the signal passes a line-output converter
    has_loom_adapter : the factory leads are joined by an adapter in the loom
    has_board : the amplifiers are screwed to a board
    """

    amplifiers: tuple[Amplifier, ...]
    routes: tuple[Route, ...]
    rules: Rules
    nominal_v: int
    slack_percent: float
    kit_signal_m: float
    lead_load_ohm: float
    lead_loss_db: float
    own_loads: Mapping[str, float] = field(default_factory=dict)
    subwoofers: frozenset[str] = frozenset()
    coil_links: int = 0
    remote_from: str = "head-unit"
    is_converted: bool = False
    has_loom_adapter: bool = False
    has_board: bool = True
    parts: tuple[Part, ...] = ()

    def load_of(self, route: Route) -> float:
        """Return the load [Ω] that a speaker route leads to."""
        return self.own_loads.get(route.end, self.lead_load_ohm)

    def of(self, what: str) -> tuple[Route, ...]:
        """Return the routes of one kind."""
        return tuple(one for one in self.routes if one.what == what)

    def bought_m(self, length_m: float | None) -> float | None:
        """Return a length with its slack [m]; None for one that is not measured."""
        return None if length_m is None else length_m * (1 + self.slack_percent / 100)

    def earth_of(self, name: str) -> Route | None:
        """Return the earth route of an amplifier; the longest where there are several."""
        own = [one for one in self.of("earth") if name in (one.start, one.end)]
        return max(own, key=lambda one: one.length_m or 0.0, default=None)

    def at_end(self, route: Route) -> Amplifier | None:
        """Return the amplifier that a route begins or ends at."""
        return next((one for one in self.amplifiers if _touches(one, route)), None)

    def taker_of(self, route: Route) -> Amplifier | None:
        """Return the amplifier that takes a signal route's pairs: at its end, else its start."""
        ends = {one.name: one for one in self.amplifiers}
        return ends.get(route.end) or ends.get(route.start)

    def signal_to(self, amplifier: Amplifier) -> tuple[Route, ...]:
        """Return the signal routes whose pairs an amplifier takes."""
        return tuple(one for one in self.of("signal") if self.taker_of(one) is amplifier)

    def pairs_of(self, route: Route) -> int:
        """Return how many stereo pairs a signal route carries; routes to one amplifier share."""
        taker = self.taker_of(route)
        if taker is None:
            return 1
        sharing = self.signal_to(taker)
        share, rest = divmod(taker.signal_pairs, len(sharing))
        at = next(at for at, one in enumerate(sharing) if one is route)
        return share + (at < rest)

    def kit_left_m(self, route: Route) -> float | None:
        """Return what the kit's signal lead has left on a route [m]; below 0 it is short."""
        bought = self.bought_m(route.length_m)
        if bought is None:
            return None
        left = self.kit_signal_m - bought
        return 0.0 if abs(left) < _LAST_BITS_M else left


def signal_kit(job: Job) -> SignalKit:
    """Return how far the kit's signal leads reach."""
    pairs = sum(one.signal_pairs for one in job.amplifiers)
    routes = [one for one in job.of("signal") if job.pairs_of(one)]
    if not job.kit_signal_m:
        return SignalKit(pairs=pairs, enough=not pairs, spare_m=None)
    if any(one.signal_pairs and not job.signal_to(one) for one in job.amplifiers):
        return SignalKit(pairs=pairs, enough=None, spare_m=None)
    lefts = [job.kit_left_m(one) for one in routes]
    if None in lefts:
        return SignalKit(pairs=pairs, enough=None, spare_m=None)
    spare = min((one for one in lefts if one is not None), default=job.kit_signal_m)
    return SignalKit(pairs=pairs, enough=spare >= 0, spare_m=spare)


def missing(job: Job) -> list[str]:
    """Return what the list cannot know, for want of a route or because figures disagree."""
    found = []
    by_body = job.rules.return_by == "body"
    fed = {route.end for route in job.of("power")}
    found += [
        f"the length of {route.what}: {route.start} to {route.end}"
        for route in job.routes
        if route.length_m is None
    ]
    for one in job.amplifiers:
        if one.power_w is None:
            found.append(f"the power of {one.name}")
        if one.name not in fed:
            found.append(f"no power route to {one.name}")
        if one.signal_pairs and not job.signal_to(one):
            found.append(f"no signal route to {one.name}")
        if one.y_leads is None:
            found.append(f"how many Y-leads {one.name} needs")
        for what, wanted in (("earth", by_body), ("trigger", one.trigger)):
            if wanted and not any(_touches(one, route) for route in job.of(what)):
                found.append(f"no {what} route for {one.name}")
        leads = sum(1 for route in job.of("speaker") if _touches(one, route))
        if leads < one.outputs:
            lacking = one.outputs - leads
            found.append(
                f"{lacking} of {one.outputs} speaker routes of {one.name} "
                f"{'is' if lacking == 1 else 'are'} missing"
            )
    if by_body:
        found += [
            f"no power route to {route.start}, whose earth is listed"
            for route in job.of("earth")
            if route.start not in fed and route.end not in fed
        ]
    found += [
        f"no size of lead to {route.end} keeps {quantity(job.lead_loss_db, 'dB')}"
        for route in job.of("speaker")
        if _is_measured(job, route) and lead_size(job, route) is None
    ]
    return found


def _touches(amplifier: Amplifier, route: Route) -> bool:
    return amplifier.name in (route.start, route.end)


def _is_measured(job: Job, route: Route) -> bool:
    amplifier = job.at_end(route)
    is_power_known = amplifier is None or amplifier.power_w is not None
    return route.length_m is not None and is_power_known


def lead_size(job: Job, route: Route) -> Size | None:
    """Return the smallest size for a speaker lead of the length bought; None where none does.

    It keeps the loss, and may carry the whole power of its amplifier into the load.  To a
    subwoofer, where that size would lose over 5 % of the power: the smallest of 1.5 mm² and
    up that loses no more, or the thickest.  None too while length or power is not known.
    """
    bought = job.bought_m(route.length_m)
    if bought is None or not _is_measured(job, route):
        return None
    amplifier, load = job.at_end(route), job.load_of(route)
    ampere = math.sqrt(((amplifier and amplifier.power_w) or 0.0) / load)
    every = METRIC_SIZES if job.rules.sizes == "metric" else AWG_SIZES

    def loss_db(size: Size) -> float:
        per_m = size.ohm_per_m(material="copper", conductor_c=_LEAD_C)
        return lead_loss_db(load_ohm=load, ohm=lead_ohm(ohm_per_m=per_m, length_m=bought))

    fitting = [
        one
        for one in every
        if carries(permitted_current(one), ampere) and loss_db(one) <= job.lead_loss_db * (1 + 1e-9)
    ]
    if not fitting:
        return None
    if route.end not in job.subwoofers or loss_db(fitting[0]) <= _SUBWOOFER_LOSS_DB:
        return fitting[0]
    thick = [one for one in fitting if one.area_mm2 >= _SUBWOOFER_MM2]
    return next((one for one in thick if loss_db(one) <= _SUBWOOFER_LOSS_DB), thick[-1])


def speaker_leads(job: Job) -> list[dict[str, Any]]:
    """Return each speaker lead as it is bought: where it ends, size [mm²], length [m], and its
    resistance out and back [Ω] at 20 °C; None for what is not known.
    """
    found = []
    for route in job.of("speaker"):
        size, bought = lead_size(job, route), job.bought_m(route.length_m)
        ohm = None
        if size is not None and bought is not None:
            per_m = size.ohm_per_m(material="copper", conductor_c=_LEAD_C)
            ohm = lead_ohm(ohm_per_m=per_m, length_m=bought)
        found.append(
            {
                "to": route.end,
                "size": size and size.name,
                "size_mm2": size and size.area_mm2,
                "length_m": bought,
                "ohm": ohm,
            }
        )
    return found

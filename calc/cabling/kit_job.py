"""A whole job: its amplifiers and routes, what its leads must be, and what is missing."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.cabling.conductors import AWG_SIZES, METRIC_SIZES, Size
from calc.cabling.leads import lead_loss_db, lead_ohm
from calc.cabling.permitted import carries, permitted_current
from calc.cabling.sizing import Rules
from calc.core.figures import quantity

_LAST_BITS_M = 1e-9  # lengths nearer than this are alike
_LEAD_C = 20.0  # speaker leads are copper, and carry too little to warm up


@dataclass(frozen=True, kw_only=True)
class Amplifier:
    """An amplifier: what feeds it and what hangs on it.

    signal_pairs : stereo pairs of signal leads that it takes
    outputs : speaker outputs in use; a bridged pair is one
    y_leads : leads of one plug to two, where the head unit has too few; None: not known
    """

    name: str
    power_w: float
    trigger: bool
    signal_pairs: int
    outputs: int
    y_leads: int | None = 0


@dataclass(frozen=True, kw_only=True)
class Route:
    """A way that a lead of a kind takes, `length_m` as it is laid."""

    what: str
    start: str
    end: str
    length_m: float


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

    def load_of(self, route: Route) -> float:
        """Return the load [Ω] that a speaker route leads to."""
        return self.own_loads.get(route.end, self.lead_load_ohm)

    def of(self, what: str) -> tuple[Route, ...]:
        """Return the routes of one kind."""
        return tuple(one for one in self.routes if one.what == what)

    def bought_m(self, length_m: float) -> float:
        """Return a length with its slack [m]."""
        return length_m * (1 + self.slack_percent / 100)

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

    def kit_left_m(self, route: Route) -> float:
        """Return what the kit's signal lead has left on a route [m]; below 0 it is short."""
        left = self.kit_signal_m - self.bought_m(route.length_m)
        return 0.0 if abs(left) < _LAST_BITS_M else left


def signal_kit(job: Job) -> SignalKit:
    """Return how far the kit's signal leads reach."""
    pairs = sum(one.signal_pairs for one in job.amplifiers)
    routes = [one for one in job.of("signal") if job.pairs_of(one)]
    if not job.kit_signal_m:
        return SignalKit(pairs=pairs, enough=not pairs, spare_m=None)
    if any(one.signal_pairs and not job.signal_to(one) for one in job.amplifiers):
        return SignalKit(pairs=pairs, enough=None, spare_m=None)
    spare = min((job.kit_left_m(one) for one in routes), default=job.kit_signal_m)
    return SignalKit(pairs=pairs, enough=spare >= 0, spare_m=spare)


def missing(job: Job) -> list[str]:
    """Return what the list cannot know, for want of a route or because figures disagree."""
    found = []
    by_body = job.rules.return_by == "body"
    fed = {route.end for route in job.of("power")}
    for one in job.amplifiers:
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
        if lead_size(job, route) is None
    ]
    return found


def _touches(amplifier: Amplifier, route: Route) -> bool:
    return amplifier.name in (route.start, route.end)


def lead_size(job: Job, route: Route) -> Size | None:
    """Return the smallest size that keeps a speaker lead's loss; None where none does.

    It may also carry the whole power of its amplifier into the load.
    """
    amplifier = job.at_end(route)
    load = job.load_of(route)
    ampere = math.sqrt((amplifier.power_w if amplifier else 0.0) / load)
    sizes = METRIC_SIZES if job.rules.sizes == "metric" else AWG_SIZES
    for one in sizes:
        per_m = one.ohm_per_m(material="copper", conductor_c=_LEAD_C)
        loss = lead_loss_db(load_ohm=load, ohm=lead_ohm(ohm_per_m=per_m, length_m=route.length_m))
        may_carry = permitted_current(one)
        if carries(may_carry, ampere) and loss <= job.lead_loss_db * (1 + 1e-9):
            return one
    return None

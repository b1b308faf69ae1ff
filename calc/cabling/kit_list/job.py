"""A whole job: its amplifiers and routes, and what its leads must be."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.cabling.kit_list.inputs import Inputs, RemoteFrom
from calc.cabling.kit_list.rows import Amplifier, Part, Route, RouteWord
from calc.cabling.sizing import Rules, rules_of
from calc.physics.conductors import AWG_SIZES, METRIC_SIZES, Size
from calc.physics.permitted_current import carries, permitted_current
from calc.physics.speaker_leads import lead_current, lead_loss_db, lead_ohm

_MIDWAY_V = 18.0  # between systems of 12 V and of 24 V
# What a head unit's remote terminal gives, and what an amplifier's takes (common practice, from
# memory) [A].
REMOTE_MOST_A, USUAL_TRIGGER_A = 0.3, 0.02
_CONVERTED_MOST = 4  # a head unit has four speaker outputs at most
_LAST_BITS_M = 1e-9  # lengths nearer than this are alike
_LEAD_C = 20.0  # speaker leads are copper, and carry too little to warm up
# To a subwoofer: 5 % of the power, and the size to take where more is lost (common practice).
_SUBWOOFER_LOSS_DB, _SUBWOOFER_MM2 = -10 * math.log10(0.95) * (1 + 1e-9), 1.5


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
class SpeakerLead:
    """A speaker lead as it is bought; None for what is not known.

    end : where it ends
    length_m : with its slack [m]
    ohm : its resistance out and back at 20 °C [Ω]
    """

    end: str
    size: Size | None
    length_m: float | None
    ohm: float | None


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
    remote_from: RemoteFrom = "head-unit"
    is_converted: bool = False
    has_loom_adapter: bool = False
    has_board: bool = True
    parts: tuple[Part, ...] = ()

    def load_of(self, route: Route) -> float:
        """Return the load [Ω] that a speaker route leads to."""
        return self.own_loads.get(route.end, self.lead_load_ohm)

    def of(self, what: RouteWord) -> tuple[Route, ...]:
        """Return the routes of one kind."""
        return tuple(route for route in self.routes if route.what == what)

    def bought_m(self, length_m: float | None) -> float | None:
        """Return a length with its slack [m]; None for one that is not measured."""
        return None if length_m is None else length_m * (1 + self.slack_percent / 100)

    @property
    def today(self) -> tuple[Amplifier, ...]:
        """The amplifiers that are put in now."""
        return tuple(amplifier for amplifier in self.amplifiers if not amplifier.later)

    @property
    def pairs(self) -> int:
        """How many stereo pairs the amplifiers take."""
        return sum(amplifier.signal_pairs for amplifier in self.today)

    @property
    def converted(self) -> int:
        """How many channels a converter makes a line signal of; 0 without one."""
        return min(_CONVERTED_MOST, max(2, 2 * self.pairs)) if self.is_converted else 0

    def y_leads_of(self, amplifier: Amplifier) -> int | None:
        """Return how many Y-leads an amplifier's inputs need; None where that is not known.

        A converter has a plug for each input that it is made for: only what is beyond its channels
        shares one.
        """
        if not self.is_converted:
            return amplifier.y_leads
        before = 0
        for other in self.today:
            if other.name == amplifier.name:
                break
            before += other.signal_pairs
        most = _CONVERTED_MOST // 2
        beyond = max(0, before + amplifier.signal_pairs - most) - max(0, before - most)
        return 2 * beyond

    @property
    def switched(self) -> tuple[Amplifier, ...]:
        """The amplifiers that a remote lead turns on."""
        return tuple(amplifier for amplifier in self.today if amplifier.trigger)

    @property
    def remote_a(self) -> float:
        """What their remote terminals take together [A]; the usual where it is not known."""
        own = (amplifier.trigger_a for amplifier in self.switched)
        return sum(USUAL_TRIGGER_A if each is None else each for each in own)

    @property
    def needs_remote_relay(self) -> bool:
        """Whether that is more than a head unit gives."""
        return self.remote_a > REMOTE_MOST_A * (1 + 1e-9)

    def earth_of(self, name: str) -> Route | None:
        """Return the earth route of an amplifier; the longest where there are several."""
        routes = [route for route in self.of("earth") if name in (route.start, route.end)]
        return max(routes, key=lambda route: route.length_m or 0.0, default=None)

    def at_end(self, route: Route) -> Amplifier | None:
        """Return the amplifier that a route begins or ends at."""
        return next((amplifier for amplifier in self.amplifiers if touches(amplifier, route)), None)

    def taker_of(self, route: Route) -> Amplifier | None:
        """Return the amplifier that takes a signal route's pairs: at its end, else its start."""
        ends = {amplifier.name: amplifier for amplifier in self.amplifiers}
        return ends.get(route.end) or ends.get(route.start)

    def signal_to(self, amplifier: Amplifier) -> tuple[Route, ...]:
        """Return the signal routes whose pairs an amplifier takes."""
        return tuple(route for route in self.of("signal") if self.taker_of(route) is amplifier)

    def pairs_of(self, route: Route) -> int:
        """Return how many stereo pairs a signal route carries; routes to one amplifier share."""
        taker = self.taker_of(route)
        if taker is None:
            return 1
        sharing = self.signal_to(taker)
        share, rest = divmod(taker.signal_pairs, len(sharing))
        at = next(at for at, other in enumerate(sharing) if other is route)
        return share + (at < rest)

    def kit_left_m(self, route: Route) -> float | None:
        """Return what the kit's signal lead has left on a route [m]; below 0 it is short."""
        bought = self.bought_m(route.length_m)
        if bought is None:
            return None
        left = self.kit_signal_m - bought
        return 0.0 if abs(left) < _LAST_BITS_M else left


def job_of(inputs: Inputs) -> Job:
    """Return the job that inputs describe."""
    leads = inputs.leads
    return Job(
        amplifiers=inputs.amplifiers,
        routes=_today(inputs),
        rules=rules_of(inputs.cable, inputs.way, least_mm2=leads.power_mm2),
        nominal_v=12 if inputs.supply_v < _MIDWAY_V else 24,
        slack_percent=leads.slack_percent,
        kit_signal_m=leads.kit_signal_m,
        lead_load_ohm=leads.speaker_load_ohm,
        lead_loss_db=leads.speaker_loss_db,
        own_loads={row.end: row.load_ohm for row in leads.loads if row.load_ohm is not None},
        subwoofers=frozenset(row.end for row in leads.loads if row.subwoofer),
        coil_links=leads.coil_links,
        remote_from=leads.remote_from,
        is_converted=leads.line_converter,
        has_loom_adapter=leads.loom_adapter,
        has_board=leads.mounting_board,
        parts=leads.parts,
    )


def _today(inputs: Inputs) -> tuple[Route, ...]:
    """Return the routes of what is laid now; power and earth of all, for they decide sizes."""
    later = {amplifier.name for amplifier in inputs.amplifiers if amplifier.later}
    return tuple(
        route
        for route in inputs.routes
        if route.what in ("power", "earth") or not later & {route.start, route.end}
    )


def signal_kit(job: Job) -> SignalKit:
    """Return how far the kit's signal leads reach."""
    pairs = job.pairs
    routes = [route for route in job.of("signal") if job.pairs_of(route)]
    if not job.kit_signal_m:
        return SignalKit(pairs=pairs, enough=not pairs, spare_m=None)
    if any(amplifier.signal_pairs and not job.signal_to(amplifier) for amplifier in job.today):
        return SignalKit(pairs=pairs, enough=None, spare_m=None)
    lefts = [job.kit_left_m(route) for route in routes]
    if None in lefts:
        return SignalKit(pairs=pairs, enough=None, spare_m=None)
    spare = min((left_m for left_m in lefts if left_m is not None), default=job.kit_signal_m)
    return SignalKit(pairs=pairs, enough=spare >= 0, spare_m=spare)


def touches(amplifier: Amplifier, route: Route) -> bool:
    """Tell whether a route begins or ends at an amplifier."""
    return amplifier.name in (route.start, route.end)


def is_measured(job: Job, route: Route) -> bool:
    """Tell whether a speaker lead's length and its amplifier's power are known."""
    amplifier = job.at_end(route)
    is_power_known = amplifier is None or amplifier.total_power_w is not None
    return route.length_m is not None and is_power_known


def lead_size(job: Job, route: Route) -> Size | None:
    """Return the smallest size for a speaker lead of the length bought; None where none does.

    It keeps the loss, and may carry the whole power of its amplifier into the load.  To a
    subwoofer, where that size would lose over 5 % of the power: the smallest of 1.5 mm² and
    up that loses no more, or the thickest.  None too while length or power is not known.
    """
    bought = job.bought_m(route.length_m)
    if bought is None or not is_measured(job, route):
        return None
    amplifier, load = job.at_end(route), job.load_of(route)
    power_w = 0.0 if amplifier is None else amplifier.total_power_w
    ampere = lead_current(power_w=power_w, load_ohm=load) or 0.0
    sizes = METRIC_SIZES if job.rules.sizes == "metric" else AWG_SIZES

    def loss_db(size: Size) -> float:
        per_m = size.ohm_per_m(material="copper", conductor_c=_LEAD_C)
        return lead_loss_db(load_ohm=load, ohm=lead_ohm(ohm_per_m=per_m, length_m=bought))

    fitting = [
        size
        for size in sizes
        if carries(permitted_current(size), ampere)
        and loss_db(size) <= job.lead_loss_db * (1 + 1e-9)
    ]
    if not fitting:
        return None
    if route.end not in job.subwoofers or loss_db(fitting[0]) <= _SUBWOOFER_LOSS_DB:
        return fitting[0]
    thick = [size for size in fitting if size.area_mm2 >= _SUBWOOFER_MM2]
    return next((size for size in thick if loss_db(size) <= _SUBWOOFER_LOSS_DB), thick[-1])


def speaker_leads(job: Job) -> tuple[SpeakerLead, ...]:
    """Return each speaker lead as it is bought."""
    leads = []
    for route in job.of("speaker"):
        size, bought = lead_size(job, route), job.bought_m(route.length_m)
        ohm = None
        if size is not None and bought is not None:
            per_m = size.ohm_per_m(material="copper", conductor_c=_LEAD_C)
            ohm = lead_ohm(ohm_per_m=per_m, length_m=bought)
        leads.append(SpeakerLead(end=route.end, size=size, length_m=bought, ohm=ohm))
    return tuple(leads)

"""What a job needs, item by item, from its amplifiers and routes."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from calc.cabling.conductors import System
from calc.cabling.kit_job import Job, lead_size
from calc.cabling.tree import Plan, Tree
from calc.core.figures import listed, quantity

_TIE_EVERY_M = 0.3  # our own choice
# What joins runs: at the battery or elsewhere, and with several ways out or with one.
_JOINTS = {
    (True, True): "battery clamp with several bolts",
    (False, True): "distribution block",
    (False, False): "cable joint or block",
}
_TRIGGER_SIZE: dict[System, str] = {"metric": "0.75 mm²", "awg": "18 AWG"}


@dataclass(frozen=True, kw_only=True)
class Item:
    """One line of the kit list; `length_m` is None for what has none, or is not known."""

    item: str
    quantity: int
    size: str
    length_m: float | None
    reason: str


def items(job: Job, tree: Tree | None, plan: Plan | None) -> tuple[Item, ...]:
    """Return the whole list, in the order of the work."""
    found = [
        *(_power_items(job, tree, plan) if tree and plan else ()),
        *_earth_items(job, plan),
        *_signal_items(job),
        *_y_lead_items(job),
        *_high_level_items(job),
        *_speaker_items(job),
        *_trigger_items(job),
    ]
    # Trigger leads run along with others, and so do the leads of a pair and of its channels.
    alone = [one for one in job.routes if one.what not in ("trigger", "high-level")]
    bundles = {(one.start, one.end): one.length_m for one in job.of("high-level")}
    total = sum(map(job.bought_m, [*(one.length_m for one in alone), *bundles.values()]))
    if total:
        found.append(
            Item(
                item="cable ties or clips",
                quantity=math.ceil(total / _TIE_EVERY_M),
                size="for the bundle",
                length_m=None,
                reason=f"one for every {quantity(_TIE_EVERY_M, 'm')} of lead; tie to the body, "
                "never to fuel lines, brake lines or looms of airbags",
            )
        )
    return tuple(found)


def _power_items(job: Job, tree: Tree, plan: Plan) -> Iterable[Item]:
    for at in tree.outward:
        run, size = tree.runs[at], plan.offers[at].size.name
        load = f"{quantity(tree.full_currents[at], 'A', 3)} at full power"
        yield Item(
            item="power cable",
            quantity=1,
            size=size,
            length_m=job.bought_m(run.length_m),
            reason=f"{run.start} to {run.end}, {load}",
        )
        if job.rules.return_by == "cable":
            yield Item(
                item="return cable",
                quantity=1,
                size=size,
                length_m=job.bought_m(run.length_m),
                reason=f"{run.end} back to {run.start}, the same size as the positive",
            )
    yield from _fuse_items(tree, plan)
    yield from _joint_items(job, tree, plan)


def _fuse_items(tree: Tree, plan: Plan) -> Iterable[Item]:
    ratings = []
    for at in tree.outward:
        rating, run, size = plan.fuses_a[at], tree.runs[at], plan.offers[at].size.name
        if rating is None:
            continue
        ratings.append(rating)
        where = (
            f"at {run.start}, within reach of the terminal (common practice: 450 mm)"
            if run.start == tree.root
            else f"at {run.start}, where the cable gets thinner than the fuse before protects"
        )
        yield Item(item="fuse", quantity=1, size=quantity(rating, "A"), length_m=None, reason=where)
        yield Item(
            item="fuse holder",
            quantity=1,
            size=f"{quantity(rating, 'A')}, {size}",
            length_m=None,
            reason=f"for the fuse at {run.start}, to {run.end}; closed, fixed, made for this cable",
        )
    for rating in sorted(set(ratings)):
        yield Item(
            item="spare fuse",
            quantity=1,
            size=quantity(rating, "A"),
            length_m=None,
            reason="kept in the vehicle, so that nobody bridges a blown one",
        )


def _joint_items(job: Job, tree: Tree, plan: Plan) -> Iterable[Item]:
    both = 2 if job.rules.return_by == "cable" else 1
    for at in tree.trunks:
        size = plan.offers[at].size.name
        yield Item(
            item="ring lug, crimped",
            quantity=both,
            size=f"{size}, for the battery’s bolt",
            length_m=None,
            reason=f"battery end of the run to {tree.runs[at].end}",
        )
    # Each run has two ends, and two more where a fuse holder is put into it.
    ends: dict[str, int] = {}
    for at, offer in enumerate(plan.offers):
        inner = (1 if at in tree.trunks else 2) * both + (2 if plan.fuses_a[at] else 0)
        ends[offer.size.name] = ends.get(offer.size.name, 0) + inner
    for size, count in ends.items():
        yield Item(
            item="cable ferrule or lug",
            quantity=count,
            size=size,
            length_m=None,
            reason="ends at fuse holders, blocks and amplifiers; to suit their terminals",
        )
    for place in dict.fromkeys(run.start for run in tree.runs):
        out = [at for at, run in enumerate(tree.runs) if run.start == place]
        if len(out) < 2 and place == tree.root:
            continue
        sizes = listed([plan.offers[at].size.name for at in out])
        fused = sum(1 for at in out if plan.fuses_a[at])
        yield Item(
            item=_JOINTS[place == tree.root, len(out) > 1],
            quantity=both,
            size=f"to {sizes}",
            length_m=None,
            reason=f"at {place}; ways out: {len(out)}, with a fuse of their own: {fused}",
        )
    yield Item(
        item="heat-shrink sleeve",
        quantity=sum(ends.values()) + both * len(tree.trunks),
        size="for the lugs and ferrules of the power cable",
        length_m=None,
        reason="over every crimp and its insulation",
    )
    yield Item(
        item="grommet",
        quantity=len(tree.trunks),
        size=listed(sorted({plan.offers[at].size.name for at in tree.trunks})),
        length_m=None,
        reason="one for every hole through metal: at least the bulkhead; count the holes",
    )
    yield Item(
        item="corrugated tube",
        quantity=1,
        size="for the runs from the battery",
        length_m=sum(job.bought_m(tree.runs[at].length_m) for at in tree.trunks),
        reason="over the positive from the battery on, against chafing",
    )


def _earth_items(job: Job, plan: Plan | None) -> Iterable[Item]:
    if job.rules.return_by == "cable":
        return
    fed = (
        {run.end: offer.size.name for run, offer in zip(plan.runs, plan.offers, strict=True)}
        if plan
        else {}
    )
    for route in job.of("earth"):
        size = fed.get(route.start) or fed.get(route.end) or "not known"
        yield Item(
            item="earth cable",
            quantity=1,
            size=size,
            length_m=job.bought_m(route.length_m),
            reason=f"{route.start} to {route.end}, the size of the positive, as short as it can be",
        )
        yield Item(
            item="earth point",
            quantity=1,
            size=f"ring lug and ferrule for {size}, bolt, toothed washer, nut",
            length_m=None,
            reason="to bare, solid body metal, sealed against rust; never a seat or belt bolt",
        )


def _signal_items(job: Job) -> Iterable[Item]:
    for route in job.of("signal"):
        pairs = job.pairs_of(route)
        if not pairs:
            continue
        bought = job.bought_m(route.length_m)
        reason = f"{route.start} to {route.end}"
        if job.kit_signal_m:
            left = job.kit_left_m(route)
            word = "to spare" if left >= 0 else "short"
            reason += (
                f"; the kit’s {quantity(job.kit_signal_m, 'm', 3)}: "
                f"{quantity(abs(left), 'm', 3)} {word}"
            )
        yield Item(
            item="signal lead, stereo pair",
            quantity=pairs,
            size="screened",
            length_m=bought,
            reason=reason,
        )


def _high_level_items(job: Job) -> Iterable[Item]:
    routes = job.of("high-level")
    for start, end, length in dict.fromkeys((one.start, one.end, one.length_m) for one in routes):
        count = sum((one.start, one.end, one.length_m) == (start, end, length) for one in routes)
        yield Item(
            item="high-level lead, two conductors twisted",
            quantity=count,
            size=_TRIGGER_SIZE[job.rules.sizes],
            length_m=job.bought_m(length),
            reason=f"{start} to {end}, one for each channel, joined to the factory’s speaker "
            "leads; it carries milliamperes",
        )


def _y_lead_items(job: Job) -> Iterable[Item]:
    for one in job.amplifiers:
        if one.y_leads:
            yield Item(
                item="Y-lead, one plug to two",
                quantity=one.y_leads,
                size="screened",
                length_m=None,
                reason=f"at the head unit, where one output feeds several inputs of {one.name}; "
                "none where a switch on the amplifier joins its inputs",
            )


def _speaker_items(job: Job) -> Iterable[Item]:
    for route in job.of("speaker"):
        size = lead_size(job, route)
        limit = quantity(job.lead_loss_db, "dB")
        yield Item(
            item="speaker lead, two conductors",
            quantity=1,
            size=size.name if size else "not known",
            length_m=job.bought_m(route.length_m),
            reason=f"{route.start} to {route.end}; at most {limit} lost into "
            f"{quantity(job.load_of(route), 'Ω')}"
            + ("" if size else "; no size keeps that, shorten the lead"),
        )
    leads = len(job.of("speaker"))
    if leads:
        yield Item(
            item="ferrule",
            quantity=4 * leads,
            size="for the speaker leads",
            length_m=None,
            reason="two conductors with two ends each; no loose strands at terminals",
        )


def _trigger_items(job: Job) -> Iterable[Item]:
    for route in job.of("trigger"):
        yield Item(
            item="trigger lead",
            quantity=1,
            size=_TRIGGER_SIZE[job.rules.sizes],
            length_m=job.bought_m(route.length_m),
            reason=f"{route.start} to {route.end}; it carries milliamperes",
        )
    switched = [one.name for one in job.amplifiers if one.trigger]
    if len(switched) > 1:
        yield Item(
            item="relay, with a fuse and its base",
            quantity=1,
            size=f"{job.nominal_v} V, one contact, a diode across its coil; fuse 1 A",
            length_m=None,
            reason=f"{listed(switched)} on one trigger output: the head unit feeds the relay, the "
            "relay the amplifiers",
        )

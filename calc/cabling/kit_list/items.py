"""What a job needs, item by item, from its amplifiers and routes."""

import math
from collections.abc import Iterable

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.job import Job, lead_size, touches
from calc.cabling.kit_list.lines import Item, measured, piece
from calc.cabling.kit_list.power import Power
from calc.cabling.kit_list.power_items import power_items
from calc.cabling.kit_list.rows import Amplifier, Route
from calc.physics.conductors import System

_TIE_EVERY_M = 0.3  # our own choice
_SCREWS = 4  # for an amplifier, and as many for the board: our own choice
_THIN_SIZE: dict[System, str] = {"metric": "0.75 mm²", "awg": "18 AWG"}


def items(job: Job, power: Power | None, note: str | None) -> tuple[Item, ...]:
    """Return the whole list, in the order of the work.

    note : what the main fuse follows
    """
    return (
        *power_items(job, power, note),
        *_signal_items(job),
        *_y_lead_items(job),
        *_high_level_items(job),
        *_speaker_items(job),
        *_remote_items(job),
        *_part_items(job),
        *_mounting_items(job),
        *_tie_items(job),
    )


def _tie_items(job: Job) -> Iterable[Item]:
    # Remote leads run along with others, and so do the leads of a pair and of its channels.
    alone = [route for route in job.routes if route.what not in ("trigger", "high-level")]
    bundles = {(route.start, route.end): route.length_m for route in job.of("high-level")}
    routed = [*(route.length_m for route in alone), *bundles.values()]
    lengths = [job.bought_m(length_m) for length_m in routed]
    total = sum(length_m for length_m in lengths if length_m is not None)
    more = "; more for the leads that are not measured yet" if None in lengths else ""
    if lengths:
        yield piece(
            "cable ties or clips",
            math.ceil(total / _TIE_EVERY_M) if total else None,
            "for the bundle",
            f"one for every {quantity(_TIE_EVERY_M, 'm')} of lead; tie to the body, "
            f"never to fuel lines, brake lines or looms of airbags{more}",
        )


def _signal_items(job: Job) -> Iterable[Item]:
    for route in job.of("signal"):
        pairs = job.pairs_of(route)
        if not pairs:
            continue
        reason, left = f"{route.start} to {route.end}", job.kit_left_m(route)
        if job.kit_signal_m and left is not None:
            word = "to spare" if left >= 0 else "short"
            reason += (
                f"; the kit’s {quantity(job.kit_signal_m, 'm', 3)}: "
                f"{quantity(abs(left), 'm', 3)} {word}"
            )
        yield _signal_lead(job, pairs, route.length_m, reason)
    for amplifier in job.amplifiers:
        if amplifier.signal_pairs and not job.signal_to(amplifier):
            reason = f"to {amplifier.name}; no route is given"
            yield _signal_lead(job, amplifier.signal_pairs, None, reason)
    if job.is_converted:
        yield piece(
            "line-output converter (LOC)",
            1,
            f"{_converted(job)} channels",
            "from speaker leads to RCA; differential inputs, since a radio’s outputs are bridges: "
            "neither lead may be earthed; it takes its own fused supply and earth, and many give a "
            "remote signal",
        )


def _converted(job: Job) -> int:
    """Return how many channels are converted: a head unit has four outputs at most."""
    pairs = sum(amplifier.signal_pairs for amplifier in job.amplifiers)
    return min(4, max(2, 2 * pairs)) if job.is_converted else 0


def _signal_lead(job: Job, pairs: int, length_m: float | None, reason: str) -> Item:
    bought = job.bought_m(length_m)
    return Item(
        item="RCA lead, stereo pair",
        quantity=pairs,
        size="screened",
        length_m=bought,
        reason=measured(reason, bought),
    )


def _high_level_items(job: Job) -> Iterable[Item]:
    routes = job.of("high-level")
    ways = [(route.start, route.end, route.length_m) for route in routes]
    for start, end, length in dict.fromkeys(ways):
        bought = job.bought_m(length)
        yield Item(
            item="high-level lead, two conductors twisted",
            quantity=ways.count((start, end, length)),
            size=_THIN_SIZE[job.rules.sizes],
            length_m=bought,
            reason=measured(
                f"{start} to {end}, one for each channel, joined to the factory’s speaker "
                "leads; it carries milliamperes",
                bought,
            ),
        )
    if job.has_loom_adapter:
        yield piece(
            "loom adapter",
            1,
            "for this vehicle and head unit",
            "between head unit and loom, so that no factory lead is cut",
        )
    joints = 0 if job.has_loom_adapter else 2 * (len(routes) + _converted(job))
    joints += job.remote_from == "supply"
    if joints:
        yield piece(
            "splice, crimped",
            joints,
            "for the leads joined",
            "two for each channel that is tapped, one for a remote lead from a supply; sleeved",
        )


def _y_lead_items(job: Job) -> Iterable[Item]:
    for amplifier in job.amplifiers:
        if amplifier.y_leads == 0:
            continue
        reason = (
            f"at the head unit, where one output feeds several inputs of {amplifier.name}; "
            "none where a switch on the amplifier joins its inputs"
        )
        if amplifier.y_leads is None:
            reason += "; how many is not known: count the head unit’s outputs"
        yield piece("Y-lead, one plug to two", amplifier.y_leads, "screened", reason)


def _speaker_items(job: Job) -> Iterable[Item]:
    leads = list(job.of("speaker"))
    for route in leads:
        yield _speaker_lead(job, route)
    for amplifier in job.amplifiers:
        lacking = _leads_lacking(job, amplifier)
        if lacking > 0:
            yield piece(
                "speaker lead, two conductors",
                lacking,
                None,
                f"of {amplifier.name}; no route is given, measure it",
            )
    count = len(leads) + sum(max(0, _leads_lacking(job, each)) for each in job.amplifiers)
    if count:
        yield piece(
            "bootlace ferrule",
            2 * count,
            "for the speaker leads",
            "at the amplifier: no loose strands at terminals",
        )
        yield piece(
            "push-on receptacle, insulated",
            2 * count + 2 * job.coil_links,
            "for the speakers’ tabs, often 6.3, 4.8 or 2.8 mm",
            "two at each speaker lead’s far end, two for a coil link; ferrules where it ends at "
            "screws",
        )
    if job.coil_links:
        yield piece(
            "coil link",
            job.coil_links,
            "a short lead, as thick as the speaker’s",
            "between the coils of a speaker, as the coil wiring has it",
        )


def _leads_lacking(job: Job, amplifier: Amplifier) -> int:
    """Return how many outputs have no route; below 0 where there are more routes."""
    return amplifier.outputs - sum(touches(amplifier, route) for route in job.of("speaker"))


def _speaker_lead(job: Job, route: Route) -> Item:
    size, bought = lead_size(job, route), job.bought_m(route.length_m)
    reason = (
        f"{route.start} to {route.end}; at most {quantity(job.lead_loss_db, 'dB')} lost into "
        f"{quantity(job.load_of(route), 'Ω')} over the length bought"
    )
    if route.end in job.subwoofers:
        reason += "; to a subwoofer 5 % of the power at most, else 1.5 mm² or more"
    amplifier = job.at_end(route)
    if amplifier is not None and amplifier.total_power_w is None:
        reason += f"; the power of {amplifier.name} is not known"
    elif size is None and bought is not None:
        reason += "; no size keeps that, shorten the lead"
    return Item(
        item="speaker lead, two conductors",
        quantity=1,
        size=None if size is None else size.name,
        length_m=bought,
        reason=measured(reason, bought),
    )


def _remote_items(job: Job) -> Iterable[Item]:
    size = _THIN_SIZE[job.rules.sizes]
    for route in job.of("trigger"):
        bought = job.bought_m(route.length_m)
        yield Item(
            item="remote turn-on lead",
            quantity=1,
            size=size,
            length_m=bought,
            reason=measured(f"{route.start} to {route.end}; it carries milliamperes", bought),
        )
    switched = [amplifier.name for amplifier in job.amplifiers if amplifier.trigger]
    for amplifier in job.amplifiers:
        if amplifier.trigger and not any(touches(amplifier, route) for route in job.of("trigger")):
            reason = f"to {amplifier.name}; no route is given, measure it"
            yield piece("remote turn-on lead", 1, size, reason)
    if job.remote_from == "supply":
        yield piece(
            "fuse with holder, remote lead",
            1,
            "1 A",
            "where the remote lead is tapped from a supply that is live with the accessory "
            "position; never from an airbag, brake or engine-control circuit",
        )
    is_tapped = job.remote_from == "supply"
    if len(switched) > 1 or (switched and is_tapped):
        feed = "the tapped feed works" if is_tapped else "the head unit feeds"
        yield piece(
            "relay, with a fuse and its base",
            1,
            f"{job.nominal_v} V, one contact, a diode across its coil; fuse 1 A",
            f"{feed} the relay, the relay gives {listed(switched)} the remote signal",
        )


def _part_items(job: Job) -> Iterable[Item]:
    for part in job.parts:
        reason = "as crossovers and turn-on ask; a component set brings its own crossover"
        if part.quantity is None:
            reason += "; how many is not known"
        yield piece(part.what, part.quantity, part.value, reason)


def _mounting_items(job: Job) -> Iterable[Item]:
    if not job.has_board:
        return
    names = [amplifier.name for amplifier in job.amplifiers]
    yield piece(
        "mounting board",
        1,
        "plywood of 12 mm or more, cut to the amplifiers",
        f"under {listed(names)}; screws end in it and not in sheet metal",
    )
    yield piece(
        "screw for the amplifier",
        _SCREWS * len(names),
        "to suit its feet, shorter than the board is thick",
        "four for each amplifier; no longer than the board",
    )
    yield piece(
        "bolt with washer and nut, board to body",
        _SCREWS,
        "M6",
        "look on both sides before you drill",
    )

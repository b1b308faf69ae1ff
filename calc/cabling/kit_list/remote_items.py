"""Lines of the kit list for the remote turn-on lead: the lead, its fuse, a relay."""

from collections.abc import Iterable

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.job import REMOTE_MOST_A, Job, touches
from calc.cabling.kit_list.lines import Item, by_metre, piece
from calc.cabling.kit_list.signal_items import THIN_SIZE

_LEAD = "remote turn-on lead"


def remote_items(job: Job) -> Iterable[Item]:
    """Return the lines for what turns the amplifiers on."""
    size = THIN_SIZE[job.rules.sizes]
    for route in job.of("trigger"):
        way = f"{route.start} to {route.end}"
        bought = job.bought_m(route.length_m)
        yield by_metre(_LEAD, size, bought, f"{way}; it carries only milliamperes", way)
    for amplifier in job.switched:
        if not any(touches(amplifier, route) for route in job.of("trigger")):
            way = f"to {amplifier.name}"
            yield by_metre(_LEAD, size, None, f"{way}; no route is given", way)
    if job.remote_from == "supply":
        yield piece(
            "fuse with holder, remote lead",
            1,
            "1 A",
            "where the remote lead is tapped from a feed that is live in the accessory position; "
            "never from an airbag, brake or engine-control circuit",
            "where the remote lead is tapped; never an airbag, brake or engine circuit",
        )
    yield from _relay(job)


def _relay(job: Job) -> Iterable[Item]:
    """Yield the relay where a feed is tapped, or the remote currents are too much in sum."""
    is_tapped = job.remote_from == "supply"
    if not job.switched or not (is_tapped or job.needs_remote_relay):
        return
    names = listed([amplifier.name for amplifier in job.switched])
    feed = "the switched feed works" if is_tapped else "the head unit switches"
    reason = f"{feed} the relay, and the relay turns on {names}"
    if job.needs_remote_relay:
        reason += (
            f"; the remote terminals draw {quantity(job.remote_a, 'A', 3)} together, and a head "
            "unit "
            f"delivers {quantity(REMOTE_MOST_A, 'A')}"
        )
    yield piece(
        "relay, with a fuse and its base",
        1,
        f"{job.nominal_v} V, one contact, a diode across its coil; fuse 1 A",
        reason,
        f"remote turn-on for {names}",
    )

"""Lines of the kit list for the speakers: leads, their ends, coil links, splices."""

from collections.abc import Iterable

from calc.answers.figures import quantity
from calc.cabling.kit_list.job import Job, lead_size, touches
from calc.cabling.kit_list.lines import Item, by_metre, piece
from calc.cabling.kit_list.rows import Amplifier, Route

_LEAD = "speaker cable, two-core"


def speaker_items(job: Job) -> Iterable[Item]:
    """Return the lines for what leads to the speakers."""
    leads = list(job.of("speaker"))
    for route in leads:
        yield _speaker_lead(job, route)
    for amplifier in job.today:
        lacking = _leads_lacking(job, amplifier)
        if lacking > 0:
            yield by_metre(
                _LEAD,
                None,
                None,
                f"of {amplifier.name}; no route is given",
                f"of {amplifier.name}",
                quantity=lacking,
            )
    count = len(leads) + sum(max(0, _leads_lacking(job, each)) for each in job.today)
    yield from _ferrules(job, count)
    if count:
        yield piece(
            "push-on receptacle, insulated",
            2 * count + 2 * job.coil_links,
            "to fit the speaker tabs, often 6.3, 4.8 or 2.8 mm",
            "two at the speaker end of each cable, two for each coil link; bootlace ferrules where "
            "it ends at screws",
            "speaker cable, at the speakers",
        )
    yield from _joined(job)
    if job.coil_links:
        yield piece(
            "coil link",
            job.coil_links,
            "short cable, the same size as the speaker cable",
            "between voice coil terminals: see the wiring drawing",
            "between voice coil terminals",
        )


def _ferrules(job: Job, count: int) -> Iterable[Item]:
    """Yield the ferrules of as many leads at the amplifier, by the size of the lead."""
    sizes = [lead_size(job, route) for route in job.of("speaker")]
    names = [None if size is None else size.name for size in sizes]
    names += [None] * (count - len(names))
    for name in sorted(set(names), key=lambda name: names.index(name)):
        reason = "at the amplifier, so that no strand is loose"
        yield piece(
            "bootlace ferrule",
            2 * names.count(name),
            name,
            reason if name else f"{reason}; the cable size is not known",
            "speaker cable, at the amplifier" + ("" if name else "; the size is not known"),
        )


def _joined(job: Job) -> Iterable[Item]:
    """Yield what joins the leads of speakers that share an output."""
    joined = {each.name: -_leads_lacking(job, each) for each in job.today}
    names = [name for name, more in joined.items() if more > 0]
    count = 2 * sum(joined[name] for name in names)
    if count:
        yield piece(
            "splice, crimped, for speakers sharing an output",
            count,
            "for two speaker cables and one tail",
            "where two speakers share an output: + with +, − with −, close to the amplifier; "
            f"at {', '.join(names)}; insulated",
            "speakers sharing an output, two for each extra cable",
        )


def _leads_lacking(job: Job, amplifier: Amplifier) -> int:
    """Return how many outputs have no route; below 0 where there are more routes."""
    return amplifier.outputs - sum(touches(amplifier, route) for route in job.of("speaker"))


def _speaker_lead(job: Job, route: Route) -> Item:
    size, bought = lead_size(job, route), job.bought_m(route.length_m)
    reason = (
        f"{route.start} to {route.end}; loses at most {quantity(job.lead_loss_db, 'dB')} into "
        f"{quantity(job.load_of(route), 'Ω')} over the length bought"
    )
    note = f"{route.start} to {route.end}"
    if route.end in job.subwoofers:
        reason += "; to a sub at most 5 % of the power, or 1.5 mm² or more"
    amplifier = job.at_end(route)
    if amplifier is not None and amplifier.total_power_w is None:
        reason += f"; the power of {amplifier.name} is not known"
        note += f"; the power of {amplifier.name} is not known"
    elif size is None and bought is not None:
        reason += "; no size does, shorten the cable"
        note += "; too long for any size"
    return by_metre(_LEAD, None if size is None else size.name, bought, reason, note)

"""Lines of the kit list for the signal: RCA leads, converter, high-level leads, adapters."""

from collections.abc import Iterable

from calc.answers.figures import quantity
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.lines import Item, by_metre, measured, piece
from calc.cabling.kit_list.rows import Route
from calc.physics.conductors import System

THIN_SIZE: dict[System, str] = {"metric": "0.75 mm²", "awg": "18 AWG"}
_SCREENED = "screened"


def signal_items(job: Job) -> Iterable[Item]:
    """Return the lines for what brings the signal."""
    yield from _rca_leads(job)
    yield from _converter(job)
    yield from _y_leads(job)
    yield from _high_level(job)


def _rca_leads(job: Job) -> Iterable[Item]:
    for route in job.of("signal"):
        pairs = job.pairs_of(route)
        if not pairs:
            continue
        kit = _kit_words(job, route)
        way = f"{route.start} to {route.end}"
        yield _rca_lead(job, pairs, route.length_m, way + kit, way + kit)
    for amplifier in job.today:
        if amplifier.signal_pairs and not job.signal_to(amplifier):
            way = f"to {amplifier.name}"
            pairs = amplifier.signal_pairs
            yield _rca_lead(job, pairs, None, f"{way}; no route is given", way)


def _kit_words(job: Job, route: Route) -> str:
    """Say what the kit's own lead has left or lacks; nothing where no kit is named."""
    left = job.kit_left_m(route)
    if not job.kit_signal_m or left is None:
        return ""
    word = "spare" if left >= 0 else "short"
    return (
        f"; kit’s {quantity(job.kit_signal_m, 'm', 3)} lead: {quantity(abs(left), 'm', 3)} {word}"
    )


def _rca_lead(job: Job, pairs: int, length_m: float | None, reason: str, note: str) -> Item:
    bought = job.bought_m(length_m)
    return Item(
        item="RCA lead, stereo pair",
        quantity=pairs,
        size=_SCREENED,
        length_m=bought,
        reason=measured(reason, bought),
        note=note,
        has_length=True,
    )


def _converter(job: Job) -> Iterable[Item]:
    if job.is_converted:
        yield piece(
            "line-output converter (LOC)",
            1,
            f"{job.converted} channels",
            "from speaker outputs to RCA; it needs differential inputs, because a head unit’s "
            "outputs are bridged and neither wire may be earthed; it needs its own fused supply "
            "and "
            "earth, and many have a remote output",
            "speaker outputs to RCA; with differential inputs",
        )


def _y_leads(job: Job) -> Iterable[Item]:
    for amplifier in job.today:
        count = job.y_leads_of(amplifier)
        if count == 0:
            continue
        source = "converter" if job.is_converted else "head unit"
        reason = (
            f"at the {source}, where one output feeds several inputs of {amplifier.name}; "
            "none if the amplifier has an input switch (2-channel or 4-channel)"
        )
        note = f"at the {source}, for {amplifier.name}"
        if count is None:
            reason += "; how many is not known: count the head unit’s outputs"
            note += ": count the head unit’s outputs"
        yield piece("Y-lead, one plug to two", count, _SCREENED, reason, note)


def _high_level(job: Job) -> Iterable[Item]:
    routes = job.of("high-level")
    ways = [(route.start, route.end, route.length_m) for route in routes]
    for start, end, length in dict.fromkeys(ways):
        yield by_metre(
            "speaker-level (high-level) lead, twisted pair",
            THIN_SIZE[job.rules.sizes],
            job.bought_m(length),
            f"{start} to {end}, one for each channel, from the factory speaker wires; it carries "
            "only milliamperes",
            f"{start} to {end}, one for each channel",
            quantity=ways.count((start, end, length)),
        )
    if job.has_loom_adapter:
        yield piece(
            "loom adapter",
            1,
            "for this vehicle and head unit",
            "between head unit and loom, so no factory wire is cut",
            "between head unit and loom",
        )
    joints = 0 if job.has_loom_adapter else 2 * (len(routes) + job.converted)
    joints += job.remote_from == "supply"
    if joints:
        yield piece(
            "splice, crimped",
            joints,
            "to suit the wires",
            "two for each channel tapped, one for a remote lead from a switched feed; insulated",
            "at the factory wires that are tapped",
        )

"""Lines of the kit list for power and earth: cable, fuses, terminals, blocks, protection."""

from collections.abc import Iterable

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.lines import Item, measured, piece
from calc.cabling.kit_list.power import USUAL_EARTH_M, Power
from calc.cabling.sizing import Offer
from calc.cabling.words import NO_TABLE

NOTHING_FITS = "no choice of sizes feeds the amplifiers within the rules"
_KIT_FUSE = "exchange the fuse that the kit brings (often 60 A) for this one"


def power_items(job: Job, power: Power | None, note: str | None) -> Iterable[Item]:
    """Return the lines from the battery to the amplifiers, and their earths.

    note : what the main fuse follows
    """
    if power is not None:
        yield from _cables(job, power)
        yield from _fuses(job, power, note)
        yield from _ends(job, power)
        yield from _blocks(job, power)
        yield from _protection(job, power)
    reached = {run.end for run in power.tree.runs} if power else set()
    for amplifier in job.amplifiers:
        if amplifier.name not in reached:
            yield piece(
                "power cable", 1, None, f"to {amplifier.name}; no route is given, measure it"
            )
    yield from _earths(job, power)


def _reason(job: Job, power: Power) -> str:
    """Say why sizes cannot be told; nothing where they can."""
    if power.is_refused:
        return NO_TABLE if job.rules.widest_a is None else NOTHING_FITS
    unknown = [f"the power of {name} is not known" for name in power.unknown_powers]
    return "; ".join([*unknown, *(f"measure the run to {end}" for end in power.unmeasured)])


def _least(power: Power, at: int) -> Offer | None:
    return None if power.plan is None else power.plan.offers[at]


def _name(offer: Offer | None) -> str | None:
    return None if offer is None else offer.size.name


def _laid(power: Power, at: int) -> str:
    """Return the size that is laid on a run: as it is bought, else the least."""
    return _name(power.kit.offers[at]) or _name(_least(power, at)) or "the cable"


def _cables(job: Job, power: Power) -> Iterable[Item]:
    lengths = {(route.start, route.end): route.length_m for route in job.of("power")}
    for at in power.tree.outward:
        run = power.tree.runs[at]
        bought = job.bought_m(lengths[run.start, run.end])
        if power.plan is None:
            decides = _reason(job, power)
        else:
            decides = f"{quantity(power.tree.full_currents[at], 'A', 3)} at full power"
            if power.kit.offers[at] is None:
                decides += "; thicker than cable is usually bought: order it by the metre"
        metal = "copper or OFC" if job.rules.material == "copper" else "CCA, as answered for"
        decides += f"; marked {metal}, {_marked(job)}"
        ways = [("power cable", f"{run.start} to {run.end}, {decides}")]
        if job.rules.return_by == "cable":
            ways.append(("return cable", f"{run.end} back to {run.start}, as the positive"))
        for item, reason in ways:
            yield Item(
                item=item,
                quantity=1,
                size=_name(_least(power, at)),
                kit_size=_name(power.kit.offers[at]),
                length_m=bought,
                reason=measured(reason, bought),
            )


def _marked(job: Job) -> str:
    if job.rules.insulation_c is None:
        return "with its temperature"
    return quantity(job.rules.insulation_c, "°C")


def _rating(power: Power, at: int) -> str | None:
    rating = power.fuses_a[at]
    return None if rating is None else quantity(rating, "A")


def _fuses(job: Job, power: Power, note: str | None) -> Iterable[Item]:
    inside = {at for runs in power.blocks().values() for at in runs}
    ratings = set()
    for at in power.tree.outward:
        if not power.needs_fuse(at):
            continue
        run, size = power.tree.runs[at], _rating(power, at)
        ratings.add((power.fuses_a[at] or 0.0, size))
        reason = f"in the distribution block at {run.start}, for the run to {run.end}"
        if at in power.tree.trunks:
            reason = (
                f"at {run.start}, within 450 mm of the terminal (common practice); "
                f"{note or _reason(job, power) or 'for the full current of this run'}; {_KIT_FUSE}"
            )
        elif at not in inside:
            reason = f"at {run.start}, where the cable gets thinner than the fuse before protects"
        yield piece("fuse", 1, size, reason)
        if at not in inside:
            yield piece(
                "fuse holder",
                1,
                size and f"{size}, {_laid(power, at)}",
                f"for the fuse at {run.start}, to {run.end}; closed, fixed, made for this cable",
            )
    for _, size in sorted(ratings, key=lambda rated: rated[0]):
        yield piece(
            "spare fuse", 1, size, "kept in the vehicle, so that nobody bridges a blown one"
        )


def _ends(job: Job, power: Power) -> Iterable[Item]:
    both = 2 if job.rules.return_by == "cable" else 1
    for at in power.tree.trunks:
        yield piece(
            "ring terminal, crimped",
            both,
            f"{_laid(power, at)}, for the battery’s bolt",
            f"battery end of the run to {power.tree.runs[at].end}; earth to the body, never to the "
            "battery post where a sensor sits on it",
        )
    # Each run has two ends, and two more where a fuse holder is put into it.
    inside = {at for runs in power.blocks().values() for at in runs}
    ends: dict[str, int] = {}
    for at in range(len(power.tree.runs)):
        is_cut = power.needs_fuse(at) and at not in inside
        count = (1 if at in power.tree.trunks else 2) * both + (2 if is_cut else 0)
        ends[_laid(power, at)] = ends.get(_laid(power, at), 0) + count
    for size, count in ends.items():
        yield piece(
            "cable ferrule or ring terminal",
            count,
            size,
            "ends at fuse holders, blocks and amplifiers; to suit their terminals",
        )
    yield piece(
        "heat-shrink sleeve",
        sum(ends.values()) + both * len(power.tree.trunks),
        "for the terminals and ferrules of the power cable",
        "over every crimp and its insulation",
    )


def _blocks(job: Job, power: Power) -> Iterable[Item]:
    both, tree = (2 if job.rules.return_by == "cable" else 1), power.tree
    for place in dict.fromkeys(run.start for run in tree.runs):
        out = [at for at, run in enumerate(tree.runs) if run.start == place]
        if place == tree.root and len(out) < 2:
            continue
        sizes = f"to {listed([_laid(power, at) for at in out])}"
        fused = [_rating(power, at) or "not known" for at in out if power.needs_fuse(at)]
        count = f"at {place}; ways out: {len(out)}"
        if place == tree.root:
            yield piece(
                "battery clamp with several bolts", both, sizes, f"{count}, each with its fuse"
            )
        elif len(out) > 1:
            yield piece(
                "distribution block with fuses", 1, sizes, f"{count}; fuses: {listed(fused)}"
            )
            if both == 2:
                yield piece("distribution block", 1, sizes, f"at {place}, for the return")
        else:
            yield piece("cable joint or block", both, sizes, count)


def _protection(job: Job, power: Power) -> Iterable[Item]:
    trunks = power.tree.trunks
    yield piece(
        "grommet",
        len(trunks),
        listed(sorted({_laid(power, at) for at in trunks})),
        "one for every hole through metal: at least the bulkhead; count the holes",
    )
    lengths = {(route.start, route.end): route.length_m for route in job.of("power")}
    bought = [
        job.bought_m(lengths[power.tree.runs[at].start, power.tree.runs[at].end]) for at in trunks
    ]
    known = [length_m for length_m in bought if length_m is not None]
    total = sum(known) if len(known) == len(bought) else None
    yield Item(
        item="split conduit",
        quantity=1,
        size="for the runs from the battery",
        length_m=total,
        reason=measured("over the positive from the battery on, against chafing", total),
    )


def _earths(job: Job, power: Power | None) -> Iterable[Item]:
    if job.rules.return_by == "cable":
        return
    fed = {run.end: at for at, run in enumerate(power.tree.runs)} if power else {}
    for route in job.of("earth"):
        at = fed.get(route.start, fed.get(route.end))
        least = None if at is None or power is None else _name(_least(power, at))
        kit = None if at is None or power is None else _name(power.kit.offers[at])
        bought = job.bought_m(route.length_m)
        reason = f"{route.start} to {route.end}, the size of the positive, as short as it can be"
        if bought is None:
            reason += f"; {quantity(USUAL_EARTH_M, 'm')} was taken for the drop"
        if least is None:
            reason += "; the positive’s size is not known"
        yield Item(
            item="earth cable",
            quantity=1,
            size=least,
            kit_size=kit,
            length_m=bought,
            reason=measured(reason, bought),
        )
        yield _earth_point(kit or least)
    for amplifier in job.amplifiers:
        if job.earth_of(amplifier.name) is None:
            yield piece(
                "earth cable", 1, None, f"of {amplifier.name}; no route is given, measure it"
            )
            yield _earth_point(None)


def _earth_point(size: str | None) -> Item:
    return piece(
        "earth point",
        1,
        f"ring terminal and ferrule for {size or 'the cable'}, bolt, toothed washer, nut",
        "to bare, solid body metal, sealed against rust; never a seat or seat-belt bolt",
    )

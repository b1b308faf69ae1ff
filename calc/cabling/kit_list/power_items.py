"""Lines of the kit list for power: cable, fuses, terminals, blocks, protection."""

from collections.abc import Iterable

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.earth_items import earth_items
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.lines import Item, by_metre, piece
from calc.cabling.kit_list.power import Power, least_name, size_name
from calc.cabling.words import NO_TABLE

NOTHING_FITS = "no cable in this list can feed these amplifiers safely"
_BLOCK = "distribution block"
_KIT_FUSE = "swap the kit’s own fuse (often 60 A) for this one"


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
    for amplifier in job.today:
        if amplifier.name not in reached:
            way = f"to {amplifier.name}"
            yield by_metre("power cable", None, None, f"{way}; no route is given", way)
    yield from earth_items(job, power)


def _reason(job: Job, power: Power) -> str:
    """Say why sizes cannot be told; nothing where they can."""
    if power.is_refused:
        return NO_TABLE if job.rules.widest_a is None else NOTHING_FITS
    unknown = [f"the power of {name} is not known" for name in power.unknown_powers]
    return "; ".join([*unknown, *(f"measure the run to {end}" for end in power.unmeasured)])


def _laid(power: Power, at: int) -> str:
    """Return the size that is laid on a run: as it is bought, else the least."""
    return size_name(power.kit.offers[at]) or least_name(power, at) or "the cable"


def _outward(power: Power) -> list[int]:
    """Return the runs that are laid now, from the battery on."""
    return [at for at in power.tree.outward if power.is_today[at]]


def _cables(job: Job, power: Power) -> Iterable[Item]:
    lengths = {(route.start, route.end): route.length_m for route in job.of("power")}
    for at in _outward(power):
        run = power.tree.runs[at]
        bought = job.bought_m(lengths[run.start, run.end])
        note = f"{run.start} to {run.end}"
        if power.plan is None:
            decides = _reason(job, power)
            note += f"; {decides}" if bought is not None else ""
        else:
            decides = f"{quantity(power.tree.full_currents[at], 'A', 3)} at full power"
            if power.kit.offers[at] is None:
                decides += "; thicker than shops usually stock: order it by the metre"
        metal = "copper or OFC" if job.rules.material == "copper" else "CCA, as entered"
        decides += f"; marked {metal}, {_marked(job)}"
        ways = [("power cable", f"{run.start} to {run.end}, {decides}", note)]
        if job.rules.return_by == "cable":
            back = f"{run.end} back to {run.start}"
            ways.append(("return cable", f"{back}, the same as the power cable", back))
        for item, reason, short in ways:
            yield by_metre(
                item,
                least_name(power, at),
                bought,
                reason,
                short,
                kit_size=size_name(power.kit.offers[at]),
            )


def _marked(job: Job) -> str:
    if job.rules.insulation_c is None:
        return "with its insulation rating"
    return quantity(job.rules.insulation_c, "°C")


def _rating(power: Power, at: int) -> str | None:
    rating = power.fuses_a[at]
    return None if rating is None else quantity(rating, "A")


def _block(place: str) -> str:
    """Name the block at a place."""
    return _BLOCK if place == _BLOCK else f"{_BLOCK} at {place}"


def _later(power: Power, at: int) -> str:
    """Say which fuse a run has once all that is planned is there; nothing where that is as now."""
    whole = power.tree.ratings[at]
    if power.plan is None or whole is None or power.fuses_a[at] == whole:
        return ""
    return f"; {quantity(whole, 'A')} once every planned amplifier is in"


def _fuses(job: Job, power: Power, note: str | None) -> Iterable[Item]:
    inside = {at for runs in power.blocks().values() for at in runs}
    ratings = set()
    for at in _outward(power):
        if not power.needs_fuse(at):
            continue
        run, size = power.tree.runs[at], _rating(power, at)
        ratings.add((power.fuses_a[at] or 0.0, size))
        reason = f"in the {_block(run.start)}, for the run to {run.end}"
        short = f"in the block, for {run.end}"
        if at in power.tree.trunks:
            reason = (
                f"at {run.start}, within 450 mm of the terminal; "
                f"{note or _reason(job, power) or 'for the full current of this run'}; {_KIT_FUSE}"
            )
            short = f"main fuse, within 450 mm of the {run.start}"
        elif at not in inside:
            reason = f"at {run.start}, where the cable is too thin for the fuse before it"
            short = f"at {run.start}, to {run.end}"
        open_words = f"; {_reason(job, power)}" if size is None else ""
        yield piece("fuse", 1, size, reason + _later(power, at), short + open_words)
        if at not in inside:
            whole = quantity(power.tree.ratings[at], "A")
            yield piece(
                "fuse holder",
                1,
                None if size is None else f"{whole}, {_laid(power, at)}",
                f"for the fuse at {run.start}, to {run.end}; closed, screwed down, made for this "
                "cable size",
                f"at {run.start}, to {run.end}{open_words}",
            )
    for _, size in sorted(ratings, key=lambda rated: rated[0]):
        yield piece(
            "spare fuse",
            1,
            size,
            "keep it in the vehicle, so that nobody bridges a blown one",
            "keep in the vehicle" if size else f"keep in the vehicle; {_reason(job, power)}",
        )


def _ends(job: Job, power: Power) -> Iterable[Item]:
    both = 2 if job.rules.return_by == "cable" else 1
    trunks = [at for at in power.tree.trunks if power.is_today[at]]
    for at in trunks:
        end = power.tree.runs[at].end
        yield piece(
            "ring terminal, crimped",
            both,
            f"{_laid(power, at)}, for the battery bolt",
            f"battery end of the run to {end}; never earth to a battery post that carries a "
            "sensor, "
            "earth to the body",
            f"battery end of the run to {end}",
        )
    # Each run has two ends, and two more where a fuse holder is put into it.
    inside = {at for runs in power.blocks().values() for at in runs}
    ends: dict[str, int] = {}
    for at in range(len(power.tree.runs)):
        if not power.is_today[at]:
            continue
        is_cut = power.needs_fuse(at) and at not in inside
        count = (1 if at in power.tree.trunks else 2) * both + (2 if is_cut else 0)
        ends[_laid(power, at)] = ends.get(_laid(power, at), 0) + count
    for size, count in ends.items():
        yield piece(
            "bootlace ferrule or ring terminal, power",
            count,
            size,
            "cable ends at fuse holders, blocks and amplifiers; to suit their terminals",
            "at fuse holders, blocks and amplifiers",
        )
    crimps = dict(ends)
    for at in trunks:
        crimps[_laid(power, at)] += both
    for size, count in crimps.items():
        yield piece(
            "heat-shrink",
            count,
            f"for {size}",
            "over every power crimp and its insulation",
            "over every crimp",
        )


def _blocks(job: Job, power: Power) -> Iterable[Item]:
    both, tree = (2 if job.rules.return_by == "cable" else 1), power.tree
    for place in dict.fromkeys(run.start for run in tree.runs):
        out = [at for at, run in enumerate(tree.runs) if run.start == place]
        if place == tree.root and len(out) < 2:
            continue
        sizes = f"to {listed([_laid(power, at) for at in out])}"
        kept = [tree.runs[at].end for at in out if not power.is_today[at]]
        fused = [
            _rating(power, at) or "not known"
            for at in out
            if power.needs_fuse(at) and power.is_today[at]
        ]
        where = "" if place == _BLOCK else f"at {place}; "
        count = f"{where}outputs: {len(out)}"
        short = f"{where}{len(out)} outputs"
        if kept:
            count += f", one of them kept free for {listed(kept)}"
            short += f"; kept free for {listed(kept)}"
        if place == tree.root:
            yield piece(
                "battery clamp with several terminals",
                both,
                sizes,
                f"{count}, each with its own fuse",
                short,
            )
        elif len(out) > 1:
            yield piece(
                "fused distribution block",
                1,
                sizes,
                f"{count}; fuses: {listed(fused) or 'none yet'}",
                f"{short}; fuses {listed(fused) or 'none yet'}",
            )
            if both == 2:
                back = f"{where}for the return"
                yield piece("distribution block", 1, sizes, back, back)
        else:
            yield piece("in-line connector or block", both, sizes, count, short)


def _protection(job: Job, power: Power) -> Iterable[Item]:
    trunks = [at for at in power.tree.trunks if power.is_today[at]]
    laid = listed(sorted({_laid(power, at) for at in trunks}))
    yield piece(
        "grommet",
        len(trunks),
        f"for {laid}",
        "one for every hole through metal, the bulkhead at least; count the holes",
        "bulkhead, and every other hole through metal: count them",
    )
    lengths = {(route.start, route.end): route.length_m for route in job.of("power")}
    bought = [
        job.bought_m(lengths[power.tree.runs[at].start, power.tree.runs[at].end]) for at in trunks
    ]
    known = [length_m for length_m in bought if length_m is not None]
    total = sum(known) if len(known) == len(bought) else None
    yield by_metre(
        "split conduit",
        f"for {laid}",
        total,
        "over the power cable from the battery on, against chafing",
        "over the power cable from the battery on",
    )

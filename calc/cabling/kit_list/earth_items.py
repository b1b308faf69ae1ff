"""Lines of the kit list for earth: a cable for each amplifier, and its point on the body."""

from collections.abc import Iterable, Sequence

from calc.answers.figures import listed, quantity
from calc.cabling.kit_list.job import Job
from calc.cabling.kit_list.lines import Item, by_metre, piece
from calc.cabling.kit_list.power import USUAL_EARTH_M, Power, least_name, size_name


def earth_items(job: Job, power: Power | None) -> Iterable[Item]:
    """Return the earth of each amplifier that is put in now; of several they meet at one point."""
    if job.rules.return_by == "cable":
        return
    fed = {run.end: at for at, run in enumerate(power.tree.runs)} if power else {}
    later = {amplifier.name for amplifier in job.amplifiers if amplifier.later}
    several = len(job.today) > 1
    sizes: list[str | None] = []
    for route in job.of("earth"):
        if later & {route.start, route.end}:
            continue
        at = fed.get(route.start, fed.get(route.end))
        least = None if at is None or power is None else least_name(power, at)
        kit = None if at is None or power is None else size_name(power.kit.offers[at])
        bought = job.bought_m(route.length_m)
        way = f"{route.start} to {route.end}"
        reason = f"{way}, the same size as the power cable, as short as you can"
        if several:
            reason += "; all amplifiers to one earth point"
        if bought is None:
            reason += f"; counted as {quantity(USUAL_EARTH_M, 'm')} in the voltage drop"
        if least is None:
            reason += "; the power cable’s size is not known"
        note = way if least is not None else f"{way}; the power cable’s size is not known"
        yield by_metre("earth cable", least, bought, reason, note, kit_size=kit)
        sizes.append(kit or least)
        if not several:
            yield _earth_point(kit or least, route.start)
    for amplifier in job.today:
        if job.earth_of(amplifier.name) is None:
            way = f"of {amplifier.name}"
            yield by_metre("earth cable", None, None, f"{way}; no route is given", way)
            sizes.append(None)
            if not several:
                yield _earth_point(None, amplifier.name)
    if several:
        yield _shared_point(sizes)


def _shared_point(sizes: Sequence[str | None]) -> Item:
    """Return the one point at which the earths of several amplifiers meet."""
    ends = listed(
        [
            f"{sizes.count(size)} for {size or 'the cable'}"
            for size in sorted(set(sizes), key=lambda size: sizes.index(size))
        ]
    )
    return piece(
        "earth point",
        1,
        f"ring terminals and ferrules, {ends}; bolt, toothed washer, nut",
        "one point for all, so that none shares its earth cable with another: bare, solid body "
        "metal, sealed against rust, never a seat or seat-belt bolt",
        "one point for all; bare body metal, never a seat or seat-belt bolt",
    )


def _earth_point(size: str | None, whose: str) -> Item:
    return piece(
        "earth point",
        1,
        f"ring terminal and ferrule for {size or 'the cable'}, bolt, toothed washer, nut",
        "bare, solid body metal, sealed against rust, never a seat or seat-belt bolt",
        f"of {whose}; bare body metal, never a seat or seat-belt bolt",
    )

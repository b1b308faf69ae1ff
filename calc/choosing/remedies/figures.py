"""One figure of the amplifier that would be enough, the nearest that does."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from calc.answers.figures import rounded
from calc.choosing.installed import Part
from calc.choosing.remedies.case import CHANNEL_PROBLEMS, Aim, Case, Change
from calc.inputs.declared import fields_of
from calc.inputs.field_base import Value
from calc.inputs.fields import Number
from calc.system.amplifier import NO_FILTERS, Amplifier
from calc.system.usual import EFFICIENCY

# The ratings in which amplifiers are sold (common practice, no source), over several decades.
_STEPS = (10, 12.5, 15, 20, 25, 30, 40, 50, 60, 75, 80)
RATINGS_W = tuple(step * 10.0**decade for decade in range(4) for step in _STEPS)
# Of another amplifier nobody knows the fuses.
_ANOTHERS: Mapping[str, Value] = {"fuses_a": None, "main_fuse_a": None}
_POWERS = ("power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "rated_bridged_w")
_CHANNELS = (2, 4, 5, 6, 8)
_LOWEST_OHM = (4.0, 2.0, 1.0, 0.5)
# Two speakers of 4 Ω on an output: several channels for less are rare (common practice, no source).
_SHARED_OHM = 2.0
_SHRUNK = tuple(1 - at / 20 for at in range(1, 16))
_HOT_C = tuple(range(45, 96, 5))
_WEAK_V = (2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
_STANDBY_A = (0.02, 0.01, 0.005, 0.002, 0.001)


def rated(case: Case, part: Part, watts: float) -> Case | None:
    """Return the case with an amplifier of another power; None where no rating is that high.

    All its printed powers change alike.  Its fuses, and the one its maker asks for, are another
    amplifier's, which are not known.
    """
    now = part.given.power_4ohm_w
    if now is None:
        return None
    changed: dict[str, Value] = {**_ANOTHERS}
    for key in _POWERS:
        figure, field = getattr(part.given, key), fields_of(Amplifier)[key]
        assert isinstance(field, Number)
        if figure is not None:
            changed[key] = round(figure * watts / now, 6)
            if not field.low <= changed[key] <= field.high:
                return None
    return case.of_amplifier(part.at, **changed)


def _change(aim: Aim, part: Part, words: str, made: Case, size: float, key: str) -> Change:
    """Return the change to an amplifier of another figure, in place of this one."""
    lead = f"with {part.name} changed for one" if len(aim.case.parts) > 1 else "with an amplifier"
    return Change("amplifier", f"{lead} {words}", made, size, about=(part.at, key))


def stronger(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of just enough power."""
    for part in aim.parts:
        yield from _rated(aim, part, more=True)


def weaker(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of so little power that cable, supply and air bear it."""
    for part in aim.parts:
        yield from _rated(aim, part, more=False)


def _rated(aim: Aim, part: Part, *, more: bool) -> Iterator[Change]:
    now = part.given.power_4ohm_w
    if now is None:
        return

    def made(watts: float) -> Case | None:
        return rated(aim.case, part, watts)

    values = [watts for watts in RATINGS_W if (watts > now if more else watts < now)]
    values = [watts for watts in values if made(watts) is not None]
    watts = aim.first(values if more else values[::-1], made)
    changed = None if watts is None else made(watts)
    if watts is not None and changed is not None:
        limit = "at least" if more else "at most"
        words = f"of {limit} {rounded(watts)} W per channel at 4 Ω"
        yield _change(aim, part, words, changed, max(watts / now, now / watts), "power")


def more_channels(aim: Aim) -> Iterator[Change]:
    """Yield amplifiers of more channels, the two smallest that carry all."""
    for part in aim.parts:
        now = part.count
        least = aim.case.job.fewest_outputs - (aim.case.outputs - now)
        more = [count for count in _CHANNELS if count > now and count >= least]
        for count in more[:2]:
            filters = _filters_on(part.given.filters, now, count)
            made = aim.case.of_amplifier(part.at, channels=count, filters=filters, **_ANOTHERS)
            yield _change(aim, part, f"of {count} channels", made, count / 2, "channels")


def _filters_on(filters: str | None, now: int, count: int) -> str | None:
    """Return filters with those of the last channels on the channels added as well.

    >>> _filters_on("1/2 high-pass 50-250 1 butterworth 2 A yes", 2, 5)
    '1/2 high-pass 50-250 1 butterworth 2 A yes | 3/4 high-pass 50-250 1 butterworth 2 B yes | \
5 high-pass 50-250 1 butterworth 2 C yes'
    """
    if filters in (None, NO_FILTERS):
        return filters
    rows = [row.split() for row in filters.split("|")]
    last = [cells for cells in rows if str(now) in re.split("[/+]", cells[0])]
    switches = iter(sorted(set("ABCDEFGHIJKLMNOP") - {cells[6] for cells in rows}))
    for first in range(now + 1, count + 1, 2):
        outputs = f"{first}/{first + 1}" if first < count else str(first)
        named = {cells[6]: "-" if cells[6] == "-" else next(switches) for cells in last}
        rows += [[outputs, *cells[1:6], named[cells[6]], *cells[7:]] for cells in last]
    return " | ".join(" ".join(row) for row in rows)


def lower_load(aim: Aim) -> Iterator[Change]:
    """Yield amplifiers that are stable to a lower load."""
    for part in aim.parts:
        now = part.amplifier.min_channel_ohm
        for ohm in _LOWEST_OHM:
            if now is not None and ohm < now:
                words = f"stable to {rounded(ohm)} Ω per channel"
                made = aim.case.of_amplifier(part.at, min_channel_ohm=ohm, **_ANOTHERS)
                yield _change(aim, part, words, made, 1 + now / ohm / 2, "load")


def bridgeable(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier whose pairs can be bridged, where this one's cannot."""
    for part in aim.parts:
        if part.amplifier.may_bridge is False and part.count > 1:
            made = aim.case.of_amplifier(part.at, may_be_bridged=True)
            yield _change(aim, part, "whose channels can be bridged", made, 1.0, "bridge")


def another(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier with channels, lowest load and power that are enough together."""
    case = aim.case
    every = aim.names | CHANNEL_PROBLEMS
    every |= {f"power: {speaker.name}" for speaker in case.job.speakers}
    part = aim.parts[0]
    now = part.amplifier.min_channel_ohm or _LOWEST_OHM[0]
    for count, lowest_ohm in _counts(case, part).items():
        for ohm in dict.fromkeys((now, *_LOWEST_OHM[1:])):
            if not lowest_ohm <= ohm <= now:
                continue
            filters = _filters_on(part.given.filters, part.count, count)
            wider = case.of_amplifier(
                part.at, channels=count, min_channel_ohm=ohm, filters=filters,
                may_be_bridged=True, **_ANOTHERS,
            )  # fmt: skip
            values = [watts for watts in RATINGS_W if watts >= (part.given.power_4ohm_w or 0)]
            for watts in values[::2]:
                made = rated(wider, part, watts)
                if made is None or not made.has_plan(every):
                    continue
                words = (
                    f"of {count} channels, stable to {rounded(ohm)} Ω, of at least "
                    f"{rounded(watts)} W per channel at 4 Ω"
                )
                change = _change(aim, part, words, made, count / 2, "channels")
                yield replace(change, far=1.5)
                return


def _counts(case: Case, part: Part) -> Mapping[int, float]:
    """Return how many channels another amplifier may have, with the lowest load for it [Ω].

    First come those where pairs share, of loads that such amplifiers usually run.
    """
    others = case.outputs - part.count
    counts: dict[int, float] = {}
    for outputs, ohm in ((case.job.fewest_outputs, _SHARED_OHM), (case.job.least_outputs, 0.0)):
        least = max(part.count, outputs - others)
        counts |= dict.fromkeys([count for count in _CHANNELS if count >= least][:2], ohm)
    return counts


def smaller(aim: Aim) -> Iterator[Change]:
    """Yield lower amplifiers, some with a smaller base, and some that are smaller all round."""
    for part in aim.parts:
        yield from _lower(aim, part)
        yield from _less_wide(aim, part)


def _lower(aim: Aim, part: Part) -> Iterator[Change]:
    high = part.given.height_mm
    if high is None:
        return
    lower = aim.first(_down(high, 5.0), lambda mm: aim.case.of_amplifier(part.at, height_mm=mm))
    if lower is not None:
        words = f"no more than {rounded(lower)} mm high"
        made = aim.case.of_amplifier(part.at, height_mm=lower)
        yield _change(aim, part, words, made, high / lower, "height")


def _less_wide(aim: Aim, part: Part) -> Iterator[Change]:
    every = ("width_mm", "depth_mm", "height_mm")
    keys = tuple(key for key in every if getattr(part.given, key) is not None)
    if keys[:2] != every[:2]:
        return
    for chosen in dict.fromkeys((keys[:2], keys)):
        share = aim.first(_SHRUNK, partial(_shrunk, aim.case, part, chosen))
        if share is None:
            continue
        made = _shrunk(aim.case, part, chosen, share)
        sides = [getattr(made.amplifiers[part.at], key) for key in chosen]
        words = f"no larger than {' × '.join(map(rounded, sides))} mm"
        yield _change(aim, part, words, made, 1 / share + len(chosen), "body")
        return


def _down(value: float, step: float) -> list[float]:
    """Return the steps below a value, falling.

    >>> _down(52, 20.0)
    [40.0, 20.0]
    """
    return [at * step for at in range(int((value - 1e-9) // step), 0, -1)]


def _shrunk(case: Case, part: Part, keys: Sequence[str], share: float) -> Case:
    """Return the case with a smaller body, its sides in steps of 5 mm."""
    sides = {key: max(20.0, 5.0 * (share * getattr(part.given, key) // 5)) for key in keys}
    return case.of_amplifier(part.at, **sides)


def hotter(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier that works in hotter air, and a class that gives off less heat."""
    limits = [part.given.limit_c for part in aim.case.parts]
    known = [limit for limit in limits if limit is not None]
    if len(known) == len(limits):
        above = [float(limit) for limit in _HOT_C if limit > min(known)]
        limit_c = aim.first(above, lambda limit: _standing(aim.case, limit))
        if limit_c is not None:
            some = "an amplifier that works" if len(known) == 1 else "amplifiers that work"
            words = f"with {some} in air at {rounded(limit_c)} °C"
            size = limit_c / max(min(known), 1.0)  # a limit may be 0 °C
            yield Change("amplifier", words, _standing(aim.case, limit_c), size)
    yield from efficient(aim)


def _standing(case: Case, limit_c: float) -> Case:
    """Return the case with every amplifier made for air that is at least so hot."""
    for part in case.parts:
        case = case.of_amplifier(part.at, limit_c=max(limit_c, part.given.limit_c or 0.0))
    return case


def efficient(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of class D, where this one is less efficient than is usual of these."""
    usual = float(EFFICIENCY["d"].value)
    for part in aim.case.parts:
        given = part.given
        if given.amplifier_class == "d" and (given.efficiency_percent or usual) >= usual:
            continue
        changed: dict[str, Value] = {"amplifier_class": "d", "efficiency_percent": usual}
        made = aim.case.of_amplifier(part.at, **changed, **_ANOTHERS)
        yield _change(aim, part, f"of class D ({rounded(usual)} % efficient)", made, 1.5, "class")


def sensitive(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier whose line input works from a weaker signal."""
    for part in aim.parts:
        yield from _just(aim, part, "sensitivity_min_v", _WEAK_V)


def thrifty(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier that draws less while it is off."""
    for part in aim.parts:
        yield from _just(aim, part, "quiescent_a", _STANDBY_A)


def _just(aim: Aim, part: Part, key: str, falling: Sequence[float]) -> Iterator[Change]:
    """Yield an amplifier with the largest of falling figures that is small enough."""
    now = getattr(part.amplifier, key)
    below = [figure for figure in falling if now is None or figure < now]
    figure = aim.first(below, lambda figure: aim.case.of_amplifier(part.at, **{key: figure}))
    if figure is not None:
        words = f"with an RCA input that works from {rounded(figure)} V"
        if key == "quiescent_a":
            words = f"that draws at most {rounded(1000 * figure)} mA when it is off"
        made = aim.case.of_amplifier(part.at, **{key: figure})
        yield _change(aim, part, words, made, 1.0, key)

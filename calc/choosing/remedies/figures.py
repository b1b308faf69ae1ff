"""One figure of the amplifier that would be enough, the nearest that does."""

import re
from collections.abc import Iterator, Sequence

from calc.answers.figures import rounded
from calc.choosing.remedies.case import Aim, Case, Change
from calc.inputs.declared import fields_of
from calc.inputs.field_base import Value
from calc.inputs.fields import Number
from calc.system.amplifier import NO_FILTERS, Amplifier
from calc.system.usual import EFFICIENCY

# The ratings in which amplifiers are sold (common practice, no source), over several decades.
_STEPS = (10, 12.5, 15, 20, 25, 30, 40, 50, 60, 75, 80)
RATINGS_W = tuple(step * 10.0**decade for decade in range(4) for step in _STEPS)
_POWERS = ("power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "rated_bridged_w")
_CHANNELS = (2, 4, 5, 6, 8)
_LOWEST_OHM = (4.0, 2.0, 1.0, 0.5)
_SHRUNK = tuple(1 - at / 20 for at in range(1, 16))
_HOT_C = tuple(range(45, 96, 5))
_WEAK_V = (2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
_STANDBY_A = (0.02, 0.01, 0.005, 0.002, 0.001)


def rated(case: Case, watts: float) -> Case | None:
    """Return the case with an amplifier of another power; None where no rating is that high.

    All its printed powers change alike.  Its fuses, and the one its maker asks for, are another
    amplifier's, which are not known.
    """
    now = case.amplifier.power_4ohm_w
    if now is None:
        return None
    changed: dict[str, Value] = {"fuses_a": None, "main_fuse_a": None}
    for key in _POWERS:
        figure, field = getattr(case.amplifier, key), fields_of(Amplifier)[key]
        assert isinstance(field, Number)
        if figure is not None:
            changed[key] = round(figure * watts / now, 6)
            if not field.low <= changed[key] <= field.high:
                return None
    return case.of_amplifier(**changed)


def stronger(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of just enough power."""
    yield from _rated(aim, more=True)


def weaker(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of so little power that cable, supply and air bear it."""
    yield from _rated(aim, more=False)


def _rated(aim: Aim, *, more: bool) -> Iterator[Change]:
    now = aim.case.amplifier.power_4ohm_w
    if now is None:
        return
    values = [watts for watts in RATINGS_W if (watts > now if more else watts < now)]
    values = [watts for watts in values if rated(aim.case, watts) is not None]
    watts = aim.first(values if more else values[::-1], lambda watts: rated(aim.case, watts))
    made = None if watts is None else rated(aim.case, watts)
    if watts is not None and made is not None:
        limit = "at least" if more else "at most"
        words = f"with an amplifier of {limit} {rounded(watts)} W per channel at 4 Ω"
        yield Change("amplifier", words, made, max(watts / now, now / watts))


def more_channels(aim: Aim) -> Iterator[Change]:
    """Yield amplifiers of more channels, the two smallest that carry all."""
    now, least = aim.case.judge.amplifier.channels or 0, aim.case.job.least_outputs
    more = [count for count in _CHANNELS if count > now and count >= least]
    for count in more[:2]:
        made = aim.case.of_amplifier(
            channels=count,
            filters=_filters_on(aim.case.amplifier.filters, now, count),
            fuses_a=None,
            main_fuse_a=None,
        )
        yield Change("amplifier", f"with an amplifier of {count} channels", made, count / 2)


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
    now = aim.case.judge.amplifier.min_channel_ohm
    for ohm in _LOWEST_OHM:
        if now is not None and ohm < now:
            words = f"with an amplifier whose channels are stable to {rounded(ohm)} Ω"
            made = aim.case.of_amplifier(min_channel_ohm=ohm, fuses_a=None, main_fuse_a=None)
            yield Change("amplifier", words, made, 1 + now / ohm / 2)


def bridgeable(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier whose pairs can be bridged, where this one's cannot."""
    if aim.case.judge.amplifier.may_bridge is False:
        made = aim.case.of_amplifier(may_be_bridged=True)
        yield Change("amplifier", "with an amplifier whose channels can be bridged", made, 1.0)


def smaller(aim: Aim) -> Iterator[Change]:
    """Yield a lower amplifier, one with a smaller base, and one that is smaller all round."""
    given = aim.case.amplifier
    wide, deep, high = given.width_mm, given.depth_mm, given.height_mm
    if high is not None:
        lower = aim.first(_down(high, 5.0), lambda mm: aim.case.of_amplifier(height_mm=mm))
        if lower is not None:
            words = f"with an amplifier no more than {rounded(lower)} mm high"
            made = aim.case.of_amplifier(height_mm=lower)
            yield Change("amplifier", words, made, high / lower)
    if wide is None or deep is None:
        return
    keys = ("width_mm", "depth_mm") if high is None else ("width_mm", "depth_mm", "height_mm")
    for chosen in (keys[:2], keys) if high is not None else (keys,):
        share = aim.first(_SHRUNK, lambda share, chosen=chosen: _shrunk(aim.case, chosen, share))
        if share is None:
            continue
        made = _shrunk(aim.case, chosen, share)
        size = " × ".join(rounded(getattr(made.amplifier, key)) for key in chosen)
        words = f"with an amplifier no larger than {size} mm"
        yield Change("amplifier", words, made, 1 / share + len(chosen))
        return


def _down(value: float, step: float) -> list[float]:
    """Return the steps below a value, falling.

    >>> _down(52, 20.0)
    [40.0, 20.0]
    """
    return [at * step for at in range(int((value - 1e-9) // step), 0, -1)]


def _shrunk(case: Case, keys: Sequence[str], share: float) -> Case:
    """Return the case with a smaller body, its sides in steps of 5 mm."""
    sides = {key: max(20.0, 5.0 * (share * getattr(case.amplifier, key) // 5)) for key in keys}
    return case.of_amplifier(**sides)


def hotter(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier that works in hotter air, and a class that gives off less heat."""
    now = aim.case.amplifier.limit_c
    if now is not None:
        above = [float(limit) for limit in _HOT_C if limit > now]
        limit_c = aim.first(above, lambda limit: aim.case.of_amplifier(limit_c=limit))
        if limit_c is not None:
            words = f"with an amplifier that works in air of {rounded(limit_c)} °C"
            yield Change("amplifier", words, aim.case.of_amplifier(limit_c=limit_c), limit_c / now)
    yield from efficient(aim)


def efficient(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier of class D, where this one is less efficient than is usual of these."""
    given, usual = aim.case.amplifier, float(EFFICIENCY["d"].value)
    if given.amplifier_class == "d" and (given.efficiency_percent or usual) >= usual:
        return
    made = aim.case.of_amplifier(amplifier_class="d", efficiency_percent=usual, fuses_a=None)
    words = f"with an amplifier of class D ({rounded(usual)} % efficient)"
    yield Change("amplifier", words, made, 1.5)


def sensitive(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier whose line input works from a weaker signal."""
    now = aim.case.judge.amplifier.sensitivity_min_v
    below = [volts for volts in _WEAK_V if now is not None and volts < now]
    volts = aim.first(below, lambda volts: aim.case.of_amplifier(sensitivity_min_v=volts))
    if volts is not None:
        words = f"with an amplifier whose RCA input works from {rounded(volts)} V"
        yield Change("amplifier", words, aim.case.of_amplifier(sensitivity_min_v=volts), 1.0)


def thrifty(aim: Aim) -> Iterator[Change]:
    """Yield an amplifier that draws less while it is off."""
    now = aim.case.amplifier.quiescent_a
    below = [ampere for ampere in _STANDBY_A if now is None or ampere < now]
    ampere = aim.first(below, lambda ampere: aim.case.of_amplifier(quiescent_a=ampere))
    if ampere is not None:
        words = f"with an amplifier that draws at most {rounded(1000 * ampere)} mA when it is off"
        yield Change("amplifier", words, aim.case.of_amplifier(quiescent_a=ampere), 1.0)

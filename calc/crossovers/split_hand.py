"""What a hand can set: a knob without steps has the marks of ISO 266, and its two ends.

Nobody sets 92 Hz on a knob that shows 50 and 250.  The search therefore gets such a knob as one
with steps; a corner between the marks is offered only where the reader asks for it, or where no
mark lies in the window.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from calc.crossovers.split import TINY, Control, Edge, Section
from calc.crossovers.split_edges import marks_between


def dial_marks(low: float, high: float) -> tuple[float, ...]:
    """Return what a dial from `low` to `high` [Hz] can be set to: its ends and the marks between.

    >>> dial_marks(50, 130)
    (50, 63.0, 80.0, 100.0, 125.0, 130)
    """
    within = low * (1 + TINY), high * (1 - TINY)
    return (low, *(one for one in marks_between(low, high) if within[0] < one < within[1]), high)


def by_hand(control: Control, sections: Sequence[Section], edges: Iterable[Edge]) -> Control:
    """Return a control as a hand sets it: with steps where it turns without.

    edges : those of the sections; only the ones that the control acts on play a part
    """
    if control.range_hz is None:
        return control
    low, high = control.range_hz
    steps = set(dial_marks(low, high))
    for edge in edges:
        section = sections[edge.section]
        if edge.kind != control.kind or not section.channels <= control.channels:
            continue
        for factor in control.times:
            wishes = _between_marks(edge, {one * factor for one in steps})
            steps |= {one / factor for one in wishes if low <= one / factor <= high}
    return replace(control, range_hz=None, steps_hz=tuple(sorted(steps)))


def _between_marks(edge: Edge, marks_hz: set[float]) -> set[float]:
    """Return corners [Hz] besides the marks: one that was asked for, or where no mark does."""
    if not edge.is_needed:
        return set()
    low, high = edge.window_hz
    wanted = edge.wanted_hz
    if not marks_between(wanted, wanted):
        return {wanted}
    if any(low * (1 - TINY) <= one <= high * (1 + TINY) for one in marks_hz):
        return set()
    return {wanted, low, high}

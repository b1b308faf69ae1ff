"""What a hand can set: a knob without steps has the marks of ISO 266, and its two ends.

Nobody sets 92 Hz on a knob that shows 50 and 250.  The search therefore gets such a knob as one
with steps; a corner between the marks is offered only where the reader asks for it, or where no
mark lies in the window.
"""

from collections.abc import Iterable, Sequence

from calc.crossovers.splitting.model import TINY, Edge, Section
from calc.physics.dial_marks import dial_marks, marks_between
from calc.physics.filters import Kind


def hand_steps_hz(
    range_hz: tuple[float, float],
    *,
    kind: Kind,
    channels: frozenset[int],
    times: Sequence[float],
    sections: Sequence[Section],
    edges: Iterable[Edge],
) -> tuple[float, ...]:
    """Return the corners [Hz] that a hand sets on a knob which turns without steps.

    range_hz : the knob's two ends [Hz]
    times : the factors of its range switch
    edges : those of the sections; only the ones that the knob acts on play a part
    """
    low, high = range_hz
    steps = set(dial_marks(low_hz=low, high_hz=high))
    for edge in edges:
        if edge.kind != kind or not sections[edge.section].channels <= channels:
            continue
        for factor in times:
            wishes = _between_marks(edge, {step * factor for step in steps})
            steps |= {wish / factor for wish in wishes if low <= wish / factor <= high}
    return tuple(sorted(steps))


def _between_marks(edge: Edge, marks_hz: set[float]) -> set[float]:
    """Return corners [Hz] besides the marks: one that was asked for, or where no mark does."""
    if not edge.is_needed:
        return set()
    low, high = edge.window_hz
    wanted = edge.wanted_hz
    if not marks_between(low_hz=wanted, high_hz=wanted):
        return {wanted}
    if any(low * (1 - TINY) <= mark <= high * (1 + TINY) for mark in marks_hz):
        return set()
    return {wanted, low, high}

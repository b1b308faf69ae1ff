"""The filters' settings that are worth trying, and what comes of them.

A control without steps is tried where it could be best: at the wanted corner and the
window's ends of every edge that it acts on, at the ends of its range, and where it makes a
good stack with another filter.  (With three filters on one edge a corner between those
tried can be better by some hundredths of an octave.)  Settings far from every window are
not tried, unless the control cannot be off.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.crossovers.split import (
    STACKING_RATIO,
    Box,
    Control,
    Edge,
    Passive,
    Section,
    stacked,
)
from calc.crossovers.split_edges import edges_of, passive_filters
from calc.physics.filters import Filter

Setting = tuple[float, int] | None  # corner [Hz] and order, or off
_CLEAR = 1e-6  # beyond the limit of a stack, by so much of an octave
_MICRO = 1_000_000  # deviations are added as whole millionths of an octave: no last bits


@dataclass(frozen=True, kw_only=True)
class MadeEdge:
    """An edge with the filters that make it.

    filters : (box, filter) of each that acts on it
    corner_hz, order, number : of those that act together (see `stacked`)
    state : `made`, `unprotected`, `missing`, `spoilt` (a filter where none should be) or
        `open` (no filter, and none needed)
    """

    edge: Edge
    filters: tuple[tuple[Box, Filter], ...]
    corner_hz: float | None
    order: int
    number: int
    state: str

    @property
    def makers(self) -> tuple[Box, ...]:
        """The boxes whose filters act together on the edge; others are out of its reach."""
        listed = [(one.frequency_hz, one.order) for _, one in self.filters]
        whole = stacked(self.edge.kind, listed)
        return tuple(
            box
            for at, (box, _) in enumerate(self.filters)
            # A filter belongs to the stack if the stack is another one without it.
            if stacked(self.edge.kind, listed[:at] + listed[at + 1 :]) != whole
        )


@dataclass(frozen=True, kw_only=True)
class Split:
    """A setting for every control, and what comes of it."""

    settings: tuple[Setting, ...]
    edges: tuple[MadeEdge, ...]

    @property
    def is_complete(self) -> bool:
        """Whether every edge is as it must be."""
        return all(one.state in ("made", "open") for one in self.edges)


class Problem:
    """Sections and boxes, ready to be searched.

    Raises ValueError for a control that acts on a part of a section's channels only, and
    for a passive network without two sections.
    """

    def __init__(
        self,
        sections: Sequence[Section],
        controls: Sequence[Control],
        networks: Sequence[Passive] = (),
    ) -> None:
        self.sections, self.controls = tuple(sections), tuple(controls)
        self.edges = edges_of(self.sections)
        self.passive = passive_filters(self.sections, networks)
        for control in self.controls:
            for section in self.sections:
                if 0 < len(control.channels & section.channels) < len(section.channels):
                    raise ValueError("a control acts on all of a section's channels or on none")
        # The edges that each control acts on, and the other way round.
        self.acted = [
            [
                at
                for at, edge in enumerate(self.edges)
                if edge.kind == control.kind
                and self.sections[edge.section].channels <= control.channels
            ]
            for control in self.controls
        ]
        self.acting = [
            [at for at, edges in enumerate(self.acted) if edge in edges]
            for edge in range(len(self.edges))
        ]
        self.fixed = [
            [
                (one.frequency_hz, one.order)
                for one in self.passive[edge.section]
                if one.kind == edge.kind
            ]
            for edge in self.edges
        ]
        self.neighbours = [self._neighbours(at) for at in range(len(self.controls))]
        self.choices = [self._choices(at) for at in range(len(self.controls))]

    def _neighbours(self, at: int) -> set[int]:
        own = self.controls[at]
        found = {other for edge in self.acted[at] for other in self.acting[edge]}
        if own.switch:
            found |= {
                other
                for other, one in enumerate(self.controls)
                if one.switch == own.switch and one.box == own.box
            }
        return found - {at}

    def are_exclusive(self, one: int, other: int) -> bool:
        """Tell whether two controls stand on one switch and work one at a time."""
        first, second = self.controls[one], self.controls[other]
        return bool(first.switch) and first.switch == second.switch and first.box == second.box

    def _choices(self, at: int) -> tuple[Setting, ...]:
        """Return the settings that are tried for a control: off first, then by order, corner."""
        control = self.controls[at]
        ranges = control.ranges_hz()
        found: set[tuple[float, int]] = set()
        for order in control.orders:
            wishes = self._own_corners(at)
            if control.range_hz is not None:
                for edge in self.acted[at]:
                    wishes |= self._stacking(at, edge, order)
            found |= {
                (wish, order)
                for wish in wishes
                if any(low * (1 - 1e-12) <= wish <= high * (1 + 1e-12) for low, high in ranges)
            }
        if control.can_be_off:
            found = {one for one in found if not self._is_far(at, one[0])}
        rising: list[Setting] = [*sorted(found, key=lambda one: (one[1], one[0]))]
        return (None, *rising) if control.can_be_off else tuple(rising)

    def _own_corners(self, at: int) -> set[float]:
        """Return the corners [Hz] at which a control alone could be best."""
        control = self.controls[at]
        found = {end for one in control.ranges_hz() for end in one}
        if control.range_hz is not None:
            for edge in self.acted[at]:
                found |= {self.edges[edge].wanted_hz, *self.edges[edge].window_hz}
        return found

    def _is_far(self, at: int, corner_hz: float) -> bool:
        return all(self.edges[edge].is_far(corner_hz) for edge in self.acted[at])

    def _stacking(self, at: int, edge: int, order: int) -> set[float]:
        """Return the corners [Hz] at which a stack with another filter could be best.

        At the other's corner; where the two just hold the window, if the other alone lies
        outside; where they make the wanted corner, if the control acts on another edge
        nearby; and just out of reach of a filter that is wanted elsewhere, or cannot be taken away.
        """
        own = self.edges[edge]
        others = [(corner, by, True) for corner, by in self.fixed[edge]]
        for other in self.acting[edge]:
            if other != at:
                control = self.controls[other]
                stays = not control.can_be_off or len(self.acted[other]) > 1
                corners = self._own_corners(other)
                others += [(corner, by, stays) for corner in corners for by in control.orders]
        elsewhere = [self.edges[one] for one in self.acted[at] if one != edge]
        found = set()
        for corner, by, stays in others:
            if not 0 < corner < math.inf:
                continue
            found.add(corner)
            if stays or elsewhere:
                found |= {
                    corner * way ** (1 + _CLEAR) for way in (STACKING_RATIO, 1 / STACKING_RATIO)
                }
            for wish in {*own.window_hz, own.wanted_hz}:
                if not 0 < wish < math.inf:
                    continue
                log = ((order + by) * math.log(wish) - by * math.log(corner)) / order
                reached = float(f"{math.exp(log):.10g}")  # no last bits, which differ by machine
                is_stack = 1 / STACKING_RATIO <= reached / corner <= STACKING_RATIO
                is_useful = wish in own.window_hz and not own.holds(corner, own.least_order)
                if is_stack and (is_useful or any(not one.is_far(reached) for one in elsewhere)):
                    found.add(reached)
        return found

    # ---- what a choice costs

    def edge_cost(self, at: int, settings: Sequence[Setting]) -> tuple[int, int, int, int]:
        """Return (unprotected, missing, deviation, doubled) of an edge.

        settings : of the controls that act on it, in their order
        """
        edge = self.edges[at]
        acting = [one for one in settings if one is not None]
        corner, order, number, spread = stacked(edge.kind, [*self.fixed[at], *acting])
        deviation = round(edge.deviation(corner, order, spread) * _MICRO)
        state = edge_state(edge, corner, order)
        # A band that is cut off two octaves and more from its window is as bad as no protection:
        # or a tweeter would be protected by silencing what plays with it.
        is_silenced = corner is not None and state != "made" and edge.is_silenced(corner)
        return (
            int(state == "unprotected" or is_silenced),
            int(state in ("unprotected", "missing", "spoilt")),
            deviation,
            int(number > 1),
        )

    def control_cost(self, at: int, setting: Setting) -> tuple[int, int]:
        """Return (filters on, of them in the head unit) for one control."""
        is_on = int(setting is not None)
        return is_on, is_on * int(self.controls[at].box == "head-unit")

    def made(self, settings: Sequence[Setting]) -> Split:
        """Return what comes of a setting of all controls."""
        edges = []
        for at, edge in enumerate(self.edges):
            filters: list[tuple[Box, Filter]] = [
                ("passive", one) for one in self.passive[edge.section] if one.kind == edge.kind
            ]
            for acting in self.acting[at]:
                setting, control = settings[acting], self.controls[acting]
                if setting is not None:
                    made = Filter(
                        kind=control.kind,
                        family=control.family,
                        order=setting[1],
                        frequency_hz=setting[0],
                    )
                    filters.append((control.box, made))
            corner, order, number, _ = stacked(
                edge.kind, [(one.frequency_hz, one.order) for _, one in filters]
            )
            edges.append(
                MadeEdge(
                    edge=edge,
                    filters=tuple(filters),
                    corner_hz=corner,
                    order=order,
                    number=number,
                    state=edge_state(edge, corner, order),
                )
            )
        return Split(settings=tuple(settings), edges=tuple(edges))


def edge_state(edge: Edge, corner_hz: float | None, order: int) -> str:
    """Return the state of an edge (see `MadeEdge`) with a corner [Hz] of an order."""
    if not edge.is_needed:
        if corner_hz is None:
            return "open"
        if edge.is_subsonic(corner_hz):
            return "made"
        return "open" if edge.holds(corner_hz, order) else "spoilt"
    if corner_hz is not None and edge.holds(corner_hz, order):
        return "made"
    low = edge.window_hz[0] * (1 - 1e-9)
    is_weak = corner_hz is None or corner_hz < low or order < edge.least_order
    return "unprotected" if edge.protects and is_weak else "missing"


def dial_of(control: Control, setting: Setting) -> tuple[float | None, float | None]:
    """Return the factor of the range switch and what the dial then shows [Hz]."""
    if setting is None:
        return None, None
    for times, (low, high) in zip(
        (by for by in control.times for _ in control.steps_hz or (0,)),
        control.ranges_hz(),
        strict=True,
    ):
        if low * (1 - 1e-9) <= setting[0] <= high * (1 + 1e-9):
            return times, setting[0] / times
    raise ValueError("a setting outside of its control")

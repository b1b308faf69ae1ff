"""The filters' settings that are worth trying, and what comes of them.

Settings far from every window are not tried, unless the control cannot be off.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from calc.crossovers.splitting.edges import edges_of, passive_filters
from calc.crossovers.splitting.model import Box, Control, Edge, Passive, Section
from calc.physics.filter_stacks import stacked
from calc.physics.filters import Filter

Setting = tuple[float, int] | None  # corner [Hz] and order, or off
State = Literal["made", "unprotected", "missing", "spoilt", "open"]
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
    state: State

    @property
    def makers(self) -> tuple[Box, ...]:
        """The boxes whose filters act together on the edge; others are out of its reach."""
        listed = [(made.frequency_hz, made.order) for _, made in self.filters]
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
        return all(made.state in ("made", "open") for made in self.edges)


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
                (made.frequency_hz, made.order)
                for made in self.passive[edge.section]
                if made.kind == edge.kind
            ]
            for edge in self.edges
        ]
        self.neighbours = [self._neighbours(at) for at in range(len(self.controls))]
        self.choices = [self._choices(at) for at in range(len(self.controls))]

    def _neighbours(self, at: int) -> set[int]:
        others = {other for edge in self.acted[at] for other in self.acting[edge]}
        if self.controls[at].switch:
            others |= {
                other for other in range(len(self.controls)) if self.are_exclusive(at, other)
            }
        return others - {at}

    def are_exclusive(self, at: int, other: int) -> bool:
        """Tell whether two controls stand on one switch and work one at a time."""
        first, second = self.controls[at], self.controls[other]
        return bool(first.switch) and first.switch == second.switch and first.box == second.box

    def _choices(self, at: int) -> tuple[Setting, ...]:
        """Return the settings that are tried for a control: off first, then by order, corner."""
        control = self.controls[at]
        corners = sorted(set(control.corners_hz()))
        if control.can_be_off:
            corners = [corner for corner in corners if not self._is_far(at, corner)]
        rising = [(corner, order) for order in sorted(set(control.orders)) for corner in corners]
        return (None, *rising) if control.can_be_off else tuple(rising)

    def _is_far(self, at: int, corner_hz: float) -> bool:
        return all(self.edges[edge].is_far(corner_hz) for edge in self.acted[at])

    # ---- what a choice costs

    def edge_cost(self, at: int, settings: Sequence[Setting]) -> tuple[int, int, int, int]:
        """Return (unprotected, missing, deviation, doubled) of an edge.

        settings : of the controls that act on it, in their order
        """
        edge = self.edges[at]
        acting = [setting for setting in settings if setting is not None]
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
                ("passive", made) for made in self.passive[edge.section] if made.kind == edge.kind
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
                edge.kind, [(made.frequency_hz, made.order) for _, made in filters]
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


def edge_state(edge: Edge, corner_hz: float | None, order: int) -> State:
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
    factors = (factor for factor in control.times for _ in control.steps_hz)
    for factor, corner in zip(factors, control.corners_hz(), strict=True):
        if corner * (1 - 1e-9) <= setting[0] <= corner * (1 + 1e-9):
            return factor, setting[0] / factor
    raise ValueError("a setting outside of its control")

"""How long the leads are: way points along the vehicle, added up, with slack."""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.parts.bay import LEAD_WORDS


@dataclass(frozen=True)
class Leg:
    """A stretch of a lead between two places [m]."""

    lead: str
    start: str
    end: str
    length_m: float


class NotARoute(ValueError):
    """The way points do not lead from places to places; the message says where."""


def runs(legs: Sequence[Leg], slack: float) -> list[Leg]:
    """Return whole runs: for each lead every way from a first place to a last one.

    slack : added to each, as a share

    Raises NotARoute for a leg that leads back to its own start, a ring, or two ways between
    the same two places.

    >>> legs = [Leg("power", "battery", "sill", 1.0), Leg("power", "sill", "bay", 1.5)]
    >>> runs(legs, slack=0.1)
    [Leg(lead='power', start='battery', end='bay', length_m=2.75)]
    """
    whole: list[Leg] = []
    for lead in dict.fromkeys(leg.lead for leg in legs):
        stretches = [leg for leg in legs if leg.lead == lead]
        ends = {leg.end for leg in stretches}
        starts = {leg.start for leg in stretches}
        _check(stretches)
        for first in dict.fromkeys(leg.start for leg in stretches if leg.start not in ends):
            seen: set[str] = set()
            for last, length in _onward(stretches, first):
                if last in starts:
                    continue
                if last in seen:
                    raise NotARoute(_twice(lead, first, last))
                seen.add(last)
                whole.append(Leg(lead, first, last, length * (1 + slack)))
    return whole


def _onward(legs: Sequence[Leg], place: str, length_m: float = 0.0) -> list[tuple[str, float]]:
    """Return each place that can be reached, with the way's length, in the order of the legs."""
    reached = []
    for leg in legs:
        if leg.start == place:
            there = length_m + leg.length_m
            reached.append((leg.end, there))
            reached += _onward(legs, leg.end, there)
    return reached


def _check(legs: Sequence[Leg]) -> None:
    """Raise NotARoute where a way leads back to where it came from, or doubles."""
    pairs = [(leg.start, leg.end) for leg in legs]
    for leg in legs:
        if pairs.count((leg.start, leg.end)) > 1:
            raise NotARoute(_twice(leg.lead, leg.start, leg.end))
    left = list(legs)
    while left:
        ends = {leg.end for leg in left}
        rest = [leg for leg in left if leg.start in ends]
        if len(rest) == len(left):
            lead = LEAD_WORDS.get(left[0].lead, left[0].lead)
            raise NotARoute(f"The {lead} route runs in a ring: {_ring(left)}. Remove a stretch.")
        left = rest


def _twice(lead: str, start: str, end: str) -> str:
    words = LEAD_WORDS.get(lead, lead)
    return f"There are two {words} routes from {start} to {end}. Remove one."


def _ring(legs: Sequence[Leg]) -> str:
    ends = {leg.end for leg in legs}
    places = [next(leg.start for leg in legs if leg.start in ends)]
    before = {leg.end: leg.start for leg in legs}
    while places.count(places[-1]) == 1:
        places.append(before[places[-1]])
    return " to ".join(reversed(places[places.index(places[-1]) :]))

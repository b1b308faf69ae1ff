"""Each way an amplifier may stand: its turn, and how far a hand and the plugs get.

An option is one turn together with what is asked of it: whether the controls are reached with
the seat in place, slid, out or never, and whether plugs may lie where a slid seat stands.
Lengths are whole micrometres here, so that sums are exact.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from calc.physics.floor_plan import (
    FACES,
    LEADS,
    SIDES,
    Amplifier,
    Bay,
    Edge,
    Holding,
    Lead,
    Rooms,
    micro,
    turned,
)
from calc.placement.reach import Reach, top_reach

Point = tuple[int, int]  # µm
Place = tuple[float, float]  # mm
# What counts first: plugs that a seat would press, then controls not reached in place, not
# by sliding the seat, not at all.  A sum over at most four amplifiers keeps this order.
_PRESSED, _NOT_IN_PLACE, _NOT_SLID, _NEVER = 1000, 100, 10, 1


@dataclass(frozen=True, kw_only=True)
class Option:
    """One way to stand.

    width, depth : of the body as turned
    low, high : least and greatest x and y of its corner nearest the origin, for itself
    far : greatest x and y that the bay's far edges allow; `high` may be less under a seat
    room : free of bodies and keep-outs, by side
    cost : what is given up, see `_cost`; smaller is better
    pulls : for x and for y, the coordinates at which a lead's face is level with its entry
    """

    quarters: int
    reach: Reach
    width: int
    depth: int
    low: Point
    high: Point
    far: Point
    room: tuple[int, int, int, int]
    cost: int
    pulls: tuple[tuple[int, ...], tuple[int, ...]]

    def gives_up_no_more(self, reach: Reach) -> bool:
        """Tell whether its controls are reached no worse than this and no plug is pressed."""
        return self.cost <= _cost(reach, presses=False)

    def needs_no_less(self, other: "Option") -> bool:
        """Tell whether the other is as good everywhere and costs no more."""
        return (
            (self.width, self.depth) == (other.width, other.depth)
            and self.pulls == other.pulls
            and all(mine >= theirs for mine, theirs in zip(self.low, other.low, strict=True))
            and all(mine <= theirs for mine, theirs in zip(self.high, other.high, strict=True))
            and all(mine >= theirs for mine, theirs in zip(self.room, other.room, strict=True))
            and self.cost >= other.cost
        )


def _cost(reach: Reach, presses: bool) -> int:
    return (
        _PRESSED * presses
        + _NOT_IN_PLACE * (reach > Reach.IN_PLACE)
        + _NOT_SLID * (reach > Reach.SEAT_SLID)
        + _NEVER * (reach > Reach.SEAT_OUT)
    )


def options_of(
    amplifier: Amplifier,
    bay: Bay,
    rooms: Rooms,
    entries: Mapping[Lead, Place],
) -> list[Option]:
    """Return every way an amplifier could stand in the bay alone, the best first.

    entries : where each kind of lead comes into the bay [mm]
    """
    size = (amplifier.width_mm, amplifier.depth_mm, amplifier.height_mm)
    faces = tuple((name, amplifier.face(name)) for name in FACES)
    return list(_options_of(size, faces, bay, rooms, tuple(entries.items())))


# Of a stock list each amplifier stands in many sets, always in the same bay.
@lru_cache(maxsize=128)
def _options_of(
    size: tuple[float, float, float],
    faces: tuple[tuple[str, frozenset[Holding]], ...],
    bay: Bay,
    rooms: Rooms,
    places: tuple[tuple[Lead, Place], ...],
) -> tuple[Option, ...]:
    width, depth, height = size
    amplifier = Amplifier(
        name="", width_mm=width, depth_mm=depth, height_mm=height, holds=dict(faces)
    )
    entries = dict(places)
    top = top_reach(amplifier, bay, rooms)
    least = Reach.IN_PLACE if top is None else top
    if top == Reach.SEAT_OUT:  # its place may be one that the seat uncovers
        least = Reach.SEAT_SLID
    kept: list[Option] = []
    asked = [
        (presses, reach)
        for presses in (False, True)
        for reach in Reach
        if reach >= least and reach >= presses
    ]
    for quarters in range(4):
        as_turned = _Turned(amplifier, bay, rooms, entries, quarters)
        for presses, reach in asked:
            slides = reach == Reach.SEAT_SLID and top == Reach.SEAT_OUT
            option = as_turned.option(reach, presses=presses, uncovered=slides)
            fits = option.low[0] <= option.high[0] and option.low[1] <= option.high[1]
            if fits and not any(option.needs_no_less(other) for other in kept):
                kept.append(option)
    return tuple(sorted(kept, key=lambda option: (option.cost, option.quarters)))


def forget_places() -> None:
    """Forget how bodies may stand in bays."""
    _options_of.cache_clear()


def loosest(options: Sequence[Option]) -> list[Option]:
    """Return of each turn what asks for least: who fits at all, fits so.

    Costs are left out, and so is a turn that another one makes needless.
    """
    by_turn = {
        option.quarters: option for option in sorted(options, key=lambda option: option.cost)
    }
    kept: list[tuple[Option, Option]] = []
    for option in by_turn.values():
        bare = replace(option, cost=0, pulls=((), ()))
        if not any(bare.needs_no_less(other) for other, _ in kept):
            kept = [pair for pair in kept if not pair[0].needs_no_less(bare)]
            kept.append((bare, replace(option, cost=0)))
    return [option for _, option in kept]


class _Turned:
    """An amplifier turned by some quarters in a bay, with what each side needs [µm]."""

    def __init__(
        self,
        amplifier: Amplifier,
        bay: Bay,
        rooms: Rooms,
        entries: Mapping[Lead, Place],
        quarters: int,
    ) -> None:
        self.quarters = quarters
        self.width, self.depth = (micro(mm) for mm in turned(amplifier, quarters))
        self.bay_width, self.bay_depth = micro(bay.width_mm), micro(bay.depth_mm)
        self.travel = micro(bay.seat_travel_mm)
        self.pulls = _pulls(amplifier, entries, quarters, self.width, self.depth)
        # By side: the edge, the room that must stay free, that of plugs, that of a hand.
        self.sides: list[tuple[Edge, int, int, int]] = []
        for side in range(4):
            holds = amplifier.face(SIDES[(side - quarters) % 4])
            needs = (rooms.lasting(holds), rooms.plugs(holds), rooms.reaching(holds))
            lasting, plugs, reaching = (micro(mm) for mm in needs)
            self.sides.append((bay.edges[side], lasting, plugs, reaching))

    def option(self, reach: Reach, *, presses: bool, uncovered: bool) -> Option:
        """Return the way to stand with this asked of it.

        uncovered : by the seat, once it is slid
        """
        away, room = [0] * 4, [0] * 4
        for side, (edge, lasting, plugs, hand) in enumerate(self.sides):
            reaching = hand if reach < Reach.NEVER else 0
            room[side] = max(lasting, reaching)
            if edge == "wall":
                away[side] = room[side]
            elif edge == "seat":
                travel = self.travel
                for_hand = {Reach.IN_PLACE: reaching, Reach.SEAT_SLID: reaching - travel}
                # The seat may close the air of fins when it comes back; plugs it must not press.
                pressed = plugs - travel * presses
                away[side] = max(0, lasting - travel, pressed, for_hand.get(reach, 0))
        far = (self.bay_width - self.width - away[1], self.bay_depth - self.depth - away[2])
        behind = min(far[1], self.travel - self.depth) if uncovered else far[1]
        return Option(
            quarters=self.quarters,
            reach=reach,
            width=self.width,
            depth=self.depth,
            low=(away[3], away[0]),
            high=(far[0], behind),
            far=far,
            room=(room[0], room[1], room[2], room[3]),
            cost=_cost(reach, presses),
            pulls=self.pulls,
        )


def _pulls(
    amplifier: Amplifier,
    entries: Mapping[Lead, Place],
    quarters: int,
    width: int,
    depth: int,
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return where the corner would lie for each lead's face to be level with its entry."""
    across, along = [], []
    middles = ((width // 2, 0), (width, depth // 2), (width // 2, depth), (0, depth // 2))
    for lead in LEADS:
        if lead not in entries:
            continue
        x, y = (micro(mm) for mm in entries[lead])
        for at, face in enumerate(SIDES):
            if lead in amplifier.face(face):
                dx, dy = middles[(at + quarters) % 4]
                across.append(x - dx)
                along.append(y - dy)
        if lead in amplifier.face("top"):
            across.append(x - width // 2)
            along.append(y - depth // 2)
    return tuple(sorted(across)), tuple(sorted(along))

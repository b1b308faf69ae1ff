"""What the rules ask of bays and amplifiers, by the definitions.

Nothing here calls the search: small problems lie on a grid on which every place and turn is
tried, and a judge looks at a finished placement with polygons.
"""

from itertools import combinations

import numpy as np
from mounting_bays import GRID, NAMES, WORDS
from shapely import Polygon, box, unary_union

# ---- the definitions, in whole micrometres -----------------------------------------------------


def um(length_mm):
    return round(length_mm * 1000)


def body_of(amplifier, x, y, quarters):
    """The body as (x from, y from, x to, y to)."""
    size = um(amplifier.width_mm), um(amplifier.depth_mm)
    wide, deep = size if quarters % 2 == 0 else size[::-1]
    return x, y, x + wide, y + deep


def looks_to(face, quarters):
    """The side of the bay to which a face looks: counter-clockwise the front goes right."""
    return NAMES[(NAMES.index(face) + quarters) % 4]


def strip_of(body, side, room):
    """The strip of a room's depth along a side of the body."""
    left, low, right, high = body
    return {
        "front": (left, low - room, right, low),
        "back": (left, high, right, high + room),
        "left": (left - room, low, left, high),
        "right": (right, low, right + room, high),
    }[side]


def over_of(strip, side, bay):
    """How far a strip goes over the edge to which it looks, 0 if it does not."""
    beyond = {
        "front": -strip[1],
        "left": -strip[0],
        "right": strip[2] - um(bay.width_mm),
        "back": strip[3] - um(bay.depth_mm),
    }
    return max(0, beyond[side])


def keep_outs_of(bay):
    return [
        (um(one.x_mm), um(one.y_mm), um(one.x_mm + one.width_mm), um(one.y_mm + one.depth_mm))
        for one in bay.keep_outs
    ]


def lasting_of(holds, rooms):
    return max((um(getattr(rooms, f"{one}_mm")) for one in holds if one != "controls"), default=0)


def plugs_of(holds, rooms):
    """The room of plugs alone: air is no plug."""
    plugs = [one for one in holds if one in ("power", "speaker", "signal")]
    return max((um(getattr(rooms, f"{one}_mm")) for one in plugs), default=0)


def middle_of(body, face, quarters):
    """Where a lead ends: the middle of the face, of the top the body's."""
    left, low, right, high = body
    across, along = (left + right) / 2, (low + high) / 2
    if face == "top":
        return across, along
    return {
        "front": (across, low),
        "back": (across, high),
        "left": (left, along),
        "right": (right, along),
    }[looks_to(face, quarters)]


def lead_of(amplifier, body, quarters, entries):
    """The length of an amplifier's leads inside the bay."""
    total = 0
    for face, holds in amplifier.holds.items():
        for lead, (x, y) in (entries or {}).items():
            if lead in holds:
                to_x, to_y = middle_of(body, face, quarters)
                total += abs(to_x - um(x)) + abs(to_y - um(y))
    return total


def top_word(amplifier, body, problem):
    """How far controls on top are reached, as an index of WORDS; None: not known."""
    bay = problem.bay
    if "controls" not in amplifier.holds.get("top", ()) or bay.top == "open":
        return 0
    if bay.height_mm is None:
        return None
    if um(amplifier.height_mm) + um(problem.rooms.controls_mm) <= um(bay.height_mm):
        return 0
    if bay.top == "wall":
        return 3
    return 1 if body[3] <= um(bay.seat_travel_mm) else 2


def stands(problem, amplifier, x, y, quarters):
    """What the bay alone says of one stand: body, strips of lasting room, strips for hands,
    the reach's index, whether plugs are pressed; None where it must not stand.
    """
    bay, travel = problem.bay, um(problem.bay.seat_travel_mm)
    body = body_of(amplifier, x, y, quarters)
    if min(body[:2]) < 0 or body[2] > um(bay.width_mm) or body[3] > um(bay.depth_mm):
        return None
    blocked = keep_outs_of(bay)
    if any(share(body, one) for one in blocked):
        return None
    lasting, hands, pressed, word = [], [], False, top_word(amplifier, body, problem)
    for face in NAMES:
        holds = amplifier.holds.get(face, frozenset())
        side = looks_to(face, quarters)
        edge = bay.edges[NAMES.index(side)]
        strip = strip_of(body, side, lasting_of(holds, problem.rooms))
        over = over_of(strip, side, bay)
        if any(share(strip, one) for one in blocked):
            return None
        if over and (edge == "wall" or (edge == "seat" and over > travel)):
            return None
        plugs = strip_of(body, side, plugs_of(holds, problem.rooms))
        pressed |= bool(over_of(plugs, side, bay)) and edge == "seat"
        lasting.append(strip)
        if "controls" in holds:
            strip = strip_of(body, side, um(problem.rooms.controls_mm))
            over = over_of(strip, side, bay)
            hands.append(strip)
            own = 0
            if any(share(strip, one) for one in blocked) or (over and edge == "wall"):
                own = 3
            elif over and edge == "seat":
                own = 1 if over <= travel else 2
            if own == 3 or (word is not None and own > word):
                word = own
    if pressed and word is not None:
        word = max(word, 1)
    return body, lasting, hands, word, pressed


def share(one, other):
    """Whether two boxes share floor; an empty one shares none."""
    return (
        max(one[0], other[0]) < min(one[2], other[2])
        and max(one[1], other[1]) < min(one[3], other[3])
    )  # fmt: skip


# ---- trying everything -------------------------------------------------------------------------

FAR = 10**15  # more than any value
PER_COUNT = 10**6  # leads in tenths of the grid stay below this


def value_of(pressed, word):
    """One number for what counts first: pressed, not in place, not slid, never."""
    return PER_COUNT * (1000 * pressed + 100 * (word > 0) + 10 * (word > 1) + (word > 2))


def split_up(value):
    """The counts and the leads [mm] of a value."""
    counts, lead = divmod(int(value), PER_COUNT)
    return tuple(counts // ten % 10 for ten in (1000, 100, 10, 1)), lead * GRID / 2


class States:
    """Every stand of one amplifier on the grid, as arrays."""

    def __init__(self, problem, amplifier, worst=None):
        step = um(GRID)
        bodies, lasting, hands, values, blocked, seen = [], [], [], [], [], set()
        for quarters in range(4):
            for x in range(0, um(problem.bay.width_mm) + 1, step):
                for y in range(0, um(problem.bay.depth_mm) + 1, step):
                    found = stands(problem, amplifier, x, y, quarters)
                    if found is None:
                        continue
                    body, rooms, reached, word, pressed = found
                    if worst is not None and (pressed or word > worst):
                        continue
                    lead = lead_of(amplifier, body, quarters, problem.entries) * 2 / step
                    assert lead == int(lead) < PER_COUNT / 10
                    value = value_of(pressed, word) + int(lead)
                    same = (body, tuple(sorted(rooms)), tuple(sorted(reached)), value)
                    if same in seen:
                        continue
                    seen.add(same)
                    bodies.append(body)
                    lasting.append(rooms)
                    hands.append((reached + [(0, 0, 0, 0)] * 4)[:4])
                    values.append(value)
                    blocked.append(value_of(pressed, 3) + int(lead))
        self.bodies = np.array(bodies).reshape(-1, 4)
        self.lasting = np.array(lasting).reshape(-1, 4, 4)
        self.hands = np.array(hands).reshape(-1, 4, 4)
        self.values = np.array(values, dtype=np.int64)
        # Another body in the hands' way: never.
        self.blocked = np.array(blocked, dtype=np.int64)
        if worst is not None and worst < 3:
            self.blocked[:] = FAR

    def __len__(self):
        return len(self.values)


def shared(ones, others):
    """A table of which boxes share floor."""
    one, other = ones[:, None, :], others[None, :, :]
    return (
        (np.maximum(one[..., 0], other[..., 0]) < np.minimum(one[..., 2], other[..., 2]))
        & (np.maximum(one[..., 1], other[..., 1]) < np.minimum(one[..., 3], other[..., 3]))
    )  # fmt: skip


def any_shared(strips, bodies):
    return np.any([shared(strips[:, at], bodies) for at in range(4)], axis=0)


def can_stand(problem, worst=None):
    """Whether any stands on the grid fit; `worst` as in `tried`."""
    return tried(problem, worst, values_count=False) is not None


def tried(problem, worst=None, values_count=True):
    """The best counts and leads of all stands on the grid, None if nothing fits.

    worst : permit only what is reached no worse than this, an index of WORDS, and not pressed
    values_count : otherwise all stands that fit are equally good
    """
    states = [States(problem, one, worst) for one in problem.amplifiers]
    if not all(len(one) for one in states):
        return None
    if not values_count:
        for one in states:
            one.values[:] = 0
            one.blocked[one.blocked < FAR] = 0
    number = range(len(states))
    clear, hindered = {}, {}
    for i in number:
        for j in number:
            if i != j:
                hindered[i, j] = any_shared(states[i].hands, states[j].bodies)
                clear[i, j] = ~(
                    shared(states[i].bodies, states[j].bodies)
                    | any_shared(states[i].lasting, states[j].bodies)
                    | any_shared(states[j].lasting, states[i].bodies).T
                )
    best = FAR

    def onward(at, fixed, open_to, free):
        """Fix all but the last two, then look at the table of these."""
        nonlocal best
        left = len(states) - at
        # No better than what stands already, even if nobody is in anybody's way.
        least_of_rest = sum(int(states[j].values[open_to[j]].min()) for j in number if j >= at)
        if best <= least_of_rest + sum(int(states[k].values[one]) for k, one in enumerate(fixed)):
            return
        if left <= 2 and (left == 2 or len(states) == 1):
            best = min(best, least(at, fixed, open_to, free))
            return
        for one in np.flatnonzero(open_to[at]):
            narrowed = [
                open_to[j] & clear[at, j][one] if j > at else open_to[j] for j in number
            ]  # fmt: skip
            if all(narrowed[j].any() for j in number if j > at):
                met = [free[j] & ~hindered[j, at][:, one] if j > at else free[j] for j in number]
                onward(at + 1, [*fixed, one], narrowed, met)

    def least(at, fixed, open_to, free):
        rows = np.flatnonzero(open_to[at])
        if len(states) == 1:
            return int(states[0].values.min())
        columns = np.flatnonzero(open_to[at + 1])
        i, j = at, at + 1
        table = np.ix_(rows, columns)
        ok = clear[i, j][table]
        if not ok.any():
            return FAR
        first = np.where(
            free[i][rows][:, None] & ~hindered[i, j][table],
            states[i].values[rows][:, None],
            states[i].blocked[rows][:, None],
        )
        second = np.where(
            free[j][columns][None, :] & ~hindered[j, i][np.ix_(columns, rows)].T,
            states[j].values[columns][None, :],
            states[j].blocked[columns][None, :],
        )
        total = first + second
        for k, one in enumerate(fixed):
            by_fixed = any(hindered[k, m][one, fixed[m]] for m in range(len(fixed)) if m != k)
            if by_fixed:
                total = total + states[k].blocked[one]
            else:
                in_way = hindered[k, i][one][rows][:, None] | hindered[k, j][one][columns][None, :]
                total = total + np.where(in_way, states[k].blocked[one], states[k].values[one])
        return int(total[ok].min())

    onward(0, [], [np.ones(len(one), bool) for one in states],
           [np.ones(len(one), bool) for one in states])  # fmt: skip
    return split_up(best) if best < FAR else None


# ---- the judge ---------------------------------------------------------------------------------


def polygon(corners):
    return box(*corners) if corners[0] < corners[2] and corners[1] < corners[3] else Polygon()


def judged(problem, placements):
    """The words for what is wrong, the reach's words (None: not known), and who is pressed.

    Polygons in whole micrometres, so that touching shares no area.
    """
    bay, rooms = problem.bay, problem.rooms
    floor = box(0, 0, um(bay.width_mm), um(bay.depth_mm))
    blocked = [polygon(one) for one in keep_outs_of(bay)]
    bodies = [
        body_of(one.amplifier, um(one.x_mm), um(one.y_mm), one.quarters) for one in placements
    ]
    shapes = [polygon(one) for one in bodies]
    wrong, reached, who = set(), [], []
    for one, other in combinations(shapes, 2):
        if one.intersection(other).area:
            wrong.add("bodies overlap")
    for at, one in enumerate(placements):
        others = [shape for i, shape in enumerate(shapes) if i != at]
        if not floor.covers(shapes[at]):
            wrong.add("outside the bay")
        if any(shapes[at].intersection(hole).area for hole in blocked):
            wrong.add("on a keep-out")
        found, presses = [top_word(one.amplifier, bodies[at], problem)], False
        for face in NAMES:
            holds, side = one.amplifier.holds.get(face, frozenset()), looks_to(face, one.quarters)
            edge = bay.edges[NAMES.index(side)]
            corners = strip_of(bodies[at], side, lasting_of(holds, rooms))
            room, over = polygon(corners), over_of(corners, side, bay)
            if any(room.intersection(hole).area for hole in blocked):
                wrong.add("room in a keep-out")
            if any(room.intersection(body).area for body in others):
                wrong.add("room in a body")
            if edge == "wall" and over:
                wrong.add("room in a wall")
            if edge == "seat" and over > um(bay.seat_travel_mm):
                wrong.add("room in a seat")
            if edge == "seat":
                plugs = strip_of(bodies[at], side, plugs_of(holds, rooms))
                presses = presses or bool(over_of(plugs, side, bay))
            if "controls" in holds:
                corners = strip_of(bodies[at], side, um(rooms.controls_mm))
                hand, over = polygon(corners), over_of(corners, side, bay)
                if any(hand.intersection(body).area for body in (*others, *blocked)):
                    found.append(3)
                elif edge == "wall":
                    found.append(3 if over else 0)
                elif edge == "seat" and over:
                    found.append(1 if over <= um(bay.seat_travel_mm) else 2)
        if 3 not in found and None in found:
            reached.append(None)
        else:
            reached.append(WORDS[max([int(presses), *(word or 0 for word in found)])])
        who.append(presses)
    return wrong, reached, who


def counts_of(reached, pressed):
    """The numbers that count first, as `tried` has them."""
    at = [WORDS.index(word) for word in reached]
    return (sum(pressed), *(sum(word > most for word in at) for most in (0, 1, 2)))


def leads_of(problem, placements):
    """The length of all leads inside the bay [mm]."""
    return (
        sum(
            lead_of(
                one.amplifier,
                body_of(one.amplifier, um(one.x_mm), um(one.y_mm), one.quarters),
                one.quarters,
                problem.entries,
            )
            for one in placements
        )
        / 1000
    )


def spare_of(problem, placements, reached):
    """The floor that no body, keep-out or room takes [mm²]; hands count where they get in."""
    taken = [polygon(one) for one in keep_outs_of(problem.bay)]
    for one, word in zip(placements, reached, strict=True):
        body = body_of(one.amplifier, um(one.x_mm), um(one.y_mm), one.quarters)
        taken.append(polygon(body))
        for face in NAMES:
            holds, side = one.amplifier.holds.get(face, frozenset()), looks_to(face, one.quarters)
            rooms = [lasting_of(holds, problem.rooms)]
            if "controls" in holds and word != "never":
                rooms.append(um(problem.rooms.controls_mm))
            taken.append(polygon(strip_of(body, side, max(rooms))))
    floor = box(0, 0, um(problem.bay.width_mm), um(problem.bay.depth_mm))
    return floor.difference(unary_union(taken)).area / 1e6

"""Follows every wire of a drawing of the whole system by its geometry alone.

Names of wires play no part: two wires belong together only through a dot on both, or a pin at an
end of both.  What it finds is held against what the joins should be, made from the data alone.
"""

from itertools import combinations, pairwise

NEAR = 0.3  # coordinates are written to a hundredth
CLOSE = 4.0  # nearer than this, wires side by side look like one


class Followed:
    """What is seen of a drawing: wires, pins, dots; and the groups of pins that they join."""

    def __init__(self, svg):
        self.wires, self.pins, self.dots = [], {}, []
        for one in svg.iter():
            classes = (one.get("class") or "").split()
            if one.tag == "polyline" and "wire" in classes:
                points = [tuple(map(float, p.split(","))) for p in one.get("points").split()]
                self.wires.append(points)
            elif one.tag == "circle":
                at = (float(one.get("cx")), float(one.get("cy")))
                if "pin" in classes:
                    assert one.get("data-pin") not in self.pins, one.get("data-pin")
                    self.pins[one.get("data-pin")] = at
                elif "joint" in classes:
                    self.dots.append(at)

    def groups(self):
        """Return the sets of pins that are joined, each of two or more."""
        of = Union()
        for at, wire in enumerate(self.wires):
            for name, place in self.pins.items():
                if any(near(place, end) for end in (wire[0], wire[-1])):
                    of.join(("wire", at), ("pin", name))
            for dot in self.dots:
                if on(dot, wire):
                    of.join(("wire", at), ("dot", dot))
        found = {}
        for name in self.pins:
            found.setdefault(of.root(("pin", name)), set()).add(name)
        return {frozenset(group) for group in found.values() if len(group) > 1}

    def faults(self):
        """Return what no fitter should have to look at, in words."""
        return [
            *self._slanted(),
            *self._loose(),
            *self._bad_dots(),
            *self._through_pins(),
            *self._touching(),
        ]

    def _slanted(self):
        for wire in self.wires:
            for (x, y), (x2, y2) in pairwise(wire):
                if x != x2 and y != y2:
                    yield f"slanted: {x, y} to {x2, y2}"

    def _loose(self):
        for wire in self.wires:
            for end in (wire[0], wire[-1]):
                if not any(near(end, one) for one in (*self.pins.values(), *self.dots)):
                    yield f"loose end at {end}"

    def _bad_dots(self):
        """A dot joins at least three pieces of wire."""
        for dot in self.dots:
            ways = set()
            for wire in self.wires:
                for one, other in pairwise(wire):
                    if on(dot, (one, other)):
                        ways |= {direction(dot, end) for end in (one, other) if not near(dot, end)}
            if len(ways) < 3:
                yield f"dot for nothing at {dot}"

    def _through_pins(self):
        for wire in self.wires:
            for name, place in self.pins.items():
                if on(place, wire) and not any(near(place, end) for end in (wire[0], wire[-1])):
                    yield f"wire through {name}"

    def _touching(self):
        """Wires lie nowhere on or close to one another, and bend on no other wire."""
        for one, other in combinations(self.wires, 2):
            for piece in pairwise(one):
                for second in pairwise(other):
                    if lie_close(piece, second):
                        yield f"wires on one another: {piece} {second}"
            for bent, straight in ((one, other), (other, one)):
                for bend in bent[1:-1]:
                    if on(bend, straight, CLOSE - 1) and not any(near(bend, d) for d in self.dots):
                        yield f"bend on a wire at {bend}"


class Union:
    """Things that belong together."""

    def __init__(self):
        self.above = {}

    def root(self, one):
        self.above.setdefault(one, one)
        while self.above[one] != one:
            one = self.above[one]
        return one

    def join(self, one, other):
        self.above[self.root(one)] = self.root(other)


def near(one, other):
    return abs(one[0] - other[0]) < NEAR and abs(one[1] - other[1]) < NEAR


def on(point, wire, reach=NEAR):
    """Whether a point lies on a wire's level or upright pieces, its ends included."""
    return any(
        (one[0] == other[0] or one[1] == other[1])
        and min(one[0], other[0]) - reach < point[0] < max(one[0], other[0]) + reach
        and min(one[1], other[1]) - reach < point[1] < max(one[1], other[1]) + reach
        for one, other in pairwise(wire)
    )


def direction(start, end):
    return tuple((b > a + NEAR) - (b < a - NEAR) for a, b in zip(start, end, strict=True))


def lie_close(piece, other):
    """Whether two pieces run side by side, nearer than they may, over some length."""
    for axis in (0, 1):
        if piece[0][axis] == piece[1][axis] and other[0][axis] == other[1][axis]:
            along = 1 - axis
            low = max(min(p[along] for p in piece), min(p[along] for p in other))
            high = min(max(p[along] for p in piece), max(p[along] for p in other))
            if abs(piece[0][axis] - other[0][axis]) < CLOSE and high - low > 0.5:
                return True
    return False


def expected(wired):
    """Return the groups of pins that must be joined, made from leads, table and power tree."""
    groups = [*_of_outputs(wired), *_of_leads(wired), *_of_power(wired), *_of_earths(wired)]
    return {frozenset(group) for group in groups}


def _of_outputs(wired):
    for body in wired.bodies:
        for output in body.outputs:
            if not output.loads:
                continue
            plus = f"{body.key}.{output.plus}"
            if output.capacitor:
                yield {plus, f"{plus} C.a"}
                plus = f"{plus} C.b"
            yield {plus, *output.plus_to}
            yield {f"{body.key}.{output.minus}", *output.minus_to}
            yield from map(set, output.links)
            for load in output.loads:
                for at, part in enumerate(load.parts, start=1):
                    signs = ("-", "+") if part.is_reversed else ("+", "-")
                    for out, sign in zip("+-", signs, strict=True):
                        yield {f"{load.key}.out{at}{out}", f"{load.key}.part{at}{sign}"}


def _of_leads(wired):
    groups = {}
    for lead in wired.leads:
        groups.setdefault(lead.start, {lead.start}).add(lead.end)
    return groups.values()


def _of_power(wired):
    power = wired.power
    yield {"battery.+", "main fuse.a"}
    if not power.has_block:
        yield {"main fuse.b", *(branch.end for branch in power.branches)}
        return
    bus = {"main fuse.b", "block.in"}
    for branch in power.branches:
        ends = {f"block.{branch.end}", branch.end}
        if branch.is_later:
            yield ends
        elif branch.fuse:
            bus.add(f"fuse {branch.end}.a")
            yield {f"fuse {branch.end}.b", *ends}
        else:
            bus |= ends
    yield bus


def _of_earths(wired):
    battery = {"battery.-", "body.battery"}
    points = {}
    for earth in wired.earths:
        if earth.by_cable:
            battery.add(earth.start)
        else:
            points.setdefault(earth.point or earth.start, []).append(earth.start)
    yield battery
    for starts in points.values():
        yield {*starts, "body.meeting" if len(starts) > 1 else f"body.{starts[0]}"}
    for source in wired.sources:
        if source.earth:
            yield {f"{source.key}.{source.earth}", f"body.{source.key}.{source.earth}"}

"""The drawn circuits, followed wire by wire as a fitter would, are the circuits meant."""

import random
import re
from itertools import combinations, islice, pairwise

import networkx as nx
import pytest

from calc.app.contents import CALCULATORS
from calc.coils import drawings
from calc.coils.drawings import circuit_drawing, terminal_drawing
from calc.coils.notation import read_notation
from calc.coils.survey import Survey
from calc.physics.coils import Driver, coil_names

NEAR = 0.05  # coordinates are written to a hundredth
WIDEST = 428
PER_CHARACTER = 0.62 * 16  # an estimate of a character's width at size 16


def number(element, name):
    return float(element.get(name))


def near(one, other, reach=NEAR):
    return abs(one[0] - other[0]) <= reach and abs(one[1] - other[1]) <= reach


def on_line(point, line):
    """Whether a point lies on an upright or level line, its ends included."""
    (x, y), ((x1, y1), (x2, y2)) = point, line
    return (
        min(x1, x2) - NEAR <= x <= max(x1, x2) + NEAR
        and min(y1, y2) - NEAR <= y <= max(y1, y2) + NEAR
    )


def end_of(point, line):
    return near(point, line[0]) or near(point, line[1])


class Seen:
    """What is seen of a drawing: lines, coils, dots, open circles and words."""

    def __init__(self, svg):
        self.width, self.height = (float(one) for one in svg.get("viewBox").split()[2:])
        self.lines, self.coils, self.dots, self.circles, self.words = [], [], [], [], []
        for one in svg.iter():
            if one.tag == "polyline":
                points = [tuple(map(float, p.split(","))) for p in one.get("points").split()]
                self.lines += pairwise(points)
            elif one.tag == "path":
                self.coils.append(self._coil(one.get("d")))
            elif one.tag == "circle":
                filled = one.get("fill") == "currentColor"
                at = (number(one, "cx"), number(one, "cy"))
                (self.dots if filled else self.circles).append((*at, number(one, "r")))
            elif one.tag == "text":
                at = (number(one, "x"), number(one, "y") - 0.35 * 16)
                self.words.append((one.text, *at, one.get("text-anchor", "start")))
            else:
                assert one.tag in ("svg", "rect")
        for (x1, y1), (x2, y2) in self.lines:
            assert x1 == x2 or y1 == y2  # upright or level

    @staticmethod
    def _coil(path):
        """Return (x, top, bottom) of a coil, which must be drawn from its top to its bottom."""
        found = re.fullmatch(r"M([\d.]+) ([\d.]+)V([\d.]+)((?:a5 5 0 0 1 0 10)+)V([\d.]+)", path)
        x, top, start, bottom = (float(found[at]) for at in (1, 2, 3, 5))
        assert top < start and start + 10 * found[4].count("a") < bottom
        return x, top, bottom

    def joined(self):
        """Return the graph of what conducts: lines, coil ends and open circles."""
        joins = nx.Graph()
        joins.add_nodes_from(self.lines)
        ends = {(x, y): ("coil", x, y) for x, *ys in self.coils for y in ys}
        joins.add_nodes_from(ends.values())
        joins.add_nodes_from(("circle", *one) for one in self.circles)
        for one, other in combinations(self.lines, 2):
            if any(near(a, b) for a in one for b in other):
                joins.add_edge(one, other)
        for point, end in ends.items():
            for line in self.lines:
                if end_of(point, line):
                    joins.add_edge(end, line)
            for other, other_end in ends.items():
                if near(point, other):
                    joins.add_edge(end, other_end)
        for x, y, radius in self.circles:
            for line in self.lines:
                if any(near((x, y), end, radius + NEAR) for end in line):
                    joins.add_edge(("circle", x, y, radius), line)
        for dot in self.dots:
            held = [line for line in self.lines if on_line(dot[:2], line)]
            held += [end for point, end in ends.items() if near(point, dot[:2])]
            assert held, "a dot in the void"
            joins.add_edges_from(pairwise(held))
        return joins

    def check_clear(self):
        """No end stops on another wire without a dot; nothing lies upon something else."""
        ends = [end for line in self.lines for end in line]
        ends += [(x, y) for x, *ys in self.coils for y in ys]
        dots = [dot[:2] for dot in self.dots]
        for end in ends:
            for line in self.lines:
                if on_line(end, line) and not end_of(end, line):
                    assert any(near(end, dot) for dot in dots), "a T without a dot"
            meeting = sum(near(end, other) for other in ends)
            if meeting > 2:
                assert any(near(end, dot) for dot in dots), "three ends without a dot"
        uprights = [((x, top), (x, bottom)) for x, top, bottom in self.coils]
        for one, other in combinations([*self.lines, *uprights], 2):
            assert not upon(one, other)
        for x, top, bottom in self.coils:
            for (x1, y1), (x2, y2) in self.lines:
                beside = max(x1, x2) < x - 1 or min(x1, x2) > x + 6
                past = max(y1, y2) <= top + NEAR or min(y1, y2) >= bottom - NEAR
                assert beside or past, "a wire through a coil"

    def nearest(self, pattern, x, y):
        words = [word for word in self.words if re.fullmatch(pattern, word[0])]
        return min(words, key=lambda word: (word[1] - x) ** 2 + (word[2] - y) ** 2)

    def check_inside(self):
        assert self.width <= WIDEST
        for text, x, _, anchor in self.words:
            wide = PER_CHARACTER * len(text)
            left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor]
            assert left >= 0 and left + wide <= self.width, text
        for (x1, y1), (x2, y2) in self.lines:
            assert min(x1, x2) >= 0 and max(x1, x2) <= self.width
            assert min(y1, y2) >= 0 and max(y1, y2) <= self.height


def upon(one, other):
    """Whether two lines in one direction share more than a point."""
    level = [line[0][1] == line[1][1] for line in (one, other)]
    if level[0] != level[1]:
        return False
    along, across = (0, 1) if level[0] else (1, 0)
    if abs(one[0][across] - other[0][across]) > NEAR:
        return False
    spans = [sorted((line[0][along], line[1][along])) for line in (one, other)]
    return min(spans[0][1], spans[1][1]) - max(spans[0][0], spans[1][0]) > 2 * NEAR


def named(groups):
    """Return {net: terminals} of groups that hold their net's name and terminals."""
    nets = {}
    for group in groups:
        names = {word for word in group if re.fullmatch(r"amp[+-]|n\d+", word)}
        assert len(names) == 1, group
        nets[names.pop()] = sorted(word for word in group if word[0] in "1234")
    return nets


def followed_circuit(seen):
    joins = seen.joined()
    for x, top, bottom in seen.coils:
        middle = (top + bottom) / 2
        name, at_x, at_y, _ = seen.nearest("[1-4][a-h]", x, middle)
        assert abs(at_x - x) <= 10 and abs(at_y - middle) < NEAR
        plus, minus = (seen.nearest(re.escape(sign), x, middle) for sign in "+−")
        assert abs(plus[1] - x) <= 12 and abs(minus[1] - x) <= 12
        assert top < plus[2] < middle < minus[2] < bottom
        joins.add_edge(("coil", x, top), name + "+")
        joins.add_edge(("coil", x, bottom), name + "-")
    for circle in seen.circles:
        word = seen.nearest("amp [+−]", *circle[:2])
        joins.add_edge(("circle", *circle), word[0].replace(" ", "").replace("−", "-"))
    for text, x, y, _ in seen.words:
        if re.fullmatch(r"n\d+", text):
            dot = min(seen.dots, key=lambda one: (one[0] - x) ** 2 + (one[1] - y) ** 2)
            assert near(dot[:2], (x, y), 10)
            at = next(end for end in joins if end_at(end, dot))
            joins.add_edge(at, text)
    return named(words_of(joins))


def end_at(node, dot):
    if isinstance(node, str) or node[0] == "circle":
        return False
    return near(node[1:], dot[:2]) if node[0] == "coil" else on_line(dot[:2], node)


def words_of(joins):
    return [
        {one for one in part if isinstance(one, str)} for part in nx.connected_components(joins)
    ]


def followed_terminals(seen):
    joins = seen.joined()
    for circle in seen.circles:
        x, y, _ = circle
        sign = seen.nearest("[+−]", x, y)
        coil = min(
            (word for word in seen.words if re.fullmatch("[1-4][a-h]", word[0])),
            key=lambda word: abs(word[1] - x),
        )
        assert sign[1] == x
        joins.add_edge(("circle", *circle), coil[0] + sign[0].replace("−", "-"))
    for text, _, y, _ in seen.words:
        if re.fullmatch(r"amp [+−]|n\d+", text):
            buses = [
                line
                for line in seen.lines
                if line[0][1] == line[1][1] and abs(line[0][1] - y) <= NEAR
            ]
            joins.add_edges_from((bus, text.replace(" ", "").replace("−", "-")) for bus in buses)
    return named(words_of(joins))


def both_drawings_lead_to_the_nets(circuit, drivers):
    nets = circuit.nets()
    for drawing, follow in (
        (circuit_drawing(circuit), followed_circuit),
        (terminal_drawing(drivers, circuit), followed_terminals),
    ):
        seen = Seen(drawing.svg)
        seen.check_clear()
        seen.check_inside()
        assert follow(seen) == nets
        joins = r"n\d+: link ([^.]*?)\.|(?:Bring|Mark) ([^.]*?): the lead to"
        told = re.findall(joins, drawing.description)
        groups = [re.findall("[1-4][a-h][+−]", "".join(one)) for one in told]
        as_told = sorted(sorted(end.replace("−", "-") for end in one) for one in groups)
        assert as_told == sorted(nets.values())


SMALL = [
    ((1, 4),),
    ((2, 4),),
    ((8, 4),),
    ((2, 4), (2, 4)),
    ((2, 4), (2, 2)),
    ((1, 4),) * 4,
    ((2, 4), (1, 8), (1, 8)),
    ((1, 2), (3, 4)),
    ((2, 4), (2, 4), (1, 8)),
    ((4, 1), (2, 2)),
]
LARGE = [
    ((2, 4),) * 4,
    ((2, 4), (2, 4), (2, 2), (2, 2)),
    ((4, 4),) * 2,
    ((8, 4),),
    ((3, 4), (3, 4), (2, 8)),
]


def circuits(drivers):
    """Return the drivers, and every circuit that they can be wired to."""
    typed = tuple(Driver(coils, float(ohm)) for coils, ohm in drivers)
    return typed, [arrangement.circuit for arrangement in Survey(typed).ranked(2.0)]


@pytest.mark.parametrize("drivers", SMALL)
def test_every_drawn_circuit_leads_to_the_joins_that_are_listed(drivers, is_long):
    typed, every = circuits(drivers)
    step = 1 if is_long or len(every) < 100 else len(every) // 100
    for circuit in islice(every, 0, None, step):
        both_drawings_lead_to_the_nets(circuit, typed)


def test_drawn_circuits_of_eight_coils_lead_to_the_joins_that_are_listed(is_long):
    choice = random.Random(4)
    for drivers in LARGE if is_long else LARGE[::2]:
        typed, every = circuits(drivers)
        for circuit in choice.sample(every, 300 if is_long else 8):
            both_drawings_lead_to_the_nets(circuit, typed)


def test_the_widest_and_the_longest_circuits_lead_to_their_joins():
    own = (Driver(2, 4.0),) * 4
    names = list(coil_names(own))
    for notation in (
        "|".join(names),
        "+".join(names),
        f"({'|'.join(names[:7])})+{names[7]}",
        f"({'+'.join(names[:7])})|{names[7]}",
        "1a|(1b+(2a|(2b+(3a|(3b+(4a|4b))))))",
        "1a+(1b|(2a+(2b|(3a+(3b|(4a+4b))))))",
        "(1a+1b)|(2a+2b)|(3a+3b)|(4a+4b)",
    ):
        both_drawings_lead_to_the_nets(read_notation(notation, coil_names(own)), own)


@pytest.mark.parametrize(
    "notation",
    [
        "1a",
        "(1a+1b)|(2a+2b)",
        "1a|1b|2a",
        "(1a|2a)+(1b|2b)",
        "(1a+1b)+(2a+2b)",
        "(1a|1b)|(2a|2b)",
        "1a|(1b|(2a|2b))",
        "1a+(1b+(2a+(2b)))",
    ],
)
def test_drawings_for_running_text_are_as_easy_to_follow(notation):
    circuit = Seen(drawings.circuit(notation).svg)
    terminals = Seen(drawings.terminals(notation).svg)
    for seen in (circuit, terminals):
        seen.check_clear()
        seen.check_inside()
    assert followed_circuit(circuit) == followed_terminals(terminals)


def test_the_sheets_draw_the_circuit_that_they_recommend():
    sheet = CALCULATORS["coil-wiring"].answer({"drivers": "4", "min_load_ohm": "4"}).sheet
    nets = sheet.results["arrangements"][sheet.results["best"]]["nets"]
    assert followed_circuit(Seen(sheet.drawings[0].svg)) == nets
    assert followed_terminals(Seen(sheet.drawings[1].svg)) == nets


@pytest.mark.parametrize(("subs", "coils"), [(1, 1), (2, 2), (4, 2), (1, 8)])
def test_terminals_to_draw_on_are_all_there_and_not_joined(subs, coils):
    drawing = drawings.bare_terminals(str(subs), str(coils))
    seen = Seen(drawing.svg)
    seen.check_inside()
    assert not seen.lines and not seen.dots
    assert len(seen.circles) == 2 * subs * coils + 2
    words = [word for word, *_ in seen.words]
    assert {"amp +", "amp −", *coil_names([Driver(coils, 4.0)] * subs)} <= set(words)

"""Trees of cable at random, and what the rules ask of them by the definitions.

Nothing here calls the code that chooses: tables, resistances, permitted currents, fuses
and drops are written again.
"""

import math
import random
from itertools import pairwise, product

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from calc.cabling.sizing import Rules
from calc.cabling.tree import Load, Run, Tree

LAST_BITS = 1e-9

# ---- tables ----------------------------------------------------------------------------------


def gauge_mm2(number):
    return math.pi / 4 * (0.127 * 92 ** ((36 - number) / 39)) ** 2


# No power conductor is thinner than 1.5 mm² or 16 AWG.
METRIC_OHM_KM = {
    1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.3, 10: 1.91, 16: 1.21,
    25: 0.78, 35: 0.554, 50: 0.386, 70: 0.272, 95: 0.206,
}  # fmt: skip
AWG_NUMBERS = (16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)
OHM_KM = {
    "metric": METRIC_OHM_KM,
    "awg": {gauge_mm2(one): 1.02 * 1000 / 58 / gauge_mm2(one) for one in AWG_NUMBERS},
}
# By gauge number, 3 and all.
TABLE_A = {
    18: 20, 16: 25, 14: 35, 12: 45, 10: 60, 8: 80, 6: 120, 4: 160, 3: 180, 2: 210, 1: 245,
    0: 285, -1: 330, -2: 385, -3: 445,
}  # fmt: skip
RATINGS = (
    1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225,
    250, 300, 350, 400, 450, 500,
)  # fmt: skip
RESISTIVITY = {"copper": 1.0, "cca10": 1.59, "cca15": 1.55}
DENSITY = {"copper": 8890, "cca10": 3320, "cca15": 3630}


def at_most(one, other):
    return one <= other * (1 + LAST_BITS)


def rating_of(ampere):
    """The smallest listed fuse for a current, or None."""
    return next((one for one in RATINGS if at_most(ampere, one)), None)


def permitted_of(area, rules):
    """What a cross-section may carry, or None."""
    if rules.insulation_c != 105:
        return None
    rows = [(math.log(gauge_mm2(number)), math.log(amp)) for number, amp in TABLE_A.items()]
    at = math.log(area)
    for (low, first), (high, second) in pairwise(rows):
        if low - LAST_BITS <= at <= high + LAST_BITS:
            ampere = math.exp(first + (second - first) * (at - low) / (high - low))
            break
    else:
        return None
    ampere /= math.sqrt(RESISTIVITY[rules.material])
    ampere *= 0.85 if rules.engine_space else 1
    return ampere * next(
        factor for most, factor in ((2, 1), (3, 0.7), (6, 0.6), (24, 0.5)) if rules.bundle <= most
    )


def run_ohm(area, length_m, rules):
    """The resistance of a run: the cable, out and back where it is doubled, and its joints."""
    warm = 1 + 0.00393 * (rules.conductor_c - 20)
    # Sizes are known by their cross-section, whose last bits may differ.
    own = next(ohm for one, ohm in OHM_KM[rules.sizes].items() if math.isclose(one, area))
    cable = own / 1000 * RESISTIVITY[rules.material] * warm * length_m
    return cable * (2 if rules.return_by == "cable" else 1) + rules.connections_ohm


def body_drop(ampere, rules):
    return rules.body_ohm * ampere if rules.return_by == "body" else 0.0


def limit_of(rules):
    return rules.max_drop_v * (1 + LAST_BITS)


# ---- a tree's ways and currents ----------------------------------------------------------------


def way_to(place, runs):
    """The runs' indices from the battery to a place."""
    for at, run in enumerate(runs):
        if run.end == place:
            return [*way_to(run.start, runs), at]
    return []


class Walked:
    """A tree's ways, feeders and currents, found again."""

    def __init__(self, tree):
        self.runs, self.loads = tree.runs, tree.loads
        self.ways = [way_to(load.at, self.runs) for load in self.loads]
        to_run = [way_to(run.end, self.runs) for run in self.runs]
        self.feeder = [(way[-2] if len(way) > 1 else None) for way in to_run]
        self.outward = sorted(range(len(self.runs)), key=lambda at: len(to_run[at]))
        self.full = [0.0] * len(self.runs)
        self.ampere = [0.0] * len(self.runs)
        for load, way in zip(self.loads, self.ways, strict=True):
            for at in way:
                self.full[at] += load.full_a
                self.ampere[at] += load.ampere
        self.total = sum(load.ampere for load in self.loads)

    def drops(self, areas, rules, total=None):
        """The drop at every load for the runs' cross-sections."""
        own = [
            ampere * run_ohm(area, run.length_m, rules)
            for area, run, ampere in zip(areas, self.runs, self.ampere, strict=True)
        ]
        body = body_drop(self.total if total is None else total, rules)
        return [body + sum(own[at] for at in way) for way in self.ways]


def faults(tree, rules, areas, fuses, total=None):
    """The words for every rule that sizes and fuses break: none for a safe system."""
    walked, found = Walked(tree), set()
    protecting = [None] * len(areas)
    for at in walked.outward:
        feeder, fuse = walked.feeder[at], fuses[at]
        if feeder is None and fuse is None:
            found.add("no fuse at the battery")
        if fuse is not None and fuse not in RATINGS:
            found.add("fuse not listed")
        if fuse is not None and not at_most(walked.full[at], fuse):
            found.add("fuse below the full current")
        protecting[at] = fuse if fuse is not None or feeder is None else protecting[feeder]
        permitted = permitted_of(areas[at], rules)
        if permitted is None:
            found.add("no permitted current")
        elif protecting[at] is None or not at_most(protecting[at], permitted):
            found.add("fuse above the permitted current")
        elif not at_most(walked.full[at], permitted):
            found.add("full current above the permitted")
    if any(drop > limit_of(rules) for drop in walked.drops(areas, rules, total)):
        found.add("drop above the limit")
    return found


def areas_of(offers):
    return [one.size.area_mm2 for one in offers]


def mass_of(runs, areas, rules):
    """The conductors' mass, one way [kg]."""
    volume = sum(area * run.length_m for area, run in zip(areas, runs, strict=True))
    return volume * 1e-6 * DENSITY[rules.material]


def fuses_for(walked, permitted):
    """The fuses by the rule, and whether every cable may carry the one that protects it."""
    fuses, protecting, safe = [None] * len(permitted), {None: None}, True
    for at in walked.outward:
        before = protecting[walked.feeder[at]]
        own = permitted[at]
        if before is None or own is None or not at_most(before, own):
            fuses[at] = before = rating_of(walked.full[at])
        safe = safe and own is not None and before is not None and at_most(before, own)
        protecting[at] = before
    return fuses, safe


def tried(tree, rules):
    """Volume and worst drop of the best of all combinations of sizes, or None."""
    walked, areas, best = Walked(tree), list(OHM_KM[rules.sizes]), None
    permitted = {area: permitted_of(area, rules) for area in areas}
    choices = [
        [(area, area * run.length_m, ampere * run_ohm(area, run.length_m, rules)) for area in areas]
        for run, ampere in zip(tree.runs, walked.ampere, strict=True)
    ]
    most = limit_of(rules) - body_drop(walked.total, rules)
    for chosen in product(*choices):
        volume = sum([one[1] for one in chosen])
        if best and volume > best[0] * (1 + LAST_BITS):
            continue
        worst = max([sum([chosen[at][2] for at in way]) for way in walked.ways])
        if worst > most:
            continue
        if best and volume > best[0] * (1 - LAST_BITS) and worst >= best[1]:
            continue
        if fuses_for(walked, [permitted[one[0]] for one in chosen])[1]:
            best = (volume, worst)
    return best and (best[0], best[1] + body_drop(walked.total, rules))


def solved(tree, rules):
    """The least volume by integer programming: each run takes one size, each way its drop."""
    walked, columns = Walked(tree), []
    for at, run in enumerate(tree.runs):
        for area in OHM_KM[rules.sizes]:
            permitted = permitted_of(area, rules)
            if permitted and at_most(rating_of(walked.full[at]), permitted):
                drop = walked.ampere[at] * run_ohm(area, run.length_m, rules)
                columns.append((at, area, area * run.length_m, drop))
    left = limit_of(rules) - body_drop(walked.total, rules)
    one_each = [[column[0] == at for column in columns] for at in range(len(tree.runs))]
    # In shares of 10,000, so that the solver's tolerance is none here.
    ways = [[1e4 * c[3] / left * (c[0] in way) for c in columns] for way in walked.ways]
    found = milp(
        np.array([column[2] for column in columns]),
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(np.array(one_each, dtype=float), 1, 1),
            LinearConstraint(np.array(ways), -np.inf, 1e4),
        ],
        options={"mip_rel_gap": 0},
    )
    assert found.success
    chosen = [column for column, share in zip(columns, found.x, strict=True) if share > 0.5]
    assert [column[0] for column in chosen] == list(range(len(tree.runs)))
    areas = [column[1] for column in chosen]
    assert all(at_most(drop, limit_of(rules)) for drop in walked.drops(areas, rules))
    return sum(column[2] for column in chosen)


# ---- the whole circuit -----------------------------------------------------------------------


def drops_by_nodes(tree, rules, areas, supply_v=14.4):
    """What every load lacks of the supply: Kirchhoff's current law at every node.

    The body is one node; a second cable is a tree of its own beside the first.
    """
    doubled = rules.return_by == "cable"
    nodes, branches = {}, []  # numbers by name; (node, node, ohm)

    def node(*name):
        return nodes.setdefault(name, len(nodes))

    minus, plus = node("minus"), node("out", tree.root)
    for run, area in zip(tree.runs, areas, strict=True):
        cable = run_ohm(area, run.length_m, rules) - rules.connections_ohm
        cable /= 2 if doubled else 1
        ends = node("out", run.start), node("out", run.end)
        branches.append((*ends, cable + rules.connections_ohm))
        if doubled:
            start = minus if run.start == tree.root else node("back", run.start)
            branches.append((node("back", run.end), start, cable))
    if doubled:
        back = [node("back", load.at) for load in tree.loads]
    else:
        body = node("body") if rules.body_ohm else minus
        branches += [(body, minus, rules.body_ohm)] if rules.body_ohm else []
        back = [body] * len(tree.loads)
    out = [node("out", load.at) for load in tree.loads]
    matrix, right = np.zeros((len(nodes) + 2,) * 2), np.zeros(len(nodes) + 2)
    for one, other, ohm in branches:
        matrix[[one, other], [one, other]] += 1 / ohm
        matrix[[one, other], [other, one]] -= 1 / ohm
    for load, start, end in zip(tree.loads, out, back, strict=True):
        right[start] -= load.ampere
        right[end] += load.ampere
    # The battery: the voltages of its poles are given, the currents from them are not known.
    for row, at, volt in ((-1, minus, 0.0), (-2, plus, supply_v)):
        matrix[row, at] = matrix[at, row] = 1
        right[row] = volt
    volts = np.linalg.solve(matrix, right)
    return [supply_v - (volts[start] - volts[end]) for start, end in zip(out, back, strict=True)]


# ---- at random -------------------------------------------------------------------------------


def any_runs(rng, number, shape="any"):
    """Runs that form a tree, their rows in any order; `shape`: any, chain or star."""
    names = [f"place {at}" for at in range(number + 1)]
    rng.shuffle(names)
    runs = []
    for at in range(number):
        feeder = {"any": rng.randint(0, at), "chain": at, "star": 0}[shape]
        length = round(math.exp(rng.uniform(math.log(0.2), math.log(7))), 2)
        runs.append(Run(start=names[feeder], end=names[at + 1], length_m=length))
    rng.shuffle(runs)
    return tuple(runs)


def any_load(rng, place, most_a=90):
    full = math.exp(rng.uniform(0, math.log(most_a)))
    if rng.random() < 0.3:
        full = rng.choice([one for one in RATINGS if one <= most_a])
    return Load(at=place, ampere=full * rng.choice((1, 1 / 3, 1 / 8, 0.354)), full_a=full)


def any_tree(rng, number, most_a=90, shape="any"):
    """A tree whose ends mostly have loads, and some places between too."""
    runs = any_runs(rng, number, shape)
    starts = {run.start for run in runs}
    places = [run.end for run in runs if rng.random() < (0.3 if run.end in starts else 0.9)]
    places += [rng.choice(runs).end] * (not places or rng.random() < 0.1)
    rng.shuffle(places)
    return Tree(runs=runs, loads=tuple(any_load(rng, place, most_a) for place in places))


def any_rules(rng, **given):
    own = {
        "material": rng.choice(("copper", "copper", "cca10", "cca15")),
        "sizes": rng.choice(("metric", "awg")),
        "conductor_c": rng.choice((20.0, 50.0, 80.0)),
        "engine_space": rng.random() < 0.3,
        "bundle": rng.choice((1, 1, 1, 2, 3, 5, 8)),
        "max_drop_v": rng.choice((0.05, 0.1, 0.3, 0.5, 0.5, 0.7, 1.0, 1.5)),
        "return_by": rng.choice(("body", "body", "cable")),
        "body_ohm": rng.choice((0.0, 0.0005, 0.001, 0.002)),
        "connections_ohm": rng.choice((0.0, 0.0, 0.0005, 0.001, 0.002)),
    }
    return Rules(**(own | given))


def systems(number, start=0, most=4, **given):
    """Seeds with a tree of up to so many runs and rules."""
    for seed in range(start, start + number):
        rng = random.Random(seed)
        shape = rng.choice(("any", "any", "chain", "star"))
        tree = any_tree(rng, rng.randint(1, most), shape=shape)
        yield seed, tree, any_rules(rng, **given)

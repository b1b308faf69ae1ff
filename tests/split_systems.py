"""Systems of sections and filters at random, and what a setting costs by the definitions."""

import math
import random
from itertools import product

from split_rows import Knob, controls_on

from calc.crossovers.splitting.edges import edges_of
from calc.crossovers.splitting.model import Control, Passive, Section
from calc.crossovers.splitting.problem import Problem
from calc.crossovers.splitting.search import best_split
from calc.physics.filters import has_order

# ---- what a setting costs, by the definitions and by nothing else ----------------------------


def octaves(high, low):
    return math.log2(high / low)


def together(kind, filters):
    """(corner, order, number, spread) of those within an octave of the innermost: ∏ c^(n/Σn)."""
    if not filters:
        return None, 0, 0, 0
    inner = (max if kind == "high-pass" else min)(corner for corner, _ in filters)
    near = [(c, n) for c, n in filters if abs(octaves(c, inner)) <= 1 + 1e-9]
    order = sum(n for _, n in near)
    spread = octaves(max(near)[0], min(near)[0])
    return math.prod(c ** (n / order) for c, n in near), order, len(near), spread


def state_of(edge, corner, order):
    low, high = edge.window_hz[0] * (1 - 1e-9), edge.window_hz[1] * (1 + 1e-9)
    if not edge.is_needed:
        tuning = edge.subsonic_hz
        if tuning and corner and tuning / 2 * (1 - 1e-9) <= corner <= tuning * (1 + 1e-9):
            return "made"
        return "open" if corner is None or low <= corner <= high else "spoilt"
    if corner is not None and low <= corner <= high and order >= edge.least_order:
        return "made"
    harmed = corner is None or corner < low or order < edge.least_order
    return "unprotected" if edge.protects and harmed else "missing"


def deviation_of(edge, corner, order, spread):
    """Octaves, a quarter for each order, and what lies between stacked corners."""
    if corner is None:
        end = 20 if edge.kind == "high-pass" else 20_000
        absent = 1 if edge.subsonic_hz else 0
        return abs(octaves(end, edge.wanted_hz)) if edge.is_needed else absent
    if state_of(edge, corner, order) == "made" and not edge.is_needed:
        return abs(octaves(corner, edge.wanted_hz)) / 2 + min(
            0.5, max(0, edge.wanted_order - order) / 4
        )
    if edge.subsonic_hz and corner <= edge.window_hz[1]:
        return 1 + abs(octaves(corner, edge.wanted_hz))
    if not edge.is_needed:
        low, high = edge.window_hz
        return max(0, octaves(corner, high) if edge.kind == "high-pass" else octaves(low, corner))
    return abs(octaves(corner, edge.wanted_hz)) + abs(order - edge.wanted_order) / 4 + spread


def filters_on(problem, edge, settings):
    passive = [one for one in problem.passive[edge.section] if one.kind == edge.kind]
    own = problem.sections[edge.section].channels
    return [(one.frequency_hz, one.order) for one in passive] + [
        setting
        for control, setting in zip(problem.controls, settings, strict=True)
        if setting and control.kind == edge.kind and own <= control.channels
    ]


def edge_cost(edge, filters):
    corner, order, number, spread = together(edge.kind, filters)
    state = state_of(edge, corner, order)
    millionths = round(1_000_000 * deviation_of(edge, corner, order, spread))
    missing = state in ("unprotected", "missing", "spoilt")
    low, high = edge.window_hz
    gone = corner and (corner > 4 * high if edge.kind == "high-pass" else corner < low / 4)
    silenced = bool(missing and gone and edge.is_shared)
    return state == "unprotected" or silenced, missing, millionths, number > 1


def cost_of(problem, settings, kept=None):
    """(unprotected, missing, deviation, doubled, boxes, filters on, of them head unit)."""
    kept = {} if kept is None else kept
    total = [0, 0, 0, 0]
    for at, edge in enumerate(problem.edges):
        filters = filters_on(problem, edge, settings)
        key = at, *filters
        if key not in kept:
            kept[key] = edge_cost(edge, filters)
        total = [a + b for a, b in zip(total, kept[key], strict=True)]
    boxes = [c.box for c, one in zip(problem.controls, settings, strict=True) if one]
    return *total, len(set(boxes)), len(boxes), boxes.count("head-unit")


def is_permitted(controls, settings):
    on = [(c.box, c.switch) for c, one in zip(controls, settings, strict=True) if one and c.switch]
    return len(on) == len(set(on))


def least_cost(problem, choices):
    kept = {}
    return min(
        cost_of(problem, settings, kept)
        for settings in product(*choices)
        if is_permitted(problem.controls, settings)
    )


# ---- systems at random -----------------------------------------------------------------------

# Lowest frequencies and tops, from which a section of the kind is drawn [Hz].
DRAWN = {
    "tweeter": ((2000, 2500, 3500), (None,)),
    "midrange": ((200, 300, 450), (3000, 4500, 6000)),
    "mid-bass": ((60, 70, 90), (300, 500, 4000)),
    "full-range": ((60, 80, 100), (None, None, 9000)),
    "woofer": ((None, None, 25), (None, 80, 120)),
}
PAIRS = [frozenset(one) for one in ((1, 2), (3, 4), (5, 6))]


def any_section(rng):
    kind = rng.choice(list(DRAWN))
    lows, tops = DRAWN[kind]
    low = rng.choice(lows)
    return Section(
        kind=kind,
        channels=rng.choice(PAIRS),
        lowest_hz=low,
        order=rng.randint(1, 4),
        top_hz=rng.choice(tops),
        wanted_hz=round(low * rng.uniform(1.0, 1.7)) if low and rng.random() < 0.3 else None,
        tuning_hz=rng.choice((None, 30, 38)) if kind == "woofer" else None,
    )


def any_control(rng, edges, pairs, kinds=("steps", "range")):
    """A filter that is near one of the edges, or is not; with a range, it is a knob."""
    aim = rng.choice(edges)
    corners = sorted(
        float(f"{min(19_000, max(21, aim.wanted_hz * 2 ** rng.uniform(-2.5, 2.5))):.3g}")
        for _ in range(rng.randint(2, 4))
    )
    orders = tuple(sorted(rng.sample((1, 2, 3, 4), rng.randint(1, 2))))
    is_range = rng.choice(kinds) == "range"
    can_be_off = rng.random() < 0.85
    even = all(has_order("linkwitz-riley", one) for one in orders)
    control = Control(
        box=rng.choice(("amplifier", "amplifier", "head-unit")),
        channels=frozenset().union(*rng.sample(pairs, rng.randint(1, len(pairs)))),
        kind=aim.kind,
        family="linkwitz-riley" if even else "butterworth",
        orders=orders,
        steps_hz=tuple(corners),
        times=rng.choice(((1.0,), (1.0,), (1.0, 10.0))),
        switch=rng.choice(("", "a", "b")) if can_be_off else "",
        can_be_off=can_be_off,
    )
    return Knob((corners[0], corners[-1]), control) if is_range else control


def any_rows(rng, kinds=("steps", "range")):
    """(sections, filters, networks), knobs as they are."""
    sections = [any_section(rng) for _ in range(rng.randint(1, 4))]
    networks = []
    for pair in PAIRS:
        own = [one for one in sections if one.channels == pair]
        high = max((one.lowest_hz or 25 for one in own), default=0)
        if len(own) > 1 and rng.random() < 0.8:
            corner = round(high * rng.uniform(0.9, 1.9))
            order = rng.randint(1, 3)
            networks.append(
                Passive(channels=pair, family="butterworth", order=order, frequency_hz=corner)
            )
    pairs = sorted({one.channels for one in sections}, key=min)
    edges = edges_of(sections)
    filters = [any_control(rng, edges, pairs, kinds) for _ in range(rng.randint(2, 5))]
    return sections, filters, networks


def any_system(rng, kinds=("steps", "range")):
    """(sections, controls, networks), knobs as a hand sets them."""
    sections, filters, networks = any_rows(rng, kinds)
    return sections, controls_on(sections, filters), networks


def small_problems(number, start=0):
    """So many seeds, systems and their problems, whose settings can all be tried."""
    seed = start
    while number:
        rng = random.Random(seed)
        system = any_system(rng)
        most = rng.choice((200, 1000, 1000, 4000, 20_000))
        problem = Problem(*system)
        if most / 20 < math.prod(len(one) for one in problem.choices) <= most:
            yield seed, system, problem
            number -= 1
        seed += 1


def kept_apart(problem):
    """Whether no two filters can act on one edge."""
    return all(len(a) + len(f) <= 1 for a, f in zip(problem.acting, problem.fixed, strict=True))


def failures(problem):
    return cost_of(problem, best_split(problem).settings)[:2]


def high_pass(box, order=2, **given):
    own = {"channels": PAIRS[0], "kind": "high-pass", "family": "butterworth"}
    return Control(box=box, orders=(order,), **own, **given)


def protected(kind, lowest_hz, order=4):
    return Section(kind=kind, channels=PAIRS[0], lowest_hz=lowest_hz, order=order, top_hz=None)

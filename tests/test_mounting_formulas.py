"""Leads, heat, fixing and reach: the formulas beside the search, held against plain physics."""

import math
import random
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from mounting_bays import WORDS, any_problem
from mounting_judge import judged, strip_of
from pint import UnitRegistry
from shapely import box, unary_union

from calc.physics.air import (
    FILM_HIGH,
    FILM_LOW,
    air_rise,
    area_for,
    box_surface,
)
from calc.physics.amplifier_draw import DUTIES, amplifier_heat, class_ab_heat
from calc.physics.fixing import CRASH_G, bend_room, crash_pull, floor_takes, total_height
from calc.physics.floor_plan import Amplifier, Bay, Placement, Rectangle, Rooms
from calc.placement.options import loosest, micro
from calc.placement.placing import Problem, solve
from calc.placement.reach import (
    Reach,
    face_reach,
    over_edge,
    pressed,
    reach_of,
    top_height,
    top_reach,
)
from calc.placement.runs import Leg, NotARoute, runs
from calc.placement.shorten import spare_floor

SEEDS = st.integers(0, 10**9)
POWERS = st.floats(1, 3000)
EFFICIENCIES = st.floats(0.05, 0.99)
SIZES = st.floats(0.01, 3)
FILMS = st.floats(1, 30)
UNITS = UnitRegistry()
# The whole supply, while the peak of a sine reaches the rail: class AB's best.
IDEAL_AB = math.pi / 4

# ---- leads -----------------------------------------------------------------------------------


def legs_of(graph, lead="power"):
    return [Leg(lead, start, end, own["length"]) for start, end, own in graph.edges(data=True)]


def any_graph(rng, tree):
    """Random legs without a ring; a tree has one leg to each place."""
    places = [f"place {at}" for at in range(rng.randint(2, 8))]
    graph = nx.DiGraph()
    for at, place in enumerate(places[1:], start=1):
        for before in rng.sample(places[:at], 1 if tree else rng.randint(0, min(2, at))):
            graph.add_edge(before, place, length=round(rng.uniform(0.1, 6), 2))
    return graph


def every_way(graph):
    """First place, last place, length of every way between places with no leg in or out."""
    return sorted(
        (first, last, nx.path_weight(graph, way, "length"))
        for first in graph
        if not graph.in_degree(first)
        for last in graph
        if not graph.out_degree(last)
        for way in nx.all_simple_paths(graph, first, last)
    )


@given(SEEDS, st.floats(0, 0.5))
def test_runs_are_all_simple_ways_from_a_first_to_a_last_place(seed, slack):
    rng = random.Random(seed)
    graph = any_graph(rng, rng.random() < 0.5)
    legs = rng.sample(legs_of(graph), graph.number_of_edges())
    ways = every_way(graph)
    if len({way[:2] for way in ways}) < len(ways):
        with pytest.raises(NotARoute, match=r"^There are two power routes from "):
            runs(legs, slack)
        return
    found = sorted((one.start, one.end, one.length_m) for one in runs(legs, slack))
    assert [one[:2] for one in found] == [way[:2] for way in ways]
    assert [one[2] for one in found] == pytest.approx([way[2] * (1 + slack) for way in ways])


@given(SEEDS)
def test_every_ring_is_refused_and_named(seed):
    rng = random.Random(seed)
    graph = any_graph(rng, tree=True)
    ends = rng.choice([(a, b) for a in graph for b in nx.descendants(graph, a)])
    graph.add_edge(ends[1], ends[0], length=1.0)
    with pytest.raises(NotARoute) as refused:
        runs(rng.sample(legs_of(graph), graph.number_of_edges()), 0.0)
    message = str(refused.value)
    assert message.startswith("The power route runs in a ring: ")
    ring = message.removesuffix(". Remove a stretch.").split(": ")[1].split(" to ")
    assert ring[0] == ring[-1]
    assert all(graph.has_edge(*pair) for pair in nx.utils.pairwise(ring))
    assert set(ring) == set(nx.find_cycle(graph)[0][:1]) | {a for a, _ in nx.find_cycle(graph)}


@pytest.mark.parametrize(
    ("legs", "message"),
    [
        ("a-a", "The power route runs in a ring: a to a. Remove a stretch."),
        ("a-b b-a", "The power route runs in a ring: a to b to a. Remove a stretch."),
        ("a-b b-c c-b c-d", "The power route runs in a ring: b to c to b. Remove a stretch."),
        ("a-b b-b", "The power route runs in a ring: b to b. Remove a stretch."),
        ("a-b a-b", "There are two power routes from a to b. Remove one."),
        ("a-b b-c b-c", "There are two power routes from b to c. Remove one."),
        ("a-b a-c b-d c-d", "There are two power routes from a to d. Remove one."),
        ("a-b a-c b-d c-d d-e", "There are two power routes from a to e. Remove one."),
        ("a-b a-c b-c", "There are two power routes from a to c. Remove one."),
    ],
)
def test_what_is_no_route_is_refused(legs, message):
    own = [Leg("power", *pair.split("-"), 1.0) for pair in legs.split()]
    with pytest.raises(NotARoute) as refused:
        runs(own, 0.0)
    assert str(refused.value) == message


def test_leads_do_not_mix_and_keep_their_order():
    legs = [
        Leg("signal", "head unit", "sill", 2.0),
        Leg("power", "sill", "bay", 1.0),
        Leg("signal", "sill", "bay", 1.5),
        Leg("power", "battery", "sill", 3.0),
        Leg("power", "sill", "trunk", 0.5),
    ]
    assert runs(legs, 0.0) == [
        Leg("signal", "head unit", "bay", 3.5),
        Leg("power", "battery", "bay", 4.0),
        Leg("power", "battery", "trunk", 3.5),
    ]
    # What is a ring only if two leads are taken for one is none.
    assert runs([Leg("power", "a", "b", 1.0), Leg("signal", "b", "a", 2.0)], 0.0) == [
        Leg("power", "a", "b", 1.0),
        Leg("signal", "b", "a", 2.0),
    ]
    assert runs([], 0.1) == []


# ---- heat ------------------------------------------------------------------------------------


@given(POWERS, EFFICIENCIES, st.sampled_from(tuple(DUTIES)))
def test_what_goes_in_comes_out_as_sound_or_heat(power_w, efficiency, duty):
    out = power_w * DUTIES[duty]
    heat = amplifier_heat(power_w=power_w, efficiency=efficiency, duty=duty)
    assert heat + out == pytest.approx(out / efficiency)
    assert heat > 0


@given(POWERS, EFFICIENCIES)
def test_at_full_power_both_classes_heat_by_the_rated_efficiency(power_w, efficiency):
    rated = {"power_w": power_w, "efficiency": efficiency}
    assert class_ab_heat(**rated, duty="full") == pytest.approx(
        amplifier_heat(**rated, duty="full")
    )
    for duty in ("heavy", "normal"):
        # Below full power its efficiency falls: more heat than with a steady efficiency.
        assert class_ab_heat(**rated, duty=duty) > amplifier_heat(**rated, duty=duty)


@given(POWERS, st.floats(0.05, IDEAL_AB), st.sampled_from(tuple(DUTIES)))
def test_class_ab_heat_is_the_mean_over_a_sine_of_what_the_rails_give(power_w, efficiency, duty):
    # A load of 4 Ω; the rails stand as high above the full peak as the rated efficiency says.
    load, phase = 4.0, (np.arange(20_000) + 0.5) * 2 * math.pi / 20_000
    full_peak = math.sqrt(2 * power_w * load)
    rail = full_peak * IDEAL_AB / efficiency
    volt = full_peak * math.sqrt(DUTIES[duty]) * np.sin(phase)
    heat = np.mean((rail - np.abs(volt)) * np.abs(volt) / load)
    assert class_ab_heat(power_w=power_w, efficiency=efficiency, duty=duty) == pytest.approx(
        heat, rel=1e-6
    )


@given(POWERS, EFFICIENCIES, EFFICIENCIES)
def test_less_efficient_is_never_cooler_and_more_duty_never_either(power_w, one, other):
    low, high = sorted((one, other))
    for heat in (amplifier_heat, class_ab_heat):
        for duty in DUTIES:
            assert heat(power_w=power_w, efficiency=low, duty=duty) >= heat(
                power_w=power_w, efficiency=high, duty=duty
            )
    steady = [amplifier_heat(power_w=power_w, efficiency=low, duty=duty) for duty in DUTIES]
    assert steady == sorted(steady, reverse=True)
    assert amplifier_heat(power_w=power_w, efficiency=1, duty="full") == 0


def test_duties_are_the_shares_that_the_page_names():
    assert list(DUTIES) == ["full", "heavy", "normal"]
    assert list(DUTIES.values()) == pytest.approx([1, 1 / 3, 1 / 8])
    assert 0 < FILM_LOW < FILM_HIGH


@given(POWERS, SIZES, FILMS)
def test_air_rise_is_that_of_two_films_in_series(heat_w, area_m2, film):
    heat, area = heat_w * UNITS.watt, area_m2 * UNITS.meter**2
    per_film = film * UNITS.watt / UNITS.meter**2 / UNITS.kelvin
    resistance = 1 / (per_film * area) + 1 / (per_film * area)
    rise = (heat * resistance).to(UNITS.kelvin).magnitude
    assert air_rise(heat_w=heat_w, area_m2=area_m2, film=film) == pytest.approx(rise)
    assert area_for(heat_w=heat_w, rise_k=rise, film=film) == pytest.approx(area_m2)


@given(SIZES, SIZES, SIZES)
def test_a_box_has_six_sides(width_m, depth_m, height_m):
    sides = [a * b for a, b in ((width_m, depth_m), (depth_m, height_m), (height_m, width_m))]
    found = box_surface(width_m=width_m, depth_m=depth_m, height_m=height_m)
    assert found == pytest.approx(sum(sides) * 2)


# ---- fixing ----------------------------------------------------------------------------------


@given(st.floats(0.1, 30))
def test_crash_pull_is_mass_times_so_many_times_gravity(mass_kg):
    stopping = CRASH_G * UNITS.standard_gravity
    newton = (mass_kg * UNITS.kilogram * stopping).to(UNITS.newton).magnitude
    assert crash_pull(mass_kg=mass_kg) == pytest.approx(newton, rel=5e-4)


@given(st.floats(1, 30), st.floats(0, 50), st.floats(0.5, 15))
def test_a_bent_cable_lies_within_its_room_and_fills_it(cable_mm, plug_mm, times):
    # The cable's outer edge on the way around a quarter of a circle, from straight out.
    radius = times * cable_mm
    angle = np.linspace(0, math.pi / 2, 1000)
    outward = plug_mm + radius * np.sin(angle) + cable_mm / 2 * np.sin(angle)
    room = bend_room(cable_mm=cable_mm, plug_mm=plug_mm, times=times)
    assert room == pytest.approx(outward.max())


@given(SEEDS)
def test_floor_takes_is_what_bounds_the_body_and_its_lasting_rooms(seed):
    problem = any_problem(random.Random(seed))
    rooms = problem.rooms
    for one in problem.amplifiers:
        body = (0, 0, micro(one.width_mm), micro(one.depth_mm))
        shapes = [box(*body)]
        for face in ("front", "right", "back", "left"):
            held = [what for what in one.holds.get(face, ()) if what != "controls"]
            deep = max((micro(getattr(rooms, f"{what}_mm")) for what in held), default=0)
            shapes.append(box(*strip_of(body, face, deep)))
        left, low, right, high = unary_union(shapes).bounds
        assert floor_takes(one, rooms) == ((right - left) / 1000, (high - low) / 1000)
        top = [what for what in one.holds.get("top", ()) if what != "controls"]
        plugs = max((getattr(rooms, f"{what}_mm") for what in top), default=0)
        assert total_height(one, rooms) == one.height_mm + plugs


# ---- reach -----------------------------------------------------------------------------------


def amplifier(**holds):
    """300 × 200 × 50 mm; `front="controls power"`."""
    return Amplifier(
        name="a",
        width_mm=300,
        depth_mm=200,
        height_mm=50,
        holds={face: frozenset(held.split()) for face, held in holds.items()},
    )


def reached(one, bay, x=0.0, y=0.0, quarters=0, rooms=None, others=()):
    return reach_of(Placement(one, x, y, quarters), bay, rooms or Rooms(), others)


BAY = Bay(width_mm=1000, depth_mm=1000, edges=("seat", "wall", "open", "wall"), seat_travel_mm=50)


@pytest.mark.parametrize(
    ("y", "word"),
    [
        (120, "in place"), (119.999, "seat slid"), (70, "seat slid"), (69.999, "seat out"),
        (0, "seat out"),
    ],
)  # fmt: skip
def test_a_seat_edge_is_crossed_by_so_much_and_no_more(y, word):
    assert WORDS[reached(amplifier(front="controls"), BAY, y=y)] == word


@pytest.mark.parametrize(
    ("x", "quarters", "word"),
    [(680, 1, "in place"), (680.001, 1, "never"), (120, 3, "in place"), (119.999, 3, "never")],
)
def test_a_wall_is_not_reached_through(x, quarters, word):
    assert WORDS[reached(amplifier(front="controls"), BAY, x=x, quarters=quarters)] == word


def test_an_open_edge_is_reached_over():
    one = amplifier(front="controls")
    assert reached(one, BAY, y=800, quarters=2) == Reach.IN_PLACE
    beyond = Rectangle(x_mm=0, y_mm=1100, width_mm=10, depth_mm=10)
    assert reached(one, replace(BAY, keep_outs=(beyond,)), y=800, quarters=2) == Reach.NEVER


def test_what_touches_a_hands_room_is_not_in_it():
    one = amplifier(front="controls")
    for gap, word in ((0, "in place"), (0.001, "never")):
        other = Placement(one, 0, 300 + gap, 0)
        assert WORDS[reached(one, BAY, y=620, others=(other,))] == word
        hole = Rectangle(x_mm=300 - gap, y_mm=450, width_mm=50, depth_mm=50)
        assert WORDS[reached(one, replace(BAY, keep_outs=(hole,)), y=520)] == word


def test_the_worst_face_counts():
    one = amplifier(back="controls", front="controls", right="controls")
    assert reached(one, BAY, x=100, y=300) == Reach.IN_PLACE
    assert reached(one, BAY, x=100, y=80) == Reach.SEAT_SLID
    assert reached(one, BAY, x=100, y=0) == Reach.SEAT_OUT
    assert reached(one, BAY, x=600, y=0) == Reach.NEVER
    place = Placement(one, 600, 0, 0)
    each = [face_reach(place, BAY, Rooms(), (), face) for face in ("front", "right", "back")]
    assert each == [Reach.SEAT_OUT, Reach.NEVER, Reach.IN_PLACE]


def test_pressed_plugs_are_at_best_reached_with_the_seat_slid():
    for holds in ({"front": "power"}, {"front": "power", "back": "controls"}):
        one = amplifier(**holds)
        assert reached(one, BAY, y=60) == Reach.IN_PLACE
        assert reached(one, BAY, y=59) == Reach.SEAT_SLID
        assert pressed(Placement(one, 0, 59, 0), BAY, Rooms()) == 1
        assert pressed(Placement(one, 0, 60, 0), BAY, Rooms()) == 0
        # Over an open edge, or into a wall, is not onto a seat.
        assert pressed(Placement(one, 0, 800, 2), BAY, Rooms()) == 0
        assert pressed(Placement(one, 0, 0, 3), BAY, Rooms()) == 0
        assert over_edge(Placement(one, 0, 0, 3), BAY, "front", 60) == 60


@pytest.mark.parametrize(
    ("top", "height", "travel", "y", "word"),
    [
        ("open", None, 0, 0, "in place"),
        ("open", 60, 0, 0, "in place"),
        ("wall", 170, 0, 0, "in place"),
        ("wall", 169.999, 999, 0, "never"),
        ("seat", 170, 0, 500, "in place"),
        ("seat", 169, 200, 0, "seat slid"),
        ("seat", 169, 199.999, 0, "seat out"),
        ("seat", 169, 300, 100, "seat slid"),
        ("seat", 169, 300, 100.001, "seat out"),
        ("wall", None, 0, 0, None),
        ("seat", None, 999, 0, None),
    ],
)
def test_controls_on_top_ask_for_height_or_a_seat_that_uncovers_them(top, height, travel, y, word):
    bay = replace(BAY, top=top, height_mm=height, seat_travel_mm=travel)
    found = reached(amplifier(top="controls"), bay, y=y)
    assert (None if found is None else WORDS[found]) == word
    # What holds nothing on top does not ask.
    assert reached(amplifier(back="controls"), bay, y=y) == Reach.IN_PLACE


def test_an_unknown_height_hides_all_but_never():
    bay = replace(BAY, top="wall", height_mm=None)
    both = amplifier(top="controls", front="controls")
    assert reached(both, bay, y=500) is None
    assert reached(both, bay, y=0) is None
    assert reached(both, bay, quarters=1, x=800) == Reach.NEVER


def test_a_hand_that_needs_no_room_still_does_not_reach_through_a_roof():
    bay = replace(BAY, top="wall", height_mm=40)
    assert top_reach(amplifier(top="controls"), bay, Rooms(controls_mm=0)) == Reach.NEVER
    low = replace(bay, height_mm=50)
    assert top_reach(amplifier(top="controls"), low, Rooms(controls_mm=0)) == Reach.IN_PLACE


def test_missing_height_counts_plugs_under_a_roof_only():
    one = amplifier(top="power")
    roofed = replace(BAY, top="wall", height_mm=80)
    assert top_height(one, roofed, 60) == 30
    assert top_height(one, replace(roofed, height_mm=110), 60) == 0
    assert top_height(one, replace(roofed, top="open"), 60) == 0
    assert top_height(one, replace(roofed, top="open", height_mm=40), 60) == 10
    assert top_height(one, replace(roofed, height_mm=None), 60) is None
    assert top_height(one, replace(roofed, height_mm=None, top="open"), 60) == 0
    assert Problem(bay=roofed, amplifiers=(one, amplifier())).height_missing == [30, 0]


@given(SEEDS, st.integers(0, 3))
def test_reach_and_pressing_are_the_judges(seed, quarters):
    # Wherever bodies are put down, on walls and on one another too.
    rng = random.Random(seed)
    problem = any_problem(rng)
    bay = replace(problem.bay, height_mm=rng.choice((problem.bay.height_mm, None)))
    problem = replace(problem, bay=bay, rooms=replace(problem.rooms, controls_mm=30))
    here = [
        Placement(one, 10.0 * rng.randint(0, 6), 10.0 * rng.randint(0, 6), (quarters + at) % 4)
        for at, one in enumerate(problem.amplifiers)
    ]
    _, words, presses = judged(problem, here)
    for one, word, press in zip(here, words, presses, strict=True):
        found = reach_of(one, bay, problem.rooms, [other for other in here if other is not one])
        assert (None if found is None else WORDS[found]) == word
        assert bool(pressed(one, bay, problem.rooms)) == press


@pytest.mark.parametrize("edge", ["wall", "seat"])
def test_rooms_that_fit_exactly_to_a_tenth_of_a_millimetre_are_in_place(edge, is_long):
    # Two abreast, a hand's room at one end and air at the other, no floor left between.
    rng = random.Random(1)
    for _ in range(2000 if is_long else 60):
        wide, other, room = (rng.randint(500, 3000) / 10 for _ in range(3))
        one = Amplifier(
            name="a", width_mm=wide, depth_mm=50, height_mm=5,
            holds={"right": frozenset({"controls"})},
        )  # fmt: skip
        two = Amplifier(
            name="b", width_mm=other, depth_mm=50, height_mm=5,
            holds={"left": frozenset({"fins"})},
        )  # fmt: skip
        bay = Bay(
            width_mm=round(wide + other + 2 * room, 1),
            depth_mm=50,
            edges=("wall", edge, "wall", edge),
        )
        rooms = Rooms(controls_mm=room, fins_mm=room)
        found = solve(Problem(bay=bay, amplifiers=(one, two), rooms=rooms))
        assert found.fits
        here = found.placements
        words = [
            reach_of(own, bay, rooms, [each for each in here if each is not own]) for own in here
        ]
        assert words == [Reach.IN_PLACE] * 2, (wide, other, room)
        assert [pressed(own, bay, rooms) for own in here] == [0, 0], (wide, other, room)


# ---- spare floor -----------------------------------------------------------------------------


@given(SEEDS)
def test_spare_floor_is_what_the_union_of_all_parts_leaves(seed):
    # Wherever they stand: over edges and over one another.
    rng = random.Random(seed)
    problem = any_problem(rng)
    offers = [loosest(own) if rng.random() < 0.3 else own for own in problem.options()]
    if not all(offers):
        return
    options = [rng.choice(own) for own in offers]
    corners = [(rng.randint(-30, 120) * 1000, rng.randint(-30, 120) * 1000) for _ in options]
    shapes = [box(*one) for one in problem.boxes]
    for one, (x, y) in zip(options, corners, strict=True):
        body = (x, y, x + one.width, y + one.depth)
        shapes += [
            box(*strip_of(body, side, room))
            for side, room in zip(("front", "right", "back", "left"), one.room, strict=True)
        ]
        shapes.append(box(*body))
    floor = (micro(problem.bay.width_mm), micro(problem.bay.depth_mm))
    left = box(0, 0, *floor).difference(unary_union(shapes)).area
    search = problem.search(offers)
    assert spare_floor(search, options, corners, floor) == pytest.approx(left)

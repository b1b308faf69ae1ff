"""Amplifiers in a bay: the search held against trying everything, known packings, and laws."""

import random
from dataclasses import replace

import pytest
from hypothesis import assume, given
from mounting_asked import SEEDS, SLOW, fits_in, stood, words_of
from mounting_bays import (
    GRID,
    NAMES,
    NO_ROOMS,
    bare,
    enlarged,
    realistic,
    some,
    with_edge,
    without_amplifier,
    without_keep_out,
)
from mounting_judge import can_stand, counts_of, judged, leads_of, spare_of, tried

from calc.physics.floor_plan import Amplifier, Bay, Rectangle, Rooms
from calc.placement.placing import Problem, growth, relaxations, solve
from calc.placement.reach import Reach, pressed

STEP = 0.001  # mm, the least that is told apart


# ---- against trying everything -----------------------------------------------------------------


def test_fit_reach_and_leads_are_those_of_trying_everything(is_long):
    seen, shortest = set(), 0
    given_up = 0
    for seed, problem in some(8000 if is_long else 110):
        solution, best = solve(problem), tried(problem)
        seen.add((len(problem.amplifiers), best is not None))
        assert solution.fits == (best is not None), seed
        if best is None:
            assert solution.placements == (), seed
            continue
        counts, lead_mm = best
        wrong, reached, presses = judged(problem, solution.placements)
        assert wrong == set(), seed
        assert [one.amplifier for one in solution.placements] == list(problem.amplifiers)
        assert words_of(problem, solution.placements) == reached, seed
        if not solution.best_reach:
            assert not solution.shortest and counts_of(reached, presses) >= counts, seed
            given_up += 1
            continue
        assert counts_of(reached, presses) == counts, seed
        own = leads_of(problem, solution.placements)
        if solution.lead_mm is None:  # nothing comes in that a face takes
            assert own == 0, seed
        else:
            assert solution.lead_mm == pytest.approx(own, abs=0.01), seed
        assert own >= lead_mm - 0.01, seed
        if solution.shortest:
            assert own == pytest.approx(lead_mm, abs=0.01), seed
            shortest += 1
        assert solution.spare_mm2 == pytest.approx(
            spare_of(problem, solution.placements, reached), abs=0.01
        ), seed
        seen |= {("counts", at, bool(count)) for at, count in enumerate(counts)}
    assert {(number, fact) for number in (1, 2, 3, 4) for fact in (False, True)} <= seen
    assert {("counts", at, True) for at in range(4)} <= seen
    assert shortest > 50
    assert given_up <= (16 if is_long else 0)


@pytest.mark.parametrize(("number", "count"), [(1, 150), (2, 50)])
def test_rooms_find_their_way_among_many_keep_outs(number, count, is_long):
    fitting = 0
    count *= 20 if is_long else 1
    for seed, problem in some(count, start=900_000, number=number, keep_outs=5 - number):
        best, own = tried(problem), stood(problem)
        assert (own is None) == (best is None), seed
        assert own is None or own[0] == best[0], seed
        fitting += own is not None
    assert fitting > count / 8


def test_amplifiers_that_are_alike_are_placed_as_well_as_any(is_long):
    several = 0
    for seed, problem in some(2500 if is_long else 40, start=500_000, alike=True):
        several += len(problem.alike)
        assert all(
            replace(problem.amplifiers[one], name="") == replace(problem.amplifiers[two], name="")
            for one, two in problem.alike
        )
        best, own = tried(problem), stood(problem)
        assert (own is None) == (best is None), seed
        assert own is None or own[0] == best[0], seed
    assert several > 10


def test_every_placement_is_valid_among_everyday_sizes(is_long):
    fitting = 0
    for seed in range(300 if is_long else 12):
        problem = realistic(random.Random(seed), 1 + seed % 4, seed % 3)
        solution = solve(problem)
        assert solution.fits is not None, seed
        if solution.fits:
            wrong, reached, presses = judged(problem, solution.placements)
            assert wrong == set(), seed
            assert words_of(problem, solution.placements) == reached, seed
            assert [
                bool(pressed(one, problem.bay, problem.rooms)) for one in solution.placements
            ] == presses, seed
            fitting += 1
    assert fitting > 3


def test_short_leads_do_not_draw_a_body_onto_a_keep_out():
    # The entry lies so that the shortest leads of all would put the body on the keep-out.
    one = Amplifier(
        name="a", width_mm=20, depth_mm=20, height_mm=50, holds={"right": frozenset({"power"})}
    )
    bay = Bay(
        width_mm=120,
        depth_mm=90,
        keep_outs=(Rectangle(x_mm=60, y_mm=40, width_mm=20, depth_mm=20),),
    )
    problem = Problem(
        bay=bay, amplifiers=(one,), rooms=Rooms(power_mm=0), entries={"power": (90, 50)}
    )
    assert stood(problem) is not None


# ---- known packings --------------------------------------------------------------------------


def bay_for(sizes, wide, deep, *keep_outs):
    """Bare bodies in a bay with keep-outs as (x, y, width, depth)."""
    holes = tuple(
        Rectangle(x_mm=x, y_mm=y, width_mm=across, depth_mm=along)
        for x, y, across, along in keep_outs
    )
    return Problem(bay=Bay(width_mm=wide, depth_mm=deep, keep_outs=holes), amplifiers=bare(*sizes))


PACKINGS = {
    "one": ([(300, 200)], 300, 200),
    "one turned": ([(300, 200)], 200, 300),
    "two abreast": ([(300, 200), (100, 200)], 400, 200),
    "two, one turned": ([(300, 200), (200, 100)], 400, 200),
    "three in an L": ([(300, 100), (100, 200), (200, 200)], 300, 300),
    "four equal": ([(200, 150)] * 4, 400, 300),
    "four equal in a row": ([(200, 150)] * 4, 600, 200),
    "four equal, all turned": ([(200, 150)] * 4, 300, 400),
    "guillotine": ([(500, 100), (150, 300), (350, 120), (180, 350)], 500, 400),
    "sub-millimetre": ([(100.1, 50), (100.2, 50)], 200.3, 50),
    "thirds of a sub-millimetre": ([(0.1, 50), (0.2, 50), (0.3, 50)], 0.6, 50),
    "to the micrometre": ([(100.001, 70), (99.999, 70)], 200, 70),
    "squares 1 1 2 3": ([(100, 100), (100, 100), (200, 200), (300, 300)], 500, 300),
}
RING = ([(300, 100)] * 4, 400, 400, (100, 100, 200, 200))


@pytest.mark.parametrize("name", PACKINGS)
def test_exact_dissections_fit_and_fail_by_a_hair_less(name):
    sizes, wide, deep = PACKINGS[name]
    assert stood(bay_for(sizes, wide, deep)) is not None
    for less in (1.0, 0.1, STEP):
        if less < min(wide, deep):
            assert stood(bay_for(sizes, wide - less, deep)) is None
            assert stood(bay_for(sizes, wide, deep - less)) is None
    at = len(sizes) - 1
    more = [(w + STEP * (i == at), d) for i, (w, d) in enumerate(sizes)]
    assert stood(bay_for(more, wide, deep)) is None


def test_four_go_around_a_keep_out_like_the_wings_of_a_mill():
    assert stood(bay_for(*RING)) is not None
    sizes, wide, deep, hole = RING
    for less in (1.0, STEP):
        assert stood(bay_for(sizes, wide - less, deep, hole)) is None
        assert stood(bay_for(sizes, wide, deep - less, hole)) is None
    x, y, across, along = hole
    for moved in (
        (x - STEP, y, across, along),
        (x, y + STEP, across, along),
        (x, y, across + STEP, along),
        (x, y, across, along + STEP),
    ):
        assert stood(bay_for(sizes, wide, deep, moved)) is None
    # A smaller keep-out leaves them where they are.
    assert stood(bay_for(sizes, wide, deep, (150, 150, 50, 100))) is not None


@SLOW
@given(SEEDS)
def test_any_mill_of_four_different_wings_fits_exactly(seed):
    rng = random.Random(seed)
    # The hole from (a, b) to (c, d) in a bay to (e, f), all in micrometres.
    a, c, e = sorted(rng.sample(range(1, 500_000), 3))
    b, d, f = sorted(rng.sample(range(1, 500_000), 3))
    wings = [(c, b), (e - c, d), (e - a, f - d), (a, f - b)]
    sizes = [(w / 1000, h / 1000) if rng.random() < 0.5 else (h / 1000, w / 1000)
             for w, h in wings]  # fmt: skip
    rng.shuffle(sizes)
    hole = (a / 1000, b / 1000, (c - a) / 1000, (d - b) / 1000)
    assert stood(bay_for(sizes, e / 1000, f / 1000, hole)) is not None
    # Filled to the last of its floor: nothing may grow.
    at = rng.randrange(4)
    larger = [(w + STEP * (i == at), h) for i, (w, h) in enumerate(sizes)]
    assert stood(bay_for(larger, e / 1000, f / 1000, hole)) is None


@SLOW
@given(SEEDS)
def test_any_cuts_from_edge_to_edge_can_be_put_together_again(seed):
    rng = random.Random(seed)
    wide, deep = rng.randint(100_000, 900_000), rng.randint(100_000, 900_000)
    pieces = [(wide, deep)]
    for _ in range(rng.randint(1, 3)):
        w, h = pieces.pop(rng.randrange(len(pieces)))
        if rng.random() < 0.5:
            cut = rng.randint(1, w - 1)
            pieces += [(cut, h), (w - cut, h)]
        else:
            cut = rng.randint(1, h - 1)
            pieces += [(w, cut), (w, h - cut)]
        assume(all(min(piece) > 1 for piece in pieces))
    sizes = [(w / 1000, h / 1000) if rng.random() < 0.5 else (h / 1000, w / 1000)
             for w, h in pieces]  # fmt: skip
    assert stood(bay_for(sizes, wide / 1000, deep / 1000)) is not None
    assert stood(bay_for(sizes, wide / 1000 - STEP, deep / 1000)) is None
    assert stood(bay_for(sizes, wide / 1000, deep / 1000 - STEP)) is None


def test_rooms_may_share_air_but_no_body_stands_in_one():
    facing = tuple(
        Amplifier(
            name=name, width_mm=100, depth_mm=300, height_mm=50,
            holds={"right": frozenset({"power"})},
        )
        for name in "ab"
    )  # fmt: skip
    rooms = replace(NO_ROOMS, power_mm=60)
    for wide, ok in ((260, True), (260 - STEP, False)):
        bay = Bay(width_mm=wide, depth_mm=300, edges=("wall",) * 4)
        problem = Problem(bay=bay, amplifiers=facing, rooms=rooms)
        assert (stood(problem) is not None) == ok


def test_plugs_go_over_a_seat_edge_as_far_as_the_seat_slides():
    one = Amplifier(
        name="a", width_mm=300, depth_mm=200, height_mm=50, holds={"front": frozenset({"power"})}
    )
    rooms = replace(NO_ROOMS, power_mm=60)
    for edge, deep, travel, ok in (
        ("open", 200, 0, True),
        ("wall", 260, 99, True),
        ("wall", 259.999, 99, False),
        ("seat", 200, 60, True),
        ("seat", 200, 59.999, False),
        ("seat", 230, 30, True),
        ("seat", 230, 29.999, False),
    ):
        bay = Bay(
            width_mm=300, depth_mm=deep, edges=(edge, "wall", "wall", "wall"), seat_travel_mm=travel
        )
        problem = Problem(bay=bay, amplifiers=(one,), rooms=rooms)
        own = stood(problem)
        assert (own is not None) == ok, (edge, deep, travel)
        if ok:
            assert own[0][:2] == ((1, 1) if edge == "seat" else (0, 0))


# ---- more floor, wanted exactly ----------------------------------------------------------------


def least_growth(problem, axis, most, worst=None):
    """How many grid steps more make it fit by trying everything, None beyond the most."""
    for steps in range(most + 1):
        if can_stand(enlarged(problem, *((steps * GRID, 0), (0, steps * GRID))[axis]), worst):
            return steps * GRID
    return None


def test_growth_is_the_least_that_trying_everything_finds(is_long):
    found = set()
    for seed, problem in some(1500 if is_long else 30, start=600_000):
        if len(problem.amplifiers) == 4 or can_stand(problem):
            continue
        for axis in (0, 1):
            expected, more = least_growth(problem, axis, 6), growth(problem, axis, steps=200_000)
            if expected is None:
                assert more is None or more > 6 * GRID, (seed, axis)
            else:
                assert more == expected, (seed, axis)
                assert not fits_in(problem.enlarged(axis, more - STEP)), (seed, axis)
                assert fits_in(problem.enlarged(axis, more)), (seed, axis)
            found.add((axis, expected is None))
    assert found == {(axis, fact) for axis in (0, 1) for fact in (False, True)}


def test_growth_for_better_reach_is_the_least_that_trying_everything_finds(is_long):
    found = set()
    for seed, problem in some(1500 if is_long else 25, start=700_000):
        if len(problem.amplifiers) > 2:
            continue
        for axis in (0, 1):
            for reach in (Reach.IN_PLACE, Reach.SEAT_SLID, Reach.SEAT_OUT):
                expected = least_growth(problem, axis, 5, reach)
                more = growth(problem, axis, reach, steps=200_000)
                if expected is None:
                    assert more is None or more > 5 * GRID, (seed, axis, reach)
                else:
                    assert more == expected, (seed, axis, reach)
                found.add((reach, expected is None, bool(expected)))
    assert {one[1:] for one in found} == {(True, False), (False, False), (False, True)}


def test_growth_counts_the_bay_and_not_how_far_a_roof_slides():
    # The first must lie within the seat's travel; the second lies behind it and lacks 50 mm.
    top = {"top": frozenset({"controls"})}
    first = Amplifier(name="a", width_mm=200, depth_mm=100, height_mm=50, holds=top)
    second = Amplifier(name="b", width_mm=200, depth_mm=150, height_mm=50)
    bay = Bay(width_mm=200, depth_mm=200, height_mm=60, top="seat", seat_travel_mm=100)
    problem = Problem(bay=bay, amplifiers=(first, second))
    assert growth(problem, 1, Reach.SEAT_SLID) == 50
    assert growth(problem.enlarged(1, 50), 1, Reach.SEAT_SLID) == 0


@SLOW
@given(SEEDS)
def test_growth_to_the_micrometre(seed):
    rng = random.Random(seed)
    sizes = [
        (rng.randint(50_000, 300_000) / 1000, rng.randint(50_000, 300_000) / 1000)
        for _ in range(rng.randint(1, 3))
    ]
    wide = rng.randint(100_000, 400_000) / 1000
    problem = bay_for(sizes, wide, rng.randint(100_000, 300_000) / 1000, (50.5, 20.25, 30.1, 40.7))
    for axis in (0, 1):
        more = growth(problem, axis, steps=200_000)
        if more is None:
            assert not fits_in(problem.enlarged(axis, 1000))
        elif more:
            assert fits_in(problem.enlarged(axis, more))
            assert not fits_in(problem.enlarged(axis, more - STEP))
        else:
            assert fits_in(problem)


def test_whatever_is_named_as_a_way_out_is_one_and_none_is_left_out(is_long):
    kinds = set()
    for seed, problem in some(1200 if is_long else 45, start=810_000):
        if len(problem.amplifiers) == 4 or can_stand(problem):
            continue
        found = [(one.kind, one.which or one.by_mm) for one in relaxations(problem)]
        assert len(set(found)) == len(found), seed
        expected = [
            ("keep-out", f"{at + 1}")
            for at in range(len(problem.bay.keep_outs))
            if can_stand(without_keep_out(problem, at))
        ]
        expected += [
            ("edge", side)
            for side, edge in zip(NAMES, problem.bay.edges, strict=True)
            if edge != "open" and can_stand(with_edge(problem, side, "open"))
        ]
        expected += [
            ("amplifier", one.name)
            for at, one in enumerate(problem.amplifiers)
            if len(problem.amplifiers) > 1 and can_stand(without_amplifier(problem, at))
        ]
        assert [one for one in found if one[0] not in ("width", "depth")] == expected, seed
        for kind, by_mm in found:
            if kind in ("width", "depth"):
                wide, deep = (by_mm, 0) if kind == "width" else (0, by_mm)
                assert can_stand(enlarged(problem, wide, deep)), seed
                less = (wide and wide - GRID, deep and deep - GRID)
                assert by_mm % GRID == 0 and not can_stand(enlarged(problem, *less)), seed
        kinds |= {kind for kind, _ in found}
    assert kinds == {"width", "depth", "keep-out", "edge", "amplifier"}


def test_among_everyday_sizes_a_way_out_is_one(is_long):
    proven = 0
    for seed in range(100 if is_long else 10):
        problem = realistic(random.Random(seed), 3, 2)
        if fits_in(problem):
            continue
        for one in relaxations(problem):
            if one.kind in ("width", "depth"):
                axis = ("width", "depth").index(one.kind)
                assert fits_in(problem.enlarged(axis, one.by_mm)), seed
                assert not fits_in(problem.enlarged(axis, one.by_mm - STEP)), seed
            elif one.kind == "keep-out":
                assert fits_in(without_keep_out(problem, int(one.which) - 1)), seed
            elif one.kind == "edge":
                assert fits_in(with_edge(problem, one.which, "open")), seed
            else:
                names = [own.name for own in problem.amplifiers]
                assert fits_in(without_amplifier(problem, names.index(one.which))), seed
            proven += 1
    assert proven > 5

"""Amplifiers in a bay: laws that any placement keeps, and what is refused."""

import random
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from mounting_asked import SEEDS, SLOW, stood, words_of
from mounting_bays import (
    GRID,
    NAMES,
    any_keep_out,
    any_problem,
    bare,
    enlarged,
    mirrored,
    rotated,
    with_edge,
    without_amplifier,
    without_keep_out,
)
from mounting_judge import counts_of, judged

from calc.physics.floor_plan import Bay, Rectangle
from calc.placement.placing import Problem, solve

HOPELESS = (9, 9, 9, 9), 0.0


# ---- laws ------------------------------------------------------------------------------------


def law_case(seed):
    rng = random.Random(seed)
    return rng, any_problem(rng, rng.choice((1, 2, 2, 3)))


def is_tied_to_the_front(problem):
    """Whether a roof that slides away from the front edge has a say."""
    return problem.bay.top == "seat" and any(
        "controls" in one.holds.get("top", ()) for one in problem.amplifiers
    )


def same(problem, other):
    """Hold fit, reach and, where both are proven, the leads against each other."""
    one, two = solve(problem), solve(other)
    assert one.fits == two.fits
    if one.fits:
        counts = [counts_of(*judged(p, s.placements)[1:]) for p, s in
                  ((problem, one), (other, two))]  # fmt: skip
        assert counts[0] == counts[1]
        if one.shortest and two.shortest and problem.entries:
            assert one.lead_mm == pytest.approx(two.lead_mm, abs=0.01)


@SLOW
@given(SEEDS)
def test_a_mirrored_bay_with_mirrored_parts_is_as_good(seed):
    _, problem = law_case(seed)
    same(problem, mirrored(problem))


@SLOW
@given(SEEDS, st.integers(1, 3))
def test_a_turned_bay_is_as_good(seed, quarters):
    _, problem = law_case(seed)
    assume(not is_tied_to_the_front(problem))
    other = problem
    for _ in range(quarters):
        other = rotated(other)
    same(problem, other)


@given(SEEDS)
def test_turned_or_renamed_or_reordered_amplifiers_are_as_good(seed):
    rng, problem = law_case(seed)
    # Drawn lying on another side: the same body.
    turn = dict(zip(NAMES, (*NAMES[1:], NAMES[0]), strict=True))
    lying = [
        replace(
            one,
            name=f"renamed {at}",
            width_mm=one.depth_mm,
            depth_mm=one.width_mm,
            holds={turn.get(face, face): held for face, held in one.holds.items()},
        )
        if rng.random() < 0.5
        else one
        for at, one in enumerate(problem.amplifiers)
    ]
    same(problem, replace(problem, amplifiers=tuple(rng.sample(lying, len(lying)))))


@SLOW
@given(SEEDS)
def test_more_floor_more_travel_and_fewer_parts_are_never_worse(seed):
    rng, problem = law_case(seed)
    before = (stood(problem) or HOPELESS)[0]
    bay = problem.bay
    easier = [
        enlarged(problem, GRID * rng.randint(1, 3)),
        enlarged(problem, 0, GRID * rng.randint(1, 3)),
        replace(problem, bay=replace(bay, seat_travel_mm=bay.seat_travel_mm + GRID)),
        with_edge(problem, rng.choice(NAMES), "open"),
        replace(problem, bay=replace(bay, top="open")),
        *(without_keep_out(problem, at) for at in range(len(bay.keep_outs))),
    ]
    if len(problem.amplifiers) > 1:
        easier.append(without_amplifier(problem, rng.randrange(len(problem.amplifiers))))
    for other in rng.sample(easier, 3):
        assert (stood(other) or HOPELESS)[0] <= before
    harder = replace(bay, keep_outs=(*bay.keep_outs, any_keep_out(rng, 6, 6)))
    assert (stood(replace(problem, bay=harder)) or HOPELESS)[0] >= before


@SLOW
@given(SEEDS)
def test_a_keep_out_without_floor_or_outside_the_bay_is_none(seed):
    rng, problem = law_case(seed)
    bay = problem.bay
    x, y = GRID * rng.randint(0, 5), GRID * rng.randint(0, 5)
    for width_mm, depth_mm, away in ((0, 30, 0), (30, 0, 0), (30, 30, 10_000)):
        none = Rectangle(x_mm=x + away, y_mm=y, width_mm=width_mm, depth_mm=depth_mm)
        other = replace(problem, bay=replace(bay, keep_outs=(none, *bay.keep_outs)))
        same(problem, other)


@SLOW
@given(SEEDS, st.sampled_from((0.1, 0.001, 0.7, 3.3, 100.1)))
def test_any_scale_is_as_good(seed, factor):
    # Nothing of a millimetre's size decides: all lengths times the same.
    _, problem = law_case(seed)
    bay = problem.bay

    def scaled(part, *names):
        return replace(part, **{name: round(getattr(part, name) * factor, 6) for name in names})

    small = scaled(bay, "width_mm", "depth_mm", "seat_travel_mm")
    small = replace(
        small,
        height_mm=bay.height_mm and round(bay.height_mm * factor, 6),
        keep_outs=tuple(
            scaled(one, "x_mm", "y_mm", "width_mm", "depth_mm") for one in bay.keep_outs
        ),
    )
    other = Problem(
        bay=small,
        amplifiers=tuple(
            scaled(one, "width_mm", "depth_mm", "height_mm") for one in problem.amplifiers
        ),
        rooms=scaled(
            problem.rooms, "power_mm", "speaker_mm", "signal_mm", "controls_mm", "fins_mm"
        ),
        entries=None,
    )
    same(replace(problem, entries=None), other)
    found = solve(other)
    if found.fits:
        assert words_of(other, found.placements) == judged(other, found.placements)[1]


# ---- what is refused ---------------------------------------------------------------------------


@pytest.mark.parametrize("number", [0, 5])
def test_none_and_more_than_four_are_refused(number):
    with pytest.raises(ValueError, match="1 to 4 amplifiers"):
        Problem(bay=Bay(width_mm=900, depth_mm=900), amplifiers=bare(*[(10, 10)] * number))

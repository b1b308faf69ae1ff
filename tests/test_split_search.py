"""The best setting of all filters, held against trying everything and against laws."""

import math
import random
from dataclasses import replace

import pytest
from split_rows import Knob, controls_on
from split_systems import (
    PAIRS,
    any_control,
    any_rows,
    any_system,
    cost_of,
    edge_cost,
    failures,
    filters_on,
    high_pass,
    is_permitted,
    kept_apart,
    least_cost,
    protected,
    small_problems,
    state_of,
    together,
)

from calc.crossovers.splitting.problem import Problem
from calc.crossovers.splitting.search import best_split

# ---- against trying everything ---------------------------------------------------------------


def test_the_search_finds_what_trying_everything_finds(is_long):
    seen, words = set(), ("complete", "doubled", "one at a time", "always on", "all on")
    for seed, _, problem in small_problems(2000 if is_long else 150):
        best = best_split(problem)
        assert is_permitted(problem.controls, best.settings), seed
        for setting, choices in zip(best.settings, problem.choices, strict=True):
            assert setting in choices, seed
        assert cost_of(problem, best.settings) == least_cost(problem, problem.choices), seed
        for edge, one in zip(problem.edges, best.edges, strict=True):
            if best.is_complete and edge.is_needed:
                low, high = edge.window_hz
                assert low * (1 - 1e-9) <= one.corner_hz <= high * (1 + 1e-9), seed
                assert one.order >= edge.least_order, seed
        switches = [(one.box, one.switch) for one in problem.controls if one.switch]
        facts = (
            best.is_complete,
            any(one.number > 1 for one in best.edges),
            len(set(switches)) < len(switches),
            not all(one.can_be_off for one in problem.controls),
            all(best.settings),
        )
        seen |= {word for word, fact in zip(words, facts, strict=True) if fact}
        seen |= {one.state for one in best.edges}
    # The sample holds every kind of outcome.
    assert seen == {*words, "made", "open", "missing", "unprotected", "spoilt"}


def test_settings_far_from_every_window_would_not_complete_anything_better(is_long):
    complete, seed = 0, 0
    while complete < (200 if is_long else 15):
        seed += 1
        sections, controls, networks = any_system(random.Random(seed), kinds=("steps",))
        controls = [replace(one, can_be_off=True) for one in controls]
        problem = Problem(sections, controls, networks)
        everything = [
            [None, *((a * b, n) for a in one.steps_hz for b in one.times for n in one.orders)]
            for one in controls
        ]
        if math.prod(map(len, everything)) > 3000:
            continue
        least = least_cost(problem, everything)
        if least[:2] == (0, 0):
            complete += 1
            assert cost_of(problem, best_split(problem).settings) == least, seed


def test_what_comes_of_a_setting_is_what_the_definitions_say(is_long):
    for seed, _, problem in small_problems(400 if is_long else 60, start=100_000):
        rng = random.Random(seed)
        for _ in range(5):
            settings = [rng.choice(one) for one in problem.choices]
            split = problem.made(settings)
            assert split.settings == tuple(settings)
            for at, (one, edge) in enumerate(zip(split.edges, problem.edges, strict=True)):
                filters = filters_on(problem, edge, settings)
                corner, order, number, _ = together(edge.kind, filters)
                assert one.corner_hz == (None if corner is None else pytest.approx(corner))
                assert (one.order, one.number) == (order, number), seed
                assert one.state == state_of(edge, corner, order), seed
                assert [(f.frequency_hz, f.order) for _, f in one.filters] == filters
                acting = [settings[control] for control in problem.acting[at]]
                assert problem.edge_cost(at, acting) == edge_cost(edge, filters)
            states = {one.state for one in split.edges}
            assert split.is_complete == states.isdisjoint({"unprotected", "missing", "spoilt"})


# ---- against a dense grid --------------------------------------------------------------------


def gridded(knob, steps=240):
    if not isinstance(knob, Knob):
        return knob
    low, high = knob.range_hz
    corners = tuple(low * (high / low) ** (step / steps) for step in range(steps + 1))
    return replace(knob.at_its_ends, steps_hz=corners)


def acts_alone(problem):
    """Whether no two filters can act on one edge, and none acts on two."""
    return kept_apart(problem) and all(len(edges) < 2 for edges in problem.acted)


def test_no_corner_between_what_a_hand_sets_makes_an_edge_that_it_does_not(is_long):
    # For filters by themselves; what a knob is set to is coarser than it could be on purpose.
    tried = complete = seed = 0
    while tried < (1000 if is_long else 100):
        seed += 1
        sections, filters, networks = any_rows(random.Random(seed))
        problem = Problem(sections, controls_on(sections, filters), networks)
        pairs = zip(filters, problem.acted, strict=True)
        turned = any(isinstance(one, Knob) and on for one, on in pairs)
        if not acts_alone(problem) or not turned:
            continue
        tried += 1
        grid = Problem(sections, [gridded(one) for one in filters], networks)
        finer = cost_of(grid, best_split(grid).settings)
        found = cost_of(problem, best_split(problem).settings)
        assert found[:2] <= finer[:2], seed
        complete += finer[:2] == (0, 0)
    assert complete > 10


# ---- laws ------------------------------------------------------------------------------------


def test_one_more_filter_that_can_be_off_never_makes_more_edges_fail(is_long):
    better = 0
    for seed, system, problem in small_problems(800 if is_long else 60, start=200_000):
        sections, controls, networks = system
        rng = random.Random(seed)
        pairs = sorted({one.channels for one in sections}, key=min)
        (more,) = controls_on(sections, [any_control(rng, problem.edges, pairs)])
        more = replace(more, box="amplifier", can_be_off=True)
        before = failures(problem)
        after = failures(Problem(sections, [*controls, more], networks))
        assert after <= before, seed
        better += after < before
    assert better > 5


def test_a_wider_range_never_makes_more_edges_fail(is_long):
    # For filters by themselves.
    tried = better = seed = 0
    while tried < (800 if is_long else 60):
        seed += 1
        rng = random.Random(seed)
        sections, knobs, networks = any_rows(rng, kinds=("range",))
        own = sections[0].channels
        knobs = [
            replace(one, at_its_ends=replace(one.at_its_ends, channels=own)) for one in knobs[:2]
        ]
        problem = Problem(sections, controls_on(sections, knobs), networks)
        if len({one.kind for one in problem.controls}) < 2 or not acts_alone(problem):
            continue
        tried += 1
        wide = [
            replace(one, range_hz=(low * rng.uniform(0.3, 1), high * rng.uniform(1, 3)))
            for one in knobs
            for low, high in [one.range_hz]
        ]
        before = failures(problem)
        after = failures(Problem(sections, controls_on(sections, wide), networks))
        assert after <= before, seed
        better += after < before
    assert better > 5


def test_the_order_of_rows_changes_nothing_that_counts(is_long):
    # Of each kind one section and all of one order: who is next to whom is then unambiguous.
    changed, seed = 0, 0
    while changed < (600 if is_long else 60):
        seed += 1
        rng = random.Random(seed)
        sections, controls, networks = any_system(rng)
        sections = [replace(one, order=2) for one in sections]
        problem = Problem(sections, controls, networks)
        if len({one.kind for one in sections}) < len(sections):
            continue
        if math.prod(map(len, problem.choices)) > 20_000:
            continue
        rows = [rng.sample(one, len(one)) for one in (sections, controls, networks)]
        changed += rows != [sections, controls, networks]
        found = Problem(*rows)
        own = cost_of(problem, best_split(problem).settings)
        assert cost_of(found, best_split(found).settings) == own, seed


def test_left_and_right_changed_over_change_no_setting(is_long):
    def mirrored(rows):
        return [
            replace(one, channels=frozenset(7 - channel for channel in one.channels))
            for one in rows
        ]

    for seed, system, problem in small_problems(400 if is_long else 40, start=300_000):
        found = best_split(Problem(*map(mirrored, system)))
        assert found == best_split(problem), seed


# ---- what must come out right where filters act together --------------------------------------


@pytest.mark.parametrize("kind", ["high-pass", "low-pass"])
@pytest.mark.parametrize(("other_hz", "other_order", "order"), [(80, 2, 2), (125, 3, 1)])
def test_a_knob_joins_another_filter_at_its_corner(kind, other_hz, other_order, order):
    # Corners that differ count with all of their distance: nothing is won by making up for one.
    upper, lower = PAIRS[:2] if kind == "high-pass" else PAIRS[1::-1]
    mid_bass = replace(protected("mid-bass", 70), wanted_hz=100, channels=upper)
    woofer = replace(protected("woofer", None), top_hz=140, channels=lower)
    controls = [
        replace(high_pass("head-unit", other_order, steps_hz=(other_hz,)), kind=kind),
        Knob((50, 200), replace(high_pass("amplifier", order, steps_hz=(50,)), kind=kind)),
    ]
    sections = [mid_bass, woofer]
    best = best_split(Problem(sections, controls_on(sections, controls)))
    edge = best.edges[0 if kind == "high-pass" else 3]
    assert best.settings == ((other_hz, other_order), (other_hz, order))
    assert (edge.corner_hz, edge.order) == (other_hz, 4)


# What lies far from every window is tried all the same where the filter cannot be off.
@pytest.mark.parametrize("steps_hz", [(50.0,), (50.0, 2500.0), (50.0, 6000.0)])
def test_a_filter_that_is_always_on_is_turned_out_of_the_way(steps_hz):
    right = high_pass("head-unit", 4, steps_hz=(2500.0,))
    always = high_pass("amplifier", steps_hz=steps_hz, can_be_off=False)
    edge = best_split(Problem([protected("tweeter", 2500)], [right, always])).edges[0]
    assert (edge.corner_hz, edge.order, edge.number) == (2500, 4, 1)

"""Trees of cable: shape, currents, drops, fuses, and the least conductor held against others."""

import random
from dataclasses import replace

import networkx as nx
import pytest
from cable_systems import (
    OHM_KM,
    Walked,
    any_load,
    any_rules,
    any_runs,
    any_tree,
    areas_of,
    at_most,
    drops_by_nodes,
    faults,
    fuses_for,
    mass_of,
    permitted_of,
    rating_of,
    solved,
    systems,
    tried,
)
from hypothesis import given
from hypothesis import strategies as st

from calc.cabling.optimum import least_conductor, shortfalls
from calc.cabling.sizing import Rules, choose, total_drop
from calc.cabling.tree import (
    Load,
    NotATree,
    Run,
    Tree,
    conductor_mass,
    drops,
    fuses,
    plan_of,
    separate,
)

SEEDS = st.integers(0, 10**9)
LOOSE = 1 + 1e-9


def runs_of(text):
    """`a-b c-d`: runs of 1 m."""
    pairs = (one.split("-") for one in text.split())
    return tuple(Run(start=start, end=end, length_m=1.0) for start, end in pairs)


def loads_at(*places):
    return tuple(Load(at=place, ampere=5.0, full_a=10.0) for place in places)


# ---- the shape -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("runs", "loads", "field", "message"),
    [
        (
            "a-b b-c c-a",
            "b",
            "runs",
            "The runs form a ring. One of them must start at the battery.",
        ),
        ("a-b b-a", "a", "runs", "The runs form a ring. One of them must start at the battery."),
        ("a-b c-d d-c", "b", "runs", "The runs around d form a ring. Leave one out."),
        ("c-d d-e e-c a-b", "b", "runs", "The runs around d form a ring. Leave one out."),
        (
            "a-b c-d",
            "b d",
            "runs",
            "No run feeds a and c, so part of the runs has no battery. Connect them.",
        ),
        (
            "e-f c-d a-b",
            "b",
            "runs",
            "No run feeds e and c, so part of the runs has no battery. Connect them.",
        ),
        ("a-b a-c b-c", "c", "runs", "Two runs end at c. Only one run can feed a place."),
        ("a-b c-b", "b", "runs", "Two runs end at b. Only one run can feed a place."),
        ("a-b a-b", "b", "runs", "Two runs end at b. Only one run can feed a place."),
        ("a-b b-c c-b", "b", "runs", "Two runs end at b. Only one run can feed a place."),
        ("a-b b-b", "b", "runs", "A run goes from b to itself. Enter where it ends."),
        ("a-a", "a", "runs", "A run goes from a to itself. Enter where it ends."),
        ("a-b", "b z", "loads", "No run ends at z, where an amplifier is. Add the run."),
        ("a-b", "a", "loads", "No run ends at a, where an amplifier is. Add the run."),
    ],
)
def test_what_is_no_tree_is_refused(runs, loads, field, message):
    with pytest.raises(NotATree) as refused:
        Tree(runs=runs_of(runs), loads=loads_at(*loads.split()))
    assert (refused.value.field, str(refused.value)) == (field, message)


@pytest.mark.parametrize("length_m", [0.0, -1.0, float("nan")])
def test_a_run_without_length_is_refused(length_m):
    runs = (*runs_of("a-b"), Run(start="b", end="c", length_m=length_m))
    with pytest.raises(
        NotATree, match=r"^The run to c has no length\. Enter it in metres\.$"
    ) as refused:
        Tree(runs=runs, loads=loads_at("c"))
    assert refused.value.field == "runs"


@given(SEEDS)
def test_random_runs_are_refused_exactly_where_they_are_no_arborescence(seed):
    rng = random.Random(seed)
    names = "abcde"[: rng.randint(2, 5)]
    runs = tuple(
        Run(start=rng.choice(names), end=rng.choice(names), length_m=1.0)
        for _ in range(rng.randint(1, len(names)))
    )
    graph = nx.MultiDiGraph((run.start, run.end) for run in runs)
    if nx.is_arborescence(graph):
        assert Tree(runs=runs, loads=()).root == next(
            place for place, feeds in graph.in_degree() if not feeds
        )
    else:
        with pytest.raises(NotATree) as refused:
            Tree(runs=runs, loads=())
        assert refused.value.field == "runs"


@given(SEEDS, st.integers(1, 24))
def test_ways_and_currents_are_those_of_the_graph(seed, number):
    tree = any_tree(random.Random(seed), number)
    graph = nx.DiGraph((run.start, run.end, {"at": at}) for at, run in enumerate(tree.runs))
    assert graph.in_degree(tree.root) == 0
    for load, path in zip(tree.loads, tree.paths, strict=True):
        way = nx.shortest_path(graph, tree.root, load.at)
        assert path == tuple(graph.edges[pair]["at"] for pair in nx.utils.pairwise(way))
    for at, run in enumerate(tree.runs):
        below = nx.descendants(graph, run.end) | {run.end}
        fed = [load for load in tree.loads if load.at in below]
        assert tree.currents[at] == pytest.approx(sum(load.ampere for load in fed))
        assert tree.full_currents[at] == pytest.approx(sum(load.full_a for load in fed))
        assert set(tree.children[at]) == {one["at"] for *_, one in graph.out_edges(run.end, True)}
    assert set(tree.trunks) == {one["at"] for *_, one in graph.out_edges(tree.root, True)}
    assert sorted(tree.outward) == list(range(number))
    seen = {tree.root}
    for at in tree.outward:
        assert tree.runs[at].start in seen
        seen.add(tree.runs[at].end)
    assert tree.total_a == pytest.approx(sum(load.ampere for load in tree.loads))


# ---- drops -----------------------------------------------------------------------------------


@pytest.mark.parametrize("return_by", ["body", "cable"])
def test_drops_are_those_of_the_whole_circuit(return_by, is_long):
    for seed, tree, rules in systems(2000 if is_long else 150, most=12, return_by=return_by):
        rng = random.Random(seed)
        offers = [rng.choice(rules.offers) for _ in tree.runs]
        expected = pytest.approx(drops_by_nodes(tree, rules, areas_of(offers)), rel=1e-6, abs=1e-8)
        assert list(drops(tree, offers, rules)) == expected, seed
        plan = plan_of(tree, offers, rules)
        assert list(plan.drops_v) == expected, seed
        assert plan.conductor_kg == pytest.approx(mass_of(tree.runs, areas_of(offers), rules))
        if len(tree.runs) == len(tree.loads) == 1:
            load, run = tree.loads[0], tree.runs[0]
            own = total_drop(rules, offers[0], ampere=load.ampere, length_m=run.length_m)
            assert [own] == expected, seed


# ---- the least conductor against trying everything ---------------------------------------------


def volume_of(tree, offers):
    return sum(area * run.length_m for area, run in zip(areas_of(offers), tree.runs, strict=True))


def check_against(tree, rules, best):
    """Hold the plan against the best volume and worst drop, or against None."""
    plan = least_conductor(tree, rules)
    assert (plan is None) == (best is None)
    assert (shortfalls(tree, rules) == []) == (best is not None)
    if plan:
        areas = areas_of(plan.offers)
        assert faults(tree, rules, areas, plan.fuses_a) == set()
        assert plan.drops_v == pytest.approx(Walked(tree).drops(areas, rules))
        assert volume_of(tree, plan.offers) == pytest.approx(best[0], rel=1e-9)
        assert plan.conductor_kg == pytest.approx(mass_of(tree.runs, areas, rules), rel=1e-9)
        # Of plans with equal volume the one with the smaller worst drop.
        assert max(plan.drops_v) == pytest.approx(best[1], rel=1e-8)
    return plan


def test_the_search_finds_what_trying_everything_finds(is_long):
    seen = set()
    for _, tree, rules in systems(4000 if is_long else 150):
        plan = check_against(tree, rules, tried(tree, rules))
        seen.add((rules.material, rules.sizes, rules.return_by))
        seen |= {("runs", len(tree.runs)), ("none", plan is None)}
        # Whether the drop asks for more than heat and fuses do.
        loose = plan and least_conductor(tree, replace(rules, max_drop_v=1e3))
        seen.add(("drop rules", bool(plan) and plan.conductor_kg > loose.conductor_kg * LOOSE))
        seen.add(("fuse within", plan is not None and sum(map(bool, plan.fuses_a)) > 1))
    assert seen == {
        *(
            (m, s, r)
            for m in ("copper", "cca10", "cca15")
            for s in OHM_KM
            for r in ("body", "cable")
        ),
        *(("runs", number) for number in (1, 2, 3, 4)),
        *((word, fact) for word in ("none", "drop rules", "fuse within") for fact in (False, True)),
    }


def test_limits_that_bind_are_spent_as_trying_everything_spends_them(is_long):
    # Just above the least drop that is possible, and exactly what some plan takes.
    for seed, tree, rules in systems(1500 if is_long else 100, start=50_000, most=3):
        rng = random.Random(seed)
        drop = max(drops(tree, [rules.offers[-1]] * len(tree.runs), rules))
        if rng.random() < 0.5:
            drop = max(drops(tree, [rng.choice(rules.offers[2:]) for _ in tree.runs], rules))
        tight = replace(rules, max_drop_v=drop * rng.choice((1, 1, 1.02, 1.3)))
        check_against(tree, tight, tried(tree, tight))


# ---- the least conductor against a solver ------------------------------------------------------


def test_larger_trees_are_as_an_integer_programme_has_them(is_long):
    compared, seed = 0, 100_000
    while compared < (60 if is_long else 15):
        seed += 1
        rng = random.Random(seed)
        tree = any_tree(rng, rng.randint(8, 16), most_a=30, shape=rng.choice(("any", "chain")))
        rules = any_rules(rng, max_drop_v=1e3)
        if shortfalls(tree, rules):
            continue
        least = max(Walked(tree).drops([max(OHM_KM[rules.sizes])] * len(tree.runs), rules))
        rules = replace(rules, max_drop_v=least * rng.uniform(1.05, 3))
        plan = least_conductor(tree, rules)
        assert faults(tree, rules, areas_of(plan.offers), plan.fuses_a) == set(), seed
        assert volume_of(tree, plan.offers) == pytest.approx(solved(tree, rules), rel=1e-9), seed
        compared += 1


# ---- laws ------------------------------------------------------------------------------------


def law_case(seed, most=8):
    rng = random.Random(seed)
    tree = any_tree(rng, rng.randint(1, most), most_a=60)
    return rng, tree, any_rules(rng, max_drop_v=rng.uniform(0.2, 2))


def kg(tree, rules):
    """The least mass; without a plan it counts as boundless."""
    plan = least_conductor(tree, rules)
    return plan.conductor_kg if plan else float("inf")


@given(SEEDS)
def test_more_to_carry_never_takes_less_conductor(seed):
    rng, tree, rules = law_case(seed)
    before = kg(tree, rules)
    more = any_load(rng, rng.choice(tree.runs).end, 20)
    at = rng.randrange(len(tree.runs))
    runs = list(tree.runs)
    runs[at] = replace(runs[at], length_m=runs[at].length_m * rng.uniform(1, 2))
    for harder, harder_rules in (
        (replace(tree, loads=(*tree.loads, more)), rules),
        (replace(tree, runs=tuple(runs)), rules),
        (tree, replace(rules, conductor_c=rules.conductor_c + 20)),
        (tree, replace(rules, max_drop_v=rules.max_drop_v * rng.uniform(0.5, 1))),
        (tree, replace(rules, connections_ohm=rules.connections_ohm + 0.001)),
        (tree, replace(rules, body_ohm=rules.body_ohm + 0.001)),
        (tree, replace(rules, engine_space=True)),
        (tree, replace(rules, bundle=rules.bundle + 2)),
    ):
        assert before <= kg(harder, harder_rules) * LOOSE


@given(SEEDS)
def test_what_leaves_the_circuit_alike_leaves_the_sizes_alike(seed):
    rng, tree, rules = law_case(seed)
    plan, by = least_conductor(tree, rules), rng.uniform(0.3, 1)
    first = tree.loads[0]
    part = [replace(first, ampere=first.ampere * x, full_a=first.full_a * x) for x in (by, 1 - by)]
    idle = Load(at=rng.choice(tree.runs).end, ampere=0.0, full_a=0.0)
    currents = tuple(replace(one, ampere=one.ampere * by) for one in tree.loads)
    lengths = tuple(replace(run, length_m=run.length_m * by) for run in tree.runs)
    shorter = replace(
        rules,
        max_drop_v=rules.max_drop_v * by,
        body_ohm=rules.body_ohm * by,
        connections_ohm=rules.connections_ohm * by,
    )
    for same, same_rules, share in (
        (replace(tree, loads=(*part, *tree.loads[1:])), rules, 1),
        (replace(tree, loads=(*tree.loads, idle)), rules, 1),
        # A lower duty with a lower limit; a smaller vehicle with a lower limit.
        (replace(tree, loads=currents), replace(rules, max_drop_v=rules.max_drop_v * by), 1),
        (replace(tree, runs=lengths), shorter, by),
    ):
        other = least_conductor(same, same_rules)
        assert (other is None) == (plan is None)
        if plan:
            assert other.conductor_kg == pytest.approx(plan.conductor_kg * share, rel=1e-9)


@given(SEEDS)
def test_the_order_of_rows_does_not_change_the_mass(seed):
    rng, tree, rules = law_case(seed, most=10)
    mixed = Tree(
        runs=tuple(rng.sample(tree.runs, len(tree.runs))),
        loads=tuple(rng.sample(tree.loads, len(tree.loads))),
    )
    plan, other = least_conductor(tree, rules), least_conductor(mixed, rules)
    assert (plan is None) == (other is None)
    if plan:
        assert other.conductor_kg == pytest.approx(plan.conductor_kg, rel=1e-12)
        assert max(other.drops_v) == pytest.approx(max(plan.drops_v), rel=1e-9)
        assert least_conductor(tree, rules) == plan


@given(SEEDS, st.integers(1, 6))
def test_runs_that_all_start_at_the_battery_are_chosen_each_for_itself(seed, number):
    rng = random.Random(seed)
    runs = any_runs(rng, number, "star")
    tree = Tree(runs=runs, loads=tuple(any_load(rng, run.end) for run in runs))
    rules = any_rules(rng)
    chosen = [
        choose(
            rules,
            ampere=load.ampere,
            full_a=load.full_a,
            length_m=run.length_m,
            total_a=None if number == 1 else tree.total_a,
        )
        for load, run in zip(tree.loads, runs, strict=True)
    ]
    plan = least_conductor(tree, rules)
    assert (plan is None) == any(one.offer is None for one in chosen)
    if plan:
        assert plan.offers == tuple(one.offer for one in chosen)
        assert plan.fuses_a == tuple(one.fuse_a for one in chosen)


# ---- fuses, separate cables, shortfalls --------------------------------------------------------


def test_every_fuse_protects_its_cables_and_none_is_superfluous(is_long):
    within = 0
    for seed, tree, rules in systems(3000 if is_long else 300, start=200_000, most=12):
        rules = replace(rules, max_drop_v=1e4)
        if shortfalls(tree, rules):
            continue
        rng, walked, plan = random.Random(seed), Walked(tree), least_conductor(tree, rules)
        # Any sizes that carry the smallest fuse for their current, and the best ones.
        any_sizes = [
            rng.choice([o for o in rules.offers if at_most(rating_of(full), o.permitted_a or 0)])
            for full in walked.full
        ]
        for offers in (any_sizes, plan.offers):
            found, areas = fuses(tree, offers), areas_of(offers)
            assert faults(tree, rules, areas, found) == set(), seed
            permitted = [permitted_of(area, rules) for area in areas]
            assert list(found) == fuses_for(walked, permitted)[0], seed
            for at, fuse in enumerate(found):
                assert fuse is None or fuse == rating_of(walked.full[at]), seed
                if fuse:
                    fewer = [None if other == at else one for other, one in enumerate(found)]
                    assert faults(tree, rules, areas, fewer), seed
                    within += walked.feeder[at] is not None
    assert within > 50


def test_separate_cables_are_each_the_smallest_by_trying_all_sizes(is_long):
    seen = set()
    for seed, tree, rules in systems(2000 if is_long else 200, start=300_000, most=8):
        walked, plan, expected = Walked(tree), separate(tree, rules), []
        for load, way in zip(tree.loads, walked.ways, strict=True):
            run = Run(start="x", end=load.at, length_m=sum(tree.runs[at].length_m for at in way))
            own, fuse = Tree(runs=(run,), loads=(load,)), rating_of(load.full_a)
            safe = [
                a for a in OHM_KM[rules.sizes] if not faults(own, rules, [a], [fuse], walked.total)
            ]
            expected.append((run.length_m, min(safe), fuse) if safe else None)
        seen.add(plan is None)
        assert (plan is None) == (None in expected), seed
        if plan:
            found = zip(
                (run.length_m for run in plan.runs),
                areas_of(plan.offers),
                plan.fuses_a,
                strict=True,
            )
            assert [*found] == [pytest.approx(one) for one in expected], seed
            assert {run.start for run in plan.runs} == {tree.root}
            assert plan.conductor_kg == pytest.approx(
                conductor_mass(plan.runs, plan.offers, rules.material)
            )
            assert plan.currents == tuple(load.ampere for load in tree.loads)
    assert seen == {False, True}


def test_shortfalls_name_what_is_in_the_way_with_its_figure(is_long):
    seen = set()
    for seed, tree, rules in systems(3000 if is_long else 300, start=400_000, most=6):
        if seed % 10 == 0:
            rules = replace(rules, insulation_c=None)
        walked, areas = Walked(tree), list(OHM_KM[rules.sizes])
        most = max(permitted_of(area, rules) or 0 for area in areas)
        expected = []
        for at, full in enumerate(walked.full):
            if not at_most(full, most):
                expected.append(("heat", at, full))
            elif not rating_of(full) or not at_most(rating_of(full), most):
                expected.append(("fuse", at, full))
        for at, drop in enumerate(walked.drops([max(areas)] * len(tree.runs), rules)):
            if not at_most(drop, rules.max_drop_v):
                expected.append(("drop", at, drop))
        found = shortfalls(tree, rules)
        assert [(one.kind, one.index) for one in found] == [one[:2] for one in expected], seed
        assert [one.figure for one in found] == pytest.approx([one[2] for one in expected]), seed
        assert (least_conductor(tree, rules) is None) == bool(found), seed
        seen |= {one.kind for one in found}
    assert seen == {"heat", "fuse", "drop"}


def test_equal_runs_share_the_drop_whatever_is_equal():
    # Many combinations have the same volume here; the search must still come to an end.
    runs = tuple(Run(start=str(at), end=str(at + 1), length_m=1.0) for at in range(16))
    tree = Tree(runs=runs, loads=tuple(Load(at=str(at), ampere=2, full_a=4) for at in range(1, 17)))
    plan = least_conductor(tree, Rules(max_drop_v=0.6))
    assert volume_of(tree, plan.offers) == pytest.approx(
        solved(tree, Rules(max_drop_v=0.6)), rel=1e-9
    )

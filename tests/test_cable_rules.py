"""Whatever is offered is safe: fuses, permitted currents and drops over systems at random."""

import random
from dataclasses import replace

import pytest
from cable_systems import (
    any_rules,
    any_runs,
    areas_of,
    at_most,
    faults,
    permitted_of,
    rating_of,
)

from calc.cabling.optimum import least_conductor
from calc.cabling.sizing import choose
from calc.cabling.tree import Load, Run, Tree, separate
from calc.cabling.words import stand_in
from calc.physics.amplifier_draw import DUTIES, Demand, longest_idle_w
from calc.physics.conductors import AWG_SIZES, METRIC_SIZES
from calc.physics.permitted_current import permitted_current

INSULATIONS = (105.0,) * 8 + (None, 60.0, 90.0, 125.0)


def any_demand(rng):
    power = rng.choice((40, 100, 250, 500, 1000)) * rng.uniform(0.5, 1.5)
    efficiency = rng.choice((0.55, 0.6, 0.75, 0.85, 1.0))
    idle = rng.choice((0, 0.02, 0.2, 1)) * longest_idle_w(power_w=power, efficiency=efficiency)
    return Demand(
        power_w=power,
        efficiency=efficiency,
        supply_v=rng.choice((12.0, 12.6, 13.8, 14.4)),
        amplifier_class=rng.choice((None, "ab", "d")),
        idle_w=idle,
    )


def any_system(rng):
    """Mostly small trees, of amplifiers at one duty; some with more current than any cable's."""
    number = rng.choices(range(1, 13), weights=(8, 8, 8, 6, 5, 4, 2, 1, 1, 0.5, 0.5, 0.5))[0]
    runs = any_runs(rng, number, rng.choice(("any", "any", "chain", "star")))
    duty = rng.choice(tuple(DUTIES))
    loads = []
    for _ in range(rng.randint(1, min(number + 1, 6))):
        demand = any_demand(rng)
        load = Load(at=rng.choice(runs).end, ampere=demand.most_current(duty), full_a=demand.full_a)
        loads.append(load)
    rules = any_rules(
        rng,
        insulation_c=rng.choice(INSULATIONS),
        conductor_c=rng.uniform(20, 105),
        max_drop_v=rng.choice((0.05, 0.2, 0.5, 0.5, 1.0, 1.0, 3.0)) * rng.uniform(0.7, 1.3),
        body_ohm=rng.choice((0.0, 0.001, 0.002, 0.01)),
    )
    return Tree(runs=runs, loads=tuple(loads)), rules


def check_whole_tree(tree, rules):
    """Whether the best plan exists; if it does, it is safe."""
    plan = least_conductor(tree, rules)
    if plan is None:
        return False
    assert faults(tree, rules, areas_of(plan.offers), plan.fuses_a) == set()
    for offer in plan.offers:
        assert offer.permitted_a == pytest.approx(permitted_of(offer.size.area_mm2, rules))
    assert all(at_most(drop, rules.max_drop_v) for drop in plan.drops_v)
    return True


def check_separate_runs(tree, rules):
    """The same for a cable of its own for each load; every run is a tree of one run."""
    plan = separate(tree, rules)
    if plan is None:
        return False
    rows = zip(plan.runs, tree.loads, plan.offers, plan.fuses_a, plan.drops_v, strict=True)
    for run, load, offer, fuse, drop in rows:
        own = Tree(runs=(run,), loads=(load,))
        assert faults(own, rules, areas_of([offer]), [fuse], tree.total_a) == set()
        assert at_most(drop, rules.max_drop_v)
    return True


def check_one_run(load, length_m, rules):
    chosen = choose(rules, ampere=load.ampere, full_a=load.full_a, length_m=length_m)
    if chosen.offer is None:
        assert chosen.fuse_a is None
        return False
    own = Tree(runs=(Run(start="battery", end=load.at, length_m=length_m),), loads=(load,))
    assert faults(own, rules, areas_of([chosen.offer]), [chosen.fuse_a]) == set()
    return True


def test_nothing_that_is_offered_breaks_a_rule(is_long):
    counts, numbers = {}, set()
    for seed in range(100_000 if is_long else 2000):
        tree, rules = any_system(random.Random(seed))
        offered = (
            check_whole_tree(tree, rules),
            check_separate_runs(tree, rules),
            check_one_run(tree.loads[0], tree.runs[0].length_m, rules),
        )
        if rules.insulation_c != 105:
            assert not any(offered), seed
        counts[offered] = counts.get(offered, 0) + 1
        numbers.add(len(tree.runs))
    # The sample holds trees of all sizes, and answers of every kind.
    assert numbers == set(range(1, 13))
    assert sum(n for offered, n in counts.items() if offered[0]) > 400, counts
    assert sum(n for offered, n in counts.items() if offered[1] and not offered[0]) > 0, counts
    assert sum(n for offered, n in counts.items() if not any(offered)) > 200, counts


@pytest.mark.parametrize("insulation_c", [None, 60.0, 75.0, 90.0, 104.9, 105.1, 125.0, 150.0])
@pytest.mark.parametrize("full_a", [0.5, 28.9, 200.0])
def test_without_a_table_for_the_insulation_nothing_is_offered(insulation_c, full_a):
    rules = any_rules(random.Random(0), insulation_c=insulation_c, max_drop_v=100.0)
    load = Load(at="boot", ampere=full_a / 3, full_a=full_a)
    tree = Tree(runs=(Run(start="battery", end="boot", length_m=0.5),), loads=(load,))
    assert not check_one_run(load, 0.5, rules)
    assert least_conductor(tree, rules) is None
    assert separate(tree, rules) is None
    assert {one.permitted_a for one in rules.offers} == {None}


@pytest.mark.parametrize("sizes", ["metric", "awg"])
@pytest.mark.parametrize("material", ["copper", "cca10", "cca15"])
def test_the_least_current_gets_no_size_thinner_than_the_rule_permits(sizes, material):
    rules = any_rules(random.Random(0), sizes=sizes, material=material, max_drop_v=100.0)
    load = Load(at="boot", ampere=0.01, full_a=0.02)
    tree = Tree(runs=(Run(start="battery", end="boot", length_m=0.5),), loads=(load,))
    plan = least_conductor(tree, rules)
    assert plan.fuses_a == (1.0,)
    # 33 CFR 183.425 (e): 16 AWG, 1.291 mm across; the metric size that is no thinner.
    assert plan.offers[0].size.area_mm2 == pytest.approx(1.5 if sizes == "metric" else 1.3088, 1e-4)
    assert plan.offers[0] == separate(tree, rules).offers[0]


def test_currents_at_and_beside_every_rating_and_permitted_current():
    # Where a rule turns over: a hair below, at, and a hair above.
    rng = random.Random(1)
    for sizes in ("metric", "awg"):
        for _ in range(6):
            rules = any_rules(rng, sizes=sizes, max_drop_v=100.0)
            known = [one.permitted_a for one in rules.offers if one.permitted_a]
            turns = known + [rating for one in known if (rating := rating_of(one))]
            for full in (turn * (1 + by) for turn in turns for by in (-1e-6, 0, 1e-6)):
                load = Load(at="boot", ampere=full / 8, full_a=full)
                check_one_run(load, 0.5, rules)
                below = replace(load, at="seat")
                tree = Tree(
                    runs=(
                        Run(start="battery", end="boot", length_m=0.5),
                        Run(start="boot", end="seat", length_m=0.3),
                    ),
                    loads=(load, below),
                )
                check_whole_tree(tree, rules)
                check_whole_tree(replace(tree, loads=(below,)), rules)


@pytest.mark.parametrize("material", ["copper", "cca10", "cca15"])
@pytest.mark.parametrize("size", [*METRIC_SIZES, *AWG_SIZES], ids=lambda size: size.name)
def test_what_may_stand_for_a_size_neither_carries_less_nor_drops_more(size, material):
    instead = stand_in(size)
    if instead is None:
        assert size.area_mm2 > 95  # beyond the thickest metric size
        return
    assert ("AWG" in instead.name) is not ("AWG" in size.name)
    for warm_c in (20, 50):
        own = size.ohm_per_m(material=material, conductor_c=warm_c)
        assert instead.ohm_per_m(material=material, conductor_c=warm_c) <= own
    may_carry = permitted_current(size, material=material)
    if may_carry is not None:
        assert permitted_current(instead, material=material) >= may_carry

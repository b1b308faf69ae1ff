"""The plan against every other that there is, for systems small enough to try them all."""

import random
from dataclasses import replace
from itertools import combinations

import pytest
from arrangement_files import judged_text
from conftest import sampled
from every_arrangement import Amp, Row, arranged, every, random_amp, random_case, system_text

from calc.app.contents import CALCULATORS

SEEDS = sampled(range(1500), range(30))
SHELVES = sampled(range(200), range(5))


def test_the_ways_are_as_many_as_counted_by_hand():
    """Two doors and a subwoofer, 4 Ω each, on four channels of which each takes 2 Ω.

    Nothing bridged: doors on 1 and 2 or 3 and 4, the subwoofer on one of the two left: 4.  The pair
    that the doors leave bridged: 2.  Doors bridged need both pairs and leave nothing.  A filter is
    the pair's: never a door beside the subwoofer.
    """
    amp = Amp("A", 4, 60.0, 90.0, 180.0, 2.0, bridges=True)
    doors = Row("fronts", "full-range", 2, 4.0, 1, 60.0)
    sub = Row("subs", "woofer", 1, 4.0, 1, 200.0)
    found = list(every((doors, sub), (amp,)))
    assert len(found) == 6
    assert sorted(one.watts()["subs"] for one in found) == [60, 60, 60, 60, 180, 180]
    # Two pairs of doors: on their own each has a pair of channels, 2 ways.  Joined, 2 Ω, on any two
    # channels, 6 ways; bridged they would be 1 Ω a channel.  Rears on the radio: fronts on any two,
    # or each bridged.  With the subwoofer, joined or on the radio: the 6 ways of above.
    rears = Row("rears", "full-range", 2, 4.0, 1, 60.0)
    assert len(list(every((doors, rears), (amp,)))) == 2 + 6 + (6 + 1)
    assert len(list(every((doors, rears, sub), (amp,)))) == 6 + 6


@pytest.mark.parametrize("seed", SEEDS)
def test_no_arrangement_ranks_above_the_plan(seed):
    rows, amps = random_case(seed)
    found = judged_text(system_text(rows, amps))
    ways = list(every(rows, amps))
    if not ways:
        assert found["verdict"] == "unsuitable", found["why"]
        return
    best = min(one.rank(rows) for one in ways)
    if best[0]:
        assert found["verdict"] == "unsuitable"
        return
    assert found["verdict"] in ("likely", "suitable"), found["why"]
    mine = [one for one in ways if one.spots == arranged(found)]
    assert mine, "the plan is none of the ways there are"
    assert min(one.rank(rows) for one in mine) == best


# ---- sets of a stock list


def chosen_from(rows, shelf):
    """Return the rows of the choice from a stock list."""
    calculator = CALCULATORS["amplifier-choice"]
    given, wrong = calculator.files[0](system_text(rows, ()))
    assert wrong == []
    given |= calculator.files[1]("\n".join(amp.toml() for amp in shelf))[0]
    found = calculator.answer(given).sheet.results
    by_name = {row["amplifier"]: row for row in found["rows"]}
    return [by_name[name] for name in found["ranking"]]


def random_shelf(seed):
    rng = random.Random(f"shelf {seed}")
    fours = [random_amp(rng, f"Four {at}", 4) for at in range(rng.choice([1, 2, 2]))]
    monos = [random_amp(rng, f"Mono {at}", 1) for at in range(rng.choice([1, 2]))]
    return {amp.name: amp for amp in (*fours, *monos)}


def amps_of(row, shelf):
    """Return the amplifiers of a set; the second of a kind has a number after its name."""
    names = [name.removesuffix(" (2)") for name in row["amplifiers"]]
    return tuple(replace(shelf[name], name=f"{name} {at}") for at, name in enumerate(names))


def best_of(rows, amps):
    """Return the best rank of a set with how many amplifiers it takes; None where nothing hangs."""
    ranks = [one.rank(rows) for one in every(rows, amps)]
    return (*min(ranks), len(amps)) if ranks else None


@pytest.mark.parametrize("seed", SHELVES)
def test_sets_of_a_stock_list_are_judged_and_ranked_as_by_trying_all(seed):
    """A four-channel alone, with each mono, two four-channels: verdicts, and who comes first."""
    rows, _ = random_case(f"shelf {seed}")
    shelf = random_shelf(seed)
    ranked = []
    for row in chosen_from(rows, shelf.values()):
        best = best_of(rows, amps_of(row, shelf))
        fails = best is None or best[0]
        assert (row["verdict"] == "unsuitable") is fails, (row["amplifier"], row["why"])
        if not fails:
            ranked.append(best)
    assert ranked == sorted(ranked)
    sets = [(amp,) for amp in shelf.values()]
    sets += [pair for pair in combinations(shelf.values(), 2) if pair[0].channels == 4]
    there = [best for best in (best_of(rows, amps) for amps in sets) if best and not best[0]]
    if there:
        assert ranked[0] <= min(there)

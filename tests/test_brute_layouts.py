"""The plan against every other that there is, for systems small enough to try them all."""

import pytest
from arrangement_files import sheet_of_text
from conftest import sampled
from every_arrangement import Amp, Row, arranged, every, random_case, system_text

SEEDS = sampled(range(1500), range(60))


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
    found = sheet_of_text(system_text(rows, amps)).results
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

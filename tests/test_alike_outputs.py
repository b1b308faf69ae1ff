"""Outputs that are alike: which may stand for which, and that verdicts are the same on both."""

import random
from collections import Counter
from dataclasses import replace
from itertools import islice, permutations

import pytest
from arrangement_files import plan_of_text
from box_systems import known_in_part
from conftest import sampled
from test_dsp import FOUR, FRONT
from test_filters_of_several import HEAD, IN_FULL, with_bands

from calc.choosing.checks.alike import alike
from calc.choosing.checks.bands import open_bands
from calc.choosing.checks.filters import filter_check, filter_state
from calc.choosing.installed import installed
from calc.inputs.declared import replaced
from calc.system.amplifier import NO_FILTERS, Amplifier

FRONT_PAIR, SUB = ((5,), (6,)), ((3, 4),)
OWN_PAIR = "3/4 low-pass 50-120 1 butterworth 2 - yes"
EVERY_PAIR = "{0}/{1} high-pass 50-500 1 butterworth 2 {2} yes"
COLUMNS = {
    "high_pass_hz": ("off", "50-250", "900-2000"),
    "low_pass_hz": ("off", "900-2000", "2500-5000"),
    "filter_db_per_octave": ("6", "12/24", "24"),
}
# The second high-pass does for a tweeter that may be crossed unusually low.
FOR_EACH = (
    "1/2 high-pass {} 1 butterworth 2 - yes | 3/4 high-pass 50-500 1 butterworth 2 - yes | "
    "3/4 low-pass {} 1 butterworth 2 - yes"
)
FOR_BOTH = "1/2/3/4 high-pass 50-500 1 butterworth 2 - yes"


def pairs(switches):
    """A high-pass on each of three pairs, with these switches."""
    return " | ".join(EVERY_PAIR.format(2 * at + 1, 2 * at + 2, s) for at, s in enumerate(switches))


DIALS = pairs("ABC").replace("5/6 high-pass 50-500", "5/6 high-pass 50-1000")
BRIDGED = pairs("ABC").replace("5/6", "5+6")


@pytest.mark.parametrize(
    ("amplifiers", "expected"),
    [
        ([{"channels": 8}], (((1,), (2,)), ((3, 4),))),
        ([{"channels": 6, "high_pass_hz": "50-500"}], (((1,), (2,)), ((3, 4),))),
        # A pair that alone has a filter.
        ([{"channels": 6, "filters": OWN_PAIR}], (((1,), (2,)), ((3, 4),))),
        ([{"channels": 6, "filters": OWN_PAIR.replace("3/4", "5/6")}], (((5,), (6,)), ((1, 2),))),
        ([{"channels": 6, "filters": pairs("ABC")}], (((1,), (2,)), ((3, 4),))),
        # A dial of another range, one for a pair as a bridge.
        ([{"channels": 6, "filters": DIALS}], (((5,), (6,)), ((1, 2),))),
        ([{"channels": 6, "filters": BRIDGED}], (((5,), (6,)), ((1, 2),))),
        # One switch or one dial for two pairs: neither stands for another.
        ([{"channels": 6, "filters": pairs("AAC")}], (((5,), (6,)), ((3, 4),))),
        ([{"channels": 6, "filters": FOR_BOTH}], (((5,), (6,)), ((3, 4),))),
        ([{"channels": 8, "filters": FOR_BOTH}], (((5,), (6,)), ((3, 4),))),
        # Each amplifier by itself.
        ([{"channels": 4}, {"channels": 2}], (((5,), (6,)), ((1, 2),))),
        ([{"channels": 2}, {"channels": 4}], (((3,), (4,)), ((5, 6),))),
    ],
)  # fmt: skip
def test_pairs_with_the_same_filters_stand_for_one_another(amplifiers, expected):
    both = [Amplifier(name=f"{at}", **plate) for at, plate in enumerate(amplifiers)]
    assert alike([FRONT_PAIR, SUB], installed(both)) == expected


def test_a_channel_without_its_pair_stands_for_none_that_has_one():
    five = installed(Amplifier(name="Five", channels=5, filters=NO_FILTERS))
    assert alike([((3,), (4,)), ((5,),)], five) == (((1,), (2,)), ((5,),))
    assert alike([((5,),), ((3,), (4,)), ((1, 2),)], five) == (((5,),), ((1,), (2,)), ((3, 4),))


def test_every_order_of_pairs_that_are_alike_is_one():
    eight = installed(Amplifier(name="Eight", channels=8))
    every = [[((2 * at + 1,), (2 * at + 2,)) for at in order] for order in permutations(range(4))]
    assert len({alike(assignment, eight) for assignment in every}) == 1


def test_speakers_on_one_pair_stay_on_one_pair():
    four = installed(Amplifier(name="Four", channels=4))
    assert alike([((4,),), ((3,),), ((1,),)], four) == (((2,),), ((1,),), ((3,),))


@pytest.mark.parametrize("block", sampled(range(30), [0]))
def test_what_is_found_on_outputs_that_are_alike_is_found_on_all(block):
    """Against every output worked out by itself, for amplifiers of any filters."""
    states, moved = Counter(), 0
    for at in range(60):
        case, rng = known_in_part(f"{block} alike {at}")
        judge = rng.choice([case.judge, case.judge.loosest])
        every = list(islice(judge.layouts, 60))
        for layout in random.Random(at).sample(every, min(3, len(every))):
            on = (layout.assignment, judge.installed)
            moved += alike(*on) != tuple(layout.assignment)
            fresh, again = replace(layout.job), replace(layout.job)  # nothing found yet of either
            check = filter_check(fresh, *on)
            states[check.state] += 1
            assert filter_state(again, *on) == check.state, (block, at, layout)
    assert moved > 5
    assert block or set(states) == {"suitable", "likely", "not known", "unsuitable"}, states


@pytest.fixture(scope="module")
def fronts():
    """Tweeters with mid-basses or midranges, active, and coaxials."""
    low = with_bands(FRONT)
    high = low.replace(
        'section = "mid-bass"\nlowest_hz = 50', 'section = "midrange"\nlowest_hz = 800'
    )
    coaxials = FRONT[: FRONT.rindex("[[speakers]]")].replace('"tweeter"', '"full-range"')
    return [
        plan_of_text(one + HEAD + FOUR + IN_FULL).candidate.layout for one in (low, high, coaxials)
    ]


@pytest.mark.parametrize("block", sampled(range(12), [0]))
def test_a_refusal_for_want_of_filters_holds_with_every_band_that_there_may_be(fronts, block):
    """And what depends on the bands does: with one of them it is not refused."""
    rng, states = random.Random(f"bands {block}"), Counter()
    for _ in range(40):
        layout = rng.choice(fronts)
        bare = replaced(layout.installed.parts[0].given, {"filters": None})
        corners = [rng.choice(COLUMNS[key][1:]) for key in ("high_pass_hz", "low_pass_hz")]
        columns = {key: rng.choice(COLUMNS[key]) for key in COLUMNS if rng.random() < 0.8}
        told = rng.choice([columns, {"filters": FOR_EACH.format(*corners)}])
        amplifier = installed(replaced(bare, told))
        speakers = [
            replaced(row, dict.fromkeys(rng.sample(["lowest_hz", "top_hz"], rng.randrange(3))))
            for row in layout.job.given.speakers
        ]
        job = replace(layout.job, given=replaced(layout.job.given, {"speakers": tuple(speakers)}))
        bands = open_bands(job)
        if bands is None:
            continue
        check = filter_check(job, layout.assignment, amplifier)
        rests_on_bands = check.has.startswith("depends on the speakers’ frequency ranges; ")
        if check.state != "unsuitable" and not rests_on_bands:
            continue
        every = bands.every()
        if every is None:  # too many to try
            assert check.state == "not known"
            continue
        found = {filter_check(one, layout.assignment, amplifier).state for one in every}
        assert (found == {"unsuitable"}) == (check.state == "unsuitable"), (told, speakers)
        states[check.state] += 1
    assert block or min(states[state] for state in ("unsuitable", "not known")) > 1, states

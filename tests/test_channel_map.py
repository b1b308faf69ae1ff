"""Which section goes on which outputs, held against an allocation worked out here anew."""

import math
from itertools import combinations, pairwise, product

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError


def ask(sections, **given):
    raw = {key: str(value) for key, value in given.items()}
    text = ";".join(",".join(map(str, row)) for row in sections)
    return CALCULATORS["channel-map"].answer({"sections": text, **raw}).sheet


def mapped(sections, **given):
    return ask(sections, **given).results["groupings"]


def on(plan):
    """Each section's outputs in a plan."""
    return [(use["section"], use["outputs"]) for use in plan["uses"]]


# ---- groupings -------------------------------------------------------------------------------

FOUR = {"1|2|3|4", "1+2|3|4", "1|2|3+4", "1+2|3+4"}


def test_four_channels_have_exactly_four_groupings():
    # One 8 Ω speaker fits any output, so every grouping carries it.
    found = mapped([("woofer", 8, 100, 88, 1)])
    assert sorted(plan["grouping"] for plan in found) == sorted(FOUR)


@pytest.mark.parametrize(
    ("channels", "groupings"),
    [
        (1, {"1"}),
        (2, {"1|2", "1+2"}),
        (3, {"1|2|3", "1+2|3"}),
        (5, {one + "|5" for one in FOUR}),
        (6, {one + two for one in FOUR for two in ("|5|6", "|5+6")}),
    ],
)
def test_channels_are_singles_or_adjacent_pairs(channels, groupings):
    found = mapped([("woofer", 8, 100, 88, 1)], channels=channels)
    assert {plan["grouping"] for plan in found} == groupings
    assert len(found) == len(groupings)


def test_two_pairs_take_four_single_channels():
    best = mapped([("full-range", 4, 60, 90, 2), ("full-range", 4, 60, 89, 2)])[0]
    assert best["grouping"] == "1|2|3|4"
    assert [outputs for _, outputs in on(best)] == [["1", "2"], ["3", "4"]]
    assert best["spare"] == []


def test_components_take_1_and_2_and_one_woofer_3_and_4_bridged():
    best = mapped([("full-range", 4, 60, 90, 2), ("woofer", 4, 200, 88, 1)])[0]
    assert best["grouping"] == "1|2|3+4"
    assert on(best) == [("full-range", ["1", "2"]), ("woofer", ["3+4"])]


def test_an_active_two_way_pair_takes_four_single_channels():
    best = mapped([("tweeter", 4, 50, 92, 2), ("mid-bass", 4, 60, 89, 2)])[0]
    assert best["grouping"] == "1|2|3|4"
    assert on(best) == [("tweeter", ["1", "2"]), ("mid-bass", ["3", "4"])]


def test_a_part_active_three_way_pair_takes_four_single_channels():
    # A passive network joins tweeter and midrange: one load of 4 Ω per side.
    best = mapped([("midrange", 4, 60, 90, 2), ("mid-bass", 4, 60, 89, 2)])[0]
    assert on(best) == [("midrange", ["1", "2"]), ("mid-bass", ["3", "4"])]


def test_two_strong_woofers_take_both_pairs_bridged():
    best = mapped([("woofer", 4, 150, 88, 2)])[0]
    assert best["grouping"] == "1+2|3+4"
    assert on(best) == [("woofer", ["1+2", "3+4"])]


def test_with_a_separate_mono_amplifier_the_front_may_have_both_bridges():
    best = mapped([("full-range", 4, 120, 90, 2)])[0]
    assert best["grouping"] == "1+2|3+4"
    assert mapped([("woofer", 2, 200, 88, 1)], channels=1, min_channel_ohm=1)[0]["spare"] == []


def test_a_refused_load_is_never_bridged_and_the_reason_is_told():
    sheet = ask([("woofer", 3.9, 100, 88, 1)])
    uses = [use for plan in sheet.results["groupings"] for use in plan["uses"]]
    assert uses and all("+" not in output for use in uses for output in use["outputs"])
    sheet = ask([("woofer", 1.9, 100, 88, 1)])
    assert sheet.results["groupings"] == []
    assert sheet.verdict.state == "unsuitable" and "The sub of" in sheet.verdict.reason


def test_too_many_sections_for_the_channels_carry_nowhere():
    sheet = ask([("full-range", 4, 60, 90, 1)] * 5)
    assert sheet.results["groupings"] == []
    assert "more outputs" in sheet.verdict.reason


def test_left_and_right_kept_apart_counts_more_than_a_power_that_is_known():
    # Four 8 Ω woofers on one channel are 2 Ω, for which there is no figure; on two they are
    # 4 Ω, but then left and right would have to share the third.
    sections = [("full-range", 8, 60, 90, 2), ("woofer", 8, 50, 88, 4)]
    best = mapped(sections, channels=3, power_2ohm_w="")[0]
    assert on(best) == [("full-range", ["1", "2"]), ("woofer", ["3"])]


# ---- power, level, trim ----------------------------------------------------------------------

rows = st.tuples(
    st.sampled_from(["tweeter", "midrange", "mid-bass", "full-range", "woofer"]),
    st.sampled_from([1, 2, 3, 4, 5.6, 6, 8, 16]),
    st.sampled_from([20, 47, 61, 133, 251]),
    st.sampled_from([84, 86.5, 88, 90, 91.2, 93]),
    st.integers(1, 4),
)
amplifiers = st.fixed_dictionaries(
    {
        "channels": st.integers(1, 5),
        "power_4ohm_w": st.integers(20, 120),
        "power_2ohm_w": st.one_of(st.just(""), st.integers(20, 240)),
        "min_channel_ohm": st.sampled_from([1, 2, 4]),
        "supply_v": st.sampled_from([11, 12.6, 14.4, 15]),
    }
)


@given(sections=st.lists(rows, min_size=1, max_size=3), amplifier=amplifiers)
def test_level_is_sensitivity_and_the_voltage_over_2_83_and_the_number_alike(sections, amplifier):
    for plan in mapped(sections, **amplifier):
        for use, (_, ohm, rated_w, sensitivity_db, speakers) in zip(
            plan["uses"], sections, strict=True
        ):
            alike = speakers / len(use["outputs"])
            assert alike == int(alike)
            width = use["outputs"][0].count("+") + 1
            refused = ohm / alike / width < amplifier["min_channel_ohm"] * (1 - 1e-9)
            assert use["in_series"] == refused
            assert use["load_ohm"] == pytest.approx(ohm * alike if refused else ohm / alike)
            assert use["load_ohm"] / width >= amplifier["min_channel_ohm"] * (1 - 1e-9)
            if use["power_w"] is None:
                assert use["level_db"] is use["match"] is use["trim_db"] is None
                assert use["total_db"] is None
                continue
            # What each speaker sees, and as many pressures as there are speakers on the output.
            volts = math.sqrt(use["power_w"] / alike * ohm)
            level = sensitivity_db + 20 * math.log10(volts / 2.83) + 20 * math.log10(alike)
            assert use["level_db"] == pytest.approx(level)
            outputs = 20 * math.log10(len(use["outputs"]))
            assert use["total_db"] == pytest.approx(level + outputs)
            assert use["match"] == pytest.approx(use["power_w"] / alike / rated_w)


@pytest.mark.parametrize("ohm", [2, 4, 8])
def test_level_agrees_with_the_sensitivity_per_watt(ohm):
    # S_1W = S_2.83V − 10·lg(8/Z); 2.83 V into 8 Ω is 1.001 W, hence the hundredth of a dB.
    plan = mapped([("woofer", ohm, 100, 90, 1)], channels=1, power_2ohm_w=75)[0]
    use = plan["uses"][0]
    per_watt = 90 - 10 * math.log10(8 / ohm)
    assert use["level_db"] == pytest.approx(per_watt + 10 * math.log10(use["power_w"]), abs=0.01)


@given(sections=st.lists(rows, min_size=1, max_size=3), amplifier=amplifiers)
def test_trims_bring_every_section_down_to_the_weakest(sections, amplifier):
    for plan in mapped(sections, **amplifier):
        levels = [use["level_db"] for use in plan["uses"]]
        if None in levels:
            assert plan["weakest"] is None
            assert all(use["trim_db"] is None for use in plan["uses"])
            continue
        lowest = min(levels)
        assert plan["weakest"] in [
            use["section"] for use in plan["uses"] if use["level_db"] == lowest
        ]
        for use in plan["uses"]:
            assert use["level_db"] + use["trim_db"] == pytest.approx(lowest)
            assert use["trim_db"] <= 0


@given(sections=st.lists(rows, min_size=1, max_size=3), amplifier=amplifiers)
def test_no_channel_is_used_twice_and_the_rest_are_spare(sections, amplifier):
    for plan in mapped(sections, **amplifier):
        outputs = plan["grouping"].split("|")
        used = [output for use in plan["uses"] for output in use["outputs"]]
        assert set(used) <= set(outputs) and len(set(used)) == len(used)
        channels = [int(one) for output in used for one in output.split("+")]
        assert sorted(channels + plan["spare"]) == list(range(1, amplifier["channels"] + 1))


def test_without_the_2_ohm_figure_a_2_ohm_output_has_bounds_only():
    plan = mapped([("woofer", 2, 100, 88, 1)], channels=1, power_4ohm_w=50, power_2ohm_w="")[0]
    use = plan["uses"][0]
    assert use["power_w"] is None
    assert (use["power_low_w"], use["power_high_w"]) == pytest.approx((50, 100))


def test_a_regulated_supply_keeps_the_power():
    sections = [("woofer", 4, 100, 88, 1)]
    low = {"supply_v": 12, "channels": 1}
    powers = [
        mapped(sections, **low, regulated=word)[0]["uses"][0]["power_w"] for word in ("yes", "no")
    ]
    assert powers == pytest.approx([50, 50 * (12 / 14.4) ** 2])


def test_the_warning_about_current_limited_channels_stands_here_too():
    sheet = ask([("woofer", 2, 100, 88, 1)], channels=1, power_2ohm_w="")
    assert sheet.results["groupings"][0]["uses"][0]["power_w"] is None
    assert "lower still" in " ".join([*sheet.cautions, *sheet.steps, *sheet.unknowns])


def test_both_inputs_of_a_bridged_pair_are_spoken_of_here_too():
    sheet = ask([("woofer", 4, 150, 88, 2)])
    assert "+" in sheet.results["groupings"][0]["grouping"]
    assert "input" in " ".join([*sheet.cautions, *sheet.steps, *sheet.unknowns])


def test_a_mismatch_is_warned_of_in_both_directions():
    much = ask([("tweeter", 4, 10, 90, 2)], channels=2)
    little = ask([("woofer", 4, 500, 90, 1)], channels=1)
    fitting = ask([("full-range", 4, 60, 90, 2)], channels=2)
    assert any("5 times" in text for text in much.cautions)
    assert any("only 0.1" in text for text in little.cautions)
    states = [sheet.verdict.state for sheet in (much, little, fitting)]
    assert states == ["unsuitable", "unsuitable", "suitable"]


# ---- every allocation, worked out anew -------------------------------------------------------


def power_of(load, width, amplifier):
    """Return an output's power by numpy; None where only bounds or nothing is known."""
    own = load / width
    points = {2: amplifier["power_2ohm_w"], 4: amplifier["power_4ohm_w"]}
    ohms = [ohm for ohm, power in points.items() if power != ""]
    powers = [float(points[ohm]) for ohm in ohms]
    if own >= 4:
        power = powers[-1] * 4 / own
    elif own < ohms[0]:
        return None
    else:
        power = math.exp(np.interp(math.log(own), np.log(ohms), np.log(powers)))
    return width * power * (amplifier["supply_v"] / 14.4) ** 2


def allocations(sections, outputs, amplifier):
    """Yield the merits of every way to give each output to a section or to none."""
    for owners in product([None, *range(len(sections))], repeat=len(outputs)):
        merits = merits_of(sections, outputs, owners, amplifier)
        if merits is not None:
            yield merits


def merits_of(sections, outputs, owners, amplifier):
    """Return (mono sections, misfits, unknown powers, −levels from the lowest up), or None."""
    mono = unknown = misfits = 0
    levels = []
    for at, (name, ohm, rated_w, sensitivity_db, speakers) in enumerate(sections):
        widths = {outputs[place] for place, owner in enumerate(owners) if owner == at}
        number = owners.count(at)
        if len(widths) != 1 or speakers % number:
            return None
        (width,), alike = widths, speakers // number
        least = amplifier["min_channel_ohm"] * (1 - 1e-9)
        loads = [load for load in (ohm / alike, ohm * alike) if load / width >= least]
        if not loads:
            return None
        load = loads[0]  # in series where parallel is refused
        mono += name != "woofer" and number == 1 and speakers > 1
        power = power_of(load, width, amplifier)
        if power is None:
            unknown += 1
            own = load / width
            supply = width * (amplifier["supply_v"] / 14.4) ** 2
            least = supply * amplifier["power_4ohm_w"] / alike / rated_w
            most = least * 4 / own
            assume(abs(most - 0.5) > 1e-6 and abs(least - 2) > 1e-6)
            # The limits of a missing 2 Ω figure may overlap what suits; below 2 Ω is nothing.
            bounded = own >= 2 * (1 - 1e-9) and amplifier["power_2ohm_w"] == ""
            misfits += not (bounded and most >= 0.5 and least <= 2)
            continue
        match = power / alike / rated_w
        assume(min(abs(match - 0.5), abs(match - 2)) > 1e-6)
        misfits += not 0.5 <= match <= 2
        # Every speaker's own pressure, and as many as there are speakers.
        pressure = math.sqrt(power / alike * ohm) * speakers
        levels.append(sensitivity_db + 20 * math.log10(pressure / 2.83))
    return mono, misfits, unknown, [] if unknown else [-level for level in sorted(levels)]


def merits_found(plan, sections, amplifier):
    outputs = plan["grouping"].split("|")
    owners = [None] * len(outputs)
    for at, use in enumerate(plan["uses"]):
        for output in use["outputs"]:
            owners[outputs.index(output)] = at
    return merits_of(sections, [one.count("+") + 1 for one in outputs], tuple(owners), amplifier)


def not_worse(one, other):
    """Whether the merits are not worse; levels count to a tenth of a decibel."""
    if one[:3] != other[:3]:
        return one[:3] < other[:3]
    for mine, theirs in zip(one[3], other[3], strict=True):
        if abs(mine - theirs) > 0.1 + 1e-9:
            return mine < theirs
    return True


@given(sections=st.lists(rows, min_size=1, max_size=3), amplifier=amplifiers)
def test_the_groupings_are_those_that_carry_the_sections_and_each_is_used_at_its_best(
    sections, amplifier
):
    channels = amplifier["channels"]
    pairs = [(at, at + 1) for at in range(1, channels, 2)]
    possible = {}
    for bridged in (chosen for n in range(len(pairs) + 1) for chosen in combinations(pairs, n)):
        joined = {first for first, _ in bridged}
        names = [
            f"{one}+{one + 1}" if one in joined else str(one)
            for one in range(1, channels + 1)
            if one - 1 not in joined
        ]
        widths = [name.count("+") + 1 for name in names]
        ways = list(allocations(sections, widths, amplifier))
        if ways:
            possible["|".join(names)] = ways
    found = mapped(sections, **amplifier)
    assert sorted(plan["grouping"] for plan in found) == sorted(possible)
    merits = [merits_found(plan, sections, amplifier) for plan in found]
    for plan, own in zip(found, merits, strict=True):
        assert own is not None
        assert all(not_worse(own, other) for other in possible[plan["grouping"]])
    for better, worse in pairwise(merits):
        assert not_worse(better, worse)


@pytest.mark.parametrize(("rated_w", "match"), [("100", 0.5), ("25", 2.0)])
def test_half_and_twice_the_rating_are_still_usual(rated_w, match):
    """50 W on a speaker of 100 W and of 25 W: the limits of what suits belong to it."""
    sections = f"woofer,4,{rated_w},88,1"
    sheet = CALCULATORS["channel-map"].answer({"sections": sections, "channels": "1"}).sheet
    assert sheet.results["groupings"][0]["uses"][0]["match"] == match
    assert sheet.verdict.state == "suitable"


# ---- outputs that are settled


def test_a_settled_section_stands_where_it_is_put_and_the_others_beside_it():
    rows = [("full-range", 4, 60, 90, 2), ("woofer", 4, 240, 88, 1)]
    for plan in mapped(rows, settled="2,1+2"):
        assert on(plan)[1] == ("woofer", ["1+2"])
        assert on(plan)[0][1] in (["3", "4"], ["3+4"])  # the last in series, mono
    assert [on(plan)[0][1] for plan in mapped(rows, settled="1,2/3")] == [["2", "3"]]


@given(sections=st.lists(rows, min_size=1, max_size=3), amplifier=amplifiers)
def test_settling_what_a_grouping_has_anyway_finds_that_grouping_again(sections, amplifier):
    """All rows settled: what is left of the choice is what the spare channels do."""
    for plan in mapped(sections, **amplifier):
        settled = ";".join(f"{at},{'/'.join(outs)}" for at, (_, outs) in enumerate(on(plan), 1))
        again = mapped(sections, settled=settled, **amplifier)
        (same,) = [one for one in again if one["grouping"] == plan["grouping"]]
        assert same == plan
        assert all(on(one) == on(plan) for one in again)


def test_settled_outputs_that_leave_no_room_are_told_of():
    rows = [("full-range", 4, 60, 90, 4), ("woofer", 4, 240, 88, 1)]
    sheet = ask(rows, settled="2,1+2", min_channel_ohm=4)
    assert sheet.verdict.state == "unsuitable"
    assert ask(rows, settled="2,1").results["groupings"]
    few = ask([("full-range", 4, 60, 90, 2), ("woofer", 2, 240, 88, 1)], settled="2,1+2")
    assert "channels already decided stand in the way" in few.verdict.reason


@pytest.mark.parametrize(
    ("settled", "told"),
    [
        ("3,1/2", "there are 2 rows"),
        ("1,1/2;1,3/4", "row 1 of the speakers has its channels already"),
        ("1,5/6", "there are 4 channels"),
        ("1,1/2;2,2", "another row has these channels"),
        ("2,1/2", "1 speaker cannot be shared equally among 2 outputs"),
        ("1,2+3", "cannot be used here"),
        ("1,1/1", "cannot be used here"),
        ("1,1/3+4", "cannot be used here"),
        ("1,0", "cannot be used here"),
        ("1,", "Enter"),
    ],
)
def test_settled_outputs_that_cannot_be_are_refused(settled, told):
    with pytest.raises(InputError) as caught:
        ask([("full-range", 4, 60, 90, 2), ("woofer", 4, 240, 88, 1)], settled=settled)
    assert [one.field for one in caught.value.errors] == ["settled"]
    assert told in str(caught.value)

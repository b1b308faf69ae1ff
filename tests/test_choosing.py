"""The choice of an amplifier: the search against all layouts tried one by one, bounds, laws."""

import json
import math
import random
from itertools import product

import pytest
from choosing_systems import FORM, WEIGHTS, job_of, random_amplifier, random_job
from conftest import sampled
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.bridging.mapping import Plan, Use
from calc.choosing.choose import Judge, first_verdict, layout_rank, ranking, state_of
from calc.choosing.columns import COLUMNS
from calc.choosing.job import Job
from calc.choosing.layouts import Layout, channel_of, factor_of, layouts, missing_plate
from calc.choosing.plan import ONCE, plan_of
from calc.choosing.wiring import Wiring, even_loads, sensitivity, wirings
from calc.physics.channel_power import Channel, groupings, rated_or_bridged_power
from calc.renderers.data import answer_data

SEEDS = sampled(range(120), range(12))


def case(seed):
    rng = random.Random(f"choice {seed}")
    return random_job(rng), random_amplifier(rng), rng


@pytest.mark.parametrize("seed", SEEDS)
def test_the_best_plan_is_the_best_of_all_layouts_each_judged_alone(seed):
    """Nothing is shared between layouts here, and the order is that of sorting them all."""
    job, amplifier, _ = case(seed)
    found = Judge(job, amplifier, WEIGHTS).best()
    every = [Judge(job, amplifier, WEIGHTS).of_layout(one) for one in layouts(job, amplifier)]
    if not every:
        assert found.layout is None
        return
    assert layout_rank(found) == sorted(map(layout_rank, every))[0]
    assert (found.state == "unsuitable") == all(one.state == "unsuitable" for one in every)


def handed_out(feeds, chosen, grouping, channel, factor):
    """Yield every way to hand the outputs of a grouping to feeds: each output to any one of
    them or to none, kept where the count, the width and the load are right."""
    for owners in product(range(-1, len(feeds)), repeat=len(grouping)):
        uses = []
        for number, (feed, wiring) in enumerate(zip(feeds, chosen, strict=True)):
            section = wiring.section(feed)
            own = tuple(out for out, owner in zip(grouping, owners, strict=True) if owner == number)
            if not own or len({len(out) for out in own}) > 1 or section.speakers % len(own):
                break
            load = section.load_ohm * len(own) / section.speakers
            if not channel.takes(load_ohm=load / len(own[0])):
                break
            power = channel.power(load_ohm=load)
            if len(own[0]) == 2:
                power = rated_or_bridged_power(channel, load_ohm=load)
            uses.append(Use(section=section, outputs=own, load_ohm=load, power=power.times(factor)))
        else:
            yield Plan(grouping=grouping, uses=tuple(uses))


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_no_other_assignment_of_outputs_is_better(seed):
    """All assignments, left and right split over two pairs included: none ranks higher."""
    job, amplifier, rng = case(f"assignment {seed}")
    amplifier["channels"] = rng.choice([2, 3, 4])
    amplifier["filters"] = filter_rows_of(rng)
    if missing_plate(amplifier):
        return
    judge = Judge(job, amplifier, WEIGHTS)
    channel, factor = channel_of(amplifier), factor_of(job, amplifier)
    every = [
        judge.of_layout(Layout(job, chosen, plan))
        for chosen in product(*map(wirings, job.feeds))
        for grouping in groupings(amplifier["channels"])
        for plan in handed_out(job.feeds, chosen, grouping, channel, factor)
    ]
    found = judge.best()
    assert (found.layout is None) == (not every)
    if every:
        assert layout_rank(found) == min(map(layout_rank, every))


def filter_rows_of(rng):
    """Return an amplifier's filters, unlike on its two pairs."""
    kinds = ["high-pass", "low-pass"]
    cells = [
        f"{pair} {kind} 50-250 1 butterworth 2 {pair[0]} yes"
        for pair in ("1/2", "3/4")
        for kind in rng.sample(kinds, rng.choice([0, 1, 2]))
    ]
    return next(one for one in COLUMNS if one.key == "filters").read(" | ".join(cells) or "none")


def test_the_first_row_goes_on_the_second_pair_where_only_that_one_has_its_filter():
    """Fronts need a high-pass and woofers a low-pass; the amplifier has them the other way
    round.  On the first free outputs it would be unsuitable."""
    job = job_of(
        speakers="fronts,full-range,2,1,4,60,,90,80,2,,,front,,;w,woofer,2,1,4,60,,86,,2,120,,,,",
        networks="",
        head_filters="",
    )
    cells = "1/2 low-pass 50-250 1 butterworth 2 A yes | 3/4 high-pass 50-250 1 butterworth 2 B yes"
    read = next(one for one in COLUMNS if one.key == "filters").read
    amplifier = {**job.given["amplifier"][0], "filters": read(cells)}
    found = Judge(job, amplifier, WEIGHTS).best()
    assert found.state == "suitable"
    fronts, woofers = found.layout.plan.uses
    assert fronts.outputs == ((3,), (4,))
    assert {channel for output in woofers.outputs for channel in output} == {1, 2}


def brute_force_carries(job, amplifier):
    """Tell by trying every way to hand out outputs whether some layout carries the job: loads
    by Ohm's law alone, no code of the chapters."""
    least = amplifier["min_channel_ohm"] * (1 - 1e-9)

    def units(feed):
        coils, ohm = feed.speaker["coils"], feed.speaker["coil_ohm"]
        singles = {ohm * coils, ohm / coils} if coils < 3 else set()
        return [(load, feed.count) for load in singles if 0.5 <= load <= 64] + [
            (load, 1)
            for single in singles
            if feed.section == "woofer" and feed.count == 2
            for load in (single * 2, single / 2)
            if 0.5 <= load <= 64
        ]

    def place(feeds, free):
        if not feeds:
            return True
        for load, count in units(feeds[0]):
            for width in (1, 2):
                outputs = [one for one in free if len(one) == width]
                for used in range(1, min(len(outputs), count) + 1):
                    if count % used or load / (count // used) / width < least:
                        continue
                    if load < least:
                        continue
                    rest = [one for one in free if one not in outputs[:used]]
                    if place(feeds[1:], rest):
                        return True
        return False

    return any(place(job.feeds, list(one)) for one in groupings(amplifier["channels"]))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_layout_is_found_exactly_when_outputs_can_be_handed_out(seed):
    job, amplifier, _ = case(f"outputs {seed}")
    if missing_plate(amplifier):
        assert not list(layouts(job, amplifier))
        return
    assert bool(list(layouts(job, amplifier))) == brute_force_carries(job, amplifier)


@pytest.mark.parametrize("seed", sampled(range(400), range(40)))
def test_a_first_verdict_is_never_overturned(seed):
    job, amplifier, _ = case(f"bounds {seed}")
    first = first_verdict(Judge(job, amplifier, WEIGHTS))
    if first is None:
        return
    state, check = first
    assert state == check.state == "unsuitable"
    assert Judge(job, amplifier, WEIGHTS).best().state == state


def test_first_verdicts_are_found_for_many():
    told = [first_verdict(Judge(*case(f"bounds {seed}")[:2], WEIGHTS)) for seed in range(60)]
    assert 10 < sum(one is not None for one in told) < 60


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stronger_amplifier_never_loses_a_pass_on_power(seed):
    job, _, rng = case(f"stronger {seed}")
    weak = random_amplifier(rng, missing=0)
    weak["power_2ohm_w"] = 1.4 * weak["power_4ohm_w"]
    factor = rng.choice([1.05, 1.5, 3])
    strong = {
        **weak,
        **{
            key: weak[key] and factor * weak[key]
            for key in ("power_4ohm_w", "power_2ohm_w", "rated_bridged_w")
        },
    }

    def has_power(found):
        powers = [one for one in found.checks if one.name.startswith("power")]
        return powers != [] and all(one.state == "suitable" for one in powers)

    if not has_power(Judge(job, weak, WEIGHTS).best()):
        return
    judge = Judge(job, strong, WEIGHTS)
    best = judge.best()
    with_power = [
        one for one in map(judge.of_layout, layouts(job, strong)) if has_power(one)
    ]  # fmt: skip
    assert with_power
    # It draws more, so that another must may fail; a plan without that power is then better only
    # where it may still do.
    if not has_power(best):
        assert {one.state for one in with_power} == {"unsuitable"} != {best.state}


@pytest.mark.parametrize("seed", SEEDS)
def test_a_stricter_must_never_widens_the_list(seed):
    job, _, rng = case(f"stricter {seed}")
    shelf = [random_amplifier(rng, str(at)) for at in range(4)]
    for key in ("level_control", "cover", "controls_in_place"):
        stricter = Job({**job.given, key: "must"})
        loose, tight = (
            {one["name"] for one in shelf if Judge(each, one, WEIGHTS).best().state == "suitable"}
            for each in (Job({**job.given, key: "any"}), stricter)
        )
        assert tight <= loose


@pytest.mark.parametrize("seed", SEEDS)
def test_more_power_to_reach_never_widens_the_list(seed):
    job, amplifier, _ = case(f"need {seed}")
    order = ["suitable", "not known", "unsuitable"]
    states = []
    for need in (1.0, 40.0, 90.0, 200.0):
        rows = tuple({**row, "need_w": need} for row in job.speakers)
        judge = Judge(Job({**job.given, "speakers": rows}), amplifier, WEIGHTS)
        states.append(order.index(judge.best().state))
    assert states == sorted(states)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    ("changes", "worse"),
    [
        ([{"alternator_a": one} for one in (160.0, 110.0, 70.0)], "supply"),
        (
            [{"bay_width_mm": 700.0, "bay_depth_mm": 600.0}, {"bay_width_mm": 400.0},
             {"bay_width_mm": 300.0, "bay_depth_mm": 200.0}],
            "place",
        ),
        ([{"bay_height_mm": one} for one in (200.0, 90.0, 40.0)], "place"),
    ],
)  # fmt: skip
def test_less_room_and_a_smaller_alternator_never_widen_the_list(seed, changes, worse):
    job, amplifier, _ = case(f"{worse} {seed}")
    order = ["suitable", "not known", "unsuitable"]
    judged = [Judge(Job({**job.given, **change}), amplifier, WEIGHTS).best() for change in changes]
    states = [order.index(one.state) for one in judged]
    assert states == sorted(states)
    if worse == "place":  # the same whatever the layout; a supply depends on its power
        of_place = [next(c.state for c in one.checks if c.name == worse) for one in judged]
        assert [order.index(one) for one in of_place] == sorted(map(order.index, of_place))


def test_the_power_to_reach_of_speakers_on_a_network_counts_for_their_leads():
    """Tweeter and mid-bass share an output: the higher of the two powers has to come."""
    rows = FORM.read({})["speakers"]
    for tweeter_w, mid_w, expected in ((None, 50, 50), (60, 50, 60), (20, None, 20)):
        speakers = ({**rows[0], "need_w": tweeter_w}, {**rows[1], "need_w": mid_w}, rows[2])
        (feed,) = [
            one for one in Job({**FORM.read({}), "speakers": speakers}).feeds if 0 in one.rows
        ]
        assert feed.need_w == expected


@pytest.mark.parametrize("seed", sampled(range(60), range(6)))
def test_every_number_of_a_plan_is_that_of_its_calculator_asked_alone(seed):
    job, amplifier, _ = case(f"plan {seed}")
    plan = plan_of(job, Judge(job, amplifier, WEIGHTS).best())
    data = json.loads(json.dumps(plan.data()))
    data.pop("channels")  # made of what the others answer; its own tests hold it
    cable, kit = data.get("power-cable"), data.get("kit-list")
    if kit and kit["results"] and cable["results"]:
        bought = [one for one in kit["results"]["items"] if one["item"] == "power cable"]
        assert all(plain(one["size"]) in plain(cable["results"]["size"]) for one in bought)
    if plan.candidate.layout is not None:
        chosen = plan.candidate.layout.plan
        listed = data["channel-map"]["results"]["groupings"]
        (same,) = [one for one in listed if one["grouping"] == chosen.name]
        for use, other in zip(chosen.uses, same["uses"], strict=True):
            assert other["outputs"] == ["+".join(map(str, one)) for one in use.outputs]
            assert other["power_w"] == use.power.best
            assert other["load_ohm"] == use.load_ohm
    for name, entry in data.items():
        calculator = CALCULATORS[name]
        assert isinstance(entry, dict) == (name in ONCE)
        for one in [entry] if name in ONCE else entry:
            if one["results"] is None:
                assert one["missing"]
                continue
            given = {
                key: calculator.form.by_key[key].write(read_back(calculator, key, value))
                for key, value in one["inputs"].items()
            }
            given = {key: text for key, text in given.items() if text}
            for group in calculator.alternatives:
                given |= {key: "" for key in group if one["inputs"][key] is None}
            empty = {key: "" for key, value in one["inputs"].items() if value in (None, [])}
            again = answer_data(calculator.answer({**empty, **given}))
            assert json.loads(json.dumps(again["inputs"])) == one["inputs"]
            assert json.loads(json.dumps(again["results"])) == one["results"]


def plain(text):
    return text.replace("\u202f", " ")


def read_back(calculator, key, value):
    """Return a JSON input as the value that the field writes."""
    field = calculator.form.by_key[key]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [
            {
                column.key: tuple(row[column.key].split("+"))
                if column.kind == "choice" and hasattr(column, "words") and row[column.key]
                else row[column.key]
                for column in field.columns
            }
            for row in value
        ]
    return value


def test_ranking_puts_verdicts_first_and_keeps_the_order_of_equals():
    job, _, rng = case("ranking")
    shelf = [random_amplifier(rng, str(at)) for at in range(12)]
    ranked = ranking([Judge(job, one, WEIGHTS).best() for one in shelf])
    states = [["suitable", "not known", "unsuitable"].index(one.state) for one in ranked]
    assert states == sorted(states)
    twins = [{**shelf[0], "name": name} for name in "cab"]
    ranked = ranking([Judge(job, one, WEIGHTS).best() for one in twins])
    assert [one.name for one in ranked] == ["c", "a", "b"]


# ---- wiring


@given(st.sampled_from([1, 2]), st.sampled_from([1, 2]), st.sampled_from([1.0, 2.0, 4.0]))
@settings(deadline=None)
def test_a_wiring_keeps_the_energy_of_its_speakers(count, coils, ohm):
    """At one volt-amp balance: n drivers in a load R take V²/R together, each the n-th part; the
    level rises with the pressure of n sources in step and the root of each one's power."""
    text = f"w,woofer,{count},{coils},{ohm},100,,85,,2,120,,,,"
    job = job_of(speakers=text, networks="", head_filters="")
    (feed,) = job.feeds
    for one in wirings(feed):
        parallel = ohm / coils
        each_w = 2.83**2 / one.load_ohm / one.drivers
        alone_w = 2.83**2 / parallel
        pressure = one.drivers * (each_w / alone_w) ** 0.5
        expected = 85 + 20 * math.log10(pressure)
        assert sensitivity(feed, one) == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize(
    ("drivers", "coils", "ohm", "loads"),
    [
        (1, 1, 4, {4}),
        (1, 2, 4, {2, 8}),
        (2, 1, 4, {2, 8}),
        (2, 2, 4, {1, 4, 16}),
        (4, 1, 8, {2, 8, 32}),
    ],
)
def test_even_loads_are_those_of_series_and_parallel(drivers, coils, ohm, loads):
    """Series–parallel of like coils: n·R, R/n and, for squares, R (textbook)."""
    assert set(even_loads(drivers, coils, float(ohm))) == loads


def test_woofers_in_parallel_on_one_output_are_not_counted_twice():
    job = job_of(speakers="w,woofer,2,2,4,100,,85,,2,120,,,,", networks="", head_filters="")
    found = wirings(job.feeds[0])
    assert found == (
        Wiring(load_ohm=2.0, units=2, drivers=1),
        Wiring(load_ohm=8.0, units=2, drivers=1),
        Wiring(load_ohm=16.0, units=1, drivers=2),
    )


# ---- the example


def test_the_lantern_van_is_what_its_chapters_say():
    """Two doors of 50 W and woofers of 150 W in all: the figures of the chapter on bridging."""
    job = Job(FORM.read({}))
    found = Judge(job, job.given["amplifier"][0], WEIGHTS).best()
    assert found.state == "suitable"
    assert found.layout.total_w == pytest.approx(250)
    channel = Channel(power_4ohm_w=50, power_2ohm_w=75)
    assert found.layout.plan.uses[0].power.best == pytest.approx(channel.power(load_ohm=4).best)


def test_a_missing_figure_is_never_a_pass():
    job = Job(FORM.read({}))
    whole = job.given["amplifier"][0]
    for key in (
        "channels",
        "power_4ohm_w",
        "min_channel_ohm",
        "sensitivity_max_v",
        "width_mm",
        "level_control",
        "front_face",
    ):
        found = Judge(job, {**whole, key: None}, WEIGHTS).best()
        assert found.state == "not known", key
        assert state_of(found.checks) == "not known"


@pytest.mark.parametrize("key", ["alternator_a", "power_m", "bay_width_mm", "source_v"])
def test_a_figure_that_the_system_lacks_is_never_a_pass(key):
    job = Job({**FORM.read({}), key: None})
    found = Judge(job, job.given["amplifier"][0], WEIGHTS).best()
    assert found.state == "not known"


def test_all_combinations_of_wishes_agree_with_the_features():
    whole = FORM.read({})["amplifier"][0]
    for wish, has in product(("must", "wish", "any"), (True, False, None)):
        job = job_of(cover=wish)
        found = Judge(job, {**whole, "cover": has}, WEIGHTS).best()
        expected = "suitable"
        if wish == "must" and has is not True:
            expected = "not known" if has is None else "unsuitable"
        assert found.state == expected, (wish, has)

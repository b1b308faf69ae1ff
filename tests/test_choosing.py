"""The choice of an amplifier: the search against all layouts tried one by one, and bounds."""

from dataclasses import replace
from itertools import product

import pytest
from choosing_systems import (
    HAZEL,
    READ,
    VAN,
    WEIGHTS,
    best_of,
    case,
    changed,
    job_of,
)
from conftest import each, sampled

from calc.bridging.mapping import Plan, Use
from calc.choosing.bounds import first_verdict
from calc.choosing.candidates import layout_rank, state_of
from calc.choosing.installed import installed, missing_plate
from calc.choosing.layouts.arrangements import Layout, banks_of, layouts
from calc.choosing.layouts.feeds import Job
from calc.choosing.layouts.wirings import wirings
from calc.choosing.search import Judge
from calc.physics.channel_power import Channel, groupings, rated_or_bridged_power

SEEDS = sampled(range(120), range(12))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_best_plan_is_the_best_of_all_layouts_each_judged_alone(seed):
    """Nothing is shared between layouts here, and the order is that of sorting them all."""
    job, amplifier, _ = case(seed)
    best = best_of(job, amplifier)
    judge = Judge(job, amplifier, WEIGHTS)
    every = [Judge(job, amplifier, WEIGHTS).of_layout(layout) for layout in judge.layouts]
    if not every:
        assert best.layout is None
        return
    all_fail = all(candidate.state == "unsuitable" for candidate in every)
    if all_fail and best.state == "not known":  # a better plate than the usual one would do
        assert best_of(job, judge.loosest.given).state != "unsuitable"
        return
    assert layout_rank(best) == sorted(map(layout_rank, every))[0]
    assert (best.state == "unsuitable") == all_fail


def handed_out(feeds, chosen, grouping, rated):
    """Yield every way to hand the outputs of a grouping to feeds: each output to any one of
    them or to none, kept where the count, the width and the load are right."""
    channel = rated.channel
    for owners in product(range(-1, len(feeds)), repeat=len(grouping)):
        uses = []
        for number, (feed, wiring) in enumerate(zip(feeds, chosen, strict=True)):
            section = wiring.section(feed)
            outputs = tuple(
                output for output, owner in zip(grouping, owners, strict=True) if owner == number
            )
            widths = {len(output) for output in outputs}
            if len(widths) != 1 or section.speakers % len(outputs):
                break
            load = section.load_ohm * len(outputs) / section.speakers
            if not channel.takes(load_ohm=load / len(outputs[0])):
                break
            power = channel.power(load_ohm=load)
            if len(outputs[0]) == 2:
                power = rated_or_bridged_power(channel, load_ohm=load)
            uses.append(
                Use(
                    section=section,
                    outputs=outputs,
                    load_ohm=load,
                    power=power.times(rated.supply_factor),
                )
            )
        else:
            yield Plan(grouping=grouping, uses=tuple(uses))


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_no_other_assignment_of_outputs_is_better(seed):
    """All assignments, left and right split over two pairs included: none ranks higher."""
    job, amplifier, rng = case(f"assignment {seed}")
    amplifier = replace(amplifier, channels=rng.choice([2, 3, 4]))
    amplifier = replace(amplifier, filters=unlike_filters(rng))
    judge = Judge(job, amplifier, WEIGHTS)
    usual = judge.amplifier
    if missing_plate(usual):
        return
    (bank,) = banks_of(job, judge.installed)
    every = [
        judge.of_layout(Layout(variant, judge.installed, chosen, plan))
        for variant in job.variants
        for chosen in product(*map(wirings, variant.feeds))
        for grouping in groupings(usual.channels)
        for plan in handed_out(variant.feeds, chosen, grouping, bank)
    ]
    # Left and right in one is no layout, but where there is no other to show what is lacking.
    every = [one for one in every if not one.layout.is_mono] or every
    best = judge.best()
    assert (best.layout is None) == (not every)
    if every:
        assert layout_rank(best) == min(map(layout_rank, every))


def unlike_filters(rng):
    """Return an amplifier's filters, unlike on its two pairs."""
    kinds = ["high-pass", "low-pass"]
    cells = [
        f"{pair} {kind} 50-250 1 butterworth 2 {pair[0]} yes"
        for pair in ("1/2", "3/4")
        for kind in rng.sample(kinds, rng.choice([0, 1, 2]))
    ]
    return READ["filters"](" | ".join(cells) or "none")


def test_the_first_row_goes_on_the_second_pair_where_only_that_one_has_its_filter():
    """Fronts need a high-pass and woofers a low-pass; the amplifier has them the other way
    round.  On the first free outputs it would be unsuitable."""
    job = job_of(
        speakers="fronts,full-range,2,1,4,60,,90,80,2,,,front,,;w,woofer,2,1,4,60,,86,,2,120,,,,",
        networks="",
        head_filters="",
    )
    cells = "1/2 low-pass 50-250 1 butterworth 2 A yes | 3/4 high-pass 50-250 1 butterworth 2 B yes"
    best = best_of(job, replace(HAZEL, filters=READ["filters"](cells)))
    assert best.state == "suitable"
    fronts, woofers = best.layout.plan.uses
    assert fronts.outputs == ((3,), (4,))
    assert {channel for output in woofers.outputs for channel in output} == {1, 2}


def brute_force_carries(job, amplifier):
    """Tell by trying every way to hand out outputs whether some layout carries the job: loads
    by Ohm's law alone, no code of the chapters."""
    least = amplifier.min_channel_ohm * (1 - 1e-9)

    def units(feed):
        coils, ohm = feed.speaker.coils, feed.speaker.coil_ohm
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
                outputs = [output for output in free if len(output) == width]
                for used in range(1, min(len(outputs), count) + 1):
                    if count % used or load / (count // used) / width < least:
                        continue
                    if load < least:
                        continue
                    rest = [output for output in free if output not in outputs[:used]]
                    if place(feeds[1:], rest):
                        return True
        return False

    return any(place(job.feeds, list(grouping)) for grouping in groupings(amplifier.channels))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_layout_is_found_exactly_when_outputs_can_be_handed_out(seed):
    job, amplifier, _ = case(f"outputs {seed}")
    if missing_plate(amplifier):
        return
    together = installed(amplifier)
    assert any(layouts(job, together)) == brute_force_carries(job, together.amplifier)


def test_without_a_figure_of_the_plate_there_is_no_layout():
    job, amplifier, _ = case("outputs")
    assert not list(layouts(job, installed(replace(amplifier, power_4ohm_w=None))))


@pytest.mark.parametrize("seed", sampled(range(400), range(40)))
def test_a_first_verdict_is_never_overturned(seed):
    job, amplifier, _ = case(f"bounds {seed}")
    first = first_verdict(Judge(job, amplifier, WEIGHTS))
    if first is None:
        return
    state, check = first
    assert state == check.state == "unsuitable"
    assert best_of(job, amplifier).state == state


def test_first_verdicts_are_found_for_many():
    firsts = [first_verdict(Judge(*case(f"bounds {seed}")[:2], WEIGHTS)) for seed in range(60)]
    assert 10 < sum(first is not None for first in firsts) < 60


# ---- the example


def test_the_lantern_van_is_what_its_chapters_say():
    """Two doors of 50 W and woofers of 150 W in all: the figures of the chapter on bridging."""
    best = best_of(Job(VAN.system), HAZEL)
    assert best.state == "suitable"
    assert best.layout.total_w == pytest.approx(250)
    channel = Channel(power_4ohm_w=50, power_2ohm_w=75)
    assert best.layout.plan.uses[0].power.best == pytest.approx(channel.power(load_ohm=4).best)


LACKING = {
    # Never assumed.
    "power_4ohm_w": "not known",
    # A must, and how large it is: nobody can say.
    "level_control": "not known",
    "width_mm": "not known",
    # Usual figures.
    "channels": "likely",
    "sensitivity_max_v": "likely",
    "fuses_a": "likely",
    "filters": "likely",
    "quiescent_a": "likely",
    # The power at 2 Ω, which is printed, proves it.
    "min_channel_ohm": "suitable",
    # What nobody knows decides nothing.
    "idle_w": "suitable",
    "front_face": "suitable",
}


@each("key", LACKING)
def test_an_amplifier_without_a_figure_is_what_the_usual_figures_allow(key):
    best = best_of(Job(VAN.system), replace(HAZEL, **{key: None}))
    assert best.state == state_of(best.checks) == LACKING[key]


@pytest.mark.parametrize(
    ("key", "state"),
    [
        ("alternator_a", "likely"),
        ("power_m", "likely"),
        ("source_v", "likely"),
        ("bay_width_mm", "not known"),
    ],
)
def test_a_system_without_a_figure_is_never_simply_suitable(key, state):
    """How large a place is that is told in part cannot be guessed."""
    job = changed(Job(VAN.system), {key: None})
    assert best_of(job, HAZEL).state == state


def test_all_combinations_of_wishes_agree_with_the_features():
    for wish, has in product(("must", "wish", "any"), (True, False, None)):
        best = best_of(job_of(cover=wish), replace(HAZEL, cover=has))
        expected = "suitable"
        if wish == "must" and has is not True:
            expected = "not known" if has is None else "unsuitable"
        assert best.state == expected, (wish, has)


def test_a_power_that_is_only_bounded_ranks_by_the_least_that_it_may_be():
    """On one channel at 2 Ω the woofer gets 60 to 120 W, bridged at 8 Ω certainly 120 W."""
    job = job_of(
        speakers="fronts,full-range,2,1,4,60,,90,80,2,,,front,1,4;w,woofer,1,2,4,250,,86,,2,120",
        networks="", head_filters="",
    )  # fmt: skip
    amplifier = replace(HAZEL, power_4ohm_w=60.0, power_2ohm_w=None, rated_bridged_w=180.0)
    best = best_of(job, amplifier)
    woofer = best.layout.plan.uses[-1]
    assert woofer.outputs == ((3, 4),)
    assert woofer.power.best == pytest.approx(120)

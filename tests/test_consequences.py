"""What a wrong figure would do to a customer: too thin a cable, a filter too much, bad advice."""

from dataclasses import replace

import pytest
from asking import results
from choosing_systems import HAZEL, VAN, WEIGHTS, best_of, changed, check_of, job_of

from calc.app.contents import CALCULATORS
from calc.choosing.candidates import Weights, price_share
from calc.choosing.layouts.feeds import Job
from calc.choosing.remedies import advised
from calc.choosing.search import Judge
from calc.inputs.declared import fields_of

# ---- cable


@pytest.mark.parametrize("own_a", [15, 25, 40])
def test_the_cable_bears_full_power_even_where_the_amplifiers_own_fuses_are_small(own_a):
    """400 W at 60 % and 14.4 V draw 46.3 A; a fuse may bear more than its rating for long.

    The thinnest cable that bears it: 4 mm² by the table (4 AWG … 18 AWG), 2.5 mm² bears 34 A.
    """
    asked = {"total_power_w": 400, "efficiency_percent": 60, "supply_v": 14.4, "length_m": 0.5,
             "duty": "normal", "amp_fuses_a": own_a}  # fmt: skip
    found = results("power-cable", **asked)
    assert found["current_full_a"] == pytest.approx(400 / 0.6 / 14.4)
    assert found["fuse_a"] == own_a
    assert found["size_mm2"] == 4
    assert found["permitted_a"] >= found["current_full_a"]


def test_a_cable_for_several_bears_the_full_power_of_all_where_the_fuse_is_small():
    found = results(
        "cable-tree",
        runs="battery,split,0.5;split,a,0.5;split,b,0.5", loads="a,200;b,200",
        efficiency_percent=60, supply_v=14.4, duty="normal", amp_fuses_a="15",
    )  # fmt: skip
    first, *branches = found["runs"]
    assert first["fuse_a"] is None or first["fuse_a"] < 400 / 0.6 / 14.4
    for run, power in ((first, 400), (branches[0], 200), (branches[1], 200)):
        assert run["permitted_a"] >= power / 0.6 / 14.4


def test_a_plans_cable_is_for_the_outputs_of_all_speakers_together():
    """Four channels of 100 W each: 400 W, whatever the speakers are rated for."""
    speakers = ";".join(
        f"{name},full-range,2,1,4,{rated},,90,60,2,,,front,1,4"
        for name, rated in (("fronts", 33), ("rears", 32))
    )
    job = job_of(speakers=speakers, networks="", head_filters="")
    amplifier = replace(HAZEL, power_4ohm_w=100.0, power_2ohm_w=None, may_be_bridged=False)
    layout = Judge(job, amplifier, WEIGHTS).best().layout
    assert layout.total_w == pytest.approx(400)


# ---- advice


@pytest.mark.parametrize("needed", [1, 2, 3, 4])
def test_an_advised_filter_is_no_steeper_than_the_speaker_asks_for(needed):
    """Each order more is one part more to buy in each channel; one order less protects too little.

    The tweeters' maker asks for the order, the amplifier has no filter for them.
    """
    job = job_of(
        speakers=f"tweeters,tweeter,2,1,4,40,30,92,2500,{needed},,,front,1.1,4.5;"
        "mid-basses,mid-bass,2,1,4,80,40,90,60,2,4500,,front,1.3,5",
        networks="", head_filters="",
    )  # fmt: skip
    said = advised(Judge(job, HAZEL, WEIGHTS)).near_miss
    assert f", {6 * needed} dB/octave, between tweeters and mid-basses" in said


@pytest.mark.parametrize("needed", [1, 2, 3, 4])
def test_a_head_unit_is_asked_for_no_steeper_a_filter_either(needed):
    """Tweeters alone have no neighbour to share a passive network with."""
    job = job_of(
        speakers=f"tweeters,tweeter,2,1,4,40,30,92,2500,{needed},,,front,1.1,4.5",
        networks="", head_filters="",
    )  # fmt: skip
    said = advised(Judge(job, HAZEL, WEIGHTS)).near_miss
    assert f"{6 * needed} dB/octave, for front" in said


@pytest.mark.parametrize("ohm", [2, 4, 8])
def test_speakers_of_the_next_usual_impedance_are_advised_up_to_16_ohms(ohm):
    """Speakers are sold with 2, 4, 8 and 16 Ω; the channel's lowest load is twice what is there."""
    job = job_of(
        speakers=f"fronts,full-range,2,1,{ohm},90,1,90,60,2,,,front,1,4",
        networks="", head_filters="",
    )  # fmt: skip
    said = advised(Judge(job, replace(HAZEL, min_channel_ohm=2.0 * ohm), WEIGHTS)).near_miss
    assert said.startswith(f"Would work with fronts of {2 * ohm} Ω instead of {ohm} Ω: ")


def test_no_speakers_of_32_ohms_are_advised():
    job = job_of(
        speakers="fronts,full-range,2,1,16,90,1,90,60,2,,,front,1,4", networks="", head_filters=""
    )
    said = advised(Judge(job, replace(HAZEL, min_channel_ohm=32.0), WEIGHTS)).ways
    assert said and not any("32 Ω" in words for words, _ in said)


# ---- price


def test_a_price_is_worth_what_the_form_says():
    fields = CALCULATORS["amplifier-choice"].form.by_key
    assert fields["weight_price"].hint == "1 at no cost, a half at 250."
    assert price_share(0) == 1
    assert price_share(250) == 0.5
    assert price_share(750) == 0.25  # three times as much over: half of a half


def test_the_price_counts_as_much_as_is_said():
    """With the price as the only weight, one of 250 ranks half as high as a gift."""
    nothing = dict.fromkeys(fields_of(Weights), 0.0)
    only = Weights(**{**nothing, "weight_price": 1.0})
    job = Job(VAN.system)
    found = {
        price: Judge(job, replace(HAZEL, price=price), only).best().score
        for price in (0.0, 250.0, None)
    }
    assert found[250.0] == pytest.approx(found[0.0] / 2)
    assert found[None] == 0


# ---- what is not known


@pytest.mark.parametrize(
    ("fuses", "supply"), [(None, "likely"), ("25", "suitable"), ("100", "likely")]
)
def test_the_amplifiers_own_fuses_say_how_bad_its_efficiency_may_be(fuses, supply):
    """250 W out of 25 A at 14.4 V (360 W in) is 69 % at least; without fuses, 75 % is usual.

    At one eighth of 250 W that is 3.1 A: 48 A of an alternator at idle bear it beside the vehicle.
    """
    job = changed(Job(VAN.system), {"alternator_a": 48.0})
    amplifier = replace(HAZEL, efficiency_percent=None, fuses_a=fuses)
    assert check_of(best_of(job, amplifier), "supply").state == supply


def test_a_cable_that_is_too_long_is_advised_shorter_and_no_shorter_than_needed():
    """Three quarters, a half or a quarter of the way; asked again with what is advised."""
    speakers = tuple(replace(speaker, rated_w=2000.0) for speaker in VAN.system.speakers)
    amplifier = replace(HAZEL, power_4ohm_w=500.0, power_2ohm_w=None, fuses_a="200")

    def judged(power_m):
        values = {"power_m": power_m, "alternator_a": 400.0, "speakers": speakers}
        return advised(Judge(changed(Job(VAN.system), values), amplifier, WEIGHTS))

    assert judged(20.0).near_miss == "Would work with a power cable no longer than 10 m."
    assert judged(10.0).state == "suitable"
    assert judged(15.0).state == "unsuitable"

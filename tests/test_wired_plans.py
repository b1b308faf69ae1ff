"""The drawing of a plan joins what the plan's channel table says, for every customer's system."""

import pytest
from choosing_systems import WEIGHTS, amplifier_of_texts, job_of
from conftest import ROOT, each
from test_wired_drawing import check, forms
from wired_follower import Followed

from calc.answers.figures import quantity
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.fit_plan.solve import solve
from calc.choosing.plan import plan_of
from calc.choosing.search import Judge
from calc.choosing.wired.layout import whole_drawings
from calc.choosing.wired.of_plan import wired_of
from calc.system.files.system_file import read_system

SYSTEMS = sorted((ROOT / "tests" / "customers").glob("*.toml"))
SYSTEMS += sorted((ROOT / "shared" / "systems").glob("*.toml"))
FOUR = {
    "name": "Hazel 4-75", "channels": "4", "power_4ohm_w": "75", "power_2ohm_w": "110",
    "rated_bridged_w": "220", "min_channel_ohm": "2", "trigger": "yes", "may_be_bridged": "yes",
    "sensitivity_min_v": "0.2", "sensitivity_max_v": "9", "amplifier_class": "d",
}  # fmt: skip
MONO = {
    **FOUR, "name": "Rowan 1-400", "channels": "1", "power_4ohm_w": "240", "power_2ohm_w": "400",
    "may_be_bridged": "no", "rated_bridged_w": "",
}  # fmt: skip
FRONTS = "fronts,components,2,1,4,90,,90,80,2,,,front,1,4"
REARS = "rears,full-range,2,1,4,60,,89,80,2,,,rear,,5"
SUB = "sub,woofer,1,2,2,300,,86,,2,120,,sub,2,2"


def plan_of_file(path):
    """Return the plan of a system file; None without an amplifier."""
    texts = read_system(path.read_text(encoding="utf-8"))
    return solve(FIT_PLAN.build(FIT_PLAN.form.read(*texts))).plan


def plan_with(*amplifiers, later=(), **texts):
    """Return the plan of fronts, rears and a subwoofer with amplifiers as texts."""
    usual = {
        "speakers": f"{FRONTS};{REARS};{SUB}", "networks": "", "head_filters": "",
        "kind": "replacement", "source_v": "4", "power_m": "5", "trigger_available": "yes",
        "bay_width_mm": "", "bay_depth_mm": "", "bay_height_mm": "", "closed": "no",
    }  # fmt: skip
    job = job_of(**{**usual, **texts})
    made = tuple(map(amplifier_of_texts, amplifiers))
    coming = tuple(map(amplifier_of_texts, later))
    return plan_of(job, Judge(job, made, WEIGHTS).best(), coming)


PLANS = {
    "one for each": lambda: plan_with(FOUR, MONO),
    "three": lambda: plan_with(FOUR, {**FOUR, "name": "Alder 4-50"}, MONO),
    "joined": lambda: plan_with(FOUR, layout="joined"),
    "on the radio": lambda: plan_with(FOUR, layout="radio"),
    "by a relay": lambda: plan_with(FOUR, MONO, trigger_available="no"),
    "factory radio": lambda: plan_with(
        FOUR, MONO, kind="factory", source_v="", factory_power_w="18", trigger_available="no"
    ),
    "high level": lambda: plan_with(
        {**FOUR, "high_level_min_v": "1", "high_level_max_v": "12", "sensitivity_min_v": ""},
        kind="factory", source_v="", factory_power_w="18", speakers=f"{FRONTS};{REARS}",
    ),
    "return by cable": lambda: plan_with(FOUR, MONO, **{"return": "cable"}),
    "one for later": lambda: plan_with(FOUR, later=(MONO,), speakers=f"{FRONTS};{REARS}"),
}  # fmt: skip


def keys(plan):
    return {part.at: f"amp{part.at + 1}" for part in plan.candidate.parts}


def of_table(plan):
    """Yield the terminals of every row with the speakers' terminals that they lead to."""
    for channel in plan.channels:
        key = keys(plan)[channel.part]
        for own, ends in ((channel.plus, channel.plus_to), (channel.minus, channel.minus_to)):
            if channel.wiring is None:  # a single speaker, or pairs joined: on every one of them
                ends = [end for end in ends for _ in channel.loads]
            yield f"{key}.{own}", sorted(ends)


def own_name(pin, plan):
    """Return the name that a load's pin has in the table: a single coil's is `1a+`."""
    load, _, name = pin.rpartition(".")
    row = next(row for row in rows_by_load(plan) if load.startswith(row[0]))
    if row[1].wiring is not None and len(name) == 1:
        return f"{load.rpartition('-')[2]}a{name}"
    return name


def rows_by_load(plan):
    counts = {}
    for channel in plan.channels:
        at = counts[channel.part] = counts.get(channel.part, 0) + 1
        yield f"{keys(plan)[channel.part]}-load{at}-", channel


def follow(plan):
    """Check the drawing of a plan: by its own data, and by the channel table alone."""
    wired = wired_of(plan)
    check(wired)
    groups = Followed(forms(wired)["whole"]).groups()
    for terminal, ends in of_table(plan):
        group = next(group for group in groups if terminal in group)
        others = group - {terminal}
        if f"{terminal} C.a" in others:
            (others,) = [one - {f"{terminal} C.b"} for one in groups if f"{terminal} C.b" in one]
        assert sorted(own_name(pin, plan) for pin in others) == ends, terminal
    return wired


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_a_customers_system_is_drawn_as_its_table_says(path):
    plan = plan_of_file(path)
    if plan is None or not plan.channels:
        return
    wired = follow(plan)
    assert {pin.key for body in wired.amplifiers for pin in body.inputs} >= {"+12", "gnd"}


@each("name", PLANS)
def test_a_plan_of_any_arrangement_is_drawn_as_its_table_says(name):
    follow(PLANS[name]())


def test_what_nothing_may_be_connected_by_is_not_drawn():
    plan = plan_of_file(ROOT / "tests" / "customers" / "unknown-filters.toml")
    assert plan.stop
    with pytest.raises(ValueError, match="nothing can be connected"):
        wired_of(plan)


def test_joined_pairs_hang_on_one_output_side_by_side():
    wired = wired_of(PLANS["joined"]())
    first, second = (output.loads for output in wired.bodies[0].outputs[:2])
    assert [load.name for load in first] == ["fronts left", "rears left"]
    assert [load.kind for load in second] == ["set", "speaker"]


def test_a_pair_left_on_the_radio_is_drawn_at_the_radio():
    wired = wired_of(PLANS["on the radio"]())
    own = wired.bodies[-1]
    assert own.kind == "radio"
    assert [output.loads[0].name for output in own.outputs] == ["rears left", "rears right"]


def test_a_relay_takes_its_own_branch_of_the_block_and_feeds_every_remote_terminal():
    wired = wired_of(PLANS["by a relay"]())
    ends = [lead.end for lead in wired.leads if lead.start == "relay.87"]
    assert ends == ["amp1.rem", "amp2.rem"]
    assert [lead.start for lead in wired.leads if lead.end == "relay.86"] == ["feed.12"]
    assert wired.power.branches[0].end == "relay.30"
    assert wired.power.branches[0].fuse


def test_high_level_leads_come_two_for_each_channel():
    wired = wired_of(PLANS["high level"]())
    assert sum(lead.kind.startswith("high") for lead in wired.leads) == 8
    assert not any(lead.kind == "rca" for lead in wired.leads)


def test_a_converter_stands_between_a_factory_radio_and_line_inputs():
    wired = wired_of(PLANS["factory radio"]())
    radio, converter = wired.sources[:2]
    assert radio.outlets == converter.inlets
    assert len(radio.outlets) == 6
    assert all(lead.start.startswith("loc") or lead.start.startswith("converter")
               for lead in wired.leads if lead.kind == "rca")  # fmt: skip


def test_an_amplifier_for_later_has_a_free_place_and_no_leads():
    wired = wired_of(PLANS["one for later"]())
    (later,) = [body for body in wired.bodies if body.kind == "later"]
    assert [b.is_later for b in wired.power.branches] == [False, True]
    assert not any(lead.end.startswith(later.key) for lead in wired.leads)


def test_the_figures_of_the_drawing_are_those_of_the_plan():
    plan = plan_of_file(ROOT / "shared" / "systems" / "lantern-van.toml")
    cable = next(q.result for q in plan.questions if q.calculator.name == "power-cable")
    kit = next(q.result for q in plan.questions if q.calculator.name == "kit-list")
    texts = [one.text for one in whole_drawings(wired_of(plan))[0].svg if one.tag == "text"]
    assert quantity(cable.fuse.rating_a, "A") in texts
    assert cable.kit.size.words in texts
    leads = plan.job.system.leads
    assert f"{quantity(leads.power_m, 'm')}, OFC" in texts
    for lead, route in zip(kit.leads, kit.job.of("speaker"), strict=True):
        assert f"{lead.size.words}, {quantity(route.length_m, 'm')}" in texts


def test_where_the_main_run_is_to_be_measured_its_metal_gives_way_and_no_word_is_cut():
    drawn = forms(wired_of(plan_with(FOUR, MONO, power_m="")))
    for form in ("whole", "supply", "supply on paper"):
        texts = [one.text for one in drawn[form] if one.tag == "text"]
        assert any(text.startswith("measure") for text in texts), form
        assert [text for text in texts if text.endswith("…")] == [], form

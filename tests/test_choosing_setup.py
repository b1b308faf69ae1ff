"""What a plan says of setting up: tones that the plan's own filters pass, and what is measured."""

import random
from dataclasses import replace

import pytest
from choosing_systems import HAZEL, READ, best_of, job_of, random_amplifier, random_job
from conftest import ROOT, sampled

from calc.app.contents import CALCULATORS
from calc.choosing.plan import plan_of
from calc.inputs.errors import InputError
from calc.system.files.system_file import read_system


def plan_for(job, amplifier):
    return plan_of(job, best_of(job, amplifier))


def passed(setting, hz):
    """Power that a filter passes: Butterworth's, which Linkwitz–Riley's of the same order has
    at most (-6 dB in place of -3 dB at the corner)."""
    ratio = setting.frequency_hz / hz
    if setting.kind == "low-pass":
        ratio = 1 / ratio
    if setting.family == "linkwitz-riley":
        return 1 / (1 + ratio**setting.order) ** 2
    return 1 / (1 + ratio ** (2 * setting.order))


@pytest.mark.parametrize("seed", sampled(range(80), range(10)))
def test_the_tone_for_the_gain_is_one_that_the_filters_pass(seed):
    """A tone that a filter takes away would have the gain turned up far too high."""
    rng = random.Random(f"tone {seed}")
    job, amplifier = random_job(rng), random_amplifier(rng, missing=0)
    plan = plan_for(job, amplifier)
    if plan.candidate.layout is None:
        return
    if plan.split.verdict.state != "suitable":
        return  # where filters eat a whole band, no tone passes
    settings = [made for made in plan.split.result.settings if made.box != "passive"]
    tones = {
        question.about: question.inputs.tone_hz
        for question in plan.questions
        if question.calculator.name == "gain-voltage" and question.inputs is not None
    }
    for feed, _, use in plan.candidate.layout.uses:
        if feed.name not in tones:
            continue
        channels = {channel for output in use.outputs for channel in output}
        share = 1.0
        for made in settings:
            if made.frequency_hz is not None and channels & made.channels:
                share *= passed(made, tones[feed.name])
        assert share > 0.78  # a decibel


def active(**changed):
    calculator = CALCULATORS["fit-plan"]
    texts, errors = read_system((ROOT / "shared/systems/active-front.toml").read_text("utf-8"))
    assert not errors
    shelf = (ROOT / "shared/systems/shelf.csv").read_text("utf-8")
    return calculator.answer({**texts, "shelf": shelf, **changed}).sheet


def test_a_tweeter_behind_its_capacitor_is_expected_to_read_open():
    for capacitor, path in (("yes", "capacitor"), ("no", "direct")):
        results = active(tweeter_capacitor=capacitor).results
        rows = results["commissioning"]["inputs"]["outputs"]
        assert {row["path"] for row in rows if row["name"].startswith("tweeters")} == {path}


def test_a_meter_for_high_tones_clears_the_step_of_setting_up():
    verdicts = [
        {step["step"]: step["verdict"] for step in active(meter_top_hz=top).results["steps"]}
        for top in ("400", "20000")
    ]
    assert [verdict["Set up"] for verdict in verdicts] == ["unsuitable", "suitable"]


def test_a_short_band_has_its_tone_in_the_middle():
    job = job_of(
        speakers="mids,mid-bass,2,1,4,60,,90,300,2,600,,front,1,4", networks="", head_filters=""
    )
    cells = (
        "1/2 high-pass 300 1 butterworth 2 - no | 1/2 low-pass 600 1 butterworth 2 - no | "
        "3/4 high-pass 300 1 butterworth 2 - no | 3/4 low-pass 600 1 butterworth 2 - no"
    )
    plan = plan_for(job, replace(HAZEL, filters=READ["filters"](cells)))
    (gain,) = [asked for asked in plan.questions if asked.calculator.name == "gain-voltage"]
    assert gain.inputs.tone_hz == round((300 * 600) ** 0.5)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "not a system file"),
        ("# nothing\n", "not a system file"),
        ('fruit = "pear"', "not a system file"),
        ("name,channels,price\nA,4,100\n", "Open a stock list on"),
        ("name;channels\nA;4\n", "Open a stock list on"),
        ("Hello there", "not TOML"),
    ],
)
def test_a_file_of_another_kind_is_refused_whole(text, message):
    with pytest.raises(InputError, match=message):
        read_system(text)


@pytest.mark.parametrize(
    ("outputs", "leads"),
    [(("front", "front"), 2), (("front", "rear"), 0), (("front", ""), None), (("", ""), None)],
)
def test_one_output_for_two_pairs_of_inputs_takes_y_leads(outputs, leads):
    """Each output is a pair of plugs, each pair of channels a pair of inputs: a law of counting."""
    rows = [
        f"{name},full-range,2,1,4,60,,90,80,2,,,{output},1,4"
        for name, output in zip(("fronts", "rears"), outputs, strict=True)
    ]
    job = job_of(speakers=";".join(rows), networks="", head_filters="", source_v="4")
    plan = plan_for(job, HAZEL)
    (question,) = [asked for asked in plan.questions if asked.calculator.name == "kit-list"]
    results = question.answer.sheet.results
    counts = [item["quantity"] for item in results["items"] if item["item"].startswith("Y-lead")]
    missing = [line for line in results["missing"] if "Y-leads" in line]
    # What is not known leaves its line open, and the line stands all the same.
    expected = [leads] if leads or leads is None else []
    assert (counts, len(missing)) == (expected, 1 if leads is None else 0)


def test_a_factory_head_unit_s_speaker_leads_are_in_the_kit_and_no_plugs():
    calculator = CALCULATORS["fit-plan"]
    start = next(start for start in calculator.starts if "hatchback" in start.label)
    results = calculator.answer(start.texts).sheet.results
    assert results["signal-chain"]["results"]["input"] == "high-level"
    items = results["kit-list"]["results"]["items"]
    (lead,) = [item for item in items if item["item"].startswith("speaker-level (high-level) lead")]
    (grouping,) = results["channel-map"]["results"]["groupings"]
    outputs = [output for use in grouping["uses"] for output in use["outputs"]]
    assert lead["quantity"] == len(set(outputs)) == 4
    # As long as the RCA leads, with the slack.
    assert lead["length_m"] == pytest.approx(2.5 * 1.1)
    assert not [item for item in items if item["item"].startswith(("RCA lead", "Y-lead"))]
    assert results["kit-list"]["results"]["missing"] == []

"""A DSP that filters every output: said with one answer, asked for before all else, set in one box.

The active front stage, worked out by hand: tweeters 4 Ω, 60 W, safe from 3150 Hz at 12 dB per
octave; mid-bass 4 Ω, 100 W, from 80 Hz to 4500 Hz; a subwoofer of two coils of 2 Ω, 500 W.  A
four-channel of 90 W and a mono of 300 W at 4 Ω, of whose filters nothing is told.
"""

import re

import pytest
from arrangement_files import plan_of_text, sheet_of_text, words
from conftest import wait_ready, wait_until
from test_workshop import text_of

from calc.choosing.workshop import paper_of

KEY = "filters_every_output"
FRONT = """version = 2
[[speakers]]
name = "tweeters"
section = "tweeter"
count = 2
coil_ohm = 4
rated_w = 60
[[speakers]]
name = "mid-basses"
section = "mid-bass"
count = 2
coil_ohm = 4
rated_w = 100
"""
SUB = '[[speakers]]\nname = "sub"\nsection = "woofer"\ncoils = 2\ncoil_ohm = 2\nrated_w = 500\n'
SUB += 'count = 1\nenclosure = "sealed"\n'
HEAD = '[head_unit]\nkind = "processor"\nsource_v = 4\n'
FOUR = '[[amplifiers]]\nname = "Alder"\nchannels = 4\npower_4ohm_w = 90\n'
MONO = '[[amplifiers]]\nname = "Cedar"\nchannels = 1\npower_4ohm_w = 300\npower_2ohm_w = 500\n'
OWN = 'high_pass_hz = "{}"\nlow_pass_hz = "{}"\nfilter_db_per_octave = "12"\n'
BAND_PASS = ("1/2 high-pass 50-5000", "3/4 high-pass 50-500", "3/4 low-pass 50-5000")


def system(said="", four="", head=HEAD, listed=""):
    answer = f'{KEY} = "{said}"\n' if said else ""
    leads = "[leads]\npower_m = 4\nengine_space = true\n"
    return FRONT + SUB + head + answer + listed + leads + FOUR + four + MONO


def crossovers(plan):
    (check,) = [check for check in plan.candidate.checks if check.kind == "filters"]
    return check


def corners(plan):
    return {
        row.speaker: (row.high_pass_hz, row.low_pass_hz, {made.box for made in row.filters})
        for row in plan.channels
    }


def test_as_long_as_nobody_has_said_it_the_dsp_is_asked_for_and_nothing_is_connected():
    plan = plan_of_text(system())
    assert (crossovers(plan).state, crossovers(plan).keys) == ("not known", (KEY,))
    assert (
        plan.stop.startswith("Stop: no high-pass is known") and "whether the DSP has" in plan.stop
    )
    paper = paper_of(plan)
    assert paper.channels is None and paper.settings == ()
    assert any("oes the DSP have a high-pass" in ask for ask in paper.asks)
    assert not any("high-pass or low-pass" in ask for ask in paper.asks)


def test_a_dsp_that_has_them_makes_every_filter_and_the_amplifiers_make_none():
    """Tweeters from 4000 Hz, above 3150 Hz by the next step; the mid-bass from its 80 Hz, and the
    subwoofer up to there; all 24 dB per octave."""
    plan = plan_of_text(system("yes"))
    assert not plan.stop and crossovers(plan).state == "likely"
    assert corners(plan) == {
        "tweeters": (4000.0, None, {"head-unit"}),
        "mid-basses": (80.0, 4000.0, {"head-unit"}),
        "sub": (None, 80.0, {"head-unit"}),
    }
    assert {made.order for row in plan.channels for made in row.filters} == {4}
    paper = paper_of(plan)
    dsp, *amplifiers = paper.settings
    assert dsp.heading == "DSP"
    assert dict(dsp.rows)["HPF, tweeters"] == "4000\u202fHz, 24\u202fdB/oct"
    assert all(("HPF, LPF", "off: the DSP has them") in block.rows for block in amplifiers)
    assert any(ask.endswith("can its filters be switched off?") for ask in paper.asks)
    assert "HPF 4000\u202fHz" in text_of(paper.channels.rows[0][5].first)
    sheet = sheet_of_text(system("yes"))
    (filters,) = {
        row[at]
        for part in sheet.parts
        for table in part.tables
        if table.name == "channels"
        for at, column in enumerate(table.columns)
        if column.label == "Filters"
        for row in table.rows
        if "tweeters" in row[2]
    }
    assert filters == "HPF 4000\u202fHz 24 dB/oct, DSP"
    said = words(sheet)
    assert "Set the DSP to high-pass at 4000 Hz for tweeters" in said.replace("\u202f", " ")
    assert "Switch all filters of the amplifiers off." in said


def test_the_seller_is_asked_one_thing_of_its_filters_and_the_bar_asks_what_can_be_typed():
    sheet = sheet_of_text(system("yes"))
    asked = [ask for ask in sheet.candidates[0].ask if "filters" in ask or "-pass" in ask]
    assert asked == [f"{name}: can its filters be switched off?" for name in ("Alder", "Cedar")]
    assert sheet.next_step.words == "Alder: RCA input volts?"
    assert sheet.next_step.column == "sensitivity_min_v"


def test_it_comes_to_what_the_same_filters_listed_one_by_one_come_to():
    rows = [("high", "high-pass"), ("low", "high-pass"), ("low", "low-pass"), ("sub", "low-pass")]
    listed = "".join(
        f'[[head_filters]]\noutput = "{output}"\nkind = "{kind}"\ncorners_hz = "20-20000"\n'
        'family = "linkwitz-riley"\norders = "4"\n'
        for output, kind in rows
    )
    off = OWN.format("off", "off")
    text = system(listed=listed, four=off) + off
    for name, output in (("tweeters", "high"), ("mid-basses", "low"), ("sub", "sub")):
        text = text.replace(f'name = "{name}"\n', f'name = "{name}"\noutput = "{output}"\n')
    plan = plan_of_text(text)
    assert not plan.stop
    assert corners(plan) == corners(plan_of_text(system("yes")))
    # What is listed counts, whatever is said of every output.
    again = plan_of_text(text.replace("source_v = 4\n", f'source_v = 4\n{KEY} = "yes"\n'))
    assert corners(again) == corners(plan)


def test_a_dsp_without_them_leaves_it_to_the_amplifier():
    plan = plan_of_text(system("no"))
    assert crossovers(plan).state == "not known" and "Ask the seller" in plan.stop
    low = OWN.format("50-250", "50-250")
    plan = plan_of_text(system("no", four=low) + low)
    assert plan.stop.startswith("Stop: none of the amplifiers’ filters protects")
    assert KEY not in crossovers(plan).keys


@pytest.mark.parametrize("kind", ["factory", "replacement"])
def test_what_is_no_dsp_is_not_asked_for_one_and_has_none(kind):
    head = HEAD.replace("processor", kind)
    for said in ("", "yes"):
        plan = plan_of_text(system(said, head=head))
        assert KEY not in crossovers(plan).keys and "Ask the seller" in plan.stop


def test_too_low_a_dial_of_the_amplifier_is_no_refusal_before_the_dsp_is_looked_up():
    plan = plan_of_text(system(four=OWN.format("50-250", "50-250")))
    assert (crossovers(plan).state, crossovers(plan).keys) == ("not known", (KEY,))


def test_an_amplifier_that_protects_the_tweeters_itself_needs_no_answer():
    """High-pass to 5000 Hz on 1 and 2; on 3 and 4 high-pass and low-pass: known to be enough."""
    filters = " | ".join(f"{row} 1 butterworth 2 - yes" for row in BAND_PASS)
    plan = plan_of_text(system(four=f'filters = "{filters}"\n') + OWN.format("off", "50-250"))
    assert not plan.stop and crossovers(plan).state in ("suitable", "likely")
    assert KEY not in crossovers(plan).keys


def test_a_set_with_its_own_crossover_is_planned_without_asking_for_the_dsp():
    text = system().replace('section = "tweeter"', 'section = "components"')
    text = text.replace('[[speakers]]\nname = "mid-basses"', '[[speakers]]\nname = "rears"')
    plan = plan_of_text(text.replace('section = "mid-bass"', 'section = "full-range"'))
    assert not plan.stop and KEY not in crossovers(plan).keys


def test_on_the_page_it_is_asked_of_a_dsp_alone_and_one_tap_answers_it(page, served, tmp_path):
    file = tmp_path / "system.toml"
    file.write_text(system(head=HEAD.replace("processor", "replacement")), encoding="utf-8")
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(served.url + "plan/")
    wait_ready(page)
    page.locator("[data-action=open-system]").set_input_files(file)
    sentence = "document.querySelector('.answer .sentence').textContent"
    wait_until(page, f"{sentence}.includes('Ask the seller')")
    card = page.locator(".card--for-processor")
    assert not card.is_visible()
    head_unit = page.locator(".card--fields", has_text="head unit with RCA outputs")
    head_unit.get_by_role("button", name=re.compile("^Change")).click()
    page.get_by_role("button", name="processor (DSP)", exact=True).click()
    wait_until(page, f"{sentence}.includes('Look up whether the DSP')")
    assert card.is_visible()
    page.locator(".bar__next").click()
    assert page.evaluate("document.activeElement.closest('.card--for-processor') !== null")
    page.keyboard.press("Enter")
    wait_until(page, f"location.search.includes('{KEY}=yes')")
    wait_until(page, f"{sentence}.includes('on 1 and 2 of Alder')")
    assert "Set the DSP to" in page.locator(".answer").text_content()

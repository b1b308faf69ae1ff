"""Two amplifiers of which one runs the tweeters: whose filters are asked for, and when none is."""

import pytest
from arrangement_files import plan_of_text, sheet_of_text
from test_dsp import FOUR, FRONT, MONO, SUB

LEADS = "[leads]\npower_m = 4\nengine_space = true\n"
HEAD = '[head_unit]\nkind = "replacement"\nsource_v = 4\n' + LEADS
DIAL = 'high_pass_hz = "{}"\nlow_pass_hz = "50-250"\nfilter_db_per_octave = "12"\n'
TOO_LOW, OF_A_MONO = DIAL.format("50-250"), DIAL.format("off")
IN_FULL = """filters = "\
1/2 high-pass 50-5000 1 butterworth 2 A yes | 3/4 high-pass 50-500 1 butterworth 2 B yes | \
3/4 low-pass 50-5000 1 butterworth 2 - yes"
"""
# Of the four-channel that runs the front, and of the mono amplifier.
AMPLIFIERS = {"the four-channel first": (FOUR, MONO), "the mono first": (MONO, FOUR)}


def system(order, alder="", cedar=""):
    told = {FOUR: alder, MONO: cedar}
    return FRONT + SUB + HEAD + "".join(each + told[each] for each in AMPLIFIERS[order])


def filters_of(plan):
    (check,) = [check for check in plan.candidate.checks if check.kind == "filters"]
    return check


def asked_of(sheet):
    return [ask.partition(":")[0] for ask in sheet.candidates[0].ask if "high-pass" in ask]


orders = pytest.mark.parametrize("order", AMPLIFIERS)


@orders
@pytest.mark.parametrize("cedar", ["", OF_A_MONO])
def test_the_seller_is_asked_first_of_the_amplifier_that_runs_the_tweeters(order, cedar):
    text = system(order, cedar=cedar)
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert filters_of(plan).state == "not known"
    assert "Ask the seller for the filter range of Alder before" in plan.stop
    assert sheet.next_step.words == "Alder: high-pass range?"
    assert asked_of(sheet) == (["Alder"] if cedar else ["Alder", "Cedar"])


@orders
def test_where_its_dial_ends_too_low_nobody_is_sent_to_ask_of_the_other(order):
    """A dial that ends at 250 Hz protects no tweeter, whatever the mono amplifier has."""
    text = system(order, alder=TOO_LOW)
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert plan.stop.startswith("Stop: none of the amplifiers’ filters protects")
    assert sheet.candidates[0].sentence.startswith("Still open: crossovers. Tweeters on 1 and 2 ")
    assert asked_of(sheet) == [] and sheet.next_step.words == "tweeters: safe lowest frequency?"
    # The same as with the mono's filters told: they decide nothing here.
    both = plan_of_text(system(order, TOO_LOW, OF_A_MONO))
    assert (both.stop, filters_of(both)) == (plan.stop, filters_of(plan))


@orders
def test_what_is_told_in_full_is_not_asked_again(order):
    text = system(order, alder=IN_FULL)
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert not plan.stop and filters_of(plan).state == "likely"
    assert asked_of(sheet) == ["Cedar"]
    assert sheet.next_step.words == "Cedar: high-pass range?"


def test_where_every_band_is_told_a_dial_that_ends_too_low_is_refused_for_good():
    text = system("the four-channel first", alder=TOO_LOW)
    for section, band in (
        ("tweeter", "lowest_hz = 2500"),
        ("mid-bass", "lowest_hz = 50\ntop_hz = 5000"),
        ("woofer", "top_hz = 200"),
    ):
        text = text.replace(f'section = "{section}"\n', f'section = "{section}"\n{band}\n')
    check = filters_of(plan_of_text(text))
    assert check.state == "unsuitable" and "2500 to 5000" in check.has

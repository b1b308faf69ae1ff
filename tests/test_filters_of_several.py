"""Two amplifiers of which one runs the tweeters: whose filters are asked for, and when none is."""

import random
from collections import Counter

import pytest
from arrangement_files import plan_of_text, sheet_of_text
from test_dsp import FOUR, FRONT, MONO, OWN, SUB, crossovers

from calc.choosing.checks.filters import filter_check
from calc.choosing.installed import installed
from calc.choosing.workshop import paper_of
from calc.inputs.declared import replaced

LEADS = "[leads]\npower_m = 4\nengine_space = true\n"
HEAD = '[head_unit]\nkind = "replacement"\nsource_v = 4\n' + LEADS
TOO_LOW, OF_A_MONO = OWN.format("50-250", "50-250"), OWN.format("off", "50-250")
IN_FULL = """filters = "\
1/2 high-pass 50-5000 1 butterworth 2 A yes | 3/4 high-pass 50-500 1 butterworth 2 B yes | \
3/4 low-pass 50-5000 1 butterworth 2 - yes"
"""
MIDRANGES = 'name = "midranges"\nsection = "midrange"'
BANDS = {
    "tweeter": "lowest_hz = 2500\ntop_hz = 20000",
    "mid-bass": "lowest_hz = 50\ntop_hz = 5000",
    "woofer": "lowest_hz = 30\ntop_hz = 200",
}
# Of the four-channel that runs the front, and of the mono amplifier.
AMPLIFIERS = {"the four-channel first": (FOUR, MONO), "the mono first": (MONO, FOUR)}


def system(order, alder="", cedar=""):
    told = {FOUR: alder, MONO: cedar}
    return FRONT + SUB + HEAD + "".join(each + told[each] for each in AMPLIFIERS[order])


def with_bands(text):
    for section, band in BANDS.items():
        text = text.replace(f'section = "{section}"\n', f'section = "{section}"\n{band}\n')
    return text


def asked_of(sheet):
    return [ask.partition(":")[0] for ask in sheet.candidates[0].ask if "high-pass" in ask]


orders = pytest.mark.parametrize("order", AMPLIFIERS)


@orders
@pytest.mark.parametrize("cedar", ["", OF_A_MONO])
def test_the_seller_is_asked_first_of_the_amplifier_that_runs_the_tweeters(order, cedar):
    text = system(order, cedar=cedar)
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert crossovers(plan).state == "not known"
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
    assert (both.stop, crossovers(both)) == (plan.stop, crossovers(plan))


@orders
def test_what_is_told_in_full_is_not_asked_again(order):
    text = system(order, alder=IN_FULL)
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert not plan.stop and crossovers(plan).state == "likely"
    assert asked_of(sheet) == ["Cedar"]
    assert sheet.next_step.words == "Cedar: high-pass range?"


def test_where_every_band_is_told_a_dial_that_ends_too_low_is_refused_for_good():
    text = with_bands(system("the four-channel first", alder=TOO_LOW))
    check = crossovers(plan_of_text(text))
    assert check.state == "unsuitable" and "2500 to 5000" in check.has


@pytest.mark.parametrize("alder", ["", TOO_LOW, IN_FULL])
@pytest.mark.parametrize("dsp", ["", "no", "yes"])
def test_without_the_safe_frequency_of_a_midrange_that_alone_is_asked_for(alder, dsp):
    """No figure is usual of it: whatever is told of filters, it comes first."""
    head = '[head_unit]\nkind = "processor"\nsource_v = 4\n'
    head += f'filters_every_output = "{dsp}"\n' if dsp else ""
    front = FRONT.replace('name = "mid-basses"\nsection = "mid-bass"', MIDRANGES)
    text = front + head + LEADS + FOUR + alder + MONO.replace("channels = 1", "channels = 2")
    plan, sheet = plan_of_text(text), sheet_of_text(text)
    assert plan.stop.startswith("Stop: the lowest safe frequency of midranges is not known")
    assert crossovers(plan).keys == ("lowest_hz",) and asked_of(sheet) == []
    step = sheet.next_step
    assert step.words == "midranges: safe lowest frequency?"
    assert (step.field, step.row, step.column) == ("speakers", 2, "lowest_hz")
    assert any("lowest safe frequency of midranges" in ask for ask in paper_of(plan).asks)
    told = plan_of_text(text.replace(MIDRANGES, f"{MIDRANGES}\nlowest_hz = 300\ntop_hz = 6000"))
    assert "lowest_hz" not in crossovers(told).keys or crossovers(told).state != "not known"


CORNERS = ("off", "50-250", "50-5000", "2500-5000", "10-30000")
COLUMNS = {
    "high_pass_hz": CORNERS, "low_pass_hz": CORNERS, "filter_db_per_octave": ("6", "12/24", "24"),
}  # fmt: skip
ANY, ANY_SLOPE = "10-30000", "6/12/18/24"


@pytest.fixture(scope="module")
def layout():
    """Tweeters on 1 and 2, mid-basses on 3 and 4, the sub on the mono; every band is told."""
    text = with_bands(system("the four-channel first", IN_FULL))
    return plan_of_text(text).candidate.layout


def completed(amplifier, choose):
    missing = [key for key in COLUMNS if getattr(amplifier, key) is None]
    return replaced(amplifier, {key: choose(key) for key in missing})


def widest(amplifier):
    """The amplifier with the most that can be answered; a high-pass and a low-pass at once, too."""
    told = {key: getattr(amplifier, key) for key in ("high_pass_hz", "low_pass_hz")}
    if set(told.values()) == {None}:
        pairs = ("1/2", "3/4") if amplifier.channels == 4 else ("1",)
        rows = (
            f"{pair} {kind} {ANY} 1 butterworth 1/2/3/4 - yes"
            for pair in pairs
            for kind in ("high-pass", "low-pass")
        )
        return replaced(amplifier, {"filters": " | ".join(rows)})
    return completed(amplifier, lambda key: ANY_SLOPE if key == "filter_db_per_octave" else ANY)


def test_no_answer_of_the_seller_overturns_a_refusal_and_some_answer_settles_what_is_asked(layout):
    rng = random.Random("what is told of two amplifiers")
    bare = [replaced(part.given, {"filters": None}) for part in layout.installed.parts]
    states = Counter()

    def state_of(amplifiers):
        return filter_check(layout.job, layout.assignment, installed(amplifiers)).state

    for _ in range(60):
        told = [
            replaced(
                one,
                {key: rng.choice(COLUMNS[key]) for key in COLUMNS if rng.random() < 0.6},
            )
            for one in bare
        ]
        state = state_of(told)
        states[state] += 1
        answers = [
            state_of([completed(one, lambda key: rng.choice(COLUMNS[key])) for one in told])
            for _ in range(4)
        ]
        if state == "unsuitable":
            assert set(answers) == {"unsuitable"}, told
        if state == "not known":
            assert state_of([widest(one) for one in told]) == "suitable", told
    assert min(states[state] for state in ("unsuitable", "not known")) > 5, states

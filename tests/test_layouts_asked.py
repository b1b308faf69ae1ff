"""Asking for a layout: where it ranks, the way to each and the way back; amplifiers together."""

import json
import re

import pytest
from arrangement_files import NAMES, text_of
from conftest import each
from html_parts import Parts

from calc.answers.data import answer_data
from calc.answers.sheet import Press
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.choosing.examples import STARTS
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text

PLAN = CALCULATORS["fit-plan"]
ROLE = [column.key for column in PLAN.form.by_key["amplifier"].columns].index("role")
# Of the systems that the other tests work out, those with several layouts and no wish.
SHOWN = ("front-with-rear", "own-pairs", "two-subs-apart", "four-and-mono")
DOORS = "front,full-range,2,1,4,60,,90,80;rear,full-range,2,1,4,60,,90,80"
FIVE = f"{DOORS};sub,woofer,1,1,4,300,,87"


def asked(name, layout):
    """Return the answer for a customer's file with a wish for a layout."""
    given, wrong = PLAN.files[0](text_of(name))
    assert wrong == []
    return PLAN.answer({**given, "layout": layout})


def box(name, count, watts, role, least="2"):
    """Return a row of the form: an amplifier that runs its least load."""
    cells = [name, str(count), str(watts), *[""] * (ROLE - 3), role]
    keys = [column.key for column in PLAN.form.by_key["amplifier"].columns]
    cells[keys.index("min_channel_ohm")] = least
    cells[keys.index("may_be_bridged")] = "yes" if count > 1 else "no"
    return ",".join(cells)


def planned(*rows, speakers=FIVE, **more):
    """Return the answer for speakers and rows of amplifiers."""
    return PLAN.answer({**PLAN.opens, "speakers": speakers, "amplifier": ";".join(rows), **more})


def ways_of(sheet):
    """Return the buttons of the table of layouts, by row."""
    (table,) = sheet.named("layouts")
    return [row[-1] for row in table.rows]


@each("name", SHOWN)
def test_each_button_leads_to_the_layout_beside_which_it_stands(name):
    first = asked(name, "best").sheet
    layouts = first.results["layouts"]
    assert layouts[0]["layout"] == "best"
    assert ways_of(first)[0] == "planned here"
    for told, way in zip(layouts[1:], ways_of(first)[1:], strict=True):
        if told["layout"] is None:
            assert way == "–"
            continue
        assert way == Press("Show me this one", "layout", told["layout"])
        sheet = asked(name, told["layout"]).sheet
        assert told["words"].lower() in sheet.sentence.lower(), (name, told["layout"])
        assert sheet.sentence.startswith("You asked for")
        back = Press("Back to the best", "layout", "best")
        assert sheet.ways == (back,) and ways_of(sheet)[0] == back


def test_a_layout_that_ranks_lower_is_told_at_once_with_the_reason():
    words = asked("joined-asked", "joined").sheet.sentence
    asked_for = r"You asked for front and rear in parallel, left with left\."
    assert re.match(asked_for + r" It ranks second: .*no fader", words)


def test_a_layout_that_cannot_be_is_told_at_once_with_the_way_back():
    sheet = asked("front-with-rear", "own-amplifier").sheet
    assert "It cannot be done here" in sheet.sentence
    assert sheet.ways == (Press("Back to the best", "layout", "best"),)


def test_what_is_best_when_asked_for_needs_no_way_back():
    sheet = asked("front-with-rear", "joined").sheet
    assert "It is the best layout here." in sheet.sentence and sheet.ways == ()
    assert "You asked" not in asked("front-with-rear", "best").sheet.sentence


def test_text_and_data_say_how_to_ask_where_nothing_can_be_pressed():
    answer = asked("joined-asked", "best")
    assert "layout=joined" in answer_text(answer)
    results = answer_data(answer)["results"]
    assert "joined" in [told["layout"] for told in results["layouts"]]


def test_a_button_of_the_answer_names_a_field_of_the_form_and_a_word_of_it():
    elements = Parts(answer_html(asked("joined-asked", "joined"))).elements
    pressed = [one for _, one in elements if one.get("data-action") == "set-field"]
    choices = dict(PLAN.form.by_key["layout"].options)
    assert pressed
    for one in pressed:
        assert one["data-set-field"] == "layout" and one["data-set-text"] in choices


def test_amplifiers_installed_together_are_told_at_each_column_and_once_on_paper():
    answer = planned(
        box("Alder", 4, 60, "planned"), box("Birch", 4, 90, "candidate"),
        box("Cedar", 1, 250, "planned"),
    )  # fmt: skip
    told = answer.sheet.candidates
    assert [(one.row, one.beside) for one in told] == [
        (1, "Together with Cedar."), (3, "Together with Alder."), (2, ""),
    ]  # fmt: skip
    assert [one.is_chosen for one in told] == [True, True, False]
    assert told[0].verdict == told[1].verdict and told[0].name == "Alder + Cedar"
    sections = [one for tag, one in Parts(answer_html(answer)).elements if "data-verdict-of" in one]
    again = [one["data-verdict-of"] for one in sections if "candidate--again" in one["class"]]
    assert again == ["3"]


def test_where_one_alone_is_wanting_the_best_together_can_be_installed():
    rows = (box("Alder", 4, 60, "candidate", "4"), box("Cedar", 1, 250, "candidate"))
    answer = planned(*rows)
    together = [one for one in answer.sheet.candidates if one.rows]
    assert together[0].name == "Alder + Cedar" and together[0].rows == (1, 2)
    step = answer.sheet.next_step
    assert (step.action, step.row) == ("choose", None) and "Alder + Cedar" in step.words
    elements = Parts(answer_html(answer)).elements
    assert [one for _, one in elements if one.get("data-rows") == "1 2"]
    assert [one for _, one in elements if one.get("data-action") == "choose-rows"]


def test_one_that_is_needed_twice_is_named_twice():
    answer = planned(box("Alder", 4, 60, "candidate", "4"))
    assert (1, 1) in [one.rows for one in answer.sheet.candidates]


def test_one_s_own_amplifier_is_planned_alone_where_it_does_and_two_alike_together():
    alone = planned(box("Alder", 4, 60, "candidate", "2"))
    assert alone.sheet.results["amplifier"] == "Alder"
    both = planned(box("Alder", 4, 60, "candidate", "2"), box("Birch", 4, 60, "candidate", "2"))
    assert both.sheet.results["amplifier"] == "Alder + Birch"


def test_sets_of_a_stock_list_have_a_link_that_plans_them_together():
    shelf = "name,channels,power_4ohm_w,min_channel_ohm\nAlder,4,60,4\nCedar,1,250,2\n"
    sheet = PLAN.answer({**PLAN.opens, "speakers": FIVE, "amplifier": "", "shelf": shelf}).sheet
    (way,) = (one for one in sheet.onward if one.label == "Plan with Alder + Cedar")
    asked = {"kind": "open", "calculator": "fit-plan", "query": way.query}
    assert "Together with Cedar." in respond(json.dumps(asked))


def test_one_for_later_is_not_judged_and_the_others_are_planned():
    answer = planned(box("Alder", 4, 60, "planned"), box("Cedar", 1, 250, "later"), speakers=DOORS)
    assert [one.row for one in answer.sheet.candidates] == [1]
    assert answer.sheet.results["amplifier"] == "Alder"
    assert "Cedar comes later: the main cable" in answer.sheet.sentence


def test_the_stock_list_ranks_sets_by_their_joined_names():
    shelf = "name,channels,power_4ohm_w,min_channel_ohm\nAlder,4,60,4\nCedar,1,250,2\n"
    choice = CALCULATORS["amplifier-choice"]
    sheet = choice.answer({**choice.opens, "speakers": FIVE, "shelf": shelf}).sheet
    assert sheet.results["ranking"][0] == "Alder + Cedar"
    assert sheet.sentence.startswith("Alder + Cedar together are the best fit")
    assert "installed together" in sheet.tables[0].note


@pytest.mark.parametrize("start", STARTS[3:], ids=lambda start: start.label)
def test_the_examples_of_several_pairs_show_what_they_are_named_for(start):
    results = PLAN.answer(start.texts).sheet.results
    if "Two amplifiers" in start.label:
        assert results["amplifier"].count(" + ") == 1
        assert {row["amplifier"] for row in results["channels"]} == {"Hazel 4-50", "Fern 1-300"}
    else:
        speakers = {row["output"]: row["speaker"] for row in results["channels"]}
        assert speakers["1"] == "front doors + rear doors" and speakers["3+4"] == "subwoofer"
    assert {"best", "radio"} <= {told["layout"] for told in results["layouts"]}


def test_every_customer_of_these_tests_is_there():
    assert {f"arr-{name}" for name in SHOWN} <= set(NAMES)

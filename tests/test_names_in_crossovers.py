"""The crossover step calls speakers as the reader does, where their kind would not tell them."""

import pytest
from arrangement_files import plan_of_text, sheet_of_text, speakers

REST = """[head_unit]
kind = "replacement"
source_v = 4
[leads]
power_m = 5
engine_space = true
[[amplifiers]]
name = "Birch"
channels = {}
power_4ohm_w = 100
high_pass_hz = "40-4000"
low_pass_hz = "40-4000"
filter_db_per_octave = "12"
"""
DSP = '[head_unit]\nfilters_every_output = "yes"\n'


def system(*every, channels=6):
    return "version = 2\n" + "".join(speakers(*each) for each in every) + REST.format(channels)


def step(text):
    """The names in the table of polarity, the lines beside the loudspeakers, and the sentence."""
    (part,) = [part for part in sheet_of_text(text).parts if part.title == "Crossovers"]
    (table,) = [table for table in part.tables if table.name == "polarity"]
    (path,) = [each for each in part.drawings if each.name == "path"]
    beside = [each for each in path.svg.iter("text") if float(each.get("x")) > 300]
    return [row[0] for row in table.rows], [each.text for each in beside], part.sentence


def test_component_sets_and_coaxials_have_their_own_names():
    """A component set is of the same kind as a coaxial speaker, and is none."""
    text = system(("front", "components", 2), ("rear", "full-range", 2), ("sub", "woofer", 1))
    names, beside, sentence = step(text)
    assert names == ["front", "rear", "sub"]
    assert beside == ["front", "rear", "sub"]
    assert "Below" not in sentence


def test_one_of_a_kind_is_called_by_its_kind():
    text = system(("highs", "tweeter", 2), ("doors", "mid-bass", 2))
    plan = plan_of_text(text.replace("[head_unit]", DSP))
    assert plan.split.result.shown == ("tweeter", "mid-bass")
    assert plan.split.result.names == ("tweeter", "mid-bass")  # the data's are as they were


def test_a_kind_that_does_not_tell_whose_it_is_is_explained():
    """Only that one: the doors are called by their kind too, which their name tells."""
    text = system(("highs", "tweeter", 2), ("door mid-basses", "mid-bass", 2))
    _, _, sentence = step(text.replace("[head_unit]", DSP))
    assert "Below, ‘tweeter’ means highs." in sentence


def test_of_two_of_a_kind_each_has_its_own_name():
    text = system(("boot", "woofer", 1), ("seat", "woofer", 1), channels=4)
    assert plan_of_text(text).split.result.shown == ("boot", "seat")


def test_speakers_on_two_pairs_of_channels_are_numbered():
    plan = plan_of_text(system(("subs", "woofer", 4), channels=8))
    assert plan.split.result.shown == ("subs 1", "subs 2")
    assert "Below" not in step(system(("subs", "woofer", 4), channels=8))[2]


def test_where_a_name_is_another_s_kind_all_are_called_by_their_kinds():
    text = system(("tweeter", "full-range", 2), ("highs", "tweeter", 2), ("sub", "woofer", 1))
    plan = plan_of_text(text.replace("[head_unit]", DSP))
    assert plan.split.result.shown == ("tweeter", "coaxial", "sub")


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("rear shelf", ["rear shelf"]),
        ("front doors", ["front", "doors"]),
        ("components front door A", ["components", "… A"]),
        ("Lautsprecherpaar", ["Lautsprech", "erpaar"]),
        ("<b>doors</b>", ["<b>doors</", "b>"]),
    ],
)
def test_a_name_beside_a_loudspeaker_has_two_lines_at_most(name, lines):
    names, beside, _ = step(system((name, "components", 2), channels=2))
    assert len(names) == 1
    assert beside == lines

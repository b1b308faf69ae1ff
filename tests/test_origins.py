"""Where figures are from: the reader, the usual figures, an example; through links, files, data."""

import json

import pytest

from calc.app.contents import CALCULATORS, link_of
from calc.app.page import respond
from calc.choosing.examples import STARTS
from calc.renderers.data import answer_json
from calc.system.files.system_file import empty_system, read_system, write_system

PLAN = CALCULATORS["fit-plan"]
SPEAKERS = ",components,2,1,4,70,,,,2;,woofer,1,2,2,300,,,,2"
BOX = "Alder 4-60,,60,,,180"


def asked(**request):
    return json.loads(respond(json.dumps({"calculator": "fit-plan", **request})))


def opened(query):
    return asked(kind="open", query=query, kept={})


def results(**texts):
    answer = PLAN.answer({**empty_system(), **texts})
    return json.loads(answer_json(answer))["results"]


def test_the_page_opens_empty_and_says_what_to_do_first():
    reply = opened("")
    assert reply["kind"] == "answer"
    assert reply["sentence"].startswith("Add the speakers")
    assert reply["query"] == ""
    assert "Lantern Van" not in PLAN.answer(PLAN.opens).sheet.sentence


def test_a_link_is_told_against_the_empty_page_and_says_its_version():
    answer = PLAN.answer({**empty_system(), "speakers": SPEAKERS, "amplifier": BOX})
    link = link_of(answer)
    assert link.startswith("calculators/fit-plan/?v=2&speakers=")
    assert "power_m" not in link
    again = opened(link.partition("?")[2])
    assert again["kind"] == "answer"
    assert again["notices"] == ""
    assert again["sentence"] == answer.sheet.sentence


def test_a_link_of_the_first_edition_holds_the_example_s_figures_and_says_so():
    reply = opened("power_m=4")
    assert reply["kind"] == "answer"
    assert "first edition" in reply["notices"]
    assert "example=lantern-van" in reply["query"]
    found = results(**{field.key: field.default for field in PLAN.fields if field.key != "shelf"})
    assert found["example"] == "lantern-van"


def test_a_figure_of_the_example_that_is_changed_is_the_reader_s():
    texts = {key: text for key, text in STARTS[0].texts.items() if key in PLAN.form.by_key}
    before = set(results(**texts)["example_figures"])
    after = set(results(**{**texts, "power_m": "4.25"})["example_figures"])
    assert before - after == {"power_m"}
    assert "speakers.0.coil_ohm" in after
    assert "amplifier.0.power_4ohm_w" in after
    assert not results(**{**texts, "example": ""})["example_figures"]


def test_an_example_is_named_as_one_on_its_sheet():
    for start in STARTS:
        sheet = PLAN.answer(start.texts).sheet
        assert any(start.label in caution for caution in sheet.cautions), start.label
    own = PLAN.answer({**empty_system(), "speakers": SPEAKERS, "amplifier": BOX}).sheet
    assert not any("invented" in caution for caution in own.cautions)


def test_every_usual_figure_that_is_taken_is_told_once_with_its_unit():
    found = results(speakers=SPEAKERS, amplifier=BOX, power_m="4.5", source_v="2")
    places = [(taken["where"], taken["key"]) for taken in found["assumed"]]
    assert len(places) == len(set(places))
    taken = dict(zip(places, found["assumed"], strict=True))
    assert taken["Alder 4-60", "channels"]["value"] == 4
    assert taken["cable", "earth_m"] == {
        "where": "cable",
        "key": "earth_m",
        "value": 0.5,
        "unit": "m",
        "why": "not given: the usual figure",
    }
    assert ("what plays now", "source_v") not in taken
    for key in ("speakers", "amplifier", "power_m"):
        assert key not in {key for _, key in places}


def test_a_figure_that_is_given_is_not_taken_as_usual():
    less = results(speakers=SPEAKERS, amplifier=BOX, power_m="4.5")["assumed"]
    more = results(speakers=SPEAKERS, amplifier=BOX, power_m="4.5", earth_m="0.8")["assumed"]
    gone = {taken["key"] for taken in less} - {taken["key"] for taken in more}
    assert gone == {"earth_m"}


def test_a_chapter_s_question_says_which_of_its_figures_are_usual():
    found = results(speakers=SPEAKERS, amplifier=BOX, power_m="4.5")
    origins = found["power-cable"]["origins"]
    assert origins["efficiency_percent"] == "usual"
    assert "total_power_w" not in origins  # worked out


def test_what_is_not_printed_is_not_asked_again_and_stays_in_link_and_file():
    box = "Alder 4-60,?,60,,,180"
    answer = PLAN.answer({**empty_system(), "speakers": SPEAKERS, "amplifier": box})
    (row,) = answer.inputs["amplifier"]
    assert row.not_printed == "channels"
    assert row.channels is None
    asks = [ask["key"] for ask in answer.sheet.results["ask"]]
    assert "channels" not in asks
    assert "high_pass_hz" in asks
    assert "Alder%204-60,%3F,60" in link_of(answer)
    file = write_system(answer.inputs)
    assert 'channels = "?"' in file
    texts, errors = read_system(file)
    assert not errors
    assert PLAN.form.read(texts)["amplifier"] == answer.inputs["amplifier"]


@pytest.mark.parametrize(
    ("texts", "field", "column", "action"),
    [
        ({}, "speakers", "", ""),
        ({"speakers": SPEAKERS}, "amplifier", "power_4ohm_w", ""),
        ({"speakers": SPEAKERS, "amplifier": "Alder,,,,,180"}, "amplifier", "power_4ohm_w", ""),
        (
            {"speakers": ",tweeter,2,1,4,40;,mid-bass,2,1,4,80", "amplifier": "Alder,,60"},
            "amplifier",
            "high_pass_hz",
            "",
        ),
        (
            {
                "speakers": SPEAKERS,
                "amplifier": f"{BOX}{',' * 38},candidate;Birch,,55{',' * 41},candidate",
            },
            "amplifier",
            "",
            "choose",
        ),
        # Of a planned one the seller is asked.
        ({"speakers": SPEAKERS, "amplifier": BOX}, "amplifier", "channels", ""),
    ],
)
def test_the_next_step_is_the_first_that_applies(texts, field, column, action):
    step = PLAN.answer({**empty_system(), **texts}).sheet.next_step
    assert (step.field, step.column, step.action) == (field, column, action)


def test_amplifiers_of_the_form_are_told_beside_one_another_and_one_is_planned():
    role = [column.key for column in PLAN.form.by_key["amplifier"].columns].index("role")

    def row(name, watts, word):
        cells = [name, "4", watts, *[""] * (role - 3), word]
        return ",".join(cells)

    both = ";".join([row("Alder", "60", "candidate"), row("Birch", "90", "candidate")])
    found = results(speakers=",full-range,2,1,4,70", amplifier=both)
    assert [row["amplifier"] for row in found["candidates"]] == ["Alder", "Birch"]
    chosen = both.replace("Alder", "Aspen").replace("candidate", "planned", 1)
    assert results(speakers=",full-range,2,1,4,70", amplifier=chosen)["amplifier"] == "Aspen"

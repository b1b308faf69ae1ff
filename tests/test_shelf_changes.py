"""An amplifier put into a stock list; the template; what a link says of the list."""

import base64
import json
from pathlib import Path

import pytest
from choosing_systems import HAZEL, listed, random_amplifier
from conftest import each, sampled
from spreadsheets import book

from calc.__main__ import main
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.inputs.declared import replaced
from calc.inputs.errors import InputError
from calc.system.files.shelf_changes import with_amplifier, write_briefly
from calc.system.files.shelf_file import MOST_AMPLIFIERS, read_shelf, write_shelf, write_shelf_toml
from calc.system.files.shelf_template import TEMPLATE
from calc.system.files.system_file import read_system
from calc.system.system import SYSTEM_FIELDS

SYSTEM = "shared/systems/lantern-van.toml"
ROWS = SYSTEM_FIELDS[-1]


def reply_to(kind, **more):
    return json.loads(respond(json.dumps({"kind": kind, "calculator": "fit-plan", **more})))


def row_of(amplifier):
    return ROWS.write([amplifier]).split(",")


def test_an_amplifier_is_put_into_a_list_that_is_not_there_yet():
    changed = with_amplifier("", HAZEL)
    assert read_shelf(changed.text) == listed(HAZEL) and "1 amplifier now" in changed.words
    assert "level_control" in changed.text and "price" not in changed.text  # filled columns alone


def test_other_rows_and_the_owner_s_columns_stay():
    text = "List;;;\nModel;RMS 4Ω;x_place;Notes\nRowan;62,5;3b;left over\nElm;75;;\n"
    changed = with_amplifier(text, HAZEL)
    assert read_shelf(changed.text) == (*read_shelf(text), *listed(HAZEL))
    assert "x_place" in changed.text and "3b" in changed.text and "left over" in changed.text
    again = with_amplifier(changed.text, replaced(HAZEL, {"price": 9.0}), replace=True)
    assert "3b" in again.text and "left over" in again.text


def test_a_list_in_toml_keeps_its_text():
    text = '# mine\n[[amplifiers]]\nname = "Rowan" # good\npower_4ohm_w = 75\nx_place = "3b"\n'
    changed = with_amplifier(text, HAZEL)
    assert changed.text.startswith(text.rstrip())
    assert read_shelf(changed.text) == (*read_shelf(text), *listed(HAZEL))
    assert read_shelf(
        with_amplifier(changed.text, replaced(HAZEL, {"price": 1.0}), replace=True).text
    )


@each("write", [write_shelf, write_shelf_toml, write_briefly])
def test_one_of_the_same_name_is_replaced_only_when_that_is_said(write):
    other = replaced(HAZEL, {"name": "Rowan"})
    text = write([HAZEL, other])
    better = replaced(HAZEL, {"power_4ohm_w": 51.0})
    refused = with_amplifier(text, better)
    assert (refused.text, refused.is_there) == (None, True)
    same = with_amplifier(text, HAZEL)
    assert (same.text, same.is_there) == (None, False) and "already" in same.words
    changed = with_amplifier(text, better, replace=True)
    assert read_shelf(changed.text) == listed(better, other) and "replaced" in changed.words


@pytest.mark.parametrize("seed", sampled(range(40), range(6)))
def test_any_amplifiers_put_in_one_by_one_are_the_list(seed):
    import random

    rng = random.Random(f"stock {seed}")
    shelf = [random_amplifier(rng, f"number {at}", 0.3) for at in range(5)]
    text = ""
    for amplifier in shelf:
        text = with_amplifier(text, amplifier).text
    assert read_shelf(text) == listed(*shelf)


ASKED = replaced(HAZEL, {"price": None, "idle_w": None, "not_printed": "price+idle_w"})


@each("write", [write_shelf, write_shelf_toml, write_briefly])
def test_what_was_looked_for_and_stands_nowhere_stays_said(write):
    text = write([ASKED])
    (again,) = read_shelf(text)
    assert set(again.not_printed.split("+")) == {"price", "idle_w"} and again.price is None
    assert with_amplifier(text, ASKED).text is None  # in it already
    changed = with_amplifier(text, HAZEL, replace=True)
    assert read_shelf(changed.text)[0].not_printed is None


def test_a_row_may_say_of_several_figures_that_they_stand_nowhere():
    (amplifier,) = read_shelf(
        "Model,W x D x H,RMS 4Ω,Channels,input sensitivity\nA,?,4 x 60 W,?,?\n"
    )
    assert (amplifier.channels, amplifier.power_4ohm_w) == (4, 60)
    assert set(amplifier.not_printed.split("+")) == {
        "width_mm", "depth_mm", "height_mm", "sensitivity_min_v", "sensitivity_max_v",
    }  # fmt: skip
    with pytest.raises(InputError, match="Row 2, name"):
        read_shelf("name,channels\n?,4\n")


def test_a_full_list_and_a_wrong_one_stay_as_they_are():
    full = "name\n" + "".join(f"a{at}\n" for at in range(MOST_AMPLIFIERS))
    assert with_amplifier(full, HAZEL).text is None
    with pytest.raises(InputError):
        with_amplifier("name,colour\nA,red\n", HAZEL)


def test_the_page_puts_a_card_s_row_into_the_list():
    reply = reply_to("stock", shelf="", amplifiers=[row_of(HAZEL)], replace=False)
    assert reply["kind"] == "stocked" and read_shelf(reply["shelf"]) == listed(HAZEL)
    reply = reply_to("stock", shelf="name\nHazel 4-50", amplifiers=[row_of(HAZEL)], replace=False)
    assert (reply["shelf"], reply["is_there"]) == (None, True)


@each(
    "asked",
    [("", []), ("", "x"), ("", [["x"]]), ("", [[""] * 45]), ("colour\nred", [row_of(HAZEL)]),
     ("\x00" * 900, [row_of(HAZEL)]), (["x"], [row_of(HAZEL)]), ("", {"a": 1}), ("", [[{}]])],
)  # fmt: skip
def test_what_cannot_be_put_in_is_told_in_words(asked):
    shelf, rows = asked
    reply = reply_to("stock", shelf=shelf, amplifiers=rows, replace=True)
    assert reply["kind"] == "told" and reply["text"].replace("\u202f", "").isprintable()


def test_the_page_reads_a_spreadsheet_and_tells_one_that_is_none():
    data = base64.b64encode(book([["Model", "RMS 4Ω"], ["A", 62.5]])).decode()
    reply = reply_to("spreadsheet", data=data)
    assert reply["kind"] == "handed-over"
    assert read_shelf(reply["text"])[0].power_4ohm_w == 62.5
    for wrong in ("", "x", "€", base64.b64encode(b"PK\x03\x04").decode()):
        reply = reply_to("spreadsheet", data=wrong)
        assert reply["kind"] == "failed" and reply["text"].isprintable()


def test_the_template_is_read_and_planned_from_the_command_line(capsys, tmp_path):
    assert main(["amplifier-choice", "--template"]) == 0
    text = capsys.readouterr().out
    assert text == TEMPLATE == reply_to("hand-over", inputs={}, **{"as": "template"})["text"]
    shelf = read_shelf(text)
    assert len(shelf) == 2 and shelf.notes == ()
    path = tmp_path / "stock-list.csv"
    path.write_text(text, encoding="utf-8")
    assert main(["amplifier-choice", SYSTEM, str(path), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["results"]["rows"]
    assert [row["amplifier"] for row in rows][: len(shelf)] == [each.name for each in shelf]
    assert main(["bridged-output", "--template"]) == 2


def test_no_cell_of_the_template_is_one_that_spreadsheets_take_for_a_date():
    for line in TEMPLATE.splitlines()[1:]:
        assert not any("/" in cell or cell.count("-") > 1 for cell in line.split(","))


def test_the_command_line_reads_a_spreadsheet(capsys, tmp_path):
    path = tmp_path / "own.xlsx"
    path.write_bytes(book([["Model", "RMS 4Ω"], ["Hazel", 50], ["Rowan", 75]]))
    assert main(["amplifier-choice", SYSTEM, str(path), "--json"]) == 0
    results = json.loads(capsys.readouterr().out)["results"]
    assert [row["amplifier"] for row in results["rows"]][:2] == ["Hazel", "Rowan"]
    assert any("RMS 4Ω" in notice for notice in results["notices"])
    path.write_bytes(b"PK\x03\x04")
    assert main(["amplifier-choice", SYSTEM, str(path)]) == 2
    assert "damaged" in capsys.readouterr().err


def test_a_link_to_the_choice_holds_no_list_and_says_so():
    choice = CALCULATORS["amplifier-choice"]
    answer = choice.answer({"shelf": "name\nSecret\n"})
    assert "shelf" not in answer.changed
    opened = {
        "kind": "open",
        "calculator": "amplifier-choice",
        "query": "?alternator_a=99",
        "kept": {},
    }
    reply = json.loads(respond(json.dumps(opened)))
    assert "Links don’t hold stock lists" in reply["notices"]
    kept = {**opened, "kept": {"shelf": "name\nMine\n"}}
    assert "Links don’t hold stock lists" not in json.loads(respond(json.dumps(kept)))["notices"]


OWN_HEADS = "Model,RMS 4Ω,Channels\nAlder,60,4\nBirch,75,4\n"


def test_what_was_taken_for_what_is_told_from_the_first_step_to_the_plan():
    texts, _ = read_system(Path(SYSTEM).read_text(encoding="utf-8"))
    inputs = {**{key: raw for key, raw in texts.items() if key != "amplifier"}, "shelf": OWN_HEADS}
    choice = CALCULATORS["amplifier-choice"]
    stream = choice.stream(choice.build(choice.form.read(inputs)))
    assert "‘RMS 4Ω’" in stream.sheet().tables[-1].note
    while not stream.done:
        stream.advance()
    assert "‘RMS 4Ω’" in stream.sheet().tables[0].note
    sheet = CALCULATORS["fit-plan"].answer({**inputs, "amplifier": ""}).sheet
    assert "‘RMS 4Ω’" in sheet.tables[0].note
    assert any("‘RMS 4Ω’" in notice for notice in sheet.results["notices"])


def test_of_several_amplifiers_the_planned_one_is_added_and_a_nameless_one_is_not():
    compared = replaced(HAZEL, {"role": "candidate"})
    other = replaced(HAZEL, {"name": "Rowan"})
    reply = reply_to("stock", shelf="", amplifiers=[row_of(compared), row_of(other)], replace=False)
    assert [each.name for each in read_shelf(reply["shelf"])] == ["Rowan"]
    both = [row_of(compared), row_of(replaced(other, {"role": "candidate"}))]
    reply = reply_to("stock", shelf="", amplifiers=both, replace=False)
    assert reply["kind"] == "told" and "planned" in reply["text"]
    reply = reply_to("stock", shelf="", amplifiers=[row_of(compared)], replace=False)
    assert reply["kind"] == "stocked"
    nameless = ["" if at == 0 else cell for at, cell in enumerate(row_of(HAZEL))]
    reply = reply_to("stock", shelf="", amplifiers=[nameless], replace=False)
    assert reply["kind"] == "told" and "name" in reply["text"]


def test_a_list_or_a_system_in_a_text_file_is_no_spec_sheet(capsys, tmp_path):
    path = tmp_path / "own.txt"
    for text in (OWN_HEADS.replace(",", "\t"), '[[amplifiers]]\nname = "Alder"\nchannels = 4\n'):
        path.write_text(text, encoding="utf-8")
        assert main(["amplifier-choice", SYSTEM, str(path), "--json"]) == 0
        rows = json.loads(capsys.readouterr().out)["results"]["rows"]
        assert rows[0]["amplifier"] == "Alder"
    path.write_text(Path(SYSTEM).read_text(encoding="utf-8"), encoding="utf-8")
    assert main(["fit-plan", str(path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["results"]["amplifier"]

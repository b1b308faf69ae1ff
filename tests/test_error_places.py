"""Where an error is: row and column as data, and what stands there."""

import json
import re

import pytest
from conftest import wait_ready, wait_sentence, wait_until

from calc.__main__ import main
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.inputs.errors import InputError
from calc.system.files.shelf_file import read_shelf

SYSTEM = "shared/systems/lantern-van.toml"


def told(capsys, *arguments):
    assert main([*arguments, "--json"]) == 2
    return json.loads(capsys.readouterr().err)["errors"]


def places(errors):
    return [(one["field"], one["row"], one["column"], one["given"]) for one in errors]


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (["bridged-output", "load_ohm=x"], [("load_ohm", None, None, "x")]),
        (["bridged-output", "nix=1"], [("nix", None, None, "1")]),
        (
            ["coil-wiring", "drivers=2,4;0,x;1,99"],
            [
                ("drivers", 2, "coils", "0"),
                ("drivers", 2, "coil_ohm", "x"),
                ("drivers", 3, "coil_ohm", "99"),
            ],
        ),
        (["coil-wiring", "drivers=2,4;1"], [("drivers", 2, None, "1")]),
        (["coil-wiring", "drivers=2,4;1,8,7"], [("drivers", 2, None, "1,8,7")]),
        (["coil-wiring", "drivers=;;;;;"], [("drivers", None, None, ";;;;;")]),
        (["coil-wiring", "drivers=7"], [("drivers", None, None, "7")]),
    ],
)
def test_the_place_of_a_wrong_cell_is_told_as_data(capsys, arguments, expected):
    errors = told(capsys, *arguments)
    assert places(errors) == expected
    assert all(list(one) == ["field", "row", "column", "given", "message"] for one in errors)
    for one in errors:
        assert one["row"] is None or f"Row {one['row']}: " in one["message"]


def test_the_page_has_the_same_places():
    inputs = {"drivers": [["2", "4"], ["0", "x"]]}
    request = {"kind": "answer", "calculator": "coil-wiring", "inputs": inputs}
    reply = json.loads(respond(json.dumps(request)))
    assert places(reply["errors"]) == [
        ("drivers", 2, "coils", "0"),
        ("drivers", 2, "coil_ohm", "x"),
    ]


CSV = "name,channels,power_4ohm_w\nOne,4,50\nTwo,x,50\nOne,4,fifty\n"
TOML = """
[[amplifiers]]
name = "One"
power_4ohm_w = 50
[[amplifiers]]
name = "Two"
channels = "x"
power_4ohm_w = [1]
"""


def test_a_shelf_s_wrong_cells_have_their_own_text_row_and_column(capsys, tmp_path):
    # A CSV file's rows are counted with its head, as a spreadsheet numbers them.
    shelf = tmp_path / "shelf.csv"
    shelf.write_text(CSV)
    assert places(told(capsys, "amplifier-choice", SYSTEM, str(shelf))) == [
        ("shelf", 3, "channels", "x"),
        ("shelf", 4, "power_4ohm_w", "fifty"),
        ("shelf", 4, "name", "One"),
    ]
    shelf.write_text(TOML)
    errors = told(capsys, "amplifier-choice", SYSTEM, str(shelf))
    assert places(errors) == [("shelf", 2, "channels", "x"), ("shelf", 2, "power_4ohm_w", "[1]")]


def test_a_shelf_s_columns_and_rows_that_cannot_be_are_told_by_name():
    with pytest.raises(InputError) as caught:
        read_shelf("name,colour,channels,channels\na,red,4,4,9\n")
    assert [(one.row, one.column, one.given) for one in caught.value.errors] == [
        (None, "colour", "colour"),
        (None, "channels", "channels"),
        (2, None, "a,red,4,4,9"),
    ]


def test_a_system_file_s_rows_have_their_place_and_field(capsys, tmp_path):
    system = tmp_path / "system.toml"
    system.write_text(
        'version = 1\n[[speakers]]\nname = "a"\nvolume = 11\ncount = 99\n'
        'section = "woofer"\ncoil_ohm = 4\nrated_w = 50\nsensitivity_db = 88\n'
    )
    found = places(told(capsys, "fit-plan", str(system)))
    assert ("speakers", 1, "volume", "11") in found
    assert ("speakers", 1, "count", "99") in found


def test_no_table_of_any_calculator_tells_a_cell_without_its_place():
    for calculator in CALCULATORS.values():
        for one in calculator.fields:
            if one.kind != "rows":
                continue
            rows = min(2, one.most)
            cells = [["\x00"] * len(one.columns)] * rows
            with pytest.raises(InputError) as caught:
                calculator.answer({one.key: cells})
            own = [error for error in caught.value.errors if error.field == one.key]
            assert {error.row for error in own} == {1, rows}
            keys = [column.key for column in one.columns]
            assert {error.column for error in own} == set(keys)
            assert {error.given for error in own} == {"\\x00"}


ROWS_TOGETHER = [
    ("channel-map", "settled", "1,1;2,1", [2]),
    ("filter-split", "sections", "woofer,3+4,,2,120,,0;tweeter,1/2,,2,,,0", [2]),
    ("filter-split", "sections", "tweeter,1/2,2500,2,,,0;woofer,1+2,,2,120,,0", [2]),
    ("filter-split", "amplifier", "1/2,low-pass,80,1,butterworth,2,A,no", [1]),
    ("filter-split", "passive", "1/2,3500,butterworth,2,both;3/4,99,butterworth,2,both", [2]),
    ("fit-plan", "networks", ",,3500,butterworth,2;nobody,,3500,butterworth,2", [1, 2]),
]


@pytest.mark.parametrize(("name", "key", "rows", "expected"), ROWS_TOGETHER)
def test_what_is_wrong_between_rows_tells_its_row_as_data(name, key, rows, expected):
    with pytest.raises(InputError) as caught:
        CALCULATORS[name].answer({key: rows})
    errors = [error for error in caught.value.errors if error.field == key]
    assert [error.row for error in errors] == expected
    assert all(re.search(rf"\bRows? .*\b{error.row}\b", error.message) for error in errors)


REFUSE = """([error, request]) => {
    // Python refuses what is asked next, for this reason.
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (data, ...rest) {
        if (!data.text?.includes(request)) return post.call(this, data, ...rest);
        const reply = { kind: "refused", errors: [error], more_errors: 0, html: "No." };
        this.onmessage({ data: { kind: "reply", id: data.id, text: JSON.stringify(reply) } });
    };
}"""

MARKED = """(selector) => [...document.querySelectorAll(selector)].flatMap((control, at) =>
    control.getAttribute("aria-invalid") === "true" ? [at] : [])"""


@pytest.mark.parametrize(
    ("row", "column", "message", "cells"),
    [
        (2, "coil_ohm", "It is wrong.", [3]),
        (2, "coil_ohm", "Drivers: Row 1: coils: it is wrong.", [3]),
        (3, None, "Drivers: Row 1: coils: it is wrong.", [4, 5]),
        (None, None, "Drivers: Row 1: coils: it is wrong.", [0, 1, 2, 3, 4, 5]),
    ],
)
def test_cells_are_marked_by_row_and_column_and_not_by_words(
    page, served, row, column, message, cells
):
    page.goto(f"{served.url}coil-wiring/?coil-wiring.drivers=2,4;1,8;1,8")
    wait_ready(page)
    card = "#coil-wiring"
    wait_until(page, f"document.querySelectorAll('{card} tbody [data-cell]').length === 6")
    wait_until(page, f"!document.querySelector('{card} form').inert")
    error = {"field": "drivers", "row": row, "column": column, "given": "", "message": message}
    page.evaluate(REFUSE, [error, '"kind":"answer","calculator":"coil-wiring"'])
    page.locator(f"{card} [data-cell]").first.fill("1")
    page.locator(f"{card} .error-summary").wait_for()
    assert page.evaluate(MARKED, f"{card} form [data-cell]") == cells
    # The message is the reader's: it stands there as it came.
    assert page.inner_text(f"{card} [data-field=drivers] .error") == message


@pytest.mark.parametrize(
    ("row", "given", "message", "shown"),
    [
        (2, "", "Readings: It is wrong.", "It is wrong."),
        (2, "", "Readings: Row 2: reading: it is wrong.", "reading: it is wrong."),
        (None, "key of the second", "Readings: Row 1: it is wrong.", "Row 1: it is wrong."),
    ],
)
def test_boxes_are_marked_by_row_or_step_and_not_by_words(page, served, row, given, message, shown):
    page.goto(f"{served.url}commissioning/")
    wait_ready(page)
    boxes = page.locator("#commissioning input[data-reading]")
    boxes.nth(0).fill("1")
    boxes.nth(0).blur()
    wait_sentence(page, "commissioning", "1 of 21 done")
    step = boxes.nth(1).get_attribute("data-reading")
    error = {"field": "readings", "row": row, "column": "reading", "message": message}
    error["given"] = given and step
    page.evaluate(REFUSE, [error, '"kind":"answer","calculator":"commissioning"'])
    boxes.nth(1).fill("2")
    boxes.nth(1).blur()
    page.locator("#commissioning .error-summary").wait_for()
    assert page.evaluate(MARKED, "#commissioning input[data-reading]") == [1]
    place = boxes.nth(1).locator("xpath=following-sibling::span")
    assert place.filter(has_text=shown).inner_text() == shown

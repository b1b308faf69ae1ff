"""Footprints with their rooms, divided over sheets, held against sums written out here."""

import pytest
from asking import errors_of, plain, results, sheet_of, table, values

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError

NO_ROOMS = {"front": "none", "back": "none"}


@pytest.mark.parametrize(
    ("given", "around", "columns", "rows"),
    [
        ({}, (260, 180 + 120 + 60), 2, 2),
        (NO_ROOMS | {"width_mm": 174, "depth_mm": 222}, (174, 222), 1, 1),
        (NO_ROOMS | {"width_mm": "174,1", "depth_mm": 222}, (174.1, 222), 2, 1),
        (NO_ROOMS | {"width_mm": 174, "depth_mm": "222.1"}, (174, 222.1), 1, 2),
        (NO_ROOMS | {"width_mm": 696, "depth_mm": 1110}, (696, 1110), 4, 5),
        (NO_ROOMS | {"left": "power", "right": "fins", "width_mm": 100}, (190, 180), 2, 1),
        ({"controls_room_mm": 0}, (260, 180 + 60 + 60), 2, 2),
    ],
)
def test_a_footprint_with_its_rooms_is_divided_over_sheets(given, around, columns, rows):
    sheet = sheet_of("footprint", **given)
    found = sheet.results
    assert (found["width_mm"], found["depth_mm"]) == around
    assert (found["columns"], found["rows"], found["sheets"]) == (columns, rows, columns * rows)
    small, *large = sheet.drawings
    assert len(large) == columns * rows and found["rule_mm"] == 100
    assert all(one.true_size for one in large) and not small.true_size
    assert len({one.title for one in large}) == columns * rows


def test_a_drawing_s_unit_is_a_millimetre():
    for one in sheet_of("footprint").drawings[1:]:
        _, _, width, height = map(float, one.svg.get("viewBox").split())
        assert (one.svg.get("width"), one.svg.get("height")) == (f"{width:g}mm", f"{height:g}mm")
        assert width <= 178 and height <= 260


def test_more_than_twenty_sheets_are_refused():
    told = errors_of("footprint", **NO_ROOMS, width_mm=697, depth_mm=1110)
    assert list(told) == ["depth_mm"] and "25 sheets" in told["depth_mm"]
    # What the message calls safe is safe: 696 mm each way, in 16 sheets.
    assert "up to 696 mm each way" in plain(told["depth_mm"])
    assert results("footprint", **NO_ROOMS, width_mm=696, depth_mm=696)["sheets"] == 16


def test_rooms_count_towards_the_sheets():
    given = NO_ROOMS | {"width_mm": 690, "depth_mm": 1100}
    assert results("footprint", **given)["sheets"] == 20
    assert "sheets" in errors_of("footprint", **given | {"front": "power"})["depth_mm"]


def test_everything_wrong_with_a_footprint_is_told_at_once():
    wrong = {
        "name": "a,b",
        "width_mm": "x",
        "depth_mm": "19",
        "left": "water",
        "fins_room_mm": "-1",
    }
    with pytest.raises(InputError) as caught:
        CALCULATORS["footprint"].answer(wrong)
    assert {one.field for one in caught.value.errors} == set(wrong)


def test_the_rooms_of_a_footprint_are_listed_by_face():
    rows = [values(row) for row in table(sheet_of("footprint", left="fins"), "Clearances").rows]
    assert sorted((face, room) for face, _, room in rows) == [
        ("back", 60),
        ("front", 60),
        ("front", 120),
        ("left", 30),
    ]

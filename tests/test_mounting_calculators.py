"""Answers for whole bays, held against places and sums worked out by hand here."""

import pytest
from asking import answer, plain, results, sheet_of, table, values
from mounting_sheets import FACES, IN_WORDS, NAME, amp, asked, bay, place, ways_out

from calc.answers.cautions import SEAT_TRAVEL
from calc.app.contents import CALCULATORS

# ---- places ------------------------------------------------------------------------------------


def test_the_example_s_places_leads_and_floor():
    found = results(NAME)
    assert found["feasible"] is True and found["verdict"] == "suitable" and found["relax"] == []
    keys = ("amplifier", "x_mm", "y_mm", "turned_deg", "controls")
    assert [tuple(one[key] for key in keys) for one in found["placements"]] == [
        ("Hazel 4-50", 0, 50, 90, "in-place"), ("Linden 4-100 compact", 0, 310, 0, "in-place"),
    ]  # fmt: skip
    # Power and speaker in at (0, 420), signal at (800, 0); to the middles of the faces.
    leads = [240, 240, 620 + 180, 55, 55, 590 + 365]
    assert [round(1000 * one["length_m"], 6) for one in found["leads_in_bay"]] == leads
    assert found["lead_in_bay_m"] == pytest.approx(sum(leads) / 1000)
    bodies, hands = 260 * 180 + 210 * 110, 120 * 260 + 120 * 110
    assert found["spare_m2"] == pytest.approx((800 * 420 - bodies - hands - 90 * 80) / 1e6)
    assert (found["height_needed_mm"], found["false_floor_mm"]) == (52, 52 + 2 * 12)
    assert found["fixing"] == [] and found["other"] is None


@pytest.mark.parametrize(
    ("edge", "size", "degrees"),
    [
        ("front", (260, 180), 0),
        ("right", (180, 260), 90),
        ("back", (260, 180), 180),
        ("left", (180, 260), 270),
    ],
)
def test_a_quarter_turn_takes_the_front_to_the_right_and_so_on_round(edge, size, degrees):
    sheet = asked(*size, amp(front="controls"), **{f"{edge}_edge": "open"})
    assert place(sheet) == (0, 0, degrees, "in-place")
    row = values(table(sheet, "What is on each side").rows[0])
    assert row[1:] == ["front", "in place", 120, edge, "controls"]


@pytest.mark.parametrize(
    ("face", "width", "depth", "x", "y"),
    [
        ("front", 260, 240, 0, 60), ("back", 260, 240, 0, 0),
        ("left", 320, 180, 60, 0), ("right", 320, 180, 0, 0),
    ],
)  # fmt: skip
def test_a_room_at_a_wall_keeps_the_body_off_by_its_depth_and_no_more(face, width, depth, x, y):
    # The other turn by 180° stands as well: its room lies on the other side.
    found = asked(width, depth, amp(**{face: "power"}), entries=f"power,{x},{y}")
    turned = found.results["placements"][0]["turned_deg"]
    assert turned in (0, 180)
    far = (width - 260 - x, depth - 180 - y)
    assert place(found)[:2] == ((x, y) if turned == 0 else far)
    axis, length = ("depth", depth) if face in ("front", "back") else ("width", width)
    for missing, shown in ((1, 1), (0.2, 1), (17, 17)):
        shorter = {f"bay_{axis}_mm": length - missing}
        found = asked(width, depth, amp(**{face: "power"}), **shorter)
        assert found.results["feasible"] is False and found.results["placements"] == []
        assert (axis, shown) in ways_out(found)
        (one,) = (one for one in found.results["relax"] if one["what"] == axis)
        assert one["by_mm"] == pytest.approx(missing)
        assert one["words"] == f"{shown} mm more {axis}"


def test_a_room_stops_at_a_keep_out():
    given = {"keep_outs": "0,0,100,180", "power_room_mm": 45}
    found = asked(405, 180, amp(left="power"), **given)
    assert place(found)[:3] == (145, 0, 0)
    found = asked(404, 180, amp(left="power"), **given)
    assert found.results["feasible"] is False
    assert {("keep-out", "1"), ("width", 1)} <= ways_out(found)


def test_rooms_lie_on_one_another_but_not_on_a_body():
    pair = (amp("A", right="power"), amp("B", left="power"))
    assert asked(580, 180, *pair).results["feasible"] is True  # 260 + 60 + 260
    assert asked(579, 180, *pair).results["feasible"] is False
    assert asked(580, 180, *pair, power_room_mm=61).results["feasible"] is False
    # Bodies that touch, and a room of nothing.
    assert asked(520, 180, *pair, power_room_mm=0).results["feasible"] is True


def test_the_deepest_room_of_a_face_counts_and_a_hand_s_only_for_the_reach():
    one = amp(front="power+speaker+signal+controls+fins")
    rooms = {"power_room_mm": 20, "speaker_room_mm": 31, "signal_room_mm": 30, "fins_room_mm": 29}
    assert asked(260, 210, one, **rooms).results["feasible"] is False
    assert place(asked(260, 211, one, **rooms))[3] == "never"
    assert place(asked(260, 299, one, **rooms))[3] == "never"
    assert place(asked(260, 300, one, **rooms)) == (0, 120, 0, "in-place")


def test_missing_room_for_a_hand_is_said_in_figures():
    found = asked(260, 293, amp(front="controls"))
    assert (found.results["feasible"], found.verdict.state) == (True, "unsuitable")
    assert plain(found.sentence) == ("It fits, but you can’t reach the controls once it is in.")
    assert plain(found.verdict.reason) == (
        "You can’t reach the controls of A in this space. With 7 mm more depth or 40 mm "
        "more width, you could reach all of them in place."
    )
    free = found.figures[1]
    assert (free.label, round(free.value.value, 4)) == ("Free floor", 0.0294)
    assert found.results["controls_in_place_with"][0] == {
        "what": "depth", "by_mm": 7, "words": "7 mm more depth",
    }  # fmt: skip
    assert "A: set gain, filters and levels before fitting" in found.cautions[0]


# ---- seats -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("edge", "travel", "controls", "state"),
    [
        ("open", 0, "in-place", "suitable"),
        ("seat", 120, "seat-slid", "suitable"),
        ("seat", "119,9", "seat-out", "not known"),
        ("seat", 0, "seat-out", "not known"),
        ("wall", 500, "never", "unsuitable"),
    ],
)
def test_a_hand_goes_over_a_seat_s_edge_as_far_as_the_seat_slides(edge, travel, controls, state):
    found = asked(260, 180, amp(front="controls"), front_edge=edge, seat_travel_mm=travel)
    assert found.results["feasible"] is True
    assert (place(found)[3], found.verdict.state) == (controls, state)
    assert (controls in IN_WORDS) == (IN_WORDS.get(controls, "–") in found.sentence)


@pytest.mark.parametrize("side", FACES[:4])
def test_plugs_go_over_a_seat_s_edge_as_far_as_the_seat_slides(side):
    size = (260, 180) if side in ("front", "back") else (180, 260)
    edge = {f"{side}_edge": "seat"}
    found = asked(*size, amp(front="power"), seat_travel_mm=60, **edge)
    assert found.results["feasible"] is True and found.verdict.state == "not known"
    assert found.results["placements"][0]["into_seat_mm"] == 60
    assert "only while the seat stays slid by 60 mm" in plain(found.sentence)
    assert "slid by 60 mm" in plain(found.verdict.reason)
    assert any(one.endswith(SEAT_TRAVEL) for one in found.cautions)
    found = asked(*size, amp(front="power"), seat_travel_mm=59, **edge)
    assert found.results["feasible"] is False
    assert ("edge", side) in ways_out(found)


def test_plugs_stay_clear_of_the_seat_where_there_is_floor_for_it():
    found = asked(260, 240, amp(front="power"), front_edge="seat", seat_travel_mm=60)
    assert found.results["placements"][0]["into_seat_mm"] == 0
    assert found.verdict.state == "suitable" and "slid" not in found.sentence


# Controls on top of 52 mm: the hand needs up to 172 mm.
ON_TOP = [
    ({"bay_height_mm": 172, "top_edge": "wall"}, True, "in-place", "suitable"),
    ({"bay_height_mm": "171,9", "top_edge": "wall"}, True, "never", "unsuitable"),
    ({"bay_height_mm": "", "top_edge": "wall"}, None, None, "not known"),
    ({"bay_height_mm": "", "top_edge": "open"}, True, "in-place", "suitable"),
    ({"bay_height_mm": 52, "top_edge": "open"}, True, "in-place", "suitable"),
    ({"bay_height_mm": "51,9", "top_edge": "open"}, False, None, "unsuitable"),
    ({"bay_height_mm": 60, "top_edge": "seat", "seat_travel_mm": 180}, True, "seat-slid",
     "suitable"),
    ({"bay_height_mm": 60, "top_edge": "seat", "seat_travel_mm": "179,9"}, True, "seat-out",
     "not known"),
    ({"bay_height_mm": 172, "top_edge": "seat"}, True, "in-place", "suitable"),
    ({"bay_height_mm": "", "top_edge": "seat", "seat_travel_mm": 180}, None, None, "not known"),
    ({"bay_height_mm": 60, "top_edge": "wall", "controls_room_mm": 8}, True, "in-place",
     "suitable"),
]  # fmt: skip


@pytest.mark.parametrize(("given", "feasible", "controls", "state"), ON_TOP)
def test_controls_on_top_need_height_or_a_roof_that_slides_off(given, feasible, controls, state):
    found = asked(260, 180, amp(top="controls"), left_edge="open", **given)
    assert found.results["feasible"] is feasible
    assert found.verdict.state == found.results["verdict"] == state
    assert [one["controls"] for one in found.results["placements"]] == (
        [] if feasible is False else [controls]
    )


def test_a_roof_that_slides_back_uncovers_the_front():
    given = {"bay_height_mm": 60, "top_edge": "seat", "seat_travel_mm": 200}
    found = asked(260, 900, amp(top="controls"), **given)
    _, y, degrees, controls = place(found)
    assert controls == "seat-slid" and degrees in (0, 180) and y + 180 <= 200
    # With something on the whole front the place uncovered is taken.
    found = asked(260, 900, amp(top="controls"), keep_outs="0,0,260,21", **given)
    assert place(found)[3] == "seat-out" and found.verdict.state == "not known"


def test_an_unknown_height_does_not_hide_that_no_hand_gets_there():
    found = asked(260, 180, amp(front="controls"), top_edge="wall", bay_height_mm="")
    assert (found.results["feasible"], found.verdict.state) == (None, "unsuitable")
    assert place(found)[3] == "never" and "on the plan" in found.sentence


# ---- height ------------------------------------------------------------------------------------


def test_a_height_that_is_missing_is_told_in_whole_millimetres():
    found = sheet_of(NAME, bay_height_mm="51.5", way_points="")
    assert found.results["feasible"] is False and found.verdict.state == "unsuitable"
    higher, without = found.results["relax"]
    assert (higher["what"], higher["by_mm"], higher["words"]) == ("height", 0.5, "1 mm more height")
    # Only the other amplifier is low enough.
    assert (without["what"], without["which"]) == ("amplifier", "Hazel 4-50")
    assert plain(found.sentence) == (
        "They don’t fit: the space is 1 mm too low. They would also fit with the Hazel 4-50 "
        "left out."
    )
    assert plain(found.verdict.reason) == (
        "The space is 1 mm too low. They would also fit with the Hazel 4-50 left out."
    )
    empty = ("placements", "leads_in_bay")
    assert all(found.results[key] == [] for key in empty)
    nothing = ("lead_in_bay_m", "spare_m2", "reach_is_proven", "leads_are_proven")
    assert [found.results[key] for key in nothing] == [None] * 4


def test_plugs_and_air_on_top_count_under_a_roof_and_not_under_the_sky():
    one = amp(top="power+fins")
    found = asked(260, 180, one, top_edge="wall", bay_height_mm=110)
    assert [(r["what"], r["by_mm"]) for r in found.results["relax"]] == [("height", 2)]
    assert asked(260, 180, one, top_edge="wall", bay_height_mm=112).results["feasible"] is True
    found = asked(260, 180, one, bay_height_mm=52).results
    assert found["feasible"] is True and found["height_needed_mm"] == 112
    assert asked(260, 180, amp(top="fins")).results["height_needed_mm"] == 82


def test_an_unknown_height_is_never_a_pass():
    found = sheet_of(NAME, bay_height_mm="")
    assert found.results["feasible"] is None and found.verdict.state == "not known"
    assert found.verdict.reason == "Measure the height of the space and enter it."
    assert len(found.results["placements"]) == 2 and found.results["relax"] == []
    assert not [way for way in found.onward if way.calculator == "bay-heat"]
    # What does not fit on the plan does not fit at any height.
    assert results(NAME, bay_height_mm="", bay_width_mm=100)["feasible"] is False


# ---- controls that are not there, several designs ----------------------------------------------


def test_without_controls_no_reach_is_claimed():
    sheet = asked(260, 180, amp(front="none"))
    assert sheet.sentence == "It fits. No controls were entered."
    assert sheet.verdict.reason == "Plugs, cable bends and cooling air all have clearance."
    assert values(table(sheet, "Where each amplifier goes").rows[0])[1] == "none entered"
    assert sheet.results["placements"][0]["control_faces"] == {}
    assert sheet.results["placements"][0]["controls"] == "in-place"  # nothing to reach


def test_without_entries_the_leads_inside_are_not_known():
    found = sheet_of(NAME, entries="").results
    assert found["lead_in_bay_m"] is None and found["leads_in_bay"] == []
    assert found["leads_are_proven"] is None


def test_the_worst_of_several_control_faces_counts():
    found = asked(260, 300, amp(front="controls", back="controls"))
    one = found.results["placements"][0]
    assert one["controls"] == "never"
    assert sorted(one["control_faces"].values()) == ["in-place", "never"]


def test_another_body_in_a_hand_s_way_is_never_and_not_infeasible():
    found = asked(260, 280, amp("A", front="controls"), amp("B", 260, 100))
    assert found.results["feasible"] is True
    reached = {one["amplifier"]: one["controls"] for one in found.results["placements"]}
    assert reached["A"] == "never" and found.verdict.state == "unsuitable"
    assert "you can’t reach the controls once they are in" in found.sentence


def test_two_designs_are_answered_side_by_side():
    given = bay(260, 300, amp(front="controls"))
    other = f"{amp('B', 250, 200, front='controls')};{amp('C', 250, 101)}"
    found = sheet_of(NAME, **given, other_amplifiers=other)
    alone = results(NAME, **given)
    assert {key: found.results[key] for key in alone if key != "other"} == {
        key: value for key, value in alone.items() if key != "other"
    }
    assert found.results["other"]["feasible"] is False
    assert found.results["other"]["relax"][0]["words"] == "1 mm more depth"
    rows = [values(row) for row in table(found, "side by side").rows]
    assert [row[:3] for row in rows] == [["A", "yes", "in place"], ["B and C", "no", "–"]]
    assert len(found.drawings) == 2


def test_masses_give_the_pull_on_the_fixing_and_without_them_none_is_told():
    found = sheet_of(NAME, masses_kg="2,5;3")
    assert [one["holds_n"] for one in found.results["fixing"]] == pytest.approx(
        [20 * 9.81 * 2.5, 20 * 9.81 * 3]
    )
    rows = [values(row) for row in table(found, "Floor, height").rows]
    assert [row[-2] for row in rows] == [2.5, 3]
    without = table(sheet_of(NAME), "Floor, height")
    assert not [one for one in without.columns if one.unit in ("kg", "N")]
    assert "Enter the weights" in without.note


def test_on_a_wall_the_caution_speaks_of_water_and_fins():
    found = sheet_of(NAME, mounted_on="wall")
    assert any("fins upright" in one for one in found.cautions)
    assert found.drawings[0].title.startswith("The wall")
    assert {**found.results} == {**results(NAME)}


# ---- starting points ---------------------------------------------------------------------------

STARTS = CALCULATORS[NAME].starts


@pytest.mark.parametrize("start", STARTS, ids=lambda one: one.label)
def test_each_starting_point_is_a_valid_bay_for_the_example_s_amplifiers(start):
    sheet = answer(NAME, **start.texts).sheet
    assert sheet.results["feasible"] is True and len(sheet.results["placements"]) == 2
    assert sheet.verdict.state in ("suitable", "unsuitable")
    keys = {"bay_width_mm", "bay_depth_mm", "bay_height_mm", "seat_travel_mm", "mounted_on",
            *(f"{side}_edge" for side in FACES), "keep_outs", "entries"}  # fmt: skip
    assert set(start.texts) == keys  # nothing of an earlier bay stays


def test_the_first_starting_point_is_the_example_itself():
    assert answer(NAME, **STARTS[0].texts).changed == {}

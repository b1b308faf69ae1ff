"""What would make it fit, and what would bring all into reach: each done, and asked again."""

import pytest
from asking import plain, results
from mounting_sheets import FACES, NAME, amp, asked, bay

TIGHT = {
    "a bay too shallow": bay(600, 163, amp(front="power"), amp("B", 200, 100)),
    "two between walls": bay(350, 200, amp(), amp("B", 200, 100)),
    "a bracket": bay(300, 200, amp(), keep_outs="120,90,10,10"),
    "two brackets": bay(300, 200, amp(), keep_outs="120,90,10,10;290,190,20,20"),
    "plugs to the wall": bay(280, 200, amp(front="power", back="speaker")),
    "a seat that hardly slides": bay(260, 200, amp(front="power"), front_edge="seat",
                                     seat_travel_mm=30),
    "three in a pocket": bay(300, 300, amp("A", 200, 150), amp("B", 150, 140),
                             amp("C", 200, 120, left="signal")),
    "one too high": bay(300, 200, amp(height=70), top_edge="wall", bay_height_mm=62),
}  # fmt: skip
SIDES = FACES[:4]


def relaxed(given, one):
    """The inputs with one of the ways out taken, and with a millimetre too little of it."""
    if one["by_mm"] is not None:
        key = f"bay_{one['what']}_mm"
        enough = given[key] + one["by_mm"]
        return {**given, key: round(enough, 6)}, {**given, key: round(enough - 1, 6)}
    if one["what"] == "keep-out":
        rows = given["keep_outs"].split(";")
        del rows[int(one["which"]) - 1]
        return {**given, "keep_outs": ";".join(rows)}, None
    if one["what"] == "amplifier":
        rows = given["amplifiers"].split(";")
        kept = [row for row in rows if not row.startswith(one["which"] + ",")]
        assert len(kept) == len(rows) - 1
        return {**given, "amplifiers": ";".join(kept)}, None
    assert one["which"] in SIDES
    return {**given, f"{one['which']}_edge": "open"}, None


@pytest.mark.parametrize("case", TIGHT)
def test_each_way_out_is_one_by_itself_and_a_millimetre_less_is_none(case):
    given = TIGHT[case]
    found = results(NAME, **given)
    assert found["feasible"] is False and found["relax"]
    for one in found["relax"]:
        enough, less = relaxed(given, one)
        assert results(NAME, **enough)["feasible"] is True, one
        if less:
            assert results(NAME, **less)["feasible"] is False, one


def test_the_way_out_names_what_to_leave_away():
    found = results(NAME, **TIGHT["two brackets"])
    assert [one["which"] for one in found["relax"] if one["what"] == "keep-out"] == ["1"]
    found = results(NAME, **TIGHT["two between walls"])
    which = [one["which"] for one in found["relax"] if one["what"] == "amplifier"]
    assert which == ["A", "B"]


def test_the_only_one_that_is_too_high_is_a_way_out():
    given = bay(600, 200, amp("Tall", height=70), amp("Low"), top_edge="wall", bay_height_mm=62)
    kept = {**given, "amplifiers": amp("Low")}
    assert results(NAME, **kept)["feasible"] is True
    named = {(one["what"], one["which"]) for one in results(NAME, **given)["relax"]}
    assert ("amplifier", "Tall") in named


def test_with_too_little_height_and_floor_no_single_change_is_said_to_do():
    sheet = asked(250, 179, amp(height=70), top_edge="wall", bay_height_mm=62)
    assert "8 mm too low, and too small as well" in plain(sheet.sentence)
    for one in sheet.results["relax"]:
        assert one["height_mm"] == 8 and one["words"].endswith("and 8 mm more height")
    assert sheet.verdict.state == "unsuitable"
    for text in (sheet.sentence, sheet.verdict.reason):
        assert "would do" not in text


# Something keeps a hand from the controls: a wall, a roof, a seat, another body.
OUT_OF_REACH = {
    "a wall in front": bay(260, 293, amp(front="controls")),
    "a low roof": bay(260, 180, amp(top="controls"), top_edge="wall", bay_height_mm=100),
    "a low roof that is a seat": bay(260, 180, amp(top="controls"), top_edge="seat",
                                     bay_height_mm=100),
    "a low roof and a wall": bay(260, 180, amp(front="controls", top="controls"),
                                 top_edge="wall", bay_height_mm=100),
    "a low roof and a seat": bay(260, 240, amp(front="power", top="controls"), top_edge="wall",
                                 bay_height_mm=100, front_edge="seat", seat_travel_mm=30),
    "another body": bay(260, 280, amp("A", front="controls"), amp("B", 260, 100)),
    "another body and a low roof": bay(260, 280, amp("A", front="controls"),
                                       amp("B", 260, 100, top="controls"), top_edge="wall",
                                       bay_height_mm=100),
}  # fmt: skip


@pytest.mark.parametrize("case", OUT_OF_REACH)
def test_more_room_that_is_said_to_bring_all_into_reach_does(case):
    given = OUT_OF_REACH[case]
    found = results(NAME, **given)
    assert found["feasible"] is True
    assert any(one["controls"] != "in-place" for one in found["placements"])
    for one in found["controls_in_place_with"]:
        enough, _ = relaxed(given, one)
        placed = results(NAME, **enough)["placements"]
        reached = {face for each in placed for face in each["control_faces"].values()}
        assert reached == {"in-place"}, one["words"]

"""Runs, ways on, refusals, heat and footprints, held against sums written out here."""

import json
import re
from dataclasses import is_dataclass

import pytest
from asking import answer, errors_of, plain, refusals, results, sheet_of

from calc.__main__ import main
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.inputs import links
from calc.inputs.declared import values_of
from calc.inputs.errors import InputError

REACH = "mounting-reach"
ROW = "260,180,52,signal+controls,none,power+speaker,none,none"

# ---- runs --------------------------------------------------------------------------------------


# Stretches to and from a bay; speakers branch at the sill.
WAYS = (
    "power,battery,sill,1.1;power,sill,bay,1.6;signal,head unit,tunnel,1.2;signal,tunnel,bay,3.8;"
    "speaker,bay,sill,1.4;speaker,sill,left door,2.3;speaker,sill,right door,3.6;"
    "speaker,bay,woofers,1.2"
)


def runs(way_points, **given):
    found = results(REACH, way_points=way_points, **given)["runs"]
    assert all(list(one) == ["lead", "from", "to", "length_m"] for one in found)
    return [(one["lead"], one["from"], one["to"], round(one["length_m"], 9)) for one in found]


def test_stretches_add_up_to_every_run_with_a_tenth_of_slack():
    found = runs(WAYS)
    assert [one[:3] for one in found] == [
        ("power", "battery", "bay"), ("signal", "head unit", "bay"),
        ("speaker", "bay", "left door"), ("speaker", "bay", "right door"),
        ("speaker", "bay", "woofers"),
    ]  # fmt: skip
    lengths = [1.1 + 1.6, 1.2 + 3.8, 1.4 + 2.3, 1.4 + 3.6, 1.2]
    assert [one[3] for one in found] == pytest.approx([1.1 * one for one in lengths])


@pytest.mark.parametrize(("slack", "factor"), [("0", 1), ("12,5", 1.125), ("100", 2)])
def test_slack_is_a_share_of_the_whole_run(slack, factor):
    way = "power,battery,sill,1.5;power,sill,bay,2.5"
    assert runs(way, slack_percent=slack) == [("power", "battery", "bay", 4 * factor)]


def test_the_order_of_stretches_does_not_matter_and_leads_do_not_mix():
    way = "power,b,c,2;speaker,c,d,8;power,a,b,1;power,c,d,4"
    assert runs(way, slack_percent=0) == [("power", "a", "d", 7), ("speaker", "c", "d", 8)]


def test_stretches_that_do_not_meet_are_runs_of_their_own():
    way = "power,a,b,1;power,c,d,2;signal,A,b,3"
    assert runs(way, slack_percent=0) == [
        ("power", "a", "b", 1), ("power", "c", "d", 2), ("signal", "A", "b", 3),
    ]  # fmt: skip


def test_without_way_points_there_are_no_runs_and_no_way_on_to_cables():
    sheet = sheet_of(REACH, way_points="")
    assert sheet.results["runs"] == []
    assert {way.calculator for way in sheet.onward} == {"bay-heat", "footprint"}
    assert not [one for one in sheet.tables if "Cable runs" in one.caption]


# ---- ways on -----------------------------------------------------------------------------------


def followed(way):
    """The answer that a way on opens, without a notice or an error."""
    calculator = CALCULATORS[way.calculator]
    page = links.own_page(calculator.name)
    assert way.link == f"{page}?{way.query}"
    asked = links.opened(calculator.name, calculator.form, way.query, [calculator.name])
    assert (asked.notices, asked.errors) == ((), ())
    assert dict(asked.texts) == dict(way.texts)
    return calculator.answer(asked.texts, asked.errors)


def rows_as_mappings(inputs):
    """Return inputs with each row of a table as a mapping."""

    def opened_up(value):
        has_rows = isinstance(value, tuple) and value and is_dataclass(value[0])
        return tuple(map(values_of, value)) if has_rows else value

    return {key: opened_up(value) for key, value in inputs.items()}


def ways(**given):
    sheet = sheet_of(REACH, **given)
    return sheet.results, {
        way.calculator: rows_as_mappings(followed(way).inputs) for way in sheet.onward
    }


@pytest.mark.parametrize("slack", ["0", "10", "12,5", "33.3", "100"])
def test_the_ways_on_agree_with_the_answer(slack):
    found, opened = ways(slack_percent=slack, bay_height_mm="123,4", way_points=WAYS)
    assert set(opened) == {"power-cable", "speaker-lead", "kit-list", "bay-heat", "footprint"}
    of = {lead: [one["length_m"] for one in found["runs"] if one["lead"] == lead]
          for lead in ("power", "speaker")}  # fmt: skip
    assert opened["power-cable"]["length_m"] == pytest.approx(max(of["power"]), abs=0.001)
    assert opened["speaker-lead"]["length_m"] == pytest.approx(max(of["speaker"]), abs=0.001)
    kit = opened["kit-list"]
    share = 1 + kit["slack_percent"] / 100
    assert share == pytest.approx(1 + float(slack.replace(",", ".")) / 100)
    routes = {(one["what"], one["from"], one["to"]): one["length_m"] for one in kit["routes"]}
    inside = {(one["amplifier"], one["lead"]): one["length_m"] for one in found["leads_in_bay"]}
    names = ["Hazel 4-50", "Linden 4-100 compact"]
    assert [one["name"] for one in kit["amplifiers"]] == names
    expected = {}
    for one in found["runs"]:
        length = one["length_m"] / share
        if one["lead"] == "power":  # one cable to the bay, and a branch to each
            expected["power", "battery", one["to"]] = length
            expected |= {("power", one["to"], name): inside[name, "power"] for name in names}
        elif one["lead"] == "signal":
            expected |= {
                ("signal", one["from"], name): length + inside[name, "signal"] for name in names
            }
        else:  # of which amplifier nobody has said
            expected["speaker", names[0], one["to"]] = length
    assert routes == pytest.approx(expected, abs=0.002)
    sides = 2 * (0.8 * 0.42 + 0.8 * 0.1234 + 0.42 * 0.1234)
    assert opened["bay-heat"]["area_m2"] == pytest.approx(sides, abs=0.001)
    assert opened["bay-heat"]["closed"] is False


def test_the_kit_list_buys_the_runs_lengths_with_slack_once():
    (way,) = (
        one for one in sheet_of(REACH, way_points=WAYS).onward if one.calculator == "kit-list"
    )
    items = followed(way).sheet.results["items"]
    bought = [one["length_m"] for one in items if "left door" in one["reason"]]
    assert any(one == pytest.approx(1.1 * 3.7, abs=0.1) for one in bought if one), items


@pytest.mark.parametrize(
    ("edges", "closed"),
    [
        ({}, False),
        ({"front_edge": "wall", "left_edge": "wall"}, True),
        ({"front_edge": "wall", "left_edge": "wall", "top_edge": "open"}, False),
        ({"front_edge": "wall", "left_edge": "seat"}, False),
    ],
)
def test_only_a_bay_of_walls_all_round_is_handed_on_as_closed(edges, closed):
    assert ways(**edges)[1]["bay-heat"]["closed"] is closed


# Everything here is permitted in this form; what is handed on must be permitted there.
FAR = {
    "a power run of 132 m": {"way_points": "power,battery,sill,60;power,sill,bay,60"},
    "a power run of 11 mm": {"way_points": "power,battery,bay,0.01"},
    "a speaker run of 66 m": {"way_points": "speaker,bay,door,60"},
    "a speaker run of 55 mm": {"way_points": "speaker,bay,door,0.05"},
    "a signal run of 198 m": {"way_points": "signal,head unit,a,90;signal,a,bay,90"},
    "two power runs to one place": {"way_points": "power,battery,bay,1;power,second,bay,2"},
    "more runs than the kit list has rows": {
        "way_points": ";".join(
            [f"speaker,s{at},hub,1" for at in range(8)]
            + [f"speaker,hub,e{at},1" for at in range(8)]
        )
    },
    "a bay as large as may be": dict.fromkeys(("bay_width_mm", "bay_depth_mm"), "5000")
    | {"bay_height_mm": "3000"},
    "a bay as small as may be": dict.fromkeys(("bay_width_mm", "bay_depth_mm"), "50")
    | {"bay_height_mm": "10"},
}


@pytest.mark.parametrize("case", FAR)
def test_a_way_on_opens_whatever_the_figures(case):
    for way in sheet_of(REACH, **FAR[case]).onward:
        try:
            followed(way)
        except InputError as error:
            pytest.fail(f"{way.calculator} refuses it: {plain(str(error))[:120]}")


@pytest.mark.parametrize("name", ["a|b & c=d#", "Ä ‘ö’ +1", "100 %", "<b>x</b>"])
def test_names_of_any_kind_survive_the_way_on(name):
    row = f"{name},200,100,50,signal,none,power,none,none"
    _, opened = ways(amplifiers=row, way_points=f"speaker,bay,{name} door,2;signal,head unit,bay,3")
    routes = opened["kit-list"]["routes"]
    assert (routes[0]["from"], routes[0]["to"]) == (name, f"{name} door")
    assert routes[1]["to"] == opened["footprint"]["name"] == name


def test_a_footprint_has_the_body_the_faces_and_the_rooms_that_were_asked():
    row = "A,200,100,50,signal+controls,none,power,fins,controls"
    _, opened = ways(amplifiers=row, power_room_mm="77")
    shown = opened["footprint"]
    assert (shown["width_mm"], shown["depth_mm"], shown["power_room_mm"]) == (200, 100, 77)
    faces = [shown[face] for face in ("front", "right", "back", "left")]
    assert faces == [("signal", "controls"), (), ("power",), ("fins",)]


def test_what_the_kit_list_is_told_of_an_amplifier_is_its_own_start_value():
    default = values_of(CALCULATORS["kit-list"].answer({}).inputs["amplifiers"][0])
    (told,) = ways(amplifiers=f"A,{ROW}")[1]["kit-list"]["amplifiers"]
    keys = ("total_power_w", "trigger", "signal_pairs")
    assert [told[key] for key in keys] == [default[key] for key in keys]


# ---- starting points through the page ----------------------------------------------------------


def started(at, inputs):
    request = {"kind": "start", "calculator": REACH, "start": at, "inputs": inputs}
    return json.loads(respond(json.dumps(request)))


@pytest.mark.parametrize("at", range(4))
def test_a_starting_point_keeps_what_it_does_not_set(at):
    kept = {"amplifiers": f"Mine,{ROW}", "way_points": "power,a,b,7", "power_room_mm": "61",
            "masses_kg": "2", "slack_percent": "5"}  # fmt: skip
    start = CALCULATORS[REACH].starts[at]
    reply = started(at, {**kept, "bay_width_mm": "not a number", "top_edge": "seat"})
    assert reply["kind"] == "answer" and reply["notices"] == ""
    asked = links.opened(REACH, CALCULATORS[REACH].form, reply["query"], [REACH])
    inputs = CALCULATORS[REACH].answer(asked.texts).inputs
    again = CALCULATORS[REACH].answer({**kept, **start.texts}).inputs
    assert inputs == again


def test_a_starting_point_over_the_example_is_a_link_of_the_bay_alone():
    assert started(0, {"bay_width_mm": "300"})["query"] == ""
    reply = started(3, {})
    keys = re.findall(r"(\w+)=", reply["query"])
    assert set(keys) <= set(CALCULATORS[REACH].starts[3].texts)


def test_a_starting_point_does_not_hide_what_is_wrong_elsewhere():
    reply = started(1, {"amplifiers": f"A,{ROW};A,{ROW}"})
    assert reply["kind"] == "refused" and [e["field"] for e in reply["errors"]] == ["amplifiers"]
    assert 'value="430"' in reply["form"] and 'value="A"' in reply["form"]


# ---- refusals ----------------------------------------------------------------------------------


def test_everything_wrong_is_told_at_once_in_the_form_s_order():
    wrong = {
        "way_points": "power,a,b,1;power,b,a,1", "entries": "power,0,0;power,1,1",
        "amplifiers": f"A,{ROW};A,{ROW}", "masses_kg": "1;2;3", "bay_width_mm": "wide",
        "slack_percent": "-1", "front_edge": "door", "keep_outs": "1,2,0,4",
    }  # fmt: skip
    found = refusals(REACH, **wrong)
    assert {field for field, _ in found} == set(wrong) and len(found) == len(wrong)
    labels = {one.key: one.label for one in CALCULATORS[REACH].fields}
    assert all(message.startswith(f"{labels[field]}: ") for field, message in found)
    told = dict(found)
    assert "ring: a to b to a" in told["way_points"]
    assert told["amplifiers"] == ("Amplifiers: A is there twice. Give each amplifier its own name.")
    assert "comes in twice" in told["entries"]
    assert "Row 1: width: 0 is out of range" in told["keep_outs"]


@pytest.mark.parametrize(
    ("way_points", "message"),
    [
        ("power,a,a,1", "ring: a to a"),
        ("speaker,a,b,1;speaker,b,c,1;speaker,c,a,1", "The speaker route runs in a ring"),
        ("power,x,a,1;power,a,b,1;power,b,a,1", "ring"),
        ("power,a,b,1;power,a,b,2", "two power routes from a to b"),
        ("power,a,b,1;power,b,d,1;power,a,c,1;power,c,d,1", "two power routes from a to d"),
        ("power,a,b,0", "out of range"),
        ("power,a,b,nan", "not a number"),
        ("water,a,b,1", "not one of the choices"),
        ("power,,b,1", "Row 1: from"),
        ("power,a,b", "3 values where 4 are needed"),
    ],
)
def test_way_points_that_lead_nowhere_are_refused(way_points, message):
    told = errors_of(REACH, way_points=way_points)
    assert list(told) == ["way_points"] and message in plain(told["way_points"])


def test_names_are_told_apart_as_they_are_written():
    twice = "is there twice"
    assert twice in errors_of(REACH, amplifiers=f"A,{ROW}; A ,{ROW}")["amplifiers"]
    assert twice in errors_of(REACH, other_amplifiers=f"A,{ROW};A,{ROW}")["other_amplifiers"]
    answer(REACH, amplifiers=f"A,{ROW}", other_amplifiers=f"A,{ROW}")
    # A name is told as it was typed, even one that looks like a gap to be filled.
    odd = ";".join([f"{{given}},{ROW}"] * 2)
    assert "{given} is there twice." in errors_of(REACH, amplifiers=odd)["amplifiers"]
    assert list(errors_of(REACH, amplifiers=";".join(f"{at},{ROW}" for at in range(5)))) == [
        "amplifiers"
    ]


def test_a_decimal_comma_is_a_point():
    given = {"bay_width_mm": "800,5", "fins_room_mm": "30,0", "masses_kg": "2,5;3"}
    points = {key: text.replace(",", ".") for key, text in given.items()}
    assert results(REACH, **given) == results(REACH, **points)
    rows = CALCULATORS[REACH].answer({"keep_outs": [["360,5", "340", "90", "80"]]}).inputs
    assert rows["keep_outs"][0].x_mm == 360.5
    assert results("bay-heat", area_m2="0,5") == results("bay-heat", area_m2="0.5")
    assert results("footprint", width_mm="173,9")["width_mm"] == 173.9


@pytest.mark.parametrize("name", [REACH, "bay-heat", "footprint"])
def test_the_command_line_refuses_in_json_and_never_stumbles(name, capsys):
    key = {REACH: "bay_width_mm", "bay-heat": "power_w", "footprint": "width_mm"}[name]
    hostile = ["", " ", "-0", "1e3", "NaN", "9" * 400, "1,2,3", ";;;", ",", "\x00", "٣", "<b>", "+"]
    for field in CALCULATORS[name].fields:
        for text in hostile:
            code = main([name, f"{field.key}={text}", "--json"])
            out, err = capsys.readouterr()
            assert code in (0, 2) and "Traceback" not in out + err
            if code:
                told = json.loads(err)["errors"]
                assert all(
                    set(one) == {"field", "row", "column", "given", "message"} for one in told
                )
                assert {one["field"] for one in told} == {field.key}
    assert main([name, f"{key}=300", f"{key}=300", "no_such=1", "--json"]) == 2
    told = {one["field"]: one["message"] for one in json.loads(capsys.readouterr().err)["errors"]}
    assert set(told) == {key, "no_such"} and "entered twice" in told[key]


def test_figures_that_do_not_exist_are_null_in_json(capsys):
    assert main([REACH, "bay_height_mm=", "entries=", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["results"]
    nulls = ("feasible", "lead_in_bay_m", "leads_are_proven", "other")
    assert [found[key] for key in nulls] == [None] * len(nulls)
    assert main(["bay-heat", "closed=no", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["results"]
    nulls = ("rise_c", "rise_low_c", "rise_high_c", "bay_c", "parked_c", "area_needed_m2")
    assert [found[key] for key in nulls] == [None] * len(nulls)
    assert [one["rise_c"] for one in found["duties"]] == [None] * 3

"""The commissioning sheet: what this system should read, and what is made of readings."""

import json
import math

import pytest

from calc.app.contents import CALCULATORS, query_of
from calc.app.page import respond
from calc.inputs.errors import InputError
from calc.renderers.data import answer_csv
from calc.renderers.text import answer_text

ONE = "doors,60,4,no,direct,0.1,315,0,0"


def answer(readings="", **given):
    return CALCULATORS["commissioning"].answer({"readings": readings, **given})


def steps(readings="", **given):
    return {one["key"]: one for one in answer(readings, **given).sheet.results["steps"]}


def refused(readings, **given):
    with pytest.raises(InputError) as told:
        answer(readings, **given)
    return [(one.field, one.message) for one in told.value.errors]


def right(**given):
    """Readings that are as expected, for every step of a system."""
    found = []
    for key, one in steps(**given).items():
        low, high = one["expected_low"], one["expected_high"]
        if not one["unit"]:
            found.append(f"{key},yes")
        elif one["open_is_right"]:
            found.append(f"{key},open")
        else:
            found.append(f"{key},{((0 if low is None else low) + (high or 0)) / 2:.6f}")
    return found


def test_what_each_step_should_read_for_this_system():
    found = steps(
        outputs=f"{ONE};tweeter,25,4,no,capacitor,0.1,3150,-10,0;woofer,150,4,yes,network,0.2,50,-5,6"
    )
    # Common practice: three quarters to nineteen twentieths of the load, and the leads.
    assert found["coil_1_ohm"]["expected_low"] == pytest.approx(0.75 * 4 + 0.1)
    assert found["coil_1_ohm"]["expected_high"] == pytest.approx(0.95 * 4 + 0.1)
    assert found["coil_2_ohm"]["open_is_right"] is True
    assert found["coil_3_ohm"]["expected_high"] == pytest.approx(0.95 * 4 + 0.2 + 0.5)
    for at, volts in (
        (1, math.sqrt(240)),
        (2, 10 * 10 ** (-10 / 20)),
        (3, math.sqrt(600) * 10 ** (-11 / 20)),
    ):
        low, high = (found[f"target_{at}_v"][f"expected_{end}"] for end in ("low", "high"))
        # The ceiling is the aim: half a decibel below it, and nothing beyond.
        assert high == pytest.approx(volts)
        assert 20 * math.log10(high / low) == pytest.approx(0.5)
    assert found["drop_v"]["expected_high"] == 0.5
    assert [one["number"] for one in found.values()] == list(range(1, len(found) + 1))


def test_the_order_is_unpowered_then_powered_then_playing():
    keys = list(steps(outputs=ONE))
    order = ["earth_ohm", "coil_1_ohm", "polarity", "rest_v", "offset_mv", "target_1_v", "idle_v"]
    assert [key for key in keys if key in order] == order
    assert [len(one.rows) for one in answer(outputs=ONE).sheet.tables] == [5, 7, 5]


@pytest.mark.parametrize(
    ("reading", "verdict", "word"),
    [
        ("coil_1_ohm,3.1", "within", ""),
        ("coil_1_ohm,3.9", "within", ""),
        ("coil_1_ohm,3.09", "out", "short"),
        ("coil_1_ohm,3.91", "out", "bad joint"),
        ("coil_1_ohm,open", "out", "a break"),
        ("leads_insulation_mohm,open", "within", ""),
        ("leads_insulation_mohm,1", "within", ""),
        ("leads_insulation_mohm,0.9", "out", "touches the body"),
        ("trigger_off_v,12.4", "out", "empty the battery"),
        ("offset_mv,-51", "out", "no speakers"),
        ("target_1_v,16.5", "out", "turn down"),
        ("target_1_v,14.5", "out", "turn up"),
        ("polarity,no", "out", "swapped"),
        ("noise,no", "out", "first the earth"),
        ("noise,yes", "within", ""),
    ],
)
def test_a_reading_is_judged_with_what_it_usually_means(reading, verdict, word):
    one = steps(reading, outputs=ONE)[reading.split(",")[0]]
    assert one["verdict"] == verdict
    assert word in one["meaning"]
    assert bool(one["meaning"]) == (verdict == "out")


def test_a_comma_may_mark_the_decimals_where_a_form_sends_it():
    given = {"outputs": ONE, "readings": [["rest_v", "12,5"]]}
    found = CALCULATORS["commissioning"].answer(given).sheet.results["steps"]
    assert next(one for one in found if one["key"] == "rest_v")["verdict"] == "within"


def test_the_sheet_is_suitable_only_with_every_reading_taken_and_none_out():
    taken = right(outputs=ONE)
    assert answer(";".join(taken), outputs=ONE).sheet.verdict.state == "suitable"
    missing = answer(";".join(taken[1:]), outputs=ONE).sheet.verdict
    assert (missing.state, missing.reason) == ("not known", "1 reading to go.")
    taken[0] = "earth_ohm,0.2"
    wrong = answer(";".join(taken), outputs=ONE).sheet
    assert wrong.verdict.state == "unsuitable"
    assert wrong.verdict.reason.startswith("Check 1 is out: 0.2")
    assert (wrong.results["out"], wrong.results["within"]) == (1, len(taken) - 1)


def test_a_check_is_told_by_its_number_in_the_list():
    keys = [one["key"] for one in steps(outputs=ONE).values()]
    taken = right(outputs=ONE)
    at = next(at for at, one in enumerate(taken) if one.startswith("rest_v,"))
    taken[at] = "rest_v,9"
    wrong = answer(";".join(taken), outputs=ONE).sheet
    assert wrong.verdict.reason.startswith(f"Check {keys.index('rest_v') + 1} is out: 9")
    open_ = answer(";".join(right(outputs=ONE, quiescent_a="")), outputs=ONE, quiescent_a="").sheet
    number = [one["key"] for one in open_.results["steps"]].index("parked_a") + 1
    assert open_.verdict.reason.startswith(f"Check {number} has no limit yet")


def test_a_figure_that_the_manual_does_not_tell_stays_open():
    taken = ";".join(right(outputs=ONE, quiescent_a=""))
    found = answer(taken, outputs=ONE, quiescent_a="")
    assert found.sheet.verdict.state == "not known"
    one = next(one for one in found.sheet.results["steps"] if one["key"] == "parked_a")
    assert (one["verdict"], one["expected_high"]) == (None, None)
    assert "source_v" not in steps(outputs=ONE, source_v="")


@pytest.mark.parametrize(
    ("readings", "word"),
    [
        ("nonsense,1", "There is no check ‘nonsense’"),
        ("rest_v,12;rest_v,13", "2 times"),
        ("rest_v,yes", "Enter a number in V."),
        ("rest_v,open", "Enter a number in V."),
        ("earth_ohm,no", "Enter a number in Ω, or open."),
        ("noise,3", "Enter yes or no."),
        ("rest_v,<b>", "cannot be used here"),
        ("rest_v", "1 value where 2 are needed"),
    ],
)
def test_a_wrong_reading_is_refused_with_what_is_permitted(readings, word):
    (told,) = refused(readings)
    assert told[0] == "readings"
    assert word in told[1]


def test_every_wrong_reading_is_told_at_once():
    assert len(refused("rest_v,yes;noise,3;nonsense,1")) == 3


def test_a_reading_of_an_output_that_is_gone_is_left_out_and_said():
    found = answer("coil_5_ohm,3.4;rest_v,12.6", outputs=ONE).sheet
    assert found.results["taken"] == 1
    assert "coil_5_ohm" in " ".join(found.unknowns)


def test_readings_are_in_no_link_but_in_what_is_copied():
    with_readings = answer("rest_v,12.34", drop_v="0.4")
    assert query_of(with_readings) == "drop_v=0.4"
    reply = json.loads(
        respond(
            json.dumps(
                {
                    "calculator": "commissioning",
                    "kind": "answer",
                    "inputs": {"readings": [["rest_v", "12.34"]]},
                }
            )
        )
    )
    assert reply["query"] == ""
    assert "12.34" in answer_text(with_readings)
    assert "12.34" in answer_csv(with_readings)
    assert "______" in answer_text(with_readings)  # the others are blanks


def test_what_is_typed_comes_back_in_its_box_and_hurts_nothing():
    reply = json.loads(
        respond(
            json.dumps(
                {
                    "calculator": "commissioning",
                    "kind": "answer",
                    "inputs": {"outputs": [['"><b>x', *ONE.split(",")[1:]]]},
                }
            )
        )
    )
    assert reply["kind"] == "answer"
    assert "<b>x" not in reply["html"]
    assert "&lt;b&gt;x" in reply["html"]


@pytest.mark.parametrize(
    ("way", "powered", "playing"),
    [
        ("trigger", ["trigger_on_v", "trigger_off_v"], []),
        ("relay-added", ["trigger_on_v", "trigger_off_v"], []),
        ("signal-sensing", ["turns_on", "turns_off"], []),
        ("supply-sensing", [], ["turns_on", "turns_off"]),
        ("", ["turns_on", "turns_off"], []),
    ],
)
def test_what_is_tried_follows_from_the_way_it_is_turned_on(way, powered, playing):
    """A voltage where there is a wire; where it senses, that it does; the engine's, with it on."""
    found = answer(outputs=ONE, turned_on_by=way).sheet
    keys = [one["key"] for one in found.results["steps"]]
    asked = [key for key in keys if key.startswith(("trigger_", "turns_"))]
    assert asked == powered + playing
    assert (keys.index(asked[0]) < keys.index("target_1_v")) == bool(powered)
    taken = right(outputs=ONE, turned_on_by=way)
    assert answer(";".join(taken), outputs=ONE, turned_on_by=way).sheet.verdict.state == "suitable"


# ---- polarity, two voltages, the factory radio, the drop


def test_a_speaker_that_is_joined_reversed_moves_in_and_the_step_says_so():
    rows = "mids,60,4,no,direct,0.1,315,0,0,,reversed;doors,60,4,no,direct,0.1,315,0,0,,normal"
    what = steps(outputs=rows)["polarity"]["what"]
    assert what.endswith("Reversed on purpose, so the cone moves in (or + is on −): mids")
    assert "everse" not in steps(outputs=ONE)["polarity"]["what"]


def test_the_gain_is_set_to_the_starting_voltage_below_the_ceiling():
    """80 W into 4 Ω: 17.89 V at most; the plan starts it at 8.97 V, half a decibel either way."""
    rows = "tweeters,80,4,no,direct,0.1,5000,0,0,8.97,normal"
    step = steps(outputs=rows)["target_1_v"]
    assert step["expected_low"] == pytest.approx(8.97 * 10 ** (-0.5 / 20))
    assert step["expected_high"] == pytest.approx(8.97 * 10 ** (0.5 / 20))
    assert "never above 17.9" in step["what"]
    # Without one, and with one above it, the ceiling is the aim.
    for start in ("", "30"):
        step = steps(outputs=f"tweeters,80,4,no,direct,0.1,5000,0,0,{start},normal")["target_1_v"]
        assert step["expected_high"] == pytest.approx(math.sqrt(320))


@pytest.mark.parametrize(
    ("reading", "cell"),
    [
        ("17.8", ("suitable", "in range")),
        # √320 V is 17.889 V; a meter may read 3 % high, 18.43 V.
        ("18.4", ("suitable", "at the ceiling")),
        ("18.5", ("unsuitable", "it will clip: turn down")),
    ],
)
def test_no_gain_stands_beyond_its_ceiling_but_for_what_a_meter_reads_high(reading, cell):
    rows = "tweeters,80,4,no,direct,0.1,5000,0,0,,normal"
    sheet = answer(outputs=rows, readings=f"target_1_v,{reading}").sheet
    (judged,) = [
        row[-1] for table in sheet.tables for row in table.rows if "Gain of" in str(row[1])
    ]
    assert (judged.state, judged.reason) == cell


def test_a_factory_radio_s_clean_volume_is_found_before_the_gains():
    """18 W into 4 Ω are 8.49 V; more than 1 dB above, 9.52 V, it clips."""
    keys = list(steps(outputs=ONE, source_v="", factory_v="8.4853"))
    assert keys.index("clean_v") < keys.index("target_1_v") and "source_v" not in keys
    step = steps(outputs=ONE, source_v="", factory_v="8.4853")["clean_v"]
    assert step["expected_high"] == pytest.approx(9.521, abs=0.001)
    assert "clean_v" not in steps(outputs=ONE)


def test_the_drop_is_told_for_each_ampere_too():
    assert "12 mV for each ampere" in steps(outputs=ONE, loop_mohm="12")["drop_v"]["what"].replace(
        "\u202f", " "
    )
    assert steps(outputs=ONE, drop_v="0.45")["drop_v"]["expected_high"] == 0.45

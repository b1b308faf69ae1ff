"""The calculators of the chapter on set-up: what they answer, refuse and warn of."""

import base64
import io
import json
import math
import wave

import numpy
import pytest
from asking import errors_of as refused
from asking import results
from asking import sheet_of as sheet
from scipy import signal

from calc.__main__ import main
from calc.app.contents import CALCULATORS
from calc.app.page import LARGEST_REPLY, respond
from calc.renderers.html_form import form

# ---- gain-voltage


def test_the_gain_s_target_by_hand():
    # 60 W into 4 ohm: 15.49 V, from memory of the trade's charts.
    found = results("gain-voltage", power_w="60", load_ohm="4")
    assert found["target_v"] == pytest.approx(15.49, abs=0.005)
    assert found["target_boosted_v"] == found["target_v"]
    found = results("gain-voltage", power_w="60", load_ohm="4", tone_dbfs="-5", boost_db="6")
    assert found["target_v"] == pytest.approx(math.sqrt(240) * 10 ** (-5 / 20))
    assert found["target_boosted_v"] == pytest.approx(found["target_v"] * 10 ** (-6 / 20))
    assert found["full_scale_v"] == pytest.approx(math.sqrt(240))


@pytest.mark.parametrize(
    ("given", "state", "word"),
    [
        ({"tone_hz": "400", "meter_top_hz": "400"}, "suitable", "reads true at"),
        ({"tone_hz": "401", "meter_top_hz": "400"}, "unsuitable", "too much gain"),
        ({"meter_top_hz": ""}, "not known", "Look up"),
        ({"reading_v": "14.14"}, "suitable", "within 0.5\u202fdB"),
        ({"reading_v": "15"}, "unsuitable", "Turn the gain down"),
        ({"reading_v": "13"}, "unsuitable", "Turn the gain up"),
    ],
)
def test_the_gain_s_verdicts(given, state, word):
    verdict = sheet("gain-voltage", **given).verdict
    assert verdict.state == state
    assert word in verdict.reason


def test_speakers_that_bear_less_get_a_lower_target_of_their_own():
    found = results("gain-voltage", power_w="100", load_ohm="4", speaker_w="25")
    assert found["speaker_target_v"] == pytest.approx(10)
    assert found["target_v"] == pytest.approx(20)
    assert results("gain-voltage", power_w="25", speaker_w="100")["speaker_target_v"] == 10
    # The ceiling is the lower of the two: the gain is set to it, and judged by it.
    few = {"power_w": "100", "load_ohm": "4", "speaker_w": "25"}
    assert "reads 10\u202fV" in sheet("gain-voltage", **few).sentence
    for reading, state in (("10", "suitable"), ("20", "unsuitable")):
        assert sheet("gain-voltage", **few, reading_v=reading).verdict.state == state
    found = results("gain-voltage", **few, start_v="15")
    assert found["start_target_v"] == pytest.approx(10)


def test_a_bridged_output_is_never_measured_to_earth():
    told = " ".join(sheet("gain-voltage", bridged="yes").cautions)
    assert "Both bridged terminals are live" in told and "earthed instrument" in told
    assert "across the two bridged terminals" in sheet("gain-voltage", bridged="yes").sentence


# ---- boost-cost


def test_what_a_boost_asks_for():
    found = results("boost-cost", boost_db="6", power_w="100")
    assert found["power_ratio"] == pytest.approx(3.98, abs=0.005)
    assert found["lower_input_db"] == 6
    assert found["asked_w"] == pytest.approx(398.1, abs=0.05)
    assert results("boost-cost", boost_db="12")["power_ratio"] == pytest.approx(15.8, abs=0.05)
    assert results("boost-cost", boost_db="0")["power_ratio"] == 1


def test_room_that_was_left_is_taken_into_account():
    found = results("boost-cost", boost_db="6", headroom_db="2")
    assert found["lower_input_db"] == 4
    assert (found["headroom_before_db"], found["headroom_after_db"]) == (2, -4)
    assert sheet("boost-cost", boost_db="6", headroom_db="6").verdict.state == "suitable"
    assert sheet("boost-cost", boost_db="6", headroom_db="5.9").verdict.state == "unsuitable"


def test_the_curve_is_scipy_s_and_has_the_centre_and_the_preferred_frequencies():
    curve = results("boost-cost", boost_db="9", frequency_hz="47", q="1.4")["curve"]
    hertz = [row["frequency_hz"] for row in curve]
    assert hertz == sorted(hertz)
    assert {20, 31.5, 47, 100, 1000, 20000} <= set(hertz)
    lift, turn = 10 ** (9 / 40), 2 * math.pi * 47
    _, response = signal.freqs(
        [1, lift * turn / 1.4, turn**2], [1, turn / (lift * 1.4), turn**2],
        2 * math.pi * numpy.array(hertz),
    )  # fmt: skip
    expected = 20 * numpy.log10(abs(response))
    assert [row["level_db"] for row in curve] == pytest.approx(list(expected), abs=1e-9)
    assert next(row["level_db"] for row in curve if row["frequency_hz"] == 47) == pytest.approx(9)


def test_the_gain_s_calculator_agrees_with_the_boost_s():
    boost = results("boost-cost", boost_db="6", power_w="150", load_ohm="4")
    gain = results("gain-voltage", boost_db="6", power_w="150", load_ohm="4")
    assert boost["target_boosted_v"] == gain["target_boosted_v"]


# ---- signal-chain


def test_a_line_output_within_the_range_needs_nothing():
    found = results("signal-chain", source_v="4", sensitivity_max_v="8")
    assert found["input"] == "line"
    assert found["verdict"] == "suitable"
    assert found["adapter"] is False
    assert found["divider_db"] == 0
    assert found["headroom_db"] == pytest.approx(6.0206, abs=1e-4)


def test_a_factory_unit_goes_to_the_high_level_input_or_through_an_adapter():
    found = results("signal-chain", factory_power_w="18")
    assert found["source_v"] == pytest.approx(math.sqrt(72))
    assert (found["input"], found["adapter"]) == ("high-level", False)
    found = results("signal-chain", factory_power_w="50", high_level_max_v="10")
    assert (found["input"], found["adapter"]) == ("high-level", True)
    assert found["divider_db"] == pytest.approx(20 * math.log10(math.sqrt(200) / 10))
    assert found["headroom_db"] == pytest.approx(-found["divider_db"])
    told = sheet("signal-chain", factory_power_w="50", high_level_max_v="10")
    assert told.sentence.startswith("Fit an attenuator")
    found = results("signal-chain", factory_power_w="18", high_level_min_v="", high_level_max_v="")
    assert (found["input"], found["adapter"]) == ("line", True)


def test_what_comes_between_is_named():
    """Speaker leads need a converter; a line output that is too high an attenuator."""
    leads = {"factory_power_w": "18", "high_level_min_v": "", "high_level_max_v": ""}
    told = [sheet("signal-chain", **given).verdict for given in (leads, {"source_v": "8"})]
    assert [one.state for one in told] == ["suitable", "suitable"]
    assert told[0].reason.startswith("With a line-output converter")
    assert told[1].reason.startswith("With an attenuator")
    assert "in the RCA leads" in sheet("signal-chain", source_v="8").sentence


def test_of_two_reasons_against_sensing_the_supply_the_amplifier_s_own_decides():
    given = {"amp_supply_sensing": "no", "stop_start": "yes"}
    modes = {one["mode"]: one["why"] for one in results("turn-on", **given)["modes"]}
    assert modes["supply-sensing"] == "This amplifier has no voltage sensing."
    given = {"amp_supply_sensing": "yes", "stop_start": "yes"}
    modes = {one["mode"]: one["why"] for one in results("turn-on", **given)["modes"]}
    assert "engine stops" in modes["supply-sensing"]


def test_a_weak_source_and_an_unknown_one():
    found = results("signal-chain", source_v="0.1")
    assert (found["input"], found["verdict"], found["adapter"]) == ("none", "unsuitable", False)
    assert "25" in sheet("signal-chain", source_v="0.1").verdict.reason  # half the volts
    found = results("signal-chain", source_v="", factory_power_w="")
    assert (found["input"], found["verdict"], found["adapter"]) == (None, "not-known", None)
    assert found["source_v"] is None
    assert sheet("signal-chain", source_v="", factory_power_w="").verdict.state == "not known"


def test_two_sources_and_a_range_the_wrong_way_round_are_errors_told_together():
    told = refused("signal-chain", source_v="4", factory_power_w="18", sensitivity_min_v="9")
    assert set(told) == {"factory_power_w", "sensitivity_min_v"}
    assert "only one" in told["factory_power_w"]
    assert "lower one first" in told["sensitivity_min_v"]


def test_factory_leads_come_with_their_caution():
    told = " ".join(sheet("signal-chain", factory_power_w="18").cautions)
    assert "Joined to the body" in told and "destroys the radio" in told


# ---- turn-on


def test_a_week_s_parking_by_the_contract_s_defaults():
    found = results("turn-on")
    assert found["drain_ah"] == pytest.approx(3.36)
    assert found["drain_percent"] == pytest.approx(5.6)
    inputs = CALCULATORS["turn-on"].answer({}).inputs
    assert [inputs[key] for key in ("quiescent_a", "parked_days", "battery_ah")] == [0.02, 7, 60]


def test_the_ways_in_their_order_each_with_a_reason():
    found = results("turn-on", trigger_available="yes", amp_trigger="yes")
    assert found["best"] == "trigger"
    assert [one["mode"] for one in found["modes"]] == [
        "trigger", "signal-sensing", "supply-sensing", "relay-added",
    ]  # fmt: skip
    assert all(one["why"].endswith(".") for one in found["modes"])
    assert {one["works"] for one in found["modes"]} <= {"yes", "no", "not-known"}


def test_behind_a_start_button_the_feed_is_found_by_measuring():
    given = {"speaker_level_signal": "no", "push_button": "yes"}
    found = results("turn-on", **given)
    assert found["best"] == "relay-added"
    assert found["modes"][3]["works"] == "yes"
    assert "still dead after 30 min" in found["modes"][3]["why"]
    assert sheet("turn-on", **given).verdict.state == "suitable"


def test_no_way_is_never_the_answer():
    """Whatever vehicle and amplifier lack, a feed that goes off with the ignition is there."""
    vehicle = ("trigger_available", "speaker_level_signal", "stop_start", "push_button")
    senses = ("amp_trigger", "amp_signal_sensing", "amp_supply_sensing")
    for word in ("no", "not-known"):
        found = results("turn-on", **dict.fromkeys((*vehicle, *senses), word))
        assert found["best"] == "relay-added"
        assert "1 A" in found["modes"][3]["why"]
    alone = results("turn-on", **dict.fromkeys(senses, "no"))
    assert "rated for the main fuse" in alone["modes"][3]["why"]


def test_an_amplifier_that_empties_the_battery_is_unsuitable_and_one_that_is_switched_is_not():
    assert sheet("turn-on", quiescent_a="0.8").verdict.state == "unsuitable"
    switched = sheet("turn-on", quiescent_a="0.8", supply_always_live="no")
    assert switched.verdict.state == "suitable"
    assert switched.results["drain_parked_ah"] == 0
    assert sheet("turn-on", quiescent_a="0.8", supply_always_live="not-known").verdict.state == (
        "not known"
    )


def test_no_trigger_from_an_airbag_s_circuit():
    assert "airbag" in " ".join(sheet("turn-on").cautions)


# ---- the factory radio

FACTORY = {"source_v": "", "factory_power_w": "18"}
QUESTIONS = ("outputs_float", "bass_folds_back", "already_filtered", "checks_its_load")


@pytest.mark.parametrize("key", QUESTIONS)
def test_each_of_the_four_questions_has_an_answer_and_a_test(key):
    known = sheet("signal-chain", **FACTORY, **{key: "yes"})
    asked = sheet("signal-chain", **FACTORY)
    denied = sheet("signal-chain", **FACTORY, **{key: "no"})
    assert len(known.cautions) == len(asked.cautions) + 1 == len(denied.cautions) + 1
    assert len(asked.unknowns) == len(known.unknowns) + 1 == len(denied.unknowns) + 1


def test_speaker_leads_are_cautioned_about_only_where_they_carry_the_signal():
    line = " ".join(sheet("signal-chain", source_v="2", bass_folds_back="yes").cautions)
    assert "loom" not in line and "bass" not in line
    assert "differential inputs" in " ".join(sheet("signal-chain", **FACTORY).cautions)


# ---- two voltages


def test_a_louder_tweeter_starts_lower_and_is_told_its_ceiling():
    """80 W into 4 Ω: √320 = 17.89 V; 95 dB against 89 dB: 17.89·10^(−6/20) = 8.97 V."""
    found = results("gain-voltage", power_w="80", load_ohm="4", start_v="8.9652")
    assert found["target_v"] == pytest.approx(17.889, abs=0.001)
    assert found["start_target_v"] == pytest.approx(8.965, abs=0.001)
    # A tone at −5 dBFS: both are 5 dB lower; never above the ceiling.
    found = results("gain-voltage", power_w="80", load_ohm="4", start_v="8.9652", tone_dbfs="-5")
    assert found["start_target_v"] == pytest.approx(8.9652 * 10**-0.25, abs=0.001)
    found = results("gain-voltage", power_w="80", load_ohm="4", start_v="30")
    assert found["start_target_v"] == found["target_boosted_v"]
    assert sheet("gain-voltage", power_w="80", load_ohm="4", start_v="8.97", reading_v="17.8",
                 ).verdict.state == "unsuitable"  # fmt: skip


# ---- test-tone


def ask(**request):
    return json.loads(respond(json.dumps({"calculator": "test-tone", **request})))


def test_the_page_gets_the_tone_that_it_asked_for():
    reply = ask(kind="sound", inputs={"frequency_hz": "50", "tone_dbfs": "-5", "length_s": "2"})
    assert (reply["kind"], reply["name"]) == ("sound", "tone-50hz-minus5dbfs-2s-both.wav")
    with wave.open(io.BytesIO(base64.b64decode(reply["wav"]))) as file:
        assert (file.getnframes(), file.getnchannels()) == (88200, 2)
        samples = numpy.frombuffer(file.readframes(88200), dtype="<i2")
    assert samples.max() == pytest.approx(32767 * 10 ** (-5 / 20), abs=1)


def test_a_long_tone_comes_in_parts_that_a_page_can_take():
    inputs = {"frequency_hz": "50", "length_s": "60"}
    got, size = b"", 1
    while len(got) < size:
        text = respond(
            json.dumps(
                {"calculator": "test-tone", "kind": "sound", "inputs": inputs, "from": len(got)}
            )
        )
        assert len(text) <= LARGEST_REPLY
        part = json.loads(text)
        got, size = got + base64.b64decode(part["wav"], validate=True), part["size"]
    assert len(got) == size
    with wave.open(io.BytesIO(got)) as file:
        assert file.getnframes() == 60 * 44100
    assert ask(kind="sound", inputs=inputs, **{"from": size})["wav"] == ""
    assert (
        ask(kind="sound", inputs=inputs, **{"from": -5})["wav"]
        == ask(kind="sound", inputs=inputs)["wav"]
    )


def test_wrong_inputs_make_no_sound():
    reply = ask(kind="sound", inputs={"frequency_hz": "x"})
    assert reply["kind"] == "refused"
    assert [one["field"] for one in reply["errors"]] == ["frequency_hz"]
    with pytest.raises(ValueError, match="makes no sound"):
        respond(json.dumps({"calculator": "turn-on", "kind": "sound", "inputs": {}}))


def test_a_loud_tone_for_tweeters_is_refused_with_what_is_permitted():
    told = refused("test-tone", frequency_hz="1001", tone_dbfs="-9")
    assert "Enter −10 dBFS or less" in told["tone_dbfs"]
    assert results("test-tone", frequency_hz="1001", tone_dbfs="-10")["highest_dbfs"] == -10


def test_the_command_line_writes_the_file_and_tells_when_it_cannot(tmp_path, capsys):
    path = tmp_path / "tone.wav"
    assert main(["test-tone", "length_s=2", "--wav", str(path)]) == 0
    assert "written to" in capsys.readouterr().out
    made = CALCULATORS["test-tone"].answer({"length_s": "2"}).sheet.sound.wav()
    assert path.read_bytes() == made
    assert results("test-tone", length_s="2")["size_bytes"] == len(made)
    for wrong in (tmp_path, tmp_path / "none" / "x.wav", "a\0b"):
        assert main(["test-tone", "length_s=2", "--wav", str(wrong)]) == 2
        assert "cannot be written" in capsys.readouterr().err
    assert main(["turn-on", "--wav", str(path)]) == 2
    assert "makes no sound" in capsys.readouterr().err


@pytest.mark.parametrize("name", CALCULATORS)
def test_every_preset_sets_what_its_field_can_read(name):
    calculator = CALCULATORS[name]
    for button in form(calculator, {}).iter("button"):
        if button.get("data-set") is None:
            continue
        key = next(
            one.key
            for one in calculator.fields
            if button.get("aria-label").startswith(f"{one.label}: ")
        )
        one = calculator.form.by_key[key]
        assert one.read(button.get("data-set")) in one.presets

"""The table of usual figures, each beside the words in which a fitter would say it."""

from dataclasses import replace

import pytest
from box_completions import Case
from box_systems import EMPTY
from conftest import each

from calc.choosing.layouts.feeds import Job
from calc.choosing.tables import usual_figures
from calc.inputs.declared import replaced
from calc.system import usual
from calc.system.amplifier import Amplifier
from calc.system.speakers import SpeakerRow

BOX = Amplifier(name="Alder", power_4ohm_w=60.0)


def speaker(section, **figures):
    return SpeakerRow(section=section, count=2, coil_ohm=4.0, rated_w=60.0, **figures)


DOORS = speaker("full-range")


def taken(speakers=(DOORS,), amplifier=BOX, **system):
    """Return the usual figures that a plan takes, by key; of several the first."""
    case = Case(replaced(EMPTY, {"speakers": tuple(speakers), "power_m": 4.0, **system}), amplifier)
    found = {}
    for one in (*case.judge.best().taken, *case.job.assumed):
        found.setdefault(one.usual.key, one.usual)
    return found


# What the table says, in the trade's words: the key, the value, and the range that bounds it.
SAID = (
    ("channels: 4", {}, "channels", 4, None, None),
    ("efficiency, class D: 80 %, 75 to 90", {"amplifier_class": "d"}, "efficiency_percent", 80, 75,
     90),
    ("efficiency, class AB: 55 %, 50 to 60", {"amplifier_class": "ab"}, "efficiency_percent", 55,
     50, 60),
    ("efficiency, class unknown: 50 % for cable and heat", {}, "efficiency_percent", 50, 50, 90),
    ("line input: 0.2 to 6 V", {}, "sensitivity_min_v", 0.2, None, None),
    ("line input: 0.2 to 6 V", {}, "sensitivity_max_v", 6, None, None),
    ("high-level input: 1 to 12 V if the box names one", {"high_level_max_v": 10.0},
     "high_level_min_v", 1, None, None),
    ("high-level input: 1 to 12 V if the box names one", {"high_level_min_v": 2.0},
     "high_level_max_v", 12, None, None),
    ("standby, left on by sensing: 20 mA, 10 to 100", {"trigger": False}, "quiescent_a", 0.02,
     0.01, 0.1),
    ("each pair off, high-pass or low-pass, 50 to 250 Hz", {}, "high_pass_hz", "50-250", None,
     None),
    ("each pair off, high-pass or low-pass, 50 to 250 Hz", {}, "low_pass_hz", "50-250", None,
     None),
    ("12 dB per octave", {}, "filter_db_per_octave", "12", None, None),
    ("inputs and controls on one side", {}, "front_face", ("signal", "controls"), None, None),
    ("power and speakers on the other", {}, "back_face", ("power", "speaker"), None, None),
)  # fmt: skip
OF_THE_CAR = (
    ("replacement radio 2 V, 1.5 to 5", {}, "source_v", 2, 1.5, 5),
    ("factory radio 18 W into 4 Ω, 15 to 22", {"kind": "factory"}, "factory_power_w", 18, 15, 22),
    ("earth lead 0.5 m", {}, "earth_m", 0.5, None, None),
    ("signal leads: the positive run and 1 m", {}, "signal_m", 5, None, None),
    ("alternator 90 A", {}, "alternator_a", 90, None, None),
    ("its share for the vehicle 0.4, 0.3 to 0.6", {"alternator_a": 100.0}, "vehicle_a", 40, 30,
     60),
    ("air at the battery end 50 °C, 50 to 85", {}, "engine_c", 50, 50, 85),
    ("battery 60 Ah", {}, "battery_ah", 60, None, None),
)  # fmt: skip
OF_SPEAKERS = (
    ("doors 90 dB, 88 to 92", speaker("full-range"), "sensitivity_db", 90, 88, 92),
    ("doors 90 dB, 88 to 92", speaker("components"), "sensitivity_db", 90, 88, 92),
    ("tweeter 92 dB, 90 to 95", speaker("tweeter"), "sensitivity_db", 92, 90, 95),
    ("subwoofer 87 dB, 85 to 90", speaker("woofer"), "sensitivity_db", 87, 85, 90),
    ("tweeter 3.15 kHz at 12 dB per octave", speaker("tweeter"), "lowest_hz", 3150, None, None),
    ("tweeter 2.5 kHz at 24 dB", speaker("tweeter", order=4), "lowest_hz", 2500, None, None),
    ("door of a size not known 80 Hz; 16 cm 70 Hz, 10 cm 120", speaker("full-range"), "lowest_hz",
     80, 70, 120),
    ("speaker lead 5 m in front", speaker("components"), "lead_m", 5, None, None),
    ("speaker lead 4 m behind", speaker("full-range", output="rear"), "lead_m", 4, None, None),
    ("subwoofer lead 2 m", speaker("woofer"), "lead_m", 2, None, None),
)  # fmt: skip


def is_as_said(found, words, value, low, high):
    assert found.value == (pytest.approx(value) if isinstance(value, float | int) else value), words
    for end, said in ((found.low, low), (found.high, high)):
        assert end == (None if said is None else pytest.approx(said)), words


@each("said", SAID)
def test_of_an_amplifier(said):
    words, figures, key, *figure = said
    is_as_said(taken(amplifier=replace(BOX, **figures))[key], words, *figure)


@each("said", OF_THE_CAR)
def test_of_the_car(said):
    words, figures, key, *figure = said
    is_as_said(taken(**figures)[key], words, *figure)


@each("said", OF_SPEAKERS)
def test_of_the_speakers(said):
    words, row, key, *figure = said
    is_as_said(taken(speakers=[row])[key], words, *figure)


def test_standby_is_little_where_a_remote_lead_turns_it_off():
    """2 mA, 0 to 5 mA."""
    is_as_said(taken(trigger_available="yes")["quiescent_a"], "2 mA", 0.002, 0, 0.005)


def test_idle_current():
    """1 A, 0.5 to 1.5 A; the plan's calculators take watts, at 14.4 V."""
    is_as_said(taken()["idle_w"], "1 A, 0.5 to 1.5 A", 14.4, 7.2, 21.6)
    is_as_said(usual.IDLE_A, "1 A, 0.5 to 1.5 A", 1, 0.5, 1.5)


def test_its_own_fuses_are_the_listed_rating_next_above_full_power():
    """Two outputs of 60 W: 120 W / (0.8 · 14.4 V) = 10.4 A, 15 A is the next that is listed."""
    is_as_said(
        taken(amplifier=replace(BOX, amplifier_class="d"))["fuses_a"], "next above", 15, None, None
    )


@each(
    "proof",
    [
        ({}, 4.0),
        ({"power_2ohm_w": 90.0}, 2.0),
        ({"rated_bridged_w": 180.0}, 2.0),
        ({"power_4ohm_w": None, "power_8ohm_w": 30.0}, 8.0),
        ({"rated_bridged_w": 180.0, "min_channel_ohm": 4.0}, 4.0),
    ],
)
def test_the_lowest_load_is_the_lowest_with_a_printed_power(proof):
    """A pair bridged at 4 Ω shows each channel 2 Ω; what is said of it goes first."""
    figures, least = proof
    assert usual.least_ohm(replace(BOX, **figures)) == least
    assert "min_channel_ohm" not in taken(amplifier=replace(BOX, **figures))


@each("proof", [(180.0, 90.0), (100.0, 60.0), (300.0, 120.0)])
def test_power_at_two_ohms_is_half_of_that_of_a_bridged_pair(proof):
    """Never less than at 4 Ω, nor more than twice that."""
    pair_w, watts = proof
    completed, _ = usual.amplifier_of(replace(BOX, rated_bridged_w=pair_w))
    assert completed.power_2ohm_w == watts
    assert usual.amplifier_of(BOX)[0].power_2ohm_w is None


def test_a_pair_is_bridged_only_where_the_box_proves_it():
    assert BOX.may_bridge is None
    assert replace(BOX, rated_bridged_w=180.0).may_bridge is True
    assert replace(BOX, rated_bridged_w=180.0, may_be_bridged=False).may_bridge is False


def test_power_at_four_ohms_and_a_coil_s_impedance_are_never_taken():
    """How far the battery is is asked for, too."""
    nothing = Amplifier(name="Alder")
    found = taken(amplifier=nothing, power_m=None)
    assert not found.keys() & {"power_4ohm_w", "coil_ohm", "rated_w", "power_m", "distance_m"}
    case = Case(replaced(EMPTY, {"speakers": (speaker("full-range"),)}), nothing)
    assert case.judge.best().state == "not known"


def test_the_space_left_open_is_not_judged_and_said_to_be():
    case = Case(replaced(EMPTY, {"speakers": (speaker("full-range"),)}), BOX)
    assert not {"place", "controls"} & {check.kind for check in case.judge.best().checks}
    assert any("not checked" in notice for notice in Job(case.system).notices)


def test_a_power_that_nobody_asked_for_is_no_must():
    """0.5 to 1.5 times the rating needs no word; less and more are told, and are no fault."""
    for watts, words in ((20.0, "quieter"), (60.0, ""), (200.0, "more than its rating")):
        case = Case(
            replaced(EMPTY, {"speakers": (speaker("full-range"),)}),
            replace(BOX, power_4ohm_w=watts),
        )
        (check,) = [one for one in case.judge.best().checks if one.kind == "power"]
        assert check.state == "suitable" and words in check.has
        assert (", " in check.has) is bool(words)


def test_the_handbook_prints_every_usual_figure_once():
    rows = usual_figures().rows
    assert len(rows) == len(usual.TABLE) == len({row[:2] for row in rows})
    text = " ".join(str(cell) for row in rows for cell in row)
    for words in ("85–90", "1.5–5", "15–22", "75–90", "50–60", "88–92", "90–95", "0.5–1.5"):
        assert words in text, words

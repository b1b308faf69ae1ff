"""Seven people who know what their boxes say and no more: a sheet for each, worked out by hand.

The files beside the other customers' hold the figures of a box, how far the battery is, and no
others (one says that the factory radio stays).  What a good installer would say stands in the
comments, worked out with pencil and paper from what is usual:

- class not known: 50 % at rated power, 14.4 V, so that the current at full power is P/7.2 V;
- the next listed fuse (15, 20, 25, 30, 35, 40, 50, 60, 70 A …), within its own fuses;
- earth lead 0.5 m, a tenth of slack, 2 mΩ of body, at most 0.5 V; copper at 50 °C has 1.1179 times
  its resistance at 20 °C; 4, 6, 10, 16, 25, 35 mm²: 4.95, 3.30, 1.91, 1.21, 0.78, 0.554 Ω/km;
  a kit of 20 mm²: 1.02/(58 · 20) Ω/m = 0.879 Ω/km; kits come in 10, 20, 35, 50 mm²;
- doors from 80 Hz, a subwoofer below them to 80 Hz, alone to the mark below 120 Hz, 100 Hz;
- a power of which the box says nothing is that at 4 Ω; a pair bridged is what the box says.
"""

import json
import math
from contextlib import redirect_stdout
from functools import cache
from io import StringIO

from arrangement_files import holds
from conftest import ROOT, each

from calc.__main__ import main
from calc.app.contents import CALCULATORS

NAMES = (
    "factory-radio", "set-and-sub", "two-subs", "four-doors", "sub-alone", "small-amplifier",
    "low-coils",
)  # fmt: skip
# What may be not known where the boxes say no more: it is asked, and decides nothing here.
ASKED = {
    "how many channels does it have?",
    "can each pair of channels be set to high-pass or low-pass, and over what range?",
    "what is the range of its RCA input, in volts?",
}


def path(name):
    return ROOT / "tests" / "customers" / f"box-{name}.toml"


@cache
def sheet(name):
    calculator = CALCULATORS["fit-plan"]
    given, wrong = calculator.files[0](path(name).read_text(encoding="utf-8"))
    assert wrong == []
    return calculator.answer(given).sheet


def results(name):
    return sheet(name).results


def channel(name, output):
    (row,) = [one for one in results(name)["channels"] if one["output"] == output]
    return row


def cable(name):
    return results(name)["power-cable"]["results"]


def test_coaxials_and_a_factory_radio():
    """18 W into 4 Ω are √72 = 8.49 V, more than the usual 6 V of a line input: a converter.

    No remote lead is known of: a feed that goes off with the ignition.  No subwoofer: from 80 Hz.
    √(45 · 4) = 13.42 V.  90 W / 7.2 V = 12.5 A, a 15 A fuse within its own 20 A.  4.95 m: 4 mm² has
    4.95 · 1.1179 · 4.95 + 2 = 29.4 mΩ and 0.367 V, 10 mm² of a kit 12.57 mΩ and 0.157 V.
    """
    name = "factory-radio"
    for output, side in (("1", "left"), ("2", "right")):
        holds(
            channel(name, output), side=side, load_ohm=4.0, power_w=45.0, high_pass_hz=80.0,
            low_pass_hz=None, polarity="normal", ceiling_v=13.416, start_v=13.416,
        )  # fmt: skip
    holds(results(name)["signal-chain"]["results"], input="line", source_v=8.485, adapter=True)
    assert results(name)["turn-on"]["results"]["best"] == "relay-added"
    holds(cable(name), current_full_a=12.5, fuse_a=15.0, size_mm2=4.0, kit_mm2=10.0,
          kit_drop_v=0.1571)  # fmt: skip


def test_a_set_in_front_and_a_bridged_subwoofer():
    """The set has its crossover in its box: two outputs.  The subwoofer's coils in series, 4 Ω, on
    the pair bridged at 180 W; √720 = 26.83 V, √240 = 15.49 V.  300 W / 7.2 V = 41.7 A, a 50 A
    fuse within its own 2 × 25 A.  5.5 m: 16 mm² has 1.21 · 1.1179 · 5.5 + 2 = 9.44 mΩ and 0.393 V;
    a kit of 20 mm² 7.41 mΩ and 0.309 V."""
    name = "set-and-sub"
    holds(channel(name, "1"), load_ohm=4.0, power_w=60.0, high_pass_hz=80.0, polarity="normal",
          ceiling_v=15.492, start_v=15.492)  # fmt: skip
    holds(channel(name, "3+4"), side="both", load_ohm=4.0, power_w=180.0, low_pass_hz=80.0,
          high_pass_hz=None, wiring="1a+1b", ceiling_v=26.833, start_v=26.833)  # fmt: skip
    holds(cable(name), current_full_a=41.667, fuse_a=50.0, size_mm2=16.0, kit_mm2=20.0,
          kit_drop_v=0.3086)  # fmt: skip


def test_two_subwoofers_each_bridged():
    """220 W each, √880 = 29.66 V.  440 W / 7.2 V = 61.1 A, a 70 A fuse, which its own 2 × 35 A
    permit.  6.05 m: 25 mm² has 0.78 · 1.1179 · 6.05 + 2 = 7.28 mΩ and 0.445 V; a kit of 35 mm²
    5.75 mΩ and 0.351 V."""
    name = "two-subs"
    for output in ("1+2", "3+4"):
        holds(channel(name, output), load_ohm=4.0, power_w=220.0, low_pass_hz=100.0,
              high_pass_hz=None, ceiling_v=29.665)  # fmt: skip
    holds(cable(name), current_full_a=61.11, fuse_a=70.0, size_mm2=25.0, kit_mm2=35.0,
          kit_drop_v=0.3512)  # fmt: skip


def test_coaxials_in_four_doors_and_two_amplifiers_to_choose_from():
    """The rears bear 40 W: √160 = 12.65 V.  The fronts could go to √(55 · 4) = 14.83 V, and start
    at the rears' 12.65 V, for both are as loud by the usual figure.  220 W / 7.2 V = 30.6 A, a
    35 A fuse; 10 mm² has 1.91 · 1.1179 · 6.05 + 2 = 14.92 mΩ and 0.456 V.  20 W are less than half
    of what the fronts bear: the stronger amplifier is planned."""
    name = "four-doors"
    for output, ceiling_v in (("1", 14.832), ("2", 14.832), ("3", 12.649), ("4", 12.649)):
        holds(channel(name, output), load_ohm=4.0, power_w=55.0, high_pass_hz=80.0,
              low_pass_hz=None, ceiling_v=ceiling_v, start_v=12.649)  # fmt: skip
    holds(cable(name), current_full_a=30.556, fuse_a=35.0, size_mm2=10.0, kit_mm2=10.0,
          kit_drop_v=0.4558)  # fmt: skip
    assert results(name)["amplifier"] == "Beech 4-55"
    compared = [(one["amplifier"], one["verdict"]) for one in results(name)["candidates"]]
    assert compared == [("Beech 4-55", "likely"), ("Hornbeam 4-20", "likely")]


def test_a_subwoofer_on_a_two_channel_amplifier_beside_the_battery():
    """440 W bridged, √1760 = 41.95 V.  61.1 A, a 70 A fuse.  2.75 m: 10 mm² has 1.91 · 1.1179 ·
    2.75 + 2 = 7.87 mΩ and 0.481 V, and carries the fuse."""
    name = "sub-alone"
    holds(channel(name, "1+2"), side="both", load_ohm=4.0, power_w=440.0, low_pass_hz=100.0,
          ceiling_v=41.952)  # fmt: skip
    found = cable(name)
    holds(found, current_full_a=61.11, fuse_a=70.0, size_mm2=10.0, kit_mm2=10.0, kit_drop_v=0.4811)
    assert found["kit_permitted_a"] >= 70


def test_a_small_amplifier_in_front_and_behind():
    """25 of 60 W: 10 · lg 2.4 = 3.8 dB less loud, which is told and is no fault.  √100 = 10 V.
    100 W / 7.2 V = 13.9 A, a 15 A fuse; 4.4 m of 10 mm²: 11.39 mΩ and 0.158 V."""
    name = "small-amplifier"
    for output in "1234":
        holds(channel(name, output), load_ohm=4.0, power_w=25.0, high_pass_hz=80.0,
              ceiling_v=10.0, start_v=10.0)  # fmt: skip
    powers = [one for one in results(name)["checks"] if one["check"].startswith("power")]
    assert all("3.8 dB quieter" in one["has"] for one in powers) and len(powers) == 2
    holds(cable(name), current_full_a=13.889, fuse_a=15.0, size_mm2=4.0, kit_mm2=10.0,
          kit_drop_v=0.1583)  # fmt: skip


def test_low_coils_on_an_amplifier_made_for_four_ohms():
    """Nothing proves 2 Ω a channel or a bridge: the coils in series, 4 Ω, on one channel.  60 of
    300 W are 7.0 dB less loud.  √240 = 15.49 V.  180 W / 7.2 V = 25 A, a 25 A fuse; 10 mm² has
    1.91 · 1.1179 · 5.5 + 2 = 13.74 mΩ and 0.344 V."""
    name = "low-coils"
    holds(channel(name, "3"), side="both", load_ohm=4.0, power_w=60.0, low_pass_hz=80.0,
          wiring="1a+1b", ceiling_v=15.492)  # fmt: skip
    holds(channel(name, "2"), power_w=60.0, high_pass_hz=80.0, ceiling_v=15.492)
    (power,) = [one for one in results(name)["checks"] if one["check"] == "power: subwoofer"]
    assert power["has"] == "60 W, 7 dB quieter than its rating allows"
    holds(cable(name), current_full_a=25.0, fuse_a=25.0, size_mm2=10.0, kit_drop_v=0.3436)


# ---- what holds for all of them


@each("name", NAMES)
def test_each_ends_with_a_sheet_and_nothing_that_is_not_known(name):
    found = results(name)
    assert found["verdict"] == "likely" and found["may_connect"]
    assert {one["verdict"] for one in found["checks"]} <= {"suitable", "likely"}
    assert {one["verdict"] for one in found["steps"]} <= {"suitable", "likely"}
    assert "still open" not in sheet(name).verdict.reason
    assert {one["words"] for one in found["ask"]} <= ASKED
    for calculator in ("channel-map", "filter-split", "kit-list", "commissioning"):
        assert found[calculator]["missing"] == [], calculator
    assert any(part.tables for part in sheet(name).parts)


@each("name", NAMES)
def test_what_each_rests_on_is_told(name):
    """All that no box says is told with its unit, and nothing that one says."""
    told = {(one["where"], one["key"]): one for one in results(name)["assumed"]}
    keys = {key for _, key in told}
    assert {"efficiency_percent", "idle_w", "high_pass_hz", "alternator_a", "earth_m"} <= keys
    assert not keys & {"power_4ohm_w", "coil_ohm", "rated_w", "power_m", "rated_bridged_w"}
    assert told["supply", "alternator_a"]["value"] == 90
    text = path(name).read_text(encoding="utf-8")
    for key in ("source_v", "channels", "fuses_a"):
        assert (f"\n{key} = " in text) is (key not in keys) or (
            key == "source_v" and "factory_power_w" in keys
        ), key


@each("name", NAMES)
def test_the_command_line_says_the_same(name):
    with redirect_stdout(StringIO()) as out:
        assert main(["fit-plan", str(path(name)), "--json"]) == 0
    found = json.loads(out.getvalue())["results"]
    ours = results(name)
    assert found["verdict"] == ours["verdict"] and found["amplifier"] == ours["amplifier"]
    for row in found["channels"]:
        mine = channel(name, row["output"])
        assert math.isclose(row["ceiling_v"], mine["ceiling_v"])
        assert row["speaker"] == mine["speaker"] and row["power_w"] == mine["power_w"]
    assert [one["key"] for one in found["assumed"]] == [one["key"] for one in ours["assumed"]]

"""The size that is bought, the main fuse, the air of an engine space, the reading that is allowed.

Expected figures are worked by hand or from printed tables, never by the project's formulas.
"""

import math

import pytest
from asking import errors_of, plain, results, sheet_of
from hypothesis import given
from hypothesis import strategies as st

from calc.physics.acceptance import JOINTS_V, permitted_reading


def gauge_mm2(number):
    return math.pi / 4 * (0.127 * 92 ** ((36 - number) / 39)) ** 2


def between(area, thin, low, thick, high):
    """Return the current between two gauges of the printed table."""
    part = math.log(area / gauge_mm2(thin)) / math.log(gauge_mm2(thick) / gauge_mm2(thin))
    return low * (high / low) ** part


def test_four_channels_of_80_w_class_d_over_five_metres():
    """Worked by hand: 320 W ÷ (0.8 · 14.4 V) = 27.78 A; the next rating is 30 A.

    5 m and half a metre of earth: 5.5 m · 1.118 · ρ/s + 2 mΩ of body.  6 mm²: 5.5 · 3.30 · 1.118
    = 20.3 mΩ, with the body 22.3 mΩ · 27.78 A = 0.619 V, too much; 10 mm²: 11.74 mΩ, 13.74 mΩ,
    0.382 V.  8 AWG (8.366 mm²): 1.02 ÷ 58 ÷ 8.366 = 2.102 mΩ/m, 12.93 mΩ, 14.93 mΩ, 0.415 V.
    """
    job = {"total_power_w": 320, "efficiency_percent": 80, "amplifier_class": "d", "length_m": 5.5}
    metric, awg = results("power-cable", **job), results("power-cable", **job, sizes="awg")
    for found, size, drop_v in ((metric, "10 mm²", 0.382), (awg, "8 AWG", 0.415)):
        assert found["current_full_a"] == pytest.approx(27.78, abs=0.005)
        assert (found["size"], found["kit_size"]) == (size, size)
        assert found["kit_drop_v"] == pytest.approx(drop_v, abs=0.001)
        assert found["kit_drop_v"] <= 0.5
        assert found["fuse_a"] == 30
        assert found["kit_permitted_a"] >= 30


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "the smallest fuse that carries 28.9 A at full power"),
        ({"regulated_min_v": 11}, "carries 37.9 A at full power with the supply down to 11 V"),
        ({"amp_fuses_a": 25}, "does not exceed the amplifier’s own fuses (25 A)"),
        ({"amp_fuses_a": 25}, "would need 30 A; the fuse is below that"),
        ({"maker_fuse_a": 40}, "the amplifier maker’s figure; it draws 28.9 A at full power"),
        ({"maker_fuse_a": 25}, "can blow on a test tone"),
        ({"maker_fuse_a": 500}, "states 500 A, and no cable in this list is rated for that"),
    ],
)
def test_the_note_says_what_the_main_fuse_follows(given, words):
    sheet = sheet_of("power-cable", **given)
    assert words in plain(sheet.results["fuse_note"])
    assert any(words in plain(one) for one in sheet.steps)
    assert sheet.results["fuse_a"] <= sheet.results["permitted_a"]


@pytest.mark.parametrize("stated", [7.5, 65])
def test_a_maker_s_fuse_is_taken_as_it_is_stated(stated):
    assert results("power-cable", maker_fuse_a=stated)["fuse_a"] == stated


@pytest.mark.parametrize("name", ["power-cable", "cable-tree", "kit-list", "wire-facts"])
def test_air_as_hot_as_the_insulation_is_refused(name):
    for air in ("105", "104.5", "29"):
        assert "out of range" in errors_of(name, engine_c=air)["engine_c"]
    # √(1/75) = 0.11547 of the table is left at 104 °C: 261 A at 30 °C become 30 A.
    found = results("power-cable", engine_space="yes", engine_c=104, length_m=1, max_drop_v=1)
    assert found["size"] == "50 mm²"  # 273 A; 35 mm² has 216 A
    assert found["permitted_a"] == pytest.approx(0.115470 * between(50, 1, 245, 0, 285), rel=1e-5)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "in 30 °C air"),
        ({"engine_space": "yes"}, "from an engine bay at 50 °C"),
        ({"engine_space": "yes", "engine_c": 70}, "from an engine bay at 70 °C"),
        ({"engine_space": ""}, "from an engine bay at 50 °C, which we assume"),
    ],
)
def test_the_answer_states_the_air_that_it_holds_for(given, words):
    sheet = sheet_of("power-cable", **given)
    assert words in plain(sheet.verdict.reason)
    unknown = [one for one in sheet.unknowns if one.startswith("Whether the battery is under")]
    assert bool(unknown) == (given.get("engine_space") == "")
    for name in ("cable-tree", "cable-chart", "wire-facts", "kit-list"):
        sheet = sheet_of(name, **given)
        told = plain(" ".join([sheet.sentence, sheet.verdict.reason if sheet.verdict else ""]))
        assert words in told, name


@pytest.mark.parametrize("sizes", ["metric", "awg"])
@pytest.mark.parametrize("length", [0.5, 3, 5, 8])
@pytest.mark.parametrize("power", [60, 160, 320, 500, 1000])
def test_what_is_bought_is_never_less_than_the_least_and_keeps_the_limit(sizes, length, power):
    found = results(
        "power-cable", sizes=sizes, length_m=length, total_power_w=power, efficiency_percent=80,
        max_drop_v=0.8,
    )  # fmt: skip
    assert found["size_mm2"] >= (1.5 if sizes == "metric" else 1.308)
    if found["kit_mm2"] is None:
        assert found["size_mm2"] > 50
        return
    sold = [10, 20, 35, 50] if sizes == "metric" else [gauge_mm2(n) for n in (8, 4, 2, 0)]
    assert found["kit_mm2"] == pytest.approx(
        min(one for one in sold if one >= found["size_mm2"] - 1e-6)
    )
    assert found["kit_drop_v"] <= found["drop_full_v"] <= 0.8
    assert found["kit_permitted_a"] >= found["fuse_a"]


# ---- the reading at the end --------------------------------------------------------------------


def test_a_job_done_as_printed_passes_and_a_bad_joint_does_not():
    """Four times 80 W as above: 10 mm², 13.74 mΩ in all; a reading at 20 A.

    The cable loses 0.275 V; 0.375 V are allowed.  A joint of 10 mΩ more adds 0.2 V: 0.475 V.
    """
    found = results(
        "power-cable", total_power_w=320, efficiency_percent=80, amplifier_class="d", length_m=5.5
    )
    allowed = permitted_reading(
        kit_drop_v=found["kit_drop_v"], full_a=found["current_full_a"], reading_a=20
    )
    assert allowed == pytest.approx(0.375, abs=0.001)
    assert 20 * 0.01374 <= allowed < 20 * (0.01374 + 0.010)
    assert permitted_reading(kit_drop_v=0.4, full_a=30, reading_a=0) == pytest.approx(0.1)


@pytest.mark.parametrize(
    "wrong", [{"full_a": 0.0}, {"full_a": math.nan}, {"kit_drop_v": -0.1}, {"reading_a": -1.0}]
)
def test_a_reading_without_sense_is_refused(wrong):
    with pytest.raises(ValueError, match="above 0"):
        permitted_reading(**{"kit_drop_v": 0.4, "full_a": 30.0, "reading_a": 10.0} | wrong)


@given(drop_v=st.floats(0, 2), full_a=st.floats(1, 200), reading_a=st.floats(0, 200))
def test_a_drop_that_may_be_read_goes_with_the_current(drop_v, full_a, reading_a):
    # Ohm's law for the cable; the joints' part is there at any current, none at all included.
    found = permitted_reading(kit_drop_v=drop_v, full_a=full_a, reading_a=reading_a)
    assert found - JOINTS_V == pytest.approx(drop_v / full_a * reading_a, abs=1e-9)

"""Several amplifiers taken as one: what adds up, what each must have, what one is enough for."""

from dataclasses import replace

import pytest
from choosing_systems import HAZEL

from calc.choosing.installed import installed
from calc.physics.amplifier_draw import joint_efficiency

MONO = replace(
    HAZEL,
    name="Rowan 1-300",
    channels=1,
    power_4ohm_w=300.0,
    power_2ohm_w=500.0,
    fuses_a="30/30",
    idle_w=9.0,
    quiescent_a=0.005,
    boost_db=6.0,
    price=180.0,
    filters="none",
)


def told(first=None, second=None):
    """Return two amplifiers as they were told together, with other figures of each."""
    return installed([replace(HAZEL, **(first or {})), replace(MONO, **(second or {}))]).told


def test_channels_are_numbered_through_and_a_mono_keeps_its_neighbour_s_number_free():
    """A pair begins at an odd number everywhere, or it could be bridged across two boxes."""
    both = installed([HAZEL, MONO])
    assert [part.first for part in both.parts] == [1, 5]
    assert both.told.channels == 5
    other = installed([MONO, HAZEL])
    assert [part.first for part in other.parts] == [1, 3]
    assert other.told.channels == 6
    assert other.parts[1].own((3, 4)) == (1, 2)
    assert other.part_of((1,)).name == "Rowan 1-300" and other.part_of((5, 6)).name == HAZEL.name


def test_draws_and_fuses_add_up_where_all_are_known():
    both = told({"price": 120.0})
    assert both.idle_w == 12 + 9
    assert both.quiescent_a == pytest.approx(0.02 + 0.005)
    assert both.fuses_a == "25/30/30"
    assert both.price == 120 + 180
    for key in ("idle_w", "quiescent_a", "fuses_a", "price"):
        assert getattr(told({key: None, "price": None}), key) is None


def test_all_must_switch_on_alike_and_be_covered():
    for key in ("trigger", "signal_sensing", "supply_sensing", "cover"):
        for first, second, both in (
            (True, True, True), (True, False, False), (False, None, False), (True, None, None),
        ):  # fmt: skip
            assert getattr(told({key: first}, {key: second}), key) is both


def test_one_level_control_and_the_larger_boost_are_enough():
    for first, second, both in ((True, False, True), (False, False, False), (False, None, None)):
        assert told({"level_control": first}, {"level_control": second}).level_control is both
    assert told().boost_db == 12
    assert told({"boost_db": 0.0}).boost_db == 6
    assert told({"boost_db": None}).boost_db is None


def test_the_most_sensitive_to_heat_decides_where_all_are_known():
    assert told({"limit_c": 60.0}, {"limit_c": 70.0}).limit_c == 60
    assert told({"limit_c": 60.0}, {"limit_c": None}).limit_c is None


def test_what_differs_is_not_that_of_one():
    assert told().amplifier_class == "d" and told().efficiency_percent == 80
    assert told({"amplifier_class": "ab"}).amplifier_class is None
    assert told({"efficiency_percent": 60.0}).efficiency_percent is None
    assert told({"may_be_bridged": False}).may_be_bridged is None
    assert told({}, {"terminals": "fork"}).terminals == "fork"


def test_what_was_looked_for_on_both_in_vain_is_not_asked_again():
    looked = told({"not_printed": "limit_c+idle_w"}, {"not_printed": "idle_w+price"})
    assert looked.not_printed == "idle_w"
    assert told({"not_printed": "limit_c"}).not_printed is None


def test_they_draw_together_what_they_draw_alone():
    """100 W at 80 % draw 125 W, 300 W at 60 % draw 500 W: 400 W of 625 W are 64 %."""
    both = installed([HAZEL, replace(MONO, efficiency_percent=60.0)])
    assert both.drawing([100.0, 300.0]).efficiency_percent == pytest.approx(64)
    assert joint_efficiency([100, 300], [80, 60]) == pytest.approx(64)
    assert both.drawing([100.0, None]).efficiency_percent is None
    assert both.drawing([0.0, 0.0]).efficiency_percent is None


def test_filters_keep_their_own_switch_and_take_the_numbers_of_their_channels():
    rows = installed([MONO, HAZEL]).told.own_filters.rows.split(";")
    assert [row.split(",")[0] for row in rows] == ["3/4", "3/4", "5/6", "5/6"]
    assert {row.split(",")[6] for row in rows} == {"A2", "B2"}


def test_of_two_with_one_name_the_second_is_told_apart():
    assert [part.name for part in installed([HAZEL, HAZEL, HAZEL]).parts] == [
        "Hazel 4-50", "Hazel 4-50 (2)", "Hazel 4-50 (3)",
    ]  # fmt: skip

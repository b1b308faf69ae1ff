"""The signal's way and the ways of turning on, each restated in another manner."""

from itertools import product
from math import log10

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics.charge import drain_ah
from calc.setup.signal_chain.chain import Range, excess_db, from_line, from_speaker_leads
from calc.setup.ways import MODES, Senses, Vehicle, all_of, best, opposite, works

LINE = Range(low_v=0.2, high_v=5.0)
HIGH = Range(low_v=1.0, high_v=12.0)
NONE = Range(low_v=None, high_v=None)
few = settings(max_examples=60, deadline=None)
THREE = (True, False, None)


@pytest.mark.parametrize(
    ("source", "socket", "state", "adapter", "divider"),
    [
        (0.199, "none", "unsuitable", False, 0),
        (0.2, "line", "suitable", False, 0),
        (5.0, "line", "suitable", False, 0),
        (10.0, "line", "suitable", True, 6.0206),
    ],
)
def test_a_line_output(source, socket, state, adapter, divider):
    chain = from_line(source, LINE)
    assert (chain.socket, chain.state, chain.has_adapter) == (socket, state, adapter)
    assert chain.divider_db == pytest.approx(divider, abs=1e-4)


@pytest.mark.parametrize(
    ("source", "high", "socket", "state", "adapter", "divider"),
    [
        (1.0, HIGH, "high-level", "suitable", False, 0),
        (12.0, HIGH, "high-level", "suitable", False, 0),
        (24.0, HIGH, "high-level", "suitable", True, 6.0206),
        (0.5, HIGH, "line", "suitable", True, 0),
        (0.1, HIGH, "none", "unsuitable", False, 0),
        (10.0, NONE, "line", "suitable", True, 6.0206),
        (4.0, NONE, "line", "suitable", True, 0),
        (0.1, NONE, "none", "unsuitable", False, 0),
        (4.0, Range(low_v=None, high_v=12.0), "high-level", "not known", False, 0),
        (24.0, Range(low_v=None, high_v=12.0), "high-level", "suitable", True, 6.0206),
        (4.0, Range(low_v=1.0, high_v=None), "line", "suitable", True, 0),
    ],
)
def test_speaker_leads(source, high, socket, state, adapter, divider):
    chain = from_speaker_leads(source, LINE, high)
    assert (chain.socket, chain.state, chain.has_adapter) == (socket, state, adapter)
    assert chain.divider_db == pytest.approx(divider, abs=1e-4)


@few
@given(st.floats(0.01, 100), st.booleans())
def test_what_arrives_is_never_more_than_the_input_takes(source, over_leads):
    chain = from_speaker_leads(source, LINE, HIGH) if over_leads else from_line(source, LINE)
    if chain.input_v is None:
        assert chain.socket == "none"
        assert chain.reserve_db is None
        return
    assert chain.input_v <= chain.used.high_v
    assert chain.input_v == pytest.approx(source * 10 ** (-chain.divider_db / 20))
    assert chain.reserve_db == pytest.approx(20 * log10(chain.input_v / chain.used.low_v))
    assert chain.reserve_db >= -1e-9


def test_an_excess_is_a_level_and_never_negative():
    assert excess_db(20, 2) == pytest.approx(20)
    assert excess_db(2, 2) == 0
    assert excess_db(1, 2) == 0


def completions(parts):
    """Every way in which what is not known may turn out."""
    return product(*([one] if one is not None else [True, False] for one in parts))


def settled(outcomes):
    outcomes = set(outcomes)
    return outcomes.pop() if len(outcomes) == 1 else None


@pytest.mark.parametrize("parts", list(product(THREE, repeat=3)))
def test_three_valued_and_is_what_all_completions_agree_on(parts):
    assert all_of(*parts) is settled(all(one) for one in completions(parts))


def test_opposites():
    assert [opposite(one) for one in THREE] == [False, True, None]


# What must hold for each way, over the inputs in the order of the arguments below.
RULES = {
    "trigger": lambda t, s, live, stop, a_t, a_s, a_v: t and a_t,
    "signal-sensing": lambda t, s, live, stop, a_t, a_s, a_v: s and a_s,
    "supply-sensing": lambda t, s, live, stop, a_t, a_s, a_v: a_v and not stop,
}


@pytest.mark.parametrize("button", THREE)
def test_every_way_of_turning_on_against_all_completions_of_what_is_missing(button):
    for parts in product(THREE, repeat=7):
        t, s, live, stop, a_t, a_s, a_v = parts
        vehicle = Vehicle(
            has_trigger=t, has_speaker_signal=s, is_always_live=live, stops_engine=stop,
            has_button=button,
        )  # fmt: skip
        senses = Senses(trigger=a_t, signal=a_s, supply=a_v)
        expected = {
            mode: settled(bool(rule(*one)) for one in completions(parts))
            for mode, rule in RULES.items()
        }
        # A feed that goes off with the ignition is in every vehicle; it may have to be found.
        expected["relay-added"] = True
        found = {mode: works(mode, vehicle, senses) for mode in MODES}
        assert found == expected, (parts, button)
        sure = [mode for mode in MODES if expected[mode]]
        assert best(vehicle, senses) == sure[0]


def test_the_ways_stand_in_the_order_in_which_they_are_preferred():
    assert MODES == ("trigger", "signal-sensing", "supply-sensing", "relay-added")


def test_a_week_s_parking():
    # 20 mA for seven days of 24 hours.
    assert drain_ah(quiescent_a=0.02, parked_days=7) == pytest.approx(3.36)
    assert drain_ah(quiescent_a=1, parked_days=1) == 24

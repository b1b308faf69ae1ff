"""The meter check, held against faults that are made here in a network of resistors."""

from itertools import product

import networkx as nx
import numpy as np
import pytest
from coil_causes import each_alone
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.coils.notation import read_notation
from calc.inputs.errors import InputError
from calc.physics.coils import Driver, coil_names

NO_READING = 1_000_000  # what the field's hint asks to give for “OL”


def rows(drivers):
    return ";".join(f"{coils},{ohm}" for coils, ohm in drivers)


def checked(drivers, intended, reading, **given):
    raw = {key: str(value) for key, value in given.items()}
    raw |= {"drivers": rows(drivers), "intended": intended, "reading_ohm": f"{reading:.9f}"}
    return CALCULATORS["meter-check"].answer(raw).sheet.results["likely"]


def circuit_of(drivers, notation):
    return read_notation(notation, coil_names([Driver(n, float(ohm)) for n, ohm in drivers]))


def measured(circuit, opened=(), shorted=()):
    """Return the load between the ends by nodal analysis, None where there is no path."""
    net_of = {end: net for net, ends in circuit.nets().items() for end in ends}
    joined = nx.utils.UnionFind(net_of.values())
    for coil in shorted:
        joined.union(net_of[coil + "+"], net_of[coil + "-"])
    wires = nx.MultiGraph()
    wires.add_nodes_from(joined[net] for net in ("amp+", "amp-"))
    for coil in circuit.coils():
        if coil.name not in opened:
            ends = (joined[net_of[coil.name + sign]] for sign in "+-")
            wires.add_edge(*ends, siemens=1 / float(coil.load))
    plus, minus = joined["amp+"], joined["amp-"]
    if plus == minus:
        return 0.0
    reached = sorted(nx.node_connected_component(wires, plus))
    if minus not in reached:
        return None
    wires.remove_edges_from(list(nx.selfloop_edges(wires, keys=True)))
    laplacian = nx.laplacian_matrix(wires, reached, weight="siemens").toarray()
    ends = np.array([(net == plus) - (net == minus) for net in reached], dtype=float)
    return float(ends @ np.linalg.pinv(laplacian) @ ends)


def left_out(circuit, driver):
    """Return (coils to take away, coils to bridge) when a driver's neighbours are joined.

    In a chain the gap is bridged, beside others it stays open; a branch that holds nothing
    but the driver goes as one.
    """
    if circuit.kind == "coil":
        return ([circuit.name], []) if circuit.name[0] == driver else ([], [])
    own = [{coil.name[0] for coil in part.coils()} == {driver} for part in circuit.parts]
    taken, bridged = [], []
    for part, goes in zip(circuit.parts, own, strict=True):
        if not goes:
            more = left_out(part, driver)
            taken, bridged = taken + more[0], bridged + more[1]
        elif circuit.kind == "series":
            bridged += [coil.name for coil in part.coils()]
        else:
            taken += [coil.name for coil in part.coils()]
    return taken, bridged


def explains(one, reading):
    if one["expected_low_ohm"] is None:
        return reading >= NO_READING
    return one["expected_low_ohm"] - 1e-8 <= reading <= one["expected_high_ohm"] + 1e-8


def explanations(likely, words, reading):
    """Those that name the fault and would show the reading."""
    return [one for one in likely if words in each_alone(one["what"]) and explains(one, reading)]


ohm = st.sampled_from([1, 2, 3.3, 4, 4, 4, 6, 8])
# Coils of one to four drivers, five at most.
COILS = [
    coils
    for drivers in range(1, 5)
    for coils in product(range(1, 5), repeat=drivers)
    if sum(coils) <= 5
]
parts_of_nominal = st.floats(0.76, 0.94)  # coil resistance lies at 0.75 to 0.95 of nominal
leads = st.sampled_from([0, 0.1, 0.35, 1])


@st.composite
def wirings(draw, least_drivers=1):
    coils = draw(st.sampled_from([one for one in COILS if len(one) >= least_drivers]))
    drivers = [(own, draw(ohm)) for own in coils]
    found = CALCULATORS["coil-wiring"].answer({"drivers": rows(drivers), "limit": "1000"})
    one = draw(st.sampled_from(found.sheet.results["arrangements"]))
    return drivers, one["notation"]


@given(wiring=wirings(), lead=leads)
def test_a_reading_in_the_middle_of_the_right_range_puts_the_right_wiring_first(wiring, lead):
    drivers, notation = wiring
    load = measured(circuit_of(drivers, notation))
    first = checked(drivers, notation, 0.85 * load + lead, lead_ohm=lead)[0]
    assert first["kind"] == "right" and notation in first["what"]
    assert first["expected_low_ohm"] == pytest.approx(0.75 * load + lead)
    assert first["expected_high_ohm"] == pytest.approx(0.95 * load + lead)


@given(wiring=wirings(), lead=leads, part=parts_of_nominal, choice=st.randoms())
def test_an_open_coil_is_among_the_explanations(wiring, lead, part, choice):
    drivers, notation = wiring
    circuit = circuit_of(drivers, notation)
    coil = choice.choice(circuit.coils()).name
    load = measured(circuit, opened=[coil])
    reading = NO_READING if load is None else part * load + lead
    likely = checked(drivers, notation, reading, lead_ohm=lead)
    assert len(explanations(likely, f"coil {coil} is open", reading)) == 1


@given(wiring=wirings(), lead=leads, part=parts_of_nominal, choice=st.randoms())
def test_a_shorted_coil_is_among_the_explanations(wiring, lead, part, choice):
    drivers, notation = wiring
    circuit = circuit_of(drivers, notation)
    coil = choice.choice(circuit.coils()).name
    reading = part * measured(circuit, shorted=[coil]) + lead
    likely = checked(drivers, notation, reading, lead_ohm=lead)
    assert len(explanations(likely, f"coil {coil} is shorted", reading)) == 1


@given(wiring=wirings(least_drivers=2), lead=leads, part=parts_of_nominal, choice=st.randoms())
def test_a_driver_left_out_is_among_the_explanations(wiring, lead, part, choice):
    drivers, notation = wiring
    circuit = circuit_of(drivers, notation)
    number = str(choice.randint(1, len(drivers)))
    opened, shorted = left_out(circuit, number)
    reading = part * measured(circuit, opened, shorted) + lead
    likely = checked(drivers, notation, reading, lead_ohm=lead)
    assert len(explanations(likely, f"sub {number} is left out", reading)) == 1


@given(wiring=wirings(), part=parts_of_nominal, choice=st.randoms())
def test_another_arrangement_is_among_the_explanations(wiring, part, choice):
    drivers, notation = wiring
    found = CALCULATORS["coil-wiring"].answer({"drivers": rows(drivers)}).sheet.results
    load = measured(circuit_of(drivers, notation))
    others = [
        one["load_ohm"] for one in found["distinct_loads"] if abs(one["load_ohm"] - load) > 1e-9
    ]
    assume(others)
    other = choice.choice(others)
    likely = checked(drivers, notation, part * other, lead_ohm=0)
    ranges = [
        (one["expected_low_ohm"], one["expected_high_ohm"])
        for one in explanations(likely, "wired differently", part * other)
    ]
    assert any(one == pytest.approx((0.75 * other, 0.95 * other)) for one in ranges)


@given(wiring=wirings(), reading=st.one_of(st.floats(0, 40), st.just(NO_READING)), lead=leads)
def test_what_explains_the_reading_comes_before_what_does_not(wiring, reading, lead):
    drivers, notation = wiring
    reading = round(reading, 9)
    likely = checked(drivers, notation, reading, lead_ohm=lead)
    edges = {
        edge
        for one in likely
        for edge in (one["expected_low_ohm"], one["expected_high_ohm"])
        if edge is not None
    }
    assume(not any(abs(edge - reading) < 1e-7 for edge in edges))
    found = [explains(one, reading) for one in likely]
    assert found == sorted(found, reverse=True)
    assert [one["kind"] for one in likely].count("right") == 1


@given(wiring=wirings())
def test_explanations_are_told_apart(wiring):
    drivers, notation = wiring
    told = [one["what"] for one in checked(drivers, notation, 3.4)]
    assert len(set(told)) == len(told)


def test_a_place_in_the_list_means_the_arrangement_that_stands_there():
    for drivers, least in (([(2, 4), (2, 4)], 2), ([(2, 4), (1, 8)], 4)):
        given = {"drivers": rows(drivers), "min_load_ohm": str(least), "limit": "1000"}
        found = CALCULATORS["coil-wiring"].answer(given).sheet.results["arrangements"]
        for at, one in enumerate(found):
            by_place = checked(drivers, str(at), 3.4, min_load_ohm=least)
            assert by_place == checked(drivers, one["notation"], 3.4)
        with pytest.raises(InputError):
            checked(drivers, str(len(found)), 3.4, min_load_ohm=least)


def test_eight_coils_keep_their_faults_apart():
    # Two branches of two twin-coil drivers each; a coil open leaves the other branch.
    drivers, notation = [(2, 4)] * 4, "(1a+1b+2a+2b)|(3a+3b+4a+4b)"
    circuit = circuit_of(drivers, notation)
    assert measured(circuit) == pytest.approx(8)
    assert measured(circuit, opened=["3b"]) == pytest.approx(16)
    likely = checked(drivers, notation, 0.85 * 16 + 0.1)
    assert len(explanations(likely, "coil 3b is open", 13.7)) == 1


@pytest.mark.parametrize(
    "intended", ["(1a+1b)|2a", "1a+1b+2a+2b+3a", "1000", "99999", "-1", "1a+1b|2a+2b", "<b>", ""]
)
def test_an_intended_circuit_that_cannot_be_is_refused_by_its_fields_name(intended):
    with pytest.raises(InputError) as refused:
        checked([(2, 4), (2, 4)], intended, 3.4)
    assert [error.field for error in refused.value.errors] == ["intended"]


def test_no_path_has_an_explanation_when_an_unplugged_driver_leaves_none():
    # Driver 1 in both branches: unplugged, both are open.
    drivers, notation = [(2, 4), (2, 4)], "(1a+2a)|(1b+2b)"
    assert measured(circuit_of(drivers, notation), opened=["1a", "1b"]) is None
    assert explains(checked(drivers, notation, NO_READING)[0], NO_READING)


@pytest.mark.parametrize(("reading", "is_first"), [("0.05", True), ("0.25", True), ("0.4", False)])
def test_a_short_reads_what_the_leads_read_give_or_take_a_touch(reading, is_first):
    likely = (
        CALCULATORS["meter-check"]
        .answer({"reading_ohm": reading, "lead_ohm": "0.15"})
        .sheet.results["likely"]
    )
    assert likely[0]["what"].startswith("the two leads touch") is is_first


def test_other_circuits_are_looked_for_at_the_reading_less_the_leads():
    """With 5 Ω of leads, 6.75 Ω are 1.75 Ω of coils: about 2 Ω nominal, and not 8 or 14."""
    likely = (
        CALCULATORS["meter-check"]
        .answer(
            {
                "reading_ohm": "6.75",
                "lead_ohm": "5",
                "drivers": "4",
                "intended": "0",
                "min_load_ohm": "8",
            }
        )
        .sheet.results["likely"]
    )
    loads = [(one["expected_low_ohm"] - 5) / 0.75 for one in likely if one["kind"] == "arrangement"]
    assert len(loads) >= 50
    assert min(loads) < 1.75 < max(loads) < 4

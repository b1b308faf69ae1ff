"""Every joint list solved as a general network of resistors: by graph theory, and by ngspice."""

import random
import re
import subprocess

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.app.contents import CALCULATORS
from calc.coils.notation import NotationError, read_notation
from calc.coils.survey import Survey
from calc.physics.coils import Driver as Coils
from calc.physics.coils import coil_names

# A set of drivers is written ((coils, ohm), …), as the rows of the field are.


def wired(drivers, **given):
    text = ";".join(f"{coils},{ohm}" for coils, ohm in drivers)
    raw = {key: str(value) for key, value in given.items()}
    return CALCULATORS["coil-wiring"].answer({"drivers": text, **raw}).sheet.results


def coil_ohms(drivers):
    return {
        f"{number}{letter}": float(ohm)
        for number, (coils, ohm) in enumerate(drivers, start=1)
        for letter in "abcdefgh"[:coils]
    }


def branches(nets, ohms):
    """Return (coil, net of its +, net of its −, ohm), from the joint list alone."""
    net_of = {end: net for net, ends in nets.items() for end in ends}
    return [(coil, net_of[coil + "+"], net_of[coil + "-"], ohm) for coil, ohm in ohms.items()]


def graph(nets, ohms):
    made = nx.MultiGraph()
    for coil, plus, minus, ohm in branches(nets, ohms):
        made.add_edge(plus, minus, key=coil, ohm=ohm)
    return made


def solved(nets, ohms):
    """Return load and each coil's power at 1 A through the whole, by the graph's Laplacian."""
    nodes = ["amp-", *(net for net in nets if net != "amp-")]
    place = {net: at for at, net in enumerate(nodes)}
    laplacian = np.zeros((len(nodes), len(nodes)))
    for _, plus, minus, ohm in branches(nets, ohms):
        i, j = place[plus], place[minus]
        laplacian[[i, j], [i, j]] += 1 / ohm
        laplacian[[i, j], [j, i]] -= 1 / ohm
    inflow = np.zeros(len(nodes))
    inflow[place["amp+"]] = 1
    volts = np.zeros(len(nodes))  # amp- is held at 0 V
    volts[1:] = np.linalg.solve(laplacian[1:, 1:], inflow[1:])
    drop = {
        coil: volts[place[plus]] - volts[place[minus]]
        for coil, plus, minus, _ in branches(nets, ohms)
    }
    return volts[place["amp+"]], {coil: drop[coil] ** 2 / ohm for coil, ohm in ohms.items()}, drop


def equal(numbers):
    return max(numbers) - min(numbers) <= 1e-9 * max(numbers)


def is_even(powers, drivers):
    """Whether a driver's coils carry equal power, and like drivers do: the definition."""
    of_driver = [
        [power for coil, power in powers.items() if coil[0] == str(number)]
        for number in range(1, len(drivers) + 1)
    ]
    return all(equal(own) for own in of_driver) and all(
        equal([sum(own) for own, one in zip(of_driver, drivers, strict=True) if one == kind])
        for kind in set(drivers)
    )


def check(one, drivers):
    ohms = coil_ohms(drivers)
    load, powers, drop = solved(one["nets"], ohms)
    assert one["load_ohm"] == pytest.approx(load, rel=1e-9)
    shares = [100 * power / load for power in powers.values()]
    assert one["share_percent"] == pytest.approx(shares, rel=1e-9)
    assert one["even"] == is_even(powers, drivers)
    assert all(volts > 0 for volts in drop.values())  # every coil in the same sense


ohm = st.sampled_from([1, 2, 3.3, 4, 4, 4, 6, 8])
driver_sets = st.lists(st.tuples(st.integers(1, 4), ohm), min_size=1, max_size=4).filter(
    lambda drivers: sum(coils for coils, _ in drivers) <= 6
)
EIGHT = [
    [(2, 4)] * 4,
    [(2, 4), (2, 4), (2, 2), (2, 2)],
    [(4, 4)] * 2,
    [(8, 4)],
    [(3, 4), (3, 4), (2, 8)],
    [(2, 4), (2, 4), (3, 8), (1, 4)],
]


def arrangements_of_eight(count):
    """Return so many arrangements of eight coils, chosen blindly but always the same."""
    choice = random.Random(8)
    lists = []
    for drivers in EIGHT:
        found = wired(drivers, limit=1000)["arrangements"]
        lists += [(drivers, one) for one in found]
    return choice.sample(lists, count)


@given(drivers=driver_sets, at=st.integers(0, 999))
def test_a_joint_list_solves_to_the_stated_load_and_shares(drivers, at):
    found = wired(drivers, limit=1000)["arrangements"]
    check(found[at % len(found)], drivers)


def test_every_joint_list_of_two_twin_coil_drivers_solves():
    for drivers in ([(2, 4), (2, 4)], [(2, 4), (2, 2)], [(2, 4), (1, 8), (1, 8)]):
        for one in wired(drivers, limit=1000)["arrangements"]:
            check(one, drivers)


def test_joint_lists_of_eight_coils_solve(is_long):
    for drivers, one in arrangements_of_eight(2000 if is_long else 300):
        check(one, drivers)


@given(drivers=driver_sets, at=st.integers(0, 999))
def test_the_load_is_the_resistance_distance_between_the_free_ends(drivers, at):
    found = wired(drivers, limit=1000)["arrangements"]
    one = found[at % len(found)]
    whole = graph(one["nets"], coil_ohms(drivers))
    distance = nx.resistance_distance(whole, "amp+", "amp-", weight="ohm", invert_weight=True)
    assert one["load_ohm"] == pytest.approx(distance, rel=1e-9)


def netlist(circuits):
    """Return one SPICE deck that holds all the circuits side by side, 1 V across each."""
    lines = ["joint lists"]
    for at, (drivers, one) in enumerate(circuits):
        lines.append(f"V{at} {at}_amp+ 0 dc 1")
        for coil, plus, minus, value in branches(one["nets"], coil_ohms(drivers)):
            ends = ["0" if net == "amp-" else f"{at}_{net}" for net in (plus, minus)]
            lines.append(f"R{at}_{coil} {ends[0]} {ends[1]} {value!r}")
    lines += [".control", "set numdgt=15", "op"]
    for at, (drivers, _) in enumerate(circuits):
        lines += [f"print @r{at}_{coil}[p]" for coil in coil_ohms(drivers)]
        lines.append(f"print i(v{at})")
    return "\n".join([*lines, "quit", ".endc", ".end", ""])


def test_a_circuit_simulator_finds_the_same_loads_and_shares(ngspice, is_long, tmp_path):
    circuits = arrangements_of_eight(300 if is_long else 20)
    deck = tmp_path / "joints.cir"
    deck.write_text(netlist(circuits), encoding="ascii")
    run = subprocess.run(
        [ngspice, "-b", deck.name], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    printed = dict(re.findall(r"^(\S+) = (\S+)$", run.stdout, re.MULTILINE))
    for at, (drivers, one) in enumerate(circuits):
        load = -1 / float(printed[f"i(v{at})"])
        assert one["load_ohm"] == pytest.approx(load, rel=1e-7)
        shares = [100 * load * float(printed[f"@r{at}_{coil}[p]"]) for coil in coil_ohms(drivers)]
        assert one["share_percent"] == pytest.approx(shares, rel=1e-7)


# ---- notation --------------------------------------------------------------------------------


@given(drivers=driver_sets, at=st.integers(0, 999))
def test_a_notation_read_back_is_the_same_circuit(drivers, at):
    own = tuple(Coils(coils, float(ohm)) for coils, ohm in drivers)
    found = list(Survey(own).ranked(2.0))
    circuit = found[at % len(found)].circuit
    again = read_notation(circuit.notation, coil_names(own))
    assert again == circuit
    assert again.nets() == circuit.nets()
    spaced = re.sub(r"([+|()])", r" \1 ", circuit.notation)
    assert read_notation(spaced, coil_names(own)) == circuit


@pytest.mark.parametrize(
    "text",
    [
        "",
        "1a",
        "1a+",
        "+1a+1b",
        "1a+1b|2a+2b",
        "(1a+1b",
        "1a+1b)",
        "1a+1b+2a+2a",
        "1a+1b+2a+3a",
        "1a1b+2a+2b",
        "1a*1b+2a+2b",
        "()",
        "(" * 5000,
        "1a|1b|2a|2c",
        "１a+1b+2a+2b",
    ],
)
def test_what_is_no_circuit_of_the_coils_is_refused(text):
    with pytest.raises(NotationError):
        read_notation(text, coil_names([Coils(2, 4.0)] * 2))

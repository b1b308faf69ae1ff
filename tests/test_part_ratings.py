"""What the parts of a passive crossover must stand, against Ohm's and Kirchhoff's laws by hand."""

import numpy
import pytest

from calc.app.contents import CALCULATORS
from calc.crossovers.passive_network.solve import stresses

PASSIVE = CALCULATORS["passive-network"]
HEARING_HZ = numpy.geomspace(20, 20_000, 20_001)
JW = 2j * numpy.pi * HEARING_HZ


def rated(power_w, **texts):
    """Return the parts as built, by name, and what each must stand."""
    inputs = PASSIVE.build(PASSIVE.form.read({**texts, "power_w": str(power_w)}))
    built = PASSIVE.solve(inputs).built
    parts = {branch.name: branch.part for branch in built.branches}
    found = stresses(built, power_w=inputs.power_w, ohm=inputs.ohm)
    return parts, {stress.name: stress for stress in found}


def most(values):
    return numpy.abs(values).max()


@pytest.mark.parametrize(("power_w", "ohm", "hz"), [(100, "4", "3500"), (60, "8", "2500")])
def test_a_second_order_high_pass(power_w, ohm, hz):
    parts, found = rated(power_w, side="high-pass", order="2", ohm=ohm, frequency_hz=hz)
    volts, load = (power_w * float(ohm)) ** 0.5, float(ohm)
    in_series, shunt = 1 / (JW * parts["C1"].farad), JW * parts["L1"].henry
    current = volts / (in_series + shunt * load / (shunt + load))
    assert set(found) == {"C1", "L1"}
    assert found["C1"].current_a == pytest.approx(most(current), rel=0.01)
    assert found["C1"].peak_v == pytest.approx(2**0.5 * most(current * in_series), rel=0.01)
    assert found["L1"].current_a == pytest.approx(most(current * load / (shunt + load)), rel=0.01)
    assert (found["L1"].peak_v, found["L1"].heat_w) == (None, None)


@pytest.mark.parametrize(("power_w", "ohm", "hz"), [(100, "4", "300"), (250, "2", "120")])
def test_a_second_order_low_pass(power_w, ohm, hz):
    parts, found = rated(power_w, side="low-pass", order="2", ohm=ohm, frequency_hz=hz)
    volts, load = (power_w * float(ohm)) ** 0.5, float(ohm)
    coil = parts["L1"]
    in_series, shunt = JW * coil.henry + coil.ohm, 1 / (JW * parts["C1"].farad)
    current = volts / (in_series + shunt * load / (shunt + load))
    across = volts - current * in_series
    assert found["L1"].current_a == pytest.approx(most(current), rel=0.01)
    assert found["C1"].peak_v == pytest.approx(2**0.5 * most(across), rel=0.01)


def test_the_resistors_of_a_pad_are_rated_for_their_heat():
    parts, found = rated(100, side="high-pass", order="1", ohm="4", frequency_hz="3500", pad_db="6")
    resistors = sorted(name for name in parts if name[0] == "R")
    first, across = (parts[name].ohm for name in resistors)
    volts, load = 20.0, 4.0
    joined = across * load / (across + load)
    current = volts / (1 / (JW * parts["C1"].farad) + first + joined)
    heat = {resistors[0]: most(current) ** 2 * first}
    heat[resistors[1]] = (most(current) * joined) ** 2 / across
    assert {name: found[name].heat_w for name in resistors} == pytest.approx(heat, rel=0.01)
    # Of what the amplifier gives, the speaker has the rest.
    given = (volts * current.conj()).real.max()
    assert sum(heat.values()) + (most(current) * joined) ** 2 / load == pytest.approx(
        given, rel=0.01
    )

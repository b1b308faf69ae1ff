"""Passive networks held against coefficients of textbooks, scipy's filters and ngspice; preferred
values against IEC 60063; pads and levelling networks against their laws.
"""

import cmath
import json
import math
import random
import subprocess

import numpy as np
import pytest
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize
from test_crossover_filters import KINDS, SLOPES, hertz, scipy_response

from calc.app.contents import CALCULATORS
from calc.physics.circuit import Inductor, Measured, Resistor, network
from calc.physics.filters import Filter
from calc.physics.ladder import MOST_PASSIVE_ORDER, components, prototype_values
from calc.physics.pads import Pad, level_pad, levelling
from calc.physics.preferred_values import SERIES, nearest

PUBLISHED = ROOT / "shared/published"
COEFFICIENTS = json.loads((PUBLISHED / "crossover-coefficients.json").read_text("utf-8"))
PREFERRED = json.loads((PUBLISHED / "preferred-values.json").read_text("utf-8"))["preferred_values"]

LADDERS = [slope for slope in SLOPES if slope[1] <= 4]
kinds = st.sampled_from(KINDS)
ladders = st.sampled_from(LADDERS)
ohms = st.floats(1, 32)
microhenries = st.floats(1, 5000)
every_ladder = pytest.mark.parametrize(
    ("kind", "family", "order"), [(kind, *slope) for kind in KINDS for slope in LADDERS]
)

# ---- values of coils and capacitors ----------------------------------------------------------


@pytest.mark.parametrize(
    "row",
    COEFFICIENTS["components"]["rows"],
    ids=lambda row: f"{row['family']}-{row['order']}-{row['kind']}",
)
@pytest.mark.parametrize(("frequency_hz", "ohm"), [(1, 1), (80, 4), (3150, 6.3)])
def test_values_have_the_textbooks_coefficients(row, frequency_hz, ohm):
    found = components(
        kind=row["kind"],
        family=row["family"],
        order=row["order"],
        frequency_hz=frequency_hz,
        ohm=ohm,
    )
    told = [
        ["C", one.value * ohm * frequency_hz]
        if one.part == "capacitor"
        else ["L", one.value * frequency_hz / ohm]
        for one in found
    ]
    assert [letter for letter, _ in told] == [letter for letter, _ in row["parts"]]
    printed = [coefficient for _, coefficient in row["parts"]]
    # Printed with four decimals; those of the fourth order come from figures already rounded.
    tolerance = 1.5e-4 if row["order"] == 4 else 5e-5
    assert [coefficient for _, coefficient in told] == pytest.approx(printed, abs=tolerance)
    assert [one.position for one in found] == list(range(1, row["order"] + 1))
    assert [one.place for one in found] == (["series", "shunt"] * 2)[: row["order"]]


@pytest.mark.parametrize(
    "row",
    COEFFICIENTS["singly_terminated_prototypes"]["rows"],
    ids=lambda row: f"{row['family']}-{row['order']}",
)
def test_prototypes_have_the_filter_tables_values(row):
    found = prototype_values(row["family"], row["order"])
    assert list(found) == pytest.approx(row["values"], abs=5e-5)  # four decimals


def test_orders_above_the_fourth_and_orders_a_family_lacks_are_refused():
    def asked(family, order):
        return components(kind="low-pass", family=family, order=order, frequency_hz=100, ohm=4)

    assert MOST_PASSIVE_ORDER == 4 == len(asked("butterworth", 4))
    with pytest.raises(ValueError, match="up to order 4"):
        asked("butterworth", 5)
    for family, order in (("linkwitz-riley", 3), ("butterworth", 0), ("bessel", -1)):
        with pytest.raises(ValueError, match=f"no {family} filter of order {order}"):
            asked(family, order)


# ---- the circuit and its ideal ---------------------------------------------------------------


def parts_of(kind, slope, corner, ohm):
    return components(kind=kind, family=slope[0], order=slope[1], frequency_hz=corner, ohm=ohm)


@every_ladder
@given(corner=hertz, ohm=ohms, frequency=hertz)
def test_on_its_ideal_load_a_network_is_the_ideal_filter(
    kind, family, order, corner, ohm, frequency
):
    found = network(parts_of(kind, (family, order), corner, ohm), Resistor(ohm))
    ideal = Filter(kind=kind, family=family, order=order, frequency_hz=corner)
    expected = scipy_response(ideal, frequency)
    # Far in the stop band (10⁻¹⁴) the solution leans on differences of large admittances.
    assert abs(found.response(frequency) - expected) <= 1e-8 * abs(expected)


def whole(choice):
    """Return what a whole network is made of, blindly chosen but always the same."""
    ohm, loss_db = choice.uniform(2, 16), choice.uniform(0.5, 12)
    corner = 10 ** choice.uniform(1.5, 4)
    levelled = levelling(
        coil_resistance_ohm=choice.uniform(2, 8),
        coil_inductance_h=choice.uniform(0.05e-3, 2e-3),
        factor=choice.choice([1, 1.25]),
    )
    return {
        "ladder": parts_of(choice.choice(KINDS), choice.choice(LADDERS), corner, ohm),
        "inductor_ohm": choice.choice([0.0, choice.uniform(0.05, 1)]),
        "pad": choice.choice([None, level_pad(ohm=ohm, loss_db=loss_db)]),
        "levelled": choice.choice([None, levelled]),
        "coil": (choice.uniform(2, 8), choice.choice([0.0, choice.uniform(0.05e-3, 2e-3)])),
    }


def built(made):
    resistance, inductance = made["coil"]
    return network(
        made["ladder"],
        Inductor(inductance, resistance) if inductance else Resistor(resistance),
        inductor_ohm=made["inductor_ohm"],
        pad=made["pad"],
        levelled=made["levelled"],
    )


def netlist(circuits):
    """Return one SPICE deck that holds all the circuits side by side, 1 V across each."""
    lines = ["whole networks"]
    outs = []
    for at, made in enumerate(circuits):
        serial = iter(range(1000))

        def put(letter, start, end, value, at=at, serial=serial):
            ends = " ".join("0" if node == "0" else f"{at}_{node}" for node in (start, end))
            lines.append(f"{letter}{at}_{next(serial)} {ends} {value!r}")

        def put_coil(start, end, henry, ohm, at=at, put=put):
            if ohm:
                put("R", start, f"{start}w", ohm)
                start = f"{start}w"
            put("L", start, end, henry)

        lines.append(f"V{at} {at}_a 0 dc 0 ac 1")
        node = "a"
        for one in made["ladder"]:
            end = "0" if one.place == "shunt" else chr(ord(node) + 1)
            if one.part == "inductor":
                put_coil(node, end, one.value, made["inductor_ohm"])
            else:
                put("C", node, end, one.value)
            node = node if end == "0" else end
        if made["pad"]:
            put("R", node, "p", made["pad"].series_ohm)
            put("R", "p", "0", made["pad"].shunt_ohm)
            node = "p"
        if made["levelled"]:
            put("R", node, "y", made["levelled"].ohm)
            put("C", "y", "0", made["levelled"].farad)
        resistance, inductance = made["coil"]
        put("R", node, "x" if inductance else "0", resistance)
        if inductance:
            put("L", "x", "0", inductance)
        outs.append(f"v({at}_{node}) i(v{at})")
    lines += [".control", "set numdgt=12", "set wr_singlescale", "ac dec 6 20 20000"]
    lines.append("wrdata answer.txt " + " ".join(outs))
    return "\n".join([*lines, "quit", ".endc", ".end", ""])


def test_a_circuit_simulator_finds_the_same_responses_and_impedances(ngspice, is_long, tmp_path):
    choice = random.Random(4)
    circuits = [whole(choice) for _ in range(400 if is_long else 60)]
    (tmp_path / "networks.cir").write_text(netlist(circuits), encoding="ascii")
    subprocess.run([ngspice, "-b", "networks.cir"], cwd=tmp_path, capture_output=True, check=False)
    table = np.loadtxt(tmp_path / "answer.txt")
    assert table.shape == (19, 1 + 4 * len(circuits))  # three decades of six, and the end
    for row in table:
        values = (row[1::2] + 1j * row[2::2]).reshape(-1, 2)
        for made, (volts, amperes) in zip(circuits, values, strict=True):
            found = built(made)
            # Both solve the same linear equations; the simulator prints 12 figures.
            assert abs(found.response(row[0]) - volts) <= 1e-7 * abs(volts)
            load = -1 / amperes
            assert abs(found.input_impedance(row[0]) - load) <= 1e-7 * abs(load)


@given(seed=st.integers(0, 10**9), frequency=hertz)
def test_all_power_drawn_is_spent_in_resistances(seed, frequency):
    made = whole(random.Random(seed))
    found = built(made)
    currents = found.currents(frequency)
    resistances = {"driver": made["coil"][0]}
    if made["pad"]:
        resistances |= {"R1": made["pad"].series_ohm, "R2": made["pad"].shunt_ohm}
    if made["levelled"]:
        resistances["R3"] = made["levelled"].ohm
    resistances |= {name: made["inductor_ohm"] for name in currents if name[0] == "L"}
    reactances = {name for name in currents if name[0] == "C"}
    assert set(resistances) | reactances == set(currents)
    assert len(currents) == len(found.branches)  # no name twice
    spent = sum(abs(currents[name]) ** 2 * ohm for name, ohm in resistances.items())
    impedance = found.input_impedance(frequency)
    # Real power at 1 V, beside apparent power that can be a million times as much.
    assert (1 / impedance).real == pytest.approx(spent, rel=1e-9, abs=1e-9 / abs(impedance))
    assert impedance.real > 0


@given(seed=st.integers(0, 10**9), frequency=hertz)
def test_no_current_is_lost_at_any_node(seed, frequency):
    found = built(whole(random.Random(seed)))
    currents = found.currents(frequency)
    inflow, most = {}, {}
    for one in found.branches:
        for node, sign in ((one.start, -1), (one.end, 1)):
            inflow[node] = inflow.get(node, 0) + sign * currents[one.name]
            most[node] = max(most.get(node, 0), abs(currents[one.name]))
    drawn = 1 / found.input_impedance(frequency)
    assert inflow["in"] == pytest.approx(-drawn, rel=1e-9)
    for node in set(inflow) - {"in", "0"}:
        assert abs(inflow[node]) <= 1e-7 * most[node]  # differences of nearly equal voltages
    driver = found.branches[-1]
    assert driver.name == "driver"
    volts = currents["driver"] * driver.part.impedance(frequency)
    assert volts == pytest.approx(found.response(frequency), rel=1e-9)


def test_a_coil_has_no_resistance_unless_it_is_given_one():
    # ωL of 1 mH at 1 kHz is 2π Ω
    assert Inductor(1e-3).impedance(1000) == pytest.approx(2j * math.pi, rel=1e-12)
    assert Inductor(1e-3, 0.5).impedance(1000) == pytest.approx(0.5 + 2j * math.pi, rel=1e-12)


def test_series_and_shunt_parts_are_told_apart():
    made = whole(random.Random(4)) | {
        "ladder": parts_of("low-pass", ("butterworth", 3), 100, 8),
        "pad": level_pad(ohm=8, loss_db=3),
        "levelled": levelling(coil_resistance_ohm=6, coil_inductance_h=1e-3),
    }
    series = {one.name for one in built(made).branches if one.place == "series"}
    shunt = {one.name for one in built(made).branches if one.place == "shunt"}
    assert (series, shunt) == ({"L1", "L2", "R1"}, {"C1", "R2", "R3", "C0", "driver"})


# ---- measured impedance ----------------------------------------------------------------------

curves = st.lists(
    st.tuples(hertz, st.floats(1, 200), st.floats(-90, 90)), min_size=1, max_size=8
).map(lambda points: tuple(sorted({round(one[0], 3): one for one in points}.values())))


@given(points=curves)
def test_a_measured_impedance_passes_through_its_points_and_holds_its_ends(points):
    driver = Measured(points)
    beyond = [(points[0][0] / 7, *points[0][1:]), (points[-1][0] * 7, *points[-1][1:])]
    for frequency, size, degrees in [*points, *beyond]:
        expected = cmath.rect(size, math.radians(degrees))
        assert driver.impedance(frequency) == pytest.approx(expected, rel=1e-12)


@given(points=curves, frequency=hertz)
def test_between_its_points_a_measured_impedance_runs_straight_over_logarithms(points, frequency):
    at = math.log(frequency)
    known = [math.log(one[0]) for one in points]
    size = math.exp(np.interp(at, known, [math.log(one[1]) for one in points]))
    degrees = np.interp(at, known, [one[2] for one in points])
    expected = cmath.rect(size, math.radians(degrees))
    # Points may lie a part in 10⁷ apart, which costs their logarithms seven digits or so.
    assert Measured(points).impedance(frequency) == pytest.approx(expected, rel=1e-6)


def test_a_driver_measured_at_one_point_is_a_resistor_there():
    parts = parts_of("low-pass", ("butterworth", 2), 100, 4)
    plain, measured = (network(parts, one) for one in (Resistor(4), Measured(((50, 4.0, 0.0),))))
    assert measured.response(120) == pytest.approx(plain.response(120), rel=1e-12)


@pytest.mark.parametrize(
    "points", [(), ((100, 4.0, 0.0), (100, 5.0, 0.0)), ((100, 4.0, 0.0), (50, 4.0, 0.0))]
)
def test_impedance_points_that_do_not_rise_are_refused(points):
    with pytest.raises(ValueError, match="rise"):
        Measured(points)


# ---- pads and levelling networks -------------------------------------------------------------


def test_a_pad_of_six_decibels_has_the_textbooks_resistors():
    known = COEFFICIENTS["level_pad"]
    pad = level_pad(ohm=known["ohm"], loss_db=known["loss_db"])
    found = (pad.series_ohm, pad.shunt_ohm)
    # printed with two decimals
    assert found == pytest.approx((known["series_ohm"], known["shunt_ohm"]), abs=0.005)


@given(ohm=ohms, loss=st.floats(0.001, 60))
def test_a_pad_keeps_the_load_and_takes_what_it_is_said_to_take(ohm, loss):
    pad = level_pad(ohm=ohm, loss_db=loss)
    assert pad.load_ohm(ohm) == pytest.approx(ohm, rel=1e-9)
    assert 20 * math.log10(pad.voltage_ratio(ohm)) == pytest.approx(-loss, abs=1e-9)
    shares = pad.power_shares(ohm)
    assert shares[2] == pytest.approx(10 ** (-loss / 10), rel=1e-9)
    # The same by the circuit, with nothing before the pad.
    found = network((), Resistor(ohm), pad=pad)
    assert abs(found.response(1000)) == pytest.approx(10 ** (-loss / 20), rel=1e-9)
    assert found.input_impedance(1000) == pytest.approx(ohm, rel=1e-9)


@given(series=ohms, shunt=st.one_of(st.none(), ohms), speaker=ohms)
def test_a_pads_power_shares_are_those_of_its_currents(series, shunt, speaker):
    pad = Pad(series_ohm=series, shunt_ohm=shunt)
    # 1 A in: current divides as the conductances.
    into = [0 if shunt is None else 1 / shunt, 1 / speaker]
    watts = [series, *(part / sum(into) ** 2 for part in into)]
    shares = pad.power_shares(speaker)
    assert sum(shares) == pytest.approx(1, rel=1e-12)
    assert list(shares) == pytest.approx([one / sum(watts) for one in watts], rel=1e-9)
    assert pad.load_ohm(speaker) == pytest.approx(sum(watts), rel=1e-9)
    assert pad.voltage_ratio(speaker) == pytest.approx(1 / sum(into) / sum(watts), rel=1e-9)


@given(ohm=ohms)
def test_a_pad_without_loss_is_no_pad_and_one_that_amplifies_is_refused(ohm):
    pad = level_pad(ohm=ohm, loss_db=0)
    assert pad == Pad(series_ohm=0, shunt_ohm=None)
    assert pad.power_shares(ohm) == (0, 0, 1)
    assert network((), Resistor(ohm), pad=pad).response(100) == 1
    with pytest.raises(ValueError, match="amplify"):
        level_pad(ohm=ohm, loss_db=-1e-9)


def levelled_ohm(resistance, henry, factor, frequency):
    one = levelling(coil_resistance_ohm=resistance, coil_inductance_h=henry, factor=factor)
    found = network((), Inductor(henry, resistance), levelled=one)
    return found.input_impedance(frequency)


@given(resistance=ohms, microhenry=microhenries, frequency=hertz)
def test_an_exactly_levelled_speaker_is_its_resistance_at_every_frequency(
    resistance, microhenry, frequency
):
    found = levelled_ohm(resistance, microhenry * 1e-6, 1, frequency)
    assert found == pytest.approx(resistance, rel=1e-9)
    given = {"coil_resistance_ohm": resistance, "coil_inductance_h": microhenry * 1e-6}
    assert levelling(**given) == levelling(**given, factor=1)  # the exact form is the usual one


@given(resistance=ohms, microhenry=microhenries)
def test_the_workshop_form_leaves_the_published_peak(resistance, microhenry):
    henry, known = microhenry * 1e-6, COEFFICIENTS["levelling_peak"]
    knee = math.log(resistance / (2 * math.pi * henry))  # where ωL = R

    def falling(exponent):
        return -abs(levelled_ohm(resistance, henry, known["factor"], math.exp(exponent)))

    found = optimize.minimize_scalar(falling, bounds=(knee - 3, knee + 3), method="bounded")
    assert -found.fun / resistance == pytest.approx(known["peak"], abs=0.005)  # two decimals


# ---- preferred values ------------------------------------------------------------------------

series_names = st.sampled_from(["E6", "E12", "E24"])
values = st.floats(-12, 6).map(lambda exponent: 10**exponent)  # from picofarads to megohms


def test_series_are_those_of_the_standard():
    """IEC 60063: steps of a decade's root, rounded to two digits, and a few kept from of old."""
    assert SERIES["E6"] == (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
    for name, steps in (("E6", 6), ("E12", 12), ("E24", 24)):
        assert len(SERIES[name]) == steps
        for at, one in enumerate(SERIES[name]):
            assert one == pytest.approx(10 ** (at / steps), rel=0.05)


@pytest.mark.parametrize(("coarse", "fine"), [("E6", "E12"), ("E12", "E24")])
def test_every_second_value_of_a_series_makes_the_coarser_one(coarse, fine):
    assert list(SERIES[coarse]) == PREFERRED[fine][::2]


@pytest.mark.parametrize("name", ["E6", "E12", "E24"])
def test_every_preferred_value_is_its_own_nearest(name):
    for exponent in range(-12, 7):
        for one in PREFERRED[name]:
            value = float(f"{one}e{exponent}")
            assert nearest(value, name) == value


@given(value=values, name=series_names)
def test_no_preferred_value_of_any_decade_is_nearer(value, name):
    every = [one * 10.0**exponent for exponent in range(-14, 9) for one in PREFERRED[name]]
    best = min(max(one / value, value / one) for one in every)
    found = nearest(value, name)
    assert max(found / value, value / found) == pytest.approx(best, rel=1e-12)
    assert min(abs(found / one - 1) for one in every) < 1e-12


@given(value=values, name=series_names, decades=st.integers(-3, 3))
def test_a_decade_more_of_value_is_a_decade_more_of_the_nearest(value, name, decades):
    # Beside the border between two neighbours the last bit of the product decides.
    found = nearest(value * 10.0**decades, name) / 10.0**decades
    expected = nearest(value, name)
    assert max(found / value, value / found) == pytest.approx(
        max(expected / value, value / expected), rel=1e-12
    )


def test_a_nearest_value_is_written_without_the_dust_of_binary_fractions():
    assert repr(nearest(4.1e-6, "E12")) == "3.9e-06"
    assert repr(nearest(6.7e-4, "E6")) == "0.00068"


@pytest.mark.parametrize("value", [0, -4.7, math.nan])
def test_a_value_that_is_not_above_zero_has_no_nearest(value):
    with pytest.raises(ValueError, match="above 0"):
        nearest(value, "E12")


def test_values_that_the_driver_makes_another_crossover_of_are_not_to_be_bought():
    """R_e 3.2 Ω and L_e 0.3 mH behind a 12 dB low-pass for 3500 Hz: at 3500 Hz the coil alone has
    2π·3500·0.3 mH = 6.6 Ω, twice R_e, so that nothing like 4 Ω is there.  With a levelling network
    the driver is R_e at every frequency."""
    calculator = CALCULATORS["passive-network"]
    bare = calculator.answer({"side": "low-pass", "coil_ohm": "3.2", "coil_mh": "0.3"}).sheet
    assert bare.sentence.startswith("Don’t use these values") and "Zobel" in bare.sentence
    assert bare.results["built_corner_hz"] > 1.1 * 3500
    levelled = {"levelling": "exact", "ohm": "3.2"}
    flat = calculator.answer(
        {"side": "low-pass", "coil_ohm": "3.2", "coil_mh": "0.3", **levelled}
    ).sheet
    assert " fit " in flat.sentence
    assert abs(flat.results["built_corner_hz"] / 3500 - 1) < 0.1

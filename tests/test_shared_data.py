"""The start values are the scenario's, and published figures hold."""

import json
import tomllib

import pytest
from conftest import ROOT

from calc.app.contents import CALCULATORS
from calc.coils.survey import Survey
from calc.inputs.declared import values_of
from calc.physics.coils import Driver
from calc.physics.levels import voltage

VAN = tomllib.loads((ROOT / "shared/scenario/lantern-van.toml").read_text(encoding="utf-8"))
SERIES = json.loads((ROOT / "shared/published/series-parallel.json").read_text(encoding="utf-8"))
PRACTICE = json.loads((ROOT / "shared/published/bridged-practice.json").read_text("utf-8"))


def speakers(part):
    (speaker,) = [speaker for speaker in VAN["speakers"] if part in speaker["name"]]
    return speaker


def test_bridging_examples_use_the_hazel_amplifier():
    hazel = VAN["amplifiers"][0]
    for name in ("bridged-output", "channel-map"):
        inputs = CALCULATORS[name].answer({}).inputs
        for key in ("power_4ohm_w", "power_2ohm_w", "min_channel_ohm"):
            assert inputs[key] == hazel[key]


def test_channel_map_s_example_is_the_coaxial_pair_and_a_woofer():
    coaxial, woofers = speakers("coaxial"), speakers("woofers")
    first, second = map(values_of, CALCULATORS["channel-map"].answer({}).inputs["sections"])
    for key in ("section", "load_ohm", "rated_w", "sensitivity_db"):
        assert first[key] == coaxial[key]
    for key in ("section", "sensitivity_db"):
        assert second[key] == woofers[key]
    assert second["rated_w"] == woofers["count"] * woofers["rated_w"]
    assert (first["speakers"], second["speakers"]) == (coaxial["count"], 1)


def test_coil_examples_are_the_two_twin_coil_woofers():
    woofers = speakers("woofers")
    for name in ("coil-wiring", "meter-check"):
        inputs = CALCULATORS[name].answer({}).inputs
        assert inputs["drivers"] == woofers["count"]
        assert inputs["coils_per_driver"] == woofers["coils"]
        assert inputs["coil_ohm"] == woofers["coil_ohm"]


def test_who_filters_what_s_example_is_the_component_pair_and_the_woofers():
    pair, woofers, hazel = speakers("component"), speakers("woofers"), VAN["amplifiers"][0]
    inputs = CALCULATORS["filter-split"].answer({}).inputs
    tweeter, mid_bass, woofer = inputs["sections"]
    for row, data in ((tweeter, pair["tweeter"]), (mid_bass, pair["mid_bass"])):
        assert {key: getattr(row, key) for key in data} == data
    assert woofer.top_hz == woofers["top_hz"]
    (network,) = inputs["passive"]
    assert {key: getattr(network, key) for key in pair["network"]} == pair["network"]
    filters = hazel["filters"]
    for row in inputs["amplifier"]:
        assert row.corners_hz == "-".join(map(str, filters["range_hz"]))
        assert (row.family, row.orders) == (filters["family"], str(filters["order"]))
    for row in inputs["head_unit"]:
        assert row.corners_hz == "/".join(map(str, VAN["head_unit"]["steps_hz"]))


def test_the_other_crossover_examples_play_in_the_van():
    pair = speakers("component")
    network = CALCULATORS["passive-network"].answer({}).inputs
    assert network["frequency_hz"] == pair["network"]["frequency_hz"]
    assert network["ohm"] == pair["load_ohm"]
    assert network["power_w"] == VAN["amplifiers"][0]["power_4ohm_w"]
    rows = CALCULATORS["arrival-delay"].answer({}).inputs["sections"]
    assert {row.section: row.distance_m for row in rows} == VAN["listener"]["distances_m"]


def test_cable_examples_feed_the_van_s_amplifiers():
    powers = {fed["amplifier"]: fed["power_w"] for fed in VAN["fed"]}
    known = {amplifier["name"] for amplifier in VAN["amplifiers"]}
    assert set(powers) <= known
    inputs = {name: CALCULATORS[name].answer({}).inputs for name in CALCULATORS}
    assert inputs["power-cable"]["total_power_w"] == powers["Hazel 4-50"]
    assert inputs["power-cable"]["length_m"] == VAN["routes_m"]["power"]
    assert inputs["power-cable"]["engine_space"] is VAN["supply"]["in_engine_space"]
    assert {row.at: row.power_w for row in inputs["cable-tree"]["loads"]} == powers
    lengths = [row.length_m for row in inputs["cable-tree"]["runs"]]
    routes = VAN["routes_m"]
    assert lengths == [
        routes["to_distribution"],
        routes["distribution_to_hazel"],
        routes["distribution_to_rowan"],
    ]
    for key in ("alternator_a", "vehicle_a", "battery_ah"):
        assert inputs["supply-budget"][key] == VAN["supply"][key]
    (amplifier,) = inputs["kit-list"]["amplifiers"]
    assert powers[amplifier.name] == amplifier.total_power_w
    ways = {row.what: row.length_m for row in inputs["kit-list"]["routes"]}
    assert ways["power"] == routes["power"]
    assert ways["signal"] == ways["trigger"] == routes["head_unit_to_amplifier"]


def test_the_mounting_example_is_the_van_s_bay_and_its_amplifiers():
    inputs = CALCULATORS["mounting-reach"].answer({}).inputs
    bay = VAN["bay"]
    for key in ("width_mm", "depth_mm", "height_mm"):
        assert inputs[f"bay_{key}"] == bay[key]
    for side in ("front", "right", "back", "left", "top"):
        assert inputs[f"{side}_edge"] == ("open" if side in bay["open_edges"] else "wall")
    assert [values_of(row) for row in inputs["keep_outs"]] == [bay["in_the_way"]]
    bodies = {body["amplifier"]: body for body in VAN["bodies"]}
    assert set(bodies) <= {amplifier["name"] for amplifier in VAN["amplifiers"]}
    for row in map(values_of, inputs["amplifiers"]):
        body = bodies[row["name"]]
        assert [row[key] for key in ("width_mm", "depth_mm", "height_mm")] == body["size_mm"]
        for face in ("front", "right", "back", "left", "top"):
            assert list(row[face]) == body["faces"].get(face, [])
    ways = {}
    for row in inputs["way_points"]:
        ways[row.lead] = ways.get(row.lead, 0) + row.length_m
    assert ways["power"] == VAN["routes_m"]["power"]
    assert ways["signal"] == VAN["routes_m"]["head_unit_to_amplifier"]
    footprint = CALCULATORS["footprint"].answer({}).inputs
    assert [footprint["width_mm"], footprint["depth_mm"]] == bodies[footprint["name"]]["size_mm"][
        :2
    ]


def test_the_set_up_examples_are_the_van_s_signal_outputs_and_turn_on():
    signal, turn_on = VAN["signal"], VAN["turn_on"]
    chain = CALCULATORS["signal-chain"].answer({}).inputs
    assert chain["source_v"] == signal["head_unit_v"]
    assert [chain["sensitivity_min_v"], chain["sensitivity_max_v"]] == signal["line_input_v"]
    assert [chain["high_level_min_v"], chain["high_level_max_v"]] == signal["high_level_input_v"]
    factory = CALCULATORS["signal-chain"].starts[1].texts["factory_power_w"]
    assert float(factory) == signal["factory_power_w"]
    turned = CALCULATORS["turn-on"].answer({}).inputs
    yes = {True: "yes", False: "no"}
    assert turned["trigger_available"] == yes[turn_on["factory_trigger"]]
    assert turned["supply_always_live"] == yes[turn_on["always_live"]]
    assert turned["stop_start"] == yes[turn_on["stop_start"]]
    assert turned["push_button"] == yes[turn_on["push_button"]]
    for key, way in (("trigger", "trigger"), ("signal_sensing", "signal"), ("supply_sensing", "")):
        assert turned[f"amp_{key}"] == yes[way in turn_on["amplifier_senses"]]
    assert turned["quiescent_a"] == turn_on["quiescent_a"]
    outputs = map(values_of, CALCULATORS["commissioning"].answer({}).inputs["outputs"])
    assert [{key: row[key] for key in VAN["set_up"][0]} for row in outputs] == VAN["set_up"]
    gain, boost = (CALCULATORS[name].answer({}).inputs for name in ("gain-voltage", "boost-cost"))
    doors, woofers = VAN["set_up"][0], VAN["set_up"][2]
    assert [gain["power_w"], gain["tone_hz"]] == [doors["power_w"], doors["tone_hz"]]
    assert [boost["power_w"], boost["boost_db"]] == [woofers["power_w"], woofers["boost_db"]]


def test_cable_examples_draw_what_bridging_gives():
    """250 W: two doors of the Hazel and its bridged pair, by the chapter on bridging."""
    hazel = VAN["amplifiers"][0]
    bridged = CALCULATORS["bridged-output"].answer({}).sheet.results["bridged_power_w"]
    assert 2 * hazel["power_4ohm_w"] + bridged == VAN["fed"][0]["power_w"]


@pytest.mark.parametrize("coils", range(1, 9))
def test_published_numbers_of_networks_and_resistances(coils):
    survey = Survey((Driver(coils, 1.0),))
    networks = SERIES["networks_of_like_elements"]["values"][coils - 1]
    loads = SERIES["resistances_of_unit_resistors"]["values"][coils - 1]
    assert survey.networks_total == networks
    assert len(survey.distinct_loads) == loads


def test_usual_ratings_give_the_usual_bridged_power():
    usual = PRACTICE["entry_level_four_channel"]
    (low, high), (few, many) = usual["power_4ohm_w"], usual["ratio_2ohm_to_4ohm"]
    powers = [
        CALCULATORS["bridged-output"]
        .answer({"power_4ohm_w": str(power), "power_2ohm_w": str(power * ratio)})
        .sheet.results["bridged_power_w"]
        for power, ratio in ((low, many), (high, few))
    ]
    assert powers[0] == pytest.approx(usual["bridged_4ohm_w"][0])
    # 60 W channels with 1.3 times at 2 Ω give 156 W; the upper end of what is usual.
    assert powers[1] == pytest.approx(usual["bridged_4ohm_w"][1], rel=0.03)


def test_voltage_of_sixty_watts_in_four_ohms():
    row = PRACTICE["gain_voltage"]
    volts = voltage(power_w=row["power_w"], load_ohm=row["load_ohm"])
    assert volts == pytest.approx(row["volts"], abs=0.005)  # printed with two decimals

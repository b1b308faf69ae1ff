"""Answers of wire facts, speaker leads and the supply, held against printed tables and against
sums written out here; and links of one power cable, each asking for more than the last.
"""

import json
import math

import pytest
from asking import answer, errors_of, plain, results, sheet_of, table, values
from conftest import ROOT

from calc.app.contents import CALCULATORS, PAGES, query_of
from calc.inputs import links

CONDUCTORS = json.loads((ROOT / "shared/published/conductors.json").read_text("utf-8"))
PERMITTED = json.loads((ROOT / "shared/published/permitted-currents.json").read_text("utf-8"))
TABLE_A = dict(PERMITTED["single_conductors"]["rows"])
RATINGS = PERMITTED["fuses"]["ratings_a"]
DENSITY = CONDUCTORS["copper"]["density_kg_m3"]


def gauge_mm2(number):
    return math.pi / 4 * (0.127 * 92 ** ((36 - number) / 39)) ** 2


# ---- wire facts ------------------------------------------------------------------------------


@pytest.mark.parametrize(("awg", "inch", "circular_mil"), CONDUCTORS["awg"]["rows"])
def test_a_gauge_is_what_the_table_prints(awg, inch, circular_mil):
    found = results("wire-facts", awg=awg)
    assert found["diameter_mm"] == pytest.approx(25.4 * inch, abs=0.0013)  # half of 0.0001 inch
    assert found["area_mm2"] == pytest.approx(circular_mil * 0.000506707, rel=0.015)
    assert found["nearest_awg"] == awg
    assert found["permitted_a"] == TABLE_A.get(awg)
    fits = [one for one in RATINGS if one <= TABLE_A.get(awg, 0)]
    assert found["largest_fuse_a"] == (fits[-1] if fits else None)


@pytest.mark.parametrize(("awg", "ohm_kft"), CONDUCTORS["stranded_awg"]["rows"])
def test_a_warm_gauge_resists_as_the_table_prints(awg, ohm_kft):
    warm_c = CONDUCTORS["stranded_awg"]["conductor_c"]
    found = results("wire-facts", awg=awg, conductor_c=warm_c)
    assert found["mohm_per_m"] * 0.3048 == pytest.approx(ohm_kft, rel=0.005)


@pytest.mark.parametrize(("mm2", "ohm_km"), CONDUCTORS["class_5"]["rows"])
def test_a_standard_cross_section_resists_as_the_standard_permits(mm2, ohm_km):
    found = results("wire-facts", mm2=mm2)
    assert found["mohm_per_m"] == pytest.approx(ohm_km, rel=1e-14)
    assert found["area_mm2"] == mm2
    assert found["diameter_mm"] == pytest.approx(2 * math.sqrt(mm2 / math.pi))
    assert found["kg_per_m"] == pytest.approx(mm2 * 1e-6 * DENSITY)
    assert (found["permitted_a"] is None) == (mm2 < gauge_mm2(18))


def test_counted_strands_are_added_up():
    found = results("wire-facts", strands=196, strand_mm="0,25")
    area = 196 * math.pi / 4 * 0.25**2  # 9.62 mm²
    assert found["area_mm2"] == pytest.approx(area)
    assert found["mohm_per_m"] == pytest.approx(1000 * 1.02 / 58 / area)
    assert found["nearest_awg"] == "7"
    part = math.log(area / gauge_mm2(8)) / math.log(gauge_mm2(6) / gauge_mm2(8))
    assert found["permitted_a"] == pytest.approx(80 * (120 / 80) ** part)
    assert found["largest_fuse_a"] == 80


def test_material_heat_and_place_change_what_they_must():
    found = results(
        "wire-facts", awg=4, material="cca10", conductor_c=70, bundle=4, engine_space="yes"
    )
    copper = results("wire-facts", awg=4)
    assert found["mohm_per_m"] == pytest.approx(copper["mohm_per_m"] * 1.59 * (1 + 0.00393 * 50))
    assert found["permitted_a"] == pytest.approx(160 / math.sqrt(1.59) * 0.6 * 0.85)
    assert found["same_as_copper_mm2"] == pytest.approx(gauge_mm2(4) / 1.59)
    assert found["kg_per_m"] == pytest.approx(gauge_mm2(4) * 1e-6 * 3320)
    assert found["largest_fuse_a"] == 60  # of 64.7 A
    assert found["area_mm2"] == copper["area_mm2"]


@pytest.mark.parametrize("given", [{"awg": 4}, {"mm2": 16}, {"strands": 19, "strand_mm": 1}])
def test_without_a_table_for_the_insulation_nothing_is_permitted(given):
    sheet = sheet_of("wire-facts", **given, insulation_c="")
    assert sheet.results["permitted_a"] is sheet.results["largest_fuse_a"] is None
    assert "its current rating is not known" in sheet.sentence
    assert any("current ratings for 105" in one for one in sheet.unknowns)


@pytest.mark.parametrize("awg", ["5", "7", "9", "11", "13", "15", "17", "19", "40"])
def test_a_gauge_that_the_table_lacks_has_no_permitted_current(awg):
    assert awg not in TABLE_A
    sheet = sheet_of("wire-facts", awg=awg)
    assert sheet.results["permitted_a"] is sheet.results["largest_fuse_a"] is None
    rows = {row[0]: row for row in map(values, table(sheet, "Nearby sizes").rows)}
    assert rows[f"{awg} AWG"][4] is None
    for near in (str(int(awg) - 1), str(int(awg) + 1)):
        if f"{near} AWG" in rows:
            assert rows[f"{near} AWG"][4] == TABLE_A.get(near)
    metals = table(sheet, "The same size in each metal")
    assert {row[2] for row in map(values, metals.rows)} == {None}


@pytest.mark.parametrize(
    ("given", "cleared"),
    [
        ({"mm2": 16}, ("awg", "strands", "strand_mm")),
        ({"strands": 19, "strand_mm": 1}, ("awg", "mm2")),
        ({"awg": "1/0"}, ("mm2", "strands", "strand_mm")),
        ({"awg": "", "mm2": 16}, ("awg", "strands", "strand_mm")),
    ],
)
def test_one_way_to_tell_the_size_clears_the_others(given, cleared):
    told = answer("wire-facts", **given)
    assert {told.inputs[key] for key in cleared} == {None}
    query = "&".join(f"{key}={value}" for key, value in given.items() if value)
    assert query_of(told) == query


def test_the_example_s_link_is_empty_and_another_one_holds_what_was_given():
    assert query_of(answer("wire-facts")) == query_of(answer("wire-facts", awg=4)) == ""
    told = answer("wire-facts", strands=196, strand_mm=0.25, material="cca15", sold_as_awg="4")
    assert query_of(told) == ("strands=196&strand_mm=0.25&material=cca15&sold_as_awg=4")


@pytest.mark.parametrize(
    ("given", "fields"),
    [
        ({"awg": 4, "mm2": 16}, {"mm2"}),
        ({"awg": 4, "strands": 19, "strand_mm": 1}, {"strands", "strand_mm"}),
        ({"mm2": 16, "strands": 19}, {"strands"}),
        ({"awg": 4, "mm2": 16, "strand_mm": 1}, {"mm2", "strand_mm"}),
        ({"strands": 19}, {"strand_mm"}),
        ({"strand_mm": 1}, {"strands"}),
        ({"awg": ""}, {"awg"}),
        ({"awg": "5/0"}, {"awg"}),
        ({"awg": "5/0", "mm2": "x", "bundle": 25}, {"awg", "mm2", "bundle"}),
        ({"sold_as_awg": "0"}, {"sold_as_awg"}),
    ],
)
def test_two_ways_half_a_way_and_none_are_refused_at_their_fields(given, fields):
    found = errors_of("wire-facts", **given)
    assert set(found) == fields
    labels = {one.key: one.label for one in CALCULATORS["wire-facts"].fields}
    assert all(found[key].startswith(f"{labels[key]}: ") for key in fields)


@pytest.mark.parametrize(
    ("given", "share", "state", "words"),
    [
        ({"awg": 8, "sold_as_awg": 8}, 100, "suitable", "100 % of the area of 8 AWG"),
        # 19 strands of 1 mm are 14.9 mm², 71 % of the 21.2 mm² of gauge 4.
        ({"strands": 19, "strand_mm": 1, "sold_as_awg": 4}, 1900 * math.pi / 4 / gauge_mm2(4),
         "unsuitable", "really about 6 AWG"),
        ({"mm2": 0.951 * gauge_mm2(4), "sold_as_awg": 4}, 95.1, "suitable", "95.1 %"),
        ({"mm2": 0.949 * gauge_mm2(4), "sold_as_awg": 4}, 94.9, "unsuitable", "94.9 %"),
        ({"mm2": 16, "sold_as_awg": "1/0"}, 1600 / gauge_mm2(0), "unsuitable", "about 5 AWG"),
        ({"awg": 4, "sold_as_awg": 8}, 100 * gauge_mm2(4) / gauge_mm2(8), "suitable",
         "of the area of 8 AWG"),
    ],
)  # fmt: skip
def test_a_claim_is_held_against_the_area(given, share, state, words):
    sheet = sheet_of("wire-facts", **given)
    assert sheet.results["share_of_sold_percent"] == pytest.approx(share)
    assert sheet.verdict.state == state
    assert words in plain(f"{sheet.sentence} {sheet.verdict.reason}")


def test_without_a_claim_there_is_no_verdict():
    sheet = sheet_of("wire-facts")
    assert sheet.verdict is sheet.results["share_of_sold_percent"] is None


@pytest.mark.parametrize(
    "mm2",
    ["16.00001", "15.9999", "16.000000001", "0.50001", "95.0001", "94.99999", "3", "0.02", "240"],
)
def test_a_size_that_reads_like_a_standard_one_stands_in_its_place(mm2):
    sheet, area = sheet_of("wire-facts", mm2=mm2), float(mm2)
    around = table(sheet, "Nearby sizes")
    rows = [values(row) for row in around.rows]
    names, areas = [row[0] for row in rows], [row[1] for row in rows]
    assert len(set(names)) == len(names)
    assert areas == sorted(areas)
    assert rows[around.marked][0] == f"{area:.4g} mm²"
    assert rows[around.marked][1] == pytest.approx(area, rel=1e-9)
    assert rows[around.marked][3] == sheet.results["mohm_per_m"]
    steady = [rows[at][3] for at, name in enumerate(names) if name.endswith("mm²")]
    assert steady == sorted(steady, reverse=True)
    for standard, ohm_km in CONDUCTORS["class_5"]["rows"]:
        if abs(standard - area) < 0.001:
            assert sheet.results["mohm_per_m"] == pytest.approx(ohm_km, rel=1e-4)


@pytest.mark.parametrize(
    "given", [{"awg": 7}, {"mm2": 16}, {"mm2": 3}, {"mm2": 120}, {"strands": 19, "strand_mm": 1}]
)
def test_the_steps_tell_where_the_resistance_comes_from(given):
    sheet = sheet_of("wire-facts", **given)
    by_strands = 1000 * 1.02 / 58 / sheet.results["area_mm2"]
    is_so = sheet.results["mohm_per_m"] == pytest.approx(by_strands)
    assert is_so == any("2 % more because strands" in one for one in sheet.steps)


# ---- links of one power cable ----------------------------------------------------------------

# One field at a time made harder, as links write it.
HARDER = {
    "length_m": ("0.05", "1", "2.9", "3", "4", "7", "12", "40", "100"),
    "total_power_w": ("1", "50", "250", "251", "600", "1000", "3000", "20000"),
    "max_drop_v": ("5", "1", "0.5", "0.3", "0.1", "0.05"),
    "duty": ("normal", "heavy", "full"),
    "bundle": ("1", "2", "3", "4", "7", "24"),
    "engine_space": ("no", "yes"),
    "material": ("copper", "cca15", "cca10"),
    "conductor_c": ("-40", "20", "50", "105", "200"),
    "connections_mohm": ("0", "2", "20", "60"),
    "body_mohm": ("0", "2", "20", "60"),
    "regulated_min_v": ("", "14.4", "12", "9", "6"),
    "efficiency_percent": ("100", "80", "60", "30", "10"),
}


@pytest.mark.parametrize(
    "rest",
    [
        "",
        "&power-cable.length_m=6&power-cable.sizes=awg",
        "&power-cable.total_power_w=600&power-cable.return=cable",
    ],
)
@pytest.mark.parametrize("key", HARDER)
def test_a_link_that_asks_for_more_never_opens_to_a_thinner_cable(key, rest):
    calculator = CALCULATORS["power-cable"]
    areas, fuses = [], []
    for text in HARDER[key]:
        query = f"power-cable.{key}={text}"
        query += "" if f".{key}=" in rest else rest
        asked = links.opened(calculator.name, calculator.form, query, PAGES["cables/"])
        assert asked.notices == asked.errors == ()
        found = calculator.answer(asked.texts).sheet.results
        areas.append(found["size_mm2"] or math.inf)
        fuses.append(found["fuse_a"] or math.inf)
    assert areas == sorted(areas)
    assert fuses == sorted(fuses)

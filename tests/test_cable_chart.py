"""The chart of power and distance, held against the single runs that it stands for."""

import pytest
from asking import plain, results, sheet_of, values

# ---- power and distance on one sheet ---------------------------------------------------------

CHARTS = (
    ("the example", {}),
    ("a higher limit", {"max_drop_v": 1, "engine_space": "yes", "conductor_c": 80}),
    (
        "full power, out and back",
        {"duty": "full", "return": "cable", "efficiency_percent": 80, "amplifier_class": "d"},
    ),
    ("another grade", {"clad": "cca10", "bundle": 3, "body_mohm": 5, "connections_mohm": 1}),
)
MARKS = {"drop": "d", "heat": "h", "fuse": "f"}


@pytest.mark.parametrize("given", [one for _, one in CHARTS], ids=[one for one, _ in CHARTS])
def test_every_cell_of_the_chart_is_the_answer_of_a_single_run(given):
    sheet = sheet_of("cable-chart", **given)
    charts, shared = sheet.results["charts"], {k: v for k, v in given.items() if k != "clad"}
    shared = {"amplifier_class": "ab"} | shared
    clad = given.get("clad", "cca15")
    assert [(one["material"], one["sizes"]) for one in charts] == [
        ("copper", "metric"), ("copper", "awg"), (clad, "metric"), (clad, "awg"),
    ]  # fmt: skip
    assert sum(len(one["cells"]) for one in charts) == 336
    lacking = 0
    for chart, shown in zip(charts, sheet.tables, strict=True):
        texts = iter(cell for row in shown.rows for cell in row[2:])
        for cell in chart["cells"]:
            alone = results(
                "power-cable", **shared, material=chart["material"], sizes=chart["sizes"],
                total_power_w=cell["power_w"], length_m=cell["length_m"],
            )  # fmt: skip
            for key in ("size", "size_mm2", "fuse_a", "limited_by", "drop_v"):
                assert cell[key] == alone[key]
            told = plain(next(texts))
            if cell["size"] is None:
                assert told == "–"
                lacking += 1
            else:
                assert told == f"{cell['size'].split(' ')[0]} {MARKS[cell['limited_by']]}"
        assert next(texts, None) is None
    assert sheet.verdict.state == ("unsuitable" if lacking else "suitable")
    if lacking:
        assert f"{lacking} of 336 squares" in sheet.verdict.reason


def test_a_chart_without_a_table_for_its_insulation_holds_no_size():
    sheet = sheet_of("cable-chart", insulation_c="")
    assert sheet.verdict.state == "not known"
    assert {cell["size"] for one in sheet.results["charts"] for cell in one["cells"]} == {None}
    assert {cell for one in sheet.tables for row in one.rows for cell in row[2:]} == {"–"}


def test_the_drop_limit_changes_the_chart_and_not_its_fuses():
    strict, loose = results("cable-chart", max_drop_v=0.25), results("cable-chart", max_drop_v=1)
    thicker = 0
    for one, other in zip(strict["charts"], loose["charts"], strict=True):
        for tight, wide in zip(one["cells"], other["cells"], strict=True):
            if tight["size"]:
                assert tight["size_mm2"] >= wide["size_mm2"]
                assert tight["fuse_a"] == wide["fuse_a"]
                thicker += tight["size_mm2"] > wide["size_mm2"]
    assert thicker > 50


def test_the_chart_s_column_of_fuses_follows_the_power():
    sheet = sheet_of("cable-chart", powers_w="100;4320;5000", lengths_m="1")
    # 11.6 A, 500 A and 579 A at full power
    for shown in sheet.tables:
        assert [values(row)[1] for row in shown.rows] == [15, 500, None]
        assert [values(row)[2] for row in shown.rows][1:] == ["–", "–"]

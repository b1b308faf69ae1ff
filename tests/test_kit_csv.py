"""The kit list as CSV: every line, prices that were typed, and nothing that a spreadsheet runs."""

import csv
import io
import json
import re

import pytest
from asking import sheet_of
from conftest import each
from test_page_failures import reply

from calc.answers.kit import KitLine
from calc.app.command_line import main
from calc.app.contents import CALCULATORS
from calc.renderers.html import answer_html
from calc.renderers.kit_csv import HEADS, kit_csv, price_of

PARTS = "capacitor,10 µF 100 V,2;coil,1.2 mH,"


def line(**told):
    usual = {
        "number": 1, "item": "lead", "quantity": 1, "unit": "m", "size": "1 mm²", "length_m": 3.0,
        "note": "a to b", "is_open": False,
    }  # fmt: skip
    return KitLine(**{**usual, **told})


def rows_of(text):
    assert text.endswith("\r\n")
    return list(csv.reader(io.StringIO(text, newline="")))


def test_every_line_of_the_list_stands_in_the_file():
    kit = sheet_of("kit-list", parts=PARTS).kit
    head, *rows, last = rows_of(kit_csv(kit))
    assert tuple(head) == HEADS
    assert len(rows) == len(kit)
    for row, each_line in zip(rows, kit, strict=True):
        told = dict(zip(head, row, strict=True))
        assert told["No."] == str(each_line.number)
        assert told["Item"] == each_line.item
        assert told["Size"] == (each_line.size or "")
        assert told["Quantity"] == ("" if each_line.quantity is None else str(each_line.quantity))
        assert told["Sold by"] == {"m": "metre", "piece": "piece"}[each_line.unit]
        assert told["Open"] == ("yes" if each_line.is_open else "")
        if each_line.length_m is not None:
            assert float(told["Length of each (m)"]) == pytest.approx(each_line.length_m, abs=1e-4)
        assert (told["Price"], told["Sum"]) == ("", "")
    assert rows[-1][0] == str(len(kit))
    assert last[1] == "Sum"
    assert f"{len(kit)} without a price" in last
    # A coil whose number nobody knows is open.
    assert [row[8] for row in rows if row[1] == "coil"] == ["yes"]


def test_prices_are_multiplied_and_summed_to_the_smallest_coin():
    """3 · 2.2 m at 1.99 are 13.134; 7 pieces at 0.333 are 2.331."""
    lines = (
        line(quantity=3, length_m=2.2),
        line(number=2, item="tie", quantity=7, unit="piece", length_m=None),
        line(number=3, item="fuse", quantity=1, unit="piece", length_m=None),
        line(number=4, item="open", length_m=None, is_open=True),
    )
    prices = {
        lines[0].article: "1,99",
        lines[1].article: "0.333",
        lines[3].article: "5",
        "another|||": "9",
    }
    _, *rows, last = rows_of(kit_csv(lines, prices))
    assert [row[-2:] for row in rows] == [
        ["1.99", "13.13"], ["0.333", "2.33"], ["", ""], ["5", ""],
    ]  # fmt: skip
    assert last[-1] == "15.46"
    assert "2 without a price" in last


@each("text", ["=1+1", "+1", "-2+3", "@sum(a1)", "\tx", "\rx"])
def test_no_cell_is_taken_for_a_formula(text):
    lines = (line(item=text, size=text, note=text),)
    _, row, _ = rows_of(kit_csv(lines, {lines[0].article: text}))
    assert [cell for cell in row if cell[:1] in tuple("=+-@\t\r")] == []
    assert row[1] == "'" + text


@each("text", ["", "x", "-1", "1e3", "1.2.3", "1,2,3", "٣", "1" * 9, "nan", "inf", "1.23456", "=1"])
def test_what_is_no_price_counts_nothing(text):
    assert price_of(text) is None
    only = line()
    _, row, last = rows_of(kit_csv((only,), {only.article: text}))
    assert row[-2:] == ["", ""]
    assert last[-1] == "0.00"


def test_a_price_belongs_to_the_article_and_not_to_its_place():
    first, second = line(), line(number=7, note="b to c", length_m=5.0)
    assert first.article == second.article
    assert line(size="2 mm²").article != first.article
    # What is bought to a length and not by the metre is another article at another length.
    leads = [line(unit="piece", length_m=length) for length in (4.0, 6.0)]
    assert leads[0].article != leads[1].article


@each(
    "prices",
    [None, [], "x", {"a": {"b": 1}}, {"a": ["1"]}, {"": "1"}, {1: "2"}, {"fuse|x": "9" * 5000}],
)
def test_the_page_may_send_anything_for_prices(prices):
    asked = {"kind": "hand-over", "calculator": "kit-list", "inputs": {}, "as": "kit-csv"}
    found = reply(**json.loads(json.dumps({**asked, "prices": prices})))
    assert (found["kind"], found["name"]) == ("handed-over", "kit-list.csv")
    assert len(rows_of(found["text"])) == len(sheet_of("kit-list").kit) + 2


def test_where_there_is_no_kit_list_none_is_handed_over():
    asked = {"kind": "hand-over", "inputs": {}, "as": "kit-csv"}
    found = reply(**asked, calculator="cable-tree")
    assert found["kind"] == "failed"
    assert "no kit list" in found["text"]
    refused = reply(**{**asked, "inputs": {"amplifiers": "x"}}, calculator="kit-list")
    assert refused["kind"] == "refused"


def test_the_command_line_prints_it(capsys):
    for name, *inputs in (("kit-list", f"parts={PARTS}"), ("fit-plan",)):
        assert main([name, *inputs, "--kit-csv"]) == 0
        printed = capsys.readouterr().out.replace("\r\n", "\n").replace("\n", "\r\n")
        assert tuple(rows_of(printed)[0]) == HEADS
    assert main(["cable-tree", "--kit-csv"]) == 2
    assert "no kit list" in capsys.readouterr().err
    assert main(["kit-list", "--kit-csv", "--json"]) == 2


def test_the_plan_s_kit_is_the_calculator_s():
    plan = sheet_of("fit-plan")
    assert plan.kit
    assert [one.item for one in plan.kit] == [
        one["item"] for one in plan.results["kit-list"]["results"]["items"]
    ]


def test_the_job_sheet_has_the_price_column_of_the_kit_list():
    """One price for an article, on the plan's page as on the kit list's own."""
    plan = answer_html(CALCULATORS["fit-plan"].answer({}))
    kit = sheet_of("fit-plan").kit
    shown = re.findall('data-price="([^"]*)"', plan)
    assert set(shown) == {one.article for one in kit}
    # Those of the workshop sheet, where alike lines are one, and then line by line.
    assert shown[-len(kit) :] == [one.article for one in kit]
    assert plan.count('data-hand-over="kit-csv"') == plan.count('class="prices"') == 2

"""Figures for people: three significant in sentences, four in tables, as typed where typed."""

import random
import re
from itertools import product

import pytest
from conftest import sampled
from inputs import valid_inputs

from calc.answers.figures import quantity, rounded
from calc.answers.markup import markup
from calc.answers.sheet import Figure, Quantity, Span, Verdict
from calc.app.contents import CALCULATORS
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.errors import InputError
from calc.renderers.html import key_figures
from calc.renderers.html_pieces import figure as cell_html
from calc.renderers.text import cell_text, figure_text

SAID = [
    # left behind by a calculation: three figures
    (0.6073170731, "0.607"),
    (15.4919333848, "15.5"),
    (24.4948974278, "24.5"),
    (1234.5678, "1230"),
    (0.000123456, "0.000123"),
    (2 / 3, "0.667"),
    (99.96, "99.96"),
    (99.9612345, "100"),
    (-3.0102999566, "−3.01"),
    # typed, or come out even: as it is
    (14.25, "14.25"),
    (0.1234, "0.1234"),
    (3150.0, "3150"),
    (2175.0, "2175"),
    (1e-9, "0.000000001"),
    (6910, "6910"),
    (132160, "132160"),
    (0.1 + 0.2, "0.3"),
    (0.0, "0"),
    (-0.0, "0"),
    # whole, and of more digits than anybody sets
    (62208.0, "62200"),
    (123456789.0, "123000000"),
]


@pytest.mark.parametrize(("value", "text"), SAID)
def test_a_figure_in_a_sentence(value, text):
    assert rounded(value) == text
    assert quantity(value, "V") == f"{text}\u202fV"


def test_a_table_has_four_figures_and_a_key_figure_three():
    value, span = Quantity(15.4919333848, "V"), Span(2.3333333, 15.4919333848, "V")
    assert cell_text(value) == "15.49\u202fV"
    assert cell_text(span) == "2.333 to 15.49\u202fV"
    assert "15.49" in markup(cell_html(value))
    assert figure_text(Figure("Set it to", value)) == "15.5\u202fV"
    assert figure_text(Figure("Between", span)) == "2.33 to 15.5\u202fV"
    html = markup(key_figures((Figure("Set it to", value), Figure("Between", span))))
    assert html.count("15.5") == 2 and "2.33" in html and "15.49" not in html
    assert figure_text(Figure("Fixed", Quantity(0.1), decimals=2)) == "0.10"


def said(sheet):
    """Return every sentence and reason of a sheet."""
    texts = [sheet.sentence, *sheet.cautions]
    texts += [judged.verdict.reason for judged in (sheet, *sheet.parts) if judged.verdict]
    texts += [part.sentence for part in sheet.parts]
    for table in sheet.all_tables:
        texts += [cell.reason for row in table.rows for cell in row if isinstance(cell, Verdict)]
    return texts


FIGURE = re.compile(r"(?<![\d.\w])(?<!CFR )\d+\.\d+")  # a clause is no figure


# One of the others, of a choice among many, takes ten seconds.
SEEDS = list(product(range(6), CALCULATORS))
IN_SHORT = [(seed, name) for seed, name in SEEDS if seed < (1 if CALCULATORS[name].stream else 3)]


@pytest.mark.parametrize(("seed", "name"), sampled(SEEDS, IN_SHORT))
def test_no_sentence_has_more_than_four_figures_and_the_example_no_more_than_three(name, seed):
    rng = random.Random(f"figures {name} {seed}")
    texts = valid_inputs(CALCULATORS[name], rng) if seed else {}
    try:
        answer = CALCULATORS[name].answer(texts)
    except InputError:
        return
    typed = f"{texts} {dict(answer.inputs)}"
    for text in said(answer.sheet):
        for figure in FIGURE.findall(text):
            figures = len(figure.replace(".", "").lstrip("0"))
            assert figures <= (4 if seed else 3) or figure in typed, text


def test_the_supply_s_hours_have_three_figures():
    # 20 h × (70 Ah ÷ (20 h × I))^1.2 × 50 % is no short figure for any current of the example.
    sheet = CALCULATORS["supply-budget"].answer({}).sheet
    (hours,) = [figure for figure in sheet.figures if "Engine off" in figure.label]
    assert re.fullmatch(r"\d\.\d\d\u202fh", figure_text(hours))


def test_a_dial_with_a_range_switch_is_told_by_the_frequency_that_results():
    # A tweeter from 3000 Hz on, and a dial from 50 to 500 Hz with a switch × 1 or × 10: whatever
    # is set, the frequency is the dial’s times ten.
    texts = {
        "sections": "tweeter,1/2,3000,2,,3150,0;woofer,3+4,,2,120,,0",
        "head_unit": "",
        "passive": "",
        "amplifier": "1/2,high-pass,50-500,1/10,butterworth,2,,yes;"
        "3/4,low-pass,50-500,1,butterworth,2,,yes",
    }
    answer = FILTER_SPLIT.answer(texts)
    cells = [str(cell) for table in answer.sheet.tables for row in table.rows for cell in row]
    (corner,) = [cell for cell in cells if "dial" in cell]
    setting = re.fullmatch(r"(\d+)\u202fHz: dial (\d+), switch × 10", corner)
    assert setting, corner
    assert int(setting[1]) == 10 * int(setting[2]) >= 3000
    assert corner == "3150\u202fHz: dial 315, switch × 10"
    assert not [cell for cell in cells if re.search(r"315 ?× ?10", cell)]

"""Answers to random inputs: every renderer holds, and what they show reads well."""

import json
import random
import re

import pytest
from contract import RESULTS, misfits
from html_parts import Parts
from inputs import valid_inputs

from calc.answers.markup import markup
from calc.answers.sheet import Figure, Quantity, Span
from calc.answers.sources import cite
from calc.app.contents import CALCULATORS, PAGES
from calc.inputs.rows import Rows
from calc.renderers.data import answer_csv, answer_data, answer_json
from calc.renderers.html import answer_html
from calc.renderers.html_card import card, folded_card
from calc.renderers.text import answer_text, figure_text

NAMES = list(CALCULATORS)
VERDICTS = {"suitable", "unsuitable", "not known"}
WHOLE_JOB = ("fit-plan", "amplifier-choice")  # these take usual figures
# Beside the states: words of readings, and the letters of an exercise’s options.
OF_A_READING = {"good", "within", "out", "open", *"ABCD"}
# Zero degrees Celsius in kelvins, by definition; the numbers of federal rules.
CONSTANTS = {"273.15", "183.425", "183.455", "571.207", "571.208"}
# What a programmer's value looks like when it slips into a text for people.
SLIPS = re.compile(
    r"\bNone\b(?! of )|\b(?:nan|NaN|inf|Infinity|True|False|Fraction|Decimal|Span|Verdict)\b"
    r"|\bQuantity\("
    r"|\bobject at 0x|<[a-z]+ '|\{'|\['\w+'"
    r"|\b\d(?:\.\d+)?[eE][+-]?\d+(?![0-9a-h-])"
)  # an exponent, but not coils in series, 1e+1f
NUMBER = re.compile(r"\d+\.\d+")


class Case:
    """An answer to random inputs, and everything that is made of it."""

    def __init__(self, calculator, seed):
        rng = random.Random(f"answer to {calculator.name} {seed}")
        self.given = valid_inputs(calculator, rng) if seed else {}
        self.answer = calculator.answer(self.given)
        self.sheet = self.answer.sheet
        self.html, self.text = answer_html(self.answer), answer_text(self.answer)
        self.json, self.csv = answer_json(self.answer), answer_csv(self.answer)
        self.parts = Parts(self.html)

    def __repr__(self):
        return repr(self.given)

    def prose(self):
        """The HTML's texts, each with its open elements, without the inputs as given."""
        for open_elements, text in self.parts.texts:
            classes = {attributes.get("class") for _, attributes in open_elements}
            if "inputs-listed" not in classes:
                yield [tag for tag, _ in open_elements], classes, text


# Each of the first two takes a second or more; of the last few draws come out well.
IN_SHORT = {"amplifier-choice": 10, "fit-plan": 16, "cable-chart": 60}
IN_LONG = {"amplifier-choice": 200, "fit-plan": 300}


@pytest.fixture(scope="module", params=NAMES)
def cases(request, is_long):
    calculator = CALCULATORS[request.param]
    counts, otherwise = (IN_LONG, 1000) if is_long else (IN_SHORT, 24)
    return [Case(calculator, seed) for seed in range(counts.get(request.param, otherwise))]


def figures_in(text):
    """Return the significant figures of a written number."""
    return len(text.replace(".", "").lstrip("0"))


def counts_of(sheet):
    """Return the whole numbers of a sheet as they are written; they are never rounded."""
    cells = [cell for table in sheet.tables for row in table.rows for cell in row]
    values = [one.value for one in sheet.figures] + cells
    values = [one.value if isinstance(one, Quantity) else one for one in values]
    return {str(one) for one in values if isinstance(one, int)}


def verdicts_of(cases):
    """Return the words that a calculator may give."""
    name = cases[0].answer.calculator.name
    if name == "exercises":  # right answers are strong, whatever they are
        return {text for one in cases for tags, _, text in one.prose() if tags[-1] == "strong"}
    return VERDICTS | ({"likely"} if name in WHOLE_JOB else set())


def test_the_random_inputs_reach_every_verdict_that_there_is(cases):
    states = {one.sheet.verdict and one.sheet.verdict.state for one in cases}
    if cases[0].answer.calculator.judge is None:
        # It tells facts, or judges only what is claimed of the thing.
        if states == {None}:
            return
        states -= {None}
    assert {"suitable", "unsuitable"} <= states <= verdicts_of(cases)


def test_the_results_are_of_the_contract_s_shape(cases):
    for one in cases:
        data = json.loads(one.json)
        assert misfits(RESULTS.get(data["calculator"]), data["results"]) == [], one


def test_json_is_strict_and_holds_the_figures_in_full(cases):
    def refuse(constant):
        raise AssertionError(f"{constant} in JSON")

    for one in cases:
        data = json.loads(one.json, parse_constant=refuse)
        assert data == answer_data(one.answer), one
        assert list(data["inputs"]) == [field.key for field in one.answer.calculator.fields]


def test_html_is_well_nested_and_nothing_in_it_runs(cases):
    for one in cases:
        assert one.parts.wrong == [], one
        assert not one.parts.tags & {"script", "style", "iframe", "img", "form"}
        for tag, attributes in one.parts.elements:
            # An answer’s only inputs: boxes for readings and prices, and blanks to write on.
            assert tag != "input" or {"data-reading", "data-price", "data-blank"} & set(attributes)
        assert not {name for name in one.parts.attributes if name.startswith("on")}


def unpacked(text):
    """Return a text without packed links, whose letters may be anything."""
    return re.sub(r"\S{120,}", "", text)


def typed(given):
    """Yield what was typed, cell by cell: such a text may look like anything, and is shown."""
    if isinstance(given, str):
        yield from (part.strip() for part in re.split(r"[,;\n]", given))
        return
    for each in given.values() if isinstance(given, dict) else given:
        yield from typed(each)


def without(parts, text):
    """Return a text without what was typed, the longest first."""
    for part in sorted(parts, key=len, reverse=True):
        text = text.replace(part, "…")
    return text


def test_no_programmer_s_value_shows(cases):
    for one in cases:
        parts = {part for part in typed(one.given) if SLIPS.search(part)}
        shown = without(parts, " ".join(text for _, text in one.parts.texts))
        assert not SLIPS.findall(shown), one
        assert not SLIPS.findall(without(parts, unpacked(one.text))), one
        assert not re.search(r"\bNone\b(?! of )|\b(?:nan|inf)\b|\bFraction\b", one.csv), one
        for tag, attributes in one.parts.elements:
            told = without(parts, unpacked(" ".join(map(str, attributes.values()))))
            assert not SLIPS.findall(told), (tag, one)


def test_every_picture_lies_within_its_frame_s_numbers(cases):
    for one in cases:
        for tag, attributes in one.parts.elements:
            if tag == "svg" and "width" in attributes:
                width, height = (attributes[key] for key in ("width", "height"))
                # What is in true size fits a sheet of paper, the whole system the width of one; all
                # else a column of the page.
                is_paper = width.endswith("mm")
                most = 178 if is_paper else 703 if one.sheet.paper else 428
                assert 0 < float(width.removesuffix("mm")) <= most, one
                assert 0 < float(height.removesuffix("mm")) < (250 if is_paper else 2000), one
                is_read = attributes.get("role") == "img"
                assert is_read or attributes.get("aria-hidden") == "true", attributes


def test_a_drawing_is_read_out_by_its_title_and_description_alone(cases):
    """What a screen reader would say besides: its letters one by one, each + and each −."""
    for one in cases:
        for open_elements, text in one.parts.texts:
            within = [attributes for tag, attributes in open_elements if tag == "svg"]
            if not within or within[0].get("role") != "img" or not text.strip():
                continue
            tags = {tag for tag, _ in open_elements}
            hidden = any(each.get("aria-hidden") == "true" for _, each in open_elements)
            assert hidden or tags & {"title", "desc"}, (text, one)


def test_a_figure_has_at_most_four_significant_figures(cases):
    for one in cases:
        counts = counts_of(one.sheet)
        shown = [
            text
            for tags, classes, text in one.prose()
            if "figure" in classes and "unit" not in classes and tags[-1] == "span"
        ]
        assert shown or not one.sheet.figures, one
        for text in shown:
            for end in text.split("–"):  # a range is two figures
                number = re.fullmatch("−?([0-9]+(?:\\.[0-9]+)?)", end)
                assert number, (text, one)
                short = number[1] if "." in number[1] else number[1].rstrip("0")
                assert number[1] in counts or figures_in(short) <= 4, (text, one)


def test_a_number_in_words_has_at_most_four_significant_figures(cases):
    for one in cases:
        words = [text for tags, _, text in one.prose() if "svg" not in tags]
        long = {found for text in words for found in NUMBER.findall(text) if figures_in(found) > 4}
        assert long <= CONSTANTS, one


@pytest.mark.parametrize(
    ("name", "given"),
    [
        ("bridged-output", {"load_ohm": "6.28319"}),
        ("channel-map", {"sections": "woofer,3.14159,123.456,88.8888,2"}),
        ("coil-wiring", {"drivers": "2,3.14159;1,2.71828", "power_w": "123.456"}),
        ("meter-check", {"drivers": "2,3.14159;1,2.71828", "intended": "0"}),
        ("filter-response", {"frequency_hz": "314.159", "second_frequency_hz": "271.828"}),
        ("crossover-sum", {"low_frequency_hz": "314.159", "high_frequency_hz": "271.828"}),
        ("passive-network", {"ohm": "3.14159", "pad_db": "2.71828"}),
        ("level-pad", {"ohm": "3.14159", "loss_db": "2.71828"}),
        ("arrival-delay", {"sections": "a,3.14159;b,2.71828"}),
        ("power-cable", {"length_m": "3.14159", "total_power_w": "271.828"}),
        ("cable-tree", {"runs": "battery,a,3.14159", "loads": "a,271.828"}),
        ("wire-facts", {"strands": "271", "strand_mm": "0.314159"}),
        ("speaker-lead", {"load_ohm": "3.14159", "length_m": "2.71828"}),
        ("supply-budget", {"alternator_a": "123.456", "vehicle_a": "31.4159"}),
        ("kit-list", {"routes": "power,battery,Hazel 4-50,3.14159"}),
        ("filter-split", {"sections": "full-range,1/2,61.8034,2,,,0", "passive": ""}),
    ],
)
def test_a_number_in_a_drawing_has_at_most_four_significant_figures(name, given):
    answer = CALCULATORS[name].answer(given)
    texts = [
        text
        for open_elements, text in Parts(answer_html(answer)).texts
        if any(tag == "svg" for tag, _ in open_elements)
    ]
    assert texts
    found = [number for text in texts for number in NUMBER.findall(text)]
    assert [number for number in found if figures_in(number) > 4] == []


def test_text_tells_the_sentence_the_verdict_each_figure_and_each_input(cases):
    for one in cases:
        lines = one.text.splitlines()
        assert lines[0] == one.answer.calculator.title
        assert lines[2] == one.sheet.sentence
        if one.sheet.verdict:
            assert f"{one.sheet.verdict.state}: {one.sheet.verdict.reason}" in lines
        for figure in one.sheet.figures:
            assert isinstance(figure, Figure)
            assert f"  {figure.label}: {figure_text(figure)}" in lines
        for field in one.answer.calculator.fields:
            value = one.answer.inputs[field.key]
            if isinstance(field, Rows) and not isinstance(
                value, int
            ):  # a table of inputs: a line for each row
                heads = [f"  {field.label} {at}: " for at in range(1, len(value) + 1)]
            else:
                heads = [f"  {field.label}: {field.say(value) or field.empty}"]
            for head in heads:
                assert any(line.startswith(head) for line in lines), one
        for line in (*one.sheet.cautions, *cite(one.sheet.sources)):
            assert f"  - {line}" in lines


def test_html_tells_the_sentence_the_verdict_and_each_figure(cases):
    for one in cases:
        text = one.parts.text
        for told in (
            one.sheet.sentence,
            one.sheet.verdict.reason if one.sheet.verdict else "",
            *one.sheet.cautions,
            *one.sheet.steps,
            *one.sheet.unknowns,
            *cite(one.sheet.sources),
        ):
            assert told in text, one
        verdicts = [value for value in one.parts.values("class") if "verdict--" in value]
        strong = [text for tags, _, text in one.prose() if tags[-1] == "strong"]
        if one.sheet.verdict:
            assert verdicts[0].split("verdict--")[1].replace("-", " ") == one.sheet.verdict.state
            assert strong[0] == one.sheet.verdict.state
        assert set(strong) <= verdicts_of(cases) | OF_A_READING
        assert [tag for tag, _ in one.parts.elements].count("dd") == len(one.sheet.figures)


def test_a_span_has_its_lower_bound_first(cases):
    for one in cases:
        cells = [cell for table in one.sheet.tables for row in table.rows for cell in row]
        values = [figure.value for figure in one.sheet.figures] + cells
        for span in (value for value in values if isinstance(value, Span)):
            assert 0 <= span.low <= span.high, one


def test_the_same_inputs_in_any_order_give_the_same_bytes(cases):
    for one in cases[::4][:10]:
        again = one.answer.calculator.answer(dict(reversed(one.given.items())))
        for render, made in (
            (answer_html, one.html),
            (answer_text, one.text),
            (answer_json, one.json),
            (answer_csv, one.csv),
        ):
            assert render(again).encode() == made.encode(), one


def test_every_reference_in_a_card_has_its_target_and_every_id_is_single(cases):
    for one in cases:
        text = markup(card(one.answer))
        assert text.count(one.html) == 1, one
        # The answer within it is well nested, and has been taken apart already.
        around = Parts(text.replace(one.html, ""))
        assert around.wrong == [], one

        def values(name, parts=(around, one.parts)):
            return [value for part in parts for value in part.values(name)]

        ids = values("id")
        assert len(ids) == len(set(ids)), one
        assert all(re.fullmatch(r"[a-z][a-z0-9_-]*", identity) for identity in ids)
        for name in ("aria-describedby", "aria-labelledby", "for", "aria-controls"):
            wanted = {target for value in values(name) for target in value.split()}
            assert wanted <= set(ids), (name, one)


def test_every_control_of_a_card_has_a_name(cases):
    whole = Parts(markup(card(cases[0].answer)))
    labelled = set(whole.values("for"))
    ticks = 0
    for tag, attributes in whole.elements:
        if tag in ("input", "select") and attributes.get("type") not in ("checkbox", "hidden"):
            assert attributes.get("aria-label") or attributes.get("id") in labelled, attributes
        ticks += attributes.get("type") == "checkbox"
    within = [
        text
        for open_elements, text in whole.texts
        if any(
            tag == "label" and "tick" in attributes.get("class", "")
            for tag, attributes in open_elements
        )
    ]
    assert len(within) == ticks


@pytest.mark.parametrize("page", PAGES)
def test_the_cards_of_a_page_share_no_id(page):
    ids = [
        identity
        for at, name in enumerate(PAGES[page])
        for identity in Parts(
            markup((folded_card if at else card)(CALCULATORS[name].answer({})))
        ).values("id")
    ]
    assert len(ids) == len(set(ids)) > 10

"""Exercises: the same sheet for the same code, answers of the calculators, mistakes that differ."""

import hashlib
import json
import math
import re
from collections import Counter

import directives
import pytest
from exercise_sheets import ALL, equations, sheets
from payloads import PAYLOADS
from pymdownx.superfences import SuperFencesException

from calc.__main__ import main
from calc.answers.exercise import LETTERS
from calc.answers.markup import markup
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.exercises.answering import judgement
from calc.exercises.asking import at
from calc.exercises.draws import Draws
from calc.exercises.making import RANGES, problems_of, seed_of, templates_of, written
from calc.inputs.errors import InputError
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text

EXERCISES = CALCULATORS["exercises"]
# Whatever has a figure as its answer takes part.
ASKED = {
    "bridged-output", "channel-map", "coil-wiring", "meter-check", "filter-response",
    "crossover-sum", "passive-network", "level-pad", "arrival-delay", "power-cable", "cable-tree",
    "wire-facts", "speaker-lead", "supply-budget", "kit-list", "bay-heat", "footprint",
    "mounting-reach", "signal-chain", "gain-voltage", "test-tone", "boost-cost", "turn-on",
    "filter-split",
}  # fmt: skip


def answered(**texts):
    return EXERCISES.answer({key: str(text) for key, text in texts.items()})


# --- the same for everybody


def test_draws_are_the_documented_ones():
    """Eight bytes of SHA-256 of a counter and the seed, those that favour nobody."""

    def number(count):
        digest = hashlib.sha256(count.to_bytes(8, "big") + b"4711").digest()
        return int.from_bytes(digest[:8], "big")

    draws = Draws("4711")
    assert [draws.below(6) for _ in range(50)] == [number(count) % 6 for count in range(50)]


def test_draws_favour_none():
    draws = Draws("fair")
    counted = Counter(draws.pick("abcde") for _ in range(5000))
    assert all(900 < many < 1100 for many in counted.values())
    orders = Counter(draws.shuffled((1, 2, 3)) for _ in range(6000))
    assert len(orders) == 6 and all(880 < many < 1120 for many in orders.values())


@pytest.mark.parametrize(("chapter", "level"), ALL)
def test_a_code_makes_one_sheet_and_another_makes_another(chapter, level):
    first = problems_of(chapter, level, 8, "4711")
    problems_of.cache_clear()
    assert problems_of(chapter, level, 8, "4711") == first
    assert problems_of(chapter, level, 8, " 4711  ") == first
    other = problems_of(chapter, level, 8, "4712")
    assert [each.question for each in other] != [each.question for each in first]
    assert {each.key for each in first}.isdisjoint(each.key for each in other)


def test_a_shorter_sheet_is_the_beginning_of_a_longer_one():
    for chapter, level in ALL:
        longer = problems_of(chapter, level, 12, "van 7")
        assert problems_of(chapter, level, 5, "Van  7") == longer[:5]


def test_capitals_and_blanks_make_no_difference_and_nothing_else_is_lost():
    assert seed_of("plan", "plan", "Ä b") == seed_of("plan", "plan", "ä  B ")
    codes = ["a b", "ab", "a-b", "a|b", "1", "01", "plan|plan"]
    assert len({seed_of("cables", "recall", code) for code in codes}) == len(codes)


def test_templates_take_turns():
    """A sheet as long as there are templates has each of them once."""
    for chapter, level in ALL:
        every = templates_of(chapter, level)
        many = min(len(every), 20)
        kinds = Counter(each.kind for each in problems_of(chapter, level, many, "turns"))
        assert set(kinds.values()) == {1}, (chapter, level, kinds)


# --- laws of every sheet


def test_no_sheet_is_degenerate_ambiguous_or_unphysical(is_long):
    seen, asked = Counter(), set()
    for chapter, level, code, problems in sheets(is_long):
        where = (chapter, level, code)
        assert len({each.question for each in problems}) == len(problems), where
        for each in problems:
            seen[chapter, level, each.kind] += 1
            asked |= {one.name for one in each.asks}
            hold_problem(each, level, (*where, each.kind))
    for chapter, level in ALL:
        if chapter == "plan" and level != "plan" and not is_long:
            continue  # all chapters' problems: too many for a few sheets
        kinds = {kind for one, other, kind in seen if (one, other) == (chapter, level)}
        assert kinds == {each.__name__ for each in templates_of(chapter, level)}
    assert asked == ASKED | {"amplifier-choice", "fit-plan"}


def hold_problem(each, level, where):
    assert each.question[0].isupper() or each.question[0].isdigit(), where
    assert each.question.endswith("?") and "{" not in each.question, where
    for text in (each.question, each.right, *each.steps, *(words for _, words in each.wrong)):
        assert (text.strip() and text.isprintable()) or "\u202f" in text, where
        assert not re.search(r"\bnan\b|\binf\b|\bNone\b(?! of)|not known|_|  ", text), (where, text)
        assert not re.search(r"\b[Aa] (?:8\d*|11|18)(?!\d)", text), (where, text)
    assert each.steps, where
    if level == "recall" or each.value is None:
        assert len(each.options) == len(LETTERS), where
        assert len({one.words for one in each.options}) == len(LETTERS), where
        assert sum(not one.mistake for one in each.options) == 1, where
        assert [one.words for one in each.options if not one.mistake] == [each.right], where
    else:
        assert not each.options, where
    if each.value is None:
        return
    low, high = RANGES[each.unit]
    assert low <= each.value <= high and math.isfinite(each.value), where
    assert each.right == written(each.value, each.unit), where
    # Nobody who is right by three digits is marked wrong, and no mistake counts as right.
    assert abs(float(each.right.split("\u202f")[0]) / each.value - 1) < each.tolerance, where
    figures = [each.value, *(slip.value for slip in each.slips)]
    for at_, one in enumerate(figures):
        for other in figures[at_ + 1 :]:
            assert abs(one - other) > each.tolerance * (one + other), (where, one, other)


def test_sums_in_worked_steps_come_out(is_long):
    checked = Counter()
    for chapter, level, code, problems in sheets(False, 2100 if is_long else 168):
        for each in problems:
            for step in each.steps:
                for left, value, right in equations(step):
                    near = math.isclose(value, right, rel_tol=0.03, abs_tol=0.006)
                    assert near, (chapter, level, code, each.kind, step, left, value, right)
                    checked[each.kind] += 1
    assert len(checked) >= 30, checked


def test_the_key_comes_to_the_answer(is_long):
    """The worked steps name the answer, to as many digits as they write."""
    silent = Counter()
    for _, _, _, problems in sheets(False, 2100 if is_long else 168):
        for each in problems:
            if each.value is not None:
                numbers = re.findall(r"\d+(?:\.\d+)?", " ".join(each.steps))
                near = any(math.isclose(float(one), each.value, rel_tol=0.02) for one in numbers)
                silent[each.kind] += not near
    assert not +silent


# --- answers are the calculators'


def test_the_command_line_gives_the_answers_from_the_inputs_told(capsys, is_long):
    """What the key says was asked, asked again: the result is the answer."""
    held = set()
    for chapter, level in ALL:
        for code in range(12 if is_long else 2):
            main(["exercises", f"chapter={chapter}", f"level={level}", "problems=6",
                  f"code={code}", "key=yes", "--json"])  # fmt: skip
            results = json.loads(capsys.readouterr().out)["results"]
            for problem, key in zip(results["problems"], results["key"], strict=True):
                if key["result"] is None:
                    continue
                last = key["asks"][-1]
                pairs = [f"{name}={text}" for name, text in last["inputs"].items()]
                assert main([last["calculator"], *pairs, "--json"]) == 0
                again = json.loads(capsys.readouterr().out)["results"]
                value = at(again, key["result"]) * key["times"]
                assert math.isclose(value, key["value"], rel_tol=1e-12), problem["question"]
                held.add(last["calculator"])
    assert held >= ASKED - {"turn-on", "meter-check"}


# What a question says in words (so many subs, 12 dB/oct, half its rating), or by what follows
# from it (a current in place of the power); a lowest load ranks the wirings, no more, and
# no current without a signal is none.
SAID_OTHERWISE = {
    "order", "low_order", "high_order", "drivers", "coils_per_driver", "idle_percent", "mm2", "h",
    "total_power_w", "efficiency_percent", "supply_v", "power_w", "area_m2", "length_m",
    "min_load_ohm", "air_c", "idle_w",
}  # fmt: skip


def test_a_printed_question_holds_the_figures_that_it_is_answered_from():
    """A figure that does not stand in the question changes nothing, or is said in words."""
    held = set()
    for chapter, level, code, problems in sheets(False, 168):
        for each in problems:
            # A plan takes what is usual where nothing is said.
            is_plain = len(each.asks) == 1 and each.asks[0].name != "fit-plan"
            if not is_plain or each.value is None or each.kind in held:
                continue
            held.add(each.kind)
            numbers = {float(one) for one in re.findall(r"\d+(?:\.\d+)?", each.question)}
            asked = each.asks[0]
            for key, text in asked.texts:
                if not re.fullmatch(r"-?\d+(?:\.\d+)?", text) or abs(float(text)) in numbers:
                    continue
                if key not in SAID_OTHERWISE:
                    other = _answer_with(asked, key, float(text), each)
                    assert other is None or math.isclose(other, each.value, rel_tol=1e-6), (
                        chapter, level, code, each.kind, key,
                    )  # fmt: skip
    assert len(held) > 40


def _answer_with(asked, key, figure, problem):
    """Return the answer with one figure changed; None where that is refused."""
    for changed in (figure + 1, figure * 1.25):
        try:
            answer = asked.calculator.answer({**dict(asked.texts), key: f"{changed:g}"})
            return at(answer.sheet.results, problem.result) * problem.times
        except (InputError, IndexError, TypeError):
            continue
    return None


# --- answered


def test_right_answers_are_right_and_mistakes_are_named():
    for _, _, _, problems in sheets(False, 84):
        for each in problems:
            if each.options:
                assert judgement(each, each.letter).is_right
                assert judgement(each, each.letter.lower()).is_right
                for letter, words in each.wrong:
                    assert judgement(each, letter).words == words
                assert not judgement(each, "150").is_right
                continue
            digits = each.right.split("\u202f")[0]
            assert judgement(each, digits).is_right
            assert judgement(each, digits.replace(".", ",")).is_right
            assert not judgement(each, "-" + digits).is_right
            assert not judgement(each, "A").is_right
            for slip in each.slips:
                told = judgement(each, f"{slip.value:.4g}")
                assert (told.is_right, told.words) == (False, slip.mistake)
            assert not judgement(each, f"{each.value * 1000:.4g}").is_right


def test_an_answer_is_judged_and_its_steps_are_shown_after():
    first, second = problems_of("bridging", "calculate", 2, "4711")
    plain = answered(problems=2)
    assert [each.solution for each in plain.sheet.exercises] == [None, None]
    wrong = f"{second.key},{second.slips[0].value:.4g}"
    figure = first.right.split("\u202f")[0]
    right = f"{first.key},{figure}"
    sheet = answered(problems=2, readings=f"{right};{wrong}").sheet
    assert [each.judged.word for each in sheet.exercises] == ["right", "not right"]
    assert sheet.exercises[1].judged.reason == second.slips[0].mistake
    assert [each.solution.steps for each in sheet.exercises] == [first.steps, second.steps]
    assert sheet.sentence.endswith("2 answered, 1 right.")
    assert (sheet.results["answered"], sheet.results["right"]) == (2, 1)
    html = answer_html(answered(problems=2, readings=right))
    assert html.count("data-judged=") == 1 and html.count('class="solution"') == 1


def test_answers_of_another_sheet_are_left_out():
    kept = f"{problems_of('bridging', 'calculate', 1, '1')[0].key},150"
    assert answered(code="2", readings=kept).sheet.results["answered"] == 0
    assert answered(code="1", readings=kept).sheet.results["answered"] == 1


def test_what_is_no_answer_is_refused_in_words():
    with pytest.raises(InputError, match="a letter from A to D"):
        answered(readings="x,E")


# --- sheet and key


@pytest.mark.parametrize("level", ["recall", "calculate", "plan"])
def test_the_sheet_tells_no_answer_and_the_key_has_no_boxes(level):
    sheet, key = (answered(chapter="crossovers", level=level, key=key) for key in ("no", "yes"))
    for write in (answer_html, answer_text):
        for each in problems_of("crossovers", level, 8, "4711"):
            assert all(markup_of(step) not in write(sheet) for step in each.steps)
            assert all(markup_of(step) in write(key) for step in each.steps)
            assert all(markup_of(words) in write(key) for _, words in each.wrong)
    assert "data-reading" in answer_html(sheet) and "data-reading" not in answer_html(key)
    assert "Name: " in answer_html(sheet) and "Name: " not in answer_html(key)
    assert sheet.sheet.results["key"] is None and len(key.sheet.results["key"]) == 8


def markup_of(text):
    return text


def test_link_and_page_and_command_line_give_the_same(capsys):
    reply = json.loads(respond(json.dumps({
        "kind": "open", "calculator": "exercises", "query": "?code=night-7&level=recall&problems=3"
    })))  # fmt: skip
    assert main(["exercises", "code=night-7", "level=recall", "problems=3", "--html"]) == 0
    assert capsys.readouterr().out.rstrip("\n") == reply["html"].rstrip("\n")
    assert main(["exercises", "code=night-7", "level=recall", "problems=3", "--link"]) == 0
    assert "code=night-7" in capsys.readouterr().out


def test_answers_are_in_no_link():
    key = problems_of("bridging", "calculate", 1, "4711")[0].key
    reply = json.loads(respond(json.dumps({
        "kind": "answer", "calculator": "exercises", "inputs": {"readings": [[key, "150"]]}
    })))  # fmt: skip
    assert key not in reply["query"]


# --- hostile codes


def test_hostile_codes_are_refused_or_shown_escaped():
    for code in PAYLOADS:
        try:
            answer = EXERCISES.answer({"code": code, "problems": "2"})
        except InputError as error:
            assert all(len(each.message) < 400 for each in error.errors)
            continue
        html = answer_html(answer)
        assert len(answer.inputs["code"]) <= 40
        # A code that is refused shows that no markup of it can be one.
        if "<" in code:
            assert code not in html and markup_text(code) in html


def markup_text(text):
    from calc.answers.markup import element

    return markup(element("b", text)).removeprefix("<b>").removesuffix("</b>")


# --- in a handout


def fence(source):
    directives.place.set(directives.Place("docs/handouts/x.md", ""))
    return directives.exercises(source, "exercises")


def test_a_fence_has_problems_with_blanks_and_its_key_has_the_answers():
    source = "chapter=bridging level=calculate problems=3 code=4711"
    sheet, key = fence(source), fence(f"{source}\nkey=yes")
    for each in problems_of("bridging", "calculate", 3, "4711"):
        assert each.question in sheet and each.question in key
        assert f"<strong>{each.right}</strong>" in key and each.right not in sheet
    assert sheet.count('class="blank"') == 3 and "data-reading" not in sheet + key


def test_a_wrong_fence_stops_the_build():
    for source in ("chapter=bridges", "problems=0", "level=hard", "code=", "zeal=1"):
        with pytest.raises(SuperFencesException, match="exercises"):
            fence(source)

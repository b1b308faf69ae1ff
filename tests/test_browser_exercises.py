"""Exercises in a browser: an answer is judged when its box is left, and the steps come then."""

import re

import pypdfium2
import pytest
from conftest import ROOT, wait_ready, wait_sentence, wait_until
from test_browser_setup import KEPT, box, opened

from calc.exercises.making import problems_of

BRIDGING = problems_of("bridging", "calculate", 8, "4711")


def figure(problem):
    return problem.right.split("\u202f")[0]


def judged(page, problem):
    return box(page, problem.key).locator("xpath=ancestor::li").locator("[data-judged]")


def test_an_answer_is_judged_when_its_box_is_left_and_not_while_it_is_typed(page, served):
    first, second = BRIDGING[:2]
    opened(page, served, "exercises/")
    box(page, first.key).press_sequentially(figure(first), delay=250)
    page.wait_for_timeout(600)
    assert page.locator("[data-judged]").count() == 0
    assert page.evaluate("document.activeElement.dataset.reading") == first.key
    box(page, first.key).press("Tab")
    wait_sentence(page, "exercises", "1 answered, 1 right")
    assert judged(page, first).inner_text().strip().startswith("right")
    assert page.locator(".solution").count() == 1
    assert page.locator(".solution__steps li").all_inner_texts() == list(first.steps)
    slip = second.slips[0]
    box(page, second.key).fill(f"{slip.value:.4g}")
    box(page, second.key).press("Enter")
    wait_sentence(page, "exercises", "2 answered, 1 right")
    assert slip.mistake in judged(page, second).inner_text()
    status = page.locator("#exercises .status").inner_text()
    assert slip.mistake in status and "Answer to problem 2" in status


def test_answers_stay_on_the_device_with_their_sheet(page, served):
    first = BRIDGING[0]
    opened(page, served, "exercises/")
    box(page, first.key).fill(figure(first))
    box(page, first.key).blur()
    wait_sentence(page, "exercises", "1 answered")
    assert first.key not in page.evaluate("location.search")
    assert page.evaluate(KEPT) == ["readings exercises?"]
    page.goto(served.url + "exercises/?code=other")
    wait_ready(page)
    wait_sentence(page, "exercises", "class code other")
    assert "answered" not in page.inner_text("#exercises .sentence")
    page.goto(served.url + "exercises/")
    wait_sentence(page, "exercises", "1 answered, 1 right")
    page.get_by_role("button", name="Clear all answers").click()
    wait_until(page, "() => !document.querySelector('[data-judged]')")


def test_an_option_is_judged_as_it_is_picked(page, served):
    opened(page, served, "exercises/?level=recall&problems=3")
    first = problems_of("bridging", "recall", 3, "4711")[0]
    letter, mistake = first.wrong[0]
    box(page, first.key).select_option(letter)
    wait_sentence(page, "exercises", "1 answered, 0 right")
    assert mistake in judged(page, first).inner_text()
    box(page, first.key).select_option(first.letter)
    wait_sentence(page, "exercises", "1 answered, 1 right")


def test_another_code_brings_another_sheet(page, served):
    opened(page, served, "exercises/")
    page.fill("#exercises--code", "night class")
    wait_sentence(page, "exercises", "class code night class")
    wait_until(page, "() => location.search.includes('code=night')")
    other = problems_of("bridging", "calculate", 8, "night class")
    assert page.locator(".exercise__question").all_inner_texts() == [one.question for one in other]


def test_a_hostile_code_is_text(page, served):
    opened(page, served, "exercises/")
    page.fill("#exercises--code", "<img src=x onerror=window.hurt=1>")
    wait_sentence(page, "exercises", "class code <img")
    assert page.evaluate("window.hurt") is None
    assert page.locator("#exercises .answer img").count() == 0


@pytest.mark.chromium
@pytest.mark.parametrize("key", ["no", "yes"])
def test_sheet_and_key_are_printed_apart(page, served, key):
    page.goto(served.url + f"exercises/?key={key}")
    wait_ready(page)
    wait_sentence(page, "exercises", "Key to 8" if key == "yes" else "8 problems")
    path = ROOT / ".work" / "paper" / f"exercises-{key}.pdf"
    path.parent.mkdir(parents=True, exist_ok=True)
    page.pdf(path=path, prefer_css_page_size=True)
    document = pypdfium2.PdfDocument(path)
    pages = [each.get_textpage().get_text_range() for each in document]
    assert len(pages) <= 3
    text = re.sub(r"\s+", " ", " ".join(pages))
    assert "In a class" not in text and "Class code" not in text
    for each in BRIDGING:
        assert all((_plain(step) in _plain(text)) == (key == "yes") for step in each.steps)
    assert ("Name:" in text) == (key == "no")


def _plain(text):
    return re.sub(r"\s+", "", text)

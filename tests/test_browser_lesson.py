"""A chapter as slides, on a projector of 1280 × 720."""

import pytest
from conftest import sampled, wait_ready, wait_sentence, wait_until

CHAPTERS = ("basics", "bridging", "coil-wiring", "crossovers", "cables", "mounting", "set-up")
# What can be longer than a screen: it scrolls.
LONG = ".calculator, details, .table-box, .example, .side-by-side, table"
SHOWN = """() => [...document.querySelectorAll(".chapter > *")]
  .filter((block) => block.offsetHeight > 0)"""


@pytest.fixture
def projector(page):
    page.set_viewport_size({"width": 1280, "height": 720})
    return page


def place(page):
    at, _, count = page.inner_text(".lesson-bar__at").partition(" of ")
    return int(at), int(count)


@pytest.mark.parametrize("name", sampled(CHAPTERS, ("basics", "bridging")))
def test_every_slide_has_one_heading_and_fits(projector, served, name):
    projector.goto(f"{served.url}{name}/#lesson-1")
    wait_until(projector, "document.querySelector('.lesson-bar__at')?.textContent")
    if projector.query_selector("[data-calculator]"):
        wait_ready(projector)
    _, count = place(projector)
    assert count >= 8
    for number in range(1, count + 1):
        assert place(projector) == (number, count)
        headings = f"({SHOWN})().filter((block) => block.matches('h1, h2')).length"
        assert projector.evaluate(headings) == 1
        is_long = f"({SHOWN})().some((block) => block.matches('{LONG}'))"
        if not projector.evaluate(is_long):
            over = "document.documentElement.scrollHeight - innerHeight"
            assert projector.evaluate(over) <= 0, f"{name}, slide {number}"
        projector.keyboard.press("ArrowRight")
    assert place(projector) == (count, count)
    projector.keyboard.press("Home")
    assert place(projector) == (1, count)


def test_a_calculator_on_a_slide_is_live_and_its_keys_are_its_own(projector, served):
    projector.goto(served.url + "bridging/#lesson-1")
    wait_ready(projector)
    while not projector.is_visible("#bridged-output"):
        projector.keyboard.press("ArrowRight")
    slide = place(projector)
    projector.fill("#bridged-output [name=load_ohm]", "8")
    projector.keyboard.press("ArrowLeft")
    wait_sentence(projector, "bridged-output", "about 100 W")
    assert place(projector) == slide


def test_a_list_that_goes_on_keeps_its_numbers(projector, served):
    projector.goto(served.url + "bridging/#lesson-1")
    wait_ready(projector)
    while not projector.get_by_text("Set both channels the same:").first.is_visible():
        projector.keyboard.press("ArrowRight")
    # A later item is shown with those before it still in the list, whether in sight or not.
    items = projector.locator(".chapter ol:has-text('Set both channels the same') > li")
    shown = items.evaluate_all("all => all.map((item) => getComputedStyle(item).display)")
    assert shown == ["list-item"] * 5


def test_escape_and_the_button_lead_back_to_the_chapter(projector, served):
    projector.goto(served.url + "bridging/")
    wait_ready(projector)
    shown = f"({SHOWN})().length"
    before = projector.evaluate(shown)
    projector.locator(".pdf-links a", has_text="lesson view").click()
    wait_until(projector, "document.querySelector('.lesson-bar__at')?.textContent")
    assert projector.evaluate(shown) < before
    projector.keyboard.press("Escape")
    wait_until(projector, "!document.querySelector('.lesson-bar')")
    assert projector.evaluate(shown) == before
    projector.goto(served.url + "bridging/#lesson-2")
    projector.get_by_role("button", name="Leave the lesson view").click()
    wait_until(projector, "!document.querySelector('.lesson-bar')")

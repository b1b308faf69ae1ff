"""The start of a plan on a telephone: how many answers and taps it takes, and what covers what."""

import pytest
from bench_journey import MOST_ANSWERS, MOST_TAPS, MOST_TO_SHEET, WINDOW, to_sheet, to_verdicts
from conftest import wait_ready, wait_until, watched

VERDICTS = {"suitable", "likely", "unsuitable", "not known"}


@pytest.fixture(scope="module")
def telephone(browser, served):
    """A browser as a telephone has it: small, and touched."""
    yield from watched(browser, served, "block", viewport=WINDOW, has_touch=True)


@pytest.fixture
def plan(telephone, served):
    """The empty page of the plan."""
    page = telephone.new_page()
    page.goto(f"{served.url}licences/")  # where nothing is kept while one leaves
    page.evaluate("localStorage.clear()")
    page.goto(f"{served.url}plan/")
    wait_ready(page)
    yield page
    page.close()


def test_two_amplifiers_are_judged_within_a_minutes_answers(plan):
    walk = to_verdicts(plan)
    assert set(walk.states) <= VERDICTS and len(walk.states) == 2
    assert walk.answers <= MOST_ANSWERS and walk.taps <= MOST_TAPS
    to_sheet(walk)
    assert walk.answers <= MOST_TO_SHEET
    assert plan.locator(".answer .verdict--not-known").count() == 0


COVERED = """() => {
    const { activeElement: focused } = document;
    if (!focused.closest(".plan")) return null;
    if (focused.closest(".bar")) return "";
    const { top, bottom, height } = focused.getBoundingClientRect();
    const from = document.querySelector(".md-header").getBoundingClientRect().bottom;
    const to = document.querySelector(".bar").getBoundingClientRect().top;
    const isClear = height > to - from || (top >= from - 0.5 && bottom <= to + 0.5);
    return isClear ? "" : focused.outerHTML.slice(0, 160);
}"""
# One fold of each kind stands open.
UNFOLD = """() => {
    const shown = [...document.querySelectorAll(".plan form details")]
        .filter((one) => one.parentElement.checkVisibility());
    for (const one of new Map(shown.map((each) => [each.parentElement.className, each])).values()) {
        one.open = true;
    }
    document.querySelector(".plan form details.step").open = true;
}"""
WINDOWS = ((390, 844), (390, 460), (320, 640))
# The key, and where the walk begins.
WALKS = (("Tab", ".plan .card .link-button:visible"), ("Shift+Tab", ".plan .bar__next"))


def test_the_bar_never_covers_what_has_the_focus(plan, is_long):
    to_verdicts(plan)
    plan.evaluate(UNFOLD)
    for width, height in WINDOWS if is_long else WINDOWS[1:2]:
        plan.set_viewport_size({"width": width, "height": height})
        for key, first in WALKS if is_long else WALKS[:1]:
            plan.locator(first).first.focus()
            walked = 0
            while (covered := plan.evaluate(COVERED)) is not None:
                assert covered == "", (width, height, key)
                plan.keyboard.press(key)
                walked += 1
            assert walked > 100, (width, height, key)


def test_the_bar_grows_with_its_words_and_what_is_scrolled_to_stays_clear_of_it(plan):
    to_verdicts(plan)
    plan.set_viewport_size({"width": 320, "height": 640})
    step = plan.locator(".bar__step")
    step.evaluate("(one) => { one.textContent = 'RMS watts of each channel at 4 Ω: '.repeat(3); }")
    wait_until(plan, "document.querySelector('.bar').offsetHeight > 90")
    clipped = plan.evaluate(
        "[...document.querySelectorAll('.bar *')].filter((one) => one.tagName !== 'path'"
        " && one.scrollWidth > one.clientWidth + 1 && one.clientWidth).length"
    )
    assert clipped == 0
    wait_until(
        plan,
        "parseFloat(getComputedStyle(document.documentElement).scrollPaddingBottom)"
        " > document.querySelector('.bar').offsetHeight",
    )


def test_a_new_card_has_the_focus_in_an_empty_box_and_goes_on_to_the_watts(plan):
    for key in ("Tab", "Enter"):
        plan.locator(".add", has_text="Component set").tap()
        focused = plan.locator(":focus")
        assert focused.input_value() == ""
        assert focused.get_attribute("data-asked").startswith("Ohms")
        plan.keyboard.type("4")
        plan.keyboard.press(key)
        assert plan.locator(":focus").get_attribute("data-cell") == "rated_w"
        plan.keyboard.type("70")
        held = plan.locator(".card[data-row]").last.locator("[data-cell=coil_ohm]")
        assert held.input_value() == "4"


def test_a_card_that_is_half_filled_comes_back_as_it_was_left(plan):
    plan.locator(".add", has_text="Component set").tap()
    plan.keyboard.type("2 x 4")
    wait_until(plan, """localStorage.system?.includes('"components","2","2","4"')""")
    plan.reload()
    wait_ready(plan)
    wait_until(plan, "document.querySelector('.card[data-row] [data-pair]')?.value === '2 × 4'")
    plan.locator("[data-cell=rated_w]").first.tap()
    plan.keyboard.type("70")
    assert plan.locator(".card[data-row] [data-pair]").input_value() == "2 × 4"


# What a screen reader says of its own accord: live regions, and the name of what has the focus.
SAID = """() => {
    window.said = [];
    const isLive = ({ target }) =>
        (target.closest ? target : target.parentElement)?.closest("[aria-live]");
    const told = (change) => change.type === "attributes"
        ? change.target === document.activeElement : isLive(change);
    new MutationObserver((changes) => {
        for (const change of changes) {
            if (told(change)) window.said.push(change.target.textContent || change.attributeName);
        }
    }).observe(document.querySelector(".plan form"), {
        subtree: true, childList: true, characterData: true, attributes: true,
        attributeFilter: ["aria-label"],
    });
}"""


def test_nothing_is_said_of_a_card_again_while_its_boxes_are_filled(plan):
    plan.locator(".add", has_text="Component set").tap()
    plan.keyboard.type("4")
    plan.keyboard.press("Enter")
    plan.evaluate(SAID)
    plan.keyboard.type("70")
    wait_until(plan, """localStorage.system?.includes('"70"')""")
    assert plan.evaluate("said") == []
    plan.locator("[data-action=count-more]").tap()
    wait_until(plan, "said.includes('3')")


def test_an_empty_search_box_is_no_wrong_entry(plan):
    """A screen reader called it one; what clears it is there once there is something to clear."""
    assert plan.evaluate("document.querySelector('.md-search__form').checkValidity()")
    plan.set_viewport_size({"width": 1280, "height": 900})
    opacity = "Number(getComputedStyle(document.querySelector('.md-search [type=reset]')).opacity)"
    plan.focus(".md-search__input")
    assert plan.evaluate(opacity) == 0
    plan.keyboard.type("fuse")
    wait_until(plan, f"{opacity} > 0.6")

"""What axe-core finds on a telephone in the states that a page comes into."""

import pytest
from conftest import sampled, wait_ready, wait_sentence, wait_until
from test_browser_choosing import change, opened, opened_example
from test_browser_faults import begin, wrong_in_more
from test_browser_looks import AXE, darken, violations
from test_browser_paste import TEXT, paste
from test_browser_stops import WORKERS, end, wait_state

OWN = "calculators/coil-wiring/"
LOAD = "#bridged-output--load_ohm"
SCROLLS = """(box) => ({
    scrolls: box.scrollWidth > box.clientWidth || box.scrollHeight > box.clientHeight,
    reached: box.tabIndex === 0,
})"""


def live(page, served):
    page.goto(served.url + OWN)
    wait_ready(page)
    page.fill("#coil-wiring--min_load_ohm", "1")
    wait_sentence(page, "coil-wiring", "1 Ω")


def refused(page, served):
    page.goto(served.url + "bridging/")
    page.fill(LOAD, "nonsense")
    page.locator("#bridged-output .error-summary").wait_for()


def not_started(page, served):
    page.route("**/assets/runtime/**", lambda route: route.abort())
    page.goto(served.url + "bridging/")
    wait_state(page, "failed")
    page.context.watch.excused += ["Failed to load resource", "The memory image", "ERR_FAILED"]


def ended(page, served):
    page.add_init_script(WORKERS)
    page.goto(served.url + "bridging/")
    wait_ready(page)
    end(page)
    wait_state(page, "stopped")


def coded(page, served):
    page.goto(served.url + "calculators/bridged-output/")
    wait_ready(page)
    page.get_by_role("button", name="QR code").first.click()
    page.locator(".qr svg").wait_for()


def own_system(page, served):
    opened(page, served, "plan/")
    change(page, "alternator_a", "77")


def wrong_in_a_card(page, served):
    wrong_in_more(page, served)


def removed(page, served):
    begin(page, served)
    page.locator(".add", has_text="Subwoofer").click()
    page.locator(".card[data-row] [data-action=drop-card]").first.click()
    page.get_by_text("removed.").first.wait_for()


def pasted(page, served):
    begin(page, served)
    page.locator(".amplifier [data-action=paste]").first.click()
    paste(page, TEXT)
    page.locator(".proposals").wait_for()


def chosen(page, served):
    opened_example(page, served, "choose/")


def lesson(page, served):
    page.goto(served.url + "bridging/#lesson-2")
    wait_until(page, "document.querySelector('.lesson-bar__at')?.textContent")
    wait_ready(page)


def sheet_answered(page, served):
    page.goto(served.url + "exercises/")
    wait_ready(page)
    box = page.locator(".exercise input:visible").first
    box.fill("1")
    box.blur()
    page.locator(
        ".exercise [role=status]:not(:empty), .exercise__judged:not(:empty)"
    ).first.wait_for()


STATES = (
    live, refused, not_started, ended, coded, own_system, wrong_in_a_card, removed, pasted, chosen,
    lesson, sheet_answered,
)  # fmt: skip


@pytest.fixture
def phone(page):
    page.set_viewport_size({"width": 390, "height": 844})
    return page


@pytest.mark.parametrize(
    "state",
    sampled(STATES, (live, wrong_in_a_card, pasted, chosen)),
    ids=lambda state: state.__name__,
)
def test_axe_finds_nothing_in_any_state(phone, served, state):
    state(phone, served)
    phone.evaluate(AXE.read_text(encoding="utf-8"))
    assert violations(phone, {}) == []
    darken(phone)
    assert violations(phone, {"runOnly": ["color-contrast"]}) == []


def test_a_table_of_a_live_answer_is_reached_by_the_keyboard_while_it_scrolls(phone, served):
    live(phone, served)
    phone.eval_on_selector_all("details", "all => all.forEach((one) => { one.open = true; })")
    boxes = "[...document.querySelectorAll('#coil-wiring .answer .table-box')]"
    agrees = f"{boxes}.map({SCROLLS}).every((one) => one.scrolls === one.reached)"
    scrolling = f"{boxes}.map({SCROLLS}).filter((one) => one.scrolls).length"
    wait_until(phone, f"{agrees} && {scrolling} > 0")
    phone.set_viewport_size({"width": 1280, "height": 900})
    wait_until(phone, f"{agrees} && {scrolling} === 0")

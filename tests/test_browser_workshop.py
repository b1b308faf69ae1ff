"""The workshop sheet in a browser: what is written on it stays on the device, in no link, and is
readable on a phone.
"""

import json

from conftest import ROOT, each, wait_ready, wait_until

from calc.app.contents import link_of
from calc.choosing.fit_plan import FIT_PLAN

CUSTOMERS = ROOT / "tests" / "customers"
BLANKS = "JSON.parse(localStorage.getItem('blanks') ?? '[]')"
OF_A_PHONE = ("pair-and-bridged-sub", "arr-front-with-rear", "arr-four-and-mono", "arr-three")


def link(name):
    texts, _ = FIT_PLAN.files[0]((CUSTOMERS / f"{name}.toml").read_text(encoding="utf-8"))
    return link_of(FIT_PLAN.answer(texts))


def opened(page, served, address):
    page.goto(served.url + address)
    wait_ready(page)
    page.wait_for_selector(".workshop")
    wait_until(page, "[...document.forms].every((form) => !form.inert)")


def blank(page, key):
    return page.locator(f'[data-blank="{key}"]')


def test_what_is_written_on_the_sheet_stays_after_a_reload_and_is_in_no_link(page, served):
    opened(page, served, link("one-pair"))
    address = page.url
    for key, text in (("customer", "Ada Moor"), ("vehicle", "van 7"), ("fuse", "20 A")):
        blank(page, key).fill(text)
    assert page.url == address
    page.reload()
    wait_ready(page)
    wait_until(page, "document.querySelector('[data-blank=customer]')?.value === 'Ada Moor'")
    assert blank(page, "vehicle").input_value() == "van 7"
    assert blank(page, "fuse").input_value() == "20 A"
    # Nothing of it is in the link, in the code's request or in what the system keeps.
    assert "Ada" not in page.url and "Moor" not in page.url
    assert "Ada" not in page.evaluate("localStorage.getItem('system') ?? ''")
    assert [texts for _, texts in page.evaluate(BLANKS)] == [
        {"customer": "Ada Moor", "vehicle": "van 7", "fuse": "20 A"}
    ]


def test_another_system_has_blanks_of_its_own_and_a_changed_figure_keeps_them(page, served):
    opened(page, served, link("one-pair"))
    blank(page, "customer").fill("Ada Moor")
    page.locator('[name="alternator_a"]').evaluate(
        "(box) => { box.value = '77';box.dispatchEvent(new Event('input', { bubbles: true })); }"
    )
    wait_until(page, "location.search.includes('alternator_a=77')")
    assert blank(page, "customer").input_value() == "Ada Moor"
    # It goes along, and is not left behind with what the system was.
    wait_until(page, f"{BLANKS}.length === 1 && {BLANKS}[0][0].includes('alternator_a=77')")
    opened(page, served, link("two-bridged-pairs"))
    assert blank(page, "customer").input_value() == ""


def test_a_blank_keeps_its_caret_while_an_answer_comes(page, served):
    opened(page, served, link("one-pair"))
    page.locator('[data-reading="rest_v"]').fill("12.6")
    blank(page, "customer").click()
    page.keyboard.type("Ada M")
    wait_until(page, "document.querySelector('.workshop__judged .verdict') !== null")
    page.keyboard.type("oor")
    assert blank(page, "customer").input_value() == "Ada Moor"
    assert blank(page, "customer").evaluate("(box) => box === document.activeElement")


def test_readings_are_judged_on_the_sheet_and_stand_nowhere_else(page, served):
    opened(page, served, link("one-pair"))
    box = page.locator('[data-reading="rest_v"]')
    assert box.count() == 1
    box.fill("11")
    row = page.locator("tr", has=box)
    row.get_by_text("battery is low").wait_for()
    assert "workshop__out" in row.get_attribute("class")


@each("spoilt", ["not json", '{"a":1}', "[[1,2],[null,{}]]", '[["",{"customer":7}]]', "null"])
def test_what_is_spoilt_in_the_storage_leaves_the_blanks_empty(context, served, spoilt):
    page = context.new_page()
    page.goto(served.url)
    page.evaluate(f"localStorage.setItem('blanks', {json.dumps(spoilt)})")
    opened(page, served, link("one-pair"))
    assert blank(page, "customer").input_value() == ""
    page.close()


@each("name", OF_A_PHONE)
def test_a_phone_shows_all_of_it_without_sideways_scrolling(browser, served, name):
    size = {"width": 390, "height": 844}
    context = browser.new_context(viewport=size, service_workers="block")
    page = context.new_page()
    opened(page, served, link(name))
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    wide = page.evaluate(
        "[...document.querySelectorAll('.workshop *')].filter((part) => part.checkVisibility()"
        "&& part.getBoundingClientRect().right > 391"
        "&& !part.closest('.workshop__unseen')).map((part) => part.outerHTML.slice(0, 90))"
    )
    small = page.evaluate(
        "[...document.querySelectorAll('.workshop text')].filter((text) => text.checkVisibility()"
        "&& text.getBoundingClientRect().width && text.getBoundingClientRect().height < 13)"
        ".map((text) => text.textContent)"
    )
    context.close()
    assert wide == [] and small == []


def test_the_appendix_is_folded_and_its_steps_are_reached(page, served):
    opened(page, served, link("one-pair"))
    appendix = page.locator("details.appendix")
    assert appendix.get_attribute("open") is None
    appendix.locator("> summary").click()
    appendix.locator(".contents a").first.click()
    assert page.evaluate("document.activeElement.classList.contains('part__title')")


def test_where_nothing_may_be_connected_nothing_is_typed_or_drawn(page, served):
    opened(page, served, link("unknown-filters"))
    for part in ("[data-reading]", ".workshop__channels", ".workshop svg.drawing__picture"):
        assert page.locator(part).count() == 0, part
    assert page.locator(".workshop__stop").is_visible()
    assert page.locator(".answer .key-figures").count() == 0


def test_the_code_of_the_link_stands_in_the_corner(page, served):
    opened(page, served, link("box-four-doors"))
    corner = page.locator("[data-qr]")
    corner.locator("svg").wait_for(state="attached")
    width = corner.locator("svg").get_attribute("width")
    assert width.endswith("mm") and 20 <= float(width.removesuffix("mm")) <= 32
    assert "Link to this plan" in corner.text_content()

"""The stock list in a real browser: spreadsheets, the template, an amplifier put into it."""

from urllib.parse import quote

from choosing_systems import HAZEL
from conftest import ROOT, wait_until
from spreadsheets import book
from test_browser_choosing import field, opened, wait_field

from calc.inputs.declared import replaced
from calc.system.files.shelf_file import read_shelf
from calc.system.system import SYSTEM_FIELDS

SYSTEM = ROOT / "shared" / "systems" / "hatchback.toml"
PLAN = f"plan/?v=2&amplifier={quote(SYSTEM_FIELDS[-1].write([HAZEL]))}"
LIST = [["Model", "RMS 4Ω", "Channels"], ["Alder", 60, 4], ["Birch", 75, 4]]


def wait_answer(page, words):
    wait_until(page, f"() => document.querySelector('.answer').innerText.includes('{words}')")


def wait_status(page, words):
    wait_until(page, f"() => document.querySelector('.status').textContent.includes('{words}')")


def kept_list(page):
    return read_shelf(page.evaluate("JSON.parse(localStorage.getItem('system')).shelf"))


def test_a_spreadsheet_is_opened_as_a_list_and_a_wrong_one_told(page, served, tmp_path):
    opened(page, served, "choose/")
    page.locator("[data-action=open-system]").set_input_files(SYSTEM)
    wait_field(page, "factory_power_w", "18")
    path = tmp_path / "own.xlsx"
    path.write_bytes(book(LIST))
    page.locator("[data-action=take-file]").set_input_files(path)
    wait_answer(page, "‘RMS 4Ω’ as RMS power per channel at 4 Ω")
    assert read_shelf(field(page, "shelf").input_value())[1].power_4ohm_w == 75
    # The bar for systems knows a list, too.
    path.write_bytes(book([*LIST, ["Cedar", 50, 4]]))
    page.locator("[data-action=open-system]").set_input_files(path)
    wait_answer(page, "Cedar")
    assert [amplifier.name for amplifier in kept_list(page)] == ["Alder", "Birch", "Cedar"]
    assert "Cedar" not in page.url
    path.write_bytes(b"PK\x03\x04 nothing")
    page.locator("[data-action=take-file]").set_input_files(path)
    wait_status(page, "damaged")
    assert "Cedar" in field(page, "shelf").input_value()


def test_the_template_is_saved_and_the_link_says_that_the_list_stays(page, served):
    opened(page, served, "choose/")
    field(page, "shelf").fill("name,colour\nA,red\n")  # it is there whatever stands in the form
    field(page, "shelf").blur()
    page.locator(".error-summary").wait_for()
    with page.expect_download() as caught:
        page.get_by_role("button", name="Save a template").click()
    assert len(read_shelf(caught.value.path().read_text(encoding="utf-8"))) == 2
    assert "stays on this device" in page.locator(".hand-over__stays").inner_text()


def test_a_planned_amplifier_is_put_into_the_list_of_this_device(page, served):
    opened(page, served, PLAN)
    column = page.locator(".amplifier").first
    column.locator("strong", has_text="Hazel 4-50").wait_for()
    page.locator(".hand-over [data-action=stock]").click()
    wait_status(page, "added")
    (kept,) = kept_list(page)
    assert (kept.name, kept.power_4ohm_w) == (HAZEL.name, HAZEL.power_4ohm_w)
    assert not page.locator(".earlier").is_visible()  # the answer hangs on no list


def test_each_column_is_put_into_the_list_and_replaced_only_when_that_is_said(page, served):
    opened(page, served, PLAN)
    page.locator(".amplifier strong", has_text="Hazel 4-50").wait_for()
    page.evaluate("for (const one of document.querySelectorAll('.inputs details')) one.open = true")
    first, second = page.locator(".amplifier").all()
    add, told = first.locator("[data-action=stock]"), first.locator("[data-told]")
    add.click()
    told.filter(has_text="was added").wait_for()
    power = first.locator("[data-cell=power_4ohm_w]")
    power.fill("55")
    add.click()
    told.filter(has_text="with other figures").wait_for()
    assert kept_list(page)[0].power_4ohm_w == HAZEL.power_4ohm_w
    power.fill("56")  # others than those that were asked about: asked again
    first.get_by_role("button", name="Replace it in my stock list").click()
    told.filter(has_text="with other figures").wait_for()
    assert kept_list(page)[0].power_4ohm_w == HAZEL.power_4ohm_w
    wait_until(page, "() => !document.querySelector('.amplifier [data-action=stock]').disabled")
    first.get_by_role("button", name="Replace it in my stock list").click()
    told.filter(has_text="was replaced").wait_for()
    assert kept_list(page)[0].power_4ohm_w == 56
    second.locator("[data-cell=power_4ohm_w]").fill("40")
    second.locator("[data-action=stock]").click()
    second.locator("[data-told]").filter(has_text="name first").wait_for()
    assert len(kept_list(page)) == 1


def test_two_columns_pressed_at_once_are_both_put_into_the_list(page, served):
    both = [HAZEL, replaced(HAZEL, {"name": "Rowan", "role": "candidate"})]
    opened(page, served, f"plan/?v=2&amplifier={quote(SYSTEM_FIELDS[-1].write(both))}")
    page.locator(".amplifier strong", has_text="Rowan").wait_for()
    buttons = "document.querySelectorAll('.amplifier [data-action=stock]')"
    page.evaluate(f"for (const each of {buttons}) each.click()")
    told = page.locator("[data-told]").nth(1)
    told.filter(has_text="2 amplifiers now").wait_for(state="attached")
    assert [amplifier.name for amplifier in kept_list(page)] == ["Hazel 4-50", "Rowan"]

"""The stock list in a real browser: spreadsheets, the template, an amplifier put into it."""

from urllib.parse import quote

from choosing_systems import HAZEL
from conftest import wait_until
from spreadsheets import book
from test_browser_choosing import field, opened, wait_words

from calc.system.files.shelf_file import read_shelf
from calc.system.system import SYSTEM_FIELDS

PLAN = f"plan/?amplifier={quote(SYSTEM_FIELDS[-1].write([HAZEL]))}"


def test_a_spreadsheet_is_opened_as_a_list_and_a_wrong_one_told(page, served, tmp_path):
    opened(page, served, "choose/")
    path = tmp_path / "own.xlsx"
    rows = [["Model", "RMS 4Ω", "Channels"], ["Alder", 60, 4], ["Birch", 75, 4]]
    path.write_bytes(book(rows))
    page.locator("[data-action=take-file]").set_input_files(path)
    wait_words(page, "No amplifier")
    assert read_shelf(field(page, "shelf").input_value())[1].power_4ohm_w == 75
    assert "‘RMS 4Ω’ as per channel at 4 Ω" in page.locator(".answer").inner_text()
    # The bar for systems knows a list, too.
    path.write_bytes(book([*rows, ["Cedar", 50, 4]]))
    page.locator("[data-action=open-system]").set_input_files(path)
    wait_until(page, "() => document.querySelector('.answer').innerText.includes('Cedar')")
    path.write_bytes(b"PK\x03\x04 nothing")
    page.locator("[data-action=take-file]").set_input_files(path)
    wait_until(page, "() => document.querySelector('.status').textContent.includes('damaged')")
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
    add = page.locator("[data-action=stock]")
    add.click()
    wait_until(page, "() => document.querySelector('.status').textContent.includes('added')")
    kept = page.evaluate("JSON.parse(localStorage.getItem('system')).shelf")
    (first,) = read_shelf(kept)
    opened(page, served, PLAN)
    page.evaluate("for (const one of document.querySelectorAll('.inputs details')) one.open = true")
    power = page.locator("[data-field=amplifier] [data-cell=power_4ohm_w]")
    power.fill("55")
    power.blur()
    wait_until(page, "() => document.querySelector('.answer').innerText.includes('55')")
    add.click()
    page.get_by_role("button", name="Replace it in my stock list").click()
    wait_until(page, "() => document.querySelector('.status').textContent.includes('replaced')")
    (changed,) = read_shelf(page.evaluate("JSON.parse(localStorage.getItem('system')).shelf"))
    assert (changed.name, changed.power_4ohm_w) == (first.name, 55)

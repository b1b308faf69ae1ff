"""Planning and choosing in a real Chromium: what stays on the device, and what travels."""

import random

from choosing_systems import FORM, random_amplifier
from conftest import ROOT, wait_ready, wait_until

from calc.choosing.shelf_file import read_shelf, write_shelf
from calc.choosing.system_file import read_system

SYSTEMS = ROOT / "shared" / "systems"
SHELF = "name,channels,power_4ohm_w,min_channel_ohm\nAlder 4-20,4,20,2\nBirch 2-90,2,90,2\n"


def opened(page, served, address):
    page.goto(served.url + address)
    wait_ready(page)


def wait_words(page, words):
    wait_until(
        page, f"() => document.querySelector('.answer .sentence').textContent.includes('{words}')"
    )


def field(page, name):
    """Return a field of the form, with every step of it open."""
    page.evaluate("for (const one of document.querySelectorAll('.inputs details')) one.open = true")
    return page.locator(f'[name="{name}"]')


def test_a_system_is_there_again_after_leaving_and_on_the_other_page(page, served):
    opened(page, served, "plan/")
    field(page, "alternator_a").fill("77")
    field(page, "alternator_a").blur()
    wait_until(page, "() => location.search.includes('alternator_a=77')")
    opened(page, served, "choose/")
    wait_until(page, "() => document.querySelector('[name=alternator_a]').value === '77'")
    opened(page, served, "plan/")
    wait_until(page, "() => document.querySelector('[name=alternator_a]').value === '77'")
    page.get_by_role("button", name="Back to the example").click()
    wait_until(page, "() => document.querySelector('[name=alternator_a]').value === '120'")
    opened(page, served, "plan/")
    page.wait_for_timeout(300)
    assert field(page, "alternator_a").input_value() == "120"


def test_a_system_file_is_opened_and_saved_alike(page, served, tmp_path):
    opened(page, served, "plan/")
    page.locator("[data-action=open-system]").set_input_files(SYSTEMS / "hatchback.toml")
    wait_until(page, "() => document.querySelector('[name=factory_power_w]').value === '18'")
    wait_words(page, "missing")  # no amplifier stands in this file
    with page.expect_download() as caught:
        page.get_by_role("button", name="Save as a system file").click()
    saved = caught.value.path().read_text(encoding="utf-8")
    assert caught.value.suggested_filename == "system.toml"
    again, wrong = read_system(saved)
    given, _ = read_system((SYSTEMS / "hatchback.toml").read_text(encoding="utf-8"))
    assert wrong == [] and FORM.read(again) == FORM.read(given)


def test_a_wrong_file_is_told_in_words_and_the_answer_stays(page, served, tmp_path):
    opened(page, served, "plan/")
    before = page.locator(".answer .sentence").inner_text()
    wrong = tmp_path / "wrong.toml"
    wrong.write_text("version = 1\n<script>alert(1)</script>\n", encoding="utf-8")
    page.locator("[data-action=open-system]").set_input_files(wrong)
    summary = page.locator(".error-summary")
    summary.wait_for()
    assert "not TOML" in summary.inner_text()
    assert page.locator(".answer .sentence").inner_text() == before
    # The form is not left dead: what is typed next is worked out.
    field(page, "alternator_a").fill("77")
    wait_until(page, "() => location.search.includes('alternator_a=77')")
    wait_until(page, "() => !document.querySelector('.error-summary')?.checkVisibility()")


def test_a_shelf_from_a_file_is_judged_kept_and_saved(page, served, tmp_path):
    opened(page, served, "choose/")
    path = tmp_path / "own.csv"
    path.write_text(SHELF, encoding="utf-8")
    page.locator("[data-action=take-file]").set_input_files(path)
    wait_words(page, "No amplifier")
    assert "Alder" in page.locator(".answer").inner_text()
    assert "Alder" not in page.url
    page.reload()
    wait_ready(page)
    wait_words(page, "No amplifier")
    assert "Birch" in field(page, "shelf").input_value()
    with page.expect_download() as caught:
        page.get_by_role("button", name="Save as a file").click()
    assert read_shelf(caught.value.path().read_text(encoding="utf-8")) == read_shelf(SHELF)


def test_wrong_cells_of_a_shelf_are_told_one_by_one(page, served):
    opened(page, served, "choose/")
    field(page, "shelf").fill("name,channels\nA,many\nB,4\nC,<img src=x onerror=alert(1)>\n")
    field(page, "shelf").blur()
    summary = page.locator(".error-summary")
    summary.wait_for()
    assert summary.locator("li").count() == 2
    assert "Row 2, channels" in summary.inner_text() and "Row 4, channels" in summary.inner_text()


def test_from_the_choice_to_the_plan_of_its_winner(page, served):
    opened(page, served, "choose/")
    page.get_by_role("link", name="The plan with Linden").click()
    wait_until(page, "() => location.pathname.endsWith('/plan/')")
    wait_ready(page)
    wait_words(page, "Linden 4-100 compact")


def test_figures_are_taken_from_the_system_and_given_back(page, served):
    opened(page, served, "cables/")
    budget = page.locator("#supply-budget")
    assert budget.locator(".exchange").is_hidden()  # there is no system yet
    opened(page, served, "plan/")
    field(page, "alternator_a").fill("88")
    field(page, "alternator_a").blur()
    wait_until(page, "() => location.search.includes('alternator_a=88')")
    opened(page, served, "cables/")
    budget.get_by_role("button", name="Take from my system").click()
    alternator = budget.locator("[name=alternator_a]")
    wait_until(
        page, "() => document.querySelector('#supply-budget [name=alternator_a]').value === '88'"
    )
    assert "Alternator’s rating: 7 Supply" in budget.locator(".notices").text_content()
    alternator.fill("95")
    alternator.blur()
    wait_until(page, "() => location.search.includes('95')")
    budget.get_by_role("button", name="Give back to my system").click()
    wait_until(
        page,
        "() => document.querySelector('#supply-budget .status').textContent.includes('Given')",
    )
    opened(page, served, "plan/")
    wait_until(page, "() => document.querySelector('[name=alternator_a]').value === '95'")


def test_each_step_of_the_form_shows_its_verdict(page, served):
    opened(page, served, "plan/")
    mark = page.locator('[data-mark="7 Supply"]')
    assert mark.inner_text().strip().startswith("suitable")
    field(page, "alternator_a").fill("40")
    field(page, "alternator_a").blur()
    wait_until(page, "() => location.search.includes('alternator_a=40')")
    assert mark.inner_text().strip().startswith("unsuitable")


def shelf_of(count):
    rng = random.Random("a long shelf")
    return write_shelf(random_amplifier(rng, f"number {at}") for at in range(count))


def test_thirty_amplifiers_are_judged_step_by_step(page, served):
    opened(page, served, "choose/")
    field(page, "shelf").fill(shelf_of(30))
    field(page, "shelf").blur()
    page.locator(".progress").wait_for()
    assert "of 30 checked" in page.locator(".progress").inner_text()
    page.locator(".progress").wait_for(state="detached")
    rows = page.locator(".answer table").first.locator("tbody tr")
    assert rows.count() == 30


def test_a_long_choice_can_be_stopped_and_started_anew(page, served):
    opened(page, served, "choose/")
    field(page, "shelf").fill(shelf_of(500))
    field(page, "shelf").blur()
    page.locator(".progress").wait_for()
    # The button is made anew with every step: it is pressed where it stands.
    page.evaluate("document.querySelector('[data-action=stop]').click()")
    page.wait_for_timeout(2500)
    words = page.locator(".progress__words").inner_text()
    page.wait_for_timeout(1500)
    assert page.locator(".progress__words").inner_text() == words
    assert "Stopped" in page.locator(".status").inner_text()
    field(page, "shelf").fill(SHELF)
    field(page, "shelf").blur()
    wait_words(page, "No amplifier")

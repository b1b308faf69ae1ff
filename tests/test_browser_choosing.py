"""Planning and choosing in a real browser: what stays on the device, and what travels."""

import random
import re

from choosing_systems import planned_of, random_amplifier
from conftest import ROOT, follow, wait_ready, wait_until
from test_image import the_worker

from calc.system import example_van
from calc.system.files.shelf_file import read_shelf, write_shelf
from calc.system.files.system_file import read_system

SYSTEMS = ROOT / "shared" / "systems"
SHELF = "name,channels,power_4ohm_w,min_channel_ohm\nAlder 4-20,4,20,2\nBirch 2-90,2,90,2\n"


def opened(page, served, address):
    page.goto(served.url + address)
    wait_ready(page)


def went_on(page, served, address):
    """Go to another page by a link: Python goes on, and what is kept is read as after a load."""
    follow(page, served.url + address)
    wait_until(page, "document.querySelector('.calculator[data-attached]')")


def wait_words(page, words):
    wait_until(
        page, f"() => document.querySelector('.answer .sentence').textContent.includes('{words}')"
    )


def opened_example(page, served, address, name="Lantern Van"):
    """Open a page with one of its examples."""
    opened(page, served, address)
    page.get_by_role("button", name=name).click()
    wait_field(page, "alternator_a", "120")
    wait_until(page, "() => location.search.includes('example=')")


def opened_choice(page, served):
    """Open the choice with an example's system and its amplifiers as a list."""
    opened_example(page, served, "choose/")
    field(page, "shelf").fill(example_van.SHELF)
    field(page, "shelf").blur()
    wait_words(page, "Linden")


def unfold(page):
    """Open whatever is folded in the form."""
    page.evaluate("""() => {
        for (const one of document.querySelectorAll(".inputs details")) one.open = true;
        for (const one of document.querySelectorAll(".card--closed")) {
            one.classList.remove("card--closed");
        }
    }""")


def field(page, name):
    """Return a field of the form, with every step of it open."""
    unfold(page)
    return page.locator(f'[name="{name}"]')


def change(page, name, value):
    """Type a figure, and wait until the answer and the address have it."""
    field(page, name).fill(value)
    field(page, name).blur()
    wait_until(page, f"() => location.search.includes('{name}={value}')")


def wait_field(page, name, value):
    wait_until(page, f"() => document.querySelector('[name={name}]').value === '{value}'")


def test_a_system_is_there_again_after_leaving_and_on_the_other_page(page, served):
    opened(page, served, "plan/")
    change(page, "alternator_a", "77")
    opened(page, served, "choose/")
    wait_field(page, "alternator_a", "77")
    opened(page, served, "plan/")
    wait_field(page, "alternator_a", "77")
    page.get_by_role("button", name="Empty the form").click()
    wait_field(page, "alternator_a", "")
    opened(page, served, "plan/")
    change(page, "vehicle_a", "31")  # whatever was asked for before that has been answered
    assert field(page, "alternator_a").input_value() == ""


def test_a_system_file_is_opened_and_saved_alike(page, served, tmp_path):
    opened(page, served, "plan/")
    page.locator("[data-action=open-system]").set_input_files(SYSTEMS / "hatchback.toml")
    wait_field(page, "factory_power_w", "18")
    wait_words(page, "Add an amplifier")  # no amplifier stands in this file
    with page.expect_download() as caught:
        page.get_by_role("button", name="Save as a system file").click()
    saved = caught.value.path().read_text(encoding="utf-8")
    assert caught.value.suggested_filename == "system.toml"
    again, wrong = read_system(saved)
    texts, _ = read_system((SYSTEMS / "hatchback.toml").read_text(encoding="utf-8"))
    assert wrong == [] and planned_of(again) == planned_of(texts)


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
    opened_example(page, served, "choose/")
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
    opened_choice(page, served)
    page.get_by_role("link", name="Plan with the Linden").click()
    wait_until(page, "() => location.pathname.endsWith('/calculators/fit-plan/')")
    wait_ready(page)
    wait_words(page, "Linden 4-100 compact")


def test_figures_are_taken_from_the_system_and_given_back(page, served):
    opened(page, served, "calculators/supply-budget/")
    budget = page.locator("#supply-budget")
    assert budget.locator(".exchange").is_hidden()  # there is no system yet
    went_on(page, served, "plan/")
    page.get_by_role("button", name="Lantern Van").click()
    wait_field(page, "alternator_a", "120")
    field(page, "alternator_a").fill("88")
    field(page, "alternator_a").blur()
    wait_until(page, "() => location.search.includes('alternator_a=88')")
    went_on(page, served, "calculators/supply-budget/")
    budget.get_by_role("button", name="Take from my system").click()
    alternator = budget.locator("[name=alternator_a]")
    wait_until(
        page, "() => document.querySelector('#supply-budget [name=alternator_a]').value === '88'"
    )
    notices = budget.locator(".notices").text_content()
    assert "Alternator rating: 7 Alternator and battery" in notices
    alternator.fill("95")
    alternator.blur()
    wait_until(page, "() => location.search.includes('95')")
    budget.get_by_role("button", name="Give back to my system").click()
    wait_until(
        page,
        "() => document.querySelector('#supply-budget .status')"
        ".textContent.includes('Changed in the system')",
    )
    went_on(page, served, "plan/")
    wait_field(page, "alternator_a", "95")


def test_each_step_of_the_form_shows_its_verdict(page, served):
    opened_example(page, served, "plan/")
    unfold(page)
    mark = page.locator('[data-mark="7 Alternator and battery"]')
    assert mark.inner_text().strip().startswith("suitable")
    field(page, "alternator_a").fill("40")
    field(page, "alternator_a").blur()
    wait_until(page, "() => location.search.includes('alternator_a=40')")
    assert mark.inner_text().strip().startswith("unsuitable")


def shelf_of(count):
    rng = random.Random("a long shelf")
    return write_shelf(random_amplifier(rng, f"number {at}") for at in range(count))


def test_many_amplifiers_are_judged_step_by_step(page, served, is_long):
    many = 30 if is_long else 9
    opened_example(page, served, "choose/")
    field(page, "shelf").fill(shelf_of(many))
    field(page, "shelf").blur()
    page.locator(".progress", has_text=re.compile(r"of \d+ checked")).wait_for()
    page.locator(".progress").wait_for(state="detached")
    rows = page.locator(".answer table").first.locator("tbody tr")
    names = [name for name in rows.locator("td:nth-child(2)").all_inner_texts() if "+" not in name]
    assert len(names) == many < rows.count()


def test_a_long_choice_can_be_stopped_and_started_anew(page, served, is_long):
    opened_example(page, served, "choose/")
    field(page, "shelf").fill(shelf_of(500 if is_long else 150))
    field(page, "shelf").blur()
    page.locator(".progress", has_text=re.compile(r"of \d+ checked")).wait_for()
    # The button is made anew with every step, and keeps the keyboard's focus.
    page.evaluate("document.querySelector('[data-action=stop]').focus()")
    said = page.locator(".progress__words").inner_text()
    wait_until(page, f"() => document.querySelector('.progress__words').innerText !== '{said}'")
    assert page.evaluate("document.activeElement.dataset.action") == "stop"
    page.keyboard.press("Enter")
    wait_words(page, "Stopped after")
    words = page.locator(".answer .sentence").inner_text()
    done = int(re.search(r"Stopped after (\d+) of \d+", words)[1])
    for _ in range(3):  # a further step would be under way in the worker: let it end
        the_worker(page).evaluate("0")
        page.evaluate("new Promise(requestAnimationFrame)")
    assert page.locator(".answer .sentence").inner_text() == words
    assert page.evaluate("document.activeElement.dataset.action") == "go-on"
    page.keyboard.press("Enter")
    wait_until(
        page,
        f"() => parseInt(document.querySelector('.progress__words').textContent) > {done} && "
        "document.activeElement.dataset.action === 'stop'",
    )
    field(page, "shelf").fill(SHELF)
    field(page, "shelf").blur()
    wait_words(page, "No amplifier")


def test_what_a_start_replaced_can_be_brought_back(page, served):
    opened_example(page, served, "plan/")
    change(page, "alternator_a", "77")
    assert page.locator(".foot .aside").is_hidden()
    page.get_by_role("button", name="Active front stage", exact=True).click()
    page.get_by_role("button", name="Bring them back").click()
    wait_field(page, "alternator_a", "77")
    wait_words(page, "Hazel 4-50")
    # No press loses figures: what stood there can be had again, and these after it.
    page.get_by_role("button", name="Undo that").click()
    wait_words(page, "tweeters")
    page.get_by_role("button", name="Undo that").click()
    wait_field(page, "alternator_a", "77")
    wait_words(page, "Hazel 4-50")
    # Emptying the form does so too; the next change of the form settles it.
    page.get_by_role("button", name="Empty the form").click()
    wait_field(page, "alternator_a", "")
    page.get_by_role("button", name="Bring them back").wait_for()
    field(page, "vehicle_a").fill("31")
    page.locator(".foot .aside").wait_for(state="hidden")


def test_a_link_does_not_replace_the_system_that_is_kept(page, served):
    opened_example(page, served, "plan/")
    change(page, "alternator_a", "77")
    page.reload()  # its own address is no other system
    wait_ready(page)
    wait_words(page, "Hazel 4-50")
    assert page.locator(".foot .aside").is_hidden()
    opened(page, served, "plan/?alternator_a=91")
    page.get_by_role("button", name="Keep these as my system").wait_for()
    field(page, "vehicle_a").fill("31")  # playing with a customer's figures keeps nothing
    field(page, "vehicle_a").blur()
    wait_until(page, "() => location.search.includes('vehicle_a=31')")
    opened(page, served, "plan/")
    wait_field(page, "alternator_a", "77")
    opened(page, served, "plan/?alternator_a=91")
    page.get_by_role("button", name="Keep these as my system").click()
    went_on(page, served, "choose/")
    wait_field(page, "alternator_a", "91")


def test_the_list_of_an_example_stays_nobody_s_and_one_s_own_stays(page, served):
    """An example shows what a choice is; its amplifiers are not taken for the reader's stock."""
    opened_example(page, served, "choose/")
    wait_words(page, "Linden")
    page.locator(".progress").wait_for(state="detached")
    kept = "() => JSON.parse(localStorage.system).shelf ?? ''"
    assert page.evaluate(kept) == ""
    change(page, "alternator_a", "110")
    assert page.evaluate(kept) == ""
    field(page, "shelf").fill("name,channels,power_4ohm_w,min_channel_ohm\nOwn 4,4,55,2\n")
    field(page, "shelf").blur()
    wait_words(page, "Own 4")
    page.get_by_role("button", name="Small hatchback").click()
    wait_field(page, "alternator_a", "90")
    wait_words(page, "Own 4")
    assert "Own 4" in page.evaluate(kept)


def test_the_choice_without_a_shelf_says_what_to_look_for(page, served):
    opened_example(page, served, "plan/")
    change(page, "alternator_a", "77")
    went_on(page, served, "choose/")  # the kept system has no shelf
    wait_words(page, "Add a stock list")
    assert page.locator(".error-summary").is_hidden()
    answer = page.locator(".answer").inner_text()
    assert "door mid-basses" in answer and "Linden" not in answer
    went_on(page, served, "plan/")
    page.locator("[data-action=open-system]").set_input_files(SYSTEMS / "hatchback.toml")
    wait_words(page, "Add an amplifier")
    page.get_by_role("link", name="Compare a stock list for this system").click()
    wait_until(page, "() => location.pathname.endsWith('/amplifier-choice/')")
    wait_ready(page)
    wait_words(page, "Add a stock list")
    assert field(page, "factory_power_w").input_value() == "18"


def test_a_speaker_s_new_name_is_taken_over_where_it_is_referred_to(page, served):
    opened_example(page, served, "plan/")
    unfold(page)
    names = page.locator("[data-names=speaker]")
    names.nth(1).fill("door woofers")
    below = page.locator("[data-cell=below]").first
    assert below.input_value() == "door woofers"
    wait_words(page, "door woofers on 1 and 2")
    assert page.locator(".error-summary").is_hidden()
    # A name that another row has drags nothing of that row's along, and is no new name.
    names.nth(2).fill("door woofers")
    assert below.input_value() == "door woofers"
    page.locator(".error-summary").wait_for()
    names.nth(2).blur()
    names.nth(2).fill("woofers")
    assert below.input_value() == "door woofers"
    names.nth(1).fill("woofers")
    assert below.input_value() == "door woofers"
    names.nth(1).fill("mid-basses")
    assert below.input_value() == "mid-basses"
    wait_words(page, "mid-basses on 1 and 2")
    assert page.locator(".error-summary").is_hidden()


def test_one_wrong_cell_is_marked_and_what_is_half_mended_stays(page, served):
    opened_example(page, served, "plan/")
    unfold(page)
    page.locator("[data-cell=rated_w]").nth(1).fill("many")
    page.locator(".error-summary").wait_for()
    wrong = page.locator("[data-field=speakers] [aria-invalid]")
    assert wrong.count() == 1 and wrong.get_attribute("data-cell") == "rated_w"
    opened(page, served, "plan/")
    page.locator(".error-summary").wait_for()
    assert page.locator("[data-cell=rated_w]").nth(1).input_value() == "many"
    assert page.locator(".earlier").is_visible()


def test_the_steps_of_the_job_sheet_are_reached_from_its_top(page, served):
    page.set_viewport_size({"width": 390, "height": 800})
    opened_example(page, served, "plan/")
    # Read out, its lines stand apart as they do in sight.
    assert page.text_content(".bar__verdicts").split()[-4:] == ["suitable", "for", "an", "example"]
    page.locator(".bar__next").click()  # the form is complete: the next step is the answer
    assert abs(page.locator(".answer").bounding_box()["y"]) < 260
    page.locator(".appendix > summary").click()  # the steps are the sheet's reasons
    page.locator(".contents").get_by_role("link", name="Cable").click()
    top = page.get_by_role("heading", name="Power cable", exact=True).bounding_box()["y"]
    assert 0 <= top < 200
    assert "#" not in page.url


def test_the_plan_of_one_s_own_choice_is_one_s_own(page, served):
    """From the shelf to the plan, and on to a chapter: the amplifier chosen goes along."""
    opened_choice(page, served)
    change(page, "alternator_a", "118")
    page.get_by_role("link", name="Plan with the Linden").click()
    wait_until(page, "() => location.pathname.endsWith('/fit-plan/')")
    wait_ready(page)
    wait_words(page, "The Linden 4-100 compact runs")
    assert page.locator(".foot .aside").is_hidden()
    change(page, "vehicle_a", "31")
    went_on(page, served, "calculators/power-cable/")
    page.locator("#power-cable").get_by_role("button", name="Take from my system").click()
    wait_until(page, "() => document.querySelector('#power-cable .notices').innerText !== ''")
    assert "Linden 4-100 compact" in page.locator("#power-cable .notices").text_content()
    went_on(page, served, "plan/")
    wait_field(page, "vehicle_a", "31")


def test_a_link_where_nothing_is_kept_stays(page, served):
    opened(page, served, "plan/?alternator_a=91")
    wait_field(page, "alternator_a", "91")
    went_on(page, served, "choose/")
    wait_field(page, "alternator_a", "91")


def test_taking_over_a_link_can_be_taken_back(page, served):
    opened(page, served, "plan/")
    change(page, "alternator_a", "77")
    opened(page, served, "plan/?alternator_a=91")
    page.get_by_role("button", name="Keep these as my system").click()
    page.get_by_role("button", name="Bring back the one before").click()
    page.get_by_role("button", name="Keep these as my system").wait_for()
    opened(page, served, "plan/")
    wait_field(page, "alternator_a", "77")


def test_a_file_that_is_refused_replaces_nothing_that_could_be_brought_back(page, served, tmp_path):
    opened(page, served, "plan/")
    change(page, "alternator_a", "77")
    picker = page.locator("[data-action=open-system]")
    picker.set_input_files(SYSTEMS / "hatchback.toml")
    wait_words(page, "Add an amplifier")
    broken = tmp_path / "broken.toml"
    broken.write_text("x = ", encoding="utf-8")
    picker.set_input_files(broken)
    page.locator(".error-summary").wait_for()
    page.get_by_role("button", name="Bring them back").click()
    wait_field(page, "alternator_a", "77")


def test_what_a_chapter_gave_back_can_be_taken_back(page, served):
    opened_example(page, served, "plan/")
    change(page, "alternator_a", "77")
    went_on(page, served, "calculators/supply-budget/")
    card = page.locator("#supply-budget")
    card.get_by_role("button", name="Take from my system").click()
    wait_until(page, "() => document.querySelector('#supply-budget .notices').innerText !== ''")
    card.locator("[name=alternator_a]").fill("88")
    card.get_by_role("button", name="Give back to my system").click()
    card.get_by_role("button", name="Undo the change").wait_for()
    assert page.evaluate("JSON.parse(localStorage.system).alternator_a") == "88"
    card.get_by_role("button", name="Undo the change").click()
    card.locator(".foot .aside").wait_for(state="hidden")
    assert page.evaluate("JSON.parse(localStorage.system).alternator_a") == "77"


def test_a_shelf_of_an_older_spreadsheet_keeps_its_letters(page, served, tmp_path):
    opened(page, served, "choose/")
    page.get_by_role("button", name="Small hatchback").click()
    wait_field(page, "factory_power_w", "18")
    shelf = tmp_path / "shelf.csv"
    shelf.write_bytes("Name;channels\nBüche 4–60;4\n".encode("windows-1252"))
    page.locator("[data-action=take-file]").set_input_files(shelf)
    wait_words(page, "Büche 4–60")

"""In the browser: storage that was spoilt, and the places of wrong cells."""

from conftest import wait_ready, wait_until

DEEP = "'['.repeat(100000) + ']'.repeat(100000)"


def test_a_system_that_lies_deep_within_itself_is_passed_over(page, served):
    page.goto(served.url + "plan/")
    wait_ready(page)
    # One figure is good; the rest is no input that a form ever kept.
    page.evaluate(
        f"""() => localStorage.setItem(
            "system", '{{"alternator_a":"77","vehicle_a":' + {DEEP} + ',"battery_ah":[["1"]]}}')"""
    )
    page.goto(served.url + "plan/")
    wait_until(page, "() => document.querySelector('[name=alternator_a]').value === '77'")
    wait_until(page, "() => !document.querySelector('#fit-plan form').inert")
    page.locator("[name=vehicle_a]").fill("33")
    page.locator("[name=vehicle_a]").blur()
    wait_until(page, "() => JSON.parse(localStorage.system).vehicle_a === '33'")


def test_each_wrong_cell_of_a_table_is_marked_and_no_other(page, served):
    query = "coil-wiring.drivers=2,4;1,8"
    page.goto(served.url + f"coil-wiring/?{query}")
    wait_ready(page)
    card = page.locator("#coil-wiring")
    card.locator("tbody [data-cell=coil_ohm]").nth(1).fill("x")
    card.locator("tbody [data-cell=coil_ohm]").nth(1).blur()
    card.locator(".error-summary").wait_for()
    marked = card.locator("[data-field=drivers] [aria-invalid=true]")
    assert marked.count() == 1
    assert marked.input_value() == "x"
    assert "Row 2: impedance of each coil" in card.locator(".error-summary").inner_text()

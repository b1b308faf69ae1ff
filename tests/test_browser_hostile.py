"""In the browser: links, files and stores that would stop it, and the places of wrong cells."""

import pytest
from conftest import sampled, wait_ready
from hostile_pages import CASES


@pytest.mark.parametrize("case", sampled(CASES, CASES[::2]), ids=lambda case: case.__name__)
def test_what_would_stop_a_page_is_told_in_words_and_it_works_on(page, served, case):
    case(page, served.url)


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

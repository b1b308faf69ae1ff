"""Tables of inputs in a real browser: rows come and go, and the link keeps them."""

from conftest import wait_ready, wait_sentence, wait_until

CARD = "#filter-split"
PASSIVE = f"{CARD} [data-field=passive]"
HEAD_UNIT = f"{CARD} [data-field=head_unit]"


def rows(page, field):
    return page.eval_on_selector_all(f"{field} tbody tr", "all => all.length")


def opened(page, served, query="", address="calculators/filter-split/"):
    page.goto(served.url + address + query)
    wait_ready(page)


def test_the_last_row_of_a_unit_that_may_be_missing_can_be_removed_and_added_again(page, served):
    opened(page, served)
    page.click(f"{PASSIVE} [data-action=remove-row]")
    # Tweeter and mid-bass now share a channel without a crossover between them.
    wait_sentence(page, "filter-split", "does not protect the tweeter")
    assert rows(page, PASSIVE) == 0
    focused = page.evaluate("document.activeElement.dataset.action")
    assert focused == "add-row"
    wait_until(page, "location.search.includes('passive=') && location.search")
    page.click(f"{PASSIVE} [data-action=add-row]")
    wait_sentence(page, "filter-split", "Set the amplifier to")
    assert rows(page, PASSIVE) == 1


def test_the_last_section_cannot_be_removed(page, served):
    opened(page, served)
    section = f"{CARD} [data-field=sections]"
    for _ in range(5):
        page.click(f"{section} tr:last-child [data-action=remove-row]")
    assert rows(page, section) == 1


def test_a_link_without_rows_opens_without_rows(page, served):
    opened(page, served, "?filter-split.head_unit=")
    wait_until(page, f"document.querySelectorAll('{HEAD_UNIT} tbody tr').length === 0")
    wait_sentence(page, "filter-split", "Set the amplifier to")
    assert "head unit" not in page.inner_text(f"{CARD} .answer .sentence")


def test_a_wrong_cell_is_told_at_its_table_with_its_row(page, served):
    opened(page, served)
    page.fill(f"{CARD} [data-field=amplifier] tr:nth-child(2) [data-cell=corners_hz]", "50 to 250")
    message = wait_until(
        page,
        f"document.querySelector('{CARD} [data-field=amplifier] .error').textContent",
    )
    assert "Row 2: frequencies" in message and "50-500" in message
    assert page.is_visible(f"{CARD} .earlier")


def test_a_list_of_frequencies_makes_the_table(page, served):
    own = "calculators/filter-response/"
    opened(page, served, address=own)
    page.click("#filter-response details.more summary")
    page.fill("#filter-response--points_hz", "50; 100; 20000")
    wait_until(
        page, "document.querySelectorAll('#filter-response .figures-table tbody tr').length === 3"
    )
    query = wait_until(page, "location.search.includes('points_hz') && location.search")
    opened(page, served, query, own)
    wait_until(
        page, "document.querySelectorAll('#filter-response .figures-table tbody tr').length === 3"
    )


def test_of_fields_that_stand_for_one_another_the_filled_one_clears_the_others(page, served):
    page.goto(served.url + "calculators/wire-facts/")
    wait_ready(page)
    card = page.locator("#wire-facts")
    field = {key: card.locator(f"[name={key}]") for key in ("awg", "mm2", "strands", "strand_mm")}
    assert field["awg"].input_value() == "4"
    field["mm2"].fill("16")
    wait_sentence(page, "wire-facts", "16 mm²")
    assert field["awg"].input_value() == ""
    field["strands"].fill("570")
    assert field["mm2"].input_value() == ""
    wait_until(page, "!document.querySelector('#wire-facts .error-summary').hidden")
    field["strand_mm"].fill("0.16")
    wait_sentence(page, "wire-facts", "570 × 0.16 mm")
    assert page.url.endswith("?strands=570&strand_mm=0.16")
    page.reload()
    wait_ready(page)
    wait_until(page, "document.querySelector('#wire-facts [name=awg]').value === ''")
    assert field["mm2"].input_value() == ""
    assert field["strands"].input_value() == "570"

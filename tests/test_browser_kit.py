"""A shop's own prices on the kit list in a real browser: summed live, kept on the device."""

import csv
import io

from conftest import wait_ready, wait_until

KIT = "#kit-list"
KEPT = "JSON.parse(localStorage.getItem('kit prices') ?? '{}')"


def opened(page, served, address="calculators/kit-list/"):
    page.goto(served.url + address)
    wait_ready(page)
    wait_until(page, "[...document.forms].every((form) => !form.inert)")


def box(page, item):
    return page.locator(f'{KIT} [data-price^="{item}|"]').first


def line(page, item):
    return box(page, item).locator("xpath=..").locator(".price__sum").inner_text()


def wait_cell(page, text):
    """Wait until a cell of the answer says just this: a part of another figure does not count."""
    page.locator(f"{KIT} .answer td").get_by_text(text, exact=True).first.wait_for()


def foot(page):
    return page.locator(f"{KIT} .prices__sum").inner_text()


def test_prices_are_summed_as_they_are_typed_and_open_lines_counted(page, served):
    opened(page, served)
    assert foot(page).startswith("Enter your own price")
    count = page.locator(f"{KIT} [data-price]").count()
    # 3.3 m at 4.50 a metre, one fuse at 3, 78 ties at 0.05.
    box(page, "power cable").fill("4,50")
    box(page, "fuse").fill("3")
    box(page, "cable ties or clips").fill("0.05")
    assert [line(page, item) for item in ("power cable", "fuse", "cable ties or clips")] == [
        "14.85", "3.00", "3.90",
    ]  # fmt: skip
    assert foot(page) == f"Sum: 21.75; {count - 3} lines without a price."
    # What is no price is marked, said, and counts nothing.
    box(page, "fuse").fill("cheap")
    box(page, "fuse").blur()
    assert box(page, "fuse").get_attribute("aria-invalid") == "true"
    assert "is not a price" in page.locator(f"{KIT} .status").inner_text()
    assert foot(page) == f"Sum: 18.75; {count - 2} lines without a price."
    box(page, "fuse").fill("")
    assert box(page, "fuse").get_attribute("aria-invalid") is None


def test_prices_stay_on_the_device_by_their_article_and_in_no_link(page, served):
    opened(page, served)
    box(page, "fuse").fill("3")
    address = page.url
    # Another question: the same fuse has its price, the line of another size has none.
    page.locator(f'{KIT} [name="slack_percent"]').fill("20")
    wait_cell(page, "3.6")
    assert box(page, "fuse").input_value() == "3"
    assert "3" in foot(page)
    assert "price" not in page.url.replace(address, "")
    page.reload()
    wait_ready(page)
    assert box(page, "fuse").input_value() == "3"
    assert list(page.evaluate(KEPT).values()) == ["3"]
    box(page, "fuse").fill("")
    assert page.evaluate(KEPT) == {}


def test_a_price_in_hand_stays_while_the_answer_changes(page, served):
    opened(page, served)
    page.locator(f'{KIT} [name="slack_percent"]').fill("30")
    box(page, "earth cable").fill("2")
    box(page, "earth cable").press_sequentially("5")
    wait_cell(page, "3.9")  # the power cable with 30 %
    assert box(page, "earth cable").input_value() == "25"
    assert page.evaluate("document.activeElement.dataset.price").startswith("earth cable|")
    # 0.6 m and 30 %
    assert line(page, "earth cable") == "19.50"


def test_what_other_pages_left_in_the_storage_harms_nothing(page, served):
    opened(page, served)
    for kept in ("[1, 2]", "{", "null", '{"fuse|x": {"a": 1}}', '{"__proto__": "1"}'):
        page.evaluate("(text) => localStorage.setItem('kit prices', text)", kept)
        page.reload()
        wait_ready(page)
        assert foot(page).startswith("Enter your own price")
    hostile = '<img src=x onerror="window.hit=1">'
    box(page, "fuse").fill(hostile)
    box(page, "fuse").blur()
    assert hostile in page.locator(f"{KIT} .status").inner_text()
    assert page.evaluate("window.hit") is None
    assert page.evaluate(KEPT).get("fuse") is None


def test_the_list_is_saved_as_csv_with_the_prices(page, served):
    opened(page, served)
    box(page, "power cable").fill("4,50")
    box(page, "fuse").fill("=1+1")
    with page.expect_download() as download:
        page.get_by_role("button", name="Kit list as CSV").first.click()
    assert download.value.suggested_filename == "kit-list.csv"
    text = download.value.path().read_bytes().decode("utf-8")
    head, *rows, last = csv.reader(io.StringIO(text))
    assert head[:4] == ["No.", "Item", "Size", "Quantity"]
    assert rows[0][1] == "power cable"
    assert rows[0][-2:] == ["4.5", "14.85"]
    assert all(row[-2:] == ["", ""] for row in rows[1:])
    assert (last[1], last[-1]) == ("Sum", "14.85")


def test_on_paper_the_column_stands_where_a_price_was_typed(page, served):
    opened(page, served)
    page.emulate_media(media="print")
    assert not box(page, "fuse").is_visible()
    assert not page.locator(f"{KIT} .prices__sum").is_visible()
    page.emulate_media(media="screen")
    box(page, "fuse").fill("3")
    page.emulate_media(media="print")
    assert box(page, "fuse").is_visible()
    assert page.locator(f"{KIT} .prices__sum").is_visible()
    assert not page.get_by_role("button", name="Kit list as CSV").first.is_visible()


def test_prices_stay_when_another_page_is_opened(page, served):
    opened(page, served)
    box(page, "spare fuse").fill("1.25")
    kept = page.evaluate(KEPT)
    page.goto(served.url + "plan/?v=2")
    wait_ready(page)
    assert page.evaluate(KEPT) == kept

"""Links, files and stores that would stop a page, for any engine.

Each is a function of a page and the address of a host: it opens the page and waits until the page
has said what is wrong, and works on.
"""

import base64
import zlib

import spreadsheets
from conftest import wait_ready, wait_sentence, wait_until

OWN = "calculators/bridged-output/"
CARD = "bridged-output"
LOAD = "#bridged-output--load_ohm"

# A picked file, as a page comes by it: a picker's own window cannot be worked from here.
PICK = """([action, name, kind, size, held]) => {
    const picker = document.querySelector(`[data-action="${action}"]`);
    const bytes = Uint8Array.from(atob(held), (sign) => sign.charCodeAt(0));
    const parts = size ? [new Uint8Array(size).fill(35)] : [bytes];
    const files = new DataTransfer();
    files.items.add(new File(parts, name, { type: kind }));
    picker.files = files.files;
    picker.dispatchEvent(new Event("change", { bubbles: true }));
    return true;
}"""
DEEP = "'['.repeat(100000) + ']'.repeat(100000)"


def packed(text):
    return base64.urlsafe_b64encode(zlib.compress(text.encode(), 9)).rstrip(b"=").decode()


def says(page, selector, words):
    wait_until(
        page,
        """([selector, words]) => [...document.querySelectorAll(selector)].some((one) =>
            one.checkVisibility() && one.textContent.includes(words))""",
        [selector, words],
    )


def told_of_a_link(page, url, query, selector, words):
    """Open a page with a link's figures; it tells of them, and works on."""
    page.goto(f"{url}{OWN}?{query}")
    says(page, selector, words)
    page.fill(LOAD, "8")
    wait_sentence(page, CARD, "about 100 W")


def a_link_that_holds_thousands_of_parts(page, url):
    query = f"packed={packed('&'.join(['a=b'] * 4999))}"
    told_of_a_link(page, url, query, ".notices", "And 4989 more.")


def a_link_that_unpacks_to_megabytes(page, url):
    told_of_a_link(page, url, f"packed={packed('x' * 5_000_000)}", ".error-summary", "damaged")


def a_link_that_is_packed_a_hundred_times(page, url):
    one = f"packed={packed('&'.join(['a=b'] * 999))}"
    told_of_a_link(page, url, "&".join([one] * 100), ".error-summary", "twice")


def a_number_of_five_thousand_digits(page, url):
    told_of_a_link(page, url, f"load_ohm={'9' * 5000}", ".error-summary", "9999")


def a_store_that_lies_deep_within_itself(page, url):
    page.goto(url + "plan/")
    wait_ready(page)
    page.evaluate(f"""() => {{
        const deep = {DEEP};
        for (const key of ["system-links", "kit prices", "blanks"]) {{
            localStorage.setItem(key, deep);
        }}
        localStorage.setItem("system", '{{"alternator_a":"77","vehicle_a":' + deep + "}}");
        return true;
    }}""")
    page.goto(url + "plan/")
    wait_until(page, "document.querySelector('[name=alternator_a]').value === '77'")
    wait_until(page, "!document.querySelector('#fit-plan form').inert")
    page.evaluate("document.querySelectorAll('details').forEach((fold) => (fold.open = true))")
    page.fill("[name=alternator_a]", "33")
    wait_until(page, "JSON.parse(localStorage.system).alternator_a === '33'")
    page.evaluate("localStorage.clear()")


def a_file_without_end(page, url):
    page.goto(url + "plan/")
    wait_ready(page)
    page.evaluate(PICK, ["open-system", "a.toml", "text/plain", 300_000_000, ""])
    says(page, ".status", "larger than 4 MB")


def a_spreadsheet_that_unpacks_to_fifty_megabytes(page, url):
    bomb = spreadsheets.packed(
        {**spreadsheets.PLAIN_PARTS, "xl/worksheets/s.xml": "<worksheet>" + " " * 50_000_000}
    )
    held = base64.b64encode(bomb).decode()
    page.goto(url + "choose/")
    wait_ready(page)
    page.evaluate(PICK, ["take-file", "a.xlsx", "", 0, held])
    says(page, ".status", "too large when unpacked")


def a_list_with_a_mark_of_its_byte_order(page, url):
    """Not hostile: what spreadsheets write."""
    text = "\ufeffname,channels,power_4ohm_w,min_channel_ohm\nAlder 4-20,4,20,2\n"
    for code in ("utf-8", "utf-16"):
        page.goto(url + "choose/")
        wait_ready(page)
        held = base64.b64encode(text.encode(code) if code == "utf-8" else text[1:].encode(code))
        page.evaluate(PICK, ["take-file", "a.csv", "text/csv", 0, held.decode()])
        wait_until(page, "document.querySelector('[name=shelf]').value.includes('Alder 4-20')")
    page.evaluate("localStorage.clear()")


CASES = (
    a_link_that_holds_thousands_of_parts,
    a_link_that_unpacks_to_megabytes,
    a_link_that_is_packed_a_hundred_times,
    a_number_of_five_thousand_digits,
    a_store_that_lies_deep_within_itself,
    a_file_without_end,
    a_spreadsheet_that_unpacks_to_fifty_megabytes,
    a_list_with_a_mark_of_its_byte_order,
)

"""The folder edition: opened by a double click, it reads, searches and calculates."""

import re
import shutil
import zipfile

import folder
import pytest
from conftest import wait_ready, wait_sentence, wait_until


@pytest.fixture(scope="module")
def unpacked(site, tmp_path_factory):
    """The edition as a reader has it: unpacked somewhere, in a folder with a blank in its name."""
    out = tmp_path_factory.mktemp("made")
    patch = pytest.MonkeyPatch()
    patch.setattr(folder, "OUT", out / "folder")
    archive = folder.make(site)
    patch.undo()
    place = tmp_path_factory.mktemp("memory stick")
    with zipfile.ZipFile(archive) as packed:
        packed.extractall(place)
    shutil.rmtree(out)
    return place / folder.NAME


@pytest.fixture
def page(browser):
    context = browser.new_context()
    page = context.new_page()
    page.errors, page.asked = [], []
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.on("console", lambda told: page.errors.append(told.text) if told.type == "error" else 0)
    page.on("request", lambda request: page.asked.append(request.url))
    yield page
    context.close()
    assert page.errors == []
    assert not [url for url in page.asked if not url.startswith(("file:", "blob:", "data:"))]


def test_it_calculates_and_its_links_lead_on(page, unpacked):
    page.goto((unpacked / "index.html").as_uri())
    wait_until(page, "document.querySelector('.offline-word').innerText.startsWith('Opened from')")
    page.click(".md-typeset a[href*='bridged-output']")
    page.wait_for_url("**/calculators/bridged-output/index.html")
    assert wait_ready(page) == "image"
    page.fill("#bridged-output--load_ohm", "8")
    wait_sentence(page, "bridged-output", "about 100 W")
    wait_until(page, "location.search === '?load_ohm=8'")
    page.reload()
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click(".to-chapter")
    page.wait_for_url("**/bridging/index.html*")


def test_a_plan_is_kept_and_answered(page, unpacked):
    page.goto((unpacked / "plan" / "index.html").as_uri())
    wait_ready(page)
    page.locator(".add", has_text="Component set").click()
    wait_until(page, "localStorage.system?.includes('components')")
    page.reload()
    page.wait_for_selector(".card[data-row]")


def test_search_finds_with_a_wrong_letter_and_opens_the_page(page, unpacked):
    page.goto((unpacked / "cables" / "index.html").as_uri())
    page.fill(".md-search__input", "polarty")
    page.wait_for_selector(".md-search-result__link >> text=polarity")
    page.locator(".md-search-result__link").first.click()
    page.wait_for_url("**/index.html?h=*")


def test_no_page_of_it_leads_to_a_folder_or_out_of_it(unpacked):
    for page in unpacked.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        for address in re.findall(r'(?:href|src)="([^"#]*)"', text):
            if re.match(r"[a-z]+:", address):
                continue
            path = page.parent / address.partition("#")[0].partition("?")[0]
            assert path.is_file() or not address, (page, address)

"""Without a network: every page reloads, calculators work, updates wait for the reader."""

import re
import shutil

import pytest
from conftest import (
    ROOT,
    SITE_PAGES,
    Served,
    build,
    wait_ready,
    wait_sentence,
    wait_until,
    watched,
)


def word(page):
    return page.inner_text(".offline-word")


def wait_saved(page):
    wait_until(
        page,
        "document.querySelector('.offline-word').textContent.startsWith('Saved for offline')",
    )


@pytest.fixture
def context(browser, served):
    """A fresh browser profile that saves the handbook."""
    yield from watched(browser, served, "allow")


@pytest.fixture
def host(site, served):
    """The test server, which a test may switch off; it is on again afterwards."""
    yield served
    served.on(site)


def test_every_page_and_calculator_works_with_the_network_off(context, host):
    context.watch.excused += ["ERR_CONNECTION_REFUSED", "ERR_FAILED"]
    page = context.new_page()
    page.goto(host.url)
    wait_saved(page)
    host.off()
    for address in SITE_PAGES:
        page.goto(host.url + address)
        assert page.query_selector(".md-content h1")
        page.reload()
        assert page.query_selector(".md-content h1")
    page.goto(host.url + "coil-wiring/?coil-wiring.drivers=4&coil-wiring.min_load_ohm=4")
    wait_sentence(page, "coil-wiring", "8 Ω")
    assert wait_ready(page) == "image"
    page.goto(host.url + "bridging/")
    page.fill("#bridged-output--load_ohm", "8")
    wait_sentence(page, "bridged-output", "about 100 W")


def test_search_works_with_the_network_off(context, host):
    context.watch.excused += ["ERR_CONNECTION_REFUSED", "ERR_FAILED"]
    page = context.new_page()
    page.goto(host.url)
    wait_saved(page)
    host.off()
    page.reload()
    page.fill(".md-search__input", "polarity")
    page.wait_for_selector(".md-search-result__link >> text=Polarity")


def test_links_in_the_page_work_offline_without_a_reload_in_between(context, host):
    context.watch.excused += ["ERR_CONNECTION_REFUSED", "ERR_FAILED"]
    page = context.new_page()
    page.goto(host.url)
    wait_saved(page)
    wait_until(page, "Boolean(navigator.serviceWorker.controller)")
    host.off()
    page.click(".md-nav__link[href$='bridging/']")
    page.wait_for_selector("#bridged-output[data-attached]")


def test_slashless_and_unknown_addresses_offline(context, host):
    context.watch.excused += ["ERR_CONNECTION_REFUSED", "ERR_FAILED", "404"]
    page = context.new_page()
    page.goto(host.url)
    wait_saved(page)
    host.off()
    page.goto(host.url + "bridging?bridged-output.load_ohm=8")
    assert page.url.endswith("/bridging/?bridged-output.load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    answer = page.goto(host.url + "no/such/page")
    assert answer.status == 404
    assert "There is no such page" in page.inner_text("h1")


def test_saving_is_told_in_percent(context, host):
    page = context.new_page()
    page.add_init_script(
        """window.words = [];
        document.addEventListener("DOMContentLoaded", () => {
            const place = document.querySelector(".offline-word");
            new MutationObserver(() => window.words.push(place.textContent)).observe(place, {
                childList: true, characterData: true, subtree: true });
        });"""
    )
    page.goto(host.url)
    wait_saved(page)
    words = page.evaluate("window.words")
    assert any(re.fullmatch(r"Saving for offline use… \d+ %", one) for one in words)
    assert words[-1] == "Saved for offline use"


def test_a_newer_version_waits_until_the_reader_takes_it(context, host, site, tmp_path):
    old = tmp_path / "old"
    shutil.copytree(site, old)
    _replace(old / "bridging" / "index.html", "Each channel sees half", "The older heading")
    _replace_revision(old, "bridging/index.html")
    host.on(old)
    page = context.new_page()
    page.goto(host.url + "bridging/?bridged-output.load_ohm=8")
    wait_saved(page)
    assert "The older heading" in page.inner_text(".md-content")
    host.on(site)
    page.reload()
    wait_until(
        page, "document.querySelector('.offline-word').textContent.startsWith('Update ready')"
    )
    # Until the reader says so, everything is of the older version.
    assert "The older heading" in page.inner_text(".md-content")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click(".offline-word button")
    heading = "document.querySelector('.md-content h2#each-channel-sees-half')?.innerText"
    wait_until(page, f"({heading} ?? '').startsWith('Each channel sees half')")
    wait_sentence(page, "bridged-output", "about 100 W")
    assert "The older heading" not in page.inner_text(".md-content")


def _replace(file, old, new):
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def _replace_revision(folder, url):
    """Give a file another revision in the service worker's list, as another build would."""
    worker = folder / "sw.js"
    text = worker.read_text(encoding="utf-8")
    text, changed = re.subn(
        rf'(revision:\s*"|"revision":\s*")[0-9a-f]+("[^{{}}]*"{re.escape(url)}")',
        r"\g<1>0123456789abcdef\g<2>",
        text,
    )
    if not changed:
        text, changed = re.subn(
            rf'("{re.escape(url)}"[^{{}}]*revision"?:\s*")[0-9a-f]+(")',
            r"\g<1>0123456789abcdef\g<2>",
            text,
        )
    assert changed == 1
    worker.write_text(text, encoding="utf-8")


def test_the_manifest_makes_the_handbook_installable(page, served, site):
    import json

    page.goto(served.url)
    link = page.get_attribute("link[rel=manifest]", "href")
    assert link.endswith("app.webmanifest")
    manifest = json.loads((site / "app.webmanifest").read_text(encoding="utf-8"))
    assert {"name", "short_name", "start_url", "scope", "display", "icons"} <= manifest.keys()
    for icon in manifest["icons"]:
        assert (site / icon["src"]).is_file()
    assert {"192x192", "512x512"} <= {icon["sizes"] for icon in manifest["icons"]}


def test_everything_works_below_a_sub_path(browser, test_port):
    with_path = f"http://127.0.0.1:{test_port + 1}/some/where/"
    folder = build(ROOT / ".work" / "sub-path-site", with_path)
    host = Served(folder, test_port + 1, "/some/where/")
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(host.url)
        wait_saved(page)
        page.click(".md-nav__link[href$='bridging/']")
        page.wait_for_selector("#bridged-output[data-attached]")
        assert page.url == host.url + "bridging/"
        page.fill("#bridged-output--load_ohm", "8")
        wait_sentence(page, "bridged-output", "about 100 W")
        host.off()
        page.reload()
        wait_sentence(page, "bridged-output", "about 100 W")
    finally:
        context.close()
        host.off()

"""“Saved” is true of every file: what is damaged, missing, cut or stalled is told, and mended."""

import shutil
import threading

import pytest
import serve
from conftest import wait_ready, wait_until, watched
from test_offline import wait_saved, word

PAGE = "coil-wiring/index.html"
# What stands in the cache for a file, under whatever version.
FIND = """async (url) => {
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const request of await cache.keys()) {
            if (new URL(request.url).pathname === `/${url}`) return [cache, request];
        }
    }
    return [null, null];
}"""
DAMAGE = f"""async (url) => {{
    const [cache, request] = await ({FIND})(url);
    await cache.put(request, new Response("half of a page"));
}}"""
REMOVE = f"""async (url) => {{
    const [cache, request] = await ({FIND})(url);
    return cache.delete(request);
}}"""
SAVED = f"""async (url) => {{
    const [cache, request] = await ({FIND})(url);
    return cache && (await (await cache.match(request)).text()).length;
}}"""


@pytest.fixture
def context(browser, host):
    """A fresh browser profile that saves the handbook."""
    yield from watched(browser, host, "allow")


@pytest.fixture
def own_site(site, tmp_path):
    """A copy of the site that a test may damage."""
    return shutil.copytree(site, tmp_path / "site")


def opened(context, host):
    page = context.new_page()
    page.goto(host.url)
    wait_saved(page)
    return page


def test_a_damaged_file_is_fetched_again_at_the_next_visit(context, host):
    page = opened(context, host)
    whole = page.evaluate(SAVED, PAGE)
    page.evaluate(DAMAGE, PAGE)
    assert page.evaluate(SAVED, PAGE) < 20 < whole
    page.reload()
    wait_saved(page)
    assert page.evaluate(SAVED, PAGE) == whole


def test_a_missing_file_is_told_offline_and_fetched_when_there_is_a_network(context, host):
    context.watch.excused += ["ERR_CONNECTION_REFUSED", "ERR_FAILED", "503"]
    page = opened(context, host)
    page.evaluate(REMOVE, PAGE)
    host.off()
    page.reload()
    wait_until(page, "document.querySelector('.offline-word').innerText.startsWith('Not all')")
    assert "1 of" in word(page)
    told = page.goto(host.url + "coil-wiring/")
    assert told.status == 503
    assert page.inner_text("h1") == "This page is not saved on this device"
    page.click("a")
    page.wait_for_selector(".offline-word")
    wait_until(page, "document.querySelector('.offline-word').innerText.startsWith('Not all')")
    host.on()
    page.evaluate("window.dispatchEvent(new Event('online'))")
    wait_saved(page)
    assert page.evaluate(SAVED, PAGE) > 1000


def test_a_file_cut_on_the_way_is_not_saved_and_saving_goes_on(context, host, own_site):
    context.watch.excused += ["integrity"]
    path = own_site / PAGE
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    host.off()
    host.on(own_site)
    page = context.new_page()
    page.goto(host.url)
    wait_until(page, "document.querySelector('.offline-word').innerText.startsWith('Not saved')")
    assert "saving was interrupted. It is tried again by itself" in word(page)
    path.write_bytes(whole)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    wait_saved(page)
    assert page.evaluate(SAVED, PAGE) > 1000


def test_saving_that_stalls_says_so_and_goes_on(context, host, monkeypatch):
    go_on = threading.Event()
    send = serve.Handler.send_file

    def stall(self, status, target, with_body):
        if target == self._site / PAGE:
            go_on.wait(60)
        send(self, status, target, with_body)

    monkeypatch.setattr(serve.Handler, "send_file", stall)
    page = context.new_page()
    page.goto(host.url)
    wait_until(
        page, "/has stopped at \\d+ %/.test(document.querySelector('.offline-word').innerText)"
    )
    go_on.set()
    wait_saved(page)


def test_too_little_room_is_told(context, host):
    context.watch.excused += ["Quota"]
    page = context.new_page()
    tools = context.new_cdp_session(page)
    tools.send(
        "Storage.overrideQuotaForOrigin",
        {"origin": host.url.rstrip("/"), "quotaSize": 3 * 2**20},
    )
    page.goto(host.url)
    wait_until(page, "document.querySelector('.offline-word').innerText.startsWith('Not saved')")
    assert "there is too little room on this device" in word(page)


def test_the_library_is_saved_where_the_image_cannot_be_used(context, host):
    context.watch.excused += ["memory image did not load", "ERR_FAILED"]
    page = context.new_page()
    page.route("**/snapshot.bin", lambda route: route.abort())  # the service worker still has it
    page.goto(host.url + "bridging/")
    assert wait_ready(page) == "plain"
    wait_saved(page)
    assert page.evaluate(SAVED, "assets/runtime/library.zip") > 100_000


def test_keeping_is_asked_for_when_the_reader_says_so(context, host):
    page = context.new_page()
    page.add_init_script("navigator.storage.persist = async () => (window.asked = true);")
    page.goto(host.url + "using/")
    wait_saved(page)
    assert page.evaluate("window.asked") is None
    page.get_by_role("button", name="Ask it to keep the handbook").click()
    page.wait_for_selector("[data-keep] + [role=status]:has-text('Kept')")
    page.goto(host.url + "plan/")
    page.locator(".add", has_text="Component set").click()
    wait_until(page, "Boolean(localStorage.system)")
    page.goto(host.url + "plan/?v=2&alternator_a=90")  # somebody else's
    page.get_by_role("button", name="Keep these as my system").click()
    wait_until(page, "window.asked === true")

"""The memory image: every browser starts from it, and it is the saved memory byte for byte."""

import hashlib
import re

import pytest
import runtime
from conftest import ROOT, sampled, wait_ready, wait_sentence, wait_until, watched
from test_types import node

IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1"
)

# What the page's Python starts with: `MEMORY_BYTES` in build/web/start.mjs.
MEMORY_BYTES = 2**20 * int(
    re.search(r"MEMORY_BYTES = (\d+) \* 2 \*\* 20", (ROOT / "build/web/start.mjs").read_text())[1]
)

# Comes before the worker's own script: it sees the runtime's memory as the image has been put in.
_LOOK_IN = """
self.seen = {};
let make;
Object.defineProperty(globalThis, "_createPyodideModule", {
    configurable: true,
    get: () => make,
    set(to) {
        make = async (settings) => {
            const module = await to(settings);
            const restore = module.API.restoreSnapshot;
            self.seen.module = module;
            module.API.restoreSnapshot = (image) => {
                const state = restore(image);
                self.seen.memory = module.HEAPU8.slice();
                return state;
            };
            return module;
        };
    },
});
"""

_HASH = """async () => {
    const { memory, module } = self.seen;
    const at = module.__PyRuntime + module.HEAP32[module.__PyEM_EMSCRIPTEN_COUNT_ARGS_OFFSET >> 2];
    const own = new Int32Array(memory.buffer)[at >> 2];
    memory.fill(0, at, at + 4);
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", memory));
    const hash = [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return { hash, at, own, found: module._PyEM_CountArgsPtr };
}"""


@pytest.fixture
def iphone(browser, served):
    """What an iPhone says of itself; Python's runtime goes by that."""
    yield from watched(browser, served, "block", user_agent=IPHONE)


def look_in(context):
    def answer(route):
        got = route.fetch()
        route.fulfill(response=got, body=_LOOK_IN + got.text())

    context.route("**/runtime/worker.js", answer)


def the_worker(page):
    (worker,) = [one for one in page.workers if one.url.endswith("runtime/worker.js")]
    return worker


def test_an_iphone_starts_from_the_image(iphone, served):
    page = iphone.new_page()
    page.goto(served.url + "bridging/")
    assert wait_ready(page) == "image"
    page.fill("#bridged-output--load_ohm", "8")
    wait_sentence(page, "bridged-output", "about 100 W")


@pytest.mark.parametrize("device", ["context", "iphone"])
def test_the_restored_memory_is_the_saved_one_but_for_the_browser_s_own_address(
    request, served, device
):
    context = request.getfixturevalue(device)
    look_in(context)
    page = context.new_page()
    page.goto(served.url + "bridging/")
    assert wait_ready(page) == "image"
    told = the_worker(page).evaluate(_HASH)
    # The runtime finds no such piece of code on an iPhone.
    assert told["own"] == told["found"]
    assert (told["own"] == 0) == (device == "iphone")
    saved = bytearray((ROOT / ".work" / "saved-memory").read_bytes())
    saved[told["at"] : told["at"] + 4] = bytes(4)
    saved += bytes(MEMORY_BYTES - len(saved))  # the page's Python has empty memory beyond it
    assert told["hash"] == hashlib.sha256(saved).hexdigest()


def test_the_image_does_not_tell_where_it_was_made(site):
    """It would be another one in another folder, and a path is nobody's business."""
    assert str(ROOT).encode() not in runtime.SAVED.read_bytes()


@pytest.mark.full
def test_the_image_is_the_same_each_time_it_is_made(site, tmp_path):
    again = tmp_path / "again"
    out, well = node(
        "snapshot.mjs", runtime.PACKAGES, tmp_path, runtime.STANDARD_LIBRARY, runtime.CODE, again
    )
    assert well, out[-2000:]
    assert again.read_bytes() == runtime.SAVED.read_bytes()


def test_the_plain_way_imports_what_it_needs_and_no_more(context, served):
    context.watch.excused += ["memory image did not load", "ERR_FAILED"]
    context.route("**/snapshot.bin", lambda route: route.abort())
    look_in(context)
    page = context.new_page()
    page.goto(served.url + "bridging/")
    assert wait_ready(page) == "plain"
    imported = """() => self.seen.module.API.public_api.runPython(
        "import sys; 'calc.renderers.qr' in sys.modules")"""
    worker = the_worker(page)
    assert worker.evaluate(imported) is False
    page.click("#bridged-output [data-hand-over=qr]")
    page.wait_for_selector("#bridged-output .qr svg")
    assert worker.evaluate(imported) is True


def cut_short(packed):
    return packed[: len(packed) // 2]


def another(_):
    """A packed file that is whole, of something else (Zstandard, RFC 8878: a raw block)."""
    content = bytes(range(256)) * 64
    head = bytes.fromhex("28b52ffd a0") + len(content).to_bytes(4, "little")
    return head + (1 | len(content) << 3).to_bytes(3, "little") + content


def of_no_size(_):
    """A packed file that promises more than there is room for."""
    return bytes.fromhex("28b52ffd a0") + b"\xff\xff\xff\xff" + (1 | 8 << 3).to_bytes(3, "little")


@pytest.mark.parametrize("spoilt", sampled([cut_short, another, of_no_size], [another, of_no_size]))
def test_an_image_that_is_spoilt_is_not_used(context, served, spoilt):
    context.watch.excused.append("memory image did not load")

    def cut(route):
        route.fulfill(body=spoilt(route.fetch().body()))

    context.route("**/snapshot.bin", cut)
    page = context.new_page()
    page.goto(served.url + "coil-wiring/")
    assert wait_ready(page) == "plain"
    page.fill("#coil-wiring--coil_ohm", "2")
    wait_until(page, "document.querySelector('#coil-wiring .status').textContent.includes('Ω')")

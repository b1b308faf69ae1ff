"""The core of the handbook in each engine: Firefox ESR, WebKitGTK, and Chromium with its windows.

All other tests may use a Chromium that has none.

Safari on a device is not covered: it is of WebKitGTK's family, and an iPhone's way to the memory
image has a test in test_image.py.
"""

import itertools
import shutil

import engines
import hostile_pages
import pypdfium2
import pytest
from conftest import sampled, wait_ready, wait_sentence, wait_until
from hostile_pages import CARD, CASES, OWN
from sites import Served, own_port
from test_folder import unpacked  # noqa: F401 - a fixture
from test_offline import LOAD, POWER, older, replace_revision, wait_newer, wait_saved, wait_update


@pytest.fixture(scope="module", params=["chromium", *engines.NAMES])
def engine(request):
    """One engine for all tests of this file; each has a host, and so a storage, of its own."""
    if request.param == "chromium":
        context = request.getfixturevalue("whole_chromium").new_context(reduced_motion="reduce")
        page = context.new_page()
        page.name = request.param
        yield page
        context.close()
        return
    if request.param in request.config.getoption("--not-covered"):
        pytest.skip(f"{engines.NAMES[request.param]} is not on this machine")
    with engines.running(request.param) as page:
        page.name = request.param
        yield page


def of(*names):
    """Have a test run in these engines alone."""
    return pytest.mark.parametrize("engine", names, indirect=True)


# Of each kind one, by turns: the long run has all of them in each engine.
IN_SHORT = (
    ("webkit", hostile_pages.a_link_that_holds_thousands_of_parts),
    ("firefox", hostile_pages.a_store_that_lies_deep_within_itself),
    ("firefox", hostile_pages.a_file_without_end),
    ("webkit", hostile_pages.a_list_with_a_mark_of_its_byte_order),
)
_ports = itertools.count()


@pytest.fixture
def host(site):
    """A server whose address no other test has had: what an engine saved belongs to an address."""
    running = Served(site, own_port(next(_ports)))
    yield running
    running.off()


def refused(page, words):
    wait_until(
        page,
        """(words) => {
            const summary = document.querySelector(".error-summary:not([hidden])");
            return summary && summary.innerText.includes(words);
        }""",
        words,
    )


def test_it_starts_from_the_image_and_answers(engine, host):
    engine.goto(host.url + OWN)
    assert wait_ready(engine) == "image"
    engine.fill(LOAD, "8")
    wait_sentence(engine, CARD, "about 100 W")
    wait_until(engine, "location.search === '?load_ohm=8'")
    engine.goto(host.url + OWN + "?load_ohm=16")
    wait_sentence(engine, CARD, "Bridged into 16 Ω")
    engine.fill(LOAD, "8 volts")
    refused(engine, "‘8 volts’ is not a number")
    assert engine.evaluate(f"document.querySelector('{LOAD}').ariaInvalid") == "true"
    engine.fill(LOAD, "8")
    wait_sentence(engine, CARD, "about 100 W")


# Chromium without windows has more than this in the tests of offline use.
@of(*sampled(["chromium", *engines.NAMES], engines.NAMES))
def test_without_a_network_it_goes_on_and_takes_a_newer_version(engine, host, site, tmp_path):
    host.on(older(site, tmp_path))
    engine.goto(host.url + "bridging/")
    wait_saved(engine)
    host.off()
    engine.goto(host.url + "bridging/?bridged-output.load_ohm=8")
    assert wait_ready(engine) == "image"
    wait_sentence(engine, CARD, "about 100 W")
    engine.goto(host.url + "coil-wiring/")
    wait_sentence(engine, "coil-wiring", "Ω")
    host.on(site)
    engine.goto(host.url + "bridging/")
    wait_update(engine)
    assert "The older heading" in engine.inner_text(".md-content")
    engine.fill(POWER, "60")
    wait_until(engine, "location.search.includes('power_4ohm_w=60')")
    engine.fill(LOAD, "abc")
    refused(engine, "‘abc’ is not a number")
    engine.click(".offline-word button")
    wait_newer(engine)
    wait_until(engine, f"document.querySelector('{LOAD}').value === 'abc'")
    assert engine.input_value(POWER) == "60"


@pytest.fixture
def without_an_image(site, tmp_path):
    """A copy of the site whose memory image is none, as its list says."""
    copy = tmp_path / "site"
    shutil.copytree(site, copy)
    (copy / "assets" / "runtime" / "snapshot.bin").write_bytes(b"no image")
    replace_revision(copy, "assets/runtime/snapshot.bin")
    return copy


@of(*sampled(["chromium", *engines.NAMES], engines.NAMES))
def test_without_the_image_it_loads_the_plain_way_also_without_a_network(
    engine, host, without_an_image
):
    host.on(without_an_image)
    for _ in ("with a network", "without"):
        engine.goto(host.url + OWN + "?load_ohm=8")
        assert wait_ready(engine) == "plain"
        wait_sentence(engine, CARD, "about 100 W")
        wait_saved(engine)
        host.off()


@pytest.mark.parametrize(  # in the other Chromium it has a test of its own
    ("engine", "case"),
    sampled(list(itertools.product(engines.NAMES, CASES)), IN_SHORT),
    indirect=["engine"],
    ids=lambda one: getattr(one, "__name__", one),
)
def test_what_would_stop_a_page_is_told_in_words_and_it_works_on(engine, host, case):
    case(engine, host.url)


@of("chromium", "firefox")  # WebKitGTK's driver prints nothing
def test_it_prints(engine, host):
    engine.goto(host.url + "bridging/")
    wait_ready(engine)
    printed = pypdfium2.PdfDocument(engine.pdf())
    text = "".join(page.get_textpage().get_text_range() for page in printed)
    assert len(printed) >= 4
    assert "Each channel sees half" in text


@of("chromium", "firefox")  # for these it is made
def test_the_folder_edition_calculates_and_searches(engine, unpacked):  # noqa: F811
    engine.goto((unpacked / OWN / "index.html").as_uri())
    assert wait_ready(engine) == "image"
    engine.fill(LOAD, "8")
    wait_sentence(engine, CARD, "about 100 W")
    engine.goto((unpacked / "index.html").as_uri())
    engine.type("input[name=query]", "polarty")  # a letter is missing
    wait_until(engine, "document.querySelectorAll('.md-search-result__link').length > 0")

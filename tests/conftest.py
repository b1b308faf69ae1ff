"""What all tests share: how many cases to try, the browser, a built site being served."""

import functools
import gc
import inspect
import os
import shutil
import sys
import time
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Error, sync_playwright
from sites import PORT, ROOT, SITE, Served, build, first_served, own_port, site_address

sys.path[:0] = [str(ROOT), str(ROOT / "build")]

from calc.app.contents import CALCULATORS
from calc.inputs.links import own_page

# The addresses of all pages below the site's root: those with a file, and those made at the build.
_FILES = [file.relative_to(ROOT / "docs") for file in sorted((ROOT / "docs").rglob("*.md"))]
CHAPTERS = [
    "" if file == Path("index.md") else f"{file.with_suffix('').as_posix()}/" for file in _FILES
]
OWN_PAGES = [own_page(name) for name in CALCULATORS]
SITE_PAGES = [*CHAPTERS, "calculators/", *OWN_PAGES]

settings.register_profile(
    "short", max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", parent=settings.get_profile("short"), max_examples=1000)

SERVED = pytest.StashKey()
PICTURES = "HANDBOOK_TEST_PICTURES"


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="the full counts")
    parser.addoption("--pictures", action="store_true", help="keep pages as pictures, to look at")
    parser.addoption(
        "--engine", choices=list(ENGINES), default="chromium", help="what opens the pages"
    )
    parser.addoption("--browser-path", default=None, help="path of the browser's program")
    parser.addoption(
        "--whole-browser-path",
        default=None,
        help="path of Chromium, where that above has no windows",
    )
    parser.addoption(
        "--not-covered", default="", help="other engines that this machine has not: firefox,webkit"
    )


def pytest_configure(config):
    settings.load_profile("long" if config.getoption("--long") else "short")
    if config.getoption("--pictures"):
        os.environ[PICTURES] = "yes"
    if not hasattr(config, "workerinput"):  # not one of several processes, but that above them
        config.stash[SERVED] = first_served()
        os.environ[PORT] = str(config.stash[SERVED].port)


def pytest_unconfigure(config):
    if SERVED in config.stash:
        config.stash[SERVED].off()


@pytest.hookimpl(trylast=True)  # after those that belong together have been put together
def pytest_collection_modifyitems(config, items):
    """Leave out what is for the long run or another engine; what takes long comes first.

    Processes take tests from one another, so that only a long one at the end holds them up.
    """
    left_out = [] if config.getoption("--long") else ["full"]
    left_out += [name for name in ENGINES if name != config.getoption("--engine")]
    is_left_out = {item: any(item.get_closest_marker(name) for name in left_out) for item in items}
    config.hook.pytest_deselected(items=[item for item in items if is_left_out[item]])
    items[:] = sorted((item for item in items if not is_left_out[item]), key=_turn)
    _by_engine(items)


def pytest_collection_finish(session):
    """Have Python look for garbage less often: ten thousand tests stay, and are none."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 10, 10)


def _by_engine(items):
    """Put the tests of an engine one after the other: each start of one takes seconds."""

    def engine(item):
        return getattr(item, "callspec", SimpleNamespace(params={})).params.get("engine", "")

    places = [at for at, item in enumerate(items) if engine(item)]
    for at, item in zip(places, sorted((items[at] for at in places), key=engine), strict=True):
        items[at] = item


FIRST = ("test_mutation.py", "test_parity.py")


def _turn(item):
    if item.path.name in FIRST:
        return 0
    return 1 if {"browser", "site"} & set(item.fixturenames) else 2


def sampled(values, in_short):
    """Return values for `parametrize`: those that are not in `in_short` are for the long run."""

    def for_the_long_run(value):
        values = value if isinstance(value, tuple) else (value,)
        return pytest.param(*values, marks=pytest.mark.full)

    return [value if value in in_short else for_the_long_run(value) for value in values]


def each(name, values, one_in=1):
    """Have a test run with each value of an argument, one after the other, as a single test.

    For many quick cases: `parametrize` takes longer over each than the case itself.
    one_in : of so many values a calculator has one in the short run, the next one the next
    """

    def of_all(test):
        takes = inspect.signature(test).parameters
        left = {key: one for key, one in takes.items() if key != name}
        assert len(left) < len(takes), f"the test takes no {name}"
        if one_in > 1 and "is_long" not in left:
            left["is_long"] = inspect.Parameter("is_long", inspect.Parameter.KEYWORD_ONLY)

        @functools.wraps(test)
        def run_all(**arguments):
            mine = values
            if one_in > 1 and not arguments["is_long"]:
                mine = values[list(CALCULATORS).index(arguments["name"]) % one_in :: one_in]
            given = {key: one for key, one in arguments.items() if key in takes}
            for value in mine:
                try:
                    test(**given, **{name: value})
                except BaseException as error:
                    error.add_note(f"with {name} = {value!r}")
                    raise

        run_all.__signature__ = inspect.Signature(list(left.values()))
        return run_all

    return of_all


@pytest.fixture(scope="session")
def is_long(pytestconfig):
    return pytestconfig.getoption("--long")


@pytest.fixture(scope="session")
def ngspice():
    """The circuit simulator; its absence is a failure, never a skip."""
    found = shutil.which("ngspice")
    assert found, "ngspice is missing: run the tests through build/run.py test"
    return found


@pytest.fixture(scope="session")
def site():
    """The built site: one for all processes, of which the first to want it builds it."""
    return build(SITE, site_address())


@pytest.fixture(scope="session")
def served(site):
    """Where all processes find the site.  A test that switches it off has a server of its own."""
    return SimpleNamespace(url=site_address(), port=int(os.environ[PORT]))


@pytest.fixture
def host(site):
    """A server that a test may switch off, and on again with another site."""
    running = Served(site, own_port())
    yield running
    running.off()


# Each engine's arguments; a program that is not there is a failure, never a skip.
ENGINES = {
    "chromium": [
        "--no-sandbox",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-gpu",
        "--font-render-hinting=none",  # letters are as wide without windows as with them
    ],
    "firefox": [],
    "webkit": [],
}


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as running:
        yield running


# A page of a test lives for seconds: its code is not worth being compiled a second time.
ONCE = "--js-flags=--liftoff-only"


@contextmanager
def launched(playwright, engine, path, more=()):
    path = path or shutil.which(engine)
    assert path, f"{engine} is missing: run the tests through build/run.py test"
    arguments = [*ENGINES[engine], *more]
    running = getattr(playwright, engine).launch(executable_path=path, args=arguments)
    yield running
    running.close()


@pytest.fixture(scope="session")
def browser(pytestconfig, playwright, is_long):
    engine, path = pytestconfig.getoption("--engine"), pytestconfig.getoption("--browser-path")
    more = [ONCE] if engine == "chromium" and not is_long else []
    with launched(playwright, engine, path, more) as running:
        yield running


@pytest.fixture(scope="session")
def whole_chromium(pytestconfig, playwright):
    """Chromium as readers have it; the other tests may use one that has no windows."""
    with launched(
        playwright, "chromium", pytestconfig.getoption("--whole-browser-path")
    ) as running:
        yield running


class Watch:
    """Everything that a page must not do: errors, and requests to other origins."""

    def __init__(self, context, own):
        self.own, self.errors, self.foreign, self.excused = own, [], [], []
        context.on("console", self._console)
        context.on("weberror", lambda error: self.errors.append(str(error.error)))
        context.on("request", self._request)

    def _console(self, message):
        if message.type in ("error", "warning"):
            self.errors.append(message.text)

    def _request(self, request):
        if not request.url.startswith((self.own, "blob:", "data:")):
            self.foreign.append(request.url)

    def check(self):
        errors = [e for e in self.errors if not any(part in e for part in self.excused)]
        assert errors == []
        assert self.foreign == []


@pytest.fixture
def context(browser, served):
    """A fresh browser profile that is watched: no console error, no foreign request.

    It saves nothing for offline use, which would take longer than most tests.
    """
    yield from watched(browser, served, "block")


def watched(browser, served, service_workers, **more):
    made = browser.new_context(
        **{"viewport": {"width": 1280, "height": 900}, **more},
        reduced_motion="reduce",
        service_workers=service_workers,
    )
    made.set_default_timeout(1000 * PATIENCE)
    watch = Watch(made, served.url)
    if service_workers == "block":
        watch.excused.append("Service Worker registration blocked")
    made.watch = watch
    yield made
    made.close()
    watch.check()


@pytest.fixture
def page(context):
    return context.new_page()


def follow(page, address):
    """Go to another page as a link in this one does: without a load, and Python goes on."""
    page.evaluate(
        """(address) => {
            document.querySelector("article").dataset.left = "yes";
            const link = Object.assign(document.createElement("a"), { href: address });
            document.body.append(link);
            link.click();
            link.remove();
        }""",
        address,
    )
    page.wait_for_url(address)
    wait_until(page, "!document.querySelector('article[data-left]')")


def open_card(page, name):
    """Open the folded card of a calculator, which is attached then."""
    page.click(f"details.calculator-card:has(#{name}) > summary")
    page.wait_for_selector(f"#{name}[data-attached]")


# Seconds to wait for what must come: long, for a slow machine with every core at work.
PATIENCE = 90


# Looks within the page, so that nothing goes to and fro meanwhile.
_LOOK = """async ([argument, milliseconds]) => {
    const end = performance.now() + milliseconds;
    for (;;) {
        let value = (SCRIPT);
        if (typeof value === "function") value = value(argument);
        value = await value;
        if (value || performance.now() > end) return value;
        await new Promise((resolve) => setTimeout(resolve, 20));
    }
}"""


def wait_until(page, script, argument=None, seconds=PATIENCE):
    """Wait until a script is true; the pages' policy forbids Playwright's own way."""
    look = _LOOK.replace("SCRIPT", script)
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            value = page.evaluate(look, [argument, 1000])
        except Error as error:
            # The page is being replaced by the next one: ask that.
            if "Execution context was destroyed" not in str(error):
                raise
            value = None
        if value:
            return value
    raise AssertionError(f"not within {seconds} s: {script} {argument!r}")


def wait_ready(page):
    """Wait until the page's Python has started; return the way it was loaded."""
    wait_until(page, "['ready', 'failed'].includes(document.documentElement.dataset.python)")
    assert page.evaluate("document.documentElement.dataset.python") == "ready"
    return page.evaluate("document.documentElement.dataset.pythonWay")


def wait_sentence(page, calculator, text):
    """Wait until the answer's sentence holds the text."""
    wait_until(
        page,
        "([name, text]) => (document.querySelector(`#${name} .answer .sentence`)"
        "?.textContent ?? '').replaceAll('\u202f', ' ').includes(text)",
        [calculator, text],
    )

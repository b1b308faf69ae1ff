"""What all tests share: how many cases to try, the browser, a built site being served."""

import os
import shutil
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import HealthCheck, settings
from playwright.sync_api import Error

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "build")]
# The addresses of all pages below the site's root.
SITE_PAGES = [
    "" if one.stem == "index" else f"{one.stem}/" for one in sorted((ROOT / "docs").glob("*.md"))
]

settings.register_profile(
    "short", max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", parent=settings.get_profile("short"), max_examples=1000)


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="the full counts")
    parser.addoption("--chromium", default=None, help="path of the Chromium to use")


def pytest_configure(config):
    settings.load_profile("long" if config.getoption("--long") else "short")


def pytest_collection_modifyitems(config, items):
    """Leave to the long run what is one of many alike."""
    if config.getoption("--long"):
        return
    left_out = [one for one in items if one.get_closest_marker("full")]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [one for one in items if not one.get_closest_marker("full")]


def sampled(values, in_short):
    """Return values for `parametrize`: those that are not in `in_short` are for the long run."""

    def for_the_long_run(value):
        values = value if isinstance(value, tuple) else (value,)
        return pytest.param(*values, marks=pytest.mark.full)

    return [value if value in in_short else for_the_long_run(value) for value in values]


@pytest.fixture(scope="session")
def is_long(pytestconfig):
    return pytestconfig.getoption("--long")


@pytest.fixture(scope="session")
def ngspice():
    """The circuit simulator; its absence is a failure, never a skip."""
    found = shutil.which("ngspice")
    assert found, "ngspice is missing: run the tests through build/run.py test"
    return found


PREFERRED_PORT = 8123
SITE = ROOT / ".work" / "test-site"


def _worker():
    """The number of this process among those that share the tests: 0, 1, …"""
    return int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))


def _free_port():
    """The usual port of this process if it is free, so that a built site can stay."""
    # Two ports each: one is for the site below a sub-path.
    for port in (PREFERRED_PORT + 2 * _worker(), 0):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return probe.getsockname()[1]
    raise AssertionError("no free port")


class Served:
    """A folder being served; it can be switched off, and on again with another folder."""

    def __init__(self, folder, port, base="/"):
        self.port, self.base, self.folder = port, base, folder
        self.url = f"http://127.0.0.1:{port}{base}"
        self._server = None
        self.on()

    def on(self, folder=None):
        from serve import server

        self.off()
        self.folder = folder or self.folder
        self._server = server(self.folder, self.port, self.base)
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def off(self):
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None


@pytest.fixture(scope="session")
def test_port():
    return _free_port()


def build(folder, address):
    folder = folder.with_name(f"{folder.name}-{_worker()}")
    # One build at a time: they share the runtime, the fonts and the log.
    with FileLock(ROOT / ".work" / "building.lock"):
        done = subprocess.run(
            [sys.executable, str(ROOT / "build" / "site_build.py"), "--out", str(folder)],
            env={**os.environ, "SITE_URL": address},
            capture_output=True,
            text=True,
            check=False,
        )
    assert done.returncode == 0, done.stdout + done.stderr
    return folder


@pytest.fixture(scope="session")
def site(test_port):
    """The built site, for the root of the test server."""
    return build(SITE, f"http://127.0.0.1:{test_port}/")


@pytest.fixture(scope="session")
def served(site, test_port):
    running = Served(site, test_port)
    yield running
    running.off()


@pytest.fixture(scope="session")
def browser(pytestconfig):
    from playwright.sync_api import sync_playwright

    path = pytestconfig.getoption("--chromium") or shutil.which("chromium")
    assert path, "Chromium is missing: run the tests through build/run.py test"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(
            executable_path=path,
            args=[
                "--no-sandbox",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-gpu",
            ],
        )
        yield running
        running.close()


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
        **more,
        viewport={"width": 1280, "height": 900},
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


# Seconds to wait for what must come: long, for a slow machine with every core at work.
PATIENCE = 90


def wait_until(page, script, argument=None, seconds=PATIENCE):
    """Poll a script until it is true; the pages' policy forbids Playwright's own way."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            value = page.evaluate(script, argument)
        except Error as error:
            # The page is being replaced by the next one: ask that.
            if "Execution context was destroyed" not in str(error):
                raise
            value = None
        if value:
            return value
        page.wait_for_timeout(25)
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

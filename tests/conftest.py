"""What all tests share: how many cases to try, the browser, a built site being served."""

import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "build")]

settings.register_profile(
    "short", max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", parent=settings.get_profile("short"), max_examples=1000)


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="the full counts")
    parser.addoption("--chromium", default=None, help="path of the Chromium to use")


def pytest_configure(config):
    settings.load_profile("long" if config.getoption("--long") else "short")


@pytest.fixture(scope="session")
def is_long(pytestconfig):
    return pytestconfig.getoption("--long")


@pytest.fixture(scope="session")
def ngspice():
    """The circuit simulator; its absence is a failure, never a skip."""
    found = shutil.which("ngspice")
    assert found, "ngspice is missing: run the tests through build/run.py test"
    return found
